//! Quantities within a text, written `{= 1/8 in}`, shown in the reader's units.

use super::dim::{Dim, Measure};
use super::error::QuantityError;
use super::parse::parse;
use super::print::{Show, System};
use super::quantity::Quantity;
use super::table;

/// Opens a quantity within a text; `}` closes it.
pub const OPENS: &str = "{=";
/// Significant digits of converted quantities.
const DIGITS: i32 = 3;
/// Units of the United States; others are metric, or of both.
const US: [&str; 14] =
    ["in", "ft", "yd", "°F", "Δ°F", "psi", "fl oz", "gal", "lb", "in/ft", "°F·days", "Btu", "Btu/h", "R"];
/// Units of which the United States have others.
const METRIC: [&str; 12] = ["mm", "cm", "m", "°C", "Δ°C", "K", "kPa", "Pa", "mL", "L", "kg", "°C·days"];

/// Parses a quantity within a text: `1/8 in`, `32 °F`, `1/4 in/ft`.
pub fn figure(text: &str) -> Result<Quantity, QuantityError> {
    let text = text.trim();
    let measure = written_unit(text).map_or(Measure::Of(Dim::NONE), |unit| unit.measure());
    parse(text, measure)
}

/// A text with its quantities in the reader's units; those already in them are unchanged. What is not a quantity is
/// left unchanged.
pub fn figures(text: &str, system: System) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(OPENS) {
        out.push_str(before);
        let Some((inside, behind)) = after.split_once('}') else {
            out.push_str(OPENS);
            rest = after;
            continue;
        };
        match figure(inside) {
            Ok(quantity) => out.push_str(&figure_text(inside.trim(), &quantity, system)),
            Err(_) => out.push_str(&format!("{OPENS}{inside}}}")),
        }
        rest = behind;
    }
    out.push_str(rest);
    out
}

/// A figure in the reader's units: as it is written if it is in these already.
pub fn figure_text(text: &str, quantity: &Quantity, system: System) -> String {
    let others: &[&str] = if system == System::Us { &METRIC } else { &US };
    let foreign =
        written_unit(text).is_some_and(|unit| unit.names.first().is_some_and(|it| others.contains(it)));
    if !foreign {
        // In a sentence, a difference needs no sign.
        return text.replace('Δ', "");
    }
    let (name, _) = match quantity.measure {
        // A slope.
        Measure::Of(Dim::NONE) => ("%", 1),
        measure => Show::usual(measure).form(system),
    };
    let number = table::find(name).and_then(|unit| unit.from_si(quantity.is, quantity.measure));
    // Temperatures are shown to a tenth of a degree.
    let most =
        if matches!(quantity.measure, Measure::Temperature | Measure::Of(Dim::DIFFERENCE)) { 1 } else { 6 };
    number.map_or_else(|| text.to_owned(), |it| format!("{} {name}", to_digits(it, most)))
}

/// A number to `DIGITS` digits, without trailing zeros.
fn to_digits(number: f64, most: i32) -> String {
    let size = if number == 0.0 { 0 } else { libm::floor(libm::log10(number.abs())) as i32 };
    let places = (DIGITS - 1 - size).clamp(-6, most);
    let scale = libm::pow(10.0, f64::from(places));
    let rounded = (number * scale).round() / scale;
    let text = format!("{rounded:.*}", usize::try_from(places).unwrap_or(0));
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".into() } else { text.into() }
}

/// The unit at the end of a quantity's text.
fn written_unit(text: &str) -> Option<&'static table::Unit> {
    let start =
        text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | '/' | '-' | '+' | ' ' | ',')))?;
    table::find(text[start..].trim())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Factors of NIST SP 811: 1 in = 25.4 mm, °C = (°F − 32)/1.8, 1 in/ft = 1/12.
    #[test]
    fn a_figure_is_said_in_the_readers_units() {
        for (text, us, si) in [
            ("short by {= 1 in}.", "short by 1 in.", "short by 25.4 mm."),
            ("{= 7/8 in} tube", "7/8 in tube", "22.2 mm tube"),
            ("{= 0.035 in} to {= 0.065 in}", "0.035 in to 0.065 in", "0.889 mm to 1.65 mm"),
            ("at {= 68 °F}", "at 68 °F", "at 20 °C"),
            ("from {= 30 °F}", "from 30 °F", "from -1.1 °C"),
            ("from {= 0 in}", "from 0 in", "from 0 mm"),
            ("below {=-20 °F}", "below -20 °F", "below -28.9 °C"),
            ("by {= 9 Δ°F}", "by 9 °F", "by 5 °C"),
            ("falls {= 1/4 in/ft}", "falls 1/4 in/ft", "falls 2.08 %"),
            ("a plug of {= 3 mm}", "a plug of 0.118 in", "a plug of 3 mm"),
            ("{= 24 in} of pipe", "24 in of pipe", "610 mm of pipe"),
            ("{= 12 h} and {= 25 %}", "12 h and 25 %", "12 h and 25 %"),
        ] {
            assert_eq!(figures(text, System::Us), us);
            assert_eq!(figures(text, System::Si), si);
        }
    }

    #[test]
    fn what_is_no_figure_stands_as_it_is() {
        for text in ["", "no braces", "{= 8 inchs}", "{= }", "{= 1 in", "a {= b {= c}"] {
            assert_eq!(figures(text, System::Si), text);
        }
    }
}
