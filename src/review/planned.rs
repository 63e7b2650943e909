//! The outlet that `coldsill depth` and `coldsill standard` place: on no schedule yet, closed inside, with a device.

use crate::diag::{Diagnostics, Location};
use crate::facts::{self, Edit, World};
use crate::schedule::Row;

/// What is stated of it, as somebody types it.
#[derive(Clone, Debug, Default)]
pub struct Planned<'p> {
    /// Key or another name of its wall.
    pub wall: &'p str,
    /// Metal of the barrel; a model has its own.
    pub barrel: Option<&'p str>,
    /// Material of the supply pipe; the job's if not stated.
    pub supply: Option<&'p str>,
    /// Insulation on the supply pipe; none or the job's if not stated.
    pub supply_insulation: Option<&'p str>,
    /// Space at the inlet; the usual one behind the wall if not stated.
    pub space: Option<&'p str>,
    /// Thickness of a block under the flange.
    pub block: Option<&'p str>,
    /// Clear space outdoors in line with it.
    pub clearance: Option<&'p str>,
    /// Whether it has an inside stop-and-waste valve within reach.
    pub inside_stop: bool,
}

impl Planned<'_> {
    /// What it states as edits of a blank row. `at` says where a value is stated, by a short name such as `wall`.
    pub fn edits(&self, world: &World, at: &dyn Fn(&str) -> Location) -> Result<Vec<Edit>, Diagnostics> {
        let job = world.job();
        let wall = job.wall(self.wall);
        let wall = wall.ok_or_else(|| vec![job.unknown_wall_error(self.wall, &at("wall"))])?;
        // A job states what is usual in it.
        let of_job = world.given_facts(&Row { number: 1, cells: Vec::new(), at: None });
        let is_stated = |name: &str| {
            let slot = facts::slot_named(name).map_or(usize::MAX, |slot| usize::from(slot.0));
            of_job.get(slot).is_some_and(Option::is_some)
        };
        let bare = (!is_stated("outlet.supply_insulation")).then_some("none");
        let device = Some("ASSE 1019 type A");
        let stated = [
            ("outlet.kind", "kind", Some("wall hydrant")),
            ("outlet.closes", "closes", Some("inside")),
            ("outlet.wall", "wall", Some(&*wall.key)),
            ("outlet.barrel", "barrel", self.barrel),
            ("outlet.supply", "supply", self.supply),
            ("outlet.supply_insulation", "supply-insulation", self.supply_insulation.or(bare)),
            ("outlet.space_behind", "space", self.space),
            ("outlet.block_thickness", "block", self.block),
            ("outlet.clearance", "clearance", self.clearance),
            ("outlet.inside_stop", "inside-stop", Some(if self.inside_stop { "yes" } else { "no" })),
            ("outlet.backflow_device", "device", device),
            ("outlet.backflow_standard", "device", device),
        ];
        let mut problems = Diagnostics::new();
        let texts = stated.into_iter().filter_map(|(fact, name, text)| Some((fact, name, text?)));
        let edits = texts.filter_map(|(fact, name, text)| problems.ok(facts::edit(fact, text, &at(name))));
        let edits = edits.collect();
        problems.or(edits)
    }
}
