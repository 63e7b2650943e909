//! Cases the scheme must meet to rounding whatever the mesh: a straight line, layers, a hollow cylinder.

use crate::thermal::case::{Case, Within, solved};
use coldsill_heat::thermal::{Axis, Film, Grid, Network, NetworkError, Side};

/// Edges that no two alike cells lie between.
fn uneven(cells: u32, length: f64) -> Vec<f64> {
    let at = |i: u32| f64::from(i) / f64::from(cells);
    (0..=cells).map(|i| length * at(i) * (0.4 + 0.6 * at(i))).collect()
}

#[test]
fn one_material_has_a_straight_line_along_every_axis_of_an_uneven_grid() -> Result<(), NetworkError> {
    /// The scheme is exact for a straight line; what is left is rounding.
    const TOLERANCE: f64 = 1e-10;
    let (from, to) = (-23.3, 21.1);
    for axis in [Axis::First, Axis::Second, Axis::Third] {
        let grid = Grid::cartesian([uneven(7, 0.9), uneven(11, 0.5), uneven(4, 0.2)])?;
        let film = |side| Film::new(usize::from(side == Side::High), 0.0);
        let network = Network::over(
            &grid,
            2,
            |_, _| Some(0.7),
            |at| (at.face.axis == axis).then(|| film(at.face.side)),
        )?;
        let weights = solved(&network)?;
        let length = grid.edges(axis).last().copied().unwrap_or(0.0);
        for number in 0..grid.cells() {
            let at = grid.center(grid.position(number))[axis as usize];
            let line = from + (to - from) * at / length;
            let got = weights.cell_temperature(network.cell_at(number).unwrap_or(number), &[from, to]);
            assert!((got - line).abs() <= TOLERANCE, "{axis:?} at {at}: {got}, not {line}");
        }
    }
    Ok(())
}

/// Thickness m and conductivity W/mK, from outdoors: cladding, sheathing, an air layer of 0.16 m²K/W, batt, board.
const LAYERS: [(f64, f64); 5] = [(0.012, 0.12), (0.011, 0.115), (0.02, 0.125), (0.14, 0.043), (0.0127, 0.16)];
/// Film resistances outdoors and indoors, m²K/W.
const FILMS: [f64; 2] = [1.0 / 34.0, 0.12];

/// The temperature at distance x m from the outdoor face of `LAYERS`, by adding resistances.
fn layered(x: f64, out: f64, room: f64) -> f64 {
    let whole: f64 = FILMS.iter().sum::<f64>() + LAYERS.iter().map(|(d, k)| d / k).sum::<f64>();
    let mut passed = FILMS[0];
    let mut left = x;
    for (d, k) in LAYERS {
        passed += left.clamp(0.0, d) / k;
        left -= d;
    }
    out + (room - out) * passed / whole
}

#[test]
fn layers_have_the_exact_broken_line_whatever_the_mesh() -> Result<(), NetworkError> {
    /// Exact in every layer; five materials and meters against millimeters leave some more rounding.
    const TOLERANCE: f64 = 1e-8;
    let (out, room) = (-23.3, 21.1);
    let mut x = vec![0.0];
    for (number, (d, _)) in (0_u32..).zip(LAYERS) {
        let from = x.last().copied().unwrap_or(0.0);
        x.extend(uneven(2 + number, d).into_iter().skip(1).map(|step| from + step));
    }
    let layer = |at: f64| {
        let mut end = 0.0;
        LAYERS
            .iter()
            .find(|(d, _)| {
                end += d;
                at < end
            })
            .map(|(_, k)| *k)
    };
    let grid = Grid::plane(x, uneven(3, 1.0))?;
    let network = Network::over(
        &grid,
        2,
        |_, at| layer(at[0]),
        |at| {
            let side = usize::from(at.face.side == Side::High);
            (at.face.axis == Axis::First).then(|| Film { boundary: side, resistance: FILMS[side], tag: 7 })
        },
    )?;
    let weights = solved(&network)?;
    let near = |got: f64, x: f64| {
        let line = layered(x, out, room);
        assert!((got - line).abs() <= TOLERANCE, "at {x}: {got}, not {line}");
    };
    for number in 0..grid.cells() {
        near(weights.cell_temperature(number, &[out, room]), grid.center(grid.position(number))[0]);
    }
    let thick: f64 = LAYERS.iter().map(|(d, _)| d).sum();
    for (number, surface) in network.surfaces().iter().enumerate() {
        assert_eq!(surface.tag, 7);
        near(
            weights.surface_temperature(number, &[out, room]),
            thick * f64::from(u8::from(surface.boundary == 1)),
        );
    }
    let resistance: f64 = FILMS.iter().sum::<f64>() + LAYERS.iter().map(|(d, k)| d / k).sum::<f64>();
    assert!((weights.coupling(1, 0) - 1.0 / resistance).abs() <= TOLERANCE);
    Ok(())
}

/// Resistance per meter of a layer of insulation on a tube, mK/W, through one film outside and none inside.
fn sleeve(outer: f64, rings: u32) -> Result<f64, NetworkError> {
    let (inner, k, h, length) = (0.005, 0.055, 5.0, 0.37);
    let r = if outer > inner {
        uneven(rings, outer - inner).into_iter().map(|step| inner + step).collect()
    } else {
        // The bare tube: a wall so thin and conductive that only the film is left.
        vec![inner * (1.0 - 1e-9), inner]
    };
    let grid = Grid::cylindrical(r, uneven(3, length))?;
    let network = Network::over(
        &grid,
        2,
        |_, _| Some(k),
        |at| {
            let side = usize::from(at.face.side == Side::High);
            (at.face.axis == Axis::First).then(|| Film::new(side, [0.0, 1.0 / h][side]))
        },
    )?;
    Ok(length / solved(&network)?.coupling(0, 1))
}

/// Insulation on a tube of 5 mm radius, k 0.055 W/mK, h 5 W/m²K.
const CRITICAL_RADIUS: Case = Case {
    name: "critical radius of insulation",
    source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, Examples 3.5/3.6 by edition, from memory; \
             recomputed from ln(r2/r1)/2πk + 1/2πr2h",
    independent: true,
    expect: &[("bare, mK/W", 6.37), ("at the critical radius of 11 mm, mK/W", 5.18)],
    tolerance: Within::Units(0.005),
    because: "printed to two decimals; the scheme is exact",
};

#[test]
fn insulation_on_a_thin_tube_lets_most_heat_through_at_the_critical_radius() -> Result<(), NetworkError> {
    CRITICAL_RADIUS.hold(&[sleeve(0.005, 1)?, sleeve(0.011, 4)?]);
    let at_critical = sleeve(0.011, 4)?;
    for other in [0.009, 0.010, 0.012, 0.014] {
        assert!(sleeve(other, 4)? > at_critical, "{other} m insulates better than the critical radius");
    }
    Ok(())
}

#[test]
fn a_hollow_cylinder_is_exact_with_any_number_of_rings() -> Result<(), NetworkError> {
    /// Relative; the logarithmic half cells add up exactly.
    const ROUNDING: f64 = 1e-12;
    let exact = libm::log(2.2) / (2.0 * std::f64::consts::PI * 0.055)
        + 1.0 / (2.0 * std::f64::consts::PI * 0.011 * 5.0);
    for rings in [1, 2, 5, 40] {
        let got = sleeve(0.011, rings)?;
        assert!((got - exact).abs() <= ROUNDING * exact, "{rings} rings: {got}, not {exact}");
    }
    Ok(())
}
