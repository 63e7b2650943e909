//! One outlet through a cold spell: the section's network integrated in time, and the events on the way.
//!
//! Films are those of the steady section with its seat at the ice point. Water is taken to freeze at the ice point: still
//! water may supercool by 4 to 6 K first (Gilpin 1977), and no credit is given for it. The growth of ice pushes water back
//! along the supply.

mod watch;

use super::contents::{Capacities, ice_and_water, stores};
use super::mesh::{Fineness, SEAT_READING};
use super::solve::{Section, SectionError};
use super::spec::{Micro, Spec};
use crate::thermal::{Control, Effort, Transient};
use watch::Watch;

/// The usual tolerances and steps. A tenth of them changes the hours to blocked by at most 2 %.
const USUAL: Steps =
    Steps { control: Control { kelvin: 1.0, phase: 0.1, first: 480.0, longest: 3840.0 }, near_ice: 480.0 };
/// Coarse steps with half the work, to find out whether ice blocks the bore at all. Over 183 outlets of a list in Minneapolis
/// it is blocked up to 0.6 h later than with the usual steps, and by up to a quarter of the time since the first ice.
const ROUGH: Steps =
    Steps { control: Control { kelvin: 4.0, phase: 0.8, first: 960.0, longest: 7680.0 }, near_ice: 1920.0 };
/// How much later than with rough steps a bore may be blocked: a fraction of the time since the first ice, and s. Several
/// times the largest difference found.
const LATER: (f64, f64) = (1.0, HOUR);
/// A bore stays open if less than this fraction of it is frozen at every depth with rough steps. Over 1,200 spells of 300 sections usual
/// steps froze at most 0.05 more of it, and no such bore was blocked.
const OPEN: f64 = 0.5;
/// The shortest plug that counts as blocking, m: as long as the water read at the seat, so that it ends on a line of
/// every mesh. A shorter one is a film, and sooner the finer the mesh.
pub const PLUG: f64 = SEAT_READING;
const HOUR: f64 = 3600.0;

/// Temperatures around the section in time: straight lines between points, constant beyond either end.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// s and K, ascending in time; at least one.
    pub outdoors: Vec<[f64; 2]>,
    /// The heated room, s and K, likewise; the space behind follows from it.
    pub room: Vec<[f64; 2]>,
    /// The end of the spell, s: a section without ice is followed no longer.
    pub over: f64,
    /// The end of the computation, s.
    pub end: f64,
    /// What to find out.
    pub goal: Goal,
}

/// What to find out about a section.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Goal {
    /// Whether and when its bore is blocked; the computation ends then.
    Blocked,
    /// The whole course, until the ice is gone.
    Cleared,
}

impl Weather {
    /// Every figure in whole millionths, to tell spells apart.
    pub fn key(&self) -> Vec<Micro> {
        let points = self.outdoors.iter().chain(&self.room).flatten().copied();
        let counts = [self.over, self.end, f64::from(u8::from(self.goal == Goal::Blocked))];
        points.chain(counts).map(Micro::of).collect()
    }

    /// Outdoors and the space behind, K.
    pub fn at(&self, time: f64, share: f64) -> [f64; 2] {
        let [outdoors, room] = [&self.outdoors, &self.room].map(|points| along(points, time));
        [outdoors, outdoors + share * (room - outdoors)]
    }
}

/// Interpolates between points; constant beyond either end.
fn along(points: &[[f64; 2]], time: f64) -> f64 {
    let next = points.partition_point(|it| it[0] <= time);
    match (next.checked_sub(1).and_then(|it| points.get(it)), points.get(next)) {
        (Some([from, a]), Some([to, b])) => a + (b - a) * (time - from) / (to - from),
        (Some([_, value]), None) | (None, Some([_, value])) => *value,
        (None, None) => f64::NAN,
    }
}

/// Lengths of steps.
#[derive(Clone, Copy, Debug)]
struct Steps {
    control: Control,
    /// The longest as water comes near the ice point, s.
    near_ice: f64,
}

/// A mesh and steps other than the usual, to test their accuracy.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Closely {
    /// The mesh.
    pub fineness: Fineness,
    /// Factor of the usual tolerances and, below 1, of the usual longest step; above zero.
    pub error: Option<f64>,
}

/// Why a computation ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The spell is over and there was no ice.
    NoIce,
    /// The bore is blocked, and the goal was to find out.
    Blocked,
    /// The spell is over and the ice is gone.
    Clear,
    /// There is still ice at the end of the computation.
    StillIce,
}

/// The state at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// s
    pub time: f64,
    /// K
    pub outdoors: f64,
    /// The space behind, K.
    pub space: f64,
    /// Mean water just inboard of the washer, as the steady seat temperature, K.
    pub seat: f64,
    /// Share of the outlet's water that is frozen.
    pub frozen: f64,
    /// The longest stretch of bore that is blocked, m.
    pub plug: f64,
}

/// The events of a spell. Times in s from the start of the spell; `None` if an event did not happen.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// Some water is at the ice point and freezing.
    pub first_ice: Option<f64>,
    /// All water across the bore is ice somewhere, over [`PLUG`] at least: when, and how deep from the face, m.
    pub blocked: Option<(f64, f64)>,
    /// Such a plug has reached the washer.
    pub plug_at_seat: Option<f64>,
    /// All ice is gone again.
    pub clear: Option<f64>,
    /// The longest the plug gets, m.
    pub longest_plug: f64,
    /// The most of the outlet's water that is frozen: of what stands between the face and the wall's interior surface or
    /// the end of the inlet fitting, whichever is deeper.
    pub most_frozen: f64,
    /// The most of the water at any one depth that is frozen, 0 to 1.
    pub fullest: f64,
    /// The lowest the seat gets, K.
    pub coldest_seat: f64,
    /// Hour by hour.
    pub moments: Vec<Moment>,
    /// Why the computation ended.
    pub ended: Ended,
    /// Heat lost by the whole computation, as a fraction of what went through the surfaces.
    pub imbalance: f64,
    /// Counts of steps, matrices and solutions.
    pub effort: Effort,
    /// Cells of the mesh.
    pub cells: usize,
}

impl Course {
    /// Drops events after the end: the last step may reach beyond it.
    fn until(&mut self, end: f64) {
        let within = |time: &f64| *time <= end;
        self.first_ice = self.first_ice.filter(within);
        self.blocked = self.blocked.filter(|it| it.0 <= end);
        self.plug_at_seat = self.plug_at_seat.filter(within);
        self.clear = self.clear.filter(within);
    }
}

/// Follows a section through a spell at the usual mesh and steps. It starts in the steady state of the first temperatures.
pub fn follow(spec: &Spec, capacities: &Capacities, weather: &Weather) -> Result<Course, SectionError> {
    follow_in(spec, capacities, weather, Fineness::Usual, USUAL)
}

/// Follows a section at a stated mesh and error.
pub fn follow_at(
    spec: &Spec,
    capacities: &Capacities,
    weather: &Weather,
    closely: Closely,
) -> Result<Course, SectionError> {
    let part = closely.error.unwrap_or(1.0);
    let control = Control {
        kelvin: USUAL.control.kelvin * part,
        phase: USUAL.control.phase * part,
        longest: USUAL.control.longest * part.min(1.0),
        ..USUAL.control
    };
    follow_in(spec, capacities, weather, closely.fineness, Steps { control, ..USUAL })
}

/// Whether ice blocks the bore in a spell, at the usual mesh. Rough steps decide if the bore is blocked long before the
/// end of the spell or far from blocked; otherwise the usual steps do.
pub fn blocks(spec: &Spec, capacities: &Capacities, weather: &Weather) -> Result<bool, SectionError> {
    let weather = Weather { goal: Goal::Blocked, ..weather.clone() };
    let rough = follow_in(spec, capacities, &weather, Fineness::Usual, ROUGH)?;
    if rough.fullest < OPEN {
        return Ok(false);
    }
    let latest = rough.blocked.zip(rough.first_ice).map(|((blocked, _), first_ice)| {
        let (parts, seconds) = LATER;
        blocked + parts * (blocked - first_ice) + seconds
    });
    Ok(latest.is_some_and(|latest| latest <= weather.over)
        || follow(spec, capacities, &weather)?.blocked.is_some())
}

fn follow_in(
    spec: &Spec,
    capacities: &Capacities,
    weather: &Weather,
    fineness: Fineness,
    steps: Steps,
) -> Result<Course, SectionError> {
    let mut section = Section::build(spec, fineness)?;
    let weights = section.find_films(None)?;
    let share = spec.behind.weight();
    // Start in the steady state just before the spell, which may begin with a step.
    let start = weather.at(-1.0, share);
    let temperatures =
        (0..section.network.cells()).map(|cell| weights.cell_temperature(cell, &start)).collect();
    let mut transient = Transient::new(
        &section.solver,
        section.network.clone(),
        stores(&section, spec, capacities),
        ice_and_water()?,
        temperatures,
        steps.control,
    )?;
    let mut watch = Watch::new(&section, weather, share);
    watch.start(&transient);
    let outside = |time: f64| weather.at(time, share).to_vec();
    let ended = loop {
        if watch.is_near_ice(&transient) {
            transient.step_at_most(steps.near_ice);
        }
        let [from, to] = transient.advance(&outside)?;
        watch.step(&transient, from, to);
        if weather.goal == Goal::Blocked && watch.course.blocked.is_some() {
            break Ended::Blocked;
        }
        if to >= weather.over && watch.ice_gone() {
            break if watch.course.first_ice.is_some() { Ended::Clear } else { Ended::NoIce };
        }
        if to >= weather.end {
            break Ended::StillIce;
        }
    };
    let mut course = watch.course;
    course.until(weather.end);
    course.ended = if ended == Ended::Blocked && course.blocked.is_none() { Ended::StillIce } else { ended };
    course.imbalance = transient.account().imbalance();
    course.effort = transient.effort();
    Ok(course)
}
