//! What the section's faces meet: outdoors, the space behind, or nothing.

use super::paint::{COVER_RADIUS, Part, RIM, Shape};
use super::spec::{Micro, Spec};
use crate::physics::air_film::ISO_INTERIOR;
use crate::thermal::{Axis, Exposed, Face, Grid, Side};

/// Rsi of a wall's interior surface, horizontal flow, m²K/W.
pub const WALL_FILM_INSIDE: f64 = 1.0 / ISO_INTERIOR.coefficient;
/// Film on bare metal before the first pass, W/m²K.
const FIRST_FILM: f64 = 8.0;

/// What a surface is, to find it again.
#[repr(u32)]
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Tag {
    Outdoors,
    UnderCover,
    WallInside,
    Metal,
    Pipe,
    Sleeve,
    Tail,
}

/// What an exposed face meets: its tag and first film resistance, m²K/W.
pub(super) fn meets(shape: &Shape, spec: &Spec, grid: &Grid, face: &Exposed) -> Option<(Tag, f64)> {
    let [r, z, _] = face.center;
    let outward = spec.outdoor_resistance.si();
    // Nothing else faces outdoors: behind the finished face lies air of the space behind, or none.
    if z < 1e-9 {
        if r > RIM - 1e-9 {
            return None;
        }
        let covered = spec.cover > Micro::default() && r < COVER_RADIUS;
        return Some(if covered {
            (Tag::UnderCover, outward + spec.cover.si())
        } else {
            (Tag::Outdoors, outward)
        });
    }
    let [own_r, own_z, _] = grid.center(face.at);
    match shape.part(own_r, own_z)? {
        Part::Layer(_) if r > RIM - 1e-9 => None,
        Part::Layer(_) => Some((Tag::WallInside, WALL_FILM_INSIDE)),
        // The far end of the supply: as much pipe goes on beyond it.
        _ if face.face == Face::new(Axis::Second, Side::High)
            && shape.supply_end.is_some_and(|end| z > end - 1e-9) =>
        {
            None
        }
        Part::Supply => Some((Tag::Pipe, 1.0 / FIRST_FILM)),
        Part::Sleeve => Some((Tag::Sleeve, 1.0 / FIRST_FILM)),
        _ => Some((Tag::Metal, 1.0 / FIRST_FILM)),
    }
}
