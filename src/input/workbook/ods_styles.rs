//! The styles of an OpenDocument workbook, as far as they change what a cell says: lines through, hidden sheets, white text;
//! and what is printed above and below a sheet.

use std::collections::BTreeMap;
use std::sync::Arc;

use quick_xml::events::{BytesStart, Event};

use super::margin;
use super::package::Part;
use super::xml::{add_text, attribute, name};
use crate::diag::{Diagnostic, Location};
use crate::input::Limit;

/// What a style does to the cells or the table it is of.
#[derive(Clone, Debug, Default)]
pub(super) struct Style {
    pub struck: bool,
    pub hidden: bool,
    white: bool,
    filled: bool,
    /// Whether a line goes up from corner to corner, and whether one goes down.
    diagonals: [bool; 2],
    /// The page that a sheet is printed on.
    pub page: Option<Arc<str>>,
}

impl Style {
    /// Whether paper does not show a text.
    pub(super) fn is_white(&self) -> bool {
        self.white && !self.filled
    }

    /// Whether a line goes through a cell from corner to corner.
    pub(super) fn is_crossed(&self) -> bool {
        self.diagonals != [false; 2]
    }
}

/// Styles by name.
#[derive(Default)]
pub(super) struct Styles {
    known: BTreeMap<String, Style>,
    /// The one that is being read.
    open: String,
    /// What is printed above and below a sheet, by the name of its page.
    margins: BTreeMap<String, Vec<String>>,
}

impl Styles {
    /// Those that people named, and the pages.
    pub(super) fn named(mut part: Part<'_, '_>, file: &Arc<str>) -> Result<Self, Diagnostic> {
        let mut styles = Self::default();
        let mut page = String::new();
        loop {
            let (mut aside, mut is_margin) = (false, false);
            match part.next()? {
                Event::Start(start) => match name(&start) {
                    // Of the margins themselves, with names that those of the cells have too.
                    "automatic-styles" => aside = true,
                    "master-page" => page = attribute(&start, "style:name").unwrap_or_default(),
                    "header" | "header-left" | "header-first" | "footer" | "footer-left" | "footer-first" => {
                        is_margin = attribute(&start, "style:display").as_deref() != Some("false");
                        aside = !is_margin;
                    }
                    _ => styles.add(&start, file)?,
                },
                Event::Eof => return Ok(styles),
                _ => {}
            }
            if aside {
                part.skip()?;
            }
            if is_margin {
                let texts = margin_texts(&mut part)?;
                styles.margins.entry(page.clone()).or_default().extend(texts);
            }
        }
    }

    /// Adds a style, or a property to the one just added.
    pub(super) fn add(&mut self, start: &BytesStart<'_>, file: &str) -> Result<(), Diagnostic> {
        match name(start) {
            "style" => {
                let family = attribute(start, "style:family").unwrap_or_default();
                self.open.clear();
                if matches!(family.as_str(), "graphic" | "chart" | "presentation" | "drawing-page") {
                    return Ok(());
                }
                self.open = attribute(start, "style:name").unwrap_or_default();
                let parent = attribute(start, "style:parent-style-name");
                let parent = parent.and_then(|it| self.known.get(&it)).cloned().unwrap_or_default();
                let page = attribute(start, "style:master-page-name").map(Arc::from).or(parent.page.clone());
                self.known.insert(self.open.clone(), Style { page, ..parent });
                return Limit::Cells.check(self.known.len(), || Location::whole(file));
            }
            "text-properties" | "table-properties" | "table-cell-properties" => {}
            // A format of numbers has a color of its own: red below zero.
            name => {
                if name.ends_with("-style") {
                    self.open.clear();
                }
                return Ok(());
            }
        }
        let Some(style) = self.known.get_mut(&self.open) else { return Ok(()) };
        let is_white = |color: &str| color.eq_ignore_ascii_case("#ffffff");
        match name(start) {
            "text-properties" => {
                let line = attribute(start, "style:text-line-through-style")
                    .or_else(|| attribute(start, "style:text-line-through-type"));
                style.struck = line.map_or(style.struck, |it| it != "none");
                style.white = attribute(start, "fo:color").map_or(style.white, |it| is_white(&it));
            }
            "table-properties" => {
                style.hidden = attribute(start, "table:display").as_deref() == Some("false");
            }
            _ => {
                let fill = attribute(start, "fo:background-color");
                style.filled = fill.map_or(style.filled, |it| it != "transparent" && !is_white(&it));
                for (is, key) in
                    style.diagonals.iter_mut().zip(["style:diagonal-bl-tr", "style:diagonal-tl-br"])
                {
                    *is = attribute(start, key).map_or(*is, |it| it.trim() != "none");
                }
            }
        }
        Ok(())
    }

    /// The style that an attribute names.
    pub(super) fn of(&self, start: &BytesStart<'_>, key: &str) -> Option<Style> {
        self.known.get(&attribute(start, key)?).cloned()
    }

    /// What is printed above and below a sheet.
    pub(super) fn margins(&self, page: Option<&str>) -> &[String] {
        self.margins.get(page.unwrap_or("Default")).map_or(&[], Vec::as_slice)
    }
}

/// What the cells of a row look like that have no style of their own.
pub(super) struct Usual<'c> {
    pub row: Option<Style>,
    /// By the column after the last of each.
    pub columns: &'c [(usize, Style)],
}

impl Usual<'_> {
    pub(super) fn at(&self, column: usize) -> Style {
        let of_column = || self.columns.get(self.columns.partition_point(|(end, _)| *end <= column));
        self.row.clone().or_else(|| of_column().map(|(_, style)| style.clone())).unwrap_or_default()
    }
}

/// The texts of the margin just started: one for each part of the page's width.
fn margin_texts(part: &mut Part<'_, '_>) -> Result<Vec<String>, Diagnostic> {
    let outside = part.depth() - 1;
    let (mut texts, mut text, mut has_code) = (Vec::new(), String::new(), false);
    while part.depth() > outside {
        let (mut ends, mut is_field) = (false, false);
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "region-left" | "region-center" | "region-right" => ends = true,
                "p" | "h" | "span" | "a" => {}
                "s" | "tab" | "line-break" => text.push(' '),
                // The number of a page, the name of the file.
                _ => is_field = true,
            },
            Event::End(end) => match end.local_name().into_inner() {
                "p" | "h" => text.push(' '),
                name => ends = name.starts_with("region"),
            },
            Event::Eof => break,
            event => add_text(&mut text, &event),
        }
        if is_field {
            has_code = true;
            part.skip()?;
        }
        if ends {
            texts.extend(margin::said(&text, has_code));
            text.clear();
            has_code = false;
        }
    }
    texts.extend(margin::said(&text, has_code));
    Ok(texts)
}
