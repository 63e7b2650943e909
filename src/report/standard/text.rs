//! The page of a standard as text.

use super::page::{CASES, CHANGES, CHANGES_NOTE, LETTERS, Matrix, STOCKED, StandardPage};
use crate::report::page::{heading, opening, table, wrapped};
use crate::report::{REMINDER, WIDTH};
use crate::standard::Standard;
use crate::units::System;

/// Boundary cases that are printed before the rest is only counted.
const MOST_CASES: usize = 40;
/// Walls side by side.
const ABREAST: usize = 4;

/// The page: a matrix for each supply and barrel, the boundary cases, what to stock, and what changes a length.
pub fn standard(standard: &Standard, system: System) -> String {
    let page = StandardPage::of(standard, system);
    let mut out = opening("STANDARD", &page.head);
    for matrix in &page.matrices {
        write_matrix(&mut out, matrix);
    }
    out.push_str(&wrapped(LETTERS, WIDTH, ""));
    heading(&mut out, "Boundary cases");
    if page.cases.is_empty() {
        out.push_str("None.\n");
    } else {
        write_rows(&mut out, &CASES, page.cases.iter().take(MOST_CASES));
        if page.cases.len() > MOST_CASES {
            let more = page.cases.len() - MOST_CASES;
            out.push_str(&wrapped(&format!("And {more} more; the CSV file has all of them."), WIDTH, ""));
        }
        out.push_str(&wrapped(&page.cases_note, WIDTH, ""));
    }
    heading(&mut out, "What to stock");
    for line in &page.stock {
        out.push_str(&wrapped(line, WIDTH, ""));
    }
    write_rows(&mut out, &STOCKED, page.stocked.iter());
    out.push_str(&wrapped(page.stock_note, WIDTH, ""));
    heading(&mut out, "What changes a length");
    write_rows(&mut out, &CHANGES, page.changes.iter());
    out.push_str(&wrapped(CHANGES_NOTE, WIDTH, ""));
    if !page.assumed.is_empty() {
        heading(&mut out, "Assumed");
        out.push_str(&wrapped(&page.assumed.join(" "), WIDTH, ""));
    }
    out.push('\n');
    out.push_str(&wrapped(&page.solved, WIDTH, ""));
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

fn write_rows<'r, const N: usize>(
    out: &mut String,
    headings: &[&str; N],
    rows: impl Iterator<Item = &'r [String; N]>,
) {
    out.push_str(&table(headings, rows.map(|row| row.to_vec()).collect(), WIDTH));
    out.push('\n');
}

fn write_matrix(out: &mut String, matrix: &Matrix) {
    heading(out, &matrix.title);
    for from in (0..matrix.walls.len()).step_by(ABREAST) {
        let columns = from..matrix.walls.len().min(from + ABREAST);
        let walls = matrix.walls[columns.clone()].iter().map(|(wall, _)| wall.as_str());
        let headings: Vec<&str> = ["Place", "Design low"].into_iter().chain(walls).collect();
        let row = |(place, cells): &([String; 2], Vec<String>)| {
            place.iter().chain(&cells[columns.clone()]).cloned().collect()
        };
        out.push_str(&table(&headings, matrix.rows.iter().map(row).collect(), WIDTH));
        out.push('\n');
    }
}
