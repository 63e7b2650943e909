//! What happens to an outlet in a cold spell.

use super::super::cold_spell::times::{self, Event};
use super::super::cold_spell::{LENGTH, why_not};
use super::values::{DifferenceJson, Number, QuantityJson, TemperatureJson, TimeJson, difference, time};
use crate::facts::Followed;
use crate::review::Absence;
use crate::section::{Course, Ended, Moment};
use crate::units::{Quantity, System};
use schemars::JsonSchema;
use serde::Serialize;

#[derive(Serialize, JsonSchema)]
#[serde(untagged)]
pub(super) enum CourseResultJson {
    Followed {
        not_known: (),
        /// Whether water stands on the cold side of the seat.
        full: bool,
        /// Whether a cover is counted on.
        covered: bool,
        events: Box<EventsJson>,
        followed: Box<FollowedJson>,
    },
    NotFollowed {
        /// Why it cannot be followed.
        #[schemars(length(min = 1))]
        not_known: String,
    },
}

#[derive(Serialize, JsonSchema)]
pub(super) struct EventsJson {
    first_ice: EventJson,
    /// All water across the bore is ice at some depth.
    blocked: EventJson,
    /// How deep from the face; null if it is not blocked at the values used.
    blocked_at: Option<QuantityJson>,
    plug_at_seat: EventJson,
    /// With the supply. Null, as the two below, if a course was followed only until it is blocked: see `ended`.
    longest_plug: Option<QuantityJson>,
    /// Of the water between the face and the inside of the wall.
    most_frozen: Option<QuantityJson>,
    coldest_seat: Option<TemperatureJson>,
}

/// Seconds from the start of the spell: at the values used, the soonest and the latest within the band. Null if it
/// does not
/// happen; 0 if it has happened before the spell.
#[derive(Serialize, JsonSchema)]
struct EventJson {
    #[schemars(range(min = 0))]
    value: Option<Number>,
    #[schemars(range(min = 0))]
    low: Option<Number>,
    #[schemars(range(min = 0))]
    high: Option<Number>,
    #[schemars(extend("const" = "s"))]
    unit: &'static str,
    #[schemars(extend("const" = "time"))]
    kind: &'static str,
    text: String,
}

/// The courses at the cold end of the band, at the values used and at the warm end.
#[derive(Serialize, JsonSchema)]
pub(super) struct FollowedJson {
    cold_end: CourseJson,
    as_used: CourseJson,
    warm_end: CourseJson,
}

#[derive(Serialize, JsonSchema)]
struct CourseJson {
    /// How far the outdoor temperature was moved to move the coldest water by its band.
    outdoors_moved_by: DifferenceJson,
    until: Option<TimeJson>,
    /// How it ended: no ice, blocked, ice gone or still ice.
    ended: &'static str,
    /// Null if there was no ice, or if there still is: see `ended`.
    ice_gone: Option<TimeJson>,
    #[schemars(range(min = 1))]
    cells: usize,
    #[schemars(range(min = 1))]
    steps: usize,
    /// Numerical heat loss, as a share of the heat through the surfaces.
    heat_lost: Number,
}

#[derive(Serialize, JsonSchema)]
pub(super) struct HourJson {
    #[schemars(range(min = 0))]
    time: Number,
    #[schemars(range(min = 100, max = 400))]
    outdoors: Number,
    #[schemars(range(min = 100, max = 400))]
    space: Number,
    #[schemars(range(min = 100, max = 400))]
    seat: Number,
    #[schemars(range(min = 0, max = 1))]
    frozen: Number,
    #[schemars(range(min = 0))]
    plug: Number,
}

impl CourseResultJson {
    pub(super) fn of(course: &Result<Followed, Absence>, system: System) -> Self {
        match course {
            Ok(followed) => Self::Followed {
                not_known: (),
                full: followed.is_full,
                covered: followed.is_covered,
                events: Box::new(EventsJson::of(followed, system)),
                followed: Box::new(FollowedJson::of(followed, system)),
            },
            Err(absence) => Self::NotFollowed { not_known: why_not(absence, system) },
        }
    }
}

impl EventsJson {
    fn of(followed: &Followed, system: System) -> Self {
        let figure = |quantity: &Quantity, show| QuantityJson::with(quantity, show, system);
        Self {
            first_ice: EventJson::from(&Event::first_ice(followed)),
            blocked: EventJson::from(&Event::blocked(followed)),
            blocked_at: times::blocked_at(followed).map(|depth| figure(&depth, LENGTH)),
            plug_at_seat: EventJson::from(&Event::plug_at_seat(followed)),
            longest_plug: times::longest_plug(followed).map(|length| figure(&length, times::PLUG)),
            most_frozen: times::most_frozen(followed).map(|share| figure(&share, times::FROZEN)),
            coldest_seat: times::coldest_seat(followed)
                .map(|seat| TemperatureJson(figure(&seat, times::SEAT))),
        }
    }
}

impl From<&Event> for EventJson {
    fn from(event: &Event) -> Self {
        let [low, high] = event.band().map(|end| end.map(Number));
        Self { value: event.used().map(Number), low, high, unit: "s", kind: "time", text: event.in_short() }
    }
}

impl FollowedJson {
    fn of(followed: &Followed, system: System) -> Self {
        let [cold, used, warm] = &followed.courses;
        let [cold_by, used_by, warm_by] = followed.shifts;
        Self {
            cold_end: CourseJson::of(cold, cold_by, system),
            as_used: CourseJson::of(used, used_by, system),
            warm_end: CourseJson::of(warm, warm_by, system),
        }
    }
}

impl CourseJson {
    fn of(course: &Course, moved_by: f64, system: System) -> Self {
        // Below this it is the machine's rounding.
        let heat_lost = if course.imbalance.abs() < 1e-9 { 0.0 } else { course.imbalance };
        Self {
            outdoors_moved_by: difference(moved_by, system),
            until: course.moments.last().map(|moment| time(moment.time)),
            ended: ended(course.ended),
            ice_gone: course.clear.map(time),
            cells: course.cells,
            steps: course.effort.steps,
            heat_lost: Number(heat_lost),
        }
    }
}

fn ended(ended: Ended) -> &'static str {
    match ended {
        Ended::NoIce => "no ice",
        Ended::Blocked => "blocked",
        Ended::Clear => "ice gone",
        Ended::StillIce => "still ice",
    }
}

impl From<&Moment> for HourJson {
    fn from(moment: &Moment) -> Self {
        Self {
            time: Number(moment.time),
            outdoors: Number(moment.outdoors),
            space: Number(moment.space),
            seat: Number(moment.seat),
            frozen: Number(moment.frozen),
            plug: Number(moment.plug),
        }
    }
}
