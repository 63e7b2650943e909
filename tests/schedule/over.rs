//! What stands over a whole sheet or over some of its columns: its name, its header and footer, headings over headings, a
//! heading that is struck through.

use super::common::{aside, held, problems, read, said, unused};
use super::hostile::packed;
use super::hostile_ods::{cell, headings, row, table};
use coldsill::schedule::Schedule;
use rust_xlsxwriter::{Format, Workbook, Worksheet};

/// A sheet of one outlet below its headings, from a row on.
fn sheet(first: u32, change: impl FnOnce(&mut Worksheet) -> &mut Worksheet) -> Schedule {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(first, 0, ["Mark", "Kind", "Length", "Wall", "Space behind"]).expect("is written");
    let cells = ["HB-1", "Wall hydrant", "12 in", "2x4-siding", "heated room"];
    sheet.write_row(first + 1, 0, cells).expect("is written");
    change(sheet);
    read("s.xlsx", &book.save_to_buffer().expect("is saved"))
}

fn named(name: &str) -> Schedule {
    sheet(0, |sheet| sheet.set_name(name).expect("is a name"))
}

#[test]
fn a_sheet_whose_name_says_that_it_does_not_stand_is_held_against_its_rows() {
    for name in ["VOID", "Superseded - do not use", "Existing", "Draft", "Not in contract", "HB-1 void"] {
        assert_eq!(held(&named(name), 2), format!("Name of the sheet: \"{name}\" in s.xlsx"));
    }
}

#[test]
fn a_plain_name_of_a_sheet_says_nothing() {
    for name in ["Schedule", "Sheet1", "Building A", "P-601", "Hose bibbs", "By floor"] {
        let schedule = named(name);
        assert_eq!((held(&schedule, 2), unused(&schedule).len()), (String::new(), 0), "{name}");
    }
}

#[test]
fn a_footer_that_takes_the_schedule_back_is_held_as_the_same_line_above_the_headings_is() {
    let words = "DRAFT - NOT FOR CONSTRUCTION";
    let footer = sheet(0, |sheet| sheet.set_footer(format!("&L{words}&RPage &P of &N")));
    let title = sheet(1, |sheet| sheet.write(0, 0, words).expect("is written"));
    assert_eq!(held(&footer, 2), format!("Header or footer: \"{words}\" in s.xlsx"));
    assert_eq!(held(&title, 3), format!("Note: \"{words}\" in s.xlsx, row 1"));
}

#[test]
fn a_header_that_names_a_mark_is_held_against_its_row() {
    let schedule = sheet(0, |sheet| sheet.set_header("&C&\"Arial,Bold\"&14HB-1 not frostproof"));
    assert_eq!(held(&schedule, 2), "Header or footer: \"HB-1 not frostproof\" in s.xlsx");
}

#[test]
fn a_header_of_other_words_is_listed() {
    let schedule = sheet(0, |sheet| sheet.set_header("&LSmith && Sons&RPage &P"));
    let what = "is printed above or below the sheet; nothing is read from it";
    assert_eq!(unused(&schedule), [format!("s.xlsx: Smith & Sons: {what}")]);
}

#[test]
fn a_header_is_no_row_that_is_set_aside() {
    let schedule = sheet(0, |sheet| sheet.set_header("&LSmith && Sons&RPage &P"));
    assert_eq!(aside(&schedule), [""; 0]);
}

#[test]
fn a_footer_of_codes_says_nothing() {
    let schedule = sheet(0, |sheet| sheet.set_footer("&L&F&C&A&RPage &P of &N, printed &D &T"));
    assert_eq!(unused(&schedule), [""; 0]);
}

/// An ODS sheet with these margins of its page.
fn printed(margins: &str) -> Schedule {
    let rows = table(&[headings(), row("", &[cell("", "HB-1"), cell("", "sillcock")])]);
    let content = format!(
        "<d><style:style style:name='ta1' style:family='table' style:master-page-name='P1'/>{}</d>",
        rows.replace("table:name='S'", "table:name='S' table:style-name='ta1'")
    );
    let styles = format!("<d><style:master-page style:name='P1'>{margins}</style:master-page></d>");
    let parts: [(&str, &[u8], usize); 3] = [
        ("mimetype", b"application/vnd.oasis.opendocument.spreadsheet", 1),
        ("content.xml", content.as_bytes(), 1),
        ("styles.xml", styles.as_bytes(), 1),
    ];
    read("s.ods", &packed(&parts))
}

#[test]
fn the_header_of_an_ods_page_is_held_against_the_rows_it_names() {
    let schedule = printed(
        "<style:header><style:region-left><text:p>HB-1 void</text:p></style:region-left><style:region-right><text:p>Page \
         <text:page-number>1</text:page-number></text:p></style:region-right></style:header>",
    );
    assert_eq!(held(&schedule, 2), "Header or footer: \"HB-1 void\" in s.ods");
    assert_eq!(unused(&schedule), [""; 0]);
}

#[test]
fn a_header_of_an_ods_page_that_is_switched_off_says_nothing() {
    let schedule = printed("<style:footer style:display='false'><text:p>HB-1 void</text:p></style:footer>");
    assert_eq!(held(&schedule, 2), "");
}

#[test]
fn a_style_that_has_its_line_from_another_is_struck_through() {
    let content = table(&[
        headings(),
        row("", &[cell("", "HB-1"), cell("table:style-name='ce1'", "sillcock"), cell("", "x")]),
    ]);
    let style = "<style:style style:name='ce1' style:parent-style-name='Gone'/>";
    let styles = "<d><style:style style:name='Gone'><style:text-properties style:text-line-through-style='solid'/>\
                  </style:style></d>";
    let content = format!("<d>{style}{content}</d>");
    let book = packed(&[("content.xml", content.as_bytes(), 1), ("styles.xml", styles.as_bytes(), 1)]);
    assert_eq!(said(&read("s.ods", &book), 2)[1], "?");
}

#[test]
fn a_heading_over_columns_that_puts_them_in_doubt_is_held_against_the_rows_under_it() {
    for words in [
        "Not in contract",
        "Existing",
        "N.I.C.",
        "By others",
        "BY G.C.",
        "Furnished by PC",
        "VOID",
        "Preliminary",
    ] {
        let schedule =
            sheet(1, |sheet| sheet.merge_range(0, 3, 0, 4, words, &Format::new()).expect("is merged"));
        assert_eq!(held(&schedule, 3), format!("Over Wall to Space behind: \"{words}\" in s.xlsx, row 1"));
    }
}

#[test]
fn a_heading_over_columns_of_which_a_row_has_nothing_says_nothing_of_it() {
    let schedule = sheet(1, |sheet| {
        sheet.merge_range(0, 3, 0, 4, "Existing", &Format::new()).expect("is merged");
        sheet.write_row(3, 0, ["HB-2", "Wall hydrant", "12 in"]).expect("is written")
    });
    assert_eq!(held(&schedule, 4), "");
}

#[test]
fn a_plain_heading_over_columns_says_nothing() {
    for words in ["Rough-in", "Connections", "Outlet", "By floor", "Prepared by J. Smith"] {
        let schedule =
            sheet(1, |sheet| sheet.merge_range(0, 3, 0, 4, words, &Format::new()).expect("is merged"));
        assert_eq!(held(&schedule, 3), "", "{words}");
    }
}

#[test]
fn a_heading_over_columns_of_text_holds_up_to_the_next() {
    let schedule = read(
        "s.csv",
        b",,Existing,,New\nMark,Kind,Wall,Space behind,Length\nHB-1,Wall hydrant,,,12 in\nHB-2,Wall hydrant,2x4-siding,,12 in\n",
    );
    assert_eq!(
        [held(&schedule, 3), held(&schedule, 4)],
        ["", "Over Wall to Space behind: \"Existing\" in s.csv, row 1"]
    );
}

#[test]
fn the_upper_of_two_lines_of_headings_holds_too() {
    let schedule = read(
        "s.csv",
        b"Mark,Kind,Existing,Nominal,Seat\n,,Wall,length,depth\nHB-1,Wall hydrant,2x4-siding,12 in,11 in\n",
    );
    assert_eq!(held(&schedule, 3), "Over Wall: \"Existing\" in s.csv, row 1");
}

#[test]
fn cells_under_a_heading_that_is_struck_through_are_not_known() {
    let struck = Format::new().set_font_strikethrough();
    let schedule = sheet(0, |sheet| sheet.write_with_format(0, 3, "Wall", &struck).expect("is written"));
    assert_eq!(
        problems(&schedule),
        [
            "s.xlsx, row 2, column \"Wall\": \"2x4-siding\" is under a heading that is struck through; it is unclear \
             whether it applies; expected the column without the line through its heading, or left out"
        ]
    );
}

#[test]
fn a_kind_under_a_heading_that_is_struck_through_is_asked() {
    let struck = Format::new().set_font_strikethrough();
    let schedule = sheet(0, |sheet| sheet.write_with_format(0, 1, "Kind", &struck).expect("is written"));
    assert_eq!(held(&schedule, 2), "Kind in doubt: \"Wall hydrant\" under Kind");
}
