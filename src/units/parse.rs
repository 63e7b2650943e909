//! Reads quantities as people write them: `8"`, `1 1/2 in`, `1'-2"`, `203 mm`, `-5 F`, `R-20`, `1/4 in/ft`, `1:50`.

use super::dim::{Dim, Measure};
use super::quantity::Quantity;
use super::table::{self, Unit};
use crate::diag::{self, Place, Problem};

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
    pub fn at(self, place: Place, text: &str) -> Problem {
        let problem = Problem::new(place, self.what).text(text).expected(self.expected);
        Problem { nearest: self.nearest.map(str::to_owned), ..problem }
    }
}

/// Reads a quantity that must carry its unit.
pub fn parse(text: &str, want: Measure) -> Result<Quantity, Refused> {
    parse_with_unit(text, want, None)
}

/// Reads a quantity; a bare number takes `unit`, such as one given in a column's heading.
pub fn parse_with_unit(text: &str, want: Measure, unit: Option<&Unit>) -> Result<Quantity, Refused> {
    let clean = plain(text);
    let mut rest = clean.trim();
    if want == Measure::Of(Dim::RESISTANCE)
        && let Some(label) = rest.strip_prefix(['R', 'r'])
    {
        let number = label.trim_start_matches(['-', ' ']);
        if let Some((value, "")) = number_at(number) {
            let factor = table::find("R").and_then(|it| it.to_si(value, want)).unwrap_or(f64::NAN);
            return finite(factor, want);
        }
    }
    let negative = rest.starts_with('-');
    rest = rest.strip_prefix(['-', '+']).unwrap_or(rest).trim_start();
    let Some((number, tail)) = number_at(rest) else {
        return Err(refused("does not start with a number", want));
    };
    let sign = if negative { -1.0 } else { 1.0 };
    if want == Measure::Of(Dim::NONE)
        && let Some(run) = tail.trim_start().strip_prefix(':')
        && let Some((run, "")) = number_at(run.trim())
        && run != 0.0
    {
        return finite(sign * number / run, want);
    }
    finite(united(sign * number, tail.trim(), want, unit)?, want)
}

fn united(number: f64, unit_text: &str, want: Measure, bare: Option<&Unit>) -> Result<f64, Refused> {
    if unit_text.is_empty() {
        if let Some(si) = bare.and_then(|unit| unit.to_si(number, want)) {
            return Ok(si);
        }
        return if want == Measure::Of(Dim::NONE) { Ok(number) } else { Err(refused("has no unit", want)) };
    }
    if let Some(unit) = table::find(unit_text) {
        return unit.to_si(number, want).ok_or_else(|| {
            let measure = if unit_text == "°" { "a slope".into() } else { unit.measure().name() };
            refused(&format!("is {measure}, not {}", want.name()), want)
        });
    }
    // Feet and inches: a whole unit, then another number with its own.
    if let Some(split) = unit_text.find(|c: char| c.is_ascii_digit()) {
        let (first, more) = unit_text.split_at(split);
        let first = first.trim_end_matches(['-', ' ']);
        let feet = table::find(first).filter(|unit| unit.names[0] == "ft");
        if let (Some(feet), Some((inches, tail))) = (feet, number_at(more))
            && let Some(inch) = table::find(tail.trim()).filter(|unit| unit.names[0] == "in")
            && let (Some(a), Some(b)) = (feet.to_si(number, want), inch.to_si(inches, want))
        {
            return Ok(if number < 0.0 { a - b } else { a + b });
        }
    }
    let names =
        table::UNITS.iter().filter(|unit| unit.to_si(1.0, want).is_some()).flat_map(|unit| unit.names);
    let mut problem =
        refused(&format!("has a unit that is not known, \"{}\"", diag::shortened(unit_text)), want);
    problem.nearest = diag::nearest(unit_text, names.copied());
    Err(problem)
}

fn finite(si: f64, want: Measure) -> Result<Quantity, Refused> {
    if si.is_finite() {
        Ok(Quantity::exact(si, want))
    } else {
        Err(refused("is not a number that can be used", want))
    }
}

fn refused(what: &str, want: Measure) -> Refused {
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

/// Typographic forms made plain.
fn plain(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '“' | '”' | '″' => out.push('"'),
            '‘' | '’' | '′' => out.push('\''),
            '−' | '–' | '‐' | '‑' => out.push('-'),
            '\u{a0}' | '\u{202f}' | '\u{2009}' | '\t' => out.push(' '),
            'º' => out.push('°'),
            '⁄' => out.push('/'),
            '¼' => out.push_str(" 1/4"),
            '½' => out.push_str(" 1/2"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            other => out.push(other),
        }
    }
    out.replace("''", "\"")
}

/// A number at the start of a text (whole, decimal, fraction, or whole and fraction) and what follows it.
fn number_at(text: &str) -> Option<(f64, &str)> {
    let (whole, rest) = decimal_at(text)?;
    if let Some((bottom, after)) = rest.strip_prefix('/').and_then(digits_at) {
        return (bottom != 0.0).then_some((whole / bottom, after));
    }
    let gap = rest.trim_start_matches([' ', '-']);
    if gap.len() < rest.len()
        && let Some((top, after)) = digits_at(gap)
        && let Some((bottom, after)) = after.strip_prefix('/').and_then(digits_at)
        && bottom != 0.0
    {
        return Some((whole + top / bottom, after));
    }
    Some((whole, rest))
}

fn decimal_at(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(text.len());
    Some((text[..end].parse().ok()?, &text[end..]))
}

fn digits_at(text: &str) -> Option<(f64, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    Some((text[..end].parse().ok()?, &text[end..]))
}

#[cfg(test)]
mod tests {
    use super::*;

    const LENGTH: Measure = Measure::Of(Dim::LENGTH);
    const SLOPE: Measure = Measure::Of(Dim::NONE);

    #[test]
    fn quantities_are_read_as_people_write_them() {
        for (text, want, si) in [
            ("8\"", LENGTH, 0.2032),
            ("8”", LENGTH, 0.2032),
            ("8 in", LENGTH, 0.2032),
            ("1 1/2\"", LENGTH, 0.0381),
            ("1-1/2 in", LENGTH, 0.0381),
            ("1½\"", LENGTH, 0.0381),
            ("½ in", LENGTH, 0.0127),
            ("1'-2\"", LENGTH, 0.3556),
            ("1 ft 2 in", LENGTH, 0.3556),
            ("1' 2 1/2\"", LENGTH, 0.3683),
            (".5 in", LENGTH, 0.0127),
            ("203 mm", LENGTH, 0.203),
            ("-5 F", Measure::Temperature, 252.594_444_444),
            ("−20 °C", Measure::Temperature, 253.15),
            ("32°F", Measure::Temperature, 273.15),
            ("4 °F", Measure::Of(Dim::DIFFERENCE), 2.222_222_222),
            ("R-20", Measure::Of(Dim::RESISTANCE), 3.522_203_7),
            ("R20", Measure::Of(Dim::RESISTANCE), 3.522_203_7),
            ("0.043 W/mK", Measure::Of(Dim::CONDUCTIVITY), 0.043),
            ("2 pcf", Measure::Of(Dim::DENSITY), 32.036_926_75),
            ("32 kg/m3", Measure::Of(Dim::DENSITY), 32.0),
            ("0.2 Btu/lb-F", Measure::Of(Dim::SPECIFIC_HEAT), 837.36),
            ("0.84 kJ/(kg·K)", Measure::Of(Dim::SPECIFIC_HEAT), 840.0),
            ("1/4 in/ft", SLOPE, 0.020_833_333),
            ("1/4\" per ft", SLOPE, 0.020_833_333),
            ("5°", SLOPE, 0.087_488_663),
            ("2 %", SLOPE, 0.02),
            ("1:50", SLOPE, 0.02),
            ("-1/4 in/ft", SLOPE, -0.020_833_333),
        ] {
            let read = parse(text, want).unwrap_or_else(|problem| panic!("{text}: {problem:?}")).is;
            assert!((read - si).abs() < 1e-7, "{text}: {read}");
        }
    }

    #[test]
    fn what_is_not_the_quantity_wanted_is_refused_with_a_reason() {
        for (text, want, what) in [
            ("8 kg", LENGTH, "is a mass, not a length"),
            ("8", LENGTH, "has no unit"),
            ("8 inchs", LENGTH, "has a unit that is not known, \"inchs\""),
            ("about 8", LENGTH, "does not start with a number"),
            ("1/0 in", LENGTH, "does not start with a number"),
            ("1.2.3 in", LENGTH, "does not start with a number"),
            ("5°", Measure::Temperature, "is a slope, not a temperature"),
            ("+-8 in", LENGTH, "does not start with a number"),
            ("", LENGTH, "does not start with a number"),
        ] {
            assert_eq!(parse(text, want).unwrap_err().what, what, "{text}");
        }
        assert_eq!(parse("8 inchs", LENGTH).unwrap_err().nearest, Some("inches"));
    }

    #[test]
    fn a_bare_number_takes_the_unit_of_its_heading() {
        let inch = table::find("in");
        assert!((parse_with_unit("8", LENGTH, inch).unwrap().is - 0.2032).abs() < 1e-12);
        assert!((parse_with_unit("203 mm", LENGTH, inch).unwrap().is - 0.203).abs() < 1e-12);
    }
}
