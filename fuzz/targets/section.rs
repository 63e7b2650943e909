//! Any figures for an outlet, legal or not: the section and a cold spell end in temperatures between the boundaries or are
//! refused.
#![no_main]

use coldsill::section::{
    Barrel, Behind, Bore, Boundary, Capacities, Fitting, Goal, Inlet, Layer, Micro, Ranged, Sleeve, Spec, Stem,
    Supply, Uncertainty, Weather, follow, solve,
};
use libfuzzer_sys::fuzz_target;

/// Figures from bytes: two bytes each.
struct Figures<'b>(&'b [u8]);

impl Figures<'_> {
    /// From `low` to `high`, evenly in the logarithm; now and then zero, negative or enormous.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        let number = match self.0 {
            [a, b, rest @ ..] => {
                self.0 = rest;
                u16::from_le_bytes([*a, *b])
            }
            _ => 0x8000,
        };
        match number {
            0 => 0.0,
            1 => -low,
            2 => 1e12,
            3 => f64::NAN,
            _ => low * (high / low).powf(f64::from(number) / 65_535.0),
        }
    }

    fn micro(&mut self, low: f64, high: f64) -> Micro {
        Micro::of(self.between(low, high))
    }

    fn ranged(&mut self, low: f64, high: f64) -> Ranged {
        let [a, b, c] = [0; 3].map(|_| self.between(low, high));
        Ranged::new(a.min(b), b, c)
    }

    fn chance(&mut self) -> bool {
        self.between(0.25, 4.0) > 1.0
    }
}

fuzz_target!(|bytes: &[u8]| {
    let mut of = Figures(bytes);
    let layers = 1 + bytes.len() % 5;
    let spec = Spec {
        wall: (0..layers)
            .map(|_| Layer { thickness: of.micro(0.001, 1.0), conductivity: of.micro(0.005, 400.0) })
            .collect(),
        seat_depth: of.ranged(0.001, 2.5),
        barrel: Barrel {
            diameter: of.ranged(0.005, 0.2),
            thickness: of.ranged(0.0002, 0.05),
            conductivity: of.ranged(0.1, 400.0),
            emissivity: of.ranged(0.01, 1.0),
        },
        stem: Stem { diameter: of.ranged(0.001, 0.1), conductivity: of.ranged(0.1, 400.0) },
        fitting: Fitting { length: of.ranged(0.001, 0.3), conductivity: of.ranged(0.1, 400.0) },
        bore: if of.chance() { Bore::Drained } else { Bore::Full },
        supply: Supply {
            diameter: of.micro(0.005, 0.1),
            thickness: of.micro(0.0002, 0.02),
            conductivity: of.ranged(0.1, 400.0),
            exchange: of.ranged(1.0, 10.0),
            run: of.micro(0.01, 10.0),
            emissivity: of.ranged(0.01, 1.0),
            sleeve: of.chance().then(|| Sleeve { thickness: of.micro(0.001, 0.1), conductivity: of.micro(0.01, 1.0) }),
        },
        inlet: if of.chance() { Inlet::InSpace } else { Inlet::InWall },
        behind: Behind {
            room: of.micro(250.0, 320.0),
            share: of.micro(0.01, 1.0),
            leak: of.ranged(0.001, 1.0),
            pressure: of.ranged(60_000.0, 110_000.0),
            convection: of.ranged(0.5, 2.0),
        },
        held_back: of.chance().then_some(layers - 1),
        outdoor_resistance: of.ranged(0.01, 0.2),
        gasket: of.micro(0.0005, 0.01),
        cover: of.micro(0.01, 2.0),
    };
    let at = Boundary { outdoors: 243.15, room: 293.15 };
    let Ok(solved) = solve(&spec, Uncertainty::Carried) else { return };
    for kelvin in solved.seat_temperature(&at).into_iter().chain(solved.coldest_temperature(&at)) {
        assert!(kelvin >= at.outdoors - 1e-3 && kelvin <= at.room + 1e-3, "{kelvin} K in {spec:?}");
    }
    let held = Capacities {
        layers: spec.wall.iter().map(|_| of.micro(1e4, 4e6)).collect(),
        barrel: of.micro(1e5, 4e6),
        fitting: of.micro(1e5, 4e6),
        stem: of.micro(1e5, 4e6),
        supply: of.micro(1e5, 4e6),
        sleeve: of.micro(1e4, 4e6),
    };
    let weather = Weather {
        outdoors: vec![[0.0, 280.0], [3600.0, of.between(200.0, 290.0)]],
        room: vec![[0.0, 293.15]],
        over: 8.0 * 3600.0,
        end: 12.0 * 3600.0,
        goal: Goal::Cleared,
    };
    if let Ok(course) = follow(&spec, &held, &weather) {
        assert!(course.coldest_seat.is_finite() && course.most_frozen.is_finite(), "{spec:?}");
    }
});
