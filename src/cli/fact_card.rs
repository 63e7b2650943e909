//! Everything there is to know of a fact, gathered from the catalogue and the rules.

use coldsill::expr::{Slot, Type, Value};
use coldsill::facts::{
    Answers, Blank, CATALOGUE, Entry, Source, heading, job_keys, plausible, reads_of, show_of,
};
use coldsill::job::{IDENTITY, OF_THE_PLACE};
use coldsill::ruleset::{Rule, Rules};
use coldsill::schedule::Reads;
use coldsill::units::{Measure, Quantity, Show, System};

/// A fact as people look it up.
pub struct Card<'r> {
    /// Its entry in the catalogue.
    pub entry: &'static Entry,
    /// Its slot.
    pub slot: Slot,
    /// The rules that test it or say it, in their order.
    pub rules: Vec<&'r Rule>,
    /// Names of the facts and settings it is worked out from.
    pub reads: Vec<&'static str>,
    /// Names of the facts that are worked out from it.
    pub read_by: Vec<&'static str>,
}

/// How a fact's blank is dealt with, in a word for other programs.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum OfBlank {
    /// It stays unknown.
    Unknown,
    /// A value is assumed where one can be.
    Assumed,
    /// Nobody states it: it is found in the job and the climate.
    Found,
    /// Nobody states it: it is computed.
    Computed,
}

impl<'r> Card<'r> {
    /// Every fact, in the order of the catalogue.
    pub fn all(rules: &'r Rules) -> Vec<Self> {
        CATALOGUE.iter().zip(0..).map(|(entry, number)| Self::of(entry, Slot(number), rules)).collect()
    }

    fn of(entry: &'static Entry, slot: Slot, rules: &'r Rules) -> Self {
        let name = entry.def.name;
        let others = CATALOGUE.iter().map(|it| it.def.name);
        Self {
            entry,
            slot,
            rules: rules.rules.iter().filter(|it| it.slots().contains(&slot)).collect(),
            reads: reads_of(name).collect(),
            read_by: others.filter(|it| reads_of(it).any(|read| read == name)).collect(),
        }
    }

    /// Its name.
    pub fn name(&self) -> &'static str {
        self.entry.def.name
    }

    /// Headings of a schedule that state it.
    pub fn headings(&self) -> &'static [&'static str] {
        match self.entry.def.source {
            Source::Stated { headings, .. } => headings,
            Source::Found(..) | Source::Computed(..) => &[],
        }
    }

    /// What people call it.
    pub fn heading(&self) -> String {
        heading(self.slot).to_string()
    }

    /// Whether a job can state it for all outlets under `defaults`.
    pub fn has_default(&self) -> bool {
        !self.headings().is_empty() && !IDENTITY.contains(&self.name())
    }

    /// Whether product data can state it of a model.
    pub fn in_product_data(&self) -> bool {
        self.has_default() && !OF_THE_PLACE.contains(&self.name())
    }

    /// Keys of a job it is taken from.
    pub fn job_keys(&self) -> &'static [&'static str] {
        job_keys(self.name())
    }

    /// What is done where it is blank.
    pub fn blank(&self) -> OfBlank {
        match self.entry.def.source {
            Source::Stated { blank: Blank::Unknown, .. } => OfBlank::Unknown,
            Source::Stated { blank: Blank::Assume(_), .. } => OfBlank::Assumed,
            Source::Found(..) => OfBlank::Found,
            Source::Computed(..) => OfBlank::Computed,
        }
    }

    /// What it measures.
    pub fn measure(&self) -> Option<Measure> {
        match self.entry.ty {
            Type::Quantity(measure) => Some(measure),
            _ => None,
        }
    }

    /// How it is printed, where it is a quantity.
    pub fn show(&self) -> Option<Show> {
        self.measure().map(|measure| show_of(self.slot, measure))
    }

    /// Least and most that a cell may say.
    pub fn range(&self) -> Option<[Quantity; 2]> {
        match self.entry.def.source {
            Source::Stated { reads: Reads::Quantity { measure, least, most, .. }, .. } => {
                Some([least, most].map(|it| Quantity::exact(it, measure)))
            }
            _ => None,
        }
    }

    /// The words it can be.
    pub fn words(&self) -> &'static [&'static str] {
        match self.entry.ty {
            Type::OneOf(words) => words,
            _ => &[],
        }
    }

    /// Plausible answers in words, and whether there is nothing else it could be.
    pub fn answers(&self) -> (Vec<String>, bool) {
        let show = self.show();
        let text = |value: Value| match value {
            Value::Text(word) => word.to_string(),
            Value::YesNo(yes) => if yes { "yes" } else { "no" }.into(),
            Value::List(words) => words.join(", "),
            Value::Quantity(quantity) => {
                show.unwrap_or_else(|| Show::usual(quantity.measure)).value(&quantity, System::Us)
            }
        };
        let all = matches!(self.entry.def.answers, Answers::All | Answers::AllOrBracket(_));
        (plausible(self.slot).unwrap_or_default().into_iter().map(text).collect(), all)
    }
}
