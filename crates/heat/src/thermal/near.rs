//! Readings of a network that differs a little from one that is solved, without factorizing it anew.
//!
//! A reading is a mean of cells, r·w. With the response q of a reading, K q = r, and what weights near the right ones lack,
//! b - K'w, its value at conductances K' is r·w + q·(b - K'w) but for an error of second order: one product for any number of
//! changes. Where that is not enough, conjugate gradients on the factors of K bring the weights nearer.

use super::error::NetworkError;
use super::factor::Scratch;
use super::network::{Conductances, Network, Values};
use super::steady::{Factors, Solver};

/// A solved network, and readings of it.
#[derive(Debug)]
pub struct Solution {
    factors: Factors,
    values: Values,
    conductances: Conductances,
    boundary: usize,
    /// The weight of the boundary in each cell.
    weights: Vec<f64>,
    readings: Vec<Reading>,
}

/// A mean of some cells.
#[derive(Debug)]
struct Reading {
    cells: Vec<(usize, f64)>,
    /// How it responds to heat put into each cell, K/W.
    response: Vec<f64>,
}

impl Reading {
    fn of(&self, weights: &[f64]) -> f64 {
        self.cells.iter().map(|&(cell, part)| part * weights[cell]).sum()
    }
}

impl Solution {
    /// The conductivities and films that it was solved with.
    pub fn values(&self) -> &Values {
        &self.values
    }

    /// The weight of the boundary in each cell.
    pub(crate) fn weights(&self) -> &[f64] {
        &self.weights
    }

    /// The factors that it was solved with, for what comes next.
    pub(crate) fn into_factors(self) -> Factors {
        self.factors
    }
}

impl Solver {
    /// The weights of a boundary in a network as solved with these factors, with readings: cells and their parts.
    pub fn solution(
        &self,
        network: &Network,
        factors: Factors,
        boundary: usize,
        weights: Vec<f64>,
        readings: &[&[(usize, f64)]],
    ) -> Result<Solution, NetworkError> {
        let cells = self.pattern().cells();
        if !self.is_of(network) || weights.len() != cells {
            return Err(NetworkError::NotAnalysed);
        }
        let mut responses = vec![0.0; cells * readings.len()];
        for (response, reading) in responses.chunks_exact_mut(cells).zip(readings) {
            for &(cell, part) in *reading {
                response[cell] += part;
            }
        }
        factors.made()?.solve(self.pattern(), &mut responses);
        let readings = readings.iter().zip(responses.chunks_exact(cells));
        let readings =
            readings.map(|(it, response)| Reading { cells: it.to_vec(), response: response.to_vec() });
        let (values, conductances) = (network.values().clone(), network.conductances()?);
        Ok(Solution { factors, values, conductances, boundary, weights, readings: readings.collect() })
    }

    /// The readings of the solved network at other conductivities and films, until a better estimate changes none of them by
    /// more than `within`.
    pub fn read_near(
        &self,
        solution: &Solution,
        network: &Network,
        within: f64,
    ) -> Result<Vec<f64>, NetworkError> {
        if !self.is_of(network) {
            return Err(NetworkError::NotAnalysed);
        }
        let conductances = network.conductances_near(&solution.values, &solution.conductances)?;
        self.read(solution, network, &conductances, &mut solution.weights.clone(), within)
    }

    /// The same of a network with other sizes, which has the same cells, links and surfaces. `weights` has weights that are near
    /// at first, such as those of the solution, and nearer ones in the end.
    pub(crate) fn read_resized(
        &self,
        solution: &Solution,
        network: &Network,
        weights: &mut [f64],
        within: f64,
    ) -> Result<Vec<f64>, NetworkError> {
        if !self.is_of(network) || weights.len() != solution.weights.len() {
            return Err(NetworkError::NotAnalysed);
        }
        self.read(solution, network, &network.conductances()?, weights, within)
    }

    fn read(
        &self,
        solution: &Solution,
        network: &Network,
        conductances: &Conductances,
        weights: &mut [f64],
        within: f64,
    ) -> Result<Vec<f64>, NetworkError> {
        /// Estimates; two or three are the rule.
        const ESTIMATES: usize = 40;
        let Solution { factors, boundary, readings, .. } = solution;
        let (cells, factor) = (weights.len(), factors.made()?);
        let mut lacking = vec![0.0; cells];
        inflow(network, conductances, Some(*boundary), weights, &mut lacking);
        let (mut direction, mut taken, mut nearer) = (vec![0.0; cells], vec![0.0; cells], vec![0.0; cells]);
        let mut room = Scratch::default();
        let mut before = f64::INFINITY;
        let mut estimates: Vec<[f64; 2]> = readings.iter().map(|it| [it.of(weights), f64::NAN]).collect();
        for _ in 0..ESTIMATES {
            let mut is_found = true;
            for (reading, [estimate, moved]) in readings.iter().zip(&mut estimates) {
                let better = reading.of(weights) + dot(&reading.response, &lacking);
                let before = std::mem::replace(moved, (better - *estimate).abs());
                *estimate = better;
                // Each moves it by a like part of what the one before did; the first by what may be half of all. One that
                // hardly moves it may do so by chance: no more than tenfold is taken for progress.
                let step = moved.max(before / 10.0);
                let next = if before > 0.0 { step / before * step } else { *moved };
                is_found &= next <= within;
            }
            if is_found {
                return Ok(estimates.into_iter().map(|[estimate, _]| estimate).collect());
            }
            nearer.copy_from_slice(&lacking);
            factor.solve_within(self.pattern(), &mut nearer, 0..cells, &mut room);
            let now = dot(&lacking, &nearer);
            for (direction, nearer) in direction.iter_mut().zip(&nearer) {
                *direction = nearer + now / before * *direction;
            }
            before = now;
            inflow(network, conductances, None, &direction, &mut taken);
            let length = -now / dot(&direction, &taken);
            for (cell, weight) in weights.iter_mut().enumerate() {
                *weight += length * direction[cell];
                lacking[cell] += length * taken[cell];
            }
        }
        Err(NetworkError::Factorization)
    }
}

/// What flows into each cell with a boundary at 1, if any, and the others at 0, W/K.
fn inflow(
    network: &Network,
    conductances: &Conductances,
    boundary: Option<usize>,
    weights: &[f64],
    inflow: &mut [f64],
) {
    inflow.fill(0.0);
    for (surface, &value) in network.surfaces().iter().zip(&conductances.surfaces) {
        let outside = f64::from(u8::from(Some(surface.boundary) == boundary));
        inflow[surface.cell] += value * (outside - weights[surface.cell]);
    }
    for (link, &value) in network.links().iter().zip(&conductances.links) {
        let [a, b] = link.cells;
        let flow = value * (weights[a] - weights[b]);
        inflow[a] -= flow;
        inflow[b] += flow;
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

#[cfg(test)]
mod tests {
    use super::super::network::{Link, Surface};
    use super::*;
    use proptest::prelude::*;

    /// Cells in a ladder, each joined to one of two boundaries through a film.
    fn network(conductivities: &[f64], films: &[f64]) -> Network {
        let mut network = Network::new(2);
        for (cell, &conductivity) in conductivities.iter().enumerate() {
            network.add_cell(conductivity).unwrap();
            for before in [1, 3].into_iter().filter_map(|back| cell.checked_sub(back)) {
                network.link(Link { cells: [before, cell], half: [0.7, 1.3], extra: 0.0 }).unwrap();
            }
            let surface = Surface { cell, boundary: cell % 2, half: 0.5, area: 2.0, tag: 0 };
            network.meet(surface, films[cell % films.len()]).unwrap();
        }
        network
    }

    proptest! {
        #[test]
        fn readings_are_those_of_the_other_network_solved_by_itself(
            conductivities in prop::collection::vec(0.1_f64..10.0, 4..24),
            films in prop::collection::vec(0.05_f64..5.0, 3),
            ratios in prop::collection::vec(0.3_f64..3.0, 24),
        ) {
            let solved = network(&conductivities, &films);
            let other: Vec<f64> = conductivities.iter().zip(&ratios).map(|(it, ratio)| it * ratio).collect();
            let other_films: Vec<f64> = films.iter().zip(&ratios).map(|(it, ratio)| it / ratio).collect();
            let other = network(&other, &other_films);
            let solver = Solver::analyse(&solved).unwrap();
            let mut factors = Factors::default();
            let (weights, _) = solver.solve_one(&solved, 1, &mut factors).unwrap();
            let (expected, _) = solver.solve_one(&other, 1, &mut Factors::default()).unwrap();
            let readings: [&[(usize, f64)]; 2] = [&[(0, 1.0)], &[(1, 0.25), (3, 0.75)]];
            let solution = solver.solution(&solved, factors, 1, weights, &readings).unwrap();
            let read = solver.read_near(&solution, &other, 1e-9).unwrap();
            for (read, cells) in read.into_iter().zip(readings) {
                let expected: f64 = cells.iter().map(|&(cell, part)| part * expected[cell]).sum();
                // The next estimate would move it by no more than 1e-9; a hundred times that is none of it.
                prop_assert!((read - expected).abs() < 1e-7, "{read} {expected}");
            }
        }
    }

    #[test]
    fn a_network_that_was_not_analysed_is_refused() {
        let [solved, other] = [4, 5].map(|cells| network(&vec![1.0; cells], &[1.0]));
        let solver = Solver::analyse(&solved).unwrap();
        let mut factors = Factors::default();
        let (weights, _) = solver.solve_one(&solved, 1, &mut factors).unwrap();
        let solution = solver.solution(&solved, factors, 1, weights, &[&[(0, 1.0)]]).unwrap();
        assert_eq!(solver.read_near(&solution, &other, 1e-6).unwrap_err(), NetworkError::NotAnalysed);
    }
}
