//! Words and figures of a text, each with its range: what the lexicon and the binding rules work on.

use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// A run of letters and digits, in lower case and without accents.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub range: Range<usize>,
    pub word: String,
}

/// The tokens of a text. Letters and the digits after them stand together (`F1960`); digits before letters do not.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut tokens: Vec<Token> = Vec::new();
    let mut open = false;
    for (at, c) in text.char_indices() {
        if !c.is_alphanumeric() {
            open = false;
            continue;
        }
        let after_digit = tokens.last().is_some_and(|it| it.word.ends_with(|c: char| c.is_ascii_digit()));
        if !open || after_digit && !c.is_ascii_digit() {
            tokens.push(Token { range: at..at, word: String::new() });
        }
        open = true;
        if let Some(last) = tokens.last_mut() {
            last.range.end = at + c.len_utf8();
            last.word.extend(c.to_lowercase().map(without_accent));
        }
    }
    tokens
}

/// The letter without its accent.
pub(super) fn without_accent(c: char) -> char {
    match c {
        'à' | 'â' | 'ä' | 'á' => 'a',
        'ç' => 'c',
        'é' | 'è' | 'ê' | 'ë' => 'e',
        'î' | 'ï' | 'í' => 'i',
        'ô' | 'ö' | 'ó' => 'o',
        'ù' | 'û' | 'ü' | 'ú' => 'u',
        _ => c,
    }
}

/// What a figure is written in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Written {
    Bare,
    Inches,
    Feet,
    Metric,
}

/// A number with its unit, if it has one, or a range of two.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Figure {
    pub range: Range<usize>,
    pub written: Written,
    /// About how many inches; a bare number counts as inches. Of a range, its last number.
    pub inches: f64,
    pub is_range: bool,
    /// Whether the number is a fraction or 1, as sizes of pipe are written.
    pub is_pipe_size: bool,
}

impl Figure {
    /// Whether it can be the length that an outlet is ordered by, rather than a size of pipe.
    pub(super) fn is_long(&self) -> bool {
        (4.0..40.0).contains(&self.inches)
    }
}

const NUMBER: &str = r"\d{1,4}(?:[ -]\d{1,2}/\d{1,2}|[.,]\d+|/\d{1,2})?";
const UNIT: &str = r#"(?:''|"|inch(?:es)?\b|in\b\.?|po\b|mm\b|cm\b|m\b|ft\b\.?|feet\b|foot\b|'|pi\b)"#;

#[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
static FIGURES: LazyLock<Regex> = LazyLock::new(|| {
    let pattern = format!(
        r#"(?i-u)(?:(?P<feet>\d{{1,3}})[ ]?(?:'|ft\b\.?|feet\b)[ -]?(?P<more>\d{{1,2}}(?:[ -]\d{{1,2}}/\d{{1,2}}|/\d{{1,2}})?)[ ]?(?:''|"|in(?:ch(?:es)?)?\b)|(?P<low>{NUMBER})[ ]?{UNIT}?[ ]?(?:to|thru|-)[ ]?(?P<high>{NUMBER})[ -]?(?P<both>{UNIT})|(?P<number>{NUMBER})(?:[ -]{{0,2}}(?P<unit>{UNIT}))?)"#
    );
    Regex::new(&pattern).expect("a pattern of the source")
});

/// The figures of a text, in order. Digits that are part of a word (`F1960`) or of a longer number are none.
pub(super) fn figures(text: &str) -> Vec<Figure> {
    let bytes = text.as_bytes();
    let touches = |at: Option<usize>| at.and_then(|at| bytes.get(at)).is_some_and(u8::is_ascii_alphanumeric);
    let mut found = Vec::new();
    for captures in FIGURES.captures_iter(text) {
        let Some(whole) = captures.get(0) else { continue };
        let number = |name| captures.name(name).map(|it| it.as_str()).and_then(value);
        let inch_mark = whole.as_str().ends_with(['"', '\'']);
        // "3/4x12".
        let before = &text[..whole.start()];
        let after_times =
            before.strip_suffix(['x', 'X']).is_some_and(|it| !it.ends_with(char::is_alphabetic));
        let starts_in_word =
            touches(whole.start().checked_sub(1)) && !after_times || is_inside_number(text, whole.start());
        let ends_in_word = !inch_mark && touches(Some(whole.end())) && !is_times(&text[whole.end()..]);
        let ends_in_number = bytes.get(whole.end()).is_some_and(|it| b"/.-".contains(it))
            && bytes.get(whole.end() + 1).is_some_and(u8::is_ascii_digit);
        if starts_in_word || ends_in_word || ends_in_number {
            continue;
        }
        let range = whole.range();
        let figure = if let (Some(feet), Some(more)) = (number("feet"), number("more")) {
            let (inches, written) = (feet * 12.0 + more, Written::Feet);
            Figure { range, written, inches, is_range: false, is_pipe_size: false }
        } else if let (Some(low), Some(high)) = (number("low"), number("high")) {
            let (written, scale) = written(captures.name("both").map_or("", |it| it.as_str()));
            // "4-12": a range rises; "1-1/2" is one number.
            let is_range = low < high;
            let is_mixed = low.fract() == 0.0 && high < 1.0 && whole.as_str().contains('-');
            if !(is_range || is_mixed) {
                continue;
            }
            let number = if is_range { high } else { low + high };
            Figure { range, written, inches: number * scale, is_range, is_pipe_size: false }
        } else {
            let Some(of) = number("number") else { continue };
            let (written, scale) = written(captures.name("unit").map_or("", |it| it.as_str()));
            let text = captures.name("number").map_or("", |it| it.as_str());
            let is_pipe_size = match written {
                Written::Bare | Written::Inches => matches!(text, "1/2" | "3/4" | "5/8" | "3/8" | "1"),
                Written::Metric => matches!(text, "12" | "13" | "15" | "19" | "20" | "25"),
                Written::Feet => false,
            };
            Figure { range, written, inches: of * scale, is_range: false, is_pipe_size }
        };
        found.push(figure);
    }
    found
}

/// Whether a text starts with an x and a digit: the `x12` of "3/4x12".
fn is_times(text: &str) -> bool {
    text.strip_prefix(['x', 'X']).is_some_and(|it| it.trim_start().starts_with(|c: char| c.is_ascii_digit()))
}

/// Whether a place is inside a number: the 1/2 of 1-1/2, the second number of B64.2.
fn is_inside_number(text: &str, start: usize) -> bool {
    let before = &text[..start];
    let is_digit_before =
        |sign: char| before.strip_suffix(sign).is_some_and(|it| it.ends_with(|c: char| c.is_ascii_digit()));
    is_digit_before('/') || is_digit_before('.') || is_digit_before('-') || is_digit_before(',')
}

fn value(number: &str) -> Option<f64> {
    let (whole, fraction) = match number.rsplit_once([' ', '-']) {
        Some((whole, fraction)) => (whole.parse::<f64>().ok()?, fraction),
        None => (0.0, number),
    };
    match fraction.split_once('/') {
        Some((part, of)) => {
            let (part, of): (f64, f64) = (part.parse().ok()?, of.parse().ok()?);
            (of > 0.0).then_some(whole + part / of)
        }
        None => fraction.replace(',', ".").parse().ok(),
    }
}

/// What a unit is, and how many inches it has.
fn written(unit: &str) -> (Written, f64) {
    match unit.trim_end_matches('.').to_ascii_lowercase().as_str() {
        "" => (Written::Bare, 1.0),
        "mm" => (Written::Metric, 1.0 / 25.4),
        "cm" => (Written::Metric, 10.0 / 25.4),
        "m" => (Written::Metric, 1000.0 / 25.4),
        "ft" | "feet" | "foot" | "'" | "pi" => (Written::Feet, 12.0),
        _ => (Written::Inches, 1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tokens_have_no_case_accent_or_sign() {
        let words: Vec<String> =
            tokens("H.B. 3/4\" F1960, Évier d'été 19A").into_iter().map(|it| it.word).collect();
        assert_eq!(words, ["h", "b", "3", "4", "f1960", "evier", "d", "ete", "19", "a"]);
    }

    #[test]
    fn figures_have_units_and_are_whole_numbers_of_the_text() {
        let read = |text: &str| {
            figures(text).into_iter().map(|it| (text[it.range].to_owned(), it.inches)).collect::<Vec<_>>()
        };
        assert_eq!(read("3/4\" x 10 in"), [("3/4\"".to_owned(), 0.75), ("10 in".to_owned(), 10.0)]);
        assert_eq!(read("5'-0\" bury"), [("5'-0\"".to_owned(), 60.0)]);
        assert_eq!(read("8\" to 12\""), [("8\" to 12\"".to_owned(), 12.0)]);
        assert_eq!(read("1-1/2 in"), [("1-1/2 in".to_owned(), 1.5)]);
        assert_eq!(read("F1960 B64.2.1 HB-3a"), []);
    }
}
