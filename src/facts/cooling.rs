//! A room without heat.

use super::def::HOUR;
use super::spell::HeatOut;
use crate::spell::Spell;

/// A room without heat: it nears outdoors with a time constant, exactly for outdoors in straight lines.
pub(super) fn cooling(spell: &Spell, room: f64, constant: f64, cut: HeatOut) -> Vec<[f64; 2]> {
    let mut points = vec![[0.0, room], [cut.from, room]];
    let until = cut.from + cut.time;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a time of days in hours")]
    let hours = (cut.time / HOUR).ceil() as u32;
    let mut times: Vec<f64> =
        (1..=hours).map(|hour| (cut.from + f64::from(hour) * HOUR).min(until)).collect();
    times.extend(spell.knots().iter().map(|it| it[0]).filter(|it| cut.from < *it && *it < until));
    times.sort_by(f64::total_cmp);
    times.dedup_by(|later, earlier| *later - *earlier < 1.0);
    let (mut at, mut inside) = (cut.from, room);
    for next in times {
        let step = next - at;
        let from = spell.outdoors(at);
        // By the middle, as the end may be a step to something else.
        let to = 2.0 * spell.outdoors(at + 0.5 * step) - from;
        // Behind a steady fall it lags by the time constant.
        let lag = (to - from) / step * constant;
        inside = to - lag + (inside - from + lag) * libm::exp(-step / constant);
        at = next;
        points.push([at, inside]);
    }
    if cut.returns {
        points.push([cut.end(), room]);
    }
    points
}

#[cfg(test)]
mod tests {
    use super::super::spell::CUT_AT;
    use super::*;
    use crate::diag::Location;

    fn out_for(time: f64) -> HeatOut {
        HeatOut { from: CUT_AT, time, returns: false }
    }

    #[test]
    fn a_room_without_heat_nears_outdoors_by_its_time_constant() {
        // Newton's law of cooling: 63.2 % of the lead is lost in one time constant, 86.5 % in two.
        let spell = Spell::typed("-10 °C for 10 days", 263.15, &Location::whole("typed")).unwrap();
        let room = cooling(&spell, 293.15, 24.0 * HOUR, out_for(48.0 * HOUR));
        let at = |hour: f64| room.iter().find(|it| (it[0] - CUT_AT - hour * HOUR).abs() < 1.0).unwrap()[1];
        for (hour, lost) in [(24.0, 0.632_121), (48.0, 0.864_665)] {
            assert!((at(hour) - (293.15 - lost * 30.0)).abs() < 1e-4, "{hour} h: {}", at(hour));
        }
        assert_eq!(room[..2], [[0.0, 293.15], [CUT_AT, 293.15]]);
    }

    #[test]
    fn behind_a_changing_outdoors_it_is_what_small_steps_make_it() {
        // Euler's steps of 1 s, an integration of its own; off by half a step's change, 1e-4 K.
        let spell = Spell::design(283.15, 253.15, 8.0, 2).unwrap();
        let constant = 17.0 * HOUR;
        let room = cooling(&spell, 293.15, constant, out_for(20.0 * HOUR));
        let (mut inside, mut at) = (293.15, CUT_AT);
        while at < CUT_AT + 20.0 * HOUR {
            inside += (spell.outdoors(at) - inside) / constant;
            at += 1.0;
        }
        let last = room.last().unwrap()[1];
        assert!((last - inside).abs() < 2e-3, "{last} {inside}");
    }
}
