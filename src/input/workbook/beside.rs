//! What stands beside the cells of an XLSX sheet: comments, and text boxes drawn over it. They are listed, not read.

use quick_xml::events::Event;

use super::grid::Grid;
use super::package::Part;
use super::xlsx::reference;
use super::xml::{add_text, attribute, name};
use crate::diag::Diagnostic;

/// Adds the comments of a part, in the older form or as a thread.
pub(super) fn comments(mut part: Part<'_, '_>, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
    /// What programs that do not know threads show in their place.
    const COPY: &str = "[Threaded comment]";
    loop {
        let cell = match part.next()? {
            Event::Start(start) if matches!(name(&start), "comment" | "threadedComment") => {
                attribute(&start, "ref").and_then(|it| reference(&it))
            }
            Event::Eof => return Ok(()),
            _ => continue,
        };
        let text = whole_text(&mut part)?;
        if let Some((column, row)) = cell.filter(|_| !text.starts_with(COPY)) {
            grid.comment(row, column, &text)?;
        }
    }
}

/// All text of the element just started.
fn whole_text(part: &mut Part<'_, '_>) -> Result<String, Diagnostic> {
    let outside = part.depth() - 1;
    let mut text = String::new();
    while part.depth() > outside {
        match part.next()? {
            Event::Eof => break,
            event => add_text(&mut text, &event),
        }
    }
    Ok(text)
}

/// Adds the text boxes of a drawing, each with the row its upper edge is in.
pub(super) fn text_boxes(mut part: Part<'_, '_>, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
    let (mut row, mut text) = (String::new(), String::new());
    let (mut in_from, mut in_row, mut in_text) = (false, false, false);
    loop {
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "twoCellAnchor" | "oneCellAnchor" | "absoluteAnchor" => {
                    row.clear();
                    text.clear();
                }
                "from" => in_from = true,
                "row" => in_row = in_from,
                "t" => in_text = true,
                _ => {}
            },
            Event::End(end) => match end.local_name().into_inner() {
                "twoCellAnchor" | "oneCellAnchor" | "absoluteAnchor" => {
                    let row = row.trim().parse::<u32>().ok().map(|it| it.saturating_add(1));
                    grid.text_box(row, &text)?;
                }
                "from" => in_from = false,
                "row" => in_row = false,
                "t" => in_text = false,
                "p" => text.push(' '),
                _ => {}
            },
            Event::Eof => return Ok(()),
            event if in_row => add_text(&mut row, &event),
            event if in_text => add_text(&mut text, &event),
            _ => {}
        }
    }
}
