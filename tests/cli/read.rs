//! `coldsill read`: what is understood before any review.

use crate::cli::common::{Folder, NOTHING_TO_ASK, run};
use insta::assert_snapshot;
use std::time::Instant;

#[track_caller]
fn fits(text: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= 80, "{} columns: {line}", line.chars().count());
    }
}

#[test]
fn the_page_of_a_job() {
    let ran = run("read examples/kestrel-ridge/job.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    fits(&ran.out);
    assert_snapshot!(ran.out);
}

#[test]
fn the_page_of_places() {
    let folder = Folder::of("Mark,Qty,Kind,Nominal length,Barrel,Wall\nHB-1,14,Sillcock,8 in,Brass,2x6\n")
        .with(
            "places.csv",
            "Mark,Where,Plan,Count,Space behind\nHB-1,Rear,A,1,Basement\nHB-1,Rear,B,2,Crawl space\n",
        )
        .with("job.yaml", "schedule: s.csv\nplaces: places.csv\nhomes: { A: 6, B: 4 }\n");
    let ran = folder.run("read job.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    fits(&ran.out);
    assert_snapshot!(ran.out);
}

#[test]
fn all_understood_is_0_and_needs_no_climate() {
    let ran = Folder::of(NOTHING_TO_ASK).run("read s.csv");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
}

#[test]
fn a_doubtful_cell_or_a_column_nobody_understands_is_1() {
    for schedule in ["Mark,Barrel\nHB-1,stanless\n", "Mark,Barrel,Color\nHB-1,brass,red\n"] {
        let ran = Folder::of(schedule).run("read s.csv");
        assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{schedule}");
    }
}

#[test]
fn what_cannot_be_read_is_2() {
    let ran = Folder::of("Colour,Taste\nred,sweet\n").run("read s.csv");
    assert!(
        ran.code == 2 && ran.out.is_empty() && ran.err.contains("no row with known headings was found"),
        "{}",
        ran.err
    );
    assert_eq!(Folder::new().run("read nowhere.csv").code, 2);
}

#[test]
fn rows_alike_in_all_but_where_they_are_stand_together() {
    for (other, times) in [("brass", 1), ("copper", 2)] {
        let text =
            format!("Mark,Location,Kind,Barrel\nHB-1,North,Sillcock,Brass\nHB-2,South,Sillcock,{other}\n");
        let ran = Folder::of(&text).run("read s.csv");
        assert_eq!(ran.out.matches("Kind sillcock").count(), times, "{other}: {}", ran.out);
    }
}

#[test]
fn the_csv_has_every_cell_as_it_stands_and_as_it_was_read() {
    let ran = Folder::of("Mark,Barrel,Nominal length\nHB-1,SS,\"12\"\"\"\nHB-2,gold,8 in\n")
        .run("read s.csv --format csv");
    let wanted = "Mark,File,Row,Fact,Heading,Value,Text,From,Column\n\
                  HB-1,s.csv,2,outlet.mark,Mark,HB-1,HB-1,stated,Mark\n\
                  HB-1,s.csv,2,outlet.nominal_length,Nominal length,12 in,\"12\"\"\",stated,Nominal length\n\
                  HB-1,s.csv,2,outlet.barrel,Barrel,stainless,SS,stated,Barrel\n\
                  HB-2,s.csv,3,outlet.mark,Mark,HB-2,HB-2,stated,Mark\n\
                  HB-2,s.csv,3,outlet.nominal_length,Nominal length,8 in,8 in,stated,Nominal length\n\
                  HB-2,s.csv,3,outlet.barrel,Barrel,,gold,unreadable,Barrel\n";
    assert_eq!((ran.code, ran.out.as_str()), (1, wanted));
}

#[test]
fn the_json_tells_what_a_blank_will_be_taken_as() {
    let ran = Folder::of("Mark,Kind\nHB-1,Sillcock\n").run("read s.csv --format json");
    let json = ran.json();
    let blanks = json["blanks"].as_array().expect("blanks");
    let of = |fact: &str| blanks.iter().find(|it| it["fact"] == fact).unwrap_or_else(|| panic!("{fact}"));
    assert_eq!(of("outlet.closes")["taken_as"], "face");
    assert!(of("outlet.barrel")["taken_as"].is_null());
    assert_eq!(json["heading_row"], 1);
}

#[test]
fn four_times_the_marks_take_nowhere_near_sixteen_times_as_long() {
    let took = |rows: usize| {
        let lines: String =
            (0..rows).map(|row| format!("OUTLET-NORTH-{row:05},Sillcock,model {row}\n")).collect();
        let folder = Folder::of(&format!("Mark,Kind,Model\n{lines}"));
        let start = Instant::now();
        let ran = folder.run("read s.csv --format json");
        assert_eq!(ran.json()["outlets"].as_array().map(Vec::len), Some(rows));
        start.elapsed()
    };
    // The faster of two runs, so that another program at work does not count.
    let (few, many) = (took(2_500), took(10_000).min(took(10_000)));
    // In step with the rows it is four times; a list searched for each mark makes it nearly sixteen.
    assert!(many < few * 9, "{few:?} and {many:?}");
}

#[test]
fn the_schema_of_what_was_read_is_printed() {
    assert_eq!(run("schema read").out, coldsill::report::read_schema());
}

#[test]
fn words_that_are_not_used_are_listed_with_all_their_rows() {
    let rows: String = (2..=4).map(|row| format!("HB-{row},\"Sillcock, gizmo\"\n")).collect();
    let more: String = (5..=30).map(|row| format!("HB-{row},\"Sillcock, gizmo{row}\"\n")).collect();
    let folder = Folder::of(&format!("Mark,Description\n{rows}{more}"));
    let ran = folder.run("read s.csv");
    assert!(
        ran.out.contains("row 2, column \"Description\": \"gizmo\": unknown words; also rows 3 and 4"),
        "{}",
        ran.out
    );
    assert!(ran.out.contains("\"gizmo30\""), "{}", ran.out);
    let json = folder.run("read s.csv --format json").json();
    assert_eq!(json["unused"].as_array().map(Vec::len), Some(29));
}
