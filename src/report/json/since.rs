//! The numbered comments of a letter, and what became of those of a previous review.

use super::super::letter::LetterItem;
use super::super::since;
use super::findings::words;
use crate::review::{Since, SinceLine, Standing};
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::Serialize;
use std::sync::Arc;

/// A numbered comment of the letter. With `--previous` it keeps its number from one review to the next.
#[derive(Serialize, JsonSchema)]
pub(super) struct LetterItemJson<'r> {
    #[schemars(range(min = 1))]
    number: usize,
    /// The id of its rule; of a question, the fact it asks for.
    about: &'r str,
    /// The problem in one line, or the question.
    title: Arc<str>,
    /// Marks it is made of, each once.
    #[schemars(length(min = 1))]
    marks: Vec<&'r str>,
}

/// Comments that ask to revise or to clarify, beside those of the previous review. Outlets are the same if they have the
/// same mark.
#[derive(Serialize, JsonSchema)]
pub(super) struct SinceJson<'r> {
    /// The file of the previous review.
    file: &'r str,
    comments: Vec<SinceLineJson<'r>>,
}

/// Comments of one rule with the same standing.
#[derive(Serialize, JsonSchema)]
struct SinceLineJson<'r> {
    #[schemars(schema_with = "standing")]
    standing: &'static str,
    /// The rule's id.
    rule: &'r str,
    /// The rule's number.
    number: &'r str,
    /// Marks, each once.
    #[schemars(length(min = 1))]
    marks: &'r [Arc<str>],
}

fn standing(_: &mut SchemaGenerator) -> Schema {
    let all =
        [Standing::New, Standing::Standing, Standing::Settled, Standing::NotListed, Standing::NotInForce];
    words(all.into_iter().map(since::word))
}

impl<'r> From<LetterItem<'r>> for LetterItemJson<'r> {
    fn from(item: LetterItem<'r>) -> Self {
        Self { number: item.number, about: item.about, title: item.title, marks: item.marks }
    }
}

impl<'r> From<&'r Since> for SinceJson<'r> {
    fn from(since: &'r Since) -> Self {
        let line = |line: &'r SinceLine| SinceLineJson {
            standing: since::word(line.standing),
            rule: &line.rule,
            number: &line.number,
            marks: &line.marks,
        };
        Self { file: &since.file, comments: since.lines.iter().map(line).collect() }
    }
}
