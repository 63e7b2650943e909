//! The order list, as text, CSV and a workbook.

use super::groups::{row_numbers, rows_of};
use super::page::{csv_line, heading, labelled, table, titled, wrapped};
use super::remedies::{asked, finished, said, short, what};
use super::words::{kind, known, listed, lower};
use super::workbook::{Cell, Paper, Sheet, workbook};
use super::{REMINDER, WIDTH};
use crate::review::{Line, Orders, OutletReview, Remedy, Review, Shown, Waiting, Why, count};
use crate::units::{System, figures};
use std::io;
use std::sync::Arc;

/// Marks printed before the rest is only counted.
const MOST_MARKS: usize = 6;

const HEADINGS: [&str; 16] = [
    "List",
    "Quantity",
    "Rows without a quantity",
    "Order",
    "Model",
    "Kind",
    "Nominal length",
    "Barrel",
    "Backflow device",
    "Marks",
    "Rows",
    "Locations",
    "As specified",
    "Why",
    "Added cost each",
    "Added cost",
];
/// The most characters of a line in each column of the workbook.
const WIDEST: [usize; HEADINGS.len()] = [10, 10, 10, 28, 12, 14, 10, 10, 18, 10, 8, 18, 26, 28, 9, 9];

/// The order list as text.
pub fn orders(review: &Review, orders: &Orders<'_>, system: System) -> String {
    let mut out = titled("ORDER LIST");
    let job = review.job.as_ref().map_or_else(String::new, |job| format!("{job}, "));
    out.push_str(&labelled("Job", &format!("{job}{}", super::text::schedule_line(review)), WIDTH));
    write_items(&mut out, orders, system);
    write_work(&mut out, orders, system);
    write_waiting(&mut out, review, &orders.waiting, system);
    if let Some(assumed) = assumed(review, system) {
        heading(&mut out, "Assumed");
        out.push_str(&wrapped(&assumed, WIDTH, ""));
    }
    out.push('\n');
    out.push_str(&wrapped(
        "Quantities are those that the schedule states. Each change was reviewed again under every rule in force. \
         Lengths are nominal: check the seat depth of the product against `coldsill depth` before ordering.",
        WIDTH,
        "",
    ));
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

fn write_items(out: &mut String, orders: &Orders<'_>, system: System) {
    if orders.items.is_empty() {
        out.push_str("\nNothing can be ordered yet.\n");
        return;
    }
    heading(out, "Order");
    let rows = orders.items.iter().flat_map(|item| {
        let of_item = quantity(item.lines.iter().flat_map(|line| line.rows.iter().copied()));
        item.lines.iter().enumerate().map(move |(at, line)| {
            let own = quantity(line.rows.iter().copied());
            let order = in_words(item.facts, system);
            let total = if at == 0 && item.lines.len() > 1 { format!("{own} of {of_item}") } else { own };
            vec![total, order, marks(&line.rows), specified(line, system), why(line.remedy, system)]
        })
    });
    let headings = ["Qty", "Order", "Marks", "As specified", "Why"];
    out.push_str(&table(&headings, rows.collect(), WIDTH));
    out.push('\n');
    let costs = orders.items.iter().flat_map(|item| &item.lines).filter_map(|line| {
        let (number, _) = count(line.rows.iter().copied());
        Some((line.remedy?.cost? * number, number))
    });
    let (added, outlets) = costs.fold((0.0, 0.0), |(sum, all), (cost, number)| (sum + cost, all + number));
    if outlets > 0.0 {
        let line = format!("Added cost of the changes with stated costs: ${added:.2}, {outlets} outlets.");
        out.push_str(&wrapped(&line, WIDTH, ""));
    }
}

fn write_work(out: &mut String, orders: &Orders<'_>, system: System) {
    if orders.work.is_empty() {
        return;
    }
    heading(out, "Other work for them");
    let rows = orders.work.iter().map(|work| {
        let change = &work.remedy.changes[work.change];
        vec![quantity(work.rows.iter().copied()), said(&change.says, system), marks(&work.rows)]
    });
    out.push_str(&table(&["Qty", "Work", "Marks"], rows.collect(), WIDTH));
    out.push('\n');
}

fn write_waiting(out: &mut String, review: &Review, waiting: &[Waiting<'_>], system: System) {
    if waiting.is_empty() {
        return;
    }
    heading(out, "Cannot be ordered yet");
    let rows = waiting.iter().map(|waiting| {
        vec![
            rows_of(&[waiting.row], review),
            waiting.row.mark.to_string(),
            quantity([waiting.row]),
            missing(waiting, system),
        ]
    });
    out.push_str(&table(&["Row", "Mark", "Qty", "What is missing"], rows.collect(), WIDTH));
    out.push('\n');
}

/// "12", "12 and 1 row without a quantity", "? (2 rows)".
fn quantity<'r>(rows: impl IntoIterator<Item = &'r OutletReview>) -> String {
    let (number, without) = count(rows);
    match without {
        0 => number.to_string(),
        _ if number == 0.0 => "?".into(),
        without => format!("{number} + {without} ?"),
    }
}

fn marks(rows: &[&OutletReview]) -> String {
    let mut marks: Vec<Arc<str>> = Vec::new();
    for row in rows {
        let mark = match &row.location {
            Some(location) => format!("{} ({location})", row.mark).into(),
            None => row.mark.clone(),
        };
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    }
    listed(&marks, MOST_MARKS)
}

/// "3/4 in x 12 in stainless wall hydrant, ASSE 1019 type A".
fn in_words(facts: &[Shown], system: System) -> String {
    let word = |name: &str| known(facts, name, system);
    let closes = word("outlet.closes");
    let bury = word("outlet.bury_depth").map(|depth| format!("{depth} bury"));
    let length = word("outlet.nominal_length").filter(|_| closes.as_deref() == Some("inside"));
    let size = [word("outlet.supply_size"), length].into_iter().flatten().collect::<Vec<_>>().join(" x ");
    let size = Some(size).filter(|size| !size.is_empty());
    let kind = kind(word("outlet.kind").as_deref().unwrap_or("outlet"), closes.as_deref());
    let item: Vec<String> = [size, bury, word("outlet.barrel"), Some(kind)].into_iter().flatten().collect();
    let device = word("outlet.backflow_standard").or_else(|| word("outlet.backflow_device"));
    let device = device.map(|device| if device == "none" { "no backflow device".into() } else { device });
    let parts: Vec<String> = word("outlet.model").into_iter().chain([item.join(" ")]).chain(device).collect();
    parts.join(", ")
}

fn specified(line: &Line<'_>, system: System) -> String {
    match line.remedy {
        Some(remedy) if remedy.changes.iter().any(|change| change.is_order) => {
            in_words(line.specified, system)
        }
        _ => "as ordered".into(),
    }
}

fn why(remedy: Option<&Remedy>, system: System) -> String {
    let Some(remedy) = remedy else { return "no revision".into() };
    let rules = listed(&remedy.answers, usize::MAX);
    match short(remedy, system) {
        Some(short) => format!("{short} ({rules})"),
        None => format!("for {rules}"),
    }
}

/// What a row waits for: "inside stop (Freezing 4)"; and what would do without an answer.
fn missing(waiting: &Waiting<'_>, system: System) -> String {
    match &waiting.why {
        Why::Lacks(headings) => format!("{}: needed to order", lower(headings)),
        Why::NotComputed(why) => figures(why, system),
        Why::NoRemedy(rules) => {
            format!("no single change was proven: see {}", listed(rules, usize::MAX))
        }
        Why::Asks(asks) => {
            let mut text = asked(asks).unwrap_or_default();
            if let Some(remedy) = waiting.row.findings.remedies.first() {
                let word = if remedy.leaves.is_empty() { "or" } else { "and" };
                text.push_str(&format!("; {word} {}", what(remedy, system)));
            }
            text
        }
    }
}

/// The offset that seat depths of generic lengths stand on.
fn assumed(review: &Review, system: System) -> Option<String> {
    let seats = review.assumed.iter().filter(|it| &*it.fact.name == "outlet.seat_depth");
    let why: Vec<Arc<str>> = seats
        .filter(|it| it.why.contains("nominal length"))
        .map(|it| figures(&it.why, system).into())
        .collect();
    let first = why.first()?;
    Some(format!("Seat depth: {first}. Product data (`products:` in the job) replaces it."))
}

/// A row of the list for a spreadsheet: one for each way an outlet is specified, each piece of work, each row that waits.
fn lines(review: &Review, orders: &Orders<'_>, system: System) -> Vec<Vec<Cell>> {
    let rows_of = |rows: &[&OutletReview]| row_numbers(rows, review).join("; ");
    let locations = |rows: &[&OutletReview]| {
        let mut all: Vec<&str> = rows.iter().filter_map(|row| row.location.as_deref()).collect();
        all.dedup();
        all.join("; ")
    };
    let marks = |rows: &[&OutletReview]| {
        let mut all: Vec<&str> = rows.iter().map(|row| &*row.mark).collect();
        all.dedup();
        all.join("; ")
    };
    let start = |list: &str, rows: &[&OutletReview]| {
        let (number, without) = count(rows.iter().copied());
        let without = u32::try_from(without).unwrap_or(u32::MAX);
        [list.into(), Cell::Number(number), Cell::Number(without.into())]
    };
    let mut all: Vec<Vec<Cell>> = Vec::new();
    for (item, line) in orders.items.iter().flat_map(|item| item.lines.iter().map(move |line| (item, line))) {
        let fact = |name: &str| known(item.facts, name, system).unwrap_or_default();
        let device = known(item.facts, "outlet.backflow_standard", system);
        let cost = line.remedy.and_then(|remedy| remedy.cost);
        let (number, _) = count(line.rows.iter().copied());
        let money = |dollars: Option<f64>| dollars.map_or_else(|| "".into(), Cell::Money);
        let mut cells = start("order", &line.rows).to_vec();
        cells.extend([
            in_words(item.facts, system).into(),
            fact("outlet.model").into(),
            fact("outlet.kind").into(),
            fact("outlet.nominal_length").into(),
            fact("outlet.barrel").into(),
            device.unwrap_or_else(|| fact("outlet.backflow_device")).into(),
            marks(&line.rows).into(),
            rows_of(&line.rows).into(),
            locations(&line.rows).into(),
            in_words(line.specified, system).into(),
            why(line.remedy, system).into(),
            money(cost),
            money(cost.map(|cost| cost * number)),
        ]);
        all.push(cells);
    }
    let mut other = |list: &str, rows: &[&OutletReview], what: String, specified: String, why: String| {
        let mut cells = start(list, rows).to_vec();
        let blanks = std::iter::repeat_n(String::new(), 5);
        let texts = [what].into_iter().chain(blanks);
        let texts = texts.chain([marks(rows), rows_of(rows), locations(rows), specified, why]);
        cells.extend(texts.chain([String::new(), String::new()]).map(Cell::from));
        all.push(cells);
    };
    for work in &orders.work {
        let change = &work.remedy.changes[work.change];
        let when = format!("in a finished wall: {}", finished(work.remedy.finished));
        other("work", &work.rows, said(&change.says, system), String::new(), when);
    }
    for waiting in &orders.waiting {
        let specified = in_words(&waiting.row.findings.order, system);
        other("not yet", &[waiting.row], String::new(), specified, missing(waiting, system));
    }
    all
}

/// The order list as CSV.
pub fn orders_csv(review: &Review, orders: &Orders<'_>, system: System) -> String {
    let lines = lines(review, orders, system);
    let rows = lines.iter().map(|cells| csv_line(&cells.iter().map(Cell::text).collect::<Vec<_>>()));
    [csv_line(&HEADINGS)].into_iter().chain(rows).collect()
}

/// The order list as a workbook.
pub fn orders_xlsx(review: &Review, orders: &Orders<'_>, system: System) -> io::Result<Vec<u8>> {
    workbook(review.job.as_deref().unwrap_or(&review.schedule), &[order_list(review, orders, system)])
}

/// The order list as a sheet of a workbook.
pub(super) fn order_list(review: &Review, orders: &Orders<'_>, system: System) -> Sheet {
    Sheet {
        name: "Order list".into(),
        headings: HEADINGS.map(str::to_owned).to_vec(),
        rows: lines(review, orders, system),
        widest: WIDEST.to_vec(),
        paper: Paper::Letter,
    }
}
