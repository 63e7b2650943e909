//! Patterns for `matches`, checked when a rule is loaded.

use regex::{Regex, RegexBuilder};
use regex_syntax::ast::ErrorKind as Syntax;
use regex_syntax::{Error, ParserBuilder};

use super::error::ExprError;
use super::source::Span;

/// Deepest nesting of a pattern.
const MOST_NESTED: u32 = 32; // as its message says

/// Most bytes of a compiled pattern.
const MOST_BYTES: usize = 1 << 20;

/// A pattern that is looked for anywhere in a text. Ignores case unless it starts with `(?-i)`.
#[derive(Clone, Debug)]
pub(super) struct Pattern(Regex);

impl PartialEq for Pattern {
    fn eq(&self, other: &Self) -> bool {
        self.0.as_str() == other.0.as_str()
    }
}

impl Pattern {
    /// Checks a pattern. An error comes with the part of the pattern it is about.
    pub fn check(text: &str) -> Result<Self, (Span, ExprError)> {
        let whole = Span { start: 0, end: text.len() };
        let error = |message, expected| (whole, ExprError::Pattern(message, expected));
        let parsed = ParserBuilder::new().case_insensitive(true).nest_limit(MOST_NESTED).build().parse(text);
        let properties = parsed.map_err(|error| syntax_error(text, &error))?.properties().clone();
        if properties.minimum_len() == Some(0) && properties.look_set().is_empty() {
            let expected = Some("something that must be there");
            return Err(error("matches every text, even an empty one", expected));
        }
        if properties.minimum_len().is_none() {
            return Err(error("matches no text at all", None));
        }
        let built = RegexBuilder::new(text)
            .case_insensitive(true)
            .nest_limit(MOST_NESTED)
            .size_limit(MOST_BYTES)
            .dfa_size_limit(MOST_BYTES)
            .build();
        let too_large = |_| error("is too large a pattern", Some("fewer or smaller counts in braces"));
        let regex = built.map_err(too_large)?;
        if regex.is_match("") && text != "^$" {
            let expected = Some("something that must be there, or ^$ alone for an empty text");
            return Err(error("matches even an empty text", expected));
        }
        Ok(Self(regex))
    }

    /// Whether it is somewhere in a text.
    pub fn is_in(&self, text: &str) -> bool {
        self.0.is_match(text)
    }
}

fn syntax_error(text: &str, error: &Error) -> (Span, ExprError) {
    let (span, (message, expected)) = match error {
        Error::Parse(error) => (Some(error.span()), texts(error.kind())),
        Error::Translate(error) => (Some(error.span()), UNKNOWN_CLASS),
        _ => (None, NO_PATTERN),
    };
    let (start, end) = span.map_or((0, text.len()), |span| (span.start.offset, span.end.offset));
    // Some errors are before a character rather than at it: show that character.
    let next = text.get(start..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    (Span { start, end: end.max(start + next) }, ExprError::Pattern(message, expected))
}

type Texts = (&'static str, Option<&'static str>);

const NO_PATTERN: Texts = ("cannot be read as a pattern", None);
const UNKNOWN_CLASS: Texts = ("is not a known class of characters", None);

/// What is wrong, and how to correct it.
fn texts(kind: &Syntax) -> Texts {
    use Syntax as S;
    match kind {
        S::GroupUnclosed => ("is not closed in the pattern", Some(r#"")", or "\(" for the mark itself"#)),
        S::GroupUnopened => ("closes nothing in the pattern", Some(r#""\)" for the mark itself"#)),
        S::ClassUnclosed => ("is not closed in the pattern", Some(r#""]", or "\[" for the mark itself"#)),
        S::ClassRangeInvalid => ("is a reversed range", Some("the lower end first")),
        S::ClassEscapeInvalid | S::ClassRangeLiteral => {
            ("is not a single character", Some("characters, or a range such as a-z"))
        }
        S::RepetitionMissing => {
            ("has nothing before it to repeat", Some("a backslash before it for the mark itself"))
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
            ("is not the number of a character", Some("the character itself"))
        }
        S::UnsupportedBackreference => ("is a back reference, which patterns here do not support", None),
        S::UnsupportedLookAround => ("is a look-around, which patterns here do not support", None),
        S::NestLimitExceeded(_) => ("is nested more than 32 deep", Some("a simpler pattern")),
        S::UnicodeClassInvalid => UNKNOWN_CLASS,
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
