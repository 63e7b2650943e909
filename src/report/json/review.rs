//! A review for other programs. Outlets with the same findings are listed under them.

use super::super::comment_sheet::CommentSheet;
use super::super::letter;
use super::super::words::value;
use super::super::{REMINDER, questions};
use super::amended::AmendedJson;
use super::climate::ClimateJson;
use super::facts::FactJson;
use super::findings::{FindingsJson, FindingsList, words};
use super::moves::OrderTurnsOnJson;
use super::since::{LetterItemJson, SinceJson};
use super::values::{
    AsideJson, DiagnosticJson, LengthJson, LocationJson, NoteJson, Number, QuantityJson, TemperatureJson,
    UnusedJson, all, temperature,
};
use super::{PROGRAM, write};
use crate::facts::asked;
use crate::review::{
    Answered, Assumption, Authority, Code, OutletType, Question, REVIEW_FORMAT, Review, RuleCard, Tally,
};
use crate::ruleset::{Adopted, Basis, Dropped};
use crate::units::{Dim, Quantity, System, figures};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Serialize;
use std::io;
use std::sync::Arc;

/// Version of the format.
const FORMAT: u32 = REVIEW_FORMAT;

/// A review of a schedule of outdoor water outlets, as `coldsill review --format json` writes it. Values are in SI
/// units,
/// temperatures in kelvin, rounded to seven significant digits; `text` beside a value is the same value in the
/// reader's units.
/// Unknown values are null, with the reason in `absent`, never 0 or false. New keys raise `format`.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "Coldsill review, format 5")]
pub(super) struct ReviewJson<'r> {
    /// Version of the program.
    coldsill: &'static str,
    /// Version of this format.
    #[schemars(extend("const" = FORMAT))]
    format: u32,
    /// The cautions of every report: it screens and certifies nothing; the adopted code and the authority govern.
    /// Show it
    /// wherever the comments are shown.
    reminder: &'static str,
    /// Name of the job; null for a bare schedule or a job without a name.
    job: Option<&'r str>,
    /// The schedule's file, as the user named it.
    schedule: &'r str,
    climate: ClimateJson<'r>,
    /// The adopted code as the job states it; null if it states none.
    code: Option<CodeJson<'r>>,
    authority: AuthorityJson,
    /// Bases that can require a revision; a rule on any other basis advises.
    #[schemars(schema_with = "bases")]
    revise_on: Vec<&'static str>,
    /// The preset in force; null without one.
    preset: Option<&'r str>,
    /// Names of the amendments in force, in the order they were applied.
    amendments: &'r [Arc<str>],
    amended: AmendedJson<'r>,
    /// Rules that amendments have dropped. They were not applied.
    dropped: Vec<DroppedRuleJson<'r>>,
    /// The rules in force, in their order.
    rules: Vec<RuleJson<'r>>,
    /// Each distinct set of findings once, with the rows it belongs to, in the order of the first of these rows.
    #[schemars(with = "Vec<FindingsJson<'r>>", length(min = 1))]
    findings: FindingsList<'r>,
    tally: TallyJson,
    /// Questions, each fact once, the most useful first.
    questions: Vec<QuestionJson<'r>>,
    /// Facts that nobody states and that change which length to order, most rows first.
    order_turns_on: Vec<OrderTurnsOnJson<'r>>,
    /// Files of answers that were read.
    answers: &'r [Arc<str>],
    /// Every fact from an answer, with the answer's location.
    answered: Vec<AnsweredJson<'r>>,
    /// Every assumption, each value once. A column of the schedule or a line of the job overrides it.
    assumed: Vec<AssumptionJson<'r>>,
    /// The numbered comments of its letter, in the order of the letter.
    letter: Vec<LetterItemJson<'r>>,
    /// What became of the comments of the previous review; null if it is compared with none.
    since: Option<SinceJson<'r>>,
    /// How the schedule was read: the sheet used, hidden rows, what dittos and references to other rows mean.
    notes: Vec<NoteJson<'r>>,
    /// What the review does not use: columns that are not understood, rows that are no outlets.
    unused: Vec<UnusedJson<'r>>,
    /// Rows that are not outdoor outlets, each with the reason.
    aside: Vec<AsideJson<'r>>,
    /// Cells and headings that could not be read. A cell with an error is an unknown fact; the rest of its row is
    /// reviewed.
    problems: Vec<DiagnosticJson<'r>>,
}

/// The adopted code.
#[derive(Serialize, JsonSchema)]
struct CodeJson<'r> {
    name: &'r str,
    /// Null if not stated.
    edition: Option<&'r str>,
    /// The file under `rules/codes` that its sections come from; null if the code has none, and sections are not matched.
    file: Option<&'r str>,
}

/// What the authority having jurisdiction has set, as the job states it.
#[derive(Serialize, JsonSchema)]
struct AuthorityJson {
    /// Winter design temperature; null if not stated.
    winter_temperature: Option<TemperatureJson>,
    /// Frost depth; null if not stated.
    frost_depth: Option<LengthJson>,
}

#[derive(Serialize, JsonSchema)]
struct DroppedRuleJson<'r> {
    /// The rule's id.
    rule: &'r str,
    /// The rule's number.
    number: &'r str,
    /// Why it was dropped.
    reason: &'r str,
    /// The amendment that dropped it.
    by: &'r str,
}

/// A rule in force.
#[derive(Serialize, JsonSchema)]
struct RuleJson<'r> {
    /// Its set and the problem it is named after.
    #[schemars(regex(pattern = "^[^/]+/[^/]+$"))]
    rule: &'r str,
    /// Its number, such as Freezing 2. Ids stay the same from one edition to the next; numbers can change.
    number: &'r str,
    /// The problem in one line.
    title: &'r str,
    #[schemars(schema_with = "basis")]
    basis: &'static str,
    /// A general note: one for the job, however many outlets it is about.
    once: bool,
    /// References.
    see: &'r [Arc<str>],
    rule_at: LocationJson<'r>,
    /// The last amendment that changed the rule, or the one that added it.
    amended_by: Option<&'r str>,
}

/// How many comments there are of each outcome: one for each rule on each row, so that all five add up to rows times
/// rules.
#[derive(Serialize, JsonSchema)]
struct TallyJson {
    revise: usize,
    clarify: usize,
    advise: usize,
    no_comment: usize,
    /// These comments are counted here and not listed.
    does_not_apply: usize,
}

/// A question.
#[derive(Serialize, JsonSchema)]
struct QuestionJson<'r> {
    /// The fact.
    fact: &'r str,
    /// The heading of its column in a schedule.
    heading: &'r str,
    /// What it is.
    about: &'r str,
    /// The question as a sentence.
    question: Arc<str>,
    /// Plausible answers in the reader's units; empty if no list can be made.
    possible: Vec<Arc<str>>,
    /// Unit of an answer in the reader's units; empty if it has none.
    unit: &'static str,
    /// Marks it is asked of, each once.
    #[schemars(length(min = 1))]
    asked_of: &'r [Arc<str>],
    /// How many rows have an unresolved comment that some plausible answer to this question alone decides. If no list
    /// of
    /// answers can be made, a comment that waits for nothing else counts.
    settles: usize,
    /// How many outlets those rows state together; null if none states a quantity.
    #[schemars(range(min = 0))]
    settles_quantity: Option<Number>,
    /// How many rows have a comment that names it as missing.
    #[schemars(range(min = 1))]
    waits: usize,
    /// Rules that wait for it, by number, those alike together, with what they say for each answer that decides by
    /// itself.
    #[schemars(length(min = 1))]
    turns_on: Vec<Arc<str>>,
    /// Types of outlet that wait for it: rows alike in what they state of the outlet itself, not of its mark or
    /// location.
    #[schemars(length(min = 1))]
    types: Vec<OutletTypeJson>,
}

#[derive(Serialize, JsonSchema)]
struct OutletTypeJson {
    label: String,
    /// Rows of the schedule, as a spreadsheet numbers them.
    #[schemars(length(min = 1))]
    rows: Vec<u32>,
    /// How many outlets the rows state together; null if none states a quantity.
    #[schemars(range(min = 0))]
    quantity: Option<Number>,
    /// How many of its rows the question settles.
    settles: usize,
}

#[derive(Serialize, JsonSchema)]
struct AnsweredJson<'r> {
    fact: &'r str,
    value: FactJson<'r>,
    /// Marks, each once.
    applies_to: &'r [Arc<str>],
}

#[derive(Serialize, JsonSchema)]
struct AssumptionJson<'r> {
    fact: &'r str,
    /// The value assumed, in the reader's units.
    text: String,
    /// Why it is assumed.
    why: String,
    /// Marks, each once.
    applies_to: &'r [Arc<str>],
    /// Rows, as a spreadsheet numbers them.
    rows: Vec<u32>,
}

/// The basis of a rule. A calculation is not by itself a code violation.
fn basis(_: &mut SchemaGenerator) -> Schema {
    words(Basis::WORDS.iter().map(|(word, _)| *word))
}

fn bases(generator: &mut SchemaGenerator) -> Schema {
    json_schema!({ "type": "array", "uniqueItems": true, "items": basis(generator) })
}

/// Writes a review as JSON.
pub fn json(review: &Review, system: System, out: &mut dyn io::Write) -> io::Result<()> {
    let sheet = CommentSheet::of(review, system);
    let letter = letter::items(review, &sheet, system);
    let first = review.outlets.first().map(|outlet| &outlet.findings.comments);
    let document = ReviewJson {
        coldsill: PROGRAM,
        format: FORMAT,
        reminder: REMINDER,
        job: review.job.as_deref(),
        schedule: &review.schedule,
        climate: ClimateJson::of(&review.climate, &review.design, review.climate_overridden.as_ref(), system),
        code: review.code.as_ref().map(|code| CodeJson::of(code, review.amendment_effects.adopted.as_ref())),
        authority: AuthorityJson::of(&review.authority, system),
        revise_on: review.revise_on.iter().map(|basis| basis.word()).collect(),
        preset: review.amendment_effects.preset.as_deref(),
        amendments: &review.amendments,
        amended: (&review.amendment_effects).into(),
        dropped: all(&review.amendment_effects.dropped),
        rules: first.into_iter().flatten().map(|comment| RuleJson::from(&*comment.rule)).collect(),
        findings: FindingsList(review, system),
        tally: review.tally.into(),
        questions: review.questions.iter().map(|question| QuestionJson::of(question, system)).collect(),
        order_turns_on: OrderTurnsOnJson::all(&review.order_turns_on),
        answers: &review.answers,
        answered: review.answered.iter().map(|answered| AnsweredJson::of(answered, system)).collect(),
        assumed: review.assumed.iter().map(|assumption| AssumptionJson::of(assumption, system)).collect(),
        letter: letter.into_iter().map(LetterItemJson::from).collect(),
        since: review.since.as_ref().map(SinceJson::from),
        notes: all(&review.notes),
        unused: all(&review.unused),
        aside: all(&review.rows_set_aside),
        problems: all(&review.problems),
    };
    write(&document, out)
}

impl<'r> CodeJson<'r> {
    fn of(code: &'r Code, adopted: Option<&'r Adopted>) -> Self {
        Self { name: &code.name, edition: code.edition.as_deref(), file: adopted.map(|it| &*it.file) }
    }
}

impl AuthorityJson {
    fn of(authority: &Authority, system: System) -> Self {
        let depth = authority.frost_depth.as_ref().map(|depth| Quantity::of(depth.value, Dim::LENGTH));
        Self {
            winter_temperature: authority.winter_temperature.as_ref().map(|it| temperature(it.value, system)),
            frost_depth: depth.map(|depth| LengthJson(QuantityJson::usual(&depth, system))),
        }
    }
}

impl<'r> From<&'r Dropped> for DroppedRuleJson<'r> {
    fn from(dropped: &'r Dropped) -> Self {
        Self { rule: &dropped.rule, number: &dropped.number, reason: &dropped.reason, by: &dropped.by.name }
    }
}

impl<'r> From<&'r RuleCard> for RuleJson<'r> {
    fn from(rule: &'r RuleCard) -> Self {
        Self {
            rule: &rule.id,
            number: &rule.number,
            title: &rule.title,
            basis: rule.basis.word(),
            once: rule.once,
            see: &rule.see,
            rule_at: (&rule.location).into(),
            amended_by: rule.changed_by.last().or(rule.added_by.as_ref()).map(|name| &**name),
        }
    }
}

impl From<Tally> for TallyJson {
    fn from(tally: Tally) -> Self {
        let Tally { revise, clarify, advise, no_comment, does_not_apply } = tally;
        Self { revise, clarify, advise, no_comment, does_not_apply }
    }
}

impl<'r> QuestionJson<'r> {
    fn of(question: &'r Question, system: System) -> Self {
        Self {
            fact: &question.fact,
            heading: &question.heading,
            about: &question.about,
            question: asked(question.slot).sentence,
            possible: questions::plausible(question, system),
            unit: questions::unit(question, system),
            asked_of: &question.asked_of,
            settles: question.settles,
            settles_quantity: question.settles_quantity.map(Number),
            waits: question.waits,
            turns_on: questions::turns(&question.types, system),
            types: question.types.iter().map(|own| OutletTypeJson::of(own, system)).collect(),
        }
    }
}

impl OutletTypeJson {
    fn of(own: &OutletType, system: System) -> Self {
        Self {
            label: questions::label(own, system),
            rows: own.outlets.iter().map(|(_, row)| row.number).collect(),
            quantity: own.quantity.map(Number),
            settles: own.settles,
        }
    }
}

impl<'r> AnsweredJson<'r> {
    fn of(answered: &'r Answered, system: System) -> Self {
        Self {
            fact: &answered.fact.name,
            value: FactJson::of(&answered.fact, system),
            applies_to: &answered.applies_to,
        }
    }
}

impl<'r> AssumptionJson<'r> {
    fn of(assumption: &'r Assumption, system: System) -> Self {
        Self {
            fact: &assumption.fact.name,
            text: value(&assumption.fact, system),
            why: figures(&assumption.why, system),
            applies_to: &assumption.applies_to,
            rows: assumption.outlets.iter().map(|(_, row)| row.number).collect(),
        }
    }
}
