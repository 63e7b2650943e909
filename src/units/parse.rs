//! Reads quantities as people write them: `8"`, `1 1/2 in`, `1'-2"`, `203 mm`, `-5 F`, `R-20`, `1/4 in/ft`, `1:50`,
//! `8 to 10 in`, `8" ±1/4"`.

use super::dim::{Dim, Measure};
use super::hedge::{unsettled, without_idle};
use super::number::{number_at, plain};
use super::quantity::Quantity;
use super::table::{self, Unit};
use super::{slope, spread};
use crate::diag::{self, Diagnostic, Location};

/// Why a text is not the quantity wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refused {
    /// Completes the sentence that starts with the text.
    pub what: String,
    /// What would have been right.
    pub expected: String,
    /// The nearest unit, where the unit is misspelt.
    pub nearest: Option<&'static str>,
}

impl Refused {
    /// The problem it is at a place where a text stands.
    pub fn at(self, place: Location, text: &str) -> Diagnostic {
        let problem = Diagnostic::new(place, self.what).text(text).expected(self.expected);
        Diagnostic { nearest: self.nearest.map(str::to_owned), ..problem }
    }
}

/// What is known of how a text is written, and what its reader can carry.
#[derive(Clone, Copy, Debug, Default)]
pub struct Written<'u> {
    /// What a bare number takes, such as the unit of a column's heading.
    pub unit: Option<&'u Unit>,
    /// Whether a comma is the decimal mark: `20,3 cm`.
    pub decimal_comma: bool,
    /// Whether a range or a tolerance may come back as a band about the figure stated, or about a range's middle. It is
    /// refused where it may not.
    pub band: bool,
}

/// Reads a quantity that must carry its unit.
pub fn parse(text: &str, want: Measure) -> Result<Quantity, Refused> {
    parse_as(text, want, Written::default())
}

/// Reads a quantity; a bare number takes `unit`, such as one given in a column's heading.
pub fn parse_with_unit(text: &str, want: Measure, unit: Option<&Unit>) -> Result<Quantity, Refused> {
    parse_as(text, want, Written { unit, ..Written::default() })
}

/// No figure is longer; what is goes unread.
const MOST_BYTES: usize = 200;
/// Two figures that differ by no more are one figure in two units (0.035 in is 0.889 mm, written 0.9), as a share.
const ROUNDING: f64 = 0.02;

/// Reads a quantity as it is written.
pub fn parse_as(text: &str, want: Measure, how: Written<'_>) -> Result<Quantity, Refused> {
    if text.len() > MOST_BYTES {
        return Err(refused("is too long for one figure", want));
    }
    let clean = plain(text);
    if let Some(what) = unsettled(clean.trim(), want) {
        return Err(refused(what, want));
    }
    let text = without_idle(&clean);
    // The same figure again in another unit: `8" (203 mm)`.
    if let Some((first, second)) = bracketed(text) {
        let (first, second) = (figure(first, want, how)?, figure(second, want, how)?);
        let apart = (first.is - second.is).abs() > ROUNDING * first.is.abs().max(second.is.abs());
        return if apart { Err(refused("gives two figures that differ", want)) } else { Ok(first) };
    }
    figure(text, want, how)
}

fn bracketed(text: &str) -> Option<(&str, &str)> {
    let (first, second) = text.strip_suffix([')', ']'])?.split_once(['(', '['])?;
    let is_figure = |it: &str| it.contains(|c: char| c.is_ascii_digit());
    // A unit may have brackets of its own: `W/(m·K)`.
    (is_figure(first) && is_figure(second) && first.ends_with(' ')).then_some((first.trim(), second.trim()))
}

/// A figure, or a range or a tolerance.
fn figure(text: &str, want: Measure, how: Written<'_>) -> Result<Quantity, Refused> {
    let banded = |found: Result<Quantity, Refused>| match found {
        Ok(it) if it.is_banded() && !how.band => Err(refused("gives a range, not one figure", want)),
        found => found,
    };
    if let Some(found) = spread::tolerance(text, want, how) {
        return banded(found);
    }
    if let Some(found) = spread::range_in_words(text, want, how) {
        return banded(found);
    }
    let read = single(text, want, how);
    // A hyphen parts the ends of a range only where the text is no figure by itself: `1-1/2 in`, `1'-2"`.
    if read.as_ref().is_err_and(|it| ![NO_INCH_MARK, OVER_A_FOOT].contains(&it.what.as_str()))
        && let Some(found) = spread::hyphened(text, want, how)
    {
        return banded(found);
    }
    read.map(|si| Quantity::exact(si, want))
}

/// The SI value of one figure.
pub(super) fn single(text: &str, want: Measure, how: Written<'_>) -> Result<f64, Refused> {
    let mut rest = text.trim();
    if want == Measure::Of(Dim::RESISTANCE)
        && let Some(label) = rest.strip_prefix(['R', 'r'])
        && let Ok((value, "")) = number_at(label.trim_start_matches(['-', ' ']), how.decimal_comma)
    {
        let si = table::find("R").and_then(|it| it.to_si(value, want)).unwrap_or(f64::NAN);
        return finite(si, want);
    }
    let minus = rest.get(..6).filter(|it| it.eq_ignore_ascii_case("minus ")).map(|_| &rest[6..]);
    let negative = rest.starts_with('-') || minus.is_some();
    rest = minus.unwrap_or_else(|| rest.strip_prefix(['-', '+']).unwrap_or(rest)).trim_start();
    let (number, tail) = number_at(rest, how.decimal_comma).map_err(|what| refused(what, want))?;
    let number = if negative { -number } else { number };
    finite(united(number, tail.trim(), want, how)?, want)
}

fn united(number: f64, tail: &str, want: Measure, how: Written<'_>) -> Result<f64, Refused> {
    if tail.is_empty() {
        if let Some(si) = how.unit.and_then(|unit| unit.to_si(number, want)) {
            return Ok(si);
        }
        return if want == Measure::Of(Dim::NONE) { Ok(number) } else { Err(refused(NO_UNIT, want)) };
    }
    if let Some(unit) = unit_of(tail) {
        return unit.to_si(number, want).ok_or_else(|| {
            let measure = if unit.names[0] == "°" { "a slope".into() } else { unit.measure().name() };
            match want {
                Measure::Of(Dim::NONE) if unit.dim == Dim::NONE => {
                    refused("is no slope, but vertical or beyond", want)
                }
                _ => refused(&format!("is {measure}, not {}", want.name()), want),
            }
        });
    }
    if want == Measure::Of(Dim::NONE)
        && let Some(si) = slope::rise_over_run(number, tail, how)
    {
        return Ok(si);
    }
    if let Some(found) = feet_and_inches(number, tail, want, how) {
        return found;
    }
    Err(not_a_unit(tail, want))
}

/// The unit of a spelling: `in.` and `deg. F` with their dots, `8-in` with its hyphen.
pub(super) fn unit_of(text: &str) -> Option<&'static Unit> {
    let bare = |it: &str| {
        table::find(it.strip_suffix('.').unwrap_or(it)).or_else(|| table::find(&it.replace(". ", " ")))
    };
    table::find(text).or_else(|| bare(text)).or_else(|| bare(text.strip_prefix('-')?))
}

pub(super) const NO_UNIT: &str = "has no unit";
const NO_INCH_MARK: &str = "has no inch mark after the inches";
const OVER_A_FOOT: &str = "has a foot or more in inches after the feet";

/// Feet and inches: a whole unit, then another number with its own.
fn feet_and_inches(feet: f64, tail: &str, want: Measure, how: Written<'_>) -> Option<Result<f64, Refused>> {
    let (first, more) = tail.split_at(tail.find(|c: char| c.is_ascii_digit())?);
    let foot = unit_of(first.trim_end_matches(['-', ' '])).filter(|unit| unit.names[0] == "ft")?;
    let (inches, unit) = number_at(more, how.decimal_comma).ok()?;
    if unit.trim().is_empty() {
        return Some(Err(refused(NO_INCH_MARK, want)));
    }
    let inch = unit_of(unit.trim()).filter(|unit| unit.names[0] == "in")?;
    let (a, b) = (foot.to_si(feet, want)?, inch.to_si(inches, want)?);
    Some(if inches >= 12.0 {
        Err(refused(OVER_A_FOOT, want))
    } else {
        Ok(if feet.is_sign_negative() { a - b } else { a + b })
    })
}

fn not_a_unit(tail: &str, want: Measure) -> Refused {
    const MONTHS: [&str; 12] =
        ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
    let lower = tail.to_lowercase();
    let after = lower.strip_prefix('-').unwrap_or_default();
    if MONTHS.iter().any(|it| after.starts_with(it)) {
        return refused("is a date, as spreadsheets make of a range or a fraction", want);
    }
    let is_figure = |it: &str| it.trim_start().starts_with(|c: char| c.is_ascii_digit() || c == '.');
    if lower.split('x').skip(1).any(is_figure) {
        return refused("gives two figures, one by the other", want);
    }
    let measures = |unit: &Unit| unit.to_si(1.0, want).is_some();
    if let Some((first, second)) = tail.split_once('/')
        && is_figure(second)
        && unit_of(first.trim()).is_some_and(measures)
    {
        return refused("gives two figures, and which of them holds is not said", want);
    }
    if let Some((first, words)) = tail.split_once([' ', ',', ';', '('])
        && unit_of(first).is_some_and(measures)
    {
        let words = diag::shortened(words.trim().trim_end_matches(')'));
        return refused(&format!("has words beside the figure that are not understood, \"{words}\""), want);
    }
    if is_figure(tail.trim_start_matches(['/', '-', '+', ',', ';', ' '])) {
        return refused("gives more than one figure", want);
    }
    let names = table::UNITS.iter().filter(|it| measures(it)).flat_map(|unit| unit.names);
    let mut problem = refused(&format!("has a unit that is not known, \"{}\"", diag::shortened(tail)), want);
    problem.nearest = diag::nearest(tail, names.copied());
    problem
}

fn finite(si: f64, want: Measure) -> Result<f64, Refused> {
    if si.is_finite() { Ok(si) } else { Err(refused("is not a number that can be used", want)) }
}

pub(super) fn refused(what: &str, want: Measure) -> Refused {
    Refused { what: what.into(), expected: example(want).into(), nearest: None }
}

fn example(want: Measure) -> &'static str {
    match want {
        Measure::Temperature => "a temperature such as -5 °F or -20 °C",
        Measure::Of(Dim::LENGTH) => "a length such as 8 in, 1 1/2\" or 203 mm",
        Measure::Of(Dim::DIFFERENCE) => "a temperature difference such as 4 °F",
        Measure::Of(Dim::RESISTANCE) => "a resistance such as R-20 or 3.5 m²K/W",
        Measure::Of(Dim::CONDUCTIVITY) => "a conductivity such as 0.043 W/mK",
        Measure::Of(Dim::DENSITY) => "a density such as 32 kg/m³ or 2 lb/ft³",
        Measure::Of(Dim::SPECIFIC_HEAT) => "a specific heat such as 840 J/kgK or 0.2 Btu/lb·°F",
        Measure::Of(Dim::DEGREE_TIME) => "degree-days such as 1800 °F·days or 1000 °C·days",
        Measure::Of(Dim::TIME) => "a time such as 60 h",
        Measure::Of(Dim::NONE) => "a number, a percentage, or a slope such as 1/4 in/ft",
        Measure::Of(_) => "a number with its unit",
    }
}
