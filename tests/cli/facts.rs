//! Looking up facts.

use crate::cli::common::{run, unwrapped};
use coldsill::facts::CATALOGUE;
use serde_json::Value;

#[test]
fn without_a_name_every_fact_stands_under_its_topic_on_a_page_that_prints() {
    let ran = run("facts");
    assert_eq!(ran.code, 0);
    for entry in CATALOGUE.iter() {
        assert!(
            ran.out.lines().any(|line| line.starts_with(&format!("{}:", entry.def.name))),
            "{}",
            entry.def.name
        );
    }
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
}

#[test]
fn one_fact_is_told_whole() {
    let ran = run("facts outlet.seat_depth");
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
    let said = unwrapped(&ran.out);
    for part in [
        "Is exterior finished face to the seat",
        "Type a length, 0 in to 48 in",
        "Column Seat depth, Shutoff depth, Depth to seat, Seat",
        "Job defaults: seat depth",
        "Products Product data may state it of a model.",
        "without one what can be taken for granted is, and is listed with its reason; else it stays unknown.",
        "Shown In in or mm, rounded to the nearest.",
        "Reads outlet.closes, outlet.nominal_length, outlet.seat_offset",
        "Detail 5 (detail/no-room-to-draw-the-stem)",
    ] {
        assert!(said.contains(part), "{part}\n{}", ran.out);
    }
}

#[test]
fn a_computed_fact_says_what_it_reads_and_to_which_side_it_is_rounded() {
    let said = unwrapped(&run("facts heat.least_seat_depth").out);
    assert!(said.contains("Blank No column: it is computed."), "{said}");
    assert!(said.contains("rounded up: what is printed is never less than it is."), "{said}");
    assert!(said.contains("Reads freezing/margin, outlet.barrel,"), "{said}");
    assert!(said.contains("Freezing 1 (freezing/seat-reaches-freezing-at-design-low)"), "{said}");
}

#[test]
fn a_fact_of_the_job_says_where_in_the_job() {
    let said = unwrapped(&run("facts site.frost_depth").out);
    assert!(said.contains("Job authority: frost_depth"), "{said}");
}

#[test]
fn words_that_are_all_there_are_are_told_from_those_that_are_usual() {
    let closes = unwrapped(&run("facts closes").out);
    assert!(
        closes.contains("Might be inside, face, below grade: there is nothing else it could be."),
        "{closes}"
    );
    let supply = unwrapped(&run("facts outlet.supply").out);
    assert!(
        supply.contains("Might be copper, PEX, CPVC: the usual ones; what lies between follows."),
        "{supply}"
    );
}

#[test]
fn a_heading_or_the_end_of_a_name_will_do() {
    let whole = run("facts outlet.seat_depth").out;
    for name in ["seat depth", "Shutoff-Depth", "SEAT_DEPTH"] {
        assert_eq!(crate::cli::common::Folder::new().run_with(&["facts", name]).out, whole, "{name}");
    }
}

#[test]
fn a_part_that_several_have_lists_them() {
    let ran = run("facts hose_on_");
    let listed = ran.out.lines().filter(|line| line.starts_with("ice.hose_on_")).count();
    assert_eq!(listed, CATALOGUE.iter().filter(|it| it.def.name.contains("hose_on_")).count());
}

#[test]
fn a_name_that_there_is_not_is_told_with_the_nearest() {
    run("facts outlet.seat_dpth")
        .is_refused(&["coldsill facts: \"outlet.seat_dpth\" is no fact, and no heading of one; did you mean \"outlet.seat_depth\"?"]);
    run("facts qqqqqqqq").is_refused(&[
        "coldsill facts: \"qqqqqqqq\" is no fact, and no heading of one; expected one that `coldsill facts` lists",
    ]);
}

#[test]
fn the_list_for_other_programs_has_every_fact_with_the_same_keys_and_one_alone_is_the_same() {
    let all = run("facts --format json").json();
    let facts = all["facts"].as_array().expect("a list");
    let names: Vec<&str> = facts.iter().filter_map(|it| it["name"].as_str()).collect();
    assert_eq!(names, CATALOGUE.iter().map(|it| it.def.name).collect::<Vec<_>>());
    let depth = run("facts outlet.seat_depth --format json").json();
    let own = facts.iter().find(|it| it["name"] == "outlet.seat_depth");
    assert_eq!(Some(&depth["facts"][0]), own);
    // 48 in at 25.4 mm.
    assert!((depth["facts"][0]["most"].as_f64().expect("a number") - 1.2192).abs() < 1e-9);
    assert_eq!(depth["facts"][0]["unit"], "m");
    for fact in facts.iter().filter(|it| it["blank"] == "computed") {
        assert_eq!(fact["headings"], Value::Array(Vec::new()), "{}", fact["name"]);
        let is_from_somewhere =
            [&fact["reads"], &fact["job_keys"]].iter().any(|it| !it.as_array().unwrap().is_empty());
        assert!(is_from_somewhere, "{}", fact["name"]);
    }
}
