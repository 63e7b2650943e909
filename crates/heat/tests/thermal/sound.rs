//! What weights promise: shares of the neighbors' conductances, and solves that repeat without a new analysis.

use crate::thermal::case::solved;
use coldsill_heat::thermal::{
    Axis, Film, Grid, Line, Link, Network, NetworkError, Side, Solver, Surface, graded,
};

/// Sums of a few terms of order 1.
const ROUNDING: f64 = 1e-14;

fn surface(cell: usize, boundary: usize, area: f64) -> Surface {
    Surface { cell, boundary, half: 0.0, area, tag: 0 }
}

#[test]
fn one_cell_between_three_boundaries_is_the_mean_weighted_by_conductance() -> Result<(), NetworkError> {
    let mut network = Network::new(3);
    let cell = network.add_cell(1.0)?;
    // 1, 2 and 5 W/K.
    for (boundary, conductance) in [1.0, 2.0, 5.0].into_iter().enumerate() {
        network.meet(surface(cell, boundary, conductance), 1.0)?;
    }
    let weights = solved(&network)?;
    for (boundary, share) in [0.125, 0.25, 0.625].into_iter().enumerate() {
        assert!((weights.cell_weight(cell, boundary) - share).abs() < ROUNDING);
    }
    assert!((weights.cell_temperature(cell, &[-20.0, 4.0, 20.0]) - 11.0).abs() < 20.0 * ROUNDING);
    // Star to triangle: 1 · 5 / 8.
    assert!((weights.coupling(0, 2) - 0.625).abs() < ROUNDING);
    let flows = weights.flows(&[-20.0, 4.0, 20.0]);
    for (flow, expect) in flows.iter().zip([31.0, 14.0, -45.0]) {
        assert!((flow - expect).abs() < 100.0 * ROUNDING, "{flows:?}");
    }
    assert!((weights.surface_flow(2, &[-20.0, 4.0, 20.0]) + 45.0).abs() < 100.0 * ROUNDING);
    Ok(())
}

#[test]
fn a_cell_in_mixed_surroundings_is_two_parallel_surfaces_that_share_its_area() -> Result<(), NetworkError> {
    let (half, area, film, k, share) = (40.0, 0.02, 0.12, 0.7, 0.3);
    let chain = |mixed: bool| {
        let mut network = Network::new(3);
        let (inner, outer) = (network.add_cell(k)?, network.add_cell(k)?);
        network.link(Link { cells: [outer, inner], half: [half, half], extra: 0.5 })?;
        network.meet(Surface { cell: inner, boundary: 2, half, area, tag: 0 }, film)?;
        if mixed {
            for (boundary, share) in [(0, share), (1, 1.0 - share)] {
                let part = Surface { cell: outer, boundary, half: half / share, area: area * share, tag: 0 };
                network.meet(part, film)?;
            }
        } else {
            network.meet(Surface { cell: outer, boundary: 0, half, area, tag: 0 }, film)?;
        }
        solved(&network)
    };
    let (given, mean) = ([-20.0, 10.0, 21.0], -20.0 * share + 10.0 * (1.0 - share));
    let (mixed, single) = (chain(true)?, chain(false)?);
    for cell in [0, 1] {
        let (got, expect) =
            (mixed.cell_temperature(cell, &given), single.cell_temperature(cell, &[mean, 0.0, 21.0]));
        assert!((got - expect).abs() < 100.0 * ROUNDING, "{got}, not {expect}");
    }
    Ok(())
}

#[test]
fn changed_conductivities_and_films_need_no_new_analysis() -> Result<(), NetworkError> {
    let grid = Grid::plane(
        graded(&[Line::new(0.0, 0.01), Line::new(0.2, 0.002)], 1.2, 0.02)?,
        graded(&[Line::new(0.0, 0.004), Line::new(0.05, 0.01)], 1.2, 0.02)?,
    )?;
    let build = |k: f64, film: f64| {
        Network::over(
            &grid,
            2,
            |at, _| (at != [0, 0, 0]).then_some(if at[1] < 3 { k } else { 0.04 }),
            |at| {
                let side = usize::from(at.face.side == Side::High);
                (at.face.axis == Axis::First).then(|| Film::new(side, [0.03, film][side]))
            },
        )
    };
    let mut network = build(110.0, 0.12)?;
    let solver = Solver::analyse(&network)?;
    let before = solver.solve(&network)?;
    for number in 0..grid.cells() {
        if let Some(cell) = network.cell_at(number).filter(|_| grid.position(number)[1] < 3) {
            network.set_conductivity(cell, 0.25)?;
        }
    }
    for number in 0..network.surfaces().len() {
        if network.surfaces()[number].boundary == 1 {
            network.set_film(number, 0.3)?;
        }
    }
    assert_eq!(network, build(0.25, 0.3)?);
    let after = solver.solve(&network)?;
    assert_eq!(after, solved(&build(0.25, 0.3)?)?, "the same bits as from a new analysis");
    assert!(after.coupling(0, 1) < 0.5 * before.coupling(0, 1));
    Ok(())
}

#[test]
fn with_one_boundary_every_cell_takes_its_temperature() -> Result<(), NetworkError> {
    let grid = Grid::cylindrical(vec![0.0, 0.01, 0.02], vec![0.0, 0.1, 0.3, 0.4])?;
    let network = Network::over(&grid, 1, |_, _| Some(390.0), |_| Some(Film::new(0, 0.03)))?;
    let weights = solved(&network)?;
    assert!((weights.cell_temperature(4, &[-7.5]) + 7.5).abs() < 1e-10);
    assert_eq!(weights.flows(&[-7.5]), [0.0]);
    Ok(())
}

#[test]
fn bodies_that_do_not_touch_are_each_at_their_own_boundary() -> Result<(), NetworkError> {
    let mut network = Network::new(2);
    for boundary in 0..2 {
        let cell = network.add_cell(15.0)?;
        network.meet(surface(cell, boundary, 0.1), 0.03)?;
    }
    let weights = solved(&network)?;
    assert_eq!(weights.coupling(0, 1), 0.0);
    assert!((weights.cell_temperature(1, &[-20.0, 20.0]) - 20.0).abs() < 1e-10);
    Ok(())
}

#[test]
fn five_decades_of_conductivity_still_conserve_energy() -> Result<(), NetworkError> {
    // A copper tube 0.5 mm thick in foam, cut very fine.
    let grid = Grid::cylindrical(
        graded(&[Line::new(0.01, 0.0001), Line::new(0.0105, 0.0001), Line::new(0.15, 0.02)], 1.4, 0.02)?,
        graded(&[Line::new(0.0, 0.0002), Line::new(0.2, 0.0005)], 1.1, 0.01)?,
    )?;
    let network = Network::over(
        &grid,
        2,
        |_, at| Some(if at[0] < 0.0105 { 390.0 } else { 0.0039 }),
        |at| {
            let side = usize::from(at.face.side == Side::High);
            (at.face.axis == Axis::Second).then(|| Film::new(side, [0.02, 0.5][side]))
        },
    )?;
    let weights = solved(&network)?;
    assert!(weights.coupling(0, 1) > 0.0);
    Ok(())
}
