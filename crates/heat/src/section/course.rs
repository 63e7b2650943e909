//! One outlet through a cold spell: the section's own network carried through time, and what happens on the way.
//!
//! Films are held where the steady section holds them, at the state with the seat at the ice point. Water is taken to
//! freeze at the ice point: still water may supercool by 4 to 6 K first (Gilpin 1977), and no credit is given for it.
//! The growth of ice pushes water back along the supply.

use super::contents::{Capacities, Slice, ice_and_water, slices, stores};
use super::mesh::{Fineness, SEAT_READING};
use super::solve::{Section, SectionError};
use super::spec::{Micro, Spec};
use crate::physics::water::ICE_POINT;
use crate::thermal::{Control, Effort, Transient};

/// How closely a spell is followed: what a step may be off by in any cell. A tenth of it moves the hours to blocked by at
/// most 2 %.
const USUAL: Control = Control { kelvin: 1.0, phase: 0.1, first: 60.0, longest: 3840.0 };
/// The shortest plug that counts as blocking, m: as long as the water read at the seat, so that it ends on a line of
/// every mesh. A shorter one is a film, and sooner the finer the mesh.
pub const PLUG: f64 = SEAT_READING;
/// The longest step as water comes near the ice point, s.
const NEAR_ICE: f64 = 480.0;
const HOUR: f64 = 3600.0;

/// Temperatures around the section in time: straight lines between points, constant beyond either end.
#[derive(Clone, Debug, PartialEq)]
pub struct Weather {
    /// s and K, ascending in time; at least one.
    pub outdoors: Vec<[f64; 2]>,
    /// The heated room, s and K, likewise; the space behind follows from it.
    pub room: Vec<[f64; 2]>,
    /// The spell is over, s; from here on a section without ice is let go.
    pub over: f64,
    /// The end of what is followed, s.
    pub end: f64,
    /// What the question is.
    pub goal: Goal,
}

/// What a section is followed for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Goal {
    /// Whether and when its bore is blocked: it is let go then.
    Blocked,
    /// All of it, until the ice is gone again.
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

/// Where a line through points is at a time.
fn along(points: &[[f64; 2]], time: f64) -> f64 {
    let next = points.partition_point(|it| it[0] <= time);
    match (next.checked_sub(1).and_then(|it| points.get(it)), points.get(next)) {
        (Some([from, a]), Some([to, b])) => a + (b - a) * (time - from) / (to - from),
        (Some([_, value]), None) | (None, Some([_, value])) => *value,
        (None, None) => f64::NAN,
    }
}

/// How closely to follow, to show what the usual steps and mesh are worth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Closely {
    /// The mesh.
    pub fineness: Fineness,
    /// Parts of the usual error and the usual longest step, above zero.
    pub error: Option<f64>,
}

/// Why it was not followed further.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ended {
    /// The spell is over and there was no ice.
    NoIce,
    /// The bore is blocked, which was the question.
    Blocked,
    /// The spell is over and the ice is gone.
    Clear,
    /// There is still ice at the end of what is followed.
    StillIce,
}

/// A moment.
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

/// What happened. Times in s from the start of the spell; nothing where it did not happen.
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
    /// The lowest the seat gets, K.
    pub coldest_seat: f64,
    /// Hour by hour.
    pub moments: Vec<Moment>,
    /// Why it was not followed further.
    pub ended: Ended,
    /// Heat lost by the whole computation, as a part of what went through the surfaces.
    pub imbalance: f64,
    /// Steps, matrices and solutions.
    pub effort: Effort,
    /// Cells of the mesh.
    pub cells: usize,
}

impl Course {
    /// The last step may reach beyond the end of what is followed: what happens there has not happened.
    fn until(&mut self, end: f64) {
        let within = |time: &f64| *time <= end;
        self.first_ice = self.first_ice.filter(within);
        self.blocked = self.blocked.filter(|it| it.0 <= end);
        self.plug_at_seat = self.plug_at_seat.filter(within);
        self.clear = self.clear.filter(within);
    }
}

/// Follows a section through a spell at the usual mesh and steps. It sets out in balance with the first temperatures.
pub fn follow(spec: &Spec, capacities: &Capacities, weather: &Weather) -> Result<Course, SectionError> {
    follow_at(spec, capacities, weather, Closely::default())
}

/// Follows a section at a stated mesh and error.
pub fn follow_at(
    spec: &Spec,
    capacities: &Capacities,
    weather: &Weather,
    closely: Closely,
) -> Result<Course, SectionError> {
    let mut section = Section::build(spec, closely.fineness)?;
    let weights = section.find_films(None)?;
    let share = spec.behind.weight();
    // All has settled to what was before the start: a spell may begin with a step.
    let start = weather.at(-1.0, share);
    let temperatures =
        (0..section.network.cells()).map(|cell| weights.cell_temperature(cell, &start)).collect();
    let part = closely.error.unwrap_or(1.0);
    let control = Control {
        kelvin: USUAL.kelvin * part,
        phase: USUAL.phase * part,
        first: USUAL.first,
        longest: USUAL.longest * part.min(1.0),
    };
    let mut transient = Transient::new(
        &section.solver,
        section.network.clone(),
        stores(&section, spec, capacities),
        ice_and_water()?,
        temperatures,
        control,
    )?;
    let mut watch = Watch::new(&section, weather, share);
    watch.start(&transient);
    let outside = |time: f64| weather.at(time, share).to_vec();
    let ended = loop {
        if watch.is_near_ice(&transient) {
            transient.step_at_most(NEAR_ICE);
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

/// Looks for what happens within each step. What lies between its ends is taken along a straight line.
struct Watch<'w> {
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
    course: Course,
}

impl<'w> Watch<'w> {
    fn new(section: &Section<'_>, weather: &'w Weather, share: f64) -> Self {
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
    fn start(&mut self, transient: &Transient<'_>) {
        self.step(transient, 0.0, 0.0);
    }

    fn step(&mut self, transient: &Transient<'_>, from: f64, to: f64) {
        let now: Vec<f64> =
            self.slices.iter().map(|slice| slice.frozen(|cell| transient.frozen(cell)[1])).collect();
        let seat = self.reading.iter().map(|&(cell, part)| part * transient.temperatures()[cell]).sum();
        let before = std::mem::replace(&mut self.frozen, now);
        let seat_before = std::mem::replace(&mut self.seat, seat);
        self.events(transient, &before, from, to);
        self.course.coldest_seat = self.course.coldest_seat.min(seat);
        let mixed = |part: f64| -> Vec<f64> {
            before.iter().zip(&self.frozen).map(|(a, b)| a + part * (b - a)).collect()
        };
        self.course.longest_plug = self.course.longest_plug.max(self.plug(&self.frozen));
        self.course.most_frozen = self.course.most_frozen.max(self.share_frozen(&self.frozen));
        #[allow(clippy::cast_precision_loss, reason = "hours of a spell")]
        while self.course.moments.len() as f64 * HOUR <= to.min(self.weather.end) {
            let time = self.course.moments.len() as f64 * HOUR;
            let part = if to > from { (time - from) / (to - from) } else { 1.0 };
            let frozen = mixed(part);
            let [outdoors, space] = self.weather.at(time, self.share);
            let seat = if part < 1.0 { seat_before + part * (seat - seat_before) } else { seat };
            let (frozen, plug) = (self.share_frozen(&frozen), self.plug(&frozen));
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
            Slice::is_blocked(*b)
                .then(|| if Slice::is_blocked(*a) || to == from { from } else { crossing(*a, *b) })
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
    fn is_near_ice(&self, transient: &Transient<'_>) -> bool {
        let coldest_of = |temperatures: &[f64]| {
            water(&self.slices).map(|cell| temperatures[cell]).fold(f64::INFINITY, f64::min)
        };
        let coldest = coldest_of(transient.temperatures());
        let fell = coldest_of(transient.temperatures_before()) - coldest;
        // A step may be twice as long as the last, and water falls faster as outdoors does.
        self.course.first_ice.is_none() && coldest - 4.0 * fell < ICE_POINT
    }

    fn ice_gone(&self) -> bool {
        self.frozen.iter().all(|it| *it == 0.0)
    }

    /// Length of the longest stretch of bore that is blocked, m.
    fn plug(&self, frozen: &[f64]) -> f64 {
        let (mut longest, mut run): (f64, Option<[f64; 2]>) = (0.0, None);
        for (slice, frozen) in self.slices.iter().zip(frozen) {
            run = match run {
                _ if !Slice::is_blocked(*frozen) => None,
                // Bore and supply are parted by the washer.
                Some([from, to]) if (slice.ends[0] - to).abs() < 1e-9 => Some([from, slice.ends[1]]),
                _ => Some(slice.ends),
            };
            longest = run.map_or(longest, |[from, to]| longest.max(to - from));
        }
        longest
    }

    fn share_frozen(&self, frozen: &[f64]) -> f64 {
        let own = || self.slices[..self.own].iter();
        let all: f64 = own().map(|it| it.volume).sum();
        own().zip(frozen).map(|(slice, frozen)| slice.volume * frozen).sum::<f64>() / all
    }
}

/// Every stretch of slices that is as long as a plug and would not be without its first or without its last.
fn plugs(slices: &[Slice]) -> Vec<[usize; 2]> {
    const SLACK: f64 = 1e-9;
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
    water(slices).filter_map(|cell| transient.crosses_freezing(cell))
}
