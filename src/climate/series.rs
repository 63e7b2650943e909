//! A cold spell from a table of times and outdoor temperatures: what a weather station or a logger recorded.

use super::columns::{self, Column};
use super::moment;
use super::spell::{DAY, HOUR, Kind, Spell};
use super::window;
use crate::diag::{Place, Problem};
use crate::input::{Table, table, text};
use crate::units::{self, Dim, Measure, Unit};
use std::sync::Arc;

/// The coldest air anyone reads in a place with houses, and a little above the highest air temperature on record (56.7 °C,
/// Death Valley, 1913; WMO archive of weather extremes, from memory), K.
const AIR: [f64; 2] = [193.15, 330.15];
/// No place people build in is this warm for half of a series, K (45 °C).
const WARMEST_MEDIAN: f64 = 318.15;
/// K from one hour to the next. Fronts and chinooks stay below it nearly everywhere.
const LARGEST_JUMP: f64 = 25.0;
/// Bridged by a straight line up to this, s.
const LONGEST_GAP: f64 = 6.0 * HOUR;
const LONGEST: f64 = 366.0 * DAY;
/// A series longer than this is a season, in which a spell is to be looked for.
const LONGEST_WHOLE: f64 = 31.0 * DAY;

const MISSING: [&str; 16] =
    ["", "-", "--", "—", "–", "?", "n/a", "na", "nan", "null", "none", "missing", "m", "inf", "-inf", "+inf"];
/// Numbers that loggers and archives write for a missing value; no air has been any of them.
const MARKS: [&str; 8] = ["-99", "-99.9", "-999", "-999.9", "-9999", "999", "999.9", "9999"];
const OR_NO_ROW: &str = "a temperature, or no row at all: up to 6 h without rows are bridged";

impl Spell {
    /// Reads a series: CSV with a heading row, one column of times and one of outdoor temperatures, within the limits
    /// of [`crate::input`]. All problems come at once, each at its cell; a series with any is refused.
    ///
    /// Times are dates with a time of day (month first where written with slashes) or plain hours. There are no time
    /// zones and no daylight saving: all rows keep one clock, and an hour that comes twice is a problem. The unit of the
    /// temperatures stands in the heading or in every cell.
    ///
    /// `days`: the stretch of that many days with the lowest mean that begins or ends at a row, and up to 24 h before it
    /// as a lead-in; without it the whole series, of at most 31 days. Rows with neither a time nor a temperature are left out. Gaps of up to 6 h are bridged by a straight line
    /// and counted in [`Kind::Series`].
    pub fn series(file: &str, bytes: &[u8], days: Option<f64>) -> Result<Self, Vec<Problem>> {
        let read = text::decode(file, bytes).and_then(|it| table::parse(file, it));
        let table = read.map_err(|problem| vec![problem])?;
        let mut problems = Vec::new();
        let readings = readings(&table, &mut problems);
        check_times(&table, &readings, &mut problems);
        if !problems.is_empty() {
            problems.sort_by_key(|problem| problem.place.row());
            return Err(problems);
        }
        cut(&table.file, &readings, days).map_err(|problem| vec![problem])
    }
}

/// A row with a time; without a temperature where that was a problem.
struct Reading<'t> {
    time: f64,
    time_place: Place,
    time_text: &'t str,
    kelvin: Option<f64>,
    place: Place,
    text: &'t str,
    row: u32,
}

fn readings<'t>(table: &'t Table, problems: &mut Vec<Problem>) -> Vec<Reading<'t>> {
    let Some((heading, times, temperatures)) = columns::find(table, problems) else { return Vec::new() };
    let mut readings: Vec<Reading<'_>> = Vec::new();
    let (mut bare_times, mut bare_temperatures) = (Bare::default(), Bare::default());
    let mut labelled = Vec::new();
    let mut strange = Vec::new();
    let mut dated = None;
    for row in table.rows.iter().skip_while(|row| row.number <= heading) {
        let (time_text, text) = (row.cell(times.index).trim(), row.cell(temperatures.index).trim());
        if time_text.is_empty() && text.is_empty() {
            continue;
        }
        let place = Place::cell(&table.file, row.number, Some(&temperatures.name));
        let kelvin = match temperature(text, &temperatures, &place) {
            Ok(Said::Read(kelvin, own)) => {
                bare_temperatures.with_unit |= own;
                if !own {
                    labelled.push(kelvin);
                }
                if !(AIR[0]..=AIR[1]).contains(&kelvin) {
                    let problem =
                        Problem::new(place.clone(), "is no temperature that air has outdoors").text(text);
                    strange.push(problem.expected("one from -112 °F to 134 °F (-80 °C to 57 °C)"));
                }
                Some(kelvin)
            }
            Ok(Said::Bare(problem)) => {
                bare_temperatures.problems.push(problem);
                None
            }
            Err(problem) => {
                problems.push(problem);
                None
            }
        };
        let time_place = Place::cell(&table.file, row.number, Some(&times.name));
        let is_dated = moment::is_dated(time_text);
        let time = match time(time_text, &times, &time_place) {
            Ok(Said::Read(_, _)) if *dated.get_or_insert(is_dated) != is_dated => {
                let what = "is not written as the first time is";
                problems.push(
                    Problem::new(time_place, what).text(time_text).expected("dates or hours throughout"),
                );
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
        readings.push(Reading { time, time_place, time_text, kelvin, place, text, row: row.number });
    }
    bare_times.tell(
        &times,
        "a heading such as \"Time (h)\" or \"Hour\", or dates with a time of day",
        problems,
    );
    let wanted = "a heading such as \"Outdoors (°F)\", or °F or °C in every cell";
    bare_temperatures.tell(&temperatures, wanted, problems);
    match implausible(&temperatures, labelled) {
        Some(problem) => problems.push(problem),
        None => problems.append(&mut strange),
    }
    readings
}

/// A cell that can be read: SI and whether it carries its own unit; or a number whose unit nobody gives.
enum Said {
    Read(f64, bool),
    Bare(Problem),
}

/// Numbers without a unit: told once at the heading where no cell has one, else each at its cell.
#[derive(Default)]
struct Bare {
    with_unit: bool,
    problems: Vec<Problem>,
}

impl Bare {
    fn tell(self, column: &Column, expected: &str, problems: &mut Vec<Problem>) {
        if self.with_unit || self.problems.is_empty() {
            problems.extend(self.problems);
        } else {
            let what = "gives no unit, and neither do the numbers below it";
            problems.push(Problem::new(column.place.clone(), what).text(&*column.name).expected(expected));
        }
    }
}

fn temperature(text: &str, column: &Column, place: &Place) -> Result<Said, Problem> {
    if text.is_empty() {
        return Err(Problem::new(place.clone(), "the temperature is left blank").expected(OR_NO_ROW));
    }
    let marked = text.trim_end_matches(|c: char| !c.is_ascii_digit());
    let marked =
        marked.strip_suffix(".0").or_else(|| marked.strip_suffix(".00")).unwrap_or(marked).replace('−', "-");
    if MARKS.contains(&marked.as_str()) {
        return Err(Problem::new(place.clone(), "marks a missing value").text(text).expected(OR_NO_ROW));
    }
    if MISSING.contains(&text.to_lowercase().as_str()) {
        return Err(Problem::new(place.clone(), "is no temperature").text(text).expected(OR_NO_ROW));
    }
    number(text, Measure::Temperature, column.unit, "°F", place)
}

fn time(text: &str, column: &Column, place: &Place) -> Result<Said, Problem> {
    if text.is_empty() {
        return Err(Problem::new(place.clone(), "the time is left blank").expected(moment::SHAPE));
    }
    if moment::is_dated(text) {
        let told = |what| Problem::new(place.clone(), what).text(text).expected(moment::SHAPE);
        return moment::seconds(text).map(|seconds| Said::Read(seconds, true)).map_err(told);
    }
    let shaped = |problem| Problem { expected: Some(moment::SHAPE.into()), ..problem };
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
    place: &Place,
) -> Result<Said, Problem> {
    match (units::parse(text, measure), unit) {
        (Ok(own), _) => Ok(Said::Read(own.is, true)),
        (Err(_), Some(unit)) => units::parse_with_unit(text, measure, Some(unit))
            .map(|it| Said::Read(it.is, false))
            .map_err(|refused| refused.at(place.clone(), text)),
        (Err(refused), None) => {
            let is_bare = units::parse_with_unit(text, measure, units::find_unit(some)).is_ok();
            let problem = refused.at(place.clone(), text);
            if is_bare { Ok(Said::Bare(problem)) } else { Err(problem) }
        }
    }
}

/// A label that its numbers belie. °C values labelled °F cannot be told from a mild winter, and are not guessed at.
fn implausible(column: &Column, mut labelled: Vec<f64>) -> Option<Problem> {
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
    let problem = Problem::new(column.place.clone(), what).text(&*column.name);
    Some(if name == "°C" { problem.expected("°F, if that is what they are in") } else { problem })
}

fn check_times(table: &Table, readings: &[Reading<'_>], problems: &mut Vec<Problem>) {
    let [first, .., _] = readings else {
        // Where rows had problems, those are what to mend.
        if problems.is_empty() {
            let rows = if readings.is_empty() { "no rows" } else { "one row" };
            let what = format!("has {rows} with a time and a temperature");
            problems.push(Problem::new(Place::whole(&table.file), what).expected("at least 2"));
        }
        return;
    };
    let step = usual_step(readings.iter().map(|it| it.time));
    // Of a few rows each gap is told by itself.
    let sparse = step > LONGEST_GAP && readings.len() > 3;
    if sparse {
        let what = format!("its rows lie {} h apart", hours(step));
        problems.push(Problem::new(Place::whole(&table.file), what).expected("rows at most 6 h apart"));
    }
    let mut last = first;
    for it in &readings[1..] {
        let told = |what: String| Problem::new(it.time_place.clone(), what).text(it.time_text);
        let (before, row, apart) = (last.time_text, last.row, it.time - last.time);
        if apart == 0.0 {
            let problem = told(format!("is the time of row {row} as well"));
            problems.push(problem.expected("each time once, and clocks that are not put back"));
            continue;
        }
        if apart < 0.0 {
            problems
                .push(told(format!("comes before \"{before}\" of row {row}")).expected("times that ascend"));
            continue;
        }
        if apart > LONGEST_GAP && !sparse {
            let what = format!("comes {} h after \"{before}\" of row {row}", hours(apart));
            problems.push(told(what).expected("rows at most 6 h apart"));
        }
        if let (Some(a), Some(b)) = (last.kelvin, it.kelvin)
            && AIR[0] <= a.min(b)
            && a.max(b) <= AIR[1]
            && (b - a).abs() > LARGEST_JUMP * (apart / HOUR).max(1.0)
        {
            let what = format!(
                "is {:.0} K from \"{}\" of row {row}, {} h before",
                (b - a).abs(),
                last.text,
                hours(apart)
            );
            problems.push(
                Problem::new(it.place.clone(), what)
                    .text(it.text)
                    .expected("at most 25 K (45 °F) in an hour"),
            );
        }
        last = it;
    }
    if last.time - first.time > LONGEST {
        let what = format!("lies {:.0} days after the first row", (last.time - first.time) / DAY);
        problems.push(
            Problem::new(last.time_place.clone(), what).text(last.time_text).expected("at most 366 days"),
        );
    }
}

/// The median of the steps forward, s.
fn usual_step(times: impl Iterator<Item = f64> + Clone) -> f64 {
    let pairs = times.clone().zip(times.skip(1));
    let mut steps: Vec<f64> = pairs.map(|(a, b)| b - a).filter(|step| *step > 0.0).collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len().saturating_sub(1) / 2).copied().unwrap_or(0.0)
}

fn hours(seconds: f64) -> f64 {
    (seconds / HOUR * 100.0).round() / 100.0
}

/// The part of a series that is used. Its readings have no problem.
fn cut(file: &Arc<str>, readings: &[Reading<'_>], days: Option<f64>) -> Result<Spell, Problem> {
    let whole = || Place::whole(file);
    let knots: Vec<[f64; 2]> = readings.iter().filter_map(|it| Some([it.time, it.kelvin?])).collect();
    let ([begin, _], [end, _]) = match knots.as_slice() {
        [first, .., last] => (*first, *last),
        _ => return Err(Problem::new(whole(), "has no two rows with a time and a temperature")),
    };
    let (from, to, lead) = match days.map(|it| it * DAY) {
        None if end - begin > LONGEST_WHOLE => {
            let what = format!(
                "covers {:.0} days, and how long a spell to look for in it is not said",
                (end - begin) / DAY
            );
            return Err(
                Problem::new(whole(), what).expected("the days of the spell, or a series of at most 31 days")
            );
        }
        None => (begin, end, None),
        Some(length) if !(length > 0.0 && length <= LONGEST) => {
            let what = "a spell of that many days cannot be looked for";
            return Err(Problem::new(whole(), what).expected("more than 0 days and at most 366"));
        }
        Some(length) if length > end - begin => {
            let what = format!("covers {} h, and the spell needs {} h", hours(end - begin), hours(length));
            return Err(Problem::new(whole(), what).expected("a longer series, or fewer days"));
        }
        Some(length) => {
            let start = window::coldest(&knots, length);
            let from = begin.max(start - DAY);
            (from, start + length, Some(start - from))
        }
    };
    let step = usual_step(knots.iter().map(|knot| knot[0]));
    let used = || readings.iter().filter(|it| (from..=to).contains(&it.time));
    // A gap that the window cuts into is one of those it rests on.
    let resting_on = readings.windows(2).filter(|pair| pair[1].time > from && pair[0].time < to);
    let gaps: Vec<f64> =
        resting_on.map(|pair| pair[1].time - pair[0].time).filter(|apart| *apart > 1.5 * step).collect();
    let text = |it: Option<&Reading<'_>>| it.map_or("", |it| it.time_text).into();
    let kind = Kind::Series {
        file: file.clone(),
        from: text(used().next()),
        to: text(used().next_back()),
        rows: used().count(),
        lead,
        gaps: gaps.len(),
        longest_gap: gaps.iter().copied().fold(0.0, f64::max),
    };
    Ok(Spell::measured(window::between(&knots, from, to), kind))
}
