//! Bare surfaces in the space behind: barrel, fitting, pipe and sleeve that stand in its air, and their films.

use super::faces::Tag;
use super::solve::{FILM_RANGE, SPACE_BEHIND, Section, SectionError};
use super::solved::{BareSurface, Boundary, Share};
use super::spec::{Behind, Ranged, Spec};
use crate::physics::air_film::{PAINTED, natural_convection_cylinder_at, radiation};
use crate::thermal::{Axis, Exposed, Face, Grid, Side, Surface, Weights};
use std::cmp::Ordering;

/// A bare surface of the network with its film.
#[derive(Clone, Copy, Debug)]
pub(super) struct Bare {
    /// Its number in the network.
    pub surface: usize,
    /// m
    pub diameter: f64,
    /// Its ends along the axis from the exterior finished face, m; alike where it faces along the axis.
    pub along: [f64; 2],
    /// Films, W/m²K, as held. Vapor comes with convection only, so the two are kept apart.
    pub convection: f64,
    pub radiation: f64,
    /// Latent heat of what it gathers, as a film beside the other two, W/m²K.
    pub latent: f64,
}

impl Bare {
    /// A surface that is numbered later.
    pub(super) fn of(grid: &Grid, face: &Exposed) -> Self {
        let along = match face.face.axis {
            Axis::First => {
                [Side::Low, Side::High].map(|side| grid.coordinate(face.at, Face::new(Axis::Second, side)))
            }
            Axis::Second | Axis::Third => [face.center[1]; 2],
        };
        let diameter = 2.0 * face.center[0];
        Self { surface: 0, diameter, along, convection: 0.0, radiation: 0.0, latent: 0.0 }
    }

    /// Whether a surface with this tag is one.
    pub(super) fn is_tagged(tag: u32) -> bool {
        [Tag::Metal, Tag::Pipe, Tag::Sleeve].iter().any(|it| *it as u32 == tag)
    }
}

impl Section<'_> {
    /// Natural convection and radiation on every bare surface in the space behind, as a specification has them that differs
    /// from the section's own in no size. `weights` has the weight of the space in the temperature of each.
    pub(super) fn set_bare_films(
        &mut self,
        weights: &[f64],
        at: &Boundary,
        spec: &Spec,
    ) -> Result<(), SectionError> {
        let [coldest, warmest] = FILM_RANGE;
        let outdoors = at.outdoors.clamp(coldest, warmest);
        let space = Share(spec.behind.weight()).temperature(&Boundary { outdoors, ..*at });
        let painted = Ranged::from(PAINTED);
        let Behind { pressure, convection, .. } = spec.behind;
        for (bare, weight) in self.bare.iter_mut().zip(weights) {
            let own = (outdoors + weight * (space - outdoors)).clamp(coldest, warmest);
            let emissivity = match self.network.surfaces()[bare.surface].tag {
                tag if tag == Tag::Metal as u32 => spec.barrel.emissivity,
                tag if tag == Tag::Pipe as u32 => spec.supply.emissivity,
                _ => painted,
            };
            let still = natural_convection_cylinder_at(pressure.si(), bare.diameter.max(0.002), own, space)?;
            bare.convection = still * convection.si();
            bare.radiation = radiation(emissivity.si(), own, space)?;
            self.network.set_film(bare.surface, 1.0 / (bare.convection + bare.radiation + bare.latent))?;
        }
        Ok(())
    }

    /// The weight of the space behind in the temperature of each bare surface, by that in each cell.
    pub(super) fn bare_weights(&self, weights: &[f64]) -> Vec<f64> {
        let weight = |bare: &Bare| {
            let Surface { cell, half, area, .. } = self.network.surfaces()[bare.surface];
            let film = self.network.films()[bare.surface] / area;
            let part = film / (film + half / self.network.conductivities()[cell]);
            part * weights[cell] + (1.0 - part)
        };
        self.bare.iter().map(weight).collect()
    }

    /// The same for the surfaces of another section that differs in a size, going by the nearest of the same kind, as counted
    /// from the end of the inlet fitting. Nothing for a section without any here.
    pub(super) fn bare_weights_in(&self, other: &Section<'_>, weights: &[f64]) -> Vec<f64> {
        let place = |section: &Section<'_>, bare: &Bare| {
            let [from, to] = bare.along;
            (section.network.surfaces()[bare.surface].tag, 0.5 * (from + to) - section.shape.fitting_end)
        };
        let own: Vec<((u32, f64), f64)> =
            self.bare.iter().map(|bare| place(self, bare)).zip(weights.iter().copied()).collect();
        let nearest = |bare: &Bare| {
            let (kind, at) = place(other, bare);
            let apart = |it: &((u32, f64), f64)| (it.0.0 != kind, (it.0.1 - at).abs());
            let nearest =
                own.iter().min_by(|a, b| apart(a).partial_cmp(&apart(b)).unwrap_or(Ordering::Equal));
            nearest.map(|it| it.1)
        };
        other.bare.iter().filter_map(nearest).collect()
    }

    /// Every bare surface as solved.
    pub(super) fn bare_surfaces(&self, weights: &Weights) -> Vec<BareSurface> {
        let surface = |it: &Bare| BareSurface {
            along: it.along,
            area: self.network.surfaces()[it.surface].area,
            share: Share(weights.surface_weight(it.surface, SPACE_BEHIND) * self.spec.behind.weight()),
            convection: it.convection,
        };
        self.bare.iter().map(surface).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::super::mesh::Fineness;
    use super::super::spec::{Inlet, Ranged};
    use super::super::tail::tests::spec;
    use super::*;

    /// Each surface is given its place, counted from the end of the fitting, as its weight. With the seat 10 mm further in the
    /// nearest is within half a cell: those of the supply begin with 1.2 mm and grow by 1.6, which is 0.6 of the distance.
    #[test]
    fn a_bare_surface_finds_its_like_in_a_section_with_another_seat_as_far_from_the_fitting() {
        let mut near = spec(&[[0.012, 0.1]], 0.08, 0.008, 34.0);
        near.inlet = Inlet::InSpace;
        let mut far = near.clone();
        far.seat_depth = Ranged::exact(near.seat_depth.si() + 0.010);
        let [near, far] = [&near, &far].map(|it| Section::build(it, Fineness::Usual).unwrap());
        let places = |section: &Section<'_>| -> Vec<f64> {
            let end = section.shape.fitting_end;
            section.bare.iter().map(|it| 0.5 * (it.along[0] + it.along[1]) - end).collect()
        };
        let found = near.bare_weights_in(&far, &places(&near));
        let of_supply: Vec<(f64, f64)> =
            places(&far).into_iter().zip(found).filter(|(place, _)| *place > 0.0).collect();
        assert!(of_supply.len() > 5);
        for (place, found) in of_supply {
            assert!((place - found).abs() < 0.0006 + 0.3 * place, "{place} {found}");
        }
    }
}
