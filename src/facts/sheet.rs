//! Everything behind the heat results of one outlet, for its calculation sheet.

use super::burst::{BARREL_PRESSURE, BARREL_YIELDS_AT, FIRST, SUPPLY_PRESSURE, SUPPLY_YIELDS_AT};
use super::columns::{BARREL, INLET_METAL, STEM, SUPPLY};
use super::def::Def;
use super::energy::{HEAT_PER_SEASON, POINT_TRANSMITTANCE};
use super::heat::{boundary, solved};
use super::ice::{OUTAGE_BLOCKED, OUTAGE_BLOCKED_AFTER};
use super::moves::{Move, moves};
use super::outlet::Outlet;
use super::section::spec;
use super::space::wall;
use super::sweat::{DEW_POINT, HOURS_A_YEAR, LENGTH_IN_WALL, WATER_A_DAY, WATER_A_YEAR, WET_LENGTH};
use crate::expr::Gap;
use crate::physics::materials::{Material, find};
use crate::section::{Boundary, Inlet, Solved, Sweat, seat_with_films_at};
use crate::wall::Wall;
use std::sync::Arc;

/// The section of an outlet as it was solved.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionSheet {
    /// The wall.
    pub wall: Arc<Wall>,
    /// Barrel, stem, inlet and supply with their rows of the table of materials.
    pub materials: Vec<(&'static str, &'static Material)>,
    /// The solved section.
    pub solved: Arc<Solved>,
    /// Length of the inlet fitting, m.
    pub fitting: f64,
    /// What moves it, most first.
    pub moves: Vec<Move>,
    /// Temperatures at the design low.
    pub at: Boundary,
    /// Seat temperature with the films found at the design low instead of at the critical state, less the seat
    /// temperature given, K; `None` if out of range.
    pub films_held: Option<f64>,
    /// What it gathers at the design low; `None` if the humidity is unknown.
    pub sweat: Option<Arc<Sweat>>,
}

/// An outlet in its wall, as a drawing needs it.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// The wall.
    pub wall: Arc<Wall>,
    /// The solved section.
    pub solved: Arc<Solved>,
    /// Temperatures at the design low.
    pub at: Boundary,
    /// Depths from the bearing of the flange, m: of the valve seat, and of the end of the inlet fitting.
    pub seat: f64,
    /// See `seat`.
    pub inlet: f64,
    /// Outside diameters of barrel, stem and supply, m.
    pub barrel: f64,
    /// See `barrel`.
    pub stem: f64,
    /// See `barrel`.
    pub supply: f64,
    /// Whether the supply turns at the inlet and runs within the wall.
    pub turns: bool,
    /// Dew point of the air around the inlet, K, if its humidity is known.
    pub dew_point: Option<f64>,
}

/// What a drawing of an outlet needs.
pub fn drawn(outlet: &Outlet<'_>) -> Result<Drawn, Gap> {
    let (solved, at) = (solved(outlet)?, boundary(outlet)?);
    let spec = spec(outlet, None)?;
    Ok(Drawn {
        wall: wall(outlet)?,
        solved,
        at,
        seat: spec.seat_depth.si(),
        inlet: spec.seat_depth.si() + spec.fitting.length.si(),
        barrel: spec.barrel.diameter.si(),
        stem: spec.stem.diameter.si(),
        supply: spec.supply.diameter.si(),
        turns: spec.inlet == Inlet::InWall,
        dew_point: outlet.number(DEW_POINT).ok(),
    })
}

/// Facts that a sheet shows even if no rule reads them.
pub(crate) const ON_SHEET: [&Def; 15] = [
    BARREL_PRESSURE,
    BARREL_YIELDS_AT,
    SUPPLY_PRESSURE,
    SUPPLY_YIELDS_AT,
    FIRST,
    DEW_POINT,
    WET_LENGTH,
    WATER_A_DAY,
    HOURS_A_YEAR,
    WATER_A_YEAR,
    LENGTH_IN_WALL,
    POINT_TRANSMITTANCE,
    HEAT_PER_SEASON,
    OUTAGE_BLOCKED,
    OUTAGE_BLOCKED_AFTER,
];

/// The section of an outlet at the design low.
pub fn section_sheet(outlet: &Outlet<'_>) -> Result<SectionSheet, Gap> {
    let (solved, at) = (solved(outlet)?, boundary(outlet)?);
    let spec = spec(outlet, None)?;
    let exact = seat_with_films_at(&spec, &at);
    let films_held = exact.ok().map(|temperature| temperature - solved.seat.temperature(&at));
    let parts = [("barrel", BARREL), ("stem", STEM), ("inlet", INLET_METAL), ("supply", SUPPLY)];
    let materials = parts.iter().filter_map(|(role, def)| Some((*role, find(&outlet.word(def).ok()?)?)));
    let sweat = super::sweat::at_low(outlet).ok();
    Ok(SectionSheet {
        wall: wall(outlet)?,
        materials: materials.collect(),
        solved,
        fitting: spec.fitting.length.si(),
        moves: moves(outlet)?,
        at,
        films_held,
        sweat,
    })
}
