//! Slopes with a direction in words: "1/4 in/ft toward outside", "2 % back to the building", "pitch to drain". Positive
//! is outward.

use super::text::plain;
use crate::units::{
    Dim, Measure, ParseOptions, Quantity, QuantityError, Reason, Unit, contains, find_unit, parse,
    parse_with, parse_with_unit,
};
use regex::Regex;
use std::sync::LazyLock;

/// Why a text is not a slope.
#[derive(Clone, Debug, PartialEq)]
pub enum SlopeError {
    /// Words for both directions.
    TwoDirections,
    /// A rise without a direction.
    NoDirection,
    /// A direction without a number.
    NoNumber,
    /// A negative number, and words for outward.
    SignAndWords,
    /// A rise without its run; and the rise per foot, if that is a plausible slope.
    NoRun(Option<String>),
    /// Beyond the range, SI; and the ratio turned around, if that is within it.
    TooSteep(f64, Option<String>),
    /// Not a number of the kind.
    Quantity(QuantityError),
}

impl SlopeError {
    /// What is wrong; completes the sentence that starts with the text.
    pub(super) fn message(&self) -> String {
        match self {
            Self::TwoDirections => "names two directions".into(),
            Self::NoDirection => "rises, but does not say in which direction".into(),
            Self::NoNumber => "gives a direction without a slope".into(),
            Self::SignAndWords => "has a sign and words that contradict each other".into(),
            Self::NoRun(_) => "is a fall without the length it is over".into(),
            Self::TooSteep(..) => "is out of range: too steep for a faucet".into(),
            Self::Quantity(error) => error.message(),
        }
    }

    pub(super) fn expected(&self) -> String {
        match self {
            Self::TooSteep(most, _) => format!("at most {} in/ft, such as 1/4 in/ft or 1:48", most * 12.0),
            Self::Quantity(error) if error.reason != Reason::NoUnit => error.expected(),
            _ => "1/4 in/ft, 2 %, 1:48 or 5°".into(),
        }
    }

    pub(super) fn correction(&self) -> Option<String> {
        match self {
            Self::NoRun(correction) | Self::TooSteep(_, correction) => correction.clone(),
            Self::Quantity(error) => error.nearest().map(str::to_owned),
            _ => None,
        }
    }
}

const SLOPE: Measure = Measure::Of(Dim::NONE);
const LENGTH: Measure = Measure::Of(Dim::LENGTH);

/// Parses a slope within a range, with the direction its words give.
pub(super) fn parse_slope(text: &str, unit: Option<&Unit>, range: [f64; 2]) -> Result<Quantity, SlopeError> {
    if matches!(plain(text).as_str(), "level" | "flat" | "deadlevel" | "runlevel") {
        return Ok(Quantity::of(0.0, Dim::NONE));
    }
    let Directed { figure, outward } = split_direction(text)?;
    if figure.is_empty() {
        return Err(SlopeError::NoNumber);
    }
    let options = ParseOptions { unit, band: true, ..ParseOptions::default() };
    // Calculations use the flatter end of a slope: the least is the value. Inward, the least is the better end.
    let figure = if outward == Some(false) { figure } else { without_least(&figure).to_owned() };
    let stated = parse_with(&figure, SLOPE, options)
        .map_err(|error| fall_alone(&figure).unwrap_or(SlopeError::Quantity(error)))?;
    // A slope of 1/8 is per foot to one writer and a ratio to another.
    let is_bare = figure.chars().all(|c| c.is_numeric() || ".+-/ −–⁄".contains(c));
    if unit.is_none() && is_bare && stated.is != 0.0 {
        return Err(SlopeError::Quantity(QuantityError { reason: Reason::NoUnit, want: SLOPE }));
    }
    let slope = match outward {
        Some(true) if stated.low < 0.0 => return Err(SlopeError::SignAndWords),
        Some(false) if stated.low >= 0.0 => {
            Quantity::exact(-stated.is, SLOPE).within(-stated.high, -stated.low)
        }
        // "-1/8 in/ft inward" says the same twice.
        _ => stated,
    };
    if slope.is_within(range) {
        return Ok(slope);
    }
    let is_reversed = contains(range, 1.0 / stated.is);
    let turned = text.trim().split_once(':').filter(|_| is_reversed);
    let turned = turned.map(|(rise, run)| format!("{}:{}", run.trim(), rise.trim()));
    Err(SlopeError::TooSteep(range[1], turned))
}

/// A slope without the word that makes it the least: `1/8"/ft min`. One that falls inward keeps it.
fn without_least(figure: &str) -> &str {
    const LEAST: [&str; 3] = ["minimum", "min.", "min"];
    let bare = LEAST.iter().find_map(|word| {
        let start = figure.len().checked_sub(word.len())?;
        let (before, last) = (figure.get(..start)?, figure.get(start..)?);
        (last.eq_ignore_ascii_case(word) && before.ends_with(' ')).then(|| before.trim_end())
    });
    bare.filter(|it| !it.starts_with(['-', '−', '–'])).unwrap_or(figure)
}

/// The error for a fall without its run, as in `1/4"`, with the slope per foot as a correction.
fn fall_alone(figure: &str) -> Option<SlopeError> {
    /// Steeper is not a plausible fall per foot.
    const MOST: f64 = 0.5;
    let fall = parse(figure, LENGTH).ok()?.is;
    let number = figure.trim_end_matches(|c: char| !c.is_numeric()).trim();
    let is_inches = parse_with_unit(number, LENGTH, find_unit("in")).is_ok_and(|inches| inches.is == fall);
    let foot = find_unit("ft")?.to_si(1.0, LENGTH)?;
    let is_plausible = is_inches && (fall / foot).abs() < MOST;
    Some(SlopeError::NoRun(is_plausible.then(|| format!("{number} in/ft"))))
}

/// A slope without its words, and whether they say that it falls outward.
#[derive(Debug, PartialEq, Eq)]
struct Directed {
    figure: String,
    outward: Option<bool>,
}

const TO: &str = r"(?:down(?:ward|wards)?\s+)?(?:back\s+)?(?:to|toward|towards|into|vers)\s+(?:the\s+|l')?";
const OUT: &str =
    r"(?:outside|exterior|ext[ée]rieur|outdoors|face|spout|nozzle|daylight|drain|street|weather)\b";
const IN: &str = r"(?:inside|interior|int[ée]rieur|indoors|building|bldg|house|room|wall|seat|inlet)\b";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test compiles them")]
static WORDS: LazyLock<[Regex; 4]> = LazyLock::new(|| {
    let out =
        format!(r"(?i)\b(?:{TO}{OUT}|outwards?\b|away\s+from\s+(?:the\s+)?{IN}|from\s+(?:the\s+)?{IN})");
    let inward = format!(r"(?i)\b(?:{TO}{IN}|inwards?\b|away\s+from\s+(?:the\s+)?{OUT})");
    let up = r"(?i)\b(?:up(?:wards?)?|ris(?:es|e|ing))\b".to_owned();
    let idle = r"(?i)\b(?:barrel|tube|hydrants?|outlets?|sillcocks?|bibbs?|faucets?|bod(?:y|ies)|units?|slop(?:e|es|ed|ing)|pente|pitch(?:es|ed)?|fall(?:s|ing)?|drain(?:s|ing)?|at|down(?:wards?)?|of)\b"
        .to_owned();
    [out, inward, up, idle].map(|it| Regex::new(&it).expect("a pattern of the source"))
});

/// Splits a slope from its words for a direction.
fn split_direction(text: &str) -> Result<Directed, SlopeError> {
    const DRAINS_INSIDE: [&str; 5] =
        ["drain inside", "inside drain", "floor drain", "interior drain", "drain indoors"];
    let [out, inward, up, idle] = &*WORDS;
    let (says_out, says_in, rises) = (out.is_match(text), inward.is_match(text), up.is_match(text));
    // "To drain" is outward unless the drain is inside.
    let lower = text.to_lowercase();
    if (says_out && says_in) || DRAINS_INSIDE.iter().any(|words| lower.contains(words)) {
        return Err(SlopeError::TwoDirections);
    }
    // What rises outward falls inward.
    let outward = (says_out || says_in).then_some(says_out != rises);
    if rises && outward.is_none() {
        return Err(SlopeError::NoDirection);
    }
    let mut figure = text.to_owned();
    for words in [out, inward, up, idle] {
        figure = words.replace_all(&figure, " ").into_owned();
    }
    let figure = figure.split_whitespace().collect::<Vec<_>>().join(" ");
    Ok(Directed { figure: figure.trim_matches([',', ';', ':', ' ', '(', ')']).to_owned(), outward })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_give_the_direction_of_a_slope() {
        for (text, figure, outward) in [
            ("1/4 in/ft", "1/4 in/ft", None),
            ("1/4\" per ft toward outside", "1/4\" per ft", Some(true)),
            ("2 % down to exterior", "2 %", Some(true)),
            ("Pitch 5° to drain", "5°", Some(true)),
            ("slopes 1:48 away from the building", "1:48", Some(true)),
            ("1/8\"/ft, slopes inward", "1/8\"/ft", Some(false)),
            ("1/8 in/ft back to the building", "1/8 in/ft", Some(false)),
            ("rises 2 % to the exterior", "2 %", Some(false)),
            ("2 % up to inside", "2 %", Some(true)),
            ("pitch to drain", "", Some(true)),
        ] {
            assert_eq!(split_direction(text), Ok(Directed { figure: figure.into(), outward }), "{text}");
        }
    }

    #[test]
    fn two_directions_or_an_undirected_rise_are_errors() {
        assert_eq!(split_direction("1/4 in/ft outward, toward the house"), Err(SlopeError::TwoDirections));
        assert_eq!(split_direction("rises 2 %"), Err(SlopeError::NoDirection));
    }
}
