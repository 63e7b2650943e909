//! From a schedule as it comes to a length for every outlet, in at most two sheets of questions.

use crate::cli::common::Folder;

/// What somebody who knows the job responds, by the fact that is asked for.
type Known = &'static [(&'static str, &'static str)];

const FILES: [(&str, &str, Known); 3] = [
    (
        "harbor-view.csv",
        include_str!("../../examples/estimator/harbor-view.csv"),
        &[
            ("Inside stop", "no"),
            ("Space behind", "heated room"),
            ("Supply insulation", "none"),
            ("Supply", "copper"),
            ("Outdoor outlet", "outdoor outlet"),
        ],
    ),
    (
        "lot-14.tsv",
        include_str!("../../examples/estimator/lot-14.tsv"),
        &[
            ("Inside stop", "no"),
            ("Supply", "PEX"),
            ("Supply insulation", "none"),
            ("Space behind", "heated room"),
        ],
    ),
    (
        "maple-yard.csv",
        include_str!("../../examples/estimator/maple-yard.csv"),
        &[
            ("Supply insulation", "none"),
            ("Supply", "copper"),
            ("Backflow device", "hose connection vacuum breaker"),
            ("Backflow standard", "ASSE 1052"),
            ("Inside stop", "no"),
            ("Space behind", "heated room"),
            ("Bury depth", "6 ft"),
        ],
    ),
];

/// The sheet with what is known filled in; how many questions it has.
fn filled(sheet: &str, known: Known) -> (String, usize) {
    let mut reader = csv::Reader::from_reader(sheet.trim_start_matches('\u{feff}').as_bytes());
    let headings = reader.headers().expect("headings").clone();
    let column = |name: &str| headings.iter().position(|heading| heading == name).expect("a column");
    let (response, fact) = (column("Response"), column("Fact"));
    let mut out = csv::Writer::from_writer(Vec::new());
    out.write_record(&headings).expect("memory");
    let mut count = 0;
    for row in reader.records() {
        let mut row: Vec<String> = row.expect("a row").iter().map(str::to_owned).collect();
        let answer = known.iter().find(|(own, _)| *own == row[fact]);
        row[response] = answer.unwrap_or_else(|| panic!("nobody knows {}", row[fact])).1.into();
        out.write_record(&row).expect("memory");
        count += 1;
    }
    (String::from_utf8(out.into_inner().expect("memory")).expect("UTF-8"), count)
}

#[test]
fn two_sheets_of_questions_lead_to_a_length_for_every_outlet() {
    for (name, schedule, known) in FILES {
        let job = format!(
            "climate: milwaukee-wi\ncode: {{ name: IRC, edition: 2021 }}\nauthority: {{ frost_depth: 42 in }}\n\
             schedule: {name}\n"
        );
        let mut folder = Folder::new().with(name, schedule).with("job.yaml", job);
        let mut answers = String::new();
        let mut sheets = 0;
        loop {
            folder.run(&format!("review job.yaml --questions q.csv{answers}"));
            let (sheet, questions) = filled(&folder.text("q.csv"), known);
            if questions == 0 {
                break;
            }
            sheets += 1;
            assert!(sheets <= 2, "{name}: a third sheet\n{sheet}");
            answers.push_str(&format!(" --answers a{sheets}.csv"));
            folder = folder.with(&format!("a{sheets}.csv"), sheet);
        }
        // The order list asks for quantities.
        let folder = folder.with("counts.csv", "Marks,Fact,Response\nHB-4,Quantity,1\n");
        if schedule.contains("HB-4") {
            answers.push_str(" --answers counts.csv");
        }
        let ran = folder.run(&format!("orders job.yaml{answers}"));
        assert!(sheets > 0 && !ran.out.contains("Cannot be ordered"), "{name}\n{}", ran.out);
        // Piping in a garage is for the designer, whatever is answered.
        let is_held = ran.out.contains("Hold for the designer");
        assert_eq!(
            (ran.code == 1, is_held),
            (schedule.contains("garage"), schedule.contains("garage")),
            "{name}\n{}",
            ran.out
        );
    }
}
