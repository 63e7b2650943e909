//! Sections the tests are about.

use coldsill::physics::Spread;
use coldsill::section::{
    Barrel, Behind, Bore, Boundary, Inlet, Layer, Micro, Ranged, Solved, Spec, Stem, Supply, Uncertainty,
    solve,
};

pub const INCH: f64 = 0.0254;

pub fn fahrenheit(kelvin: f64) -> f64 {
    kelvin * 1.8 - 459.67
}

pub fn kelvin(fahrenheit: f64) -> f64 {
    (fahrenheit + 459.67) / 1.8
}

/// Conductivities, W/mK, as the independent model of the rim joist has them.
pub const COPPER: f64 = 339.0;
pub const BRASS: f64 = 115.0;
pub const STAINLESS: f64 = 14.6;
pub const PEX: f64 = 0.38;

pub fn layer(inches: f64, conductivity: f64) -> Layer {
    Layer { thickness: Micro::of(inches * INCH), conductivity: Micro::of(conductivity) }
}

pub fn rim_joist() -> Vec<Layer> {
    vec![layer(1.0, 0.12), layer(1.5, 0.115), layer(5.5, 0.043)]
}

pub fn copper_pipe() -> Supply {
    pipe(COPPER, 0.625, 0.040, 0.4)
}

pub fn pex_pipe() -> Supply {
    pipe(PEX, 0.625, 0.070, 0.9)
}

fn pipe(conductivity: f64, diameter: f64, thickness: f64, emissivity: f64) -> Supply {
    Supply {
        diameter: Micro::of(diameter * INCH),
        thickness: Micro::of(thickness * INCH),
        conductivity: Ranged::exact(conductivity),
        run: Micro::of(36.0 * INCH),
        emissivity: Ranged::exact(emissivity),
        sleeve: None,
    }
}

/// A drained outlet with barrel and stem of one metal, in a heated room, seat at a depth in inches.
pub fn outlet(wall: Vec<Layer>, metal: f64, supply: Supply, seat: f64) -> Spec {
    Spec {
        wall,
        seat_depth: Micro::of(seat * INCH),
        barrel: Barrel {
            diameter: Micro::of(0.84 * INCH),
            thickness: Ranged::exact(0.06 * INCH),
            conductivity: Ranged::exact(metal),
            emissivity: Ranged::exact(0.4),
        },
        stem: Stem { diameter: Ranged::exact(0.25 * INCH), conductivity: Ranged::exact(metal) },
        bore: Bore::Drained,
        supply,
        inlet: Inlet::InSpace,
        behind: Behind { room: Micro::of(kelvin(68.0)), share: Micro::of(1.0) },
        outdoor_film: Ranged::from(Spread::new(34.0, 34.0, 34.0)),
        gasket: Micro::default(),
        cover: Micro::default(),
    }
}

pub fn solved(spec: &Spec) -> Solved {
    solve(spec, Uncertainty::LeftOut).expect("the section solves")
}

/// Temperature at the seat, °F, at outdoor and room temperatures in °F.
pub fn seat(spec: &Spec, outdoors: f64, room: f64) -> f64 {
    fahrenheit(solved(spec).seat.temperature(&Boundary { outdoors: kelvin(outdoors), room: kelvin(room) }))
}
