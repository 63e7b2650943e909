//! Facts of one outlet, computed on first use. Records which facts each one read.

use super::def::{Blank, Catalogue, Def, Source};
use super::world::World;
use crate::diag::Location;
use crate::expr::{Gap, Slot, Value, ValueOrGap, Values};
use crate::job::JobFigure;
use crate::truth::Reason;
use crate::units::Quantity;
use std::cell::{OnceCell, RefCell};
use std::collections::BTreeSet;
use std::sync::Arc;

/// A fact of an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Fact {
    /// Its value, or why there is none.
    pub value: ValueOrGap,
    /// Where it comes from.
    pub origin: Origin,
}

/// Where a fact of an outlet comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// The schedule: location and original text.
    Stated(Location, Arc<str>),
    /// An answer to a question: location and original text.
    Answered(Location, Arc<str>),
    /// Product data of the row's model: location and original text.
    Product(Location, Arc<str>),
    /// The job file: location and original text.
    Job(Location, Arc<str>),
    /// The climate's published figures.
    Published(Arc<str>),
    /// Assumed, for a reason.
    Assumed(Arc<str>),
    /// Supposed in a trial, to find out what an answer would decide, or given in a test case of a rule.
    Supposed,
    /// Computed from other facts.
    Computed(BTreeSet<Slot>),
    /// A setting of the rules.
    Setting,
    /// A cell with an error.
    Unreadable(Location, Arc<str>),
    /// Not stated.
    Unknown,
}

impl Origin {
    /// The original text, if it is stated.
    pub fn written(&self) -> Option<&Arc<str>> {
        match self {
            Self::Stated(_, text) | Self::Answered(_, text) | Self::Product(_, text) | Self::Job(_, text) => {
                Some(text)
            }
            _ => None,
        }
    }

    /// The location of the cell or key that states it.
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
    /// A fact that nobody states.
    pub fn unknown(slot: Slot) -> Self {
        Self { value: Err(Gap::missing(slot)), origin: Origin::Unknown }
    }

    /// An assumed fact.
    pub fn assumed(value: Value, why: impl Into<Arc<str>>) -> Self {
        Self { value: Ok(value), origin: Origin::Assumed(why.into()) }
    }
}

/// One outlet.
pub struct Outlet<'w> {
    world: &'w World,
    catalogue: &'static Catalogue,
    /// Facts that are not computed, by slot.
    given: Vec<Option<Fact>>,
    /// Facts computed so far, each with what computing it read.
    memo: Vec<OnceCell<(Fact, BTreeSet<Slot>)>>,
    /// Facts being computed, innermost last, each with what it has read so far.
    trail: RefCell<Vec<(Slot, BTreeSet<Slot>)>>,
    interval: Interval,
}

/// How the uncertainty of the seat temperature is computed, which takes most of the time of a review.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Interval {
    /// As its 95 % interval.
    Computed,
    /// Not at all: a rule that the best estimate breaks is no pass with the interval either.
    LeftOut,
    /// As the widest that its interval can be: a rule decided with it is decided, but for one section in many thousands; what
    /// a search finds with it is proved with the interval itself.
    Widest,
    /// As the narrowest that its interval can be: a comparison too close to call with it is too close to call.
    Narrowest,
}

impl<'w> Outlet<'w> {
    /// An outlet with some facts given; one entry per fact of the catalogue.
    pub(super) fn new(world: &'w World, catalogue: &'static Catalogue, mut given: Vec<Option<Fact>>) -> Self {
        // Settings and tables of the rules follow the facts.
        let rules = &world.job().rules;
        let slots = catalogue.len() + rules.settings.len() + rules.tables.len();
        given.resize(slots, None);
        let memo = std::iter::repeat_with(OnceCell::new).take(slots).collect();
        Self { world, catalogue, given, memo, trail: RefCell::default(), interval: Interval::Computed }
    }

    /// The job and what has been solved for it.
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
        let outlet = Self::new(self.world, self.catalogue, given);
        // A gap of this outlet belongs to the fact whose computation supposed it.
        outlet.trail.borrow_mut().push((self.current(), BTreeSet::new()));
        outlet
    }

    /// The same outlet with another interval of its seat temperature.
    pub fn with_interval(&self, interval: Interval) -> Self {
        Self { interval, ..self.suppose(&[]) }
    }

    /// How the uncertainty of its seat temperature is computed.
    pub(super) fn interval(&self) -> Interval {
        self.interval
    }

    /// A fact, computed on first use.
    pub fn fact(&self, slot: Slot) -> Fact {
        self.read(slot).cloned().unwrap_or_else(|| Fact::unknown(slot))
    }

    /// A fact, setting or table, computed on first use.
    fn read(&self, slot: Slot) -> Option<&Fact> {
        if let Some((_, reads)) = self.trail.borrow_mut().last_mut() {
            reads.insert(slot);
        }
        Some(&self.memo.get(usize::from(slot.0))?.get_or_init(|| self.traced(slot)).0)
    }

    /// The facts computed so far, in the order of the catalogue.
    pub fn known_so_far(&self) -> Vec<(Slot, Fact)> {
        let numbered = self.memo.iter().take(self.catalogue.len()).zip(0..);
        numbered.filter_map(|(cell, number)| Some((Slot(number), cell.get()?.0.clone()))).collect()
    }

    /// The slots that a fact, setting or table read when it was computed; none if it was not computed.
    pub fn read_for(&self, slot: Slot) -> impl Iterator<Item = Slot> {
        let computed = self.memo.get(usize::from(slot.0)).and_then(OnceCell::get);
        computed.into_iter().flat_map(|(_, reads)| reads.iter().copied())
    }

    /// The facts and settings that computing a fact reads; none if the fact is given.
    pub fn reads(&self, slot: Slot) -> BTreeSet<Slot> {
        Self::new(self.world, self.catalogue, self.given.clone()).traced(slot).1
    }

    /// A fact, and every slot that computing it read.
    fn traced(&self, slot: Slot) -> (Fact, BTreeSet<Slot>) {
        self.trail.borrow_mut().push((slot, BTreeSet::new()));
        let fact = self.compute(slot);
        let (_, reads) = self.trail.borrow_mut().pop().unwrap_or_else(|| (slot, BTreeSet::new()));
        (fact, reads)
    }

    fn compute(&self, slot: Slot) -> Fact {
        if let Some(Some(fact)) = self.given.get(usize::from(slot.0)) {
            return fact.clone();
        }
        let Some(entry) = self.catalogue.get(usize::from(slot.0)) else { return self.of_rules(slot) };
        let found = match &entry.def.source {
            Source::Stated { blank: Blank::Unknown, .. } => Ok(None),
            Source::Stated { blank: Blank::Assume(assume), .. } => {
                assume(self).map(|assumed| assumed.map(|(value, why)| Fact::assumed(value, why)))
            }
            Source::Found(_, find) => find(self).map(Some),
            Source::Computed(_, compute) => {
                let value = compute(self);
                Ok(Some(Fact { value, origin: self.computed() }))
            }
        };
        match found {
            Ok(fact) => fact.unwrap_or_else(|| Fact::unknown(slot)),
            Err(gap) => Fact { value: Err(gap), origin: Origin::Unknown },
        }
    }

    /// A setting or a table of the rules.
    fn of_rules(&self, slot: Slot) -> Fact {
        let rules = &self.world.job().rules;
        if let Some(setting) = rules.setting(slot) {
            return Fact { value: Ok(setting.value.clone()), origin: Origin::Setting };
        }
        let Some(table) = rules.table(slot) else { return Fact::unknown(slot) };
        let value = table.look_up(&|key| self.get(key).cloned());
        Fact { value, origin: self.computed() }
    }

    /// The slot of the fact that is being computed.
    pub(super) fn current(&self) -> Slot {
        self.trail.borrow().last().map_or(Slot(u16::MAX), |(slot, _)| *slot)
    }

    /// The origin of a fact computed from what has been read for it.
    pub(super) fn computed(&self) -> Origin {
        Origin::Computed(self.trail.borrow().last().map(|(_, reads)| reads.clone()).unwrap_or_default())
    }

    /// The slot of a declared fact.
    pub(super) fn slot(&self, def: &Def) -> Slot {
        self.catalogue.slot(def)
    }

    /// The gap of a missing fact.
    pub(super) fn missing(&self, def: &Def) -> Gap {
        Gap::missing(self.slot(def))
    }

    /// The gap of the fact that is being computed, which has no value for this reason.
    pub(super) fn absent(&self, why: impl ToString) -> Gap {
        Gap::absent(self.current(), why.to_string())
    }

    /// The fact that is being computed, unknown because nobody states it.
    pub(super) fn unknown(&self) -> Fact {
        Fact::unknown(self.current())
    }

    /// The fact that is being computed, as a figure that the job states; unknown if it does not.
    pub(super) fn of_job(&self, figure: Option<&JobFigure>, quantity: impl Fn(f64) -> Quantity) -> Fact {
        figure.map_or_else(
            || self.unknown(),
            |figure| Fact {
                value: Ok(Value::Quantity(quantity(figure.value))),
                origin: Origin::Job(figure.location.clone(), figure.text.clone()),
            },
        )
    }

    /// The fact that is being computed, as a word that the job states.
    pub(super) fn word_of_job((word, location): &(&'static str, Location)) -> Fact {
        let origin = Origin::Job(location.clone(), (*word).into());
        Fact { value: Ok(Value::Text((*word).into())), origin }
    }

    /// A declared fact with its origin.
    pub(super) fn get_fact(&self, def: &Def) -> Fact {
        self.fact(self.slot(def))
    }

    /// The value of a declared fact.
    pub(super) fn value(&self, def: &Def) -> ValueOrGap {
        self.get(self.slot(def)).cloned()
    }

    /// The best estimate of a quantity, SI.
    pub(super) fn number(&self, def: &Def) -> Result<f64, Gap> {
        self.quantity(def).map(|it| it.is)
    }

    /// A quantity with its band.
    pub(super) fn quantity(&self, def: &Def) -> Result<Quantity, Gap> {
        match self.get(self.slot(def))? {
            Value::Quantity(quantity) => Ok(*quantity),
            _ => Err(self.missing(def)),
        }
    }

    /// A quantity with its band, if it is known.
    pub fn known_quantity(&self, slot: Slot) -> Option<Quantity> {
        match self.get(slot) {
            Ok(Value::Quantity(quantity)) => Some(*quantity),
            _ => None,
        }
    }

    /// A word or text.
    pub(super) fn word(&self, def: &Def) -> Result<Arc<str>, Gap> {
        match self.get(self.slot(def))? {
            Value::Text(word) => Ok(word.clone()),
            _ => Err(self.missing(def)),
        }
    }

    /// A yes or no.
    pub(super) fn yes_no(&self, def: &Def) -> Result<bool, Gap> {
        match self.get(self.slot(def))? {
            Value::YesNo(yes) => Ok(*yes),
            _ => Err(self.missing(def)),
        }
    }

    /// A setting of the rules, SI.
    pub(super) fn setting(&self, name: &str) -> Result<f64, Gap> {
        let setting = self.world.job().rules.setting_named(name);
        let setting = setting.ok_or_else(|| self.absent(format!("the rules have no setting {name}")))?;
        match self.get(setting.slot)? {
            Value::Quantity(quantity) => Ok(quantity.is),
            _ => Err(self.absent(format!("the setting {name} is not a quantity"))),
        }
    }

    /// Whether a fact is assumed rather than stated.
    pub(super) fn is_assumed(&self, def: &Def) -> bool {
        matches!(self.read(self.slot(def)), Some(Fact { origin: Origin::Assumed(_), .. }))
    }
}

impl Values for Outlet<'_> {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        self.read(slot)
            .map_or_else(|| Err(Gap::missing(slot)), |fact| fact.value.as_ref().map_err(Gap::clone))
    }

    fn is_stated(&self, slot: Slot) -> bool {
        // A cell with an error is not blank: it states something unknown.
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

/// A result whose gap can be collected with those of others, so that everything missing is asked for at once.
pub(super) trait OrGap<T> {
    /// The value, or `None` after adding its gap to the others.
    fn or_gap(self, gaps: &mut Gap) -> Option<T>;
}

impl<T> OrGap<T> for Result<T, Gap> {
    fn or_gap(self, gaps: &mut Gap) -> Option<T> {
        self.map_err(|gap| gaps.absorb(gap)).ok()
    }
}

/// Several results as one: all values, or all gaps together.
pub(super) trait All {
    /// All values.
    type Values;
    /// All values, or all gaps together.
    fn all(self) -> Result<Self::Values, Gap>;
}

macro_rules! all {
    ($($value:ident: $type:ident),*) => {
        impl<$($type),*> All for ($(Result<$type, Gap>,)*) {
            type Values = ($($type,)*);

            fn all(self) -> Result<Self::Values, Gap> {
                let mut gaps = Gap::default();
                let ($($value,)*) = self;
                $(let $value = $value.or_gap(&mut gaps);)*
                if let ($(Some($value),)*) = ($($value,)*) { Ok(($($value,)*)) } else { Err(gaps) }
            }
        }
    };
}
all!(a: A, b: B);
all!(a: A, b: B, c: C);
all!(a: A, b: B, c: C, d: D);
all!(a: A, b: B, c: C, d: D, e: E);
