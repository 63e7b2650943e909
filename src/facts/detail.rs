//! How an outlet goes through the wall: sleeve, flashing, seals, what its flange bears on, room in front of it.

use super::outlet::{INCH, inches, stated};
use super::reading::{OrGap, Outlet};
use super::space::wall;
use super::words::STOP_ACCESS;
use super::{Answers, Blank, Def, Kind, Source, quantity, toward};
use crate::expr::{Gap, Value};
use crate::physics::air_film::STILL_AIR_CAPACITY;
use crate::schedule::Reads;
use crate::units::{Dim, Measure, Quantity, Rounding};
use crate::wall::Layer;

const LENGTH: Measure = Measure::Of(Dim::LENGTH);
/// A layer counts as masonry or concrete from this conductivity, W/mK, and thickness on, m: the lightest block and brick
/// conduct 0.3 W/mK and more, wood and boards less than 0.2 (physics::materials); a veneer of half a block is 2 in.
const MASONRY: (f64, f64) = (0.3, 0.05);

const fn yes_no(name: &'static str, about: &'static str, headings: &'static [&'static str]) -> Def {
    stated(name, about, headings, Reads::YesNo, Blank::Unknown, Answers::All)
}

pub(super) static DEFS: &[Def] = &[
    yes_no(
        "outlet.sleeve",
        "whether it passes masonry or structure in a sleeve or a clearance hole",
        &["Sleeve", "Pipe sleeve", "Clearance hole"],
    ),
    yes_no(
        "outlet.flashing",
        "whether its flange is sealed and flashed to the weather-resistive barrier",
        &["Flashing", "Flashed", "Flange flashing"],
    ),
    yes_no(
        "outlet.fire_rated",
        "whether the wall is fire-rated where it goes through",
        &["Fire-rated wall", "Fire-rated", "Rated wall"],
    ),
    yes_no(
        "outlet.firestop",
        "whether a listed firestop is shown around it",
        &["Firestop", "Fire stop", "Firestop system", "Through-penetration firestop"],
    ),
    inches(stated(
        "outlet.clearance",
        "clear space outdoors in line with it",
        &["Clearance", "Stem clearance", "Clear space outdoors"],
        quantity(LENGTH, 0.0, 1200.0 * INCH),
        Blank::Unknown,
        Answers::Open,
    )),
    inches(stated(
        "outlet.block_thickness",
        "thickness of block, trim or veneer between the wall's finished face and the flange; none is zero",
        &["Block", "Mounting block", "Block thickness", "Trim thickness", "Under the flange", "Wedge"],
        Reads::Quantity { measure: LENGTH, least: 0.0, most: 12.0 * INCH, none: true },
        Blank::Assume(|_| {
            Ok(Some((
                Value::Quantity(Quantity::of(0.0, Dim::LENGTH)),
                "the flange is taken to bear on the wall's own finished face; a block or trim under it takes as much \
                 from the seat's depth",
            )))
        }),
        Answers::Open,
    )),
    inches(stated(
        "outlet.height",
        "height above grade outdoors",
        &["Height", "Height above grade", "Mounting height"],
        quantity(LENGTH, 0.0, 1200.0 * INCH),
        Blank::Unknown,
        Answers::Open,
    )),
    stated(
        "outlet.stop_access",
        "how the stop inside is reached",
        &["Stop access", "Access to stop"],
        Reads::Words(STOP_ACCESS),
        Blank::Unknown,
        Answers::All,
    ),
    Def {
        name: "detail.seat_from_wall_face",
        about: "wall's finished face to the seat: the seat depth less what stands under the flange",
        source: Source::Computed(Kind::Quantity(LENGTH), |outlet, own| {
            let mut gaps = Gap::default();
            let seat = outlet.number("outlet.seat_depth").or_gap(&mut gaps);
            let block = outlet.number("outlet.block_thickness").or_gap(&mut gaps);
            let (seat, block) = seat.zip(block).ok_or(gaps)?;
            let depth = seat - block;
            // What closes at the face has its seat before the wall's face, wherever its flange is.
            if depth < 0.0 && &*outlet.word("outlet.closes")? != "face" {
                return Err(Gap::absent(own, "the block is thicker than the seat is deep"));
            }
            Ok(Value::Quantity(Quantity::of(depth.max(0.0), Dim::LENGTH)))
        }),
        answers: Answers::Open,
        show: toward(("in", 2), ("mm", 0), Rounding::Down),
    },
    Def {
        name: "wall.masonry",
        about: "whether it goes through a layer of masonry or concrete",
        source: Source::Computed(Kind::YesNo, |outlet, _| {
            Ok(Value::YesNo(wall(outlet)?.layers.iter().any(is_masonry)))
        }),
        answers: Answers::Open,
        show: None,
    },
];

/// An air layer conducts as much as it carries by radiation, but holds next to no heat.
fn is_masonry(layer: &Layer) -> bool {
    let (conductivity, thickness) = MASONRY;
    layer.conductivity >= conductivity
        && layer.thickness >= thickness
        && layer.heat_capacity > 10.0 * STILL_AIR_CAPACITY
        && !layer.insulation
}

/// What stands under the flange, m.
pub(super) fn block(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    outlet.number("outlet.block_thickness")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wall::BUILT_IN;

    /// By their names: brick, block, concrete.
    #[test]
    fn the_built_in_walls_of_brick_block_and_concrete_are_masonry_and_no_others() {
        for wall in BUILT_IN.iter() {
            let named = ["brick", "block", "concrete", "cmu", "stone", "adobe"]
                .iter()
                .any(|word| wall.layers.iter().any(|it| it.name.to_lowercase().contains(word)));
            assert_eq!(wall.layers.iter().any(is_masonry), named, "{}", wall.key);
        }
    }
}
