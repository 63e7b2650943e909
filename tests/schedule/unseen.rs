//! What a workbook shows otherwise than it holds it: another text beside the one that is seen, white text on white paper.

use super::common::{held, notes, problems, read, said, unused};
use super::hostile_ods::{cell, headings, ods, row, table};
use coldsill::schedule::Schedule;
use rust_xlsxwriter::{Color, Format, Workbook};

fn with_kind(kind: &str) -> Schedule {
    read("s.ods", &ods(&table(&[headings(), row("", &[cell("", "HB-1"), kind.to_owned()])])))
}

#[test]
fn an_ods_cell_that_shows_another_text_than_it_holds_is_not_known() {
    let schedule = with_kind(&cell("office:string-value='hose bibb'", "Wall hydrant"));
    assert_eq!(said(&schedule, 2)[1], "?");
    assert_eq!(
        problems(&schedule),
        [
            "s.ods, row 2, column \"Kind\": \"Wall hydrant\" is shown in a cell that holds another text; it is unclear \
             which applies; expected the cell typed again"
        ]
    );
}

#[test]
fn the_text_that_an_ods_cell_holds_and_does_not_show_is_listed() {
    let schedule = with_kind(&cell("office:string-value='hose bibb'", "Wall hydrant"));
    let what = "is what the workbook holds for a cell that shows another text; it is not read";
    assert_eq!(unused(&schedule), [format!("s.ods, row 2: hose bibb: {what}")]);
}

#[test]
fn a_kind_that_is_not_known_is_asked() {
    let schedule = with_kind(&cell("office:string-value='hose bibb'", "Wall hydrant"));
    assert_eq!(held(&schedule, 2), "Kind in doubt: \"Wall hydrant\" under Kind");
}

#[test]
fn a_text_that_differs_only_in_its_spaces_is_the_same() {
    let kind = cell("office:string-value='Wall\n hydrant '", "Wall<text:s/></text:p><text:p>hydrant");
    let schedule = with_kind(&kind);
    assert_eq!((problems(&schedule).len(), unused(&schedule).len()), (0, 0));
}

#[test]
fn an_ods_cell_without_a_paragraph_shows_the_text_it_holds() {
    let kind = "<table:table-cell office:value-type='string' office:string-value='sillcock'/>";
    assert_eq!(said(&with_kind(kind), 2), ["HB-1", "sillcock"]);
}

/// A sheet of two outlets whose kinds have a format.
fn formatted(format: &Format) -> Schedule {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, ["Mark", "Kind"]).expect("is written");
    for row in 1..3 {
        sheet.write(row, 0, format!("HB-{row}")).expect("is written");
        sheet.write_with_format(row, 1, "sillcock", format).expect("is written");
    }
    read("s.xlsx", &book.save_to_buffer().expect("is saved"))
}

const WHITE: &str =
    "is white or hidden text, which paper does not show, the first in its column; it is read like other text";

#[test]
fn white_text_is_told_once_for_its_column() {
    let white = [Color::White, Color::Theme(0, 0)].map(|color| Format::new().set_font_color(color));
    let on_white = white[0].clone().set_background_color(Color::White);
    for format in white.iter().chain([&on_white]) {
        assert_eq!(notes(&formatted(format)), [format!("s.xlsx, row 2: sillcock {WHITE}")]);
    }
}

#[test]
fn text_that_its_format_hides_is_told() {
    assert_eq!(
        notes(&formatted(&Format::new().set_num_format(";;;"))),
        [format!("s.xlsx, row 2: sillcock {WHITE}")]
    );
    assert_eq!(notes(&formatted(&Format::new().set_num_format("0;-0;;@"))), [""; 0]);
}

#[test]
fn white_text_on_a_color_is_seen() {
    let dark = Format::new().set_font_color(Color::White).set_background_color(Color::Navy);
    assert_eq!(notes(&formatted(&dark)), [""; 0]);
}

#[test]
fn text_of_another_color_is_seen() {
    for color in [Color::Red, Color::Theme(1, 0), Color::RGB(0xF0_F0_F0)] {
        assert_eq!(notes(&formatted(&Format::new().set_font_color(color))), [""; 0], "{color:?}");
    }
}

#[test]
fn a_row_of_white_text_is_told() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, ["Mark", "Kind"]).expect("is written");
    let white = Format::new().set_font_color(Color::White);
    sheet.write_row(1, 0, ["HB-1", "sillcock"]).expect("is written");
    sheet.write_row_with_format(2, 0, ["HB-2", "sillcock"], &white).expect("is written");
    let schedule = read("s.xlsx", &book.save_to_buffer().expect("is saved"));
    let what = "is in a row of white or hidden text, which paper does not show; it is read like the others";
    assert_eq!(notes(&schedule), [format!("s.xlsx, row 3: HB-2 {what}")]);
}

/// An ODS sheet whose kind has a style with these properties.
fn styled(properties: &str) -> Schedule {
    let style = format!("<style:style style:name='ce1' style:family='table-cell'>{properties}</style:style>");
    let rows = [headings(), row("", &[cell("", "HB-1"), cell("table:style-name='ce1'", "sillcock")])];
    read("s.ods", &ods(&(style + &table(&rows))))
}

#[test]
fn white_text_of_an_ods_cell_is_told() {
    let schedule = styled("<style:text-properties fo:color='#FFFFFF'/>");
    assert_eq!(notes(&schedule), [format!("s.ods, row 2: sillcock {WHITE}")]);
}

#[test]
fn white_text_on_the_color_of_an_ods_cell_is_seen() {
    let schedule = styled(
        "<style:table-cell-properties fo:background-color='#000080'/><style:text-properties fo:color='#ffffff'/>",
    );
    assert_eq!(notes(&schedule), [""; 0]);
}

#[test]
fn the_color_of_a_format_of_numbers_is_no_color_of_a_style_before_it() {
    let after = "<style:text-properties/></style:style><number:number-style style:name='N1'>\
                 <style:text-properties fo:color='#ffffff'/></number:number-style><style:style>";
    assert_eq!(notes(&styled(after)), [""; 0]);
}

#[test]
fn a_cell_without_a_style_has_the_style_of_its_column() {
    let style = "<style:style style:name='ce1'><style:text-properties style:text-line-through-style='solid'/></style:style>";
    let columns =
        "<table:table-column/><table:table-column table:default-cell-style-name='ce1'/><table:table-row>";
    let rows = [
        headings().replace("office:value-type", "table:style-name='none' office:value-type"),
        row("", &[cell("", "HB-1"), cell("", "sillcock")]),
    ];
    let content = table(&rows).replacen("<table:table-row >", columns, 1);
    let schedule = read("s.ods", &ods(&format!("{style}{content}")));
    assert!(
        problems(&schedule)[0].contains("is struck through in a row that is not"),
        "{:?}",
        problems(&schedule)
    );
}
