//! Questions: the first of them in the comment sheet, all of them as a sheet to fill in and give back.

use super::WIDTH;
use super::page::{BYTE_ORDER_MARK, csv_line, heading, table, wrapped};
use super::settling::{answer, turns_on};
use super::words::{either, listed, value};
use crate::expr::Type;
use crate::facts::{self, PlausibleValues, SHEET_HEADINGS};
use crate::review::{MayBe, OutletType, Question, Review, RowOf, Spotted, turns_of};
use crate::units::System;
use std::collections::BTreeSet;
use std::fmt::Write;
use std::sync::Arc;

/// Questions on the page before the rest is only counted.
const MOST: usize = 12;
/// Marks of a question on the page before the rest is only counted.
const MOST_MARKS: usize = 4;
/// Rows that a line of the sheet names; more go on a line of their own, so that no cell is longer than a
/// spreadsheet's can be.
const MOST_ROWS: usize = 2000;
/// Characters of marks in a cell; where there are more the rows alone say which outlets are meant.
const MOST_CHARACTERS: usize = 16_000;
/// Types and groups of comments in a cell before the rest is only counted.
const MOST_IN_CELL: usize = 8;

/// The questions of the comment sheet.
pub(super) fn section(out: &mut String, review: &Review) {
    if review.questions.is_empty() {
        return;
    }
    heading(out, "Questions, most useful first");
    let rows = review.questions.iter().take(MOST).zip(1..).map(|(it, number)| {
        vec![
            number.to_string(),
            facts::asked(it.slot).sentence.to_string(),
            listed(&it.asked_of, MOST_MARKS),
            format!("{} of {}", it.settles, it.waits),
        ]
    });
    out.push_str(&table(&["No.", "Question", "Rows", "Decides"], rows.collect(), WIDTH));
    out.push('\n');
    let mut note = String::from(
        "Decides: of the rows that wait for an answer, those with a comment that this answer alone decides.",
    );
    match review.questions.len().saturating_sub(MOST) {
        0 => {}
        1 => note.push_str(" 1 more question is on the sheet."),
        more => {
            let _ = write!(note, " {more} more questions are on the sheet.");
        }
    }
    note.push_str(
        " `coldsill review ... --questions FILE` writes the sheet to fill in; `--answers FILE` reads it back.",
    );
    out.push('\n');
    out.push_str(&wrapped(&note, WIDTH, ""));
}

/// What was answered, in the comment sheet.
pub(super) fn answered(out: &mut String, review: &Review, system: System) {
    if review.answered.is_empty() {
        return;
    }
    heading(out, "From answers");
    let rows = review.answered.iter().map(|it| {
        let location = match &it.fact.origin {
            facts::Origin::Answered(location, _) => location.to_string(),
            _ => String::new(),
        };
        vec![
            it.fact.heading.to_string(),
            value(&it.fact, system),
            location,
            listed(&it.applies_to, MOST_MARKS),
        ]
    });
    out.push_str(&table(&["Fact", "Answer", "Location", "Faucets"], rows.collect(), WIDTH));
    out.push('\n');
}

/// The sheet of questions as CSV that a spreadsheet opens: UTF-8 with its mark, lines ended by CR and LF.
pub fn questions_csv(review: &Review, system: System) -> String {
    let mut text = format!("{BYTE_ORDER_MARK}{}", csv_line(&SHEET_HEADINGS));
    sheet(review, system).iter().for_each(|row| text.push_str(&csv_line(&row.cells)));
    text
}

/// The column of responses, from 0.
pub(super) const RESPONSE: usize = 9;

/// A row of the sheet, and the answers there are to pick from.
pub(super) struct SheetRow {
    pub cells: [String; SHEET_HEADINGS.len()],
    pub answers: Vec<Arc<str>>,
}

/// The rows of the sheet below its headings.
pub(super) fn sheet(review: &Review, system: System) -> Vec<SheetRow> {
    let mut rows = Vec::new();
    for (question, number) in review.questions.iter().zip(1..) {
        // One answer may serve all its types, or each is asked for by itself.
        let groups: Vec<&[OutletType]> = if question.of_all || question.types.len() == 1 {
            vec![&question.types]
        } else {
            question.types.chunks(1).collect()
        };
        let several = groups.len();
        for (types, part) in groups.into_iter().zip(1..) {
            let number =
                if several == 1 { number.to_string() } else { format!("{number} ({part} of {several})") };
            lines(&mut rows, question, types, &number, system);
        }
    }
    let may_be = review.doubtful_rows.iter().zip(review.questions.len() + 1..);
    rows.extend(may_be.map(|(it, number)| whether_outlet(it, number, review)));
    rows
}

/// The question whether a row is an outdoor outlet.
fn whether_outlet(it: &MayBe, number: usize, review: &Review) -> SheetRow {
    let is_listed = review.outlets.iter().any(|outlet| outlet.location == it.location);
    let row = if is_listed { Spotted::at(&it.location, &review.schedule).to_string() } else { String::new() };
    let answers = facts::IS_OUTLET_ANSWERS.map(Arc::from);
    SheetRow {
        cells: [
            number.to_string(),
            "Is it an outdoor outlet?".into(),
            it.text.to_string(),
            it.mark.as_deref().unwrap_or_default().into(),
            row,
            format!("1 of {}", row_count(1)),
            either(&answers),
            String::new(),
            format!("it {}", it.why),
            String::new(),
            String::new(),
            facts::IS_OUTLET.into(),
        ],
        answers: answers.to_vec(),
    }
}

fn lines(sheet: &mut Vec<SheetRow>, question: &Question, types: &[OutletType], number: &str, system: System) {
    let mut outlets: Vec<&(Arc<str>, Spotted)> = types.iter().flat_map(|it| &it.outlets).collect();
    outlets.sort_by_key(|it| it.1);
    let settles: usize = types.iter().map(|it| it.settles).sum();
    let asked = facts::asked(question.slot);
    let labels: Vec<Arc<str>> = types.iter().map(|it| counted(it, system).into()).collect();
    for outlets in outlets.chunks(MOST_ROWS) {
        sheet.push(SheetRow {
            answers: plausible(question, system),
            cells: [
                number.into(),
                asked.sentence.to_string(),
                several(&labels, "; "),
                marks(outlets),
                rows(outlets),
                format!("{settles} of {}", row_count(types.iter().map(|it| it.outlets.len()).sum())),
                possible(question, system),
                unit(question, system).into(),
                several(&turns(types, system), ". "),
                String::new(),
                String::new(),
                question.heading.to_string(),
            ],
        });
    }
}

fn several(items: &[Arc<str>], part: &str) -> String {
    let more = items.len().saturating_sub(MOST_IN_CELL);
    let text = items[..items.len() - more].join(part);
    if more == 0 { text } else { format!("{text}{part}{more} more") }
}

/// "wall hydrant, brass, 10 in".
pub(super) fn label(it: &OutletType, system: System) -> String {
    let said: Vec<String> = it.says.iter().map(|fact| value(fact, system)).collect();
    if said.is_empty() { "type not stated".into() } else { said.join(", ") }
}

/// "wall hydrant, brass, 10 in (4 rows, 24 outlets)".
fn counted(it: &OutletType, system: System) -> String {
    let rows = row_count(it.outlets.len());
    let outlets = match it.quantity {
        None => String::new(),
        Some(1.0) => ", 1 faucet".into(),
        Some(sum) => format!(", {sum} faucets"),
    };
    format!("{} ({rows}{outlets})", label(it, system))
}

fn row_count(rows: usize) -> String {
    if rows == 1 { "1 row".into() } else { format!("{rows} rows") }
}

/// Marks, each once, parted by semicolons: a mark may have a comma in it.
fn marks(outlets: &[&(Arc<str>, Spotted)]) -> String {
    let mut seen = BTreeSet::new();
    let marks: Vec<&str> = outlets.iter().map(|it| &*it.0).filter(|mark| seen.insert(*mark)).collect();
    let text = marks.join("; ");
    if text.chars().count() > MOST_CHARACTERS { String::new() } else { text }
}

/// "rows 2, 5 to 9; place row 4". The word keeps a spreadsheet from taking it for a date or a number. Outlets come in
/// the
/// order of where they stand.
fn rows(outlets: &[&(Arc<str>, Spotted)]) -> String {
    let mut ranges: Vec<(RowOf, u32, u32)> = Vec::new();
    for (_, Spotted { of, number }) in outlets {
        match ranges.last_mut() {
            Some((same, _, last)) if same == of && (*last..=*last + 1).contains(number) => *last = *number,
            _ => ranges.push((*of, *number, *number)),
        }
    }
    let of_one = |ranges: &[(RowOf, u32, u32)]| {
        let said: Vec<String> = ranges
            .iter()
            .map(|(_, first, last)| match last - first {
                0 => first.to_string(),
                1 => format!("{first}, {last}"),
                _ => format!("{first} to {last}"),
            })
            .collect();
        let plural = if matches!(ranges, [(_, first, last)] if first == last) { "" } else { "s" };
        format!("{}{plural} {}", ranges[0].0.word(), said.join(", "))
    };
    ranges.chunk_by(|a, b| a.0 == b.0).map(of_one).collect::<Vec<_>>().join("; ")
}

/// Possible answers as the catalogue has them, or what one looks like.
fn possible(question: &Question, system: System) -> String {
    if !can_be_stated(question) {
        return "to be stated in the job file".into();
    }
    let such_as = |text: &str| format!("such as {text}");
    let values = plausible(question, system);
    match values.is_empty() {
        false => {
            let list = either(&values);
            let others = facts::entry(question.slot)
                .is_some_and(|entry| matches!(entry.def.plausible, PlausibleValues::Extremes(_)));
            if others { such_as(&list) } else { list }
        }
        true => facts::asked(question.slot).example.map(such_as).unwrap_or_default(),
    }
}

/// Plausible answers in words, each by itself; none where no list can be made.
pub(super) fn plausible(question: &Question, system: System) -> Vec<Arc<str>> {
    let choices = Some(question.choices.clone()).filter(|choices| !choices.is_empty());
    let values = choices.or_else(|| facts::plausible(question.slot)).unwrap_or_default();
    values.iter().map(|value| answer(value, system)).collect()
}

/// Whether a schedule, and so an answer, can state it.
fn can_be_stated(question: &Question) -> bool {
    let source = facts::entry(question.slot).map(|entry| &entry.def.source);
    matches!(source, Some(facts::Source::Stated { .. }))
}

/// The unit that a bare number takes; empty where a fact has none.
pub(super) fn unit(question: &Question, system: System) -> &'static str {
    match facts::entry(question.slot).map(|entry| &entry.ty) {
        Some(Type::Quantity(measure)) => facts::show_of(question.slot, *measure).unit(system),
        _ => "",
    }
}

/// "Freezing 1 and Freezing 5: no comment with stainless; revise with copper or brass".
pub(super) fn turns(types: &[OutletType], system: System) -> Vec<Arc<str>> {
    let said = turns_of(types).into_iter().map(|turn| {
        let rules = listed(&turn.rules, MOST_IN_CELL);
        let turns = turns_on(&turn.settled, system);
        if turns.is_empty() { rules.into() } else { format!("{rules}: {turns}").into() }
    });
    said.collect()
}
