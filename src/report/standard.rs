//! The page of `coldsill standard`.

use super::page::{heading, labelled, table, wrapped};
use super::words::listed;
use super::{REMINDER, WIDTH};
use crate::climate::LOW;
use crate::review::{Candidate, Limit, Shown};
use crate::standard::{Cell, Change, Place, Setting, Standard, Stock, THIN, VARIANTS, Variant};
use crate::units::{Dim, Quantity, Rounding, Show, System, figures};
use std::sync::Arc;

const LENGTH: Show = Show::new(("in", 0), ("mm", 0), Rounding::Nearest);
const SLACK: Show = Show::new(("in", 2), ("mm", 0), Rounding::Down);
/// Boundary cases that are printed before the rest is only counted.
const MOST_CASES: usize = 40;

/// The page: a matrix for each supply and barrel, the boundary cases, what to stock, and what changes a length.
pub fn standard(standard: &Standard, system: System) -> String {
    let mut out =
        String::from("STANDARD                                      screening only; not an approval\n");
    out.push_str(&labelled("Standard", &format!("{}, {}", standard.name, standard.date), WIDTH));
    out.push_str(&labelled("Design low", &design_lows(standard), WIDTH));
    if let Some(margin) = &standard.margin {
        let margin = Show::usual(margin.measure).value(margin, system);
        out.push_str(&labelled("Margin", &format!("{margin} above freezing at the valve seat"), WIDTH));
    }
    let stop = if standard.inside_stop { "an inside stop is standard" } else { "no inside stop" };
    out.push_str(&labelled("Stop", stop, WIDTH));
    if !standard.amendments.is_empty() {
        out.push_str(&labelled("Amended by", &listed(&standard.amendments, usize::MAX), WIDTH));
    }
    write_matrices(&mut out, standard, system);
    write_cases(&mut out, standard, system);
    write_stock(&mut out, standard, system);
    write_sensitivity(&mut out, standard);
    write_assumed(&mut out, standard, system);
    out.push('\n');
    let note = format!(
        "Solved: {} sections, each once, for {} cells. Lengths are nominal: check the seat depth of the product ordered.",
        standard.solves.sections,
        standard.all().count(),
    );
    out.push_str(&wrapped(&note, WIDTH, ""));
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

/// "20-year low", or each of them once.
pub(super) fn design_lows(standard: &Standard) -> String {
    let mut all: Vec<Arc<str>> = standard.places.iter().map(|place| place.design_low_is.clone()).collect();
    all.sort();
    all.dedup();
    listed(&all, usize::MAX)
}

/// "12 in", "GEN-B, 12 in".
pub(super) fn product(product: &Candidate, system: System) -> String {
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

pub(super) fn low(place: &Place, system: System) -> String {
    LOW.value(&Quantity::temperature(place.design_low), system)
}

/// "2x6", "rim-joist-batt (basement)".
fn wall(setting: &Setting) -> String {
    format!("{} ({})", setting.wall, setting.space)
}

pub(super) fn supply(setting: &Setting) -> String {
    match &setting.insulation {
        Some(insulation) => format!("{}, insulation {insulation}", setting.supply),
        None => setting.supply.to_string(),
    }
}

fn write_matrices(out: &mut String, standard: &Standard, system: System) {
    let mut groups: Vec<(String, &str)> = Vec::new();
    for setting in &standard.settings {
        let group = (supply(setting), &*setting.barrel);
        if !groups.contains(&group) {
            groups.push(group);
        }
    }
    for (own_supply, barrel) in groups {
        heading(out, &format!("{} barrel, {own_supply} supply", crate::diag::capital(barrel)));
        let columns: Vec<usize> = (0..standard.settings.len())
            .filter(|at| {
                let setting = &standard.settings[*at];
                supply(setting) == own_supply && *setting.barrel == *barrel
            })
            .collect();
        // As many walls beside one another as fit.
        for columns in columns.chunks(4) {
            let walls: Vec<String> = columns.iter().map(|at| wall(&standard.settings[*at])).collect();
            let headings: Vec<&str> =
                ["Place", "Design low"].into_iter().chain(walls.iter().map(String::as_str)).collect();
            let rows = standard.places.iter().zip(&standard.cells).map(|(place, cells)| {
                let own = columns.iter().map(|at| in_matrix(standard, &cells[*at], system));
                [place.climate.name_and_state(), low(place, system)].into_iter().chain(own).collect()
            });
            out.push_str(&table(&headings, rows.collect(), WIDTH));
            out.push('\n');
        }
    }
    let note = "H: heat governs, C: the adopted code, I: the insulation, R: other rules; nothing: the shortest is \
                enough. *: a boundary case, listed below.";
    out.push_str(&wrapped(note, WIDTH, ""));
}

/// "12 in H*", "none".
fn in_matrix(standard: &Standard, cell: &Cell, system: System) -> String {
    let Some(number) = cell.order else { return "none".into() };
    let letters: String = cell.limits.iter().map(|limit| letter(*limit)).collect();
    let star = if is_boundary(cell) { "*" } else { "" };
    let space = if letters.is_empty() && star.is_empty() { "" } else { " " };
    format!("{}{space}{letters}{star}", product(&standard.products[number], system))
}

fn letter(limit: Limit) -> char {
    match limit {
        Limit::Heat => 'H',
        Limit::Code => 'C',
        Limit::Insulation => 'I',
        Limit::Other => 'R',
    }
}

pub(super) fn is_boundary(cell: &Cell) -> bool {
    cell.is_thin()
        || cell.flips()
        || cell.raised_by.is_some()
        || cell.needed.is_none()
        || !cell.at_any_depth.is_empty()
}

/// "governed by heat; slack 3/16 in; not enough at the 50-year low".
pub(super) fn remarks(standard: &Standard, cell: &Cell, system: System) -> String {
    let mut parts: Vec<String> = Vec::new();
    let limits: Vec<Arc<str>> = cell.limits.iter().map(|limit| limit.word().into()).collect();
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
        parts.push(format!("at any length, also settle {}", listed(&rules, usize::MAX)));
    }
    parts.join("; ")
}

/// How much shallower the seat could be: "3/16 in", "at least 1 1/2 in".
pub(super) fn slack(cell: &Cell, system: System) -> Option<String> {
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

fn write_cases(out: &mut String, standard: &Standard, system: System) {
    let cases: Vec<_> = standard.all().filter(|(.., cell)| is_boundary(cell)).collect();
    heading(out, "Boundary cases");
    if cases.is_empty() {
        out.push_str("None.\n");
        return;
    }
    let rows = cases.iter().take(MOST_CASES).map(|(place, setting, cell)| {
        vec![
            place.climate.name_and_state(),
            format!("{}, {} barrel, {}", wall(setting), setting.barrel, supply(setting)),
            cell.order.map_or_else(|| "none".into(), |number| product(&standard.products[number], system)),
            remarks(standard, cell, system),
        ]
    });
    out.push_str(&table(&["Place", "Wall, barrel, supply", "Order", "Why"], rows.collect(), WIDTH));
    out.push('\n');
    if cases.len() > MOST_CASES {
        let more = cases.len() - MOST_CASES;
        out.push_str(&wrapped(&format!("And {more} more; the CSV file has all of them."), WIDTH, ""));
    }
    let thin = SLACK.value(&Quantity::of(THIN, Dim::LENGTH), system);
    let note = format!(
        "Slack: how much shallower the valve seat could be, between this length and the next shorter one, on the safe \
         side. Listed if it is under {thin}, or if the 50-year low asks for a longer one."
    );
    out.push_str(&wrapped(&note, WIDTH, ""));
}

fn write_stock(out: &mut String, standard: &Standard, system: System) {
    heading(out, "What to stock");
    let groups = &standard.groups;
    if groups.without > 0 {
        let text = format!(
            "{} of {} places by walls and supplies have no product.",
            groups.without,
            groups.without + groups.needs
        );
        out.push_str(&wrapped(&text, WIDTH, ""));
    }
    let items = |stock: &Stock| {
        let items: Vec<Arc<str>> =
            stock.items.iter().map(|it| item(standard, it.product, &it.barrel, system).into()).collect();
        listed(&items, usize::MAX)
    };
    if let Some(fewest) = &groups.fewest {
        let how = if fewest.is_exact {
            "every smaller set was tried"
        } else {
            "built one by one: at most 1 + ln(n) times as many as needed, n the places by walls and supplies"
        };
        let count = fewest.items.len();
        let noun = if count == 1 { "product" } else { "products" };
        let text = format!("Fewest that serve all: {count} {noun}: {} ({how}).", items(fewest));
        out.push_str(&wrapped(&text, WIDTH, ""));
    }
    let rows = groups.best.iter().map(|stock| {
        let served = groups.needs - stock.unserved;
        let cost = stock.cost.map_or_else(|| "-".into(), |cost| format!("${cost:.2}"));
        vec![stock.items.len().to_string(), items(stock), format!("{served} of {}", groups.needs), cost]
    });
    out.push_str(&table(&["Stocked", "Products", "Serves", "Cost"], rows.collect(), WIDTH));
    out.push('\n');
    let note = "Serves: places by walls and supplies. Cost: one outlet for each home on each wall and supply served, the \
                cheapest stocked one that is enough; not given unless every home and price is stated.";
    out.push_str(&wrapped(note, WIDTH, ""));
}

/// What is varied, in words.
pub(super) fn variant(variant: Variant) -> String {
    match variant {
        Variant::DesignLow(by) => format!("design low {}", by.words()),
        Variant::Margin(_) => "margin 4 °F".into(),
        Variant::BestEstimates => "best estimates, without their range".into(),
    }
}

pub(super) fn change(change: Option<Change>) -> &'static str {
    match change {
        Some(Change::Same) => "no",
        Some(Change::Longer) => "yes, longer",
        Some(Change::Shorter) => "yes, shorter",
        None => "not known",
    }
}

fn write_sensitivity(out: &mut String, standard: &Standard) {
    heading(out, "What changes a length");
    let cells: Vec<&Cell> =
        standard.all().map(|(.., cell)| cell).filter(|cell| cell.needed.is_some()).collect();
    let rows = VARIANTS.iter().enumerate().map(|(at, own)| {
        let count = |wanted: Option<Change>| cells.iter().filter(|cell| cell.changes[at] == wanted).count();
        let [longer, shorter, same, unknown] =
            [Some(Change::Longer), Some(Change::Shorter), Some(Change::Same), None].map(count);
        let changes = if longer + shorter > 0 {
            "yes"
        } else if unknown == 0 {
            "no"
        } else if same == 0 {
            "not known"
        } else {
            "no, where known"
        };
        let numbers = [longer, shorter, same, unknown].map(|count| count.to_string());
        [variant(*own), changes.to_owned()].into_iter().chain(numbers).collect()
    });
    let headings = ["Instead", "Length changes", "Longer", "Shorter", "Same", "Not known"];
    out.push_str(&table(&headings, rows.collect(), WIDTH));
    out.push('\n');
    let note = "In cells with a product. Not known: the climate has no such figure. The CSV file says it of each cell.";
    out.push_str(&wrapped(note, WIDTH, ""));
}

fn write_assumed(out: &mut String, standard: &Standard, system: System) {
    let lines: Vec<String> = assumed(standard, system);
    if !lines.is_empty() {
        heading(out, "Assumed");
        out.push_str(&wrapped(&lines.join(" "), WIDTH, ""));
    }
}

/// What is assumed, a sentence each.
pub(super) fn assumed(standard: &Standard, system: System) -> Vec<String> {
    let sentence = |(fact, why): &(Shown, Arc<str>)| {
        let text = super::words::value(fact, system);
        // The seat depth of another length is its own.
        let text = if &*fact.name == "outlet.seat_depth" { String::new() } else { format!("{text} ") };
        format!("{}: {text}({}).", fact.heading, figures(why, system))
    };
    let mut lines: Vec<String> = standard.assumed.iter().map(sentence).collect();
    lines.dedup();
    lines
}
