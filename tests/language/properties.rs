//! What holds for any expression.

use std::collections::BTreeMap;

use coldsill::expr::{Condition, Gap, Template, Value, Values};
use coldsill::truth::Truth;
use coldsill::units::{Dim, Quantity};
use proptest::prelude::*;

use crate::language::catalogue::{Catalogue, Facts, slot};
use crate::language::generate::{self, Choices};
use crate::language::start;

/// Pieces from which nonsense is made that comes further than letters at random.
const PIECES: &[&str] = &[
    "a",
    "b",
    "outlet.closes",
    "outlet.seat_depth",
    "site.design_low",
    "freezing/margin",
    "site.swing",
    "outlet.count",
    "nosuch",
    "and",
    "or",
    "not",
    "in",
    "between",
    "=",
    "!=",
    "<",
    ">=",
    "==",
    "+",
    "-",
    "*",
    "/",
    "(",
    ")",
    "[",
    "]",
    ",",
    "\"inside\"",
    "\"",
    "'",
    "8",
    "8\"",
    "1/4 in/ft",
    "32 °F",
    "4 Δ°F",
    "R-20",
    "1/0",
    "5 inchs",
    "min(",
    "max(",
    "known(",
    "stated(",
    "yes",
    "no",
    "true",
    "≤",
    "$",
    "½",
    "1'-2\"",
    "{",
    "}}",
];

fn nonsense() -> impl Strategy<Value = String> {
    let pieces = prop::collection::vec((prop::sample::select(PIECES), prop::bool::ANY), 0..40);
    let joined = pieces.prop_map(|pieces| {
        pieces
            .iter()
            .map(|(piece, space)| if *space { format!("{piece} ") } else { (*piece).into() })
            .collect()
    });
    prop_oneof![joined, ".{0,80}"]
}

/// A test over two yes-or-no names, two lengths, and a count, which may be zero and is divided by.
fn test() -> impl Strategy<Value = String> {
    let leaf = prop::sample::select(
        &[
            "a",
            "b",
            "outlet.seat_depth > 3 m",
            "outlet.seat_depth = outlet.nominal_length",
            "outlet.nominal_length between 2 m and 4 m",
            "outlet.seat_depth - outlet.nominal_length < 1 m",
            "outlet.seat_depth / outlet.count >= 2 m",
            "max(outlet.seat_depth, outlet.nominal_length) <= 4 m",
            "outlet.count * outlet.count in [1, 4]",
            "a != b",
        ][..],
    );
    leaf.prop_map(str::to_owned).prop_recursive(4, 16, 2, |inner| {
        prop_oneof![
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("({a} and {b})")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("({a} or {b})")),
            (inner.clone(), inner.clone()).prop_map(|(a, b)| format!("(({a}) = ({b}))")),
            inner.prop_map(|a| format!("not ({a})")),
        ]
    })
}

/// For a number: what is known of it, and the value it turns out to have.
#[derive(Clone, Debug)]
struct Number {
    known: Option<(i32, i32)>,
    turns_out: i32,
}

fn number() -> impl Strategy<Value = Number> {
    (-1..6_i32, 0..3_i32, 0..3_i32, 0..3_u8).prop_map(|(turns_out, below, above, how)| Number {
        known: match how {
            0 => None,
            1 => Some((turns_out, turns_out)),
            _ => Some((turns_out - below, turns_out + above)),
        },
        turns_out,
    })
}

/// What is known, and what it turns out to be.
fn facts() -> impl Strategy<Value = (Facts, Facts)> {
    let yes_no = (prop::bool::ANY, prop::bool::ANY);
    let numbers = [number(), number(), number()];
    ((yes_no, yes_no), numbers).prop_map(|((a, b), numbers)| {
        let (mut known, mut all) = (Facts::new(&BTreeMap::new()), Facts::new(&BTreeMap::new()));
        for (name, (is_known, value)) in [("a", a), ("b", b)] {
            if is_known {
                known.set(slot(name), Value::YesNo(value));
            }
            all.set(slot(name), Value::YesNo(value));
        }
        let names = [
            ("outlet.seat_depth", Dim::LENGTH),
            ("outlet.nominal_length", Dim::LENGTH),
            ("outlet.count", Dim::NONE),
        ];
        for ((name, dim), it) in names.into_iter().zip(numbers) {
            if let Some((low, high)) = it.known {
                let middle = Quantity::of(f64::from(low + high) / 2.0, dim);
                known.set(slot(name), Value::Quantity(middle.within(low.into(), high.into())));
            }
            all.set(slot(name), Value::Quantity(Quantity::of(it.turns_out.into(), dim)));
        }
        (known, all)
    })
}

/// What a condition and its values are made from.
fn choices() -> impl Strategy<Value = Vec<u8>> {
    prop::collection::vec(prop::num::u8::ANY, 0..400)
}

fn truth(text: &str, facts: &Facts) -> Truth<Gap> {
    let condition =
        Condition::check(text, &start(), &Catalogue).unwrap_or_else(|it| panic!("{text}: {it:?}"));
    condition.truth(facts)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn no_text_panics_and_what_is_refused_says_why(text in nonsense(), (known, all) in facts()) {
        match Condition::check(&text, &start(), &Catalogue) {
            Err(problems) => prop_assert!(!problems.is_empty()),
            Ok(condition) => {
                condition.truth(&known);
                condition.truth(&all);
            }
        }
        if let Err(problems) = Template::check(&text, &start(), &Catalogue) {
            prop_assert!(!problems.is_empty());
        }
    }

    #[test]
    fn and_and_or_do_not_mind_the_order_of_their_sides(x in test(), y in test(), (known, _) in facts()) {
        for word in ["and", "or"] {
            prop_assert_eq!(
                truth(&format!("({x}) {word} ({y})"), &known),
                truth(&format!("({y}) {word} ({x})"), &known)
            );
        }
    }

    #[test]
    fn de_morgan_holds_of_three_values(x in test(), y in test(), (known, _) in facts()) {
        prop_assert_eq!(
            truth(&format!("not (({x}) and ({y}))"), &known),
            truth(&format!("not ({x}) or not ({y})"), &known)
        );
    }

    /// Unknown is never a pass: what is decided with facts missing or in a band is what it is once they are known.
    #[test]
    fn an_answer_given_early_is_never_taken_back(x in test(), (known, all) in facts()) {
        let early = truth(&x, &known);
        let late = truth(&x, &all);
        match early {
            Truth::Unknown(gap) => prop_assert!(!gap.slots().is_empty(), "unknown for no reason"),
            decided => prop_assert_eq!(decided, late),
        }
    }

    #[test]
    fn a_right_program_is_read_and_answers_whatever_is_given(bytes in choices()) {
        let mut choices = Choices::new(&bytes);
        let text = generate::condition(&mut choices, true);
        let facts = generate::facts(&mut choices);
        if let Truth::Unknown(gap) = truth(&text, &facts) {
            let named = gap.slots();
            prop_assert!(!named.is_empty(), "unknown for no reason");
            let read = Condition::check(&text, &start(), &Catalogue).unwrap().slots();
            prop_assert!(named.is_subset(&read), "{named:?} of {read:?}");
            // Nothing is asked for that has been told.
            prop_assert!(gap.missing.iter().all(|it| facts.get(*it) == Err(Gap::missing(*it))));
        }
    }

    #[test]
    fn sides_change_places_whatever_is_asked(bytes in choices()) {
        let mut choices = Choices::new(&bytes);
        let (x, y) = (generate::condition(&mut choices, true), generate::condition(&mut choices, true));
        let facts = generate::facts(&mut choices);
        for word in ["and", "or", "="] {
            prop_assert_eq!(
                truth(&format!("({x}) {word} ({y})"), &facts),
                truth(&format!("({y}) {word} ({x})"), &facts)
            );
        }
    }

    /// Only what `stated` and `known` say of a name changes when it is learnt.
    #[test]
    fn learning_what_was_missing_changes_no_answer_that_was_given(bytes in choices()) {
        let mut choices = Choices::new(&bytes);
        let text = generate::condition(&mut choices, false);
        let mut facts = generate::facts(&mut choices);
        let mut before = truth(&text, &facts);
        for slot in Condition::check(&text, &start(), &Catalogue).unwrap().slots() {
            if facts.get(slot) != Err(Gap::missing(slot)) {
                continue;
            }
            facts.set(slot, generate::value_of(&mut choices, slot));
            let after = truth(&text, &facts);
            if !matches!(before, Truth::Unknown(_)) {
                prop_assert_eq!(&before, &after, "{} on learning {:?}", text, slot);
            }
            before = after;
        }
    }
}
