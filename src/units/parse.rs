//! Parses quantities as people write them: `8"`, `1 1/2 in`, `1'-2"`, `203 mm`, `-5 F`, `R-20`, `1/4 in/ft`, `1:50`,
//! `8 to 10 in`, `8" ±1/4"`. Each step uses only the next: the text without idle words, a band, an amount, a number.

use super::amount::ParseOptions;
use super::band::BandParser;
use super::dim::{Dim, Measure};
use super::error::{QuantityError, Reason};
use super::hedge::{find_hedge, without_idle};
use super::number::plain;
use super::quantity::Quantity;
use super::table::Unit;

/// The most bytes of a quantity; a longer text is an error.
const MOST_BYTES: usize = 200;

/// Parses a quantity that must have a unit.
pub fn parse(text: &str, want: Measure) -> Result<Quantity, QuantityError> {
    parse_with(text, want, ParseOptions::default())
}

/// Parses a quantity; a bare number takes `unit`.
pub fn parse_with_unit(text: &str, want: Measure, unit: Option<&Unit>) -> Result<Quantity, QuantityError> {
    parse_with(text, want, ParseOptions { unit, ..ParseOptions::default() })
}

/// Parses a quantity and checks that its whole band is within a range, SI.
pub fn parse_in_range(
    text: &str,
    want: Measure,
    options: ParseOptions<'_>,
    range: [f64; 2],
) -> Result<Quantity, QuantityError> {
    let quantity = parse_with(text, want, options)?;
    if quantity.is_within(range) { Ok(quantity) } else { Err(Reason::OutOfRange(range).of(want)) }
}

/// Parses a quantity.
pub fn parse_with(text: &str, want: Measure, options: ParseOptions<'_>) -> Result<Quantity, QuantityError> {
    parse_text(text, &BandParser { want, options: &options }).map_err(|reason| reason.of(want))
}

fn parse_text(text: &str, parser: &BandParser<'_>) -> Result<Quantity, Reason> {
    if text.len() > MOST_BYTES {
        return Err(Reason::TooLong);
    }
    let plain = plain(text);
    if let Some(hedge) = find_hedge(plain.trim(), parser.want) {
        return Err(Reason::Hedged(hedge));
    }
    if has_sign_out_of_place(plain.trim()) {
        return Err(Reason::SignOutOfPlace);
    }
    let text = without_idle(&plain);
    if let Some(inches) = with_millimeters(text, parser) {
        return Ok(inches);
    }
    let Some((first, second)) = split_two_units(text) else { return parser.parse(text) };
    // "12 in (305)": metric drawings leave the millimeters out.
    let is_length = parser.want == Measure::Of(Dim::LENGTH);
    let is_bare = is_length && second.bytes().all(|byte| byte.is_ascii_digit());
    let second = if is_bare { parser.parse(&format!("{second} mm")) } else { parser.parse(second) };
    let (first, second) = (parser.parse(first)?, second?);
    if first.is_near(&second) { Ok(first) } else { Err(Reason::TwoUnitsDiffer) }
}

/// Whether a text has two full stops at its end, a dash before a mark, two foot marks, or one between digits as a
/// thousands separator.
fn has_sign_out_of_place(text: &str) -> bool {
    let bytes = text.as_bytes();
    let at = |index: usize| bytes.get(index).copied().unwrap_or(b' ');
    let is_foot =
        |index: usize| at(index) == b'\'' && at(index + 1) != b'\'' && (index == 0 || at(index - 1) != b'\'');
    let feet: Vec<usize> = (0..bytes.len()).filter(|index| is_foot(*index)).collect();
    let is_thousand = |foot: &usize| (1..=3).all(|more| at(foot + more).is_ascii_digit());
    // A range of feet has a foot mark at each end: "1' to 2'".
    let is_range = text.contains("to")
        || feet.len() == 2 && text.starts_with(|c: char| c.is_ascii_digit()) && text.contains(" - ");
    let has_dash = text.contains("-\"") || text.contains("-'");
    text.ends_with("..") || has_dash || feet.iter().any(is_thousand) || feet.len() > 1 && !is_range
}

/// The inches of a length with its millimeters after a slash, or before it: `12 in / 305 mm`.
fn with_millimeters(text: &str, parser: &BandParser<'_>) -> Option<Quantity> {
    if parser.want != Measure::Of(Dim::LENGTH) {
        return None;
    }
    let is_metric = |text: &str| text.ends_with("mm");
    let (first, second) = text.rsplit_once(" / ").or_else(|| text.rsplit_once('/'))?;
    let (inches, metric) = match (first.trim(), second.trim()) {
        (inches, metric) if is_metric(metric) && !is_metric(inches) => (inches, metric),
        (metric, inches) if is_metric(metric) && !is_metric(inches) => (inches, metric),
        _ => return None,
    };
    let (inches, metric) = (parser.parse(inches).ok()?, parser.parse(metric).ok()?);
    metric.is_in_millimeters(&inches).then_some(inches)
}

/// Splits a value repeated in another unit: `8" (203 mm)`.
fn split_two_units(text: &str) -> Option<(&str, &str)> {
    let (first, second) = text.strip_suffix([')', ']'])?.split_once(['(', '['])?;
    let has_digit = |text: &str| text.contains(|c: char| c.is_ascii_digit());
    // A unit may have brackets of its own: `W/(m·K)`.
    (has_digit(first) && has_digit(second) && first.ends_with(' ')).then_some((first.trim(), second.trim()))
}
