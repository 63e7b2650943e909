//! The least seat depth that keeps the seat at or above a temperature.

use super::solve::{SectionError, Uncertainty};
use super::solved::{Boundary, Share, Solved};
use super::spec::{Inlet, Spec};
use std::collections::BTreeMap;

/// The deepest seat considered, m (24 in).
pub const LONGEST: f64 = 0.6096;
/// Depths are given in steps of this, m.
const STEP: f64 = 0.001;
/// First guess of the cold side of the band, as a fraction of the difference between the space behind and the target. It is
/// 0.17 to 0.21 for brass, drained or full, on copper or PEX; the result does not depend on it.
const COLD_SIDE: f64 = 0.18;

/// Least seat depth, m, a whole number of millimeters.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depth(pub f64);

/// Why there is no least depth.
#[derive(Clone, Debug, PartialEq)]
pub enum NoDepth {
    /// The deepest seat considered is not enough: its depth, m, and the cold end of its seat temperature, K.
    NotAt(f64, f64),
    /// A section could not be solved.
    Refused(SectionError),
}

impl From<SectionError> for NoDepth {
    fn from(it: SectionError) -> Self {
        Self::Refused(it)
    }
}

/// The least depth whose whole band keeps `target` \[K\] at a state, rounded up to 1 mm. `probe` solves one section
/// and may remember it.
///
/// The search uses best estimates, shifted by the cold side of the band at the depth last found, and ends on a full solve.
/// If the inlet ends in the wall, the seat need not get warmer with depth: the result is the first depth from outside.
pub fn least_depth<S: AsRef<Solved>>(
    spec: &Spec,
    at: &Boundary,
    target: f64,
    mut probe: impl FnMut(&Spec, Uncertainty) -> Result<S, SectionError>,
) -> Result<Depth, NoDepth> {
    /// Rounds in which the shift may converge; usually two.
    const ROUNDS: usize = 5;
    let depth = |step: u32| f64::from(step) * STEP;
    let warmest = Share(spec.behind.weight()).temperature(at);
    let mut search =
        Search { known: BTreeMap::new(), last: last_step(spec), may_turn: may_turn(spec), warmest };
    let (mut best, mut tried) = (None, None);
    let mut shift = COLD_SIDE * (warmest - target).max(0.0);
    for _ in 0..ROUNDS {
        let found = search.first(target + shift, |step| {
            Ok(probe(&spec.with_seat_at(depth(step)), Uncertainty::LeftOut)?.as_ref().seat.temperature(at))
        })?;
        let step = found.unwrap_or(search.last);
        if tried.replace(step) == Some(step) {
            break;
        }
        let [low, is, _] =
            probe(&spec.with_seat_at(depth(step)), Uncertainty::Carried)?.as_ref().seat_temperature(at);
        if low >= target {
            best = Some(best.map_or(step, |it: u32| it.min(step)));
        } else if step == search.last {
            return Err(NoDepth::NotAt(depth(step), low));
        }
        shift = is - low;
    }
    let mut step = best.or(tried).unwrap_or(0);
    while best.is_none() {
        let [low, ..] =
            probe(&spec.with_seat_at(depth(step)), Uncertainty::Carried)?.as_ref().seat_temperature(at);
        if low >= target {
            best = Some(step);
        } else if step == search.last {
            return Err(NoDepth::NotAt(depth(step), low));
        } else {
            step += 1;
        }
    }
    Ok(Depth(depth(step)))
}

/// The deepest step there is room for.
fn last_step(spec: &Spec) -> u32 {
    let room = match spec.inlet {
        Inlet::InSpace => LONGEST,
        Inlet::InWall => spec.wall_thickness() - spec.fitting.length.si() - spec.supply.diameter.si() - STEP,
    };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 610")]
    ((room / STEP).clamp(0.0, LONGEST / STEP).floor() as u32)
}

/// Whether the seat may cool with depth. A space behind that follows outdoors is still the only other temperature,
/// so that depth leads toward it; the surroundings of a pipe within the wall change from layer to layer.
fn may_turn(spec: &Spec) -> bool {
    spec.inlet == Inlet::InWall
}

struct Search {
    known: BTreeMap<u32, f64>,
    last: u32,
    may_turn: bool,
    /// The space behind, K.
    warmest: f64,
}

impl Search {
    /// The first step at which the seat is at or above a temperature, if any.
    fn first(
        &mut self,
        wanted: f64,
        mut seat: impl FnMut(u32) -> Result<f64, SectionError>,
    ) -> Result<Option<u32>, SectionError> {
        /// Steps between looks where the seat may turn, 1 in.
        const LOOK: usize = 25;
        /// Looks in which the stretch has to halve, or else it is halved.
        const PATIENCE: u32 = 4;
        let mut look = |known: &mut BTreeMap<u32, f64>, step: u32| -> Result<f64, SectionError> {
            if let Some(value) = known.get(&step) {
                return Ok(*value);
            }
            let value = seat(step)?;
            known.insert(step, value);
            Ok(value)
        };
        let mut looks: Vec<u32> =
            if self.may_turn { (0..self.last).step_by(LOOK).collect() } else { vec![0] };
        looks.push(self.last);
        let mut short: Option<(u32, f64)> = None;
        for step in looks {
            let value = look(&mut self.known, step)?;
            if value < wanted {
                short = Some((step, value));
                continue;
            }
            let Some(mut low) = short else { return Ok(Some(step)) };
            let mut high = (step, value);
            // Earlier looks in between narrow the stretch.
            for (&step, &value) in self.known.range(low.0 + 1..high.0) {
                if value >= wanted {
                    high = (step, value);
                    break;
                }
                low = (step, value);
            }
            let (mut looked, mut width) = (0, high.0 - low.0);
            while high.0 - low.0 > 1 {
                looked += 1;
                let mut middle = between(low, high, wanted, self.warmest);
                if looked % PATIENCE == 0 {
                    if high.0 - low.0 > width / 2 {
                        middle = low.0.midpoint(high.0);
                    }
                    width = high.0 - low.0;
                }
                let value = look(&mut self.known, middle)?;
                *(if value >= wanted { &mut high } else { &mut low }) = (middle, value);
            }
            return Ok(Some(high.0));
        }
        Ok(None)
    }
}

/// Where a curve between two looks meets the temperature, strictly between them. The seat nears the space behind as
/// a fin's tip does: what it lacks falls off exponentially with depth.
fn between(low: (u32, f64), high: (u32, f64), wanted: f64, warmest: f64) -> u32 {
    let lacks = |value: f64| libm::log(f64::max(warmest - value, 1e-3));
    let part = (lacks(low.1) - lacks(wanted)) / (lacks(low.1) - lacks(high.1));
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a fraction of at most 610")]
    let ahead = (f64::from(high.0 - low.0) * part).ceil() as u32;
    (low.0 + ahead).clamp(low.0 + 1, high.0 - 1)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// At 0 the seat lacks 20 K, at 100 what is left after two e-folds: one e-fold is half way. Asked for 0.99 of one, it is at 49.5,
    /// and the step after that is enough.
    #[test]
    fn a_look_between_two_goes_where_what_the_seat_lacks_has_fallen_off_exponentially() {
        let seat = |folds: f64| 293.0 - 20.0 * libm::exp(-folds);
        assert_eq!(between((0, seat(0.0)), (100, seat(2.0)), seat(0.99), 293.0), 50);
    }
}
