//! What one distinct section costs, and one least depth: brass in a 2x6 wall with a copper supply, every factor with
//! its spread, as reviews ask for it.

#![allow(missing_docs, reason = "the functions criterion makes cannot carry any")]
#![allow(clippy::unwrap_used, reason = "a bench that cannot solve has nothing to measure")]

use coldsill::physics::{Spread, air_film, materials, tubes};
use coldsill::section::{
    Barrel, Behind, Bore, Boundary, Fitting, Inlet, Layer, Micro, Ranged, Spec, Stem, Supply, Uncertainty,
    least_depth, solve,
};
use coldsill::wall::BUILT_IN;
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;

const INCH: f64 = 0.0254;
const ROOM: f64 = 293.15;

fn outlet(wall: &str, inlet: Inlet) -> Spec {
    let wall = BUILT_IN.iter().find(|it| &*it.key == wall).unwrap();
    let brass = materials::find("brass").unwrap();
    let copper = materials::find("copper").unwrap();
    let tube = tubes::tube(tubes::Kind::CopperL, tubes::Size::Half);
    let layers = wall.layers.iter();
    Spec {
        wall: layers
            .map(|it| Layer { thickness: Micro::of(it.thickness), conductivity: Micro::of(it.conductivity) })
            .collect(),
        seat_depth: Ranged::exact(if inlet == Inlet::InWall { 5.0 } else { 8.0 } * INCH),
        barrel: Barrel {
            diameter: Ranged::exact(0.84 * INCH),
            thickness: Ranged::new(0.04 * INCH, 0.06 * INCH, 0.08 * INCH),
            conductivity: Ranged::from(brass.conductivity),
            emissivity: Ranged::from(air_film::TARNISHED),
        },
        stem: Stem {
            diameter: Ranged::new(0.1875 * INCH, 0.25 * INCH, 0.375 * INCH),
            conductivity: Ranged::from(brass.conductivity),
        },
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
        inlet,
        behind: Behind {
            room: Micro::of(ROOM),
            share: Micro::of(1.0),
            leak: Ranged::new(0.0, 0.0, 0.07),
            pressure: Ranged::exact(101_325.0),
            convection: Ranged::new(0.85, 1.0, 1.15),
        },
        held_back: None,
        outdoor_resistance: Ranged::from(Spread::new(10.0, 34.0, 60.0)).reciprocal(),
        gasket: Micro::default(),
        cover: Micro::default(),
    }
}

fn section(c: &mut Criterion) {
    let space = outlet("2x6-siding", Inlet::InSpace);
    let slab = outlet("slab-2x4-brick", Inlet::InWall);
    let mut group = c.benchmark_group("section");
    group.bench_function("values used", |b| {
        b.iter(|| solve(black_box(&space), Uncertainty::LeftOut).unwrap())
    });
    group.bench_function("with its band", |b| {
        b.iter(|| solve(black_box(&space), Uncertainty::Carried).unwrap())
    });
    group.bench_function("inlet in the wall, with its band", |b| {
        b.iter(|| solve(black_box(&slab), Uncertainty::Carried).unwrap());
    });
    let at = Boundary { outdoors: 255.37, room: ROOM };
    group.sample_size(20).bench_function("least depth", |b| {
        b.iter(|| {
            least_depth(black_box(&space), &at, 275.37, |spec, uncertainty| {
                solve(spec, uncertainty).map(Box::new)
            })
        });
    });
    group.finish();
}

criterion_group!(benches, section);
criterion_main!(benches);
