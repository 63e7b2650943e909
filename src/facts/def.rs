//! Declarations of facts: plain data, one declaration per fact. The catalogue, the vocabulary of schedules, the
//! questions, the page of `coldsill facts` and the JSON Schemas are all made from them.

use super::outlet::{Fact, Outlet};
use crate::climate::LOW;
use crate::expr::{Gap, Slot, Type, Value, ValueOrGap};
use crate::job::Scope;
use crate::schedule::CellType;
use crate::units::{Dim, Measure, Rounding, Show};
use std::collections::BTreeMap;
use std::sync::Arc;

/// A fact: what it is, where its value comes from, how it is printed.
pub struct Def {
    /// `topic.fact`, as rules name it.
    pub name: &'static str,
    /// What it is.
    pub about: &'static str,
    /// What people call it, if neither a heading nor its name in words.
    pub label: Option<&'static str>,
    /// Where its value comes from.
    pub source: Source,
    /// Values to try while it is missing.
    pub plausible: PlausibleValues,
    /// How it is printed, if not the usual way of its measure.
    pub show: Option<Show>,
    /// Keys of a job file that it is taken from, apart from its headings under `defaults`: `authority: frost_depth`.
    pub job_keys: &'static [&'static str],
}

/// Where the value of a fact comes from.
pub enum Source {
    /// A column of the schedule, an answer, product data or a default of the job.
    Stated {
        /// Headings of its column; people are shown the first.
        headings: &'static [&'static str],
        /// How a cell is read.
        reads: CellType,
        /// What it describes.
        scope: Scope,
        /// The question that asks for it, and an example of an answer if the answer is not one of a few words.
        question: Option<(&'static str, Option<&'static str>)>,
        /// What happens if nobody states it.
        blank: Blank,
        /// Which end of a stated range calculations use.
        range: RangeEnd,
    },
    /// The job, the climate or the space, each with its own origin.
    Found(FactType, fn(&Outlet<'_>) -> Result<Fact, Gap>),
    /// A calculation.
    Computed(FactType, Compute),
}

/// Computes a fact from other facts of the outlet.
pub type Compute = fn(&Outlet<'_>) -> ValueOrGap;

/// The type of a fact that is not stated.
#[derive(Clone, Copy, Debug)]
pub enum FactType {
    /// A quantity of one measure.
    Quantity(Measure),
    /// Any text.
    Text,
    /// Yes or no.
    YesNo,
    /// One of these words.
    OneOf(&'static [&'static str]),
}

/// What happens if nobody states a fact.
pub enum Blank {
    /// It stays unknown.
    Unknown,
    /// A value is assumed, with a reason, if one can be.
    Assume(fn(&Outlet<'_>) -> Assumed),
}

/// An assumed value with the reason, `None` if no value can be assumed, or what the assumption still needs.
pub type Assumed = Result<Option<(Value, &'static str)>, Gap>;

/// Which end of a stated range or tolerance calculations use, and why. Rules compare with the whole range.
#[derive(Clone, Copy)]
pub enum RangeEnd {
    /// Either end may be the worse one: a range leaves the fact unknown to calculations.
    Neither,
    /// The lower end.
    Low(&'static str),
    /// The upper end.
    High(&'static str),
}

/// Values to try while a fact is missing, to find out whether it matters.
pub enum PlausibleValues {
    /// No list can be made.
    NoList,
    /// Every word, or yes and no.
    All,
    /// Every word; only these extremes if there are too many combinations.
    AllOrExtremes(&'static [&'static str]),
    /// The two extremes first and last, perhaps with values between them: other values follow from the extremes.
    Extremes(fn() -> Vec<Value>),
    /// Common values only: they can reveal a problem but never rule one out.
    Common(fn() -> Vec<Value>),
}

/// Declares the facts of a topic: a constant for each, and `FACTS`, the list of all of them.
macro_rules! facts {
    ($($id:ident = $def:expr;)*) => {
        $(pub(crate) const $id: &$crate::facts::def::Def = &$def;)*
        pub(super) const FACTS: &[&$crate::facts::def::Def] = &[$($id),*];
    };
}
pub(super) use facts;

pub(super) use crate::units::{DAY, HOUR, INCH};

/// One foot, m.
pub(super) const FOOT: f64 = 0.3048;

pub(super) const LENGTH: Measure = Measure::Of(Dim::LENGTH);
pub(super) const RATIO: Measure = Measure::Of(Dim::NONE);
pub(super) const TIME: Measure = Measure::Of(Dim::TIME);
pub(super) const VOLUME: Measure = Measure::Of(Dim::VOLUME);
pub(super) const PRESSURE: Measure = Measure::Of(Dim::PRESSURE);
pub(super) const VOLTAGE: Measure = Measure::Of(Dim::VOLTAGE);
pub(super) const TEMPERATURE: Measure = Measure::Temperature;

/// A fact that a schedule states, unknown if blank.
pub(super) const fn stated(name: &'static str, about: &'static str, reads: CellType) -> Def {
    let source = Source::Stated {
        headings: &[],
        reads,
        scope: Scope::Outlet,
        question: None,
        blank: Blank::Unknown,
        range: RangeEnd::Neither,
    };
    Def::new(name, about, source)
}

/// A stated length within a range, in inches.
pub(super) const fn stated_length(name: &'static str, about: &'static str, range: [f64; 2]) -> Def {
    let [least, most] = [range[0] * INCH, range[1] * INCH];
    let reads = CellType::Quantity { measure: LENGTH, least, most, none: false };
    stated(name, about, reads).show(("in", 3), ("mm", 1), Rounding::Nearest)
}

/// A stated thickness up to some inches; "none" is zero.
pub(super) const fn stated_thickness(name: &'static str, about: &'static str, most: f64) -> Def {
    let reads = CellType::Quantity { measure: LENGTH, least: 0.0, most: most * INCH, none: true };
    stated(name, about, reads).show(("in", 3), ("mm", 1), Rounding::Nearest)
}

/// A stated yes or no.
pub(super) const fn stated_yes_no(name: &'static str, about: &'static str) -> Def {
    stated(name, about, CellType::YesNo).plausible(PlausibleValues::All)
}

/// A stated word out of a list.
pub(super) const fn stated_word(
    name: &'static str,
    about: &'static str,
    words: &'static [(&'static str, &'static [&'static str])],
) -> Def {
    stated(name, about, CellType::Words(words)).plausible(PlausibleValues::All)
}

/// A fact that the job, the climate or the space gives.
pub(super) const fn found(
    name: &'static str,
    about: &'static str,
    fact_type: FactType,
    find: fn(&Outlet<'_>) -> Result<Fact, Gap>,
) -> Def {
    Def::new(name, about, Source::Found(fact_type, find))
}

/// A computed fact.
pub(super) const fn computed(
    name: &'static str,
    about: &'static str,
    fact_type: FactType,
    compute: Compute,
) -> Def {
    Def::new(name, about, Source::Computed(fact_type, compute))
}

/// A computed yes or no.
pub(super) const fn computed_yes_no(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed(name, about, FactType::YesNo, compute)
}

/// A computed quantity.
pub(super) const fn computed_quantity(
    name: &'static str,
    about: &'static str,
    measure: Measure,
    compute: Compute,
) -> Def {
    computed(name, about, FactType::Quantity(measure), compute)
}

impl Def {
    const fn new(name: &'static str, about: &'static str, source: Source) -> Self {
        Self {
            name,
            about,
            label: None,
            source,
            plausible: PlausibleValues::NoList,
            show: None,
            job_keys: &[],
        }
    }

    pub(super) const fn headings(mut self, list: &'static [&'static str]) -> Self {
        if let Source::Stated { headings, .. } = &mut self.source {
            *headings = list;
        }
        self
    }

    pub(super) const fn scope(mut self, of: Scope) -> Self {
        if let Source::Stated { scope, .. } = &mut self.source {
            *scope = of;
        }
        self
    }

    /// The question of a fact with few possible answers.
    pub(super) const fn question(mut self, sentence: &'static str) -> Self {
        if let Source::Stated { question, .. } = &mut self.source {
            *question = Some((sentence, None));
        }
        self
    }

    /// The question, with an example of an answer.
    pub(super) const fn question_such_as(mut self, sentence: &'static str, example: &'static str) -> Self {
        if let Source::Stated { question, .. } = &mut self.source {
            *question = Some((sentence, Some(example)));
        }
        self
    }

    pub(super) const fn assume(mut self, assume: fn(&Outlet<'_>) -> Assumed) -> Self {
        if let Source::Stated { blank, .. } = &mut self.source {
            *blank = Blank::Assume(assume);
        }
        self
    }

    pub(super) const fn range(mut self, end: RangeEnd) -> Self {
        if let Source::Stated { range, .. } = &mut self.source {
            *range = end;
        }
        self
    }

    pub(super) const fn plausible(mut self, values: PlausibleValues) -> Self {
        self.plausible = values;
        self
    }

    pub(super) const fn label(mut self, label: &'static str) -> Self {
        self.label = Some(label);
        self
    }

    pub(super) const fn job_keys(mut self, keys: &'static [&'static str]) -> Self {
        self.job_keys = keys;
        self
    }

    pub(super) const fn show(
        mut self,
        us: (&'static str, usize),
        si: (&'static str, usize),
        side: Rounding,
    ) -> Self {
        self.show = Some(Show::new(us, si, side));
        self
    }

    /// Printed as every low is.
    pub(super) const fn low(mut self) -> Self {
        self.show = Some(LOW);
        self
    }

    /// What a stated fact describes.
    pub fn stated_scope(&self) -> Option<Scope> {
        match self.source {
            Source::Stated { scope, .. } => Some(scope),
            Source::Found(..) | Source::Computed(..) => None,
        }
    }

    /// Whether it tells outlets apart rather than what they are.
    pub fn is_identity(&self) -> bool {
        self.stated_scope().is_some_and(Scope::is_identity)
    }

    /// Why calculations use one end of a stated range, if they do.
    pub fn range_note(&self) -> Option<&'static str> {
        match self.source {
            Source::Stated { range: RangeEnd::Low(why) | RangeEnd::High(why), .. } => Some(why),
            _ => None,
        }
    }

    fn fact_type(&self) -> Type {
        match self.source {
            Source::Stated { reads: CellType::Words(words), .. } => {
                // The catalogue is made once and lives as long as the program.
                let words: Vec<&'static str> = words.iter().map(|(word, _)| *word).collect();
                Type::OneOf(words.leak())
            }
            Source::Stated { reads: CellType::Quantity { measure, .. }, .. } => Type::Quantity(measure),
            Source::Stated { reads: CellType::Count, .. } => Type::Quantity(RATIO),
            Source::Stated { reads: CellType::Text, .. } => Type::Text,
            Source::Stated { reads: CellType::YesNo, .. } => Type::YesNo,
            Source::Found(fact_type, _) | Source::Computed(fact_type, _) => match fact_type {
                FactType::Quantity(measure) => Type::Quantity(measure),
                FactType::Text => Type::Text,
                FactType::YesNo => Type::YesNo,
                FactType::OneOf(words) => Type::OneOf(words),
            },
        }
    }

    fn heading(&self) -> Arc<str> {
        if let Source::Stated { headings: [first, ..], .. } = self.source {
            return (*first).into();
        }
        let in_words = || self.name.rsplit('.').next().unwrap_or(self.name).replace('_', " ");
        crate::diag::capital(&self.label.map_or_else(in_words, str::to_owned)).into()
    }
}

/// A fact of the catalogue with its type.
pub struct Entry {
    /// The declaration.
    pub def: &'static Def,
    /// Its type.
    pub ty: Type,
    /// Its name; a long schedule prints it many times.
    pub name: Arc<str>,
    /// What people call it: its first heading, its label, or its name in words.
    pub heading: Arc<str>,
}

/// Declared facts by slot and by name; the index of a fact is its slot.
pub struct Catalogue {
    entries: Vec<Entry>,
    slots: BTreeMap<&'static str, Slot>,
}

impl Catalogue {
    /// The catalogue of some topics, in their order.
    pub(super) fn of(topics: &[&[&'static Def]]) -> Self {
        let entries = topics.iter().copied().flatten().map(|def| Entry {
            def,
            ty: def.fact_type(),
            name: def.name.into(),
            heading: def.heading(),
        });
        let entries: Vec<Entry> = entries.collect();
        let slots = entries.iter().zip(0..).map(|(entry, number)| (entry.def.name, Slot(number))).collect();
        Self { entries, slots }
    }

    /// The slot of a name.
    pub(super) fn find(&self, name: &str) -> Option<Slot> {
        self.slots.get(name).copied()
    }

    /// The slot of a declared fact. All facts of a topic are in its list, so that each has one.
    pub(super) fn slot(&self, def: &Def) -> Slot {
        self.find(def.name).unwrap_or(Slot(u16::MAX))
    }
}

impl std::ops::Deref for Catalogue {
    type Target = [Entry];

    fn deref(&self) -> &[Entry] {
        &self.entries
    }
}
