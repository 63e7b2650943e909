//! Cells in the words of the trade: which are read, and which are asked about.

use crate::words::rows::{fact, world};
use coldsill::expr::Value;
use coldsill::facts::World;

/// A row with cells under headings.
fn row(cells: &[(&str, &str)]) -> World {
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    let headings: Vec<&str> = cells.iter().map(|(heading, _)| *heading).collect();
    let texts: Vec<String> = cells.iter().map(|(_, text)| quoted(text)).collect();
    world(&format!("Mark,{}\nA,{}\n", headings.join(","), texts.join(",")))
}

/// A quantity of the row over its unit, if it is read.
fn amount(world: &World, name: &str, unit: f64) -> Option<f64> {
    match fact(world, 0, name).0 {
        Some(Value::Quantity(it)) => Some((it.is / unit * 1e6).round() / 1e6),
        _ => None,
    }
}

fn problems(world: &World) -> Vec<String> {
    world.job().schedule.problems.iter().map(ToString::to_string).collect()
}

const INCH: f64 = 0.0254;

/// 12 in is 304.8 mm, 8 in 203.2 and 14 in 355.6.
#[test]
fn inches_agree_with_their_whole_millimeters_in_another_column() {
    for (inches, millimeters) in [("12", "305"), ("8", "203"), ("14", "356")] {
        for columns in [
            [("Length (in)", inches), ("Length (mm)", millimeters)],
            [("Length (mm)", millimeters), ("Length (in)", inches)],
        ] {
            let world = row(&columns);
            assert_eq!(problems(&world), [""; 0], "{columns:?}");
            assert_eq!(amount(&world, "outlet.nominal_length", INCH), inches.parse().ok(), "{columns:?}");
        }
    }
    // 300 mm is a length of its own; 304 and 306 are not 304.8 rounded.
    for other in ["300", "304", "306"] {
        let world = row(&[("Length (in)", "12"), ("Length (mm)", other)]);
        assert!(problems(&world).concat().contains("contradicts \"12\""), "{:?}", problems(&world));
        assert_eq!(amount(&world, "outlet.nominal_length", INCH), None);
    }
}

#[test]
fn inches_may_have_their_millimeters_after_a_slash() {
    for (text, inches) in [
        ("12 in / 305 mm", Some(12.0)),
        ("12\"/305mm", Some(12.0)),
        ("305 mm / 12 in", Some(12.0)),
        ("12 in / 300 mm", None),
        ("12 in / 14 in", None),
        ("12 / 305 mm", None),
        ("300 mm / 305 mm", None),
        ("12 in min", None),
    ] {
        assert_eq!(amount(&row(&[("Length", text)]), "outlet.nominal_length", INCH), inches, "{text}");
    }
}
