//! What each fact reads: what the sample run of `coldsill facts` finds, and what real outlets record.

use crate::review::shared::world;
use coldsill::expr::Slot;
use coldsill::facts::{CATALOGUE, FactDependencies, World, open_rules};
use coldsill::input::Memory;
use std::collections::BTreeSet;
use std::path::Path;

/// Outlets that between them take every way through the calculations: those of an example, the
/// rules' own cases, and some that are odd.
const ODD: &str = include_str!("data/odd-outlets.csv");

fn example(folder: &str, files: &[&str]) -> Memory {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(folder);
    files.iter().fold(Memory::new(), |memory, name| {
        memory.with(name, std::fs::read_to_string(root.join(name)).expect("the example is there"))
    })
}

pub fn worlds() -> Vec<World> {
    let odd = Memory::new().with("s.csv", ODD);
    let bare = "climate: { name: High post, design_low: -20 °F }\nschedule: s.csv\n";
    let damp = "climate: duluth-mn\nschedule: s.csv\nexposure: coastal\nsoil: silt\n\
                authority: { winter_temperature: -10 °F, frost_depth: 60 in, freezing_index: 2000 °F·days, \
                outlet_height: 18 in }\n\
                spaces: { basement: { temperature: 60 °F, humidity: 40 %, time constant: 20 h }, crawlspace: { factor: 20 % } }\n\
                spell: { days: 2, swing: 8 °F, start: 20 °F }\n";
    vec![
        world(&example("product-data", &["job.yaml", "schedule.csv", "outlets.csv"]), "job.yaml", None),
        world(&odd.clone().with("j.yaml", bare), "j.yaml", None),
        world(&odd.with("j.yaml", damp), "j.yaml", None),
    ]
}

#[test]
fn sample_run_finds_everything_that_real_outlets_read() {
    let rules =
        open_rules(&Memory::new(), &coldsill::shipped::rules(), &[]).expect("the base rules are right");
    let found = FactDependencies::of(&rules);
    let mut seen = vec![BTreeSet::new(); CATALOGUE.len()];
    let mut check = |outlet: &coldsill::facts::Outlet<'_>| {
        for ((entry, own), slot) in CATALOGUE.iter().zip(&mut seen).zip((0..).map(Slot)) {
            let known: BTreeSet<Slot> = found.of_fact(slot).collect();
            let reads = outlet.reads(slot);
            assert!(reads.is_subset(&known), "{}: {reads:?} beside {known:?}", entry.def.name);
            own.extend(reads);
        }
    };
    for world in worlds() {
        for row in &world.job().schedule.rows {
            check(&world.outlet(row));
        }
    }
    for case in rules.job().rules.rules.iter().flat_map(|it| &it.cases) {
        check(&rules.outlet_of(&case.given));
    }
    // The samples read nothing that no outlet reads.
    for ((entry, own), slot) in CATALOGUE.iter().zip(&seen).zip((0..).map(Slot)) {
        assert_eq!(own, &found.of_fact(slot).collect::<BTreeSet<_>>(), "{}", entry.def.name);
    }
}
