//! Answers for a job with places: a row of the schedule and a row of the list of places may have one number.

use crate::review::shared::world;
use coldsill::expr::Value;
use coldsill::input::Memory;
use coldsill::report;
use coldsill::review::{Review, Shown, run};
use coldsill::units::System;

const JOB: &str = "climate: minneapolis-mn\nschedule: s.csv\nplaces: p.csv\nanswers: a.csv\n";
/// HB-1 goes to two places, of which row 3 states no wall; HB-2 in row 3 and HB-3 in row 4 stay as they are here.
const SCHEDULE: &str = "\
Mark,Kind,Closes,Seat depth,Barrel
HB-1,wall hydrant,inside,9 in,brass
HB-2,wall hydrant,inside,9 in,brass
HB-3,wall hydrant,inside,9 in,brass
";
const PLACES: &str = "Mark,Location,Count,Wall\nHB-1,North,2,2x6-siding\nHB-1,South,2,\n";

fn reviewed_as(job: &str, answers: &str) -> Review {
    let files = Memory::new()
        .with("job.yaml", job)
        .with("s.csv", SCHEDULE)
        .with("p.csv", PLACES)
        .with("a.csv", answers);
    run(&world(&files, "job.yaml", None))
}

/// A review with these rows of answers.
fn reviewed(answers: &str) -> Review {
    reviewed_as(JOB, &format!("Fact,Marks,Rows,Response\n{answers}"))
}

/// Where each outlet stands, and its wall.
fn walls(review: &Review) -> Vec<(String, Option<String>)> {
    let wall = |facts: &[Shown]| {
        let fact = facts.iter().find(|it| &*it.name == "outlet.wall")?;
        match &fact.value {
            Ok(Value::Text(text)) => Some(text.to_string()),
            _ => None,
        }
    };
    let outlets = review.outlets.iter();
    outlets.map(|it| (format!("{} {}", it.mark, it.location), wall(&it.findings.facts))).collect()
}

fn problems(review: &Review) -> Vec<String> {
    review.problems.iter().map(ToString::to_string).filter(|it| it.starts_with("a.csv")).collect()
}

/// The sheet of the review's questions with the wall filled in, with or without its marks.
fn filled(review: &Review, with_marks: bool) -> String {
    let sheet = report::questions_csv(review, System::Us);
    let mut reader = csv::Reader::from_reader(sheet.trim_start_matches('\u{feff}').as_bytes());
    let headings = reader.headers().expect("headings").clone();
    let at = |name: &str| headings.iter().position(|it| it == name).expect("a column");
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&headings).expect("a row");
    for record in reader.records() {
        let mut cells: Vec<String> = record.expect("a row").iter().map(str::to_owned).collect();
        if cells[at("Fact")] == "Wall" {
            cells[at("Response")] = "2x4-siding".into();
        }
        if !with_marks {
            cells[at("Marks")].clear();
        }
        writer.write_record(&cells).expect("a row");
    }
    String::from_utf8(writer.into_inner().expect("a sheet")).expect("UTF-8")
}

#[test]
fn a_sheet_filled_in_answers_every_outlet_it_asks_of_with_its_marks_or_without() {
    let open = reviewed("");
    let without_wall = |review: &Review| walls(review).iter().filter(|it| it.1.is_none()).count();
    // One place of HB-1, HB-2 and HB-3.
    assert_eq!(without_wall(&open), 3);
    for with_marks in [true, false] {
        let sheet = filled(&open, with_marks);
        assert!(sheet.contains("rows 3, 4; place row 3"), "{sheet}");
        let answered = reviewed_as(JOB, &sheet);
        let walls: Vec<_> = walls(&answered).into_iter().map(|it| it.1.unwrap_or_default()).collect();
        let (own, new) = ("2x6-siding", "2x4-siding");
        assert_eq!(walls, [own, new, new, new], "{sheet}");
        assert_eq!(problems(&answered), [""; 0]);
    }
}

#[test]
fn an_outlet_listed_in_the_job_is_asked_for_and_answered_by_its_line() {
    let places = "places:\n  - { mark: HB-1, location: North, count: 2, wall: 2x6-siding }\n  - { mark: HB-1, location: South, count: 2 }\n";
    let job = JOB.replace("places: p.csv\n", places);
    let open = reviewed_as(&job, "Fact,Marks,Response\n");
    let sheet = filled(&open, false);
    // The job's lines 3, 4 and 5 are `places:` and its two entries.
    assert!(sheet.contains("rows 3, 4; job line 5"), "{sheet}");
    let answered = reviewed_as(&job, &sheet);
    let walls: Vec<_> = walls(&answered).into_iter().map(|it| it.1.unwrap_or_default()).collect();
    assert_eq!(walls, ["2x6-siding", "2x4-siding", "2x4-siding", "2x4-siding"]);
}

#[test]
fn a_number_at_which_no_outlet_stands_is_told_with_the_row_that_may_be_meant() {
    let review = reviewed("Wall,,\"rows 2, 3\",2x4-siding\n");
    assert_eq!(
        problems(&review),
        ["a.csv, row 2, column \"Rows\": \"row 2\" is not a row of a faucet; did you mean \"place row 2\"?"]
    );
    let answered: Vec<_> =
        walls(&review).into_iter().filter(|it| it.1.as_deref() == Some("2x4-siding")).collect();
    assert_eq!(answered.len(), 1);
    assert_eq!(answered[0].0, "HB-2 s.csv, row 3");
}

#[test]
fn a_mark_whose_row_is_no_longer_where_the_sheet_has_it_is_told() {
    // As of a schedule in which HB-1 stood in row 3, HB-2 in row 4 and HB-3 in row 5.
    let review =
        reviewed("Wall,HB-2; HB-3,\"rows 4, 3\",2x4-siding\nWall,HB-1; HB-2,\"rows 3, 4\",2x4-siding\n");
    assert_eq!(
        problems(&review),
        [
            "a.csv, row 3, column \"Marks\": \"HB-1\" is in none of the rows named, and other marks are; it is not \
             answered; expected marks and rows of the same schedule"
        ]
    );
}

#[test]
fn what_a_place_states_is_told_as_the_places_and_not_as_an_answers() {
    let review = reviewed("Wall,HB-1,place row 2,2x4-siding\n");
    assert_eq!(
        problems(&review),
        [
            "a.csv, row 2, column \"Response\": \"2x4-siding\" contradicts \"2x6-siding\", stated for the faucet of \
             place row 2 (p.csv, row 2, column \"Wall\"); \"2x6-siding\" is used"
        ]
    );
}
