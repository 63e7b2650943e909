//! Values and lists in words.

use crate::diag::{capital, uncapital};
use crate::expr::{Slot, Value};
use crate::facts::{self, Origin};
use crate::review::{Absence, Shown, Spotted};
use crate::units::{Dim, Quantity, Rounding, Show, System, figures};
use std::sync::Arc;

/// A value as people read it, with its band.
pub fn value(shown: &Shown, system: System) -> String {
    match &shown.value {
        Ok(it) => bare(it, shown, system),
        Err(Absence::Missing(headings)) if headings.is_empty() => "unknown".into(),
        Err(Absence::Missing(headings)) => format!("unknown without {}", lower(headings)),
        Err(Absence::Because(why)) => figures(why, system),
    }
}

fn bare(value: &Value, shown: &Shown, system: System) -> String {
    match value {
        // Over several answers no single value is the one.
        Value::Quantity(quantity) if shown.origin == Origin::Supposed => shown.show.range(quantity, system),
        Value::Quantity(quantity) => shown.show.with_band(quantity, system),
        Value::Text(text) => text.to_string(),
        Value::YesNo(yes) => if *yes { "yes" } else { "no" }.into(),
        Value::List(words) => either(words),
    }
}

/// A fact by its name.
pub(super) fn named<'f>(facts: &'f [Shown], name: &str) -> Option<&'f Shown> {
    facts.iter().find(|fact| &*fact.name == name)
}

/// A known fact by its name, as people read it.
pub(super) fn known(facts: &[Shown], name: &str, system: System) -> Option<String> {
    named(facts, name).filter(|fact| fact.value.is_ok()).map(|fact| value(fact, system))
}

/// A value as people read it, without its band.
pub(super) fn alone(shown: &Shown, system: System) -> String {
    match &shown.value {
        Ok(Value::Quantity(quantity)) if shown.origin != Origin::Supposed => {
            shown.show.value(quantity, system)
        }
        _ => value(shown, system),
    }
}

/// A quantity by its name, without its band.
pub(super) fn without_band(facts: &[Shown], name: &str, system: System) -> Option<String> {
    let fact = named(facts, name)?;
    match &fact.value {
        Ok(Value::Quantity(quantity)) => Some(fact.show.value(quantity, system)),
        _ => None,
    }
}

/// A kind of outlet, called frostproof if it closes inside.
pub(super) fn kind(kind: &str, closes: Option<&str>) -> String {
    if closes == Some("inside") { format!("frostproof {kind}") } else { kind.into() }
}

/// A wall as the schedule calls it, or else its key without hyphens: "rim joist batt".
pub(super) fn wall(fact: &Shown) -> Option<String> {
    /// A longer text is more than the name of a wall.
    const LONGEST: usize = 30;
    let Ok(Value::Text(key)) = &fact.value else { return None };
    Some(match &fact.origin {
        Origin::Stated(_, text) if text != key && text.chars().count() <= LONGEST => text.to_string(),
        _ => key.replace('-', " "),
    })
}

/// Why there is none of something, as a sentence. What a rule file says of its own tables and settings may be any
/// words.
pub(super) fn none_of(heading: &str, why: &str, system: System) -> String {
    let (name, why) = (uncapital(heading), figures(why, system));
    if let Some(why) = why.strip_prefix("none, as ") {
        return format!("{}.", capital(why));
    }
    let mut slots = (0..).map(Slot).take_while(|slot| facts::entry(*slot).is_some());
    if slots.any(|slot| *facts::heading(slot) == *heading) {
        format!("No {name}: {why}.")
    } else {
        format!("Unknown: {name} ({why}).")
    }
}

/// What a page calls a fact, where the heading of its column says too little.
pub(super) fn called(fact: &Shown) -> &str {
    match &*fact.name {
        "outlet.space_behind" => "Space at the inlet",
        "outlet.block_thickness" => "Block under the flange",
        _ => &fact.heading,
    }
}

/// Headings within a sentence.
pub(super) fn lower(headings: &[Arc<str>]) -> String {
    let lower: Vec<Arc<str>> = headings.iter().map(|it| it.to_lowercase().into()).collect();
    listed(&lower, usize::MAX)
}

/// "a, b and c", cut after `most` with how many more there are.
pub(super) fn listed(items: &[Arc<str>], most: usize) -> String {
    joined(items, most, "and")
}

/// "a, b or c".
pub(super) fn either(items: &[Arc<str>]) -> String {
    joined(items, usize::MAX, "or")
}

/// The items that [`listed`] prints: one more than `most` is printed too, as "and 1 more" is no shorter.
pub(super) fn printed(items: &[Arc<str>], most: usize) -> &[Arc<str>] {
    if items.len() > most.saturating_add(1) { &items[..most] } else { items }
}

fn joined(items: &[Arc<str>], most: usize, last: &str) -> String {
    let printed = printed(items, most);
    if printed.len() < items.len() {
        return format!("{} and {} more", printed.join(", "), items.len() - printed.len());
    }
    match items {
        [] => String::new(),
        [one] => one.to_string(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}

/// Where a value comes from, in a word; as the JSON has it.
pub(super) fn from(origin: &Origin) -> &'static str {
    match origin {
        Origin::Stated(..) => "stated",
        Origin::Answered(..) => "answer",
        Origin::Product(..) => "product",
        Origin::Job(..) => "job",
        Origin::Published(_) => "published",
        Origin::Assumed(_) => "assumed",
        Origin::Supposed => "supposed",
        Origin::Computed(_) => "computed",
        Origin::Setting => "setting",
        Origin::Unreadable(..) => "unreadable",
        Origin::Unknown => "unknown",
    }
}

/// `row 2`, `place rows 3 and 4`.
pub(super) fn row_numbers(rows: &[Spotted]) -> String {
    let numbers: Vec<Arc<str>> = rows.iter().map(|it| it.number.to_string().into()).collect();
    let word = rows.first().map_or("row".into(), |it| it.of.word());
    let plural = if rows.len() == 1 { "" } else { "s" };
    format!("{word}{plural} {}", listed(&numbers, 8))
}

/// How a time is printed.
pub(super) const TIME: Show = Show::new(("h", 1), ("h", 1), Rounding::Nearest);

/// A time in hours: `31.2 h`.
pub(super) fn hours(seconds: f64) -> String {
    TIME.value(&Quantity::of(seconds, Dim::TIME), System::Si)
}
