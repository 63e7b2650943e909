//! What the cells of a section hold: heat capacities of its parts, and the water that may freeze.

use super::paint::{Part, Shape};
use super::solve::{Section, SectionError};
use super::spec::{Micro, Spec};
use super::tail::water_share;
use crate::physics::air_film::STILL_AIR_CAPACITY;
use crate::physics::materials::RUBBER;
use crate::physics::water::{self, CurvePoint};
use crate::thermal::{Axis, Face, Knot, Side, Store, Substance};
use std::f64::consts::PI;

/// Volumetric heat capacities of a section's parts, J/m³K.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Capacities {
    /// Of the wall's layers, from outside to inside.
    pub layers: Vec<Micro>,
    /// Of the barrel's metal: head and flange too.
    pub barrel: Micro,
    /// Of the inlet fitting's metal.
    pub fitting: Micro,
    /// Of the stem's metal.
    pub stem: Micro,
    /// Of the supply pipe.
    pub supply: Micro,
    /// Of insulation around the supply.
    pub sleeve: Micro,
}

impl Capacities {
    /// Of a part that holds no water, J/m³K.
    fn of(&self, part: Part) -> f64 {
        match part {
            Part::Head | Part::Barrel => self.barrel.si(),
            Part::Fitting => self.fitting.si(),
            Part::Stem => self.stem.si(),
            Part::Supply => self.supply.si(),
            Part::Sleeve => self.sleeve.si(),
            Part::Washer | Part::Gasket => RUBBER.heat_capacity(),
            Part::Air | Part::Pocket(_) => STILL_AIR_CAPACITY,
            Part::Water => 0.0,
            Part::Layer(number) => self.layers.get(number).map_or(0.0, |it| it.si()),
        }
    }
}

/// Water across the bore at one depth.
#[derive(Clone, Debug)]
pub(super) struct Slice {
    /// Where it begins and ends, from the exterior face, m; along a supply that turns down, as if it ran on.
    pub ends: [f64; 2],
    /// Its cells and their share of its water.
    pub cells: Vec<(usize, f64)>,
    /// m³
    pub volume: f64,
}

impl Slice {
    /// How much of it is frozen, 0 to 1.
    pub fn frozen(&self, of: impl Fn(usize) -> f64) -> f64 {
        self.cells.iter().map(|&(cell, share)| share * of(cell)).sum()
    }

    /// The frozen share at which it counts as blocked.
    pub const BLOCKED: f64 = 0.999;

    pub fn is_blocked(frozen: f64) -> bool {
        frozen >= Self::BLOCKED
    }
}

/// Ice and water by temperature.
pub(super) fn ice_and_water() -> Result<Substance, SectionError> {
    let knot = |it: CurvePoint| Knot {
        temperature: it.temperature,
        enthalpy: it.enthalpy,
        conductivity: it.conductivity,
    };
    Ok(Substance::new(water::freezing_curve().into_iter().map(knot).collect())?)
}

/// What every cell holds.
pub(super) fn stores(section: &Section<'_>, spec: &Spec, capacities: &Capacities) -> Vec<Store> {
    let mut stores = vec![Store::default(); section.parts.len()];
    for number in 0..section.grid.cells() {
        let Some(cell) = section.network.cell_at(number) else { continue };
        let volume = section.grid.volume(section.grid.position(number));
        let part = section.parts[cell];
        stores[cell] = if part == Part::Water {
            Store { volume, substance_fraction: 1.0, ..Store::default() }
        } else {
            Store { capacity: volume * capacities.of(part), ..Store::default() }
        };
    }
    let [pipe, bore] = sections(&section.shape);
    stores.extend(section.tail.iter().map(|(_, [from, to])| {
        let length = to - from;
        let share = water_share(spec);
        Store {
            capacity: capacities.supply.si() * pipe * length,
            volume: bore * length,
            fixed_conductivity: spec.supply.conductivity.used.si() * (1.0 - share),
            substance_fraction: share,
        }
    }));
    stores
}

/// Cross-sections of the supply's metal or plastic and of its bore, m².
fn sections(shape: &Shape) -> [f64; 2] {
    let bore = PI * shape.supply_bore * shape.supply_bore;
    [PI * shape.supply * shape.supply - bore, bore]
}

/// The water, depth by depth from outside.
pub(super) fn slices(section: &Section<'_>) -> Vec<Slice> {
    let grid = &section.grid;
    let [across, along, _] = grid.shape();
    let mut slices = Vec::new();
    for j in 0..along {
        let water = (0..across).filter_map(|i| {
            let cell = section.network.cell_at(grid.number([i, j, 0]))?;
            (section.parts[cell] == Part::Water).then(|| (cell, grid.volume([i, j, 0])))
        });
        let mut cells: Vec<(usize, f64)> = water.collect();
        let volume: f64 = cells.iter().map(|(_, volume)| volume).sum();
        if cells.is_empty() {
            continue;
        }
        for (_, part) in &mut cells {
            *part /= volume;
        }
        let ends =
            [Side::Low, Side::High].map(|side| grid.coordinate([0, j, 0], Face::new(Axis::Second, side)));
        slices.push(Slice { ends, cells, volume });
    }
    let [_, bore] = sections(&section.shape);
    slices.extend(section.tail.iter().map(|&(cell, ends)| Slice {
        ends: ends.map(|it| section.shape.fitting_end + it),
        cells: vec![(cell, 1.0)],
        volume: bore * (ends[1] - ends[0]),
    }));
    slices
}
