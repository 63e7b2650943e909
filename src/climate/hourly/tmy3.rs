//! TMY3: a line of the station, a line of column names, then an hour a row; 01:00 to 24:00, local standard time.
//! Source: the data set's manual (from memory), and files themselves.

use super::fixed::{CUT_SHORT, FETCH, Fixed, Line, Stamp, figure, said};
use super::{Form, Hourly, Station};
use crate::climate::moment;
use crate::climate::place::ELEVATIONS;
use crate::diag::{Diagnostic, Diagnostics, Location, nearest};
use std::sync::Arc;

/// How the line of column names starts.
pub(super) const MARK: &str = "Date (MM/DD/YYYY),";
/// Stands for any value that is missing.
const MISSING: f64 = -9900.0;
const DRY_BULB: &str = "Dry-bulb (C)";

pub(super) fn read(file: &str, text: &str) -> Result<Hourly, Diagnostics> {
    let name: Arc<str> = file.into();
    let mut fixed = Fixed::new(file, DRY_BULB, MISSING);
    let mut lines = text.lines().zip(1_u32..);
    let (first, second) = (lines.next().map_or("", |it| it.0), lines.next().map_or("", |it| it.0));
    let names: Vec<&str> = second.split(',').map(str::trim).collect();
    if !second.starts_with(MARK) {
        let at = if first.starts_with(MARK) { 1 } else { 2 };
        let wanted = "a line of the station, then the line of column names, then the hours";
        fixed.refuse(at, "the two header lines are not those of a TMY3 file", "", wanted);
        return Err(fixed.problems);
    }
    let column = |wanted: &str| names.iter().position(|it| *it == wanted);
    let (Some(dry_bulb), Some(time)) = (column(DRY_BULB), column("Time (HH:MM)")) else {
        let missing = if column(DRY_BULB).is_none() { DRY_BULB } else { "Time (HH:MM)" };
        let mut problem = Diagnostic::new(Location::cell(&name, 2, None), format!("has no column {missing}"));
        problem = problem.expected("the column names as a TMY3 file has them");
        problem.nearest = names.iter().find_map(|it| nearest(it, [missing]).and(Some((*it).to_owned())));
        return Err(problem.into());
    };
    let mut notes = Diagnostics::new();
    let station = station(&name, first, &mut notes);
    let (humidity, wind) = (column("RHum (%)"), column("Wspd (m/s)"));
    for (it, wanted) in [(humidity, "RHum (%)"), (wind, "Wspd (m/s)")] {
        if it.is_none() {
            notes.push(Diagnostic::new(Location::cell(&name, 2, None), format!("has no column {wanted}")));
        }
    }
    let mut lines = lines.filter(|(line, _)| !line.trim().is_empty()).peekable();
    while let Some((line, row)) = lines.next() {
        let fields: Vec<&str> = line.split(',').collect();
        if fields.len() < names.len() {
            let what = format!("has {} fields of {}", fields.len(), names.len());
            if lines.peek().is_none() {
                fixed.refuse(row, format!("{what}: {CUT_SHORT}"), "", FETCH);
            } else {
                fixed.refuse(row, what, "", "a field for every column of row 2");
            }
            continue;
        }
        let field = |index: Option<usize>| index.and_then(|it| fields.get(it)).copied().unwrap_or_default();
        let (date, clock) = (fields[0].trim(), field(Some(time)).trim());
        let Some(stamp) = stamp(date, clock) else {
            let text = format!("{date} {clock}");
            fixed.refuse(row, "is no date and time of a TMY3 row", &text, "such as 01/31/1997 and 24:00");
            continue;
        };
        let (dry_bulb, humidity, wind) = (field(Some(dry_bulb)), field(humidity), field(wind));
        fixed.take(&Line { row, stamp, dry_bulb, humidity, wind });
    }
    fixed.finish(Form::Tmy3, station, true, notes)
}

fn stamp(date: &str, clock: &str) -> Option<Stamp> {
    let mut parts = date.split('/').map(|it| it.parse::<u32>().ok());
    let (month, day, year) = (parts.next()??, parts.next()??, parts.next()??);
    Some(Stamp { year, month, day, clock: moment::time_of_day(clock).ok()? })
}

/// Number, name, state, hours from UTC, latitude, longitude, elevation.
fn station(file: &Arc<str>, line: &str, notes: &mut Diagnostics) -> Station {
    let place = Location::cell(file, 1, None);
    // A name in quotes may have commas of its own.
    let mut fields = Vec::new();
    let (mut quoted, mut from) = (false, 0);
    for (at, c) in line.char_indices() {
        quoted ^= c == '"';
        if c == ',' && !quoted {
            fields.push(&line[from..at]);
            from = at + 1;
        }
    }
    fields.push(&line[from..]);
    let field = |index: usize| fields.get(index).copied().unwrap_or_default();
    let mut number = |name, index, range| figure(name, field(index), range, &place, notes);
    Station {
        utc_offset: number("time zone", 3, [-14.0, 14.0]),
        latitude: number("latitude", 4, [-90.0, 90.0]),
        longitude: number("longitude", 5, [-180.0, 180.0]),
        elevation: number("elevation", 6, ELEVATIONS),
        number: said(field(0)),
        name: said(field(1)),
        state: said(field(2)),
        country: None,
    }
}
