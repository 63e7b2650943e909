//! Conductances where the phase changes: a front stands somewhere within a cell.

use super::Transient;
use crate::thermal::network::{Link, Surface};

/// A conductance that follows the phase is brought up to date when it has moved by this part.
const REFRESH: f64 = 0.01;

impl Transient<'_> {
    /// Brings conductances up to date with the phase once one has moved: all of them where nothing changes its phase, so
    /// that the factors serve for long; else each that has, and all at a front together. A front left where it is until it
    /// has moved itself would be off by as much to one side, all along its way.
    pub(super) fn refresh(&mut self, outside: &[f64]) {
        let moved = |held: f64, fresh: f64| (held / fresh - 1.0).abs() > REFRESH;
        let held = &self.conductances;
        let mut links: Vec<(usize, f64)> =
            self.wet_links.iter().map(|&link| (link, self.through(link))).collect();
        let mut surfaces: Vec<(usize, f64)> =
            self.wet_surfaces.iter().map(|&it| (it, self.through_surface(it, outside))).collect();
        if !links.iter().any(|&(link, fresh)| moved(held.links[link], fresh))
            && !surfaces.iter().any(|&(surface, fresh)| moved(held.surfaces[surface], fresh))
        {
            return;
        }
        let changes = |cell: usize| {
            let store = &self.stores[cell];
            store.volume > 0.0 && {
                let frozen = self.substance.frozen(self.enthalpy(cell, &self.state));
                frozen > 0.0 && frozen < 1.0
            }
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
        self.losses = super::lost_through_surfaces(&self.network, &self.conductances);
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
    /// from its colder side: ice is what lies on that side of the front, and water on the other. On average over the
    /// front's way through the cell this is exact, where a mean of both would hold the front back.
    ///
    /// Towards the warmer side the resistance r goes over into that of ice as the cell freezes through, r = rᵢ +
    /// (r_w - rᵢ)(4u - 3u²) at a thawed part u, which has the mean r_w too. A front that comes to stand in a cell then
    /// has a place to stand; with a jump it would freeze through and thaw a little for ever, in the smallest of steps.
    fn conductivity(&self, cell: usize, toward: f64) -> f64 {
        let store = &self.stores[cell];
        if store.volume == 0.0 {
            return self.network.conductivities()[cell];
        }
        let enthalpy = self.enthalpy(cell, &self.state);
        let frozen = self.substance.frozen(enthalpy);
        if store.bulk == 0.0 && frozen > 0.0 && frozen < 1.0 {
            let [ice, water] = self.substance.beside_melting();
            if toward < self.state.temperatures[cell] {
                return store.share * ice;
            }
            let thawed = 1.0 - frozen;
            let over = (4.0 - 3.0 * thawed) * thawed;
            return store.share / (1.0 / ice + (1.0 / water - 1.0 / ice) * over);
        }
        store.bulk + store.share * self.substance.conductivity(enthalpy)
    }
}
