//! Comments to send: what to revise and what to clarify, numbered, with no more on the program than the reminder at the end.

mod items;

use super::REMINDER;
use super::blocks::{Block, Blocks};
use super::comment_sheet::{CommentSheet, section_number};
use super::comments::Gathered;
use super::left::not_used;
use super::page::ASIDE;
use super::sentences::complete_alone;
use super::words::{listed, printed};
use super::{climate, since, text};
use crate::diag::{Location, capital, shortened, uncapital};
use crate::facts::Origin;
use crate::review::{OutletReview, Piece, Review, Spotted};
use crate::ruleset::{BY_SUBJECT, Basis, OF_MODEL_CODES};
use crate::units::System;
use items::{CALCULATED, Content, Part, located, named};
pub(super) use items::{LetterItem, items};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Outlets that are each named with location and quantity; of more, only marks and rows.
const MOST_NAMED: usize = 3;
/// Outlets without a comment that are named.
const MOST_SILENT: usize = 20;
/// Marks of a part that the head names.
const MOST_MARKS: usize = 6;
/// Unreadable texts of a question that are quoted.
const MOST_QUOTED: usize = 4;
/// Marks a section number that was not checked.
const UNCHECKED: &str = " \u{2020}";
/// Where the text of a comment starts.
const TEXT_AT: usize = 4;
/// Lines that the sender fills in.
const BLANKS: [&str; 6] = ["To", "Permit", "Address", "Sheets", "Date", "Reviewer"];

/// The letter as text.
pub fn letter(review: &Review, system: System) -> String {
    blocks(review, &CommentSheet::of(review, system), system).into_text()
}

/// The letter as blocks.
pub(super) fn blocks(review: &Review, sheet: &CommentSheet<'_>, system: System) -> Blocks {
    let items = items(review, sheet, system);
    let unread = unread(review, &items);
    let mut out = Blocks::default();
    out.push(Block::Title { text: "PLAN REVIEW COMMENTS, DRAFT FOR THE REVIEWER".into(), aside: ASIDE });
    for label in BLANKS {
        out.push(Block::Blank(label));
    }
    out.space();
    let of_head =
        |wanted: &str| sheet.head.iter().find(|(label, _)| *label == wanted).map(|(_, line)| line.as_str());
    let file = review.schedule.rsplit(['/', '\\']).next().unwrap_or_default();
    out.labelled("Job", &of_head("Job").unwrap_or_default().replace(&*review.schedule, file));
    out.labelled("Climate", &climate::in_short(&review.climate, &review.design, &review.authority, system));
    out.labelled("Code", of_head("Code").unwrap_or_default());
    out.labelled("Result", &result(&items, review.code.is_some(), !unread.is_empty()));
    let mut above = "";
    for item in &items {
        let heading = heading(item.part, review.code.is_some());
        if above != heading {
            above = heading;
            out.heading(heading);
        }
        write_item(&mut out, item, review, system);
        out.space();
    }
    if !unread.is_empty() {
        out.heading("Cannot be read as written");
        unread.iter().for_each(|line| out.paragraph(line));
    }
    let not_used = not_used(review);
    if !not_used.is_empty() {
        out.heading("Not used in this review");
        not_used.iter().for_each(|line| out.paragraph(&capital(line)));
    }
    let gone = since::gone(review, &items);
    if !gone.is_empty() {
        out.heading("No longer open, by their numbers before");
        for (number, text) in gone {
            out.labelled_at(TEXT_AT, &format!("{number}."), &text);
        }
    }
    out.space();
    let silent: Vec<(Arc<str>, Spotted)> = silent(review, &items);
    if !silent.is_empty() {
        out.paragraph(&format!("No comment on {}.", text::marks(&silent, MOST_SILENT)));
    }
    if !items.is_empty() {
        let any_unchecked = items.iter().any(cites_unchecked);
        let not_checked =
            if any_unchecked { " Section numbers are not checked against the adopted edition." } else { "" };
        out.paragraph(&format!(
            "Answer each item by its number, with the revised sheets. Rows are counted in the schedule's file, \
             headings included.{not_checked}"
        ));
    }
    out.paragraph(REMINDER);
    out
}

/// "3 to revise under the adopted code (items 1 to 3: HB-1 and HB-4); 7 to clarify (items 4 to 10: HB-3)".
fn result(items: &[LetterItem<'_>], is_code_stated: bool, is_unread: bool) -> String {
    let mut counted: Vec<String> = Vec::new();
    // Whether a code is stated changes the words of a heading, not which items it is over.
    for own in items.chunk_by(|a, b| heading(a.part, true) == heading(b.part, true)) {
        let by = match own[0].part {
            Part::Revise(Basis::AdoptedCode) if is_code_stated => "under the adopted code",
            Part::Revise(Basis::AdoptedCode) => "under model codes",
            Part::Revise(Basis::Listing) => "by the listing",
            Part::Revise(Basis::Instructions) => "by manufacturer's instructions",
            Part::Revise(Basis::Company) => "by company standard",
            CALCULATED => "recommended by calculation",
            Part::Questions | Part::Open => "to clarify",
        };
        let is_required = matches!(own[0].part, Part::Revise(_)) && own[0].part != CALCULATED;
        let revise = if counted.is_empty() && is_required { "to revise " } else { "" };
        let mut numbers: Vec<usize> = own.iter().map(|item| item.number).collect();
        numbers.sort_unstable();
        let mut seen = BTreeSet::new();
        let marks = own.iter().flat_map(|item| &item.marks).filter(|mark| seen.insert(**mark));
        let marks: Vec<Arc<str>> = marks.map(|mark| (*mark).into()).collect();
        let marks = listed(&marks, MOST_MARKS);
        counted.push(format!("{} {revise}{by} ({}: {marks})", own.len(), named(&numbers)));
    }
    match counted.is_empty() {
        true if is_unread => "nothing to revise; what cannot be read is to be clarified".into(),
        true => "nothing to revise or to clarify".into(),
        false => counted.join("; "),
    }
}

fn heading(part: Part, is_code_stated: bool) -> &'static str {
    match part {
        Part::Revise(Basis::AdoptedCode) if is_code_stated => "Revise: adopted code",
        Part::Revise(Basis::AdoptedCode) => "Revise: model codes generally require it",
        Part::Revise(Basis::Listing) => "Revise: product listing",
        Part::Revise(Basis::Instructions) => "Revise: manufacturer's instructions",
        Part::Revise(Basis::Company) => "Revise: company standard",
        CALCULATED => "Recommended by calculation, not by itself a code requirement",
        Part::Questions | Part::Open => "Clarify",
    }
}

fn write_item(out: &mut Blocks, item: &LetterItem<'_>, review: &Review, system: System) {
    let outlets = named_outlets(&item.outlets, review);
    let (comment, proven) = match &item.content {
        Content::Comment(comment, proven) => (comment, proven),
        Content::Question(written) => {
            let needed = needed_for(item.about, review);
            let text = format!("{outlets}: {}{}{needed}", item.title, quoted(written));
            out.labelled_at(TEXT_AT, &format!("{}.", item.number), &text);
            return;
        }
    };
    let own = comment.comment;
    let is_calculated = item.part == CALCULATED;
    let brief: Vec<String> = complete_alone(&own.brief, system).collect();
    // A calculated comment may lack some values.
    let has_values = brief.len() == own.brief.len() || is_calculated;
    // An open comment has no `says`.
    let has_brief = comment.says.is_some() && !brief.is_empty() && has_values;
    let brief = brief.join(" ");
    // A calculated one gives figures: without its title they say too little.
    let title = match has_brief && (!is_calculated || brief.starts_with(&*item.title)) {
        true => brief.clone(),
        false if own.open.as_ref().is_some_and(|open| !open.agreed) => {
            format!("Not decided: {}.", uncapital(&item.title))
        }
        false => format!("{}.", item.title),
    };
    out.push(Block::Item { column: TEXT_AT, number: item.number, text: format!("{outlets}: {title}") });
    let mut paragraph = |text: &str| out.indented(TEXT_AT, text);
    let says = if has_brief { Some(brief).filter(|brief| *brief != title) } else { wording(comment, system) };
    for text in says.iter().chain(&comment.settle) {
        paragraph(text);
    }
    let remedy = comment.remedy.as_ref().zip(own.remedy.as_ref());
    let remedy = remedy.map(|(text, own)| whole(own, system).unwrap_or_else(|| text.clone()));
    let correction = match item.part {
        CALCULATED => proven
            .as_ref()
            .map(|change| format!("Recommended: {change}."))
            .or_else(|| remedy.map(|remedy| format!("Recommended: {remedy}"))),
        Part::Revise(_) => remedy.map(|remedy| format!("Correction: {remedy}")),
        Part::Questions | Part::Open => remedy.map(|remedy| format!("Submit: {}", uncapital(&remedy))),
    };
    if let Some(correction) = correction {
        paragraph(&correction);
    }
    paragraph(&basis(comment));
}

/// The sentences of a comment that have all their values; if none has, its text, which says what is not stated.
fn wording(comment: &Gathered<'_>, system: System) -> Option<String> {
    let text = comment.says.as_ref()?;
    Some(whole(&comment.comment.says, system).unwrap_or_else(|| text.clone()))
}

/// " Needed to check IRC P2903.10." of the sections whose rules wait for a fact.
fn needed_for(fact: &str, review: &Review) -> String {
    let question = review.questions.iter().find(|question| *question.fact == *fact);
    let turns = question.into_iter().flat_map(|question| &question.types).flat_map(|of| &of.turns);
    let waiting: BTreeSet<&Arc<str>> = turns.flat_map(|turn| &turn.rules).collect();
    // Every outlet has a comment of each rule, so the first one's list all rules.
    let comments = review.outlets.first().into_iter().flat_map(|outlet| &outlet.findings.comments);
    let rules = comments.map(|comment| &comment.rule).filter(|rule| waiting.contains(&rule.number));
    let sections = rules.filter(|rule| rule.basis == Basis::AdoptedCode).filter_map(|rule| rule.see.first());
    let mut sections: Vec<Arc<str>> =
        sections.map(|see| section_number(see).replace(UNCHECKED, "").into()).collect();
    sections.dedup();
    let sections: Vec<Arc<str>> = sections
        .into_iter()
        .filter(|section| ![BY_SUBJECT, OF_MODEL_CODES].iter().any(|by| section.starts_with(by)))
        .collect();
    if sections.is_empty() {
        String::new()
    } else {
        format!(" Needed to check {}.", listed(&sections, usize::MAX))
    }
}

/// The sentences that have all their values; none if no sentence has.
fn whole(sentences: &[Vec<Piece>], system: System) -> Option<String> {
    let text = complete_alone(sentences, system).collect::<Vec<_>>().join(" ");
    (!text.is_empty()).then(|| capital(&text))
}

/// On what a comment stands: "IRC P2903.10, stop for a hose bibb subject to freezing".
fn basis(comment: &Gathered<'_>) -> String {
    // A company rule with no reference is this office's if an amendment added it, otherwise one of the shipped rules.
    let see = comment.rule.see.iter().filter(|see| !see.starts_with("No published"));
    let see = see.map(|see| see.replace(UNCHECKED, "").into());
    let see: Vec<Arc<str>> = see.collect();
    match comment.rule.basis {
        Basis::Calculation => "Basis: calculation.".into(),
        Basis::Company if see.is_empty() && comment.rule.added_by.is_none() => "Basis: good practice.".into(),
        Basis::Company if see.is_empty() => "Basis: this office's standard.".into(),
        basis if see.is_empty() => format!("Basis: {}.", basis.word()),
        _ => format!("Basis: {}.", see.join("; ")),
    }
}

/// The outlets that no item is about.
fn silent(review: &Review, items: &[LetterItem<'_>]) -> Vec<(Arc<str>, Spotted)> {
    let about: BTreeSet<(&str, Spotted)> =
        items.iter().flat_map(|item| &item.outlets).map(|(row, outlet)| (&*outlet.mark, *row)).collect();
    let rows = located(review).map(|(row, outlet)| (outlet.mark.clone(), row));
    rows.filter(|(mark, row)| !about.contains(&(&**mark, *row))).collect()
}

fn cites_unchecked(item: &LetterItem<'_>) -> bool {
    matches!(&item.content, Content::Comment(comment, _) if comment.rule.see.iter().any(|see| see.contains(UNCHECKED)))
}

/// "HB-1, Rear, plan C (row 3, qty 6)"; of many outlets the marks with their rows. That a quantity is not
/// stated is said only where others are.
fn named_outlets(outlets: &[(Spotted, &OutletReview)], review: &Review) -> String {
    if outlets.len() > MOST_NAMED {
        let rows: Vec<(Arc<str>, Spotted)> =
            outlets.iter().map(|(row, outlet)| (outlet.mark.clone(), *row)).collect();
        return text::marks(&rows, usize::MAX);
    }
    let has_quantities = review.outlets.iter().any(|outlet| outlet.quantity.is_some());
    let name = |(row, outlet): &(Spotted, &OutletReview)| {
        let row = row.to_string();
        let quantity = match outlet.quantity {
            Some(quantity) => Some(format!("qty {quantity}")),
            None => has_quantities.then(|| "quantity not stated".into()),
        };
        let is_named = *outlet.mark != *row;
        let name = if is_named { outlet.mark.to_string() } else { capital(&row) };
        let name = [Some(name), outlet.where_it_is.as_deref().map(str::to_owned)];
        let name: Vec<String> = name.into_iter().flatten().collect();
        let aside: Vec<String> = [is_named.then_some(row), quantity].into_iter().flatten().collect();
        let aside = if aside.is_empty() { String::new() } else { format!(" ({})", aside.join(", ")) };
        format!("{}{aside}", name.join(", "))
    };
    outlets.iter().map(name).collect::<Vec<_>>().join("; ")
}

/// ` The schedule says "40 ft".`
fn quoted(written: &[Arc<str>]) -> String {
    let quoted: Vec<Arc<str>> =
        written.iter().map(|text| format!("\"{}\"", shortened(text)).into()).collect();
    if quoted.is_empty() {
        String::new()
    } else {
        format!(" The schedule says {}.", listed(&quoted, MOST_QUOTED))
    }
}

/// What cannot be read of the schedule and the job, less the cells whose text a question quotes.
fn unread(review: &Review, items: &[LetterItem<'_>]) -> Vec<String> {
    let mut quoted: BTreeSet<Location> = BTreeSet::new();
    for item in items {
        let Content::Question(written) = &item.content else { continue };
        let written = printed(written, MOST_QUOTED);
        let facts = item.outlets.iter().filter_map(|(_, outlet)| outlet.fact(item.about));
        quoted.extend(facts.filter_map(|fact| match fact.origin {
            Origin::Unreadable(location, text) => written.contains(&text).then_some(location),
            _ => None,
        }));
    }
    let own = format!("{}, ", review.schedule);
    let open = review.problems.iter().filter(|problem| !quoted.contains(&problem.location));
    let lines = open.map(|problem| {
        let line = problem.to_string();
        capital(line.strip_prefix(&own).unwrap_or(&line))
    });
    lines.collect()
}
