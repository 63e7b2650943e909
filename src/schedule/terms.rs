//! The vocabulary of a schedule, and how a cell is read by its term.

use super::{fall, plain};
use crate::diag::{Place, Problem, nearest};
use crate::units::{Dim, Measure, Quantity, Refused, Show, System, Unit, Written, parse, parse_as};
use std::sync::Arc;

/// What a column can say.
#[derive(Clone, Debug)]
pub struct Term {
    /// The fact it states.
    pub fact: &'static str,
    /// Headings for it; case and punctuation do not count.
    pub aliases: &'static [&'static str],
    /// How its cells are read.
    pub reads: Reads,
}

/// How a cell is read.
#[derive(Clone, Copy, Debug)]
pub enum Reads {
    /// As it stands.
    Text,
    /// Yes or no.
    YesNo,
    /// A quantity within a range, SI. `none` in the cell is zero where the flag says so.
    Quantity {
        /// What it measures.
        measure: Measure,
        /// Least accepted, SI.
        least: f64,
        /// Most accepted, SI.
        most: f64,
        /// Whether "none" is a way to say zero.
        none: bool,
    },
    /// A whole number of things.
    Count,
    /// One of these words, each with other ways to say it.
    Words(&'static [(&'static str, &'static [&'static str])]),
}

/// What a cell says.
#[derive(Clone, Debug, PartialEq)]
pub enum Read {
    /// A text or a word.
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
    /// A quantity.
    Quantity(Quantity),
}

/// Why a cell says nothing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unread {
    what: String,
    expected: Option<String>,
    nearest: Option<String>,
}

impl Unread {
    /// The problem it is at a place where a text stands.
    pub fn at(self, place: Place, text: &str) -> Problem {
        let problem = Problem::new(place, self.what).text(text);
        Problem { expected: self.expected, nearest: self.nearest, ..problem }
    }
}

impl From<Refused> for Unread {
    fn from(it: Refused) -> Self {
        Self { what: it.what, expected: Some(it.expected), nearest: it.nearest.map(str::to_owned) }
    }
}

/// Reads a cell that is not blank. `unit` is what a bare number takes.
pub fn read_cell(reads: &Reads, text: &str, unit: Option<&Unit>) -> Result<Read, Unread> {
    match *reads {
        Reads::Text => Ok(Read::Text(text.into())),
        Reads::YesNo => match plain(text).as_str() {
            "yes" | "y" | "true" | "x" => Ok(Read::YesNo(true)),
            "no" | "n" | "false" | "none" => Ok(Read::YesNo(false)),
            _ => Err(Unread {
                what: "says neither yes nor no".into(),
                expected: Some("yes or no".into()),
                nearest: None,
            }),
        },
        Reads::Count => {
            count(text).map(|it| Read::Quantity(Quantity::of(it, Dim::NONE))).ok_or_else(|| Unread {
                what: "is not a whole number of things".into(),
                expected: Some("a number such as 12".into()),
                nearest: None,
            })
        }
        Reads::Quantity { measure, none: true, .. } if matches!(plain(text).as_str(), "none" | "no") => {
            Ok(Read::Quantity(Quantity::exact(0.0, measure)))
        }
        Reads::Quantity { measure, least, most, .. } => {
            let quantity = if measure == Measure::Of(Dim::NONE) && least < 0.0 {
                slope(text, unit)?
            } else {
                parse_as(text, measure, Written { unit, band: true, ..Written::default() })?
            };
            if quantity.low >= least && quantity.high <= most {
                return Ok(Read::Quantity(quantity));
            }
            let show = |si| shown(si, measure);
            let expected = format!("{} to {}", show(least), show(most));
            // A foot mark where an inch mark was meant.
            let slip = text.trim().strip_suffix(['\'', '’', '′']).map(|it| format!("{it}\""));
            let inches = slip.filter(|it| parse(it, measure).is_ok_and(|it| (least..=most).contains(&it.is)));
            let what = "is outside what there is".into();
            Err(Unread { what, expected: Some(expected), nearest: inches })
        }
        Reads::Words(words) => {
            let said = plain(text);
            let is_meant = |(word, others): &&(&str, &[&str])| {
                plain(word) == said || others.iter().any(|other| plain(other) == said)
            };
            if let Some((word, _)) = words.iter().find(is_meant) {
                return Ok(Read::Text((*word).into()));
            }
            let spellings = words.iter().flat_map(|(word, others)| others.iter().copied().chain([*word]));
            let all: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            Err(Unread {
                what: "is not understood".into(),
                expected: Some(all.join(", ")),
                nearest: nearest(text, spellings).map(str::to_owned),
            })
        }
    }
}

/// A whole number of things: `12`, `(2)`, `6 EA`, `qty 4`, `1,200`.
fn count(text: &str) -> Option<f64> {
    const THINGS: [&str; 9] = ["ea", "each", "pc", "pcs", "no", "nos", "total", "req'd", "reqd"];
    let lower = text.to_lowercase();
    let mut bare = lower.trim().trim_end_matches('.').trim_matches(['(', ')', ' ']);
    for label in ["qty", "quantity", "x"] {
        bare = bare.strip_prefix(label).map_or(bare, |it| it.trim_start_matches(['.', ':', '=', ' ']));
    }
    for thing in THINGS {
        bare = bare.strip_suffix(thing).map_or(bare, |it| it.trim_end_matches(['.', ')', ' ']));
    }
    // A spreadsheet may show a whole number with a decimal.
    let bare = bare.strip_suffix(".0").unwrap_or(bare);
    if bare.is_empty() || !bare.bytes().all(|it| it.is_ascii_digit() || it == b',') {
        return None;
    }
    let number = parse(bare, Measure::Of(Dim::NONE)).ok()?.is;
    (number <= f64::from(u32::MAX)).then_some(number)
}

/// A slope with the direction its words give.
fn slope(text: &str, unit: Option<&Unit>) -> Result<Quantity, Unread> {
    let asked = |what: &str| Unread {
        what: what.into(),
        expected: Some("1/4 in/ft, 2 %, 1:48 or 5°".into()),
        nearest: None,
    };
    if matches!(plain(text).as_str(), "level" | "flat" | "deadlevel" | "runlevel") {
        return Ok(Quantity::of(0.0, Dim::NONE));
    }
    let fall = fall::parted(text).map_err(asked)?;
    if fall.figure.is_empty() {
        return Err(asked("gives a direction and no figure"));
    }
    let measure = Measure::Of(Dim::NONE);
    let it = parse_as(&fall.figure, measure, Written { unit, band: true, ..Written::default() })?;
    // A slope of 1/8 is meant per foot by one and as a ratio by another.
    let is_bare = !fall.figure.contains(|c: char| !(c.is_ascii_digit() || ".+-/ ½¼¾⅛⅜⅝⅞−–⁄".contains(c)));
    if unit.is_none() && is_bare && it.is != 0.0 {
        return Err(asked("has no unit"));
    }
    match fall.outward {
        Some(true) if it.low < 0.0 => Err(asked("has a sign and words that contradict each other")),
        Some(false) if it.low >= 0.0 => Ok(Quantity::exact(-it.is, measure).within(-it.high, -it.low)),
        // "-1/8 in/ft inward" says the same twice.
        _ => Ok(it),
    }
}

fn shown(si: f64, measure: Measure) -> String {
    if measure == Measure::Of(Dim::NONE) {
        return format!("{si}");
    }
    Show::usual(measure).value(&Quantity::exact(si, measure), System::Us)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARREL: Reads =
        Reads::Words(&[("stainless", &["ss", "304", "stainless steel"]), ("brass", &["yellow brass"])]);
    const DEPTH: Reads =
        Reads::Quantity { measure: Measure::Of(Dim::LENGTH), least: 0.0, most: 1.0, none: false };

    fn problem(reads: &Reads, text: &str) -> String {
        read_cell(reads, text, None).unwrap_err().at(Place::whole("s.csv"), text).to_string()
    }

    #[test]
    fn a_word_is_read_by_any_of_its_spellings() {
        for text in ["Stainless Steel", "SS", "S.S."] {
            assert_eq!(read_cell(&BARREL, text, None), Ok(Read::Text("stainless".into())), "{text}");
        }
        assert_eq!(
            problem(&BARREL, "stanless"),
            "s.csv: \"stanless\" is not understood; expected stainless, brass; did you mean \"stainless\"?"
        );
    }

    #[test]
    fn a_slope_without_a_unit_is_asked_about() {
        const SLOPE: Reads =
            Reads::Quantity { measure: Measure::Of(Dim::NONE), least: -0.5, most: 0.5, none: false };
        for text in ["1/8", "0.25", "-1/4"] {
            let told = problem(&SLOPE, text);
            assert_eq!(told, format!("s.csv: \"{text}\" has no unit; expected 1/4 in/ft, 2 %, 1:48 or 5°"));
        }
        for text in ["1/8 in/ft", "1:48", "2 %", "0"] {
            assert!(read_cell(&SLOPE, text, None).is_ok(), "{text}");
        }
    }

    #[test]
    fn a_length_beyond_what_there_is_names_the_range() {
        assert_eq!(
            problem(&DEPTH, "40 ft"),
            "s.csv: \"40 ft\" is outside what there is; expected 0 in to 39.37 in"
        );
        assert_eq!(
            problem(&DEPTH, "-8 in"),
            "s.csv: \"-8 in\" is outside what there is; expected 0 in to 39.37 in"
        );
        assert!(problem(&DEPTH, "8 kg").starts_with("s.csv: \"8 kg\" is a mass, not a length"));
    }
}
