//! Descriptions against the facts they state.

use coldsill::facts::VOCABULARY;
use coldsill::schedule::{CellValue, parse_description, read_cell};
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    /// What the file is about; read by people.
    #[serde(rename = "about")]
    _about: String,
    cases: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    text: String,
    /// By fact: its value, and the words it came from.
    facts: BTreeMap<String, [String; 2]>,
    #[serde(default)]
    doubtful: Vec<String>,
    #[serde(default)]
    odds: Vec<String>,
    left: Option<Vec<String>>,
}

fn cases() -> Vec<Case> {
    let file: File = serde_saphyr::from_str(include_str!("descriptions.yaml")).unwrap();
    file.cases
}

fn term(fact: &str) -> usize {
    let found = VOCABULARY.0.iter().position(|term| term.fact == fact);
    found.unwrap_or_else(|| panic!("{fact} is no fact of a schedule"))
}

fn value(fact: &str, text: &str) -> CellValue {
    read_cell(&VOCABULARY.0[term(fact)].reads, text, None)
        .unwrap_or_else(|it| panic!("{fact}: {text}: {it:?}"))
}

#[test]
fn descriptions_state_their_facts_and_no_others() {
    let mut wrong = Vec::new();
    for case in cases() {
        let description = parse_description(&case.text, &VOCABULARY.0);
        let name = |term: usize| VOCABULARY.0[term].fact.to_owned();
        let found: BTreeMap<String, (CellValue, String)> = description
            .stated
            .iter()
            .map(|it| (name(it.term), (it.value.clone(), it.words.clone())))
            .collect();
        let wanted: BTreeMap<String, (CellValue, String)> = case
            .facts
            .iter()
            .map(|(fact, [text, words])| (fact.clone(), (value(fact, text), words.clone())))
            .collect();
        let doubtful: Vec<String> = description.open.iter().map(|(words, _)| words.clone()).collect();
        let odds: Vec<String> = description.contradictions.iter().map(|(term, _)| name(*term)).collect();
        let left = case.left.as_ref().is_none_or(|it| *it == description.unknown);
        if found != wanted || doubtful != case.doubtful || odds != case.odds || !left {
            wrong.push(format!(
                "{}\n    {found:?}\n    doubtful {doubtful:?}, odds {odds:?}, left {:?}",
                case.text, description.unknown
            ));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn there_are_at_least_60_descriptions() {
    assert!(cases().len() >= 60, "{}", cases().len());
}

#[test]
fn unclear_facts_are_not_read_and_are_reported() {
    let mut wrong = Vec::new();
    for line in include_str!("not_taken.txt").lines().filter(|it| !it.starts_with('#')) {
        let (fact, text) = line.split_once(" | ").unwrap();
        let term = term(&format!("outlet.{fact}"));
        let description = parse_description(text, &VOCABULARY.0);
        if let Some(it) = description.stated.iter().find(|it| it.term == term) {
            wrong.push(format!("{text}: {fact} {:?} from {:?}", it.value, it.words));
        }
        // What is not taken is told somewhere.
        if description.open.is_empty()
            && description.unknown.is_empty()
            && description.contradictions.is_empty()
        {
            wrong.push(format!("{text}: nothing is told"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn the_barrels_length_is_read_beside_other_lengths() {
    for text in [
        "FPHB 12\" barrel",
        "FPHB, 12\" barrel, 6\" nipple",
        "10\" frost-proof sillcock",
        "3/4\" X 10\" sillcock",
    ] {
        let description = parse_description(text, &VOCABULARY.0);
        assert!(
            description.stated.iter().any(|it| it.term == term("outlet.nominal_length")),
            "{text}: {description:?}"
        );
    }
}

#[test]
fn a_text_over_2000_characters_is_not_read() {
    let description = parse_description(&"brass sillcock, ".repeat(200), &VOCABULARY.0);
    assert!(description.too_long && description.stated.is_empty());
    assert!(!parse_description(&"brass sillcock, ".repeat(20), &VOCABULARY.0).stated.is_empty());
}
