//! Values assumed for an outlet if the schedule is silent.

use super::columns::{
    BACKFLOW_STANDARD, BARREL, CLOSES_AT, INSIDE_STOP, KIND, NOMINAL_LENGTH, SEAT_OFFSET, WALL,
};
use super::def::{Assumed, INCH};
use super::outlet::{Origin, Outlet};
use super::words::DEVICES;
use crate::expr::{Gap, Value};
use crate::physics::Spread;
use crate::schedule::closes_by_name;
use crate::schedule::{CellType, CellValue, read_cell};
use crate::units::{Dim, Quantity};
use std::sync::Arc;

/// Nominal lengths that are listed, in.
pub(super) const NOMINAL_LENGTHS: [f64; 6] = [4.0, 6.0, 8.0, 10.0, 12.0, 14.0];

/// Nominal lengths that are listed, m, the shortest first.
pub fn nominal_lengths() -> impl Iterator<Item = f64> {
    NOMINAL_LENGTHS.into_iter().map(|inches| inches * INCH)
}

/// Why a seat depth is assumed to be zero.
pub const SEAT_AT_FACE: &str = "it closes at the face";

/// Why a seat depth is assumed: by the seat offset that is stated.
pub const SEAT_BY_OFFSET: &str = "nominal length less the seat offset";

/// Why a seat depth is assumed: by the usual seat offset.
pub const SEAT_BY_USUAL_OFFSET: &str = "nominal length less {= 3/4 in}; {= 1/2 in} to {= 1 in} is usual";

/// The rule of [`SEAT_BY_USUAL_OFFSET`] alone.
pub const USUAL_SEAT: &str = "nominal length less {= 3/4 in}";

/// Usual nominal length less seat depth, m: manufacturers' drawings show 1/2 to 1 in (no published source).
pub(super) const USUAL_OFFSET: Spread = Spread::new(0.5 * INCH, 0.75 * INCH, INCH);

pub(super) fn length(meters: f64) -> Value {
    Value::Quantity(Quantity::of(meters, Dim::LENGTH))
}

pub(super) fn inches(inches: f64, why: &'static str) -> Assumed {
    Ok(Some((length(inches * INCH), why)))
}

/// Between two bounds, all in inches.
pub(super) fn inches_within(inches: f64, [low, high]: [f64; 2], why: &'static str) -> Assumed {
    let length = Quantity::of(inches * INCH, Dim::LENGTH).within(low * INCH, high * INCH);
    Ok(Some((Value::Quantity(length), why)))
}

pub(super) fn word(word: &str, why: &'static str) -> Assumed {
    Ok(Some((Value::Text(word.into()), why)))
}

pub(super) fn no(why: &'static str) -> Assumed {
    Ok(Some((Value::YesNo(false), why)))
}

/// Where the valve closes, by the words of the kind: a plain hose bibb or sillcock closes at the face.
pub(super) fn closes(outlet: &Outlet<'_>) -> Assumed {
    let kind = outlet.word(KIND)?;
    let origin = outlet.get_fact(KIND).origin;
    let named = origin.written().and_then(|text| closes_by_name(text));
    match (&*kind, named) {
        ("yard hydrant", _) => word("below grade", "a yard hydrant closes below grade"),
        (_, Some("inside")) => word("inside", "the kind is called frostproof or freeze-resistant"),
        (_, Some("face")) => word("face", "the kind is made for a mild climate"),
        ("hose bibb" | "sillcock", _) => word("face", "a plain hose bibb or sillcock closes at the face"),
        _ => Ok(None),
    }
}

/// The seat depth: zero if the valve closes at the face, otherwise the nominal length less the seat offset.
pub(super) fn seat_depth(outlet: &Outlet<'_>) -> Assumed {
    match &*outlet.word(CLOSES_AT)? {
        "face" => return inches(0.0, SEAT_AT_FACE),
        "below grade" => return Ok(None),
        _ => {}
    }
    let nominal = outlet.number(NOMINAL_LENGTH)?;
    let why = match outlet.number(SEAT_OFFSET) {
        Ok(_) => SEAT_BY_OFFSET,
        Err(_) => SEAT_BY_USUAL_OFFSET,
    };
    let offset = seat_offset(outlet)?;
    let [low, seat, high] =
        [offset.high, offset.is, offset.low].map(|offset| seat_by_offset(nominal, offset));
    let seat = seat.map_err(|why| outlet.absent(why))?;
    let depth = Quantity::of(seat, Dim::LENGTH).within(low.unwrap_or(0.0), high.unwrap_or(seat));
    Ok(Some((Value::Quantity(depth), why)))
}

/// The nominal length less the seat depth: the usual one if not stated. A cell with an error may be anything, so the
/// usual one does not replace it.
pub(super) fn seat_offset(outlet: &Outlet<'_>) -> Result<Quantity, Gap> {
    match outlet.get_fact(SEAT_OFFSET).origin {
        Origin::Unknown => {
            let Spread { low, used, high } = USUAL_OFFSET;
            Ok(Quantity::of(used, Dim::LENGTH).within(low, high))
        }
        _ => outlet.quantity(SEAT_OFFSET),
    }
}

/// The metal of the inlet: brass with a barrel of copper, brass or stainless, otherwise the barrel's own.
pub(super) fn inlet_metal(outlet: &Outlet<'_>) -> Assumed {
    match &*outlet.word(BARREL)? {
        "copper" | "brass" | "stainless" => {
            word("brass", "barrels of copper and stainless usually have brass inlets")
        }
        metal => word(metal, "the barrel's metal"),
    }
}

/// The seat depth, m, or why there is none.
pub(super) fn seat_by_offset(nominal: f64, offset: f64) -> Result<f64, &'static str> {
    let seat = nominal - offset;
    if seat < 0.0 { Err("the seat offset is longer than the nominal length") } else { Ok(seat) }
}

/// The usual space behind the wall.
pub(super) fn space_behind(outlet: &Outlet<'_>) -> Assumed {
    let key = outlet.word(WALL)?;
    let wall = outlet.world().job().wall(&key);
    Ok(wall.map(|wall| (Value::Text(wall.space_behind.into()), "the usual space behind such a wall")))
}

/// A stop-and-waste valve inside is a shutoff valve.
pub(super) fn shutoff(outlet: &Outlet<'_>) -> Assumed {
    match outlet.yes_no(INSIDE_STOP) {
        Ok(true) => Ok(Some((Value::YesNo(true), "a stop-and-waste valve inside is one"))),
        Ok(false) | Err(_) => Ok(None),
    }
}

/// The kind of backflow device that a stated standard is for.
pub(super) fn device_of_standard(outlet: &Outlet<'_>) -> Assumed {
    let kind = outlet.word(BACKFLOW_STANDARD).ok().and_then(|standard| kind_of(&standard));
    Ok(kind.map(|kind| (Value::Text(kind), "its stated standard is for such a device")))
}

/// The kind of device that a standard is for.
pub(super) fn kind_of(standard: &str) -> Option<Arc<str>> {
    match read_cell(&CellType::Words(DEVICES), standard, None) {
        Ok(CellValue::Text(kind)) => Some(kind),
        _ => None,
    }
}
