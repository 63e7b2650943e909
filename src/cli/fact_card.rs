//! Everything known about a fact, from the catalogue, the rules and a sample run.

use coldsill::expr::{Slot, Type, Value};
use coldsill::facts::{
    Blank, CATALOGUE, Def, Entry, FactDependencies, PlausibleValues, Source, World, name, plausible, show_of,
};
use coldsill::job::Scope;
use coldsill::ruleset::Rule;
use coldsill::schedule;
use coldsill::units::{Measure, Quantity, Show, System};
use std::sync::Arc;

/// A fact as people look it up.
pub struct Card<'w> {
    /// Its declaration.
    pub def: &'static Def,
    /// Its entry in the catalogue.
    pub entry: &'static Entry,
    /// The rules that test it or print it, in their order.
    pub rules: Vec<&'w Rule>,
    /// Names of the facts and settings that it is computed from.
    pub reads: Vec<Arc<str>>,
    /// Names of the facts that are computed from it.
    pub read_by: Vec<Arc<str>>,
    slot: Slot,
}

impl<'w> Card<'w> {
    /// Every fact, in the order of the catalogue.
    pub fn all(world: &'w World) -> Vec<Self> {
        let (reads, rules) = (FactDependencies::of(world), &world.job().rules);
        let name_of = |slot| name(slot).cloned().or_else(|| Some(rules.setting(slot)?.name.clone()));
        let sorted = |slots: &mut dyn Iterator<Item = Slot>| {
            let mut names: Vec<Arc<str>> = slots.filter_map(name_of).collect();
            names.sort();
            names
        };
        let card = |(entry, number): (&'static Entry, u16)| {
            let slot = Slot(number);
            Self {
                def: entry.def,
                entry,
                rules: rules.rules.iter().filter(|rule| rule.slots().contains(&slot)).collect(),
                reads: sorted(&mut reads.of_fact(slot)),
                read_by: reads.readers_of(slot).filter_map(name_of).collect(),
                slot,
            }
        };
        CATALOGUE.iter().zip(0..).map(card).collect()
    }

    /// Its name.
    pub fn name(&self) -> &'static str {
        self.def.name
    }

    /// Its topic: the first part of its name.
    pub fn topic(&self) -> &'static str {
        self.name().split('.').next().unwrap_or_default()
    }

    /// Headings of a schedule that state it.
    pub fn headings(&self) -> &'static [&'static str] {
        match self.def.source {
            Source::Stated { headings, .. } => headings,
            Source::Found(..) | Source::Computed(..) => &[],
        }
    }

    /// Whether a job can state it for all outlets under `defaults`.
    pub fn has_default(&self) -> bool {
        !self.headings().is_empty() && !self.def.is_identity()
    }

    /// Whether product data can state it of a model.
    pub fn in_product_data(&self) -> bool {
        self.has_default() && self.def.stated_scope().is_some_and(Scope::is_in_product_data)
    }

    /// What happens if it is blank, for other programs and for people.
    pub fn blank(&self) -> [&'static str; 2] {
        match self.def.source {
            Source::Stated { blank: Blank::Unknown, .. } => {
                ["unknown", "it stays unknown, and a rule that depends on it asks."]
            }
            Source::Stated { blank: Blank::Assume(_), .. } => [
                "assumed where it can be",
                "a value is assumed if one can be, and listed with the reason; otherwise it stays unknown.",
            ],
            Source::Found(..) => [
                "found",
                "No column: it comes from the job, the climate or the space, or is assumed and listed.",
            ],
            Source::Computed(..) => ["computed", "No column: it is computed."],
        }
    }

    /// What it measures.
    pub fn measure(&self) -> Option<Measure> {
        match self.entry.ty {
            Type::Quantity(measure) => Some(measure),
            _ => None,
        }
    }

    /// How it is printed, if it is a quantity.
    pub fn show(&self) -> Option<Show> {
        self.measure().map(|measure| show_of(self.slot, measure))
    }

    /// The least and the most that a cell may state.
    pub fn range(&self) -> Option<[Quantity; 2]> {
        match self.def.source {
            Source::Stated { reads: schedule::CellType::Quantity { measure, least, most, .. }, .. } => {
                Some([least, most].map(|si| Quantity::exact(si, measure)))
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

    /// Values to try while it is missing, as text.
    pub fn plausible(&self) -> Vec<String> {
        let show = self.show();
        let text = |value: Value| match value {
            Value::Text(word) => word.to_string(),
            Value::YesNo(yes) => if yes { "yes" } else { "no" }.into(),
            Value::List(words) => words.join(", "),
            Value::Quantity(quantity) => {
                show.unwrap_or_else(|| Show::usual(quantity.measure)).value(&quantity, System::Us)
            }
        };
        plausible(self.slot).unwrap_or_default().into_iter().map(text).collect()
    }

    /// Whether those are all it could be.
    pub fn is_exhaustive(&self) -> bool {
        matches!(self.def.plausible, PlausibleValues::All | PlausibleValues::AllOrExtremes(_))
    }
}
