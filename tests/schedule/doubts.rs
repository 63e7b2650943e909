//! Every form of doubt in every reader: the fact is open, and the cell is listed. `data/doubts.csv` has the outcome by
//! reader: a schedule in CSV and in a workbook, a list, product data, answers.

use super::common::{data, of, opened};
use coldsill::facts::VOCABULARY;
use coldsill::input::Memory;
use coldsill::schedule::{CellValue, Schedule};
use rust_xlsxwriter::Workbook;

/// A default that must not take the place of what is unknown.
const JOB: &str = "climate: miami-fl\ndefaults: { wall: 2x4 }\n";

fn csv_line(cells: &[&str]) -> String {
    cells.iter().map(|it| format!("\"{}\"", it.replace('"', "\"\""))).collect::<Vec<_>>().join(",")
}

fn schedule(files: Memory, job: &str) -> Schedule {
    let files = files.with("job.yaml", format!("{JOB}{job}"));
    of(&opened(&files, "job.yaml", None, None).unwrap_or_else(|problems| panic!("{problems:?}")))
}

fn in_csv(heading: &str, text: &str) -> Schedule {
    let lines = format!("{}\n{}\n", csv_line(&["Mark", "Kind", heading]), csv_line(&["A", "sillcock", text]));
    schedule(Memory::new().with("s.csv", lines), "schedule: s.csv\n")
}

fn in_workbook(heading: &str, text: &str) -> Schedule {
    let mut workbook = Workbook::new();
    let sheet = workbook.add_worksheet();
    for (row, cells) in [["Mark", "Kind", heading], ["A", "sillcock", text]].into_iter().enumerate() {
        let row = u32::try_from(row).expect("is small");
        for (column, cell) in (0..).zip(cells) {
            sheet.write_string(row, column, cell).expect("is written");
        }
    }
    schedule(Memory::new().with("s.xlsx", workbook.save_to_buffer().expect("is saved")), "schedule: s.xlsx\n")
}

fn in_list(heading: &str, text: &str) -> Schedule {
    let text = text.replace('\'', "''");
    let list = format!("outlets:\n  - {{ Mark: A, Kind: sillcock, {heading}: '{text}' }}\n");
    schedule(Memory::new().with("s.yaml", list), "schedule: s.yaml\n")
}

fn in_answers(heading: &str, text: &str) -> Schedule {
    let answers = format!("Fact,Marks,Response\n{}\n", csv_line(&[heading, "A", text]));
    let files = Memory::new().with("s.csv", "Mark,Kind\nA,sillcock\n").with("a.csv", answers);
    schedule(files, "schedule: s.csv\nanswers: a.csv\n")
}

/// What the only row states under a heading; `open` if nothing, which must be listed.
fn outcome(schedule: &Schedule, fact: &str) -> String {
    let cell = schedule.rows[0].cells.iter().find(|cell| VOCABULARY.0[cell.term].aliases.contains(&fact));
    match cell.and_then(|cell| cell.value.as_ref()) {
        Some(CellValue::Text(text)) => text.to_string(),
        Some(CellValue::YesNo(yes)) => if *yes { "yes" } else { "no" }.to_owned(),
        Some(CellValue::Quantity(it)) => ((it.is / 0.0254 * 1e6).round() / 1e6).to_string(),
        None if schedule.problems.is_empty() => "nothing, in silence".to_owned(),
        None => "open".to_owned(),
    }
}

#[test]
fn every_form_of_doubt_is_open_and_listed_in_every_reader() {
    let table = data("doubts.csv");
    let mut wrong = Vec::new();
    let mut lines = csv::Reader::from_reader(table.as_slice());
    let lines: Vec<Vec<String>> =
        lines.records().map(|it| it.expect("is CSV").iter().map(str::to_owned).collect()).collect();
    assert!(lines.len() > 60);
    for line in &lines {
        let [fact, text, in_schedule, list, _, answers] = line.as_slice() else { panic!("{line:?}") };
        for (reader, found, wanted) in [
            ("CSV", in_csv(fact, text), in_schedule),
            ("workbook", in_workbook(fact, text), in_schedule),
            ("list", in_list(fact, text), list),
            ("answers", in_answers(fact, text), answers),
        ] {
            let found = outcome(&found, fact);
            if found != *wanted {
                wrong.push(format!("{fact} \"{text}\" in {reader}: {found}, not {wanted}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_form_of_doubt_is_listed_in_product_data() {
    let table = data("doubts.csv");
    let mut lines = csv::Reader::from_reader(table.as_slice());
    for line in lines.records().map(|it| it.expect("is CSV")).filter(|line| !line[4].is_empty()) {
        let (fact, text, wanted) = (&line[0], &line[1], &line[4]);
        let models = format!("{}\n{}\n", csv_line(&["Model", fact]), csv_line(&["M1", text]));
        let files = Memory::new().with("s.csv", "Mark,Kind,Model\nA,sillcock,M1\n").with("m.csv", models);
        let schedule = schedule(files, "schedule: s.csv\nproducts: m.csv\n");
        let is_listed = schedule.problems.iter().any(|it| &*it.location.file == "m.csv");
        assert_eq!(is_listed, wanted == "open", "{fact} \"{text}\": {:?}", schedule.problems);
    }
}
