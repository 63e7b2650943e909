//! A rule's wording as people read it: values in the reader's units, without sentences that lack a value.

use super::words::{alone, listed, lower, none_of, value};
use crate::diag::{capital, uncapital};
use crate::review::{Absence, Piece, Shown};
use crate::units::{System, figure_text, figures};
use std::sync::Arc;

/// The text of a wording. A sentence that lacks a value is skipped, and what it lacks is listed at the end; a reason or
/// "not stated" can follow a colon.
pub(super) fn sentence(sentences: &[Vec<Piece>], system: System) -> String {
    let (mut texts, lacking) = parted(sentences, system);
    texts.extend(lacking.notes());
    capital(&texts.join(" "))
}

/// The text of a wording beside another that lists what is not stated: what it lacks itself is listed only where nothing
/// else is left of it.
pub(super) fn advice(sentences: &[Vec<Piece>], system: System) -> String {
    let (mut texts, lacking) = parted(sentences, system);
    texts.extend(if texts.is_empty() { lacking.notes() } else { lacking.reasons });
    capital(&texts.join(" "))
}

/// The sentences that have all their values, and what the others lack.
fn parted(sentences: &[Vec<Piece>], system: System) -> (Vec<String>, Lacking) {
    let mut texts: Vec<String> = Vec::new();
    let mut lacking = Lacking::default();
    for pieces in sentences {
        match worded(pieces, system, value) {
            Ok(text) => texts.push(text),
            Err(shown) => shown.into_iter().for_each(|shown| lacking.add(shown, system)),
        }
    }
    (texts, lacking)
}

/// The sentences of a wording that have all their values.
pub(super) fn complete(sentences: &[Vec<Piece>], system: System) -> impl Iterator<Item = String> {
    sentences.iter().filter_map(move |pieces| worded(pieces, system, value).ok())
}

/// The same with best estimates alone, without their ranges.
pub(super) fn complete_alone(sentences: &[Vec<Piece>], system: System) -> impl Iterator<Item = String> {
    sentences.iter().filter_map(move |pieces| worded(pieces, system, alone).ok())
}

/// A sentence, or the values it lacks.
fn worded(
    pieces: &[Piece],
    system: System,
    print: fn(&Shown, System) -> String,
) -> Result<String, Vec<&Shown>> {
    let mut text = String::new();
    let mut lacks = Vec::new();
    for piece in pieces {
        match piece {
            Piece::Text(literal) => text.push_str(literal),
            Piece::Figure(written, quantity) => text.push_str(&figure_text(written, quantity, system)),
            Piece::Value(shown) => {
                let after_colon = text.trim_end().ends_with(':');
                match &shown.value {
                    Ok(_) => text.push_str(&print(shown, system)),
                    Err(Absence::Because(why)) if after_colon => text.push_str(&figures(why, system)),
                    Err(Absence::Missing(_)) if after_colon && is_own(shown) => text.push_str("not stated"),
                    Err(_) => lacks.push(shown),
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
                format!("Not known without {without}: {headings}.")
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
            vec![text("the seat is "), depth(), text(" deep.")],
            vec![
                text("It settles at "),
                without("Seat temperature", &["Barrel", "Supply"]),
                text(" outdoors."),
            ],
            vec![text("Least depth: "), without("Least seat depth", &["Barrel", "Supply"]), text(".")],
        ];
        assert_eq!(
            sentence(&pieces, System::Us),
            "The seat is 8 in deep. Not known without barrel and supply: seat temperature and least seat depth."
        );
    }

    #[test]
    fn a_reason_stands_after_a_colon_and_nowhere_else_within_a_sentence() {
        let why = || shown("Next length", Err(Absence::Because("none of {= 14 in} is deep enough".into())));
        assert_eq!(
            sentence(&[vec![text("Shortest: "), why(), text(".")]], System::Si),
            "Shortest: none of 356 mm is deep enough."
        );
        assert_eq!(
            sentence(&[vec![text("Order "), why(), text(".")]], System::Us),
            "Unknown: next length (none of 14 in is deep enough)."
        );
        let none = Err(Absence::Because("none, as no listed length up to {= 14 in} is enough".into()));
        let order = [vec![text("Order "), shown("Next length", none), text(".")]];
        assert_eq!(sentence(&order, System::Us), "No listed length up to 14 in is enough.");
    }

    #[test]
    fn a_figure_is_printed_in_the_readers_units() {
        let inch = Quantity::of(0.0254, Dim::LENGTH);
        let pieces = [vec![text("Short by "), Piece::Figure("1 in".into(), inch), text(".")]];
        assert_eq!(sentence(&pieces, System::Us), "Short by 1 in.");
        assert_eq!(sentence(&pieces, System::Si), "Short by 25.4 mm.");
    }

    #[test]
    fn what_a_rule_file_says_of_its_table_keeps_its_capitals_and_makes_a_sentence() {
        let why = Err(Absence::Because("the table ends at {= 0 °F}".into()));
        let pieces = [vec![text("It needs "), shown("County's Table A-501 depth", why), text(".")]];
        assert_eq!(
            sentence(&pieces, System::Us),
            "Unknown: county's Table A-501 depth (the table ends at 0 °F)."
        );
    }

    #[test]
    fn what_nobody_stated_is_said_so() {
        let pieces = [vec![
            text("It may stay full (self-draining: "),
            without("Self-draining", &["Self-draining"]),
            text(")."),
        ]];
        assert_eq!(sentence(&pieces, System::Us), "It may stay full (self-draining: not stated).");
        let pieces = [vec![text("It is "), without("Slope", &["Slope"]), text(".")]];
        assert_eq!(sentence(&pieces, System::Us), "Not stated: slope.");
    }
}
