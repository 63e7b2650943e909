//! The catalogue: the declared facts of all topics, and what is looked up in it.

use super::def::{Catalogue, Def, Entry, PlausibleValues, Source};
use super::{
    backflow, burst, columns, detail, drain, energy, heat, hydrant, ice, metals, piping, site, space, summer,
    sweat, words,
};
use crate::expr::{Names, Slot, Type, Value};
use crate::job::{Scope, TermUse, Vocabulary};
use crate::schedule::Term;
use crate::units::{Measure, Show};
use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock};

/// Every fact, topic by topic; the index of a fact is its slot.
pub static CATALOGUE: LazyLock<Catalogue> = LazyLock::new(|| {
    Catalogue::of(&[
        columns::FACTS,
        site::FACTS,
        space::FACTS,
        heat::FACTS,
        ice::FACTS,
        drain::FACTS,
        metals::FACTS,
        piping::FACTS,
        backflow::FACTS,
        burst::FACTS,
        sweat::FACTS,
        summer::FACTS,
        energy::FACTS,
        detail::FACTS,
        hydrant::FACTS,
    ])
});

/// The terms a schedule may use, each with the slot of its fact.
pub static VOCABULARY: LazyLock<(Vec<Term>, Vec<Slot>)> = LazyLock::new(|| {
    let stated = CATALOGUE.iter().zip(0..).filter_map(|(entry, number)| match entry.def.source {
        Source::Stated { headings, reads, .. } => {
            let subject = words::subject(entry.def.name);
            Some((Term { fact: entry.def.name, aliases: headings, reads, subject }, Slot(number)))
        }
        Source::Found(..) | Source::Computed(..) => None,
    });
    stated.unzip()
});

/// The vocabulary as a job uses it.
pub(super) static JOB_VOCABULARY: LazyLock<Vocabulary> = LazyLock::new(|| {
    let (terms, slots) = &*VOCABULARY;
    let term = |def: &Def| {
        let slot = CATALOGUE.slot(def);
        slots.iter().position(|it| *it == slot).unwrap_or(usize::MAX)
    };
    let uses = slots.iter().filter_map(|slot| {
        let def = entry(*slot)?.def;
        Some(TermUse { scope: def.stated_scope()?, job_keys: def.job_keys })
    });
    Vocabulary {
        terms: terms.clone(),
        uses: uses.collect(),
        mark: term(columns::MARK),
        quantity: term(columns::QUANTITY),
        location: term(columns::LOCATION),
        option: term(columns::OPTION),
        wall: term(columns::WALL),
        model: term(columns::MODEL),
        nominal_length: term(columns::NOMINAL_LENGTH),
        seat_depth: term(columns::SEAT_DEPTH),
        seat_offset: term(columns::SEAT_OFFSET),
    }
});

/// The slot of a declared fact.
pub(crate) fn slot(def: &Def) -> Slot {
    CATALOGUE.slot(def)
}

/// The entry of a slot; `None` for the slot of a setting.
pub fn entry(slot: Slot) -> Option<&'static Entry> {
    CATALOGUE.get(usize::from(slot.0))
}

/// The slot of a name.
pub fn slot_named(name: &str) -> Option<Slot> {
    CATALOGUE.find(name)
}

/// The entry of a name.
pub fn entry_named(name: &str) -> Option<&'static Entry> {
    entry(CATALOGUE.find(name)?)
}

/// How a fact is printed.
pub fn show_of(slot: Slot, measure: Measure) -> Show {
    entry(slot).and_then(|entry| entry.def.show).unwrap_or_else(|| Show::usual(measure))
}

/// Values to try for a missing fact; `None` if no list can be made. [`covers`] says whether they are exhaustive.
pub fn plausible(slot: Slot) -> Option<Vec<Value>> {
    match &entry(slot)?.def.plausible {
        PlausibleValues::Extremes(list) | PlausibleValues::Common(list) => Some(list()),
        PlausibleValues::All | PlausibleValues::AllOrExtremes(_) => every(slot),
        PlausibleValues::NoList => None,
    }
}

/// The two extremes of the plausible values if there is such a pair, otherwise all of them.
pub fn bracket(slot: Slot) -> Option<Vec<Value>> {
    match entry(slot)?.def.plausible {
        PlausibleValues::AllOrExtremes(words) => Some(texts(words)),
        PlausibleValues::Extremes(list) | PlausibleValues::Common(list) => match list().as_slice() {
            [first, .., last] => Some(vec![first.clone(), last.clone()]),
            _ => None,
        },
        PlausibleValues::All | PlausibleValues::NoList => plausible(slot),
    }
}

/// Every possible value of a fact, if it is one of some words, or yes or no.
pub fn every(slot: Slot) -> Option<Vec<Value>> {
    match &entry(slot)?.ty {
        Type::OneOf(words) => Some(texts(words)),
        Type::YesNo => Some(vec![Value::YesNo(true), Value::YesNo(false)]),
        Type::Quantity(_) | Type::Text | Type::List(_) => None,
    }
}

fn texts(words: &[&str]) -> Vec<Value> {
    words.iter().map(|word| Value::Text((*word).into())).collect()
}

/// Whether the plausible values include every possible value, or both of its extremes.
pub fn covers(slot: Slot) -> bool {
    let is_partial =
        |entry: &Entry| matches!(entry.def.plausible, PlausibleValues::NoList | PlausibleValues::Common(_));
    entry(slot).is_some_and(|entry| !is_partial(entry))
}

/// What people call a fact: its first heading, its label, or its name in words.
pub fn heading(slot: Slot) -> Arc<str> {
    entry(slot).map_or_else(|| "setting".into(), |entry| entry.heading.clone())
}

/// The name of a fact; `None` for a setting.
pub fn name(slot: Slot) -> Option<&'static Arc<str>> {
    entry(slot).map(|entry| &entry.name)
}

/// Whether somebody can be asked for a fact: not if only the words of a row give it.
pub fn can_be_asked(name: &str) -> bool {
    let source = entry_named(name).map(|entry| &entry.def.source);
    !matches!(source, Some(Source::Stated { headings: [], .. }))
}

/// Why calculations use one end of a stated range of a fact, if they do.
pub fn range_note(name: &str) -> Option<&'static str> {
    entry_named(name)?.def.range_note()
}

/// Whether a fact tells outlets apart rather than what they are.
pub fn is_identity(slot: Slot) -> bool {
    entry(slot).is_some_and(|entry| entry.def.is_identity())
}

/// The facts that tell outlets apart, in the order of the catalogue.
pub fn identity() -> impl Iterator<Item = Slot> {
    (0..).map(Slot).zip(CATALOGUE.iter()).filter(|(_, entry)| entry.def.is_identity()).map(|(slot, _)| slot)
}

/// The stated facts that describe how and where an outlet is put, not the outlet itself.
pub fn of_the_place() -> &'static BTreeSet<Slot> {
    static SLOTS: LazyLock<BTreeSet<Slot>> = LazyLock::new(|| {
        let of_place = |def: &Def| def.stated_scope().is_some_and(|scope| scope != Scope::Outlet);
        (0..)
            .map(Slot)
            .zip(CATALOGUE.iter())
            .filter(|(_, it)| of_place(it.def))
            .map(|(slot, _)| slot)
            .collect()
    });
    &SLOTS
}

/// How a fact is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The question.
    pub sentence: Arc<str>,
    /// An example of an answer, if the answer is not one of a few words.
    pub example: Option<&'static str>,
}

/// How a fact is asked for: by its question, or by what it is.
pub fn asked(slot: Slot) -> Asked {
    let def = entry(slot).map(|entry| entry.def);
    if let Some(Source::Stated { question: Some((sentence, example)), .. }) = def.map(|def| &def.source) {
        return Asked { sentence: (*sentence).into(), example: *example };
    }
    let heading = heading(slot).to_lowercase();
    let sentence = match def.map(|def| def.about) {
        Some(about) if about.starts_with("whether ") => format!("State {about}."),
        Some(about) => format!("State the {heading}: {about}."),
        None => format!("What is the {heading}?"),
    };
    Asked { sentence: sentence.into(), example: None }
}

/// The catalogue as the names rules may use.
#[derive(Clone, Copy, Debug)]
pub struct Facts;

impl Names for Facts {
    fn find(&self, name: &str) -> Option<(Slot, Type)> {
        let slot = CATALOGUE.find(name)?;
        Some((slot, entry(slot)?.ty.clone()))
    }

    fn all(&self) -> Vec<String> {
        CATALOGUE.iter().map(|entry| entry.def.name.to_owned()).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_stated_fact_has_a_question() {
        // A row's words give these, or no rule asks for them.
        const WITHOUT: [&str; 3] = ["outlet.description_disagrees", "outlet.option", "outlet.air_sealed"];
        for entry in CATALOGUE.iter() {
            let Source::Stated { question, .. } = entry.def.source else { continue };
            assert_eq!(question.is_none(), WITHOUT.contains(&entry.def.name), "{}", entry.def.name);
            let Some((sentence, _)) = question else { continue };
            assert!(sentence.ends_with('?') || sentence.contains("? "), "{sentence}");
            assert!(sentence.starts_with(char::is_uppercase), "{sentence}");
        }
    }
}
