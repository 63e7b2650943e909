//! The order list, as text, CSV and a workbook.

use super::comment_sheet::code;
use super::groups::{row_numbers, rows_of};
use super::left::unread_or_unused;
use super::order_words::{held, how_many, in_words, mark, marks, missing, specified, why};
use super::page::{csv_line, heading, labelled, table, titled, wrapped};
use super::remedies::{finished, said};
use super::words::{known, named};
use super::workbook::{Cell, Paper, Sheet, workbook};
use super::{REMINDER, WIDTH, climate};
use crate::diag::capital;
use crate::facts::{SEAT_BY_OFFSET, SEAT_BY_USUAL_OFFSET};
use crate::review::{Assumption, Line, Orders, OutletReview, Remedy, Review, Shown, count, inlet_type};
use crate::units::{System, figures};
use std::io;
use std::sync::Arc;

const HEADINGS: [&str; 19] = [
    "List",
    "Quantity",
    "Order",
    "Model",
    "Kind",
    "Nominal length",
    "Barrel",
    "Backflow device",
    "Finish",
    "Handle",
    "Inlet",
    "Marks",
    "Rows",
    "Locations",
    "As specified",
    "Why",
    "Rules",
    "Added cost each",
    "Added cost",
];
/// The most characters of a line in each column of the workbook.
const WIDEST: [usize; HEADINGS.len()] =
    [10, 8, 28, 12, 14, 10, 10, 16, 12, 12, 14, 10, 8, 16, 24, 26, 12, 12, 10];

/// The order list as text.
pub fn orders(review: &Review, orders: &Orders<'_>, system: System) -> String {
    let mut out = titled("ORDER LIST");
    let job = review.job.as_ref().map_or_else(String::new, |job| format!("{job}, "));
    out.push_str(&labelled("Job", &format!("{job}{}", super::text::schedule_line(review)), WIDTH));
    let place = climate::in_short(&review.climate, &review.design, &review.authority, system);
    out.push_str(&labelled("Climate", &place, WIDTH));
    out.push_str(&labelled("Code", &code(review), WIDTH));
    write_items(&mut out, orders, system);
    write_work(&mut out, orders, system);
    write_held(&mut out, review, orders, system);
    write_waiting(&mut out, review, orders, system);
    let not_used = unread_or_unused(review);
    if !not_used.is_empty() {
        let what = if review.problems.is_empty() { "Not used" } else { "Could not read, or not used" };
        heading(&mut out, &format!("{what}: see that none changes an order"));
        not_used.iter().for_each(|line| out.push_str(&wrapped(line, WIDTH, "")));
    }
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
            let total = if at == 0 && item.lines.len() > 1 {
                format!("{own} ea of {of_item}")
            } else {
                format!("{own} ea")
            };
            let order = in_words(line.order(), system);
            vec![total, order, marks(&line.rows), specified(line, system), why(line, system)]
        })
    });
    let headings = ["Qty", "Order", "Marks", "As specified", "Why"];
    out.push_str(&table(&headings, rows.collect(), WIDTH));
    out.push('\n');
    let lines = || orders.items.iter().flat_map(|item| &item.lines);
    let costs = lines().filter_map(|line| {
        let number = count(line.rows.iter().copied())?;
        Some((line.remedy?.cost? * number, number))
    });
    let (added, outlets) = costs.fold((0.0, 0.0), |(sum, all), (cost, number)| (sum + cost, all + number));
    if outlets > 0.0 {
        let line = format!("Added cost of the changes with stated costs: ${added:.2}, {outlets} faucets.");
        out.push_str(&wrapped(&line, WIDTH, ""));
    }
    write_asked(out, &lines().collect::<Vec<_>>());
}

/// What is not stated of the lines and has to be, to order them; and the spaces that are assumed for them.
fn write_asked(out: &mut String, lines: &[&Line<'_>]) {
    let whose = |own: &[&&Line<'_>]| {
        let rows: Vec<&OutletReview> = own.iter().flat_map(|line| line.rows.iter().copied()).collect();
        if own.len() == lines.len() { "any line".into() } else { marks(&rows) }
    };
    let inlets = INLET.into_iter().map(|(what, is_stated)| {
        let without = lines.iter().filter(|line| !is_complete(line, is_stated));
        (what, without.collect::<Vec<_>>())
    });
    let assumed = lines.iter().filter(|line| line.assumed_space.is_some());
    let asked = inlets.chain([("space at the inlet (heated or not)", assumed.collect())]);
    for (at, (what, own)) in asked.filter(|(_, own)| !own.is_empty()).enumerate() {
        if at == 0 {
            heading(out, "Ask before ordering");
        }
        out.push_str(&wrapped(&format!("{} not stated for {}.", capital(what), whose(&own)), WIDTH, ""));
    }
}

/// Whether an order states something.
type IsStated = fn(&[Shown]) -> bool;

/// What is stated of the inlet, each with whether an order states it.
const INLET: [(&str, IsStated); 2] = [
    ("inlet size", |order| named(order, "outlet.supply_size").is_some()),
    ("inlet type", |order| inlet_type(order).is_some()),
];

/// Whether an order says something, itself or by its model.
fn is_complete(line: &Line<'_>, is_stated: IsStated) -> bool {
    named(line.order(), "outlet.model").is_some() || is_stated(line.order())
}

fn write_work(out: &mut String, orders: &Orders<'_>, system: System) {
    if orders.work.is_empty() {
        return;
    }
    heading(out, "Work on site for them");
    let rows = orders.work.iter().map(|work| {
        let change = &work.remedy.changes[work.change];
        vec![quantity(work.rows.iter().copied()), said(&change.says, system), marks(&work.rows)]
    });
    out.push_str(&table(&["Qty", "Work", "Marks"], rows.collect(), WIDTH));
    out.push('\n');
}

fn write_held(out: &mut String, review: &Review, orders: &Orders<'_>, system: System) {
    if orders.held.is_empty() {
        return;
    }
    heading(out, "Hold for the designer");
    let rows = orders.held.iter().map(|line| with_rows(line, review, held(line, system)));
    out.push_str(&table(&["Row", "Mark", "Qty", "To decide before ordering"], rows.collect(), WIDTH));
    out.push('\n');
}

fn write_waiting(out: &mut String, review: &Review, orders: &Orders<'_>, system: System) {
    if orders.uncounted.is_empty() && orders.waiting.is_empty() {
        return;
    }
    heading(out, "Cannot be ordered yet");
    let uncounted = orders.uncounted.iter().map(|line| with_rows(line, review, how_many(line, system)));
    let waiting = orders.waiting.iter().map(|waiting| {
        let row = waiting.row;
        let missing = missing(waiting, review, system);
        vec![rows_of(&[row], review), marks(&[row]), quantity([row]), missing]
    });
    let rows = uncounted.chain(waiting).collect();
    out.push_str(&table(&["Row", "Mark", "Qty", "What is missing"], rows, WIDTH));
    out.push('\n');
}

fn with_rows(line: &Line<'_>, review: &Review, text: String) -> Vec<String> {
    vec![rows_of(&line.rows, review), marks(&line.rows), quantity(line.rows.iter().copied()), text]
}

fn quantity<'r>(rows: impl IntoIterator<Item = &'r OutletReview>) -> String {
    count(rows).map_or_else(|| "?".into(), |number| number.to_string())
}

/// The offset that seat depths of generic lengths stand on.
fn assumed(review: &Review, system: System) -> Option<String> {
    let by_offset = |it: &&Assumption| matches!(&*it.why, SEAT_BY_OFFSET | SEAT_BY_USUAL_OFFSET);
    let why = figures(&review.assumed.iter().find(by_offset)?.why, system);
    Some(format!("Seat depth: {why}. Product data (`products:` in the job) replaces it."))
}

/// A row of the list for a spreadsheet: one for each way an outlet is specified, each piece of work, what waits for the
/// designer, for a quantity or for an answer.
fn lines(review: &Review, orders: &Orders<'_>, system: System) -> Vec<Vec<Cell>> {
    let rows_of = |rows: &[&OutletReview]| row_numbers(rows, review).join("; ");
    let locations = |rows: &[&OutletReview]| {
        let mut all: Vec<&str> = rows.iter().filter_map(|row| row.where_it_is.as_deref()).collect();
        all.dedup();
        all.join("; ")
    };
    let marks = |rows: &[&OutletReview]| {
        let mut all: Vec<Arc<str>> = rows.iter().map(|row| mark(row)).collect();
        all.dedup();
        all.join("; ")
    };
    let money = |dollars: Option<f64>| dollars.map_or_else(|| "".into(), Cell::Money);
    let rules = |remedy: Option<&Remedy>| remedy.map_or_else(String::new, |remedy| remedy.answers.join("; "));
    let mut all: Vec<Vec<Cell>> = Vec::new();
    let mut add =
        |list: &str, order: &[Shown], rows: &[&OutletReview], texts: [String; 4], cost: Option<f64>| {
            let [what, specified, why, rules] = texts;
            let number = count(rows.iter().copied());
            let fact = |name: &str| known(order, name, system).unwrap_or_default();
            let device = known(order, "outlet.backflow_standard", system);
            let cells = [
                list.into(),
                number.map_or_else(|| "".into(), Cell::Number),
                what.into(),
                fact("outlet.model").into(),
                fact("outlet.kind").into(),
                fact("outlet.nominal_length").into(),
                fact("outlet.barrel").into(),
                device.unwrap_or_else(|| fact("outlet.backflow_device")).into(),
                fact("outlet.finish").into(),
                fact("outlet.handle").into(),
                inlet_cell(order, system).into(),
                marks(rows).into(),
                rows_of(rows).into(),
                locations(rows).into(),
                specified.into(),
                why.into(),
                rules.into(),
                money(cost),
                money(cost.zip(number).map(|(cost, number)| cost * number)),
            ];
            all.push(cells.into());
        };
    for line in orders.items.iter().flat_map(|item| &item.lines) {
        let (order, cost) = (line.order(), line.remedy.and_then(|remedy| remedy.cost));
        let specified = in_words(line.specified, system);
        let texts = [in_words(order, system), specified, why(line, system), rules(line.remedy)];
        add("order", order, &line.rows, texts, cost);
    }
    for work in &orders.work {
        let change = &work.remedy.changes[work.change];
        let when = format!("in a finished wall: {}", finished(work.remedy.finished));
        add("work", &[], &work.rows, [said(&change.says, system), "".into(), when, "".into()], None);
    }
    let not_yet = orders.uncounted.iter().map(|line| ("not yet", line, how_many(line, system)));
    for (list, line, why) in orders.held.iter().map(|line| ("hold", line, held(line, system))).chain(not_yet)
    {
        let specified = in_words(line.specified, system);
        add(list, &[], &line.rows, ["".into(), specified, why, rules(line.remedy)], None);
    }
    for waiting in &orders.waiting {
        let specified = in_words(&waiting.row.findings.order, system);
        let texts = ["".into(), specified, missing(waiting, review, system), "".into()];
        add("not yet", &[], &[waiting.row], texts, None);
    }
    all
}

/// "1/2 in MIP", "size not stated, MIP"; blank if a model says it.
fn inlet_cell(order: &[Shown], system: System) -> String {
    if order.is_empty() || named(order, "outlet.model").is_some() {
        return String::new();
    }
    let size = known(order, "outlet.supply_size", system).unwrap_or_else(|| "size not stated".into());
    let kind = inlet_type(order).unwrap_or_else(|| "type not stated".into());
    format!("{size}, {kind}")
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
