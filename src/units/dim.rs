//! Dimensions, and the one distinction they cannot make: a temperature against a difference of temperatures.

use std::fmt;
use std::ops::{Div, Mul};

/// Exponents of length, mass, time, temperature difference and electric current.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Dim([i8; 5]);

impl Dim {
    /// A plain number, ratio, share or slope (rise over run).
    pub const NONE: Self = Self([0, 0, 0, 0, 0]);
    /// m
    pub const LENGTH: Self = Self([1, 0, 0, 0, 0]);
    /// m²
    pub const AREA: Self = Self([2, 0, 0, 0, 0]);
    /// m³
    pub const VOLUME: Self = Self([3, 0, 0, 0, 0]);
    /// kg
    pub const MASS: Self = Self([0, 1, 0, 0, 0]);
    /// s
    pub const TIME: Self = Self([0, 0, 1, 0, 0]);
    /// K, as a difference
    pub const DIFFERENCE: Self = Self([0, 0, 0, 1, 0]);
    /// K·s, as a winter's freezing index
    pub const DEGREE_TIME: Self = Self([0, 0, 1, 1, 0]);
    /// W
    pub const POWER: Self = Self([2, 1, -3, 0, 0]);
    /// J
    pub const ENERGY: Self = Self([2, 1, -2, 0, 0]);
    /// W/K
    pub const CONDUCTANCE: Self = Self([2, 1, -3, -1, 0]);
    /// W/mK
    pub const CONDUCTIVITY: Self = Self([1, 1, -3, -1, 0]);
    /// W/m²K, of a surface film
    pub const FILM: Self = Self([0, 1, -3, -1, 0]);
    /// m²K/W, of a layer
    pub const RESISTANCE: Self = Self([0, -1, 3, 1, 0]);
    /// kg/m³
    pub const DENSITY: Self = Self([-3, 1, 0, 0, 0]);
    /// J/kgK
    pub const SPECIFIC_HEAT: Self = Self([2, 0, -2, -1, 0]);
    /// Pa
    pub const PRESSURE: Self = Self([-1, 1, -2, 0, 0]);
    /// V
    pub const VOLTAGE: Self = Self([2, 1, -3, 0, -1]);

    /// Its name with an article; base units if it has no name.
    pub fn name(self) -> String {
        NAMES
            .iter()
            .find(|(dim, _)| *dim == self)
            .map_or_else(|| self.to_string(), |(_, name)| (*name).into())
    }
}

const NAMES: &[(Dim, &str)] = &[
    (Dim::NONE, "a plain number"),
    (Dim::LENGTH, "a length"),
    (Dim::AREA, "an area"),
    (Dim::VOLUME, "a volume"),
    (Dim::MASS, "a mass"),
    (Dim::TIME, "a time"),
    (Dim::DIFFERENCE, "a temperature difference"),
    (Dim::DEGREE_TIME, "an index of degree-days"),
    (Dim::POWER, "a heat flow"),
    (Dim::ENERGY, "an amount of heat"),
    (Dim::CONDUCTANCE, "a thermal transmittance"),
    (Dim::CONDUCTIVITY, "a conductivity"),
    (Dim::FILM, "a surface film"),
    (Dim::RESISTANCE, "a thermal resistance"),
    (Dim::DENSITY, "a density"),
    (Dim::SPECIFIC_HEAT, "a specific heat"),
    (Dim::PRESSURE, "a pressure"),
    (Dim::VOLTAGE, "a voltage"),
];

impl Mul for Dim {
    type Output = Self;
    fn mul(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i].saturating_add(other.0[i])))
    }
}

impl Div for Dim {
    type Output = Self;
    fn div(self, other: Self) -> Self {
        Self(std::array::from_fn(|i| self.0[i].saturating_sub(other.0[i])))
    }
}

impl fmt::Display for Dim {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut first = true;
        for (power, unit) in self.0.iter().zip(["m", "kg", "s", "K", "A"]) {
            if *power != 0 {
                let dot = if first { "" } else { "·" };
                let exponent = if *power == 1 { String::new() } else { power.to_string() };
                write!(f, "{dot}{unit}{exponent}")?;
                first = false;
            }
        }
        if first { write!(f, "1") } else { Ok(()) }
    }
}

/// What a quantity measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Measure {
    /// A point on a temperature scale, K inside. Two of them cannot be added.
    Temperature,
    /// Anything else; a temperature *difference* is `Of(Dim::DIFFERENCE)`.
    Of(Dim),
}

impl Measure {
    /// Its name with an article.
    pub fn name(self) -> String {
        match self {
            Self::Temperature => "a temperature".into(),
            Self::Of(dim) => dim.name(),
        }
    }
}
