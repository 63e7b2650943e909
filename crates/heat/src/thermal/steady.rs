//! The steady state of a network as weighting factors (ISO 10211): every temperature is a mean of the boundary
//! temperatures, with weights that sum to 1 and depend on nothing but the network. Solved once, they serve every
//! set of boundary temperatures.

use super::band::Pattern;
use super::error::NetworkError;
use super::factor::Factorization;
use super::network::{Conductances, Network, Values};
use std::ops::Range;

/// The energy a solve may lose, as a part of the flow; beyond it the solve is refused.
pub const BALANCE: f64 = 1e-9;

/// Above this part of the flow a solution is refined once more before it is judged.
const REFINE: f64 = 1e-11;

/// A boundary that exchanges less than this part of what one cell does counts as exchanging this much in
/// [`Weights::imbalance`]: its flow is no better known, as every cell's balance is rounded at about 1e-16.
const LEAST_FLOW: f64 = 1e-5;

/// A network's pattern, analysed once. It solves that network at any conductivities and films.
#[derive(Debug)]
pub struct Solver {
    pattern: Pattern,
}

/// The factors of a network as it was solved last; none before the first time. They serve one network only.
#[derive(Debug, Default)]
pub struct Factors {
    made: Option<Factorization>,
    /// What the network had then.
    last: Option<(Values, Conductances)>,
    /// Factors of another network, whose memory is used.
    spare: Option<Factorization>,
}

impl Factors {
    /// No factors, in the memory of others: that of a network need not be asked of the system again for the next.
    #[must_use]
    pub fn renewed(self) -> Self {
        Self { made: None, last: None, spare: self.made.or(self.spare) }
    }

    /// Whether there are any, of this network or another.
    pub(crate) const fn has_memory(&self) -> bool {
        self.made.is_some() || self.spare.is_some()
    }

    /// The factors, once there are some.
    pub(super) fn made(&self) -> Result<&Factorization, NetworkError> {
        self.made.as_ref().ok_or(NetworkError::NotAnalysed)
    }
}

impl Solver {
    /// Analyses the pattern of a network. Refused where it has no cells, or cells that reach no boundary.
    pub fn analyse(network: &Network) -> Result<Self, NetworkError> {
        if network.cells() == 0 {
            return Err(NetworkError::Empty);
        }
        if let Some(cell) = floating(network) {
            return Err(NetworkError::Floating { cell });
        }
        Ok(Self { pattern: Pattern::new(network)? })
    }

    /// Whether a network has the cells, links and surfaces that were analysed.
    pub(crate) fn is_of(&self, network: &Network) -> bool {
        self.pattern.is_of(network)
    }

    /// The analysed pattern.
    pub(super) fn pattern(&self) -> &Pattern {
        &self.pattern
    }

    /// The weights at the network's present conductivities and films.
    ///
    /// Each boundary is solved for by itself, although the last could be had from the others: that the weights sum
    /// to 1 is then a check ([`Weights::departure`]).
    pub fn solve(&self, network: &Network) -> Result<Weights, NetworkError> {
        self.solve_again(network, &mut Factors::default())
    }

    /// The same, for one network that is solved several times with changes in between: what did not change is not
    /// factorized again.
    pub fn solve_again(&self, network: &Network, factors: &mut Factors) -> Result<Weights, NetworkError> {
        let (conductances, weights, imbalance) = self.solve_for(network, 0..network.boundaries(), factors)?;
        Ok(Weights::new(network, conductances, weights, imbalance))
    }

    /// The weight of one boundary in each cell, and the energy that the solve lost as a part of the flow: where nothing else
    /// is wanted, for half the work.
    pub fn solve_one(
        &self,
        network: &Network,
        boundary: usize,
        factors: &mut Factors,
    ) -> Result<(Vec<f64>, f64), NetworkError> {
        let (_, weights, imbalance) = self.solve_for(network, boundary..boundary + 1, factors)?;
        Ok((weights, imbalance))
    }

    /// The weights of some boundaries, one after the other, and the most energy that a solve lost.
    fn solve_for(
        &self,
        network: &Network,
        boundaries: Range<usize>,
        factors: &mut Factors,
    ) -> Result<(Conductances, Vec<f64>, f64), NetworkError> {
        if !self.is_of(network) {
            return Err(NetworkError::NotAnalysed);
        }
        let conductances = match &factors.last {
            Some((values, known)) => network.conductances_near(values, known)?,
            None => network.conductances()?,
        };
        let cells = network.cells();
        let mut losses = vec![0.0; cells];
        let mut weights = vec![0.0; cells * boundaries.len()];
        for (surface, &value) in network.surfaces().iter().zip(&conductances.surfaces) {
            losses[surface.cell] += value;
            if boundaries.contains(&surface.boundary) {
                weights[(surface.boundary - boundaries.start) * cells + surface.cell] += value;
            }
        }
        let factor = match &mut factors.made {
            Some(factor) => {
                let links = conductances.links.iter().copied().enumerate();
                factor.update(&self.pattern, links, losses.into_iter().enumerate())?;
                factor
            }
            none => {
                let spare = factors.spare.take().unwrap_or_default();
                none.insert(spare.renewed(&self.pattern, conductances.links.clone(), losses)?)
            }
        };
        let largest = factor.largest(&self.pattern);
        factor.solve(&self.pattern, &mut weights);
        let mut worst = 0.0;
        let mut residual = vec![0.0; cells];
        for (boundary, weights) in boundaries.zip(weights.chunks_exact_mut(cells)) {
            let mut lost = imbalance(network, &conductances, largest, boundary, weights, &mut residual);
            if lost.is_nan() || lost > REFINE {
                factor.solve(&self.pattern, &mut residual);
                add(weights, &residual);
                lost = imbalance(network, &conductances, largest, boundary, weights, &mut residual);
            }
            if lost.is_nan() || lost > BALANCE {
                return Err(NetworkError::Imbalance { boundary, imbalance: lost });
            }
            worst = f64::max(worst, lost);
        }
        factors.last = Some((network.values().clone(), conductances.clone()));
        Ok((conductances, weights, worst))
    }
}

fn add(weights: &mut [f64], correction: &[f64]) {
    for (weight, more) in weights.iter_mut().zip(correction) {
        *weight += more;
    }
}

/// The energy lost with one boundary at 1 and the others at 0, as a part of what that boundary gives off: the larger
/// of the loss over all surfaces and the loss in any one cell. Leaves each cell's loss in `residual`.
fn imbalance(
    network: &Network,
    conductances: &Conductances,
    largest: f64,
    boundary: usize,
    weights: &[f64],
    residual: &mut [f64],
) -> f64 {
    residual.fill(0.0);
    let (mut given, mut taken) = (0.0, 0.0);
    for (surface, &value) in network.surfaces().iter().zip(&conductances.surfaces) {
        let own = surface.boundary == boundary;
        let inward = value * (f64::from(u8::from(own)) - weights[surface.cell]);
        residual[surface.cell] += inward;
        *(if own { &mut given } else { &mut taken }) += inward;
    }
    for (link, &value) in network.links().iter().zip(&conductances.links) {
        let [a, b] = link.cells;
        let flow = value * (weights[a] - weights[b]);
        residual[a] -= flow;
        residual[b] += flow;
    }
    // f64::max passes over a NaN, but one in any cell makes the sum NaN as well.
    let local = residual.iter().map(|it| it.abs()).fold(0.0, f64::max);
    let lost = (given + taken).abs();
    let scale = f64::max(given.abs(), LEAST_FLOW * largest);
    if lost.is_nan() { lost } else { local.max(lost) / scale }
}

/// The first cell that is joined, through whatever links, to no surface.
fn floating(network: &Network) -> Option<usize> {
    let mut root: Vec<usize> = (0..network.cells()).collect();
    for link in network.links() {
        let [a, b] = link.cells.map(|cell| find(&mut root, cell));
        // The smaller becomes the root, so that the result does not depend on the order of links.
        root[a.max(b)] = a.min(b);
    }
    let mut grounded = vec![false; network.cells()];
    for surface in network.surfaces() {
        grounded[find(&mut root, surface.cell)] = true;
    }
    (0..network.cells()).find(|&cell| !grounded[find(&mut root, cell)])
}

fn find(root: &mut [usize], mut cell: usize) -> usize {
    while root[cell] != cell {
        root[cell] = root[root[cell]];
        cell = root[cell];
    }
    cell
}

/// The weight of every boundary in every cell and surface, and what boundaries exchange.
///
/// Temperatures are given in the order of the boundaries, all in °C or all in K. Methods that take them panic where
/// their number is not that of the boundaries, and those that take a cell, surface or boundary where there is none.
#[derive(Clone, Debug, PartialEq)]
pub struct Weights {
    cells: usize,
    boundaries: usize,
    /// Boundary by boundary.
    weights: Vec<f64>,
    surfaces: Vec<Contact>,
    coupling: Vec<f64>,
    departure: f64,
    imbalance: f64,
}

/// A surface as it was solved.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Contact {
    cell: usize,
    boundary: usize,
    /// Between node and boundary, W/K.
    conductance: f64,
    /// The part of that resistance that is film.
    film: f64,
}

impl Weights {
    fn new(network: &Network, conductances: Conductances, weights: Vec<f64>, imbalance: f64) -> Self {
        let (cells, boundaries) = (network.cells(), network.boundaries());
        let contact = |((surface, &film), &conductance): ((&super::Surface, &f64), &f64)| Contact {
            cell: surface.cell,
            boundary: surface.boundary,
            conductance,
            film: film / surface.area * conductance,
        };
        let surfaces: Vec<Contact> =
            network.surfaces().iter().zip(network.films()).zip(&conductances.surfaces).map(contact).collect();
        let mut coupling = vec![0.0; boundaries * boundaries];
        for surface in &surfaces {
            for other in (0..boundaries).filter(|&other| other != surface.boundary) {
                coupling[surface.boundary * boundaries + other] +=
                    surface.conductance * weights[other * cells + surface.cell];
            }
        }
        let sum = |cell| -> f64 { (0..boundaries).map(|boundary| weights[boundary * cells + cell]).sum() };
        let departure = (0..cells).map(|cell| (sum(cell) - 1.0).abs()).fold(0.0, f64::max);
        Self { cells, boundaries, weights, surfaces, coupling, departure, imbalance }
    }

    /// How many boundary temperatures there are.
    pub const fn boundaries(&self) -> usize {
        self.boundaries
    }

    /// The weight of a boundary's temperature in a cell's temperature.
    pub fn cell_weight(&self, cell: usize, boundary: usize) -> f64 {
        assert!(cell < self.cells, "there is no cell {cell}");
        self.weights[boundary * self.cells + cell]
    }

    /// The weight of a boundary's temperature in the temperature of every cell.
    pub fn of_boundary(&self, boundary: usize) -> &[f64] {
        assert!(boundary < self.boundaries, "there is no boundary {boundary}");
        &self.weights[boundary * self.cells..(boundary + 1) * self.cells]
    }

    /// The weight of a boundary's temperature in the temperature of a surface, between material and film.
    pub fn surface_weight(&self, surface: usize, boundary: usize) -> f64 {
        let Contact { cell, boundary: own, film, .. } = self.surfaces[surface];
        let held = if own == boundary { 1.0 - film } else { 0.0 };
        film * self.cell_weight(cell, boundary) + held
    }

    /// The temperature of a cell.
    pub fn cell_temperature(&self, cell: usize, temperatures: &[f64]) -> f64 {
        self.mean(temperatures, |boundary| self.cell_weight(cell, boundary))
    }

    /// The temperature of a surface, between material and film.
    pub fn surface_temperature(&self, surface: usize, temperatures: &[f64]) -> f64 {
        self.mean(temperatures, |boundary| self.surface_weight(surface, boundary))
    }

    /// The heat a surface gives to its boundary, W.
    pub fn surface_flow(&self, surface: usize, temperatures: &[f64]) -> f64 {
        let Contact { cell, boundary, conductance, .. } = self.surfaces[surface];
        // Differences first: a flow between equal temperatures is then exactly none.
        let excess = |temperature: &f64| temperature - temperatures[boundary];
        assert_eq!(temperatures.len(), self.boundaries, "one temperature for each boundary");
        let weighted = |(other, temperature)| self.cell_weight(cell, other) * excess(temperature);
        conductance * temperatures.iter().enumerate().map(weighted).sum::<f64>()
    }

    /// The coupling coefficient of two boundaries, W/K: the heat that passes to `to` for every kelvin that `from` is
    /// warmer, the others being as cold as `to`. Equal both ways but for rounding.
    pub fn coupling(&self, from: usize, to: usize) -> f64 {
        assert!(from < self.boundaries, "there is no boundary {from}");
        self.coupling[to * self.boundaries + from]
    }

    /// The heat each boundary receives, W. Adds up to nothing but for [`Self::imbalance`].
    pub fn flows(&self, temperatures: &[f64]) -> Vec<f64> {
        assert_eq!(temperatures.len(), self.boundaries, "one temperature for each boundary");
        let into = |to: usize| {
            (0..self.boundaries)
                .map(|from| self.coupling(from, to) * (temperatures[from] - temperatures[to]))
                .sum()
        };
        (0..self.boundaries).map(into).collect()
    }

    /// The largest departure from 1 of a cell's weights.
    pub const fn departure(&self) -> f64 {
        self.departure
    }

    /// The most energy any of the solves lost, over all surfaces or in any one cell, as a part of the flow. A boundary
    /// that exchanges next to nothing is measured against 1e-5 of what the best joined cell exchanges.
    pub const fn imbalance(&self) -> f64 {
        self.imbalance
    }

    fn mean(&self, temperatures: &[f64], weight: impl Fn(usize) -> f64) -> f64 {
        assert_eq!(temperatures.len(), self.boundaries, "one temperature for each boundary");
        temperatures.iter().enumerate().map(|(boundary, temperature)| weight(boundary) * temperature).sum()
    }
}
