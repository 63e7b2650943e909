//! Distinct findings of a review, each with its rows.

use super::super::comments::{remedy, said};
use super::facts::{Entries, FactJson, FactsJson, facts};
use super::moves::MoveJson;
use super::remedies::RemedyJson;
use super::values::{LocationJson, Number, QuantityJson};
use crate::expr::Value;
use crate::review::{Comment, Findings, Open, OutletReview, Review, Settled};
use crate::ruleset::Outcome;
use crate::units::{Show, System, figures};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};
use std::collections::BTreeMap;
use std::sync::Arc;

/// What the review found, for all rows alike.
#[derive(Serialize, JsonSchema)]
pub(super) struct FindingsJson<'r> {
    /// The rows, in the order of the schedule.
    #[schemars(length(min = 1))]
    rows: Vec<RowJson<'r>>,
    /// Every fact that a rule or a calculation asked for. Cells are located in the first of the rows; another row has
    /// them in
    /// the same column, or lists its own.
    facts: FactsJson<'r>,
    /// What the rules say, in the order of the rules. Rules that do not apply are not listed.
    comments: Vec<CommentJson<'r>>,
    /// What moves its seat temperature, most first; empty if no rule that goes by it says anything.
    moves: Vec<MoveJson<'r>>,
    /// Changes that leave nothing to revise, each reviewed again under every rule in force; the least first. Empty if
    /// nothing asks for a change, or none was proven.
    remedies: Vec<RemedyJson<'r>>,
}

/// One row of the schedule.
#[derive(Serialize, JsonSchema)]
struct RowJson<'r> {
    /// Its mark, or `row 7` if it has none. Marks can repeat; mark and row together do not.
    mark: &'r str,
    /// How many; null if not stated, and then not in totals.
    #[schemars(range(min = 0))]
    quantity: Option<Number>,
    location: Option<&'r str>,
    at: LocationJson<'r>,
    /// Facts of this row alone, such as its mark and its notes, and cells that say the same in other words. They take
    /// precedence over the facts of the findings.
    facts: FactsJson<'r>,
}

/// What a rule says of an outlet. Mark, row and rule together identify it.
#[derive(Serialize, JsonSchema)]
#[schemars(extend("allOf" = [
    {
        "if": { "properties": { "outcome": { "enum": ["revise", "clarify", "advise"] } } },
        "then": { "properties": { "text": { "minLength": 1 } } },
    },
    {
        "if": { "required": ["all_answers_agree"] },
        "then": { "properties": {
            "outcome": { "not": { "const": "clarify" } }, "missing": { "minItems": 1 }, "would_settle": { 
        "minItems": 1 },
        } },
    },
]))]
struct CommentJson<'r> {
    /// The rule's id.
    rule: &'r str,
    /// The rule's number.
    number: &'r str,
    /// revise: something has to change. clarify: information is missing. advise: advisory. no comment: nothing to say.
    #[schemars(schema_with = "outcome")]
    outcome: &'static str,
    /// The rule requires a revision, but only advises because its basis is not in revise_on.
    lowered: bool,
    /// The comment, in the reader's units. Empty if there is no comment.
    text: String,
    /// Why it is unresolved and what would decide it. Left out if it is decided.
    #[serde(skip_serializing_if = "Option::is_none")]
    open: Option<String>,
    /// How to correct it; null if the rule names nothing, or waits for facts.
    remedy: Option<String>,
    /// Facts of the findings that the rule reads or its wording names.
    facts: Vec<&'r str>,
    /// Settings and tables it reads or names, and facts whose value here is the span of the plausible answers.
    values: FactsJson<'r>,
    /// Facts that are not stated and decide. Left out if there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    missing: Vec<&'r str>,
    /// Facts that have no value for another reason. Left out if there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    absent: Vec<AbsentJson<'r>>,
    /// Comparisons whose limit lies within the band of the value: neither met nor missed. Left out if there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    too_close: Vec<TooCloseJson<'r>>,
    /// What the rule would say for each plausible combination of answers. Left out if no list can be made.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    would_settle: Vec<SettledJson<'r>>,
    /// True if only common answers were tried: they can reveal a problem but never rule one out. Otherwise left out.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    only_usual_answers: bool,
    /// True if something is missing, but every plausible answer has the same outcome: the comment is decided. Otherwise left out.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    all_answers_agree: bool,
}

#[derive(Serialize, JsonSchema)]
struct AbsentJson<'r> {
    /// The heading of the fact.
    heading: &'r str,
    why: String,
}

#[derive(Serialize, JsonSchema)]
struct TooCloseJson<'r> {
    /// The fact compared.
    fact: &'r str,
    value: FactJson<'r>,
    limit: QuantityJson,
}

#[derive(Serialize, JsonSchema)]
struct SettledJson<'r> {
    /// Answers by fact: a word, yes or no, or a quantity in the reader's units.
    given: Entries<'r, AnswerJson<'r>>,
    #[schemars(schema_with = "any_outcome")]
    outcome: &'static str,
}

#[derive(Serialize, JsonSchema)]
#[serde(untagged)]
enum AnswerJson<'r> {
    Text(&'r str),
    YesNo(bool),
    List(&'r [Arc<str>]),
    Quantity(String),
}

pub(super) fn words(words: impl Iterator<Item = &'static str>) -> Schema {
    json_schema!({ "enum": words.collect::<Vec<_>>() })
}

fn any_outcome(_: &mut SchemaGenerator) -> Schema {
    words(Outcome::WORDS.iter().map(|(word, _)| *word))
}

fn outcome(_: &mut SchemaGenerator) -> Schema {
    let listed = Outcome::WORDS.iter().filter(|(_, outcome)| *outcome != Outcome::DoesNotApply);
    words(listed.map(|(word, _)| *word))
}

/// Distinct findings with their rows, each set made when it is written.
pub(super) struct FindingsList<'r>(pub &'r Review, pub System);

impl Serialize for FindingsList<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self(review, system) = self;
        let mut groups: Vec<(&Findings, Vec<&OutletReview>)> = Vec::new();
        let mut known: BTreeMap<*const Findings, usize> = BTreeMap::new();
        for outlet in &review.outlets {
            let group = *known.entry(Arc::as_ptr(&outlet.findings)).or_insert_with(|| {
                groups.push((&outlet.findings, Vec::new()));
                groups.len() - 1
            });
            groups[group].1.push(outlet);
        }
        to.collect_seq(groups.iter().map(|(findings, outlets)| {
            FindingsJson {
                rows: outlets.iter().map(|outlet| RowJson::of(outlet, *system)).collect(),
                facts: facts(&findings.facts, *system),
                comments: findings
                    .comments
                    .iter()
                    .filter(|comment| comment.outcome != Outcome::DoesNotApply)
                    .map(|comment| CommentJson::of(comment, findings, *system))
                    .collect(),
                moves: findings.moves.iter().map(|it| MoveJson::of(it, *system)).collect(),
                remedies: findings.remedies.iter().map(|it| RemedyJson::of(it, *system)).collect(),
            }
        }))
    }
}

impl<'r> RowJson<'r> {
    fn of(outlet: &'r OutletReview, system: System) -> Self {
        Self {
            mark: &outlet.mark,
            quantity: outlet.quantity.map(Number),
            location: outlet.where_it_is.as_deref(),
            at: (&outlet.location).into(),
            facts: facts(&outlet.own_facts, system),
        }
    }
}

impl<'r> CommentJson<'r> {
    fn of(comment: &'r Comment, findings: &'r Findings, system: System) -> Self {
        let (says, settle) = said(comment, system);
        let open = comment.open.as_ref();
        let of_open = |part: fn(&'r Open) -> bool| open.is_some_and(part);
        let (own, others): (Vec<_>, Vec<_>) =
            comment.values.iter().partition(|value| findings.facts.contains(value));
        Self {
            rule: &comment.rule.id,
            number: &comment.rule.number,
            outcome: comment.outcome.word(),
            lowered: comment.lowered,
            text: says.or_else(|| settle.clone()).unwrap_or_default(),
            open: settle,
            remedy: remedy(comment, system),
            facts: own.into_iter().map(|fact| &*fact.name).collect(),
            values: facts(others, system),
            missing: open.iter().flat_map(|open| &open.missing).map(|(_, name, _)| &**name).collect(),
            absent: open.iter().flat_map(|open| &open.absent).map(|it| AbsentJson::of(it, system)).collect(),
            too_close: open
                .iter()
                .flat_map(|open| &open.close)
                .map(|(fact, limit)| TooCloseJson {
                    fact: &fact.name,
                    value: FactJson::of(fact, system),
                    limit: QuantityJson::usual(limit, system),
                })
                .collect(),
            would_settle: open
                .iter()
                .flat_map(|open| &open.would_settle)
                .map(|settled| SettledJson::of(settled, system))
                .collect(),
            only_usual_answers: of_open(|open| !open.complete && !open.would_settle.is_empty()),
            all_answers_agree: of_open(|open| open.agreed),
        }
    }
}

impl<'r> AbsentJson<'r> {
    fn of((heading, why): &'r (Arc<str>, Arc<str>), system: System) -> Self {
        Self { heading, why: figures(why, system) }
    }
}

impl<'r> SettledJson<'r> {
    fn of(settled: &'r Settled, system: System) -> Self {
        let answer = |value: &'r Value| match value {
            Value::Text(text) => AnswerJson::Text(text),
            Value::YesNo(yes) => AnswerJson::YesNo(*yes),
            Value::List(words) => AnswerJson::List(words),
            Value::Quantity(quantity) => {
                AnswerJson::Quantity(Show::usual(quantity.measure).value(quantity, system))
            }
        };
        let given = settled.given.iter().map(|(name, _, value)| (&**name, answer(value)));
        Self { given: Entries(given.collect()), outcome: settled.outcome.word() }
    }
}
