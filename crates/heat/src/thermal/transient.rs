//! A network in time: the heat its cells hold, change of phase included, integrated implicitly on the links and surfaces of
//! the steady state.
//!
//! The unknown is each cell's content \[J\] (the enthalpy method), so that energy is conserved through a change of phase.
//! A step has two implicit stages with one matrix (Alexander's L-stable method of second order); its error is the
//! difference from the first-order solution within it. Steps are halved and doubled; the factorizations of the last few
//! lengths are kept, and updated only around cells that move to another segment of the curve.

mod front;
mod stage;

use super::error::NetworkError;
use super::factor::{Factorization, Scratch};
use super::heat::{Account, Control, Effort, Store};
use super::network::{Conductances, Network};
use super::steady::Solver;
use super::substance::Substance;

/// γ of the two-stage method: 1 − 1/√2.
const GAMMA: f64 = 1.0 - std::f64::consts::FRAC_1_SQRT_2;
/// The step is doubled if its error is below this fraction of the tolerance: doubling multiplies a second-order error by
/// about four, so a tenth leaves a margin.
const GROW_BELOW: f64 = 0.1;
/// A rejected step is cut to no less than an eighth of its length before the next try.
const MAX_CUT: f64 = 8.0;

/// Contents, temperatures and slopes (content by temperature) of all cells.
#[derive(Clone, Debug)]
struct State {
    /// J
    contents: Vec<f64>,
    /// K
    temperatures: Vec<f64>,
    /// J/K
    slopes: Vec<f64>,
    /// Index of the segment of the substance's curve; one entry for each entry of `Transient::wet`, unlike the vectors above.
    segments: Vec<usize>,
}

/// The factorization of one length of step.
struct CachedFactorization {
    /// γ times the step, s.
    stage_length: f64,
    /// As `State::segments` when it was made.
    segments: Vec<usize>,
    factorization: Factorization,
}

/// A network integrated in time.
pub struct Transient<'a> {
    solver: &'a Solver,
    network: Network,
    conductances: Conductances,
    substance: Substance,
    stores: Vec<Store>,
    /// Cells with some of the substance.
    wet: Vec<usize>,
    /// Links with such a cell at an end.
    links_beside_wet: Vec<usize>,
    /// Surfaces of such cells.
    surfaces_of_wet: Vec<usize>,
    /// The links of each such cell, indexed as `wet`.
    links_by_wet: Vec<Vec<usize>>,
    /// Sum of the conductances of each cell's surfaces, W/K.
    surface_conductance: Vec<f64>,
    control: Control,
    state: State,
    /// The state before the last step.
    before: State,
    /// Working memory of a solution, reused from step to step.
    scratch: Scratch,
    /// Those of the last `KEPT` lengths of step, the most recently used at the end.
    cached: Vec<CachedFactorization>,
    /// s since the start.
    time: f64,
    /// The next step, s.
    step: f64,
    /// Heat in all cells at the start, J.
    initial_heat: f64,
    /// Heat from each boundary into the cells so far, J.
    boundary_heat: Vec<f64>,
    /// Heat that crossed all surfaces so far, in either direction, J.
    exchanged: f64,
    effort: Effort,
}

impl<'a> Transient<'a> {
    /// Starts at time 0 with these temperatures. `stores` has one entry for each cell; every cell needs a heat capacity or
    /// some of the substance.
    pub fn new(
        solver: &'a Solver,
        network: Network,
        stores: Vec<Store>,
        substance: Substance,
        temperatures: Vec<f64>,
        control: Control,
    ) -> Result<Self, NetworkError> {
        let cells = network.cells();
        if !solver.is_of(&network) {
            return Err(NetworkError::NotAnalysed);
        }
        if stores.len() != cells || temperatures.len() != cells {
            return Err(NetworkError::CellCount);
        }
        let limits = [control.kelvin, control.phase, control.first, control.longest];
        if !limits.iter().all(|it| it.is_finite() && *it > 0.0) {
            return Err(NetworkError::Control);
        }
        let usable = |it: &Store| {
            let parts = [it.capacity, it.volume, it.fixed_conductivity, it.substance_fraction];
            let conducts = it.volume == 0.0 || it.fixed_conductivity + it.substance_fraction > 0.0;
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
        let mut state = State { contents, temperatures, slopes, segments: vec![0; wet.len()] };
        state.update_temperatures(&wet, &stores, &substance);
        let conductances = network.conductances()?;
        let mut wet_of_cell = vec![None; cells];
        for (number, &cell) in wet.iter().enumerate() {
            wet_of_cell[cell] = Some(number);
        }
        let mut links_by_wet = vec![Vec::new(); wet.len()];
        for (number, link) in network.links().iter().enumerate() {
            for index in link.cells.into_iter().filter_map(|cell| wet_of_cell[cell]) {
                links_by_wet[index].push(number);
            }
        }
        let surface_conductance = surface_conductance(&network, &conductances);
        Ok(Self {
            solver,
            conductances,
            links_by_wet,
            surface_conductance,
            boundary_heat: vec![0.0; network.boundaries()],
            links_beside_wet: (0..network.links().len())
                .filter(|&it| network.links()[it].cells.iter().any(|&cell| stores[cell].volume > 0.0))
                .collect(),
            surfaces_of_wet: (0..network.surfaces().len())
                .filter(|&it| stores[network.surfaces()[it].cell].volume > 0.0)
                .collect(),
            network,
            substance,
            stores,
            wet,
            before: state.clone(),
            initial_heat: state.contents.iter().sum(),
            state,
            scratch: Scratch::default(),
            cached: Vec::new(),
            time: 0.0,
            step: control.first.min(control.longest),
            control,
            exchanged: 0.0,
            effort: Effort::default(),
        })
    }

    /// Takes one step within the tolerances, at the conductances of its start. Returns when it began and when it ends, s.
    /// `outside` returns the temperature of each boundary at a time.
    pub fn advance(&mut self, outside: &dyn Fn(f64) -> Vec<f64>) -> Result<[f64; 2], NetworkError> {
        /// The shortest step before giving up, as a fraction of the longest.
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
                if error < GROW_BELOW && 2.0 * self.step <= self.control.longest {
                    self.step *= 2.0;
                }
                return Ok([began, self.time]);
            }
            self.effort.rejected += 1;
            // While a phase changes, the error is proportional to the step: halve the step, and with it
            // the expected error (`excess`), until that is within tolerance.
            let mut excess = error.filter(|error| error.is_finite()).unwrap_or(2.0).min(MAX_CUT);
            while excess > 1.0 {
                self.step *= 0.5;
                excess *= 0.5;
            }
        }
    }

    /// Makes the next step no longer than this, s. By halving, so that its length is one of those whose factorizations are kept.
    pub fn step_at_most(&mut self, longest: f64) {
        while self.step > longest && longest > 0.0 {
            self.step *= 0.5;
        }
    }

    /// Tries one step. Returns its error as a fraction of the tolerance; if that is above 1 or NaN, the state is restored.
    /// `None` if a stage did not converge; the state is restored then too.
    fn attempt(&mut self, outside: &dyn Fn(f64) -> Vec<f64>) -> Result<Option<f64>, NetworkError> {
        let (step, cells) = (self.step, self.stores.len());
        let stage_length = GAMMA * step;
        let start = self.state.clone();
        let early = outside(self.time + stage_length);
        if !self.stage(&start.contents, stage_length, &early)? {
            self.state = start;
            return Ok(None);
        }
        let early_flows = self.flows(&early);
        let rate = |cell: usize, now: &State| (now.contents[cell] - start.contents[cell]) / stage_length;
        let rates: Vec<f64> = (0..cells).map(|cell| rate(cell, &self.state)).collect();
        let from: Vec<f64> =
            (0..cells).map(|cell| start.contents[cell] + (1.0 - GAMMA) * step * rates[cell]).collect();
        let late = outside(self.time + step);
        self.guess(&start.contents, &rates, step);
        if !self.stage(&from, stage_length, &late)? {
            self.state = start;
            return Ok(None);
        }
        // The first-order solution within the step goes on at the first stage's rate.
        let mut error = 0.0;
        for cell in 0..cells {
            let off = self.state.contents[cell] - from[cell] - stage_length * rates[cell];
            error = worse(error, off.abs() / self.tolerated(cell, &start));
        }
        if error.is_nan() || error > 1.0 {
            self.state = start;
            return Ok(Some(error));
        }
        for (boundary, (early, late)) in early_flows.into_iter().zip(self.flows(&late)).enumerate() {
            let heat = step * ((1.0 - GAMMA) * early[0] + GAMMA * late[0]);
            self.boundary_heat[boundary] += heat;
            self.exchanged += step * ((1.0 - GAMMA) * early[1] + GAMMA * late[1]);
        }
        self.before = start;
        Ok(Some(error))
    }

    /// The tolerated error of a cell's content after a step, J.
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

    /// Heat flow from each boundary, W: net, and the sum in either direction.
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

    /// s since the start.
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

    /// The fraction of the last step after which a cell began to freeze or was all thawed, by linear interpolation; `None` if
    /// it did neither.
    pub fn fraction_of_step_at_freezing(&self, cell: usize) -> Option<f64> {
        let Store { capacity, volume, .. } = self.stores[cell];
        let point = self.substance.freezes_at();
        let level = capacity * point + volume * self.substance.enthalpy(point);
        let [before, now] = [&self.before, &self.state].map(|it| it.contents[cell] - level);
        (volume > 0.0 && (before < 0.0) != (now < 0.0)).then(|| before / (before - now))
    }

    /// Where the heat went so far.
    pub fn account(&self) -> Account {
        Account {
            stored: self.state.contents.iter().sum::<f64>() - self.initial_heat,
            boundary_heat: self.boundary_heat.clone(),
            exchanged: self.exchanged,
        }
    }

    /// Counts of the work so far.
    pub fn effort(&self) -> Effort {
        self.effort
    }
}

/// The sum of the conductances of each cell's surfaces, W/K.
fn surface_conductance(network: &Network, conductances: &Conductances) -> Vec<f64> {
    let mut sums = vec![0.0; network.cells()];
    for (surface, value) in network.surfaces().iter().zip(&conductances.surfaces) {
        sums[surface.cell] += value;
    }
    sums
}

/// The larger of two numbers, or NaN if either is: `f64::max` ignores NaN.
fn worse(a: f64, b: f64) -> f64 {
    if a.is_nan() || a > b { a } else { b }
}

impl State {
    /// Sets temperatures and slopes of wet cells from their contents.
    fn update_temperatures(&mut self, wet: &[usize], stores: &[Store], substance: &Substance) {
        for (&cell, segment) in wet.iter().zip(&mut self.segments) {
            let Store { capacity, volume, .. } = stores[cell];
            (*segment, self.slopes[cell], self.temperatures[cell]) =
                substance.state(capacity, volume, self.contents[cell], *segment);
        }
    }
}
