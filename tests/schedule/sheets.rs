//! Several sheets of one workbook: those with outdoor outlets are read together, each row located on its sheet.

use super::common::{notes, of, opened, problems, read, said, unused};
use coldsill::input::Memory;
use rust_xlsxwriter::{Shape, Workbook};

/// A workbook of sheets, each a name and lines with cells between bars.
fn workbook(sheets: &[(&str, &str)]) -> Vec<u8> {
    let mut workbook = Workbook::new();
    for (name, lines) in sheets {
        let sheet = workbook.add_worksheet().set_name(*name).expect("is a name");
        for (row, line) in (0..).zip(lines.lines()) {
            for (column, cell) in (0..).zip(line.split('|')) {
                sheet.write_string(row, column, cell).expect("is written");
            }
        }
    }
    workbook.save_to_buffer().expect("is saved")
}

const BUILDING: (&str, &str) = (
    "Building",
    "Mark|Description|Length|CW|Location\nP-1|Water closet||1/2 in|Toilet\nHB-1|Sillcock, frost-proof, brass|10 in|3/4 in|North",
);

#[test]
fn outlets_of_all_sheets_are_read_each_located_on_its_sheet() {
    let site = "SITE\nMark|Qty|Description|CW\nYH-1|3|Yard hydrant, galvanized casing|1 inch or so\nCB-1|1|Catch basin|";
    let schedule = read("s.xlsx", &workbook(&[BUILDING, ("Site", site)]));
    let places: Vec<String> =
        schedule.rows.iter().map(|it| it.location(&schedule.file).to_string()).collect();
    assert_eq!(places, ["s.xlsx, row 3", "s.xlsx, sheet \"Site\", row 3"]);
    let told = problems(&schedule).join("\n");
    assert!(told.contains("s.xlsx, sheet \"Site\", row 3, column \"CW\": \"1 inch or so\""), "{told}");
    let told = notes(&schedule).join("\n");
    assert!(
        told.contains("Site is read too: it has outdoor faucets; its rows are those of sheet 2"),
        "{told}"
    );
    let aside: Vec<String> = schedule.rows_set_aside.iter().map(|it| it.location.to_string()).collect();
    assert_eq!(aside, ["s.xlsx, row 2", "s.xlsx, sheet \"Site\", row 1", "s.xlsx, sheet \"Site\", row 4"]);
}

#[test]
fn a_named_sheet_is_read_alone() {
    let site = "Mark|Qty|Description\nYH-1|3|Yard hydrant";
    let files = Memory::new().with("s.xlsx", workbook(&[BUILDING, ("Site", site)]));
    let world = opened(&files, "s.xlsx", Some("Site"), Some("minneapolis-mn"))
        .unwrap_or_else(|problems| panic!("{problems:?}"));
    let schedule = of(&world);
    assert_eq!(schedule.rows.len(), 1);
    assert_eq!(schedule.rows[0].location(&schedule.file).to_string(), "s.xlsx, row 2");
}

#[test]
fn sheets_that_hold_no_further_outlets_are_listed() {
    for (sheet, why) in [
        (
            "Mark|Qty|Description\nD-1|2|Hollow metal door",
            "a sheet without a row that is plainly an outdoor faucet",
        ),
        ("Symbol|Description\nHB|Hose bibb", "a sheet without a row that is plainly an outdoor faucet"),
        (
            "Mark|Description|Length\nHB-1|Sillcock, brass|8 in",
            "a sheet with the marks of the one that was read",
        ),
    ] {
        let schedule = read("s.xlsx", &workbook(&[BUILDING, ("Other", sheet)]));
        assert_eq!(schedule.rows.len(), 1, "{sheet}");
        let told = unused(&schedule).join("\n");
        assert!(told.contains(&format!("Other: {why}")), "{sheet}: {told}");
    }
}

#[test]
fn a_sheet_of_types_has_its_places_on_another_sheet() {
    let types =
        "Mark|Description|Length|CW\nHB-1|Sillcock, brass|10 in|3/4 in\nHB-2|Hose bibb, bronze|8 in|1/2 in";
    let places = "Mark|Qty|Location\nHB-1|2|North wall\nHB-1|1|East wall\nHB-2|4|Garage wall";
    let schedule = read("s.xlsx", &workbook(&[("Types", types), ("Locations", places)]));
    let places: Vec<String> =
        schedule.rows.iter().map(|it| it.location(&schedule.file).to_string()).collect();
    assert_eq!(places, [2, 3, 4].map(|row| format!("s.xlsx, sheet \"Locations\", row {row}")));
    let lengths: Vec<bool> =
        schedule.rows.iter().map(|row| row.cells.iter().any(|cell| &*cell.text == "10 in")).collect();
    assert_eq!(lengths, [true, true, false]);
    assert!(said(&schedule, 4).contains(&"bronze".to_owned()));
    let told = notes(&schedule).join("\n");
    assert!(told.contains("Locations is read as where the faucets go"), "{told}");
}

#[test]
fn an_answer_names_a_row_of_another_sheet() {
    let site = "Qty|Description\n3|Wall hydrant, freezeless\n1|Wall hydrant, freezeless, loose key";
    let job = "climate: miami-fl\nschedule: s.xlsx\nanswers: a.csv\n";
    let files =
        Memory::new().with("job.yaml", job).with("s.xlsx", workbook(&[BUILDING, ("Site", site)])).with(
            "a.csv",
            "Fact,Rows,Response\noutlet.barrel,sheet 2 row 3,bronze\noutlet.stem,sheet 9 row 3,brass\n",
        );
    let world = opened(&files, "job.yaml", None, None).unwrap_or_else(|problems| panic!("{problems:?}"));
    let schedule = of(&world);
    let bronze: Vec<String> = schedule
        .rows
        .iter()
        .filter(|row| row.cells.iter().any(|cell| &*cell.text == "bronze"))
        .map(|row| row.name())
        .collect();
    assert_eq!(bronze, ["sheet 2 row 3"]);
    let told = unused(&schedule).join("\n");
    assert!(told.contains("brass: no faucet of the schedule has these marks and rows"), "{told}");
}

#[test]
fn a_second_sheet_of_responses_is_told_and_not_read() {
    let job = "climate: miami-fl\nschedule: s.csv\nanswers: a.xlsx\n";
    let (first, second) = ("Fact|Rows|Response\nBarrel|2|bronze", "Fact|Rows|Response\nBarrel|2|brass");
    let files = Memory::new()
        .with("job.yaml", job)
        .with("s.csv", "Mark,Kind\nHB-1,Wall hydrant\n")
        .with("a.xlsx", workbook(&[("Responses", first), ("Older", second)]));
    let world = opened(&files, "job.yaml", None, None).unwrap_or_else(|problems| panic!("{problems:?}"));
    let schedule = of(&world);
    assert!(schedule.rows[0].cells.iter().any(|cell| &*cell.text == "bronze"));
    let told = unused(&schedule).join("\n");
    assert!(told.contains("Older: is another sheet; only one sheet of responses is read"), "{told}");
}

#[test]
fn a_line_about_a_mark_on_a_sheet_that_is_no_schedule_is_listed() {
    let addendum = "Issued for bid\nHB-1: vacuum breaker deleted. Length 6 in.\nAll barrels are to be brass.\nSee sheet P-101";
    let schedule = read("s.xlsx", &workbook(&[BUILDING, ("Addendum 2", addendum)]));
    let told = unused(&schedule).join("\n");
    assert!(
        told.contains(
            "s.xlsx, sheet \"Addendum 2\", row 2: HB-1: vacuum breaker deleted. Length 6 in.: names a mark of the \
             schedule, on a sheet that is not read"
        ),
        "{told}"
    );
    assert!(told.contains("row 3: All barrels are to be brass.: no row cites this"), "{told}");
    assert!(!told.contains("Issued for bid") && !told.contains("P-101"), "{told}");
}

#[test]
fn a_text_box_about_a_mark_on_a_sheet_that_is_no_schedule_is_listed() {
    let mut book = Workbook::new();
    let sheet = book.add_worksheet();
    for (row, line) in (0..).zip(BUILDING.1.lines()) {
        sheet.write_row(row, 0, line.split('|')).expect("is written");
    }
    let cover = book.add_worksheet().set_name("Cover").expect("is a name");
    cover.write(0, 0, "Smith residence").expect("is written");
    let text = Shape::textbox().set_text("HB-1: vacuum breaker deleted");
    cover.insert_shape(4, 1, &text).expect("is drawn");
    let schedule = read("s.xlsx", &book.save_to_buffer().expect("is saved"));
    let told = unused(&schedule);
    let line = "s.xlsx, sheet \"Cover\", row 5: HB-1: vacuum breaker deleted: names a mark of the schedule, on a sheet that is \
                not read";
    assert!(told.iter().any(|it| it == line), "{told:?}");
}
