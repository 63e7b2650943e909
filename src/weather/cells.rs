//! Single cells of files of hours: plain numbers, marks for missing values, plausible ranges.

use super::error::WeatherError;
use crate::diag::{Diagnostic, Location};
use crate::units::{Measure, Unit};

/// The coldest air anyone reads in a place with houses, and a little above the highest air temperature on record (56.7 °C,
/// Death Valley, 1913; WMO archive of weather extremes, from memory), K.
const AIR: [f64; 2] = [193.15, 330.15];
/// No place people build in is this warm for half of a series, K (45 °C).
const WARMEST_MEDIAN: f64 = 318.15;
/// Numbers that loggers and archives write for a missing value; no air has been any of them.
const MARKS: [&str; 8] = ["-99", "-99.9", "-999", "-999.9", "-9999", "999", "999.9", "9999"];

/// A temperature that outdoor air can have, K.
pub(super) fn air(kelvin: f64) -> Option<f64> {
    (AIR[0]..=AIR[1]).contains(&kelvin).then_some(kelvin)
}

/// Whether a number, with or without a unit, marks a missing value.
pub(super) fn is_missing_mark(text: &str) -> bool {
    let number = text.trim_end_matches(|c: char| !c.is_ascii_digit());
    let number = number.strip_suffix(".0").or_else(|| number.strip_suffix(".00")).unwrap_or(number);
    let (sign, digits) = number.strip_prefix('−').map_or(("", number), |rest| ("-", rest));
    MARKS.iter().any(|mark| mark.strip_prefix(sign) == Some(digits))
}

/// A number of a sign, digits and at most one point among them.
pub(super) fn plain_number(text: &str) -> Option<f64> {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let (whole, fraction) = digits.split_once('.').unwrap_or((digits, "0"));
    let is_digits = |text: &str| (1..=9).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    if is_digits(whole) && is_digits(fraction) { text.parse().ok() } else { None }
}

/// The error of a heading whose unit its numbers (K, as that unit gives them) contradict. °C values labeled °F look like a
/// mild winter and are not reported.
pub(super) fn check_label(
    heading: &str,
    unit: Option<&Unit>,
    mut kelvins: Vec<f64>,
    at: &Location,
    expected: Option<&'static str>,
) -> Option<Diagnostic> {
    let unit = unit?;
    kelvins.sort_by(f64::total_cmp);
    let median = *kelvins.get(kelvins.len() / 2)?;
    let above = kelvins.len() - kelvins.partition_point(|kelvin| *kelvin <= AIR[1]);
    let (limit, above) = if median > WARMEST_MEDIAN {
        (WARMEST_MEDIAN, None)
    } else if above * 100 > kelvins.len() && above > 1 {
        (AIR[1], Some(above))
    } else {
        return None;
    };
    let limit = unit.from_si(limit, Measure::Temperature)?;
    let limit = format!("{limit:.0} {}", unit.names[0]);
    Some(WeatherError::WrongLabel { limit, above, expected }.at(at.clone()).text(heading))
}
