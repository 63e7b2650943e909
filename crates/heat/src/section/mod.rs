//! One outlet in one wall: an axisymmetric section through wall, barrel, seat, inlet fitting and supply, solved for
//! the weights of outdoors and of the space behind.
//!
//! z runs from the exterior finished face inwards, r from the barrel's axis; the rim of the model, 150 mm out, is
//! adiabatic. **Seat temperature** is the mean temperature of the water in the first 3 mm inboard of the washer.

mod bare;
mod contents;
mod course;
mod depth;
mod energy;
mod faces;
mod interval;
mod mesh;
mod paint;
mod solve;
mod solved;
mod spec;
mod sweat;
mod tail;
mod vary;

pub use contents::Capacities;
pub use course::{Closely, Course, Ended, Goal, Moment, PLUG, Weather, blocks, follow, follow_at};
pub use depth::{Depth, LONGEST, NoDepth, least_depth};
pub use faces::WALL_FILM_INSIDE;
pub use mesh::{Fineness, SEAT_READING};
pub use paint::{
    FLANGE_RADIUS, FLANGE_THICKNESS, HEAD_LENGTH, HEAD_RADIUS, RIM, WASHER as WASHER_CONDUCTIVITY,
};
pub use solve::{SectionError, Uncertainty, seat_with_films_at, solve, solve_at};
pub use solved::{BareSurface, Boundary, Share, Solved, Station};
pub use spec::{
    Barrel, Behind, Bore, Fitting, Inlet, Layer, Micro, POCKET_RADIUS, Ranged, Sleeve, Spec, Stem, Supply,
    WASHER_LENGTH,
};
pub use sweat::{Damp, Gathered, Sweat, sweat, sweat_at};
pub use vary::{UncertainInput, Varied};
