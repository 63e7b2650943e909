//! What is drawn over the sheets of a workbook: text boxes and shapes, words for pictures, lines through rows.

use super::common::{held, problems, read, said, unused};
use super::hostile::{book, text};
use super::hostile_ods::{cell, headings, ods, row, table};
use coldsill::schedule::Schedule;
use rust_xlsxwriter::{Shape, Workbook};

const BOX: &str = "is a text box drawn over the sheet; it is not read";
const LINE: &str = "is drawn over the sheet; rows that it crosses may be struck out";
const WORDS: &str = "describes a picture or shape drawn over the sheet; it is not read";

/// An ODS cell with a drawing in it.
fn with(words: &str, drawing: &str) -> String {
    format!(
        "<table:table-cell office:value-type='string'><text:p>{words}</text:p>{drawing}</table:table-cell>"
    )
}

/// Two rows of an ODS sheet; the first has a drawing in its first cell.
fn open_document(drawing: &str) -> Schedule {
    let rows = [
        headings(),
        row("", &[with("HB-1", drawing), cell("", "sillcock")]),
        row("", &[cell("", "HB-2"), cell("", "sillcock")]),
    ];
    read("s.ods", &ods(&table(&rows)))
}

/// The same two rows of an XLSX sheet with a drawing.
fn office(drawing: &str) -> Schedule {
    office_with("", "", drawing)
}

/// The same, with what stands before the rows and what each row says of itself.
fn office_with(before: &str, of_row: &str, drawing: &str) -> Schedule {
    let line = |row: u32, one: &str, other: &str| {
        format!(
            "<row r='{row}' {of_row}>{}{}</row>",
            text(&format!("A{row}"), one),
            text(&format!("B{row}"), other)
        )
    };
    let rows = [
        before.to_owned(),
        line(1, "Mark", "Kind"),
        line(2, "HB-1", "sillcock"),
        line(3, "HB-2", "sillcock"),
    ]
    .concat();
    let related: &[u8] = b"<R><Relationship Id='a' Type='x/drawing' Target='d.xml'/></R>";
    let drawing = format!("<wsDr>{drawing}</wsDr>");
    read("s.xlsx", &book(&rows, &[("xl/_rels/s.xml.rels", related, 1), ("xl/d.xml", drawing.as_bytes(), 1)]))
}

/// An anchor from one corner to another: columns and rows from 0, and how far below the edge of the row, in centimeters.
fn anchor(from: (u32, u32, f64), to: (u32, u32, f64), what: &str) -> String {
    let corner = |(column, row, below): (u32, u32, f64)| {
        let below = below * 360_000.0;
        format!("<col>{column}</col><colOff>9</colOff><row>{row}</row><rowOff>{below}</rowOff>")
    };
    let (from, to) = (corner(from), corner(to));
    format!("<twoCellAnchor><from>{from}</from><to>{to}</to>{what}<clientData/></twoCellAnchor>")
}

fn form(element: &str, form: &str) -> String {
    format!("<{element}><spPr><prstGeom prst='{form}'/></spPr></{element}>")
}

#[test]
fn a_text_box_in_an_ods_cell_is_listed_at_its_row() {
    let drawing = "<draw:frame><draw:text-box><text:p>HB-1 not</text:p><text:p>frostproof</text:p></draw:text-box></draw:frame>";
    let schedule = open_document(drawing);
    assert_eq!(unused(&schedule), [format!("s.ods, row 2: HB-1 not frostproof: {BOX}")]);
}

#[test]
fn a_shape_with_text_in_an_ods_cell_is_listed_at_its_row() {
    let schedule = open_document("<draw:custom-shape><text:p>VOID</text:p></draw:custom-shape>");
    assert_eq!(unused(&schedule), [format!("s.ods, row 2: VOID: {BOX}")]);
}

#[test]
fn a_drawing_is_no_part_of_the_text_of_its_ods_cell() {
    let schedule = open_document("<draw:custom-shape><text:p>See plan</text:p></draw:custom-shape>");
    assert_eq!(said(&schedule, 2), ["HB-1", "sillcock"]);
}

#[test]
fn a_drawing_in_an_empty_ods_cell_is_listed() {
    let shape = "<table:table-cell><draw:rect><text:p>VOID</text:p></draw:rect></table:table-cell>";
    let rows = [headings(), row("", &[cell("", "HB-1"), cell("", "sillcock"), shape.into()])];
    let schedule = read("s.ods", &ods(&table(&rows)));
    assert_eq!(unused(&schedule), [format!("s.ods, row 2: VOID: {BOX}")]);
}

#[test]
fn a_row_of_a_drawing_alone_that_is_repeated_without_end_costs_nothing() {
    let shape = "<table:table-cell><draw:rect><text:p>VOID</text:p></draw:rect></table:table-cell>";
    let rows = [
        headings(),
        row("", &[cell("", "HB-1"), cell("", "sillcock")]),
        row("table:number-rows-repeated='4294967295'", &[shape.into()]),
    ];
    let schedule = read("s.ods", &ods(&table(&rows)));
    assert_eq!(unused(&schedule), [format!("s.ods, row 3: VOID: {BOX}")]);
}

#[test]
fn shapes_of_an_ods_page_are_listed_for_the_whole_sheet() {
    let shapes = "<table:shapes><draw:frame><draw:text-box><text:p>Superseded</text:p></draw:text-box></draw:frame>\
                  <draw:line svg:x1='1cm'/></table:shapes><table:table-row>";
    let rows = [headings(), row("", &[cell("", "HB-1"), cell("", "sillcock")])];
    let content = table(&rows).replacen("<table:table-row >", shapes, 1);
    let schedule = read("s.ods", &ods(&content));
    assert_eq!(unused(&schedule), [format!("s.ods: Superseded: {BOX}"), format!("s.ods: a line: {LINE}")]);
}

#[test]
fn a_note_in_the_text_of_an_ods_cell_is_a_comment_on_it() {
    let noted = "sillcock<text:note><text:note-citation>1</text:note-citation><text:note-body><text:p>not frostproof\
                 </text:p></text:note-body></text:note>";
    let rows = [headings(), row("", &[cell("", "HB-1"), cell("", noted)])];
    let schedule = read("s.ods", &ods(&table(&rows)));
    assert_eq!(held(&schedule, 2), "Comment: \"not frostproof\" under Kind");
}

#[test]
fn words_for_a_picture_are_listed() {
    let picture =
        "<pic><nvPicPr><cNvPr id='2' name='Picture 1' descr='VOID not frostproof'/></nvPicPr></pic>";
    let schedule = office(&anchor((0, 1, 0.0), (4, 5, 0.0), picture));
    assert_eq!(unused(&schedule), [format!("s.xlsx, row 2: VOID not frostproof: {WORDS}")]);
}

#[test]
fn words_for_a_picture_in_an_ods_cell_are_listed() {
    let schedule = open_document("<draw:frame><draw:image/><svg:desc>VOID</svg:desc></draw:frame>");
    assert_eq!(unused(&schedule), [format!("s.ods, row 2: VOID: {WORDS}")]);
}

#[test]
fn pictures_without_words_are_counted() {
    let what = "is drawn over the sheet; nothing is read from it";
    for picture in ["<pic><spPr/></pic>", "<graphicFrame><graphic/></graphicFrame>"] {
        let one = anchor((0, 1, 0.0), (4, 5, 0.0), picture);
        assert_eq!(unused(&office(&one)), [format!("s.xlsx: a picture: {what}")], "{picture}");
    }
    let schedule =
        open_document("<draw:frame><draw:image/></draw:frame><draw:frame><draw:object/></draw:frame>");
    let what = "are drawn over the sheet; nothing is read from them";
    assert_eq!(unused(&schedule), [format!("s.ods: 2 pictures: {what}")]);
}

#[test]
fn what_is_drawn_over_a_sheet_without_cells_is_told_beside_the_first_sheet_and_held_against_its_rows() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, ["Mark", "Kind"]).expect("is written");
    sheet.write_row(1, 0, ["HB-1", "sillcock"]).expect("is written");
    let text = "HB-1 not frostproof";
    book.add_worksheet().insert_shape(2, 2, &Shape::textbox().set_text(text)).expect("is drawn");
    let schedule = read("s.xlsx", &book.save_to_buffer().expect("is saved"));
    let what = "is drawn over a sheet without cells; it is not read";
    assert_eq!(unused(&schedule), [format!("s.xlsx: {text}: {what}")]);
    assert_eq!(held(&schedule, 2), format!("Drawn over the sheet: \"{text}\" in s.xlsx"));
}

#[test]
fn a_line_through_a_row_is_held_against_it() {
    for drawn in [form("cxnSp", "line"), form("cxnSp", "straightConnector1"), form("sp", "line")] {
        let schedule = office(&anchor((0, 1, 0.25), (2, 1, 0.25), &drawn));
        assert_eq!(held(&schedule, 2), "Drawn over the row: a line", "{drawn}");
        assert_eq!(held(&schedule, 3), "", "{drawn}");
    }
}

#[test]
fn what_is_drawn_by_hand_or_round_corners_is_held_like_a_line() {
    let forms = ["curvedConnector3", "bentConnector2", "noSmoking", "mathMinus", "mathMultiply"];
    let freehand = ["<sp><spPr><custGeom/></spPr></sp>", "<contentPart id='a'/>"];
    for drawn in forms.map(|it| form("cxnSp", it)).into_iter().chain(freehand.map(String::from)) {
        let schedule = office(&anchor((0, 1, 0.1), (2, 1, 0.4), &drawn));
        assert_eq!([held(&schedule, 2), held(&schedule, 3)], ["Drawn over the row: a line", ""], "{drawn}");
        assert_eq!(unused(&schedule), [format!("s.xlsx, row 2: a line across row 2: {LINE}")], "{drawn}");
    }
}

#[test]
fn a_picture_cut_to_a_form_and_a_form_around_a_text_are_no_lines() {
    let text = "<sp><spPr><custGeom/></spPr><txBody><p><r><t>See plan</t></r></p></txBody></sp>";
    for drawn in ["<pic><spPr><custGeom/></spPr></pic>", text] {
        let schedule = office(&anchor((0, 1, 0.1), (2, 1, 0.4), drawn));
        assert_eq!(held(&schedule, 2), "", "{drawn}");
    }
}

#[test]
fn a_line_through_rows_is_listed_with_them() {
    let schedule = office(&anchor((0, 1, 0.25), (2, 2, 0.25), &form("cxnSp", "line")));
    assert_eq!(unused(&schedule), [format!("s.xlsx, row 2: a line across rows 2 to 3: {LINE}")]);
}

#[test]
fn a_line_from_corner_to_corner_is_held_against_each_row_it_crosses() {
    // Drawn from the lower left to the upper right, beside another over the same rows.
    let line = form("cxnSp", "line");
    let schedule =
        office(&(anchor((0, 2, 0.25), (2, 1, 0.25), &line) + &anchor((0, 1, 0.1), (2, 2, 0.4), &line)));
    assert_eq!([held(&schedule, 2), held(&schedule, 3)], ["Drawn over the row: a line"; 2]);
}

#[test]
fn a_line_through_one_cell_leaves_only_that_cell_in_doubt() {
    let schedule = office(&anchor((1, 1, 0.25), (1, 1, 0.25), &form("cxnSp", "line")));
    assert_eq!(
        problems(&schedule),
        [
            "s.xlsx, row 2, column \"Kind\": \"sillcock\" has a line drawn over it; it is unclear whether it applies; \
             expected the value that applies"
        ]
    );
}

#[test]
fn a_line_along_the_edge_of_a_row_is_listed_and_strikes_nothing_out() {
    let schedule = office(&anchor((0, 1, 0.0), (2, 1, 0.0), &form("cxnSp", "line")));
    assert_eq!(held(&schedule, 2), "");
    assert_eq!(
        unused(&schedule),
        ["s.xlsx, row 2: a line across row 2: is drawn along the edge of the row; nothing is read from it"]
    );
}

const EDGE: &str = "is drawn along the edge of the row; nothing is read from it";

#[test]
fn a_line_that_lies_near_the_edge_of_a_row_is_along_it() {
    // In parts of a row that is 190,500 units high; two pixels are 19,050.
    for (from, to) in [((1, 190_000), (2, 1_000)), ((1, 188_000), (1, 188_000)), ((1, 19_050), (1, 2_000))] {
        let at = |(row, below): (u32, u32), column| (column, row, f64::from(below) / 360_000.0);
        let schedule = office(&anchor(at(from, 0), at(to, 2), &form("cxnSp", "line")));
        assert_eq!([held(&schedule, 2), held(&schedule, 3)], ["", ""], "{from:?}");
        assert_eq!(unused(&schedule), [format!("s.xlsx, row 2: a line across row 2: {EDGE}")], "{from:?}");
    }
}

#[test]
fn a_line_from_one_edge_of_a_row_to_the_other_crosses_it() {
    let schedule = office(&anchor((0, 1, 0.0), (2, 2, 0.0), &form("cxnSp", "line")));
    assert_eq!(held(&schedule, 2), "Drawn over the row: a line");
}

#[test]
fn the_edge_of_a_row_is_where_its_height_says() {
    // Halfway through a row of 30 points, and at the lower edge of one of 15.
    let line = anchor((0, 1, 0.53), (2, 1, 0.53), &form("cxnSp", "line"));
    for (height, expected) in [("ht='30'", "Drawn over the row: a line"), ("ht='15'", ""), ("", "")] {
        assert_eq!(held(&office_with("", height, &line), 2), expected, "{height}");
    }
    let usual = "<sheetFormatPr defaultRowHeight='30'/>";
    assert_eq!(held(&office_with(usual, "", &line), 2), "Drawn over the row: a line");
}

#[test]
fn a_line_with_an_arrowhead_points_at_something_and_strikes_nothing_out() {
    let pointer = |end: &str| {
        let line = form("cxnSp", "straightConnector1").replace("</spPr>", &format!("<ln>{end}</ln></spPr>"));
        office(&anchor((0, 1, 0.25), (2, 1, 0.25), &line))
    };
    for end in ["<headEnd type='triangle'/>", "<headEnd type='none'/><tailEnd type='arrow'/>"] {
        let schedule = pointer(end);
        assert_eq!(held(&schedule, 2), "", "{end}");
        let what = "has an arrowhead and points at something; nothing is read from it";
        assert_eq!(unused(&schedule), [format!("s.xlsx, row 2: a line across row 2: {what}")], "{end}");
    }
    assert_eq!(held(&pointer("<headEnd type='none'/><tailEnd/>"), 2), "Drawn over the row: a line");
}

#[test]
fn lines_beside_the_table_and_between_its_columns_are_not_told() {
    for (from, to) in [((5, 1, 0.25), (9, 1, 0.25)), ((1, 0, 0.1), (1, 2, 0.3))] {
        let schedule = office(&anchor(from, to, &form("cxnSp", "line")));
        assert_eq!(unused(&schedule), [""; 0], "{from:?}");
    }
}

#[test]
fn a_line_with_a_size_crosses_as_many_cells_as_it_is_long() {
    // 8 cm of columns that are usually some 2 cm wide.
    let line = format!(
        "<oneCellAnchor><from><col>0</col><row>1</row><rowOff>90000</rowOff></from><ext cx='2880000' cy='0'/>{}\
         </oneCellAnchor>",
        form("cxnSp", "line")
    );
    let schedule = office(&line);
    assert_eq!([held(&schedule, 2), held(&schedule, 3)], ["Drawn over the row: a line", ""]);
}

#[test]
fn a_line_through_a_row_of_an_ods_sheet_is_held_against_it() {
    for line in [
        "<draw:line table:end-cell-address='S.C2' table:end-y='0.2cm'/>",
        "<draw:connector table:end-cell-address=\"$S.$B$2\" table:end-y='0.2cm'/>",
        "<draw:line svg:x1='0cm' svg:x2='8cm' svg:y1='0.2cm' svg:y2='0.2cm'/>",
        "<draw:polyline table:end-cell-address='S.C2' table:end-y='0.2cm'/>",
        "<draw:path svg:width='8cm' svg:height='0.2cm' svg:d='M0 0'/>",
        "<draw:custom-shape svg:width='8cm' svg:height='0.2cm'><draw:enhanced-geometry draw:type='forbidden'/>\
         </draw:custom-shape>",
        "<draw:g><draw:line table:end-cell-address='S.C2' table:end-y='0.2cm'/></draw:g>",
    ] {
        let schedule = open_document(line);
        assert_eq!([held(&schedule, 2), held(&schedule, 3)], ["Drawn over the row: a line", ""], "{line}");
    }
}

#[test]
fn lines_over_one_another_are_told_once() {
    let line = anchor((0, 1, 0.1), (2, 1_000_000, 0.1), &form("cxnSp", "line"));
    let schedule = office(&line.repeat(5_000));
    assert_eq!(unused(&schedule), [format!("s.xlsx, row 2: a line across rows 2 to 3: {LINE}")]);
}

#[test]
fn a_text_box_that_names_a_mark_is_held_against_its_row() {
    let text = "<sp><txBody><a:p xmlns:a='a'><a:r><a:t>HB-1 not frostproof</a:t></a:r></a:p></txBody></sp>";
    let schedule = office(&anchor((5, 5, 0.0), (8, 9, 0.0), text));
    assert_eq!(held(&schedule, 2), "Drawn over the sheet: \"HB-1 not frostproof\" in s.xlsx, row 6");
    assert_eq!(held(&schedule, 3), "");
}

#[test]
fn a_stored_text_that_a_cell_does_not_show_is_weighed_against_no_other_row() {
    let stored = "<table:table-cell office:value-type='string' office:string-value='void'><text:p>sillcock</text:p></table:table-cell>";
    let rows = [
        headings(),
        row("", &[cell("", "HB-1"), stored.into()]),
        row("", &[cell("", "HB-2"), cell("", "sillcock")]),
    ];
    assert_eq!(held(&read("s.ods", &ods(&table(&rows))), 3), "");
}
