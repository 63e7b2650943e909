//! The one catalogue of facts: what a schedule or job can state, what is assumed where it is silent, and what is
//! computed. A file per topic; one entry per fact.

mod backflow;
mod burst;
mod detail;
mod drain;
mod energy;
mod heat;
mod hydrant;
mod ice;
mod metals;
mod outlet;
mod piping;
mod questions;
mod reading;
mod section_of;
mod sheet;
mod site;
mod space;
mod space_in_doubt;
mod spell;
mod sweat;
mod uses;
mod words;
mod world;
mod worse_end;

pub use crate::job::SHEET_HEADINGS;
pub use questions::{Asked, asked, of_the_place};
pub use reading::{Fact, Origin, Outlet};
pub use section_of::OUTDOOR_FILM;
pub use sheet::{ON_SHEET, SectionSheet, section_sheet};
pub use spell::{Case, Followed, HeatOut, State, design_spell, spell_start};
pub use uses::{job_keys, reads_of};
pub use world::{Presets, Solves, Sources, World, open, open_rules, open_rules_with, open_to_read};
pub use worse_end::worse_end;

use crate::expr::{Gap, Names, Reading, Slot, Type, Value};
use crate::schedule::{Reads, Term};
use crate::units::{Dim, Measure, Rounding, Show};
use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

/// An entry of the catalogue.
pub struct Def {
    /// `topic.fact`.
    pub name: &'static str,
    /// What it is.
    pub about: &'static str,
    /// Where it comes from.
    pub source: Source,
    /// What it might plausibly be where nobody says.
    pub answers: Answers,
    /// How it is printed, where not the usual way of its measure.
    pub show: Option<Show>,
}

/// Where a fact comes from.
pub enum Source {
    /// A column of the schedule, or a default of the job.
    Stated {
        /// Headings, the first the one people are shown.
        headings: &'static [&'static str],
        /// How a cell is read.
        reads: Reads,
        /// What is done with a blank.
        blank: Blank,
    },
    /// The job, the climate or the space, each with its own origin.
    Found(Kind, fn(&Outlet<'_>, Slot) -> Fact),
    /// A calculation.
    Computed(Kind, Compute),
}

/// The type of a fact that is not stated.
#[derive(Clone, Copy, Debug)]
pub enum Kind {
    /// A quantity of one measure.
    Quantity(Measure),
    /// Any text.
    Text,
    /// Yes or no.
    YesNo,
    /// One of these words.
    OneOf(&'static [&'static str]),
}

/// What is done where a stated fact is blank.
pub enum Blank {
    /// It stays unknown.
    Unknown,
    /// A value and the reason for it, where one can be assumed.
    Assume(fn(&Outlet<'_>) -> Assumed),
}

/// A value and why it is taken, nothing where none can be, or what that waits for.
pub type Assumed = Result<Option<(Value, &'static str)>, Gap>;

/// What a fact might plausibly be.
pub enum Answers {
    /// No list can be made.
    Open,
    /// All its words, or yes and no: there is nothing else it could be.
    All,
    /// All its words; and the best and the worst of them, where all would be too many to try.
    AllOrBracket(&'static [&'static str]),
    /// The best and the worst there are, first and last, perhaps with some between; what lies between follows.
    Bracket(fn() -> Vec<Value>),
    /// Usual ones, from one end to the other. There are others, so that they can show a problem but not that there is
    /// none.
    Common(fn() -> Vec<Value>),
}

/// A fact of the catalogue with its type.
pub struct Entry {
    /// The definition.
    pub def: &'static Def,
    /// Its type.
    pub ty: Type,
}

/// Every fact, topic by topic; a fact's index is its slot.
pub static CATALOGUE: LazyLock<Vec<Entry>> = LazyLock::new(|| {
    let topics = [
        outlet::DEFS,
        site::DEFS,
        space::DEFS,
        heat::DEFS,
        ice::DEFS,
        drain::DEFS,
        metals::DEFS,
        piping::DEFS,
        backflow::DEFS,
        burst::DEFS,
        sweat::DEFS,
        energy::DEFS,
        detail::DEFS,
        hydrant::DEFS,
    ];
    topics.into_iter().flatten().map(|def| Entry { def, ty: type_of(def) }).collect()
});

static SLOTS: LazyLock<BTreeMap<&'static str, Slot>> = LazyLock::new(|| {
    let numbered = CATALOGUE.iter().zip(0..).map(|(entry, number)| (entry.def.name, Slot(number)));
    numbered.collect()
});

/// The terms a schedule may use, each with the slot of its fact.
pub static VOCABULARY: LazyLock<(Vec<Term>, Vec<Slot>)> = LazyLock::new(|| {
    let stated = CATALOGUE.iter().zip(0..).filter_map(|(entry, number)| match entry.def.source {
        Source::Stated { headings, reads, .. } => {
            Some((Term { fact: entry.def.name, aliases: headings, reads }, Slot(number)))
        }
        Source::Found(..) | Source::Computed(..) => None,
    });
    stated.unzip()
});

fn type_of(def: &'static Def) -> Type {
    match def.source {
        Source::Stated { reads: Reads::Words(words), .. } => {
            // The catalogue is made once and lives as long as the program.
            let words: Vec<&'static str> = words.iter().map(|(word, _)| *word).collect();
            Type::OneOf(words.leak())
        }
        Source::Stated { reads: Reads::Quantity { measure, .. }, .. } => Type::Quantity(measure),
        Source::Stated { reads: Reads::Count, .. } => Type::Quantity(Measure::Of(Dim::NONE)),
        Source::Stated { reads: Reads::Text, .. } => Type::Text,
        Source::Stated { reads: Reads::YesNo, .. } => Type::YesNo,
        Source::Found(kind, _) | Source::Computed(kind, _) => match kind {
            Kind::Quantity(measure) => Type::Quantity(measure),
            Kind::Text => Type::Text,
            Kind::YesNo => Type::YesNo,
            Kind::OneOf(words) => Type::OneOf(words),
        },
    }
}

/// The slot of a fact that is in the catalogue.
///
/// # Panics
/// Where it is not; names in the source are checked by a test.
#[allow(clippy::expect_used, reason = "a name written in the source; a test walks the catalogue")]
pub(crate) fn slot(name: &str) -> Slot {
    *SLOTS.get(name).expect("the fact is in the catalogue")
}

/// The entry of a slot; `None` for the slot of a setting.
pub fn entry(slot: Slot) -> Option<&'static Entry> {
    CATALOGUE.get(usize::from(slot.0))
}

/// How a fact is printed.
pub fn show_of(slot: Slot, measure: Measure) -> Show {
    entry(slot).and_then(|entry| entry.def.show).unwrap_or_else(|| Show::usual(measure))
}

/// Plausible answers to a fact nobody stated: all there are, the best and the worst, or the usual ones ([`covers`]
/// tells
/// which). `None` where no list can be made.
pub fn plausible(slot: Slot) -> Option<Vec<Value>> {
    let entry = entry(slot)?;
    match (&entry.def.answers, &entry.ty) {
        (Answers::Bracket(list) | Answers::Common(list), _) => Some(list()),
        (Answers::All | Answers::AllOrBracket(_), _) => every(slot),
        (Answers::Open, _) => None,
    }
}

/// The best and the worst of the plausible answers, where there is such a pair; else all.
pub fn bracket(slot: Slot) -> Option<Vec<Value>> {
    match entry(slot)?.def.answers {
        Answers::AllOrBracket(words) => Some(words.iter().map(|it| Value::Text((*it).into())).collect()),
        Answers::Bracket(list) | Answers::Common(list) => match list().as_slice() {
            [first, .., last] => Some(vec![first.clone(), last.clone()]),
            _ => None,
        },
        Answers::All | Answers::Open => plausible(slot),
    }
}

/// Everything a fact could be, where that is a list of words, or yes and no.
pub fn every(slot: Slot) -> Option<Vec<Value>> {
    match &entry(slot)?.ty {
        Type::OneOf(words) => Some(words.iter().map(|it| Value::Text((*it).into())).collect()),
        Type::YesNo => Some(vec![Value::YesNo(true), Value::YesNo(false)]),
        Type::Quantity(_) | Type::Text | Type::List(_) => None,
    }
}

/// Whether the plausible answers to a fact take in everything it could be: all its words, or both ends of what there
/// is.
pub fn covers(slot: Slot) -> bool {
    entry(slot).is_some_and(|entry| !matches!(entry.def.answers, Answers::Open | Answers::Common(_)))
}

/// What people call a fact: its first heading, or its own name in words.
pub fn heading(slot: Slot) -> Arc<str> {
    CALLED.get(usize::from(slot.0)).map_or_else(|| "setting".into(), |(_, heading)| heading.clone())
}

/// The name of a fact; `None` for a setting.
pub fn name(slot: Slot) -> Option<&'static Arc<str>> {
    CALLED.get(usize::from(slot.0)).map(|(name, _)| name)
}

/// Name and heading of every fact: a long schedule shows them over and over.
static CALLED: LazyLock<Vec<(Arc<str>, Arc<str>)>> =
    LazyLock::new(|| CATALOGUE.iter().map(|it| (it.def.name.into(), heading_of(it.def))).collect());

fn heading_of(def: &Def) -> Arc<str> {
    if let Source::Stated { headings: [first, ..], .. } = &def.source {
        return (*first).into();
    }
    let words = def.name.rsplit('.').next().unwrap_or(def.name).replace('_', " ");
    // Sentences are named by what they tell.
    let words = match words.strip_suffix("in words") {
        Some("") => "course of the cold spell".into(),
        Some(state) => format!("course of the cold spell, {}", state.trim_end()),
        None => words,
    };
    crate::diag::capital(&words).into()
}

/// Whether somebody could be asked for a fact: not where it is found in a row's words alone.
pub fn can_be_asked(name: &str) -> bool {
    let source = SLOTS.get(name).and_then(|slot| entry(*slot)).map(|entry| &entry.def.source);
    !matches!(source, Some(Source::Stated { headings: [], .. }))
}

/// The catalogue as the names rules may use.
#[derive(Clone, Copy, Debug)]
pub struct Facts;

impl Names for Facts {
    fn find(&self, name: &str) -> Option<(Slot, Type)> {
        let slot = *SLOTS.get(name)?;
        Some((slot, entry(slot)?.ty.clone()))
    }

    fn all(&self) -> Vec<String> {
        CATALOGUE.iter().map(|entry| entry.def.name.to_owned()).collect()
    }
}

/// What computes a fact.
type Compute = fn(&Outlet<'_>, Slot) -> Reading;

/// A computed fact, shown the usual way of its measure.
const fn computed(name: &'static str, about: &'static str, kind: Kind, compute: Compute) -> Def {
    Def { name, about, source: Source::Computed(kind, compute), answers: Answers::Open, show: None }
}

/// A stated quantity in a range.
const fn quantity(measure: Measure, least: f64, most: f64) -> Reads {
    Reads::Quantity { measure, least, most, none: false }
}

/// The usual way to show a measure, rounded to a safe side.
const fn toward(us: (&'static str, usize), si: (&'static str, usize), side: Rounding) -> Option<Show> {
    Some(Show::new(us, si, side))
}
