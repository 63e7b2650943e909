//! The YAML library's refusals in words for people who do not know its terms.

use std::sync::Arc;

use serde_saphyr::granit_parser::{ErrorKind as E, ScanError};

use super::place;
use crate::diag::Problem;
use crate::input::limits::Limit;

/// The problem a refusal is to a person; the rarer ones are told as the library tells them.
pub(super) fn refused(file: &Arc<str>, error: &ScanError) -> Problem {
    let place = place(file, error.marker());
    let (what, expected) = match error.kind() {
        E::RecursionLimitExceeded => return Limit::YamlNesting.exceeded(place),
        E::UnknownAnchor => ("an alias stands here for an anchor not defined before it", ""),
        E::TabNotAllowed | E::TabInBlockIndentation | E::TabInIndentation | E::TabInPlainScalar => {
            ("a tab is used for indentation", "spaces")
        }
        E::UnclosedQuotedScalar => ("a quote that was opened is never closed", ""),
        E::InvalidTrailingDoubleQuotedScalar | E::InvalidTrailingSingleQuotedScalar => (
            "a text goes on after its closing quote",
            "the whole text in quotes; an inch mark is safe in single quotes: '8\"'",
        ),
        E::MappingValueNotAllowed => (
            "a colon cannot stand here",
            "quotes around a text that holds a colon and a space, and each key on its own line, indented as its \
             neighbours",
        ),
        E::BlockSequenceEntryNotAllowed => {
            ("a list cannot start here", "\"- \" on a line of its own, or quotes around a text")
        }
        E::UnknownQuotedScalarEscape => (
            "a backslash in this quoted text starts no known escape",
            "single quotes around the text, or \\\\ for a backslash",
        ),
        E::MisplacedFlowCollectionEnd => {
            ("a closing bracket stands here without an opening one", "quotes around a text with brackets")
        }
        E::UnclosedFlowCollection { open } | E::MismatchedFlowCollectionEnd { open, .. } => {
            let close = if *open == '[' { "]" } else { "}" };
            return Problem::new(place, format!("a bracket \"{open}\" is not closed"))
                .expected(format!("\"{close}\""));
        }
        E::UnexpectedEofFlowSequence => ("the file ends inside a list", "\"]\""),
        E::UnexpectedEofFlowMapping | E::UnexpectedEofImplicitFlowMapping => {
            ("the file ends inside a mapping", "\"}\"")
        }
        E::ExpectedFlowSequenceSeparator => ("the entries of a list are not separated", "\",\" or \"]\""),
        E::ExpectedFlowMappingSeparator => ("the keys of a mapping are not separated", "\",\" or \"}\""),
        E::UnexpectedCharacter { character } if character.is_control() => {
            let code = u32::from(*character);
            return Problem::new(place, format!("the control character U+{code:04X} stands here"));
        }
        E::UnexpectedCharacter { character } => {
            return Problem::new(place, "cannot start a value")
                .text(character.to_string())
                .expected("the whole text in quotes");
        }
        E::SimpleKeyExpected => ("a line holds no colon after its key", "\"key: value\""),
        E::InvalidIndentation => ("the indentation fits nothing above it", ""),
        E::ExpectedBlockMappingKey => ("this fits no key above it", "a key, indented as its neighbours"),
        E::ExpectedBlockSequenceEntry => ("this fits no list above it", "\"- \", indented as its neighbours"),
        kind => return Problem::new(place, format!("this cannot be read as YAML: {kind}")),
    };
    let problem = Problem::new(place, what);
    if expected.is_empty() { problem } else { problem.expected(expected) }
}
