//! How fast a transient comes closer to the exact solution as cells and steps are halved.

use crate::thermal::march::{Body, Matter, even, fixed, ice, none, substance, temperatures, until};
use coldsill_heat::thermal::{Control, NetworkError, Solver, Transient};
use std::f64::consts::{FRAC_PI_2, PI};

/// Errors by how often the cells or steps were halved, and the orders between them.
#[allow(clippy::print_stdout, reason = "the table is what the test is for")]
fn table(name: &str, unit: &str, errors: &[(u32, f64)]) -> Vec<f64> {
    println!("{name}\n{:>8} {:>12} {:>7}", "number", format!("error, {unit}"), "order");
    let mut orders = Vec::new();
    for (i, (number, error)) in errors.iter().enumerate() {
        if i == 0 {
            println!("{number:>8} {error:>12.3e}");
        } else {
            let (fewer, larger) = errors[i - 1];
            let order = libm::log(larger / error) / libm::log(f64::from(*number) / f64::from(fewer));
            println!("{number:>8} {error:>12.3e} {order:>7.2}");
            orders.push(order);
        }
    }
    orders
}

/// A slab of thickness, conductivity and capacity 1, held at 0 on its surface and adiabatic on its far side, that starts
/// as the slowest sine: its nodes, and their temperatures at time 0.2.
fn sine(cells: u32, steps: u32) -> Result<(Vec<f64>, Vec<f64>), NetworkError> {
    let body = Body::column(even(cells, 1.0), Matter::Dry(1.0, 1.0), 0.0)?;
    let solver = Solver::analyse(&body.network)?;
    let nodes = body.nodes();
    let start = nodes.iter().map(|x| libm::sin(FRAC_PI_2 * x)).collect();
    let control = fixed(0.2 / f64::from(steps));
    let (network, stores) = (body.network.clone(), body.stores.clone());
    let mut march = Transient::new(&solver, network, stores, none(), start, control)?;
    let part = until(&mut march, &|_| vec![0.0], 0.2)?;
    Ok((nodes, temperatures(&march, part)))
}

fn worst(pairs: impl Iterator<Item = (f64, f64)>) -> f64 {
    pairs.map(|(a, b)| (a - b).abs()).fold(0.0, f64::max)
}

/// Orders are limits, met the closer the finer; the last halvings are this close.
const SLACK: f64 = 0.1;

#[test]
fn a_smooth_problem_is_of_second_order_in_space() -> Result<(), NetworkError> {
    // Steps of 5e-5 add 1e-9.
    let mut errors = Vec::new();
    for cells in [5, 10, 20, 40, 80] {
        let (nodes, got) = sine(cells, 4000)?;
        let decay = libm::exp(-FRAC_PI_2 * FRAC_PI_2 * 0.2);
        let exact = nodes.iter().map(|x| decay * libm::sin(FRAC_PI_2 * x));
        errors.push((cells, worst(exact.zip(got))));
    }
    let orders = table("cooling slab, by cells", "of 1", &errors);
    assert!(orders[2..].iter().all(|it| (it - 2.0).abs() < SLACK), "{orders:?}");
    Ok(())
}

#[test]
fn a_smooth_problem_is_of_second_order_in_time() -> Result<(), NetworkError> {
    // On even cells the sine is a solution of the cells' own equations too, with a rate of its own.
    let cells: u32 = 20;
    let wide = 1.0 / f64::from(cells);
    let rate = 2.0 / (wide * wide) * (1.0 - libm::cos(FRAC_PI_2 * wide));
    let mut errors = Vec::new();
    for steps in [5, 10, 20, 40, 80] {
        let (nodes, got) = sine(cells, steps)?;
        let exact = nodes.iter().map(|x| libm::exp(-rate * 0.2) * libm::sin(FRAC_PI_2 * x));
        errors.push((steps, worst(exact.zip(got))));
    }
    let orders = table("cooling slab, by steps", "of 1", &errors);
    assert!(orders[2..].iter().all(|it| (it - 2.0).abs() < SLACK), "{orders:?}");
    Ok(())
}

#[test]
fn boundaries_that_swing_are_followed_to_second_order_in_time() -> Result<(), NetworkError> {
    // One cell of time constant 1 behind a film: T' = sin(2πt) - T from rest.
    let exact = |t: f64| {
        let turn = 2.0 * PI;
        let swing = libm::sin(turn * t) - turn * libm::cos(turn * t) + turn * libm::exp(-t);
        swing / (1.0 + turn * turn)
    };
    let body = Body::column(even(1, 1.0), Matter::Dry(1e6, 1.0), 1.0)?;
    let solver = Solver::analyse(&body.network)?;
    let mut errors = Vec::new();
    for steps in [10, 20, 40, 80, 160] {
        let mut march = body.march(&solver, none(), 0.0, fixed(1.3 / f64::from(steps)))?;
        until(&mut march, &|t| vec![libm::sin(2.0 * PI * t)], 1.3)?;
        errors.push((steps, (march.temperatures()[0] - exact(march.time())).abs()));
    }
    let orders = table("a swinging boundary, by steps", "of 1", &errors);
    assert!(orders[2..].iter().all(|it| (it - 2.0).abs() < SLACK), "{orders:?}");
    Ok(())
}

/// Conductivity and capacity 1 on both sides, Stefan number 0.2, a wall 10 below and the thawed side 5 above freezing:
/// the front at time 1, 0.8 in.
fn front(cells: u32, control: Control) -> Result<f64, NetworkError> {
    let body = Body::column(even(cells, 6.0), Matter::Wet, 0.0)?;
    let solver = Solver::analyse(&body.network)?;
    let curve = substance(1.0, 1.0, 1.0, 1.0, 50.0, 1e-4)?;
    let mut march = body.march(&solver, curve, 5.0, control)?;
    let part = until(&mut march, &|_| vec![-10.0], 1.0)?;
    let [before, now] = ice(&march, &body);
    Ok(before + part * (now - before))
}

/// Neumann's front of those numbers: 2λ, with e^(-λ²) (10/erf λ - 5/erfc λ) = 50 √π λ.
fn neumann() -> f64 {
    2.0 * crate::thermal::march::root(1e-6, 3.0, |it| {
        let sides = 10.0 / libm::erf(it) - 5.0 / libm::erfc(it);
        libm::exp(-it * it) * sides - 50.0 * PI.sqrt() * it
    })
}

/// A front is met to about first order: it moves from cell to cell, and what it does within one depends on where in the
/// cell it is read. Over several halvings together that is within this.
const FRONT_SLACK: f64 = 0.25;

/// The order from the first to the last of some errors.
fn overall(errors: &[(u32, f64)]) -> f64 {
    let [(fewest, largest), (most, least)] = [errors[0], errors[errors.len() - 1]];
    libm::log(largest / least) / libm::log(f64::from(most) / f64::from(fewest))
}

#[test]
fn a_freezing_front_is_of_first_order_or_better_in_space() -> Result<(), NetworkError> {
    let exact = neumann();
    let mut errors = Vec::new();
    for cells in [40, 80, 160, 320, 640] {
        let control = Control { kelvin: 0.01, phase: 0.01, first: 1e-7, longest: 2e-3 };
        errors.push((cells, (front(cells, control)? / exact - 1.0).abs()));
    }
    table("Neumann's front, by cells", "of X", &errors);
    let order = overall(&errors);
    assert!(order > 1.0 - FRONT_SLACK, "{order}: {errors:?}");
    Ok(())
}

#[test]
fn a_freezing_front_is_of_first_order_or_better_in_time() -> Result<(), NetworkError> {
    // Against steps sixteen times as short as the shortest: what cells leave is the same in all.
    let exact = front(80, fixed(1.0 / 12800.0))?;
    let mut errors = Vec::new();
    for steps in [50, 100, 200, 400, 800] {
        errors.push((steps, (front(80, fixed(1.0 / f64::from(steps)))? / exact - 1.0).abs()));
    }
    table("Neumann's front, by steps", "of X", &errors);
    let order = overall(&errors);
    assert!(order > 1.0 - FRONT_SLACK, "{order}: {errors:?}");
    Ok(())
}
