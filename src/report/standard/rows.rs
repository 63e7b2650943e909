//! The cells of a regional standard as rows, for CSV and a workbook.

use super::{change, is_boundary, low, product, remarks, slack, supply, variant};
use crate::report::page::{BYTE_ORDER_MARK, csv_line};
use crate::report::words::{known, without_band};
use crate::report::workbook::{Cell as SheetCell, Paper, Sheet, workbook};
use crate::standard::{Standard, VARIANTS};
use crate::units::System;
use std::io;

const HEADINGS: [&str; 17] = [
    "Place",
    "State",
    "Climate",
    "Homes",
    "Design low",
    "Wall",
    "Space",
    "Supply",
    "Barrel",
    "Needed",
    "Order",
    "Governed by",
    "Slack",
    "Seat at design low",
    "Good to",
    "How often colder",
    "Boundary case",
];
/// The column of homes, from 0.
const HOMES: usize = 3;
/// The most characters of a line in a column of the workbook.
const WIDEST: usize = 16;

fn headings() -> Vec<String> {
    let own = HEADINGS.map(str::to_owned).into_iter();
    own.chain(VARIANTS.map(|own| format!("Length changes: {}", variant(own)))).collect()
}

/// A line for each cell.
fn lines(standard: &Standard, system: System) -> Vec<Vec<SheetCell>> {
    let mut lines = Vec::new();
    for (place, setting, cell) in standard.all() {
        let product = |number: Option<usize>| {
            number.map_or_else(|| "none".into(), |number| product(&standard.products[number], system))
        };
        let fact = |name: &str| known(&cell.facts, name, system).unwrap_or_default();
        let limits: Vec<&str> = cell.limits.iter().map(|limit| limit.word()).collect();
        let texts = [
            place.climate.name.to_string(),
            place.climate.state.as_deref().unwrap_or_default().to_owned(),
            place.climate.id.to_string(),
            String::new(),
            low(place, system),
            setting.wall.to_string(),
            setting.space.to_string(),
            supply(setting),
            setting.barrel.to_string(),
            product(cell.needed),
            product(cell.order),
            limits.join("; "),
            slack(cell, system).unwrap_or_default(),
            fact("heat.seat_temperature"),
            without_band(&cell.facts, "heat.holds_to", system).unwrap_or_default(),
            fact("heat.how_often"),
            if is_boundary(cell) { remarks(standard, cell, system) } else { String::new() },
        ];
        let changes = cell.changes.iter().map(|own| change(*own).to_owned());
        let mut line: Vec<SheetCell> = texts.into_iter().chain(changes).map(SheetCell::from).collect();
        if let Some(homes) = place.homes {
            line[HOMES] = SheetCell::Number(homes);
        }
        lines.push(line);
    }
    lines
}

/// The cells as CSV.
pub fn standard_csv(standard: &Standard, system: System) -> String {
    let lines = lines(standard, system).into_iter();
    let lines = lines.map(|line| csv_line(&line.iter().map(SheetCell::text).collect::<Vec<_>>()));
    format!("{BYTE_ORDER_MARK}{}{}", csv_line(&headings()), lines.collect::<String>())
}

/// The cells as a workbook.
pub fn standard_xlsx(standard: &Standard, system: System) -> io::Result<Vec<u8>> {
    let headings = headings();
    let widest = vec![WIDEST; headings.len()];
    let (name, rows) = ("Standard".into(), lines(standard, system));
    workbook(&standard.name, &[Sheet { name, headings, rows, widest, paper: Paper::Tabloid }])
}
