//! Words that hedge a figure: what a cell says of each, and that a description takes no figure beside one.

use coldsill::facts::VOCABULARY;
use coldsill::schedule::{Description, parse_description};
use coldsill::units::{Dim, Measure, ParseOptions, parse_with};

/// Each text with what a cell says of it.
fn cases() -> Vec<(&'static str, &'static str)> {
    let mut what = "";
    let mut cases = Vec::new();
    for line in include_str!("hedges.txt").lines().filter(|it| !it.is_empty() && !it.starts_with('#')) {
        match line.strip_prefix('[').and_then(|it| it.strip_suffix(']')) {
            Some(told) => what = told,
            None => cases.push((line, what)),
        }
    }
    cases
}

fn has_length(description: &Description) -> bool {
    description.stated.iter().any(|it| VOCABULARY.0[it.term].fact == "outlet.nominal_length")
}

#[test]
fn each_hedge_is_reported_for_a_cell() {
    let mut wrong = Vec::new();
    for (text, what) in cases() {
        let read = parse_with(
            text,
            Measure::Of(Dim::LENGTH),
            ParseOptions { band: true, ..ParseOptions::default() },
        );
        if !read.as_ref().is_err_and(|it| it.message() == what) {
            wrong.push(format!("{text}: {read:?}"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_hedged_length_in_a_description_is_not_read() {
    let plainly = parse_description("Frostproof sillcock 8 in", &VOCABULARY.0);
    assert!(has_length(&plainly) && plainly.open.is_empty(), "{plainly:?}");
    let mut wrong = Vec::new();
    for (text, _) in cases() {
        let description = parse_description(&format!("Frostproof sillcock {text}"), &VOCABULARY.0);
        if has_length(&description) || description.open.is_empty() {
            wrong.push(format!("{text}: {description:?}"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// "5 min" is a time, and a fall may be given over its run.
#[test]
fn a_word_that_is_part_of_the_quantity_is_not_a_hedge() {
    for (text, measure, is) in
        [("5 min", Measure::Of(Dim::TIME), 300.0), ("1/4 in per 12 in", Measure::Of(Dim::NONE), 0.25 / 12.0)]
    {
        let read = parse_with(text, measure, ParseOptions::default());
        assert!(read.as_ref().is_ok_and(|it| (it.is - is).abs() < 1e-12), "{text}: {read:?}");
    }
    let slab = parse_with("8 in under slab", Measure::Of(Dim::LENGTH), ParseOptions::default());
    assert!(slab.as_ref().is_err_and(|it| it.message().contains("unknown words")), "{slab:?}");
}
