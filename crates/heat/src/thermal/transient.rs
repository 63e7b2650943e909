//! A network in time: what its cells hold, heat and change of phase together, carried forward implicitly on the same
//! links and surfaces as the steady state.
//!
//! The unknown is each cell's content \[J\] (the enthalpy method), so that heat is kept whatever freezes. A step has two
//! implicit stages with one matrix (Alexander's L-stable method of second order); its error is the difference from
//! the first-order solution within it. Steps are halved and doubled: each length keeps its factors, which are renewed only
//! around cells that change their stretch of the curve.

mod front;
mod stage;

use super::error::NetworkError;
use super::factor::{Factor, Scratch};
use super::heat::{Account, Control, Effort, Store};
use super::network::{Conductances, Network};
use super::steady::Solver;
use super::substance::Substance;

/// γ of the two-stage method: 1 − 1/√2.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// A longer step is tried below this part of the tolerated error: doubling makes four times as much.
const SMALL: f64 = 0.1;
/// A rejected step is cut to no less than an eighth of its length before the next try.
const MAX_CUT: f64 = 8.0;

/// Contents, temperatures and dE/dT of all cells.
#[derive(Clone, Debug)]
struct State {
    /// J
    contents: Vec<f64>,
    temperatures: Vec<f64>,
    /// J/K
    slopes: Vec<f64>,
    /// Stretch of the substance's curve, wet cell by wet cell.
    stretches: Vec<usize>,
}

/// A matrix and what it was made for.
struct Made {
    interval: f64,
    stretches: Vec<usize>,
    factor: Factor,
}

/// A network on its way through time.
pub struct Transient<'a> {
    solver: &'a Solver,
    network: Network,
    conductances: Conductances,
    substance: Substance,
    stores: Vec<Store>,
    /// Cells with some of the substance, and their links and surfaces.
    wet: Vec<usize>,
    wet_links: Vec<usize>,
    wet_surfaces: Vec<usize>,
    /// The links of each wet cell.
    links_of_wet: Vec<Vec<usize>>,
    /// What each cell exchanges through its surfaces, W/K.
    losses: Vec<f64>,
    control: Control,
    state: State,
    /// As it was before the last step.
    before: State,
    /// Working memory of a solution, reused from step to step.
    scratch: Scratch,
    /// Those of the last `KEPT` lengths of step, the one used last at the end.
    matrices: Vec<Made>,
    time: f64,
    step: f64,
    started_with: f64,
    given: Vec<f64>,
    exchanged: f64,
    effort: Effort,
}

impl<'a> Transient<'a> {
    /// Sets out at time 0 with given temperatures. `stores` has one entry a cell; every cell has to hold something.
    pub fn new(
        solver: &'a Solver,
        network: Network,
        stores: Vec<Store>,
        substance: Substance,
        temperatures: Vec<f64>,
        control: Control,
    ) -> Result<Self, NetworkError> {
        let cells = network.cells();
        if !solver.is_of(&network) || stores.len() != cells || temperatures.len() != cells {
            return Err(NetworkError::NotAnalysed);
        }
        let limits = [control.kelvin, control.phase, control.first, control.longest];
        if !limits.iter().all(|it| it.is_finite() && *it > 0.0) {
            return Err(NetworkError::Control);
        }
        let usable = |it: &Store| {
            let parts = [it.capacity, it.volume, it.bulk, it.share];
            let conducts = it.volume == 0.0 || it.bulk + it.share > 0.0;
            parts.iter().all(|x| x.is_finite() && *x >= 0.0) && it.capacity + it.volume > 0.0 && conducts
        };
        if let Some(cell) = (0..cells).find(|&it| !usable(&stores[it]) || !temperatures[it].is_finite()) {
            return Err(NetworkError::Store { cell });
        }
        let wet: Vec<usize> = (0..cells).filter(|&cell| stores[cell].volume > 0.0).collect();
        let mut contents: Vec<f64> = stores
            .iter()
            .zip(&temperatures)
            .map(|(store, temperature)| store.capacity * temperature)
            .collect();
        for &cell in &wet {
            contents[cell] += stores[cell].volume * substance.enthalpy(temperatures[cell]);
        }
        let slopes = stores.iter().map(|it| it.capacity).collect();
        let mut state = State { contents, temperatures, slopes, stretches: vec![0; wet.len()] };
        state.settle(&wet, &stores, &substance);
        let conductances = network.conductances()?;
        let mut wet_of_cell = vec![None; cells];
        for (number, &cell) in wet.iter().enumerate() {
            wet_of_cell[cell] = Some(number);
        }
        let mut links_of_wet = vec![Vec::new(); wet.len()];
        for (number, link) in network.links().iter().enumerate() {
            for wet in link.cells.into_iter().filter_map(|cell| wet_of_cell[cell]) {
                links_of_wet[wet].push(number);
            }
        }
        let losses = lost_through_surfaces(&network, &conductances);
        Ok(Self {
            solver,
            conductances,
            links_of_wet,
            losses,
            given: vec![0.0; network.boundaries()],
            wet_links: (0..network.links().len())
                .filter(|&it| network.links()[it].cells.iter().any(|&cell| stores[cell].volume > 0.0))
                .collect(),
            wet_surfaces: (0..network.surfaces().len())
                .filter(|&it| stores[network.surfaces()[it].cell].volume > 0.0)
                .collect(),
            network,
            substance,
            stores,
            wet,
            before: state.clone(),
            started_with: state.contents.iter().sum(),
            state,
            scratch: Scratch::default(),
            matrices: Vec::new(),
            time: 0.0,
            step: control.first.min(control.longest),
            control,
            exchanged: 0.0,
            effort: Effort::default(),
        })
    }

    /// Takes one step, as long as the error allows, and gives when it began and when it ends. `outside` gives the
    /// temperature of each boundary at a time.
    pub fn advance(&mut self, outside: &dyn Fn(f64) -> Vec<f64>) -> Result<[f64; 2], NetworkError> {
        /// A step shorter than this part of the longest leads nowhere.
        const SHORTEST: f64 = 1e-9;
        self.refresh(&outside(self.time));
        loop {
            if self.step < SHORTEST * self.control.longest {
                return Err(NetworkError::StuckAt { time: self.time });
            }
            let error = self.attempt(outside)?;
            if let Some(error) = error.filter(|error| *error <= 1.0) {
                self.effort.steps += 1;
                let began = self.time;
                self.time += self.step;
                if error < SMALL && 2.0 * self.step <= self.control.longest {
                    self.step *= 2.0;
                }
                return Ok([began, self.time]);
            }
            self.effort.rejected += 1;
            // Where a phase changes the error of a step goes with its length.
            let mut excess = error.filter(|error| error.is_finite()).unwrap_or(2.0).min(MAX_CUT);
            while excess > 1.0 {
                self.step *= 0.5;
                excess *= 0.5;
            }
        }
    }

    /// Makes the next step no longer than this, s.
    pub fn step_at_most(&mut self, longest: f64) {
        while self.step > longest && longest > 0.0 {
            self.step *= 0.5;
        }
    }

    /// Both stages of a step. The error as a part of what is tolerated: above 1 the step was taken back. Nothing where a
    /// stage did not settle.
    fn attempt(&mut self, outside: &dyn Fn(f64) -> Vec<f64>) -> Result<Option<f64>, NetworkError> {
        let (step, cells) = (self.step, self.stores.len());
        let interval = GAMMA * step;
        let start = self.state.clone();
        let early = outside(self.time + interval);
        if !self.stage(&start.contents, interval, &early)? {
            self.state = start;
            return Ok(None);
        }
        let early_flows = self.flows(&early);
        let rate = |cell: usize, now: &State| (now.contents[cell] - start.contents[cell]) / interval;
        let rates: Vec<f64> = (0..cells).map(|cell| rate(cell, &self.state)).collect();
        let from: Vec<f64> =
            (0..cells).map(|cell| start.contents[cell] + (1.0 - GAMMA) * step * rates[cell]).collect();
        let late = outside(self.time + step);
        self.guess(&start.contents, &rates, step);
        if !self.stage(&from, interval, &late)? {
            self.state = start;
            return Ok(None);
        }
        // The first-order solution within the step goes on at the first stage's rate.
        let mut error = 0.0;
        for cell in 0..cells {
            let off = self.state.contents[cell] - from[cell] - interval * rates[cell];
            error = worse(error, off.abs() / self.tolerated(cell, &start));
        }
        if error.is_nan() || error > 1.0 {
            self.state = start;
            return Ok(Some(error));
        }
        for (boundary, (early, late)) in early_flows.into_iter().zip(self.flows(&late)).enumerate() {
            let heat = step * ((1.0 - GAMMA) * early[0] + GAMMA * late[0]);
            self.given[boundary] += heat;
            self.exchanged += step * ((1.0 - GAMMA) * early[1] + GAMMA * late[1]);
        }
        self.before = start;
        Ok(Some(error))
    }

    /// What a cell may be off by after a step, J.
    fn tolerated(&self, cell: usize, start: &State) -> f64 {
        let store = &self.stores[cell];
        let sensible = self.control.kelvin * (store.capacity + store.volume * self.substance.sensible());
        if store.volume == 0.0 {
            return sensible;
        }
        let frozen = [start, &self.state].map(|it| self.substance.frozen(self.enthalpy(cell, it)));
        let changes = frozen[0] != frozen[1] || frozen[0] > 0.0 && frozen[0] < 1.0;
        sensible + if changes { self.control.phase * store.volume * self.substance.latent() } else { 0.0 }
    }

    /// Heat each boundary gives, net and regardless of its direction, W.
    fn flows(&self, outside: &[f64]) -> Vec<[f64; 2]> {
        let mut flows = vec![[0.0; 2]; outside.len()];
        for (surface, &value) in self.network.surfaces().iter().zip(&self.conductances.surfaces) {
            let flow = value * (outside[surface.boundary] - self.state.temperatures[surface.cell]);
            flows[surface.boundary][0] += flow;
            flows[surface.boundary][1] += flow.abs();
        }
        flows
    }

    /// Enthalpy of the substance in a wet cell, J/m³.
    fn enthalpy(&self, cell: usize, state: &State) -> f64 {
        let store = &self.stores[cell];
        (state.contents[cell] - store.capacity * state.temperatures[cell]) / store.volume
    }

    /// s since it set out.
    pub fn time(&self) -> f64 {
        self.time
    }

    /// The temperature of each cell.
    pub fn temperatures(&self) -> &[f64] {
        &self.state.temperatures
    }

    /// The temperature of each cell before the last step.
    pub fn temperatures_before(&self) -> &[f64] {
        &self.before.temperatures
    }

    /// How much of a cell's substance is frozen, before the last step and now, 0 to 1; 0 for a cell without any.
    pub fn frozen(&self, cell: usize) -> [f64; 2] {
        if self.stores[cell].volume == 0.0 {
            return [0.0; 2];
        }
        [&self.before, &self.state].map(|it| self.substance.frozen(self.enthalpy(cell, it)))
    }

    /// The part of the last step after which a cell began to freeze or was all thawed again, along a straight line;
    /// nothing where it did neither.
    pub fn crosses_freezing(&self, cell: usize) -> Option<f64> {
        let Store { capacity, volume, .. } = self.stores[cell];
        let point = self.substance.freezes_at();
        let level = capacity * point + volume * self.substance.enthalpy(point);
        let [before, now] = [&self.before, &self.state].map(|it| it.contents[cell] - level);
        (volume > 0.0 && (before < 0.0) != (now < 0.0)).then(|| before / (before - now))
    }

    /// Where the heat went so far.
    pub fn account(&self) -> Account {
        Account {
            stored: self.state.contents.iter().sum::<f64>() - self.started_with,
            given: self.given.clone(),
            exchanged: self.exchanged,
        }
    }

    /// What it took so far.
    pub fn effort(&self) -> Effort {
        self.effort
    }
}

/// What each cell exchanges through its surfaces, W/K.
fn lost_through_surfaces(network: &Network, conductances: &Conductances) -> Vec<f64> {
    let mut losses = vec![0.0; network.cells()];
    for (surface, value) in network.surfaces().iter().zip(&conductances.surfaces) {
        losses[surface.cell] += value;
    }
    losses
}

/// The larger, or not a number where one of them is not: `f64::max` passes over that.
fn worse(a: f64, b: f64) -> f64 {
    if a.is_nan() || a > b { a } else { b }
}

impl State {
    /// Temperatures and slopes of wet cells from their contents.
    fn settle(&mut self, wet: &[usize], stores: &[Store], substance: &Substance) {
        for (&cell, stretch) in wet.iter().zip(&mut self.stretches) {
            let Store { capacity, volume, .. } = stores[cell];
            (*stretch, self.slopes[cell], self.temperatures[cell]) =
                substance.state(capacity, volume, self.contents[cell], *stretch);
        }
    }
}
