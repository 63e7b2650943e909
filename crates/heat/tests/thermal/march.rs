//! How the tests of the transient build bodies that hold heat, carry them through time and read what comes of it.

use coldsill_heat::thermal::{
    Axis, Control, Exposed, Film, Grid, Knot, Network, NetworkError, Side, Solver, Store, Substance,
    Transient,
};

/// A grid filled with one thing.
pub struct Body {
    pub grid: Grid,
    pub network: Network,
    pub stores: Vec<Store>,
}

/// What a body is of.
#[derive(Clone, Copy)]
pub enum Matter {
    /// Conductivity W/mK and capacity J/m³K of something that does not freeze.
    Dry(f64, f64),
    /// The substance and nothing else.
    Wet,
}

impl Body {
    /// A body of one matter with one boundary.
    pub fn of(
        grid: Grid,
        matter: Matter,
        film: impl FnMut(&Exposed) -> Option<Film>,
    ) -> Result<Self, NetworkError> {
        Self::made(grid, 1, |_| matter, film)
    }

    /// A body whose matter depends on the node.
    pub fn made(
        grid: Grid,
        boundaries: usize,
        matter: impl Fn([f64; 3]) -> Matter,
        film: impl FnMut(&Exposed) -> Option<Film>,
    ) -> Result<Self, NetworkError> {
        // A wet cell takes its conductivity from the substance.
        let conductivity = |at| match matter(at) {
            Matter::Dry(k, _) => k,
            Matter::Wet => 1.0,
        };
        let network = Network::over(&grid, boundaries, |_, at| Some(conductivity(at)), film)?;
        let store = |number| {
            let at = grid.position(number);
            match matter(grid.center(at)) {
                Matter::Dry(_, capacity) => {
                    Store { capacity: capacity * grid.volume(at), ..Store::default() }
                }
                Matter::Wet => Store { volume: grid.volume(at), substance_fraction: 1.0, ..Store::default() },
            }
        };
        let stores = (0..grid.cells()).map(store).collect();
        Ok(Self { grid, network, stores })
    }

    /// A column of 1 m² from its surface at 0 inwards; the far end is adiabatic.
    pub fn column(edges: Vec<f64>, matter: Matter, film: f64) -> Result<Self, NetworkError> {
        let grid = Grid::cartesian([edges, vec![0.0, 1.0], vec![0.0, 1.0]])?;
        Self::of(grid, matter, |at| {
            (at.face.axis == Axis::First && at.face.side == Side::Low).then(|| Film::new(0, film))
        })
    }

    /// A solid cylinder 1 m long with adiabatic ends.
    pub fn cylinder(edges: Vec<f64>, matter: Matter, film: f64) -> Result<Self, NetworkError> {
        Self::of(Grid::cylindrical(edges, vec![0.0, 1.0])?, matter, |at| {
            (at.face.axis == Axis::First).then(|| Film::new(0, film))
        })
    }

    /// The node of each cell along the first axis, m.
    pub fn nodes(&self) -> Vec<f64> {
        (0..self.grid.cells()).map(|number| self.grid.center(self.grid.position(number))[0]).collect()
    }

    /// Sets out from one temperature.
    pub fn march<'a>(
        &self,
        solver: &'a Solver,
        substance: Substance,
        start: f64,
        control: Control,
    ) -> Result<Transient<'a>, NetworkError> {
        let start = vec![start; self.network.cells()];
        Transient::new(solver, self.network.clone(), self.stores.clone(), substance, start, control)
    }
}

/// Equal cells.
pub fn even(cells: u32, length: f64) -> Vec<f64> {
    (0..=cells).map(|i| length * f64::from(i) / f64::from(cells)).collect()
}

/// A substance for bodies without any of it.
pub fn none() -> Substance {
    substance(1.0, 1.0, 1.0, 1.0, 1.0, 1.0).expect("ascending knots")
}

/// A substance by conductivity W/mK and capacity J/m³K frozen and thawed, latent heat J/m³ and the width of its change
/// of phase, which ends at 0, K.
pub fn substance(
    k_frozen: f64,
    c_frozen: f64,
    k_thawed: f64,
    c_thawed: f64,
    latent: f64,
    width: f64,
) -> Result<Substance, NetworkError> {
    let knot = |temperature, enthalpy, conductivity| Knot { temperature, enthalpy, conductivity };
    Substance::new(vec![
        knot(-1.0 - width, -latent - c_frozen, k_frozen),
        knot(-width, -latent, k_frozen),
        knot(0.0, 0.0, k_thawed),
        knot(1.0, c_thawed, k_thawed),
    ])
}

/// Steps of one length, whatever their error.
pub fn fixed(step: f64) -> Control {
    Control { kelvin: 1e9, phase: 1e9, first: step, longest: step }
}

/// Carries on until `time` and gives how far into the last step it lies, 0 to 1.
pub fn until(
    march: &mut Transient<'_>,
    outside: &dyn Fn(f64) -> Vec<f64>,
    time: f64,
) -> Result<f64, NetworkError> {
    assert!(march.time() < time, "{time} s is in the past at {} s", march.time());
    loop {
        let [began, ends] = march.advance(outside)?;
        // A sum of many steps meets the time but for rounding.
        if ends >= time * (1.0 - 1e-12) {
            return Ok(((time - began) / (ends - began)).min(1.0));
        }
    }
}

/// The time at which `what` passes `value`, on a straight line within the step.
pub fn passes(
    march: &mut Transient<'_>,
    outside: &dyn Fn(f64) -> Vec<f64>,
    value: f64,
    what: impl Fn(&Transient<'_>) -> [f64; 2],
) -> Result<f64, NetworkError> {
    loop {
        let [began, ends] = march.advance(outside)?;
        let [before, now] = what(march);
        if (before - value) * (now - value) <= 0.0 && before != now {
            return Ok(began + (ends - began) * (value - before) / (now - before));
        }
    }
}

/// Cell temperatures at a part of the last step.
pub fn temperatures(march: &Transient<'_>, part: f64) -> Vec<f64> {
    march
        .temperatures_before()
        .iter()
        .zip(march.temperatures())
        .map(|(before, now)| before + part * (now - before))
        .collect()
}

/// The frozen volume before the last step and now, m³.
pub fn ice(march: &Transient<'_>, body: &Body) -> [f64; 2] {
    let sum = |which: usize| {
        body.stores.iter().enumerate().map(|(cell, it)| it.volume * march.frozen(cell)[which]).sum()
    };
    [sum(0), sum(1)]
}

/// Where temperatures at ascending nodes pass a value, on a straight line between two.
pub fn crossing(nodes: &[f64], temperatures: &[f64], value: f64) -> f64 {
    let at = (1..nodes.len())
        .find(|&i| (temperatures[i - 1] - value) * (temperatures[i] - value) <= 0.0)
        .expect("passed somewhere");
    let part = (value - temperatures[at - 1]) / (temperatures[at] - temperatures[at - 1]);
    nodes[at - 1] + part * (nodes[at] - nodes[at - 1])
}

/// The value at a place between nodes, on a straight line.
pub fn between(nodes: &[f64], temperatures: &[f64], place: f64) -> f64 {
    let at = nodes.partition_point(|node| *node < place).clamp(1, nodes.len() - 1);
    let part = (place - nodes[at - 1]) / (nodes[at] - nodes[at - 1]);
    temperatures[at - 1] + part * (temperatures[at] - temperatures[at - 1])
}

/// The root of a function that changes sign between two places, by bisection down to rounding.
pub fn root(mut low: f64, mut high: f64, of: impl Fn(f64) -> f64) -> f64 {
    let sign = of(low).is_sign_negative();
    assert!(of(high).is_sign_negative() != sign, "no change of sign between {low} and {high}");
    for _ in 0..200 {
        let middle = 0.5 * (low + high);
        *(if of(middle).is_sign_negative() == sign { &mut low } else { &mut high }) = middle;
    }
    0.5 * (low + high)
}
