//! A bore that freezes from its wall inwards, and Plank's plates and cylinders: quasi-steady closed forms, which leave
//! the heat capacity of the ice out and so bound the time from below.

use crate::thermal::case::{Case, Within};
use crate::thermal::march::{Body, Matter, even, ice, passes, substance};
use coldsill_heat::thermal::{Control, NetworkError, Solver};
use std::f64::consts::PI;

/// A thing that freezes at one temperature: conductivity W/mK, density kg/m³, latent heat J/kg.
#[derive(Clone, Copy)]
struct Frozen {
    k: f64,
    density: f64,
    latent: f64,
}

/// At 0 °C: IAPWS-06, conductivity from CoolProp's FoodIce.
const ICE: Frozen = Frozen { k: 2.2196, density: 916.722, latent: 333.4265e3 };
/// The same, rounded as Plank's cylinder is quoted.
const ROUND_ICE: Frozen = Frozen { k: 2.22, density: 917.0, latent: 333.6e3 };

/// What freezes, from outside inwards: a cylinder or half a plate.
#[derive(Clone, Copy)]
enum Shape {
    Cylinder { radius: f64 },
    Plate { half: f64 },
}

/// Cells from the surface to the middle.
const CELLS: u32 = 100;
/// Of the quasi-steady times, as a part, where the ice's capacity is next to nothing: that capacity leaves 7e-4, cells and
/// steps 2e-4.
const QUASI_STEADY: f64 = 2e-3;
/// J/m³K; Stefan numbers of 1e-3, which lengthen the times by 7e-4 at most (see the last test).
const NEXT_TO_NOTHING: f64 = 30_000.0;

/// The times at which parts of the volume are frozen, s, with the wall or air `below` the freezing point, K. `h` is the
/// film, nothing for a wall held at that temperature; `capacity` the ice's, J/m³K.
fn times(
    it: Frozen,
    shape: Shape,
    h: Option<f64>,
    below: f64,
    capacity: f64,
    parts: &[f64],
) -> Result<Vec<f64>, NetworkError> {
    let Frozen { k, density, latent } = it;
    // 0.1 mK of 10 K, and the thawed side, at the freezing point all along, as the frozen one.
    let curve = substance(k, capacity, k, capacity, density * latent, 1e-5 * below)?;
    let film = h.map_or(0.0, |h| 1.0 / h);
    let (body, volume, quick) = match shape {
        Shape::Cylinder { radius } => (
            Body::cylinder(even(CELLS, radius), Matter::Wet, film)?,
            PI * radius * radius,
            quasi_steady(it, shape, h, below),
        ),
        Shape::Plate { half } => {
            (Body::column(even(CELLS, half), Matter::Wet, film)?, half, quasi_steady(it, shape, h, below))
        }
    };
    let solver = Solver::analyse(&body.network)?;
    let control = Control { kelvin: 0.005 * below, phase: 0.01, first: 1e-6 * quick, longest: quick / 100.0 };
    let mut march = body.march(&solver, curve, 0.0, control)?;
    parts
        .iter()
        .map(|part| passes(&mut march, &|_| vec![-below], part * volume, |march| ice(march, &body)))
        .collect()
}

/// Plank's time: ρL/ΔT (P a/h + R a²/k), P and R 1/2 and 1/8 for a plate of thickness a, 1/4 and 1/16 for a cylinder of
/// diameter a. With a wall held at its temperature, the first term is gone.
fn quasi_steady(it: Frozen, shape: Shape, h: Option<f64>, below: f64) -> f64 {
    let (a, p, r) = match shape {
        Shape::Cylinder { radius } => (2.0 * radius, 0.25, 1.0 / 16.0),
        Shape::Plate { half } => (2.0 * half, 0.5, 0.125),
    };
    it.density * it.latent / below * (h.map_or(0.0, |h| p * a / h) + r * a * a / it.k)
}

const FULL: Case = Case {
    name: "times to freeze through, quasi-steady",
    source: "Plank's formula; meat: Geankoplis, Transport Processes and Unit Operations, Example 9.11-1 (prints 2.39e4 s), \
             from memory; all recomputed from the formula",
    independent: true,
    expect: &[
        ("12.7 mm bore, wall at -10 °C, s", 138.82),
        ("13.8 mm bore, h 25 W/m²K, air at -10 °C", 4386.0),
        ("63.5 mm of meat, h 17, 270.4 K in air at 244.3 K", 23944.0),
    ],
    tolerance: Within::Part(QUASI_STEADY),
    because: "see QUASI_STEADY; the formula itself is held to the print's last digit",
};

const BORE: Shape = Shape::Cylinder { radius: 0.00635 };
const MEAT: Frozen = Frozen { k: 1.038, density: 1057.0, latent: 0.75 * 335e3 };

/// Everything frozen but for what the last cell on the axis may hold back.
const ALL: f64 = 1.0 - 1e-6;

#[test]
fn without_the_capacity_of_ice_the_times_to_freeze_through_are_planks() -> Result<(), NetworkError> {
    /// Of the print, one of the last of its four or five digits.
    const PRINT: f64 = 2e-4;
    let cases = [
        (ICE, BORE, None, 10.0),
        (ROUND_ICE, Shape::Cylinder { radius: 0.0069 }, Some(25.0), 10.0),
        (MEAT, Shape::Plate { half: 0.03175 }, Some(17.0), 26.1),
    ];
    let mut got = Vec::new();
    for ((it, shape, h, below), (what, print)) in cases.into_iter().zip(FULL.expect) {
        let formula = quasi_steady(it, shape, h, below);
        assert!((formula / print - 1.0).abs() < PRINT, "{what}: {formula}");
        got.extend(times(it, shape, h, below, NEXT_TO_NOTHING, &[ALL])?);
    }
    FULL.hold(&got);
    Ok(())
}

#[test]
fn the_front_in_a_bore_is_where_the_quasi_steady_form_has_it_all_the_way() -> Result<(), NetworkError> {
    // t = ρL/(kΔT) [R²/4 - r²/4 - r²/2 ln(R/r)]
    let radius: f64 = 0.00635;
    let exact = |r: f64| {
        let bracket = 0.25 * (radius * radius - r * r) - 0.5 * r * r * libm::log(radius / r);
        ICE.density * ICE.latent / (ICE.k * 10.0) * bracket
    };
    let left = [0.9, 0.7, 0.5, 0.3, 0.1];
    let parts = left.map(|it| 1.0 - it * it);
    let got = times(ICE, BORE, None, 10.0, NEXT_TO_NOTHING, &parts)?;
    for (left, got) in left.into_iter().zip(got) {
        let exact = exact(left * radius);
        assert!((got / exact - 1.0).abs() < QUASI_STEADY, "at {left} R: {got} s, not {exact}");
    }
    Ok(())
}

#[test]
fn quasi_steady_times_are_lower_bounds_that_fall_further_short_as_the_stefan_number_grows()
-> Result<(), NetworkError> {
    let shapes = [
        ("bore, cold wall", ICE, BORE, None),
        ("bore, film", ICE, BORE, Some(25.0)),
        ("plate, cold wall", MEAT, Shape::Plate { half: 0.03175 }, None),
        ("plate, film", MEAT, Shape::Plate { half: 0.03175 }, Some(17.0)),
    ];
    for (name, it, shape, h) in shapes {
        let below = 10.0;
        let bound = quasi_steady(it, shape, h, below);
        let mut before = 1.0;
        for number in [0.03, 0.06, 0.125, 0.25, 0.5] {
            let capacity = number * it.density * it.latent / below;
            let got = times(it, shape, h, below, capacity, &[ALL])?[0];
            assert!(got > bound * before, "{name}, St {number}: {got} s, bound {bound}, before {before}");
            before = got / bound;
        }
    }
    Ok(())
}
