//! Deciding and leaving open.

use crate::review::shared::{SEAT, comment, review, world};
use coldsill::expr::Value;
use coldsill::facts::Origin;
use coldsill::input::Memory;
use coldsill::review;
use coldsill::ruleset::Outcome;

/// A sillcock that closes inside in a heated room; the rest as given.
fn sillcock(headings: &str, cells: &str, climate: &str) -> coldsill::review::Review {
    review(&format!("Mark,Kind,Closes,Wall,{headings}\nHB-1,sillcock,inside,2x6,{cells}\n"), climate)
}

#[test]
fn where_every_plausible_supply_agrees_the_comment_is_decided_and_says_so() {
    let review = sillcock("Nominal length,Barrel", "4 in,brass", "minneapolis-mn");
    let seat = comment(&review.outlets[0], SEAT);
    assert_eq!(seat.outcome, Outcome::Revise);
    let open = seat.open.as_ref().expect("supply and insulation are not stated");
    assert!(open.agreed);
    assert_eq!(open.would_settle.len(), 6, "three supplies by with and without insulation");
    assert!(
        review.questions.iter().all(|it| &*it.fact != "outlet.supply"),
        "nothing is asked that decides nothing"
    );
}

#[test]
fn a_decided_comment_without_a_supply_carries_the_spread_of_all_answers() {
    let review = sillcock("Nominal length,Barrel", "4 in,brass", "minneapolis-mn");
    let values = &comment(&review.outlets[0], SEAT).values;
    let seat = values.iter().find(|it| &*it.name == "heat.seat_temperature").expect("the rule reads it");
    let Ok(Value::Quantity(all)) = &seat.value else { panic!("{:?}", seat.value) };
    for (supply, insulation) in
        [("copper", "none"), ("copper", "1/2 in"), ("PEX", "none"), ("PEX", "1/2 in"), ("CPVC", "none")]
    {
        let one = sillcock(
            "Nominal length,Barrel,Supply,Supply insulation",
            &format!("4 in,brass,{supply},{insulation}"),
            "minneapolis-mn",
        );
        let values = &comment(&one.outlets[0], SEAT).values;
        let seat = values.iter().find(|it| &*it.name == "heat.seat_temperature").expect("the rule reads it");
        let Ok(Value::Quantity(own)) = &seat.value else { panic!("{:?}", seat.value) };
        assert!(all.low <= own.low && own.high <= all.high && all.is <= own.is, "{supply}, {insulation}");
    }
}

#[test]
fn a_barrel_that_decides_is_asked_for_once_however_many_outlets_wait() {
    let review = review(
        "Mark,Kind,Closes,Wall,Nominal length,Supply,Supply insulation\n\
         HB-1,sillcock,inside,2x6,8 in,copper,none\n\
         HB-1,sillcock,inside,2x6,8 in,copper,none\n\
         HB-2,sillcock,inside,2x6,10 in,copper,none\n",
        "minneapolis-mn",
    );
    let barrel: Vec<_> = review.questions.iter().filter(|it| &*it.fact == "outlet.barrel").collect();
    let [question] = barrel.as_slice() else { panic!("{} questions about the barrel", barrel.len()) };
    assert_eq!(question.settles, 3);
    assert_eq!(question.asked_of.iter().map(AsRef::as_ref).collect::<Vec<_>>(), ["HB-1", "HB-2"]);
}

#[test]
fn a_stainless_barrel_passes_where_a_copper_one_does_not_and_a_blank_one_is_clarified_with_both_named() {
    let headings = "Nominal length,Supply,Supply insulation,Barrel";
    let with = |barrel: &str| {
        let review = sillcock(headings, &format!("8 in,copper,none,{barrel}"), "minneapolis-mn");
        comment(&review.outlets[0], SEAT).outcome
    };
    assert_eq!(with("stainless"), Outcome::NoComment);
    assert_eq!(with("copper"), Outcome::Revise);
    let blank = sillcock(headings, "8 in,copper,none,", "minneapolis-mn");
    let open = comment(&blank.outlets[0], SEAT).open.clone().expect("the barrel is not stated");
    assert_eq!(comment(&blank.outlets[0], SEAT).outcome, Outcome::Clarify);
    for (barrel, outcome) in [("stainless", Outcome::NoComment), ("copper", Outcome::Revise)] {
        let answer = open
            .would_settle
            .iter()
            .find(|it| it.given.iter().any(|(_, _, it)| *it == Value::Text(barrel.into())));
        assert_eq!(answer.map(|it| it.outcome), Some(outcome), "{barrel}");
    }
}

#[test]
fn a_blank_backflow_cell_is_clarified_and_never_passes() {
    let review = sillcock("Backflow device", "", "honolulu-hi");
    let backflow = comment(&review.outlets[0], "backflow/no-device-at-hose-thread");
    assert_eq!(backflow.outcome, Outcome::Clarify);
    assert!(review.asks_for_something());
}

#[test]
fn a_bad_cell_is_an_unknown_fact_even_where_the_job_has_a_default() {
    let files = Memory::new()
        .with("job.yaml", "climate: minneapolis-mn\ndefaults: { barrel: brass, wall: 2x6 }\nschedule: s.csv\n")
        .with("s.csv", "Mark,Kind,Closes,Nominal length,Barrel\nA,sillcock,inside,10 in,gold\nB,sillcock,inside,10 in,\n");
    let review = review::run(&world(&files, "job.yaml", None));
    let origin = |row: usize| {
        let facts = &review.outlets[row].findings.facts;
        facts.iter().find(|it| &*it.name == "outlet.barrel").map(|it| it.origin.clone())
    };
    assert!(matches!(origin(0), Some(Origin::Unreadable(..))));
    assert!(matches!(origin(1), Some(Origin::Job(..))));
    assert_eq!(
        review.problems[0].to_string(),
        "s.csv, row 2, column \"Barrel\": \"gold\" is not a known value; expected copper, brass, red brass, bronze, \
         silicon brass, stainless, galvanized steel"
    );
}

#[test]
fn a_basis_that_may_not_ask_for_a_revision_advises() {
    let files = Memory::new()
        .with("job.yaml", "climate: minneapolis-mn\nrevise_on: [adopted code]\nschedule: s.csv\n")
        .with(
            "s.csv",
            "Mark,Kind,Closes,Wall,Nominal length,Barrel,Backflow\nA,sillcock,inside,2x6,4 in,brass,none\n",
        );
    let review = review::run(&world(&files, "job.yaml", None));
    assert_eq!(comment(&review.outlets[0], SEAT).outcome, Outcome::Advise);
    assert_eq!(comment(&review.outlets[0], "backflow/no-device-at-hose-thread").outcome, Outcome::Revise);
}

#[test]
fn what_a_rule_asks_stays_asked_whatever_may_require_a_revision() {
    let files = Memory::new()
        .with("job.yaml", "climate: minneapolis-mn\nrevise_on: [calculation]\nschedule: s.csv\n")
        .with(
            "s.csv",
            "Mark,Kind,Wall,Nominal length,Notes\nA,Frostproof sillcock,2x6,12 in,not frostproof\n",
        );
    let review = review::run(&world(&files, "job.yaml", None));
    assert_eq!(comment(&review.outlets[0], "document/words-against-columns").outcome, Outcome::Clarify);
}

#[test]
fn what_is_assumed_is_listed_once_with_its_reason_and_whom_it_concerns() {
    let review = review(
        "Mark,Kind,Wall,Nominal length,Barrel\nA,Frostproof sillcock,2x6,10 in,brass\nB,Frostproof sillcock,2x6,10 in,copper\n",
        "minneapolis-mn",
    );
    let seat: Vec<_> = review.assumed.iter().filter(|it| &*it.fact.name == "outlet.seat_depth").collect();
    let [assumption] = seat.as_slice() else { panic!("{} entries", seat.len()) };
    assert_eq!(assumption.applies_to.iter().map(AsRef::as_ref).collect::<Vec<_>>(), ["A", "B"]);
    assert!(assumption.why.contains("nominal length less {= 3/4 in}"));
}

#[test]
fn assumption_of_one_row_of_a_mark_names_the_row() {
    let review = review(
        "Mark,Kind,Wall,Seat depth\nA,sillcock,2x6,\nA,sillcock,2x6,0 in\nB,sillcock,2x6,\n",
        "minneapolis-mn",
    );
    let seat = review.assumed.iter().find(|it| &*it.fact.name == "outlet.seat_depth").expect("it is assumed");
    let rows: Vec<_> = seat.outlets.iter().map(|(mark, at)| (&**mark, at.number)).collect();
    assert_eq!(rows, [("A", 2), ("B", 4)]);
}

#[test]
fn a_quantity_nobody_stated_is_not_one() {
    let review = review("Mark,Qty,Kind\nA,,sillcock\nB,3,sillcock\n", "honolulu-hi");
    assert_eq!(review.outlets[0].quantity, None);
    assert_eq!(review.outlets[1].quantity, Some(3.0));
}

#[test]
fn the_next_listed_length_itself_holds() {
    let review = sillcock(
        "Nominal length,Barrel,Supply,Supply insulation",
        "4 in,stainless,PEX,none",
        "kansas-city-mo",
    );
    let values = &comment(&review.outlets[0], SEAT).values;
    let next = values.iter().find(|it| &*it.name == "heat.next_length").expect("the remedy names it");
    let Ok(Value::Quantity(length)) = &next.value else { panic!("{:?}", next.value) };
    let inches = length.is / 0.0254;
    let longer = sillcock(
        "Nominal length,Barrel,Supply,Supply insulation",
        &format!("{inches} in,stainless,PEX,none"),
        "kansas-city-mo",
    );
    assert_eq!(comment(&longer.outlets[0], SEAT).outcome, Outcome::NoComment);
}

/// Names of the facts that keep a rule open on the first outlet.
fn waits_for(review: &coldsill::review::Review, rule: &str) -> Vec<String> {
    let open = comment(&review.outlets[0], rule).open.as_ref();
    open.map(|it| it.missing.iter().map(|(_, name, _)| name.to_string()).collect()).unwrap_or_default()
}

// Where it closes and its barrel decide whether the seat freezes; no backflow device does.
#[test]
fn a_fact_whose_answers_never_make_a_difference_is_not_asked_for() {
    let review = review(
        "Mark,Kind,Wall,Nominal length,Supply,Supply insulation\nHB-1,wall hydrant,2x6,10 in,copper,none\n",
        "minneapolis-mn",
    );
    assert_eq!(waits_for(&review, SEAT), ["outlet.closes", "outlet.barrel"]);
}

#[test]
fn usual_depths_that_all_fall_short_decide_a_revision() {
    let headings = "Barrel,Supply,Supply insulation";
    let review = sillcock(headings, "copper,PEX,1 in", "fairbanks-ak");
    let seat = comment(&review.outlets[0], SEAT);
    assert_eq!(seat.outcome, Outcome::Revise);
    assert!(seat.open.as_ref().is_some_and(|it| it.agreed && it.would_settle.len() == 6));
}

#[test]
fn usual_depths_that_all_hold_do_not_decide_that_there_is_nothing_to_say() {
    let headings = "Barrel,Supply,Supply insulation";
    let review = sillcock(headings, "stainless,copper,none", "dallas-tx");
    let seat = comment(&review.outlets[0], SEAT);
    assert!(
        seat.open.as_ref().is_some_and(
            |it| !it.complete && it.would_settle.iter().all(|it| it.outcome == Outcome::NoComment)
        )
    );
    assert_eq!(seat.outcome, Outcome::Clarify);
}
