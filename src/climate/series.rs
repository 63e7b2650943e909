//! A cold spell from a series of outdoor temperatures: what a weather station or a logger recorded.

use super::hourly::{Form, Hourly, unpacked};
use super::order::{hours, not_after, sparse, too_long_after, usual_step};
use super::rows::{self, Rows};
use super::spell::{DAY, HOUR, Kind, Spell};
use super::window;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Table, table, text};
use std::borrow::Cow;
use std::sync::Arc;

/// K from one hour to the next. Fronts and chinooks stay below it nearly everywhere.
pub(super) const LARGEST_JUMP: f64 = 25.0;
/// Bridged by a straight line up to this, s.
pub(super) const LONGEST_GAP: f64 = 6.0 * HOUR;
const LONGEST: f64 = 366.0 * DAY;
/// A series longer than this is a season, in which a spell is to be looked for.
const LONGEST_WHOLE: f64 = 31.0 * DAY;

impl Spell {
    /// Reads a series: CSV with a heading row, one column of times and one of outdoor temperatures, within the limits
    /// of [`crate::input`]; or a weather file that [`Hourly`] reads, and any of them packed by gzip. All problems come at
    /// once, each at its cell; a series with any is refused.
    ///
    /// Times are dates with a time of day (month first where written with slashes) or plain hours. There are no time
    /// zones and no daylight saving: all rows keep one clock, and an hour that comes twice is a problem. The unit of the
    /// temperatures stands in the heading or in every cell.
    ///
    /// `days`: the stretch of that many days with the lowest mean that begins or ends at a row, and up to 24 h before it
    /// as a lead-in; without it the whole series, of at most 31 days. Rows with neither a time nor a temperature are left
    /// out; hours that a weather file marks as missing are no rows. Gaps of up to 6 h are bridged by a straight line and
    /// counted in [`Kind::Series`].
    pub fn series(file: &str, bytes: &[u8], days: Option<f64>) -> Result<Self, Diagnostics> {
        let one = Diagnostics::from;
        let bytes = unpacked(file, bytes).map_err(one)?;
        if Form::of(&bytes) != Form::Table {
            let hourly = Hourly::read(file, &bytes)?;
            let whole = Whole { file: file.into(), typical: hourly.typical, told: hourly.notes.len() };
            return cut(whole, &points_of(&hourly)?, days).map_err(one);
        }
        let table = text::decode(file, &bytes).and_then(|it| table::parse(file, it)).map_err(one)?;
        let points = points(&table, rows::read(&table))?;
        let whole = Whole { file: table.file.clone(), typical: false, told: 0 };
        cut(whole, &points, days).map_err(one)
    }
}

/// The file that a spell is cut from.
struct Whole {
    file: Arc<str>,
    typical: bool,
    told: usize,
}

/// A reading that a spell can use.
struct Point<'t> {
    time: f64,
    kelvin: f64,
    text: Cow<'t, str>,
}

/// The hours of a weather file. It may lack some, but not more than 6 h together.
fn points_of(hourly: &Hourly) -> Result<Vec<Point<'static>>, Diagnostics> {
    let mut problems: Diagnostics =
        hourly.gaps.iter().filter(|it| !it.bridged).map(|it| it.problem(hourly)).collect();
    if let (Some(first), Some(last)) = (hourly.measured().next(), hourly.measured().next_back()) {
        let place =
            last.row.map_or(Location::whole(&hourly.file), |row| Location::cell(&hourly.file, row, None));
        problems.extend(too_long(first.time, last.time, &hourly.said(last.time), place));
    }
    let points = hourly.measured().map(|it| Point {
        time: it.time,
        kelvin: it.kelvin,
        text: hourly.said(it.time).into(),
    });
    if problems.is_empty() { Ok(points.collect()) } else { Err(problems) }
}

/// The rows of a table, all of which must be right.
fn points<'t>(table: &Table, rows: Rows<'t>) -> Result<Vec<Point<'t>>, Diagnostics> {
    let mut problems: Diagnostics = rows.bad.iter().map(|it| it.problem.clone()).collect();
    problems.extend(rows.problems.iter().cloned());
    check(table, &rows, &mut problems);
    if !problems.is_empty() {
        problems.sort_by_key(|problem| problem.location.row());
        return Err(problems);
    }
    let read = rows.readings.into_iter();
    Ok(read
        .filter_map(|it| Some(Point { time: it.time, kelvin: it.kelvin?, text: it.time_text.into() }))
        .collect())
}

fn check(table: &Table, rows: &Rows<'_>, problems: &mut Diagnostics) {
    let readings = &rows.readings;
    let ([first, .., _], Some(columns)) = (readings.as_slice(), &rows.columns) else {
        // Where rows had problems, those are what to mend.
        if problems.is_empty() {
            let rows = if readings.is_empty() { "no rows" } else { "one row" };
            let what = format!("has {rows} with a time and a temperature");
            problems.push(Diagnostic::new(Location::whole(&table.file), what).expected("at least 2"));
        }
        return;
    };
    let step = usual_step(readings.iter().map(|it| it.time));
    // Of a few rows each gap is told by itself.
    let is_sparse = step > LONGEST_GAP && readings.len() > 3;
    if is_sparse {
        problems.push(sparse(&table.file, step));
    }
    let mut last = first;
    for it in &readings[1..] {
        let at = |column| Location::cell(&table.file, it.row, Some(column));
        let (before, row, apart) = (last.time_text, last.row, it.time - last.time);
        if let Some(problem) = not_after(apart, it.time_text, before, row, at(&columns.time.name)) {
            problems.push(problem);
            continue;
        }
        if apart > LONGEST_GAP && !is_sparse {
            problems.push(too_long_after(apart, it.time_text, before, row, at(&columns.time.name)));
        }
        if let (Some(a), Some(b)) = (last.kelvin, it.kelvin)
            && is_jump(a, b, apart)
        {
            let what = format!(
                "is {:.0} K from \"{}\" of row {row}, {} h before",
                (b - a).abs(),
                last.text,
                hours(apart)
            );
            let problem = Diagnostic::new(at(&columns.temperature.name), what).text(it.text);
            problems.push(problem.expected("at most 25 K (45 °F) in an hour"));
        }
        last = it;
    }
    problems.extend(too_long(
        first.time,
        last.time,
        last.time_text,
        Location::cell(&table.file, last.row, Some(&columns.time.name)),
    ));
}

/// Whether a step from one reading to the next is more than air makes.
pub(super) fn is_jump(a: f64, b: f64, apart: f64) -> bool {
    (b - a).abs() > LARGEST_JUMP * (apart / HOUR).max(1.0)
}

fn too_long(first: f64, last: f64, text: &str, place: Location) -> Option<Diagnostic> {
    let what = || format!("lies {:.0} days after the first row", (last - first) / DAY);
    (last - first > LONGEST).then(|| Diagnostic::new(place, what()).text(text).expected("at most 366 days"))
}

/// The part of a series that is used.
fn cut(of: Whole, points: &[Point<'_>], days: Option<f64>) -> Result<Spell, Diagnostic> {
    let whole = || Location::whole(&of.file);
    let knots: Vec<[f64; 2]> = points.iter().map(|it| [it.time, it.kelvin]).collect();
    let ([begin, _], [end, _]) = match knots.as_slice() {
        [first, .., last] => (*first, *last),
        _ => return Err(Diagnostic::new(whole(), "has no two rows with a time and a temperature")),
    };
    let (from, to, lead) = match days.map(|it| it * DAY) {
        None if end - begin > LONGEST_WHOLE => {
            let what = format!(
                "covers {:.0} days, and how long a spell to look for in it is not said",
                (end - begin) / DAY
            );
            return Err(Diagnostic::new(whole(), what)
                .expected("the days of the spell, or a series of at most 31 days"));
        }
        None => (begin, end, None),
        Some(length) if !(length > 0.0 && length <= LONGEST) => {
            let what = "a spell of that many days cannot be looked for";
            return Err(Diagnostic::new(whole(), what).expected("more than 0 days and at most 366"));
        }
        Some(length) if length > end - begin => {
            let what = format!("covers {} h, and the spell needs {} h", hours(end - begin), hours(length));
            return Err(Diagnostic::new(whole(), what).expected("a longer series, or fewer days"));
        }
        Some(length) => {
            let start = window::coldest(&knots, length);
            let from = begin.max(start - DAY);
            (from, start + length, Some(start - from))
        }
    };
    let step = usual_step(knots.iter().map(|knot| knot[0]));
    let used = || points.iter().filter(|it| (from..=to).contains(&it.time));
    // A gap that the window cuts into is one of those it rests on.
    let resting_on = points.windows(2).filter(|pair| pair[1].time > from && pair[0].time < to);
    let gaps: Vec<f64> =
        resting_on.map(|pair| pair[1].time - pair[0].time).filter(|apart| *apart > 1.5 * step).collect();
    let text = |it: Option<&Point<'_>>| it.map_or("", |it| &it.text).into();
    let kind = Kind::Series {
        file: of.file,
        typical: of.typical,
        told: of.told,
        from: text(used().next()),
        to: text(used().next_back()),
        rows: used().count(),
        lead,
        gaps: gaps.len(),
        longest_gap: gaps.iter().copied().fold(0.0, f64::max),
    };
    Ok(Spell::measured(window::between(&knots, from, to), kind))
}
