//! The styles of an XLSX workbook, as far as they change what a cell says: formats of numbers, lines
//! through, lines from corner to corner, and text that paper does not show.

use std::collections::{BTreeMap, BTreeSet};

use quick_xml::events::{BytesStart, Event};

use super::format::Format;
use super::package::Part;
use super::xml::{attribute, flag, is_off, name};
use crate::diag::{Diagnostic, Location};
use crate::input::Limit;

/// The format that shows nothing of numbers above, below and at zero, nor of a text.
const HIDES: &str = ";;;";

/// What a style does to a cell.
#[derive(Clone, Debug, Default)]
pub(super) struct Style {
    pub format: Format,
    pub struck: bool,
    /// Whether paper does not show it: white on nothing, or hidden by its format.
    pub is_white: bool,
    /// Whether its border has a line from corner to corner.
    pub is_crossed: bool,
}

/// What matters of a border.
#[derive(Clone, Copy, Debug, Default)]
struct Border {
    /// Whether it has a line from corner to corner if that is of any style.
    is_diagonal: bool,
    is_crossed: bool,
}

/// What matters of a font.
#[derive(Clone, Copy, Debug, Default)]
struct Font {
    struck: bool,
    white: bool,
}

/// Whether an element names white: by its value, by its number, or as the background of the theme.
fn is_white(start: &BytesStart<'_>) -> bool {
    let is = |key: &str, wanted: &[&str]| {
        attribute(start, key).is_some_and(|it| wanted.iter().any(|white| white.eq_ignore_ascii_case(&it)))
    };
    let has_tint =
        attribute(start, "tint").and_then(|it| it.parse::<f64>().ok()).is_some_and(|it| it < -0.04);
    is("rgb", &["FFFFFFFF", "00FFFFFF", "FFFFFF"])
        || is("indexed", &["1", "9"])
        || is("theme", &["0"]) && !has_tint
}

/// The styles by number. ECMA-376, part 1, 18.8.
pub(super) fn read(mut part: Part<'_, '_>, file: &str) -> Result<Vec<Style>, Diagnostic> {
    let mut codes: BTreeMap<u32, Format> = BTreeMap::new();
    // Those that show nothing.
    let mut hiding: BTreeSet<u32> = BTreeSet::new();
    let mut fonts: Vec<Font> = Vec::new();
    // Whether each fill is of a color that white text is seen on.
    let mut fills: Vec<bool> = Vec::new();
    let mut borders: Vec<Border> = Vec::new();
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
                        if code.trim() == HIDES {
                            hiding.insert(number("numFmtId"));
                        }
                    }
                    (2, "fonts", "font") => fonts.push(Font::default()),
                    (3, "fonts", "strike" | "dstrike") => {
                        if let Some(last) = fonts.last_mut() {
                            last.struck |= !is_off(&start);
                        }
                    }
                    (3, "fonts", "color") => {
                        if let Some(last) = fonts.last_mut() {
                            last.white = is_white(&start);
                        }
                    }
                    (2, "fills", "fill") => fills.push(false),
                    (3, "fills", of) => {
                        let none = attribute(&start, "patternType").is_none_or(|it| it == "none");
                        if let Some(last) = fills.last_mut() {
                            *last = of != "patternFill" || !none;
                        }
                    }
                    (4, "fills", "fgColor") if is_white(&start) => {
                        if let Some(last) = fills.last_mut() {
                            *last = false;
                        }
                    }
                    (2, "borders", "border") => {
                        let is_diagonal = flag(&start, "diagonalUp") || flag(&start, "diagonalDown");
                        borders.push(Border { is_diagonal, is_crossed: false });
                    }
                    (3, "borders", "diagonal") => {
                        let is_seen = attribute(&start, "style").is_some_and(|it| it != "none");
                        if let Some(last) = borders.last_mut() {
                            last.is_crossed = last.is_diagonal && is_seen;
                        }
                    }
                    (2, "cellXfs", "xf") => {
                        let id = number("numFmtId");
                        let format = codes.get(&id).cloned().unwrap_or_else(|| Format::built_in(id));
                        let at = |key| usize::try_from(number(key)).unwrap_or(usize::MAX);
                        let Font { struck, white } = fonts.get(at("fontId")).copied().unwrap_or_default();
                        let is_on_color = fills.get(at("fillId")).copied().unwrap_or(false);
                        let is_white = white && !is_on_color || hiding.contains(&id);
                        let is_crossed = borders.get(at("borderId")).is_some_and(|it| it.is_crossed);
                        styles.push(Style { format, struck, is_white, is_crossed });
                    }
                    _ => {}
                }
            }
            Event::Eof => return Ok(styles),
            _ => {}
        }
        let count = codes.len() + fonts.len() + fills.len() + borders.len() + styles.len();
        Limit::Cells.check(count, || Location::whole(file))?;
    }
}
