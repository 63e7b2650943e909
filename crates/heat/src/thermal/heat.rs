//! What a transient is told and what it tells: what cells hold, how closely to follow it, where the heat went.

/// What a cell holds.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Store {
    /// Of what does not freeze, J/K.
    pub capacity: f64,
    /// The space filled by the substance, m³; 0 for a cell without any.
    pub volume: f64,
    /// A cell with some of the substance conducts `bulk` and `share` times what the substance does, W/mK.
    pub bulk: f64,
    /// As `bulk`.
    pub share: f64,
}

/// How closely a transient is followed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Control {
    /// Error of a step in any cell, K.
    pub kelvin: f64,
    /// Error of a step in any cell that is changing phase, as a part of its latent heat.
    pub phase: f64,
    /// First step, s.
    pub first: f64,
    /// Longest step, s.
    pub longest: f64,
}

/// Where the heat went.
#[derive(Clone, Debug, PartialEq)]
pub struct Account {
    /// What the cells hold more than at the start, J.
    pub stored: f64,
    /// What each boundary has given, J.
    pub given: Vec<f64>,
    /// What went through all surfaces either way, J.
    pub exchanged: f64,
}

impl Account {
    /// What is missing, as a part of what was exchanged.
    pub fn imbalance(&self) -> f64 {
        let missing = (self.stored - self.given.iter().sum::<f64>()).abs();
        if missing == 0.0 { 0.0 } else { missing / self.exchanged }
    }
}

/// What it took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Steps taken.
    pub steps: usize,
    /// Steps tried and taken back.
    pub rejected: usize,
    /// Matrices factorised.
    pub factorised: usize,
    /// Right-hand sides solved for.
    pub solved: usize,
}
