//! The amendment finds nothing in the standard's own choices, and asks to revise every one that is shorter.

use crate::standard::common::{BUILDER, LISTED, builder, world};
use coldsill::input::Memory;
use coldsill::report::standard_amendment;
use coldsill::review;
use coldsill::ruleset::Outcome;
use coldsill::standard::{Place, Standard};
use std::fmt::Write as _;

const INCH: f64 = 0.0254;
/// The end of the rule's id, after the name of the amendment.
const RULE: &str = "/shorter-than-standard";

/// Reviews each cell's choice and every shorter product of its barrel at their places, with the amendment in force.
fn enforce(standard: &Standard, files: &Memory, rule: &str) -> [usize; 2] {
    let mut counts = [0; 2];
    let files = files.clone().with("amendment.yaml", standard_amendment(standard));
    for (place, cells) in standard.places.iter().zip(&standard.cells) {
        let mut schedule = String::from(
            "Mark,Kind,Closes,Model,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop,\
             Backflow standard\n",
        );
        for (setting, cell) in standard.settings.iter().zip(cells) {
            let Some(order) = cell.order else { continue };
            let own = |product: &&review::Candidate| {
                product.barrel.as_ref().is_none_or(|barrel| *barrel == setting.barrel)
            };
            let (chosen, barrel) = (&standard.products[order], &setting.barrel);
            for product in standard.products[..=order].iter().filter(own) {
                let mark = if product.length < chosen.length { "short" } else { "chosen" };
                let _ = writeln!(
                    schedule,
                    "{mark},wall hydrant,inside,{},{} in,{barrel},{},{},{},{},no,ASSE 1019 type A",
                    product.model.as_deref().unwrap_or_default(),
                    product.length / INCH,
                    setting.wall,
                    setting.space,
                    setting.supply,
                    setting.insulation.as_deref().unwrap_or("none"),
                );
            }
        }
        let found = reviewed(&files.clone().with("s.csv", schedule), place, standard);
        for outlet in &found.outlets {
            let comment = outlet.findings.comments.iter().find(|it| it.rule.id.ends_with(rule));
            let comment = comment.unwrap_or_else(|| panic!("the amendment has no {rule}"));
            let is_short = &*outlet.mark == "short";
            let wanted = if is_short { Outcome::Revise } else { Outcome::NoComment };
            assert_eq!(
                comment.outcome, wanted,
                "{}, {}: {:?}",
                place.climate.name, outlet.location, comment.values
            );
            counts[usize::from(is_short)] += 1;
        }
    }
    counts
}

fn reviewed(files: &Memory, place: &Place, standard: &Standard) -> review::Review {
    let products =
        if standard.products.iter().any(|it| it.model.is_some()) { "products: products.csv\n" } else { "" };
    let job = format!("schedule: s.csv\nclimate: {}\n{products}", place.climate.id);
    let files = files.clone().with("reviewed.yaml", job);
    review::run(&world(&files, "reviewed.yaml", None, &["amendment.yaml".into()]))
}

#[test]
fn the_builders_amendment_enforces_its_choices() {
    let counts = enforce(&BUILDER, &builder(), RULE);
    // Brass serves the rim joist in five of the cities, the 2x6 wall in all; stainless serves all.
    assert_eq!(counts[0], 41);
    assert!(counts[1] > 30, "{counts:?}");
}

#[test]
fn an_amendment_of_listed_lengths_enforces_its_choices() {
    // A garage follows outdoors by seven tenths: at Atlanta's 6 °F it is at 24.6 °F, and no length is enough anywhere.
    let in_garage = |setting: &coldsill::standard::Setting| &*setting.space == "garage";
    assert!(LISTED.all().filter(|(_, setting, _)| in_garage(setting)).all(|(.., cell)| cell.order.is_none()));
    let served = LISTED.all().filter(|(.., cell)| cell.order.is_some()).count();
    let counts = enforce(&LISTED, &Memory::new(), RULE);
    // Of the heated room, four places by two supplies and two barrels.
    assert!(counts[0] == served && (9..=16).contains(&served) && counts[1] > 20, "{counts:?}");
}

#[test]
fn an_amendment_passes_its_own_cases() {
    let files = Memory::new().with("amendment.yaml", standard_amendment(&LISTED));
    let world = coldsill::facts::open_rules(&files, &coldsill::shipped::rules(), &["amendment.yaml".into()])
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    // Cases of the base rules are about the base rules, without its margin.
    let own = review::try_cases(&world).into_iter().filter(|case| case.rule.ends_with(RULE));
    let (held, failed): (Vec<_>, Vec<_>) = own.partition(|case| case.found == case.wanted);
    assert_eq!((held.len(), failed), (3, Vec::new()));
}
