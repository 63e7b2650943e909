//! What each fact reads, found by computing it for a few sample outlets.

use super::backflow::HOSE_LEFT_ON;
use super::catalogue::{CATALOGUE, slot};
use super::columns::{
    BACKFLOW_DEVICE, BACKFLOW_STANDARD, BARREL, CLOSES_AT, FASTENERS, FLANGE, INLET, JOINT, KIND,
    NOMINAL_LENGTH, SEAT_DEPTH, SPACE_BEHIND, SUPPLY, SUPPLY_INSULATION, WALL,
};
use super::def::{Def, Source};
use super::detail::{AIR_SEALED, BLOCK_THICKNESS};
use super::hydrant::BURY_DEPTH;
use super::ice::{BLOCKED, HOSE_ON_BLOCKED};
use super::rows::value;
use super::world::World;
use crate::climate::{AnnualLow, Climate};
use crate::expr::{Slot, Value};
use crate::schedule::{self, read_cell};
use std::collections::BTreeSet;
use std::sync::Arc;

type Sample = &'static [(&'static Def, &'static str)];

/// Outlets that between them take every path through the calculations: one that closes inside, one that closes at the face
/// on a block, one with its hose left on, one with a bare supply in a crawlspace, a yard hydrant that ice blocks, and one of which nothing is stated.
const SAMPLES: [Sample; 6] = [
    &[
        (KIND, "wall hydrant"),
        (CLOSES_AT, "inside"),
        (NOMINAL_LENGTH, "10 in"),
        (BARREL, "copper"),
        (WALL, "2x6-siding"),
        (SUPPLY, "PEX"),
        (SUPPLY_INSULATION, "1/2 in"),
        (BACKFLOW_DEVICE, "integral vacuum breaker"),
        (FASTENERS, "stainless"),
        (FLANGE, "brass"),
        (INLET, "threaded"),
        (JOINT, "threaded"),
        (AIR_SEALED, "no"),
    ],
    &[
        (KIND, "sillcock"),
        (SEAT_DEPTH, "0 in"),
        (BLOCK_THICKNESS, "1 in"),
        (BARREL, "brass"),
        (WALL, "2x6-siding"),
        (SUPPLY, "copper"),
        (SUPPLY_INSULATION, "none"),
        (AIR_SEALED, "no"),
    ],
    &[(CLOSES_AT, "inside"), (HOSE_LEFT_ON, "yes"), (HOSE_ON_BLOCKED, "no")],
    &[(SPACE_BEHIND, "crawlspace"), (SUPPLY_INSULATION, "none")],
    &[(KIND, "yard hydrant"), (BURY_DEPTH, "48 in"), (BACKFLOW_STANDARD, "ASSE 1057"), (BLOCKED, "yes")],
    &[],
];

/// What each fact reads while it is computed.
pub struct FactDependencies(Vec<BTreeSet<Slot>>);

impl FactDependencies {
    /// Computes every fact of the sample outlets by the rules of a world, with a climate and without one.
    pub fn of(world: &World) -> Self {
        let without = world.job().clone();
        let mut with = without.clone();
        with.climate = Arc::new(Climate {
            heating_990: Some(253.15),
            coldest_month_mean: Some(265.15),
            annual_low: Some(AnnualLow { mean: 243.15, deviation: 4.0, winters: None, is_elsewhere: false }),
            ..Climate::unknown()
        });
        with.design.low = Some(243.15);
        let mut reads = vec![BTreeSet::new(); CATALOGUE.len()];
        for world in [without, with].map(World::new) {
            for sample in SAMPLES {
                let given: Vec<_> = sample.iter().filter_map(|(def, text)| stated(def, text)).collect();
                let outlet = world.outlet_of(&given);
                for (own, number) in reads.iter_mut().zip(0..) {
                    own.extend(outlet.reads(Slot(number)));
                }
            }
        }
        Self(reads)
    }

    /// The facts and settings that a fact reads.
    pub fn of_fact(&self, fact: Slot) -> impl Iterator<Item = Slot> {
        self.0.get(usize::from(fact.0)).into_iter().flatten().copied()
    }

    /// The facts that read a fact or setting.
    pub fn readers_of(&self, fact: Slot) -> impl Iterator<Item = Slot> {
        (0..).map(Slot).zip(&self.0).filter(move |(_, reads)| reads.contains(&fact)).map(|(slot, _)| slot)
    }
}

/// A fact with the value that a cell would give it.
fn stated(def: &Def, text: &str) -> Option<(Slot, Value)> {
    let reads = match &def.source {
        Source::Stated { reads, .. } => reads,
        Source::Found(..) | Source::Computed(..) => &schedule::CellType::YesNo,
    };
    Some((slot(def), value(&read_cell(reads, text, None).ok()?)))
}
