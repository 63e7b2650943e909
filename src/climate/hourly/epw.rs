//! EPW: eight header lines, then 35 fields an hour; hours are 1 to 24 and end at their number, on local standard time.
//! Source: the EnergyPlus weather file's data dictionary (from memory), and files themselves.

use super::fixed::{CUT_SHORT, FETCH, Fixed, Line, Stamp, figure, said};
use super::{Form, Hourly, Station};
use crate::climate::place::ELEVATIONS;
use crate::diag::{Diagnostic, Diagnostics, Location, nearest};
use std::sync::Arc;

/// Whether a line is one of such a header and no other file's. A logger's title block may have a `Location` too, but not
/// ten fields of it.
pub(super) fn is_header(line: &[u8]) -> bool {
    let starts =
        |start: &str| line.get(..start.len()).is_some_and(|it| it.eq_ignore_ascii_case(start.as_bytes()));
    let commas = || line.iter().filter(|it| **it == b',').count();
    starts("DESIGN CONDITIONS,") || starts("DATA PERIODS,") || (starts("LOCATION,") && commas() >= 9)
}

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
/// Stands for a dry bulb that is missing, °C.
const MISSING: f64 = 99.9;
/// What files of typical years call themselves in the header.
const TYPICAL: [&str; 6] = ["TMY", "TRY", "IWEC", "CWEC", "WYEC", "TYPICAL"];
/// Fields of a row that are read.
const DRY_BULB: usize = 6;
const HUMIDITY: usize = 8;
const WIND: usize = 21;
/// Older files lack the last ones.
const FEWEST: usize = 32;

pub(super) fn read(file: &str, text: &str) -> Result<Hourly, Diagnostics> {
    let name: Arc<str> = file.into();
    let mut fixed = Fixed::new(file, "dry bulb", MISSING);
    let mut lines = text.lines().zip(1_u32..);
    let mut header = Vec::new();
    for (wanted, row) in HEADER.iter().zip(1_u32..) {
        let Some((line, _)) = lines.next() else {
            fixed.refuse(row, "the file ends within its header", "", &format!("a line of {wanted}"));
            return Err(fixed.problems);
        };
        let first = line.split(',').next().unwrap_or_default().trim().trim_start_matches('\u{FEFF}');
        if !first.to_ascii_uppercase().starts_with(wanted) {
            let what = format!("stands where the header line {wanted} should");
            let mut problem = Diagnostic::new(Location::cell(&name, row, None), what).text(first);
            problem =
                problem.expected(format!("the eight header lines in their order: {}", HEADER.join(", ")));
            problem.nearest = nearest(first, [*wanted]).map(str::to_owned);
            return Err(problem.into());
        }
        header.push(line);
    }
    let mut notes = Diagnostics::new();
    let location: Vec<&str> = header.first().map_or(Vec::new(), |it| it.split(',').collect());
    let station = station(&name, &location, &mut notes);
    let source = location.get(4).map_or(String::new(), |it| it.to_ascii_uppercase());
    let means_typical = TYPICAL.iter().any(|it| source.contains(it));
    let periods: Vec<&str> = header.last().map_or(Vec::new(), |it| it.split(',').collect());
    let per_hour =
        periods.get(2).and_then(|it| it.trim().parse::<u32>().ok()).filter(|it| (1..=60).contains(it));
    let Some(per_hour) = per_hour else {
        let text = periods.get(2).unwrap_or(&"");
        fixed.refuse(8, "does not say how many records an hour has", text, "DATA PERIODS,1,1, and so on");
        return Err(fixed.problems);
    };
    rows(&mut fixed, lines, per_hour);
    fixed.finish(Form::Epw, station, means_typical, notes)
}

fn station(file: &Arc<str>, fields: &[&str], notes: &mut Diagnostics) -> Station {
    let field = |index: usize| fields.get(index).copied().unwrap_or_default();
    let place = Location::cell(file, 1, None);
    let mut number = |name, index, range| figure(name, field(index), range, &place, notes);
    Station {
        latitude: number("latitude", 6, [-90.0, 90.0]),
        longitude: number("longitude", 7, [-180.0, 180.0]),
        utc_offset: number("time zone", 8, [-14.0, 14.0]),
        elevation: number("elevation", 9, ELEVATIONS),
        name: said(field(1)),
        state: said(field(2)),
        country: said(field(3)),
        number: said(field(5)).filter(|it| it.bytes().any(|b| !b"09".contains(&b))),
    }
}

fn rows<'t>(fixed: &mut Fixed, lines: impl Iterator<Item = (&'t str, u32)>, per_hour: u32) {
    let mut lines = lines.filter(|(line, _)| !line.trim().is_empty()).peekable();
    let mut first = None;
    let mut before: Option<(u32, u32)> = None;
    while let Some((line, row)) = lines.next() {
        let fields: Vec<&str> = line.split(',').collect();
        // Nobody ends a whole row early; a transfer that breaks off does.
        let is_last = lines.peek().is_none();
        let least = if is_last { *first.get_or_insert(fields.len()) } else { FEWEST }.max(FEWEST);
        first = first.or(Some(fields.len()));
        if fields.len() < least {
            let what = format!("has {} fields of {least}", fields.len());
            if is_last {
                fixed.refuse(row, format!("{what}: {CUT_SHORT}"), "", FETCH);
            } else {
                fixed.refuse(row, what, "", "35 fields with commas between them, as in every EPW row");
            }
            continue;
        }
        let Some([year, month, day, hour, minute]) = whole(&fields) else {
            let text = fields[..5].join(",");
            fixed.refuse(row, "has no date and hour that can be read", &text, "year,month,day,hour,minute");
            continue;
        };
        if !(1..=24).contains(&hour) || minute > 60 {
            let text = format!("{hour}:{minute:02}");
            fixed.refuse(row, "is no hour of an EPW row", &text, "hours 1 to 24, each by its end");
            continue;
        }
        // One record an hour stands at its end whatever its minute says; of several the last may say 0.
        let ends = minute == 0 && before.is_some_and(|(of, minute)| of == hour && minute > 0);
        let minute = if per_hour == 1 || ends { 60 } else { minute };
        before = Some((hour, minute));
        let clock = f64::from((hour - 1) * 3600 + minute * 60);
        let stamp = Stamp { year, month, day, clock };
        let field = |index: usize| fields.get(index).copied().unwrap_or_default();
        let (dry_bulb, humidity, wind) = (field(DRY_BULB), field(HUMIDITY), field(WIND));
        fixed.take(&Line { row, stamp, dry_bulb, humidity, wind });
    }
}

fn whole(fields: &[&str]) -> Option<[u32; 5]> {
    let mut out = [0; 5];
    for (field, out) in fields.iter().zip(&mut out) {
        // Some writers put a point behind whole numbers.
        let field = field.trim();
        *out = field.strip_suffix(".0").unwrap_or(field).parse().ok()?;
    }
    Some(out)
}
