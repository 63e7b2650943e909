//! The rows of a table of times and outdoor temperatures, cell by cell. What becomes of a cell that gives none is for whoever
//! asks for the rows.

use super::columns::{self, Column, Columns};
use super::moment;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::Table;
use crate::units::{self, Dim, Measure, Unit};

/// The coldest air anyone reads in a place with houses, and a little above the highest air temperature on record (56.7 °C,
/// Death Valley, 1913; WMO archive of weather extremes, from memory), K.
pub(super) const AIR: [f64; 2] = [193.15, 330.15];
/// No place people build in is this warm for half of a series, K (45 °C).
const WARMEST_MEDIAN: f64 = 318.15;

const MISSING: [&str; 16] =
    ["", "-", "--", "—", "–", "?", "n/a", "na", "nan", "null", "none", "missing", "m", "inf", "-inf", "+inf"];
/// Numbers that loggers and archives write for a missing value; no air has been any of them.
const MARKS: [&str; 8] = ["-99", "-99.9", "-999", "-999.9", "-9999", "999", "999.9", "9999"];
const OR_NO_ROW: &str = "a temperature, or no row at all: up to 6 h without rows are bridged";

/// What the rows of a table say.
pub(super) struct Rows<'t> {
    pub columns: Option<Columns>,
    /// Rows with a time.
    pub readings: Vec<Reading<'t>>,
    /// Cells that give no temperature.
    pub bad: Vec<Bad>,
    /// Everything else: headings, units, times.
    pub problems: Diagnostics,
}

/// A row with a time; without a temperature where its cell is bad.
pub(super) struct Reading<'t> {
    pub time: f64,
    pub time_text: &'t str,
    pub kelvin: Option<f64>,
    pub text: &'t str,
    pub row: u32,
    /// 0 to 1.
    pub humidity: Option<f64>,
    /// m/s
    pub wind: Option<f64>,
}

/// A cell that gives no temperature of air.
pub(super) struct Bad {
    /// Left blank or marked as missing, rather than wrong.
    pub missing: bool,
    pub problem: Diagnostic,
}

pub(super) fn read(table: &Table) -> Rows<'_> {
    let mut problems = Diagnostics::new();
    let Some(columns) = columns::find(table, &mut problems) else {
        return Rows { columns: None, readings: Vec::new(), bad: Vec::new(), problems };
    };
    let (times, temperatures) = (&columns.time, &columns.temperature);
    let mut readings: Vec<Reading<'_>> = Vec::new();
    let (mut bad, mut strange) = (Vec::new(), Vec::new());
    let (mut bare_times, mut bare_temperatures) = (Bare::default(), Bare::default());
    let mut labelled = Vec::new();
    let mut dated = None;
    for row in table.rows.iter().skip_while(|row| row.number <= columns.heading) {
        let (time_text, text) = (row.cell(times.index).trim(), row.cell(temperatures.index).trim());
        if time_text.is_empty() && text.is_empty() {
            continue;
        }
        let place = || Location::cell(&table.file, row.number, Some(&temperatures.name));
        let kelvin = match temperature(text, temperatures, &place) {
            Ok(Said::Read(kelvin, own)) => {
                bare_temperatures.with_unit |= own;
                if !own {
                    labelled.push(kelvin);
                }
                let is_air = (AIR[0]..=AIR[1]).contains(&kelvin);
                if !is_air {
                    let problem =
                        Diagnostic::new(place(), "is no temperature that air has outdoors").text(text);
                    let problem = problem.expected("one from -112 °F to 134 °F (-80 °C to 57 °C)");
                    strange.push(Bad { missing: false, problem });
                }
                is_air.then_some(kelvin)
            }
            Ok(Said::Bare(problem)) => {
                bare_temperatures.problems.push(problem);
                None
            }
            Err(it) => {
                bad.push(*it);
                None
            }
        };
        let time_place = || Location::cell(&table.file, row.number, Some(&times.name));
        let is_dated = moment::is_dated(time_text);
        let time = match time(time_text, times, &time_place) {
            Ok(Said::Read(_, _)) if *dated.get_or_insert(is_dated) != is_dated => {
                let what = "is not written as the first time is";
                let problem = Diagnostic::new(time_place(), what).text(time_text);
                problems.push(problem.expected("dates or hours throughout"));
                continue;
            }
            Ok(Said::Read(time, own)) => {
                bare_times.with_unit |= own;
                time
            }
            Ok(Said::Bare(problem)) => {
                bare_times.problems.push(problem);
                continue;
            }
            Err(problem) => {
                problems.push(problem);
                continue;
            }
        };
        let (humidity, wind) = (columns.humidity_in(row), columns.wind_in(row));
        readings.push(Reading { time, time_text, kelvin, text, row: row.number, humidity, wind });
    }
    let wanted = "a heading such as \"Time (h)\" or \"Hour\", or dates with a time of day";
    problems.extend(bare_times.told(times, wanted));
    let wanted = "a heading such as \"Outdoors (°F)\", or °F or °C in every cell";
    problems.extend(bare_temperatures.told(temperatures, wanted));
    match implausible(temperatures, labelled) {
        Some(problem) => problems.push(problem),
        None => bad.append(&mut strange),
    }
    Rows { columns: Some(columns), readings, bad, problems }
}

/// A cell that can be read: SI and whether it carries its own unit; or a number whose unit nobody gives.
enum Said {
    Read(f64, bool),
    Bare(Diagnostic),
}

/// Numbers without a unit: told once at the heading where no cell has one, else each at its cell.
#[derive(Default)]
struct Bare {
    with_unit: bool,
    problems: Diagnostics,
}

impl Bare {
    fn told(self, column: &Column, expected: &str) -> Diagnostics {
        if self.with_unit || self.problems.is_empty() {
            return self.problems;
        }
        let what = "gives no unit, and neither do the numbers below it";
        Diagnostic::new(column.place.clone(), what).text(&*column.name).expected(expected).into()
    }
}

fn temperature(text: &str, column: &Column, place: &dyn Fn() -> Location) -> Result<Said, Box<Bad>> {
    let missing = |problem: Diagnostic| Box::new(Bad { missing: true, problem: problem.expected(OR_NO_ROW) });
    if text.is_empty() {
        return Err(missing(Diagnostic::new(place(), "the temperature is left blank")));
    }
    if is_mark(text) {
        return Err(missing(Diagnostic::new(place(), "marks a missing value").text(text)));
    }
    if MISSING.contains(&text.to_lowercase().as_str()) {
        return Err(missing(Diagnostic::new(place(), "is no temperature").text(text)));
    }
    number(text, Measure::Temperature, column.unit, "°F", place)
        .map_err(|problem| Box::new(Bad { missing: false, problem }))
}

/// Whether a number, with or without a unit, stands for a missing value.
pub(super) fn is_mark(text: &str) -> bool {
    let number = text.trim_end_matches(|c: char| !c.is_ascii_digit());
    let number = number.strip_suffix(".0").or_else(|| number.strip_suffix(".00")).unwrap_or(number);
    let (sign, digits) = number.strip_prefix('−').map_or(("", number), |rest| ("-", rest));
    MARKS.iter().any(|mark| mark.strip_prefix(sign) == Some(digits))
}

fn time(text: &str, column: &Column, place: &dyn Fn() -> Location) -> Result<Said, Diagnostic> {
    if text.is_empty() {
        return Err(Diagnostic::new(place(), "the time is left blank").expected(moment::SHAPE));
    }
    if moment::is_dated(text) {
        let told = |what| Diagnostic::new(place(), what).text(text).expected(moment::SHAPE);
        return moment::seconds(text).map(|seconds| Said::Read(seconds, true)).map_err(told);
    }
    let shaped = |problem| Diagnostic { expected: Some(moment::SHAPE.into()), ..problem };
    match number(text, Measure::Of(Dim::TIME), column.unit, "h", place) {
        Ok(Said::Bare(problem)) => Ok(Said::Bare(shaped(problem))),
        read => read.map_err(shaped),
    }
}

/// A number with its own unit or that of the heading. `some` is any unit of the measure, to tell a bare number by.
fn number(
    text: &str,
    measure: Measure,
    unit: Option<&'static Unit>,
    some: &str,
    place: &dyn Fn() -> Location,
) -> Result<Said, Diagnostic> {
    // Nearly every cell of a long series is a plain decimal under a heading with a unit.
    if let Some(si) = unit.and_then(|unit| unit.to_si(plain(text)?, measure)) {
        return Ok(Said::Read(si, false));
    }
    match (units::parse(text, measure), unit) {
        (Ok(own), _) => Ok(Said::Read(own.is, true)),
        (Err(_), Some(unit)) => units::parse_with_unit(text, measure, Some(unit))
            .map(|it| Said::Read(it.is, false))
            .map_err(|refused| refused.at(place(), text)),
        (Err(refused), None) => {
            let is_bare = units::parse_with_unit(text, measure, units::find_unit(some)).is_ok();
            let problem = refused.at(place(), text);
            if is_bare { Ok(Said::Bare(problem)) } else { Err(problem) }
        }
    }
}

/// A number of a sign, digits and at most one point among them.
pub(super) fn plain(text: &str) -> Option<f64> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, "0"));
    let is_digits = |it: &str| (1..=9).contains(&it.len()) && it.bytes().all(|b| b.is_ascii_digit());
    if is_digits(whole) && is_digits(fraction) { text.parse().ok() } else { None }
}

/// A label that its numbers belie. °C values labelled °F cannot be told from a mild winter, and are not guessed at.
pub(super) fn implausible(column: &Column, mut labelled: Vec<f64>) -> Option<Diagnostic> {
    let unit = column.unit?;
    labelled.sort_by(f64::total_cmp);
    let median = *labelled.get(labelled.len() / 2)?;
    let beyond = labelled.len() - labelled.partition_point(|kelvin| *kelvin <= AIR[1]);
    let name = unit.names[0];
    let read = |kelvin| {
        unit.from_si(kelvin, Measure::Temperature).map_or(String::new(), |it| format!("{it:.0} {name}"))
    };
    let what = if median > WARMEST_MEDIAN {
        format!("is a label its numbers belie: half of them would be above {}", read(WARMEST_MEDIAN))
    } else if beyond * 100 > labelled.len() && beyond > 1 {
        let most = read(AIR[1]);
        format!("is a label its numbers belie: {beyond} of them would be above {most}, and no air has been")
    } else {
        return None;
    };
    let problem = Diagnostic::new(column.place.clone(), what).text(&*column.name);
    Some(if name == "°C" { problem.expected("°F, if that is what they are in") } else { problem })
}
