//! What is doubtful about hours that were read: unknown values, gaps, jumps, the clock, the unit.

use super::calendar::{DAY, civil_from_days};
use super::days::{Day, WHOLE_DAY};
use super::hourly::{FREEZING, Form, Gap, Hourly, is_jump};
use super::warning::{CelsiusDoubt, Warning};
use crate::climate::MONTHS;
use crate::diag::{Diagnostics, Location};
use std::sync::Arc;

/// This many of one kind are listed one by one.
const LISTED: usize = 3;
/// A clock is judged by its coldest hour where the file covers this much, s: most of a year.
const MOST_OF_A_YEAR: f64 = 300.0 * DAY;
/// Low to high of an average day that a clock can be judged by, K.
const CLEAR_SWING: f64 = 3.0;
/// The coldest hour of an average day is near sunrise, at any place and in its time zone.
const NEAR_SUNRISE: std::ops::RangeInclusive<usize> = 3..=8;
/// A typical year has no 29 February.
const YEAR: f64 = 365.0 * DAY;
/// From the coldest hour to the warmest of a year few places outside of Siberia reach this, K. In °F it is 42 K, which most
/// places with a winter do.
const WIDEST_YEAR: f64 = 75.0;
/// Nor do they see both of these in one year, K (-10 and 45 °C).
const COLD_AND_HOT: [f64; 2] = [263.15, 318.15];
/// Half of all days from low to high reach it nowhere, K: deserts come to 18.
const WIDEST_DAY: f64 = 20.0;
/// Too few days for a median below this.
const FEWEST_DAYS: usize = 20;

/// What is known of the cells that the hours were read from.
pub(super) struct CellDoubts {
    /// The heading of the temperatures.
    pub heading: Arc<str>,
    /// Whether the heading or the form says that they are °C.
    pub celsius: bool,
    /// How many rows there are.
    pub rows: usize,
    /// Rows whose temperature is blank or marked as missing.
    pub missing: Vec<u32>,
    /// Temperatures that are not valid.
    pub invalid: Diagnostics,
}

/// All warnings about the hours and their cells.
pub(super) fn find_doubts(hourly: &Hourly, cells: CellDoubts) -> Vec<Warning> {
    let CellDoubts { heading, celsius, rows, missing, invalid } = cells;
    let mut warnings = Vec::new();
    if let Some(first) = missing.first() {
        let first = Location::cell(&hourly.file, *first, Some(&heading));
        warnings.push(Warning::MissingValues { count: missing.len(), rows, first });
    }
    let more = invalid.len().saturating_sub(LISTED);
    warnings.extend(invalid.into_iter().take(LISTED).map(|error| Warning::InvalidValue(Box::new(error))));
    if more > 0 {
        warnings.push(Warning::MoreInvalidValues { count: more });
    }
    warnings.extend(jumps(hourly, &heading));
    warnings.extend(gaps(hourly));
    warnings.extend(wider_steps(hourly));
    warnings.extend(clock(hourly));
    warnings.extend(incomplete(hourly));
    warnings.extend(southern(hourly));
    if celsius && let Some(doubt) = celsius_doubt(hourly) {
        warnings.push(Warning::LooksLikeFahrenheit { heading, doubt });
    }
    warnings
}

/// The largest of the steps that air hardly makes, and how many there are.
fn jumps(hourly: &Hourly, heading: &Arc<str>) -> Option<Warning> {
    let jumps = hourly.hours.windows(2).filter_map(|pair| {
        let [from, to] = [pair[0], pair[1]];
        let apart = to.time - from.time;
        is_jump(from.kelvin, to.kelvin, apart).then_some(((to.kelvin - from.kelvin).abs(), apart, to))
    });
    let jumps: Vec<_> = jumps.collect();
    let (largest, apart, to) =
        jumps.iter().copied().reduce(|best, next| if next.0 > best.0 + 1e-9 { next } else { best })?;
    let at = to.row.map_or_else(
        || Location::whole(&hourly.file),
        |row| Location::cell(&hourly.file, row, Some(heading)),
    );
    Some(Warning::Jumps { count: jumps.len(), largest, apart, at, time: hourly.time_label(to.time) })
}

/// Each gap if they are few, otherwise how many there are.
fn gaps(hourly: &Hourly) -> Vec<Warning> {
    if hourly.gaps.len() <= LISTED {
        return hourly.gaps.iter().map(|gap| one_gap(hourly, gap)).collect();
    }
    let count = |bridged: bool| {
        let gaps = || hourly.gaps.iter().filter(|gap| gap.bridged == bridged);
        (gaps().count(), gaps().map(|gap| gap.to.0 - gap.from.0 - gap.step).sum::<f64>())
    };
    let longest = hourly.gaps.iter().reduce(|longest, gap| {
        if gap.to.0 - gap.from.0 > longest.to.0 - longest.from.0 { gap } else { longest }
    });
    let longest = longest.map(|gap| one_gap(hourly, gap));
    std::iter::once(Warning::Gaps { bridged: count(true), long: count(false) }).chain(longest).collect()
}

fn one_gap(hourly: &Hourly, gap: &Gap) -> Warning {
    Warning::Gap {
        apart: gap.to.0 - gap.from.0,
        before: (hourly.time_label(gap.from.0), gap.from.1),
        time: hourly.time_label(gap.to.0),
        bridged: gap.bridged,
        at: Location::cell(&hourly.file, gap.to.1, None),
    }
}

/// Rows that are further apart for a while.
fn wider_steps(hourly: &Hourly) -> Option<Warning> {
    let longest = hourly.measured().map(|hour| hour.lasts).fold(0.0, f64::max);
    let rows = hourly.measured().filter(|hour| hour.lasts > hourly.step).count();
    (rows > 0).then_some(Warning::WiderSteps { rows, step: hourly.step, longest })
}

/// The coldest hour of an average day, if it is not near sunrise and no heading says UTC.
fn clock(hourly: &Hourly) -> Option<Warning> {
    let is_utc = hourly.warnings.iter().any(|warning| matches!(warning, Warning::UtcHeading { .. }));
    if !hourly.dated || hourly.span() <= MOST_OF_A_YEAR || is_utc {
        return None;
    }
    let means = means_by_hour(hourly);
    let hour = (0..24).min_by(|a, b| means[*a].total_cmp(&means[*b])).unwrap_or_default();
    let swing = means.iter().copied().fold(f64::NEG_INFINITY, f64::max) - means[hour];
    (swing > CLEAR_SWING && !NEAR_SUNRISE.contains(&hour)).then_some(Warning::ColdestHour { hour })
}

/// The mean temperature of each hour of the day, K; infinite for an hour without any.
fn means_by_hour(hourly: &Hourly) -> [f64; 24] {
    let (mut sums, mut weights) = ([0.0; 24], [0.0; 24]);
    for hour in &hourly.hours {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 23")]
        let of_day = ((hour.time.rem_euclid(DAY) / super::calendar::HOUR) as usize).min(23);
        sums[of_day] += hour.kelvin * hour.lasts;
        weights[of_day] += hour.lasts;
    }
    std::array::from_fn(|hour| if weights[hour] > 0.0 { sums[hour] / weights[hour] } else { f64::INFINITY })
}

/// A weather file that does not cover its year; a table that covers years but for a little.
fn incomplete(hourly: &Hourly) -> Option<Warning> {
    let [first, .., last] = hourly.hours.as_slice() else { return None };
    let calendar_year = hourly.form != Form::Table;
    let (short, years) = if calendar_year {
        (YEAR - hourly.span(), 1.0)
    } else {
        let (years, end) = hourly.whole_years()?;
        (end - first.time - hourly.span(), years)
    };
    let [from, to] = [first, last].map(|hour| hourly.time_label(hour.time));
    (short >= super::calendar::HOUR / 2.0).then_some(Warning::Incomplete {
        from,
        to,
        short,
        years,
        calendar_year,
    })
}

/// A file without a latitude that is coldest when the south is.
fn southern(hourly: &Hourly) -> Option<Warning> {
    let month = hourly.is_assumed_southern().then(|| hourly.coldest_month().ok()).flatten()?;
    let month = MONTHS.get(usize::from(month.month) - 1)?.0;
    Some(Warning::Southern { month })
}

/// What makes °C doubtful, if anything does.
fn celsius_doubt(hourly: &Hourly) -> Option<CelsiusDoubt> {
    let coldest = hourly.winters().iter().filter(|it| it.counts).map(|it| it.coldest.1).reduce(f64::min);
    if let Some(coldest) = coldest.filter(|kelvin| *kelvin > FREEZING) {
        return Some(CelsiusDoubt::WarmWinters(coldest - FREEZING));
    }
    let days = hourly.days();
    let mut years = days.chunk_by(|a, b| civil_from_days(a.day).0 == civil_from_days(b.day).0).map(range);
    let wide = years.find(|[least, most]| {
        most - least > WIDEST_YEAR || *least < COLD_AND_HOT[0] && *most > COLD_AND_HOT[1]
    });
    if let Some(range) = wide {
        return Some(CelsiusDoubt::WideYear(range.map(|kelvin| kelvin - FREEZING)));
    }
    let mut swings: Vec<f64> =
        days.iter().filter(|day| day.known >= WHOLE_DAY).map(|day| day.most - day.least).collect();
    swings.sort_by(f64::total_cmp);
    let median = swings.get(swings.len() / 2).copied().filter(|_| swings.len() >= FEWEST_DAYS)?;
    (median > WIDEST_DAY).then_some(CelsiusDoubt::WideDays(median))
}

/// The coldest and the warmest hour of some days, K.
fn range(days: &[Day]) -> [f64; 2] {
    let least = days.iter().map(|day| day.least).fold(f64::INFINITY, f64::min);
    [least, days.iter().map(|day| day.most).fold(f64::NEG_INFINITY, f64::max)]
}
