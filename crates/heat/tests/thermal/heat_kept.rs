//! Heat is neither made nor lost over a night of freezing and a day of thawing: by the transient's own account, and by
//! one that is drawn up here from temperatures, ice and a curve of its own.

use crate::thermal::march::substance;
use coldsill_heat::thermal::{
    Axis, Control, Film, Grid, Line, Network, NetworkError, Side, Solver, Store, Transient, graded,
};
use std::f64::consts::PI;

const HOUR: f64 = 3600.0;
/// Water, J/m³K, J/m³ and K, and W/mK: rounded, and the same in the audit.
const FROZEN: [f64; 2] = [2.22, 1.93e6];
const THAWED: [f64; 2] = [0.56, 4.21e6];
const LATENT: f64 = 3.06e8;
const WIDTH: f64 = 0.01;
/// A tube of copper full of water, in insulation, m; and a cell's share of water in wet insulation at its outer end.
const BORE: f64 = 0.0069;
const TUBE: f64 = 0.0080;
const OUTER: f64 = 0.030;
const LONG: f64 = 0.25;
const SOAKED: f64 = 0.02;
const SHARE: f64 = 0.3;

/// Grid, network and stores of that tube. Boundary 0 is outdoors, at its end and its side; 1 is indoors.
fn tube() -> Result<(Network, Vec<Store>), NetworkError> {
    let r = graded(
        &[Line::new(0.0, 0.002), Line::new(BORE, 0.001), Line::new(TUBE, 0.001), Line::new(OUTER, 0.008)],
        1.5,
        0.008,
    )?;
    let z = graded(&[Line::new(0.0, 0.005), Line::new(SOAKED, 0.005), Line::new(LONG, 0.03)], 1.3, 0.03)?;
    let grid = Grid::cylindrical(r, z)?;
    let network = Network::over(
        &grid,
        2,
        |_, [r, ..]| {
            Some(if r < BORE {
                0.56
            } else if r < TUBE {
                390.0
            } else {
                0.04
            })
        },
        // Only what stays dry meets the air, so that surfaces keep their conductance whatever freezes.
        |at| match (at.face.axis, at.face.side) {
            _ if at.center[0] < BORE || at.center[0] > TUBE && at.center[1] < SOAKED => None,
            (Axis::Second, Side::High) => Some(Film::new(1, 0.12)),
            _ => Some(Film::new(0, 0.03)),
        },
    )?;
    let store = |number: usize| {
        let at = grid.position(number);
        let ([r, z, _], volume) = (grid.center(at), grid.volume(at));
        match () {
            () if r < BORE => Store { volume, substance_fraction: 1.0, ..Store::default() },
            () if r < TUBE => Store { capacity: 3.4e6 * volume, ..Store::default() },
            () if z < SOAKED => Store {
                capacity: 4e4 * volume,
                volume: SHARE * volume,
                fixed_conductivity: 0.03,
                substance_fraction: SHARE,
            },
            () => Store { capacity: 4e4 * volume, ..Store::default() },
        }
    };
    let stores = (0..grid.cells()).map(store).collect();
    Ok((network, stores))
}

/// -20 °C to +12 °C and back within two days, from +6 °C.
fn outdoors(time: f64) -> Vec<f64> {
    vec![-4.0 + 16.0 * libm::cos(2.0 * PI * (time / HOUR - 8.0) / 48.0 + 0.2), 3.0]
}

/// What all cells hold, J, from 0 °C and thawed.
fn held(stores: &[Store], march: &Transient<'_>) -> f64 {
    let of = |(cell, store): (usize, &Store)| {
        let temperature = march.temperatures()[cell];
        let frozen = march.frozen(cell)[1];
        let enthalpy = match frozen {
            1.0 => FROZEN[1] * (temperature + WIDTH) - LATENT,
            0.0 => THAWED[1] * temperature,
            // Within the change of phase, enthalpy goes with the ice and takes the sensible heat along.
            part => -LATENT * part,
        };
        store.capacity * temperature + store.volume * enthalpy
    };
    stores.iter().enumerate().map(of).sum()
}

#[test]
fn heat_is_kept_over_a_night_of_freezing_and_a_day_of_thawing() -> Result<(), NetworkError> {
    /// A part of what is exchanged: in the first second a few joules of the thousands held, which round at 1e-16 of them;
    /// and in the end.
    const ACCOUNT: [f64; 2] = [1e-10, 1e-12];
    /// A part of what is exchanged; contents and what is drawn up from temperatures differ by rounding, 1e-16 of them
    /// thousands of times.
    const AUDIT: f64 = 1e-9;
    /// A part of what is exchanged: the trapezium rule over steps within 0.05 K of some 20 K.
    const FLOWS: f64 = 1e-4;
    let (network, stores) = tube()?;
    let solver = Solver::analyse(&network)?;
    let control = Control { kelvin: 0.05, phase: 0.05, first: 1.0, longest: 600.0 };
    let curve = substance(FROZEN[0], FROZEN[1], THAWED[0], THAWED[1], LATENT, WIDTH)?;
    let start = vec![6.0; network.cells()];
    let mut march = Transient::new(&solver, network.clone(), stores.clone(), curve, start, control)?;
    let begun_with = held(&stores, &march);
    let conductances = network.conductances()?;
    let (mut ices, mut given) = (Vec::new(), 0.0);
    let flow = |temperatures: &[f64], time: f64| -> f64 {
        let outside = outdoors(time);
        let of = |(surface, value): (&coldsill_heat::thermal::Surface, &f64)| {
            value * (outside[surface.boundary] - temperatures[surface.cell])
        };
        network.surfaces().iter().zip(&conductances.surfaces).map(of).sum()
    };
    while march.time() < 96.0 * HOUR {
        let [began, ends] = march.advance(&outdoors)?;
        let [before, now] = [(march.temperatures_before(), began), (march.temperatures(), ends)]
            .map(|(it, time)| flow(it, time));
        given += 0.5 * (before + now) * (ends - began);
        let ice = |cell: usize| stores[cell].volume * march.frozen(cell)[1];
        ices.push((0..stores.len()).map(ice).sum::<f64>());
        let account = march.account();
        let audit = held(&stores, &march) - begun_with;
        assert!(account.imbalance() < ACCOUNT[0], "at {ends} s: {:e}", account.imbalance());
        assert!(
            (audit - account.stored).abs() < AUDIT * account.exchanged,
            "at {ends} s: {audit} J by temperatures and ice, {} J by contents",
            account.stored
        );
    }
    let account = march.account();
    let volume: f64 = stores.iter().map(|it| it.volume).sum();
    let frozen = ices.iter().position(|ice| *ice > (1.0 - 1e-9) * volume).expect("all freezes");
    assert!(ices[frozen..].iter().any(|ice| *ice < 1e-9 * volume), "all thaws");
    assert!(account.imbalance() < ACCOUNT[1], "{:e}", account.imbalance());
    let off = (given - account.stored).abs() / account.exchanged;
    assert!(off < FLOWS, "{given} J by flows, {} J by contents", account.stored);
    Ok(())
}
