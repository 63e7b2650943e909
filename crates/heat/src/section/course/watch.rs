//! What happens to an outlet's water as time goes on: first ice, plugs, and the hours between.

use super::{Course, Ended, HOUR, Moment, PLUG, Weather};
use crate::physics::water::ICE_POINT;
use crate::section::contents::{Slice, slices};
use crate::section::solve::Section;
use crate::thermal::{Effort, Transient};

/// Looks for what happens within each step. What lies between its ends is taken along a straight line.
pub(super) struct Watch<'w> {
    weather: &'w Weather,
    share: f64,
    slices: Vec<Slice>,
    /// Slices that are the outlet's own water.
    own: usize,
    /// Slices beside the washer.
    beside: Vec<usize>,
    reading: Vec<(usize, f64)>,
    /// Stretches of slices that would be the shortest plugs.
    plugs: Vec<[usize; 2]>,
    /// Frozen share of each slice at the end of the last step.
    frozen: Vec<f64>,
    seat: f64,
    pub(super) course: Course,
}

impl<'w> Watch<'w> {
    pub(super) fn new(section: &Section<'_>, weather: &'w Weather, share: f64) -> Self {
        let slices = slices(section);
        let shape = &section.shape;
        let deep = shape.wall.max(shape.fitting_end);
        let middle = |it: &Slice| 0.5 * (it.ends[0] + it.ends[1]);
        let inboard = slices.iter().position(|it| middle(it) > shape.seat);
        let outboard = inboard.and_then(|it| it.checked_sub(1));
        Self {
            weather,
            share,
            own: slices.iter().filter(|it| middle(it) < deep).count(),
            beside: inboard.into_iter().chain(outboard).collect(),
            frozen: vec![0.0; slices.len()],
            plugs: plugs(&slices),
            slices,
            reading: section.reading.clone(),
            seat: f64::NAN,
            course: Course {
                first_ice: None,
                blocked: None,
                plug_at_seat: None,
                clear: None,
                longest_plug: 0.0,
                most_frozen: 0.0,
                fullest: 0.0,
                coldest_seat: f64::INFINITY,
                moments: Vec::new(),
                ended: Ended::NoIce,
                imbalance: 0.0,
                effort: Effort::default(),
                cells: section.network.cells(),
            },
        }
    }

    /// A section that sets out with ice in it.
    pub(super) fn start(&mut self, transient: &Transient<'_>) {
        self.step(transient, 0.0, 0.0);
    }

    pub(super) fn step(&mut self, transient: &Transient<'_>, from: f64, to: f64) {
        let now: Vec<f64> =
            self.slices.iter().map(|slice| slice.frozen(|cell| transient.frozen(cell)[1])).collect();
        let seat = self.reading.iter().map(|&(cell, part)| part * transient.temperatures()[cell]).sum();
        let before = std::mem::replace(&mut self.frozen, now);
        let seat_before = std::mem::replace(&mut self.seat, seat);
        self.events(transient, &before, from, to);
        self.course.coldest_seat = self.course.coldest_seat.min(seat);
        self.course.fullest = self.frozen.iter().copied().fold(self.course.fullest, f64::max);
        let mixed = |part: f64| -> Vec<f64> {
            before.iter().zip(&self.frozen).map(|(a, b)| a + part * (b - a)).collect()
        };
        self.course.longest_plug = self.course.longest_plug.max(longest_plug(&self.slices, &self.frozen));
        self.course.most_frozen = self.course.most_frozen.max(self.share_frozen(&self.frozen));
        #[allow(clippy::cast_precision_loss, reason = "hours of a spell")]
        while self.course.moments.len() as f64 * HOUR <= to.min(self.weather.end) {
            let time = self.course.moments.len() as f64 * HOUR;
            let part = if to > from { (time - from) / (to - from) } else { 1.0 };
            let frozen = mixed(part);
            let [outdoors, space] = self.weather.at(time, self.share);
            let seat = if part < 1.0 { seat_before + part * (seat - seat_before) } else { seat };
            let (frozen, plug) = (self.share_frozen(&frozen), longest_plug(&self.slices, &frozen));
            self.course.moments.push(Moment { time, outdoors, space, seat, frozen, plug });
        }
    }

    fn events(&mut self, transient: &Transient<'_>, before: &[f64], from: f64, to: f64) {
        let Self { slices, plugs, frozen: now, course, .. } = self;
        let crossing = |a: f64, b: f64| from + (to - from) * ((Slice::BLOCKED - a) / (b - a)).clamp(0.0, 1.0);
        if course.first_ice.is_none() && now.iter().any(|it| *it > 0.0) {
            course.first_ice = Some(from + (to - from) * crossings(slices, transient).fold(1.0, f64::min));
        }
        let blocks = before.iter().zip(&*now).map(|(a, b)| {
            Slice::is_blocked(*b).then(|| if Slice::is_blocked(*a) { from } else { crossing(*a, *b) })
        });
        let blocks: Vec<Option<f64>> = blocks.collect();
        let (mut newly_blocked, mut newly_at_seat) = (None, None);
        for &[first, last] in plugs.iter() {
            let times = blocks[first..=last].iter().copied().collect::<Option<Vec<f64>>>();
            let Some(time) = times.and_then(|it| it.into_iter().reduce(f64::max)) else { continue };
            if newly_blocked.is_none_or(|(before, _): (f64, f64)| time < before) {
                newly_blocked = Some((time, 0.5 * (slices[first].ends[0] + slices[last].ends[1])));
            }
            if self.beside.iter().any(|it| (first..=last).contains(it)) {
                newly_at_seat = Some(newly_at_seat.map_or(time, |before: f64| before.min(time)));
            }
        }
        course.blocked = course.blocked.or(newly_blocked);
        course.plug_at_seat = course.plug_at_seat.or(newly_at_seat);
        let [was, is] = [before, now].map(|it| it.iter().any(|frozen| *frozen > 0.0));
        if is {
            course.clear = None;
        } else if was {
            course.clear = Some(from + (to - from) * crossings(slices, transient).fold(0.0, f64::max));
        }
    }

    /// Whether the first ice may come within the next step, going by the last.
    pub(super) fn is_near_ice(&self, transient: &Transient<'_>) -> bool {
        let coldest_of = |temperatures: &[f64]| {
            water(&self.slices).map(|cell| temperatures[cell]).fold(f64::INFINITY, f64::min)
        };
        let coldest = coldest_of(transient.temperatures());
        let fell = coldest_of(transient.temperatures_before()) - coldest;
        // A step may be twice as long as the last, and water falls faster as outdoors does.
        self.course.first_ice.is_none() && coldest - 4.0 * fell < ICE_POINT
    }

    pub(super) fn ice_gone(&self) -> bool {
        self.frozen.iter().all(|it| *it == 0.0)
    }

    fn share_frozen(&self, frozen: &[f64]) -> f64 {
        let own = || self.slices[..self.own].iter();
        let all: f64 = own().map(|it| it.volume).sum();
        own().zip(frozen).map(|(slice, frozen)| slice.volume * frozen).sum::<f64>() / all
    }
}

/// How far apart two slices are that are not beside each other, m: bore and supply are parted by the washer.
const SLACK: f64 = 1e-9;

/// Length of the longest stretch of bore that is blocked, m.
fn longest_plug(slices: &[Slice], frozen: &[f64]) -> f64 {
    let (mut longest, mut run): (f64, Option<[f64; 2]>) = (0.0, None);
    for (slice, frozen) in slices.iter().zip(frozen) {
        run = match run {
            _ if !Slice::is_blocked(*frozen) => None,
            Some([from, to]) if (slice.ends[0] - to).abs() < SLACK => Some([from, slice.ends[1]]),
            _ => Some(slice.ends),
        };
        longest = run.map_or(longest, |[from, to]| longest.max(to - from));
    }
    longest
}

/// Every stretch of slices that is as long as a plug and would not be without its first or without its last.
fn plugs(slices: &[Slice]) -> Vec<[usize; 2]> {
    let parted = |it: usize| (slices[it].ends[0] - slices[it - 1].ends[1]).abs() > SLACK;
    let long = |[from, to]: [usize; 2]| slices[to].ends[1] - slices[from].ends[0] > PLUG - SLACK;
    let mut found = Vec::new();
    for at in 0..slices.len() {
        let onwards = (at..slices.len()).take_while(|&it| it == at || !parted(it));
        found.extend(onwards.map(|to| [at, to]).find(|it| long(*it)));
        let backwards = (0..=at).rev().take_while(|&it| it == at || !parted(it + 1));
        found.extend(backwards.map(|from| [from, at]).find(|it| long(*it)));
    }
    found.sort_unstable();
    found.dedup();
    found
}

/// Cells of water.
fn water(slices: &[Slice]) -> impl Iterator<Item = usize> {
    slices.iter().flat_map(|it| &it.cells).map(|(cell, _)| *cell)
}

/// The parts of the last step after which water came to the ice point or left it.
fn crossings(slices: &[Slice], transient: &Transient<'_>) -> impl Iterator<Item = f64> {
    water(slices).filter_map(|cell| transient.fraction_of_step_at_freezing(cell))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Slices end to end, their lengths as parts of a plug's; a gap before those that begin a run.
    fn runs(runs: &[&[f64]]) -> Vec<Slice> {
        let mut at = 0.0;
        let mut slices = Vec::new();
        for run in runs {
            for part in *run {
                let ends = [at, at + part * PLUG];
                slices.push(Slice { ends, cells: Vec::new(), volume: 1.0 });
                at = ends[1];
            }
            at += 0.1 * PLUG;
        }
        slices
    }

    #[test]
    fn a_blocked_stretch_does_not_reach_across_the_washer() {
        let slices = runs(&[&[1.0, 1.0, 1.0], &[1.0, 1.0]]);
        assert!((longest_plug(&slices, &[1.0; 5]) - 3.0 * PLUG).abs() < 1e-9);
        assert!((longest_plug(&slices, &[1.0, 0.5, 1.0, 1.0, 1.0]) - 2.0 * PLUG).abs() < 1e-9);
    }

    #[test]
    fn the_shortest_plugs_begin_or_end_at_each_slice_and_not_across_the_washer() {
        // The shortest that ends with the third slice begins with the first.
        assert_eq!(plugs(&runs(&[&[0.9, 0.5, 0.3]])), [[0, 1], [0, 2]]);
        assert_eq!(plugs(&runs(&[&[0.3, 0.5, 0.9]])), [[0, 2], [1, 2]]);
        assert_eq!(plugs(&runs(&[&[0.6, 0.6], &[0.6, 0.6]])), [[0, 1], [2, 3]]);
        assert_eq!(plugs(&runs(&[&[0.6], &[0.6]])), <Vec<[usize; 2]>>::new());
    }
}
