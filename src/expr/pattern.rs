//! Patterns of texts, for `matches`: checked when they are loaded, and told in plain words where they are wrong.

use regex::{Regex, RegexBuilder};
use regex_syntax::ast::ErrorKind as Spelling;
use regex_syntax::{Error, ParserBuilder};

use super::source::Span;

/// How deep the parts of a pattern may be nested.
const MOST_NESTED: u32 = 32; // as its message says

/// How many bytes a pattern may take once it is made ready.
const MOST_BYTES: usize = 1 << 20;

/// A pattern that is looked for anywhere in a text. Letter case does not count, unless the pattern starts with `(?-i)`.
#[derive(Clone, Debug)]
pub(super) struct Pattern(Regex);

impl PartialEq for Pattern {
    fn eq(&self, other: &Self) -> bool {
        self.0.as_str() == other.0.as_str()
    }
}

/// What is wrong with a pattern: which part of it, in what way, and how to mend it.
pub(super) struct Refused {
    pub part: Span,
    pub what: String,
    pub expected: Option<&'static str>,
}

impl Pattern {
    /// Checks a pattern.
    pub fn check(text: &str) -> Result<Self, Refused> {
        let whole = Span { start: 0, end: text.len() };
        let refuse = |what: &str, expected| Refused { part: whole, what: what.into(), expected };
        let parsed = ParserBuilder::new().case_insensitive(true).nest_limit(MOST_NESTED).build().parse(text);
        let properties = parsed.map_err(|error| misspelt(text, &error))?.properties().clone();
        if properties.minimum_len() == Some(0) && properties.look_set().is_empty() {
            return Err(refuse("fits every text, even an empty one", Some("something that must be there")));
        }
        if properties.minimum_len().is_none() {
            return Err(refuse("fits no text at all", None));
        }
        let built = RegexBuilder::new(text)
            .case_insensitive(true)
            .nest_limit(MOST_NESTED)
            .size_limit(MOST_BYTES)
            .dfa_size_limit(MOST_BYTES)
            .build();
        let large = |_| refuse("is too large a pattern", Some("fewer or smaller counts in braces"));
        let regex = built.map_err(large)?;
        if regex.is_match("") && text != "^$" {
            let expected = Some("something that must be there, or ^$ alone for a text left empty");
            return Err(refuse("fits even an empty text", expected));
        }
        Ok(Self(regex))
    }

    /// Whether it is somewhere in a text.
    pub fn is_in(&self, text: &str) -> bool {
        self.0.is_match(text)
    }
}

fn misspelt(text: &str, error: &Error) -> Refused {
    let (span, (what, expected)) = match error {
        Error::Parse(error) => (Some(error.span()), spelling(error.kind())),
        Error::Translate(error) => (Some(error.span()), ("is not a kind of letter that is known", None)),
        _ => (None, NO_PATTERN),
    };
    let (start, end) = span.map_or((0, text.len()), |it| (it.start.offset, it.end.offset));
    // Some mistakes lie before a letter rather than in it: that letter is shown.
    let next = text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    Refused { part: Span { start, end: end.max(start + next) }, what: what.into(), expected }
}

const NO_PATTERN: (&str, Option<&str>) = ("cannot be read as a pattern", None);

/// What is wrong, and how to mend it.
fn spelling(kind: &Spelling) -> (&'static str, Option<&'static str>) {
    use Spelling as S;
    match kind {
        S::GroupUnclosed => ("is not closed in the pattern", Some(r#"")", or "\(" for the mark itself"#)),
        S::GroupUnopened => ("closes nothing in the pattern", Some(r#""\)" for the mark itself"#)),
        S::ClassUnclosed => ("is not closed in the pattern", Some(r#""]", or "\[" for the mark itself"#)),
        S::ClassRangeInvalid => ("runs from high to low", Some("the lower end first")),
        S::ClassEscapeInvalid | S::ClassRangeLiteral => {
            ("does not stand for one letter", Some("letters, or a range such as a-z"))
        }
        S::RepetitionMissing => {
            ("has nothing before it to repeat", Some(r#"a backslash before it for the mark itself"#))
        }
        S::RepetitionCountInvalid
        | S::RepetitionCountDecimalEmpty
        | S::RepetitionCountUnclosed
        | S::DecimalEmpty
        | S::DecimalInvalid => {
            ("is not a count", Some(r#"a count such as {2} or {1,3}, or "\{" for the mark itself"#))
        }
        S::EscapeUnexpectedEof => ("has nothing after its backslash", Some(r#""\\" for a backslash itself"#)),
        S::EscapeUnrecognized => {
            ("has no meaning in a pattern", Some(r#"the letter alone, or "\\" for a backslash"#))
        }
        S::EscapeHexEmpty | S::EscapeHexInvalid | S::EscapeHexInvalidDigit => {
            ("is not the number of a letter", Some("the letter itself"))
        }
        S::UnsupportedBackreference => {
            ("points back to an earlier part, which a pattern here cannot do", None)
        }
        S::UnsupportedLookAround => ("looks ahead or back, which a pattern here cannot do", None),
        S::NestLimitExceeded(_) => ("is nested more than 32 deep", Some("a simpler pattern")),
        S::UnicodeClassInvalid => ("is not a kind of letter that is known", None),
        S::FlagDanglingNegation
        | S::FlagDuplicate { .. }
        | S::FlagRepeatedNegation { .. }
        | S::FlagUnexpectedEof
        | S::FlagUnrecognized
        | S::GroupNameDuplicate { .. }
        | S::GroupNameEmpty
        | S::GroupNameInvalid
        | S::GroupNameUnexpectedEof => ("has no meaning after \"(?\"", Some(r#""\(" for the mark itself"#)),
        _ => NO_PATTERN,
    }
}
