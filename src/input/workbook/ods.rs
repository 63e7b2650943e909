//! ODS: the tables of a spreadsheet by OpenDocument 1.2, part 1. Cells are read as they are shown; a repeated cell or
//! row is written out only where it holds anything, and counted against the limits as it is.

use std::sync::Arc;

use quick_xml::events::{BytesStart, Event};

use super::grid::{Grid, Shown, Used};
use super::ods_drawn::{self, Drawn, Opened};
use super::ods_number::number;
use super::ods_styles::{Style, Styles, Usual};
use super::package::{Package, Part};
use super::xml::{add_text, attribute, name};
use crate::diag::{Diagnostic, Location};
use crate::input::{Flaw, Limit, Merge, Remark, Table};

/// The tables of all sheets with content, in the order of the workbook.
pub(super) fn read(package: &mut Package<'_>) -> Result<Vec<Table>, Diagnostic> {
    let file = package.file.clone();
    let mut styles = match package.part("styles.xml")? {
        Some(part) => Styles::named(part, &file)?,
        None => Styles::default(),
    };
    let mut tables: Vec<Table> = Vec::new();
    let mut used = Used::default();
    let mut followed = false;
    let mut sheets = 0;
    let mut part = package.need("content.xml")?;
    loop {
        let event = part.next()?;
        match event {
            Event::Start(start) => {
                if name(&start) != "table" {
                    styles.add(&start, &file)?;
                    continue;
                }
                sheets += 1;
                Limit::Sheets.check(sheets, || Location::whole(&file))?;
                let title = attribute(&start, "table:name").unwrap_or_default();
                let of = styles.of(&start, "table:style-name").unwrap_or_default();
                let mut grid = Grid::new(&file, &title, of.hidden, &mut used);
                for text in styles.margins(of.page.as_deref()) {
                    grid.margin(text)?;
                }
                let own = sheet(&mut part, &file, &styles, &mut grid)?;
                // A saved copy of another workbook's sheet is not a sheet of this one.
                followed |= !own;
                if own {
                    tables.extend(grid.finish()?);
                }
            }
            Event::Eof => break,
            _ => {}
        }
    }
    used.tell(&mut tables);
    if followed {
        tables.iter_mut().for_each(|it| it.about.notes.push(Remark::new(None, "the workbook", super::LINKS)));
    }
    Ok(tables)
}

/// How a column or a row names the style of its cells.
const DEFAULT: &str = "table:default-cell-style-name";

/// A cell as it is gathered.
#[derive(Default)]
struct Raw {
    shown: Shown,
    comment: String,
    /// What is drawn over the sheet from there.
    drawn: Vec<Drawn>,
    repeated: usize,
    spans: [usize; 2],
}

impl Raw {
    fn holds_anything(&self) -> bool {
        !(self.shown.text.trim().is_empty() && self.comment.is_empty())
    }
}

/// Reads the table just started. Whether it is a sheet of this workbook.
fn sheet(
    part: &mut Part<'_, '_>,
    file: &Arc<str>,
    styles: &Styles,
    grid: &mut Grid<'_>,
) -> Result<bool, Diagnostic> {
    let outside = part.depth() - 1;
    let mut own = true;
    let (mut number, mut column) = (1_u32, 0_usize);
    // The style of cells without one of their own, by the last column.
    let mut columns: Vec<(usize, Style)> = Vec::new();
    while part.depth() > outside {
        let (mut aside, mut is_drawn) = (false, false);
        let mut row = None;
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "table-source" => own = false,
                "table" | "forms" => aside = true,
                "shapes" => is_drawn = true,
                "table-column" => {
                    let next = column.saturating_add(count(&start, "table:number-columns-repeated"));
                    if is_hidden(&start) {
                        grid.hide_columns([column, next - 1]);
                    }
                    if columns.len() < Limit::Columns.most() {
                        columns.push((next, styles.of(&start, DEFAULT).unwrap_or_default()));
                    }
                    column = next;
                }
                "table-row" => {
                    let repeated = count(&start, "table:number-rows-repeated");
                    row = Some((repeated, is_hidden(&start), styles.of(&start, DEFAULT)));
                }
                _ => {}
            },
            Event::Eof => break,
            _ => {}
        }
        if aside {
            part.skip()?;
        }
        if is_drawn {
            ods_drawn::beside_cells(part, grid)?;
        }
        if let Some((repeated, hidden, style)) = row {
            let usual = Usual { row: style, columns: &columns };
            let mut cells = read_row(part, file, styles, &usual)?;
            let repeated = u32::try_from(repeated).unwrap_or(u32::MAX);
            for (column, cell) in &mut cells {
                cell.drawn.drain(..).try_for_each(|it| it.put(number, *column, grid))?;
            }
            // A row of drawings alone is not written as often as it is repeated.
            cells.retain(|(_, cell)| cell.holds_anything());
            if !cells.is_empty() {
                for row in number..number.saturating_add(repeated) {
                    write_row(&cells, row, grid)?;
                    if hidden {
                        grid.hide_row(row);
                    }
                }
            }
            number = number.saturating_add(repeated);
        }
    }
    Ok(own)
}

fn write_row(cells: &[(usize, Raw)], row: u32, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
    for (column, cell) in cells {
        // One cell past the last column that is read is enough for a note.
        let last = column.saturating_add(cell.repeated).min(Limit::Columns.most().max(column + 1));
        for column in *column..last {
            grid.put(row, column, &cell.shown)?;
        }
        grid.comment(row, *column, &cell.comment)?;
        if cell.spans != [1, 1] {
            let down = u32::try_from(cell.spans[0] - 1).unwrap_or(u32::MAX);
            let columns = [*column, column.saturating_add(cell.spans[1] - 1)];
            grid.merge(Merge { rows: [row, row.saturating_add(down)], columns })?;
        }
    }
    Ok(())
}

/// The cells of the row just started that hold anything, each with its column.
fn read_row(
    part: &mut Part<'_, '_>,
    file: &Arc<str>,
    styles: &Styles,
    usual: &Usual<'_>,
) -> Result<Vec<(usize, Raw)>, Diagnostic> {
    let outside = part.depth() - 1;
    let mut cells = Vec::new();
    let mut column = 0_usize;
    while part.depth() > outside {
        let mut found = None;
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "table-cell" => found = Some((Cell::of(&start, styles, usual, column), true)),
                // It lies below another that is merged over it.
                "covered-table-cell" => found = Some((Cell::of(&start, styles, usual, column), false)),
                _ => {}
            },
            Event::Eof => break,
            _ => {}
        }
        let Some((cell, is_seen)) = found else { continue };
        let (repeated, spans) = (cell.repeated, cell.spans);
        let Read { text, comment, drawn, any_struck, any_plain } = read_text(part, file, styles)?;
        let mut shown = cell.shown(text);
        shown.struck |= any_struck && !any_plain;
        // A text that is struck in part leaves open what applies.
        if any_struck && any_plain {
            shown.flaw = shown.flaw.or(Some(Flaw::Struck));
        }
        let cell = Raw { shown, comment, drawn, repeated, spans };
        if is_seen && (cell.holds_anything() || !cell.drawn.is_empty()) {
            Limit::Cells.check(cells.len() + 1, || Location::whole(file))?;
            cells.push((column, cell));
        }
        column = column.saturating_add(repeated);
    }
    Ok(cells)
}

/// The attributes of a cell.
struct Cell {
    kind: String,
    value: Option<f64>,
    is_error: bool,
    formula: Option<String>,
    /// The text it holds, if it is stated beside the one it shows.
    stored: Option<String>,
    style: Style,
    repeated: usize,
    spans: [usize; 2],
}

impl Cell {
    fn of(start: &BytesStart<'_>, styles: &Styles, usual: &Usual<'_>, column: usize) -> Self {
        Self {
            kind: attribute(start, "office:value-type").unwrap_or_default(),
            value: attribute(start, "office:value").and_then(|it| it.parse().ok()),
            is_error: attribute(start, "calcext:value-type").as_deref() == Some("error"),
            formula: attribute(start, "table:formula"),
            stored: attribute(start, "office:string-value"),
            style: styles.of(start, "table:style-name").unwrap_or_else(|| usual.at(column)),
            repeated: count(start, "table:number-columns-repeated"),
            spans: ["table:number-rows-spanned", "table:number-columns-spanned"].map(|key| count(start, key)),
        }
    }

    fn shown(self, text: String) -> Shown {
        let is_error =
            self.is_error || self.formula.is_some() && (text.starts_with("Err:") || text.starts_with('#'));
        // Without a paragraph a cell shows what it holds.
        let (text, stored) = match self.stored {
            Some(stored) if text.is_empty() => (stored, None),
            Some(stored) if spaceless(&stored) != spaceless(&text) => (text, Some(stored)),
            _ => (text, None),
        };
        let (text, flaw, rounded) = match self.kind.as_str() {
            _ if is_error => (text, Some(Flaw::Error), None),
            "date" | "time" => (text, Some(Flaw::Date), None),
            "float" | "percentage" | "currency" => match self.value {
                Some(value) => number(text, value, self.kind == "percentage"),
                None => (text, Some(Flaw::Error), None),
            },
            "" if text.is_empty() => match self.formula {
                Some(formula) => (formula, Some(Flaw::NoResult), None),
                None => (text, None, None),
            },
            _ => (text, None, None),
        };
        let flaw = flaw.or(stored.is_some().then_some(Flaw::Differs));
        let struck = self.style.struck;
        let (is_white, is_crossed) = (self.style.is_white(), self.style.is_crossed());
        Shown { text, flaw, struck, rounded, stored, is_white, is_crossed }
    }
}

fn spaceless(text: &str) -> String {
    text.split_whitespace().collect()
}

/// The text of a cell as it is read.
#[derive(Default)]
struct Read {
    text: String,
    /// Its comment, and the notes in its text.
    comment: String,
    /// What is drawn over the sheet from there.
    drawn: Vec<Drawn>,
    /// Whether a part of the text is struck through, and whether a part is not.
    any_struck: bool,
    any_plain: bool,
}

/// The paragraphs of the cell just started, a line each; its comment, and what is drawn there.
fn read_text(part: &mut Part<'_, '_>, file: &Arc<str>, styles: &Styles) -> Result<Read, Diagnostic> {
    let outside = part.depth() - 1;
    let (mut read, mut paragraphs, mut within) = (Read::default(), 0, 0_usize);
    // The depth of each open element whose text is struck through.
    let mut struck: Vec<usize> = Vec::new();
    while part.depth() > outside {
        let (mut aside, mut is_comment, mut opened) = (false, false, None);
        let depth = part.depth();
        match part.next()? {
            Event::Start(start) => {
                match name(&start) {
                    "p" | "h" if within == 0 => {
                        if paragraphs > 0 {
                            read.text.push('\n');
                        }
                        paragraphs += 1;
                        within = depth + 1;
                    }
                    "s" => {
                        let spaces = count(&start, "text:c").min(Limit::CellCharacters.most());
                        read.text.extend(std::iter::repeat_n(' ', spaces));
                    }
                    "tab" => read.text.push(' '),
                    "line-break" => read.text.push('\n'),
                    "span" | "a" | "p" | "h" => {}
                    "annotation" | "note" => is_comment = true,
                    _ => {
                        opened = Opened::of(&start);
                        aside = opened.is_none();
                    }
                }
                let style = styles.of(&start, "text:style-name");
                if style.is_some_and(|it| it.struck) && !aside && !is_comment && opened.is_none() {
                    struck.push(depth + 1);
                }
            }
            Event::End(_) => {
                if depth == within {
                    within = 0;
                }
                if struck.last() == Some(&depth) {
                    struck.pop();
                }
            }
            Event::Eof => break,
            event if within > 0 => {
                let start = read.text.len();
                add_text(&mut read.text, &event);
                let is_blank = read.text[start..].trim().is_empty();
                read.any_struck |= !struck.is_empty() && !is_blank;
                read.any_plain |= struck.is_empty() && !is_blank;
            }
            _ => {}
        }
        Limit::TableText.check(read.text.len(), || Location::whole(file))?;
        if is_comment {
            let comment = read_comment(part, file)?;
            if !read.comment.is_empty() {
                read.comment.push_str("; ");
            }
            read.comment.push_str(&comment);
        }
        if let Some(opened) = opened {
            Limit::Cells.check(read.drawn.len(), || Location::whole(file))?;
            read.drawn.push(ods_drawn::read(part, opened)?);
        }
        if aside {
            part.skip()?;
        }
    }
    Ok(read)
}

/// The paragraphs of the comment or note just started.
fn read_comment(part: &mut Part<'_, '_>, file: &Arc<str>) -> Result<String, Diagnostic> {
    let outside = part.depth() - 1;
    let (mut text, mut paragraph) = (String::new(), 0_usize);
    while part.depth() > outside {
        let depth = part.depth();
        match part.next()? {
            Event::Start(start) if matches!(name(&start), "p" | "h") && paragraph == 0 => {
                paragraph = depth + 1;
                text.push(' ');
            }
            Event::End(_) if depth == paragraph => paragraph = 0,
            Event::Eof => break,
            event if paragraph > 0 => add_text(&mut text, &event),
            _ => {}
        }
        Limit::CellCharacters.check(text.len(), || Location::whole(file))?;
    }
    Ok(text.trim().to_owned())
}

fn is_hidden(start: &BytesStart<'_>) -> bool {
    attribute(start, "table:visibility").is_some_and(|it| it != "visible")
}

/// A number of repeats or cells spanned: at least one.
fn count(start: &BytesStart<'_>, key: &str) -> usize {
    attribute(start, key).and_then(|it| it.parse().ok()).unwrap_or(1).max(1)
}
