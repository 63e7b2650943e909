//! Cells in the words of the trade: which are read, and which are asked about.

use crate::words::rows::{fact, word, world};
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

#[test]
fn bare_pipe_has_no_insulation_and_foam_has_a_thickness() {
    for (text, inches) in [
        ("bare", Some(0.0)),
        ("Uninsulated", Some(0.0)),
        ("un-insulated", Some(0.0)),
        ("N", Some(0.0)),
        ("No", Some(0.0)),
        ("none", Some(0.0)),
        ("1/2 in foam", Some(0.5)),
        ("1/2\" elastomeric foam", Some(0.5)),
        ("3/4 in insulation", Some(0.75)),
        ("none?", None),
        ("insulated", None),
        ("foam", None),
        ("0", None),
        ("R-3", None),
        ("R-21", None),
    ] {
        assert_eq!(
            amount(&row(&[("Pipe insulation", text)]), "outlet.supply_insulation", INCH),
            inches,
            "{text}"
        );
    }
}

#[test]
fn an_inlet_may_give_its_size() {
    for (text, kind, inches) in [
        ("1/2\" MIP", "threaded", 0.5),
        ("3/4 in MIP", "threaded", 0.75),
        ("3/4\" FIP", "threaded", 0.75),
        ("3/4 MPT", "threaded", 0.75),
        ("1/2\" sweat", "sweat", 0.5),
        ("1/2\" male thread", "threaded", 0.5),
    ] {
        let world = row(&[("Inlet", text)]);
        assert_eq!(problems(&world), [""; 0], "{text}");
        assert_eq!(fact(&world, 0, "outlet.inlet").0, word(kind), "{text}");
        assert_eq!(amount(&world, "outlet.supply_size", INCH), Some(inches), "{text}");
    }
    for text in ["4\" MIP", "1/2\" MIP?", "1/2 to 3/4 in MIP"] {
        assert_eq!(fact(&row(&[("Inlet", text)]), 0, "outlet.inlet").0, None, "{text}");
    }
    let differs = row(&[("Supply size", "1/2 in"), ("Inlet", "3/4 in MIP")]);
    assert!(problems(&differs).concat().contains("contradicts"), "{:?}", problems(&differs));
}

/// Calculations use the flatter end of a slope, which the least is. Inward it is the better end.
#[test]
fn the_least_slope_outward_is_the_slope() {
    for (text, inches_per_foot) in [
        ("1/8\"/ft min", Some(0.125)),
        ("1/4 in/ft min.", Some(0.25)),
        ("1/8 in/ft minimum toward outside", Some(0.125)),
        ("1/8\"/ft max", None),
        ("1/8\"/ft min toward house", None),
        ("-1/8 in/ft min", None),
    ] {
        assert_eq!(amount(&row(&[("Slope", text)]), "outlet.slope", 1.0 / 12.0), inches_per_foot, "{text}");
    }
}

#[test]
fn a_bare_size_beside_the_size_of_the_supply_may_be_the_faucets_own() {
    for columns in
        [[("Supply size", "1/2 in"), ("Size", "3/4 in")], [("Size", "3/4 in"), ("Supply size", "1/2 in")]]
    {
        let world = row(&columns);
        assert_eq!(problems(&world), [""; 0]);
        assert_eq!(amount(&world, "outlet.supply_size", INCH), Some(0.5));
        let unused: Vec<String> =
            world.job().schedule.unused.iter().map(|it| format!("\"{}\" {}", it.text, it.why)).collect();
        assert_eq!(unused, ["\"3/4 in\" is not the size in the column of the supply; that one is used"]);
    }
    let agreeing = row(&[("Supply size", "1/2 in"), ("Size", "1/2\"")]);
    assert!(agreeing.job().schedule.unused.is_empty());
    let blank = row(&[("Supply size", ""), ("Size", "3/4 in")]);
    assert_eq!(amount(&blank, "outlet.supply_size", INCH), Some(0.75));
}
