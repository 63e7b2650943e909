//! Answers: what comes back from a sheet of questions, and what becomes of it.

use crate::review::shared::{SEAT, comment, world};
use crate::rows::by_row;
use coldsill::expr::Value;
use coldsill::facts::Origin;
use coldsill::input::Memory;
use coldsill::report;
use coldsill::review::{Review, Shown, run};
use coldsill::ruleset::Outcome;
use coldsill::units::System;
use serde_json::Value as Json;
use std::collections::BTreeMap;

const SCHEDULE: &str = "\
Mark,Qty,Kind,Closes,Nominal length,Barrel,Wall,Supply,Supply insulation,Backflow
HB-1,4,sillcock,inside,8 in,,2x6,copper,none,none
HB-2,2,sillcock,inside,10 in,,2x6,copper,none,integral
HB-3,1,hose bibb,face,,brass,2x6,copper,none,
";
const HEAD: &str = "Fact,Marks,Rows,Unit,Response";

fn reviewed_with(more: &str, schedule: &str, answers: &str) -> Review {
    let job = format!("climate: minneapolis-mn\nschedule: s.csv\nanswers: a.csv\n{more}");
    let files = Memory::new()
        .with("job.yaml", job)
        .with("s.csv", schedule)
        .with("a.csv", answers)
        .with("outlets.csv", "Model,Barrel\nGEN-1,brass\n");
    run(&world(&files, "job.yaml", None))
}

/// A review of the schedule with these rows of answers.
fn reviewed(answers: &str) -> Review {
    reviewed_with("", SCHEDULE, &format!("{HEAD}\n{answers}"))
}

fn fact<'r>(review: &'r Review, row: usize, name: &str) -> &'r Shown {
    let facts = &review.outlets[row].findings.facts;
    facts.iter().find(|it| &*it.name == name).unwrap_or_else(|| panic!("{name} was not read"))
}

fn word(review: &Review, row: usize, name: &str) -> Option<String> {
    match &fact(review, row, name).value {
        Ok(Value::Text(text)) => Some(text.to_string()),
        _ => None,
    }
}

fn barrels(review: &Review) -> [Option<String>; 2] {
    [0, 1].map(|row| word(review, row, "outlet.barrel"))
}

fn problems(review: &Review) -> Vec<String> {
    review.problems.iter().map(ToString::to_string).collect()
}

fn unused(review: &Review) -> Vec<String> {
    review.unused.iter().map(|it| format!("{}: {}: {}", it.location, it.text, it.why)).collect()
}

/// Findings without the places they come from.
fn findings(review: &Review) -> Json {
    fn strip(value: &mut Json) {
        match value {
            Json::Object(map) => {
                map.remove("at");
                map.remove("from");
                map.values_mut().for_each(strip);
            }
            Json::Array(list) => list.iter_mut().for_each(strip),
            _ => {}
        }
    }
    let mut bytes = Vec::new();
    report::json(review, System::Us, &mut bytes).expect("memory can be written to");
    let mut whole = by_row(serde_json::from_slice(&bytes).expect("JSON"));
    let keys = ["outlets", "tally", "questions", "assumed", "problems"];
    let mut kept: BTreeMap<&str, Json> = keys.iter().map(|key| (*key, whole[*key].take())).collect();
    kept.values_mut().for_each(strip);
    serde_json::to_value(kept).expect("JSON")
}

/// The sheet of a review's questions, filled in by fact and marks.
fn filled(review: &Review, response: impl Fn(&str, &str) -> &'static str) -> String {
    let sheet = report::questions_csv(review, System::Us);
    let mut reader = csv::ReaderBuilder::new().from_reader(sheet.trim_start_matches('\u{feff}').as_bytes());
    let headings = reader.headers().expect("headings").clone();
    let at = |name: &str| headings.iter().position(|it| it == name).expect("a column");
    let (marks, fact, answer) = (at("Marks"), at("Fact"), at("Response"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(&headings).expect("a row");
    for record in reader.records() {
        let mut cells: Vec<String> = record.expect("a row").iter().map(str::to_owned).collect();
        assert_eq!(cells[answer], "", "a sheet is written without responses");
        cells[answer] = response(&cells[fact], &cells[marks]).into();
        writer.write_record(&cells).expect("a row");
    }
    String::from_utf8(writer.into_inner().expect("a sheet")).expect("UTF-8")
}

#[test]
fn filled_sheet_equals_schedule_with_those_cells() {
    let open = reviewed("");
    assert!(open.questions.len() >= 3, "barrel, backflow device, inside stop");
    let sheet = filled(&open, |fact, marks| match (fact, marks) {
        ("Barrel", "HB-1") => "stainless",
        ("Barrel", "HB-2") => "Yellow brass",
        ("Barrel", _) => panic!("barrels are asked for type by type: {marks}"),
        ("Backflow device", _) => "HCVB",
        ("Inside stop", _) => "yes",
        _ => "",
    });
    let answered = reviewed_with("", SCHEDULE, &sheet);
    let schedule = SCHEDULE
        .replace("Backflow\n", "Backflow,Inside stop\n")
        .replace("8 in,,2x6,copper,none,none\n", "8 in,stainless,2x6,copper,none,none,yes\n")
        .replace("10 in,,2x6,copper,none,integral\n", "10 in,Yellow brass,2x6,copper,none,integral,yes\n")
        .replace("brass,2x6,copper,none,\n", "brass,2x6,copper,none,HCVB,yes\n");
    let stops: Vec<_> = open.questions.iter().filter(|it| &*it.fact == "outlet.inside_stop").collect();
    let asked: Vec<u32> =
        stops.iter().flat_map(|it| &it.types).flat_map(|it| &it.outlets).map(|it| it.1.number).collect();
    // A stop is filled in only where it was asked for.
    let schedule: String = schedule
        .lines()
        .zip(1_u32..)
        .map(|(line, row)| {
            let keep = row == 1 || asked.contains(&row);
            let line = if keep { line } else { line.strip_suffix("yes").expect("a stop") };
            format!("{line}\n")
        })
        .collect();
    let stated = reviewed_with("", &schedule, HEAD);
    assert_eq!(problems(&answered), [""; 0]);
    assert_eq!(unused(&answered), [""; 0]);
    assert_eq!(findings(&answered), findings(&stated));
    assert_ne!(findings(&answered), findings(&open));
}

#[test]
fn answer_is_reported_with_its_location() {
    let review = reviewed("Barrel,HB-1,,,stainless\n");
    assert_eq!(comment(&review.outlets[0], SEAT).outcome, Outcome::NoComment);
    let Origin::Answered(location, text) = &fact(&review, 0, "outlet.barrel").origin else {
        panic!("{:?}", fact(&review, 0, "outlet.barrel").origin)
    };
    assert_eq!((location.to_string().as_str(), &**text), ("a.csv, row 2, column \"Response\"", "stainless"));
    let [answered] = review.answered.as_slice() else { panic!("{:?}", review.answered) };
    assert_eq!((&*answered.fact.name, &*answered.applies_to[0]), ("outlet.barrel", "HB-1"));
}

#[test]
fn a_blank_response_is_no_answer() {
    let blank = reviewed("Barrel,HB-1,,,\nBarrel,HB-2,,,TBD\n");
    assert_eq!(barrels(&blank), [None, None]);
    assert_eq!(comment(&blank.outlets[0], SEAT).outcome, Outcome::Clarify);
    // What is stated as unknown is listed; a blank is not.
    assert_eq!((problems(&blank).len(), unused(&blank)), (1, vec![]));
    assert!(problems(&blank)[0].contains("\"TBD\" says that it is not known"), "{:?}", problems(&blank));
}

#[test]
fn unreadable_response_leaves_the_fact_unknown() {
    let review = reviewed("Barrel,HB-1,,,stanless\nNominal length,HB-3,,,10\n");
    assert_eq!(comment(&review.outlets[0], SEAT).outcome, Outcome::Clarify);
    let told = problems(&review);
    assert_eq!(told.len(), 2, "{told:?}");
    assert!(
        told[0].starts_with("a.csv, row 2, column \"Response\": \"stanless\" is not a known value"),
        "{told:?}"
    );
    assert!(told[0].ends_with("did you mean \"stainless\"?"), "{told:?}");
    assert!(told[1].starts_with("a.csv, row 3, column \"Response\": \"10\" has no unit"), "{told:?}");
}

#[test]
fn a_bare_number_takes_the_unit_beside_it() {
    let schedule = "Mark,Kind,Closes,Wall\nA,sillcock,inside,2x6\nB,sillcock,inside,2x6\n";
    let answers = format!("{HEAD}\nNominal length,A,,in,10\nNominal length,B,,in,254 mm\n");
    let review = reviewed_with("", schedule, &answers);
    assert_eq!(problems(&review), [""; 0]);
    for row in [0, 1] {
        let Ok(Value::Quantity(length)) = fact(&review, row, "outlet.nominal_length").value else { panic!() };
        assert!((length.is - 0.254).abs() < 1e-12, "10 in is 0.254 m: {}", length.is);
    }
}

#[test]
fn schedule_wins_over_a_response_that_differs() {
    let review = reviewed("Barrel,HB-3,,,stainless\n");
    assert_eq!(word(&review, 2, "outlet.barrel").as_deref(), Some("brass"));
    assert_eq!(
        problems(&review),
        ["a.csv, row 2, column \"Response\": \"stainless\" contradicts \"brass\" in row 4 of the schedule; \
          \"brass\" is used"]
    );
}

#[test]
fn response_without_a_question_is_listed_as_unused() {
    let review = reviewed("Barrel,HB-3,,,Brass\nBarrel,XX-90,,,brass\nBarrel,HB-1,rows 3,,brass\n");
    assert_eq!(
        unused(&review),
        [
            "a.csv, row 2, column \"Response\": Brass: the schedule states it already",
            "a.csv, row 3, column \"Response\": brass: no faucet of the schedule has these marks and rows",
            "a.csv, row 4, column \"Response\": brass: no faucet of the schedule has these marks and rows",
        ]
    );
    assert_eq!(problems(&review), [""; 0]);
    assert_eq!(barrels(&review), [None, None]);
}

#[test]
fn question_may_be_split_by_marks_or_rows() {
    for answers in [
        "Barrel,HB-1,\"rows 2, 3\",,stainless\nBarrel,HB-2,\"rows 2, 3\",,brass\n",
        "Barrel,HB-1; HB-2,row 2,,stainless\nBarrel,\"HB-1, HB-2\",3,,brass\n",
        "outlet.barrel,hb-1,,,stainless\nBarrel material,,3 to 3,,brass\n",
    ] {
        let review = reviewed(answers);
        assert_eq!(barrels(&review), [Some("stainless".into()), Some("brass".into())], "{answers}");
        assert_eq!((problems(&review), unused(&review)), (vec![], vec![]), "{answers}");
    }
}

#[test]
fn a_sheet_with_semicolons_and_columns_moved_and_added_is_read() {
    let answers =
        "RFI log\n\nWho;Response;Rows;Fact;Notes;Mark\nJ.;stainless;rows 2, 3;Barrel;by phone;HB-1; \n";
    let review = reviewed_with("", SCHEDULE, answers);
    assert_eq!(barrels(&review), [Some("stainless".into()), None]);
    assert_eq!(
        unused(&review),
        [
            "a.csv, row 3: Who: unknown heading",
            "a.csv, row 1: RFI log: stands above the responses; nothing is read from it",
            "a.csv, row 4, column \"Notes\": by phone: is a note to a response; nothing is read from it",
        ]
    );
}

#[test]
fn of_two_answers_of_one_sheet_that_differ_neither_is_used() {
    let review = reviewed("Barrel,HB-1; HB-2,,,brass\nBarrel,HB-1,,,copper\nBarrel,HB-2,,,Brass\n");
    assert_eq!(barrels(&review), [None, Some("brass".into())]);
    assert_eq!(
        problems(&review),
        ["a.csv, row 3, column \"Response\": \"copper\" contradicts \"brass\" in a.csv, row 2, column \
          \"Response\", for row 2; neither is used"]
    );
    // A third one does not decide between them.
    let review = reviewed("Barrel,HB-1,,,brass\nBarrel,HB-1,,,copper\nBarrel,HB-1,,,brass\n");
    assert_eq!(barrels(&review)[0], None);
}

#[test]
fn a_response_with_a_doubtful_note_beside_it_is_not_used() {
    let with = |note: &str| {
        let answers = format!("Fact,Marks,Rows,Unit,Response,Note\nBarrel,HB-1,,,brass,\"{note}\"\n");
        reviewed_with("", SCHEDULE, &answers)
    };
    for note in [
        "not sure, verify",
        "withdrawn",
        "was copper, wrong: use copper",
        "except HB-2",
        "Architect disagrees",
    ] {
        let review = with(note);
        assert_eq!(barrels(&review)[0], None, "{note}");
        assert_eq!(
            problems(&review),
            [format!(
                "a.csv, row 2, column \"Note\": \"{note}\" leaves the response \"brass\" in doubt; it is not used; \
                 expected a response that is final, and a note that only says where it is from"
            )]
        );
    }
    assert_eq!(barrels(&with("?"))[0], None);
    let review = with("by phone, J. Smith");
    assert_eq!((barrels(&review)[0].as_deref(), problems(&review).len()), (Some("brass"), 0));
}

#[test]
fn answer_replaces_an_unreadable_cell_and_both_are_shown() {
    let schedule = SCHEDULE.replace("8 in,,2x6", "8 in,gold,2x6");
    let review = reviewed_with("", &schedule, &format!("{HEAD}\nBarrel,HB-1,,,brass\n"));
    assert_eq!(barrels(&review)[0].as_deref(), Some("brass"));
    assert_eq!(review.problems.len(), 1, "{:?}", problems(&review));
}

#[test]
fn an_answer_goes_before_product_data_and_the_jobs_defaults() {
    let schedule = "Mark,Kind,Closes,Model,Wall\nA,sillcock,inside,GEN-1,2x6\nB,sillcock,inside,,2x6\n";
    let answers = format!("{HEAD}\nBarrel,A; B,,,stainless\n");
    let more = "products: outlets.csv\ndefaults: { barrel: copper }\n";
    let review = reviewed_with(more, schedule, &answers);
    assert_eq!(barrels(&review), [Some("stainless".into()), Some("stainless".into())]);
    assert_eq!(
        problems(&review),
        [
            "a.csv, row 2, column \"Response\": \"stainless\" contradicts the product data of GEN-1, \"brass\" \
          (outlets.csv, row 2, column \"Barrel\"); the answer's is used"
        ]
    );
}

#[test]
fn answered_wall_may_be_an_alias_and_must_exist() {
    let schedule = "Mark,Kind,Closes\nA,sillcock,inside\nB,sillcock,inside\n";
    let review =
        reviewed_with("", schedule, &format!("{HEAD}\nWall,A,,,rim joist batt\nWall,B,,,rim jiost\n"));
    assert_eq!(word(&review, 0, "outlet.wall").as_deref(), Some("rim-joist-batt"));
    assert!(fact(&review, 1, "outlet.wall").value.is_err());
    let told = problems(&review);
    assert!(told.len() == 1 && told[0].contains("row 3") && told[0].contains("did you mean"), "{told:?}");
}

#[test]
fn words_of_an_answered_kind_decide_where_it_closes() {
    let schedule = "Mark,Wall\nA,2x6\n";
    let review = reviewed_with("", schedule, &format!("{HEAD}\nKind,A,,,Frostproof sillcock\n"));
    assert_eq!(word(&review, 0, "outlet.closes").as_deref(), Some("inside"));
}

#[test]
fn unknown_mark_and_fact_suggest_the_nearest() {
    let review = reviewed("Barrel,HB-1; HB-22,,,brass\nBarel,HB-2,,,brass\n");
    assert_eq!(barrels(&review), [Some("brass".into()), None]);
    let told = problems(&review);
    assert!(
        told.iter().any(|it| it.contains("row 3, column \"Fact\": \"Barel\"") && it.ends_with("\"Barrel\"?"))
    );
    assert!(told.iter().any(|it| it.contains("column \"Marks\": \"HB-22\" is not a mark of the schedule")));
}

#[test]
fn a_mark_with_a_comma_in_it_is_asked_for_and_answered_as_one() {
    let schedule = SCHEDULE.replace("HB-1,", "\"HB-1, left\",");
    let open = reviewed_with("", &schedule, HEAD);
    let sheet =
        filled(&open, |fact, marks| if fact == "Barrel" && marks.contains("left") { "brass" } else { "" });
    let review = reviewed_with("", &schedule, &sheet);
    assert_eq!(barrels(&review)[0].as_deref(), Some("brass"));
    assert_eq!(problems(&review), [""; 0]);
}

#[test]
fn sheet_of_many_rows_keeps_cells_within_spreadsheet_limits() {
    let mut schedule = String::from("Mark,Kind,Closes,Wall\n");
    for row in 0..5000 {
        schedule.push_str(&format!("OUTLET-{row:05}-NORTH,sillcock,inside,2x6\n"));
    }
    let open = reviewed_with("", &schedule, HEAD);
    let sheet = filled(&open, |fact, _| if fact == "Backflow device" { "none" } else { "" });
    let longest = sheet.lines().map(str::len).max().unwrap_or(0);
    assert!(longest < 32_767, "{longest}");
    let review = reviewed_with("", &schedule, &sheet);
    let device = |row: usize| word(&review, row, "outlet.backflow_device");
    assert!([0, 1999, 2000, 4999].iter().all(|row| device(*row).as_deref() == Some("none")));
    assert!(review.questions.iter().all(|it| &*it.fact != "outlet.backflow_device"));
}
