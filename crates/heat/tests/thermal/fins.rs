//! Rods as fins: a chain of cells linked end to end, as one-dimensional fin theory has them, and the same rods
//! resolved across the radius, which depart from the theory by about the Biot number hR/k.

use crate::thermal::case::{Case, Within, solved};
use coldsill_heat::thermal::{
    Axis, Face, Film, Grid, Line, Link, Network, NetworkError, Side, Surface, graded,
};
use std::f64::consts::PI;

/// A round rod with its base held at a temperature, in a fluid.
#[derive(Clone, Copy)]
struct Rod {
    diameter: f64,
    length: f64,
    conductivity: f64,
    film: f64,
    base: f64,
    fluid: f64,
    /// Whether the free end gives off heat as the side does.
    tip: bool,
}

/// What is asked of a rod: heat from the base W, temperature of the tip °C.
struct Found {
    heat: f64,
    tip: f64,
}

/// Enough cells for 1-D theory: the error of even cells falls with their square, and is about (mL)²/24n² of the heat.
const CELLS: usize = 4000;

/// The rod as a chain of cells linked by hand; each cell one temperature, as fin theory has it.
fn chain(rod: Rod) -> Result<Found, NetworkError> {
    let section = PI * rod.diameter * rod.diameter / 4.0;
    let step = rod.length / CELLS as f64;
    let half = 0.5 * step / section;
    let mut network = Network::new(2);
    let mut base = 0;
    for number in 0..CELLS {
        let cell = network.add_cell(rod.conductivity)?;
        if number == 0 {
            base = network.meet(Surface { cell, boundary: 0, half, area: section, tag: 0 }, 0.0)?;
        } else {
            network.link(Link { cells: [cell - 1, cell], half: [half, half], extra: 0.0 })?;
        }
        let side = Surface { cell, boundary: 1, half: 0.0, area: PI * rod.diameter * step, tag: 0 };
        network.meet(side, 1.0 / rod.film)?;
    }
    let last = CELLS - 1;
    let end = Surface { cell: last, boundary: 1, half, area: section, tag: 0 };
    let end = if rod.tip { Some(network.meet(end, 1.0 / rod.film)?) } else { None };
    let weights = solved(&network)?;
    let given = [rod.base, rod.fluid];
    let tip = end.map_or_else(
        || weights.cell_temperature(last, &given),
        |end| weights.surface_temperature(end, &given),
    );
    Ok(Found { heat: -weights.surface_flow(base, &given), tip })
}

/// The rod on a cylindrical grid. Its tip is the mean over the end.
fn resolved(rod: Rod) -> Result<Found, NetworkError> {
    let radius = rod.diameter / 2.0;
    let r = graded(&[Line::new(0.0, radius / 6.0), Line::new(radius, radius / 12.0)], 1.2, radius)?;
    let z =
        graded(&[Line::new(0.0, radius / 40.0), Line::new(rod.length, radius / 10.0)], 1.1, radius / 4.0)?;
    let grid = Grid::cylindrical(r, z)?;
    let network = Network::over(
        &grid,
        2,
        |_, _| Some(rod.conductivity),
        |at| match (at.face.axis, at.face.side) {
            (Axis::Second, Side::Low) => Some(Film::new(0, 0.0)),
            (Axis::Second, Side::High) => {
                rod.tip.then(|| Film { boundary: 1, resistance: 1.0 / rod.film, tag: 1 })
            }
            _ => Some(Film::new(1, 1.0 / rod.film)),
        },
    )?;
    let weights = solved(&network)?;
    let given = [rod.base, rod.fluid];
    let (mut tip, mut area) = (0.0, 0.0);
    for (number, surface) in network.surfaces().iter().enumerate().filter(|(_, surface)| surface.tag == 1) {
        tip += surface.area * weights.surface_temperature(number, &given);
        area += surface.area;
    }
    Ok(Found { heat: weights.flows(&given)[1], tip: tip / area })
}

/// D 5 mm, base 100 °C, air 25 °C, h 100 W/m²K.
const fn thin(conductivity: f64, length: f64, tip: bool) -> Rod {
    Rod { diameter: 0.005, length, conductivity, film: 100.0, base: 100.0, fluid: 25.0, tip }
}

/// Copper, aluminium 2024, stainless 316, W/mK.
const METALS: [f64; 3] = [398.0, 180.0, 14.0];

const INFINITE: Case = Case {
    name: "infinitely long rods",
    source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, 6th ed., Example 3.9, from memory; \
             recomputed from sqrt(hPkA) θb",
    independent: true,
    expect: &[("copper, W", 8.3), ("aluminium, W", 5.6), ("stainless, W", 1.6)],
    tolerance: Within::Units(0.05),
    because: "printed to one decimal",
};

#[test]
fn long_rods_give_off_the_heat_of_infinite_fins() -> Result<(), NetworkError> {
    let mut heat = Vec::new();
    for k in METALS {
        // 6/m: the base sees the end by less than e^-12.
        let m = (4.0 * 100.0 / (k * 0.005)).sqrt();
        heat.push(chain(thin(k, 6.0 / m, true))?.heat);
    }
    INFINITE.hold(&heat);
    Ok(())
}

const SHORT_HEAT: Case = Case {
    name: "rods 50 mm long: heat",
    source: "tanh and convective-tip formulas of fin theory, worked out apart from this project",
    independent: true,
    expect: &[
        ("copper, adiabatic tip, W", 5.0686),
        ("copper, W", 5.1601),
        ("aluminium, adiabatic tip, W", 4.3778),
        ("aluminium, W", 4.4335),
        ("stainless, adiabatic tip, W", 1.5569),
        ("stainless, W", 1.5571),
    ],
    tolerance: Within::Units(1e-4),
    because: "given to 1e-4; 4000 cells err by less than 1e-6",
};

const SHORT_TIP: Case = Case {
    name: "rods 50 mm long: tip",
    source: "tanh and convective-tip formulas of fin theory, worked out apart from this project",
    independent: true,
    expect: &[
        ("copper, adiabatic tip, °C", 84.43),
        ("copper, °C", 83.80),
        ("aluminium, adiabatic tip, °C", 71.61),
        ("aluminium, °C", 70.67),
        ("stainless, adiabatic tip, °C", 28.42),
        ("stainless, °C", 28.13),
    ],
    tolerance: Within::Units(0.005),
    because: "given to two decimals",
};

#[test]
fn short_rods_agree_with_fin_theory_with_either_tip() -> Result<(), NetworkError> {
    let (mut heat, mut tip) = (Vec::new(), Vec::new());
    for k in METALS {
        for with_tip in [false, true] {
            let found = chain(thin(k, 0.05, with_tip))?;
            heat.push(found.heat);
            tip.push(found.tip);
        }
    }
    SHORT_HEAT.hold(&heat);
    SHORT_TIP.hold(&tip);
    Ok(())
}

/// D 20 mm, L 80 mm, k 205 W/mK, h 120 W/m²K, 150 °C base, 26 °C fluid.
const ALUMINIUM: Rod = Rod {
    diameter: 0.02,
    length: 0.08,
    conductivity: 205.0,
    film: 120.0,
    base: 150.0,
    fluid: 26.0,
    tip: true,
};

const CONVECTIVE_TIP: Case = Case {
    name: "aluminium rod with a convective tip",
    source: "Lienhard & Lienhard, A Heat Transfer Textbook, Example 4.8, as solved in a public companion text",
    independent: true,
    expect: &[("tip, °C", 111.43), ("tip, adiabatic, °C", 114.66)],
    tolerance: Within::Units(0.01),
    because: "printed to two decimals from rounded intermediate values; the model is 1-D as the text's is",
};

#[test]
fn the_textbook_rod_has_the_textbook_tip() -> Result<(), NetworkError> {
    CONVECTIVE_TIP.hold(&[chain(ALUMINIUM)?.tip, chain(Rod { tip: false, ..ALUMINIUM })?.tip]);
    Ok(())
}

const STAINLESS: Case = Case {
    name: "stainless pin with an adiabatic tip",
    source: "Sukhatme, A Textbook on Heat Transfer, Example 2.13b, p. 73; the result recomputed from θb/cosh(mL)",
    independent: true,
    expect: &[("tip, °C", 90.06)],
    tolerance: Within::Units(0.01),
    because: "printed to two decimals",
};

#[test]
fn a_stainless_pin_has_the_published_tip() -> Result<(), NetworkError> {
    let pin = Rod {
        diameter: 0.003,
        length: 0.03,
        conductivity: 15.0,
        film: 10.0,
        base: 120.0,
        fluid: 20.0,
        tip: false,
    };
    STAINLESS.hold(&[chain(pin)?.tip]);
    Ok(())
}

#[test]
fn a_rod_resolved_across_its_radius_departs_from_fin_theory_by_about_its_biot_number()
-> Result<(), NetworkError> {
    for rod in [ALUMINIUM, thin(398.0, 0.05, true), thin(14.0, 0.05, true)] {
        let biot = rod.film * rod.diameter / 2.0 / rod.conductivity;
        let (one, two) = (chain(rod)?, resolved(rod)?);
        let heat = two.heat / one.heat - 1.0;
        let tip = (two.tip - rod.fluid) / (one.tip - rod.fluid) - 1.0;
        assert!(heat.abs() < 0.5 * biot, "heat departs by {heat}, Biot number {biot}");
        assert!(tip.abs() < biot, "tip departs by {tip}, Biot number {biot}");
    }
    Ok(())
}

#[test]
fn a_chain_hung_on_a_cell_of_a_grid_acts_as_the_resistance_of_its_fin() -> Result<(), NetworkError> {
    /// Relative; the chain's own discretisation.
    const CHAIN: f64 = 1e-6;
    // A plug 20 mm across and 50 mm long, held at one end and insulated around; a long rod hangs on the other.
    let (radius, length, k, h) = (0.01, 0.05, 30.0, 12.0);
    let grid = Grid::cylindrical(vec![0.0, radius], vec![0.0, 0.02, length])?;
    let mut network = Network::over(
        &grid,
        2,
        |_, _| Some(k),
        |at| (at.face == Face::new(Axis::Second, Side::Low)).then(|| Film::new(0, 0.0)),
    )?;
    let root = network.cell_at(grid.number([0, 1, 0])).ok_or(NetworkError::Empty)?;
    let section = PI * radius * radius;
    let m = (2.0 * h / (k * radius)).sqrt();
    let step = 12.0 / m / CELLS as f64;
    let mut half_before = grid.half([0, 1, 0], Face::new(Axis::Second, Side::High));
    let mut before = root;
    for _ in 0..CELLS {
        let cell = network.add_cell(k)?;
        let half = 0.5 * step / section;
        network.link(Link { cells: [before, cell], half: [half_before, half], extra: 0.0 })?;
        let side = Surface { cell, boundary: 1, half: 0.0, area: 2.0 * PI * radius * step, tag: 0 };
        network.meet(side, 1.0 / h)?;
        (before, half_before) = (cell, half);
    }
    // A long fin is a resistance of 1 / (k A m).
    let exact = 1.0 / (length / (k * section) + 1.0 / (k * section * m));
    let got = solved(&network)?.coupling(0, 1);
    assert!((got / exact - 1.0).abs() < CHAIN, "{got}, not {exact}");
    Ok(())
}

/// hR/k of the rods of `DECAY`.
const BIOT: [f64; 3] = [0.1, 0.5, 1.0];

const DECAY: Case = Case {
    name: "decay along a long rod that is not thin",
    source: "first root of z J1(z) = Bi J0(z): Incropera & DeWitt, Table 5.1, from memory; recomputed",
    independent: true,
    expect: &[("Bi 0.1", 0.4417), ("Bi 0.5", 0.9408), ("Bi 1", 1.2558)],
    tolerance: Within::Part(0.001),
    because: "twelve rings and steps of a fortieth of the radius, second order",
};

/// How fast the rim nears the fluid along a rod of unit radius, per radius: away from base and tip (25 radii), where only the
/// first root is left.
fn decay(biot: f64, rings: u32) -> Result<f64, NetworkError> {
    let even = |cells: u32, step: f64| (0..=cells).map(|i| f64::from(i) * step).collect();
    let grid = Grid::cylindrical(even(rings, 1.0 / f64::from(rings)), even(1000, 0.025))?;
    let network = Network::over(
        &grid,
        2,
        |_, _| Some(1.0),
        |at| match (at.face.axis, at.face.side) {
            (Axis::Second, Side::Low) => Some(Film::new(1, 0.0)),
            (Axis::Second, Side::High) => None,
            _ => Some(Film::new(0, 1.0 / biot)),
        },
    )?;
    let weights = solved(&network)?;
    let excess = |row| weights.cell_weight(grid.number([grid.shape()[0] - 1, row, 0]), 1);
    Ok(libm::log(excess(100) / excess(140)) / (40.0 * 0.025))
}

#[test]
fn a_rod_that_is_not_thin_cools_along_its_length_as_its_first_root_says() -> Result<(), NetworkError> {
    /// The cell on the axis takes the parabola of an even supply; the true profile is a Bessel function, and the
    /// two differ by 0.7 % in this at Bi 1, against 12 % for a cell without any resistance across.
    const ONE_CELL: f64 = 0.01;
    let resolved: Result<Vec<f64>, NetworkError> = BIOT.iter().map(|&biot| decay(biot, 12)).collect();
    DECAY.hold(&resolved?);
    for (biot, (_, root)) in BIOT.into_iter().zip(DECAY.expect) {
        let single = decay(biot, 1)?;
        assert!((single / root - 1.0).abs() < ONE_CELL, "Bi {biot}: {single} with one cell, root {root}");
    }
    Ok(())
}
