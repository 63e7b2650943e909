//! What OpenDocument workbooks can do that others cannot: repeat cells and rows by the million in a few bytes, hold tables
//! of other workbooks, and lock one part.

use super::common::{notes, read, refusal, said, unused};
use super::hostile::packed;

pub fn ods(tables: &str) -> Vec<u8> {
    let content = format!(
        "<office:document-content><office:body><office:spreadsheet>{tables}</office:spreadsheet></office:body>\
         </office:document-content>"
    );
    packed(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", 1),
        ("content.xml", content.as_bytes(), 1),
    ])
}

pub fn cell(attributes: &str, text: &str) -> String {
    format!(
        "<table:table-cell office:value-type='string' {attributes}><text:p>{text}</text:p></table:table-cell>"
    )
}

pub fn row(attributes: &str, cells: &[String]) -> String {
    format!("<table:table-row {attributes}>{}</table:table-row>", cells.concat())
}

pub fn table(rows: &[String]) -> String {
    format!("<table:table table:name='S'>{}</table:table>", rows.concat())
}

pub fn headings() -> String {
    row("", &[cell("", "Mark"), cell("", "Kind")])
}

#[test]
fn empty_cells_and_rows_are_repeated_for_nothing() {
    let rows = [
        headings(),
        row(
            "table:number-rows-repeated='1048000'",
            &["<table:table-cell table:number-columns-repeated='16384'/>".into()],
        ),
        row(
            "",
            &[
                cell("", "HB-1"),
                cell("", "sillcock"),
                "<table:table-cell table:number-columns-repeated='99999999999'/>".into(),
            ],
        ),
        row("table:number-rows-repeated='4294967295'", &["<table:table-cell/>".into()]),
    ];
    assert_eq!(said(&read("s.ods", &ods(&table(&rows))), 1_048_002), ["HB-1", "sillcock"]);
}

#[test]
fn a_row_repeated_is_as_many_rows() {
    let rows = [headings(), row("table:number-rows-repeated='3'", &[cell("", "HB-1"), cell("", "sillcock")])];
    let numbers: Vec<u32> = read("s.ods", &ods(&table(&rows))).rows.iter().map(|it| it.number).collect();
    assert_eq!(numbers, [2, 3, 4]);
}

#[test]
fn endlessly_repeated_cells_are_stopped() {
    for (cells, rows) in [("16384", "1048576"), ("900", "99999999999"), ("99999999999", "99999999999")] {
        let content = [
            headings(),
            row(
                &format!("table:number-rows-repeated='{rows}'"),
                &[cell(&format!("table:number-columns-repeated='{cells}'"), "x")],
            ),
        ];
        let told = refusal("s.ods", &ods(&table(&content)));
        assert_eq!(told, "s.ods: is over the limit of 4,000,000 cells in a file");
    }
}

#[test]
fn spaces_by_number_are_stopped_at_the_limits() {
    let spaces = "<text:s text:c='4000000000'/>".repeat(100_000);
    let content = [headings(), row("", &[cell("", &format!("x{spaces}x"))])];
    let told = refusal("s.ods", &ods(&table(&content)));
    assert_eq!(told, "s.ods: is over the limit of 64,000,000 bytes of text in the cells of a file");
}

#[test]
fn notes_on_cells_are_no_part_of_them_and_paragraphs_are_lines() {
    let noted =
        cell("", "sill</text:p><text:p>cock<office:annotation><text:p>check</text:p></office:annotation>");
    let content = [headings(), row("", &[cell("", "HB<text:s/>1"), noted])];
    let schedule = read("s.ods", &ods(&table(&content)));
    let texts: Vec<&str> = schedule.rows[0].cells.iter().map(|it| &*it.text).collect();
    assert_eq!(texts, ["HB 1", "sill\ncock"]);
}

#[test]
fn a_table_saved_of_another_workbook_is_not_read() {
    let other = "<table:table table:name='other'><table:table-source/><table:table-row><table:table-cell \
                 office:value-type='string'><text:p>Mark</text:p></table:table-cell></table:table-row></table:table>";
    let content = [headings(), row("", &[cell("", "HB-1"), cell("", "sillcock")])];
    let schedule = read("s.ods", &ods(&(table(&content) + other)));
    assert_eq!(unused(&schedule), [""; 0]);
    assert_eq!(
        notes(&schedule),
        [
            "s.ods: the workbook has links to other files; they were not followed, and the values saved in the workbook are \
          read"
        ]
    );
}

#[test]
fn a_locked_workbook_and_another_document_are_named() {
    let locked = packed(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", 1),
        ("META-INF/manifest.xml", b"<m><file-entry><encryption-data/></file-entry></m>", 1),
        ("content.xml", b"\x8F\x01\xC3", 1),
    ]);
    assert_eq!(
        refusal("s.ods", &locked),
        "s.ods: is protected by a password and cannot be read; expected a copy saved without the password"
    );
    let text =
        packed(&[("mimetype", b"application/vnd.oasis.opendocument.text", 1), ("content.xml", b"<a/>", 1)]);
    assert!(refusal("s.ods", &text).starts_with("s.ods: is a document, not a workbook"));
}

#[test]
fn macros_are_told_and_not_run() {
    let content = table(&[headings(), row("", &[cell("", "HB-1"), cell("", "sillcock")])]);
    let content = format!(
        "<office:document-content><office:body><office:spreadsheet>{content}</office:spreadsheet></office:body>\
         </office:document-content>"
    );
    let book = packed(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", 1),
        ("content.xml", content.as_bytes(), 1),
        ("Basic/Standard/Module1.xml", b"<m/>", 1),
    ]);
    let schedule = read("s.ods", &book);
    assert_eq!(said(&schedule, 2), ["HB-1", "sillcock"]);
    assert_eq!(notes(&schedule), ["s.ods: the workbook has macros; they were not run"]);
}

#[test]
fn a_workbook_that_unpacks_without_end_is_stopped() {
    // 300 MB in stretches of half a megabyte, which is more than is unpacked.
    let stretch = [b"<a>".to_vec(), vec![b' '; 500_000], b"</a>".to_vec()].concat();
    let bomb = packed(&[
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", 1),
        ("content.xml", &stretch, 600),
    ]);
    assert!(bomb.len() < 1_000_000);
    assert_eq!(
        refusal("s.ods", &bomb),
        "s.ods: is over the limit of 100 times the packed size in a workbook of more than 16,000,000 bytes once unpacked"
    );
}

#[test]
fn a_text_struck_through_and_a_comment_are_told() {
    let style = "<style:style style:name='T1'><style:text-properties style:text-line-through-style='solid'/></style:style>";
    let span = |words: &str| format!("<text:span text:style-name='T1'>{words}</text:span>");
    let comment = "<office:annotation><dc:creator>Office</dc:creator><text:p>Verify - was 8 in</text:p></office:annotation>";
    let commented = format!(
        "<table:table-cell office:value-type='string'>{comment}<text:p>sillcock</text:p></table:table-cell>"
    );
    let rows = [
        row("", &[cell("", "Mark"), cell("", "Kind"), cell("", "Barrel")]),
        row("", &[cell("", "HB-1"), cell("", "sillcock"), cell("", &span("brass"))]),
        row("", &[cell("", "HB-2"), cell("", "sillcock"), cell("", &format!("{}, brass", span("copper")))]),
        row("", &[cell("", "HB-3"), commented, cell("", "brass")]),
    ];
    let schedule = read("s.ods", &ods(&format!("{style}{}", table(&rows))));
    for row in [2, 3] {
        assert_eq!(said(&schedule, row)[2], "?", "row {row}");
    }
    assert_eq!(
        said(&schedule, 4),
        ["HB-3", "sillcock", "brass", "Comment: \"Verify - was 8 in\" under Kind"]
    );
    assert_eq!(
        unused(&schedule),
        ["s.ods, row 4, column \"Kind\": Verify - was 8 in: is a comment on the cell; it is not read"]
    );
}

#[test]
fn a_comment_counts_against_the_limits_like_a_cell() {
    let comment = "x".repeat(32_768);
    let cell = format!(
        "<table:table-cell office:value-type='string'><office:annotation><text:p>{comment}</text:p></office:annotation>\
         <text:p>HB-1</text:p></table:table-cell>"
    );
    let rows = [headings(), row("", &[cell, "".into()])];
    assert!(refusal("s.ods", &ods(&table(&rows))).contains("32,767 characters in a cell"));
}
