//! Patterns that take a backtracking matcher longer than anybody waits, over the longest cell there is: each ends, with the
//! right answer.

use super::catalogue::{Catalogue, Facts, slot};
use coldsill::diag::Location;
use coldsill::expr::{Condition, Value};
use coldsill::input::Limit;
use coldsill::truth::Truth;

fn check(pattern: &str) -> Result<Condition, coldsill::diag::Diagnostics> {
    let text = format!("outlet.model matches \"{pattern}\"");
    Condition::check(&text, &Location::line(&"rules.yaml".into(), 1, 1), &Catalogue)
}

#[test]
fn catastrophic_patterns_end_over_the_longest_cell() {
    let most = Limit::CellCharacters.most();
    for (pattern, unit, last) in [
        ("^(a+)+$", "a", "!"),
        ("^(a|aa)+$", "a", "!"),
        ("^(a*)*b$", "a", "!"),
        ("^([a-z]+)*[0-9]$", "q", "!"),
        ("(x+x+)+y", "x", "!"),
        ("^(.*a){20}$", "a", "!"),
        ("(a?){60}a{60}b", "a", "!"),
        ("^(([a-z])+.)+[A-Z]([a-z])+!$", "é", "?"),
    ] {
        let condition = check(pattern).unwrap_or_else(|problems| panic!("{pattern}: {problems:?}"));
        let text = unit.repeat(most - 1) + last;
        let mut facts = Facts::default();
        facts.set(slot("outlet.model"), Value::Text(text.into()));
        assert_eq!(condition.truth(&facts), Truth::False, "{pattern}");
    }
}

#[test]
fn patterns_that_grow_are_refused_when_the_rule_is_loaded() {
    for pattern in ["((a{1000}){1000}){1000}", "(a{100}|b{100}){900}", "[^a]{30000}", "\\\\w{900}{900}"] {
        let problems = check(pattern).err().unwrap_or_else(|| panic!("{pattern} is accepted"));
        assert!(problems.iter().any(|it| it.to_string().contains("is too large a pattern")), "{problems:?}");
    }
    let nested = format!("{}a{}", "(".repeat(33), ")".repeat(33));
    let problems = check(&nested).expect_err("it is nested too deep");
    assert!(problems[0].to_string().contains("pattern"), "{problems:?}");
}

#[test]
fn parentheses_side_by_side_do_not_count_as_nested() {
    let text = format!("known(outlet.model){}", " or (known(outlet.model))".repeat(100));
    Condition::check(&text, &Location::line(&"rules.yaml".into(), 1, 1), &Catalogue)
        .expect("it is one level deep");
}
