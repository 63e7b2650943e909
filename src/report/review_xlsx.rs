//! A review as a workbook: the schedule as it is written with the result of each row beside it, questions to fill in, the
//! order list, every stated fact with its place, and assumptions.

use super::comment_sheet::{CommentSheet, TypeLine};
use super::orders;
use super::questions::{self, RESPONSE};
use super::review_csv;
use super::words::{from, listed, value};
use super::workbook::{Cell, Paper, Sheet, workbook};
use crate::diag::Location;
use crate::expr::Value;
use crate::facts::{Origin, SHEET_HEADINGS};
use crate::review::{AsWritten, Findings, Orders, OutletReview, Review, SetAside, Shown};
use crate::units::{System, figures};
use std::collections::BTreeMap;
use std::io;
use std::sync::Arc;

/// Columns beside those of the schedule, and the most characters of a line in them.
const RESULTS: [(&str, usize); 4] =
    [("Result", 13), ("Do, or order instead", 32), ("Why", 56), ("Rules", 14)];
/// The most characters of a line in a column of the schedule.
const OWN_COLUMN: usize = 13;
/// The same of the questions.
const QUESTIONS: [usize; SHEET_HEADINGS.len()] = [6, 28, 28, 14, 12, 10, 22, 8, 34, 20, 16, 14];
/// The same of outlets that are rows of no table.
const OUTLETS: [usize; review_csv::HEADINGS.len() + 1] = [20, 8, 12, 8, 20, 28, 13, 28, 16, 44];
const FACTS: [(&str, usize); 9] = [
    ("Row", 8),
    ("Mark", 12),
    ("Fact", 24),
    ("Value", 26),
    ("Number", 11),
    ("Unit", 8),
    ("As written", 26),
    ("Source", 10),
    ("Place", 44),
];
const ASSUMED: [(&str, usize); 5] =
    [("Heading", 22), ("Assumed value", 24), ("Why", 50), ("Marks", 28), ("Rows", 24)];

/// The bytes of the questions as a workbook.
pub fn questions_xlsx(review: &Review, system: System) -> io::Result<Vec<u8>> {
    workbook(title(review), &[questions(review, system)])
}

/// The bytes of the review as a workbook; the same for the same review.
pub fn review_xlsx(review: &Review, orders: &Orders<'_>, system: System) -> io::Result<Vec<u8>> {
    let comment_sheet = CommentSheet::of(review, system);
    let results = Results::of(review, &comment_sheet);
    let mut sheets: Vec<Sheet> = review.written_tables.iter().map(|table| results.beside(table)).collect();
    sheets.extend(results.elsewhere(&review.written_tables));
    sheets.push(questions(review, system));
    sheets.push(orders::order_list(review, orders, system));
    sheets.push(facts(review, system));
    sheets.push(assumptions(review, system));
    workbook(title(review), &sheets)
}

fn title(review: &Review) -> &str {
    review.job.as_deref().unwrap_or(&review.schedule)
}

/// A row of the schedule: its sheet, if it is not the main one, and its number.
type RowKey = (Option<u16>, u32);

/// What to print beside each row.
struct Results<'r> {
    review: &'r Review,
    types: BTreeMap<*const Findings, &'r TypeLine<'r>>,
    outlets: BTreeMap<RowKey, Vec<&'r OutletReview>>,
    aside: BTreeMap<RowKey, &'r SetAside>,
}

impl<'r> Results<'r> {
    fn of(review: &'r Review, sheet: &'r CommentSheet<'r>) -> Self {
        let key = |location: &Location| {
            let row = location.row().filter(|_| location.file == review.schedule)?;
            Some((location.sheet.as_ref().map(|sheet| sheet.number), row))
        };
        let mut outlets: BTreeMap<RowKey, Vec<&OutletReview>> = BTreeMap::new();
        for outlet in &review.outlets {
            if let Some(key) = key(&outlet.location) {
                outlets.entry(key).or_default().push(outlet);
            }
        }
        let types = sheet.types.iter().map(|line| (std::ptr::from_ref(line.findings), line)).collect();
        let aside =
            review.rows_set_aside.iter().filter_map(|aside| Some((key(&aside.location)?, aside))).collect();
        Self { review, types, outlets, aside }
    }

    /// A table as it is written, with the results beside it.
    fn beside(&self, table: &AsWritten) -> Sheet {
        let sheet = table.sheet.as_ref().map(|sheet| sheet.number);
        let cells = table.rows.iter().map(|row| row.cells.len()).max().unwrap_or(0);
        let own = cells.max(table.headings.len());
        let heading = |at: usize| table.headings.get(at).map_or("", |it| it);
        let rows = table.rows.iter().map(|row| {
            let mut line = vec![number(row.number)];
            line.extend((0..own).map(|at| typed(row.cell(at))));
            line.extend(self.result((sheet, row.number)));
            line
        });
        let headings = ["Row"].into_iter().chain((0..own).map(heading)).chain(RESULTS.map(|(name, _)| name));
        Sheet {
            name: sheet.map_or_else(|| "Schedule".into(), |number| format!("Schedule, sheet {number}")),
            headings: headings.map(str::to_owned).collect(),
            rows: rows.collect(),
            widest: std::iter::repeat_n(OWN_COLUMN, own + 1)
                .chain(RESULTS.map(|(_, widest)| widest))
                .collect(),
            paper: Paper::Tabloid,
        }
    }

    /// Outlets that are not rows of a table: of a list in YAML, or of a list of places.
    fn elsewhere(&self, tables: &[AsWritten]) -> Option<Sheet> {
        let is_in_table = |outlet: &&OutletReview| {
            !tables.is_empty()
                && outlet.location.file == self.review.schedule
                && outlet.location.row().is_some()
        };
        let rows = self.review.outlets.iter().filter(|outlet| !is_in_table(outlet)).filter_map(|outlet| {
            let line = self.types.get(&Arc::as_ptr(&outlet.findings))?;
            let mut cells = review_csv::cells(outlet, line);
            cells.push(why(line).into());
            Some(cells)
        });
        let rows: Vec<Vec<Cell>> = rows.collect();
        let headings = review_csv::HEADINGS.into_iter().chain(["Why"]).map(str::to_owned).collect();
        let widest = OUTLETS.to_vec();
        (!rows.is_empty()).then(|| Sheet {
            name: "Outlets".into(),
            headings,
            rows,
            widest,
            paper: Paper::Letter,
        })
    }

    fn result(&self, row: RowKey) -> Vec<Cell> {
        if let Some(aside) = self.aside.get(&row) {
            let [reason, _] = aside.reason.words();
            return ["set aside", "", reason, ""].map(Cell::from).to_vec();
        }
        let outlets = self.outlets.get(&row).into_iter().flatten();
        let lines: Vec<_> =
            outlets.filter_map(|outlet| self.types.get(&Arc::as_ptr(&outlet.findings))).collect();
        let texts = |text: fn(&TypeLine<'_>) -> String| {
            let texts: Vec<String> = lines.iter().map(|line| text(line)).collect();
            texts.join("\n")
        };
        vec![
            Cell::Strong(texts(|line| line.result.into())),
            texts(|line| line.action.clone()).into(),
            texts(why).into(),
            texts(review_csv::rules).into(),
        ]
    }
}

/// The comments on a type, a line each, with what each is based on.
fn why(line: &TypeLine<'_>) -> String {
    let comments = line.comments.iter();
    let lines: Vec<String> = comments
        .map(|comment| format!("{} ({}): {}", comment.comment.rule.number, comment.tag, comment.text))
        .collect();
    lines.join("\n")
}

/// A cell as it was read; a number if it is one and looks the same as such.
fn typed(text: &str) -> Cell {
    match text.parse::<f64>() {
        Ok(number) if number.is_finite() && number.to_string() == text => Cell::Number(number),
        _ => text.into(),
    }
}

fn number(row: u32) -> Cell {
    Cell::Number(row.into())
}

/// The questions, with a list to pick an answer from.
fn questions(review: &Review, system: System) -> Sheet {
    let rows = questions::sheet(review, system).into_iter().map(|line| {
        let mut cells: Vec<Cell> = line.cells.into_iter().map(Cell::from).collect();
        cells[RESPONSE] = Cell::Response(line.answers);
        cells
    });
    Sheet {
        name: "Questions".into(),
        headings: SHEET_HEADINGS.map(str::to_owned).to_vec(),
        rows: rows.collect(),
        widest: QUESTIONS.to_vec(),
        paper: Paper::Letter,
    }
}

/// Every fact that somebody states of an outlet, and where.
fn facts(review: &Review, system: System) -> Sheet {
    let mut rows = Vec::new();
    for outlet in &review.outlets {
        let names = outlet.own_facts.iter().chain(&outlet.findings.facts).map(|fact| &fact.name);
        let mut known: Vec<&Arc<str>> = Vec::new();
        for name in names {
            if known.contains(&name) {
                continue;
            }
            known.push(name);
            rows.extend(outlet.fact(name).and_then(|fact| fact_line(outlet, &fact, system)));
        }
    }
    Sheet {
        name: "Facts".into(),
        headings: FACTS.map(|(heading, _)| heading.to_owned()).to_vec(),
        rows,
        widest: FACTS.map(|(_, widest)| widest).to_vec(),
        paper: Paper::Letter,
    }
}

/// The line of a fact that has a place.
fn fact_line(outlet: &OutletReview, fact: &Shown, system: System) -> Option<Vec<Cell>> {
    let (location, text) = match &fact.origin {
        Origin::Stated(location, text)
        | Origin::Answered(location, text)
        | Origin::Product(location, text)
        | Origin::Job(location, text)
        | Origin::Unreadable(location, text) => (location, text),
        _ => return None,
    };
    let (measured, unit) = match &fact.value {
        Ok(Value::Quantity(quantity)) => {
            (Cell::Number(fact.show.in_unit(quantity, system)), fact.show.unit(system))
        }
        _ => ("".into(), ""),
    };
    Some(vec![
        outlet.location.line_or_row().map_or_else(|| "".into(), number),
        outlet.mark.as_ref().into(),
        fact.heading.as_ref().into(),
        value(fact, system).into(),
        measured,
        unit.into(),
        text.as_ref().into(),
        from(&fact.origin).into(),
        location.to_string().into(),
    ])
}

fn assumptions(review: &Review, system: System) -> Sheet {
    let rows = review.assumed.iter().map(|assumption| {
        let rows: Vec<Arc<str>> =
            assumption.outlets.iter().map(|(_, row)| row.number.to_string().into()).collect();
        vec![
            assumption.fact.heading.as_ref().into(),
            value(&assumption.fact, system).into(),
            figures(&assumption.why, system).into(),
            listed(&assumption.applies_to, usize::MAX).into(),
            listed(&rows, usize::MAX).into(),
        ]
    });
    Sheet {
        name: "Assumptions".into(),
        headings: ASSUMED.map(|(heading, _)| heading.to_owned()).to_vec(),
        rows: rows.collect(),
        widest: ASSUMED.map(|(_, widest)| widest).to_vec(),
        paper: Paper::Letter,
    }
}
