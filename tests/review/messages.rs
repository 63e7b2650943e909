//! What rules say: every value is among the comment's, in the reader's units, on the safe side, in whole sentences.

use crate::review::shared::world;
use crate::review::trail::worlds;
use crate::rows::by_row;
use coldsill::expr::{Part, Slot, Value};
use coldsill::facts::{CATALOGUE, World};
use coldsill::input::Memory;
use coldsill::report;
use coldsill::review::{self, Comment, Piece, Review};
use coldsill::ruleset::Rule;
use coldsill::units::{Measure, Quantity, Rounding, System, figures, find_unit, parse};
use regex::Regex;
use std::collections::BTreeSet;
use std::sync::LazyLock;

static REVIEWS: LazyLock<Vec<Review>> = LazyLock::new(|| worlds().iter().map(review::run).collect());

/// Units that a reader of either system does not use. A time, a share and a nominal size are the same in both.
fn foreign(system: System) -> Regex {
    let units = match system {
        System::Us => r"\d ?(mm|cm|mL|kPa|kg|W|W/K|m²K/W)\b|°C",
        System::Si => r"\d ?(in|ft|psi|fl oz|lb|gal|Btu\S*)\b|°F|in/ft|in per ft",
    };
    Regex::new(units).expect("it is a pattern")
}

fn comments() -> impl Iterator<Item = &'static Comment> {
    REVIEWS.iter().flat_map(|it| &it.outlets).flat_map(|it| &it.findings.comments)
}

fn named(slot: Slot, world: &World) -> String {
    let setting = || world.job().rules.setting(slot).map(|it| it.name.to_string());
    let fact = CATALOGUE.get(usize::from(slot.0)).map(|it| it.def.name.to_owned());
    fact.or_else(setting).expect("it is a fact or a setting")
}

#[test]
fn every_value_in_a_wording_is_among_the_values_of_the_comment() {
    let mut speaking = BTreeSet::new();
    for comment in comments().filter(|it| !it.says.is_empty()) {
        let values: BTreeSet<&str> = comment.values.iter().map(|it| &*it.name).collect();
        for piece in comment.says.iter().chain(comment.remedy.iter().flatten()).flatten() {
            if let Piece::Value(shown) = piece {
                let own = comment.values.iter().find(|it| it.name == shown.name);
                assert!(values.contains(&*shown.name), "{}: {}", comment.rule.id, shown.name);
                assert_eq!(
                    own.map(|it| &it.value),
                    Some(&shown.value),
                    "{}: {}",
                    comment.rule.id,
                    shown.name
                );
            }
        }
        speaking.insert(comment.rule.id.clone());
    }
    assert!(speaking.len() > 35, "{} rules speak", speaking.len());
}

#[test]
fn every_name_in_the_wording_of_every_rule_is_a_fact_or_setting_with_a_heading() {
    let world = world(&Memory::new().with("s.csv", "Mark,Kind\nA,sillcock\n"), "s.csv", Some("duluth-mn"));
    for rule in &world.job().rules.rules {
        for slot in std::iter::once(&rule.says).chain(&rule.remedy).flat_map(|it| it.slots()) {
            assert!(named(slot, &world).contains(['.', '/']), "{}", rule.id);
        }
    }
}

/// The plain parts of a rule's wording, its title and its reason.
fn plain_parts(rule: &Rule) -> Vec<String> {
    let parts =
        std::iter::once(&rule.says).chain(&rule.remedy).flat_map(|it| it.sentences().iter().flatten());
    let texts = parts.filter_map(|it| match it {
        Part::Text(text) => Some(text.to_string()),
        Part::Figure(text, _) => Some(format!("{{= {text}}}")),
        Part::Slot(_) => None,
    });
    texts.chain([rule.title.to_string(), rule.why.to_string()]).collect()
}

#[test]
fn no_rule_has_a_figure_in_its_wording_that_does_not_follow_the_readers_units() {
    let world = world(&Memory::new().with("s.csv", "Mark,Kind\nA,sillcock\n"), "s.csv", Some("duluth-mn"));
    for system in [System::Us, System::Si] {
        for rule in &world.job().rules.rules {
            for text in plain_parts(rule) {
                let said = figures(&text, system);
                assert!(!foreign(system).is_match(&said), "{}: {said}", rule.id);
                assert!(!said.contains("{="), "{}: {said}", rule.id);
            }
        }
    }
}

fn json(review: &Review, system: System) -> serde_json::Value {
    let mut bytes = Vec::new();
    report::json(review, system, &mut bytes).expect("memory can be written to");
    by_row(serde_json::from_slice(&bytes).expect("it is JSON"))
}

#[test]
fn every_reason_and_comment_of_a_review_is_in_the_readers_units() {
    for (system, review) in
        [System::Us, System::Si].iter().flat_map(|it| REVIEWS.iter().map(move |r| (*it, r)))
    {
        let all = json(review, system);
        let comments = all["outlets"]
            .as_array()
            .into_iter()
            .flatten()
            .flat_map(|it| it["comments"].as_array())
            .flatten();
        let said = comments.flat_map(|it| [&it["text"], &it["remedy"]]);
        let reasons = all["assumed"].as_array().into_iter().flatten().map(|it| &it["why"]);
        let facts =
            all["outlets"].as_array().into_iter().flatten().flat_map(|it| it["facts"].as_object()).flatten();
        let lacking = facts.clone().filter_map(|(_, it)| it.get("absent"));
        let whys = facts.filter(|(_, it)| it["from"] == "assumed").map(|(_, it)| &it["why"]);
        let mut seen = 0;
        for text in said.chain(reasons).chain(whys).chain(lacking).filter_map(|it| it.as_str()) {
            assert!(!foreign(system).is_match(text), "{text}");
            assert!(!text.contains("{="), "{text}");
            seen += 1;
        }
        assert!(seen > 10, "{seen}");
    }
}

#[test]
fn no_sentence_of_a_comment_is_broken_by_a_value_that_is_not_known() {
    for review in REVIEWS.iter() {
        let all = json(review, System::Us);
        let comments = all["outlets"]
            .as_array()
            .into_iter()
            .flatten()
            .flat_map(|it| it["comments"].as_array())
            .flatten();
        for text in comments.flat_map(|it| [&it["text"], &it["remedy"]]).filter_map(|it| it.as_str()) {
            assert!(!text.contains("unknown"), "{text}");
            // Whatever lacks is said in a sentence of its own.
            for (at, _) in text.match_indices("Unknown") {
                assert!(at == 0 || text[..at].ends_with(". "), "{text}");
            }
        }
    }
}

/// One step of the last place that is printed, SI.
fn step(quantity: &Quantity, (unit, places): (&'static str, usize)) -> f64 {
    let tenth = 10_f64.powi(-i32::try_from(places).expect("few places"));
    let Some(unit) = find_unit(unit) else { return tenth };
    let number = unit.from_si(quantity.is, quantity.measure).expect("the unit measures it");
    let at = |number| unit.to_si(number, quantity.measure).expect("the unit measures it");
    (at(number + tenth) - at(number)).abs()
}

/// A printed figure, read back.
fn read_back(text: &str, measure: Measure) -> f64 {
    parse(text, measure).unwrap_or_else(|it| panic!("{text}: {it:?}")).is
}

#[test]
fn every_figure_of_a_comment_read_back_lies_on_its_safe_side() {
    let mut seen = 0;
    for shown in comments().flat_map(|it| &it.values) {
        let Ok(Value::Quantity(quantity)) = &shown.value else { continue };
        for system in [System::Us, System::Si] {
            let text = shown.show.value(quantity, system);
            let printed = read_back(&text, quantity.measure);
            let step = step(quantity, shown.show.form(system));
            // The printer lets a millionth of a step pass for noise of conversion.
            let noise = 2e-6 * step + 1e-12 * quantity.is.abs();
            let more = printed - quantity.is;
            let is_safe = match shown.show.side() {
                Rounding::Up => more >= -noise && more < step + noise,
                Rounding::Down => more <= noise && more > -step - noise,
                Rounding::Nearest => more.abs() <= step / 2.0 + noise,
            };
            assert!(is_safe, "{} {quantity:?} is printed {text}, {:?}", shown.name, shown.show.side());
            if quantity.is_banded() {
                let end = |side, is| {
                    let show = shown.show.toward(side);
                    read_back(&show.value(&Quantity::exact(is, quantity.measure), system), quantity.measure)
                };
                assert!(end(Rounding::Down, quantity.low) <= quantity.low + noise, "{}", shown.name);
                assert!(end(Rounding::Up, quantity.high) >= quantity.high - noise, "{}", shown.name);
            }
            seen += 1;
        }
    }
    assert!(seen > 800, "{seen}");
}

#[test]
fn a_share_that_is_set_in_percent_is_said_in_percent() {
    let all = comments().flat_map(|it| &it.values).filter(|it| &*it.name == "piping/least_outboard");
    let said: BTreeSet<String> = all.map(|it| report::value(it, System::Us)).collect();
    assert_eq!(said, BTreeSet::from(["50 %".to_owned()]));
}
