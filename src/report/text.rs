//! The comment sheet: what to revise, what to clarify and what is advisory, outlet by outlet.

use super::blocks::Blocks;
use super::comments::{Gathered, gathered, is_general, speaks};
use super::footnotes::Footnotes;
use super::page::{heading, how_read, inert, labelled, not_used, set_aside, table, unread, wrapped};
use super::taken::{self, Taken};
use super::words::{listed, value, wall};
use super::{REMINDER, WIDTH};
use super::{amended, climate, spaces};
use crate::facts::heading as heading_of;
use crate::review::{Assumption, Code, OutletReview, Review, RowOf, Spotted};
use crate::ruleset::{Adopted, Basis, Outcome};
use crate::units::System;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Marks and rows printed before the rest is only counted.
const MOST_MARKS: usize = 8;

/// The comment sheet as text.
pub fn text(review: &Review, system: System) -> String {
    let mut out = String::new();
    head(&mut out, review, system);
    let gathered = gathered(review, system);
    schedule(&mut out, review, system);
    let mut notes = Footnotes::default();
    comments(&mut out, &gathered, review, &mut notes);
    super::remedies::write(&mut out, review, super::groups::groups(review).iter(), system);
    super::questions::section(&mut out, review);
    super::questions::answered(&mut out, review, system);
    assumed(&mut out, review, system);
    unread(&mut out, &review.problems);
    how_read(&mut out, &review.notes);
    not_used(&mut out, &review.unused);
    if let Some(rows) = set_aside(&review.rows_set_aside) {
        heading(&mut out, "Set aside: not outdoor faucets");
        let line = format!("{rows}. `coldsill read` lists them; `include:` in the job overrules it.");
        out.push_str(&wrapped(&line, WIDTH, ""));
    }
    let mut references = Blocks::default();
    notes.list(&mut references, "References");
    out.push_str(&references.into_text());
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    inert(out)
}

/// The adopted code, and where its sections come from.
fn code_line(stated: Option<&Code>, adopted: Option<&Adopted>) -> String {
    let Some(code) = stated else {
        return "not stated; the locally adopted code governs. General rules: sections are not matched to a code."
            .into();
    };
    let edition = code.edition.as_ref().map(|edition| format!(" {edition}")).unwrap_or_default();
    let name = format!("{}{edition}", code.name);
    match adopted {
        Some(adopted) if !adopted.has_sections => {
            format!("{name}; its sections are not known here. General rules: sections are not matched to it.")
        }
        Some(adopted) => format!("{name}; sections as in rules/codes/{}", adopted.file),
        None => format!("{name}; this code has no file here. General rules: sections are not matched to it."),
    }
}

fn head(out: &mut String, review: &Review, system: System) {
    out.push_str("Outdoor faucets: comment sheet\n\n");
    if let Some(job) = &review.job {
        out.push_str(&labelled("Job", job, WIDTH));
    }
    out.push_str(&labelled("Schedule", &schedule_line(review), WIDTH));
    let instead = review.climate_overridden.as_ref();
    let climate = climate::in_words(&review.climate, &review.design, &review.authority, instead, system);
    out.push_str(&labelled("Climate", &climate, WIDTH));
    if let Some(spaces) = spaces::stated(review) {
        out.push_str(&labelled(
            "Spaces",
            &format!("{}, as the job states", listed(&spaces, usize::MAX)),
            WIDTH,
        ));
    }
    out.push_str(&labelled(
        "Code",
        &code_line(review.code.as_ref(), review.amendment_effects.adopted.as_ref()),
        WIDTH,
    ));
    for (label, line) in amended::head(&review.amendment_effects) {
        out.push_str(&labelled(label, &line, WIDTH));
    }
    if let Some(line) = amended::revise_on(&review.revise_on, review.revise_on_set_by.as_ref()) {
        out.push_str(&labelled("Revise on", &line, WIDTH));
    }
    if !review.answers.is_empty() {
        out.push_str(&labelled("Answers", &listed(&review.answers, usize::MAX), WIDTH));
    }
    let tally = review.tally;
    let line = format!(
        "{} to revise{}, {} to clarify, {} advisory; {} without comment, {} do not apply.",
        tally.revise,
        on_what(review),
        tally.clarify,
        tally.advise,
        tally.no_comment,
        tally.does_not_apply
    );
    out.push_str(&labelled("Comments", &line, WIDTH));
    if let Some((fact, rows)) = review.order_turns_on.first() {
        let counted = if *rows == 1 { "1 row".into() } else { format!("{rows} rows") };
        let line =
            format!("{} is not stated and changes which length to order in {counted}.", heading_of(*fact));
        out.push_str(&labelled("Order", &line, WIDTH));
    }
}

/// What the revisions stand on: " (4 by adopted code and 2 by calculation)".
fn on_what(review: &Review) -> String {
    let revisions = || {
        let comments = review.outlets.iter().flat_map(|it| &it.findings.comments);
        comments.filter(|it| it.outcome == Outcome::Revise)
    };
    let counts = Basis::WORDS.iter().filter_map(|(word, basis)| {
        let count = revisions().filter(|it| it.rule.basis == *basis).count();
        (count > 0).then(|| format!("{count} by {word}").into())
    });
    let counts: Vec<Arc<str>> = counts.collect();
    if counts.is_empty() { String::new() } else { format!(" ({})", listed(&counts, usize::MAX)) }
}

pub(super) fn schedule_line(review: &Review) -> String {
    let stated: Vec<f64> = review.outlets.iter().filter_map(|it| it.quantity).collect();
    let counted = |number: usize| if number == 1 { "1 row".into() } else { format!("{number} rows") };
    // A sum of nothing would print as -0.
    let outlets = match stated.iter().sum::<f64>() {
        _ if stated.is_empty() => "no quantity stated".into(),
        1.0 => "1 faucet".into(),
        sum => format!("{sum} faucets"),
    };
    let count = match review.outlets.len() - stated.len() {
        1 if !stated.is_empty() => format!("{outlets}, and 1 row that states no quantity"),
        silent if silent > 0 && !stated.is_empty() => {
            format!("{outlets}, and {silent} rows that state no quantity")
        }
        _ => outlets,
    };
    format!("{}: {}, {count}", review.schedule, counted(review.outlets.len()))
}

fn schedule(out: &mut String, review: &Review, system: System) {
    heading(out, "Schedule");
    let rows = review.outlets.iter().map(|outlet| {
        let said: Vec<String> = outlet
            .findings
            .comments
            .iter()
            .filter(|it| speaks(it) && !is_general(it.rule.once, it.outcome))
            .map(|it| format!("{} {}", it.rule.number, it.outcome.word()))
            .collect();
        let said = if said.is_empty() { "no comment".into() } else { said.join(", ") };
        let row = match Spotted::at(&outlet.location, &review.schedule) {
            Spotted { of: RowOf::Schedule, number } => number.to_string(),
            other => other.to_string(),
        };
        vec![row, outlet.mark.to_string(), quantity(outlet), what(outlet, system), said]
    });
    out.push_str(&table(&["Row", "Mark", "Qty", "Faucet", "Comments"], rows.collect(), WIDTH));
    out.push('\n');
}

fn quantity(outlet: &OutletReview) -> String {
    outlet.quantity.map_or_else(|| "not stated".into(), |it| it.to_string())
}

/// "wall hydrant, brass, 10 in, rim joist batt".
pub(super) fn what(outlet: &OutletReview, system: System) -> String {
    let names = ["outlet.kind", "outlet.barrel", "outlet.nominal_length", "outlet.wall"];
    let said = names.iter().filter_map(|name| {
        let fact = outlet.findings.facts.iter().chain(&outlet.own_facts).find(|it| *it.name == **name)?;
        if *name == "outlet.wall" { wall(fact) } else { fact.value.is_ok().then(|| value(fact, system)) }
    });
    let said: Vec<String> = said.collect();
    if said.is_empty() { "nothing stated".into() } else { said.join(", ") }
}

fn comments<'r>(out: &mut String, gathered: &[Gathered<'r>], review: &Review, notes: &mut Footnotes<'r>) {
    let sections = [
        ("To revise", Outcome::Revise, false),
        ("To clarify", Outcome::Clarify, false),
        ("Advisory", Outcome::Advise, false),
        ("General notes for the job", Outcome::Advise, true),
    ];
    for (title, outcome, once) in sections {
        let is_meant =
            |it: &&Gathered<'_>| it.outcome == outcome && is_general(it.rule.once, it.outcome) == once;
        let mut those = gathered.iter().filter(is_meant).peekable();
        if those.peek().is_none() {
            continue;
        }
        heading(out, title);
        let (waiting, those): (Vec<_>, Vec<_>) = those.partition(|it| it.waits_for.is_some());
        for (index, it) in those.iter().enumerate() {
            if index > 0 {
                out.push('\n');
            }
            let of_rule = |other: &&&Gathered<'_>| other.rule.id == it.rule.id;
            let place = Of {
                is_first: index == 0 || !of_rule(&&those[index - 1]),
                is_last: !those.get(index + 1).is_some_and(|it| of_rule(&it)),
                same_remedy: those.iter().filter(of_rule).all(|other| other.remedy == it.remedy),
            };
            comment(out, it, place, review, notes);
        }
        waits(out, &waiting, !those.is_empty());
    }
}

/// Where a comment stands among those of its rule, and whether one remedy serves all of them.
#[derive(Clone, Copy)]
struct Of {
    is_first: bool,
    is_last: bool,
    same_remedy: bool,
}

/// Comments that wait for information, by outlets and unknown facts.
fn waits(out: &mut String, waiting: &[&Gathered<'_>], follows: bool) {
    let mut groups: Vec<(String, &str, Vec<String>)> = Vec::new();
    for it in waiting {
        let (who, facts) = (marks(&it.outlets, MOST_MARKS), it.waits_for.as_deref().unwrap_or_default());
        let rule = format!("{}: {} ({})", it.rule.number, it.rule.title, it.rule.basis.word());
        match groups.iter_mut().find(|(known, of, _)| *known == who && *of == facts) {
            Some((_, _, rules)) => rules.push(rule),
            None => groups.push((who, facts, vec![rule])),
        }
    }
    if !groups.is_empty() {
        out.push_str(if follows { "\nWaiting for information\n" } else { "Waiting for information\n" });
    }
    for (index, (who, facts, rules)) in groups.iter().enumerate() {
        if index > 0 {
            out.push('\n');
        }
        line(out, "Faucets", who);
        line(out, "Unknown", facts);
        for (index, rule) in rules.iter().enumerate() {
            line(out, if index == 0 { "Rules" } else { "" }, rule);
        }
    }
}

fn line(out: &mut String, label: &str, text: &str) {
    let block = labelled(label, text, WIDTH - 2);
    out.extend(block.lines().map(|line| format!("  {line}\n")));
}

/// A comment under its rule's title; what holds for the rule stands once, at its last comment.
fn comment<'r>(out: &mut String, it: &Gathered<'r>, of: Of, review: &Review, notes: &mut Footnotes<'r>) {
    if of.is_first {
        out.push_str(&wrapped(&format!("{}: {}", it.rule.number, it.rule.title), WIDTH, ""));
    }
    line(out, "Faucets", &marks(&it.outlets, MOST_MARKS));
    if let Some(says) = &it.says {
        line(out, "Comment", says);
    }
    if let Some(settle) = &it.settle {
        line(out, "Unresolved", settle);
    }
    if let Some(remedy) = it.remedy.as_ref().filter(|_| of.is_last || !of.same_remedy) {
        line(out, "Remedy", remedy);
    }
    if !of.is_last {
        return;
    }
    if it.outcome == Outcome::Revise {
        line(out, "Why", &it.rule.why);
    }
    let amended = amended::of_rule(it.rule.added_by.as_deref(), &it.rule.changed_by);
    line(out, "Basis", &format!("{}{amended}", basis(it)));
    if it.lowered {
        line(out, "", &amended::advises_only(&review.revise_on));
    }
    if !it.rule.see.is_empty() {
        let marks: Vec<String> = it.rule.see.iter().map(|source| notes.cite(&**source)).collect();
        line(out, "Reference", &marks.join(" "));
    }
}

fn basis(it: &Gathered<'_>) -> String {
    let word = it.rule.basis.word();
    match it.rule.basis {
        Basis::Calculation => format!("{word} only; not by itself a code violation"),
        // A rule that no company has added.
        Basis::Company if it.rule.added_by.is_none() => "good practice".into(),
        _ => word.into(),
    }
}

/// Marks, each with its rows; after `most` of either the rest is only counted.
pub(super) fn marks(outlets: &[(Arc<str>, Spotted)], most: usize) -> String {
    let mut gathered: Vec<(&Arc<str>, RowOf, Vec<u32>)> = Vec::new();
    let mut known: BTreeMap<(&Arc<str>, RowOf), usize> = BTreeMap::new();
    for (mark, Spotted { of, number }) in outlets {
        let at = *known.entry((mark, *of)).or_insert_with(|| {
            gathered.push((mark, *of, Vec::new()));
            gathered.len() - 1
        });
        gathered[at].2.push(*number);
    }
    let said: Vec<Arc<str>> = gathered
        .iter()
        .map(|(mark, of, rows)| {
            // An outlet without a mark goes by its row already.
            if mark.starts_with("row ") || mark.starts_with("sheet ") {
                return (*mark).clone();
            }
            let numbers: Vec<Arc<str>> = rows.iter().map(|it| it.to_string().into()).collect();
            let plural = if rows.len() == 1 { "" } else { "s" };
            format!("{mark} ({}{plural} {})", of.word(), listed(&numbers, most)).into()
        })
        .collect();
    listed(&said, most)
}

fn assumed(out: &mut String, review: &Review, system: System) {
    if review.assumed.is_empty() {
        return;
    }
    heading(out, "Assumed (state it in the schedule or job to change it)");
    let mut rows: BTreeMap<&str, usize> = BTreeMap::new();
    review.outlets.iter().for_each(|outlet| *rows.entry(&outlet.mark).or_default() += 1);
    let named: Vec<Vec<Arc<str>>> = review.assumed.iter().map(|it| named(it, review, &rows)).collect();
    let taken =
        review.assumed.iter().zip(&named).map(|(it, marks)| Taken { fact: &it.fact, why: &it.why, marks });
    taken::lines(out, &taken.collect::<Vec<_>>(), system);
}

/// The marks of an assumption, with their rows if it does not apply to all rows of the mark; none if it applies to every row.
fn named(assumption: &Assumption, review: &Review, rows: &BTreeMap<&str, usize>) -> Vec<Arc<str>> {
    if assumption.outlets.len() == review.outlets.len() {
        return Vec::new();
    }
    let mut own: BTreeMap<&str, Vec<(Arc<str>, Spotted)>> = BTreeMap::new();
    for outlet in &assumption.outlets {
        own.entry(&outlet.0).or_default().push(outlet.clone());
    }
    let name = |mark: &Arc<str>| match own.get(&**mark) {
        Some(own) if rows.get(&**mark) != Some(&own.len()) => marks(own, MOST_MARKS).into(),
        _ => mark.clone(),
    };
    assumption.applies_to.iter().map(name).collect()
}
