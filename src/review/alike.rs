//! Groups outlets that agree in every fact a rule can read.

use crate::expr::{Slot, Value};
use crate::facts::columns::{BACKFLOW_DEVICE, FASTENERS, FLANGE, KIND, LOCATION, MARK, QUANTITY};
use crate::facts::{self, Def, Fact, World};
use crate::ruleset::Rule;
use crate::schedule::Row;
use std::collections::BTreeSet;
use std::sync::Arc;

/// A stated fact as a part of a key: its slot, and its value or that it has none.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum KeyPart {
    /// With its band: equal values with different bands are different.
    Number(u16, [u64; 3]),
    Text(u16, Arc<str>),
    YesNo(u16, bool),
    Unreadable(u16),
}

impl KeyPart {
    /// A value of a fact.
    pub(super) fn of(slot: Slot, value: &Value) -> Self {
        match value {
            Value::Quantity(it) => Self::Number(slot.0, [it.is, it.low, it.high].map(f64::to_bits)),
            Value::Text(text) => Self::Text(slot.0, text.clone()),
            Value::YesNo(yes) => Self::YesNo(slot.0, *yes),
            Value::List(words) => Self::Text(slot.0, words.join("\n").into()),
        }
    }
}

/// Identity facts (mark, location and the like) that some rule reads, and that therefore separate groups.
pub(super) fn identity_facts_read(world: &World) -> BTreeSet<Slot> {
    let rules = &world.job().rules;
    let of_tables = rules.tables.iter().flat_map(|table| table.by.iter().map(|key| key.slot));
    let read: BTreeSet<Slot> = rules.rules.iter().flat_map(Rule::slots).chain(of_tables).collect();
    facts::identity().filter(|slot| read.contains(slot)).collect()
}

/// Whether a fact is an identity fact that no rule reads, which does not separate groups.
pub(super) fn is_ignored(slot: Slot, identity_read: &BTreeSet<Slot>) -> bool {
    facts::is_identity(slot) && !identity_read.contains(&slot)
}

/// The key by which outlets are grouped: all stated facts, except identity facts that no rule reads (those not in
/// `identity_read`).
pub(super) fn key(stated: &[Option<Fact>], identity_read: &BTreeSet<Slot>) -> Vec<KeyPart> {
    let numbered = stated.iter().zip(0..);
    let parts = numbered.filter_map(|(fact, number): (_, u16)| {
        let fact = fact.as_ref()?;
        let slot = Slot(number);
        if is_ignored(slot, identity_read) {
            return None;
        }
        Some(match &fact.value {
            // The wording of a kind says where it closes, that of a device its standard, and that of a fastener or flange its
            // grade or coating: compare the text as written.
            Ok(Value::Text(_))
                if [KIND, BACKFLOW_DEVICE, FASTENERS, FLANGE].map(facts::slot).contains(&slot) =>
            {
                KeyPart::Text(number, written(fact))
            }
            Ok(value) => KeyPart::of(slot, value),
            // Comments quote the words that leave a fact unresolved: compare them too.
            Err(gap) => match gap.absent.get(&slot) {
                Some(why) => KeyPart::Text(number, why.clone()),
                None => KeyPart::Unreadable(number),
            },
        })
    });
    parts.collect()
}

/// The text of a fact as written; blank if it has none.
fn written(fact: &Fact) -> Arc<str> {
    fact.origin.written().cloned().unwrap_or_default()
}

/// The facts of a row that identify its outlet.
pub(super) struct Identity {
    /// Its mark, or `row 7`.
    pub mark: Arc<str>,
    /// How many; `None` if not stated.
    pub quantity: Option<f64>,
    /// Where it is.
    pub where_it_is: Option<Arc<str>>,
}

impl Identity {
    pub(super) fn of(row: &Row, stated: &[Option<Fact>]) -> Self {
        let own = |def: &Def| {
            stated[usize::from(facts::slot(def).0)].as_ref().and_then(|it| it.value.as_ref().ok())
        };
        let text = |def| match own(def) {
            Some(Value::Text(text)) => Some(text.clone()),
            _ => None,
        };
        let quantity = match own(QUANTITY) {
            Some(Value::Quantity(quantity)) => Some(quantity.is),
            _ => None,
        };
        Self { mark: text(MARK).unwrap_or_else(|| row.name().into()), quantity, where_it_is: text(LOCATION) }
    }
}
