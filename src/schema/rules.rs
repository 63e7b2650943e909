//! Rule files: sets of rules and amendments.

#![allow(dead_code, reason = "described, never built")]

use super::shapes::{
    AnyOutcome, Authority, Basis, ChangedRules, ChangedSettings, CloseOutcome, CodeOrName, DroppedRules,
    Fact, Given, Level, Outcome, Quantity, ReviseOn, Text, TextOrList, YesNo, stated,
};
use schemars::JsonSchema;
use std::collections::BTreeMap;

/// A set of rules with its settings.
#[derive(JsonSchema)]
#[schemars(rename = "set", deny_unknown_fields)]
pub(super) struct Set {
    /// Name of the set: the first part of its rules' ids, and capitalized of their numbers.
    set: Text,
    /// What the set is for.
    about: Text,
    /// Figures, yes or no, and lists of words that its rules use and amendments can change. A rule names one as
    /// `set/setting`.
    settings: Option<BTreeMap<String, Setting>>,
    tables: Option<Tables>,
    /// The rules, in the order they are numbered.
    rules: Vec<Rule>,
}

/// Changes to the rules before it. What it names must exist.
#[derive(JsonSchema)]
#[schemars(rename = "amendment", deny_unknown_fields)]
pub(super) struct Amendment {
    /// Its name: reports name it where they list its changes.
    amendment: Option<Text>,
    /// What it is for.
    about: Option<Text>,
    /// Who makes it. Regions come before companies, companies before jobs.
    level: Option<Level>,
    revise_on: Option<ReviseOn>,
    /// What the authority has set, where a job does not state it.
    authority: Option<Authority>,
    /// The adopted code, where a job does not state one.
    code: Option<CodeOrName>,
    settings: Option<ChangedSettings>,
    tables: Option<Tables>,
    change: Option<ChangedRules>,
    drop: Option<DroppedRules>,
    /// Rules of its own, in the order they are numbered.
    add: Option<Vec<Rule>>,
}

/// A figure within bounds, yes or no, or a list of words.
#[derive(JsonSchema)]
#[schemars(rename = "setting", deny_unknown_fields, extend(
    "if" = { "properties": { "is": { "type": "array" } } },
    "then" = stated("of"),
    "else" = {
        "if": { "properties": { "is": { "enum": ["yes", "no", true, false] } } },
        "then": true,
        "else": stated("between"),
    },
))]
struct Setting {
    /// The value: `4 °F`, yes, or `[stainless, brass]`.
    is: TextOrList,
    /// What it is, in words.
    about: Text,
    /// The lowest and the highest value it can be set to.
    between: Option<[Quantity; 2]>,
    /// Whether a figure in degrees is a difference, such as a margin.
    difference: Option<YesNo>,
    /// The fact whose words a list can hold.
    of: Option<Fact>,
}

/// A value within its bounds; or `{ is: …, between: […] }`, where the bounds only get narrower.
#[derive(JsonSchema)]
#[schemars(rename = "changed_setting", untagged)]
pub(super) enum ChangedSetting {
    Text(Text),
    List(Vec<Text>),
    Bounded(BoundedSetting),
}

#[derive(JsonSchema)]
#[schemars(inline, deny_unknown_fields, extend("minProperties" = 1))]
pub(super) struct BoundedSetting {
    /// What it is set to.
    is: Option<TextOrList>,
    /// The lowest and the highest value that later amendments can set.
    between: Option<[Quantity; 2]>,
}

/// Tables that rules use by name as they use settings: a figure that depends on some facts.
#[derive(JsonSchema)]
#[schemars(rename = "tables", transparent)]
struct Tables(BTreeMap<String, Table>);

#[derive(JsonSchema)]
#[schemars(rename = "table", deny_unknown_fields)]
struct Table {
    /// What it gives.
    about: Option<Text>,
    /// The facts it depends on: at most one quantity, which has breakpoints; the others have words.
    #[schemars(length(min = 1), extend("uniqueItems" = true))]
    by: Option<Vec<Fact>>,
    /// Whether its figures in degrees are differences.
    difference: Option<YesNo>,
    /// Its rows: the range of the row, and a figure for each word: `{ down to: 20 °F, copper: 6 in, other: 4 in }`.
    #[schemars(length(min = 1))]
    rows: Vec<Row>,
}

#[derive(JsonSchema)]
#[schemars(inline, extend("minProperties" = 1))]
struct Row {
    /// The row applies down to this.
    #[schemars(rename = "down to")]
    down_to: Option<Quantity>,
    /// The row applies up to this.
    #[schemars(rename = "up to")]
    up_to: Option<Quantity>,
    /// The figure, if no fact has words.
    is: Option<Text>,
    /// The figure for every other word.
    other: Option<Text>,
    #[schemars(flatten)]
    words: BTreeMap<String, Text>,
}

/// One rule: which outlets it applies to, what they need, and the comment if they do not have it.
#[derive(JsonSchema)]
#[schemars(rename = "rule", deny_unknown_fields)]
struct Rule {
    /// Its name within the set: the problem in a few words joined by hyphens.
    id: Text,
    /// The problem in one line.
    title: Text,
    basis: Basis,
    /// Why it matters.
    why: Text,
    /// A test of which outlets it applies to; all without it: `outlet.closes = "inside" and site.design_low < 32 °F`.
    applies: Option<Text>,
    /// A test of what they need: `heat.seat_temperature >= 32 °F + freezing/margin`.
    needs: Text,
    outcome: Outcome,
    /// The outcome where the best estimates meet it but their bands do not, and nothing that a schedule can state would
    /// decide it: advise or clarify. With it, best estimates that fail give the outcome of the rule at once.
    close: Option<CloseOutcome>,
    /// Whether it is one note for the job instead of a comment on each outlet.
    once: Option<YesNo>,
    /// The comment: a text, or a list of sentences. Facts and settings are in braces, `{heat.seat_temperature}`; a figure
    /// that follows the reader's units is written `{= 1/8 in}`.
    says: TextOrList,
    /// How to correct it, written like `says`.
    remedy: Option<TextOrList>,
    /// The comment in one line, for the summary; the title stands in for it.
    brief: Option<TextOrList>,
    /// What to do in a few words, for the summary.
    #[serde(rename = "do")]
    action: Option<TextOrList>,
    /// References: sections, standards. A † marks a number not checked against the adopted edition.
    see: Option<Vec<Text>>,
    /// Cases to test it: at least one that gives no comment and one that gives its outcome.
    #[schemars(length(min = 2))]
    cases: Vec<Case>,
}

/// What an amendment changes in a rule. The tests of a rule cannot be changed: drop it, and add one.
#[derive(JsonSchema)]
#[schemars(rename = "changed_rule", deny_unknown_fields, extend("minProperties" = 1))]
pub(super) struct ChangedRule {
    outcome: Option<Outcome>,
    basis: Option<Basis>,
    /// The problem in one line.
    title: Option<Text>,
    /// Why it matters.
    why: Option<Text>,
    /// The comment.
    says: Option<TextOrList>,
    /// How to correct it.
    remedy: Option<TextOrList>,
    /// References: sections, standards. A † marks a number not checked against the adopted edition.
    see: Option<Vec<Text>>,
    /// Whether it is one note for the job instead of a comment on each outlet.
    once: Option<YesNo>,
}

#[derive(JsonSchema)]
#[schemars(rename = "case", deny_unknown_fields)]
struct Case {
    /// What it shows.
    name: Text,
    given: Given,
    /// The outcome it must give.
    gives: AnyOutcome,
}
