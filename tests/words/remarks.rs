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
