//! Words that hedge a figure: what a cell says of each, and that a description takes no figure beside one.

use coldsill::facts::VOCABULARY;
use coldsill::schedule::{Heard, hear};
use coldsill::units::{Dim, Measure, Written, parse_as};

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

fn has_length(heard: &Heard) -> bool {
    heard.facts.iter().any(|(term, ..)| VOCABULARY.0[*term].fact == "outlet.nominal_length")
}

#[test]
fn a_cell_says_what_each_word_makes_of_its_figure() {
    let mut wrong = Vec::new();
    for (text, what) in cases() {
        let read = parse_as(text, Measure::Of(Dim::LENGTH), Written { band: true, ..Written::default() });
        if !read.as_ref().is_err_and(|it| it.what == what) {
            wrong.push(format!("{text}: {read:?}"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn a_description_takes_no_figure_beside_any_of_the_words_and_tells_it() {
    let plainly = hear("Frostproof sillcock 8 in", &VOCABULARY.0);
    assert!(has_length(&plainly) && plainly.doubtful.is_empty(), "{plainly:?}");
    let mut wrong = Vec::new();
    for (text, _) in cases() {
        let heard = hear(&format!("Frostproof sillcock {text}"), &VOCABULARY.0);
        if has_length(&heard) || heard.doubtful.is_empty() {
            wrong.push(format!("{text}: {heard:?}"));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

/// "5 min" is a time, and a fall may be given over its run.
#[test]
fn a_word_that_is_part_of_the_figure_hedges_nothing() {
    for (text, measure, is) in
        [("5 min", Measure::Of(Dim::TIME), 300.0), ("1/4 in per 12 in", Measure::Of(Dim::NONE), 0.25 / 12.0)]
    {
        let read = parse_as(text, measure, Written::default());
        assert!(read.as_ref().is_ok_and(|it| (it.is - is).abs() < 1e-12), "{text}: {read:?}");
    }
    let slab = parse_as("8 in under slab", Measure::Of(Dim::LENGTH), Written::default());
    assert!(slab.as_ref().is_err_and(|it| it.what.contains("not understood")), "{slab:?}");
}
