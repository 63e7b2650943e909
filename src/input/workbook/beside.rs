//! What stands beside the cells of an XLSX sheet: comments, and what is printed above and below it.

use quick_xml::events::Event;

use super::grid::Grid;
use super::margin;
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

/// Adds what the headers and footers just started say.
pub(super) fn margins(part: &mut Part<'_, '_>, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
    let outside = part.depth() - 1;
    while part.depth() > outside {
        let text = match part.next()? {
            Event::Start(_) => whole_text(part)?,
            Event::Eof => break,
            _ => continue,
        };
        for text in margin::parts(&text) {
            grid.margin(&text)?;
        }
    }
    Ok(())
}
