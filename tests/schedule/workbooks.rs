//! Workbooks with what workbooks have: title blocks, merged cells, formats, formulas, hidden parts. `awkward.xlsx` is
//! written by a library, the others by a desktop spreadsheet; `data/make.py` has the content of each cell.

use super::common::{aside, data, held, notes, of, opened, problems, read, refusal, said, unused, world};
use coldsill::input::Memory;
use rust_xlsxwriter::{Format, Note, Shape, Workbook};

const WRITERS: [&str; 3] = ["awkward.xlsx", "awkward-office.xlsx", "awkward-office.ods"];

#[test]
fn two_lines_of_headings_and_one_of_units_are_understood() {
    for name in WRITERS {
        let schedule = read(name, &data(name));
        let numbers: Vec<u32> = schedule.rows.iter().map(|it| it.number).collect();
        assert_eq!(numbers, [6, 7, 8, 9, 10, 12], "{name}");
        // Mark, count, kind, length in inches, barrel, supply, its size (a date), slope: 8.25 in though "8" is shown.
        assert_eq!(
            said(&schedule, 6),
            ["HB-1", "2", "sillcock", "8.25", "brass", "copper", "?", "0.02"],
            "{name}"
        );
        assert_eq!(said(&schedule, 10)[..5], ["HB-5", "4", "sillcock", "12", "brass"], "{name}");
    }
}

#[test]
fn a_mark_merged_over_rows_is_the_mark_of_each() {
    for name in WRITERS {
        assert_eq!(said(&read(name, &data(name)), 7)[..4], ["HB-1", "3", "sillcock", "10"], "{name}");
    }
}

#[test]
fn a_fraction_made_a_date_is_told_at_its_cell_and_not_guessed() {
    for name in WRITERS {
        let told = problems(&read(name, &data(name)));
        let date = told.iter().find(|it| it.contains("is a date in the workbook")).expect(name);
        assert!(date.starts_with(&format!("{name}, row 6, column \"Supply size\": \"")), "{date}");
        assert!(date.contains("4") && date.contains("Mar"), "{date}");
    }
}

#[test]
fn an_error_and_a_formula_without_a_result_are_unknown() {
    // "=5+5" has no saved result in the library's file; the spreadsheet computed 10.
    let schedule = read("awkward.xlsx", &data("awkward.xlsx"));
    assert!(problems(&schedule).contains(
        &"awkward.xlsx, row 8, column \"Barrel length\": \"=5+5\" is a formula saved without its result; expected the \
          workbook opened and saved in a spreadsheet, or the value itself"
            .to_owned()
    ));
    assert_eq!(said(&schedule, 8)[3], "?");
    for name in WRITERS {
        let schedule = read(name, &data(name));
        assert_eq!(said(&schedule, 9)[4], "?", "{name}: #REF! is no barrel");
        if name != "awkward.xlsx" {
            assert_eq!(said(&schedule, 8)[3], "10", "{name}");
        }
    }
}

#[test]
fn what_is_hidden_struck_or_no_outlet_is_told() {
    for name in WRITERS {
        let schedule = read(name, &data(name));
        let left = unused(&schedule).join("\n");
        for part in [
            "row 11: HB-6: the row is struck through",
            "row 13: Subtotal: the row is a total, a title or a note",
            "Old: a hidden sheet that also looks like a schedule",
            "Key: a sheet without a row that is plainly an outdoor faucet",
        ] {
            assert!(left.contains(part), "{name}: {part} in\n{left}");
        }
        let rows = aside(&schedule).join("\n");
        for part in ["row 14: Notes:: title", "row 15: 1. Verify lengths in the field before ordering.: note"]
        {
            assert!(rows.contains(part), "{name}: {part} in\n{rows}");
        }
        let told = notes(&schedule).join("\n");
        for part in [
            "Plumbing is the sheet that was read: of 4 sheets",
            "row 10: HB-5 is in a hidden row",
            "row 6: 8 is rounded by the cell format",
        ] {
            assert!(told.contains(part), "{name}: {part} in\n{told}");
        }
        assert_eq!(said(&schedule, 12)[4], "?", "{name}: a barrel struck through is not known");
    }
}

#[test]
fn a_sheet_is_taken_by_its_name() {
    let bytes = data("awkward.xlsx");
    let schedule = of(&world("a.xlsx", &bytes, Some("old")).expect("is read"));
    assert_eq!(said(&schedule, 2), ["HB-9", "1", "sillcock", "Name of the sheet: \"Old\" in a.xlsx"]);
    assert_eq!(notes(&schedule), ["a.xlsx: Old is a hidden sheet of the workbook; it is read"]);
    assert_eq!(
        world("a.xlsx", &bytes, Some("Plumbin")).map(|it| of(&it)).expect_err("is refused"),
        [
            "--sheet: \"Plumbin\" is not a sheet of the workbook with anything in it; expected Cover, Plumbing, Key, Old; did \
          you mean \"Plumbing\"?"
        ]
    );
    assert_eq!(
        world("a.csv", b"Mark,Qty\nHB-1,2\n", Some("Plumbing")).map(|it| of(&it)).expect_err("is refused"),
        ["--sheet: \"Plumbing\" names a sheet, but the schedule is not a workbook"]
    );
}

#[test]
fn a_named_sheet_of_a_text_file_is_an_error() {
    let job = |places: &str| {
        let files = Memory::new()
            .with("s.csv", b"Mark,Qty\nHB-1,2\n")
            .with("p.csv", b"Mark,Where\nHB-1,North\n")
            .with("p.yaml", b"- { mark: HB-1, where: North }\n")
            .with(
                "job.yaml",
                format!("schedule: s.csv\nplaces: {{ file: {places}, sheet: Homes }}\n").as_bytes(),
            );
        opened(&files, "job.yaml", None, Some("minneapolis-mn")).map(|it| of(&it)).expect_err("is refused")
    };
    for (places, column) in [("p.csv", 31), ("p.yaml", 32)] {
        let what = "\"Homes\" names a sheet, but the list of places is not a workbook";
        assert_eq!(job(places), [format!("job.yaml, line 2, column {column}: {what}")]);
    }
}

/// A workbook of this writer's, with headings in the first row.
fn written(headings: &[&str], fill: impl FnOnce(&mut rust_xlsxwriter::Worksheet)) -> Vec<u8> {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    sheet.write_row(0, 0, headings.iter().copied()).expect("is written");
    fill(sheet);
    book.save_to_buffer().expect("is saved")
}

#[test]
fn formats_give_numbers_their_units() {
    let bytes =
        written(&["Mark", "Nominal length", "Seat depth", "Supply run", "Slope", "Self-draining"], |sheet| {
            let formats = [
                (1, 8.0, "0\"\\\"\""),
                (2, 7.5, "# ?/?\" in\""),
                (3, 24.0, "General\" in\""),
                (4, 0.02, "0.00%"),
            ];
            sheet.write(1, 0, "HB-1").expect("is written");
            for (column, number, format) in formats {
                sheet
                    .write_with_format(1, column, number, &Format::new().set_num_format(format))
                    .expect("is written");
            }
            sheet.write(1, 5, true).expect("is written");
        });
    let schedule = read("s.xlsx", &bytes);
    assert_eq!((problems(&schedule).len(), notes(&schedule).len()), (0, 0), "{:?}", problems(&schedule));
    let texts: Vec<&str> = schedule.rows[0].cells.iter().map(|it| &*it.text).collect();
    assert!(["8\"", "7 1/2 in", "24 in", "2%", "TRUE"].iter().all(|it| texts.contains(it)), "{texts:?}");
}

#[test]
fn a_count_merged_over_rows_is_not_counted_for_each() {
    let bytes = written(&["Mark", "Qty", "Kind"], |sheet| {
        sheet.merge_range(1, 1, 2, 1, "12", &Format::new()).expect("is merged");
        for row in 1..3 {
            sheet.write(row, 0, format!("HB-{row}")).expect("is written");
            sheet.write(row, 2, "sillcock").expect("is written");
        }
    });
    let schedule = read("s.xlsx", &bytes);
    assert_eq!([said(&schedule, 2), said(&schedule, 3)].map(|it| it[1].clone()), ["?", "?"]);
    assert!(problems(&schedule)[0].contains("is one count merged over several rows"));
}

#[test]
fn a_stray_cell_in_the_last_corner_is_told_and_costs_nothing() {
    let bytes = written(&["Mark", "Qty"], |sheet| {
        sheet.write(1, 0, "HB-1").expect("is written");
        sheet.write(1_048_575, 16_383, "stray").expect("is written");
    });
    let schedule = read("s.xlsx", &bytes);
    assert_eq!(said(&schedule, 2), ["HB-1"]);
    assert_eq!(unused(&schedule), ["s.xlsx, row 1048576: stray: is beyond the 1,000 columns that are read"]);
}

#[test]
fn a_workbook_is_told_by_its_bytes_and_an_empty_one_is_refused() {
    let bytes = data("same.xlsx");
    assert_eq!(read("schedule.csv", &bytes).rows.len(), 5);
    assert_eq!(read("schedule.yaml", &bytes).rows.len(), 5);
    let empty = Workbook::new().add_worksheet().name().len();
    assert!(empty > 0);
    let mut book = Workbook::new();
    book.add_worksheet();
    assert_eq!(
        refusal("s.xlsx", &book.save_to_buffer().expect("is saved")),
        "s.xlsx: the workbook has no sheet with anything in it"
    );
}

/// A row with rich text, comments and a text box.
fn marked_up() -> Vec<u8> {
    let struck = Format::new().set_font_strikethrough();
    let plain = Format::new();
    let mut workbook = Workbook::new();
    let sheet = workbook.add_worksheet();
    for (column, cell) in (0..).zip(["Mark", "Kind", "Length", "Barrel", "Wall"]) {
        sheet.write_string(0, column, cell).expect("is written");
    }
    for (row, mark) in [(1, "HB-1"), (2, "HB-2"), (3, "HB-3")] {
        sheet.write_string(row, 0, mark).expect("is written");
        sheet.write_string(row, 1, "Sillcock").expect("is written");
        sheet.write_string(row, 2, "12 in").expect("is written");
    }
    sheet.write_rich_string(1, 3, &[(&struck, "brass"), (&struck, " ")]).expect("is written");
    sheet.write_rich_string(2, 3, &[(&plain, "brass "), (&struck, "yellow")]).expect("is written");
    for (row, text) in [(2, "Verify - changed to 8 in"), (3, "Typed by the office")] {
        let note = Note::new(text).add_author_prefix(false);
        sheet.insert_note(row, 2, &note).expect("is written");
    }
    let text = Shape::textbox().set_text("REV 2: all lengths void");
    sheet.insert_shape(3, 6, &text).expect("is drawn");
    workbook.save_to_buffer().expect("is saved")
}

#[test]
fn a_text_struck_through_in_part_or_whole_is_not_known() {
    let schedule = read("s.xlsx", &marked_up());
    for row in [2, 3] {
        assert_eq!(said(&schedule, row)[3], "?", "row {row}");
        let told = problems(&schedule).join("\n");
        assert!(
            told.contains(&format!("row {row}, column \"Barrel\"")) && told.contains("is struck through")
        );
    }
}

#[test]
fn comments_and_text_boxes_are_listed_and_one_that_leaves_its_cell_open_is_held_against_the_row() {
    let schedule = read("s.xlsx", &marked_up());
    let told = unused(&schedule);
    for line in [
        "s.xlsx, row 3, column \"Length\": Verify - changed to 8 in: is a comment on the cell; it is not read",
        "s.xlsx, row 4, column \"Length\": Typed by the office: is a comment on the cell; it is not read",
        "s.xlsx, row 4: REV 2: all lengths void: is a text box drawn over the sheet; it is not read",
    ] {
        assert!(told.iter().any(|it| it == line), "{line} in {told:?}");
    }
    let drawn = "Drawn over the sheet: \"REV 2: all lengths void\" in s.xlsx, row 4";
    assert_eq!(held(&schedule, 3), format!("Comment: \"Verify - changed to 8 in\" under Length; {drawn}"));
    assert_eq!((held(&schedule, 2), held(&schedule, 4)), (drawn.to_owned(), drawn.to_owned()));
}
