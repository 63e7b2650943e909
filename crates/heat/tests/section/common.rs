//! Sections the tests are about, and how their results are read.

use super::walls::wall;
use coldsill_heat::physics::materials;
use coldsill_heat::section::{
    Barrel, Behind, Bore, Boundary, Fitting, Inlet, Layer, Micro, Ranged, Solved, Spec, Stem, Supply,
    Uncertainty, solve,
};

pub const INCH: f64 = 0.0254;

pub fn fahrenheit(kelvin: f64) -> f64 {
    kelvin * 1.8 - 459.67
}

pub fn kelvin(fahrenheit: f64) -> f64 {
    (fahrenheit + 459.67) / 1.8
}

/// Outdoors and a heated room, °F.
pub fn state(outdoors: f64, room: f64) -> Boundary {
    Boundary { outdoors: kelvin(outdoors), room: kelvin(room) }
}

/// Conductivities, W/mK, as the independent model of the rim joist has them.
pub const COPPER: f64 = 339.0;
pub const BRASS: f64 = 115.0;
pub const STAINLESS: f64 = 14.6;
pub const PEX: f64 = 0.38;
pub const METALS: [(&str, f64); 3] = [("copper", COPPER), ("brass", BRASS), ("stainless", STAINLESS)];

pub fn layer(inches: f64, conductivity: f64) -> Layer {
    Layer { thickness: Micro::of(inches * INCH), conductivity: Micro::of(conductivity) }
}

/// A wall of `data/walls.csv`, by its key.
pub fn built_in(key: &str) -> Vec<Layer> {
    wall(key).into_iter().map(|it| it.layer).collect()
}

pub fn copper_pipe() -> Supply {
    pipe(COPPER, 0.040, 0.4)
}

pub fn pex_pipe() -> Supply {
    pipe(PEX, 0.070, 0.9)
}

pub fn supplies() -> [(&'static str, Supply); 2] {
    [("copper", copper_pipe()), ("PEX", pex_pipe())]
}

/// 1/2 in tube, 5/8 in across.
fn pipe(conductivity: f64, thickness: f64, emissivity: f64) -> Supply {
    Supply {
        diameter: Micro::of(0.625 * INCH),
        thickness: Micro::of(thickness * INCH),
        conductivity: Ranged::exact(conductivity),
        exchange: Ranged::exact(1.0),
        run: Micro::of(36.0 * INCH),
        emissivity: Ranged::exact(emissivity),
        sleeve: None,
    }
}

/// The same pipe of another conductivity, with another run, m.
pub fn pipe_of(conductivity: Ranged, run: f64) -> Supply {
    Supply { conductivity, run: Micro::of(run), ..copper_pipe() }
}

/// A drained outlet with barrel and stem of one metal, everything known exactly, in a heated room at 68 °F, seat at a
/// depth in inches.
pub fn outlet(wall: Vec<Layer>, metal: f64, supply: Supply, seat: f64) -> Spec {
    Spec {
        wall,
        seat_depth: Ranged::exact(seat * INCH),
        barrel: Barrel {
            diameter: Ranged::exact(0.84 * INCH),
            thickness: Ranged::exact(0.06 * INCH),
            conductivity: Ranged::exact(metal),
            emissivity: Ranged::exact(0.4),
        },
        stem: Stem { diameter: Ranged::exact(0.25 * INCH), conductivity: Ranged::exact(metal) },
        fitting: Fitting { length: Ranged::exact(0.7 * INCH), conductivity: Ranged::exact(metal) },
        bore: Bore::Drained,
        supply,
        inlet: Inlet::InSpace,
        behind: Behind {
            room: Micro::of(kelvin(68.0)),
            share: Micro::of(1.0),
            leak: Ranged::exact(0.0),
            pressure: Ranged::exact(101_325.0),
            convection: Ranged::exact(1.0),
        },
        held_back: None,
        outdoor_resistance: Ranged::exact(1.0 / 34.0),
        gasket: Micro::default(),
        cover: Micro::default(),
    }
}

/// The same outlet with everything uncertain: metals as the material table has them (the stem's and the fitting's the
/// barrel's), sizes and films about the outlet's own.
pub fn uncertain(mut spec: Spec, metal: &str, pipe: &str) -> Spec {
    let row = |key| materials::find(key).expect("the material is built in");
    let [metal, pipe] = [row(metal), row(pipe)];
    let about = |used: Ranged, low: f64, high: f64| Ranged::new(low, used.si(), high);
    let seat = spec.seat_depth;
    spec.seat_depth = about(seat, seat.si() - 0.375 * INCH, seat.si() + 0.25 * INCH);
    spec.barrel.conductivity = metal.conductivity.into();
    spec.barrel.thickness = about(spec.barrel.thickness, 0.04 * INCH, 0.08 * INCH);
    spec.barrel.diameter = about(spec.barrel.diameter, 0.75 * INCH, 0.9 * INCH);
    spec.barrel.emissivity = Ranged::new(0.05, 0.4, 0.6);
    spec.stem.conductivity = metal.conductivity.into();
    spec.stem.diameter = about(spec.stem.diameter, 0.1875 * INCH, 0.375 * INCH);
    spec.fitting.conductivity = metal.conductivity.into();
    spec.fitting.length = about(spec.fitting.length, 0.5 * INCH, 2.5 * INCH);
    spec.supply.conductivity = pipe.conductivity.into();
    spec.supply.exchange = Ranged::new(1.0, 1.0, 3.0);
    spec.supply.emissivity = pipe.emissivity.expect("pipes have one").into();
    spec.behind.convection = Ranged::new(0.85, 1.0, 1.15);
    spec.behind.pressure = Ranged::new(78_000.0, 101_325.0, 101_400.0);
    spec.behind.leak = Ranged::new(0.0, 0.0, 0.07);
    spec.outdoor_resistance = Ranged::new(10.0, 34.0, 60.0).reciprocal();
    spec
}

pub fn solved(spec: &Spec) -> Solved {
    solve(spec, Uncertainty::LeftOut).expect("the section solves")
}

pub fn with_band(spec: &Spec) -> Solved {
    solve(spec, Uncertainty::Carried).expect("the section solves")
}

/// Temperature at the seat, °F.
pub fn seat(spec: &Spec, at: &Boundary) -> f64 {
    fahrenheit(solved(spec).seat.temperature(at))
}

/// Temperature of the outermost metal at a depth in inches, °F, on the straight line between two cells.
pub fn metal_at(solved: &Solved, inches: f64, at: &Boundary) -> f64 {
    let depth = inches * INCH;
    let next = solved.stations.iter().position(|it| it.depth >= depth).expect("the depth is on the outlet");
    let [before, after] = [solved.stations[next - 1], solved.stations[next]];
    let part = (depth - before.depth) / (after.depth - before.depth);
    let [from, to] = [before, after].map(|it| fahrenheit(it.share.temperature(at)));
    from + part * (to - from)
}
