//! Layers as people write them.

use coldsill::input::Memory;
use coldsill::job;
use coldsill::wall::Layer;

/// 1 h·ft²·°F/Btu in m²K/W.
const R: f64 = 0.176_110;
const INCH: f64 = 0.0254;

fn read(layer: &str) -> Result<Layer, String> {
    let files = Memory::new().with("job.yaml", format!("walls:\n  own:\n    layers:\n      - {layer}\n"));
    match job::walls(&files, "job.yaml") {
        Ok(walls) => {
            let own = walls.iter().find(|it| &*it.key == "own").expect("the wall is read");
            Ok(own.layers[0].clone())
        }
        Err(problems) => Err(problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")),
    }
}

#[track_caller]
fn is(layer: &str, inches: f64, r: f64) {
    let read = read(layer).unwrap_or_else(|problem| panic!("{problem}"));
    assert!((read.thickness / INCH - inches).abs() < 1e-6, "{layer}: {} in", read.thickness / INCH);
    let ours = read.resistance() / R;
    assert!((ours / r - 1.0).abs() < 1e-4, "{layer}: R-{ours}");
    assert!(read.insulation, "{layer}");
}

/// The table of air layers ends at 300 mm, 11.811 in.
#[test]
fn an_air_space_can_be_too_thick() {
    for layer in
        ["{ material: air, thickness: 20 in }", "20 in vented air", "{ material: air, thickness: 12 in }"]
    {
        let problem = read(layer).unwrap_err();
        assert!(
            problem.ends_with("is too thick for an air space; expected 0.008 in to 11.811 in"),
            "{layer}: {problem}"
        );
    }
    assert!(read("{ material: air, thickness: 11.811 in }").is_ok());
}

#[test]
fn a_label_in_studs_takes_their_depth() {
    // Depths of dry lumber: 2x4 3 1/2 in, 2x6 5 1/2, 2x8 7 1/4.
    for (text, inches, r) in [
        ("R-13 batt in 2x4", 3.5, 13.0),
        ("R-15 in 2x4 studs", 3.5, 15.0),
        ("2x6 R-21 batt", 5.5, 21.0),
        ("R-20 batt in 2x6", 5.5, 20.0),
        ("R21 fiberglass in a 2×6 wall", 5.5, 21.0),
        ("R-23 mineral wool in 2x6", 5.5, 23.0),
        ("R-30 mineral wool in 2x8", 7.25, 30.0),
        ("R-13", 3.5, 13.0),
        ("R-21 batt", 5.5, 21.0),
        ("R-13 batt insulation in 2x4 cavity", 3.5, 13.0),
    ] {
        is(text, inches, r);
    }
}

#[test]
fn a_pressed_batt_has_what_the_charts_give_it() {
    // Compression charts of the trade, seen: R-19 in 2x6 18, in 2x4 13 to 14; R-25 in 2x6 20, in 2x8 24; R-30 in 2x6 21 to 22.
    for (text, inches, r) in [
        ("R-19 batt in 2x6", 5.5, 18.0),
        ("R-19 batt 5-1/2 in", 5.5, 18.0),
        ("R-19 batt in 2x4", 3.5, 13.0),
        ("R-25 batt in 2x6", 5.5, 20.0),
        ("R-25 batt in 2x8", 7.25, 24.0),
        ("R-30 batt in 2x6", 5.5, 21.0),
    ] {
        is(text, inches, r);
    }
    let layer = read("R-19 batt in 2x6").unwrap();
    assert_eq!(&*layer.name, "R-19 batt in 2x6, R-18 as compressed");
    assert!(layer.source.contains("as labeled") && layer.source.contains("from memory"), "{}", layer.source);
}

#[test]
fn a_batt_loses_half_as_much_resistance_as_thickness() {
    // The trade's rule beside the chart: pressed by x %, a batt loses about x/2 % of its R. Charts keep within R-2 of it.
    for (label, made, studs, depth) in [
        (19.0, 6.25, "2x6", 5.5),
        (19.0, 6.25, "2x4", 3.5),
        (25.0, 8.0, "2x6", 5.5),
        (25.0, 8.0, "2x8", 7.25),
    ] {
        let rule = label * (1.0 - 0.5 * (1.0 - depth / made));
        let ours = read(&format!("R-{label} batt in {studs}")).unwrap().resistance() / R;
        assert!((ours - rule).abs() < 2.0 && ours < label, "R-{label} in {studs}: {ours} {rule}");
    }
}

#[test]
fn boards_and_blown_fills_go_by_their_own_thickness() {
    is("R-5 foam 1 in", 1.0, 5.0);
    is("R-10 XPS 2 in", 2.0, 10.0);
    is("R-6 polyiso, 1 in", 1.0, 6.0);
    is("R-20 cellulose in 2x6", 5.5, 20.0);
    is("{ resistance: R-5, thickness: 1 in, insulation: yes }", 1.0, 5.0);
    is("{ resistance: R-20, thickness: 2x6, material: cellulose, insulation: yes }", 5.5, 20.0);
    // 2 in at R-5 to the inch, the trade's figure for the material.
    let board = read("2 in XPS").unwrap();
    assert!((board.resistance() / R / 10.0 - 1.0).abs() < 0.02 && board.insulation);
    assert!(!read("1/2 in gypsum board").unwrap().insulation);
    assert_eq!(&*read("air 3/4 in").unwrap().name, "air space");
}

#[test]
fn what_cannot_be_is_told_in_the_trades_words() {
    for (layer, told) in [
        (
            "R-30 batt in 2x4",
            "does not fit 2x4: an R-30 batt is 10 in thick and is not made to be compressed so far",
        ),
        (
            "R-13 batt in 2x6",
            "does not fill 2x6: an R-13 batt is 3.5 in thick; expected a batt that fills it, or two layers: R-13 batt 3.5 in, and air 2 in",
        ),
        ("R-23 mineral wool in 2x4", "an R-23 batt is 5.5 in thick and is not compressed; expected R-15"),
        ("R-19 batt", "does not state the studs; expected such as R-19 batt in 2x6"),
        ("R-17 batt in 2x6", "is not a known batt"),
        ("R-5 foam", "does not state the thickness of the layer"),
        ("R-20 foam 1 in", "has a label out of range for 1.00 in of insulation"),
        ("R-0 batt in 2x4", "names no built-in material"),
        ("gypsum board", "does not state the thickness of the layer"),
        ("1/2 in gypsum bord", "names no built-in material; did you mean \"gypsum-board\"?"),
        ("2x6 batt 3 in", "gives both a thickness and studs"),
        (
            "{ resistance: R-5, conductivity: 0.03 W/mK, thickness: 1 in }",
            "a conductivity or a resistance, not both",
        ),
        ("{ thickness: 1 in }", "the layer has no material"),
    ] {
        let problem = read(layer).expect_err(layer);
        assert!(problem.starts_with("job.yaml, line 4") && problem.contains(told), "{layer}: {problem}");
    }
}

#[test]
fn facings_and_plurals_do_not_keep_a_batt_from_its_chart() {
    // The charts as above: R-25 in 2x6 20, R-19 in 2x6 18, R-13 fills 2x4; R-19 at the 6 1/4 in it is made in, its label.
    is("R-25 kraft-faced batt in 2x6", 5.5, 20.0);
    is("R-19 batts in 2x6", 5.5, 18.0);
    is("R-19 unfaced batts in 2x6", 5.5, 18.0);
    is("R-13 kraft faced fiberglass batt insulation in 2x4", 3.5, 13.0);
    is("R-19 batt 6-1/4 in", 6.25, 19.0);
}

#[test]
fn keys_send_a_batt_to_the_same_chart_and_keep_it_insulation() {
    is("{ material: fiberglass batt, thickness: 2x6, resistance: R-19 }", 5.5, 18.0);
    is("{ material: kraft-faced batts, thickness: 5-1/2 in, resistance: R-19 }", 5.5, 18.0);
    is("{ material: fiberglass batt, thickness: 2x6, resistance: R-30 }", 5.5, 21.0);
    is("{ thickness: 2x4, resistance: R-13 }", 3.5, 13.0);
    is("{ thickness: 1 in, resistance: R-5 }", 1.0, 5.0);
    is("{ material: sheep wool, thickness: 5-1/2 in, resistance: R-20 }", 5.5, 20.0);
    // RSI-3.35 is R-19 to the two decimals it is printed with.
    is("{ material: fiberglass batt, thickness: 2x6, resistance: 3.35 m²K/W }", 5.5, 18.0);
}

#[test]
fn a_label_on_what_is_no_insulation_makes_none_of_it() {
    // R-1 is what 1 in of air has, R-1.11 what the handbook has for 8 in block.
    for (layer, r) in [
        ("{ material: air, thickness: 1 in, resistance: R-3 }", 3.0),
        ("air 3/4 in R-1", 1.0),
        ("R-1.11 concrete block hollow 7-5/8 in", 1.11),
    ] {
        let read = read(layer).unwrap_or_else(|problem| panic!("{problem}"));
        assert!(!read.insulation && (read.resistance() / R / r - 1.0).abs() < 1e-4, "{layer}");
    }
}

#[test]
fn a_label_that_cannot_be_taken_is_refused() {
    for (layer, told) in [
        ("R-25 kraft-faced batt in 2x4", "does not fit 2x4"),
        ("R-38 unfaced batts in 2x6", "does not fit 2x6"),
        ("no R-20 batt in 2x6", "leaves the layer out, undecided or to others"),
        ("R-20 batt in 2x6 by others", "leaves the layer out, undecided or to others"),
        ("R-13 batt not installed in 2x4", "leaves the layer out, undecided or to others"),
        ("R-20 super batt in 2x6", "names no built-in material"),
        ("R-30 spray foam in 2x6", "does not state the thickness of the layer"),
        ("R-20 batt R-5 foam 6-1/2 in", "gives two resistances; expected a layer for each"),
        ("air 1 in R-8", "has a label out of range for an air space"),
        ("{ material: fiberglass batt, thickness: 2x4, resistance: R-30 }", "does not fit 2x4"),
        (
            "{ material: brick, thickness: 4 in, resistance: R-30 }",
            "has a label out of range for 4.00 in of masonry",
        ),
        ("{ material: batt by others, thickness: 2x4, resistance: R-13 }", "leaves the layer out"),
    ] {
        let problem = read(layer).expect_err(layer);
        assert!(problem.starts_with("job.yaml, line 4") && problem.contains(told), "{layer}: {problem}");
    }
}
