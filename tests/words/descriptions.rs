//! Descriptions against the facts they state.

use coldsill::facts::VOCABULARY;
use coldsill::schedule::{PATTERNS, Read, hear, read_cell};
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

fn value(fact: &str, text: &str) -> Read {
    read_cell(&VOCABULARY.0[term(fact)].reads, text, None)
        .unwrap_or_else(|it| panic!("{fact}: {text}: {it:?}"))
}

#[test]
fn every_description_states_its_facts_and_no_other() {
    let mut wrong = Vec::new();
    for case in cases() {
        let heard = hear(&case.text, &VOCABULARY.0);
        let name = |term: usize| VOCABULARY.0[term].fact.to_owned();
        let found: BTreeMap<String, (Read, String)> = heard
            .facts
            .iter()
            .map(|(term, read, words)| (name(*term), (read.clone(), words.clone())))
            .collect();
        let wanted: BTreeMap<String, (Read, String)> = case
            .facts
            .iter()
            .map(|(fact, [text, words])| (fact.clone(), (value(fact, text), words.clone())))
            .collect();
        let doubtful: Vec<String> = heard.doubtful.iter().map(|(words, _)| words.clone()).collect();
        let odds: Vec<String> = heard.at_odds.iter().map(|(term, _)| name(*term)).collect();
        let left = case.left.as_ref().is_none_or(|it| *it == heard.left);
        if found != wanted || doubtful != case.doubtful || odds != case.odds || !left {
            wrong.push(format!(
                "{}\n    {found:?}\n    doubtful {doubtful:?}, odds {odds:?}, left {:?}",
                case.text, heard.left
            ));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn there_are_enough_descriptions_to_speak_of() {
    assert!(cases().len() >= 60, "{}", cases().len());
}

#[test]
fn every_pattern_states_facts_that_a_schedule_has_and_values_their_cells_can_say() {
    for pattern in PATTERNS {
        for (fact, value) in pattern.states {
            let reads = &VOCABULARY.0[term(fact)].reads;
            if !value.is_empty() && !value.contains('$') {
                assert!(read_cell(reads, value, None).is_ok(), "{}: {fact}: {value}", pattern.words);
            }
        }
        if let (Some((fact, _)), false) = (pattern.states.first(), pattern.denied.is_empty()) {
            assert!(
                read_cell(&VOCABULARY.0[term(fact)].reads, pattern.denied, None).is_ok(),
                "{}",
                pattern.words
            );
        }
    }
}

#[test]
fn nothing_is_taken_that_a_description_does_not_say_plainly() {
    let mut wrong = Vec::new();
    for line in include_str!("not_taken.txt").lines().filter(|it| !it.starts_with('#')) {
        let (fact, text) = line.split_once(" | ").unwrap();
        let term = term(&format!("outlet.{fact}"));
        let heard = hear(text, &VOCABULARY.0);
        if let Some((_, value, words)) = heard.facts.iter().find(|(own, ..)| *own == term) {
            wrong.push(format!("{text}: {fact} {value:?} from {words:?}"));
        }
        // What is not taken is told somewhere.
        if heard.doubtful.is_empty() && heard.left.is_empty() && heard.at_odds.is_empty() {
            wrong.push(format!("{text}: nothing is told"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_length_is_taken_beside_figures_of_other_things_where_it_is_the_barrels() {
    for text in [
        "FPHB 12\" barrel",
        "FPHB, 12\" barrel, 6\" nipple",
        "10\" frost-proof sillcock",
        "3/4\" X 10\" sillcock",
    ] {
        let heard = hear(text, &VOCABULARY.0);
        assert!(
            heard.facts.iter().any(|(own, ..)| *own == term("outlet.nominal_length")),
            "{text}: {heard:?}"
        );
    }
}

#[test]
fn a_text_of_more_than_two_thousand_characters_is_not_read() {
    let heard = hear(&"brass sillcock, ".repeat(200), &VOCABULARY.0);
    assert!(heard.too_long && heard.facts.is_empty());
    assert!(!hear(&"brass sillcock, ".repeat(20), &VOCABULARY.0).facts.is_empty());
}
