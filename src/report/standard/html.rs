//! The page of a standard for a vendor, as one web page: no other file, no script, no network.

use super::chart;
use super::page::{CASES, CHANGES, CHANGES_NOTE, LETTERS, Matrix, STOCKED, StandardPage};
use crate::report::REMINDER;
use crate::report::html::{opening, page, table};
use crate::standard::Standard;
use crate::units::System;
use maud::{Markup, html};

/// Walls, supplies and barrels up to which charts are open.
const MOST_OPEN: usize = 8;

/// A standard as a web page.
pub fn standard_html(standard: &Standard, system: System) -> String {
    let sheet = StandardPage::of(standard, system);
    let title = format!("Faucet standard: {}", standard.name);
    let body = html! {
        (opening(&title, "standard", &sheet.head))
        main #main tabindex="-1" {
            h2 #lengths { "Length to order" }
            p.why { (LETTERS) }
            @for matrix in &sheet.matrices { (lengths(matrix)) }
            h2 #stock { "What to stock" }
            @for line in &sheet.stock { p { (line) } }
            (table(&STOCKED, texts(&sheet.stocked)))
            p.why { (sheet.stock_note) }
            h2 #cases { "Boundary cases" }
            @if sheet.cases.is_empty() { p { "None." } } @else {
                (table(&CASES, texts(&sheet.cases)))
                p.why { (sheet.cases_note) }
            }
            h2 #changes { "What changes a length" }
            (table(&CHANGES, texts(&sheet.changes)))
            p.why { (CHANGES_NOTE) }
            p { "Each chart has a mark for each place: a dot where the length stays, a triangle where it changes with one \
                 of the above, a ring where no product is enough. The line is the length to order, from the mildest place to the coldest." }
            @for matrix in &sheet.matrices { (charts(standard, matrix, system)) }
            @if !sheet.assumed.is_empty() {
                h2 #assumed { "Assumed" }
                ul { @for line in &sheet.assumed { li { (line) } } }
            }
        }
        footer {
            p { (sheet.solved) }
            p.caution { (REMINDER) }
        }
    };
    page(&title, &body, None)
}

fn lengths(matrix: &Matrix) -> Markup {
    let walls = matrix.walls.iter().map(|(wall, _)| wall.as_str());
    let heads: Vec<&str> = ["Place", "Design low"].into_iter().chain(walls).collect();
    let rows = matrix.rows.iter().map(|(place, cells)| place.iter().chain(cells).map(String::as_str));
    html! { h3 { (matrix.title) } (table(&heads, rows)) }
}

fn texts<const N: usize>(rows: &[[String; N]]) -> impl Iterator<Item = impl Iterator<Item = &str>> {
    rows.iter().map(|row| row.iter().map(String::as_str))
}

fn charts(standard: &Standard, matrix: &Matrix, system: System) -> Markup {
    html! {
        details open[standard.settings.len() <= MOST_OPEN] {
            summary { (matrix.title) }
            @for (wall, at) in &matrix.walls { (chart::figure(standard, *at, wall, system)) }
        }
    }
}
