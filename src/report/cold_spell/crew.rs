//! The crew list of a cold spell: what to do at each location, and by when.

use super::super::climates::low_text;
use super::super::page::wrapped;
use super::super::words::listed;
use super::super::{NARROW, REMINDER};
use super::ranking::{word, yes_no};
use super::times::Event;
use super::{FREEZING, HOUR, hours, rows, state, taken, why_not};
use crate::facts::Followed;
use crate::review::{ColdSpell, InSpell};
use crate::spell::{Clock, Spell, SpellKind, time_of_day};
use crate::units::{DAY, System};
use std::sync::Arc;

/// Deadlines are rounded down to this, s.
const STEP: f64 = 600.0;
/// In a longer spell a weekday names two days, s.
const LONGEST_BY_WEEKDAY: f64 = 6.0 * DAY;
/// The content of the list, for every format.
pub(super) struct CrewList<'s> {
    pub title: &'s str,
    pub head: Vec<String>,
    /// By deadline.
    pub tasks: Vec<Task>,
    /// Outlets that ice does not block.
    pub clear: Vec<String>,
    /// Outlets that close below grade.
    pub buried: Vec<String>,
    pub notes: Vec<String>,
}

/// What to do at one location.
pub(super) struct Task {
    /// s from the start of the spell.
    deadline: f64,
    pub by: String,
    pub location: String,
    pub marks: Vec<Arc<str>>,
    pub action: String,
}

/// The crew list as text.
pub fn crew_list(spell: &ColdSpell, width: usize, system: System) -> String {
    let list = CrewList::of(spell, system);
    let mut out = wrapped(&format!("Cold spell crew list: {}", list.title), width, "");
    for line in &list.head {
        out.push_str(&wrapped(line, width, ""));
    }
    out.push('\n');
    out.push_str(&wrapped(HOSES_FIRST, width, ""));
    let column = list.tasks.iter().map(|task| task.by.chars().count()).max().unwrap_or_default() + 2;
    for task in &list.tasks {
        let what = format!("{}: {}. {}", task.location, listed(&task.marks, usize::MAX), task.action);
        out.push('\n');
        if width <= NARROW {
            out.push_str(&format!("{}\n", task.by));
            out.push_str(&wrapped(&what, width, "  "));
        } else {
            let block = wrapped(&what, width, &" ".repeat(column));
            out.push_str(&format!("{:column$}{}", task.by, &block[column..]));
        }
    }
    for (heading, outlets) in [(CLEAR, &list.clear), (BURIED, &list.buried)] {
        if !outlets.is_empty() {
            out.push('\n');
            out.push_str(&wrapped(heading, width, ""));
            outlets.iter().for_each(|outlet| out.push_str(&wrapped(outlet, width, "  ")));
        }
    }
    for note in &list.notes {
        out.push('\n');
        out.push_str(&wrapped(note, width, ""));
    }
    out
}

pub(super) const HOSES_FIRST: &str = "First: take hoses, splitters and nozzles off every outlet.";
pub(super) const CLEAR: &str = "With the hose off, ice does not block these in this spell:";
pub(super) const BURIED: &str =
    "Close below grade, not computed here (see the review): take the hose off and shut fully, to drain.";

impl<'s> CrewList<'s> {
    pub(super) fn of(spell: &'s ColdSpell, system: System) -> Self {
        let mut list = Self {
            title: spell.job.as_deref().unwrap_or(&spell.schedule),
            head: head(spell, system),
            tasks: Vec::new(),
            clear: Vec::new(),
            buried: Vec::new(),
            notes: notes(spell),
        };
        for outlet in &spell.outlets {
            let others = if outlet.closes_below_grade() { &mut list.buried } else { &mut list.clear };
            if !outlet.is_at_risk() {
                others
                    .extend(locations(outlet).iter().map(|location| format!("{location}: {}", mark(outlet))));
                continue;
            }
            let deadline = deadline(outlet);
            let (by, action) = (by(deadline, &spell.spell), action_with_assumed(outlet, system));
            for location in locations(outlet) {
                let same =
                    |task: &&mut Task| task.by == by && task.location == location && task.action == action;
                match list.tasks.iter_mut().find(same) {
                    Some(task) => task.marks.push(mark(outlet)),
                    None => list.tasks.push(Task {
                        deadline,
                        by: by.clone(),
                        location,
                        marks: vec![mark(outlet)],
                        action: action.clone(),
                    }),
                }
            }
        }
        list.tasks.sort_by(|a, b| a.deadline.total_cmp(&b.deadline));
        list
    }
}

fn head(spell: &ColdSpell, system: System) -> Vec<String> {
    let coldest = low_text(spell.spell.coldest(), system);
    let source = match spell.spell.kind() {
        SpellKind::Design { .. } => "the job's design spell, which starts at midnight of day 1".into(),
        SpellKind::Typed { .. } => "the spell as typed".into(),
        SpellKind::Series { file, from, to, .. } => format!("{file}, {from} to {to}"),
    };
    let mut lines = vec![format!("Coldest {coldest}: {source}."), state(spell.state).into()];
    if let Some(cut) = spell.heat_out {
        lines.push(format!("Heat off from {} to {}.", hours(cut.from), hours(cut.from + cut.time)));
    }
    if spell.spell.coldest() > FREEZING {
        lines.push("It never freezes outdoors in this spell: check the unit.".into());
    }
    lines
}

fn notes(spell: &ColdSpell) -> Vec<String> {
    let clock = match (spell.spell.clock(), spell.spell.kind()) {
        (Some(Clock { is_utc: true, .. }), _) => "Times are in UTC, as in the file, not local time.",
        (Some(_), _) => "Times are those of the file's own clock.",
        (None, SpellKind::Design { .. }) => "Day 1 is the first day of the spell.",
        (None, _) => "Hours count from the start of the spell, as it has no dates.",
    };
    let deadlines = format!(
        "{clock} A deadline is the earliest time in the uncertainty range at which ice may form. It is no promise: a \
         colder start or wind is faster. Do not wait for it."
    );
    let ice = "If ice blocks an outlet: close its stop or the main, leave it alone, and call a licensed plumber. A \
               split tube does not leak until it thaws.";
    let heat = "To warm an inlet, open cabinet doors and access panels. Never block combustion-air openings or appliance \
                vents.";
    let rest =
        "The full report adds covers, drips, unread cells and the limits of the model (--format text).";
    vec![deadlines, heat.into(), ice.into(), rest.into(), REMINDER.into()]
}

/// The soonest time at which ice may form, s; 0 if nobody can tell.
fn deadline(outlet: &InSpell) -> f64 {
    let soonest = |followed: &Followed| Event::first_ice(followed).band()[0];
    outlet.course.as_ref().ok().and_then(soonest).unwrap_or(0.0)
}

/// `now`, `by 00:40 Fri`, `by 17:40 day 1` or `within 17.6 h`.
fn by(deadline: f64, spell: &Spell) -> String {
    if deadline < STEP {
        return "now".into();
    }
    match (spell.clock(), spell.kind()) {
        (Some(clock), _) => {
            let time = clock.at(deadline, STEP);
            let is_long = spell.length() > LONGEST_BY_WEEKDAY;
            let date = if is_long { format!(" {}/{}", time.month, time.day) } else { String::new() };
            let utc = if clock.is_utc { " UTC" } else { "" };
            format!("by {} {}{date}{utc}", time_of_day(time.of_day), time.weekday)
        }
        (None, SpellKind::Design { .. }) => {
            let time = (deadline / STEP).floor() * STEP;
            format!("by {} day {}", time_of_day(time.rem_euclid(DAY)), (time / DAY).floor() + 1.0)
        }
        (None, _) => format!("within {:.1} h", (deadline / HOUR * 10.0).floor() / 10.0),
    }
}

fn action(outlet: &InSpell, system: System) -> String {
    let isolate = match yes_no(outlet, "outlet.inside_stop") {
        Some(true) => "Shut the inside stop, open the outlet, open the stop's waste cap to drain.",
        Some(false) => "No inside stop: shut and drain the branch that feeds it, if possible.",
        None => {
            "Look for an inside stop: shut it, open the outlet, drain at the waste cap. None: shut and drain the branch."
        }
    };
    match &outlet.course {
        Err(why) => format!("Treat as at risk, not computed ({}). {isolate}", why_not(why, system)),
        Ok(followed) if Event::blocked(followed).band()[0] == Some(0.0) => format!(
            "May be frozen: check for flow. No flow: shut the stop or the main and call a plumber. Flow: {}",
            lower_first(isolate)
        ),
        // Warmth reaches a seat inside the house; one at the face stays at the temperature outdoors.
        Ok(_) if word(outlet, "outlet.closes") == Some("inside") => {
            format!("{isolate} Keep heat on at the inlet.")
        }
        Ok(_) => isolate.into(),
    }
}

/// The action, with the facts that were assumed at their worst.
fn action_with_assumed(outlet: &InSpell, system: System) -> String {
    let action = action(outlet, system);
    if outlet.at_worst.is_empty() {
        return action;
    }
    format!("{action} (Not stated, worst case assumed: {}.)", taken(outlet, system))
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// The locations, or that none is stated.
fn locations(outlet: &InSpell) -> Vec<String> {
    if outlet.locations.is_empty() {
        return vec![format!("Location not stated ({})", rows(outlet))];
    }
    outlet.locations.iter().map(ToString::to_string).collect()
}

/// `HB-1 (qty 12)`; without a quantity if it is that of several locations, or not stated.
fn mark(outlet: &InSpell) -> Arc<str> {
    match outlet.quantity.filter(|_| outlet.locations.len() <= 1) {
        Some(quantity) => format!("{} (qty {quantity})", outlet.mark).into(),
        None => outlet.mark.clone(),
    }
}
