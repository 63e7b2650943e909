//! A substance that freezes: its enthalpy and conductivity by temperature, change of phase included.

use super::error::NetworkError;

/// A point of a substance's curve.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// °C or K, as everywhere in the network.
    pub temperature: f64,
    /// J/m³ of the space it takes, from any origin.
    pub enthalpy: f64,
    /// W/mK
    pub conductivity: f64,
}

/// A substance whose enthalpy rises in straight lines between knots. The steepest segment is its change of phase: it
/// is frozen below and thawed above, and in between by its enthalpy. Beyond the first and last knot the lines continue
/// and the conductivity is constant.
#[derive(Clone, Debug, PartialEq)]
pub struct Substance {
    knots: Vec<Knot>,
    /// J/(m³·K) of each segment.
    slopes: Vec<f64>,
    /// The segment of the change of phase.
    melting: usize,
}

impl Substance {
    /// A substance by its knots: at least two, temperature and enthalpy both ascending, conductivities above zero.
    pub fn new(knots: Vec<Knot>) -> Result<Self, NetworkError> {
        let usable = |it: &Knot| {
            [it.temperature, it.enthalpy].iter().all(|x| x.is_finite())
                && it.conductivity.is_finite()
                && it.conductivity > 0.0
        };
        let ascends =
            |pair: &[Knot]| pair[1].temperature > pair[0].temperature && pair[1].enthalpy > pair[0].enthalpy;
        let wrong = |at: usize| !usable(&knots[at]) || at > 0 && !ascends(&knots[at - 1..=at]);
        if let Some(knot) = (0..knots.len()).find(|&at| wrong(at)).or((knots.len() < 2).then_some(0)) {
            return Err(NetworkError::Curve { knot });
        }
        let slope = |pair: &[Knot]| {
            (pair[1].enthalpy - pair[0].enthalpy) / (pair[1].temperature - pair[0].temperature)
        };
        let slopes: Vec<f64> = knots.windows(2).map(slope).collect();
        let melting = (0..slopes.len()).fold(0, |best, at| if slopes[at] > slopes[best] { at } else { best });
        Ok(Self { knots, slopes, melting })
    }

    /// Enthalpy at a temperature, J/m³.
    pub fn enthalpy(&self, temperature: f64) -> f64 {
        let at = self.segment(|knot| knot.temperature < temperature);
        self.knots[at].enthalpy + self.slopes[at] * (temperature - self.knots[at].temperature)
    }

    /// Conductivity at an enthalpy, W/mK.
    pub fn conductivity(&self, enthalpy: f64) -> f64 {
        let at = self.segment(|knot| knot.enthalpy < enthalpy);
        let [a, b] = [self.knots[at], self.knots[at + 1]];
        let part = ((enthalpy - a.enthalpy) / (b.enthalpy - a.enthalpy)).clamp(0.0, 1.0);
        a.conductivity + part * (b.conductivity - a.conductivity)
    }

    /// How much of it is frozen at an enthalpy, 0 to 1.
    pub fn frozen(&self, enthalpy: f64) -> f64 {
        let solid = self.knots[self.melting].enthalpy;
        (1.0 - (enthalpy - solid) / self.latent()).clamp(0.0, 1.0)
    }

    /// The temperature below which some of it is frozen.
    pub fn freezes_at(&self) -> f64 {
        self.knots[self.melting + 1].temperature
    }

    /// Enthalpy of the change of phase, J/m³.
    pub fn latent(&self) -> f64 {
        self.knots[self.melting + 1].enthalpy - self.knots[self.melting].enthalpy
    }

    /// Conductivity of what is just frozen and just thawed, W/mK.
    pub(super) fn beside_melting(&self) -> [f64; 2] {
        [self.melting, self.melting + 1].map(|at| self.knots[at].conductivity)
    }

    /// Slope beside the change of phase, J/(m³·K): the smaller of both sides.
    pub(super) fn sensible(&self) -> f64 {
        let beside = [self.melting.checked_sub(1), Some(self.melting + 1)];
        let slopes = beside.into_iter().flatten().filter_map(|at| self.slopes.get(at));
        slopes.copied().reduce(f64::min).unwrap_or(self.slopes[self.melting])
    }

    /// The segment in which a cell of `capacity` \[J/K\] besides `volume` \[m³\] of this holds `content` \[J\], its slope
    /// \[J/K\] and its temperature there. The content is `capacity` times temperature plus volume times enthalpy. `near` is
    /// the segment it was in before, where the search starts.
    pub(super) fn state(&self, capacity: f64, volume: f64, content: f64, near: usize) -> (usize, f64, f64) {
        let held = |knot: &Knot| capacity * knot.temperature + volume * knot.enthalpy;
        let (mut at, last) = (near.min(self.slopes.len() - 1), self.slopes.len() - 1);
        while at > 0 && held(&self.knots[at]) >= content {
            at -= 1;
        }
        while at < last && held(&self.knots[at + 1]) < content {
            at += 1;
        }
        let slope = capacity + volume * self.slopes[at];
        (at, slope, self.knots[at].temperature + (content - held(&self.knots[at])) / slope)
    }

    /// The segment after the last knot that is below; the first or last one beyond the ends.
    fn segment(&self, below: impl Fn(&Knot) -> bool) -> usize {
        self.knots.partition_point(below).clamp(1, self.knots.len() - 1) - 1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ice_and_water() -> Substance {
        let knot = |temperature, enthalpy, conductivity| Knot { temperature, enthalpy, conductivity };
        Substance::new(vec![
            knot(-10.0, -320.0, 2.3),
            knot(-0.01, -300.0, 2.2),
            knot(0.0, 0.0, 0.56),
            knot(10.0, 42.0, 0.58),
        ])
        .unwrap()
    }

    #[test]
    fn half_the_latent_heat_is_half_frozen_and_conducts_in_between() {
        let it = ice_and_water();
        assert_eq!([it.frozen(-150.0), it.frozen(-305.0), it.frozen(3.0)], [0.5, 1.0, 0.0]);
        assert!((it.conductivity(-150.0) - 1.38).abs() < 1e-12);
        assert_eq!(it.freezes_at(), 0.0);
    }

    #[test]
    fn content_gives_back_the_temperature_it_was_made_from() {
        let it = ice_and_water();
        let (capacity, volume) = (3.0, 0.5);
        for temperature in [-30.0, -10.0, -4.0, -0.004, 0.0, 5.0, 25.0] {
            let content = capacity * temperature + volume * it.enthalpy(temperature);
            let (_, slope, back) = it.state(capacity, volume, content, 1);
            assert!((back - temperature).abs() < 1e-9, "{temperature}: {back}");
            assert!(slope > capacity);
        }
    }

    #[test]
    fn a_curve_that_does_not_ascend_is_refused_by_its_knot() {
        let knot = |temperature, enthalpy| Knot { temperature, enthalpy, conductivity: 1.0 };
        let refused = |knots| Substance::new(knots).unwrap_err();
        assert_eq!(refused(vec![knot(0.0, 0.0), knot(1.0, 0.0)]), NetworkError::Curve { knot: 1 });
        assert_eq!(refused(vec![knot(0.0, 0.0), knot(f64::NAN, 1.0)]), NetworkError::Curve { knot: 1 });
        assert_eq!(refused(vec![knot(0.0, 0.0)]), NetworkError::Curve { knot: 0 });
    }
}
