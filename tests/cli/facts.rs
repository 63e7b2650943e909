//! Looking up facts.

use crate::cli::common::{run, unwrapped};
use coldsill::facts::CATALOGUE;
use serde_json::Value;

#[test]
fn every_fact_is_listed_under_its_topic() {
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
fn page_of_one_fact_is_complete() {
    let ran = run("facts outlet.seat_depth");
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80));
    let said = unwrapped(&ran.out);
    for part in [
        "What exterior finished face to the valve seat",
        "Type a length, 0 in to 48 in",
        "Columns Seat depth, Shutoff depth, Depth to seat, Seat",
        "Job keys defaults: seat depth",
        "Products Product data may state it of a model.",
        "without one a value is assumed if one can be, and listed with the reason; otherwise it stays unknown.",
        "Shown In in or mm, rounded to the nearest.",
        "Reads outlet.closes, outlet.nominal_length, outlet.seat_offset",
        "Detail 5 (detail/no-room-to-draw-the-stem)",
    ] {
        assert!(said.contains(part), "{part}\n{}", ran.out);
    }
}

#[test]
fn computed_fact_lists_reads_and_rounding() {
    let said = unwrapped(&run("facts heat.least_seat_depth").out);
    assert!(said.contains("If blank No column: it is computed."), "{said}");
    assert!(said.contains("rounded up."), "{said}");
    assert!(said.contains("Reads freezing/margin, outlet.air_sealed, outlet.barrel,"), "{said}");
    assert!(said.contains("Freezing 1 (freezing/seat-reaches-freezing-at-design-low)"), "{said}");
}

#[test]
fn fact_of_the_job_names_its_key() {
    let said = unwrapped(&run("facts site.frost_depth").out);
    assert!(said.contains("Job keys authority: frost_depth"), "{said}");
}

#[test]
fn exhaustive_values_differ_from_extremes() {
    let closes = unwrapped(&run("facts closes").out);
    assert!(closes.contains("Values inside, face, below grade: every possible value."), "{closes}");
    let supply = unwrapped(&run("facts outlet.supply").out);
    assert!(supply.contains("Values copper, PEX, CPVC: the extremes, and values between them."), "{supply}");
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
fn unknown_fact_suggests_the_nearest() {
    run("facts outlet.seat_dpth")
        .is_refused(&["coldsill facts: \"outlet.seat_dpth\" is not a fact or a heading; did you mean \"outlet.seat_depth\"?"]);
    run("facts qqqqqqqq").is_refused(&[
        "coldsill facts: \"qqqqqqqq\" is not a fact or a heading; expected one that `coldsill facts` lists",
    ]);
}

#[test]
fn json_has_every_fact_and_one_fact_is_the_same() {
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
