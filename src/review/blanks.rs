//! Blanks of a schedule: the facts that a review assumes, and those it asks if a rule needs them.

use super::alike::{self, Identity, KeyPart};
use super::ledger::Marks;
use super::shown;
use super::{Absence, Shown};
use crate::expr::Slot;
use crate::facts::{self, CATALOGUE, Fact, Origin, Source, World};
use crate::schedule::Row;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A fact that is not stated.
#[derive(Clone, Debug)]
pub struct Blank {
    /// The fact, with the assumed value if there is one.
    pub fact: Shown,
    /// Why it is assumed; `None` if the fact is asked when a rule needs it.
    pub taken: Option<Arc<str>>,
    /// Marks it concerns, each once.
    pub marks: Arc<[Arc<str>]>,
    /// How many rows it concerns.
    pub rows: usize,
}

/// Why a blank is taken as something, and as what.
type Taken = (Arc<str>, Result<KeyPart, Absence>);
/// What tells a blank from others.
type Key = (Slot, Option<Taken>);

/// Rows alike in every fact that another can be assumed from, and in whether they are counted.
struct Kind<'r> {
    first: &'r Row,
    rows: usize,
}

/// The rows of a schedule by what they leave blank. What rows alike leave blank is worked out once.
#[derive(Default)]
pub(super) struct Blanks<'r> {
    alike: BTreeMap<(Vec<KeyPart>, bool), usize>,
    kinds: Vec<Kind<'r>>,
    /// The kind and mark of every row.
    rows: Vec<(usize, Arc<str>)>,
}

impl<'r> Blanks<'r> {
    /// Takes in a row and what it states.
    pub(super) fn see(&mut self, row: &'r Row, stated: &[Option<Fact>]) {
        let is_counted = stated[usize::from(facts::slot(facts::columns::QUANTITY).0)].is_some();
        let key = (alike::key(stated, &BTreeSet::new()), is_counted);
        let kind = *self.alike.entry(key).or_insert_with(|| {
            self.kinds.push(Kind { first: row, rows: 0 });
            self.kinds.len() - 1
        });
        self.kinds[kind].rows += 1;
        self.rows.push((kind, Identity::of(row, stated).mark));
    }

    /// All blanks, in the order of the catalogue.
    pub(super) fn all(self, world: &World) -> Vec<Blank> {
        let mut blanks: Vec<(Blank, Vec<usize>)> = Vec::new();
        let mut known: BTreeMap<Key, usize> = BTreeMap::new();
        for (number, kind) in self.kinds.iter().enumerate() {
            for (key, fact) in of_kind(world, kind.first) {
                let taken = key.1.as_ref().map(|(why, _)| why.clone());
                let at = *known.entry(key).or_insert_with(|| {
                    blanks.push((Blank { fact, taken, marks: Arc::default(), rows: 0 }, Vec::new()));
                    blanks.len() - 1
                });
                let (blank, of) = &mut blanks[at];
                blank.rows += kind.rows;
                of.push(number);
            }
        }
        // Most blanks are of the same kinds: their marks are gathered once.
        let mut gathered: BTreeMap<Vec<usize>, Arc<[Arc<str>]>> = BTreeMap::new();
        let with_marks = blanks.into_iter().map(|(blank, of)| {
            let marks = gathered.entry(of).or_insert_with_key(|of| marks(of, &self.rows)).clone();
            Blank { marks, ..blank }
        });
        let mut blanks: Vec<Blank> = with_marks.collect();
        blanks.sort_by_key(|it| CATALOGUE.iter().position(|entry| entry.def.name == &*it.fact.name));
        blanks
    }
}

/// What a row leaves blank, with what tells it from other blanks.
fn of_kind(world: &World, row: &Row) -> Vec<(Key, Shown)> {
    let rules = &world.job().rules;
    let outlet = world.outlet(row);
    let mut blanks = Vec::new();
    for (slot, fact) in (0..).map(Slot).zip(&world.given_facts(row)) {
        let Some(entry) = facts::entry(slot).filter(|_| fact.is_none()) else { continue };
        let is_asked = slot == facts::slot(facts::columns::QUANTITY) || !entry.def.is_identity();
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
        let shown = shown::shown(slot, &fact, rules);
        let value = || match &shown.value {
            Ok(value) => Ok(KeyPart::of(slot, value)),
            Err(absence) => Err(absence.clone()),
        };
        let key = (slot, taken.map(|why| (why, value())));
        blanks.push((key, shown));
    }
    blanks
}

/// The marks of the rows of some kinds, in their order.
fn marks(of: &[usize], rows: &[(usize, Arc<str>)]) -> Arc<[Arc<str>]> {
    let mut marks = Marks::default();
    for (_, mark) in rows.iter().filter(|(kind, _)| of.binary_search(kind).is_ok()) {
        marks.add(mark);
    }
    marks.in_order.into()
}
