//! A schedule that carries script, formulas, control characters and very long cells is only text in every format.

use crate::cli::common::{Folder, Ran};
use std::io::{Cursor, Read};

/// Characters that a terminal or a reader of text obeys: ESC, a C1 control, right-to-left override.
const OBEYED: [char; 3] = ['\u{1b}', '\u{9b}', '\u{202e}'];

fn hostile() -> Folder {
    let long = "x".repeat(10_000);
    let rows = [
        "Mark,Qty,Location,Kind,Nominal length,Barrel,Wall,Notes,Finish".to_owned(),
        "<script>alert(1)</script>,1,=cmd|' /C calc'!A0,sillcock,8 in,brass,2x6,@SUM(1),+1".to_owned(),
        format!("=1+1,2,\u{1b}[2J\u{9b}31m,wall hydrant,\u{202e}ni 8,brass,2x6,{long},-1"),
        format!("{long},1,\"<img src=x onerror=alert(1)>\",hose bibb,,brass,2x6,\"a\"\"b\",|x"),
    ];
    Folder::of(&rows.join("\n"))
}

/// A review in a warm place: what is unknown takes few solves there.
fn review(folder: &Folder, format: &str) -> Ran {
    let ran = folder.run(&format!("review s.csv --climate miami-fl --format {format}"));
    assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{format}");
    ran
}

#[test]
fn no_format_obeys_what_a_schedule_carries() {
    let folder = hostile();
    for format in ["text", "letter", "markdown", "html", "csv", "json", "sarif"] {
        let text = review(&folder, format).out;
        for obeyed in OBEYED {
            assert!(!text.contains(obeyed), "{format}: {obeyed:?}");
        }
        let is_markup = matches!(format, "html" | "markdown");
        assert!(!is_markup || !text.contains("<script>alert") && !text.contains("<img src"), "{format}");
    }
    let spell = "cold-spell s.csv --climate minneapolis-mn --format html";
    let of_a_mark = format!("{spell} --mark <script>alert(1)</script>");
    for command in ["read s.csv", "read s.csv --format csv", spell, &of_a_mark] {
        let text = folder.run(command).out;
        assert!(!OBEYED.iter().any(|obeyed| text.contains(*obeyed)), "{command}");
        assert!(!command.contains("html") || !text.is_empty() && !text.contains("<script>"), "{command}");
    }
    let sheet = folder.run("sheet s.csv --climate minneapolis-mn --mark =1+1").out;
    assert!(sheet.contains("\u{fffd}[2J") && !OBEYED.iter().any(|obeyed| sheet.contains(*obeyed)), "{sheet}");
}

#[test]
fn no_cell_of_csv_or_a_workbook_is_a_formula() {
    let folder = hostile();
    let spell = "cold-spell s.csv --climate minneapolis-mn --format csv";
    // The hours of a spell have numbers below zero, which are no formulas.
    let texts = [
        (review(&folder, "csv").out, false),
        (folder.run("read s.csv --format csv").out, false),
        (folder.run(spell).out, true),
        (folder.run(&format!("{spell} --crew")).out, false),
    ];
    for (text, has_numbers) in texts {
        let mut reader =
            csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
        for record in reader.records() {
            for cell in &record.expect("a line of CSV") {
                let is_number = has_numbers && cell.parse::<f64>().is_ok();
                assert!(is_number || !cell.starts_with(['=', '+', '-', '@', '|']), "{cell}");
            }
        }
    }
    let path = folder.path().join("r.xlsx");
    folder.run("review s.csv --climate miami-fl --output r.xlsx");
    let mut archive =
        zip::ZipArchive::new(Cursor::new(std::fs::read(path).expect("a workbook"))).expect("a package");
    for index in 0..archive.len() {
        let mut part = String::new();
        archive.by_index(index).expect("a part").read_to_string(&mut part).expect("UTF-8");
        for formula in ["<f>", "<t xml:space=\"preserve\">=", "<t xml:space=\"preserve\">@", "<script>"] {
            assert!(!part.contains(formula), "{formula}");
        }
        assert!(!OBEYED.iter().any(|obeyed| part.contains(*obeyed)));
    }
}
