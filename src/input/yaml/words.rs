//! Syntax errors of the YAML library in plain words. If the lines around the error show the likely cause, [`causes`] is
//! used instead.

use std::sync::Arc;

use granit_parser::{ErrorKind as E, ScanError};

use super::causes::{self, Around};
use super::location_of_mark;
use crate::diag::Diagnostic;
use crate::input::limits::Limit;

/// The diagnostic for a syntax error.
pub(super) fn refused(file: &Arc<str>, text: &str, error: &ScanError) -> Diagnostic {
    let location = location_of_mark(file, error.marker());
    let around = Around::new(file, text, error.marker());
    let likely = match error.kind() {
        E::RecursionLimitExceeded => return Limit::YamlNesting.exceeded(location),
        E::TabNotAllowed | E::TabInBlockIndentation | E::TabInIndentation | E::TabInPlainScalar => {
            causes::tab(&around)
        }
        E::InvalidTrailingDoubleQuotedScalar => causes::open_quote(&around, '"'),
        E::InvalidTrailingSingleQuotedScalar => causes::open_quote(&around, '\''),
        E::MappingValueNotAllowed => causes::no_space(&around)
            .or_else(|| causes::second_colon(&around))
            .or_else(|| causes::too_deep(&around)),
        E::SimpleKeyExpected => causes::no_space(&around),
        E::ExpectedBlockMappingKey | E::ExpectedBlockSequenceEntry | E::InvalidIndentation => {
            causes::no_space(&around)
                .or_else(|| causes::text_after(&around))
                .or_else(|| causes::indentation(&around))
        }
        E::UnknownAnchor | E::UnexpectedCharacter { .. } => causes::opening_sign(&around),
        _ => None,
    };
    if let Some(problem) = likely {
        return problem;
    }
    let (what, expected) = match error.kind() {
        E::UnclosedQuotedScalar => {
            ("the quote that opens here is never closed", "the same quote after the text")
        }
        E::InvalidTrailingDoubleQuotedScalar | E::InvalidTrailingSingleQuotedScalar => (
            "the text continues after its closing quote",
            "the whole text in quotes; inch marks are safe in single quotes: '8\" barrel'",
        ),
        E::BlockSequenceEntryNotAllowed => {
            ("a list cannot start here", "each \"- \" on a line of its own, or quotes around a text")
        }
        E::UnknownQuotedScalarEscape | E::InvalidQuotedScalarHexEscape => (
            "a backslash has a meaning of its own in double quotes",
            "single quotes around the text, or two backslashes for one",
        ),
        E::MisplacedFlowCollectionEnd => {
            ("this closing bracket has no opening bracket", "quotes around a text with brackets")
        }
        E::UnclosedFlowCollection { open } | E::MismatchedFlowCollectionEnd { open, .. } => {
            let close = if *open == '[' { "]" } else { "}" };
            return Diagnostic::new(
                location,
                format!("the bracket \"{open}\" that opens here is not closed"),
            )
            .expected(format!("\"{close}\""));
        }
        E::ExpectedFlowSequenceSeparator => (
            "a comma, or quotes around the text, is missing before this",
            "[one, two], with quotes around a text that holds a comma or a bracket",
        ),
        E::ExpectedFlowMappingSeparator => (
            "a comma, or quotes around the text, is missing before this",
            "{ key: value, key: value }, with quotes around a text that holds a comma, a bracket or a colon",
        ),
        E::InvalidBlockScalarHeader => {
            ("a text after \"|\" or \">\" starts on the next line", "the text below, indented, or in quotes")
        }
        E::UnexpectedCharacter { character } if character.is_control() => {
            let code = u32::from(*character);
            return Diagnostic::new(location, format!("an invisible character (U+{code:04X}) is here"))
                .expected("the line typed again");
        }
        E::SimpleKeyExpected => ("the line has no colon after its key", "\"key: value\""),
        _ => (
            "this cannot be read as keys, values and lists",
            "\"key: value\" lines and \"- \" lines, with quotes around text with special characters",
        ),
    };
    Diagnostic::new(location, what).expected(expected)
}
