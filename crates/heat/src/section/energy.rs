//! Heat that an outlet carries through its wall.

use super::faces::{Tag, WALL_FILM_INSIDE};
use super::paint::RIM;
use super::solve::{OUTDOORS, SPACE_BEHIND, Section, SectionError};
use crate::thermal::Weights;
use std::f64::consts::PI;

impl Section<'_> {
    /// Point thermal transmittance χ, W/K: the coupling of outdoors and the space behind through the section (ISO
    /// 10211), less that of the same circle of wall without the outlet, in the same films (ISO 14683; both from
    /// memory). The heat that the supply gathers along its run belongs to it.
    ///
    /// A supply within the wall is a chain of cells that meet either side in parallel. Some heat passes through them
    /// from side to side whether there is a pipe or not: with conductances a and b to the two sides it is ab/(a + b),
    /// which the wall without the outlet has already.
    pub(super) fn point_transmittance(&self, weights: &Weights) -> Result<f64, SectionError> {
        let spec = self.spec;
        let layers: f64 = spec.wall.iter().map(|it| it.thickness.si() / it.conductivity.si()).sum();
        let resistance = spec.outdoor_resistance.si() + layers + WALL_FILM_INSIDE;
        let wall = PI * RIM * RIM / resistance;
        let conductances = self.network.conductances()?.surfaces;
        let mut passing = 0.0;
        for &(cell, _) in &self.tail {
            let to = |boundary: usize| -> f64 {
                let surfaces = self.network.surfaces().iter().zip(&conductances);
                let own = surfaces.filter(|(it, _)| {
                    it.cell == cell && it.boundary == boundary && it.tag == Tag::Tail as u32
                });
                own.map(|(_, conductance)| conductance).sum()
            };
            let (out, inside) = (to(OUTDOORS), to(SPACE_BEHIND));
            passing += out * inside / (out + inside);
        }
        Ok(weights.coupling(SPACE_BEHIND, OUTDOORS) - passing - wall)
    }
}
