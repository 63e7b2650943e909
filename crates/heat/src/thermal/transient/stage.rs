//! One stage of a step: contents and temperatures that agree, by Newton's method on a curve of straight segments.

use super::{CachedFactorization, State, Transient, worse};
use crate::thermal::error::NetworkError;
use crate::thermal::factor::Factorization;
use std::ops::Range;

/// A stage has converged when every cell is within this, K.
const SOLVED: f64 = 1e-7;
/// Lengths of step whose factorizations are kept. Steps in which a cell freezes mostly have one of as many lengths.
const KEPT: usize = 4;
/// Iterations within a stage before the step is halved.
const ITERATIONS: usize = 25;

impl Transient<'_> {
    /// Extrapolates contents at these rates, s: a better start for the iteration of a stage.
    pub(super) fn guess(&mut self, from: &[f64], rates: &[f64], time: f64) {
        for (cell, content) in self.state.contents.iter_mut().enumerate() {
            *content = from[cell] + time * rates[cell];
        }
        for (cell, store) in self.stores.iter().enumerate() {
            if store.volume == 0.0 {
                self.state.temperatures[cell] = self.state.contents[cell] / store.capacity;
            }
        }
        self.state.update_temperatures(&self.wet, &self.stores, &self.substance);
    }

    /// Solves for contents E = `from` + `stage_length` × heat flow into the cells at E. `false` if that does not converge.
    pub(super) fn stage(
        &mut self,
        from: &[f64],
        stage_length: f64,
        outside: &[f64],
    ) -> Result<bool, NetworkError> {
        let pattern = self.solver.pattern();
        let mut lacking = self.lacking(from, stage_length, outside);
        let mut within = 0..lacking.len();
        for _ in 0..ITERATIONS {
            let number = self.matrix(stage_length)?;
            self.cached[number].factorization.solve_within(pattern, &mut lacking, within, &mut self.scratch);
            self.effort.solved += 1;
            let State { contents, temperatures, slopes, .. } = &mut self.state;
            for (((content, temperature), slope), change) in
                contents.iter_mut().zip(&mut *temperatures).zip(&*slopes).zip(&lacking)
            {
                *content += slope * change;
                *temperature += change;
            }
            let linear: Vec<f64> = self.wet.iter().map(|&cell| self.state.temperatures[cell]).collect();
            self.state.update_temperatures(&self.wet, &self.stores, &self.substance);
            // If every cell is still on the segment its slope was taken from, the equations were linear and are solved.
            let left = |wet: &usize| self.cached[number].segments[*wet] != self.state.segments[*wet];
            let bent: Vec<usize> = (0..self.wet.len()).filter(left).collect();
            if bent.is_empty() {
                return Ok(lacking.iter().all(|change| change.is_finite()));
            }
            let off;
            (within, off) = self.lacking_beside(&bent, &linear, stage_length, &mut lacking);
            if off.is_nan() || off <= SOLVED {
                return Ok(!off.is_nan());
            }
        }
        Ok(false)
    }

    /// The residual of each cell, W: heat flow into it less the rise of its content.
    fn lacking(&self, from: &[f64], stage_length: f64, outside: &[f64]) -> Vec<f64> {
        let State { contents, temperatures, .. } = &self.state;
        let mut lacking: Vec<f64> =
            from.iter().zip(contents).map(|(from, content)| (from - content) / stage_length).collect();
        for (surface, &value) in self.network.surfaces().iter().zip(&self.conductances.surfaces) {
            lacking[surface.cell] += value * (outside[surface.boundary] - temperatures[surface.cell]);
        }
        for (link, &value) in self.network.links().iter().zip(&self.conductances.links) {
            let [a, b] = link.cells;
            let flow = value * (temperatures[a] - temperatures[b]);
            lacking[a] -= flow;
            lacking[b] += flow;
        }
        lacking
    }

    /// The residual after a solution, W: zero except beside wet cells that left their segment, whose temperature is not the
    /// `linear` one that was solved for. Returns the positions in the band where it is not zero, and the largest error, K.
    fn lacking_beside(
        &self,
        bent: &[usize],
        linear: &[f64],
        stage_length: f64,
        lacking: &mut [f64],
    ) -> (Range<usize>, f64) {
        let order = &self.solver.pattern().order;
        lacking.fill(0.0);
        let mut touched = Vec::new();
        for &wet in bent {
            let cell = self.wet[wet];
            let excess = self.state.temperatures[cell] - linear[wet];
            lacking[cell] -= self.surface_conductance[cell] * excess;
            touched.push(cell);
            for &link in &self.links_by_wet[wet] {
                let [a, b] = self.network.links()[link].cells;
                let other = if a == cell { b } else { a };
                let flow = self.conductances.links[link] * excess;
                lacking[cell] -= flow;
                lacking[other] += flow;
                touched.push(other);
            }
        }
        let (mut from, mut to, mut off) = (order.len(), 0, 0.0);
        for cell in touched {
            (from, to) = (from.min(order[cell]), to.max(order[cell]));
            off = worse(off, self.off(cell, lacking[cell], stage_length));
        }
        (from..to + 1, off)
    }

    /// The error in a cell's temperature that a residual amounts to, K.
    fn off(&self, cell: usize, lacking: f64, stage_length: f64) -> f64 {
        let store = &self.stores[cell];
        lacking.abs() * stage_length / (store.capacity + store.volume * self.substance.sensible())
    }

    /// The index of the factorization for a length of stage, updated to the present state.
    fn matrix(&mut self, stage_length: f64) -> Result<usize, NetworkError> {
        let pattern = self.solver.pattern();
        let State { slopes, segments, .. } = &self.state;
        let diagonal = |cell: usize| slopes[cell] / stage_length + self.surface_conductance[cell];
        let links = &self.conductances.links;
        let number = match self.cached.iter().position(|made| made.stage_length == stage_length) {
            Some(number) => {
                let factorization = &mut self.cached[number].factorization;
                let links = self.links_beside_wet.iter().map(|&link| (link, links[link]));
                let diagonals = self.wet.iter().map(|&cell| (cell, diagonal(cell)));
                self.effort.factorized += usize::from(factorization.update(pattern, links, diagonals)?);
                number
            }
            None => {
                self.effort.factorized += 1;
                let diagonals = (0..slopes.len()).map(diagonal);
                if self.cached.len() == KEPT {
                    self.cached.rotate_left(1);
                    let factorization = &mut self.cached[KEPT - 1].factorization;
                    factorization.update(
                        pattern,
                        links.iter().copied().enumerate(),
                        diagonals.enumerate(),
                    )?;
                } else {
                    let factorization = Factorization::new(pattern, links.clone(), diagonals.collect())?;
                    self.cached.push(CachedFactorization {
                        stage_length,
                        segments: Vec::new(),
                        factorization,
                    });
                }
                self.cached.len() - 1
            }
        };
        // The most recently used comes last.
        self.cached[number..].rotate_left(1);
        let number = self.cached.len() - 1;
        let made = &mut self.cached[number];
        made.stage_length = stage_length;
        made.segments.clone_from(segments);
        Ok(number)
    }
}
