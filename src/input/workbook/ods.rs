//! ODS: the tables of a spreadsheet by OpenDocument 1.2, part 1. Cells are read as they are shown; a repeated cell or
//! row is written out only where it holds anything, and counted against the limits as it is.

use std::collections::BTreeMap;
use std::sync::Arc;

use quick_xml::events::{BytesStart, Event};

use super::format::{plain, same};
use super::grid::{Grid, Shown, Used};
use super::package::{Package, Part};
use super::xml::{add_text, attribute, name};
use crate::diag::{Diagnostic, Location};
use crate::input::{Flaw, Limit, Merge, Remark, Table};

/// What a style does to the cells or the table it is of.
#[derive(Clone, Copy, Debug, Default)]
struct Style {
    struck: bool,
    hidden: bool,
}

/// The tables of all sheets with content, in the order of the workbook.
pub(super) fn read(package: &mut Package<'_>) -> Result<Vec<Table>, Diagnostic> {
    let file = package.file.clone();
    let mut styles: BTreeMap<String, Style> = BTreeMap::new();
    let mut tables: Vec<Table> = Vec::new();
    let mut used = Used::default();
    let mut followed = false;
    let mut sheets = 0;
    let mut part = package.need("content.xml")?;
    let mut style = String::new();
    loop {
        let event = part.next()?;
        match event {
            Event::Start(start) => match name(&start) {
                "style" => {
                    style = attribute(&start, "style:name").unwrap_or_default();
                    styles.insert(style.clone(), Style::default());
                    Limit::Cells.check(styles.len(), || Location::whole(&file))?;
                }
                "text-properties" => {
                    let line = attribute(&start, "style:text-line-through-style")
                        .or_else(|| attribute(&start, "style:text-line-through-type"));
                    if let (Some(it), Some(line)) = (styles.get_mut(&style), line) {
                        it.struck = line != "none";
                    }
                }
                "table-properties" => {
                    if let Some(it) = styles.get_mut(&style) {
                        it.hidden = attribute(&start, "table:display").as_deref() == Some("false");
                    }
                }
                "table" => {
                    sheets += 1;
                    Limit::Sheets.check(sheets, || Location::whole(&file))?;
                    let title = attribute(&start, "table:name").unwrap_or_default();
                    let of = attribute(&start, "table:style-name").and_then(|it| styles.get(&it).copied());
                    let mut grid = Grid::new(&file, &title, of.is_some_and(|it| it.hidden), &mut used);
                    let own = sheet(&mut part, &file, &styles, &mut grid)?;
                    // A saved copy of another workbook's sheet is not a sheet of this one.
                    followed |= !own;
                    if own {
                        tables.extend(grid.finish()?);
                    }
                }
                _ => {}
            },
            Event::Eof => break,
            _ => {}
        }
    }
    if followed {
        tables.iter_mut().for_each(|it| it.about.notes.push(Remark::new(None, "the workbook", super::LINKS)));
    }
    Ok(tables)
}

/// A cell as it is gathered.
#[derive(Default)]
struct Raw {
    shown: Shown,
    comment: String,
    repeated: usize,
    spans: [usize; 2],
}

/// Reads the table just started. Whether it is a sheet of this workbook.
fn sheet(
    part: &mut Part<'_, '_>,
    file: &Arc<str>,
    styles: &BTreeMap<String, Style>,
    grid: &mut Grid<'_>,
) -> Result<bool, Diagnostic> {
    let outside = part.depth() - 1;
    let mut own = true;
    let (mut number, mut column) = (1_u32, 0_usize);
    while part.depth() > outside {
        let mut aside = false;
        let mut row = None;
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "table-source" => own = false,
                "shapes" | "table" | "forms" => aside = true,
                "table-column" => {
                    let next = column.saturating_add(count(&start, "table:number-columns-repeated"));
                    if is_hidden(&start) {
                        grid.hide_columns([column, next - 1]);
                    }
                    column = next;
                }
                "table-row" => {
                    let repeated = count(&start, "table:number-rows-repeated");
                    row = Some((repeated, is_hidden(&start)));
                }
                _ => {}
            },
            Event::Eof => break,
            _ => {}
        }
        if aside {
            part.skip()?;
        }
        if let Some((repeated, hidden)) = row {
            let cells = read_row(part, file, styles)?;
            let repeated = u32::try_from(repeated).unwrap_or(u32::MAX);
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
    styles: &BTreeMap<String, Style>,
) -> Result<Vec<(usize, Raw)>, Diagnostic> {
    let outside = part.depth() - 1;
    let mut cells = Vec::new();
    let mut column = 0_usize;
    while part.depth() > outside {
        let mut found = None;
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "table-cell" => found = Some((Cell::of(&start, styles), true)),
                // It lies below another that is merged over it.
                "covered-table-cell" => found = Some((Cell::of(&start, styles), false)),
                _ => {}
            },
            Event::Eof => break,
            _ => {}
        }
        let Some((cell, is_seen)) = found else { continue };
        let (repeated, spans) = (cell.repeated, cell.spans);
        let Read { text, comment, any_struck, any_plain } = read_text(part, file, styles)?;
        let mut shown = cell.shown(text);
        shown.struck |= any_struck && !any_plain;
        // A text that is struck in part leaves open what applies.
        if any_struck && any_plain {
            shown.flaw = shown.flaw.or(Some(Flaw::Struck));
        }
        if is_seen && !(shown.text.trim().is_empty() && comment.is_empty()) {
            Limit::Cells.check(cells.len() + 1, || Location::whole(file))?;
            cells.push((column, Raw { shown, comment, repeated, spans }));
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
    struck: bool,
    repeated: usize,
    spans: [usize; 2],
}

impl Cell {
    fn of(start: &BytesStart<'_>, styles: &BTreeMap<String, Style>) -> Self {
        let style = attribute(start, "table:style-name").and_then(|it| styles.get(&it).copied());
        Self {
            kind: attribute(start, "office:value-type").unwrap_or_default(),
            value: attribute(start, "office:value").and_then(|it| it.parse().ok()),
            is_error: attribute(start, "calcext:value-type").as_deref() == Some("error"),
            formula: attribute(start, "table:formula"),
            struck: style.is_some_and(|it| it.struck),
            repeated: count(start, "table:number-columns-repeated"),
            spans: ["table:number-rows-spanned", "table:number-columns-spanned"].map(|key| count(start, key)),
        }
    }

    fn shown(self, text: String) -> Shown {
        let is_error =
            self.is_error || self.formula.is_some() && (text.starts_with("Err:") || text.starts_with('#'));
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
        Shown { text, flaw, struck: self.struck, rounded }
    }
}

/// A number as shown, if that is its full value; otherwise with the full value in its place.
fn number(text: String, value: f64, percent: bool) -> (String, Option<Flaw>, Option<String>) {
    let scaled = if percent && text.contains('%') { value * 100.0 } else { value };
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' ');
    let Some(start) = text.find(|c: char| c.is_ascii_digit()) else {
        return (plain(scaled), None, None);
    };
    let end = text[start..].find(|c: char| !is_part(c)).map_or(text.len(), |at| start + at);
    let digits = text[start..end].trim_end();
    let end = start + digits.len();
    let is_negative = text[..start].trim_end().ends_with(['-', '−']) || value < 0.0;
    let said = read_shown(digits).map(|it| if is_negative { -it } else { it });
    let whole = |figure: &str| format!("{}{figure}{}", &text[..start], &text[end..]);
    let figure = plain(scaled.abs());
    match said {
        Some(said) if same(said, scaled) => {
            // A figure shown by another country's habit is written with a point.
            let is_usual = !digits.contains(',') && (digits.contains('/') || !digits.contains(' '));
            (if is_usual { text } else { whole(&figure) }, None, None)
        }
        _ => (whole(&figure), None, Some(text.clone())),
    }
}

/// `10 3/4`, `0,75`, `1,200.5` as they are shown.
fn read_shown(digits: &str) -> Option<f64> {
    if let Some((first, below)) = digits.split_once('/') {
        let (whole, above) = first.trim().rsplit_once(' ').unwrap_or(("0", first.trim()));
        let [whole, above, below] = [whole, above, below].map(|it| it.trim().parse::<f64>());
        return Some(whole.ok()? + above.ok()? / below.ok()?);
    }
    let compact: String = digits.chars().filter(|c| *c != ' ').collect();
    let last = compact.rfind(['.', ',']);
    let clean: String = compact
        .char_indices()
        .filter_map(|(at, c)| match c {
            '.' | ',' => (Some(at) == last).then_some('.'),
            c => Some(c),
        })
        .collect();
    clean.parse().ok()
}

/// The text of a cell as it is read.
#[derive(Default)]
struct Read {
    text: String,
    /// Its comment.
    comment: String,
    /// Whether a part of the text is struck through, and whether a part is not.
    any_struck: bool,
    any_plain: bool,
}

/// The paragraphs of the cell just started, a line each, without drawings; and its comment.
fn read_text(
    part: &mut Part<'_, '_>,
    file: &Arc<str>,
    styles: &BTreeMap<String, Style>,
) -> Result<Read, Diagnostic> {
    let outside = part.depth() - 1;
    let (mut read, mut paragraphs, mut within) = (Read::default(), 0, 0_usize);
    // The depth of each open element whose text is struck through.
    let mut struck: Vec<usize> = Vec::new();
    while part.depth() > outside {
        let (mut aside, mut is_comment) = (false, false);
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
                    "annotation" => is_comment = true,
                    _ => aside = true,
                }
                let style = attribute(&start, "text:style-name").and_then(|it| styles.get(&it).copied());
                if style.is_some_and(|it| it.struck) && !aside && !is_comment {
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
            read.comment = read_comment(part, file)?;
        }
        if aside {
            part.skip()?;
        }
    }
    Ok(read)
}

/// The paragraphs of the comment just started.
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
