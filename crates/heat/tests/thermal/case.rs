//! What every reference case states, and the one way of holding a result against it.

use coldsill_heat::thermal::{Network, NetworkError, Solver, Weights};

/// A set of values from outside this project.
pub struct Case {
    /// What it is.
    pub name: &'static str,
    /// Edition, page or derivation.
    pub source: &'static str,
    /// Whether the values were had without any code or formula of this project.
    pub independent: bool,
    /// The values, each with what it is, in one unit.
    pub expect: &'static [(&'static str, f64)],
    /// The departure allowed.
    pub tolerance: Within,
    /// Why that much.
    pub because: &'static str,
}

/// A departure allowed.
#[derive(Clone, Copy, Debug)]
pub enum Within {
    /// In the unit of the values.
    Units(f64),
    /// As a part of each value.
    Part(f64),
}

impl Within {
    fn of(self, expect: f64) -> f64 {
        match self {
            Self::Units(most) => most,
            Self::Part(part) => part * expect.abs(),
        }
    }
}

impl Case {
    /// Holds results, in the order of `expect`, against the case. All departures are told at once.
    pub fn hold(&self, got: &[f64]) {
        assert_eq!(got.len(), self.expect.len(), "{}: number of values", self.name);
        let wrong: Vec<String> = self
            .expect
            .iter()
            .zip(got)
            .filter(|((_, expect), got)| got.is_nan() || (*got - expect).abs() > self.tolerance.of(*expect))
            .map(|((what, expect), got)| format!("{what}: {got:.6}, published {expect}"))
            .collect();
        let Self { name, source, independent, tolerance, because, .. } = self;
        let whose = if *independent { "independent" } else { "not independent" };
        assert!(
            wrong.is_empty(),
            "{name} ({source}; {whose}), not within {tolerance:?} ({because}):\n{}",
            wrong.join("\n")
        );
    }
}

/// Analyses and solves, and holds the solution to what every solution must keep: energy to 1e-9 of the flow, weights
/// that sum to 1, the same coupling both ways.
pub fn solved(network: &Network) -> Result<Weights, NetworkError> {
    /// As the design asks of every solve.
    const BALANCE: f64 = 1e-9;
    /// Weights are sums of terms of order 1, rounded in a matrix whose entries span up to five decades.
    const SUM: f64 = 1e-9;
    let weights = Solver::analyse(network)?.solve(network)?;
    assert!(weights.imbalance() <= BALANCE, "energy is off by {:e} of the flow", weights.imbalance());
    assert!(weights.departure() <= SUM, "weights are off by {:e}", weights.departure());
    for a in 0..weights.boundaries() {
        for b in 0..a {
            let (there, back) = (weights.coupling(a, b), weights.coupling(b, a));
            assert!(
                (there - back).abs() <= BALANCE * there.abs().max(back.abs()),
                "{there} there, {back} back"
            );
        }
    }
    Ok(weights)
}
