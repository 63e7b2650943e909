//! One number with its unit: `8"`, `1'-2"`, `minus 5 °F`, `R-20`, `1:48`.

use super::dim::{Dim, Measure};
use super::error::Reason;
use super::number::parse_number;
use super::slope::rise_over_run;
use super::table::{UNITS, Unit, find_written};
use crate::diag;

/// How a text is written, and what its reader accepts.
#[derive(Clone, Copy, Debug, Default)]
pub struct ParseOptions<'u> {
    /// The unit of a bare number, such as the unit in a column's heading.
    pub unit: Option<&'u Unit>,
    /// Whether decimals are written with a comma: `20,3 cm`.
    pub decimal_comma: bool,
    /// Whether a range or a tolerance is accepted. It becomes a band around the stated value, or around the middle.
    pub band: bool,
}

/// A number and the text after it, which should be a unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Amount<'t> {
    pub number: f64,
    pub unit: &'t str,
}

impl<'t> Amount<'t> {
    /// Splits a text into its number and the rest.
    pub(super) fn parse(text: &'t str, want: Measure, decimal_comma: bool) -> Result<Self, Reason> {
        let text = text.trim();
        if want == Measure::Of(Dim::RESISTANCE)
            && let Some(label) = text.strip_prefix(['R', 'r'])
            && let Ok((number, "")) = parse_number(label.trim_start_matches(['-', ' ']), decimal_comma)
        {
            return Ok(Self { number, unit: "R" });
        }
        let minus = text.get(..6).filter(|it| it.eq_ignore_ascii_case("minus ")).map(|_| &text[6..]);
        let is_negative = text.starts_with('-') || minus.is_some();
        let digits = minus.unwrap_or_else(|| text.strip_prefix(['-', '+']).unwrap_or(text)).trim_start();
        let (number, unit) = parse_number(digits, decimal_comma)?;
        Ok(Self { number: if is_negative { -number } else { number }, unit: unit.trim() })
    }

    /// The same number; a bare one takes this unit.
    pub(super) fn or_unit(self, unit: &'t str) -> Self {
        if self.unit.is_empty() { Self { unit, ..self } } else { self }
    }

    /// The value in SI.
    pub(super) fn to_si(self, want: Measure, options: &ParseOptions<'_>) -> Result<f64, Reason> {
        let si = self.convert(want, options)?;
        if si.is_finite() { Ok(si) } else { Err(Reason::NotFinite) }
    }

    fn convert(self, want: Measure, options: &ParseOptions<'_>) -> Result<f64, Reason> {
        let Self { number, unit: text } = self;
        if text.is_empty() {
            let in_unit = options.unit.and_then(|unit| unit.to_si(number, want));
            return in_unit.or((want == Measure::Of(Dim::NONE)).then_some(number)).ok_or(Reason::NoUnit);
        }
        if let Some(unit) = find_written(text) {
            let is_slope = want == Measure::Of(Dim::NONE) && unit.dim == Dim::NONE;
            let wrong = || if is_slope { Reason::Vertical } else { Reason::WrongUnit(unit) };
            return unit.to_si(number, want).ok_or_else(wrong);
        }
        if want == Measure::Of(Dim::NONE)
            && let Some(slope) = rise_over_run(number, text, options.decimal_comma)
        {
            return Ok(slope);
        }
        feet_and_inches(number, text, want, options.decimal_comma)
            .unwrap_or_else(|| Err(unknown_unit(text, want)))
    }
}

/// Feet and inches: a number of feet, then another number with its own unit.
fn feet_and_inches(feet: f64, tail: &str, want: Measure, decimal_comma: bool) -> Option<Result<f64, Reason>> {
    let (foot, more) = tail.split_at(tail.find(|c: char| c.is_ascii_digit())?);
    let foot = find_written(foot.trim_end_matches(['-', ' '])).filter(|unit| unit.names[0] == "ft")?;
    let (inches, unit) = parse_number(more, decimal_comma).ok()?;
    if unit.trim().is_empty() {
        return Some(Err(Reason::NoInchMark));
    }
    let inch = find_written(unit.trim()).filter(|unit| unit.names[0] == "in")?;
    let (whole, rest) = (foot.to_si(feet, want)?, inch.to_si(inches, want)?);
    Some(if inches >= 12.0 {
        Err(Reason::FootOfInches)
    } else {
        Ok(if feet.is_sign_negative() { whole - rest } else { whole + rest })
    })
}

/// Why the text after a number is not a unit.
fn unknown_unit(text: &str, want: Measure) -> Reason {
    const MONTHS: [&str; 12] =
        ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let lower = text.to_lowercase();
    let after_hyphen = lower.strip_prefix('-').unwrap_or_default();
    if MONTHS.iter().any(|month| after_hyphen.starts_with(month)) {
        return Reason::Date;
    }
    let is_value = |text: &str| text.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '.');
    if lower.split('x').skip(1).any(is_value) {
        return Reason::TwoDimensions;
    }
    let measures = |unit: &Unit| unit.to_si(1.0, want).is_some();
    if let Some((first, second)) = text.split_once('/')
        && is_value(second)
        && find_written(first.trim()).is_some_and(measures)
    {
        return Reason::Alternatives;
    }
    if let Some((first, words)) = text.split_once([' ', ',', ';', '('])
        && find_written(first).is_some_and(measures)
    {
        return Reason::UnknownWords(diag::shortened(words.trim().trim_end_matches(')')));
    }
    if is_value(text.trim_start_matches(['/', '-', '+', ',', ';', ' '])) {
        return Reason::SeveralValues;
    }
    let names = UNITS.iter().filter(|unit| measures(unit)).flat_map(|unit| unit.names);
    Reason::UnknownUnit(diag::shortened(text), diag::nearest(text, names.copied()))
}
