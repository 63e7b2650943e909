//! The unit table: one row per unit.

use super::dim::{Dim, Measure};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

/// How a number in a unit becomes SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// SI = number × factor.
    Factor(f64),
    /// A temperature scale: K = (number + offset) × factor. A temperature difference uses the factor alone.
    Temperature {
        /// Added before scaling.
        offset: f64,
        /// Kelvin per degree.
        factor: f64,
    },
    /// Degrees of slope: rise over run = tan(number).
    Degrees,
}

/// A unit people write.
#[derive(Debug, PartialEq)]
pub struct Unit {
    /// Spellings, the printed one first. Case matters only if two units differ by case alone.
    pub names: &'static [&'static str],
    /// What it measures; for degrees, a difference.
    pub dim: Dim,
    /// How a number in it becomes SI.
    pub scale: Scale,
}

impl Unit {
    /// SI value of a number in this unit, as `measure`. `None` if the unit does not measure that.
    pub fn to_si(&self, number: f64, measure: Measure) -> Option<f64> {
        match (measure, self.scale) {
            (Measure::Temperature, Scale::Temperature { offset, factor }) => Some((number + offset) * factor),
            (Measure::Of(dim), _) if dim != self.dim => None,
            (Measure::Of(_), Scale::Temperature { factor, .. } | Scale::Factor(factor)) => {
                Some(number * factor)
            }
            // A slope of 90° or more is undefined.
            (Measure::Of(_), Scale::Degrees) if number.abs() >= 90.0 => None,
            (Measure::Of(_), Scale::Degrees) => Some(libm::tan(number.to_radians())),
            _ => None,
        }
    }

    /// The number in this unit of an SI value of `measure`; the inverse of [`Unit::to_si`].
    pub fn from_si(&self, si: f64, measure: Measure) -> Option<f64> {
        match (measure, self.scale) {
            (Measure::Temperature, Scale::Temperature { offset, factor }) => Some(si / factor - offset),
            (Measure::Of(dim), _) if dim != self.dim => None,
            (Measure::Of(_), Scale::Temperature { factor, .. } | Scale::Factor(factor)) => Some(si / factor),
            (Measure::Of(_), Scale::Degrees) => Some(libm::atan(si).to_degrees()),
            _ => None,
        }
    }

    /// What the unit measures by default: degrees are a temperature, not a difference.
    pub fn measure(&self) -> Measure {
        if matches!(self.scale, Scale::Temperature { .. }) {
            Measure::Temperature
        } else {
            Measure::Of(self.dim)
        }
    }
}

/// One international inch, exactly (NIST SP 811).
pub(crate) const INCH: f64 = 0.0254;
/// One foot, m.
pub const FOOT: f64 = 12.0 * INCH;
/// One avoirdupois pound, exactly (NIST SP 811).
const POUND: f64 = 0.453_592_37;
/// One international-table Btu in joules, exactly (ISO 31-4).
const BTU: f64 = 1_055.055_852_62;
const RANKINE: f64 = 5.0 / 9.0;
/// An hour, s.
pub const HOUR: f64 = 3600.0;
/// A day, s.
pub const DAY: f64 = 24.0 * HOUR;
/// A Julian year.
const YEAR: f64 = 365.25 * DAY;

const fn unit(names: &'static [&'static str], dim: Dim, factor: f64) -> Unit {
    Unit { names, dim, scale: Scale::Factor(factor) }
}

/// Every unit the program reads or prints.
pub static UNITS: &[Unit] = &[
    unit(&["in", "\"", "inch", "inches", "in.", "po", "pouce", "pouces"], Dim::LENGTH, INCH),
    unit(&["ft", "'", "foot", "feet", "ft.", "pi", "pied", "pieds"], Dim::LENGTH, FOOT),
    unit(&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], Dim::LENGTH, 1e-3),
    unit(&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], Dim::LENGTH, 1e-2),
    unit(&["m", "metre", "metres", "meter", "meters"], Dim::LENGTH, 1.0),
    unit(&["mil", "mils"], Dim::LENGTH, INCH * 1e-3),
    unit(&["in2", "in²", "sq in"], Dim::AREA, INCH * INCH),
    unit(&["ft2", "ft²", "sq ft"], Dim::AREA, FOOT * FOOT),
    unit(&["m2", "m²"], Dim::AREA, 1.0),
    unit(&["mL", "ml"], Dim::VOLUME, 1e-6),
    unit(&["L", "l", "litre", "litres", "liter", "liters"], Dim::VOLUME, 1e-3),
    unit(&["fl oz", "floz"], Dim::VOLUME, 231.0 * INCH * INCH * INCH / 128.0),
    unit(&["gal", "gallon", "gallons"], Dim::VOLUME, 231.0 * INCH * INCH * INCH),
    unit(&["in3", "in³"], Dim::VOLUME, INCH * INCH * INCH),
    unit(&["m3", "m³"], Dim::VOLUME, 1.0),
    unit(&["g", "gram", "grams"], Dim::MASS, 1e-3),
    unit(&["kg"], Dim::MASS, 1.0),
    unit(&["lb", "lbs", "pound", "pounds"], Dim::MASS, POUND),
    unit(&["s", "sec", "second", "seconds"], Dim::TIME, 1.0),
    unit(&["min", "minute", "minutes"], Dim::TIME, 60.0),
    unit(&["h", "hr", "hrs", "hour", "hours"], Dim::TIME, HOUR),
    unit(&["days", "day", "d"], Dim::TIME, DAY),
    unit(&["years", "year", "yr", "yrs"], Dim::TIME, YEAR),
    Unit {
        names: &["°F", "F", "degF", "deg F", "degrees F", "fahrenheit"],
        dim: Dim::DIFFERENCE,
        scale: Scale::Temperature { offset: 459.67, factor: RANKINE },
    },
    Unit {
        names: &["°C", "C", "degC", "deg C", "degrees C", "celsius"],
        dim: Dim::DIFFERENCE,
        scale: Scale::Temperature { offset: 273.15, factor: 1.0 },
    },
    unit(&["Δ°F", "delta °F"], Dim::DIFFERENCE, RANKINE),
    unit(&["K", "Δ°C", "delta °C"], Dim::DIFFERENCE, 1.0),
    unit(
        &["°F·days", "°F·day", "°F days", "°F-days", "F-days", "F days", "degree-days F"],
        Dim::DEGREE_TIME,
        RANKINE * DAY,
    ),
    unit(
        &["°C·days", "°C·day", "°C days", "°C-days", "C-days", "C days", "K·d", "K·days", "degree-days C"],
        Dim::DEGREE_TIME,
        DAY,
    ),
    unit(&["W", "watt", "watts"], Dim::POWER, 1.0),
    unit(&["Btu/h", "btuh"], Dim::POWER, BTU / HOUR),
    unit(&["J", "joule", "joules"], Dim::ENERGY, 1.0),
    unit(&["kWh"], Dim::ENERGY, 1e3 * HOUR),
    unit(&["Btu"], Dim::ENERGY, BTU),
    unit(&["therm", "therms"], Dim::ENERGY, 1e5 * BTU),
    unit(&["W/K"], Dim::CONDUCTANCE, 1.0),
    unit(&["Btu/h·°F", "Btu/(h·°F)", "Btu/h.F"], Dim::CONDUCTANCE, BTU / (HOUR * RANKINE)),
    unit(&["W/mK", "W/m·K", "W/(m·K)", "W/(m K)", "W/m K"], Dim::CONDUCTIVITY, 1.0),
    unit(
        &["Btu/h·ft·°F", "Btu/(h·ft·°F)", "Btu/hr·ft·°F", "Btu/h.ft.F"],
        Dim::CONDUCTIVITY,
        BTU / (HOUR * FOOT * RANKINE),
    ),
    unit(
        &["Btu·in/h·ft²·°F", "Btu·in/(h·ft²·°F)", "Btu.in/h.ft2.F"],
        Dim::CONDUCTIVITY,
        BTU * INCH / (HOUR * FOOT * FOOT * RANKINE),
    ),
    unit(&["W/m²K", "W/m2K", "W/(m²·K)", "W/m²·K"], Dim::FILM, 1.0),
    unit(&["Btu/h·ft²·°F", "Btu/(h·ft²·°F)", "Btu/h.ft2.F"], Dim::FILM, BTU / (HOUR * FOOT * FOOT * RANKINE)),
    unit(&["m²K/W", "m2K/W", "m²·K/W"], Dim::RESISTANCE, 1.0),
    unit(&["R", "h·ft²·°F/Btu", "ft²·°F·h/Btu"], Dim::RESISTANCE, HOUR * FOOT * FOOT * RANKINE / BTU),
    unit(&["kg/m³", "kg/m3", "kg/m^3", "kg per m3"], Dim::DENSITY, 1.0),
    unit(
        &["lb/ft³", "lb/ft3", "lb/ft^3", "lbs/ft³", "lbs/ft3", "lb/cu ft", "pcf"],
        Dim::DENSITY,
        POUND / (FOOT * FOOT * FOOT),
    ),
    unit(
        &["J/kgK", "J/kg·K", "J/(kg·K)", "J/(kg K)", "J/kg K", "J/kg-K", "J/kg°C", "J/kg·°C"],
        Dim::SPECIFIC_HEAT,
        1.0,
    ),
    unit(
        &["kJ/kgK", "kJ/kg·K", "kJ/(kg·K)", "kJ/(kg K)", "kJ/kg K", "kJ/kg-K", "kJ/kg°C", "kJ/kg·°C"],
        Dim::SPECIFIC_HEAT,
        1e3,
    ),
    unit(
        &["Btu/lb·°F", "Btu/(lb·°F)", "Btu/lb°F", "Btu/lb °F", "Btu/lb.F", "Btu/lbF", "Btu/lb-F"],
        Dim::SPECIFIC_HEAT,
        BTU / (POUND * RANKINE),
    ),
    unit(&["Pa"], Dim::PRESSURE, 1.0),
    unit(&["kPa"], Dim::PRESSURE, 1e3),
    unit(&["MPa"], Dim::PRESSURE, 1e6),
    unit(&["psi"], Dim::PRESSURE, POUND * 9.806_65 / (INCH * INCH)),
    unit(&["V", "volt", "volts"], Dim::VOLTAGE, 1.0),
    unit(&["%", "percent", "per cent", "pct"], Dim::NONE, 1e-2),
    unit(
        &["in/ft", "in per ft", "\"/ft", "\" per ft", "in. per ft", "inch per foot", "in per foot", "\"/'"],
        Dim::NONE,
        1.0 / 12.0,
    ),
    unit(&["mm/m", "mm per m"], Dim::NONE, 1e-3),
    Unit { names: &["°", "deg", "degree", "degrees"], dim: Dim::NONE, scale: Scale::Degrees },
];

/// The unit of a spelling. An exact match wins; otherwise case is ignored if that is not ambiguous.
pub fn find(name: &str) -> Option<&'static Unit> {
    let exact = UNITS.iter().find(|unit| unit.names.contains(&name));
    exact.or_else(|| *BY_LOWER_CASE.get(name.to_lowercase().as_str())?)
}

/// The unit of each spelling in lower case; `None` if several units have it.
static BY_LOWER_CASE: LazyLock<BTreeMap<String, Option<&'static Unit>>> = LazyLock::new(|| {
    let mut all: BTreeMap<String, Option<&'static Unit>> = BTreeMap::new();
    for unit in UNITS {
        let names: BTreeSet<String> = unit.names.iter().map(|name| name.to_lowercase()).collect();
        for name in names {
            all.entry(name).and_modify(|found| *found = None).or_insert(Some(unit));
        }
    }
    all
});

/// Finds the unit of a text: `in.` and `deg. F` with their dots, `8-in` with its hyphen.
pub(super) fn find_written(text: &str) -> Option<&'static Unit> {
    let undotted =
        |text: &str| find(text.strip_suffix('.').unwrap_or(text)).or_else(|| find(&text.replace(". ", " ")));
    find(text).or_else(|| undotted(text)).or_else(|| undotted(text.strip_prefix('-')?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_are_unique() {
        let mut seen = BTreeSet::new();
        for name in UNITS.iter().flat_map(|unit| unit.names) {
            assert!(seen.insert(*name), "{name} twice");
        }
    }

    #[test]
    fn to_si_and_from_si_are_inverses() {
        for unit in UNITS {
            let measure = unit.measure();
            let si = unit.to_si(3.7, measure).unwrap();
            let back = unit.from_si(si, measure).unwrap();
            assert!((back - 3.7).abs() < 1e-9, "{}: {back}", unit.names[0]);
        }
    }

    /// NIST Special Publication 811 (2008), appendix B.8, to the digits printed there (from memory).
    #[test]
    fn factors_agree_with_nist_sp_811() {
        for (name, measure, want) in [
            ("Btu/h", Measure::Of(Dim::POWER), 0.293_071_1),
            ("Btu/h·ft·°F", Measure::Of(Dim::CONDUCTIVITY), 1.730_735),
            ("Btu·in/h·ft²·°F", Measure::Of(Dim::CONDUCTIVITY), 0.144_227_9),
            ("Btu/h·ft²·°F", Measure::Of(Dim::FILM), 5.678_263),
            ("R", Measure::Of(Dim::RESISTANCE), 0.176_110_2),
            ("psi", Measure::Of(Dim::PRESSURE), 6894.757),
            ("Btu/lb·°F", Measure::Of(Dim::SPECIFIC_HEAT), 4186.8),
            ("gal", Measure::Of(Dim::VOLUME), 3.785_412e-3),
            ("kWh", Measure::Of(Dim::ENERGY), 3.6e6),
            ("Btu", Measure::Of(Dim::ENERGY), 1055.056),
            ("therm", Measure::Of(Dim::ENERGY), 1.055_056e8),
            ("Btu/h·°F", Measure::Of(Dim::CONDUCTANCE), 0.527_527_9),
        ] {
            let si = find(name).unwrap().to_si(1.0, measure).unwrap();
            assert!((si / want - 1.0).abs() < 2e-7, "{name}: {si}");
        }
        let half_a_printed_digit = 0.5e-5;
        let pound = find("lb/ft³").unwrap().to_si(1.0, Measure::Of(Dim::DENSITY)).unwrap();
        assert!((pound - 16.018_46).abs() < half_a_printed_digit, "{pound}");
    }

    #[test]
    fn a_difference_in_degrees_has_no_offset() {
        let fahrenheit = find("°F").unwrap();
        assert!((fahrenheit.to_si(32.0, Measure::Temperature).unwrap() - 273.15).abs() < 1e-9);
        assert!((fahrenheit.to_si(9.0, Measure::Of(Dim::DIFFERENCE)).unwrap() - 5.0).abs() < 1e-12);
        assert_eq!(find("K").unwrap().to_si(1.0, Measure::Temperature), None);
    }
}
