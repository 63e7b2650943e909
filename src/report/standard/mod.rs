//! The pages of `coldsill standard`: what they say, and its forms.

mod amendment;
mod chart;
mod html;
mod page;
mod rows;
mod text;

pub use amendment::standard_amendment;
pub use html::standard_html;
pub use rows::{standard_csv, standard_xlsx};
pub use text::standard;

use crate::climate::LOW;
use crate::report::words::{called, listed, value};
use crate::review::{Candidate, Limit, Shown};
use crate::standard::{Cell, Change, Place, Setting, Standard, Variant};
use crate::units::{Dim, Quantity, Rounding, Show, System, figures};
use std::sync::Arc;

const LENGTH: Show = Show::new(("in", 0), ("mm", 0), Rounding::Nearest);
const SLACK: Show = Show::new(("in", 2), ("mm", 0), Rounding::Down);

/// "20-year low", or each of them once.
fn design_lows(standard: &Standard) -> String {
    let mut all: Vec<Arc<str>> = standard.places.iter().map(|place| place.design_low_is.clone()).collect();
    all.sort();
    all.dedup();
    listed(&all, usize::MAX)
}

/// "12 in", "GEN-B, 12 in".
fn product(product: &Candidate, system: System) -> String {
    let length = LENGTH.value(&Quantity::of(product.length, Dim::LENGTH), system);
    product.model.as_ref().map_or_else(|| length.clone(), |model| format!("{model}, {length}"))
}

/// "stainless, 12 in", "GEN-S, 10 in (stainless)".
fn item(standard: &Standard, number: usize, barrel: &str, system: System) -> String {
    let own = &standard.products[number];
    match &own.model {
        Some(_) => format!("{} ({barrel})", product(own, system)),
        None => format!("{barrel} {}", product(own, system)),
    }
}

fn low(place: &Place, system: System) -> String {
    LOW.value(&Quantity::temperature(place.design_low), system)
}

/// "2x6 (heated room)", "rim joist batt (basement)".
fn wall(setting: &Setting) -> String {
    format!("{} ({})", setting.wall.replace('-', " "), setting.space)
}

fn supply(setting: &Setting) -> String {
    match &setting.insulation {
        Some(insulation) => format!("{}, insulation {insulation}", setting.supply),
        None => setting.supply.to_string(),
    }
}

/// "12 in F*", "none".
fn in_matrix(standard: &Standard, cell: &Cell, system: System) -> String {
    let Some(number) = cell.order else { return "none".into() };
    let letters: String = cell.limits.iter().map(|limit| letter(*limit)).collect();
    let star = if is_boundary(cell) { "*" } else { "" };
    let space = if letters.is_empty() && star.is_empty() { "" } else { " " };
    format!("{}{space}{letters}{star}", product(&standard.products[number], system))
}

fn limit_word(limit: Limit) -> &'static str {
    if limit == Limit::Heat { "freezing" } else { limit.word() }
}

fn letter(limit: Limit) -> char {
    match limit {
        Limit::Heat => 'F',
        Limit::Code => 'C',
        Limit::Insulation => 'I',
        Limit::Other => 'R',
    }
}

fn is_boundary(cell: &Cell) -> bool {
    cell.is_thin()
        || cell.flips()
        || cell.raised_by.is_some()
        || cell.needed.is_none()
        || !cell.at_any_depth.is_empty()
}

/// "governed by freezing; slack 3/16 in; not enough at the 50-year low".
fn remarks(standard: &Standard, cell: &Cell, system: System) -> String {
    let mut parts: Vec<String> = Vec::new();
    let limits: Vec<Arc<str>> = cell.limits.iter().map(|limit| limit_word(*limit).into()).collect();
    match cell.needed {
        None if limits.is_empty() => parts.push("no product is enough".into()),
        None => parts.push(format!("no product is enough: {}", listed(&limits, usize::MAX))),
        Some(number) => {
            if let Some(by) = cell.raised_by {
                parts.push(format!(
                    "{} is enough; raised to the length of {}, which is as mild or milder",
                    product(&standard.products[number], system),
                    standard.places[by].climate.name_and_state()
                ));
            }
            if cell.is_thin() {
                parts.push(format!("slack {}", slack(cell, system).unwrap_or_default()));
            }
            if cell.flips() {
                parts.push("not enough at the 50-year low".into());
            }
        }
    }
    if !cell.at_any_depth.is_empty() {
        let rules: Vec<Arc<str>> = cell.at_any_depth.iter().map(|rule| rule.number.clone()).collect();
        parts.push(format!("at any length, also resolve {}", listed(&rules, usize::MAX)));
    }
    parts.join("; ")
}

/// How much shallower the seat could be: "3/16 in", "at least 1 1/2 in".
fn slack(cell: &Cell, system: System) -> Option<String> {
    let least = match system {
        System::Us => 0.001_587_5,
        System::Si => 0.001,
    };
    if cell.slack? < least && !cell.at_least {
        return Some(format!("under {}", SLACK.value(&Quantity::of(least, Dim::LENGTH), system)));
    }
    let slack = SLACK.value(&Quantity::of(cell.slack?, Dim::LENGTH), system);
    Some(if cell.at_least { format!("at least {slack}") } else { slack })
}

/// What is varied, in words.
pub(in crate::report) fn variant(variant: Variant) -> String {
    match variant {
        Variant::DesignLow(by) => format!("design low {}", by.words()),
        Variant::Margin(_) => "margin 4 °F".into(),
        Variant::BestEstimates => "best estimates, without their range".into(),
    }
}

pub(in crate::report) fn change(change: Option<Change>) -> &'static str {
    match change {
        Some(Change::Same) => "no",
        Some(Change::Longer) => "yes, longer",
        Some(Change::Shorter) => "yes, shorter",
        None => "not known",
    }
}

/// What is assumed, a sentence each.
fn assumed(standard: &Standard, system: System) -> Vec<String> {
    let sentence = |(fact, why): &(Shown, Arc<str>)| {
        let text = value(fact, system);
        // The seat depth of another length is its own.
        let text = if &*fact.name == "outlet.seat_depth" { String::new() } else { format!("{text} ") };
        format!("{}: {text}({}).", called(fact), figures(why, system))
    };
    let mut lines: Vec<String> = standard.assumed.iter().map(sentence).collect();
    lines.dedup();
    lines
}

/// Whether lengths change, by how many become longer and shorter, stay, and are not known.
fn change_in([longer, shorter, same, unknown]: [usize; 4]) -> &'static str {
    match (longer + shorter, same, unknown) {
        (1.., ..) => "yes",
        (0, _, 0) => "no",
        (0, 0, _) => "not known",
        (0, ..) => "no, where known",
    }
}
