//! What each fact is worked out from, as the catalogue says it and as reading records it.

use crate::review::shared::world;
use coldsill::expr::Slot;
use coldsill::facts::{CATALOGUE, World, open_rules, reads_of};
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

fn name(world: &World, slot: Slot) -> String {
    let setting = || world.job().rules.setting(slot).map(|it| it.name.to_string());
    let fact = CATALOGUE.get(usize::from(slot.0)).map(|it| it.def.name.to_owned());
    fact.or_else(setting).expect("it is a fact or a setting")
}

/// What reading records of each fact over all outlets.
fn recorded() -> Vec<BTreeSet<String>> {
    let mut all = vec![BTreeSet::new(); CATALOGUE.len()];
    let mut take = |world: &World, outlet: &coldsill::facts::Outlet<'_>| {
        for (reads, number) in all.iter_mut().zip(0..) {
            reads.extend(outlet.reads(Slot(number)).into_iter().map(|it| name(world, it)));
        }
    };
    for world in worlds() {
        for row in &world.job().schedule.rows {
            take(&world, &world.outlet(row));
        }
    }
    let rules =
        open_rules(&Memory::new(), &coldsill::shipped::rules(), &[]).expect("the base rules are right");
    for case in rules.job().rules.rules.iter().flat_map(|it| &it.cases) {
        take(&rules, &rules.outlet_of(&case.given));
    }
    all
}

#[test]
fn the_catalogue_says_of_each_fact_exactly_what_working_it_out_reads() {
    let wrong: Vec<String> = CATALOGUE
        .iter()
        .zip(recorded())
        .filter(|(entry, found)| {
            reads_of(entry.def.name).map(str::to_owned).collect::<BTreeSet<_>>() != *found
        })
        .map(|(entry, found)| {
            format!("{}: {}", entry.def.name, found.into_iter().collect::<Vec<_>>().join(", "))
        })
        .collect();
    assert!(wrong.is_empty(), "src/facts/reads.txt should say:\n{}", wrong.join("\n"));
}
