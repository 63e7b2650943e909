//! The time of one section at the values used, and its cells, as JSON: what `baseline.py` compares with.

#![allow(clippy::print_stdout, reason = "the figures are for a script to read")]

use coldsill::physics::{Spread, air_film, materials, tubes};
use coldsill::section::{
    Barrel, Behind, Bore, Fitting, Inlet, Layer, Micro, Ranged, Spec, Stem, Supply, Uncertainty, solve,
};
use std::hint::black_box;
use std::time::Instant;

const INCH: f64 = 0.0254;
const RUNS: usize = 301;

/// 8 in of brass through fiber cement, sheathing, a batt and gypsum, on copper.
fn section() -> Option<Spec> {
    let layers = [(5.0 / 16.0, 0.30), (7.0 / 16.0, 0.10), (5.5, 0.043), (0.5, 0.16)];
    let [brass, copper] = [materials::find("brass")?, materials::find("copper")?];
    let tube = tubes::tube(tubes::Kind::CopperL, tubes::Size::Half);
    let layer = |(inches, conductivity): (f64, f64)| Layer {
        thickness: Micro::of(inches * INCH),
        conductivity: Micro::of(conductivity),
    };
    Some(Spec {
        wall: layers.map(layer).to_vec(),
        seat_depth: Ranged::exact(8.0 * INCH),
        barrel: Barrel {
            diameter: Ranged::exact(0.84 * INCH),
            thickness: Ranged::exact(0.06 * INCH),
            conductivity: Ranged::from(brass.conductivity),
            emissivity: Ranged::from(air_film::TARNISHED),
        },
        stem: Stem { diameter: Ranged::exact(0.25 * INCH), conductivity: Ranged::from(brass.conductivity) },
        fitting: Fitting {
            length: Ranged::new(0.7 * INCH, 1.5 * INCH, 2.5 * INCH),
            conductivity: Ranged::from(brass.conductivity),
        },
        bore: Bore::Drained,
        supply: Supply {
            diameter: Micro::of(tube.outside_diameter),
            thickness: Micro::of(tube.wall),
            conductivity: Ranged::from(copper.conductivity),
            exchange: Ranged::exact(1.0),
            run: Micro::of(24.0 * INCH),
            emissivity: Ranged::from(air_film::TARNISHED),
            sleeve: None,
        },
        inlet: Inlet::InSpace,
        behind: Behind {
            room: Micro::of(293.15),
            share: Micro::of(1.0),
            leak: Ranged::new(0.0, 0.0, 0.07),
            pressure: Ranged::exact(101_325.0),
            convection: Ranged::new(0.85, 1.0, 1.15),
        },
        held_back: None,
        outdoor_resistance: Ranged::from(Spread::new(10.0, 34.0, 60.0)).reciprocal(),
        gasket: Micro::default(),
        cover: Micro::default(),
    })
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let section = section().ok_or("a material is missing")?;
    let solved = solve(&section, Uncertainty::LeftOut)?;
    let mut seconds = Vec::new();
    for _ in 0..RUNS {
        let start = Instant::now();
        black_box(solve(black_box(&section), Uncertainty::LeftOut)?);
        seconds.push(start.elapsed().as_secs_f64());
    }
    seconds.sort_by(f64::total_cmp);
    println!(
        r#"{{"seconds": {}, "cells": {}, "seat_weight": {}}}"#,
        seconds[RUNS / 2],
        solved.cells,
        solved.seat.0
    );
    Ok(())
}
