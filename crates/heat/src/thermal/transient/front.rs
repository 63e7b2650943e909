//! Conductances where the phase changes: a front stands somewhere within a cell.

use super::Transient;
use crate::thermal::network::{Link, Surface};

/// A conductance that follows the phase is brought up to date when it has moved by this part.
const REFRESH: f64 = 0.01;

impl Transient<'_> {
    /// Brings the conductances of wet cells up to date with the phase, all at once where one has moved: each left where
    /// it is until it has moved itself would be off by as much to one side, all along the way of a front.
    pub(super) fn refresh(&mut self, outside: &[f64]) {
        let mut fresh = self.conductances.clone();
        for &number in &self.wet_links {
            let Link { cells: [a, b], half, extra } = self.network.links()[number];
            let temperatures = &self.state.temperatures;
            let from_a = half[0] / self.conductivity(a, temperatures[b]);
            let from_b = half[1] / self.conductivity(b, temperatures[a]);
            fresh.links[number] = 1.0 / (from_a + from_b + extra);
        }
        for &number in &self.wet_surfaces {
            let Surface { cell, half, area, boundary, .. } = self.network.surfaces()[number];
            let within = half / self.conductivity(cell, outside[boundary]);
            fresh.surfaces[number] = 1.0 / (within + self.network.films()[number] / area);
        }
        let moved = |old: f64, new: f64| (old / new - 1.0).abs() > REFRESH;
        let held = &self.conductances;
        let mut moved_links: Vec<usize> = Vec::new();
        moved_links.extend(self.wet_links.iter().filter(|&&link| moved(held.links[link], fresh.links[link])));
        let mut moved_surfaces: Vec<usize> = Vec::new();
        moved_surfaces
            .extend(self.wet_surfaces.iter().filter(|&&it| moved(held.surfaces[it], fresh.surfaces[it])));
        if moved_links.is_empty() && moved_surfaces.is_empty() {
            return;
        }
        let changes = |cell: usize| {
            self.stores[cell].volume > 0.0 && {
                let frozen = self.substance.frozen(self.enthalpy(cell, &self.state));
                frozen > 0.0 && frozen < 1.0
            }
        };
        let at_front = |&&link: &&usize| self.network.links()[link].cells.into_iter().any(changes);
        moved_links.extend(self.wet_links.iter().filter(at_front));
        moved_surfaces
            .extend(self.wet_surfaces.iter().filter(|&&it| changes(self.network.surfaces()[it].cell)));
        for link in moved_links {
            self.conductances.links[link] = fresh.links[link];
        }
        for &surface in &moved_surfaces {
            self.conductances.surfaces[surface] = fresh.surfaces[surface];
        }
        if !moved_surfaces.is_empty() {
            self.losses = super::lost_through_surfaces(&self.network, &self.conductances);
        }
    }

    /// Conductivity of a cell towards a neighbour of a temperature, W/mK. A cell of nothing but the substance freezes
    /// from its colder side: ice is what lies on that side of the front, and water on the other. On average over the
    /// front's way through the cell this is exact, where a mean of both would hold the front back.
    ///
    /// Towards the warmer side the resistance r goes over into that of ice as the cell freezes through, r = rᵢ +
    /// (r_w - rᵢ)(4u - 3u²) at a thawed part u, which has the mean r_w too. A front that comes to stand in a cell then
    /// has a place to stand; with a jump it would freeze through and thaw a little for ever, in the smallest of steps.
    fn conductivity(&self, cell: usize, towards: f64) -> f64 {
        let store = &self.stores[cell];
        if store.volume == 0.0 {
            return self.network.conductivities()[cell];
        }
        let enthalpy = self.enthalpy(cell, &self.state);
        let frozen = self.substance.frozen(enthalpy);
        if store.bulk == 0.0 && frozen > 0.0 && frozen < 1.0 {
            let [ice, water] = self.substance.beside_melting();
            if towards < self.state.temperatures[cell] {
                return store.share * ice;
            }
            let thawed = 1.0 - frozen;
            let over = (4.0 - 3.0 * thawed) * thawed;
            return store.share / (1.0 / ice + (1.0 / water - 1.0 / ice) * over);
        }
        store.bulk + store.share * self.substance.conductivity(enthalpy)
    }
}
