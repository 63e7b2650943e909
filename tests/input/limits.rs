//! The ends of a range that a message names are in it.

use coldsill::facts::{CATALOGUE, Source};
use coldsill::schedule::{CellType, read_cell};
use coldsill::units::find_unit;

/// The ends as a message gives them: `expected 1 in to 48 in`.
fn ends(told: &str) -> Option<[String; 2]> {
    let limits = told.rsplit_once("expected ")?.1;
    let (least, most) = limits.split_once(" to ").or_else(|| limits.split_once(", at most "))?;
    Some([least, most].map(str::to_owned))
}

#[test]
fn the_ends_of_the_range_of_every_column_are_accepted_as_they_are_told() {
    let mut count = 0;
    for entry in CATALOGUE.iter() {
        let Source::Stated { reads: reads @ CellType::Quantity { measure, .. }, .. } = &entry.def.source
        else {
            continue;
        };
        let absurd = match measure.name().as_str() {
            "a length" => "90000 in",
            "a temperature" | "a temperature difference" => "9000 °F",
            _ => "9000000000 %",
        };
        let error = read_cell(reads, absurd, None).expect_err(absurd);
        let told = error.at(coldsill::diag::Location::whole("s.csv"), absurd).to_string();
        assert!(told.contains("is out of range"), "{}: {told}", entry.def.name);
        // A slope's message has its steepest alone.
        let Some(ends) = ends(&told) else { continue };
        for end in ends {
            assert!(read_cell(reads, &end, find_unit("in")).is_ok(), "{}: {end} of {told}", entry.def.name);
            count += 1;
        }
    }
    assert!(count >= 30, "{count}");
}

/// Each key with a figure far out of range, and the ends that its message has: 4200 m is 13779.5 ft, 5 m is 196.85 in, 1 m is
/// 39.37 in, 0.2 mm is 0.0079 in and 17.7 m²K/W is.
#[test]
fn the_ends_of_the_range_of_every_key_are_accepted_as_they_are_told() {
    const WALL: &str = "climate: miami-fl\nwalls: { w: { name: W, layers: [";
    for (job, absurd, ends_told) in [
        ("climate: miami-fl\nspell: { start: X }", "999 °F", ["-112 °F", "104 °F"]),
        ("climate: miami-fl\nspell: { swing: X }", "999 °F", ["0 °F", "40 °F"]),
        ("climate: miami-fl\nspaces: { heated room: { temperature: X } }", "999 °F", ["-40 °F", "90 °F"]),
        ("climate: miami-fl\nspaces: { garage: { time constant: X } }", "9999 h", ["1 h", "1000 h"]),
        ("climate: { name: A, design_low: X }", "999 °F", ["-112 °F", "104 °F"]),
        ("climate: { name: A, design_low: 5 °F, summer_dew_point: X }", "999 °F", ["-112 °F", "104 °F"]),
        ("climate: { name: A, design_low: 5 °F, elevation: X }", "99999 ft", ["-1476 ft", "13779 ft"]),
        ("climate: { name: A, annual_low: { mean: 5 °F, deviation: X } }", "99 °F", ["0.2 °F", "21.6 °F"]),
        ("climate: miami-fl\nauthority: { frost_depth: X }", "99 ft", ["0 in", "196.85 in"]),
        (
            "climate: miami-fl\nauthority: { freezing_index: X }",
            "99999 °F·days",
            ["0 °F·days", "10000 °F·days"],
        ),
        (&format!("{WALL}{{ material: concrete, thickness: X }}] }} }}"), "99 ft", ["0.008 in", "39.37 in"]),
        (
            &format!("{WALL}{{ name: A, thickness: 20 in, resistance: X }}] }} }}"),
            "R-999",
            ["more than R-0", "R-100"],
        ),
        (
            &format!("{WALL}{{ name: A, thickness: 1 in, conductivity: X }}] }} }}"),
            "999 W/mK",
            ["0.004 W/mK", "430 W/mK"],
        ),
    ] {
        let told = |text: &str| {
            let job = job.replace('X', text);
            let opened = crate::climate::opened(&format!("{job}\n"), "Mark,Kind\nA,sillcock\n", None);
            opened
                .err()
                .map(|problems| problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
        };
        let refused = told(absurd).unwrap_or_else(|| panic!("{job}: {absurd} was read"));
        assert!(refused.contains("is out of range"), "{refused}");
        assert_eq!(ends(&refused), Some(ends_told.map(str::to_owned)), "{refused}");
        for end in ends_told.iter().filter(|end| !end.starts_with("more than")) {
            let again = told(end).unwrap_or_default();
            assert!(!again.contains("out of range"), "{end}: {again}");
        }
    }
}
