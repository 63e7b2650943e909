//! The styles of an XLSX workbook, as far as they change what a cell says: formats of numbers, and lines through.

use std::collections::BTreeMap;

use quick_xml::events::Event;

use super::format::Format;
use super::package::Part;
use super::xml::{attribute, is_off, name};
use crate::diag::{Diagnostic, Location};
use crate::input::Limit;

/// What a style does to a cell.
#[derive(Clone, Debug, Default)]
pub(super) struct Style {
    pub format: Format,
    pub struck: bool,
}

/// The styles by number. ECMA-376, part 1, 18.8.
pub(super) fn read(mut part: Part<'_, '_>, file: &str) -> Result<Vec<Style>, Diagnostic> {
    let mut codes: BTreeMap<u32, Format> = BTreeMap::new();
    let mut struck_fonts: Vec<bool> = Vec::new();
    let mut styles = Vec::new();
    // The list an element stands in: differential formats have fonts and formats of their own.
    let mut list = String::new();
    loop {
        let depth = part.depth();
        match part.next()? {
            Event::Start(start) => {
                let number = |key| attribute(&start, key).and_then(|it| it.parse::<u32>().ok()).unwrap_or(0);
                match (depth, list.as_str(), name(&start)) {
                    (1, _, of) => list = of.to_owned(),
                    (2, "numFmts", "numFmt") => {
                        let code = attribute(&start, "formatCode").unwrap_or_default();
                        codes.insert(number("numFmtId"), Format::of(&code));
                    }
                    (2, "fonts", "font") => struck_fonts.push(false),
                    (3, "fonts", "strike" | "dstrike") => {
                        if let Some(last) = struck_fonts.last_mut() {
                            *last |= !is_off(&start);
                        }
                    }
                    (2, "cellXfs", "xf") => {
                        let id = number("numFmtId");
                        let format = codes.get(&id).cloned().unwrap_or_else(|| Format::built_in(id));
                        let font = usize::try_from(number("fontId")).unwrap_or(usize::MAX);
                        let struck = struck_fonts.get(font).copied().unwrap_or(false);
                        styles.push(Style { format, struck });
                    }
                    _ => {}
                }
            }
            Event::Eof => return Ok(styles),
            _ => {}
        }
        Limit::Cells.check(codes.len() + struck_fonts.len() + styles.len(), || Location::whole(file))?;
    }
}
