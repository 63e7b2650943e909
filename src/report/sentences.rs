//! A rule's wording as people read it: values in the reader's units, and no sentence broken by a value there is not.

use super::words::{listed, lower, none_of, value};
use crate::diag::{capital, uncapital};
use crate::review::{Absence, Piece, Shown};
use crate::units::{System, figures};
use std::sync::Arc;

/// A wording. A sentence that lacks a value is left out, and what it lacks is said at the end; a reason, or "not
/// stated",
/// may stand after a colon.
pub(super) fn sentence(pieces: &[Piece], system: System) -> String {
    let mut said: Vec<String> = Vec::new();
    let mut lacking = Lacking::default();
    for sentence in sentences(pieces) {
        match worded(&sentence, system) {
            Ok(text) => said.push(text),
            Err(shown) => shown.into_iter().for_each(|it| lacking.add(it, system)),
        }
    }
    let mut text = said.concat().trim().to_owned();
    for note in lacking.notes() {
        if !text.is_empty() {
            text.push(' ');
        }
        text.push_str(&note);
    }
    capital(&text)
}

/// A part of a sentence.
enum Part<'p> {
    Text(&'p str),
    Value(&'p Shown),
}

/// Words that a stop shortens; so does one behind a single letter.
const SHORTENED: [&str; 26] = [
    "app", "approx", "art", "ch", "cf", "cl", "dia", "div", "e.g", "eq", "fig", "figs", "i.e", "incl", "max",
    "mfr", "min", "nos", "par", "ref", "sec", "sect", "st", "std", "tab", "vs",
];

/// Whether the stop between two texts ends a sentence: not behind a shortened word, and only before a capital or a
/// value.
fn ends(before: &str, after: &str) -> bool {
    let starts = after.chars().find(|it| !it.is_whitespace() && !matches!(it, '"' | '“' | '('));
    let starts = starts.is_none_or(|it| it.is_uppercase() || it == '{');
    let word = before.rsplit(|it: char| it.is_whitespace() || it == '(').next().unwrap_or_default();
    let is_letter = word.chars().count() == 1 && word.chars().all(char::is_alphabetic);
    starts && !is_letter && !SHORTENED.contains(&word.to_lowercase().as_str())
}

/// The wording sentence by sentence: a stop and a blank end one, unless the stop only shortens a word.
fn sentences(pieces: &[Piece]) -> Vec<Vec<Part<'_>>> {
    let mut all = vec![Vec::new()];
    for piece in pieces {
        match piece {
            Piece::Value(shown) => last(&mut all).push(Part::Value(shown)),
            Piece::Text(text) => {
                let mut start = 0;
                for (stop, _) in text.match_indices(". ") {
                    if ends(&text[start..stop], &text[stop + 2..]) {
                        last(&mut all).push(Part::Text(&text[start..stop + 2]));
                        all.push(Vec::new());
                        start = stop + 2;
                    }
                }
                last(&mut all).push(Part::Text(&text[start..]));
            }
        }
    }
    all
}

fn last<'a, 'p>(all: &'a mut Vec<Vec<Part<'p>>>) -> &'a mut Vec<Part<'p>> {
    if all.is_empty() {
        all.push(Vec::new());
    }
    let end = all.len() - 1;
    &mut all[end]
}

/// A sentence, or the values it lacks.
fn worded<'p>(parts: &[Part<'p>], system: System) -> Result<String, Vec<&'p Shown>> {
    let mut text = String::new();
    let mut lacks = Vec::new();
    for part in parts {
        match part {
            Part::Text(it) => text.push_str(&figures(it, system)),
            Part::Value(shown) => {
                let after_colon = text.trim_end().ends_with(':');
                match &shown.value {
                    Ok(_) => text.push_str(&value(shown, system)),
                    Err(Absence::Because(why)) if after_colon => text.push_str(&figures(why, system)),
                    Err(Absence::Missing(_)) if after_colon && is_own(shown) => text.push_str("not stated"),
                    Err(_) => lacks.push(*shown),
                }
            }
        }
    }
    if lacks.is_empty() { Ok(text) } else { Err(lacks) }
}

/// Whether a value lacks nothing but a statement of its own.
fn is_own(shown: &Shown) -> bool {
    matches!(&shown.value, Err(Absence::Missing(headings)) if **headings == [shown.heading.clone()])
}

/// What left-out sentences lack, each once.
#[derive(Default)]
struct Lacking {
    not_stated: Vec<Arc<str>>,
    without: Vec<(String, Vec<Arc<str>>)>,
    reasons: Vec<String>,
}

impl Lacking {
    fn add(&mut self, shown: &Shown, system: System) {
        let heading: Arc<str> = uncapital(&shown.heading).into();
        match &shown.value {
            Ok(_) => {}
            Err(Absence::Because(why)) => {
                let reason = none_of(&shown.heading, why, system);
                if !self.reasons.contains(&reason) {
                    self.reasons.push(reason);
                }
            }
            Err(Absence::Missing(_)) if is_own(shown) => push(&mut self.not_stated, heading),
            Err(Absence::Missing(headings)) => {
                let without = lower(headings);
                match self.without.iter_mut().find(|(it, _)| *it == without) {
                    Some((_, known)) => push(known, heading),
                    None => self.without.push((without, vec![heading])),
                }
            }
        }
    }

    fn notes(self) -> Vec<String> {
        let mut notes = Vec::new();
        if !self.not_stated.is_empty() {
            notes.push(format!("Not stated: {}.", listed(&self.not_stated, usize::MAX)));
        }
        for (without, headings) in &self.without {
            let headings = listed(headings, usize::MAX);
            notes.push(if without.is_empty() {
                format!("Unknown: {headings}.")
            } else {
                format!("Unknown without {without}: {headings}.")
            });
        }
        notes.extend(self.reasons);
        notes
    }
}

fn push(all: &mut Vec<Arc<str>>, heading: Arc<str>) {
    if !all.contains(&heading) {
        all.push(heading);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::expr::Value;
    use crate::facts::Origin;
    use crate::units::{Dim, Measure, Quantity, Show};

    fn shown(heading: &str, value: Result<Value, Absence>) -> Piece {
        let show = Show::usual(Measure::Of(Dim::LENGTH));
        let (name, heading) = (heading.into(), heading.into());
        Piece::Value(Shown { name, heading, value, show, origin: Origin::Supposed })
    }

    fn text(it: &str) -> Piece {
        Piece::Text(it.into())
    }

    fn depth() -> Piece {
        shown("Seat depth", Ok(Value::Quantity(Quantity::of(0.2032, Dim::LENGTH))))
    }

    fn without(heading: &str, others: &[&str]) -> Piece {
        shown(heading, Err(Absence::Missing(others.iter().map(|it| (*it).into()).collect())))
    }

    #[test]
    fn a_sentence_that_lacks_a_value_is_left_out_and_what_it_lacks_is_said_at_the_end() {
        let pieces = [
            text("the seat is "),
            depth(),
            text(" deep. It settles at "),
            without("Seat temperature", &["Barrel", "Supply"]),
            text(" outdoors. Least depth: "),
            without("Least seat depth", &["Barrel", "Supply"]),
            text("."),
        ];
        assert_eq!(
            sentence(&pieces, System::Us),
            "The seat is 8 in deep. Unknown without barrel and supply: seat temperature and least seat depth."
        );
    }

    #[test]
    fn a_reason_stands_after_a_colon_and_nowhere_else_within_a_sentence() {
        let why = || shown("Next length", Err(Absence::Because("none of {= 14 in} is deep enough".into())));
        assert_eq!(
            sentence(&[text("Shortest: "), why(), text(".")], System::Si),
            "Shortest: none of 356 mm is deep enough."
        );
        assert_eq!(
            sentence(&[text("Order "), why(), text(".")], System::Us),
            "No next length: none of 14 in is deep enough."
        );
    }

    #[test]
    fn the_stop_of_a_shortened_word_ends_no_sentence() {
        let pieces = [
            text("Give the approx. height "),
            without("Height", &["Height"]),
            text(" of it. See sec. x of Fig. A. Then call."),
        ];
        assert_eq!(sentence(&pieces, System::Us), "See sec. x of Fig. A. Then call. Not stated: height.");
        // The stop before a value ends a sentence, unless it shortens a word.
        let pieces =
            [text("It is set. "), depth(), text(" is approx. "), without("Height", &["Height"]), text(".")];
        assert_eq!(sentence(&pieces, System::Us), "It is set. Not stated: height.");
    }

    #[test]
    fn what_a_rule_file_says_of_its_table_keeps_its_capitals_and_makes_a_sentence() {
        let why = Err(Absence::Because("the table ends at {= 0 °F}".into()));
        let pieces = [text("It needs "), shown("County's Table A-501 depth", why), text(".")];
        assert_eq!(
            sentence(&pieces, System::Us),
            "Unknown: county's Table A-501 depth (the table ends at 0 °F)."
        );
    }

    #[test]
    fn what_nobody_stated_is_said_so() {
        let pieces = [
            text("It may stay full (self-draining: "),
            without("Self-draining", &["Self-draining"]),
            text(")."),
        ];
        assert_eq!(sentence(&pieces, System::Us), "It may stay full (self-draining: not stated).");
        let pieces = [text("It is "), without("Slope", &["Slope"]), text(".")];
        assert_eq!(sentence(&pieces, System::Us), "Not stated: slope.");
    }
}
