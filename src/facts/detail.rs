//! How an outlet goes through the wall: sleeve, flashing, seals, what is under its flange, room in front of it.

use super::columns::{CLOSES_AT, SEAT_DEPTH};
use super::def::RangeEnd::{High, Low};
use super::def::{
    LENGTH, computed_quantity, computed_yes_no, facts, stated_length, stated_thickness, stated_word,
    stated_yes_no,
};
use super::outlet::{All, Outlet};
use super::space::wall;
use super::words::STOP_ACCESS;
use crate::expr::{Value, ValueOrGap};
use crate::job::Scope;
use crate::physics::air_film::STILL_AIR_CAPACITY;
use crate::units::{Dim, Quantity, Rounding};
use crate::wall::Layer;

/// A layer counts as masonry or concrete from this conductivity, W/mK, and thickness on, m: the lightest block and brick
/// conduct 0.3 W/mK and more, wood and boards less than 0.2 (physics::materials); a veneer of half a block is 2 in.
const MASONRY: (f64, f64) = (0.3, 0.05);

facts! {
    AIR_SEALED = stated_yes_no("outlet.air_sealed", "whether the hole around it is sealed against room air")
        .headings(&["Air sealed", "Air sealing", "Air seal", "Penetration sealed"]);
    SLEEVE = stated_yes_no("outlet.sleeve", "whether it passes masonry or structure in a sleeve or a clearance hole")
        .headings(&["Sleeve", "Pipe sleeve", "Clearance hole"])
        .question("Does it pass masonry or structure in a sleeve or a clearance hole?")
        .scope(Scope::Mounting);
    FLASHING = stated_yes_no(
        "outlet.flashing",
        "whether its flange is sealed and flashed to the weather-resistive barrier",
    )
        .headings(&["Flashing", "Flashed", "Flange flashing"])
        .question("Is its flange sealed and flashed to the weather-resistive barrier?")
        .scope(Scope::Use);
    FIRE_RATED = stated_yes_no("outlet.fire_rated", "whether the wall is fire-rated where it goes through")
        .headings(&["Fire-rated wall", "Fire-rated", "Rated wall"])
        .question("Is the wall fire-rated where it goes through?")
        .scope(Scope::Mounting);
    FIRESTOP = stated_yes_no("outlet.firestop", "whether a listed firestop is shown around it")
        .headings(&["Firestop", "Fire stop", "Firestop system", "Through-penetration firestop"])
        .question("Is a listed firestop shown around it?")
        .scope(Scope::Mounting);
    CLEARANCE = stated_length("outlet.clearance", "clear space outdoors in line with it", [0.0, 1200.0])
        .headings(&["Clearance", "Stem clearance", "Clear space outdoors"])
        .question_such_as("How much clear space is there outdoors in line with it?", "24 in")
        .scope(Scope::Mounting)
        .range(Low("calculations use the shorter end"));
    BLOCK_THICKNESS = stated_thickness(
        "outlet.block_thickness",
        "thickness of block, trim or veneer between the wall's finished face and the flange; none is zero",
        12.0,
    )
        .headings(&["Block", "Mounting block", "Block thickness", "Trim thickness", "Under the flange", "Wedge"])
        .question_such_as(
            "How thick is the block, trim or veneer between the wall's finished face and the flange, if any?",
            "none or 1 1/2 in",
        )
        .scope(Scope::Mounting)
        .assume(|_| Ok(Some((
            Value::Quantity(Quantity::of(0.0, Dim::LENGTH)),
            "the flange is on the wall's own finished face; a block or trim under it takes as much from the seat depth",
        ))))
        .range(High("calculations use the thicker end, which takes most from the seat depth"));
    HEIGHT = stated_length("outlet.height", "height above grade outdoors", [0.0, 1200.0])
        .headings(&["Height", "Height above grade", "Mounting height", "Mtg ht", "Mounting ht", "Mount ht", "Mtg height"])
        .question_such_as("How high above grade is it?", "24 in")
        .scope(Scope::Mounting);
    ACCESS = stated_word("outlet.stop_access", "how the stop inside is reached", STOP_ACCESS)
        .headings(&["Stop access", "Access to stop"])
        .question("How is the stop inside reached?")
        .scope(Scope::Mounting);
    SEAT_FROM_WALL_FACE = computed_quantity(
        "detail.seat_from_wall_face",
        "wall's finished face to the seat: the seat depth less the block or trim under the flange",
        LENGTH,
        seat_from_wall_face,
    )
        .show(("in", 2), ("mm", 0), Rounding::Down);
    THROUGH_MASONRY = computed_yes_no(
        "wall.masonry",
        "whether it goes through a layer of masonry or concrete",
        |outlet| {
            Ok(Value::YesNo(wall(outlet)?.layers.iter().any(is_masonry)))
        },
    );
}

fn seat_from_wall_face(outlet: &Outlet<'_>) -> ValueOrGap {
    let (seat, block) = (outlet.quantity(SEAT_DEPTH), outlet.number(BLOCK_THICKNESS)).all()?;
    // A valve that closes at the face has its seat outside the wall's face, wherever its flange is.
    if seat.is < block && &*outlet.word(CLOSES_AT)? != "face" {
        return Err(outlet.absent("the block is thicker than the seat is deep"));
    }
    let [low, is, high] = [seat.low, seat.is, seat.high].map(|seat| (seat - block).max(0.0));
    Ok(Value::Quantity(Quantity::of(is, Dim::LENGTH).within(low, high)))
}

/// An air layer conducts as much as it carries by radiation, but holds next to no heat.
fn is_masonry(layer: &Layer) -> bool {
    let (conductivity, thickness) = MASONRY;
    layer.conductivity >= conductivity
        && layer.thickness >= thickness
        && layer.heat_capacity > 10.0 * STILL_AIR_CAPACITY
        && !layer.insulation
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wall::BUILT_IN;

    /// By their names: brick, block, concrete.
    #[test]
    fn built_in_walls_of_brick_block_and_concrete_are_masonry() {
        for wall in BUILT_IN.iter() {
            let named = ["brick", "block", "concrete", "cmu", "stone", "adobe"]
                .iter()
                .any(|word| wall.layers.iter().any(|it| it.name.to_lowercase().contains(word)));
            assert_eq!(wall.layers.iter().any(is_masonry), named, "{}", wall.key);
        }
    }
}
