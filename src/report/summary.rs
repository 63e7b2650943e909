//! The comment sheet on a screen or two: each row with its result and what to order instead, then why, what to ask, what
//! to note on the drawings, and what was assumed. `text` gives every reason and source.

use super::comments::{Gathered, gathered};
use super::groups::{Group, MOST_QUESTIONS, groups, is_of_the_row, result_of, rows_of};
use super::page::{heading, labelled, labelled_at, set_aside, table, wrapped};
use super::sentences::complete;
use super::text::{is_general, schedule_line};
use super::words::{listed, lower, value};
use super::{REMINDER, WIDTH, climate, remedies};
use crate::diag::{shortened, uncapital};
use crate::facts;
use crate::review::{Comment, OutletReview, Review, RowOf, Spotted};
use crate::ruleset::{Basis, Outcome};
use crate::units::System;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Types printed before the rest is only counted.
const MOST_TYPES: usize = 40;
/// Lines of what was not read before the rest is only counted.
const MOST_UNREAD: usize = 10;
/// Rows of a line before the rest is only counted.
const MOST_ROWS: usize = 6;
/// Where the text of a comment starts.
const TEXT_AT: usize = 23;

/// The summary as text.
pub fn summary(review: &Review, system: System) -> String {
    let groups = groups(review);
    let mut out =
        String::from("COMMENT SHEET                                 screening only; not an approval\n");
    write_head(&mut out, review, &groups, system);
    write_table(&mut out, review, &groups, system);
    write_revisions(&mut out, review, &groups, system);
    write_questions(&mut out, review);
    write_notes(&mut out, &gathered(review, system), review);
    write_assumed(&mut out, review, system);
    write_unread(&mut out, review);
    let close = format!(
        "\u{2020} Section number not checked: see the adopted edition. calc: not by itself a code violation. Every reason, source \
         and remedy: `--detail`; one outlet's arithmetic: `coldsill sheet`.\n{REMINDER}"
    );
    out.push('\n');
    for paragraph in close.lines() {
        out.push_str(&wrapped(paragraph, WIDTH, ""));
    }
    out
}

fn write_head(out: &mut String, review: &Review, groups: &[Group<'_>], system: System) {
    let job = review.job.as_ref().map_or_else(String::new, |job| format!("{job}, "));
    out.push_str(&labelled("Job", &format!("{job}{}", schedule_line(review)), WIDTH));
    let mut place = climate::in_short(&review.climate, &review.design, &review.authority, system);
    for note in super::borrowed::notes(&review.climate, system) {
        place.push(' ');
        place.push_str(&note);
    }
    out.push_str(&labelled("Climate", &place, WIDTH));
    let code = review.code.as_ref().map_or_else(
        || "not stated".to_owned(),
        |code| {
            code.edition
                .as_ref()
                .map_or_else(|| code.name.to_string(), |edition| format!("{} {edition}", code.name))
        },
    );
    let has_sections = review.told.adopted.as_ref().is_some_and(|it| it.has_sections);
    let unmatched = if has_sections { "" } else { "; sections are not matched to a code" };
    let code = format!("{code}; local amendments and the authority govern{unmatched}");
    out.push_str(&labelled("Code", &code, WIDTH));
    for (label, line) in super::amended::head(&review.told) {
        out.push_str(&labelled(label, &line, WIDTH));
    }
    let result = [
        (Outcome::Revise, "revise"),
        (Outcome::Clarify, "clarify"),
        (Outcome::Advise, "advisory"),
        (Outcome::NoComment, "no comment"),
    ];
    let result = result.iter().filter_map(|(outcome, word)| {
        let rows: Vec<&&OutletReview> = groups
            .iter()
            .filter(|group| group.outcome == *outcome)
            .flat_map(|group| &group.outlets)
            .collect();
        let outlets: f64 = rows.iter().filter_map(|row| row.quantity).sum();
        let rows_text = if rows.len() == 1 { "1 row".to_owned() } else { format!("{} rows", rows.len()) };
        let quantity = if outlets > 0.0 { format!(" ({outlets})") } else { String::new() };
        (!rows.is_empty()).then(|| Arc::from(format!("{word} {rows_text}{quantity}")))
    });
    let result: Vec<Arc<str>> = result.collect();
    out.push_str(&labelled("Result", &listed(&result, usize::MAX), WIDTH));
    if let Some(rows) = set_aside(&review.aside) {
        let line = format!("{rows}; `coldsill read` lists them, `include:` in the job overrules it");
        out.push_str(&labelled("Set aside", &line, WIDTH));
    }
}

fn write_table(out: &mut String, review: &Review, groups: &[Group<'_>], system: System) {
    out.push('\n');
    let rows = groups.iter().take(MOST_TYPES).map(|group| {
        let first = group.outlets[0];
        let quantities: Vec<f64> = group.outlets.iter().filter_map(|outlet| outlet.quantity).collect();
        let quantity =
            if quantities.is_empty() { "?".to_owned() } else { quantities.iter().sum::<f64>().to_string() };
        let mut marks: Vec<Arc<str>> = group.outlets.iter().map(|outlet| outlet.mark.clone()).collect();
        marks.dedup();
        vec![
            rows_of(&group.outlets, review),
            listed(&marks, 3),
            quantity,
            scheduled(first, system),
            result_of(group).to_owned(),
            action_of(group, system),
        ]
    });
    let headings = ["Row", "Mark", "Qty", "As scheduled", "Result", "Do, or order instead"];
    out.push_str(&table(&headings, rows.collect(), WIDTH));
    let mut note = String::new();
    if groups.len() > MOST_TYPES {
        note.push_str(&format!("And {} more types: `--detail` lists them. ", groups.len() - MOST_TYPES));
    }
    if groups.iter().any(|group| result_of(group) == "REVISE") {
        note.push_str("REVISE in capitals: by the adopted code. ");
    }
    note.push_str("Lengths are nominal.");
    out.push('\n');
    out.push_str(&wrapped(&note, WIDTH, ""));
}

/// "8 in brass sillcock, rim-joist-batt".
fn scheduled(outlet: &OutletReview, system: System) -> String {
    let word = |name: &str| {
        let fact = outlet.fact(name)?;
        fact.value.is_ok().then(|| value(&fact, system))
    };
    let item: Vec<String> = ["outlet.nominal_length", "outlet.barrel", "outlet.kind"]
        .iter()
        .filter_map(|name| word(name))
        .collect();
    let parts: Vec<String> = [item.join(" ")].into_iter().chain(word("outlet.wall")).collect();
    let parts: Vec<String> = parts.into_iter().filter(|part| !part.is_empty()).collect();
    if parts.is_empty() { "nothing stated".into() } else { parts.join(", ") }
}

/// What to do about the comments that ask for something, in few words.
fn action_of(group: &Group<'_>, system: System) -> String {
    let mut actions: Vec<String> = Vec::new();
    let proven = group.findings.remedies.first().filter(|_| group.outcome == Outcome::Revise);
    actions.extend(proven.map(|remedy| remedies::in_table(remedy, system)));
    for comment in
        group.findings.comments.iter().filter(|it| proven.is_none() && it.outcome == Outcome::Revise)
    {
        let action = complete(&comment.action, system)
            .next()
            .unwrap_or_else(|| format!("see {}", comment.rule.number));
        if !actions.contains(&action) {
            actions.push(action);
        }
    }
    if proven.is_none() && !actions.is_empty() {
        actions[0].insert_str(0, "not proven: ");
    }
    if !group.questions.is_empty() {
        let numbers: Vec<String> = group.questions.iter().map(|number| format!("Q{number}")).collect();
        actions.push(format!("answer {}", numbers.join(" ")));
    }
    if actions.is_empty() { "as scheduled".into() } else { actions.join("; ") }
}

/// The comments on rows, the same text printed once.
fn write_revisions(out: &mut String, review: &Review, groups: &[Group<'_>], system: System) {
    let mut printed: BTreeMap<(Arc<str>, String), String> = BTreeMap::new();
    let mut has_heading = false;
    for group in groups.iter().take(MOST_TYPES) {
        let comments: Vec<&Comment> = group
            .findings
            .comments
            .iter()
            .filter(|comment| is_of_the_row(comment) && !is_asked(comment))
            .collect();
        if comments.is_empty() {
            continue;
        }
        if !has_heading {
            heading(out, "Why");
            has_heading = true;
        }
        let rows = rows_of(&group.outlets, review);
        let places: Vec<Arc<str>> =
            group.outlets.iter().filter_map(|outlet| outlet.location.clone()).collect();
        let place = if places.is_empty() { String::new() } else { format!(", {}", listed(&places, 2)) };
        let marks: Vec<Arc<str>> = group.outlets.iter().map(|outlet| outlet.mark.clone()).collect();
        out.push_str(&wrapped(&format!("{rows}  {}{place}", listed(&marks, 3)), WIDTH, " "));
        for comment in comments {
            let text = brief(comment, system);
            let key = (comment.rule.number.clone(), text.clone());
            let text = match printed.get(&key) {
                Some(row) => format!("As row {row}."),
                None => {
                    printed.insert(key, rows.clone());
                    text
                }
            };
            let label = format!("   {:<6} {:<12}", tag(comment), comment.rule.number);
            out.push_str(&labelled_at(label.chars().count().max(TEXT_AT), &label, &text, WIDTH));
        }
    }
}

/// Whether a comment waits for an answer, and so stands among the questions.
fn is_asked(comment: &Comment) -> bool {
    comment.outcome == Outcome::Clarify
}

fn tag(comment: &Comment) -> &'static str {
    match (comment.outcome, comment.rule.basis) {
        (Outcome::Revise, Basis::AdoptedCode) => "CODE",
        (Outcome::Revise, Basis::Listing) => "list",
        (Outcome::Revise, Basis::Instructions) => "instr",
        (Outcome::Revise, Basis::Company) => "own",
        (Outcome::Revise, Basis::Calculation) => "calc",
        _ => "note",
    }
}

/// The comment in a line or two, and for a revision how to correct it and the section of the code.
fn brief(comment: &Comment, system: System) -> String {
    if let Some(open) = comment.open.as_ref().filter(|open| !open.agreed && !open.missing.is_empty()) {
        let headings: Vec<Arc<str>> = open.missing.iter().map(|(_, _, heading)| heading.clone()).collect();
        return format!("Unresolved without {}: {}.", lower(&headings), uncapital(&comment.rule.title));
    }
    let mut text = complete(&comment.brief, system).collect::<Vec<_>>().join(" ");
    if text.is_empty() {
        text = format!("{}.", comment.rule.title);
    }
    if comment.outcome == Outcome::Revise {
        // The table says what to do in few words if the rule has them.
        let remedy = comment.remedy.iter().flat_map(|remedy| complete(remedy, system)).next();
        if let Some(remedy) = remedy.filter(|_| comment.action.is_empty()) {
            text.push(' ');
            text.push_str(&first_sentence(&remedy));
        }
        if comment.rule.basis == Basis::AdoptedCode
            && let Some(section) = comment.rule.see.first()
        {
            text.push_str(&format!(" {section}"));
        }
    }
    text
}

/// A remedy of several sentences starts with what to do.
fn first_sentence(text: &str) -> String {
    text.split_once(". ").map_or_else(|| text.to_owned(), |(first, _)| format!("{first}."))
}

fn write_questions(out: &mut String, review: &Review) {
    if review.questions.is_empty() {
        return;
    }
    heading(out, "Ask first: question, its rows, the rules that wait for it");
    let rows = review.questions.iter().take(MOST_QUESTIONS).zip(1..).map(|(question, number)| {
        let rows: Vec<Arc<str>> = question
            .types
            .iter()
            .flat_map(|of| &of.outlets)
            .map(|(_, row)| match row {
                Spotted { of: RowOf::Schedule, number } => number.to_string().into(),
                other => other.to_string().into(),
            })
            .collect();
        let mut rules: Vec<Arc<str>> = Vec::new();
        for rule in question.types.iter().flat_map(|of| &of.turns).flat_map(|turn| &turn.rules) {
            if !rules.contains(rule) {
                rules.push(rule.clone());
            }
        }
        let sentence = facts::asked(question.slot).sentence;
        let which = if rows.len() == 1 { "row" } else { "rows" };
        (number, format!("{sentence} {which} {} ({})", listed(&rows, MOST_ROWS), listed(&rules, 3)))
    });
    for (number, line) in rows {
        out.push_str(&labelled_at(4, &format!("Q{number}"), &line, WIDTH));
    }
    let more = review.questions.len().saturating_sub(MOST_QUESTIONS);
    let more = if more == 0 { String::new() } else { format!("{more} more on the sheet. ") };
    let note = format!("{more}`--questions FILE` writes these to fill in; `--answers FILE` reads them back.");
    out.push_str(&wrapped(&note, WIDTH, ""));
}

/// A general note, and the marks and rows it is for.
type Noted<'g, 'r> = (&'g Gathered<'r>, Vec<(Arc<str>, Spotted)>);

fn write_notes(out: &mut String, gathered: &[Gathered<'_>], review: &Review) {
    let general: Vec<&Gathered<'_>> =
        gathered.iter().filter(|it| is_general(it.rule.once, it.outcome)).collect();
    if general.is_empty() {
        return;
    }
    heading(out, "Notes for the drawings, with their rows");
    let mut rules: Vec<Noted<'_, '_>> = Vec::new();
    for note in general {
        match rules.iter_mut().find(|(known, _)| known.rule.id == note.rule.id) {
            Some((_, outlets)) => outlets.extend(note.outlets.iter().cloned()),
            None => rules.push((note, note.outlets.clone())),
        }
    }
    let rows = rules.into_iter().map(|(note, mut outlets)| {
        outlets.sort_by_key(|(_, row)| *row);
        let rows: Vec<Arc<str>> = outlets
            .iter()
            .map(|(_, row)| match row {
                Spotted { of: RowOf::Schedule, number } => number.to_string().into(),
                other => other.to_string().into(),
            })
            .collect();
        let rows =
            if rows.len() == review.outlets.len() { "all rows".into() } else { listed(&rows, MOST_ROWS) };
        format!("{} ({}): {rows}.", note.rule.title, note.rule.number)
    });
    for line in rows {
        out.push_str(&wrapped(&line, WIDTH, ""));
    }
}

fn write_assumed(out: &mut String, review: &Review, system: System) {
    if review.assumed.is_empty() {
        return;
    }
    heading(out, "Assumed; state it in the schedule or job to change it");
    let mut lines: Vec<(&Arc<str>, Vec<Arc<str>>)> = Vec::new();
    for assumption in &review.assumed {
        let mut text = value(&assumption.fact, system);
        if assumption.outlets.len() < review.outlets.len() {
            text = format!("{text} ({})", listed(&assumption.applies_to, 3));
        }
        match lines.iter_mut().find(|(heading, _)| **heading == assumption.fact.heading) {
            Some((_, values)) => values.push(text.into()),
            None => lines.push((&assumption.fact.heading, vec![text.into()])),
        }
    }
    let lines: Vec<String> =
        lines.iter().map(|(heading, values)| format!("{heading}: {}.", listed(values, usize::MAX))).collect();
    out.push_str(&wrapped(&lines.join(" "), WIDTH, ""));
}

fn write_unread(out: &mut String, review: &Review) {
    let problems = review.problems.iter().map(ToString::to_string);
    let unused =
        review.unused.iter().map(|it| format!("{}: \"{}\": {}", it.place, shortened(&it.text), it.why));
    let notes =
        review.notes.iter().map(|it| format!("{}: \"{}\" {}", it.place, shortened(&it.text), it.what));
    // Without the file, where it is the schedule.
    let own = format!("{}, ", review.schedule);
    let lines = problems.chain(unused).chain(notes);
    let lines: Vec<String> =
        lines.map(|line| line.strip_prefix(&own).map(str::to_owned).unwrap_or(line)).collect();
    if lines.is_empty() {
        return;
    }
    heading(out, &format!("Not read, or read with a note: {}", review.schedule));
    for line in lines.iter().take(MOST_UNREAD) {
        out.push_str(&wrapped(line, WIDTH, ""));
    }
    if lines.len() > MOST_UNREAD {
        let more = format!("And {} more: `coldsill read` lists them all.", lines.len() - MOST_UNREAD);
        out.push_str(&wrapped(&more, WIDTH, ""));
    }
}
