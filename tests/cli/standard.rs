//! `coldsill standard` and `coldsill compare` as people run them.

use crate::cli::common::{Folder, run};
use std::fs;
use std::path::Path;

const SMALL: &str = "standard: Two towns\ndate: 2026-03-31\nplaces: [denver-co, dallas-tx]\nwalls: [2x6-siding]\n\
     supplies: [copper]\nbarrels: [brass]\ninside_stop: no\n";

#[test]
fn the_page_of_a_small_standard() {
    let ran = Folder::new().with("two.yaml", SMALL).run("standard two.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    insta::assert_snapshot!(ran.out);
}

/// A cell by itself: its seat temperature with the range, as `sheet` prints it.
#[test]
fn a_cell_is_what_a_sheet_of_the_same_outlet_says() {
    let schedule = "Mark,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop,\
         Backflow standard\nHB-1,wall hydrant,inside,8 in,brass,2x6-siding,heated room,copper,none,no,ASSE 1019 type A\n";
    let folder = Folder::of(schedule).with("two.yaml", SMALL);
    let csv = folder.run("standard two.yaml --format csv").out;
    let mut rows = csv::Reader::from_reader(csv.trim_start_matches('\u{feff}').as_bytes());
    let headings = rows.headers().expect("a line of headings").clone();
    let denver = rows.records().next().expect("a line").expect("it can be read");
    let cell = |name: &str| {
        let at = headings.iter().position(|heading| heading == name).expect("the heading is there");
        denver.get(at).expect("a cell").trim()
    };
    assert_eq!((cell("Order"), cell("Climate")), ("8 in", "denver-co"));
    let sheet = folder.run("sheet s.csv --climate denver-co --mark HB-1").out;
    // A sheet prints what an outlet is good to only in a comment; `depth` has it: tests/standard/cells.rs.
    let seat = cell("Seat at design low");
    assert!(!seat.is_empty() && sheet.contains(seat), "{seat}\n{sheet}");
}

#[test]
fn the_name_of_the_file_says_the_format() {
    let folder = Folder::new().with("two.yaml", SMALL);
    for (name, start) in [
        ("a.json", "{\n  \"coldsill\""),
        ("a.csv", "\u{feff}Place,"),
        ("a.yaml", "# Two towns, of 2026-03-31"),
    ] {
        let ran = folder.run(&format!("standard two.yaml --output {name}"));
        assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (0, "", ""), "{name}");
        assert!(folder.text(name).starts_with(start), "{name}: {}", folder.text(name));
    }
    assert_eq!(folder.run("standard two.yaml --output a.xlsx").code, 0);
    let bytes = fs::read(folder.path().join("a.xlsx")).expect("it is written");
    let tables = coldsill::input::tables("a.xlsx", &bytes).expect("it is a workbook");
    assert_eq!(tables[0].rows.len(), 3);
    folder.run("standard two.yaml --output a.pdf").is_refused(&[
        "a.pdf: cannot be written: .pdf is not a format of this output; expected a name such as review.txt or review.json",
    ]);
    folder.run("standard two.yaml --output two.yaml").is_refused(&[
        "two.yaml: is a file the review reads, and is not written over; expected another file for the report",
    ]);
}

#[test]
fn an_amendment_is_a_rule_file_that_review_takes() {
    let folder = Folder::of(
        "Mark,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation\n\
         HB-1,wall hydrant,inside,6 in,brass,2x6-siding,copper,none\n",
    )
    .with("two.yaml", SMALL);
    assert_eq!(folder.run("standard two.yaml --output enforced.yaml").code, 0);
    let ran = folder.run("review s.csv --climate denver-co --rules enforced.yaml --detail");
    assert!(ran.out.contains("the standard asks for 8 in or more at -22 °F."), "{}", ran.out);
    assert_eq!(folder.run("rules try enforced.yaml").code, 0);
}

#[test]
fn the_same_standard_is_the_same_bytes() {
    let folder = Folder::new().with("two.yaml", SMALL);
    let [one, two] =
        ["json", "json"].map(|format| folder.run(&format!("standard two.yaml --format {format}")).out);
    assert_eq!(one, two);
}

#[test]
fn two_standards_and_two_reviews_are_compared() {
    let folder =
        Folder::new().with("two.yaml", SMALL).with("cold.yaml", format!("{SMALL}design_low: 50-year low\n"));
    for (file, out) in [("two.yaml", "a.json"), ("cold.yaml", "b.json")] {
        assert_eq!(folder.run(&format!("standard {file} --output {out}")).code, 0);
    }
    assert_eq!(folder.run("compare a.json a.json").code, 0);
    let ran = folder.run("compare a.json b.json");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    insta::assert_snapshot!(ran.out);
    let review = run("review examples/live-oak/schedule.csv --climate dallas-tx --format json").out;
    let folder = folder.with("r.json", review);
    assert_eq!(folder.run("compare r.json r.json").code, 0);
    folder.run("compare a.json r.json").is_refused(&[
        "r.json: is not of the same kind as the older document; expected two reviews, or two standards",
    ]);
    let text = folder.text("a.json").replace("\"format\": 1,", "\"format\": 7,");
    let folder = folder.with("newer.json", text);
    let ran = folder.run("compare a.json newer.json");
    assert!(
        ran.err.starts_with("newer.json, line 3, column 13: is of format 7; this version of the program reads format 1; expected a standard"),
        "{}",
        ran.err
    );
}

#[test]
fn a_pipe_shows_no_progress() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    assert!(root.join("examples/builder/standard.yaml").exists());
    let ran = run("standard examples/builder/standard.yaml --format csv");
    // Brass serves no rim joist in the seven colder cities.
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert_eq!(ran.out.lines().count(), 1 + 12 * 2 * 2);
}
