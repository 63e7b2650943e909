//! A description's own words behind its plain text, and those that no pattern took.

use super::description::Taken;
use crate::units::typed;
use std::ops::Range;

/// A text with its typographic forms made plain, and where each byte of it came from.
pub(super) struct Plain {
    pub(super) text: String,
    from: Vec<usize>,
}

impl Plain {
    pub(super) fn of(text: &str) -> Self {
        let mut plain =
            Self { text: String::with_capacity(text.len()), from: Vec::with_capacity(text.len() + 1) };
        for (at, c) in text.char_indices() {
            let mut own = [0; 4];
            let typed = typed(c).unwrap_or_else(|| c.encode_utf8(&mut own));
            plain.text.push_str(typed);
            plain.from.extend(std::iter::repeat_n(at, typed.len()));
        }
        plain.from.push(text.len());
        plain
    }

    /// The person's own words of a stretch.
    pub(super) fn own<'t>(&self, original: &'t str, range: &Range<usize>) -> &'t str {
        let (start, end) = (self.from[range.start], self.from[range.end]);
        original.get(start..end.max(start)).unwrap_or_default().trim()
    }
}

/// Words that carry nothing by themselves.
const IDLE: &[&str] = &[
    "a",
    "an",
    "and",
    "the",
    "of",
    "for",
    "with",
    "w",
    "to",
    "in",
    "on",
    "at",
    "be",
    "is",
    "are",
    "as",
    "by",
    "per",
    "all",
    "provide",
    "provided",
    "furnish",
    "furnished",
    "install",
    "installed",
    "supply",
    "include",
    "includes",
    "including",
    "complete",
    "new",
    "type",
    "style",
    "model",
    "each",
    "type",
    "unit",
    "listed",
    "fed",
    "typ",
    "typical",
    "x",
    "exterior",
    "outdoor",
    "outside",
    "from",
    "this",
    "shall",
    "must",
    "meets",
    "compliant",
    "conforming",
    "heavy",
    "duty",
    "inlet",
    "barrel",
    "body",
    "valve",
    "faucet",
    "hydrant",
    "device",
    "assembly",
    "size",
    "long",
    "nominal",
    "lead",
    "free",
];

/// Whether a text holds words that carry something and are not known; a figure does.
pub(super) fn is_unknown(text: &str) -> bool {
    let lower = text.to_lowercase();
    let carries = |it: &str| it.len() > 1 || it.chars().any(|c| c.is_ascii_digit());
    lower
        .split(|c: char| !(c.is_alphanumeric() || "'/".contains(c)))
        .map(|it| it.trim_matches(['/', '\'']))
        .any(|it| carries(it) && !IDLE.contains(&it))
}

/// What no pattern took, in the person's own words; a phrase with a doubt in it that is told is not counted twice.
pub(super) fn left(plain: &Plain, original: &str, taken: &[Taken], told: &[Range<usize>]) -> Vec<String> {
    let mut left = Vec::new();
    let mut start = 0;
    let ends = taken
        .iter()
        .map(|it| it.from..it.range.end)
        .chain(std::iter::once(plain.text.len()..plain.text.len()));
    for range in ends {
        if start < range.start {
            let gap = &plain.text[start..range.start];
            let mut at = start;
            for phrase in gap.split([',', ';', '\n', '\r']) {
                let range = at..at + phrase.len();
                let is_told = told.iter().any(|it| it.start < range.end && range.start < it.end);
                if !is_told && is_unknown(phrase) {
                    let own = plain.own(original, &range);
                    left.push(own.trim_matches(|c: char| !c.is_alphanumeric()).to_owned());
                }
                at += phrase.len() + 1;
            }
        }
        start = start.max(range.end);
    }
    left.retain(|it| !it.is_empty());
    left
}
