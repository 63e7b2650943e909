//! What was understood of a schedule, cell by cell, before any review: no rule is tried and no climate is needed.

use super::ledger::Marks;
use super::run::{Identity, Part};
use super::{Absence, Shown, judge};
use crate::diag::{Place, Problem, Spot};
use crate::expr::Slot;
use crate::facts::{self, CATALOGUE, Origin, Source, VOCABULARY, World};
use crate::job::IDENTITY;
use crate::schedule::Noted;
use crate::schedule::Unused;
use std::collections::BTreeMap;
use std::sync::Arc;

/// What was understood.
#[derive(Clone, Debug)]
pub struct Understood {
    /// The job file, where there is one.
    pub job: Option<Arc<str>>,
    /// The schedule.
    pub schedule: Arc<str>,
    /// Its row of headings.
    pub heading: Option<u32>,
    /// How it was read.
    pub notes: Vec<Noted>,
    /// Columns in which something was understood, in the order of the catalogue.
    pub columns: Vec<Column>,
    /// The outlets.
    pub rows: Vec<Outlet>,
    /// What stays blank, in the order of the catalogue.
    pub blanks: Vec<Blank>,
    /// What was not used.
    pub unused: Vec<Unused>,
    /// What is doubtful.
    pub problems: Vec<Problem>,
}

/// A column and what it says.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Column {
    /// Its file.
    pub file: Arc<str>,
    /// Its heading as it stands.
    pub text: Arc<str>,
    /// What it states, by heading.
    pub says: Vec<Arc<str>>,
    /// In how many rows it is filled in.
    pub rows: usize,
}

/// A row, or a place of a mark.
#[derive(Clone, Debug)]
pub struct Outlet {
    /// Its mark, or `row 7`.
    pub mark: Arc<str>,
    /// Where it stands.
    pub place: Place,
    /// What is stated of it: by its own cells, by product data, by the job.
    pub facts: Vec<Stated>,
}

/// A stated fact.
#[derive(Clone, Debug)]
pub struct Stated {
    /// The fact.
    pub fact: Shown,
    /// Whether it tells outlets apart rather than what they are.
    pub is_identity: bool,
    /// The column it was read from, where that has not one of the fact's own headings: words of a description.
    pub elsewhere: Option<Arc<str>>,
}

/// A fact that nobody states.
#[derive(Clone, Debug)]
pub struct Blank {
    /// The fact; with the value that will be taken, where one will.
    pub fact: Shown,
    /// Why that is taken; nothing where a rule that needs the fact will ask.
    pub taken: Option<Arc<str>>,
    /// Marks it concerns, each once.
    pub marks: Vec<Arc<str>>,
    /// How many rows it concerns.
    pub rows: usize,
}

impl Understood {
    /// Whether anything is doubtful, or was left unread.
    pub fn is_doubtful(&self) -> bool {
        !self.problems.is_empty() || !self.unused.is_empty()
    }
}

/// Why a blank is taken as something, and as what.
type Taken = (Arc<str>, Result<Part, Absence>);

/// Looks at what was understood of the schedule of a world.
pub fn understood(world: &World) -> Understood {
    let schedule = &world.job().schedule;
    let rules = &world.job().rules;
    let mut rows = Vec::with_capacity(schedule.rows.len());
    let mut blanks: Vec<(Blank, Marks)> = Vec::new();
    let mut known: BTreeMap<(Slot, Option<Taken>), usize> = BTreeMap::new();
    for row in &schedule.rows {
        let stated = world.stated(row);
        let mark = Identity::of(row, &stated).mark;
        let outlet = world.outlet(row);
        let mut given = Vec::new();
        for (slot, fact) in (0..).map(Slot).zip(&stated) {
            if let Some(fact) = fact {
                let is_identity = facts::entry(slot).is_some_and(|it| IDENTITY.contains(&it.def.name));
                let elsewhere = elsewhere(slot, &fact.origin);
                given.push(Stated { fact: judge::shown(slot, fact, rules), is_identity, elsewhere });
                continue;
            }
            let Some(entry) = facts::entry(slot) else { continue };
            let is_asked = entry.def.name == "outlet.quantity" || !IDENTITY.contains(&entry.def.name);
            // Without a heading nobody can state it: the row's words do.
            let has_heading = matches!(entry.def.source, Source::Stated { headings: [_, ..], .. });
            if !has_heading || !is_asked {
                continue;
            }
            let fact = outlet.fact(slot);
            let taken = match &fact.origin {
                Origin::Assumed(why) => Some(why.clone()),
                _ => None,
            };
            let shown = judge::shown(slot, &fact, rules);
            let value = || match &shown.value {
                Ok(value) => Ok(Part::of(slot, value)),
                Err(absence) => Err(absence.clone()),
            };
            let key = (slot, taken.clone().map(|why| (why, value())));
            let at = *known.entry(key).or_insert_with(|| {
                let blank = Blank { fact: shown, taken, marks: Vec::new(), rows: 0 };
                blanks.push((blank, Marks::default()));
                blanks.len() - 1
            });
            let (blank, marks) = &mut blanks[at];
            blank.rows += 1;
            marks.add(&mark);
        }
        rows.push(Outlet { mark, place: row.place(&schedule.file), facts: given });
    }
    let with_marks = blanks.into_iter().map(|(it, marks)| Blank { marks: marks.in_order, ..it });
    let mut blanks: Vec<Blank> = with_marks.collect();
    blanks.sort_by_key(|it| CATALOGUE.iter().position(|entry| entry.def.name == &*it.fact.name));
    Understood {
        job: world.job().file.clone(),
        schedule: schedule.file.clone(),
        heading: schedule.heading,
        notes: schedule.notes.clone(),
        columns: columns(&rows),
        rows,
        blanks,
        unused: schedule.unused.clone(),
        problems: schedule.problems.clone(),
    }
}

/// The column of a cell whose heading is none of the fact's own.
fn elsewhere(slot: Slot, origin: &Origin) -> Option<Arc<str>> {
    let (Origin::Stated(place, _) | Origin::Unreadable(place, _)) = origin else { return None };
    let Spot::Row(_, Some(column)) = &place.spot else { return None };
    let at = VOCABULARY.1.iter().position(|it| *it == slot)?;
    let own = VOCABULARY.0[at].aliases;
    // A heading may carry its unit behind the name.
    let heading = crate::schedule::plain(column);
    let is_own = own.iter().any(|alias| heading.starts_with(&crate::schedule::plain(alias)));
    (!is_own).then(|| column.clone())
}

fn columns(rows: &[Outlet]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::new();
    for outlet in rows {
        for stated in &outlet.facts {
            let (Origin::Stated(place, _) | Origin::Unreadable(place, _)) = &stated.fact.origin else {
                continue;
            };
            let Spot::Row(_, Some(text)) = &place.spot else { continue };
            let heading = &stated.fact.heading;
            let found = columns.iter_mut().find(|it| it.file == place.file && it.text == *text);
            match found {
                Some(column) => {
                    if !column.says.contains(heading) {
                        column.says.push(heading.clone());
                    }
                    if column.says.first() == Some(heading) {
                        column.rows += 1;
                    }
                }
                None => columns.push(Column {
                    file: place.file.clone(),
                    text: text.clone(),
                    says: vec![heading.clone()],
                    rows: 1,
                }),
            }
        }
    }
    columns
}
