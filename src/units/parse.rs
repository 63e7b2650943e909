//! Parses quantities as people write them: `8"`, `1 1/2 in`, `1'-2"`, `203 mm`, `-5 F`, `R-20`, `1/4 in/ft`, `1:50`,
//! `8 to 10 in`, `8" ±1/4"`. Each step uses only the next: the text without idle words, a band, an amount, a number.

use super::amount::ParseOptions;
use super::band::BandParser;
use super::dim::Measure;
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
    let [least, most] = range;
    let is_within = quantity.low >= least && quantity.high <= most;
    if is_within { Ok(quantity) } else { Err(Reason::OutOfRange(range).of(want)) }
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
    let text = without_idle(&plain);
    let Some((first, second)) = split_two_units(text) else { return parser.parse(text) };
    let (first, second) = (parser.parse(first)?, parser.parse(second)?);
    if first.is_near(&second) { Ok(first) } else { Err(Reason::TwoUnitsDiffer) }
}

/// Splits a value repeated in another unit: `8" (203 mm)`.
fn split_two_units(text: &str) -> Option<(&str, &str)> {
    let (first, second) = text.strip_suffix([')', ']'])?.split_once(['(', '['])?;
    let has_digit = |text: &str| text.contains(|c: char| c.is_ascii_digit());
    // A unit may have brackets of its own: `W/(m·K)`.
    (has_digit(first) && has_digit(second) && first.ends_with(' ')).then_some((first.trim(), second.trim()))
}
