//! What moves an outlet, in JSON.

use super::values::{DifferenceJson, LengthJson, QuantityJson, difference};
use crate::facts::{Move, entry};
use crate::units::{Dim, Quantity, System};
use schemars::JsonSchema;
use serde::Serialize;

/// One uncertain input by itself between its bounds, everything else at its best estimate.
#[derive(Serialize, JsonSchema)]
pub(super) struct MoveJson<'r> {
    /// The input in words.
    input: &'r str,
    /// The fact that would state it; null if no column does.
    fact: Option<&'r str>,
    /// How far it moves the outdoor temperature the outlet is good to: to lower temperatures, to higher ones.
    good_to: [DifferenceJson; 2],
    /// How far it moves the least seat depth: shorter, longer; null if no depth is enough.
    least_seat_depth: Option<[LengthJson; 2]>,
    /// Whether another listed length would be ordered; null if no depth is enough.
    changes_order: Option<bool>,
}

impl MoveJson<'_> {
    pub(super) fn of(it: &Move, system: System) -> Self {
        let length = |meters| LengthJson(QuantityJson::usual(&Quantity::of(meters, Dim::LENGTH), system));
        Self {
            input: it.input.name(),
            fact: it.fact.and_then(entry).map(|entry| entry.def.name),
            good_to: it.good_to.map(|kelvin| difference(kelvin, system)),
            least_seat_depth: it.depth.map(|ends| ends.map(length)),
            changes_order: it.changes_order,
        }
    }
}

/// A fact that nobody states and that changes which length to order.
#[derive(Serialize, JsonSchema)]
pub(super) struct OrderTurnsOnJson<'r> {
    fact: &'r str,
    /// Rows of which it changes the length to order.
    #[schemars(range(min = 1))]
    rows: usize,
}

impl OrderTurnsOnJson<'_> {
    pub(super) fn all(turns: &[(crate::expr::Slot, usize)]) -> Vec<Self> {
        let named = turns
            .iter()
            .filter_map(|(slot, rows)| entry(*slot).map(|entry| Self { fact: entry.def.name, rows: *rows }));
        named.collect()
    }
}
