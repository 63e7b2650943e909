//! Everything behind the heat figures of one outlet, for its calculation sheet.

use super::heat::{boundary, solved};
use super::reading::Outlet;
use super::section_of::spec;
use super::slot;
use super::space::wall;
use crate::expr::Gap;
use crate::physics::materials::{Material, find};
use crate::section::{Boundary, Solved, Sweat, seat_with_films_at};
use crate::wall::Wall;
use std::sync::Arc;

/// The section of an outlet as it was solved.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionSheet {
    /// The wall.
    pub wall: Arc<Wall>,
    /// Barrel, stem and supply with their rows of the table of materials.
    pub materials: Vec<(&'static str, &'static Material)>,
    /// The solved section.
    pub solved: Arc<Solved>,
    /// Temperatures at the design low.
    pub at: Boundary,
    /// Seat temperature with the films found at the design low instead of at the critical state, less the seat
    /// temperature given, K; `None` where that was refused.
    pub films_held: Option<f64>,
    /// What it gathers at the design low; `None` where the humidity is not known.
    pub sweat: Option<Arc<Sweat>>,
}

/// Facts that a sheet gives whether or not a rule reads them.
pub const ON_SHEET: [&str; 13] = [
    "burst.barrel_pressure",
    "burst.barrel_yields_at",
    "burst.supply_pressure",
    "burst.supply_yields_at",
    "burst.first",
    "space.dew_point",
    "sweat.wet_length",
    "sweat.water_a_day",
    "sweat.hours_a_year",
    "sweat.water_a_year",
    "sweat.length_in_wall",
    "energy.point_transmittance",
    "energy.heat_per_season",
];

/// The section of an outlet at the design low.
pub fn section_sheet(outlet: &Outlet<'_>) -> Result<SectionSheet, Gap> {
    let own = slot("heat.seat_temperature");
    let (solved, at) = (solved(outlet, own)?, boundary(outlet)?);
    let exact = seat_with_films_at(&spec(outlet, own, None)?, &at);
    let films_held = exact.ok().map(|it| it - solved.seat.temperature(&at));
    let parts = [("barrel", "outlet.barrel"), ("stem", "outlet.stem"), ("supply", "outlet.supply")];
    let materials =
        parts.iter().filter_map(|(role, fact)| Some((*role, find(&outlet.word(fact).ok()?)?))).collect();
    let sweat = super::sweat::at_low(outlet, own).ok();
    Ok(SectionSheet { wall: wall(outlet)?, materials, solved, at, films_held, sweat })
}
