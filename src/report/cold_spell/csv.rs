//! A cold spell as CSV, for other programs. Values are in the reader's units.

use super::super::json::number;
use super::super::page::{as_text, quoted};
use super::times::{self, Event};
use super::why_not;
use crate::review::{ColdSpell, RowOf, Spotted};
use crate::units::{Dim, Measure, System, find_unit};
use std::fmt::Write;

/// A cold spell as CSV: the hours of a mark's outlets, or the table of all.
pub fn cold_spell_csv(spell: &ColdSpell, system: System) -> String {
    let lines = if spell.mark.is_some() { hourly(spell, system) } else { ranked(spell, system) };
    let mut text = String::new();
    for line in lines {
        let cells: Vec<String> = line.iter().map(|cell| quoted(&as_cell(cell)).into_owned()).collect();
        let _ = writeln!(text, "{}", cells.join(","));
    }
    text
}

/// A cell that no spreadsheet takes for a formula; a number below zero stays one.
fn as_cell(cell: &str) -> String {
    if cell.parse::<f64>().is_ok() { cell.to_owned() } else { as_text(cell) }
}

/// Names and units of temperature and length in headings.
fn units(system: System) -> [(&'static str, &'static str); 2] {
    match system {
        System::Us => [("F", "°F"), ("in", "in")],
        System::Si => [("C", "°C"), ("mm", "mm")],
    }
}

fn written(si: f64, unit: &str, measure: Measure) -> String {
    let value = find_unit(unit).and_then(|it| it.from_si(si, measure)).unwrap_or(si);
    number(value).to_string()
}

fn hourly(spell: &ColdSpell, system: System) -> Vec<Vec<String>> {
    let [(degree, degrees), (length, lengths)] = units(system);
    let headings = [
        "row".into(),
        "time_h".into(),
        format!("outdoors_{degree}"),
        format!("space_{degree}"),
        format!("seat_{degree}"),
        "frozen_share".into(),
        format!("plug_length_{length}"),
        "not_known".into(),
    ];
    let mut lines = vec![headings.to_vec()];
    for outlet in &spell.outlets {
        let first = outlet.rows.first().map_or_else(String::new, row);
        match &outlet.course {
            Ok(followed) => lines.extend(followed.courses[1].moments.iter().map(|it| {
                let mut line = vec![first.clone(), written(it.time, "h", Measure::Of(Dim::TIME))];
                let warmth = [it.outdoors, it.space, it.seat];
                line.extend(warmth.map(|it| written(it, degrees, Measure::Temperature)));
                line.push(number(it.frozen).to_string());
                line.push(written(it.plug, lengths, Measure::Of(Dim::LENGTH)));
                line.push(String::new());
                line
            })),
            Err(absence) => {
                let mut line = vec![String::new(); headings.len()];
                line[0] = first;
                line[headings.len() - 1] = why_not(absence, system);
                lines.push(line);
            }
        }
    }
    lines
}

/// A row by its number; one that is not the schedule's with what it is a row of.
fn row(it: &Spotted) -> String {
    if it.of == RowOf::Schedule { it.number.to_string() } else { it.to_string() }
}

fn ranked(spell: &ColdSpell, system: System) -> Vec<Vec<String>> {
    let [(degree, degrees), _] = units(system);
    let mut headings: Vec<String> =
        ["rank", "rows", "mark", "quantity", "location", "at_risk"].map(Into::into).into();
    for event in ["blocked", "first_ice"] {
        headings.extend(["", "_low", "_high"].map(|end| format!("{event}{end}_h")));
    }
    headings.extend(["", "_low", "_high"].map(|end| format!("coldest_seat{end}_{degree}")));
    headings.push("not_known".into());
    let width = headings.len();
    let mut lines = vec![headings];
    for (index, outlet) in spell.outlets.iter().enumerate() {
        let rows: Vec<String> = outlet.rows.iter().map(row).collect();
        let mut line = vec![
            if outlet.course.is_ok() { (index + 1).to_string() } else { String::new() },
            rows.join(if outlet.rows.iter().any(|it| it.of != RowOf::Schedule) { "; " } else { " " }),
            outlet.mark.to_string(),
            outlet.quantity.map_or_else(String::new, |it| number(it).to_string()),
            outlet.location_names().join("; "),
            if outlet.is_at_risk() { "yes" } else { "no" }.into(),
        ];
        match &outlet.course {
            Ok(followed) => {
                for event in [Event::blocked(followed), Event::first_ice(followed)] {
                    let [low, high] = event.band();
                    line.extend([event.used(), low, high].map(|it| {
                        it.map_or_else(String::new, |it| written(it, "h", Measure::Of(Dim::TIME)))
                    }));
                }
                let seat = times::coldest_seat(followed);
                let ends = seat.map_or([None; 3], |seat| [seat.is, seat.low, seat.high].map(Some));
                line.extend(ends.map(|end| {
                    end.map_or_else(String::new, |end| written(end, degrees, Measure::Temperature))
                }));
                line.push(String::new());
            }
            Err(absence) => {
                line.resize(width - 1, String::new());
                line.push(why_not(absence, system));
            }
        }
        lines.push(line);
    }
    lines
}
