//! The page of a standard for a vendor, as one web page: no other file, no script, no network.

use super::chart;
use super::page::{CASES, CHANGES, CHANGES_NOTE, LETTERS, Matrix, STOCKED, StandardPage};
use crate::report::REMINDER;
use crate::report::html::page;
use crate::standard::Standard;
use crate::units::System;
use maud::{Markup, html};

/// Walls, supplies and barrels up to which charts are open.
const MOST_OPEN: usize = 8;

/// A standard as a web page.
pub fn standard_html(standard: &Standard, system: System) -> String {
    let sheet = StandardPage::of(standard, system);
    let title = format!("Outlet standard: {}", standard.name);
    let body = html! {
        a.skip href="#main" { "Skip to the standard" }
        header {
            h1 { (title) }
            dl.head { @for (label, line) in &sheet.head { dt { (label) } dd { (line) } } }
            p.caution { (REMINDER) }
        }
        main #main tabindex="-1" {
            h2 #lengths { "Length to order" }
            p.why { (LETTERS) }
            @for matrix in &sheet.matrices { (lengths(matrix)) }
            h2 #stock { "What to stock" }
            @for line in &sheet.stock { p { (line) } }
            (table(&STOCKED, &sheet.stocked))
            p.why { (sheet.stock_note) }
            h2 #cases { "Boundary cases" }
            @if sheet.cases.is_empty() { p { "None." } } @else {
                (table(&CASES, &sheet.cases))
                p.why { (sheet.cases_note) }
            }
            h2 #changes { "What changes a length" }
            (table(&CHANGES, &sheet.changes))
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
    html! {
        h3 { (matrix.title) }
        table.cards {
            thead {
                tr {
                    th scope="col" { "Place" }
                    th scope="col" { "Design low" }
                    @for (wall, _) in &matrix.walls { th scope="col" { (wall) } }
                }
            }
            tbody {
                @for ([place, low], cells) in &matrix.rows {
                    tr {
                        th scope="row" data-head="Place" { (place) }
                        td data-head="Design low" { (low) }
                        @for ((wall, _), cell) in matrix.walls.iter().zip(cells) { td data-head=(wall) { (cell) } }
                    }
                }
            }
        }
    }
}

fn table<const N: usize>(headings: &[&str; N], rows: &[[String; N]]) -> Markup {
    html! {
        table.cards {
            thead { tr { @for heading in headings { th scope="col" { (heading) } } } }
            tbody {
                @for row in rows {
                    tr {
                        @for (at, (heading, cell)) in headings.iter().zip(row).enumerate() {
                            @if at == 0 { th scope="row" data-head=(heading) { (cell) } } @else { td data-head=(heading) { (cell) } }
                        }
                    }
                }
            }
        }
    }
}

fn charts(standard: &Standard, matrix: &Matrix, system: System) -> Markup {
    html! {
        details open[standard.settings.len() <= MOST_OPEN] {
            summary { (matrix.title) }
            @for (wall, at) in &matrix.walls { (chart::figure(standard, *at, wall, system)) }
        }
    }
}
