//! The section with each uncertain factor at either end, on the pattern it was analysed with.

use super::paint::{self, Part};
use super::solve::{Refusal, Section, Tag};
use super::solved::{Boundary, Factor, Share};
use super::spec::{Micro, Ranged};
use super::tail;
use crate::thermal::Weights;

impl Section<'_> {
    /// The seat with each factor at its low and high end, everything else as used.
    pub(super) fn vary(&mut self, used: &Weights) -> Result<Vec<(Factor, [Share; 2])>, Refusal> {
        let base = self.network.clone();
        let at = self.critical(self.seat(used));
        let mut varied = Vec::new();
        for factor in Factor::ALL {
            let mut ends = [self.seat(used); 2];
            let mut spread = false;
            for (end, low) in ends.iter_mut().zip([true, false]) {
                let pick = |range: Ranged| if low { range.low } else { range.high };
                if self.change(factor, pick, used, &at)? {
                    let weights = self.weights()?;
                    *end = self.seat(&weights);
                    spread = true;
                    self.network.clone_from(&base);
                }
            }
            if spread {
                varied.push((factor, ends));
            }
        }
        Ok(varied)
    }

    /// Puts one factor at one end. `false` where that changes nothing.
    fn change(
        &mut self,
        factor: Factor,
        end: impl Fn(Ranged) -> Micro,
        used: &Weights,
        at: &Boundary,
    ) -> Result<bool, Refusal> {
        let spec = self.spec;
        let ratio = |range: Ranged| end(range).si() / range.used.si();
        match factor {
            Factor::BarrelMetal => self.scale(
                |part| matches!(part, Part::Head | Part::Barrel | Part::Fitting),
                ratio(spec.barrel.conductivity),
            ),
            Factor::BarrelThickness => {
                // The tube keeps its ring of cells; its conductivity is scaled by the section of metal.
                let outer = self.shape.barrel;
                let metal = |thickness: f64| thickness * (2.0 * outer - thickness);
                let range = spec.barrel.thickness;
                self.scale(|part| part == Part::Barrel, metal(end(range).si()) / metal(range.used.si()))
            }
            Factor::Stem => {
                let diameter = ratio(spec.stem.diameter);
                self.scale(|part| part == Part::Stem, ratio(spec.stem.conductivity) * diameter * diameter)
            }
            Factor::SupplyPipe => {
                let changed = self.scale(|part| part == Part::Supply, ratio(spec.supply.conductivity))?;
                let lumped = tail::lumped(spec, end(spec.supply.conductivity).si());
                for &cell in &self.tail {
                    self.network.set_conductivity(cell, lumped)?;
                }
                let tail_changed =
                    !self.tail.is_empty() && end(spec.supply.conductivity) != spec.supply.conductivity.used;
                Ok(changed || tail_changed)
            }
            Factor::IndoorFilm => {
                let ranges = [spec.barrel.emissivity, spec.supply.emissivity];
                if self.bare.is_empty() || ranges.iter().all(|range| end(*range) == range.used) {
                    return Ok(false);
                }
                self.set_bare_films(used, at, end)?;
                Ok(true)
            }
            Factor::OutdoorFilm => {
                let film = end(spec.outdoor_film);
                for surface in 0..self.network.surfaces().len() {
                    let tag = self.network.surfaces()[surface].tag;
                    if tag == Tag::Outdoors as u32 {
                        self.network.set_film(surface, 1.0 / film.si())?;
                    } else if tag == Tag::UnderCover as u32 {
                        self.network.set_film(surface, 1.0 / film.si() + spec.cover.si())?;
                    }
                }
                Ok(film != spec.outdoor_film.used)
            }
        }
    }

    fn scale(&mut self, is_meant: impl Fn(Part) -> bool, ratio: f64) -> Result<bool, Refusal> {
        /// A spread of less than this of a conductivity moves nothing worth solving for.
        const WORTH_SOLVING: f64 = 1e-3;
        if (ratio - 1.0).abs() < WORTH_SOLVING {
            return Ok(false);
        }
        let mut changed = false;
        for (cell, part) in self.parts.iter().enumerate() {
            if is_meant(*part) {
                self.network.set_conductivity(cell, paint::conductivity(*part, self.spec) * ratio)?;
                changed = true;
            }
        }
        Ok(changed)
    }
}
