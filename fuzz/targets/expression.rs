//! Expressions: right programs made from choices, sequences of tokens, and text as it comes. None panics; what is accepted
//! is printed as itself, answers whatever is given, and keeps an answer when more becomes known.
#![no_main]

#[allow(dead_code, reason = "the tests use the rest")]
#[path = "../../tests/language/catalogue.rs"]
mod catalogue;
#[path = "../../tests/language/generate.rs"]
mod generate;
mod tokens;

use catalogue::Catalogue;
use coldsill::diag::Location;
use coldsill::expr::{Condition, Gap, MOST_CHARACTERS, Values};
use coldsill::truth::Truth;
use generate::Choices;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    let Some((how, bytes)) = bytes.split_first() else { return };
    let (made, given) = bytes.split_at(bytes.len() * 2 / 3);
    let right = how % 3 == 0;
    let text = match how % 3 {
        0 => generate::condition(&mut Choices::new(made), *how < 128),
        1 => tokens::joined(&mut Choices::new(made)),
        _ => String::from_utf8_lossy(made).into_owned(),
    };
    let condition = match check(&text) {
        Ok(condition) => condition,
        Err(problems) => {
            assert!(!problems.is_empty(), "refused without a reason: {text}");
            assert!(!right, "{text}: {problems:?}");
            return;
        }
    };
    printed_as_itself(&condition);
    answers(&text, &condition, &mut Choices::new(given));
});

fn check(text: &str) -> Result<Condition, coldsill::diag::Diagnostics> {
    Condition::check(text, &Location::line(&"rules.yaml".into(), 3, 5), &Catalogue)
}

fn printed_as_itself(condition: &Condition) {
    let printed = condition.printed();
    // Units may be longer as they are printed than as they were written.
    if printed.chars().count() <= MOST_CHARACTERS {
        let again = check(&printed).unwrap_or_else(|it| panic!("{printed}: {it:?}"));
        assert!(*condition == again, "{} as {printed}", condition.text());
        assert_eq!(again.printed(), printed);
    }
}

fn answers(text: &str, condition: &Condition, given: &mut Choices<'_>) {
    let mut facts = generate::facts(given);
    let mut before = condition.truth(&facts);
    if let Truth::Unknown(gap) = &before {
        assert!(!gap.slots().is_empty(), "unknown for no reason: {text}");
        assert!(gap.slots().is_subset(&condition.slots()), "{text}");
    }
    // What is stated and known is about the asking itself.
    if text.contains("stated") || text.contains("known") {
        return;
    }
    for slot in condition.slots() {
        if facts.get(slot) != Err(Gap::missing(slot)) {
            continue;
        }
        facts.set(slot, generate::value_of(given, slot));
        let after = condition.truth(&facts);
        assert!(matches!(before, Truth::Unknown(_)) || before == after, "{text} on learning {slot:?}");
        before = after;
    }
}
