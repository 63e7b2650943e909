//! Cells with a border from corner to corner, with which people cross out what is in them.

use super::common::{held, problems, read, said};
use super::hostile_ods::{cell, headings, ods, row, table};
use coldsill::schedule::Schedule;
use rust_xlsxwriter::{Format, FormatBorder, FormatDiagonalBorder, Workbook, Worksheet};

fn diagonal(kind: FormatDiagonalBorder) -> Format {
    Format::new().set_border_diagonal(FormatBorder::Thin).set_border_diagonal_type(kind)
}

/// A sheet of two outlets, of which some cells are written again.
fn office(again: impl FnOnce(&mut Worksheet) -> &mut Worksheet) -> Schedule {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    let rows = [["Mark", "Kind", "Wall"], ["HB-1", "sillcock", "2x4-siding"], ["HB-2", "sillcock", ""]];
    sheet.write_row_matrix(0, 0, rows).expect("is written");
    again(sheet);
    read("s.xlsx", &book.save_to_buffer().expect("is saved"))
}

const CROSSED: &str = "\"sillcock\" has a line drawn over it; it is unclear whether it applies; expected the value that applies";

#[test]
fn a_cell_crossed_out_by_its_border_is_not_known() {
    for kind in
        [FormatDiagonalBorder::BorderUp, FormatDiagonalBorder::BorderDown, FormatDiagonalBorder::BorderUpDown]
    {
        let schedule =
            office(|sheet| sheet.write_with_format(1, 1, "sillcock", &diagonal(kind)).expect("is written"));
        assert_eq!(said(&schedule, 2)[1], "?");
        assert_eq!(problems(&schedule), [format!("s.xlsx, row 2, column \"Kind\": {CROSSED}")]);
    }
}

#[test]
fn a_border_along_the_edges_of_a_cell_crosses_nothing_out() {
    let around = Format::new().set_border(FormatBorder::Thin);
    let schedule = office(|sheet| sheet.write_with_format(1, 1, "sillcock", &around).expect("is written"));
    assert_eq!(problems(&schedule), [""; 0]);
}

#[test]
fn a_row_whose_cells_are_all_crossed_out_is_in_doubt() {
    let format = diagonal(FormatDiagonalBorder::BorderUp);
    let schedule = office(|sheet| {
        sheet.write_row_with_format(1, 0, ["HB-1", "sillcock", "2x4-siding"], &format).expect("is written")
    });
    assert!(held(&schedule, 2).contains("Drawn over the row: a line"), "{}", held(&schedule, 2));
    assert_eq!(held(&schedule, 3), "");
}

#[test]
fn an_empty_cell_crossed_out_says_that_nothing_applies_there() {
    let format = diagonal(FormatDiagonalBorder::BorderUp);
    let schedule = office(|sheet| sheet.write_blank(2, 2, &format).expect("is written"));
    assert_eq!((problems(&schedule).len(), held(&schedule, 3).as_str()), (0, ""));
}

#[test]
fn cells_under_a_heading_crossed_out_are_not_known() {
    let format = diagonal(FormatDiagonalBorder::BorderDown);
    let schedule = office(|sheet| sheet.write_with_format(0, 2, "Wall", &format).expect("is written"));
    assert!(problems(&schedule)[0].contains("is under a heading"), "{:?}", problems(&schedule));
}

#[test]
fn cells_under_headings_that_are_all_crossed_out_are_not_known() {
    let format = diagonal(FormatDiagonalBorder::BorderDown);
    let schedule = office(|sheet| {
        sheet.write_row_with_format(0, 0, ["Mark", "Kind", "Wall"], &format).expect("is written")
    });
    assert!(problems(&schedule)[0].contains("is under a heading"), "{:?}", problems(&schedule));
}

/// An ODS sheet whose cell for the kind has a style with these properties.
fn open_document(properties: &str) -> Schedule {
    let style = format!(
        "<style:style style:name='ce1' style:family='table-cell'><style:table-cell-properties {properties}/>\
         </style:style>"
    );
    let rows = [headings(), row("", &[cell("", "HB-1"), cell("table:style-name='ce1'", "sillcock")])];
    read("s.ods", &ods(&(style + &table(&rows))))
}

#[test]
fn an_ods_cell_crossed_out_by_its_border_is_not_known() {
    for key in ["style:diagonal-bl-tr", "style:diagonal-tl-br"] {
        let schedule = open_document(&format!("{key}='0.06pt solid #000000'"));
        assert_eq!(problems(&schedule), [format!("s.ods, row 2, column \"Kind\": {CROSSED}")], "{key}");
        assert_eq!(problems(&open_document(&format!("{key}='none'"))), [""; 0], "{key}");
    }
}
