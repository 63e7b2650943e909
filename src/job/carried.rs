//! Responses of a previous review, from its JSON.

use super::Vocabulary;
use super::answers::{Answer, Answers};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::schedule::{Cell, CellType, CellValue, read_cell};
use crate::units::Quantity;
use serde::Deserialize;
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Deserialize)]
struct Review {
    findings: Vec<Findings>,
}

#[derive(Deserialize)]
struct Findings {
    rows: Vec<Row>,
    facts: BTreeMap<Arc<str>, Fact>,
}

#[derive(Deserialize)]
struct Row {
    mark: Arc<str>,
    facts: BTreeMap<Arc<str>, Fact>,
}

#[derive(Clone, PartialEq, Deserialize)]
struct Fact {
    from: Option<Arc<str>>,
    value: Value,
    low: Option<f64>,
    high: Option<f64>,
    text: Arc<str>,
}

impl Answers {
    /// The responses of a review, each for a mark. Of rows of one mark, all must have it; a row without a mark cannot be found
    /// again in another schedule.
    pub(super) fn carried(path: &str, bytes: &[u8], vocabulary: &Vocabulary) -> Result<Self, Diagnostic> {
        let review: Review = serde_json::from_slice(bytes).map_err(|_| {
            let error = Diagnostic::new(Location::whole(path), "is not the JSON of a review");
            error.expected("a sheet of questions, or what `coldsill review --format json` wrote")
        })?;
        let mut by_mark: BTreeMap<Arc<str>, Vec<BTreeMap<&str, &Fact>>> = BTreeMap::new();
        for findings in &review.findings {
            for row in findings.rows.iter().filter(|row| !row.mark.starts_with("row ")) {
                let facts = findings.facts.iter().chain(&row.facts).map(|(name, fact)| (&**name, fact));
                by_mark.entry(row.mark.clone()).or_default().push(facts.collect());
            }
        }
        let (mut answers, mut problems) = (Vec::new(), Diagnostics::new());
        for (mark, rows) in &by_mark {
            let Some((first, others)) = rows.split_first() else { continue };
            for (name, fact) in first.iter().filter(|(_, fact)| fact.from.as_deref() == Some("answer")) {
                if others.iter().all(|row| row.get(name).is_some_and(|other| other.value == fact.value)) {
                    answers.extend(problems.ok(answer(path, mark, name, fact, vocabulary)));
                }
            }
        }
        Ok(Self { file: path.into(), answers, problems, unused: Vec::new(), is_carried: true })
    }
}

fn answer(
    path: &str,
    mark: &Arc<str>,
    name: &str,
    fact: &Fact,
    vocabulary: &Vocabulary,
) -> Result<Answer, Diagnostic> {
    let location = Location::whole(path);
    let unread =
        || Diagnostic::new(location.clone(), "is not a response this version reads").text(&*fact.text);
    let term = vocabulary.iter().position(|term| term.fact == name).ok_or_else(unread)?;
    let reads = &vocabulary[term].reads;
    let value = match (&fact.value, reads) {
        (Value::Number(number), CellType::Quantity { measure, .. }) => {
            let is = number.as_f64().ok_or_else(unread)?;
            let [low, high] = [fact.low, fact.high].map(|end| end.unwrap_or(is));
            CellValue::Quantity(Quantity::exact(is, *measure).within(low, high))
        }
        (Value::Bool(yes), _) => CellValue::YesNo(*yes),
        (Value::String(word), _) => read_cell(reads, word, None).map_err(|_| unread())?,
        _ => return Err(unread()),
    };
    let cell =
        |term, text: &Arc<str>, value| Cell { term, location: location.clone(), text: text.clone(), value };
    Ok(Answer {
        marks: Some(cell(0, mark, None)),
        cell: cell(term, &fact.text, Some(value)),
        is_outlet: None,
        rows: None,
    })
}
