//! Reads one cell by its term: a word, yes or no, a count or a quantity.

use super::doubt::doubts;
use super::lexicon;
use super::slope::{SlopeError, parse_slope};
use super::text::{is_plainly, plain, without_editions};
use super::vocabulary::{CellType, CellValue, Words};
use crate::diag::{Diagnostic, Location, nearest};
use crate::units::{
    DOUBTFUL_SIGNS, Dim, Measure, ParseOptions, Quantity, QuantityError, Reason, Unit, find_unit, parse,
    parse_in_range,
};

/// Why a cell has no value.
#[derive(Clone, Debug, PartialEq)]
pub enum CellError {
    /// Neither yes nor no.
    NotYesNo,
    /// Not a whole number.
    NotCount,
    /// Not one of the words; and the nearest spelling.
    UnknownWord(&'static Words, Option<String>),
    /// A sign or words that leave it open: `brass?`, `brass or equal`.
    Doubtful,
    /// Two of the words.
    TwoWords([&'static str; 2]),
    /// Not a quantity; and a likely correction.
    Quantity(QuantityError, Option<String>),
    /// Not a slope.
    Slope(SlopeError),
}

impl CellError {
    /// What is wrong; completes the sentence that starts with the text.
    fn message(&self) -> String {
        match self {
            Self::NotYesNo => "is neither yes nor no".into(),
            Self::NotCount => "is not a whole number".into(),
            Self::UnknownWord(..) => "is not a known value".into(),
            Self::Doubtful => "is doubtful, not final".into(),
            Self::TwoWords([one, other]) => {
                format!("names both {one} and {other} and does not say which one applies")
            }
            Self::Quantity(error, _) => error.message(),
            Self::Slope(error) => error.message(),
        }
    }

    fn expected(&self) -> String {
        match self {
            Self::NotYesNo => "yes or no".into(),
            Self::NotCount => "a number such as 12".into(),
            Self::UnknownWord(words, _) => words.iter().map(|(word, _)| *word).collect::<Vec<_>>().join(", "),
            Self::Doubtful => "the value alone".into(),
            Self::TwoWords(_) => "one of the two".into(),
            Self::Quantity(error, _) => error.expected(),
            Self::Slope(error) => error.expected(),
        }
    }

    fn nearest(&self) -> Option<String> {
        match self {
            Self::UnknownWord(_, nearest) => nearest.clone(),
            Self::Quantity(error, correction) => {
                correction.clone().or_else(|| error.nearest().map(str::to_owned))
            }
            Self::Slope(error) => error.correction(),
            Self::NotYesNo | Self::NotCount | Self::Doubtful | Self::TwoWords(_) => None,
        }
    }

    /// The diagnostic at the location of the cell.
    pub fn at(&self, location: Location, text: &str) -> Diagnostic {
        let diagnostic = Diagnostic::new(location, self.message()).text(text).expected(self.expected());
        Diagnostic { nearest: self.nearest().map(Into::into), ..diagnostic }
    }
}

/// Reads a cell that is not blank. A bare number takes `unit`.
pub fn read_cell(reads: &CellType, text: &str, unit: Option<&Unit>) -> Result<CellValue, CellError> {
    match *reads {
        CellType::Text => Ok(CellValue::Text(text.into())),
        CellType::YesNo | CellType::Words(_) if is_doubtful(text) => Err(CellError::Doubtful),
        CellType::YesNo => match plain(without_reason(text)).as_str() {
            "yes" | "y" | "true" | "x" | "oui" => Ok(CellValue::YesNo(true)),
            "no" | "n" | "false" | "none" | "non" => Ok(CellValue::YesNo(false)),
            _ => Err(CellError::NotYesNo),
        },
        CellType::Count => {
            let count = parse_count(text).ok_or(CellError::NotCount)?;
            Ok(CellValue::Quantity(Quantity::of(count, Dim::NONE)))
        }
        CellType::Words(words) => read_word(words, text).map(|word| CellValue::Text(word.into())),
        CellType::Quantity { measure, none: true, .. } if says_none(text) => {
            Ok(CellValue::Quantity(Quantity::exact(0.0, measure)))
        }
        // Only a slope is a number of either sign.
        CellType::Quantity { measure: Measure::Of(Dim::NONE), least, most, .. } if least < 0.0 => {
            parse_slope(text, unit, [least, most]).map(CellValue::Quantity).map_err(CellError::Slope)
        }
        CellType::Quantity { measure, least, most, none } => {
            let options = ParseOptions { unit, band: true, ..ParseOptions::default() };
            let text = if none { without_foam(text) } else { text };
            let text = if measure == Measure::Of(Dim::NONE) { text.trim_start_matches('$') } else { text };
            parse_in_range(text, measure, options, [least, most]).map(CellValue::Quantity).map_err(|error| {
                let correction = inches_for_feet(&error, text);
                CellError::Quantity(error, correction)
            })
        }
    }
}

/// Whether a text says that there is none of a thickness.
fn says_none(text: &str) -> bool {
    const NONE: [&str; 5] = ["none", "no", "n", "bare", "uninsulated"];
    NONE.contains(&plain(text).as_str()) && !is_doubtful(text)
}

/// A thickness without what it is of: `1/2 in foam`.
fn without_foam(text: &str) -> &str {
    const OF: [&str; 5] = ["foam", "elastomeric", "fiberglass", "rubber", "insulation"];
    let mut text = text.trim();
    while let Some((before, word)) = text.rsplit_once(' ')
        && OF.iter().any(|of| of.eq_ignore_ascii_case(word))
    {
        text = before.trim_end();
    }
    text
}

/// The answer before a dash and a place or a reason: the Y of "Y - ceiling hatch". All of it, if more is in doubt.
fn without_reason(text: &str) -> &str {
    let Some((answer, reason)) = text.split_once(" - ").or_else(|| text.split_once(" – ")) else {
        return text;
    };
    let denies =
        |word: &str| ["no", "not", "but", "never", "without"].contains(&word.to_lowercase().as_str());
    let is_clear = doubts(reason).is_empty() && !reason.split(|c: char| !c.is_alphanumeric()).any(denies);
    if is_clear { answer } else { text }
}

/// Whether a sign or words beside a word leave it open.
fn is_doubtful(text: &str) -> bool {
    const WORDS: [&str; 6] = ["or equal", "or approved", "or eq", "or similar", "ou équivalent", "ou équiv"];
    let lower = text.to_lowercase();
    text.contains(['?', '~', '≠', '≈', '±'])
        || text.contains(DOUBTFUL_SIGNS)
        || WORDS.iter().any(|it| lower.contains(it))
}

/// The text with an inch mark in place of a foot mark, if that is within the range.
fn inches_for_feet(error: &QuantityError, text: &str) -> Option<String> {
    let Reason::OutOfRange(range) = error.reason else { return None };
    let number = text.trim().strip_suffix(['\'', '’', '′'])?;
    let options = ParseOptions { unit: find_unit("in"), ..ParseOptions::default() };
    let is_plausible = parse_in_range(number, error.want, options, range).is_ok();
    is_plausible.then(|| format!("{number}\""))
}

fn read_word(words: &'static Words, text: &str) -> Result<&'static str, CellError> {
    let text = &*without_editions(text);
    if let Some(word) = word_spelled(words, text) {
        return Ok(word);
    }
    if let Some(two) = two_words(words, text) {
        return Err(CellError::TwoWords(two));
    }
    let spellings = words.iter().flat_map(|(word, others)| others.iter().chain([word]));
    let names = lexicon::names(words);
    let all = spellings.copied().chain(names.iter().map(String::as_str));
    let likely = nearest(text, all).filter(|_| !lexicon::denies_frostproof(text));
    Err(CellError::UnknownWord(words, likely.map(str::to_owned)))
}

/// The word with a spelling.
fn word_spelled(words: &'static Words, text: &str) -> Option<&'static str> {
    let text_plain = plain(text);
    let is_spelling = |(word, others): &&(&str, &[&str])| {
        is_plainly(word, &text_plain) || others.iter().any(|other| is_plainly(other, &text_plain))
    };
    words.iter().find(is_spelling).map(|(word, _)| *word).or_else(|| lexicon::word(words, text))
}

/// Two words that a text leaves open: `ASSE 1019/1011`, `brass or bronze`. What comes before the first number may
/// belong to both.
fn two_words(words: &'static Words, text: &str) -> Option<[&'static str; 2]> {
    const SEPARATORS: [&str; 6] = ["/", " or ", " and ", "&", "+", ","];
    let lower = text.to_lowercase();
    let (first, second) = SEPARATORS.iter().find_map(|separator| lower.split_once(separator))?;
    let one = word_spelled(words, first)?;
    let label = first.trim().rsplit_once(' ').map_or("", |(label, _)| label);
    let other = word_spelled(words, second).or_else(|| word_spelled(words, &format!("{label} {second}")))?;
    (one != other).then_some([one, other])
}

/// A whole number of things: `12`, `(2)`, `2x`, `6 EA`, `qty 4`, `1,200`, `two`.
fn parse_count(text: &str) -> Option<f64> {
    const THINGS: [&str; 10] = ["ea", "each", "pc", "pcs", "no", "nos", "total", "req'd", "reqd", "x"];
    const WORDS: [&str; 12] =
        ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    let lower = text.to_lowercase();
    let mut bare = lower.trim().trim_end_matches('.').trim_matches(['(', ')', ' ']);
    for label in ["qty", "quantity", "x"] {
        bare = bare.strip_prefix(label).map_or(bare, |rest| rest.trim_start_matches(['.', ':', '=', ' ']));
    }
    if let Some(at) = WORDS.iter().position(|word| *word == bare) {
        return Some((at + 1) as f64);
    }
    for thing in THINGS {
        bare = bare.strip_suffix(thing).map_or(bare, |rest| rest.trim_end_matches(['.', ')', ' ']));
    }
    // A spreadsheet may show a whole number with a decimal.
    let bare = bare.strip_suffix(".0").unwrap_or(bare);
    if bare.is_empty() || !bare.bytes().all(|byte| byte.is_ascii_digit() || byte == b',') {
        return None;
    }
    let number = parse(bare, Measure::Of(Dim::NONE)).ok()?.is;
    (number <= f64::from(u32::MAX)).then_some(number)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARREL: CellType =
        CellType::Words(&[("stainless", &["ss", "304", "stainless steel"]), ("brass", &["yellow brass"])]);
    const DEPTH: CellType =
        CellType::Quantity { measure: Measure::Of(Dim::LENGTH), least: 0.0, most: 1.0, none: false };

    fn problem(reads: &CellType, text: &str) -> String {
        read_cell(reads, text, None).unwrap_err().at(Location::whole("s.csv"), text).to_string()
    }

    #[test]
    fn a_word_is_read_by_each_of_its_spellings() {
        for text in ["Stainless Steel", "SS", "S.S."] {
            assert_eq!(read_cell(&BARREL, text, None), Ok(CellValue::Text("stainless".into())), "{text}");
        }
        assert_eq!(
            problem(&BARREL, "stanless"),
            "s.csv: \"stanless\" is not a known value; expected stainless, brass; did you mean \"stainless\"?"
        );
    }

    #[test]
    fn a_slope_without_a_unit_is_an_error() {
        const SLOPE: CellType =
            CellType::Quantity { measure: Measure::Of(Dim::NONE), least: -0.5, most: 0.5, none: false };
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
    fn a_fall_without_run_and_a_reversed_ratio_are_corrected() {
        const SLOPE: CellType =
            CellType::Quantity { measure: Measure::Of(Dim::NONE), least: -0.5, most: 0.5, none: false };
        let rise = "is a fall without the length it is over; expected 1/4 in/ft, 2 %, 1:48 or 5°";
        for (text, offered) in [("1/4\"", "1/4"), ("1/8 inch", "1/8"), ("¼\"", "¼")] {
            assert_eq!(
                problem(&SLOPE, text),
                format!("s.csv: \"{text}\" {rise}; did you mean \"{offered} in/ft\"?")
            );
        }
        for text in ["8\"", "6 mm"] {
            assert_eq!(problem(&SLOPE, text), format!("s.csv: \"{text}\" {rise}"));
        }
        let steep =
            "is out of range: too steep for a faucet; expected at most 6 in/ft, such as 1/4 in/ft or 1:48";
        assert_eq!(problem(&SLOPE, "48:1"), format!("s.csv: \"48:1\" {steep}; did you mean \"1:48\"?"));
        assert_eq!(problem(&SLOPE, "1:1"), format!("s.csv: \"1:1\" {steep}"));
    }

    #[test]
    fn a_choice_of_two_words_is_an_error_that_names_both() {
        const DEVICE: CellType = CellType::Words(&[
            ("hose connection vacuum breaker", &["asse 1011"]),
            ("integral vacuum breaker", &["asse 1019", "asse 1019 a"]),
        ]);
        for text in ["ASSE 1019/1011", "ASSE 1019 or 1011", "ASSE 1019-A / ASSE 1011"] {
            assert_eq!(
                problem(&DEVICE, text),
                format!(
                    "s.csv: \"{text}\" names both integral vacuum breaker and hose connection vacuum breaker and does \
                     not say which one applies; expected one of the two"
                )
            );
        }
        assert!(problem(&DEVICE, "ASSE 1019/1052").contains("is not a known value"));
    }

    #[test]
    fn a_length_out_of_range_names_the_range() {
        assert_eq!(problem(&DEPTH, "40 ft"), "s.csv: \"40 ft\" is out of range; expected 0 in to 39.37 in");
        assert_eq!(problem(&DEPTH, "-8 in"), "s.csv: \"-8 in\" is out of range; expected 0 in to 39.37 in");
        assert!(problem(&DEPTH, "8 kg").starts_with("s.csv: \"8 kg\" is a mass, not a length"));
    }
}
