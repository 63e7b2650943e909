//! Input and results of a transient: what cells hold, the tolerances of a step, where the heat went.

/// What a cell holds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Store {
    /// Of what does not freeze, J/K.
    pub capacity: f64,
    /// The space filled by the substance, m³; 0 for a cell without any.
    pub volume: f64,
    /// A cell with some of the substance conducts `fixed_conductivity + substance_fraction · k(substance)`, W/mK.
    pub fixed_conductivity: f64,
    /// See `fixed_conductivity`.
    pub substance_fraction: f64,
}

/// Tolerances and step lengths of a transient.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Control {
    /// Error of a step in any cell, K.
    pub kelvin: f64,
    /// Error of a step in any cell that is changing phase, as a fraction of its latent heat.
    pub phase: f64,
    /// First step, s.
    pub first: f64,
    /// Longest step, s.
    pub longest: f64,
}

/// Where the heat went.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// Heat in the cells above what they held at the start, J.
    pub stored: f64,
    /// Heat from each boundary into the cells, J.
    pub boundary_heat: Vec<f64>,
    /// Heat that crossed all surfaces, in either direction, J.
    pub exchanged: f64,
}

impl Account {
    /// The heat unaccounted for, as a fraction of what was exchanged.
    pub fn imbalance(&self) -> f64 {
        let missing = (self.stored - self.boundary_heat.iter().sum::<f64>()).abs();
        if missing == 0.0 { 0.0 } else { missing / self.exchanged }
    }
}

/// Counts of the work a transient took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Steps taken.
    pub steps: usize,
    /// Steps rejected.
    pub rejected: usize,
    /// Matrices factorized.
    pub factorized: usize,
    /// Right-hand sides solved for.
    pub solved: usize,
}
