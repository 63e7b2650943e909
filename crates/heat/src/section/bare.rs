//! Bare surfaces in the space behind: barrel, fitting, pipe and sleeve that stand in its air, and their films.

use super::faces::Tag;
use super::solve::{FILM_RANGE, INDOORS, Section, SectionError};
use super::solved::{BareSurface, Boundary, Share};
use super::spec::{Behind, Ranged, Spec};
use crate::physics::air_film::{PAINTED, natural_convection_cylinder_at, radiation};
use crate::thermal::{Axis, Exposed, Face, Grid, Side, Weights};

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
    /// Natural convection and radiation on every bare surface in the space behind, at its own temperature, as a
    /// specification has them that differs from the section's own in no size.
    pub(super) fn set_bare_films(
        &mut self,
        weights: &Weights,
        at: &Boundary,
        spec: &Spec,
    ) -> Result<(), SectionError> {
        let [coldest, warmest] = FILM_RANGE;
        let outdoors = at.outdoors.clamp(coldest, warmest);
        let space = Share(spec.behind.weight()).temperature(&Boundary { outdoors, ..*at });
        let painted = Ranged::from(PAINTED);
        let Behind { pressure, convection, .. } = spec.behind;
        for bare in &mut self.bare {
            let own = weights.surface_temperature(bare.surface, &[outdoors, space]).clamp(coldest, warmest);
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

    /// Every bare surface as solved.
    pub(super) fn bare_surfaces(&self, weights: &Weights) -> Vec<BareSurface> {
        let surface = |it: &Bare| BareSurface {
            along: it.along,
            area: self.network.surfaces()[it.surface].area,
            share: Share(weights.surface_weight(it.surface, INDOORS) * self.spec.behind.weight()),
            convection: it.convection,
        };
        self.bare.iter().map(surface).collect()
    }
}
