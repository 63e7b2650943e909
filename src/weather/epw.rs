//! EPW: eight header lines, then 35 fields an hour; hours are 1 to 24 and end at their number, in local standard time.
//! Source: the EnergyPlus weather file's data dictionary (from memory), and files themselves.

use super::error::WeatherError;
use super::fixed::{FixedRows, Stamp, stated, station_figure};
use super::hourly::{Form, Hourly, Station};
use super::warning::Warning;
use crate::climate::ELEVATIONS;
use crate::diag::{Diagnostics, Location, nearest};

/// The header lines in order.
const HEADER: [&str; 8] = [
    "LOCATION",
    "DESIGN CONDITIONS",
    "TYPICAL/EXTREME PERIODS",
    "GROUND TEMPERATURES",
    "HOLIDAYS/DAYLIGHT SAVING",
    "COMMENTS 1",
    "COMMENTS 2",
    "DATA PERIODS",
];
/// Marks a missing dry bulb, °C.
const MISSING: f64 = 99.9;
/// What files of typical years call themselves in the header.
const TYPICAL: [&str; 6] = ["TMY", "TRY", "IWEC", "CWEC", "WYEC", "TYPICAL"];
/// The field of the dry bulb.
const DRY_BULB: usize = 6;
/// Older files lack the last ones.
const FEWEST: usize = 32;

/// Whether a line is one of such a header and of no other file. A logger's title block may have a `Location` too, but not
/// ten fields of it.
pub(super) fn is_header(line: &[u8]) -> bool {
    let starts =
        |start: &str| line.get(..start.len()).is_some_and(|it| it.eq_ignore_ascii_case(start.as_bytes()));
    let commas = || line.iter().filter(|byte| **byte == b',').count();
    starts("DESIGN CONDITIONS,") || starts("DATA PERIODS,") || (starts("LOCATION,") && commas() >= 9)
}

pub(super) fn read(file: &str, text: &str) -> Result<Hourly, Diagnostics> {
    let mut rows = FixedRows::new(file, "dry bulb", MISSING);
    let mut lines = text.lines().zip(1_u32..);
    let mut header = Vec::new();
    for (wanted, row) in HEADER.into_iter().zip(1_u32..) {
        let Some((line, _)) = lines.next() else {
            return Err(WeatherError::HeaderEnds { wanted }.at(rows.at(row)).into());
        };
        let first = line.split(',').next().unwrap_or_default().trim().trim_start_matches('\u{FEFF}');
        if !first.to_ascii_uppercase().starts_with(wanted) {
            let error = WeatherError::HeaderLine { wanted, all: HEADER.join(", ") };
            let mut error = error.at(rows.at(row)).text(first);
            error.nearest = nearest(first, [wanted]).map(Into::into);
            return Err(error.into());
        }
        header.push(line.split(',').collect::<Vec<_>>());
    }
    let field = |line: usize, index: usize| header[line].get(index).copied().unwrap_or_default();
    let station = read_station(|index| field(0, index), &rows.at(1), &mut rows.warnings);
    let source = field(0, 4).to_ascii_uppercase();
    let called_typical = TYPICAL.iter().any(|name| source.contains(name));
    let per_hour = field(7, 2).trim().parse::<u32>().ok().filter(|count| (1..=60).contains(count));
    let Some(per_hour) = per_hour else {
        rows.error(8, &WeatherError::RecordsPerHour, field(7, 2));
        return Err(rows.errors);
    };
    read_rows(&mut rows, lines, per_hour);
    rows.finish(Form::Epw, station, called_typical)
}

fn read_station<'t>(field: impl Fn(usize) -> &'t str, at: &Location, warnings: &mut Vec<Warning>) -> Station {
    let mut number = |name, index, range| station_figure(name, field(index), range, at, warnings);
    Station {
        latitude: number("latitude", 6, [-90.0, 90.0]),
        longitude: number("longitude", 7, [-180.0, 180.0]),
        utc_offset: number("time zone", 8, [-14.0, 14.0]),
        elevation: number("elevation", 9, ELEVATIONS),
        name: stated(field(1)),
        state: stated(field(2)),
        country: stated(field(3)),
        number: stated(field(5)).filter(|number| number.bytes().any(|byte| !b"09".contains(&byte))),
    }
}

fn read_rows<'t>(rows: &mut FixedRows, lines: impl Iterator<Item = (&'t str, u32)>, per_hour: u32) {
    let mut lines = lines.filter(|(line, _)| !line.trim().is_empty()).peekable();
    let mut first_length = None;
    let mut before: Option<(u32, u32)> = None;
    while let Some((line, row)) = lines.next() {
        let fields: Vec<&str> = line.split(',').collect();
        let first = *first_length.get_or_insert(fields.len());
        // Nobody ends a whole row early; a transfer that breaks off does.
        let is_last = lines.peek().is_none();
        let wanted = if is_last { first.max(FEWEST) } else { FEWEST };
        let expected = "35 fields with commas between them, as in every EPW row";
        if !rows.check_fields(row, [fields.len(), wanted], is_last, expected) {
            continue;
        }
        let Some([year, month, day, hour, minute]) = whole_numbers(&fields) else {
            rows.error(row, &WeatherError::EpwDate, &fields[..5].join(","));
            continue;
        };
        if !(1..=24).contains(&hour) || minute > 60 {
            rows.error(row, &WeatherError::EpwHour, &format!("{hour}:{minute:02}"));
            continue;
        }
        // One record an hour is at its end, with any minute; of several the last may say 0.
        let ends = minute == 0 && before.is_some_and(|(of, minute)| of == hour && minute > 0);
        let minute = if per_hour == 1 || ends { 60 } else { minute };
        before = Some((hour, minute));
        let stamp = Stamp { year, month, day, clock: f64::from((hour - 1) * 3600 + minute * 60) };
        rows.push(row, stamp, fields[DRY_BULB]);
    }
}

/// The first five fields as whole numbers.
fn whole_numbers(fields: &[&str]) -> Option<[u32; 5]> {
    let mut numbers = [0; 5];
    for (field, number) in fields.iter().zip(&mut numbers) {
        // Some writers put a point behind whole numbers.
        let field = field.trim();
        *number = field.strip_suffix(".0").unwrap_or(field).parse().ok()?;
    }
    Some(numbers)
}
