//! What happens at the values used and over the band, in words.

use super::{HOUR, LENGTH, TEMPERATURE, TIME};
use crate::facts::Followed;
use crate::section::Course;
use crate::units::{Dim, Quantity, Rounding, Show, System};

/// Something that may happen: at the cold end of the band, at the values used, at its warm end; s from the start.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::report) struct Event {
    ends: [Option<f64>; 3],
    toward: Rounding,
}

impl Event {
    /// Sooner is the safe side of what ice does, later of its going.
    pub(in crate::report) fn of(
        followed: &Followed,
        toward: Rounding,
        when: impl Fn(&Course) -> Option<f64>,
    ) -> Self {
        let [cold, used, warm] = &followed.courses;
        Self { ends: [when(cold), when(used), when(warm)], toward }
    }

    pub(in crate::report) fn first_ice(followed: &Followed) -> Self {
        Self::of(followed, Rounding::Down, |it| it.first_ice)
    }

    pub(in crate::report) fn blocked(followed: &Followed) -> Self {
        Self::of(followed, Rounding::Down, |it| it.blocked.map(|it| it.0))
    }

    pub(in crate::report) fn plug_at_seat(followed: &Followed) -> Self {
        Self::of(followed, Rounding::Down, |it| it.plug_at_seat)
    }

    pub(in crate::report) fn clear(followed: &Followed) -> Self {
        Self::of(followed, Rounding::Up, |it| it.clear)
    }

    pub(in crate::report) fn used(&self) -> Option<f64> {
        self.ends[1]
    }

    pub(in crate::report) fn never(&self) -> bool {
        self.ends == [None; 3]
    }

    /// Soonest and latest; `None` where it does not happen, which is later than any time.
    pub(in crate::report) fn band(&self) -> [Option<f64>; 2] {
        let mut ends = self.ends.map(|it| it.unwrap_or(f64::INFINITY));
        ends.sort_by(f64::total_cmp);
        [ends[0], ends[2]].map(|it| it.is_finite().then_some(it))
    }

    /// At the values used: `31.2 h`, `at start`, or `no`.
    pub(in crate::report) fn as_used(&self) -> String {
        match self.used() {
            None => "no".into(),
            Some(0.0) => "at start".into(),
            Some(time) => said(time, self.toward),
        }
    }

    /// `25 to 40.1 h`, `25 h, or never`.
    pub(in crate::report) fn low_to_high(&self) -> String {
        match self.band() {
            [None, _] => String::new(),
            [Some(low), None] => format!("{}, or never", said(low, Rounding::Down)),
            [Some(0.0), Some(0.0)] => String::new(),
            [Some(low), Some(high)] => {
                let time = Quantity::of(low, Dim::TIME).within(low, high);
                TIME.range(&time, System::Si)
            }
        }
    }

    /// Both in a cell: `31.2 h (25 to 40.1 h)`, `probably not; soonest 20.4 h`.
    pub(in crate::report) fn in_short(&self) -> String {
        match (self.used(), self.band()[0], self.low_to_high()) {
            (_, None, _) => "no".into(),
            (None, Some(soonest), _) => format!("probably not; soonest {}", said(soonest, Rounding::Down)),
            (_, _, range) if range.is_empty() || range == self.as_used() => self.as_used(),
            (_, _, range) => format!("{} ({range})", self.as_used()),
        }
    }
}

fn said(seconds: f64, toward: Rounding) -> String {
    TIME.toward(toward).value(&Quantity::of(seconds, Dim::TIME), System::Si)
}

/// `day 2, 7 am`, where t = 0 is midnight.
pub(in crate::report) fn clock(seconds: f64) -> String {
    let hour = (seconds / HOUR).floor();
    let day = (hour / 24.0).floor();
    let of_day = match hour - 24.0 * day {
        0.0 => "midnight".into(),
        12.0 => "noon".into(),
        hour if hour < 12.0 => format!("{hour} am"),
        hour => format!("{} pm", hour - 12.0),
    };
    format!("day {}, {of_day}", day + 1.0)
}

/// A figure of each whole course: at the values used, with the least and the most of all three.
fn figure(followed: &Followed, of: impl Fn(&Course) -> f64) -> Option<[f64; 3]> {
    let [cold, used, warm] = followed.courses.each_ref().map(|course| of(course));
    (!followed.ends_blocked()).then(|| [cold.min(used).min(warm), used, cold.max(used).max(warm)])
}

/// Unknown, as the two below, if a course ends where the tube is blocked.
pub(in crate::report) fn coldest_seat(followed: &Followed) -> Option<Quantity> {
    let [low, used, high] = figure(followed, |it| it.coldest_seat)?;
    Some(Quantity::temperature(used).within(low, high))
}

pub(in crate::report) fn longest_plug(followed: &Followed) -> Option<Quantity> {
    let [low, used, high] = figure(followed, |it| it.longest_plug)?;
    Some(Quantity::of(used, Dim::LENGTH).within(low, high))
}

pub(in crate::report) fn most_frozen(followed: &Followed) -> Option<Quantity> {
    let [low, used, high] = figure(followed, |it| it.most_frozen)?;
    Some(Quantity::of(used, Dim::NONE).within(low, high))
}

/// How deep from the face ice first blocks the bore, of the courses in which it does; `None` where it does not at the
/// values used. In the head it is at the face.
pub(in crate::report) fn blocked_at(followed: &Followed) -> Option<Quantity> {
    let used = followed.courses[1].blocked?.1.max(0.0);
    let all = || followed.courses.iter().filter_map(|it| it.blocked).map(|it| it.1.max(0.0));
    let (low, high) = (all().fold(used, f64::min), all().fold(used, f64::max));
    Some(Quantity::of(used, Dim::LENGTH).within(low, high))
}

/// The value used and the range, each in a cell of its own; no range where it prints as the value does.
pub(in crate::report) fn cells(quantity: &Quantity, show: Show, system: System) -> [String; 2] {
    let (value, range) = (show.value(quantity, system), show.range(quantity, system));
    let range = if range == value { String::new() } else { range };
    [value, range]
}

pub(in crate::report) const SEAT: Show = TEMPERATURE.toward(Rounding::Down);
/// In a narrow column.
pub(in crate::report) const SEAT_IN_SHORT: Show = Show::new(("°F", 0), ("°C", 0), Rounding::Down);
pub(in crate::report) const PLUG: Show = LENGTH.toward(Rounding::Up);
pub(in crate::report) const FROZEN: Show = Show::new(("%", 0), ("%", 0), Rounding::Up);
