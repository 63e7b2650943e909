//! Remarks beside a row that says all it is asked: which take something back or leave the row in doubt, and which do not.

use crate::words::rows::{fact, review, word, world};
use coldsill::expr::Value;
use coldsill::ruleset::Outcome;

const ROW: &str = "Mark,Qty,Kind,Nominal length,Barrel,Wall,Space behind,Backflow device,Slope,Inside stop,Supply,\
     Supply insulation,Notes\n\
     HB-1,2,Freeze-resistant wall hydrant,12 in,Stainless,2x6 siding,Heated room,ASSE 1019-B,1/4 in/ft,No,copper,none,";

fn beside(remark: &str) -> String {
    format!("{ROW}\"{remark}\"\n")
}

fn told(remark: &str) -> Option<String> {
    match fact(&world(&beside(remark)), 0, "outlet.description_disagrees").0 {
        Some(Value::Text(text)) => Some(text.to_string()),
        None => None,
        other => panic!("{remark}: {other:?}"),
    }
}

#[test]
fn a_remark_that_takes_something_back_is_told_and_any_other_is_none() {
    let mut wrong = Vec::new();
    for line in include_str!("remarks.txt").lines().filter(|it| !it.starts_with('#')) {
        let (heading, remark) = line.split_once(" | ").expect("a heading and a remark");
        let is_right = match told(remark) {
            Some(told) => {
                heading != "none" && told.split("; ").any(|it| it.starts_with(&format!("{heading}:")))
            }
            None => heading == "none",
        };
        if !is_right {
            wrong.push(format!("{line}: {:?}", told(remark)));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn the_words_are_quoted_with_their_columns_and_the_row_is_no_pass() {
    let schedule = beside("VB by owner, on hold");
    let told = fact(&world(&schedule), 0, "outlet.description_disagrees").0;
    assert_eq!(
        told,
        word(
            "Backflow device: \"ASSE 1019-B\" under Backflow device, \"VB by owner\" under Notes; \
             Remark: \"on hold\" under Notes"
        )
    );
    let review = review(&schedule);
    let rule = |it: &&coldsill::review::Comment| &*it.rule.id == "document/words-against-columns";
    let comment = review.outlets[0].findings.comments.iter().find(rule).expect("it is reviewed");
    assert_eq!(comment.outcome, Outcome::Clarify);
}

/// What is to become of an outlet is a doubt in any column of words; other doubts of a description are about the words
/// before them.
#[test]
fn an_outlet_on_hold_is_told_from_a_description_or_a_location() {
    for (description, location) in
        [("Wall hydrant, on hold", "Rear"), ("Wall hydrant", "Rear, not for construction")]
    {
        let world = world(&format!("Mark,Description,Location\nA,\"{description}\",\"{location}\"\n"));
        assert!(fact(&world, 0, "outlet.description_disagrees").0.is_some(), "{description} {location}");
    }
}

#[test]
fn one_mark_at_one_place_is_one_faucet() {
    let rows =
        |first: &str, second: &str| format!("Mark,Location,Kind,Nominal length,Wall\n{first}\n{second}\n");
    let told =
        |schedule: &str| [0, 1].map(|row| fact(&world(schedule), row, "outlet.description_disagrees").0);
    let twice = rows(
        "HB-1,Rear,Frostproof sillcock,12 in,2x6 siding",
        "HB-1,Rear,Frostproof sillcock,14 in,2x6 siding",
    );
    assert_eq!(
        told(&twice),
        [
            word("Nominal length in row 3: \"14 in\" under Nominal length"),
            word("Nominal length in row 2: \"12 in\" under Nominal length")
        ]
    );
    for second in
        ["HB-1,Front,Frostproof sillcock,14 in,2x6 siding", "HB-1,Rear,Frostproof sillcock,14 in,2x6 brick"]
    {
        let elsewhere = rows("HB-1,Rear,Frostproof sillcock,12 in,2x6 siding", second);
        assert_eq!(told(&elsewhere), [None, None], "{second}");
    }
}

const SPECIFIED: &str = "HB-1,2,Freeze-resistant wall hydrant,12 in,Stainless,2x6 siding,Heated room,ASSE 1019-B,1/4 in/ft,No,copper,none,";

fn told_of(schedule: &str, row: usize) -> Option<String> {
    match fact(&world(schedule), row, "outlet.description_disagrees").0 {
        Some(Value::Text(text)) => Some(text.to_string()),
        _ => None,
    }
}

#[test]
fn a_section_title_is_held_against_the_rows_it_contradicts_and_no_other() {
    let headings = ROW.lines().next().expect("headings");
    for (title, told) in [
        (
            "UNHEATED GARAGE",
            Some("Space behind: \"Heated room\" under Space behind, \"unheated\" in s.csv, row 3"),
        ),
        ("FUTURE PHASE", Some("Title: \"FUTURE PHASE\" in s.csv, row 3")),
        ("Non-frostproof outlets", Some("Closes: \"Non-frostproof outlets\" in s.csv, row 3")),
        ("EXTERIOR HOSE BIBBS", None),
    ] {
        let schedule = format!("{headings}\n{SPECIFIED}\n{title}\n{}\n", SPECIFIED.replace("HB-1", "HB-2"));
        assert_eq!(told_of(&schedule, 0), None, "{title}");
        assert_eq!(told_of(&schedule, 1).as_deref(), told, "{title}");
    }
}

#[test]
fn words_under_another_heading_are_held_against_the_row() {
    let headings = ROW.lines().next().expect("headings");
    for (heading, text, told) in [
        (
            "Finish",
            "Not frostproof",
            Some("Closes: \"Freeze-resistant\" under Kind, \"Not frostproof\" under Finish"),
        ),
        (
            "Finish",
            "in unheated garage",
            Some("Space behind: \"Heated room\" under Space behind, \"unheated\" under Finish"),
        ),
        (
            "Handle",
            "no VB",
            Some("Backflow device: \"ASSE 1019-B\" under Backflow device, \"no VB\" under Handle"),
        ),
        ("Location", "North - TBD", Some("Remark: \"TBD\" under Location")),
        ("Adjacent space", "Unheated garage", Some("Not read: \"Unheated garage\" under Adjacent space")),
        ("Wall type", "8 in CMU", Some("Not read: \"8 in CMU\" under Wall type")),
        ("Wall type", "2x6 siding", None),
        ("Finish", "Polished brass", None),
        ("Handle", "Loose key", None),
        ("Location", "Front porch, north wall", None),
    ] {
        let schedule = format!("{headings},{heading}\n{SPECIFIED},{text}\n");
        assert_eq!(told_of(&schedule, 0).as_deref(), told, "{heading}: {text}");
    }
}

#[test]
fn a_mark_with_words_about_its_standing_leaves_its_row_in_doubt() {
    let headings = ROW.lines().next().expect("headings");
    for mark in ["HB-1?", "HB-1 DEL", "HB-1 (E)", "EX HB-1", "HB-1 (future)", "HB-1 non FP"] {
        let schedule = format!("{headings}\n{}\n", SPECIFIED.replace("HB-1", mark));
        assert_eq!(told_of(&schedule, 0), Some(format!("Mark: \"{mark}\" under Mark")));
    }
    for mark in ["HB-E", "EXT-1", "WH-EX1"] {
        assert_eq!(told_of(&format!("{headings}\n{}\n", SPECIFIED.replace("HB-1", mark)), 0), None, "{mark}");
    }
}

#[test]
fn what_an_exception_says_is_held_against_what_the_row_takes_from_another() {
    let headings = ROW.lines().next().expect("headings");
    let schedule = format!("{headings}\n{SPECIFIED}\nHB-2,1,,,,,,,,,,,Same as HB-1 except 8 in\n");
    assert_eq!(
        told_of(&schedule, 1).as_deref(),
        Some("Nominal length: \"12 in\" under Nominal length, \"8 in\" under Notes")
    );
}
