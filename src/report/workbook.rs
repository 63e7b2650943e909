//! Workbooks of one sheet: the questions, with a list to pick an answer from, and other lists.

use super::questions::sheet;
use crate::facts::SHEET_HEADINGS;
use crate::review::Review;
use crate::units::System;
use std::fmt::Write as _;
use std::io::{self, Cursor, Write};
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// The column of responses, from 0.
const RESPONSE: usize = 9;
/// The most characters of a list that a spreadsheet takes.
const LONGEST_LIST: usize = 255;

const TYPES: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"/></Types>"#;
const PACKAGE: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>"#;
const WORKBOOK: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="{name}" sheetId="1" r:id="rId1"/></sheets></workbook>"#;
const SHEETS: &str = r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>"#;

/// The bytes of the workbook; the same for the same review.
pub fn questions_xlsx(review: &Review, system: System) -> io::Result<Vec<u8>> {
    packed("Questions", &questions(review, system))
}

/// The bytes of a workbook of one sheet: a row of headings, then rows; columns of `numbers` hold numbers.
pub(super) fn workbook(name: &str, lines: &[Vec<String>], numbers: &[usize]) -> io::Result<Vec<u8>> {
    let mut rows = String::new();
    for (cells, number) in lines.iter().zip(1..) {
        row(&mut rows, number, cells, numbers);
    }
    packed(name, &worksheet(&rows, ""))
}

fn packed(name: &str, sheet: &str) -> io::Result<Vec<u8>> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let book = WORKBOOK.replace("{name}", name);
    for (name, text) in [
        ("[Content_Types].xml", TYPES),
        ("_rels/.rels", PACKAGE),
        ("xl/workbook.xml", book.as_str()),
        ("xl/_rels/workbook.xml.rels", SHEETS),
        ("xl/worksheets/sheet1.xml", sheet),
    ] {
        writer.start_file(name, SimpleFileOptions::default())?;
        writer.write_all(text.as_bytes())?;
    }
    Ok(writer.finish()?.into_inner())
}

fn questions(review: &Review, system: System) -> String {
    let mut rows = String::new();
    let mut lists = String::new();
    let mut count = 0;
    row(&mut rows, 1, &SHEET_HEADINGS.map(str::to_owned), &[]);
    for (line, number) in sheet(review, system).iter().zip(2..) {
        row(&mut rows, number, &line.cells, &[]);
        let list = line.answers.join(",");
        let is_list = !line.answers.is_empty() && line.answers.iter().all(|it| !it.contains([',', '"']));
        if is_list && list.chars().count() <= LONGEST_LIST {
            // Other answers can be typed as well.
            let _ = write!(
                lists,
                r#"<dataValidation type="list" allowBlank="1" showErrorMessage="0" sqref="{}{number}"><formula1>"{}"</formula1></dataValidation>"#,
                column(RESPONSE),
                escaped(&list)
            );
            count += 1;
        }
    }
    let lists = match count {
        0 => String::new(),
        count => format!(r#"<dataValidations count="{count}">{lists}</dataValidations>"#),
    };
    worksheet(&rows, &lists)
}

fn worksheet(rows: &str, lists: &str) -> String {
    format!(
        r#"<?xml version="1.0" encoding="UTF-8" standalone="yes"?>
<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetData>{rows}</sheetData>{lists}</worksheet>"#
    )
}

fn row(out: &mut String, number: usize, cells: &[String], numbers: &[usize]) {
    let _ = write!(out, r#"<row r="{number}">"#);
    for (index, cell) in cells.iter().enumerate().filter(|(_, cell)| !cell.is_empty()) {
        let (name, text) = (column(index), escaped(cell));
        if numbers.contains(&index) && cell.parse::<f64>().is_ok_and(f64::is_finite) {
            let _ = write!(out, r#"<c r="{name}{number}"><v>{cell}</v></c>"#);
            continue;
        }
        let _ = write!(
            out,
            r#"<c r="{name}{number}" t="inlineStr"><is><t xml:space="preserve">{text}</t></is></c>"#
        );
    }
    out.push_str("</row>");
}

/// The letter of a column among the first 26.
fn column(index: usize) -> char {
    ('A'..='Z').nth(index).unwrap_or('Z')
}

fn escaped(text: &str) -> String {
    let text: String = text.chars().filter(|c| !c.is_control() || *c == '\n').collect();
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
