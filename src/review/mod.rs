//! Applies rules to outlets: comments, what would decide unresolved ones, assumptions and questions. Contains no wording:
//! comments carry the pieces of their text and the values in them, for a report to print.

mod alike;
mod blanks;
mod cases;
mod cold_spell;
mod compare;
mod crew;
mod decides;
mod depth;
mod extent;
mod fitting;
mod in_spell;
mod judge;
mod ledger;
mod orders;
mod planned;
mod previous;
mod questions;
mod remedy;
mod run;
mod settle;
mod sheet;
mod shown;
mod since;
mod understood;
mod verdict;

pub use blanks::Blank;
pub use cases::{CaseResult, lacking_cases, try_cases};
pub use cold_spell::{Asked, ColdSpell, Question as SpellQuestion, cold_spell, cold_spell_with};
pub(crate) use compare::differ;
pub use compare::{Comparison, Difference, OutletDifference, compare};
pub use crew::{CountedMarks, CrewLine, CrewList, CrewPlace, CrewStep};
pub use depth::{Depth, DepthRow, Least, NoLeast, depth};
use extent::Detail;
pub use extent::Extent;
pub use fitting::{Candidate, Fitting, Limit};
pub use in_spell::InSpell;
pub use ledger::{Answered, Assumption, Tally};
pub use orders::{Item, Line, Orders, Waiting, Why, Work, count, inlet_type, orders};
pub use planned::Planned;
pub use previous::*;
pub use questions::turns_of;
pub use remedy::{Change, Finished, Remedy, Short};
pub use run::{run, run_with};
pub use sheet::{Sheet, drawings, first_sheets, sheets};
pub use since::{Since, SinceLine, Standing};
pub use understood::{Column, InCommon, ReadOutlet, StatedFact, Understood, understood};

use crate::climate::Climate;
use crate::diag::{Diagnostics, Location, Position};
use crate::expr::{Gap, Slot, Value};
use crate::facts::{Move, Origin, Solves};
pub use crate::job::{Authority, Code, Design};
use crate::ruleset::{AmendmentEffects, Basis, Outcome};
pub use crate::schedule::{AsWritten, Aside, MayBe, Noted, RowOf, SetAside, Spotted, Unused, is_remark};
use crate::units::{Measure, Quantity, Show};
use std::sync::Arc;

/// Callback for the progress of a long computation: the number of the group of rows
/// alike that is begun, and how many groups there are.
pub type Progress<'p> = dyn Fn(usize, usize) + Sync + 'p;

/// A value as a report prints it.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// Name of the fact or setting.
    pub name: Arc<str>,
    /// What people call it.
    pub heading: Arc<str>,
    /// The value, or why there is none.
    pub value: Result<Value, Absence>,
    /// How a quantity is printed.
    pub show: Show,
    /// Where it comes from.
    pub origin: Origin,
}

/// Why there is no value.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Absence {
    /// Not stated; the headings that are missing.
    Missing(Vec<Arc<str>>),
    /// For another reason.
    Because(Arc<str>),
}

/// A part of a sentence.
#[derive(Clone, Debug, PartialEq)]
pub enum Piece {
    /// Literal text.
    Text(Arc<str>),
    /// A figure: its text and its value.
    Figure(Arc<str>, Quantity),
    /// A value.
    Value(Shown),
}

/// A summary of a rule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct RuleCard {
    /// `set/name-of-the-problem`.
    pub id: Arc<str>,
    /// `Freezing 2`.
    pub number: Arc<str>,
    /// The problem in one line.
    pub title: Arc<str>,
    /// Its basis.
    pub basis: Basis,
    /// Why it matters.
    pub why: Arc<str>,
    /// References.
    pub see: Vec<Arc<str>>,
    /// One note for the job.
    pub once: bool,
    /// The fact it asks for, if it does nothing else.
    pub asks: Option<Slot>,
    /// Location of the rule.
    pub location: Location,
    /// The amendment that added it.
    pub added_by: Option<Arc<str>>,
    /// Amendments that changed it, in their order.
    pub changed_by: Vec<Arc<str>>,
}

/// A rule applied to an outlet.
#[derive(Clone, Debug, PartialEq)]
pub struct Comment {
    /// The rule.
    pub rule: Arc<RuleCard>,
    /// Its outcome.
    pub outcome: Outcome,
    /// Whether it only advises because its basis cannot require a revision.
    pub lowered: bool,
    /// The sentences of the wording.
    pub says: Vec<Vec<Piece>>,
    /// How to correct it.
    pub remedy: Option<Vec<Vec<Piece>>>,
    /// The comment in one line; blank if its rule has none.
    pub brief: Vec<Vec<Piece>>,
    /// What to do in a few words; blank if its rule does not say.
    pub action: Vec<Vec<Piece>>,
    /// Every value the rule read or prints.
    pub values: Vec<Shown>,
    /// Why it is unresolved, or was until all plausible answers agreed.
    pub open: Option<Open>,
}

/// Why a comment is unresolved.
#[derive(Clone, Debug, PartialEq)]
pub struct Open {
    /// Facts that are not stated and decide: name and heading.
    pub missing: Vec<(Slot, Arc<str>, Arc<str>)>,
    /// Facts that have no value for a reason: heading and reason.
    pub absent: Vec<(Arc<str>, Arc<str>)>,
    /// Comparisons too close to call: the value, and what it is compared with.
    pub close: Vec<(Shown, Quantity)>,
    /// Outcome for each plausible combination of answers; empty if no list can be made.
    pub would_settle: Vec<Settled>,
    /// Whether all of them agree, so that the comment is decided.
    pub agreed: bool,
    /// Whether those combinations are all there are; if not, only common answers were tried.
    pub complete: bool,
    /// Missing facts of which one answer alone decides the comment, with the outcomes if the answers can be listed.
    pub decided_by: Vec<(Slot, Vec<Settled>)>,
}

/// The outcome of a rule, given some answers.
#[derive(Clone, Debug, PartialEq)]
pub struct Settled {
    /// Answers: name, heading, value.
    pub given: Vec<(Arc<str>, Arc<str>, Value)>,
    /// Its outcome.
    pub outcome: Outcome,
}

/// Findings shared by outlets with the same stated facts.
#[derive(Clone, Debug, PartialEq)]
pub struct Findings {
    /// The first of their rows: the facts are located in its cells.
    pub first: Location,
    /// Every fact that a comment or a move read, in the order of the catalogue.
    pub facts: Vec<Shown>,
    /// One per rule in force, in their order.
    pub comments: Vec<Comment>,
    /// The effect of each uncertain input, largest first; only in a whole review, and only if a rule with `close:` makes a
    /// comment.
    pub moves: Vec<Move>,
    /// Sets of changes that settle its comments, the best first; empty if none is needed or none was found.
    pub remedies: Vec<Remedy>,
    /// The facts that identify the outlet to order.
    pub order: Vec<Shown>,
}

/// One row of the schedule, reviewed.
#[derive(Clone, Debug, PartialEq)]
pub struct OutletReview {
    /// Its mark, or `row 7`.
    pub mark: Arc<str>,
    /// How many; `None` if not stated.
    pub quantity: Option<f64>,
    /// Where it is.
    pub where_it_is: Option<Arc<str>>,
    /// Its row.
    pub location: Location,
    /// Facts of this row's cells that differ from the findings', in value or only in wording.
    pub own_facts: Vec<Shown>,
    /// Shared by all outlets of its group.
    pub findings: Arc<Findings>,
}

impl OutletReview {
    /// A fact of the row by its name, located in this row.
    pub fn fact(&self, name: &str) -> Option<Shown> {
        let named = |fact: &&Shown| &*fact.name == name;
        let own = self.own_facts.iter().find(named).cloned();
        own.or_else(|| {
            self.findings.facts.iter().find(named).map(|fact| self.findings.at_row(fact, &self.location))
        })
    }
}

impl Findings {
    /// A fact as in another row of the group: located in the same column of that row.
    fn at_row(&self, fact: &Shown, row: &Location) -> Shown {
        let mut fact = fact.clone();
        if let (Some(first), Some(own), Some(location)) =
            (self.first.row(), row.row(), fact.origin.location_mut())
            && location.file == self.first.file
            && location.sheet == self.first.sheet
            && let Position::Row(number, _) = &mut location.position
            && *number == first
        {
            *number = own;
            location.sheet.clone_from(&row.sheet);
        }
        fact
    }
}

/// A question about one fact, with the types of outlet that wait for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Question {
    /// The fact.
    pub slot: Slot,
    /// Its name.
    pub fact: Arc<str>,
    /// Its heading.
    pub heading: Arc<str>,
    /// What it is.
    pub about: Arc<str>,
    /// Marks it is asked of, each once.
    pub asked_of: Vec<Arc<str>>,
    /// The types that wait for it, in the order of the schedule.
    pub types: Vec<OutletType>,
    /// Whether one answer may serve all: the fact is one of the job, or every type that waits for anything waits for it.
    pub of_all: bool,
    /// Rows with an open comment that a plausible answer to this alone decides, or that waits for nothing else.
    pub settles: usize,
    /// The sum of the quantities of those rows; `None` if none of them states one.
    pub settles_quantity: Option<f64>,
    /// Rows with a comment that names it.
    pub waits: usize,
    /// The answers that the words of its rows allow; empty if they allow any.
    pub choices: Vec<Value>,
}

/// Rows that state the same of the outlet itself, apart from mark, location and quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct OutletType {
    /// What describes the type to people: kind, model, where it closes, barrel, length.
    pub says: Vec<Shown>,
    /// Marks and rows, in the order of the review.
    pub outlets: Vec<(Arc<str>, Spotted)>,
    /// The sum of their quantities; `None` if no row states one.
    pub quantity: Option<f64>,
    /// Rows that the question settles.
    pub settles: usize,
    /// The comments that depend on it; equal ones are one entry.
    pub turns: Vec<Turn>,
}

/// The effect of an answer on comments.
#[derive(Clone, Debug, PartialEq)]
pub struct Turn {
    /// Rules by number.
    pub rules: Vec<Arc<str>>,
    /// Their outcome for each answer alone; empty if no single answer is known to decide.
    pub settled: Vec<Settled>,
}

/// A review: plain copies of everything a report needs.
#[derive(Clone, Debug)]
pub struct Review {
    /// The job's name.
    pub job: Option<Arc<str>>,
    /// The job file.
    pub job_file: Option<Arc<str>>,
    /// The schedule.
    pub schedule: Arc<str>,
    /// The climate.
    pub climate: Arc<Climate>,
    /// The outdoor temperature its outlets must survive.
    pub design: Design,
    /// The climate the job names, if the command line names another.
    pub climate_overridden: Option<Arc<str>>,
    /// The adopted code.
    pub code: Option<Code>,
    /// What the authority has set.
    pub authority: Authority,
    /// Bases that can require a revision.
    pub revise_on: Vec<Basis>,
    /// The preset, amendment or job that sets them; `None` if nothing does, and every basis can require a revision.
    pub revise_on_set_by: Option<Arc<str>>,
    /// Names of the amendments in force.
    pub amendments: Vec<Arc<str>>,
    /// What the preset and the amendments change.
    pub amendment_effects: AmendmentEffects,
    /// The tables of the schedule as they are written; none for a schedule in YAML.
    pub written_tables: Vec<AsWritten>,
    /// The outlets, in the order of the schedule.
    pub outlets: Vec<OutletReview>,
    /// Questions, most useful first.
    pub questions: Vec<Question>,
    /// Files of answers.
    pub answers: Vec<Arc<str>>,
    /// Facts from answers.
    pub answered: Vec<Answered>,
    /// Assumptions.
    pub assumed: Vec<Assumption>,
    /// How the schedule was read.
    pub notes: Vec<Noted>,
    /// What was not used.
    pub unused: Vec<Unused>,
    /// Rows that are not outdoor outlets.
    pub rows_set_aside: Vec<SetAside>,
    /// Rows that are reviewed as outdoor outlets and may not be.
    pub doubtful_rows: Vec<MayBe>,
    /// Cells and columns with an error.
    pub problems: Diagnostics,
    /// Counts.
    pub tally: Tally,
    /// Facts that nobody states and that change which length to order, with the number of their rows, most rows first.
    pub order_turns_on: Vec<(Slot, usize)>,
    /// Counts of the sections solved.
    pub solves: Solves,
    /// What changed since a previous review, if it is compared with one.
    pub since: Option<Since>,
}

impl Review {
    /// Whether anything is to be revised or clarified.
    pub fn asks_for_something(&self) -> bool {
        self.tally.revise + self.tally.clarify > 0 || !self.problems.is_empty()
    }
}

impl Absence {
    fn of(gap: &Gap) -> Self {
        match gap.absent.values().next() {
            Some(reason) => Self::Because(reason.clone()),
            None => Self::Missing(gap.missing.iter().map(|slot| crate::facts::heading(*slot)).collect()),
        }
    }
}

/// The measure of a value that is a quantity.
fn measure(value: &Value) -> Option<Measure> {
    match value {
        Value::Quantity(quantity) => Some(quantity.measure),
        Value::Text(_) | Value::YesNo(_) | Value::List(_) => None,
    }
}
