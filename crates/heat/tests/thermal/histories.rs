//! What holds of any chain of cells in any weather: no temperature from nowhere, an end at the steady weights, the same
//! whatever order cells come in, ice that stays while all gets colder, a bounded effort; and what is refused.

use crate::thermal::march::substance;
use coldsill_heat::thermal::{
    Control, Effort, Knot, Link, Network, NetworkError, Solver, Store, Substance, Surface, Transient,
};
use proptest::prelude::*;

const HOUR: f64 = 3600.0;
const CONTROL: Control = Control { kelvin: 0.05, phase: 0.05, first: 1.0, longest: 900.0 };

/// Of a network and its transient, which the strategies below can only make sound.
const SOUND: &str = "a sound chain";

/// A cell of a chain: a slice of 1 m².
#[derive(Clone, Copy, Debug)]
struct Slice {
    /// m
    thick: f64,
    /// W/mK where dry.
    conductivity: f64,
    /// The share of water, 0, 1 or between.
    water: f64,
}

fn slice() -> impl Strategy<Value = Slice> {
    let water = prop_oneof![Just(0.0), Just(1.0), 0.05..0.95];
    // Insulation to copper.
    (0.002..0.05, -3.5..6.0, water).prop_map(|(thick, log, water)| Slice {
        thick,
        conductivity: libm::exp(log),
        water,
    })
}

/// Water and ice, J/m³K, W/mK, J/m³, K.
fn water() -> Substance {
    substance(2.22, 1.93e6, 0.56, 4.21e6, 3.06e8, 0.01).expect(SOUND)
}

impl Slice {
    fn store(self) -> Store {
        let Self { thick, conductivity, water } = self;
        let fixed_conductivity = if water == 1.0 { 0.0 } else { conductivity };
        Store {
            capacity: 2e6 * thick * (1.0 - water),
            volume: thick * water,
            fixed_conductivity,
            substance_fraction: water,
        }
    }

    /// Conductivity all thawed or all frozen.
    fn conducts(self, substance: f64) -> f64 {
        let store = self.store();
        if self.water == 0.0 {
            self.conductivity
        } else {
            store.fixed_conductivity + store.substance_fraction * substance
        }
    }
}

/// A chain between boundary 0 at its first slice and 1 at its last, its cells numbered in some order.
fn chain(slices: &[Slice], films: [f64; 2], order: &[usize], water: f64) -> Network {
    let mut network = Network::new(2);
    let mut by_number = vec![0; slices.len()];
    for (at, &number) in order.iter().enumerate() {
        by_number[number] = at;
    }
    for &at in &by_number {
        network.add_cell(slices[at].conducts(water)).expect(SOUND);
    }
    for (at, pair) in slices.windows(2).enumerate() {
        let half = [pair[0].thick / 2.0, pair[1].thick / 2.0];
        network.link(Link { cells: [order[at], order[at + 1]], half, extra: 0.0 }).expect(SOUND);
    }
    for (boundary, at) in [0, slices.len() - 1].into_iter().enumerate() {
        let surface = Surface { cell: order[at], boundary, half: slices[at].thick / 2.0, area: 1.0, tag: 0 };
        network.meet(surface, films[boundary]).expect(SOUND);
    }
    network
}

/// In order from the first slice on.
fn ascending(slices: &[Slice]) -> Vec<usize> {
    (0..slices.len()).collect()
}

/// Hourly temperatures of both boundaries, on straight lines between; the last goes on.
fn weather(hourly: &[[f64; 2]]) -> impl Fn(f64) -> Vec<f64> + '_ {
    move |time| {
        let hours = (time / HOUR).min(hourly.len() as f64 - 1.0);
        let at = (hours as usize).min(hourly.len() - 2);
        let part = hours - at as f64;
        (0..2).map(|it| hourly[at][it] + part * (hourly[at + 1][it] - hourly[at][it])).collect()
    }
}

/// Carries a chain through `hours` of weather from one temperature, and looks after each step.
fn carry(
    slices: &[Slice],
    films: [f64; 2],
    start: f64,
    hourly: &[[f64; 2]],
    hours: f64,
    mut look: impl FnMut(&Transient<'_>),
) -> Effort {
    let network = chain(slices, films, &ascending(slices), 1.0);
    let solver = Solver::analyse(&network).expect(SOUND);
    let stores = slices.iter().map(|it| it.store()).collect();
    let start = vec![start; slices.len()];
    let mut march = Transient::new(&solver, network, stores, water(), start, CONTROL).expect(SOUND);
    while march.time() < hours * HOUR {
        march.advance(&weather(hourly)).expect(SOUND);
        look(&march);
    }
    march.effort()
}

/// K. Within a step the method may pass over an end by what a step may be off by, and the next step starts from there.
const OVERSHOOT: f64 = 4.0 * CONTROL.kelvin;
/// A part of what is exchanged, and J that are always taken for exchanged: where all stays as it is, only the rounding of
/// some 1e7 J held is.
const KEPT: f64 = 1e-9;
const LEAST: f64 = 1e4;
/// Steps, tried or taken: 10 for each of 8 cells to freeze or thaw in each of 48 h. The most any of some thousand random
/// histories took was 2000. A guard against running away; what was once found by it is in `standing`.
const MOST_STEPS: usize = 8 * 48 * 10;

proptest! {
    #![proptest_config(ProptestConfig { cases: 150, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_cell_leaves_the_range_of_start_and_boundaries_and_no_weather_makes_steps_run_away(
        slices in prop::collection::vec(slice(), 1..8),
        films in [0.0..0.2, 0.0..0.2],
        start in -20.0..20.0,
        hourly in prop::collection::vec([-30.0..25.0, -5.0..25.0], 48),
    ) {
        let all = hourly.iter().flatten().copied().chain([start]);
        let [least, most] = [all.clone().fold(f64::MAX, f64::min), all.fold(f64::MIN, f64::max)];
        let effort = carry(&slices, films, start, &hourly, 48.0, |march| {
            for it in march.temperatures() {
                assert!((least - OVERSHOOT..=most + OVERSHOOT).contains(it), "{it} °C out of {least}..{most}");
            }
            let account = march.account();
            let missing = (account.stored - account.boundary_heat.iter().sum::<f64>()).abs();
            assert!(missing < KEPT * account.exchanged.max(LEAST), "{missing} J of {}", account.exchanged);
        });
        prop_assert!(effort.steps + effort.rejected < MOST_STEPS, "{effort:?}");
    }

    #[test]
    fn a_long_constant_spell_ends_at_the_steady_weights(
        slices in prop::collection::vec(slice(), 1..6),
        films in [0.01..0.2, 0.01..0.2],
        given in prop_oneof![[-25.0..-2.0, -15.0..-1.0], [2.0..25.0, 1.0..15.0]],
    ) {
        /// K: conductivities are brought up to date within 1 %, of at most 25 K, and steps are within 0.05 K.
        const STEADY: f64 = 0.2;
        let frozen = given[0] < 0.0;
        let mut last = Vec::new();
        // 400 h are ten time constants of 0.25 m of water behind 0.2 m²K/W of film and more of insulation.
        let hourly = [given, given];
        carry(&slices, films, 0.5 * (given[0] + given[1]), &hourly, 1000.0, |march| {
            last = march.temperatures().to_vec();
        });
        let network = chain(&slices, films, &ascending(&slices), if frozen { 2.22 } else { 0.56 });
        let weights = Solver::analyse(&network).unwrap().solve(&network).unwrap();
        for (cell, got) in last.iter().enumerate() {
            let steady = weights.cell_temperature(cell, &given);
            prop_assert!((got - steady).abs() < STEADY, "cell {cell}: {got}, steady {steady}");
        }
    }

    #[test]
    fn the_order_of_cells_does_not_matter(
        slices in prop::collection::vec(slice(), 2..8),
        shuffle in any::<prop::sample::Index>(),
        hourly in prop::collection::vec([-20.0..5.0, 0.0..15.0], 6),
    ) {
        /// K: the factorization's own order and rounding, through thousands of solves and a step or two of other length.
        const SAME: f64 = 1e-6;
        let number = slices.len();
        // Turned round and shifted.
        let shift = shuffle.index(number);
        let turned: Vec<usize> = (0..number).map(|at| (number - 1 - at + shift) % number).collect();
        let run = |order: &[usize]| {
            let network = chain(&slices, [0.05, 0.12], order, 1.0);
            let solver = Solver::analyse(&network).unwrap();
            let mut stores = vec![Store::default(); number];
            for (at, slice) in slices.iter().enumerate() {
                stores[order[at]] = slice.store();
            }
            let control = Control { kelvin: 1e3, phase: 1e3, first: 60.0, longest: 60.0 };
            let mut march =
                Transient::new(&solver, network, stores, water(), vec![4.0; number], control).unwrap();
            while march.time() < 6.0 * HOUR {
                march.advance(&weather(&hourly)).unwrap();
            }
            order.iter().map(|&cell| march.temperatures()[cell]).collect::<Vec<_>>()
        };
        for (a, b) in run(&ascending(&slices)).into_iter().zip(run(&turned)) {
            prop_assert!((a - b).abs() < SAME, "{a} and {b}");
        }
    }

    #[test]
    fn ice_stays_while_all_boundaries_are_below_freezing_and_falling(
        slices in prop::collection::vec(slice(), 1..8),
        start in 0.0..10.0,
        mut falls in prop::collection::vec([0.0..2.0, 0.0..1.0], 24),
    ) {
        /// Of a cell's water: what a step may be off by.
        const BACK: f64 = CONTROL.phase;
        let mut reached = [-0.5, -0.1];
        for it in &mut falls {
            for (reached, fall) in reached.iter_mut().zip(*it) {
                *reached -= fall;
            }
            *it = reached;
        }
        let mut most = vec![0.0_f64; slices.len()];
        carry(&slices, [0.03, 0.12], start, &falls, 24.0, |march| {
            for (cell, most) in most.iter_mut().enumerate() {
                let ice = march.frozen(cell)[1];
                assert!(ice > *most - BACK, "cell {cell}: {ice} of it is ice, {most} was");
                *most = most.max(ice);
            }
        });
    }
}

fn pair() -> (Network, Vec<Store>) {
    let slices = [Slice { thick: 0.01, conductivity: 1.0, water: 1.0 }; 2];
    (chain(&slices, [0.1, 0.1], &[0, 1], 0.56), slices.iter().map(|it| it.store()).collect())
}

fn refused(
    change: impl FnOnce(&mut Network, &mut Vec<Store>, &mut Vec<f64>, &mut Control),
) -> Option<NetworkError> {
    let (mut network, mut stores) = pair();
    let (solver, mut start, mut control) = (Solver::analyse(&network).expect(SOUND), vec![5.0; 2], CONTROL);
    change(&mut network, &mut stores, &mut start, &mut control);
    Transient::new(&solver, network, stores, water(), start, control).err()
}

#[test]
fn a_cell_that_holds_nothing_or_starts_nowhere_is_refused_by_its_number() {
    let store = Some(NetworkError::Store { cell: 1 });
    assert_eq!(refused(|_, stores, _, _| stores[1] = Store::default()), store);
    for wrong in [-1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(refused(|_, stores, _, _| stores[1].capacity = wrong), store);
        assert_eq!(refused(|_, stores, _, _| stores[1].volume = wrong), store);
        assert_eq!(refused(|_, stores, _, _| stores[1].fixed_conductivity = wrong), store);
        assert_eq!(refused(|_, stores, _, _| stores[1].substance_fraction = wrong), store);
    }
    assert_eq!(refused(|_, _, start, _| start[1] = f64::NAN), store);
    assert_eq!(refused(|_, _, _, _| ()), None);
}

#[test]
fn water_that_conducts_nothing_is_refused() {
    let dead =
        |stores: &mut Vec<Store>| (stores[1].fixed_conductivity, stores[1].substance_fraction) = (0.0, 0.0);
    assert_eq!(refused(|_, stores, _, _| dead(stores)), Some(NetworkError::Store { cell: 1 }));
}

#[test]
fn weather_that_is_not_a_number_is_an_error() {
    let (network, stores) = pair();
    let solver = Solver::analyse(&network).unwrap();
    let mut march = Transient::new(&solver, network, stores, water(), vec![5.0; 2], CONTROL).unwrap();
    march.advance(&|_| vec![-5.0, 5.0]).unwrap();
    let time = march.time();
    assert_eq!(march.advance(&|_| vec![f64::NAN, 5.0]), Err(NetworkError::StuckAt { time }));
    assert!(march.temperatures().iter().all(|it| it.is_finite()), "nothing of it is kept");
}

#[test]
fn tolerances_and_steps_that_are_not_positive_are_refused() {
    for wrong in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(refused(|_, _, _, it| it.kelvin = wrong), Some(NetworkError::Control));
        assert_eq!(refused(|_, _, _, it| it.phase = wrong), Some(NetworkError::Control));
        assert_eq!(refused(|_, _, _, it| it.first = wrong), Some(NetworkError::Control));
        assert_eq!(refused(|_, _, _, it| it.longest = wrong), Some(NetworkError::Control));
    }
}

#[test]
fn a_transient_refuses_another_network_than_was_analysed() {
    let other = refused(|network, stores, start, _| {
        network.add_cell(1.0).unwrap();
        stores.push(stores[0]);
        start.push(5.0);
    });
    assert_eq!(other, Some(NetworkError::NotAnalysed));
    assert_eq!(refused(|_, stores, _, _| stores.truncate(1)), Some(NetworkError::CellCount));
    assert_eq!(refused(|_, _, start, _| start.push(5.0)), Some(NetworkError::CellCount));
}

#[test]
fn a_curve_whose_conductivity_is_not_positive_is_refused_by_its_knot() {
    for wrong in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        let knots = [1.0, wrong].map(|it| Knot { temperature: it, enthalpy: it, conductivity: it });
        let knots = vec![knots[0], Knot { temperature: 2.0, enthalpy: 2.0, ..knots[1] }];
        assert_eq!(Substance::new(knots).err(), Some(NetworkError::Curve { knot: 1 }));
    }
}
