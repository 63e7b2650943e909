//! The vocabulary of a schedule, and how a cell is read by its term.

use super::{fall, plain};
use crate::diag::{Diagnostic, Location, nearest};
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
    pub fn at(self, place: Location, text: &str) -> Diagnostic {
        let problem = Diagnostic::new(place, self.what).text(text);
        Diagnostic { expected: self.expected, nearest: self.nearest, ..problem }
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
            if measure == Measure::Of(Dim::NONE) && least < 0.0 {
                return Err(too_steep(text, [least, most]));
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
            if let Some(word) = meant(words, text) {
                return Ok(Read::Text(word.into()));
            }
            if let Some([one, other]) = choice(words, text) {
                return Err(Unread {
                    what: format!("names two, {one} and {other}; which of them it is is not known"),
                    expected: Some("one of the two".into()),
                    nearest: None,
                });
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

type Words = [(&'static str, &'static [&'static str])];

/// The word that a text is a spelling of.
fn meant(words: &Words, text: &str) -> Option<&'static str> {
    let said = plain(text);
    let is_meant = |(word, others): &&(&str, &[&str])| {
        plain(word) == said || others.iter().any(|other| plain(other) == said)
    };
    words.iter().find(is_meant).map(|(word, _)| *word)
}

/// Two words between which a text leaves the choice: `ASSE 1019/1011`, `brass or bronze`. What stands before the first
/// figure may stand for both.
fn choice(words: &Words, text: &str) -> Option<[&'static str; 2]> {
    const BETWEEN: [&str; 6] = ["/", " or ", " and ", "&", "+", ","];
    let lower = text.to_lowercase();
    let (first, second) = BETWEEN.iter().find_map(|it| lower.split_once(it))?;
    let one = meant(words, first)?;
    let label = first.trim().rsplit_once(' ').map_or("", |(label, _)| label);
    let other = meant(words, second).or_else(|| meant(words, &format!("{label} {second}")))?;
    (one != other).then_some([one, other])
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
    let asked = |what: &str| Unread { what: what.into(), expected: Some(SLOPES.into()), nearest: None };
    if matches!(plain(text).as_str(), "level" | "flat" | "deadlevel" | "runlevel") {
        return Ok(Quantity::of(0.0, Dim::NONE));
    }
    let fall = fall::parted(text).map_err(asked)?;
    if fall.figure.is_empty() {
        return Err(asked("gives a direction and no figure"));
    }
    let measure = Measure::Of(Dim::NONE);
    let it = parse_as(&fall.figure, measure, Written { unit, band: true, ..Written::default() })
        .map_err(|refused| rise_alone(&fall.figure).unwrap_or_else(|| refused.into()))?;
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

/// A rise without the run it is over, as in `1/4"`; per foot is offered where that is a slope there can be.
fn rise_alone(figure: &str) -> Option<Unread> {
    parse(figure, Measure::Of(Dim::LENGTH)).ok()?;
    let number = figure.trim_end_matches(|c: char| !c.is_numeric()).trim();
    let inches = parse(&format!("{number} in"), Measure::Of(Dim::LENGTH)).ok()?;
    let is_inches = parse(figure, Measure::Of(Dim::LENGTH)).is_ok_and(|it| it.is == inches.is);
    let per_foot = format!("{number} in/ft");
    let slope = parse(&per_foot, Measure::Of(Dim::NONE)).ok().filter(|it| is_inches && it.is.abs() < 0.5);
    Some(Unread {
        what: "says how far it falls, and not over what length".into(),
        expected: Some(SLOPES.into()),
        nearest: slope.map(|_| per_foot),
    })
}

/// A slope beyond what there is, SI; of one with its ends the wrong way round, `48:1`, the other is offered.
fn too_steep(text: &str, [least, most]: [f64; 2]) -> Unread {
    let turned = text.trim().split_once(':').map(|(rise, run)| format!("{}:{}", run.trim(), rise.trim()));
    let turned =
        turned.filter(|it| parse(it, Measure::Of(Dim::NONE)).is_ok_and(|it| (least..=most).contains(&it.is)));
    Unread {
        what: "is steeper than an outlet can lie".into(),
        expected: Some(format!("at most {} in/ft, such as 1/4 in/ft or 1:48", most * 12.0)),
        nearest: turned,
    }
}

const SLOPES: &str = "1/4 in/ft, 2 %, 1:48 or 5°";

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
        read_cell(reads, text, None).unwrap_err().at(Location::whole("s.csv"), text).to_string()
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

    /// 1/4 in over 12 in; 1/48 the other way round.
    #[test]
    fn a_rise_without_its_run_and_a_ratio_the_wrong_way_round_are_offered_as_slopes() {
        const SLOPE: Reads =
            Reads::Quantity { measure: Measure::Of(Dim::NONE), least: -0.5, most: 0.5, none: false };
        let rise = "says how far it falls, and not over what length; expected 1/4 in/ft, 2 %, 1:48 or 5°";
        for (text, offered) in [("1/4\"", "1/4"), ("1/8 inch", "1/8"), ("¼\"", "¼")] {
            assert_eq!(
                problem(&SLOPE, text),
                format!("s.csv: \"{text}\" {rise}; did you mean \"{offered} in/ft\"?")
            );
        }
        for text in ["8\"", "6 mm"] {
            assert_eq!(problem(&SLOPE, text), format!("s.csv: \"{text}\" {rise}"));
        }
        let steep = "is steeper than an outlet can lie; expected at most 6 in/ft, such as 1/4 in/ft or 1:48";
        assert_eq!(problem(&SLOPE, "48:1"), format!("s.csv: \"48:1\" {steep}; did you mean \"1:48\"?"));
        assert_eq!(problem(&SLOPE, "1:1"), format!("s.csv: \"1:1\" {steep}"));
    }

    #[test]
    fn a_choice_of_two_words_names_both_and_is_neither() {
        const DEVICE: Reads = Reads::Words(&[
            ("hose connection vacuum breaker", &["asse 1011"]),
            ("integral vacuum breaker", &["asse 1019", "asse 1019 a"]),
        ]);
        for text in ["ASSE 1019/1011", "ASSE 1019 or 1011", "ASSE 1019-A / ASSE 1011"] {
            assert_eq!(
                problem(&DEVICE, text),
                format!(
                    "s.csv: \"{text}\" names two, integral vacuum breaker and hose connection vacuum breaker; which of \
                     them it is is not known; expected one of the two"
                )
            );
        }
        assert!(problem(&DEVICE, "ASSE 1019/1052").contains("is not understood"));
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
