//! The catalogue of facts and the base rules, walked.

use crate::review::shared::world;
use coldsill::facts::{CATALOGUE, Source, VOCABULARY};
use coldsill::input::Memory;
use coldsill::review::{lacking_cases, try_cases};
use std::collections::BTreeSet;

#[test]
fn every_fact_has_a_unique_name_and_a_description() {
    let mut names = BTreeSet::new();
    for entry in CATALOGUE.iter() {
        let name = entry.def.name;
        let (topic, fact) = name.split_once('.').unwrap_or_else(|| panic!("{name} has no topic"));
        let plain = |it: &str| it.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '_');
        assert!(plain(topic) && plain(fact), "{name}");
        assert!(!entry.def.about.is_empty(), "{name}");
        assert!(names.insert(name), "{name} twice");
    }
}

#[test]
fn no_heading_stands_for_two_facts() {
    let mut seen: BTreeSet<String> = BTreeSet::new();
    for heading in VOCABULARY.0.iter().flat_map(|term| term.aliases) {
        assert!(seen.insert(heading.to_lowercase()), "{heading} twice");
    }
}

#[test]
fn every_column_the_trade_gives_a_schedule_is_understood() {
    let headings = [
        "Mark",
        "Quantity",
        "Location",
        "Kind",
        "Closes",
        "Nominal length",
        "Seat depth",
        "Barrel",
        "Barrel diameter",
        "Barrel thickness",
        "Stem",
        "Stem diameter",
        "Wall",
        "Space behind",
        "Supply",
        "Supply size",
        "Supply run",
        "Supply insulation",
        "Backflow device",
        "Self-draining",
        "Slope",
        "Fasteners",
        "Flange",
        "Gasket",
        "Inlet",
        "Joint",
        "Inside stop",
        "Description",
        "Notes",
    ];
    for heading in headings {
        assert!(VOCABULARY.0.iter().any(|term| term.aliases.contains(&heading)), "{heading}");
    }
}

#[test]
fn every_case_of_every_base_rule_comes_out_as_wanted() {
    let files = Memory::new();
    let base = coldsill::shipped::rules();
    let world = coldsill::facts::open_rules(&files, &base, &[]).unwrap();
    let results = try_cases(&world);
    assert!(results.len() >= 3 * world.job().rules.rules.len(), "{} cases", results.len());
    for it in results {
        assert_eq!(it.found, it.wanted, "{} / {} at {}", it.rule, it.case, it.location);
    }
}

#[test]
fn a_rule_that_can_be_open_has_a_case_that_is() {
    let world = world(&Memory::new().with("s.csv", "Mark,Kind\nA,sillcock\n"), "s.csv", Some("miami-fl"));
    let lacking = lacking_cases(&world);
    assert_eq!(lacking, [], "each is open without some fact and has no case that is clarified");
}

/// Whether it applies is known once the length is stated; then only the gasket is missing.
#[test]
fn a_rule_that_is_open_beside_a_stated_fact_has_no_case_that_shows_it() {
    let house = "amendment: house\nabout: Gaskets.\nadd:\n  - id: gasket\n    title: A length without a gasket\n    \
                 basis: company\n    why: To see it.\n    applies: stated(outlet.nominal_length)\n    \
                 needs: outlet.gasket\n    outcome: revise\n    says: No gasket.\n    cases:\n      \
                 - { name: none, given: {}, gives: does not apply }\n      \
                 - { name: tight, given: { outlet.nominal_length: 8 in, outlet.gasket: yes }, gives: no comment }\n      \
                 - { name: bare, given: { outlet.nominal_length: 8 in, outlet.gasket: no }, gives: revise }\n";
    let files = Memory::new().with("house.yaml", house);
    let rules = coldsill::shipped::rules();
    let world = coldsill::facts::open_rules(&files, &rules, &["house.yaml".to_owned()]).unwrap();
    let lacking = lacking_cases(&world);
    let lacking: Vec<(&str, Vec<&str>)> =
        lacking.iter().map(|it| (&*it.rule, it.without.iter().map(|name| &**name).collect())).collect();
    assert_eq!(lacking, [("house/gasket", vec!["outlet.gasket"])]);
}

#[test]
fn a_column_and_a_type_stand_behind_every_stated_fact() {
    let stated = CATALOGUE.iter().filter(|it| matches!(it.def.source, Source::Stated { .. })).count();
    assert_eq!(stated, VOCABULARY.0.len());
}
