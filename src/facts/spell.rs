//! An outlet's section and the weather of the design cold spell, in the states that people ask about.

use super::columns::{BARREL, INLET_METAL, STEM, SUPPLY};
use super::cooling::cooling;
use super::def::{DAY, Def, HOUR};
use super::heat::boundary;
use super::outlet::{OrGap, Outlet};
use super::section::{SLEEVE, spec};
use super::site::{SPELL_DAYS, SPELL_LOW, SPELL_START, SPELL_SWING};
use super::space::{CONSTANT, STORAGE, wall};
use crate::expr::{Gap, Slot};
use crate::physics::materials;
use crate::physics::water::ICE_POINT;
use crate::section::{
    Bore, Boundary, Capacities, Course, Ended, Goal, Micro, Solved, Spec, UncertainInput, Uncertainty,
    Weather,
};
use crate::spell::{Spell, SpellKind, interpolate};
use rayon::prelude::*;
use std::sync::Arc;

/// The setting that says how long a power outage lasts.
const POWER_CUT: &str = "freezing/power_cut";
/// Heat is lost as the cold has arrived: at the end of the fall.
pub(super) const CUT_AT: f64 = DAY;
/// Ice is followed for this long after the spell.
const THAW: f64 = 7.0 * DAY;
/// A typed spell ends at its coldest: water is watched for this long after it, as it lags behind outdoors.
const LAG: f64 = 6.0 * HOUR;
/// The band moves outdoors by no more than this, K.
const MOST_SHIFT: f64 = 40.0;

/// No band of the coldest water reaches further from its best estimate than this, in the logarithm of the ratio of the two
/// weights.
const WIDEST: f64 = 1.5;

/// How the outlet stands in the spell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// As the schedule has it: drained where it drains, its cover on.
    AsItStands,
    /// A hose left on keeps the barrel full.
    HoseOn,
    /// Without its cover.
    Uncovered,
    /// Heat is out for as long as the rules ask.
    PowerCut,
}

/// A loss of heat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatOut {
    /// When heat is lost, s from the start of the spell.
    pub from: f64,
    /// For how long, s.
    pub time: f64,
    /// Whether what comes after it is followed too. The room then warms up in as long a time as heat was out.
    pub returns: bool,
}

impl HeatOut {
    /// A loss of heat for a time in a spell, followed beyond its end: in the design spell as the cold has arrived, in
    /// any other at its start.
    pub fn in_spell(spell: &Spell, time: f64) -> Self {
        let from = if matches!(spell.kind(), SpellKind::Design { .. }) { CUT_AT } else { 0.0 };
        Self { from, time, returns: true }
    }

    /// When all of it is over, s.
    pub(super) fn end(&self) -> f64 {
        self.from + self.time * if self.returns { 2.0 } else { 1.0 }
    }
}

/// An outlet's course: at the cold end of the band, at the values used, and at its warm end.
#[derive(Clone, Debug, PartialEq)]
pub struct Followed {
    /// Whether water stands outboard of the seat.
    pub is_full: bool,
    /// Whether a cover is counted on.
    pub is_covered: bool,
    /// The courses.
    pub courses: [Arc<Course>; 3],
    /// How far outdoors was moved for each, K.
    pub shifts: [f64; 3],
}

impl Followed {
    /// Whether a course ends where ice blocks the tube, so that what comes later is not known.
    pub fn ends_blocked(&self) -> bool {
        self.courses.iter().any(|course| course.ended == Ended::Blocked)
    }
}

/// A section with what it holds, and the spell it stands in.
pub struct Case<'o, 'w> {
    outlet: &'o Outlet<'w>,
    /// The section in this state.
    spec: Spec,
    /// Whether that is the section as stated, whose band is asked for anyway.
    is_as_stated: bool,
    /// What its parts hold.
    capacities: Capacities,
    /// At the best estimates.
    solved: Arc<Solved>,
    spell: Spell,
    room: Vec<[f64; 2]>,
    cut: Option<HeatOut>,
}

impl<'o, 'w> Case<'o, 'w> {
    /// The case of an outlet in a state, in the job's design spell.
    pub(super) fn of(outlet: &'o Outlet<'w>, own: Slot, state: State) -> Result<Self, Gap> {
        let mut gaps = Gap::default();
        let spell = design_spell(outlet, own).or_gap(&mut gaps);
        let cut = match state {
            State::PowerCut => {
                let time = outlet.setting(POWER_CUT)?;
                Some(HeatOut { from: CUT_AT, time, returns: false })
            }
            State::AsItStands | State::HoseOn | State::Uncovered => None,
        };
        let case = Self::in_spell(outlet, own, state, spell, cut);
        case.map_err(|gap| {
            crate::truth::Reason::absorb(&mut gaps, gap);
            gaps
        })
    }

    /// The case of an outlet in a state, in a spell, with heat out for a time.
    pub fn in_spell(
        outlet: &'o Outlet<'w>,
        own: Slot,
        state: State,
        spell: Option<Spell>,
        cut: Option<HeatOut>,
    ) -> Result<Self, Gap> {
        let mut gaps = Gap::default();
        let spec = spec(outlet, None).or_gap(&mut gaps);
        let capacities = capacities(outlet).or_gap(&mut gaps);
        let at = boundary(outlet).or_gap(&mut gaps);
        // Only a room without heat cools.
        let cut = cut.map(|cut| outlet.number(CONSTANT).map(|constant| (cut, constant)));
        let cut = cut.transpose().or_gap(&mut gaps);
        let (Some(mut spec), Some(capacities), Some(at), Some(cut), Some(spell)) =
            (spec, capacities, at, cut, spell)
        else {
            return Err(gaps);
        };
        let as_stated = (spec.bore, spec.cover);
        match state {
            State::HoseOn => spec.bore = Bore::Full,
            State::Uncovered => spec.cover = Micro::default(),
            State::AsItStands | State::PowerCut => {}
        }
        let is_as_stated = (spec.bore, spec.cover) == as_stated;
        let uncertainty = if is_as_stated { Uncertainty::Carried } else { Uncertainty::LeftOut };
        let solved = outlet.world().section(&spec, uncertainty);
        let solved = solved.map_err(|it| Gap::absent(own, it.to_string()))?;
        let room = match cut {
            Some((cut, constant)) => cooling(&spell, at.room, constant, cut),
            None => vec![[0.0, at.room]],
        };
        let cut = cut.map(|it| it.0);
        Ok(Self { outlet, spec, is_as_stated, capacities, solved, spell, room, cut })
    }

    /// How far outdoors would have to move at its coldest for the coldest water to move to the cold end of its band, not at
    /// all, and to the warm end, K.
    pub fn shifts(&self, own: Slot) -> Result<[f64; 3], Gap> {
        let carried = self.outlet.world().section(&self.spec, Uncertainty::Carried);
        let carried = carried.map_err(|it| Gap::absent(own, it.to_string()))?;
        Ok(self.shifts_to(carried.coldest_temperature(&self.coldest())))
    }

    /// The same for a band that no outlet's is wider than.
    fn widest_shifts(&self) -> [f64; 3] {
        let Solved { coldest_water, behind, .. } = &*self.solved;
        let end = |odds: f64| coldest_water.moved_by(odds, *behind).temperature(&self.coldest());
        self.shifts_to([-WIDEST, 0.0, WIDEST].map(end))
    }

    fn shifts_to(&self, [low, is, high]: [f64; 3]) -> [f64; 3] {
        let weight = (1.0 - self.solved.coldest_water.0).max(1e-3);
        [low - is, 0.0, high - is].map(|it| (it / weight).clamp(-MOST_SHIFT, MOST_SHIFT))
    }

    /// The coldest there is outdoors and in the room.
    fn coldest(&self) -> Boundary {
        let room = self.room.iter().map(|it| it[1]).fold(f64::INFINITY, f64::min);
        Boundary { outdoors: self.spell.coldest(), room }
    }

    /// Whether water stands out to the face by its kind.
    pub(super) fn closes_at_face(&self) -> bool {
        self.spec.seat_depth.si() <= 0.0
    }

    /// The uncertain input that by itself, at the better of its bounds, keeps all water from freezing for good at what it is
    /// outdoors before the spell: the one that warms the water most.
    pub(super) fn kept_clear_by(&self) -> Option<UncertainInput> {
        let at = Boundary { outdoors: self.spell.outdoors(0.0), room: self.coldest().room };
        let carried = self.outlet.world().section(&self.spec, Uncertainty::Carried).ok()?;
        let warmest = carried.varied.iter().map(|it| {
            let [a, b] = it.coldest.map(|share| share.temperature(&at));
            (it.input, a.max(b))
        });
        let best = warmest.max_by(|(_, a), (_, b)| a.total_cmp(b))?;
        (best.1 > ICE_POINT).then_some(best.0)
    }

    /// Outdoors in time with its lead below the room in proportion to a shift at the coldest, s and K.
    fn outdoors(&self, shift: f64) -> Vec<[f64; 2]> {
        let coldest = self.coldest();
        let lead = coldest.room - coldest.outdoors;
        let part = if lead > 0.0 { 1.0 - shift / lead } else { 1.0 };
        let mut knots = self.spell.knots().to_vec();
        // While the room cools, its own points count too.
        if let Some(cut) = self.cut {
            let cooling =
                self.room.iter().map(|it| it[0]).filter(|time| *time > cut.from && *time < cut.end());
            knots.extend(cooling.map(|time| [time, self.spell.outdoors(time)]));
            knots.sort_by(|a, b| a[0].total_cmp(&b[0]));
        }
        let room = |time: f64| interpolate(&self.room, time);
        knots.into_iter().map(|[time, kelvin]| [time, room(time) + part * (kelvin - room(time))]).collect()
    }

    /// Whether no water can freeze with outdoors shifted: what is warm enough at the coldest for good is so in time.
    fn stays_clear(&self, shift: f64) -> bool {
        let Boundary { outdoors, room } = self.coldest();
        let at = Boundary { outdoors: outdoors + shift, room };
        self.solved.coldest_water.temperature(&at) > ICE_POINT
    }

    /// The course with outdoors shifted; `None` if no water can freeze.
    pub fn course(&self, shift: f64, goal: Goal, own: Slot) -> Result<Option<Arc<Course>>, Gap> {
        if self.stays_clear(shift) {
            return Ok(None);
        }
        let course = self.outlet.world().course(&self.spec, &self.capacities, &self.weather(shift, goal));
        course.map(Some).map_err(|it| Gap::absent(own, it.to_string()))
    }

    /// The courses over the whole band, whether or not water can freeze.
    pub fn followed(&self, goal: Goal, own: Slot) -> Result<Followed, Gap> {
        let shifts = self.shifts(own)?;
        let (world, spec, capacities) = (self.outlet.world(), &self.spec, &self.capacities);
        let weathers = shifts.map(|shift| self.weather(shift, goal));
        let followed = weathers.par_iter().map(|weather| world.course(spec, capacities, weather));
        let courses = followed.collect::<Result<Vec<_>, _>>();
        let courses = courses.map_err(|it| Gap::absent(own, it.to_string()))?;
        let courses = courses.try_into().map_err(|_| Gap::missing(own))?;
        Ok(Followed {
            is_full: spec.bore == Bore::Full,
            is_covered: spec.cover != Micro::default(),
            courses,
            shifts,
        })
    }

    /// Whether ice blocks the tube, over the whole band; `None` if it does at one end only. Colder outdoors never lets it
    /// block later, so that what holds at the far end holds within: mostly one end tells.
    pub(super) fn blocks_over_band(&self, own: Slot) -> Result<Option<bool>, Gap> {
        if !self.is_as_stated {
            let [cold, _, warm] = self.widest_shifts();
            if self.stays_clear(cold) {
                return Ok(Some(false));
            }
            if self.blocks(warm, own)? {
                return Ok(Some(true));
            }
        }
        let [cold, _, warm] = self.shifts(own)?;
        if self.blocks(warm, own)? {
            return Ok(Some(true));
        }
        Ok((!self.blocks(cold, own)?).then_some(false))
    }

    /// Whether ice blocks the tube with outdoors shifted.
    fn blocks(&self, shift: f64, own: Slot) -> Result<bool, Gap> {
        if self.stays_clear(shift) {
            return Ok(false);
        }
        let weather = self.weather(shift, Goal::Blocked);
        let blocks = self.outlet.world().blocks(&self.spec, &self.capacities, &weather);
        blocks.map_err(|it| Gap::absent(own, it.to_string()))
    }

    /// The weather with outdoors moved by a shift at its coldest. What is uncertain is how much the outlet follows outdoors,
    /// not outdoors: all of outdoors' lead below the room grows or shrinks in one proportion. After the last row of a file nothing is known, and nothing is followed.
    pub fn weather(&self, shift: f64, goal: Goal) -> Weather {
        let (length, kind) = (self.spell.length(), self.spell.kind());
        let (over, end) = match self.cut {
            Some(cut) if !cut.returns => (cut.end(), cut.end()),
            _ if matches!(kind, SpellKind::Series { .. }) => (length, length),
            cut => {
                let lag = if matches!(kind, SpellKind::Typed { .. }) { LAG } else { 0.0 };
                let over = cut.map_or(0.0, |it| it.end()).max(length + lag);
                (over, over + THAW)
            }
        };
        Weather { outdoors: self.outdoors(shift), room: self.room.clone(), over, end, goal }
    }
}

/// The design spell of the job's climate.
pub fn design_spell(outlet: &Outlet<'_>, own: Slot) -> Result<Spell, Gap> {
    let defs = [SPELL_START, SPELL_LOW, SPELL_SWING, SPELL_DAYS];
    let mut gaps = Gap::default();
    let [start, low, swing, days] = defs.map(|def: &Def| outlet.number(def).or_gap(&mut gaps));
    let (Some(start), Some(low), Some(swing), Some(days)) = (start, low, swing, days) else {
        return Err(gaps);
    };
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 30, as read")]
    let days = (days / DAY).round() as u32;
    Spell::design(start, low, swing, days).map_err(|it| Gap::absent(own, it.to_string()))
}

/// What it is outdoors before a spell that somebody types, K.
pub fn spell_start(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    outlet.number(SPELL_START)
}

/// What the parts of an outlet hold.
fn capacities(outlet: &Outlet<'_>) -> Result<Capacities, Gap> {
    let mut gaps = Gap::default();
    let wall = wall(outlet).or_gap(&mut gaps);
    // Read so that the report lists what is assumed of it.
    let _ = outlet.word(STORAGE).or_gap(&mut gaps);
    let [barrel, stem, fitting, supply] = [BARREL, STEM, INLET_METAL, SUPPLY].map(|def: &Def| {
        let word = outlet.word(def).or_gap(&mut gaps);
        word.and_then(|word| materials::find(&word)).map(|it| Micro::of(it.heat_capacity()))
    });
    let (Some(wall), Some(barrel), Some(stem), Some(fitting), Some(supply)) =
        (wall, barrel, stem, fitting, supply)
    else {
        return Err(gaps);
    };
    let layers = wall.layers.iter().map(|it| Micro::of(it.heat_capacity)).collect();
    let sleeve = materials::find(SLEEVE).map_or(Micro::default(), |it| Micro::of(it.heat_capacity()));
    Ok(Capacities { layers, barrel, fitting, stem, supply, sleeve })
}
