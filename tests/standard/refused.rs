//! Files of standards with errors: every error, with its line.

use crate::standard::common::{LISTED_TEXT, compute, listed, texts};

#[track_caller]
fn refused(from: &str, to: &str, wanted: &[&str]) {
    let text = LISTED_TEXT.replacen(from, to, 1);
    assert_ne!(text, LISTED_TEXT, "nothing was changed");
    let problems = compute(&listed(&text), "listed.yaml").expect_err("it is wrong");
    assert_eq!(texts(&problems), wanted);
}

#[test]
fn a_wrong_value_is_an_error_at_its_line() {
    for (from, to, wanted) in [
        (
            "standard: Upper valley",
            "standards: Upper valley",
            "listed.yaml, line 1, column 1: is not the file of a standard; expected `standard:` with a name, `date:`, `places:` and `walls:`",
        ),
        (
            "standard: Upper valley",
            "standard: 4th valley",
            "listed.yaml, line 1, column 11: \"4th valley\" is not a name of a standard; expected a name that starts with a letter and has no slash",
        ),
        (
            "2026-02-28",
            "2026-02-29",
            "listed.yaml, line 2, column 7: \"2026-02-29\" is not a date; expected year, month and day, such as 2026-11-29",
        ),
        (
            "[minneapolis-mn, denver-co",
            "[denver-co, denver-co",
            "listed.yaml, line 3, column 21: \"denver-co\" is listed twice; expected each place once",
        ),
        (
            "{ place: atlanta-ga, homes: 3 }",
            "{ place: atlanta-ga, homes: 1.5 }",
            "listed.yaml, line 3, column 77: \"1.5\" is not a number of homes; expected a whole number from 1 to 10 million, such as 12",
        ),
        (
            "{ place: atlanta-ga, homes: 3 }",
            "{ place: atlanta-ga, homes: 160 % }",
            "listed.yaml, line 3, column 77: \"160 %\" is not a number of homes; expected a whole number from 1 to 10 million, such as 12",
        ),
        (
            "{ place: atlanta-ga, homes: 3 }",
            "{ place: atlanta-ga, homes: 0 }",
            "listed.yaml, line 3, column 77: \"0\" is not a number of homes; expected a whole number from 1 to 10 million, such as 12",
        ),
        (
            "{ place: atlanta-ga, homes: 3 }",
            "{ homes: 3 }",
            "listed.yaml, line 3, column 49: does not say which places; expected one of `place:`, `state:`, `zone:` and `near:`",
        ),
        (
            "{ place: atlanta-ga, homes: 3 }",
            "{ place: atlanta-ga, zone: 5A }",
            "listed.yaml, line 3, column 49: says in more than one way which places; expected one of `place:`, `state:`, `zone:` and `near:`",
        ),
        (
            "  - 2x6-siding\n",
            "  - 2x6-siding\n  - 2x6-siding\n",
            "listed.yaml, line 6, column 5: \"2x6-siding\" is listed twice with the same space; expected each wall once for a space",
        ),
        (
            "[copper, {",
            "[PEX, {",
            "listed.yaml, line 7, column 27: \"PEX\" is listed twice; expected each supply once",
        ),
        (
            "barrels: [copper, stainless]\n",
            "",
            "listed.yaml, line 1, column 1: has neither barrels nor products; expected `barrels:` such as [brass, stainless], or `products:`",
        ),
        (
            "barrels: [copper, stainless]",
            "barrels: [copper, copper]",
            "listed.yaml, line 8, column 19: \"copper\" is listed twice; expected each barrel once",
        ),
        (
            "margin: 4 °F",
            "design_low: authority",
            "listed.yaml, line 9, column 13: \"authority\" is not a design low; expected a low by years such as 20-year low",
        ),
        (
            "margin: 4 °F\n",
            "job: job.yaml\nproducts: products.csv\n",
            "listed.yaml, line 10, column 11: \"products.csv\" is stated beside `job:`, which has products of its own; expected `products:` in the job",
        ),
        (
            "inside_stop: no",
            "inside_stops: no",
            "listed.yaml, line 1, column 1: the standard has no \"inside_stop\"",
        ),
    ] {
        let text = LISTED_TEXT.replacen(from, to, 1);
        assert_ne!(text, LISTED_TEXT, "nothing was changed");
        let problems = compute(&listed(&text), "listed.yaml").expect_err("it is wrong");
        assert!(
            texts(&problems).iter().any(|problem| problem.starts_with(wanted)),
            "{:?}\n{wanted}",
            texts(&problems)
        );
    }
}

#[test]
fn an_unknown_wall_is_an_error_once() {
    let wanted = "listed.yaml, line 5, column 5: \"2x66-siding\" is not a known wall";
    let problems = compute(&listed(&LISTED_TEXT.replace("2x6-siding", "2x66-siding")), "listed.yaml");
    let problems = texts(&problems.expect_err("it is wrong"));
    assert_eq!(problems.iter().filter(|problem| problem.starts_with(wanted)).count(), 1, "{problems:?}");
    assert_eq!(problems.len(), 1, "{problems:?}");
}

#[test]
fn all_errors_of_a_file_come_at_once() {
    let text = LISTED_TEXT.replace("2026-02-28", "today").replace("inside_stop: no", "inside_stop: maybe");
    let problems = compute(&listed(&text), "listed.yaml").expect_err("it is wrong");
    assert_eq!(problems.len(), 2, "{:?}", texts(&problems));
}

#[test]
fn a_place_without_the_figure_asked_for_is_an_error() {
    refused(
        "margin: 4 °F",
        "margin: 40 °F",
        &["listed.yaml, line 9, column 9: \"40 °F\" is out of range; expected 0 °F to 20 °F"],
    );
}
