//! One mark at many places, plan options, and counts from either.

use coldsill::expr::Value;
use coldsill::facts::{Origin, Sources, World, open};
use coldsill::input::Memory;
use coldsill::review::{self, OutletReview, Review};
use coldsill::shipped;
use rust_xlsxwriter::Workbook;

const SCHEDULE: &str = "Mark,Qty,Kind,Nominal length,Barrel,Wall\n\
                        HB-1,14,Frostproof sillcock,8 in,Brass,2x6\n\
                        HB-2,3,Wall hydrant,12 in,Stainless,\n";

fn open_job(job: &str, places: &str) -> Result<World, Vec<String>> {
    open_with(&Memory::new().with("job.yaml", job).with("s.csv", SCHEDULE).with("places.csv", places))
}

fn open_with(files: &Memory) -> Result<World, Vec<String>> {
    let climates = shipped::climates().expect("the shipped climates are right");
    let base_rules = shipped::rules();
    let sources = Sources {
        files,
        source: "job.yaml",
        climate: None,
        rules: &[],
        presets: Default::default(),
        design_low: None,
        answers: &[],
        sheet: None,
        base_rules: &base_rules,
        climates,
    };
    open(&sources).map_err(|problems| problems.iter().map(ToString::to_string).collect())
}

fn review(more: &str, places: &str) -> Review {
    let job = format!("climate: duluth-mn\nschedule: s.csv\n{more}");
    review::run(&open_job(&job, places).unwrap_or_else(|problems| panic!("{problems:?}")))
}

fn of_file(places: &str) -> Review {
    review("places: places.csv\n", places)
}

fn said(outlet: &OutletReview, name: &str) -> review::Shown {
    outlet.fact(name).unwrap_or_else(|| panic!("{name} is not stated"))
}

fn word(outlet: &OutletReview, name: &str) -> String {
    match &said(outlet, name).value {
        Ok(Value::Text(word)) => word.to_string(),
        other => panic!("{other:?}"),
    }
}

fn lines(review: &Review) -> Vec<String> {
    review.problems.iter().map(ToString::to_string).collect()
}

/// A mark in two rows of the schedule, each with its location.
#[test]
fn of_two_rows_with_its_mark_a_place_takes_the_one_at_its_location() {
    let schedule = "Mark,Location,Kind,Nominal length,Barrel,Wall\n\
                    HB-1,North,Frostproof sillcock,8 in,Brass,2x6\n\
                    HB-1,South,Frostproof sillcock,12 in,Stainless,2x6\n";
    let places = "Mark,Location,Count\nHB-1,South,6\n";
    let job = "climate: duluth-mn\nschedule: s.csv\nplaces: places.csv\n";
    let files = Memory::new().with("job.yaml", job).with("s.csv", schedule).with("places.csv", places);
    let review = review::run(&open_with(&files).unwrap_or_else(|problems| panic!("{problems:?}")));
    let south =
        review.outlets.iter().find(|it| &*it.location.file == "places.csv").expect("the place is reviewed");
    assert_eq!(word(south, "outlet.barrel"), "stainless");
}

#[test]
fn each_place_is_an_outlet_with_the_facts_of_its_type_and_its_own() {
    let review = of_file(
        "Mark,Location,Count,Wall,Space behind\nHB-1,North,8,,Basement\nHB-1,South,6,2x6,Crawlspace\nHB-2,Entry,3,2x4,\n",
    );
    assert_eq!(lines(&review), Vec::<String>::new());
    let [north, south, entry] = review.outlets.as_slice() else { panic!("{} outlets", review.outlets.len()) };
    assert_eq!([north, south, entry].map(|it| it.quantity), [Some(8.0), Some(6.0), Some(3.0)]);
    assert_eq!(
        [north, south, entry].map(|it| it.location.to_string()),
        [2, 3, 4].map(|row| format!("places.csv, row {row}"))
    );
    assert_eq!(word(north, "outlet.barrel"), "brass");
    assert_eq!([north, south].map(|it| word(it, "outlet.space_behind")), ["basement", "crawlspace"]);
    // A fact keeps the file it stands in, and what a place leaves blank is the type's.
    let Origin::Stated(at, _) = &said(north, "outlet.barrel").origin else { panic!("stated") };
    assert_eq!(at.to_string(), "s.csv, row 2, column \"Barrel\"");
    let Origin::Stated(at, _) = &said(south, "outlet.space_behind").origin else { panic!("stated") };
    assert_eq!(at.to_string(), "places.csv, row 3, column \"Space behind\"");
    assert_eq!(word(north, "outlet.wall"), "2x6-siding");
}

#[test]
fn a_quantity_that_is_not_the_count_of_its_places_is_told_with_both() {
    let review = of_file("Mark,Location,Count\nHB-1,North,8\nHB-1,South,5\nHB-2,Entry,3\n");
    // 8 + 5.
    assert_eq!(
        lines(&review),
        [
            "s.csv, row 2, column \"Qty\": \"14\" differs from the count of its places, 13, from places.csv, row 2 on; the \
          places' counts are used"
        ]
    );
}

#[test]
fn a_place_without_a_count_is_not_one_and_nothing_is_compared() {
    let review = of_file("Mark,Location,Count\nHB-1,North,\nHB-1,South,5\nHB-2,Entry,3\n");
    assert_eq!(lines(&review), Vec::<String>::new());
    assert_eq!(review.outlets[0].quantity, None);
}

#[test]
fn plan_options_count_for_every_home_that_is_built_to_them() {
    let places = "Mark,Location,Plan,Count\nHB-1,Rear,Plan A,1\nHB-1,Rear,Plan B,2\nHB-2,Entry,,3\n";
    let review = review("places: places.csv\nhomes: { Plan A: 6, Plan B: 4 }\n", places);
    // 1 × 6 + 2 × 4 = 14, the schedule's quantity.
    assert_eq!(lines(&review), Vec::<String>::new());
    assert_eq!(
        review.outlets.iter().map(|it| it.quantity).collect::<Vec<_>>(),
        [Some(6.0), Some(8.0), Some(3.0)]
    );
}

#[test]
fn plan_options_without_homes_are_asked_about_and_not_added_up() {
    let review = of_file("Mark,Location,Plan,Count\nHB-1,Rear,Plan A,1\nHB-1,Side,Plan A,1\nHB-2,Entry,,3\n");
    assert_eq!(
        lines(&review),
        ["places.csv, row 2, column \"Plan\": \"Plan A\" is a plan option without a number of homes; its \
          faucets are not counted; expected `homes: { Plan A: 12 }` in the job"]
    );
    assert_eq!(review.outlets[0].quantity, None);
}

#[test]
fn marks_that_only_one_of_the_two_has_are_told() {
    let review = of_file("Mark,Location,Count\nHB-1,North,14\nHB-3,Pool,2\n,Shed,1\n");
    let told = lines(&review);
    for wanted in [
        "s.csv, row 3, column \"Mark\": \"HB-2\" has no place in places.csv; it is reviewed as listed in the schedule",
        "places.csv, row 3, column \"Mark\": \"HB-3\" is not a mark of s.csv; the place is skipped",
        "places.csv, row 4: the place has no mark and is skipped",
    ] {
        assert!(told.iter().any(|it| it.starts_with(wanted)), "{wanted}\n{told:?}");
    }
    assert_eq!((told.len(), review.outlets.len()), (3, 2));
}

#[test]
fn a_place_that_says_what_the_outlet_is_or_contradicts_its_type_is_told() {
    let review = of_file(
        "Mark,Location,Count,Wall,Barrel\nHB-1,North,8,2x6 wood frame,Copper\nHB-1,South,6,2x4,\nHB-2,Entry,3,,\n",
    );
    // Two names of one wall do not contradict each other.
    assert_eq!(
        lines(&review),
        [
            "places.csv, row 3, column \"Wall\": \"2x4\" differs from the schedule, \"2x6\" (s.csv, row 2, column \
          \"Wall\"); the place's value is used"
        ]
    );
    assert!(review.unused.iter().any(|it| it.location.to_string() == "places.csv, row 2, column \"Barrel\""));
    assert_eq!(word(&review.outlets[0], "outlet.barrel"), "brass");
    assert_eq!(word(&review.outlets[1], "outlet.wall"), "2x4-siding");
}

#[test]
fn places_listed_in_the_job_are_located_by_its_lines() {
    let review = review(
        "places:\n  - { mark: HB-1, location: North, count: 14, space behind: basement }\n  - { mark: HB-2, count: 3, wall: adobbe }\n",
        "",
    );
    assert_eq!(review.outlets[0].location.to_string(), "job.yaml, line 4, column 5");
    let told = lines(&review);
    assert!(
        told.len() == 1 && told[0].contains("line 5") && told[0].contains("did you mean \"adobe\"?"),
        "{told:?}"
    );
}

#[test]
fn homes_that_are_no_number_or_of_no_place_are_told() {
    let places = "Mark,Location,Plan,Count\nHB-1,Rear,Plan A,7\nHB-2,Entry,,3\n";
    let job = "climate: duluth-mn\nschedule: s.csv\nplaces: places.csv\nhomes: { Plan A: some }\n";
    let problems = open_job(job, places).expect_err("it is refused");
    assert!(problems[0].contains("line 4") && problems[0].contains("number of homes"), "{problems:?}");
    let review = review("places: places.csv\nhomes: { Plan A: 2, Plan C: 3 }\n", places);
    assert!(lines(&review).iter().any(|it| it.contains("\"Plan C\" is a plan option without places")));
    let alone = "climate: duluth-mn\nschedule: s.csv\nhomes: { Plan A: 2 }\n";
    assert!(open_job(alone, places).expect_err("it is refused")[0].contains("no places are listed"));
}

#[test]
fn a_plan_option_a_space_and_a_fact_of_a_place_are_given_once() {
    let job = "climate: duluth-mn\nschedule: s.csv\nplaces:\n  - { Mark: HB-1, Location: North, Where: South, Count: 4, Qty: 9 }\n";
    let more = "homes: { Plan A: 4, plan-a: 6 }\n";
    assert_eq!(
        open_job(&format!("{job}{more}"), "").expect_err("it is refused"),
        [
            "job.yaml, line 5, column 21: \"plan-a\" is a plan option given twice; expected one number of homes for it"
        ]
    );
    let more = "spaces: { Basement: { factor: 20 % }, basement: { temperature: 68 °F } }\n";
    assert_eq!(
        open_job(&format!("{job}{more}"), "").expect_err("it is refused"),
        ["job.yaml, line 5, column 39: \"basement\" is a space given twice; expected one entry for it"]
    );
    let told = lines(&review::run(&open_job(job, "").expect("it opens")));
    for (heading, column) in [("Where", 36), ("Qty", 60)] {
        let wanted = format!(
            "job.yaml, line 4, column {column}: \"{heading}\" is given twice for one place; expected one of the two, which mean \
             the same"
        );
        assert!(told.contains(&wanted), "{wanted}\n{told:?}");
    }
}

#[test]
fn every_mark_the_schedule_does_not_have_is_told_and_the_first_hundred_get_a_suggestion() {
    let rows: String = (0..150).map(|at| format!("HB-1{at:02x},Hall {at},1\n")).collect();
    let told = lines(&of_file(&format!("Mark,Location,Count\nHB-1,North,14\nHB-2,Entry,3\n{rows}")));
    assert_eq!(told.iter().filter(|it| it.contains("is not a mark of s.csv")).count(), 150);
    assert_eq!(told.iter().filter(|it| it.contains("did you mean \"HB-1\"")).count(), 100);
}

/// A workbook with a cover sheet before the list of places.
fn workbook(rows: &[[&str; 3]]) -> Vec<u8> {
    let mut book = Workbook::new();
    book.add_worksheet()
        .set_name("Cover")
        .and_then(|it| it.write(0, 0, "Kestrel Ridge"))
        .expect("is written");
    let sheet = book.add_worksheet().set_name("Places").expect("is named");
    for (at, row) in (0..).zip(rows) {
        sheet.write_row(at, 0, *row).expect("is written");
    }
    book.save_to_buffer().expect("is saved")
}

#[test]
fn places_in_a_workbook_are_read_as_a_schedule_is() {
    let bytes = workbook(&[
        ["Mark", "Location", "Count"],
        ["HB-1", "North", "8"],
        ["\"", "South", "6"],
        ["HB-2", "Entry", "3"],
    ]);
    for said in ["places.xlsx", "{ file: places.xlsx, sheet: Places }"] {
        let job = format!("climate: duluth-mn\nschedule: s.csv\nplaces: {said}\n");
        let files =
            Memory::new().with("job.yaml", job).with("s.csv", SCHEDULE).with("places.xlsx", bytes.clone());
        let review = review::run(&open_with(&files).unwrap_or_else(|it| panic!("{it:?}")));
        assert_eq!(lines(&review), Vec::<String>::new());
        let places: Vec<_> = review
            .outlets
            .iter()
            .map(|it| (it.mark.to_string(), it.quantity, it.location.to_string()))
            .collect();
        let place =
            |mark: &str, count, row| (mark.to_owned(), Some(count), format!("places.xlsx, row {row}"));
        assert_eq!(places, [place("HB-1", 8.0, 2), place("HB-1", 6.0, 3), place("HB-2", 3.0, 4)]);
        assert!(review.notes.iter().any(|it| it.what.contains("by ditto")), "{:?}", review.notes);
    }
}

#[test]
fn places_of_an_office_with_semicolons_and_an_older_encoding_are_read() {
    let files = Memory::new()
        .with("job.yaml", "climate: duluth-mn\nschedule: s.csv\nplaces: places.csv\n")
        .with("s.csv", SCHEDULE)
        .with("places.csv", b"Mark;Location;Count\nHB-1;Caf\xE9;14\nHB-2;Entry;3\n".as_slice());
    let review = review::run(&open_with(&files).unwrap_or_else(|it| panic!("{it:?}")));
    assert_eq!(review.outlets[0].where_it_is.as_deref(), Some("Café"));
}

#[test]
fn a_place_listed_twice_is_told_and_counted_once() {
    let review = of_file("Mark,Location,Count\nHB-1,North,14\nhb-1,north,14\nHB-2,Entry,3\n");
    assert_eq!(
        lines(&review),
        [
            "places.csv, row 3, column \"Location\": \"north\" is a place of hb-1 listed before, in places.csv, \
             row 2; it is counted once; expected one row per place, with how many faucets of the mark are there"
        ]
    );
    assert_eq!(review.outlets.iter().map(|it| it.quantity).collect::<Vec<_>>(), [Some(14.0), Some(3.0)]);
}

#[test]
fn a_place_listed_twice_with_other_facts_is_told_and_both_stand() {
    let review = of_file(
        "Mark,Location,Count,Space behind\nHB-1,North,8,basement\nHB-1,North,6,garage\nHB-2,Entry,3,\n",
    );
    let told = lines(&review);
    assert!(told.len() == 1 && told[0].contains("the two differ, and both are counted"), "{told:?}");
    assert_eq!(
        review.outlets.iter().map(|it| it.quantity).collect::<Vec<_>>(),
        [Some(8.0), Some(6.0), Some(3.0)]
    );
}

/// The rear of plan A is not the rear of plan B, and two places without a location need not be one.
#[test]
fn places_of_two_plans_or_without_a_location_are_not_listed_twice() {
    let places = "Mark,Location,Plan,Count\nHB-1,Rear,Plan A,1\nHB-1,Rear,Plan B,2\nHB-2,,,1\nHB-2,,,2\n";
    let review = review("places: places.csv\nhomes: { Plan A: 6, Plan B: 4 }\n", places);
    assert_eq!(lines(&review), Vec::<String>::new());
    assert_eq!(review.outlets.len(), 4);
}

/// From a file, and from a list in the job.
#[test]
fn words_of_a_place_are_weighed_against_the_row_that_goes_there() {
    let schedule = "Mark,Kind,Closes,Space behind\nHB-1,Wall hydrant,inside,Heated room\n";
    for (location, notes, told) in [
        ("North", "", None),
        ("Unheated garage", "", Some("Space behind: \"Heated room\" under Space behind, \"unheated\"")),
        ("North?", "", Some("Remark: \"North?\"")),
        ("North", "on hold", Some("Remark: \"on hold\"")),
        ("North", "not frostproof", Some("Closes: \"inside\" under Closes, \"not frostproof\"")),
    ] {
        let list = format!("places: [{{ mark: HB-1, location: \"{location}\", notes: \"{notes}\" }}]\n");
        for places in ["places: places.csv\n", &*list] {
            let files = Memory::new()
                .with("job.yaml", format!("climate: duluth-mn\nschedule: s.csv\n{places}"))
                .with("s.csv", schedule)
                .with("places.csv", format!("Mark,Location,Notes\nHB-1,{location},{notes}\n"));
            let review = review::run(&open_with(&files).unwrap_or_else(|it| panic!("{it:?}")));
            let outlet = &review.outlets[0];
            match (told, outlet.fact("outlet.description_disagrees").map(|it| it.value)) {
                (None, None | Some(Err(_))) => {}
                (Some(told), Some(Ok(Value::Text(text)))) => {
                    assert!(text.starts_with(told) && !text.contains(';'), "{places}: {text}");
                }
                (told, said) => panic!("{places}: {told:?}, {said:?}"),
            }
        }
    }
}

#[test]
fn the_only_place_of_a_mark_without_a_count_gets_all_of_them() {
    let review = of_file("Mark,Location\nHB-1,North\nHB-2,Entry\nHB-2,Rear\n");
    assert_eq!(review.outlets.iter().map(|it| it.quantity).collect::<Vec<_>>(), [Some(14.0), None, None]);
}

#[test]
fn the_name_of_a_sheet_of_places_that_takes_it_back_is_held_against_its_places() {
    let of_sheet = |name: &str| {
        let mut workbook = Workbook::new();
        let sheet = workbook.add_worksheet().set_name(name).expect("is a name");
        for (row, line) in (0..).zip([["Mark", "Location", "Count"], ["HB-1", "North", "14"]]) {
            for (column, text) in (0..).zip(line) {
                sheet.write_string(row, column, text).expect("is written");
            }
        }
        let files = Memory::new()
            .with("job.yaml", "climate: duluth-mn\nschedule: s.csv\nplaces: p.xlsx\n")
            .with("s.csv", SCHEDULE)
            .with("p.xlsx", workbook.save_to_buffer().expect("is saved"));
        let review = review::run(&open_with(&files).unwrap_or_else(|it| panic!("{it:?}")));
        review.outlets[0].fact("outlet.description_disagrees").and_then(|it| it.value.ok())
    };
    let told = of_sheet("VOID").map(|it| format!("{it:?}"));
    assert!(told.is_some_and(|it| it.contains("Name of the sheet")));
    assert!(of_sheet("Places").is_none());
}
