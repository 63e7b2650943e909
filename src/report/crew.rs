//! The crew list of a cold spell: who goes where by when, as text for a screen or a phone, and as a web page.

mod html;

pub use html::crew_html;

use super::REMINDER;
use super::json::number;
use super::page::{BYTE_ORDER_MARK, csv_line, heading, table, wrapped};
use super::spell_doubts::doubts;
use super::words::{hours, listed, row_numbers};
use crate::facts::State;
use crate::review::{ColdSpell, CrewLine, CrewPlace, CrewStep};
use crate::spell::{Clock, SpellKind};
use crate::units::{HOUR, System};
use std::collections::BTreeSet;

/// Marks of one kind of work at one place before the rest is only counted.
const MOST_MARKS: usize = 8;
/// Columns of the narrow list.
pub const NARROW: usize = 40;

/// The list as the pages print it.
pub(super) struct Crew {
    /// What is doubtful about the file.
    pub(super) checks: Vec<String>,
    /// When hoses come off, and what the deadlines are of.
    head: Vec<String>,
    /// Deadline, place and work of each line.
    lines: Vec<[String; 3]>,
    /// The kinds of work in it, each with how it is done.
    steps: Vec<(&'static str, &'static str)>,
}

impl Crew {
    pub(super) fn of(spell: &ColdSpell, system: System) -> Self {
        let list = spell.crew();
        let deadline = |time: f64| deadline(spell, time);
        let hoses = match list.hoses_off {
            Some(time) => format!("Every outlet: hose, splitter and nozzle off {}.", deadline(time)),
            None => "It never freezes outdoors in this spell: check the unit.".into(),
        };
        let clock = match spell.spell.clock() {
            Clock::FromStart => Some("Times are from the start of the spell."),
            Clock::Weekdays { is_utc: true, .. } => Some("Times are UTC, as in the file, not local time."),
            Clock::Weekdays { .. } | Clock::FromMidnight | Clock::Dates { .. } => None,
        };
        let state = match spell.state {
            State::HoseOn => Some("Deadlines are for a hose left on."),
            State::Uncovered => Some("Deadlines are for outlets without their covers."),
            State::AsItStands | State::PowerCut => None,
        };
        let outage = spell.heat_out.map(|cut| {
            let [from, to] = [cut.from, cut.from + cut.time].map(hours);
            format!("Deadlines are for heat off from {from} to {to} after the start.")
        });
        let steps: BTreeSet<CrewStep> =
            list.lines.iter().flat_map(|line| line.work.keys().copied()).collect();
        let line = |line: &CrewLine| [deadline(line.by), place(&line.place), work(line)];
        Self {
            checks: doubts(spell, system),
            head: [Some(hoses), clock.map(Into::into), state.map(Into::into), outage]
                .into_iter()
                .flatten()
                .collect(),
            lines: list.lines.iter().map(line).collect(),
            steps: steps.into_iter().map(|step| (name(step), how(step))).collect(),
        }
    }
}

/// The crew list alone, at a width of at least 40 columns.
pub fn crew(spell: &ColdSpell, width: usize, system: System) -> String {
    let title = spell.job.as_deref().unwrap_or(&spell.schedule);
    let mut out = wrapped(&format!("Cold-spell crew list: {title}"), width, "");
    out.push_str(&wrapped(&which(spell, system), width, ""));
    out.push('\n');
    let crew = Crew::of(spell, system);
    body(&mut out, &crew, width);
    heading(&mut out, "How");
    for (name, how) in &crew.steps {
        out.push_str(&wrapped(&format!("{name}: {how}"), width, ""));
    }
    out.push('\n');
    out.push_str(&wrapped(ALWAYS, width, ""));
    out.push('\n');
    out.push_str(&wrapped(REMINDER, width, ""));
    out
}

/// The crew list as CSV for a spreadsheet: a line for each kind of work at a place.
pub fn crew_csv(spell: &ColdSpell) -> String {
    let mut out = format!(
        "{BYTE_ORDER_MARK}{}",
        csv_line(&["Deadline", "Deadline_h", "Where", "Marks", "Work", "How"])
    );
    for line in &spell.crew().lines {
        for (step, marks) in &line.work {
            let cells = [
                deadline(spell, line.by),
                number(line.by / HOUR).to_string(),
                place(&line.place),
                marks.join("; "),
                name(*step).into(),
                how(*step).into(),
            ];
            out.push_str(&csv_line(&cells));
        }
    }
    out
}

/// "by 18:40 Thu": a deadline on the clock of the spell.
pub(super) fn deadline(spell: &ColdSpell, time: f64) -> String {
    spell.spell.clock().deadline(time, spell.spell.length())
}

/// The head and the lines: a table, or blocks where it would be too wide.
pub(super) fn body(out: &mut String, crew: &Crew, width: usize) {
    for check in &crew.checks {
        out.push_str(&wrapped(&format!("Check: {check}"), width, ""));
    }
    for line in &crew.head {
        out.push_str(&wrapped(line, width, ""));
    }
    if crew.lines.is_empty() {
        return;
    }
    out.push('\n');
    if width > NARROW {
        out.push_str(&table(&HEADINGS, crew.lines.iter().map(|line| line.to_vec()).collect(), width));
        out.push('\n');
        return;
    }
    for [by, place, work] in &crew.lines {
        out.push_str(&wrapped(&format!("{by}: {place}"), width, ""));
        out.push_str(&wrapped(work, width, "  "));
    }
}

const HEADINGS: [&str; 3] = ["Deadline", "Where", "Work"];

/// What a crew needs to know besides.
const ALWAYS: &str = "A deadline is the soonest that ice may block an outlet there in the worst case, rounded down to 10 \
                      minutes; for outlets that stay open, the first frost. \"Before\" the start: it may be frozen by \
                      then, or it cannot be computed. Deadlines assume no water use and the weather as given: a colder \
                      or windier night is faster. Unless stated, they assume hoses off. Keep the heat on. If ice blocks \
                      an outlet: close its stop or the main, leave it alone, and call a licensed plumber.";

/// Climate and spell in a line or two.
fn which(spell: &ColdSpell, system: System) -> String {
    let coldest = super::climates::low_text(spell.spell.coldest(), system);
    let source = match spell.spell.kind() {
        SpellKind::Series { file, from, to, .. } => format!("{file}, {from} to {to}"),
        SpellKind::Typed { .. } => "spell as typed".into(),
        SpellKind::Design { .. } => {
            "the job's design spell, from midnight of day 1; a model, not a forecast".into()
        }
    };
    format!("{}; {source}; coldest {coldest}.", spell.climate.name_and_state())
}

pub(super) fn place(place: &CrewPlace) -> String {
    match place {
        CrewPlace::Location(name) => name.to_string(),
        CrewPlace::Rows(rows) => format!("{} (no location)", row_numbers(rows)),
    }
}

/// `HB-1 and HB-2: drain at stop; WH-1: hose off`.
fn work(line: &CrewLine) -> String {
    let parts: Vec<String> = line
        .work
        .iter()
        .map(|(step, marks)| format!("{}: {}", listed(marks, MOST_MARKS), name(*step)))
        .collect();
    parts.join("; ")
}

pub(super) fn name(step: CrewStep) -> &'static str {
    match step {
        CrewStep::CheckFlow => "check flow now",
        CrewStep::DrainAtStop => "drain at stop",
        CrewStep::FindStop => "find stop, drain",
        CrewStep::DrainBranch => "drain branch",
        CrewStep::DrainBranchOrDrip => "drain branch or drip",
        CrewStep::ShutBelowGrade => "shut fully",
        CrewStep::HoseOff => "hose off",
    }
}

fn how(step: CrewStep) -> &'static str {
    match step {
        CrewStep::CheckFlow => {
            "it may already be frozen. If water flows, shut off and drain for the season. If not, shut the main or the stop \
             and call a licensed plumber."
        }
        CrewStep::DrainAtStop => {
            "shut the inside stop, open the outlet, open the stop's waste cap to drain the line."
        }
        CrewStep::FindStop => {
            "the schedule does not state an inside stop. Look for one: shut it, open the outlet, open its waste cap. If \
             there is none, shut and drain the branch."
        }
        CrewStep::DrainBranch => {
            "no inside stop. Shut and drain the branch that feeds it. Do not drip a frostproof outlet: the drip freezes \
             in the barrel."
        }
        CrewStep::DrainBranchOrDrip => {
            "no inside stop. Shut and drain the branch that feeds it. If that is not possible, open a slow drip, only \
             where the authority having jurisdiction allows it: common practice, no published source says how much is \
             enough, and it makes ice on the ground."
        }
        CrewStep::ShutBelowGrade => "take the hose off and shut the hydrant fully, so that it drains.",
        CrewStep::HoseOff => "it stays open in this spell. Take the hose, splitter and nozzle off.",
    }
}
