//! CSV text to a raw table: rows of texts, numbered as a spreadsheet numbers them.

use super::about::{About, Flaw, Remark};
use super::cells::{Row, Table};
use super::limits::Limit;
use super::{fixed, separator, text, workbook};
use crate::diag::{Diagnostic, Location, shortened};
use std::sync::Arc;

/// Extensions of workbooks.
const WORKBOOKS: [&str; 4] = [".xlsx", ".xlsm", ".xls", ".ods"];

/// The tables of a file, by its content: the sheets of a workbook, or one text table. At least one.
pub fn tables(file: &str, bytes: &[u8]) -> Result<Vec<Table>, Diagnostic> {
    if workbook::is_workbook(bytes) {
        return workbook::read(file, bytes);
    }
    let is_named_so = WORKBOOKS.iter().any(|end| file.to_lowercase().ends_with(end));
    let damaged = || {
        let problem = Diagnostic::new(Location::whole(file), "is not a workbook, or is damaged");
        problem.expected("the schedule saved again as .xlsx, .ods or CSV")
    };
    let decoded = text::decode_any(file, bytes);
    // A web page or another document is reported as such.
    let start = bytes.trim_ascii_start();
    let is_document = [&b"<"[..], b"%PDF-", b"{\rtf"].iter().any(|it| start.starts_with(it));
    let text::Decoded { text, encoding, note } =
        decoded.map_err(|it| if is_named_so && !is_document { damaged() } else { it })?;
    let mut table = parse(file, &text)?;
    // A text table with the extension of a workbook is read.
    if is_named_so && table.rows.iter().all(|row| row.cells.len() < 2) {
        return Err(damaged());
    }
    table.about.notes.extend(note.map(|what| Remark::new(None, "the file", what)));
    table.about.written.splice(0..0, encoding);
    Ok(vec![table])
}

/// Reads CSV. The first lines decide whether cells are separated by commas, tabs, semicolons or bars. Blank rows are
/// counted and skipped.
pub fn parse(file: &str, text: &str) -> Result<Table, Diagnostic> {
    let file: Arc<str> = file.into();
    let declared = separator::declared(text);
    if declared.is_none()
        && let Some(rows) = fixed::rows(text, separator::find_counted(text).1)
    {
        return aligned(file, rows);
    }
    let (separator, start) = declared.unwrap_or_else(|| (separator::find(text), 0));
    let text = &text[start..];
    let bytes = text.as_bytes();
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).delimiter(separator).from_reader(bytes);
    let mut record = csv::StringRecord::new();
    let mut rows = Vec::new();
    let mut number = 0_u32;
    let mut all_cells = 0;
    loop {
        let start = offset(&reader);
        let more = reader
            .read_record(&mut record)
            .map_err(|e| Diagnostic::new(Location::whole(&file), format!("the table cannot be read: {e}")))?;
        if !more {
            break;
        }
        let end = offset(&reader);
        // The reader skips blank lines; a spreadsheet numbers them.
        number = number.saturating_add(1).saturating_add(blank_lines(bytes, start));
        let here = || Location::cell(&file, number, None);
        if end == bytes.len()
            && let Some(quote) = unclosed_quote(&bytes[start..end], separator)
        {
            return Err(Diagnostic::new(here(), "opens a quote that is never closed")
                .text(shortened(&text[start + quote..]))
                .expected("a closing quote at the end of the cell, and \"\" for an inch mark within it"));
        }
        Limit::Columns.check(record.len(), here)?;
        for cell in &record {
            // Bytes bound characters from above, and are free to count.
            if cell.len() > Limit::CellCharacters.most() {
                Limit::CellCharacters
                    .check(cell.chars().count(), here)
                    .map_err(|p| p.text(shortened(cell)))?;
            }
        }
        if record.iter().all(|cell| cell.trim().is_empty()) {
            continue;
        }
        Limit::Rows.check(rows.len() + 1, here)?;
        all_cells += record.len();
        Limit::Cells.check(all_cells, here)?;
        rows.push(Row { number, cells: record.iter().map(str::to_owned).collect() });
    }
    if rows.is_empty() {
        return Err(Diagnostic::new(Location::whole(&file), "the table has no rows"));
    }
    let decimals = separator::decimals(&rows, separator);
    let mut about = About { decimals, written: separator::written(separator, decimals), ..About::default() };
    if !text.ends_with(['\n', '\r']) {
        about.flaws.extend(cut_off(&rows).map(|at| (at, Flaw::CutOff)));
    }
    Ok(Table { file, rows, about })
}

/// The last text of a last row that has fewer cells than the others, which all have as many.
fn cut_off(rows: &[Row]) -> Option<(u32, usize)> {
    let (last, [first, others @ ..]) = rows.split_last()? else { return None };
    let width = first.cells.len();
    let is_short = last.cells.len() < width && others.iter().all(|row| row.cells.len() == width);
    let column = last.cells.iter().rposition(|text| !text.trim().is_empty())?;
    is_short.then_some((last.number, column))
}

/// A table of rows that were aligned by spaces, within the limits.
fn aligned(file: Arc<str>, rows: Vec<Row>) -> Result<Table, Diagnostic> {
    for (count, row) in (1..).zip(&rows) {
        let here = || Location::cell(&file, row.number, None);
        Limit::Rows.check(count, here)?;
        Limit::Columns.check(row.cells.len(), here)?;
        Limit::Cells.check(count * row.cells.len(), here)?;
        for cell in row.cells.iter() {
            Limit::CellCharacters.check(cell.chars().count(), here)?;
        }
    }
    let about = About { written: vec!["columns aligned by spaces"], ..About::default() };
    Ok(Table { file, rows, about })
}

fn offset(reader: &csv::Reader<&[u8]>) -> usize {
    usize::try_from(reader.position().byte()).unwrap_or(usize::MAX)
}

/// The blank lines at the start of a record's stretch of the file. An LF after a CR ends the line the CR ended.
fn blank_lines(bytes: &[u8], start: usize) -> u32 {
    let mut lines = 0_u32;
    for at in start..bytes.len() {
        match bytes[at] {
            b'\n' if at > 0 && bytes[at - 1] == b'\r' => {}
            b'\n' | b'\r' => lines = lines.saturating_add(1),
            _ => break,
        }
    }
    lines
}

/// Where an unclosed quote opens in the last record of a file.
fn unclosed_quote(record: &[u8], separator: u8) -> Option<usize> {
    let mut opened = None;
    let mut cell_starts = true;
    let mut bytes = record.iter().enumerate().peekable();
    while let Some((at, &byte)) = bytes.next() {
        match opened {
            Some(_) if byte == b'"' => {
                // Two quotes stand for one within the cell.
                if bytes.next_if(|(_, next)| **next == b'"').is_none() {
                    opened = None;
                    cell_starts = false;
                }
            }
            Some(_) => {}
            None if byte == b'"' && cell_starts => opened = Some(at),
            None => cell_starts = byte == separator || byte == b'\n' || byte == b'\r',
        }
    }
    opened
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> Vec<(u32, Vec<String>)> {
        parse("a.csv", text).unwrap().rows.into_iter().map(|row| (row.number, row.cells.to_vec())).collect()
    }

    fn row(number: u32, cells: &[&str]) -> (u32, Vec<String>) {
        (number, cells.iter().map(|cell| (*cell).to_owned()).collect())
    }

    // The expected numbers are those a spreadsheet shows on opening such a file.
    #[test]
    fn rows_are_numbered_as_in_a_spreadsheet_for_all_line_ends() {
        for end in ["\n", "\r\n", "\r"] {
            let text =
                ["", "Mark,Note", "", "", "HB-1,\"two\nlines\"", "HB-2,", " , ", "HB-3,x", "", ""].join(end);
            let wanted = [
                row(2, &["Mark", "Note"]),
                row(5, &["HB-1", "two\nlines"]),
                row(6, &["HB-2", ""]),
                row(8, &["HB-3", "x"]),
            ];
            assert_eq!(read(&text), wanted, "line end {end:?}");
        }
    }

    #[test]
    fn a_line_break_in_quotes_does_not_move_the_numbers_after_it() {
        assert_eq!(read("a,\"1\r\n\r\n2\"\r\nb,3\r\n"), [row(1, &["a", "1\r\n\r\n2"]), row(2, &["b", "3"])]);
    }

    #[test]
    fn inch_marks_stand_in_a_cell_bare_or_doubled_in_quotes() {
        assert_eq!(
            read("3/4\" wall hydrant,\"10\"\" barrel, brass\",8\"\n"),
            [row(1, &["3/4\" wall hydrant", "10\" barrel, brass", "8\""])]
        );
    }

    #[test]
    fn a_file_that_ends_within_its_last_row_may_be_cut_off_there() {
        let flaws = |text: &str| parse("a.csv", text).unwrap().about.flaws;
        assert_eq!(flaws("a,b,c\n1,2,3\n4,5").into_iter().collect::<Vec<_>>(), [((3, 1), Flaw::CutOff)]);
        assert_eq!(flaws("a,b,c\n4,5,").into_iter().collect::<Vec<_>>(), []);
        assert_eq!(flaws("a,b,c\n4,").into_iter().collect::<Vec<_>>(), [((2, 0), Flaw::CutOff)]);
        for text in ["a,b,c\n1,2,3\n4,5\n", "a,b,c\n1,2\n4,5", "a,b,c\n1,2,3\n4,5,6", "a"] {
            assert_eq!(flaws(text).len(), 0, "{text}");
        }
    }

    #[test]
    fn rows_may_differ_in_length_and_a_missing_cell_is_empty() {
        let table = parse("a.csv", "a,b,c\n1\n1,2,3,4\n").unwrap();
        assert_eq!(*table.rows[1].cells, ["1"]);
        assert_eq!(table.rows[1].cell(2), "");
        assert_eq!(table.rows[2].cell(3), "4");
    }

    #[test]
    fn the_first_line_tells_what_separates_the_cells() {
        for mark in ["\t", ";", "|"] {
            let text = format!("Mark{mark}\"Note, if any\"{mark}Depth\nHB-1{mark}a, b, c, d{mark}8\n");
            assert_eq!(read(&text)[1], row(2, &["HB-1", "a, b, c, d", "8"]), "{mark:?}");
        }
        assert_eq!(read("Mark,Kind;type\n1,2\n")[0], row(1, &["Mark", "Kind;type"]));
        assert_eq!(read("Schedule\n\nMark;Depth\n")[1], row(3, &["Mark", "Depth"]));
    }

    #[test]
    fn a_quote_never_closed_is_told_at_the_row_where_it_opens() {
        assert_eq!(
            parse("a.csv", "Mark,Note\n\nHB-1,\"8\"\" barrel\nHB-2,x\n").unwrap_err().to_string(),
            "a.csv, row 3: \"\"8\"\" barrel HB-2,x \" opens a quote that is never closed; expected a closing quote at \
             the end of the cell, and \"\" for an inch mark within it"
        );
        assert!(parse("a.csv", "a,\"8\"\"\"\n").is_ok());
        assert!(parse("a.csv", "a,\"8\"\"\"").is_ok());
    }
}
