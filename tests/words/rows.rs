//! Rows of a schedule: columns, descriptions and remarks together, as a review has them.

use coldsill::diag::Position;
use coldsill::expr::Names;
use coldsill::expr::Value;
use coldsill::facts::{Facts, Origin, Sources, World, open};
use coldsill::input::Memory;
use coldsill::review::{self, Review};
use coldsill::ruleset::Outcome;
use coldsill::shipped;

pub(super) fn world(schedule: &str) -> World {
    world_in(schedule, "miami-fl")
}

pub(super) fn world_in(schedule: &str, climate: &str) -> World {
    opened(Memory::new().with("s.csv", schedule), &[], climate)
}

pub(super) fn opened(files: Memory, answers: &[String], climate: &str) -> World {
    opened_from("s.csv", files, answers, climate)
}

pub(super) fn opened_from(source: &str, files: Memory, answers: &[String], climate: &str) -> World {
    let climates = shipped::climates().unwrap();
    let base_rules = shipped::rules();
    let climate = Some(climate);
    open(&Sources {
        files: &files,
        source,
        climate,
        sheet: None,
        design_low: None,
        answers,
        presets: Default::default(),
        rules: &[],
        base_rules: &base_rules,
        climates,
    })
    .unwrap()
}

pub(super) fn review(schedule: &str) -> Review {
    review::run(&world(schedule))
}

/// A fact of a row, with where it comes from.
pub(super) fn fact(world: &World, row: usize, name: &str) -> (Option<Value>, Origin) {
    let fact = world.outlet(&world.job().schedule.rows[row]).fact(Facts.find(name).unwrap().0);
    (fact.value.ok(), fact.origin)
}

pub(super) fn word(text: &str) -> Option<Value> {
    Some(Value::Text(text.into()))
}

#[test]
fn a_fact_from_words_stands_where_they_stand_and_shows_them() {
    let world = world("Mark,Description\nA,\"Wall hydrant, SS, 10\"\"\"\n");
    let (value, origin) = fact(&world, 0, "outlet.barrel");
    assert_eq!(value, word("stainless"));
    let Origin::Stated(place, text) = origin else { panic!("{origin:?}") };
    assert_eq!(&*text, "SS");
    assert_eq!(place.position, Position::Row(2, Some("Description".into())));
}

#[test]
fn a_column_beats_words_and_the_row_is_told_with_both() {
    let schedule = "Mark,Barrel,Description\nA,Brass,\"Wall hydrant, SS\"\n";
    assert_eq!(fact(&world(schedule), 0, "outlet.barrel").0, word("brass"));
    let review = review(schedule);
    let rule = |it: &&review::Comment| &*it.rule.id == "document/words-against-columns";
    let comment = review.outlets[0].findings.comments.iter().find(rule).unwrap();
    assert_eq!(comment.outcome, Outcome::Clarify);
    let value = fact(&world(schedule), 0, "outlet.description_disagrees").0;
    assert_eq!(value, word("Barrel: \"Brass\" under Barrel, \"SS\" under Description"));
}

#[test]
fn words_that_agree_with_the_column_are_no_conflict() {
    for row in ["Red brass,\"Wall hydrant, brass\",Wall hydrant", "Brass,Frostproof sillcock,Hose bibb"] {
        let world = world(&format!("Mark,Barrel,Description,Kind\nA,{row}\n"));
        assert_eq!(fact(&world, 0, "outlet.description_disagrees").0, None, "{row}");
    }
}

#[test]
fn of_two_wordings_that_contradict_each_other_neither_is_taken() {
    let world = world("Mark,Description,Remarks\nA,Brass wall hydrant,SS barrel\n");
    assert_eq!(fact(&world, 0, "outlet.barrel").0, None);
    assert!(fact(&world, 0, "outlet.description_disagrees").0.is_some());
}

#[test]
fn a_remark_leaves_the_length_of_the_description_open() {
    let world = world("Mark,Description,Remarks\nA,\"Wall hydrant, 10\"\"\",VERIFY LENGTH\n");
    assert_eq!(fact(&world, 0, "outlet.nominal_length").0, None);
    assert_eq!(fact(&world, 0, "outlet.kind").0, word("wall hydrant"));
}

#[test]
fn a_cell_of_a_kind_a_size_or_a_supply_may_hold_more_than_that() {
    let schedule = "Mark,Kind,Size,Supply\nA,\"Freezeless hose bibb, brass\",\"3/4\"\" x 10\"\"\",1/2 PEX\nB,FPHB,10 in,Cu\n";
    let world = world(schedule);
    assert_eq!(*world.job().schedule.problems, []);
    assert_eq!(fact(&world, 0, "outlet.kind").0, word("hose bibb"));
    assert_eq!(fact(&world, 0, "outlet.closes").0, word("inside"));
    assert_eq!(fact(&world, 0, "outlet.barrel").0, word("brass"));
    assert_eq!(fact(&world, 0, "outlet.supply").0, word("PEX"));
    let inches = |row, name| match fact(&world, row, name).0 {
        Some(Value::Quantity(it)) => (it.is / 0.0254 * 1000.0).round() / 1000.0,
        other => panic!("{name}: {other:?}"),
    };
    assert_eq!(inches(0, "outlet.nominal_length"), 10.0);
    assert_eq!(inches(1, "outlet.nominal_length"), 10.0);
    assert_eq!(fact(&world, 1, "outlet.closes").0, word("inside"));
}

#[test]
fn two_sizes_of_one_supply_are_told() {
    let world = world("Mark,Size,Supply\nA,3/4 in,1/2 PEX\n");
    let told = fact(&world, 0, "outlet.description_disagrees").0;
    assert_eq!(told, word("Supply size: \"3/4 in\" under Size, \"1/2 PEX\" under Supply"));
}

#[test]
fn a_cell_that_cannot_be_read_is_not_filled_in_from_words() {
    let world = world("Mark,Barrel,Description\nA,unobtainium,Brass wall hydrant\n");
    assert!(matches!(fact(&world, 0, "outlet.barrel"), (None, Origin::Unreadable(..))));
}

#[test]
fn a_kind_in_doubt_stays_a_cell_that_cannot_be_read() {
    let world = world("Mark,Kind\nA,Hose bibb or wall hydrant\n");
    assert_eq!(fact(&world, 0, "outlet.kind").0, None);
    assert_eq!(world.job().schedule.problems.len(), 1);
}

#[test]
fn a_plain_hose_bibb_in_words_is_assumed_to_close_at_the_face() {
    // Where nothing freezes no rule asks where it closes.
    let review = review::run(&world_in("Mark,Description\nA,3/4\" hose bibb\n", "kansas-city-mo"));
    let assumed = review.assumed.iter().find(|it| &*it.fact.name == "outlet.closes").unwrap();
    assert_eq!(assumed.fact.value, Ok(Value::Text("face".into())));
}

#[test]
fn a_frostproof_yard_hydrant_closes_below_grade() {
    let world = world("Mark,Kind,Description\nA,Yard hydrant,\"Frostproof, 36\"\" bury\"\n");
    assert_eq!(fact(&world, 0, "outlet.closes").0, word("below grade"));
}

/// A long schedule says the same over and over; what was read from one text is shared, not read anew. Each of these
/// values is made when a text is read, so that two readings would be two.
#[test]
fn rows_of_the_same_words_share_what_was_read_of_them() {
    let rows: String = (0..3).map(|row| format!("A{row},brass,\"Frostproof sillcock, 12 in\"\n")).collect();
    let world = world(&format!("Mark,Barrel,Description\n{rows}"));
    let told = |row: usize, name: &str| match fact(&world, row, name).0 {
        Some(Value::Text(text)) => text,
        other => panic!("{name}: {other:?}"),
    };
    for name in ["outlet.barrel", "outlet.kind", "outlet.closes"] {
        assert!((1..3).all(|row| std::sync::Arc::ptr_eq(&told(0, name), &told(row, name))), "{name}");
    }
}

#[test]
fn unknown_words_are_listed_for_each_of_their_rows() {
    let listed = |words: &dyn Fn(usize) -> String| {
        let rows: String = (0..100).map(|row| format!("A{row},{} sillcock\n", words(row))).collect();
        review(&format!("Mark,Description\n{rows}")).unused
    };
    let same = listed(&|_| "Gizmo".into());
    assert!(same.len() == 100 && same.iter().all(|it| &*it.text == "Gizmo"));
    assert_eq!(listed(&|row| format!("Gizmo{row}")).len(), 100);
}

#[test]
fn the_worse_end_of_a_range_is_used_and_its_band_is_kept() {
    let schedule = "Mark,Kind,Nominal length\nA,Frostproof sillcock,8 to 10 in\nB,Frostproof sillcock,8 in\n";
    let review = review(schedule);
    let Some(Value::Quantity(length)) = fact(&world(schedule), 0, "outlet.nominal_length").0 else {
        panic!()
    };
    let near = |a: f64, inches: f64| (a - inches * 0.0254).abs() < 1e-12;
    assert!(near(length.is, 8.0) && near(length.low, 8.0) && near(length.high, 10.0), "{length:?}");
    let told = review.assumed.iter().find(|it| &*it.fact.name == "outlet.nominal_length").unwrap();
    assert_eq!((&*told.why, told.applies_to.len()), ("calculations use the shorter end", 1));
    // Alike in the length used, and not alike.
    assert!(!std::sync::Arc::ptr_eq(&review.outlets[0].findings, &review.outlets[1].findings));
}

#[test]
fn a_range_without_a_worse_end_is_not_known() {
    let (value, origin) = fact(&world("Mark,Kind,Supply run\nA,sillcock,12-24 in\n"), 0, "outlet.supply_run");
    assert_eq!(value, None);
    assert!(matches!(origin, Origin::Stated(..)), "{origin:?}");
}

#[test]
fn cells_are_read_as_people_write_them() {
    let told = |heading: &str, cell: &str| {
        let cell = cell.replace('"', "\"\"");
        let world = world(&format!("Mark,{heading}\nA,\"{cell}\"\n"));
        world.job().schedule.problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    };
    for cell in ["6 EA", "(2)", "2 ea.", "2x", "Qty 4", "1,200", "12.0", "12", "Two", "twelve"] {
        assert_eq!(told("Qty", cell), "", "{cell}");
    }
    for cell in ["1,2", "2.5", "2 typ", "2 x 4", "x", "a few", "-3", "2 or 3"] {
        assert!(told("Qty", cell).contains("is not a whole number"), "{cell}");
    }
    assert!(
        told("Seat depth", "8'").ends_with("is out of range; expected 0 in to 48 in; did you mean \"8\"\"?")
    );
    assert!(told("Slope", "1/8").contains("has no unit"));
    assert!(told("Slope", "pitch to drain").contains("gives a direction without a slope"));
    assert!(
        told("Slope", "-1/4 in/ft toward outside")
            .contains("has a sign and words that contradict each other")
    );
    assert_eq!(told("Matl", "SS"), "");
    assert_eq!(told("Space behind", "Bsmt"), "");
}

#[test]
fn a_slope_falls_the_way_its_words_say() {
    for (cell, per_foot) in [
        ("1/4\"\"/ft toward outside", 0.25),
        ("1/4 in/ft down to exterior", 0.25),
        ("1/4\"\" per ft, slopes inward", -0.25),
        ("1/4\"\":12\"\" back to the building", -0.25),
        ("level", 0.0),
    ] {
        let world = world(&format!("Mark,Slope\nA,\"{cell}\"\n"));
        let Some(Value::Quantity(slope)) = fact(&world, 0, "outlet.slope").0 else { panic!("{cell}") };
        assert!((slope.is - per_foot / 12.0).abs() < 1e-12, "{cell}: {}", slope.is);
    }
}

#[test]
fn a_frostproof_that_is_denied_or_of_another_thing_never_closes_inside() {
    let closes = |kind: &str, description: &str, notes: &str| {
        let schedule = format!("Mark,Kind,Description,Notes\nA,\"{kind}\",\"{description}\",\"{notes}\"\n");
        fact(&world(&schedule), 0, "outlet.closes").0
    };
    for denied in [
        "Wall hydrant, non-freeze-resistant",
        "Non freeze resistant wall hydrant",
        "Nonfreeze-resistant hose bibb",
        "Non freeze-proof hose bibb",
        "Sillcock, un-frostproof",
        "Semi-frostproof sillcock",
        "Wall hydrant (freeze-resistant: N)",
        "Wall hydrant, frostproof = no",
        "Hose bibb, frostproof/standard",
        "Hose bibb, standard or frostproof",
        "Wall hydrant in frostproof box",
        "Hose bibb, frost proof foam cover",
        "Hose bibb with freeze-resistant cover",
        "Hose bibb, freeze-resistant not req.",
        "Hose bibb, frostproof N/R",
        "Hose bibb, formerly frostproof",
        "Hose bibb, frostproof if available",
        "Demo frostproof sillcock",
    ] {
        assert_eq!(closes(denied, "", ""), None, "Kind: {denied}");
        assert_eq!(closes("", &format!("{denied}, 12 in, brass"), ""), None, "Description: {denied}");
    }
    for note in ["non-freeze-resistant", "NON FREEZE RESISTANT", "no freeze protection"] {
        assert_eq!(closes("Frostproof wall hydrant", "", note), None, "{note}");
    }
    // The trade's "non-freeze" is frostproof, and a box is part of a box hydrant's name.
    for frostproof in [
        "Non-freeze wall hydrant",
        "Wall hydrant, nonfreeze",
        "Non-freeze, vandal resistant sillcock",
        "Frostproof box hydrant",
        "Frostproof box type wall hydrant",
        "Frostproof, standard handle wall hydrant",
    ] {
        assert_eq!(closes(frostproof, "", ""), word("inside"), "Kind: {frostproof}");
        assert_eq!(closes("", frostproof, ""), word("inside"), "Description: {frostproof}");
    }
}
