//! Which end of a range or a tolerance is taken where a schedule states one: a figure that calculations use must be one,
//! and the worse; rules compare with the whole band.

use super::reading::Fact;
use crate::expr::{Gap, Slot, Value};

/// Facts with a worse end, whether that is the upper one, and why. The others have none that holds for every question.
const WORSE: &[(&str, bool, &str)] = &[
    ("outlet.nominal_length", false, "calculations take its shorter end"),
    ("outlet.seat_depth", false, "calculations take its shallower end"),
    ("outlet.seat_offset", true, "calculations take its longer end, which leaves the shallower seat"),
    (
        "outlet.block_thickness",
        true,
        "calculations take its thicker end, which takes most from the seat's depth",
    ),
    ("outlet.barrel_diameter", true, "calculations take its wider end, which conducts most"),
    ("outlet.barrel_thickness", true, "calculations take its thicker end, which conducts most"),
    ("outlet.stem_diameter", true, "calculations take its thicker end, which conducts most"),
    ("outlet.supply_size", false, "calculations take its smaller end, which gathers less heat"),
    ("outlet.slope", false, "calculations take its flatter end"),
    ("outlet.bury_depth", false, "calculations take its shallower end"),
    ("outlet.clearance", false, "calculations take its shorter end"),
    ("outlet.hose_rise", true, "calculations take its higher end"),
];

fn of(name: &str) -> Option<(bool, &'static str)> {
    WORSE.iter().find(|(fact, ..)| *fact == name).map(|(_, upper, why)| (*upper, *why))
}

/// A stated fact with the worse end of its band as the value used; unknown where neither end is the worse.
pub(super) fn taken(fact: Fact, slot: Slot) -> Fact {
    let Ok(Value::Quantity(quantity)) = fact.value else { return fact };
    if !quantity.is_banded() {
        return fact;
    }
    let name = super::entry(slot).map_or("", |entry| entry.def.name);
    let value = match of(name) {
        Some((upper, _)) => {
            let is = if upper { quantity.high } else { quantity.low };
            Ok(Value::Quantity(crate::units::Quantity { is, ..quantity }))
        }
        None => {
            Err(Gap::absent(slot, "a range is stated, and either end may be the worse; state one figure"))
        }
    };
    Fact { value, ..fact }
}

/// What is done with a range of a fact.
pub fn worse_end(name: &str) -> Option<&'static str> {
    of(name).map(|(_, why)| why)
}
