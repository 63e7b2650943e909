//! Lines of a text page.

use super::WIDTH;
use super::words::{listed, printed};
use crate::diag::{Diagnostic, shortened};
use crate::review::{Aside, Noted, SetAside, Unused, is_remark};
use comfy_table::{ColumnConstraint, ContentArrangement, Row, Table, TableStyle, Width};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Columns parted by two spaces under a broken rule.
fn style() -> TableStyle {
    use comfy_table::{ContentLineStyle, LineStyle};
    TableStyle::new()
        .header_lines(ContentLineStyle::none().junction(' '))
        .header_separator(LineStyle::none().fill('-').junction(' '))
        .content_lines(ContentLineStyle::none().junction(' '))
}

/// What a page is not, beside its title.
pub(super) const ASIDE: &str = "screening only; not an approval";
/// Lines of a row of a table that is kept short.
const SHORT_ROW: usize = 2;

/// A table that fits a width. Words are broken only where the longest of every column do not fit side by side: a key
/// or a name is there to be copied.
pub fn table(headings: &[&str], rows: Vec<Vec<String>>, width: usize) -> String {
    lay_out(headings, rows, width, usize::MAX, 1)
}

/// A table whose columns stand close; with `is_cut`, a row takes two lines at most.
pub(super) fn short_table(headings: &[&str], rows: Vec<Vec<String>>, width: usize, is_cut: bool) -> String {
    lay_out(headings, rows, width, if is_cut { SHORT_ROW } else { usize::MAX }, 0)
}

fn lay_out(headings: &[&str], rows: Vec<Vec<String>>, width: usize, height: usize, padding: u16) -> String {
    let longest: Vec<usize> = (0..headings.len())
        .map(|column| {
            let cells = rows.iter().filter_map(|row| row.get(column)).map(String::as_str);
            let words = cells.chain([headings[column]]).flat_map(str::split_whitespace);
            words.map(|word| word.chars().count()).max().unwrap_or(0)
        })
        .collect();
    let mut table = Table::new();
    table.load_style(style());
    table.set_content_arrangement(ContentArrangement::Dynamic);
    table.set_width(u16::try_from(width).unwrap_or(u16::MAX));
    table.set_header(headings.iter().copied());
    table.add_rows(rows.into_iter().map(|cells| {
        let mut row = Row::from(cells);
        row.max_height(height);
        row
    }));
    for column in table.column_iter_mut() {
        column.set_padding((0, padding));
    }
    // One column between columns, besides the padding.
    let beside = usize::from(padding) + 1;
    if longest.iter().map(|it| it + beside).sum::<usize>() <= width + 1 {
        for (column, least) in table.column_iter_mut().zip(longest) {
            let least = u16::try_from(least).unwrap_or(u16::MAX).saturating_add(padding);
            column.set_constraint(ColumnConstraint::LowerBoundary(Width::Fixed(least)));
        }
    }
    let lines: Vec<String> = table.lines().map(|line| line.trim_end().to_owned()).collect();
    lines.join("\n")
}

/// Text broken at spaces to a width, each line after an indent.
pub fn wrapped(text: &str, width: usize, indent: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    let room = width.saturating_sub(indent.chars().count());
    for word in kept_together(text).split(' ').filter(|it| !it.is_empty()) {
        if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > room {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines.iter().map(|line| format!("{indent}{}\n", line.replace('\u{a0}', " "))).collect()
}

/// The text with a figure and its degrees held together.
pub(super) fn kept_together(text: &str) -> String {
    text.replace(" °", "\u{a0}°").replace(" %", "\u{a0}%")
}

/// A heading with a rule under it, after a blank line.
pub(super) fn heading(out: &mut String, text: &str) {
    out.push_str(&format!("\n{text}\n{}\n", "-".repeat(text.chars().count())));
}

/// Cells with a problem, under a heading where there are any.
pub(super) fn unread(out: &mut String, problems: &[Diagnostic]) {
    if !problems.is_empty() {
        heading(out, "Cells that could not be read");
        for problem in problems {
            out.push_str(&wrapped(&problem.to_string(), WIDTH, ""));
            for line in problem.note() {
                out.push_str(&format!("    {line}\n"));
            }
        }
    }
}

/// How the schedule was read, under a heading where there is anything to tell.
pub(super) fn how_read(out: &mut String, notes: &[Noted]) {
    if !notes.is_empty() {
        heading(out, "How the schedule was read");
        for it in notes {
            let line = format!("{}: \"{}\" {}", it.location, shortened(&it.text), it.what);
            out.push_str(&wrapped(&line, WIDTH, ""));
        }
    }
}

/// The first line of a page to hand over.
pub(super) fn titled(title: &str) -> String {
    format!("{title:<46}{ASIDE}\n")
}

/// The first line of such a page, and each line of its head with its label.
pub(super) fn opening(title: &str, head: &[(&str, String)]) -> String {
    head.iter().fold(titled(title), |page, (label, line)| page + &labelled(label, line, WIDTH))
}

/// What was not understood, under a heading where there is any.
pub(super) fn not_used(out: &mut String, unused: &[Unused]) {
    if !unused.is_empty() {
        heading(out, "Not used");
        for line in unused_lines(unused, usize::MAX) {
            out.push_str(&wrapped(&line, WIDTH, ""));
        }
    }
}

/// What was not used, a line for each wording of a column, with the rows it is in; remarks first, all in one.
pub(super) fn unused_lines(unused: &[Unused], most_remarks: usize) -> Vec<String> {
    let (remarks, others): (Vec<&Unused>, Vec<&Unused>) = unused.iter().partition(|it| is_remark(it));
    remarks_line(&remarks, most_remarks).into_iter().chain(other_lines(&others)).collect()
}

/// Remarks of which nothing is used, each wording once with its rows.
fn remarks_line(remarks: &[&Unused], most: usize) -> Option<String> {
    /// The most rows of a remark that are named.
    const MOST: usize = 3;
    let mut rows: BTreeMap<String, Vec<Arc<str>>> = BTreeMap::new();
    let mut wordings: Vec<&str> = Vec::new();
    for it in remarks {
        let rows = rows.entry(it.text.to_lowercase()).or_default();
        if rows.is_empty() {
            wordings.push(&it.text);
        }
        rows.extend(it.location.line_or_row().map(|row| row.to_string().into()));
    }
    let with_rows = |wording: &&str| -> Arc<str> {
        let rows = &rows[&wording.to_lowercase()];
        let several = if rows.len() == 1 { "row" } else { "rows" };
        format!("\"{}\" ({several} {})", shortened(wording), listed(rows, MOST)).into()
    };
    let all: Vec<Arc<str>> = wordings.iter().map(with_rows).collect();
    let told = printed(&all, most);
    let more = all.len() - told.len();
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    (!all.is_empty()).then(|| format!("Remarks not used: {}{more}", told.join(", ")))
}

fn other_lines(unused: &[&Unused]) -> Vec<String> {
    /// The most rows that are named.
    const MOST: usize = 12;
    let mut known: BTreeMap<(&str, Option<&str>, String, &str), usize> = BTreeMap::new();
    let mut groups: Vec<(&Unused, Vec<Arc<str>>)> = Vec::new();
    for &it in unused {
        let sheet = it.location.sheet.as_ref().map(|sheet| &*sheet.name);
        // Only a cell of a column has a wording that others may have too.
        let key = it.location.heading().map(|heading| {
            let words = format!("{}\n{heading}\n{}", sheet.unwrap_or_default(), it.text.to_lowercase());
            (&*it.location.file, sheet, words, it.why)
        });
        match (key.as_ref().and_then(|key| known.get(key)), it.location.line_or_row()) {
            (Some(at), Some(row)) => groups[*at].1.push(row.to_string().into()),
            _ => {
                known.extend(key.map(|key| (key, groups.len())));
                groups.push((it, Vec::new()));
            }
        }
    }
    let line = |(first, rows): &(&Unused, Vec<Arc<str>>)| match rows.as_slice() {
        [] => unused_line(first),
        [row] => format!("{}; also row {row}", unused_line(first)),
        rows => format!("{}; also rows {}", unused_line(first), listed(rows, MOST)),
    };
    groups.iter().map(line).collect()
}

/// What was not used, in a sentence with its location.
pub(super) fn unused_line(unused: &Unused) -> String {
    let Unused { location, text, why } = unused;
    // A reason that completes the sentence takes no colon.
    let colon = if ["is ", "describes "].iter().any(|verb| why.starts_with(verb)) { "" } else { ":" };
    format!("{location}: \"{}\"{colon} {why}", shortened(text))
}

/// How many rows were set aside, by reason: "37 rows: 12 drains, 20 fixtures and 5 totals".
pub(super) fn set_aside(aside: &[SetAside]) -> Option<String> {
    let mut counts: BTreeMap<Aside, usize> = BTreeMap::new();
    for it in aside {
        *counts.entry(it.reason).or_default() += 1;
    }
    let parts = counts.into_iter().map(|(reason, count)| {
        let [one, several] = reason.words();
        format!("{count} {}", if count == 1 { one } else { several }).into()
    });
    let parts: Vec<Arc<str>> = parts.collect();
    let rows = if aside.len() == 1 { "1 row" } else { &format!("{} rows", aside.len()) };
    (!aside.is_empty()).then(|| format!("{rows}: {}", listed(&parts, usize::MAX)))
}

/// A label in its own column, then wrapped text.
pub fn labelled(label: &str, text: &str, width: usize) -> String {
    labelled_at(11, label, text, width)
}

/// The same with a column of another width.
pub(super) fn labelled_at(column: usize, label: &str, text: &str, width: usize) -> String {
    let block = wrapped(text, width, &" ".repeat(column));
    format!("{label:<column$}{}", &block[column..])
}

/// What tells a spreadsheet that a CSV file is UTF-8.
pub(super) const BYTE_ORDER_MARK: char = '\u{feff}';

/// A line of CSV for a spreadsheet, ended by CR and LF; no cell is a formula.
pub(super) fn csv_line(cells: &[impl AsRef<str>]) -> String {
    let cells = cells.iter().map(|cell| quoted(&as_text(cell.as_ref())).into_owned());
    format!("{}\r\n", cells.collect::<Vec<_>>().join(","))
}

/// What a spreadsheet would take for a formula starts with a space, which is no part of it when it is read back.
pub(super) fn as_text(cell: &str) -> String {
    let cell = inert(cell.into());
    if cell.starts_with(['=', '+', '-', '@', '|']) { format!(" {cell}") } else { cell }
}

/// The text with a mark in place of each character that a terminal or a reader of text obeys: controls other than a line
/// feed, and those that turn the direction of writing.
pub(super) fn inert(text: String) -> String {
    if text.contains(is_obeyed) { text.replace(is_obeyed, "\u{fffd}") } else { text }
}

/// Whether a terminal or a reader of text obeys a character.
pub(super) fn is_obeyed(c: char) -> bool {
    c != '\n' && c.is_control()
        || matches!(c, '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}

/// A cell of CSV, quoted where it must be.
pub(super) fn quoted(cell: &str) -> Cow<'_, str> {
    if cell.contains(['"', ',', '\n', '\r']) {
        Cow::Owned(format!("\"{}\"", cell.replace('"', "\"\"")))
    } else {
        Cow::Borrowed(cell)
    }
}
