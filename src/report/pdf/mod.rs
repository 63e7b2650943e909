//! The letter as a PDF, with the drawings and the calculation sheet of each type of outlet as appendix.

mod fonts;
mod ink;
mod layout;
mod table;
mod write;

use super::REMINDER;
use super::blocks::Blocks;
use super::comment_sheet::CommentSheet;
use super::drawing::{Drawing, seat::seat, section::section};
use super::footnotes::Footnotes;
use super::page::inert;
use super::{letter, sheet};
use crate::facts::Drawn;
use crate::review::{Absence, Findings, Review, Sheet};
use crate::units::System;
use fonts::Fonts;
use layout::Layout;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Types of outlet whose calculation sheets a PDF has, so that one of a long schedule can be opened and sent.
pub const MOST_SHEETS: usize = 100;

/// The PDF of a review. `drawings` are those of [`crate::review::drawings`], `sheets` those of
/// [`crate::review::first_sheets`], in the same order.
pub fn pdf(
    review: &Review,
    drawings: &[(Arc<Findings>, Result<Drawn, Absence>)],
    sheets: &[Sheet],
    system: System,
) -> std::io::Result<Vec<u8>> {
    let comments = CommentSheet::of(review, system);
    let fonts = Fonts::shipped();
    let mut layout = Layout::new(&fonts);
    layout.add(letter::blocks(review, &comments, system));
    layout.add(contents(&comments, sheets.len()));
    let known: BTreeMap<*const Findings, &Result<Drawn, Absence>> =
        drawings.iter().map(|(findings, drawn)| (Arc::as_ptr(findings), drawn)).collect();
    let mut notes = Footnotes::default();
    for (sheet, number) in sheets.iter().zip(1..) {
        let findings = &sheet.outlet.findings;
        let drawn = known.get(&Arc::as_ptr(findings)).and_then(|drawn| drawn.as_ref().ok());
        let drawings = drawn.map_or_else(Vec::new, |drawn| -> Vec<Drawing> {
            let mark = &sheet.outlet.mark;
            let facts = &findings.facts;
            vec![section(mark, facts, drawn, system), seat(mark, facts, drawn, review, system)]
        });
        let mut blocks = Blocks::default();
        blocks.title(format!("{number}. Calculation sheet: {}", sheet.outlet.mark));
        sheet::add(&mut blocks, review, sheet, drawings, system, &mut notes);
        layout.add(blocks);
    }
    let mut end = Blocks::default();
    end.title("Sources and cautions");
    notes.list(&mut end, "Sources");
    end.space();
    end.paragraph(REMINDER);
    layout.add(end);
    let title = review.job.as_deref().unwrap_or(&review.schedule);
    let title = inert(format!("Plan review comments: {title}"));
    write::write(layout.finish(&title), &fonts, &title)
}

/// Which calculation sheet is of which rows.
fn contents(comments: &CommentSheet<'_>, sheets: usize) -> Blocks {
    let mut out = Blocks::default();
    out.title("Appendix: drawings and calculation sheets");
    let heads = ["No.", "Mark", "Rows", "As scheduled"];
    let rows = comments.types.iter().take(sheets).zip(1..).map(|(line, number)| {
        vec![format!("{number}"), line.marks.clone(), line.rows.clone(), line.scheduled.clone()]
    });
    out.table(&heads, rows);
    let types = comments.types.len();
    if sheets < types {
        out.paragraph(&format!(
            "The first {sheets} of {types} types of outlet. Sheets of the others on request."
        ));
    }
    out
}
