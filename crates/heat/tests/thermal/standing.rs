//! Fronts that come to stand: at the place where as much heat arrives as leaves, and without a step too many.

use crate::thermal::march::{Body, Matter, even, ice, root, substance, until};
use coldsill_heat::thermal::{
    Axis, Control, Film, Grid, Link, Network, NetworkError, Side, Solver, Store, Substance, Surface,
    Transient,
};

const HOUR: f64 = 3600.0;
const ICE: f64 = 2.22;
const WATER: f64 = 0.56;

fn water() -> Result<Substance, NetworkError> {
    substance(ICE, 1.93e6, WATER, 4.21e6, 3.06e8, 0.01)
}

#[test]
fn a_front_comes_to_stand_where_both_sides_conduct_the_same() -> Result<(), NetworkError> {
    /// In cells. A thawed cell beside the front conducts as water on both sides until some of it is ice, so that the last
    /// cell may stay as it is on either side of the front.
    const CELLS: f64 = 1.2;
    let (cells, length, films, cold) = (40, 0.2, [0.03, 0.12], -10.0);
    for warm in [10.5, 13.0, 15.5, 18.0, 20.5, 23.0] {
        let grid = Grid::cartesian([even(cells, length), vec![0.0, 1.0], vec![0.0, 1.0]])?;
        let body = Body::made(
            grid,
            2,
            |_| Matter::Wet,
            |at| {
                let side = usize::from(at.face.side == Side::High);
                (at.face.axis == Axis::First).then(|| Film::new(side, films[side]))
            },
        )?;
        let solver = Solver::analyse(&body.network)?;
        let control = Control { kelvin: 0.1, phase: 0.1, first: 1.0, longest: HOUR };
        let mut march = body.march(&solver, water()?, 4.0, control)?;
        until(&mut march, &|_| vec![cold, warm], 60.0 * 24.0 * HOUR)?;
        let exact =
            root(0.0, length, |x| -cold / (films[0] + x / ICE) - warm / (films[1] + (length - x) / WATER));
        let off = (ice(&march, &body)[1] - exact) / (length / f64::from(cells));
        assert!(off.abs() < CELLS, "{warm} °C: {off} cells from {exact} m");
    }
    Ok(())
}

#[test]
fn a_front_in_the_farther_half_of_a_cell_does_not_freeze_through_and_thaw_for_ever()
-> Result<(), NetworkError> {
    /// Tried or taken in 48 h, most of them where the boundaries swing. With conductivities that jump as the cell freezes
    /// through it took 2900, in steps of half a second.
    const STEPS: usize = 1000;
    // 2 mm of water and 2 mm of something dry, each held at its far side.
    let mut network = Network::new(2);
    for boundary in 0..2 {
        let cell = network.add_cell(1.0)?;
        network.meet(Surface { cell, boundary, half: 0.001, area: 1.0, tag: 0 }, 0.0)?;
    }
    network.link(Link { cells: [0, 1], half: [0.001, 0.001], extra: 0.0 })?;
    let stores = vec![
        Store { volume: 0.002, substance_fraction: 1.0, ..Store::default() },
        Store { capacity: 4000.0, ..Store::default() },
    ];
    // One hour of both falling cold and warm, found among random histories.
    let mut hourly = [[0.0, 0.0]; 49];
    hourly[19] = [-25.77, 0.0];
    hourly[20] = [-4.63, 24.05];
    hourly[21] = [0.0, 3.36];
    let outside = |time: f64| {
        let hour = ((time / HOUR) as usize).min(47);
        let part = time / HOUR - hour as f64;
        (0..2).map(|it| hourly[hour][it] + part * (hourly[hour + 1][it] - hourly[hour][it])).collect()
    };
    let solver = Solver::analyse(&network)?;
    let control = Control { kelvin: 0.05, phase: 0.05, first: 1.0, longest: 900.0 };
    let mut march = Transient::new(&solver, network, stores, water()?, vec![0.0; 2], control)?;
    until(&mut march, &outside, 48.0 * HOUR)?;
    let effort = march.effort();
    assert!(effort.steps + effort.rejected < STEPS, "{effort:?}");
    Ok(())
}
