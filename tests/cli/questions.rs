//! The sheet of questions and the answers, as people run them.

use crate::cli::common::{Folder, unwrapped};
use std::io::{Cursor, Read, Write};

const SCHEDULE: &str = "Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation\n\
                        =HB-1,4,sillcock,inside,8 in,,2x6,copper,none\n";

#[test]
fn a_sheet_is_written_for_a_spreadsheet_and_its_responses_are_read_back() {
    let folder = Folder::of(SCHEDULE);
    let ran = folder.run("review --detail s.csv --climate minneapolis-mn --questions q.csv");
    assert_eq!(ran.code, 1);
    let sheet = folder.text("q.csv");
    // RFC 4180 ends lines by CR and LF; the mark tells a spreadsheet that it is UTF-8.
    assert!(sheet.starts_with('\u{feff}'));
    assert!(sheet.lines().count() > 1 && sheet.matches('\n').count() == sheet.matches("\r\n").count());
    // What starts with "=" would be worked out as a formula.
    assert!(!sheet.contains(",=") && sheet.contains(", =HB-1,"), "{sheet}");
    let barrel = sheet.lines().find(|line| line.ends_with("Barrel")).expect("the barrel is asked for");
    let filled = sheet.replace(barrel, &barrel.replace(",,,Barrel", ",stainless,,Barrel"));
    assert_ne!(filled, sheet);
    let folder = folder.with("back.csv", filled);
    let ran = folder.run("review --detail s.csv --climate minneapolis-mn --answers back.csv");
    let page = unwrapped(&ran.out);
    assert!(page.contains("Answers back.csv") && page.contains("From answers"), "{}", ran.out);
    assert!(!page.contains("What metal is the barrel?"), "{}", ran.out);
    let json = folder.run("review s.csv --climate minneapolis-mn --answers back.csv --format json").json();
    let fact = &json["outlets"][0]["facts"]["outlet.barrel"];
    assert_eq!((&fact["from"], &fact["at"]["file"]), (&"answer".into(), &"back.csv".into()));
    let sheet = folder.run_with(&[
        "sheet",
        "s.csv",
        "--climate",
        "minneapolis-mn",
        "--answers",
        "back.csv",
        "--mark",
        "=HB-1",
    ]);
    assert!(unwrapped(&sheet.out).contains("Barrel stainless answer back.csv, row"), "{}", sheet.out);
}

#[test]
fn a_sheet_is_not_written_over_the_schedule_nor_the_answers_nor_the_report() {
    let folder = Folder::of(SCHEDULE).with("a.csv", "Fact,Marks,Response\nBarrel,=HB-1,brass\n");
    let command = "review --detail s.csv --climate minneapolis-mn --answers a.csv --questions";
    for file in ["s.csv", "a.csv"] {
        folder.run(&format!("{command} {file}")).is_refused(&[&format!(
            "{file}: is a file the review reads, and is not written over; expected another file for the report"
        )]);
    }
    folder.run(&format!("{command} q.csv --output q.csv")).is_refused(&[
        "q.csv: is named for both the questions and the report; expected another file for the questions",
    ]);
    assert_eq!(folder.names(), ["a.csv", "s.csv"]);
    assert_eq!(folder.text("s.csv"), SCHEDULE);
}

#[test]
fn a_file_that_is_no_sheet_of_questions_is_refused() {
    let folder = Folder::of(SCHEDULE);
    folder.run("review --detail s.csv --climate minneapolis-mn --answers s.csv").is_refused(&[
        "s.csv: has no column \"Response\"; expected a sheet of questions as `--questions` writes it, with responses \
         filled in",
    ]);
    folder
        .run("review --detail s.csv --climate minneapolis-mn --answers none.csv")
        .is_refused(&["none.csv: there is no such file"]);
}

#[test]
fn the_page_lists_twelve_questions_and_counts_the_rest() {
    let facts =
        ["sleeve", "flashing", "fire_rated", "firestop", "upstream_device", "check_valve", "drains_to_soil"];
    let mut rules = String::from("amendment: House\nadd:\n");
    for fact in facts {
        rules.push_str(&format!(
            "  - id: {}-wanted\n    title: t\n    basis: company\n    why: w\n    needs: outlet.{fact}\n    outcome: \
             revise\n    says: s\n    cases:\n      - {{ name: a, given: {{ outlet.{fact}: yes }}, gives: no comment \
             }}\n      - {{ name: b, given: {{ outlet.{fact}: no }}, gives: revise }}\n      - {{ name: c, given: {{ \
             outlet.kind: sillcock }}, gives: clarify }}\n",
            fact.replace('_', "-")
        ));
    }
    let folder = Folder::of("Mark,Closes\nA,\n").with("house.yaml", rules);
    let command = "review --detail s.csv --climate duluth-mn --rules house.yaml";
    let page = folder.run(command).out;
    let json = folder.run(&format!("{command} --format json")).json();
    let asked = json["questions"].as_array().expect("a list").len();
    assert!(asked > 13, "{asked}");
    let numbered =
        page.lines().filter(|line| line.split("  ").next().is_some_and(|it| it.parse::<u8>().is_ok()));
    let section =
        page.split("Questions, most useful").nth(1).and_then(|it| it.split("Assumed (state").next());
    let section = section.expect("there are questions");
    let in_section = numbered.filter(|line| section.contains(*line)).count();
    assert_eq!(in_section, 12, "{section}");
    let more = format!("{} more questions are on the sheet.", asked - 12);
    assert!(unwrapped(section).contains(&more), "{section}");
}

const FIXTURES: &str = "Mark,Description,Location\nP-1,Water closet,Toilet\nP-2,\"Hose bibb, brass\",Garage\n\
                        P-3,\"Sillcock, frost-proof, 10 in long\",North wall\n";

#[test]
fn a_row_is_set_aside_or_kept_by_an_answer_on_a_sheet_in_csv() {
    let folder = Folder::of(FIXTURES);
    let command = "review s.csv --climate minneapolis-mn";
    folder.run(&format!("{command} --questions q.csv"));
    let sheet = folder.text("q.csv");
    let asked = sheet.lines().find(|line| line.ends_with("Outdoor outlet")).expect("is asked");
    assert!(
        asked.contains(",Is it an outdoor outlet?,P-2:") || asked.contains("\"P-2: Hose bibb"),
        "{asked}"
    );
    for (response, marks, is_asked) in [
        ("not an outdoor outlet", vec!["P-3"], false),
        ("no", vec!["P-3"], false),
        ("outdoor outlet", vec!["P-2", "P-3"], false),
        ("", vec!["P-2", "P-3"], true),
        ("yes?", vec!["P-2", "P-3"], true),
    ] {
        let filled = sheet
            .replace(asked, &asked.replace(",,,Outdoor outlet", &format!(",{response},,Outdoor outlet")));
        let folder = Folder::of(FIXTURES).with("back.csv", filled);
        let json = folder.run(&format!("{command} --answers back.csv --format json")).json();
        let outlets = json["outlets"].as_array().expect("a list");
        let found: Vec<&str> = outlets.iter().map(|it| it["mark"].as_str().expect("a text")).collect();
        assert_eq!(found, marks, "{response}");
        let problems = json["problems"].to_string();
        assert_eq!(problems.contains("reviewed as an outdoor faucet"), is_asked, "{response}: {problems}");
        assert_eq!(problems.contains("does not say whether it is"), response == "yes?", "{problems}");
    }
}

#[test]
fn of_two_answers_to_whether_it_is_an_outlet_the_newer_stands() {
    let sheet = |response: &str| format!("Row,Response,Fact\n3,{response},Outdoor outlet\n");
    let job = "climate: minneapolis-mn\nschedule: s.csv\nanswers: [old.csv, new.csv]\n";
    let folder = Folder::of(FIXTURES)
        .with("old.csv", sheet("outdoor outlet"))
        .with("new.csv", sheet("not an outdoor outlet"))
        .with("job.yaml", job);
    let json = folder.run("review job.yaml --format json").json();
    assert_eq!(json["outlets"].as_array().map(Vec::len), Some(1));
    let problems = json["problems"].to_string();
    assert!(
        problems.contains("is answered otherwise by new.csv, row 2") && problems.contains("that is used"),
        "{problems}"
    );
}

#[test]
fn answers_that_set_every_row_aside_are_an_error() {
    let sheet = "Mark,Response,Fact\nP-2,no,Outdoor outlet\nP-3,not an outdoor outlet,Outdoor outlet\n";
    let ran = Folder::of(FIXTURES)
        .with("a.csv", sheet)
        .run("review s.csv --climate minneapolis-mn --answers a.csv");
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("has no faucets left: the answers set all of them aside"), "{}", ran.err);
}

#[test]
fn a_row_is_set_aside_by_an_answer_on_a_sheet_in_xlsx() {
    let folder = Folder::of(FIXTURES);
    let command = "review s.csv --climate minneapolis-mn";
    folder.run(&format!("{command} --questions q.xlsx"));
    // The Response is column J; the row is that with the fact in column L.
    let edited = edited(&std::fs::read(folder.path().join("q.xlsx")).expect("is written"), |sheet| {
        let end = sheet.find(">Outdoor outlet<").expect("is asked");
        let cell = sheet[..end].rfind("<c r=\"L").expect("a cell");
        let number: String = sheet[cell + 7..].chars().take_while(char::is_ascii_digit).collect();
        let response =
            format!("<c r=\"J{number}\" t=\"inlineStr\"><is><t>not an outdoor outlet</t></is></c>");
        format!("{}{response}{}", &sheet[..cell], &sheet[cell..])
    });
    let folder = Folder::of(FIXTURES).with("back.xlsx", edited);
    let json = folder.run(&format!("{command} --answers back.xlsx --format json")).json();
    assert_eq!(json["outlets"].as_array().map(Vec::len), Some(1));
    assert!(json["aside"].to_string().contains("set aside by the job or an answer"), "{}", json["aside"]);
}

/// A workbook with another text of its sheet.
fn edited(workbook: &[u8], edit: impl Fn(&str) -> String) -> Vec<u8> {
    let mut archive = zip::ZipArchive::new(Cursor::new(workbook)).expect("is a package");
    let mut writer = zip::ZipWriter::new(Cursor::new(Vec::new()));
    for index in 0..archive.len() {
        let mut file = archive.by_index(index).expect("is there");
        let (name, mut text) = (file.name().expect("has a name").into_owned(), String::new());
        file.read_to_string(&mut text).expect("is text");
        let text = if name.ends_with("sheet1.xml") { edit(&text) } else { text };
        writer.start_file(name, zip::write::SimpleFileOptions::default()).expect("is started");
        writer.write_all(text.as_bytes()).expect("is written");
    }
    writer.finish().expect("is finished").into_inner()
}
