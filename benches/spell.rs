//! What following one outlet through a design spell costs: outdoors from 32 °F down to -10 °F within a day, three days of
//! it with a daily swing of 10 °F, and back.

#![allow(missing_docs, reason = "the functions criterion makes cannot carry any")]
#![allow(clippy::unwrap_used, reason = "a bench that cannot follow has nothing to measure")]
#![allow(clippy::print_stdout, reason = "the effort is for people to see")]

use coldsill::physics::{air_film, materials, tubes};
use coldsill::section::{
    Barrel, Behind, Bore, Capacities, Fitting, Goal, Inlet, Layer, Micro, Ranged, Spec, Stem, Supply,
    Weather, follow,
};
use coldsill::wall::BUILT_IN;
use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;

const INCH: f64 = 0.0254;
const HOUR: f64 = 3600.0;
const ROOM: f64 = 293.15;

/// A drained brass outlet, 4 in, on PEX, in a 2x6 wall: it freezes within the spell.
fn outlet() -> (Spec, Capacities) {
    let wall = BUILT_IN.iter().find(|it| &*it.key == "2x6-siding").unwrap();
    let [brass, pex] = ["brass", "PEX"].map(|it| materials::find(it).unwrap());
    let tube = tubes::tube(tubes::Kind::Pex, tubes::Size::Half);
    let layer = |it: &coldsill::wall::Layer| Layer {
        thickness: Micro::of(it.thickness),
        conductivity: Micro::of(it.conductivity),
    };
    let spec = Spec {
        wall: wall.layers.iter().map(layer).collect(),
        seat_depth: Ranged::exact(4.0 * INCH),
        barrel: Barrel {
            diameter: Ranged::exact(0.84 * INCH),
            thickness: Ranged::exact(0.06 * INCH),
            conductivity: brass.conductivity.into(),
            emissivity: air_film::TARNISHED.into(),
        },
        stem: Stem { diameter: Ranged::exact(0.25 * INCH), conductivity: brass.conductivity.into() },
        fitting: Fitting {
            length: Ranged::new(0.7 * INCH, 1.5 * INCH, 2.5 * INCH),
            conductivity: Ranged::from(brass.conductivity),
        },
        bore: Bore::Drained,
        supply: Supply {
            diameter: Micro::of(tube.outside_diameter),
            thickness: Micro::of(tube.wall),
            conductivity: pex.conductivity.into(),
            exchange: Ranged::exact(1.0),
            run: Micro::of(24.0 * INCH),
            emissivity: air_film::PAINTED.into(),
            sleeve: None,
        },
        inlet: Inlet::InSpace,
        behind: Behind {
            room: Micro::of(ROOM),
            share: Micro::of(1.0),
            leak: Ranged::new(0.0, 0.0, 0.07),
            pressure: Ranged::exact(101_325.0),
            convection: Ranged::new(0.85, 1.0, 1.15),
        },
        held_back: None,
        outdoor_resistance: Ranged::exact(1.0 / 34.0),
        gasket: Micro::default(),
        cover: Micro::default(),
    };
    let metal = Micro::of(brass.heat_capacity());
    let capacities = Capacities {
        layers: wall.layers.iter().map(|it| Micro::of(it.heat_capacity)).collect(),
        barrel: metal,
        fitting: metal,
        stem: metal,
        supply: Micro::of(pex.heat_capacity()),
        sleeve: Micro::default(),
    };
    (spec, capacities)
}

/// 96 h of cold after which outdoors has risen again, and two days in which to thaw.
fn spell(goal: Goal) -> Weather {
    let [start, low, swing] = [273.15, 273.15 - 42.0 / 1.8, 10.0 / 1.8];
    let point = |hour: u32| {
        let hour = f64::from(hour);
        let part = (hour / 24.0).min((120.0 - hour) / 24.0).clamp(0.0, 1.0);
        let day = libm::cos((hour - 6.0) / 24.0 * std::f64::consts::TAU);
        [hour * HOUR, start + part * (low + swing / 2.0 * (1.0 - day) - start)]
    };
    let (over, end) = (120.0 * HOUR, 168.0 * HOUR);
    Weather { outdoors: (0..=120).map(point).collect(), room: vec![[0.0, ROOM]], over, end, goal }
}

fn spells(c: &mut Criterion) {
    let (spec, capacities) = outlet();
    let mut group = c.benchmark_group("spell");
    group.sample_size(20);
    for (name, goal) in [("until its ice is gone", Goal::Cleared), ("until it is blocked", Goal::Blocked)] {
        let weather = spell(goal);
        let course = follow(&spec, &capacities, &weather).unwrap();
        println!(
            "{name}: {} cells, {:?}; blocked after {:.1} h, {:?}",
            course.cells,
            course.effort,
            course.blocked.unwrap().0 / HOUR,
            course.ended
        );
        group.bench_function(name, |b| {
            b.iter(|| follow(black_box(&spec), black_box(&capacities), black_box(&weather)).unwrap());
        });
    }
    group.finish();
}

criterion_group!(benches, spells);
criterion_main!(benches);
