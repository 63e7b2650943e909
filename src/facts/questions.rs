//! How a fact is asked for: a sentence a person can answer, and an example where no list of answers can be made.

use super::{entry, heading, slot};
use crate::expr::Slot;
use std::collections::BTreeSet;
use std::sync::{Arc, LazyLock};

/// How a fact is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Asked {
    /// The sentence.
    pub sentence: Arc<str>,
    /// What an answer looks like, where it is not one of a few words.
    pub example: Option<&'static str>,
}

/// What a fact is of: the outlet itself, or the place where it is put.
#[derive(Clone, Copy, PartialEq)]
enum Of {
    Outlet,
    Place,
}
use Of::{Outlet, Place};

/// Fact, sentence, example.
type Row = (&'static str, Of, &'static str, Option<&'static str>);

static SENTENCES: &[Row] = &[
    ("outlet.mark", Place, "What is its mark on the plan?", Some("HB-1")),
    ("outlet.quantity", Place, "How many are there?", Some("12")),
    ("outlet.location", Place, "Where is it?", Some("North side")),
    ("outlet.kind", Outlet, "What kind of outlet is it?", None),
    ("outlet.closes", Outlet, "Where does its valve close?", None),
    ("outlet.nominal_length", Outlet, "What nominal length is ordered?", Some("8 in, 10 in or 12 in")),
    ("outlet.seat_depth", Outlet, "How deep is the seat, from the exterior finished face?", Some("9 in")),
    ("outlet.seat_offset", Outlet, "How much does the seat lie short of the nominal length?", Some("3/4 in")),
    ("outlet.barrel", Outlet, "What metal is the barrel?", None),
    ("outlet.barrel_diameter", Outlet, "What is the outside diameter of the barrel's tube?", Some("7/8 in")),
    ("outlet.barrel_thickness", Outlet, "How thick is the barrel's tube?", Some("0.049 in")),
    ("outlet.stem", Outlet, "What metal is the stem?", None),
    ("outlet.stem_diameter", Outlet, "What is the stem's diameter?", Some("5/16 in")),
    (
        "outlet.wall",
        Place,
        "Which wall does it go through?",
        Some("2x6-siding (`coldsill walls` lists them)"),
    ),
    ("outlet.space_behind", Place, "What space is around its inlet?", None),
    ("outlet.supply", Place, "What is the supply pipe made of?", None),
    ("outlet.supply_size", Place, "What nominal size is the supply pipe?", Some("1/2 in or 3/4 in")),
    ("outlet.supply_run", Place, "How long is the supply in the space behind?", Some("24 in")),
    ("outlet.supply_insulation", Place, "How thick is the insulation on the supply pipe, if any?", None),
    ("outlet.backflow_device", Outlet, "What backflow device is at the hose thread?", None),
    ("outlet.backflow_standard", Outlet, "To which standard is its backflow device listed?", None),
    ("outlet.self_draining", Outlet, "Does it drain by itself when it closes?", None),
    ("outlet.slope", Place, "How does the barrel fall? Positive is towards outdoors.", Some("1/4 in/ft")),
    ("outlet.fasteners", Outlet, "What metal are the fasteners through the flange?", None),
    ("outlet.flange", Outlet, "What metal is the flange?", None),
    ("outlet.cover", Place, "Does an insulating cover go over it in winter?", None),
    ("outlet.gasket", Outlet, "Does a gasket seal the flange?", None),
    ("outlet.inlet", Outlet, "What kind of inlet does it have?", None),
    ("outlet.joint", Place, "How is the supply joined to its inlet?", None),
    ("outlet.inside_stop", Place, "Is there a stop-and-waste valve inside that can be reached?", None),
    ("outlet.stop_access", Place, "How is the stop inside reached?", None),
    ("outlet.description", Place, "What does the schedule call it?", None),
    ("outlet.notes", Place, "What is to be noted of it?", None),
    ("outlet.model", Outlet, "Which model is it?", None),
    ("outlet.serves", Place, "What does it serve?", None),
    ("outlet.hose_rise", Place, "How far above the outlet can the hose's end be carried?", Some("6 ft")),
    (
        "outlet.check_valve",
        Place,
        "Does a check valve or a pressure-reducing valve stand upstream of it?",
        None,
    ),
    ("outlet.cladding", Place, "What does the flange bear on?", None),
    ("outlet.blocking", Place, "What is the flange fastened to?", None),
    ("outlet.sleeve", Place, "Does it pass masonry or structure in a sleeve or a clearance hole?", None),
    ("outlet.flashing", Place, "Is its flange sealed and flashed to the weather-resistive barrier?", None),
    ("outlet.fire_rated", Place, "Is the wall fire-rated where it goes through?", None),
    ("outlet.firestop", Place, "Is a listed firestop shown around it?", None),
    ("outlet.clearance", Place, "How much clear space is there outdoors in line with it?", Some("24 in")),
    (
        "outlet.block_thickness",
        Place,
        "How thick is the block, trim or veneer between the wall's finished face and the flange, if any?",
        Some("none or 1 1/2 in"),
    ),
    ("outlet.height", Place, "How high above grade is it?", Some("24 in")),
    ("outlet.bury_depth", Place, "How deep below grade is the hydrant's valve?", Some("48 in")),
    ("outlet.drains_to_soil", Outlet, "Does the hydrant's barrel drain into the ground?", None),
    (
        "outlet.upstream_device",
        Place,
        "Does a backflow preventer upstream protect the potable supply, and is the hydrant marked non-potable?",
        None,
    ),
    ("outlet.heat_cable", Place, "Does a heat cable keep its supply from freezing?", None),
];

/// How a fact is asked for. One without a sentence of its own is asked for by what it is.
pub fn asked(slot: Slot) -> Asked {
    let def = entry(slot).map(|entry| entry.def);
    let own = SENTENCES.iter().find(|(name, ..)| def.is_some_and(|def| def.name == *name));
    if let Some((_, _, sentence, example)) = own {
        return Asked { sentence: (*sentence).into(), example: *example };
    }
    let sentence = match def.map(|def| def.about) {
        Some(about) if about.starts_with("whether ") => format!("Please say {about}."),
        Some(about) => format!("Please say of {}: {about}.", heading(slot).to_lowercase()),
        None => format!("What is the {}?", heading(slot).to_lowercase()),
    };
    Asked { sentence: sentence.into(), example: None }
}

/// The stated facts that are not of the outlet itself but of the place where it is put, in the order of the catalogue.
pub fn of_the_place() -> &'static BTreeSet<Slot> {
    static SLOTS: LazyLock<BTreeSet<Slot>> = LazyLock::new(|| {
        let those = SENTENCES.iter().filter(|(_, of, ..)| *of == Place);
        those.map(|(name, ..)| slot(name)).collect()
    });
    &SLOTS
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::facts::{CATALOGUE, Source};

    #[test]
    fn every_sentence_is_of_a_fact_that_can_be_stated_and_each_has_one() {
        for (name, _, sentence, _) in SENTENCES {
            let fact = CATALOGUE.iter().find(|it| it.def.name == *name);
            assert!(fact.is_some_and(|it| matches!(it.def.source, Source::Stated { .. })), "{name}");
            assert_eq!(SENTENCES.iter().filter(|it| it.0 == *name).count(), 1, "{name}");
            assert!(sentence.contains('?') && sentence.starts_with(char::is_uppercase), "{sentence}");
        }
    }
}
