//! What differs between two reviews, and which inputs differ.

use super::previous::{Previous, PreviousComment, PreviousFact, PreviousFindings, PreviousRow};
use super::since::{Key, keyed};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Something that is one way in the old document and another in the new one.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Difference {
    /// What it is: a word of a page, the name of a fact or setting, the number of a rule.
    pub what: Arc<str>,
    /// As it was; `None` if there was none.
    pub was: Option<Arc<str>>,
    /// As it is; `None` if there is none.
    pub is: Option<Arc<str>>,
}

/// How an outlet changed.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct OutletDifference {
    /// Its worst outcome; `None` on the side where it is not listed.
    pub outcome: [Option<Arc<str>>; 2],
    /// Comments that differ, by the number of the rule: its outcome before and now.
    pub comments: Vec<Difference>,
    /// Facts that differ and that nobody computed, by name.
    pub facts: Vec<Difference>,
}

/// What differs between two reviews.
#[derive(Clone, Debug, Default)]
pub struct Comparison {
    /// Inputs of the whole review.
    pub inputs: Vec<Difference>,
    /// Outlets that changed, those alike together, each with its mark, in the order of the schedules.
    pub outlets: Vec<(Vec<Arc<str>>, OutletDifference)>,
    /// Outlets in both, with nothing that differs.
    pub unchanged: usize,
}

impl Comparison {
    /// Whether anything differs.
    pub fn is_empty(&self) -> bool {
        self.inputs.is_empty() && self.outlets.is_empty()
    }
}

/// Comparing values that may be missing.
pub(crate) fn differ(
    what: &str,
    was: Option<impl Into<Arc<str>>>,
    is: Option<impl Into<Arc<str>>>,
) -> Option<Difference> {
    let (was, is) = (was.map(Into::into), is.map(Into::into));
    (was != is).then(|| Difference { what: what.into(), was, is })
}

/// Compares two reviews.
pub fn compare(old: &Previous, new: &Previous) -> Comparison {
    let mut outlets: Vec<(Vec<Arc<str>>, OutletDifference)> = Vec::new();
    let [rows_before, rows_after] = [rows(old), rows(new)];
    let [before, after]: [BTreeMap<&Key, &Row<'_>>; 2] =
        [&rows_before, &rows_after].map(|rows| rows.iter().map(|(key, row)| (key, row)).collect());
    let (mut unchanged, mut at) = (0, BTreeMap::new());
    let gone = rows_before.iter().filter(|(key, _)| !after.contains_key(key));
    for (key, _) in rows_after.iter().chain(gone) {
        let [was, is] = [before.get(key).copied(), after.get(key).copied()];
        let difference = OutletDifference {
            outcome: [was, is].map(|row| row.map(|(findings, _)| worst(findings))),
            comments: match (was, is) {
                (Some(was), Some(is)) => comments(was, is),
                _ => Vec::new(),
            },
            facts: match (was, is) {
                (Some(was), Some(is)) => facts(was, is),
                _ => Vec::new(),
            },
        };
        let is_same = difference.outcome[0] == difference.outcome[1]
            && difference.comments.is_empty()
            && difference.facts.is_empty();
        if is_same {
            unchanged += 1;
            continue;
        }
        let group = *at.entry(difference.clone()).or_insert_with(|| {
            outlets.push((Vec::new(), difference));
            outlets.len() - 1
        });
        outlets[group].0.push(key.0.clone());
    }
    Comparison { inputs: inputs(old, new), outlets, unchanged }
}

type Row<'p> = (&'p PreviousFindings, &'p PreviousRow);

/// Rows by their mark, in the order of the schedule.
fn rows(review: &Previous) -> Vec<(Key, Row<'_>)> {
    keyed(review.rows_in_order().into_iter().map(|row| (&row.1.mark, row)))
}

/// Outcomes, the most severe first.
const OUTCOMES: [&str; 4] = ["revise", "clarify", "advise", "no comment"];

fn worst(findings: &PreviousFindings) -> Arc<str> {
    let has = |outcome: &&str| findings.comments.iter().any(|comment| *comment.outcome == **outcome);
    OUTCOMES.into_iter().find(has).unwrap_or("no comment").into()
}

/// Comments that are new, gone or of another outcome; of the same outcome and other figures if it asks to revise.
fn comments(was: &Row<'_>, is: &Row<'_>) -> Vec<Difference> {
    fn by_rule<'p>((findings, _): &Row<'p>) -> BTreeMap<&'p str, &'p PreviousComment> {
        let speaking = findings.comments.iter().filter(|comment| *comment.outcome != *"no comment");
        speaking.map(|comment| (&*comment.rule, comment)).collect()
    }
    let is_same_fact = |name: &Arc<str>| {
        let [before, after] = [was, is].map(|(findings, row)| findings.fact(row, name));
        before.zip(after).is_some_and(|(before, after)| before.is_same_value(after))
    };
    let (old, new) = (by_rule(was), by_rule(is));
    let rules: BTreeSet<&str> = old.keys().chain(new.keys()).copied().collect();
    let differences = rules.into_iter().filter_map(|rule| match (old.get(rule), new.get(rule)) {
        (Some(old), Some(new)) if old.outcome == new.outcome => {
            let is_same = *new.outcome != *"revise" || new.facts.iter().all(is_same_fact);
            let now: Arc<str> = format!("{}, other figures", new.outcome).into();
            (!is_same).then(|| Difference {
                what: new.number.clone(),
                was: Some(old.outcome.clone()),
                is: Some(now),
            })
        }
        (old, new) => {
            let outcome = |comment: Option<&&PreviousComment>| comment.map(|comment| comment.outcome.clone());
            differ(&new.or(old)?.number, outcome(old), outcome(new))
        }
    });
    differences.collect()
}

/// Facts that are stated, assumed or published on either side, and differ.
fn facts((was, was_row): &Row<'_>, (is, is_row): &Row<'_>) -> Vec<Difference> {
    let names: BTreeSet<&Arc<str>> = was
        .facts
        .keys()
        .chain(was_row.facts.keys())
        .chain(is.facts.keys())
        .chain(is_row.facts.keys())
        .collect();
    let is_input = |fact: &PreviousFact| {
        !matches!(fact.from.as_deref(), Some("computed" | "supposed" | "setting" | "published"))
    };
    let known = |fact: Option<&PreviousFact>| {
        fact.filter(|fact| is_input(fact) && !fact.value.is_null()).map(|fact| fact.text.clone())
    };
    let differences = names.into_iter().filter_map(|name| {
        let (was, is) = (was.fact(was_row, name), is.fact(is_row, name));
        let same = was.zip(is).is_some_and(|(was, is)| was.is_same_value(is));
        // A fact that only one side asked for is no change of an input.
        let both = was.is_some() && is.is_some();
        if same || !both { None } else { differ(name, known(was), known(is)) }
    });
    differences.collect()
}

/// Inputs of the whole review that differ.
fn inputs(old: &Previous, new: &Previous) -> Vec<Difference> {
    let mut all = Vec::new();
    let mut add = |what: &str, of: &dyn Fn(&Previous) -> Option<Arc<str>>| {
        all.extend(differ(what, of(old), of(new)));
    };
    add("Program", &|it| Some(it.coldsill.clone()));
    add("Job", &|it| it.job.clone());
    add("Schedule", &|it| Some(it.schedule.clone()));
    add("Climate", &|it| Some(it.climate.name.clone()));
    add("Climate source", &|it| Some(it.climate.source.clone()));
    let low = |it: &Previous| {
        let low = it.climate.design_low.as_ref();
        low.map(|low| Arc::from(format!("{} ({})", low.text, it.climate.design_low_is)))
    };
    let is_same_low = match (&old.climate.design_low, &new.climate.design_low) {
        (Some(was), Some(is)) => {
            was.value == is.value && old.climate.design_low_is == new.climate.design_low_is
        }
        (was, is) => was.is_none() && is.is_none(),
    };
    if !is_same_low {
        add("Design low", &low);
    }
    add("Code", &|it| {
        let code = it.code.as_ref()?;
        Some(format!("{} {}", code.name, code.edition.as_deref().unwrap_or_default()).trim().into())
    });
    add("Preset", &|it| it.preset.clone());
    let list = |items: &[Arc<str>]| (!items.is_empty()).then(|| Arc::from(items.join(", ")));
    add("Amendments", &|it| list(&it.amendments));
    add("Revise on", &|it| list(&it.revise_on));
    let figures: BTreeSet<&Arc<str>> = old.authority.keys().chain(new.authority.keys()).collect();
    for figure in figures {
        let what = format!("Authority: {}", figure.replace('_', " "));
        let [was, is] = [old, new].map(|it| it.authority.get(figure).and_then(Option::as_ref));
        if was.zip(is).is_none_or(|(was, is)| !was.is_same_value(is)) {
            all.extend(differ(&what, was.map(|it| it.text.clone()), is.map(|it| it.text.clone())));
        }
    }
    all.extend(by_key(&settings(old), &settings(new)));
    all.extend(by_key(&parts(old), &parts(new)));
    all.extend(by_key(&rules(old), &rules(new)));
    all
}

type ByName = BTreeMap<String, Arc<str>>;

fn by_key(old: &ByName, new: &ByName) -> Vec<Difference> {
    let names: BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    names
        .into_iter()
        .filter_map(|name| differ(name, old.get(name).cloned(), new.get(name).cloned()))
        .collect()
}

/// Settings that amendments changed; the last change of one is in force.
fn settings(review: &Previous) -> ByName {
    review.amended.settings.iter().map(|it| (format!("Setting {}", it.setting), it.is.clone())).collect()
}

/// Parts of rules that amendments changed.
fn parts(review: &Previous) -> ByName {
    let parts =
        review.amended.rules.iter().filter_map(|it| {
            Some((format!("Rule {}, {}", it.rule.as_ref()?, it.part.as_ref()?), it.is.clone()))
        });
    parts.collect()
}

/// The rules in force, by id.
fn rules(review: &Previous) -> ByName {
    let in_force = review.rules.iter().map(|it| (format!("Rule {}", it.rule), Arc::from("in force")));
    let dropped = review.dropped.iter();
    in_force
        .chain(dropped.map(|it| (format!("Rule {}", it.rule), format!("dropped by {}", it.by).into())))
        .collect()
}
