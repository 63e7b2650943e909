//! Conductances while a phase changes: the front lies somewhere within a cell.

use super::Transient;
use crate::thermal::network::{Link, Surface};

/// A conductance that depends on the phase is updated when it has changed by this fraction.
const REFRESH: f64 = 0.01;

impl Transient<'_> {
    /// Updates conductances to the phase once one has changed by `REFRESH`. If no cell is changing phase, updates all of
    /// them, so that the factorization lasts; otherwise those that changed and all at a front. Waiting for each at a front
    /// to change by itself would bias the front to one side all along its way.
    pub(super) fn refresh(&mut self, outside: &[f64]) {
        let moved = |held: f64, fresh: f64| (held / fresh - 1.0).abs() > REFRESH;
        let held = &self.conductances;
        let mut links: Vec<(usize, f64)> =
            self.links_beside_wet.iter().map(|&link| (link, self.through(link))).collect();
        let mut surfaces: Vec<(usize, f64)> =
            self.surfaces_of_wet.iter().map(|&it| (it, self.through_surface(it, outside))).collect();
        if !links.iter().any(|&(link, fresh)| moved(held.links[link], fresh))
            && !surfaces.iter().any(|&(surface, fresh)| moved(held.surfaces[surface], fresh))
        {
            return;
        }
        let changes = |cell: usize| {
            let [_, frozen] = self.frozen(cell);
            frozen > 0.0 && frozen < 1.0
        };
        let is_quiet = !self.wet.iter().copied().any(changes);
        links.retain(|&(link, fresh)| {
            is_quiet
                || moved(held.links[link], fresh)
                || self.network.links()[link].cells.into_iter().any(changes)
        });
        surfaces.retain(|&(surface, fresh)| {
            is_quiet || moved(held.surfaces[surface], fresh) || changes(self.network.surfaces()[surface].cell)
        });
        for (link, fresh) in links {
            self.conductances.links[link] = fresh;
        }
        if surfaces.is_empty() {
            return;
        }
        for (surface, fresh) in surfaces {
            self.conductances.surfaces[surface] = fresh;
        }
        self.surface_conductance = super::surface_conductance(&self.network, &self.conductances);
    }

    /// The conductance of a link at the present state, W/K.
    fn through(&self, number: usize) -> f64 {
        let Link { cells: [a, b], half, extra } = self.network.links()[number];
        let temperatures = &self.state.temperatures;
        let from_a = half[0] / self.conductivity(a, temperatures[b]);
        let from_b = half[1] / self.conductivity(b, temperatures[a]);
        1.0 / (from_a + from_b + extra)
    }

    /// The conductance of a surface at the present state, W/K.
    fn through_surface(&self, number: usize, outside: &[f64]) -> f64 {
        let Surface { cell, half, area, boundary, .. } = self.network.surfaces()[number];
        let within = half / self.conductivity(cell, outside[boundary]);
        1.0 / (within + self.network.films()[number] / area)
    }

    /// Conductivity of a cell toward a neighbor of a temperature, W/mK. A cell of nothing but the substance freezes
    /// from its colder side: ice lies on that side of the front, and water on the other. Averaged over the front's way
    /// through the cell this is exact; a mean of both conductivities would delay the front.
    ///
    /// Toward the warmer side the resistance changes from that of water to that of ice as the cell freezes through, r = rᵢ +
    /// (r_w − rᵢ)(4u − 3u²) at a thawed fraction u, whose mean is r_w too. A front can then come to rest within a cell; with
    /// a jump the cell would freeze and thaw forever, in the smallest of steps.
    fn conductivity(&self, cell: usize, toward: f64) -> f64 {
        let store = &self.stores[cell];
        if store.volume == 0.0 {
            return self.network.conductivities()[cell];
        }
        let enthalpy = self.enthalpy(cell, &self.state);
        let frozen = self.substance.frozen(enthalpy);
        if store.fixed_conductivity == 0.0 && frozen > 0.0 && frozen < 1.0 {
            let [ice, water] = self.substance.beside_melting();
            if toward < self.state.temperatures[cell] {
                return store.substance_fraction * ice;
            }
            let thawed = 1.0 - frozen;
            let over = (4.0 - 3.0 * thawed) * thawed;
            return store.substance_fraction / (1.0 / ice + (1.0 / water - 1.0 / ice) * over);
        }
        store.fixed_conductivity + store.substance_fraction * self.substance.conductivity(enthalpy)
    }
}
