//! The crew list of a cold spell: who goes where by when, as text for a screen or a phone, and as a web page.

mod html;

pub use html::crew_html;

use super::json::number;
use super::page::{BYTE_ORDER_MARK, csv_line, heading, table, wrapped};
use super::spell_doubts::{doubts, rows_in_doubt};
use super::words::{hours, listed, row_numbers};
use crate::diag::capital;
use crate::facts::State;
use crate::physics::air_film::ASHRAE_WIND_SUMMER;
use crate::review::{ColdSpell, CountedMarks, CrewLine, CrewPlace, CrewStep};
use crate::spell::{Clock, SpellKind};
use crate::units::{HOUR, System};
use std::collections::BTreeSet;
use std::sync::Arc;

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
        let deadline = |time: f64| deadline(spell, time, system);
        let hoses = match list.hoses_off {
            Some(time) => format!("Every faucet: hose, splitter, timer and nozzle off {}.", deadline(time)),
            None => "It never freezes outdoors in this spell: check the unit.".into(),
        };
        let clock = match spell.spell.clock() {
            Clock::FromStart => Some("Times are from the start of the spell."),
            Clock::Weekdays { is_utc: true, .. } => Some("Times are UTC, as in the file, not local time."),
            Clock::FromMidnight => Some("Day 1 is the first day of the cold. Its date: ____________"),
            Clock::Weekdays { .. } | Clock::Dates { .. } => None,
        };
        let state = match spell.state {
            State::HoseOn => Some("Deadlines are for a hose left on."),
            State::Uncovered => Some("Deadlines are for faucets without their covers."),
            State::AsItStands | State::PowerCut => None,
        };
        let outage = spell.heat_out.map(|cut| {
            let [from, to] = [cut.from, cut.from + cut.time].map(hours);
            format!("Deadlines are for heat off from {from} to {to} after the start.")
        });
        let has_quantities = spell.outlets.iter().any(|outlet| outlet.quantity.is_some());
        let is_unstated = has_quantities && spell.outlets.iter().any(|outlet| outlet.quantity.is_none());
        let unstated = is_unstated.then(|| "\"x ?\": the schedule does not state how many.".into());
        let mut steps: BTreeSet<CrewStep> =
            list.lines.iter().flat_map(|line| line.work.keys().copied()).collect();
        // These lead to other steps, each of which is explained once.
        if steps.contains(&CrewStep::CheckFlow) || steps.contains(&CrewStep::NotComputed) {
            steps.insert(CrewStep::FindStop);
        }
        if steps.contains(&CrewStep::FindStop) {
            steps.extend([CrewStep::DrainAtStop, CrewStep::DrainBranch]);
        }
        let end = match spell.spell.kind() {
            SpellKind::Series { .. } => spell.spell.clock().moment(spell.spell.length(), system),
            SpellKind::Typed { .. } | SpellKind::Design { .. } => None,
        };
        let end = end.map(|end| format!("The file ends {end}: after that, leave everything as it is."));
        let line = |line: &CrewLine| {
            let by = if is_hose_only(line) { HOSES.into() } else { deadline(line.by) };
            [by, place(&line.place), work(line, has_quantities)]
        };
        Self {
            checks: doubts(spell, system).into_iter().chain(rows_in_doubt(spell)).collect(),
            head: [Some(hoses), clock.map(Into::into), state.map(Into::into), outage, unstated, end]
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
    out.push_str(&wrapped(FIRST, width, ""));
    for (name, how) in &crew.steps {
        out.push_str(&wrapped(&capital(name), width, ""));
        out.push_str(&wrapped(how, width, "  "));
    }
    for text in ALWAYS.iter().copied().chain([&*times(), REMINDER_IN_SHORT]) {
        out.push('\n');
        out.push_str(&wrapped(text, width, ""));
    }
    out
}

/// The crew list as CSV for a spreadsheet: a line for each kind of work at a place.
pub fn crew_csv(spell: &ColdSpell, system: System) -> String {
    let mut out = format!(
        "{BYTE_ORDER_MARK}{}",
        csv_line(&["Deadline", "Deadline_h", "Where", "Marks", "Qty", "Work", "How"])
    );
    for line in &spell.crew().lines {
        for (step, marks) in &line.work {
            let quantity: Option<f64> = marks.iter().map(|(_, quantity)| *quantity).sum();
            let cells = [
                deadline(spell, line.by, system),
                number(line.by / HOUR).to_string(),
                place(&line.place),
                marks.iter().map(|(mark, _)| &**mark).collect::<Vec<_>>().join("; "),
                quantity.map(|quantity| quantity.to_string()).unwrap_or_default(),
                name(*step).into(),
                how(*step).into(),
            ];
            out.push_str(&csv_line(&cells));
        }
    }
    out
}

/// "by 6:40 PM Thu": a deadline on the clock of the spell.
pub(super) fn deadline(spell: &ColdSpell, time: f64, system: System) -> String {
    spell.spell.clock().deadline(time, spell.spell.length(), system)
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

/// What stands for the deadline where nothing but hoses come off: the head has it.
const HOSES: &str = "hoses only";
const HEADINGS: [&str; 3] = ["Deadline", "Where", "Work"];

/// What comes before any work.
const FIRST: &str = "Water off before you open anything, and open slowly: there can be pressure behind ice. Never thaw a pipe \
                     with a flame.";

/// What a crew needs to know besides.
const ALWAYS: [&str; 3] = [
    "Frozen faucet: shut its stop, or the valve that feeds it, and open the stop's waste cap or the line's drain: ice that \
     grows toward a shut valve can split the pipe between them. Do not force the faucet. Leave it alone and call a \
     licensed plumber. A split tube leaks only when it thaws: the water stays off until somebody is there to watch. Water running inside: shut the main of \
     that house. Never touch a fire-sprinkler valve.",
    "Hoses: anybody. Stops and drains: maintenance staff or a plumber. Tag what you shut: off, drained, date. It stays off \
     until the superintendent says otherwise. Keep the heat on, in empty houses too.",
    "Never leave a frostproof faucet, which shuts off inside the wall, dripping: the drip freezes in it.",
];

/// The cautions on a page that is handed to a crew.
const REMINDER_IN_SHORT: &str = "Screening only: an estimate, not a guarantee. The local code and the authority having \
                                 jurisdiction govern; repairs are for licensed people.";

/// What the times are.
fn times() -> String {
    format!(
        "Times: when ice may start to form there at the soonest, with the heat on, no water drawn and, unless stated, hoses \
         off. Be done well before. A {} is assumed: if it blows harder, do not wait.",
        ASHRAE_WIND_SUMMER.name
    )
}

/// Climate and spell in a line or two.
fn which(spell: &ColdSpell, system: System) -> String {
    let coldest = super::climates::low_text(spell.spell.coldest(), system);
    let source = match spell.spell.kind() {
        SpellKind::Series { file, from, to, .. } => {
            let clock = spell.spell.clock();
            let [start, end] = [0.0, spell.spell.length()].map(|time| clock.moment(time, system));
            format!("{file}, {} to {}", start.as_deref().unwrap_or(from), end.as_deref().unwrap_or(to))
        }
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

/// Whether nothing but hoses come off.
fn is_hose_only(line: &CrewLine) -> bool {
    line.work.keys().all(|step| *step == CrewStep::HoseOff)
}

/// `HB-1 x 12 and HB-2 x ?: drain at stop; WH-1 x 1: hose off`; without quantities where none is stated.
fn work(line: &CrewLine, has_quantities: bool) -> String {
    let part = |(step, marks): (&CrewStep, &CountedMarks)| {
        let marks: Vec<Arc<str>> = marks
            .iter()
            .map(|(mark, quantity)| match quantity {
                Some(quantity) => format!("{mark} x {quantity}").into(),
                None if has_quantities => format!("{mark} x ?").into(),
                None => mark.clone(),
            })
            .collect();
        format!("{}: {}", listed(&marks, MOST_MARKS), name(*step))
    };
    let work = line.work.iter().map(part).collect::<Vec<_>>().join("; ");
    let is_at_risk = line.work.keys().any(|step| *step < CrewStep::ShutBelowGrade);
    if is_at_risk && !line.is_likely { format!("{work} (do last)") } else { work }
}

pub(super) fn name(step: CrewStep) -> &'static str {
    match step {
        CrewStep::CheckFlow => "check flow, drain",
        CrewStep::NotComputed => "facts in doubt: look, drain",
        CrewStep::DrainAtStop => "drain at stop",
        CrewStep::FindStop => "find stop, drain",
        CrewStep::DrainBranch => "drain branch",
        CrewStep::ShutBelowGrade => "shut fully",
        CrewStep::HoseOff => "hose off",
    }
}

fn how(step: CrewStep) -> &'static str {
    match step {
        CrewStep::CheckFlow => {
            "It may already be frozen. If water flows: with an inside stop, drain at the stop; without one, drain the branch. If \
             none flows, see \"Frozen faucet\" below."
        }
        CrewStep::NotComputed => {
            "The schedule does not state enough, or is in doubt. Look: with an inside stop, drain at the stop; without one, drain the branch. \
             If it is a ground hydrant, or no valve is found, call the superintendent."
        }
        CrewStep::DrainAtStop => {
            "Shut the inside stop and open the faucet. If it still runs or drips after two minutes, the stop does not hold: \
             leave its cap shut and drain the branch. If it quits: bucket under the stop, open its waste cap, let it drain, \
             cap back on. Leave the stop shut and the faucet open."
        }
        CrewStep::FindStop => {
            "The schedule does not say whether there is an inside stop. If there is one, drain at the stop; if not, drain the \
             branch."
        }
        CrewStep::DrainBranch => {
            "Find the valve that feeds only the outside faucet; if there is none, or it feeds anything else, leave it on and \
             call the superintendent. Shut it, open the faucet, and wait until it quits. Bucket under the low drain or tap of \
             that line, let it drain, close it. Leave the valve shut and the faucet open."
        }
        CrewStep::ShutBelowGrade => "Take the hose off and shut it fully, so that it drains below ground.",
        CrewStep::HoseOff => {
            "By calculation it does not freeze with the hose off and the heat on. Open it and shut it: it should dribble and \
             quit. If it keeps dripping, drain it."
        }
    }
}
