//! Prints quantities in the reader's units, rounded to a stated side.

use super::dim::{Dim, Measure};
use super::quantity::Quantity;
use super::table;

/// The reader's units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum System {
    /// Inches, °F.
    #[default]
    Us,
    /// Millimeters, °C.
    Si,
}

/// Which way the last printed digit goes. The safe side of a quantity belongs to the quantity, not to the printer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rounding {
    /// To the nearest.
    Nearest,
    /// Never less than the value.
    Up,
    /// Never more than the value.
    Down,
}

/// How a quantity is shown: a unit and decimal places in either system, and the side it rounds to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Show {
    us: (&'static str, usize),
    si: (&'static str, usize),
    toward: Rounding,
}

impl Show {
    /// A unit and decimal places for either system. Units are spelt as in the unit table; an empty unit is a bare
    /// number.
    pub const fn new(us: (&'static str, usize), si: (&'static str, usize), toward: Rounding) -> Self {
        Self { us, si, toward }
    }

    /// The same units, rounded to another side.
    #[must_use]
    pub const fn toward(self, toward: Rounding) -> Self {
        Self { toward, ..self }
    }

    /// The side it rounds to.
    pub const fn side(&self) -> Rounding {
        self.toward
    }

    /// The unit and the decimal places it is shown in.
    pub fn form(&self, system: System) -> (&'static str, usize) {
        if system == System::Us { self.us } else { self.si }
    }

    /// Whether its safe side is the higher one.
    pub fn rounds_up(&self) -> bool {
        self.toward == Rounding::Up
    }

    /// The usual way to show a measure.
    pub fn usual(measure: Measure) -> Self {
        let (us, si) = match measure {
            Measure::Temperature | Measure::Of(Dim::DIFFERENCE) => (("°F", 1), ("°C", 1)),
            Measure::Of(Dim::LENGTH) => (("in", 2), ("mm", 1)),
            Measure::Of(Dim::AREA) => (("in2", 2), ("m2", 4)),
            Measure::Of(Dim::VOLUME) => (("fl oz", 2), ("mL", 0)),
            Measure::Of(Dim::MASS) => (("lb", 2), ("kg", 3)),
            Measure::Of(Dim::TIME) => (("h", 1), ("h", 1)),
            Measure::Of(Dim::DEGREE_TIME) => (("°F·days", 0), ("°C·days", 0)),
            Measure::Of(Dim::POWER) => (("Btu/h", 1), ("W", 2)),
            Measure::Of(Dim::ENERGY) => (("kWh", 0), ("kWh", 0)),
            Measure::Of(Dim::CONDUCTANCE) => (("Btu/h·°F", 3), ("W/K", 3)),
            Measure::Of(Dim::CONDUCTIVITY) => (("Btu/h·ft·°F", 4), ("W/mK", 4)),
            Measure::Of(Dim::FILM) => (("Btu/h·ft²·°F", 2), ("W/m²K", 1)),
            Measure::Of(Dim::RESISTANCE) => (("h·ft²·°F/Btu", 1), ("m²K/W", 2)),
            Measure::Of(Dim::DENSITY) => (("lb/ft³", 1), ("kg/m³", 0)),
            Measure::Of(Dim::SPECIFIC_HEAT) => (("Btu/lb·°F", 3), ("J/kgK", 0)),
            Measure::Of(Dim::PRESSURE) => (("psi", 0), ("kPa", 0)),
            Measure::Of(Dim::VOLTAGE) => (("V", 2), ("V", 2)),
            Measure::Of(_) => (("", 3), ("", 3)),
        };
        Self::new(us, si, Rounding::Nearest)
    }

    /// The unit it is shown in; empty for a bare number.
    pub fn unit(&self, system: System) -> &'static str {
        if system == System::Us { self.us.0 } else { self.si.0 }
    }

    /// The value alone, without its band: `28.7 °F`.
    pub fn value(&self, quantity: &Quantity, system: System) -> String {
        let (number, unit) = self.number(quantity.is, quantity.measure, system, self.toward);
        joined(&number, unit)
    }

    /// The value as a number of the unit it is shown in, to seven significant digits; a bare number has no unit.
    pub fn in_unit(&self, quantity: &Quantity, system: System) -> f64 {
        let unit = Some(self.unit(system)).filter(|name| !name.is_empty()).and_then(table::find);
        let number = unit.and_then(|unit| unit.from_si(quantity.is, quantity.measure)).unwrap_or(quantity.is);
        significant(number)
    }

    /// The value and its band: `28.7 °F (26.9 to 30.8)`. The band's ends are rounded outwards.
    pub fn with_band(&self, quantity: &Quantity, system: System) -> String {
        let value = self.value(quantity, system);
        let (low, _) = self.number(quantity.low, quantity.measure, system, Rounding::Down);
        let (high, _) = self.number(quantity.high, quantity.measure, system, Rounding::Up);
        if quantity.is_banded() && low != high { format!("{value} ({low} to {high})") } else { value }
    }

    /// The band alone: `-41 to 20.8 °F`.
    pub fn range(&self, quantity: &Quantity, system: System) -> String {
        let (low, unit) = self.number(quantity.low, quantity.measure, system, Rounding::Down);
        let (high, _) = self.number(quantity.high, quantity.measure, system, Rounding::Up);
        if low == high { joined(&low, unit) } else { format!("{low} to {}", joined(&high, unit)) }
    }

    fn number(&self, si: f64, measure: Measure, system: System, toward: Rounding) -> (String, &'static str) {
        let (name, places) = self.form(system);
        // A bare number has no unit to look for.
        let unit = (!name.is_empty()).then(|| table::find(name)).flatten();
        let number = unit.and_then(|unit| unit.from_si(si, measure)).unwrap_or(si);
        let text = match (name, places) {
            ("in", 1) => fraction(number, 8, toward),
            ("in", 2) => fraction(number, 16, toward),
            // A tube is 0.049 in thick; a stem, 5/16 in.
            ("in" | "in/ft", 3..) => {
                exact_fraction(number, toward).unwrap_or_else(|| rounded(number, places, toward))
            }
            _ => rounded(number, places, toward),
        };
        (text, name)
    }
}

/// A number to seven significant digits: beyond them the rounding of a solver differs between machines.
pub fn significant(exact: f64) -> f64 {
    format!("{exact:.6e}").parse().unwrap_or(exact)
}

/// A temperature, K, as it is usually shown: `-14 °F`.
pub fn temperature_text(kelvin: f64, system: System) -> String {
    Show::usual(Measure::Temperature).value(&Quantity::temperature(kelvin), system)
}

fn joined(number: &str, unit: &str) -> String {
    match unit {
        "" => number.into(),
        "R" => format!("R-{number}"),
        _ => format!("{number} {unit}"),
    }
}

/// Keeps `8.000000001`, an artifact of conversion, from rounding up to `8.1`.
const NOISE: f64 = 1e-6;

/// A whole number and a fraction in lowest terms, as rulers have them: `7 3/4`, `-1/8`.
fn fraction(number: f64, parts: u16, toward: Rounding) -> String {
    let all = whole(number * f64::from(parts), toward);
    let sign = if all < 0.0 { "-" } else { "" };
    let (all, mut of) = (all.abs(), f64::from(parts));
    let (units, mut rest) = ((all / of).floor(), all % of);
    while rest > 0.0 && rest % 2.0 == 0.0 {
        (rest, of) = (rest / 2.0, of / 2.0);
    }
    match (units == 0.0, rest == 0.0) {
        (true, true) => "0".into(),
        (_, true) => format!("{sign}{units}"),
        (true, false) => format!("{sign}{rest}/{of}"),
        (false, false) => format!("{sign}{units} {rest}/{of}"),
    }
}

/// A number that is a fraction with thirty-seconds as well as three decimals can tell; to a side, only one that is exact.
fn exact_fraction(number: f64, toward: Rounding) -> Option<String> {
    const PARTS: u16 = 32;
    const HALF_A_THOUSANDTH: f64 = 0.0005;
    let nearest = (number * f64::from(PARTS)).round() / f64::from(PARTS);
    let off = if toward == Rounding::Nearest { HALF_A_THOUSANDTH } else { 0.0 };
    let is_near = (number - nearest).abs() <= off + NOISE;
    is_near.then(|| fraction(number, PARTS, Rounding::Nearest))
}

fn whole(scaled: f64, toward: Rounding) -> f64 {
    match toward {
        Rounding::Nearest => scaled.round(),
        Rounding::Up => (scaled - NOISE).ceil(),
        Rounding::Down => (scaled + NOISE).floor(),
    }
}

/// Fixed places with trailing zeros dropped, so that `8.00` reads `8`. No negative zero.
fn rounded(number: f64, places: usize, toward: Rounding) -> String {
    let scale = [1.0, 10.0, 100.0, 1e3, 1e4, 1e5][places.min(5)];
    let text = format!("{:.*}", places, whole(number * scale, toward) / scale);
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".into() } else { text.into() }
}

/// The SI unit's symbol, as the JSON gives it; `1` for a plain number.
pub fn si_symbol(measure: Measure) -> String {
    match measure {
        Measure::Temperature | Measure::Of(Dim::DIFFERENCE) => "K".into(),
        Measure::Of(Dim::POWER) => "W".into(),
        Measure::Of(Dim::ENERGY) => "J".into(),
        Measure::Of(Dim::CONDUCTANCE) => "W/K".into(),
        Measure::Of(Dim::CONDUCTIVITY) => "W/mK".into(),
        Measure::Of(Dim::FILM) => "W/m²K".into(),
        Measure::Of(Dim::RESISTANCE) => "m²K/W".into(),
        Measure::Of(Dim::DENSITY) => "kg/m³".into(),
        Measure::Of(Dim::SPECIFIC_HEAT) => "J/kgK".into(),
        Measure::Of(Dim::PRESSURE) => "Pa".into(),
        Measure::Of(Dim::VOLTAGE) => "V".into(),
        Measure::Of(dim) => dim.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_temperature_rounds_to_its_safe_side() {
        let seat = Quantity::temperature(273.15 + 0.06 / 1.8);
        let show = Show::usual(Measure::Temperature);
        assert_eq!(show.toward(Rounding::Down).value(&seat, System::Us), "32 °F");
        assert_eq!(show.toward(Rounding::Up).value(&seat, System::Us), "32.1 °F");
    }

    #[test]
    fn conversion_noise_does_not_round_a_length_up() {
        let eight = Quantity::of(0.2032, Dim::LENGTH);
        assert_eq!(Show::usual(eight.measure).toward(Rounding::Up).value(&eight, System::Us), "8 in");
    }

    #[test]
    fn inches_are_printed_as_the_trade_writes_them() {
        let show = |places, side, inches: f64| {
            let length = Quantity::of(inches * 0.0254, Dim::LENGTH);
            Show::new(("in", places), ("mm", 1), side).value(&length, System::Us)
        };
        for (places, side, inches, text) in [
            (3, Rounding::Nearest, 7.25, "7 1/4 in"),
            (3, Rounding::Nearest, 0.281, "9/32 in"),
            (3, Rounding::Nearest, 0.3125, "5/16 in"),
            (3, Rounding::Nearest, 0.065, "0.065 in"),
            (3, Rounding::Nearest, 8.0, "8 in"),
            (2, Rounding::Nearest, 3.374, "3 3/8 in"),
            (1, Rounding::Up, 9.01, "9 1/8 in"),
            (1, Rounding::Down, 9.12, "9 in"),
            (2, Rounding::Nearest, -0.5, "-1/2 in"),
            (2, Rounding::Nearest, 0.001, "0 in"),
        ] {
            assert_eq!(show(places, side, inches), text);
        }
    }

    #[test]
    fn a_band_is_rounded_outwards() {
        let seat = Quantity::temperature(270.0).within(269.0, 271.0);
        assert_eq!(Show::usual(Measure::Temperature).with_band(&seat, System::Si), "-3.1 °C (-4.2 to -2.1)");
    }

    #[test]
    fn zero_has_no_sign() {
        let zero = Quantity::of(-1e-9, Dim::DIFFERENCE);
        assert_eq!(Show::usual(zero.measure).value(&zero, System::Us), "0 °F");
    }
}
