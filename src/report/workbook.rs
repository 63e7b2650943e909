//! Writes a workbook: sheets of typed cells under a frozen row of headings, with filters and lists to pick from, set up to
//! be printed.

use super::page::as_text;
use std::fmt::Write as _;
use std::io::{self, Cursor, Write};
use std::sync::Arc;
use zip::ZipWriter;
use zip::write::SimpleFileOptions;

/// The most characters of a list that a spreadsheet takes.
const LONGEST_LIST: usize = 255;
/// The most characters that a cell takes.
const LONGEST_CELL: usize = 32_767;
/// Characters of the title that a page's header has room for.
const LONGEST_TITLE: usize = 80;
/// Width of a column, in characters.
const NARROWEST: usize = 6;
/// Height of a line and the most of a row, in points.
const LINE_HEIGHT: usize = 15;
const TALLEST: usize = 405;

const DECLARATION: &str = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";
const MAIN: &str = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const DOCUMENT: &str = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE: &str = "http://schemas.openxmlformats.org/package/2006";
const TYPE: &str = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/// Formats of cells, by their place in `cellXfs`: usual, heading, text, strong text, response, money, number.
const STYLES: &str = r#"<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="4"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill><fill><patternFill patternType="solid"><fgColor rgb="FFD9D9D9"/></patternFill></fill><fill><patternFill patternType="solid"><fgColor rgb="FFFFF2CC"/></patternFill></fill></fills><borders count="2"><border><left/><right/><top/><bottom/><diagonal/></border><border><left/><right/><top/><bottom style="thin"><color auto="1"/></bottom><diagonal/></border></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="7"><xf/><xf fontId="1" fillId="2" borderId="1" applyFont="1" applyFill="1" applyBorder="1" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf><xf applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf><xf fontId="1" applyFont="1" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf><xf fillId="3" applyFill="1" applyAlignment="1"><alignment vertical="top" wrapText="1"/></xf><xf numFmtId="4" applyNumberFormat="1" applyAlignment="1"><alignment vertical="top"/></xf><xf applyAlignment="1"><alignment horizontal="center" vertical="top"/></xf></cellXfs><cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>"#;
const HEADING: usize = 1;
const TEXT: usize = 2;
const STRONG: usize = 3;
const RESPONSE: usize = 4;
const MONEY: usize = 5;
const NUMBER: usize = 6;

/// A cell of a sheet or of a line of CSV; blank if its text is.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Cell {
    Text(String),
    Strong(String),
    /// A blank to fill in, with the answers to pick from; others can be typed as well.
    Response(Vec<Arc<str>>),
    Number(f64),
    /// Dollars.
    Money(f64),
}

impl Cell {
    /// As a text has it.
    pub(super) fn text(&self) -> String {
        match self {
            Self::Text(text) | Self::Strong(text) => text.clone(),
            Self::Response(_) => String::new(),
            Self::Number(number) => number.to_string(),
            Self::Money(dollars) => format!("{dollars:.2}"),
        }
    }

    fn style(&self) -> usize {
        match self {
            Self::Text(_) => TEXT,
            Self::Number(_) => NUMBER,
            Self::Strong(_) => STRONG,
            Self::Response(_) => RESPONSE,
            Self::Money(_) => MONEY,
        }
    }
}

impl<T: Into<String>> From<T> for Cell {
    fn from(text: T) -> Self {
        Self::Text(text.into())
    }
}

/// Paper that a sheet is set up for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Paper {
    Letter,
    /// 11 by 17 in, for a sheet of many columns.
    Tabloid,
}

/// A sheet.
pub(super) struct Sheet {
    /// Its name, without a character that a spreadsheet forbids.
    pub name: String,
    pub headings: Vec<String>,
    pub rows: Vec<Vec<Cell>>,
    /// The most characters of a line in each column.
    pub widest: Vec<usize>,
    pub paper: Paper,
}

/// The bytes of a workbook, the same for the same sheets. The title is printed at the head of each page.
pub(super) fn workbook(title: &str, sheets: &[Sheet]) -> io::Result<Vec<u8>> {
    let mut writer = ZipWriter::new(Cursor::new(Vec::new()));
    let mut put = |name: &str, text: String| {
        writer.start_file(name, SimpleFileOptions::default())?;
        writer.write_all(format!("{DECLARATION}{text}").as_bytes())
    };
    let numbers = 1..=sheets.len();
    let parts: String =
        numbers.clone().map(|at| part_type(&format!("worksheets/sheet{at}"), "worksheet")).collect();
    put(
        "[Content_Types].xml",
        format!(
            r#"<Types xmlns="{PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/>{}{}{parts}</Types>"#,
            part_type("workbook", "sheet.main"),
            part_type("styles", "styles"),
        ),
    )?;
    put("_rels/.rels", relationships(&relationship(1, "officeDocument", "xl/workbook.xml")))?;
    put("xl/workbook.xml", book(sheets))?;
    let of_sheets = numbers.map(|at| relationship(at, "worksheet", &format!("worksheets/sheet{at}.xml")));
    let styles = relationship(sheets.len() + 1, "styles", "styles.xml");
    put("xl/_rels/workbook.xml.rels", relationships(&of_sheets.chain([styles]).collect::<String>()))?;
    put("xl/styles.xml", format!(r#"<styleSheet xmlns="{MAIN}">{STYLES}</styleSheet>"#))?;
    for (sheet, at) in sheets.iter().zip(1..) {
        put(&format!("xl/worksheets/sheet{at}.xml"), worksheet(sheet, title))?;
    }
    Ok(writer.finish()?.into_inner())
}

fn part_type(part: &str, what: &str) -> String {
    format!(r#"<Override PartName="/xl/{part}.xml" ContentType="{TYPE}.{what}+xml"/>"#)
}

fn relationship(number: usize, what: &str, target: &str) -> String {
    format!(r#"<Relationship Id="rId{number}" Type="{DOCUMENT}/{what}" Target="{target}"/>"#)
}

fn relationships(all: &str) -> String {
    format!(r#"<Relationships xmlns="{PACKAGE}/relationships">{all}</Relationships>"#)
}

/// The sheets by name, the area of each filter and the row that each page repeats.
fn book(sheets: &[Sheet]) -> String {
    let (mut list, mut names) = (String::new(), String::new());
    for (sheet, at) in sheets.iter().zip(0..) {
        let name = escaped(&sheet.name);
        let number = at + 1;
        let _ = write!(list, r#"<sheet name="{name}" sheetId="{number}" r:id="rId{number}"/>"#);
        let (last, rows) = (column(sheet.headings.len().saturating_sub(1)), sheet.rows.len() + 1);
        let _ = write!(
            names,
            r#"<definedName name="_xlnm._FilterDatabase" localSheetId="{at}" hidden="1">'{name}'!$A$1:${last}${rows}</definedName><definedName name="_xlnm.Print_Titles" localSheetId="{at}">'{name}'!$1:$1</definedName>"#
        );
    }
    format!(
        r#"<workbook xmlns="{MAIN}" xmlns:r="{DOCUMENT}"><sheets>{list}</sheets><definedNames>{names}</definedNames></workbook>"#
    )
}

fn worksheet(sheet: &Sheet, title: &str) -> String {
    let mut rows = String::new();
    let headings = sheet.headings.iter().map(|heading| Cell::from(heading.as_str())).collect::<Vec<_>>();
    let widths: Vec<usize> = (0..sheet.headings.len()).map(|at| width(sheet, at)).collect();
    write_row(&mut rows, 1, &headings, &widths, Some(HEADING));
    let (mut lists, mut count) = (String::new(), 0);
    for (cells, number) in sheet.rows.iter().zip(2..) {
        write_row(&mut rows, number, cells, &widths, None);
        for (cell, at) in cells.iter().zip(0..) {
            let Cell::Response(answers) = cell else { continue };
            let list = answers.join(",");
            let can_be_listed = !answers.is_empty() && answers.iter().all(|it| !it.contains([',', '"']));
            if can_be_listed && list.chars().count() <= LONGEST_LIST {
                let (column, list) = (column(at), escaped(&list));
                let _ = write!(
                    lists,
                    r#"<dataValidation type="list" allowBlank="1" showErrorMessage="0" sqref="{column}{number}"><formula1>"{list}"</formula1></dataValidation>"#
                );
                count += 1;
            }
        }
    }
    if count > 0 {
        lists = format!(r#"<dataValidations count="{count}">{lists}</dataValidations>"#);
    }
    let columns = widths.iter().zip(1..).map(|(width, number)| {
        format!(r#"<col min="{number}" max="{number}" width="{width}" customWidth="1"/>"#)
    });
    let columns: String = columns.collect();
    let filter = format!("A1:{}{}", column(sheet.headings.len().saturating_sub(1)), sheet.rows.len() + 1);
    let paper = match sheet.paper {
        Paper::Letter => 1,
        Paper::Tabloid => 3,
    };
    format!(
        r#"<worksheet xmlns="{MAIN}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><cols>{columns}</cols><sheetData>{rows}</sheetData><autoFilter ref="{filter}"/>{lists}<pageMargins left="0.4" right="0.4" top="0.7" bottom="0.7" header="0.3" footer="0.3"/><pageSetup paperSize="{paper}" orientation="landscape" fitToWidth="1" fitToHeight="0"/><headerFooter><oddHeader>&amp;L{}&amp;R&amp;A</oddHeader><oddFooter>&amp;LScreening only; not an approval&amp;RPage &amp;P of &amp;N</oddFooter></headerFooter></worksheet>"#,
        header(title)
    )
}

/// The title of a page; an ampersand starts a code there.
fn header(title: &str) -> String {
    let title: String = title.chars().filter(|c| !c.is_control()).take(LONGEST_TITLE).collect();
    escaped(&title.replace('&', "&&"))
}

/// Wide enough for the longest line of a column, within its limit, and for its heading's longest word with the button of
/// the filter.
fn width(sheet: &Sheet, at: usize) -> usize {
    let widest = sheet.widest.get(at).copied().unwrap_or(NARROWEST);
    let cells = sheet.rows.iter().filter_map(|row| row.get(at)).map(Cell::text);
    let lines = cells.flat_map(|text| text.lines().map(|line| line.chars().count()).max()).max();
    let heading = sheet.headings[at].split_whitespace().map(|word| word.chars().count() + 3).max();
    let response = sheet.rows.iter().filter_map(|row| row.get(at)).any(|it| matches!(it, Cell::Response(_)));
    let least = if response { widest } else { NARROWEST };
    (lines.unwrap_or(0) + 1).min(widest).max(heading.unwrap_or(0).min(widest)).max(least)
}

fn write_row(out: &mut String, number: usize, cells: &[Cell], widths: &[usize], style: Option<usize>) {
    // Not every spreadsheet fits the height of a row to its text.
    // A letter is narrower than the digit that a width counts in.
    let lines = cells.iter().zip(widths).map(|(cell, width)| lines(&cell.text(), width + width / 8));
    let height = lines.max().unwrap_or(1);
    let height = (height * LINE_HEIGHT).min(TALLEST);
    let _ = write!(out, r#"<row r="{number}" ht="{height}" customHeight="1">"#);
    for (cell, at) in cells.iter().zip(0..) {
        let (name, style) = (column(at), style.unwrap_or_else(|| cell.style()));
        match cell {
            Cell::Number(value) | Cell::Money(value) if value.is_finite() => {
                let _ = write!(out, r#"<c r="{name}{number}" s="{style}"><v>{value}</v></c>"#);
            }
            _ => match cell.text() {
                text if text.is_empty() => {
                    let _ = write!(out, r#"<c r="{name}{number}" s="{style}"/>"#);
                }
                text => {
                    let text = escaped(&as_text(&text));
                    let _ = write!(
                        out,
                        r#"<c r="{name}{number}" s="{style}" t="inlineStr"><is><t xml:space="preserve">{text}</t></is></c>"#
                    );
                }
            },
        }
    }
    out.push_str("</row>");
}

/// How many lines a text takes in a column of a width, broken at spaces.
fn lines(text: &str, width: usize) -> usize {
    let of_line = |line: &str| {
        let (mut lines, mut at) = (1, 0);
        for word in line.split(' ').map(|word| word.chars().count()) {
            if at > 0 && at + 1 + word > width {
                lines += 1;
                at = 0;
            }
            at += word + usize::from(at > 0);
            lines += at.saturating_sub(1) / width;
            at = at.saturating_sub(at.saturating_sub(1) / width * width);
        }
        lines
    };
    text.lines().map(of_line).sum::<usize>().max(1)
}

/// The letters of a column: A, Z, AA.
fn column(index: usize) -> String {
    let letter = char::from(b'A' + u8::try_from(index % 26).unwrap_or_default());
    if index < 26 { letter.to_string() } else { format!("{}{letter}", column(index / 26 - 1)) }
}

/// Text for XML, no longer than a cell can hold.
fn escaped(text: &str) -> String {
    let is_allowed = |c: &char| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}') || *c == '\n';
    let text: String = text.chars().filter(is_allowed).take(LONGEST_CELL).collect();
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}

#[cfg(test)]
mod tests {
    use super::column;

    #[test]
    fn columns_go_on_after_z() {
        let names = [0, 25, 26, 51, 52, 701, 702].map(column);
        assert_eq!(names, ["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
    }
}
