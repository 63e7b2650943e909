//! One stage of a step: contents and temperatures that go together, by Newton's method on straight stretches.

use super::{Made, State, Transient, worse};
use crate::thermal::error::NetworkError;
use crate::thermal::factor::Factor;
use std::ops::Range;

/// Each stage is solved until no cell is further off than this, as a temperature.
const SOLVED: f64 = 1e-7;
/// Lengths of step whose factors are kept, and their memory. A step that freezes a cell mostly has one of as many lengths.
const KEPT: usize = 4;
/// Iterations within a stage before the step is halved.
const ITERATIONS: usize = 25;

impl Transient<'_> {
    /// Sets contents where they come to at these rates: a better place for a stage to start from.
    pub(super) fn guess(&mut self, from: &[f64], rates: &[f64], interval: f64) {
        for (cell, content) in self.state.contents.iter_mut().enumerate() {
            *content = from[cell] + interval * rates[cell];
        }
        for (cell, store) in self.stores.iter().enumerate() {
            if store.volume == 0.0 {
                self.state.temperatures[cell] = self.state.contents[cell] / store.capacity;
            }
        }
        self.state.settle(&self.wet, &self.stores, &self.substance);
    }

    /// Finds contents E = `from` + `interval` x what flows in at E itself. `false` where that does not settle.
    pub(super) fn stage(
        &mut self,
        from: &[f64],
        interval: f64,
        outside: &[f64],
    ) -> Result<bool, NetworkError> {
        let pattern = self.solver.pattern();
        let mut lacking = self.lacking(from, interval, outside);
        let mut within = 0..lacking.len();
        for _ in 0..ITERATIONS {
            let number = self.matrix(interval)?;
            self.matrices[number].factor.solve_within(pattern, &mut lacking, within, &mut self.scratch);
            self.effort.solved += 1;
            let State { contents, temperatures, slopes, .. } = &mut self.state;
            for (((content, temperature), slope), change) in
                contents.iter_mut().zip(&mut *temperatures).zip(&*slopes).zip(&lacking)
            {
                *content += slope * change;
                *temperature += change;
            }
            let linear: Vec<f64> = self.wet.iter().map(|&cell| self.state.temperatures[cell]).collect();
            self.state.settle(&self.wet, &self.stores, &self.substance);
            // Where no cell has left the stretch its slope was taken from, the equations were linear and are solved.
            let left = |wet: &usize| self.matrices[number].stretches[*wet] != self.state.stretches[*wet];
            let bent: Vec<usize> = (0..self.wet.len()).filter(left).collect();
            if bent.is_empty() {
                return Ok(lacking.iter().all(|change| change.is_finite()));
            }
            let off;
            (within, off) = self.lacking_beside(&bent, &linear, interval, &mut lacking);
            if off.is_nan() || off <= SOLVED {
                return Ok(!off.is_nan());
            }
        }
        Ok(false)
    }

    /// What each cell still lacks, W.
    fn lacking(&self, from: &[f64], interval: f64, outside: &[f64]) -> Vec<f64> {
        let State { contents, temperatures, .. } = &self.state;
        let mut lacking: Vec<f64> =
            from.iter().zip(contents).map(|(from, content)| (from - content) / interval).collect();
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

    /// What cells lack after a solution, W: nothing but beside wet cells that left their stretch, whose temperature is not
    /// the `linear` one that was solved for. Gives the positions in the band where that is, and the worst of it.
    fn lacking_beside(
        &self,
        bent: &[usize],
        linear: &[f64],
        interval: f64,
        lacking: &mut [f64],
    ) -> (Range<usize>, f64) {
        let order = &self.solver.pattern().order;
        lacking.fill(0.0);
        let mut touched = Vec::new();
        for &wet in bent {
            let cell = self.wet[wet];
            let excess = self.state.temperatures[cell] - linear[wet];
            lacking[cell] -= self.losses[cell] * excess;
            touched.push(cell);
            for &link in &self.links_of_wet[wet] {
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
            off = worse(off, self.off(cell, lacking[cell], interval));
        }
        (from..to + 1, off)
    }

    /// How far a cell is off by what it lacks, as a temperature.
    fn off(&self, cell: usize, lacking: f64, interval: f64) -> f64 {
        let store = &self.stores[cell];
        lacking.abs() * interval / (store.capacity + store.volume * self.substance.sensible())
    }

    /// The number of the factors for such a step, brought up to date with the present state.
    fn matrix(&mut self, interval: f64) -> Result<usize, NetworkError> {
        let pattern = self.solver.pattern();
        let State { slopes, stretches, .. } = &self.state;
        let loss = |cell: usize| slopes[cell] / interval + self.losses[cell];
        let links = &self.conductances.links;
        let number = match self.matrices.iter().position(|made| made.interval == interval) {
            Some(number) => {
                let factor = &mut self.matrices[number].factor;
                let links = self.wet_links.iter().map(|&link| (link, links[link]));
                let losses = self.wet.iter().map(|&cell| (cell, loss(cell)));
                self.effort.factorised += usize::from(factor.update(pattern, links, losses)?);
                number
            }
            None => {
                self.effort.factorised += 1;
                let losses = (0..slopes.len()).map(loss);
                if self.matrices.len() == KEPT {
                    self.matrices.rotate_left(1);
                    let factor = &mut self.matrices[KEPT - 1].factor;
                    factor.update(pattern, links.iter().copied().enumerate(), losses.enumerate())?;
                } else {
                    let factor = Factor::new(pattern, links.clone(), losses.collect())?;
                    self.matrices.push(Made { interval, stretches: Vec::new(), factor });
                }
                self.matrices.len() - 1
            }
        };
        // The one used last comes last.
        self.matrices[number..].rotate_left(1);
        let number = self.matrices.len() - 1;
        let made = &mut self.matrices[number];
        made.interval = interval;
        made.stretches.clone_from(stretches);
        Ok(number)
    }
}
