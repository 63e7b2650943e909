//! Cold spells the tests are about, what the sections hold, and how the courses are read.

use super::walls::wall;
use crate::section::common::{BRASS, COPPER, INCH, PEX, STAINLESS, kelvin};
use coldsill_heat::section::{
    Capacities, Closely, Course, Fineness, Goal, Micro, Spec, Weather, follow, follow_at,
};

pub const HOUR: f64 = 3600.0;

/// Steps a tenth as wrong as the usual, and a mesh of half the spacing.
pub const FINE_STEPS: Closely = Closely { fineness: Fineness::Usual, error: Some(0.1) };
pub const FINE_MESH: Closely = Closely { fineness: Fineness::Halved, error: None };
pub const FINE_BOTH: Closely = Closely { fineness: Fineness::Halved, error: Some(0.1) };

/// Volumetric heat capacity by conductivity, J/m³K: density times specific heat at room temperature. Copper 8940 kg/m³
/// at 385 J/kgK; leaded brass 8500 at 380; 18/8 stainless 7900 at 500; cross-linked polyethylene 940 at 2300 (EN ISO
/// 10456 for the metals, makers' data for the pipe; from memory).
fn stored(conductivity: f64) -> f64 {
    let table = [(COPPER, 3.44e6), (BRASS, 3.23e6), (STAINLESS, 3.95e6), (PEX, 2.16e6)];
    let row = table.iter().find(|it| (it.0 - conductivity).abs() < 1e-6);
    row.expect("the material has a heat capacity here").1
}

/// Of a spec made of the materials of [`crate::section::common`], in a wall whose layers hold this, J/m³K. Insulation around a
/// pipe holds 3e4 (polyethylene foam of 13 kg/m³; from memory).
pub fn holding(spec: &Spec, layers: &[f64]) -> Capacities {
    let of = |conductivity: Micro| Micro::of(stored(conductivity.si()));
    Capacities {
        layers: layers.iter().copied().map(Micro::of).collect(),
        barrel: of(spec.barrel.conductivity.used),
        fitting: of(spec.fitting.conductivity.used),
        stem: of(spec.stem.conductivity.used),
        supply: of(spec.supply.conductivity.used),
        sleeve: Micro::of(3e4),
    }
}

/// The same for a wall of `data/walls.csv`.
pub fn in_wall(spec: &Spec, key: &str) -> Capacities {
    let wall = wall(key);
    assert!(spec.wall.iter().eq(wall.iter().map(|it| &it.layer)), "{key}");
    holding(spec, &wall.iter().map(|it| it.heat_capacity).collect::<Vec<_>>())
}

/// Straight lines between points (h, °F), a heated room at 68 °F; over at an hour, followed until another.
pub fn weather(points: &[[f64; 2]], over: f64, end: f64) -> Weather {
    Weather {
        outdoors: points.iter().map(|&[hour, it]| [hour * HOUR, kelvin(it)]).collect(),
        room: vec![[0.0, kelvin(68.0)]],
        over: over * HOUR,
        end: end * HOUR,
        goal: Goal::Cleared,
    }
}

/// Outdoors falls from one temperature to another within a second, stays there for some hours, and is back at the first
/// an hour later.
pub fn step(start: f64, low: f64, hours: f64) -> Weather {
    let points = [[0.0, start], [1.0 / HOUR, low], [hours, low], [hours + 1.0, start]];
    weather(&points, hours, hours + 96.0)
}

/// Outdoors falls within a day to a mean half a swing above the low, swings about it once a day with the coldest
/// at six in the morning, and rises again within a day after some days of it. Points every half hour.
pub fn swinging(start: f64, low: f64, swing: f64, days: f64) -> Weather {
    let (mean, end) = (low + swing / 2.0, 24.0 * (days + 2.0));
    let point = |half: u32| {
        let hour = f64::from(half) / 2.0;
        let part = (hour / 24.0).min((end - hour) / 24.0).min(1.0);
        let day = libm::cos((hour - 6.0) / 24.0 * std::f64::consts::TAU);
        [hour, start + part * (mean - start) - part * swing / 2.0 * day]
    };
    let halves = (0..).take_while(|it| f64::from(*it) <= 2.0 * end);
    weather(&halves.map(point).collect::<Vec<_>>(), end, end + 48.0)
}

pub fn followed(spec: &Spec, capacities: &Capacities, weather: &Weather) -> Course {
    follow(spec, capacities, weather).expect("the spell is followed")
}

pub fn closely(spec: &Spec, capacities: &Capacities, weather: &Weather, closely: Closely) -> Course {
    follow_at(spec, capacities, weather, closely).expect("the spell is followed")
}

pub fn hours(seconds: Option<f64>) -> Option<f64> {
    seconds.map(|it| it / HOUR)
}

/// Hours to blocked, and how deep, in.
pub fn blocked(course: &Course) -> Option<[f64; 2]> {
    course.blocked.map(|(time, depth)| [time / HOUR, depth / INCH])
}

/// A time for a table, h.
pub fn shown(hours: Option<f64>) -> String {
    hours.map_or_else(|| "-".to_owned(), |it| format!("{it:.2}"))
}
