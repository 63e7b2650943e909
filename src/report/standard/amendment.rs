//! The amendment that enforces a standard: a table of lengths, and the rule that uses it.

use super::{assumed, design_lows, remarks};
use crate::report::REMINDER;
use crate::report::page::wrapped;
use crate::ruleset::slug;
use crate::standard::{Cell, Place, Setting, Standard};
use crate::units::{Dim, Quantity, Rounding, Show, System};
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// A design low in a table: rounded down, so that it takes in its place.
const DOWN_TO: Show = Show::new(("°F", 2), ("°C", 2), Rounding::Down);
const LENGTH: Show = Show::new(("in", 3), ("mm", 1), Rounding::Nearest);

/// A rule file for `review --rules`, in US units.
pub fn standard_amendment(standard: &Standard) -> String {
    let mut out = head(standard);
    let _ = writeln!(out, "amendment: {}", quoted(&standard.name));
    let about = format!(
        "Least nominal length of {}, {}, by {}, wall, space, supply and barrel",
        standard.name,
        standard.date,
        design_lows(standard)
    );
    let _ = writeln!(out, "about: {}", quoted(&about));
    out.push_str("level: company\n");
    if let Some(margin) = &standard.margin {
        let margin = Show::usual(margin.measure).value(margin, System::Us);
        let _ = writeln!(out, "settings: {{ freezing/margin: {margin} }}");
    }
    out.push_str("tables:\n  least_length:\n    about: least nominal length of the standard\n");
    out.push_str("    by: [site.design_low, outlet.wall, outlet.space_behind, outlet.supply, outlet.barrel]\n    rows:\n");
    for row in rows(standard) {
        let _ = writeln!(out, "      - {{ {row} }}");
    }
    out.push_str(&rule(standard));
    out
}

/// Comments with the date, the assumptions and the boundary cases.
fn head(standard: &Standard) -> String {
    let mut out = String::new();
    let mut comment = |text: &str| out.push_str(&wrapped(text, 120, "# "));
    comment(&format!(
        "{}, of {}: the shortest product that no rule in force asks to revise, at each place of {}.",
        standard.name, standard.date, standard.file
    ));
    let places: Vec<String> = standard.places.iter().map(|place| place.climate.name_and_state()).collect();
    comment(&format!("Places: {}.", places.join("; ")));
    let stop = if standard.inside_stop { "Inside stop: standard." } else { "Inside stop: none." };
    comment(stop);
    for line in assumed(standard, System::Us) {
        comment(&format!("Assumed: {line}"));
    }
    for (place, setting, cell) in standard.all() {
        let remarks = remarks(standard, cell, System::Us);
        if !remarks.is_empty() {
            comment(&format!(
                "Boundary: {}, {}: {remarks}.",
                place.climate.name_and_state(),
                in_words(setting)
            ));
        }
    }
    comment(
        "Below the coldest line of a wall the table has no value, and a review asks. `none`: no product is enough.",
    );
    comment(REMINDER);
    out
}

fn in_words(setting: &Setting) -> String {
    format!("{} ({}), {} barrel, {}", setting.wall, setting.space, setting.barrel, setting.supply)
}

/// Rows of the table, as flow mappings: for each wall, space and supply from the mildest place to the coldest.
fn rows(standard: &Standard) -> Vec<String> {
    let mut groups: Vec<[&str; 3]> = Vec::new();
    for setting in &standard.settings {
        let group = [&*setting.wall, &*setting.space, &*setting.supply];
        if !groups.contains(&group) {
            groups.push(group);
        }
    }
    let mut order: Vec<usize> = (0..standard.places.len()).collect();
    let low = |at: &usize| standard.places[*at].design_low;
    order.sort_by(|a, b| low(b).total_cmp(&low(a)));
    let mut rows = Vec::new();
    for group in groups {
        let [wall, space, supply] = group.map(quoted);
        // A line ends where the lengths after it differ.
        let mut lines: Vec<(String, String)> = Vec::new();
        for place in &order {
            let cells: Vec<String> = standard
                .settings
                .iter()
                .zip(&standard.cells[*place])
                .filter(|(own, _)| [&*own.wall, &*own.space, &*own.supply] == group)
                .map(|(own, cell)| format!("{}: {}", quoted(&own.barrel), length(standard, cell)))
                .collect();
            let (down_to, cells) = (down_to(&standard.places[*place]), cells.join(", "));
            match lines.last_mut() {
                Some((last, known)) if *known == cells => *last = down_to,
                _ => lines.push((down_to, cells)),
            }
        }
        rows.extend(lines.into_iter().map(|(down_to, cells)| {
            format!(
                "outlet.wall: {wall}, outlet.space_behind: {space}, outlet.supply: {supply}, down to: {down_to}, {cells}, \
                 other: none"
            )
        }));
    }
    if let Some(coldest) = order.last() {
        let down_to = down_to(&standard.places[*coldest]);
        rows.push(format!(
            "outlet.wall: other, outlet.space_behind: other, outlet.supply: other, down to: {down_to}, other: none"
        ));
    }
    rows
}

fn down_to(place: &Place) -> String {
    DOWN_TO.value(&Quantity::temperature(place.design_low), System::Us)
}

fn length(standard: &Standard, cell: &Cell) -> String {
    cell.order.map_or_else(|| "none".into(), |number| inches(standard.products[number].length))
}

fn inches(meters: f64) -> String {
    LENGTH.value(&Quantity::of(meters, Dim::LENGTH), System::Us)
}

/// The rule, with a case for each of its outcomes.
fn rule(standard: &Standard) -> String {
    let set = slug(&standard.name);
    let words = |of: fn(&Setting) -> &str| -> String {
        let words: BTreeSet<&str> = standard.settings.iter().map(of).collect();
        let words: Vec<String> = words.into_iter().map(|word| format!("\"{word}\"")).collect();
        words.join(", ")
    };
    let (walls, supplies, barrels) = (words(|it| &it.wall), words(|it| &it.supply), words(|it| &it.barrel));
    let mut out = format!(
        "add:
  - id: shorter-than-standard
    title: Outlet is shorter than the standard
    brief: \"The standard asks for {{{set}/least_length}} or more here.\"
    do: \"order {{{set}/least_length}}\"
    basis: company
    why: The standard is the shortest product that no rule in force asks to revise there.
    applies: 'outlet.closes = \"inside\" and outlet.wall in [{walls}] and outlet.supply in [{supplies}] and outlet.barrel in [{barrels}]'
    needs: outlet.nominal_length >= {set}/least_length
    outcome: revise
    says: \"It is {{outlet.nominal_length}} long; the standard asks for {{{set}/least_length}} or more at {{site.design_low}}.\"
    remedy: \"Order {{{set}/least_length}}.\"
    see: [{}]
    cases:
",
        quoted(&format!("{}, {}", standard.name, standard.date))
    );
    let found = standard.all().find_map(|(place, setting, cell)| Some((place, setting, cell.order?)));
    if let Some((place, setting, number)) = found {
        let own = standard.products[number].length;
        let given = |length: Option<f64>| {
            let length = length.map(|length| format!(", outlet.nominal_length: {}", inches(length)));
            format!(
                "outlet.closes: inside, site.design_low: {}, outlet.wall: {}, outlet.space_behind: {}, outlet.supply: {}, \
                 outlet.barrel: {}{}",
                down_to(place),
                quoted(&setting.wall),
                quoted(&setting.space),
                quoted(&setting.supply),
                quoted(&setting.barrel),
                length.unwrap_or_default()
            )
        };
        for (name, length, gives) in [
            ("as long as the standard", Some(own), "no comment"),
            ("an inch shorter", Some(own - 0.0254), "revise"),
            ("length not stated", None, "clarify"),
        ] {
            let _ =
                writeln!(out, "      - {{ name: {name}, given: {{ {} }}, gives: {gives} }}", given(length));
        }
    }
    out
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace('\\', "\\\\").replace('"', "\\\""))
}
