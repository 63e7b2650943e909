//! One outlet's facts, worked out when they are first read; every gap and every used fact is recorded by reading.

use super::world::World;
use super::{Blank, CATALOGUE, Source, entry, slot};
use crate::diag::Location;
use crate::expr::{Gap, Reading, Readings, Slot, Value};
use crate::units::Quantity;
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A fact of an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// Its value, or why there is none.
    pub value: Reading,
    /// Where it comes from.
    pub origin: Origin,
}

/// Where a fact comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// The schedule: where, and as it stands there.
    Stated(Location, Arc<str>),
    /// An answer to a question: where, and as it stands there.
    Answered(Location, Arc<str>),
    /// Product data of the row's model: where, and as it stands there.
    Product(Location, Arc<str>),
    /// The job file: where, and as it stands there.
    Job(Location, Arc<str>),
    /// The climate's published figures.
    Published(Arc<str>),
    /// Assumed, for a reason.
    Assumed(Arc<str>),
    /// Supposed, to see what would settle a question, or given in a case.
    Supposed,
    /// Computed from other facts.
    Computed(BTreeSet<Slot>),
    /// A setting of the rules.
    Setting,
    /// A cell with a problem.
    Unreadable(Location, Arc<str>),
    /// Nobody said.
    Unknown,
}

impl Origin {
    /// What stands where somebody stated it.
    pub fn written(&self) -> Option<&Arc<str>> {
        match self {
            Self::Stated(_, text) | Self::Answered(_, text) | Self::Product(_, text) | Self::Job(_, text) => {
                Some(text)
            }
            _ => None,
        }
    }
}

impl Origin {
    /// Where it is stated.
    pub fn location_mut(&mut self) -> Option<&mut Location> {
        match self {
            Self::Stated(location, _)
            | Self::Answered(location, _)
            | Self::Product(location, _)
            | Self::Job(location, _)
            | Self::Unreadable(location, _) => Some(location),
            _ => None,
        }
    }
}

impl Fact {
    /// Nobody said.
    pub fn unknown(slot: Slot) -> Self {
        Self { value: Err(Gap::missing(slot)), origin: Origin::Unknown }
    }

    /// Assumed, for a reason.
    pub fn assumed(value: Value, why: impl Into<Arc<str>>) -> Self {
        Self { value: Ok(value), origin: Origin::Assumed(why.into()) }
    }
}

/// One outlet.
pub struct Outlet<'w> {
    world: &'w World,
    given: Vec<Option<Fact>>,
    memo: Vec<OnceCell<Fact>>,
    /// Facts read by the facts being worked out, innermost last.
    trail: RefCell<Vec<BTreeSet<Slot>>>,
}

impl<'w> Outlet<'w> {
    /// An outlet of which these facts are given; one entry per fact of the catalogue.
    pub(super) fn new(world: &'w World, mut given: Vec<Option<Fact>>) -> Self {
        // Settings and tables of the rules follow the facts.
        let rules = &world.job().rules;
        let slots = CATALOGUE.len() + rules.settings.len() + rules.tables.len();
        given.resize(slots, None);
        let memo = std::iter::repeat_with(OnceCell::new).take(slots).collect();
        Self { world, given, memo, trail: RefCell::default() }
    }

    /// What it stands in.
    pub fn world(&self) -> &'w World {
        self.world
    }

    /// The same outlet with some facts supposed.
    pub fn suppose(&self, supposed: &[(Slot, Value)]) -> Self {
        let mut given = self.given.clone();
        for (slot, value) in supposed {
            if let Some(place) = given.get_mut(usize::from(slot.0)) {
                *place = Some(Fact { value: Ok(value.clone()), origin: Origin::Supposed });
            }
        }
        Self::new(self.world, given)
    }

    /// A fact, worked out when first asked for.
    pub fn fact(&self, slot: Slot) -> Fact {
        self.read(slot).cloned().unwrap_or_else(|| Fact::unknown(slot))
    }

    /// A fact, setting or table, worked out when first asked for.
    fn read(&self, slot: Slot) -> Option<&Fact> {
        if let Some(top) = self.trail.borrow_mut().last_mut() {
            top.insert(slot);
        }
        Some(self.memo.get(usize::from(slot.0))?.get_or_init(|| self.traced(slot).0))
    }

    /// A setting or a table of the rules.
    fn of_rules(&self, slot: Slot) -> Fact {
        let rules = &self.world.job().rules;
        if let Some(setting) = rules.setting(slot) {
            return Fact { value: Ok(setting.value.clone()), origin: Origin::Setting };
        }
        let Some(table) = rules.table(slot) else { return Fact::unknown(slot) };
        let value = table.look_up(&|key| self.get(key).cloned());
        Fact { value, origin: Origin::Computed(self.used_so_far()) }
    }

    /// What has been read for the fact that is being worked out.
    fn used_so_far(&self) -> BTreeSet<Slot> {
        self.trail.borrow().last().cloned().unwrap_or_default()
    }

    /// The facts that have been worked out so far, in the order of the catalogue.
    pub fn known_so_far(&self) -> Vec<(Slot, Fact)> {
        let numbered = self.memo.iter().take(CATALOGUE.len()).zip(0..);
        numbered.filter_map(|(cell, number)| Some((Slot(number), cell.get()?.clone()))).collect()
    }

    /// What working a fact out reads, facts and settings; nothing of a fact that is given.
    pub fn reads(&self, slot: Slot) -> BTreeSet<Slot> {
        Self::new(self.world, self.given.clone()).traced(slot).1
    }

    /// A fact and everything that was read for it, and for no other fact.
    fn traced(&self, slot: Slot) -> (Fact, BTreeSet<Slot>) {
        self.trail.borrow_mut().push(BTreeSet::new());
        let fact = self.work_out(slot);
        let used = self.trail.borrow_mut().pop().unwrap_or_default();
        (fact, used)
    }

    fn work_out(&self, slot: Slot) -> Fact {
        if let Some(Some(fact)) = self.given.get(usize::from(slot.0)) {
            return fact.clone();
        }
        let Some(entry) = entry(slot) else { return self.of_rules(slot) };
        match &entry.def.source {
            Source::Stated { blank: Blank::Unknown, .. } => Fact::unknown(slot),
            Source::Stated { blank: Blank::Assume(assume), .. } => match assume(self) {
                Ok(Some((value, why))) => Fact::assumed(value, why),
                Ok(None) => Fact::unknown(slot),
                Err(gap) => Fact { value: Err(gap), origin: Origin::Unknown },
            },
            Source::Found(_, find) => find(self, slot),
            Source::Computed(_, compute) => {
                let value = compute(self, slot);
                Fact { value, origin: Origin::Computed(self.used_so_far()) }
            }
        }
    }

    /// The value of a fact by name.
    pub(super) fn value(&self, name: &str) -> Reading {
        self.get(slot(name)).cloned()
    }

    /// A quantity's value used, SI.
    pub(super) fn number(&self, name: &str) -> Result<f64, Gap> {
        self.quantity(name).map(|it| it.is)
    }

    /// A quantity with its band.
    pub(super) fn quantity(&self, name: &str) -> Result<Quantity, Gap> {
        match self.get(slot(name))? {
            Value::Quantity(quantity) => Ok(*quantity),
            Value::Text(_) | Value::YesNo(_) | Value::List(_) => Err(Gap::missing(slot(name))),
        }
    }

    /// A setting of the rules, SI; `own` is the fact asked for.
    pub(super) fn setting(&self, own: Slot, name: &str) -> Result<f64, Gap> {
        let setting = self.world.job().rules.setting_named(name);
        let setting = setting.ok_or_else(|| Gap::absent(own, format!("the rules have no setting {name}")))?;
        match self.get(setting.slot)? {
            Value::Quantity(it) => Ok(it.is),
            _ => Err(Gap::absent(own, format!("the setting {name} is not a quantity"))),
        }
    }

    /// A word or text.
    pub(super) fn word(&self, name: &str) -> Result<Arc<str>, Gap> {
        match self.get(slot(name))? {
            Value::Text(word) => Ok(word.clone()),
            Value::Quantity(_) | Value::YesNo(_) | Value::List(_) => Err(Gap::missing(slot(name))),
        }
    }

    /// Whether a fact is assumed rather than stated.
    pub(super) fn is_assumed(&self, name: &str) -> bool {
        matches!(self.read(slot(name)), Some(Fact { origin: Origin::Assumed(_), .. }))
    }
}

impl Readings for Outlet<'_> {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        self.read(slot)
            .map_or_else(|| Err(Gap::missing(slot)), |fact| fact.value.as_ref().map_err(Gap::clone))
    }

    fn stated(&self, slot: Slot) -> bool {
        // A cell that cannot be read is stated all the same: what it says is unknown, not blank.
        matches!(
            self.read(slot).map(|it| &it.origin),
            Some(
                Origin::Stated(..)
                    | Origin::Answered(..)
                    | Origin::Product(..)
                    | Origin::Job(..)
                    | Origin::Supposed
                    | Origin::Unreadable(..)
            )
        )
    }
}

/// Collects what several readings lack, so that all of it is asked for at once.
pub(super) trait OrGap<T> {
    /// The value, or nothing with its gap taken in.
    fn or_gap(self, gaps: &mut Gap) -> Option<T>;
}

impl<T> OrGap<T> for Result<T, Gap> {
    fn or_gap(self, gaps: &mut Gap) -> Option<T> {
        self.map_err(|gap| crate::truth::Reason::absorb(gaps, gap)).ok()
    }
}
