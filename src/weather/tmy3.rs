//! TMY3: a line of the station, a line of column names, then an hour a row; 01:00 to 24:00, local standard time.
//! Source: the data set's manual (from memory), and files themselves.

use super::calendar::parse_time_of_day;
use super::error::WeatherError;
use super::fixed::{FixedRows, Stamp, stated, station_figure};
use super::hourly::{Form, Hourly, Station};
use super::warning::Warning;
use crate::climate::ELEVATIONS;
use crate::diag::{Diagnostics, Location, nearest};

/// How the line of column names starts.
const FIRST_COLUMN: &str = "Date (MM/DD/YYYY),";
/// Marks any missing value.
const MISSING: f64 = -9900.0;
const DRY_BULB: &str = "Dry-bulb (C)";
const TIME: &str = "Time (HH:MM)";

/// Whether a line is the line of column names.
pub(super) fn is_header(line: &[u8]) -> bool {
    line.starts_with(FIRST_COLUMN.as_bytes())
}

pub(super) fn read(file: &str, text: &str) -> Result<Hourly, Diagnostics> {
    let mut rows = FixedRows::new(file, DRY_BULB, MISSING);
    let mut lines = text.lines().zip(1_u32..);
    let (first, second) = (lines.next().map_or("", |line| line.0), lines.next().map_or("", |line| line.0));
    if !second.starts_with(FIRST_COLUMN) {
        let row = if first.starts_with(FIRST_COLUMN) { 1 } else { 2 };
        return Err(WeatherError::Tmy3Header.at(rows.at(row)).into());
    }
    let names: Vec<&str> = second.split(',').map(str::trim).collect();
    let column = |wanted: &str| names.iter().position(|name| *name == wanted);
    let (Some(dry_bulb), Some(time)) = (column(DRY_BULB), column(TIME)) else {
        let name = if column(DRY_BULB).is_none() { DRY_BULB } else { TIME };
        let mut error = WeatherError::NoColumn { name }.at(rows.at(2));
        error.nearest = names.iter().find_map(|it| nearest(it, [name]).and(Some((*it).into())));
        return Err(error.into());
    };
    let station = read_station(first, &rows.at(1), &mut rows.warnings);
    let mut lines = lines.filter(|(line, _)| !line.trim().is_empty()).peekable();
    while let Some((line, row)) = lines.next() {
        let fields: Vec<&str> = line.split(',').collect();
        let (lengths, is_last) = ([fields.len(), names.len()], lines.peek().is_none());
        if !rows.check_fields(row, lengths, is_last, "a field for every column of row 2") {
            continue;
        }
        let (date, clock) = (fields[0].trim(), fields[time].trim());
        let Some(stamp) = parse_stamp(date, clock) else {
            rows.error(row, &WeatherError::Tmy3Time, &format!("{date} {clock}"));
            continue;
        };
        rows.push(row, stamp, fields[dry_bulb]);
    }
    rows.finish(Form::Tmy3, station, true)
}

fn parse_stamp(date: &str, clock: &str) -> Option<Stamp> {
    let mut parts = date.split('/').map(|part| part.parse::<u32>().ok());
    let (month, day, year) = (parts.next()??, parts.next()??, parts.next()??);
    Some(Stamp { year, month, day, clock: parse_time_of_day(clock).ok()? })
}

/// Reads number, name, state, hours from UTC, latitude, longitude, elevation.
fn read_station(line: &str, at: &Location, warnings: &mut Vec<Warning>) -> Station {
    // A name in quotes may have commas of its own.
    let mut quoted = false;
    let is_separator = |c: char| {
        quoted ^= c == '"';
        c == ',' && !quoted
    };
    let fields: Vec<&str> = line.split(is_separator).collect();
    let field = |index: usize| fields.get(index).copied().unwrap_or_default();
    let mut number = |name, index, range| station_figure(name, field(index), range, at, warnings);
    Station {
        utc_offset: number("time zone", 3, [-14.0, 14.0]),
        latitude: number("latitude", 4, [-90.0, 90.0]),
        longitude: number("longitude", 5, [-180.0, 180.0]),
        elevation: number("elevation", 6, ELEVATIONS),
        number: stated(field(0)),
        name: stated(field(1)),
        state: stated(field(2)),
        country: None,
    }
}
