//! An order in words: what to order, for which rows, and why.

use super::remedies::{LENGTH, SEAT, asked, said, short, what};
use super::sentences::complete;
use super::words::{kind, known, listed, lower, named};
use crate::diag::{capital, uncapital};
use crate::expr::Value;
use crate::facts::{self, Origin};
use crate::review::{Comment, Line, OutletReview, Remedy, Review, Shown, Waiting, Why, inlet_type};
use crate::ruleset::Outcome;
use crate::units::{System, figures};
use std::sync::Arc;

/// Marks printed before the rest is only counted.
const MOST_MARKS: usize = 6;
/// Reasons printed before the review is referred to.
const MOST_REASONS: usize = 4;

/// The mark of a row; a number alone is called as its column: "Line 10".
pub(super) fn mark(row: &OutletReview) -> Arc<str> {
    let column = match row.fact("outlet.mark").map(|fact| fact.origin) {
        Some(Origin::Stated(location, _)) => location.heading().cloned(),
        _ => None,
    };
    match column {
        Some(column) if !row.mark.chars().any(char::is_alphabetic) => {
            format!("{} {}", column.trim_end_matches('.'), row.mark).into()
        }
        _ => row.mark.clone(),
    }
}

pub(super) fn marks(rows: &[&OutletReview]) -> String {
    let mut marks: Vec<Arc<str>> = Vec::new();
    for row in rows {
        let mark = match &row.where_it_is {
            Some(location) => format!("{} ({location})", mark(row)).into(),
            None => mark(row),
        };
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
    listed(&marks, MOST_MARKS)
}

/// Finish and handle: the fact, its noun, and words that need no noun.
const TRIM: [(&str, &str, &[&str]); 2] = [
    ("outlet.finish", "finish", &["finish", "plated", "coated"]),
    ("outlet.handle", "handle", &["handle", "key", "turn", "shield", "handwheel"]),
];

/// "3/4 in x 12 in stainless wall hydrant, ASSE 1019 type A, rough brass finish, loose key, MIP inlet".
pub(super) fn in_words(order: &[Shown], system: System) -> String {
    let trim = TRIM.into_iter().filter_map(|(name, noun, said)| {
        let Some(text) = known(order, name, system) else {
            return named(order, name).map(|_| format!("{noun} not decided"));
        };
        let text = text.to_lowercase();
        let is_said = said.iter().any(|word| text.contains(word));
        Some(if is_said { text } else { format!("{text} {noun}") })
    });
    let inlet = inlet_type(order).map(|inlet| format!("{inlet} inlet"));
    [outlet(order, system)].into_iter().chain(trim).chain(inlet).collect::<Vec<_>>().join(", ")
}

/// The outlet without its finish, handle and inlet.
fn outlet(order: &[Shown], system: System) -> String {
    let word = |name: &str| known(order, name, system);
    let closes = word("outlet.closes");
    let bury = word("outlet.bury_depth").map(|depth| format!("{depth} bury"));
    let length = word("outlet.nominal_length").filter(|_| closes.as_deref() == Some("inside"));
    let size = [word("outlet.supply_size"), length].into_iter().flatten().collect::<Vec<_>>().join(" x ");
    let size = Some(size).filter(|size| !size.is_empty());
    let own_kind = word("outlet.kind").unwrap_or_else(|| "faucet".into());
    let is_yard = own_kind == "yard hydrant";
    let sanitary = word("outlet.backflow_device").filter(|device| is_yard && device.contains(&own_kind));
    let kind = sanitary.unwrap_or_else(|| kind(&own_kind, closes.as_deref()));
    let item: Vec<String> = [size, bury, word("outlet.barrel"), Some(kind)].into_iter().flatten().collect();
    let device = word("outlet.backflow_standard").or_else(|| word("outlet.backflow_device"));
    let device = device.map(|device| if device == "none" { "no backflow device".into() } else { device });
    let drains = match named(order, "outlet.drains_to_soil").map(|fact| &fact.value) {
        Some(Ok(Value::YesNo(true))) if is_yard => Some("drains into the ground"),
        Some(Ok(Value::YesNo(false))) if is_yard => Some("does not drain into the ground"),
        _ => None,
    };
    let model = word("outlet.model").into_iter();
    let parts = model.chain([item.join(" ")]).chain(device).chain(drains.map(str::to_owned));
    parts.collect::<Vec<_>>().join(", ")
}

pub(super) fn specified(line: &Line<'_>, system: System) -> String {
    match line.remedy {
        Some(remedy) if remedy.changes.iter().any(|change| change.is_order) => outlet(line.specified, system),
        _ => "no change".into(),
    }
}

/// Why another outlet is ordered, and what is assumed for it: "8 in is 1 3/4 in short; assumes a heated room at the inlet".
pub(super) fn why(line: &Line<'_>, system: System) -> String {
    let reason =
        line.remedy.map_or_else(|| "good as specified".into(), |remedy| reason(line, remedy, system));
    match line.assumed_space.and_then(|space| space.value.as_ref().ok()) {
        Some(Value::Text(space)) => {
            let article = if space.starts_with(['a', 'u']) { "an" } else { "a" };
            format!("{reason}; assumes {article} {space} at the inlet")
        }
        _ => reason,
    }
}

/// The length that falls short, or else what the rules object to.
fn reason(line: &Line<'_>, remedy: &Remedy, system: System) -> String {
    let length = short_of_specified(line, remedy, system);
    let is_only_length = length.is_some() && remedy.changes.len() == 1;
    let settled = |comment: &Comment| !is_only_length && remedy.answers.contains(&comment.rule.number);
    let objections = line.rows.first().map_or_else(Vec::new, |row| objections(row, settled, system));
    let reasons = at_most(length.into_iter().chain(objections).collect());
    let is_other = remedy.changes.iter().any(|change| change.is_other_product);
    if is_other {
        format!("another product; {reasons}")
    } else if remedy.changes.iter().all(|change| !change.is_order && !change.is_of_designer) {
        format!("needs the work below: {reasons}")
    } else {
        reasons
    }
}

/// What the comments to revise object to.
fn objections(row: &OutletReview, is_meant: impl Fn(&Comment) -> bool, system: System) -> Vec<String> {
    let revise = row.findings.comments.iter().filter(|comment| comment.outcome == Outcome::Revise);
    revise.filter(|comment| is_meant(comment)).map(|comment| objection(comment, system)).collect()
}

/// The first reasons.
fn at_most(reasons: Vec<String>) -> String {
    let more = reasons.len().saturating_sub(MOST_REASONS);
    let first = reasons.into_iter().take(MOST_REASONS);
    first.chain((more > 0).then(|| "and more, see the review".into())).collect::<Vec<_>>().join("; ")
}

/// "8 in is 1 3/4 in short; seat at 9 in or deeper", "6 in is too short, 12 in still 1 1/4 in short"; none if no length is specified.
fn short_of_specified(line: &Line<'_>, remedy: &Remedy, system: System) -> Option<String> {
    let specified = named(line.specified, "outlet.nominal_length")?;
    let Ok(Value::Quantity(stated)) = &specified.value else { return None };
    let text = short(remedy, Some(specified), system)?;
    let tried = remedy.short?.length;
    let needed = SEAT.value(&remedy.short?.seat_needed, system);
    let text = format!("{text}; seat at {needed} or deeper");
    if stated.is_near(&tried) {
        return Some(text);
    }
    Some(format!("{} is too short; {text}", LENGTH.value(stated, system)))
}

/// What a comment objects to, in one sentence.
fn objection(comment: &Comment, system: System) -> String {
    let brief = if comment.brief.len() == 1 { complete(&comment.brief, system).next() } else { None };
    let text = brief.as_deref().unwrap_or(&comment.rule.title);
    // What comes after a semicolon are details.
    uncapital(text.split(';').next().unwrap_or(text).trim_end_matches('.'))
}

/// What the designer decides, and what is ordered then; or the next remedy.
pub(super) fn held(line: &Line<'_>, system: System) -> String {
    let Some(remedy) = line.remedy else { return String::new() };
    let decide = remedy.changes.iter().filter(|change| !change.is_order);
    let decide: Vec<String> = decide.map(|change| said(&change.says, system)).collect();
    let mut text = format!("{}; then order {}", decide.join("; "), in_words(line.order(), system));
    let others = line.rows.first().map_or(&[][..], |row| &row.findings.remedies);
    let other = others.iter().find(|other| other.changes.iter().all(|change| !change.is_of_designer));
    if let Some(other) = other {
        text.push_str(&format!("; or instead: {}", what(other, system)));
    }
    format!("{text} ({})", why(line, system))
}

/// "How many? Then order …".
pub(super) fn how_many(line: &Line<'_>, system: System) -> String {
    let mut text = format!("How many? Then order {}", in_words(line.order(), system));
    let others = line.remedy.into_iter().flat_map(|remedy| &remedy.changes).filter(|change| !change.is_order);
    for change in others {
        text.push_str(&format!("; {}", said(&change.says, system)));
    }
    format!("{text} ({})", why(line, system))
}

/// What a row waits for: "inside stop (Freezing 4)"; and what would do without an answer.
pub(super) fn missing(waiting: &Waiting<'_>, review: &Review, system: System) -> String {
    let text = match &waiting.why {
        Why::Lacks(headings) => format!("{}: needed to order", lower(headings)),
        Why::NotComputed(why) => figures(why, system),
        Why::NoRemedy(_) => {
            let objections = objections(waiting.row, |_| true, system);
            format!("{}; no change that was tried passes every rule: see the review", at_most(objections))
        }
        Why::Asks(asks) => {
            let sentence = |heading: &Arc<str>| {
                let question = review.questions.iter().find(|question| question.heading == *heading);
                question.map(|question| facts::asked(question.slot).sentence)
            };
            let headings = asks.iter().flat_map(|(_, headings)| headings);
            let mut sentences: Vec<Arc<str>> = headings.filter_map(sentence).collect();
            sentences.sort();
            sentences.dedup();
            let mut text = match sentences.is_empty() {
                true => capital(&asked(asks).unwrap_or_default()),
                false => sentences.join(" "),
            };
            if let Some(remedy) = waiting.row.findings.remedies.first() {
                let word = if remedy.leaves.is_empty() { "or" } else { "and" };
                let end = if text.ends_with('?') { "" } else { "." };
                text.push_str(&format!("{end} {} {}", capital(word), what(remedy, system)));
            }
            text
        }
    };
    let (end, and) = if text.ends_with(['?', '.']) { (" ", "How") } else { ("; ", "how") };
    if waiting.row.quantity.is_some() { text } else { format!("{text}{end}{and} many?") }
}
