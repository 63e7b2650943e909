//! Ways in which silence could have passed for an answer.

use crate::review::shared::{SEAT, comment, review, world};
use coldsill::expr::Value;
use coldsill::input::Memory;
use coldsill::report;
use coldsill::review::{self, OutletReview, Review};
use coldsill::ruleset::Outcome;
use coldsill::units::System;

const STOP: &str = "freezing/inlet-outside-heated-space-without-stop";

fn job(spaces: &str, row: &str) -> Review {
    let files = Memory::new()
        .with("job.yaml", format!("climate: minneapolis-mn\nspaces: {{ {spaces} }}\nschedule: s.csv\n"))
        .with("s.csv", format!("Mark,Kind,Closes,Wall,Space behind,Nominal length,Inside stop\n{row}\n"));
    review::run(&world(&files, "job.yaml", None))
}

fn next_length(outlet: &OutletReview) -> Option<f64> {
    let next = comment(outlet, SEAT).values.iter().find(|it| &*it.name == "heat.next_length")?;
    match next.value {
        Ok(Value::Quantity(length)) => Some(length.is / 0.0254),
        _ => None,
    }
}

#[test]
fn a_remedy_is_printed_for_the_outlet_it_was_worked_out_for() {
    let review = review(
        "Mark,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation\n\
         HB-1,sillcock,inside,rim joist batt,7 in,stainless,copper,none\n\
         HB-2,sillcock,inside,rim joist batt,7 in,copper,PEX,none\n",
        "minneapolis-mn",
    );
    let printed = report::text(&review, System::Us);
    let advice = printed.matches("A seat on the room side of the insulation is the safer detail").count();
    assert_eq!(advice, 2, "one for each least depth:\n{printed}");
}

#[test]
fn a_general_note_that_is_open_is_printed() {
    let review = review("Mark,Wall\nA,2x6\n", "minneapolis-mn");
    let printed = report::text(&review, System::Us);
    for it in &review.outlets[0].findings.comments {
        if matches!(it.outcome, Outcome::Revise | Outcome::Clarify | Outcome::Advise) {
            assert!(
                printed.contains(&format!("{}: {}", it.rule.number, it.rule.title)[..30]),
                "{}",
                it.rule.id
            );
        }
    }
}

#[test]
fn a_space_the_job_says_is_cold_does_not_count_as_heated() {
    let row = "A,sillcock,inside,rim joist batt,basement,14 in,no";
    for spaces in ["basement: { factor: 20 % }", "basement: { temperature: 33 °F }"] {
        assert_eq!(comment(&job(spaces, row).outlets[0], STOP).outcome, Outcome::Revise, "{spaces}");
    }
    assert_eq!(
        comment(&job("basement: { temperature: 60 °F }", row).outlets[0], STOP).outcome,
        Outcome::NoComment
    );
    let cold = "A,sillcock,inside,rim joist batt,unheated basement,14 in,no";
    assert_eq!(comment(&job("", cold).outlets[0], STOP).outcome, Outcome::Revise);
}

#[test]
fn that_a_basement_is_heated_is_listed_where_it_is_taken_for_granted() {
    let review = job("", "A,sillcock,inside,rim joist batt,basement,14 in,no");
    assert!(review.assumed.iter().any(|it| &*it.fact.name == "space.heated"));
}

#[test]
fn a_seat_short_of_the_insulation_is_not_excused_from_a_stop() {
    let short = job("", "A,sillcock,inside,rim joist batt,basement,6 in,no");
    assert_eq!(comment(&short.outlets[0], STOP).outcome, Outcome::Revise);
}

#[test]
fn a_recommended_length_holds_with_the_gasket_counted() {
    let headings = "Mark,Kind,Closes,Wall,Supply,Supply insulation,Nominal length,Barrel,Gasket";
    let mut tried = 0;
    for (climate, wall, barrel) in [
        ("denver-co", "2x4", "brass"),
        ("kansas-city-mo", "2x6", "stainless"),
        ("chicago-il", "2x4", "bronze"),
    ] {
        for gasket in ["yes", "no", ""] {
            let with = |length: f64| {
                let row = format!("A,sillcock,inside,{wall},copper,none,{length} in,{barrel},{gasket}");
                review(&format!("{headings}\n{row}\n"), climate)
            };
            let Some(next) = next_length(&with(4.0).outlets[0]) else { continue };
            tried += 1;
            let outcome = comment(&with(next).outlets[0], SEAT).outcome;
            assert_eq!(
                outcome,
                Outcome::NoComment,
                "{climate}, {wall}, {barrel}, gasket {gasket:?}, {next} in"
            );
        }
    }
    assert!(tried >= 6, "only {tried} outlets had a length to recommend");
}

#[test]
fn figures_that_contradict_each_other_are_asked_about() {
    let review = review(
        "Mark,Kind,Nominal length,Seat depth\nA,frostproof sillcock,8 in,14 in\nB,hose bibb,10 in,\n",
        "minneapolis-mn",
    );
    let outcome = |row: usize, rule| comment(&review.outlets[row], rule).outcome;
    assert_eq!(outcome(0, "document/seat-deeper-than-nominal"), Outcome::Clarify);
    assert_eq!(outcome(1, "document/length-on-face-closing-outlet"), Outcome::Clarify);
}

#[test]
fn a_row_with_a_mark_alone_is_an_outlet_and_a_total_is_not() {
    let review = review(
        "Mark,Qty,Kind,Wall\nHB-1,2,sillcock,2x6\nHB-2,,,\nTOTAL,2,,\nAll hydrants by the plumber unless noted,,,\n",
        "minneapolis-mn",
    );
    let marks: Vec<&str> = review.outlets.iter().map(|it| &*it.mark).collect();
    assert_eq!(marks, ["HB-1", "HB-2"]);
    assert_eq!((review.unused.len(), review.rows_set_aside.len()), (2, 1));
}

#[test]
fn a_cell_that_cannot_be_read_leaves_its_rule_open_rather_than_out() {
    let review = review("Mark,Kind,Fasteners,Flange\nA,sillcock,zinc-plted,brass\n", "minneapolis-mn");
    let fasteners = comment(&review.outlets[0], "materials/fasteners-waste-against-flange");
    assert_eq!(fasteners.outcome, Outcome::Clarify);
}

#[test]
fn a_barrel_a_supply_and_its_insulation_all_blank_are_still_decided_where_best_and_worst_agree() {
    let review = review("Mark,Kind,Closes,Wall,Nominal length\nA,sillcock,inside,2x6,4 in\n", "fairbanks-ak");
    let seat = comment(&review.outlets[0], SEAT);
    let open = seat.open.as_ref().expect("three facts are not stated");
    assert_eq!(
        open.would_settle.len(),
        8,
        "copper and stainless by copper and CPVC supplies by with and without insulation"
    );
}

#[test]
fn an_outlet_said_not_to_drain_is_colder_than_one_that_does() {
    let seat = |drains: &str| {
        let review = review(
            &format!(
                "Mark,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation,Self-draining\n\
                 A,sillcock,inside,2x6,8 in,stainless,copper,none,{drains}\n"
            ),
            "minneapolis-mn",
        );
        let values = comment(&review.outlets[0], SEAT).values.clone();
        let seat = values.into_iter().find(|it| &*it.name == "heat.seat_temperature").map(|it| it.value);
        match seat {
            Some(Ok(Value::Quantity(it))) => it.is,
            other => panic!("{other:?}"),
        }
    };
    assert!(seat("no") < seat("yes"));
}

#[test]
fn a_yes_or_no_that_cannot_be_read_is_not_taken_for_the_mild_one() {
    let value = |row: &str, heading: &str, cell: &str, fact: &str| {
        let known = "Mark,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation,Space behind";
        let review = review(&format!("{known},{heading}\nA,{row},{cell}\n"), "minneapolis-mn");
        let facts = &review.outlets[0].findings.facts;
        let found = facts.iter().find(|it| &*it.name == fact);
        found.unwrap_or_else(|| panic!("{fact} was not read")).value.is_ok()
    };
    let sillcock = "sillcock,inside,2x6,8 in,brass,copper,none,heated room";
    for heading in ["Self-draining", "Gasket"] {
        let known = |cell| value(sillcock, heading, cell, "heat.seat_temperature");
        assert_eq!((known(""), known("yes"), known("perhaps")), (true, true, false), "{heading}");
    }
    let bibb = "hose bibb,face,2x4,,brass,PEX,none,heated room";
    let known = |cell| value(bibb, "Cover", cell, "ice.blocked");
    assert_eq!((known(""), known("yes"), known("perhaps")), (true, true, false));
}

/// A figure that decides results is no longer assumed, and so it is said in the head: of spaces that rows use only.
#[test]
fn what_a_job_states_of_a_space_is_printed_where_rows_use_it() {
    let row = "HB-1,sillcock,inside,2x6 siding,heated room,12 in,";
    let review = job("heated room: { temperature: 66 °F }, garage: { factor: 40 % }", row);
    let page = report::summary(&review, System::Us).split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(page.contains("The job states: heated room 66 °F."), "{page}");
    let page = report::text(&review, System::Us);
    assert!(page.lines().any(|line| line == "Spaces     heated room 66 °F, as the job states"), "{page}");
    let page = report::summary(&job("garage: { factor: 40 % }", row), System::Us);
    assert!(!page.contains("40 %"), "{page}");
}

/// 99 °F may be 37 °C, and 110 °F a summer: nobody heats a room to more than 90 °F.
#[test]
fn a_space_is_no_warmer_than_people_heat_a_room() {
    let opened = |space: &str, temperature: &str| {
        let job = format!(
            "climate: minneapolis-mn\nspaces: {{ {space}: {{ temperature: {temperature} }} }}\nschedule: s.csv\n"
        );
        let files = Memory::new().with("job.yaml", job).with("s.csv", "Mark,Kind\nHB-1,sillcock\n");
        crate::schedule::common::opened(&files, "job.yaml", None, None).map(|_| ())
    };
    for (space, temperature, column) in [("heated room", "99 °F", 39), ("basement", "110 °F", 36)] {
        let told = format!(
            "job.yaml, line 2, column {column}: \"{temperature}\" is out of range; expected -40 °F to 90 °F"
        );
        assert_eq!(opened(space, temperature), Err(vec![told]));
    }
    assert_eq!(opened("heated room", "90 °F"), Ok(()));
}
