//! The printed form of a condition, which parses to an equal condition.

use coldsill::expr::Condition;
use coldsill::units::UNITS;
use proptest::prelude::*;

use crate::language::catalogue::Catalogue;
use crate::language::generate::{self, Choices};
use crate::language::{start, topics};

fn check(text: &str) -> Condition {
    Condition::check(text, &start(), &Catalogue).unwrap_or_else(|it| panic!("{text}: {it:?}"))
}

fn printed(text: &str) -> String {
    check(text).printed()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn what_is_printed_is_read_as_the_same_program(bytes in prop::collection::vec(prop::num::u8::ANY, 0..200)) {
        let text = generate::condition(&mut Choices::new(&bytes), true);
        let condition = check(&text);
        let printed = condition.printed();
        let again = check(&printed);
        prop_assert_eq!(&condition, &again, "{} as {}", text, printed);
        prop_assert_eq!(&printed, &again.printed(), "of {}", text);
    }
}

#[test]
fn every_expression_of_the_specification_is_printed_as_itself() {
    for case in topics().iter().flat_map(|(_, topic)| &topic.cases) {
        let condition = check(&case.when);
        assert_eq!(condition, check(&condition.printed()), "{} as {}", case.when, condition.printed());
    }
}

/// So that the property above is about all of the language.
#[test]
fn the_generated_programs_use_every_word_sign_and_unit() {
    // Numbers that jump about, the same in every run.
    let mut state = 1_u32;
    let mut next = || {
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        state.to_be_bytes()[0]
    };
    let programs: Vec<String> = (0..6000)
        .map(|_| {
            let bytes: Vec<u8> = (0..120).map(|_| next()).collect();
            format!(" {} ", printed(&generate::condition(&mut Choices::new(&bytes), true)))
        })
        .collect();
    let words = [
        "not ",
        " and ",
        " or ",
        " = ",
        " != ",
        " < ",
        " <= ",
        " > ",
        " >= ",
        " in [",
        " in company/",
        " between ",
        " matches \"",
        " + ",
        " - ",
        " * ",
        " / ",
        " -(",
        "not (",
        " yes ",
        " no ",
        "stated(",
        "known(",
        "min(",
        "max(",
        "round_up(",
        "\"brass\", \"stainless\"",
        "-40 °C",
        "(?-i)",
    ];
    // A resistance is printed with its label in front.
    let units = UNITS.iter().map(|unit| match unit.names[0] {
        "R" => " R-".to_owned(),
        name => format!(" {name} "),
    });
    for wanted in words.iter().map(|it| (*it).to_owned()).chain(units) {
        assert!(programs.iter().any(|it| it.contains(&wanted)), "no program with {wanted:?}");
    }
}

#[test]
fn the_printed_form_is_settled() {
    for (text, wanted) in [
        ("((a))and(b or c)", "a and (b or c)"),
        ("(a and b)or c", "a and b or c"),
        ("(a and b) and c", "(a and b) and c"),
        ("not(not a)", "not not a"),
        ("(not a) = b", "(not a) = b"),
        ("not (a = b)", "not a = b"),
        ("outlet.seat_depth>8\"", "outlet.seat_depth > 8 in"),
        ("outlet.seat_depth > 1 1/2 inches", "outlet.seat_depth > 1.5 in"),
        ("wall.resistance >= R20", "wall.resistance >= R-20"),
        ("wall.resistance >= 20 R", "wall.resistance >= R-20"),
        ("wall.resistance >= -20 R", "wall.resistance >= -R-20"),
        ("site.design_low < - 5 F", "site.design_low < -5 °F"),
        ("outlet.count*2+(3*4)-(5 - 1)>0", "outlet.count * 2 + 3 * 4 - (5 - 1) > 0"),
        ("outlet.count / (2 * 3) > 1", "outlet.count / (2 * 3) > 1"),
        ("-(5) < --outlet.count", "-(5) < --outlet.count"),
        ("8 in in[ 8 in ,9 in]", "8 in in [8 in, 9 in]"),
        ("outlet.model\n  matches \"a  b\"", "outlet.model matches \"a  b\""),
        ("min( 2,outlet.count )>1", "min(2, outlet.count) > 1"),
    ] {
        assert_eq!(printed(text), wanted, "{text}");
    }
}
