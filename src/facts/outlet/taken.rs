//! What is assumed of an outlet where the schedule is silent.

use super::super::reading::{Origin, Outlet};
use super::super::{Assumed, slot};
use super::INCH;
use crate::expr::{Gap, Value};
use crate::job::OFFSET;
use crate::schedule::closes_by_name;
use crate::units::{Dim, Quantity};

/// A seat is taken to lie this much short of the nominal length, m: makers' cuts show 1/2 to 1 in; the longer is
/// adverse (common practice, no source).
pub(super) const SEAT_OFFSET: f64 = 1.0 * INCH;

pub(super) fn length(metres: f64) -> Value {
    Value::Quantity(Quantity::of(metres, Dim::LENGTH))
}

pub(super) fn inch(inches: f64, why: &'static str) -> Assumed {
    Ok(Some((length(inches * INCH), why)))
}

/// From the words of the kind; a bare hose bibb or sillcock is taken to close at the face.
pub(super) fn closes(outlet: &Outlet<'_>) -> Assumed {
    let kind = outlet.word("outlet.kind")?;
    let written = outlet.fact(slot("outlet.kind")).origin;
    let named = written.written().and_then(|text| closes_by_name(text));
    let word = |it: &str| Value::Text(it.into());
    Ok(if &*kind == "yard hydrant" {
        Some((word("below grade"), "a yard hydrant closes below grade"))
    } else if named == Some("inside") {
        Some((word("inside"), "the kind is called frost-proof or freeze-resistant"))
    } else if named == Some("face") {
        Some((word("face"), "the kind is meant for a mild climate"))
    } else if matches!(&*kind, "hose bibb" | "sillcock") {
        Some((word("face"), "a plain hose bibb or sillcock closes at the face"))
    } else {
        None
    })
}

pub(super) fn seat_depth(outlet: &Outlet<'_>) -> Assumed {
    let closes = outlet.word("outlet.closes")?;
    if &*closes == "face" {
        return inch(0.0, "it closes at the face");
    }
    if &*closes == "below grade" {
        return Ok(None);
    }
    let Ok(nominal) = outlet.number("outlet.nominal_length") else { return Ok(None) };
    let why = match outlet.number(OFFSET) {
        Ok(_) => "nominal length less the seat offset",
        Err(_) => "nominal length less {= 1 in}, the long end of the usual {= 1/2 in} to {= 1 in}",
    };
    let seat = seat_by_offset(nominal, seat_offset(outlet)?)?;
    Ok(Some((length(seat), why)))
}

/// How much the seat lies short of the nominal length, m: the usual where nobody says. What a cell says that cannot be read
/// may be anything: the usual does not stand in for it.
pub(in crate::facts) fn seat_offset(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    match outlet.fact(slot(OFFSET)).origin {
        Origin::Unknown => Ok(SEAT_OFFSET),
        _ => outlet.number(OFFSET),
    }
}

/// Where the seat lies, m; an offset beyond the length gives none.
pub(in crate::facts) fn seat_by_offset(nominal: f64, offset: f64) -> Result<f64, Gap> {
    let seat = nominal - offset;
    let why = "the seat offset is longer than the nominal length";
    if seat < 0.0 { Err(Gap::absent(slot("outlet.seat_depth"), why)) } else { Ok(seat) }
}

pub(super) fn space_behind(outlet: &Outlet<'_>) -> Assumed {
    let key = outlet.word("outlet.wall")?;
    let wall = outlet.world().job().wall(&key);
    Ok(wall.map(|wall| (Value::Text(wall.space_behind.into()), "the usual space behind such a wall")))
}
