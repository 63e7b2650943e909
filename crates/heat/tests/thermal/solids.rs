//! Bodies that do not freeze against the closed forms of their cooling: half spaces, a lump, the slab and the
//! cylinder's leading term.

use crate::thermal::case::{Case, Within};
use crate::thermal::march::{Body, Matter, crossing, even, none, passes, root, temperatures, until};
use coldsill_heat::thermal::{
    Control, Line, Network, NetworkError, Solver, Store, Surface, Transient, graded,
};

/// s
const HOUR: f64 = 3600.0;
const DAY: f64 = 24.0 * HOUR;

/// Incropera & DeWitt: soil at 20 °C, its surface brought to -15 °C for 60 days; ρ 2050, k 0.52, c 1840.
const BURIAL: Case = Case {
    name: "depth that stays above freezing",
    source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, Example 5.6/5.8 by edition (prints 0.68 m), \
             from memory; recomputed from erf",
    independent: true,
    expect: &[("0 °C after 60 days, m", 0.677)],
    tolerance: Within::Units(0.0005),
    because: "given to the millimeter; the cells are 10 to 25 mm and the temperature is close to a straight line there",
};

#[test]
fn soil_is_frozen_as_deep_as_the_textbook_has_it_after_sixty_days() -> Result<(), NetworkError> {
    /// As a part of the depth by erf: 2nd order cells leave 1e-4 of it, steps within 0.02 K as much again.
    const EXACT: f64 = 5e-4;
    let (k, capacity, start, surface) = (0.52, 2050.0 * 1840.0, 20.0, -15.0);
    let edges = graded(&[Line::new(0.0, 0.005), Line::new(12.0, 0.5)], 1.03, 0.5)?;
    let body = Body::column(edges, Matter::Dry(k, capacity), 0.0)?;
    let solver = Solver::analyse(&body.network)?;
    let control = Control { kelvin: 0.02, phase: 1.0, first: 1.0, longest: HOUR * 6.0 };
    let mut march = body.march(&solver, none(), start, control)?;
    let part = until(&mut march, &|_| vec![surface], 60.0 * DAY)?;
    let depth = crossing(&body.nodes(), &temperatures(&march, part), 0.0);
    BURIAL.hold(&[depth]);
    // (T - Ts)/(Ti - Ts) = erf(x/√4αt)
    let eta = root(0.0, 3.0, |eta| libm::erf(eta) - (0.0 - surface) / (start - surface));
    let exact = eta * (4.0 * k / capacity * 60.0 * DAY).sqrt();
    assert!((depth - exact).abs() < EXACT * exact, "{depth} m, not {exact}");
    Ok(())
}

/// Geankoplis: soil at 15.6 °C, air at -17.8 °C for 5 h; h 11.36, k 0.865, α 4.65e-7.
const COLD_NIGHT: Case = Case {
    name: "ground under a cold air mass",
    source: "Geankoplis, Transport Processes and Unit Operations, Example 5.3-1, exactly: the surface as tested in \
             the general library cheme, the depth recomputed from erfc. The book reads -5.44 °C and 29.3 mm off a chart",
    independent: true,
    expect: &[("surface after 5 h, °C", -5.168), ("0 °C after 5 h, cm", 3.31)],
    tolerance: Within::Units(0.005),
    because: "cells of 1 mm and steps within 2 mK leave 2 mK; 0.05 mm is as much at 20 K in 65 mm and the print's last digit",
};

#[test]
fn ground_under_a_cold_air_mass_cools_as_erfc_has_it() -> Result<(), NetworkError> {
    /// K, against erfc in every cell; see the case.
    const EVERYWHERE: f64 = 0.005;
    let (k, diffusivity, h, start, air, time) = (0.865, 4.65e-7, 11.36, 15.6, -17.8, 5.0 * HOUR);
    let edges = graded(&[Line::new(0.0, 0.001), Line::new(2.0, 0.1)], 1.03, 0.1)?;
    let body = Body::column(edges, Matter::Dry(k, k / diffusivity), 1.0 / h)?;
    let solver = Solver::analyse(&body.network)?;
    let control = Control { kelvin: 0.002, phase: 1.0, first: 0.1, longest: 60.0 };
    let mut march = body.march(&solver, none(), start, control)?;
    let part = until(&mut march, &|_| vec![air], time)?;
    let got = temperatures(&march, part);
    let nodes = body.nodes();
    let surface = air + (got[0] - air) / (1.0 + h * nodes[0] / k);
    COLD_NIGHT.hold(&[surface, 100.0 * crossing(&nodes, &got, 0.0)]);
    // Carslaw & Jaeger §2.7.
    let exact = |x: f64| {
        let (eta, film) = (x / (4.0 * diffusivity * time).sqrt(), h / k * (diffusivity * time).sqrt());
        let part = libm::erfc(eta) - libm::exp(h * x / k + film * film) * libm::erfc(eta + film);
        start + (air - start) * part
    };
    for (node, got) in nodes.iter().zip(&got) {
        assert!((got - exact(*node)).abs() < EVERYWHERE, "at {node} m: {got}, not {}", exact(*node));
    }
    assert!((exact(0.0) - COLD_NIGHT.expect[0].1).abs() < 0.001, "the print is the closed form's");
    Ok(())
}

/// Incropera & DeWitt: a thermocouple's bead, ρ 8500, c 400, h 400.
const BEAD: Case = Case {
    name: "thermocouple bead",
    source: "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, Example 5.1 (prints 5.2 s), from memory; \
             recomputed as τ ln 175",
    independent: true,
    expect: &[("from 25 to 199 °C in gas at 200 °C, s", 5.165)],
    tolerance: Within::Units(0.001),
    because: "given to a thousandth: steps within 1 mK are 1e-5 of 174 K each",
};

#[test]
fn a_bead_reaches_its_gas_as_the_lumped_formula_has_it() -> Result<(), NetworkError> {
    let diameter: f64 = 0.706e-3;
    let area = std::f64::consts::PI * diameter * diameter;
    let mut network = Network::new(1);
    let cell = network.add_cell(20.0)?;
    network.meet(Surface { cell, boundary: 0, half: 0.0, area, tag: 0 }, 1.0 / 400.0)?;
    let stores = vec![Store { capacity: 8500.0 * 400.0 * area * diameter / 6.0, ..Store::default() }];
    let solver = Solver::analyse(&network)?;
    let control = Control { kelvin: 1e-3, phase: 1.0, first: 1e-3, longest: 1e-2 };
    let mut march = Transient::new(&solver, network, stores, none(), vec![25.0], control)?;
    let time = passes(&mut march, &|_| vec![200.0], 199.0, |it| {
        [it.temperatures_before()[0], it.temperatures()[0]]
    })?;
    BEAD.hold(&[time]);
    Ok(())
}

/// Incropera & DeWitt, Table 5.1, from memory; the roots below recompute it.
const ONE_TERM: &str = "Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, Table 5.1";
/// Biot number, ζ1 and C1.
const CYLINDER: [[f64; 3]; 5] = [
    [0.1, 0.4417, 1.0246],
    [0.5, 0.9408, 1.1143],
    [1.0, 1.2558, 1.2071],
    [5.0, 1.9898, 1.5029],
    [10.0, 2.1795, 1.5677],
];
const SLAB: [[f64; 3]; 5] = [
    [0.1, 0.3111, 1.0161],
    [0.5, 0.6533, 1.0701],
    [1.0, 0.8603, 1.1191],
    [5.0, 1.3138, 1.2402],
    [10.0, 1.4289, 1.2620],
];
/// Half of the last digit of a table to four decimals.
const PRINTED: f64 = 5.001e-5;
/// ζ1 and C1 out of 200 cells: second order leaves 6e-5 of 1.6 (100 cells leave 2.4e-4).
const SECOND_ORDER: f64 = 1e-4;

/// ζ1 and C1 as a body of radius or half thickness, conductivity and capacity 1 cools, from its middle at two late
/// times. `middle` gives the temperature in the middle from the nodes and temperatures.
fn leading_term(body: &Body, middle: impl Fn(&[f64], &[f64]) -> f64) -> Result<[f64; 2], NetworkError> {
    let solver = Solver::analyse(&body.network)?;
    let control = Control { kelvin: 1e-5, phase: 1.0, first: 1e-6, longest: 1e-3 };
    let mut march = body.march(&solver, none(), 1.0, control)?;
    let mut at = |time: f64| -> Result<f64, NetworkError> {
        let part = until(&mut march, &|_| vec![0.0], time)?;
        Ok(middle(&body.nodes(), &temperatures(&march, part)))
    };
    // By then the second term, of ζ2² > 14, is below 1e-5 of the first.
    let (early, late) = (at(1.0)?, at(1.6)?);
    let rate = libm::log(early / late) / 0.6;
    Ok([rate.sqrt(), early * libm::exp(rate)])
}

fn holds(shape: &str, table: &[f64; 3], exact: [f64; 2], got: [f64; 2]) {
    for i in 0..2 {
        let ([biot, ..], printed) = (table, table[i + 1]);
        assert!(
            (exact[i] - printed).abs() < PRINTED,
            "{ONE_TERM}: {shape}, Bi {biot}: {printed}, root {}",
            exact[i]
        );
        assert!(
            (got[i] - exact[i]).abs() < SECOND_ORDER,
            "{shape}, Bi {biot}: {} against {} ({ONE_TERM})",
            got[i],
            exact[i]
        );
    }
}

#[test]
fn a_long_cylinder_cools_late_at_the_leading_term() -> Result<(), NetworkError> {
    for table in &CYLINDER {
        let biot = table[0];
        // ζ J1(ζ) = Bi J0(ζ), the first root below J0's own.
        let zeta = root(1e-9, 2.404_825, |it| it * libm::j1(it) - biot * libm::j0(it));
        let (j0, j1) = (libm::j0(zeta), libm::j1(zeta));
        let c1 = 2.0 * j1 / (zeta * (j0 * j0 + j1 * j1));
        let body = Body::cylinder(even(200, 1.0), Matter::Dry(1.0, 1.0), 1.0 / biot)?;
        // Temperature near the axis goes with r², of which a cell's node has its mean.
        let got = leading_term(&body, |nodes, it| {
            let [a, b] = [nodes[0] * nodes[0], nodes[1] * nodes[1]];
            (it[0] * b - it[1] * a) / (b - a)
        })?;
        holds("cylinder", table, [zeta, c1], got);
    }
    Ok(())
}

#[test]
fn a_slab_cools_late_at_the_leading_term() -> Result<(), NetworkError> {
    for table in &SLAB {
        let biot = table[0];
        let half_turn = std::f64::consts::FRAC_PI_2;
        let zeta = root(1e-9, half_turn - 1e-9, |it| it * libm::sin(it) - biot * libm::cos(it));
        let c1 = 4.0 * libm::sin(zeta) / (2.0 * zeta + libm::sin(2.0 * zeta));
        let body = Body::column(even(200, 1.0), Matter::Dry(1.0, 1.0), 1.0 / biot)?;
        // The middle is the column's adiabatic end.
        let got = leading_term(&body, |nodes, it| {
            let n = nodes.len();
            let [a, b] = [n - 1, n - 2].map(|i| (1.0 - nodes[i]) * (1.0 - nodes[i]));
            (it[n - 1] * b - it[n - 2] * a) / (b - a)
        })?;
        holds("slab", table, [zeta, c1], got);
    }
    Ok(())
}
