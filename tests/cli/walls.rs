//! `coldsill walls`: the list, one wall drawn, a job's own.

use crate::cli::common::{Folder, run, unwrapped};
use insta::assert_snapshot;

#[test]
fn a_wall_drawn_to_scale() {
    let ran = run("walls 2x6-exterior-insulation --climate minneapolis-mn");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert_snapshot!(ran.out);
}

#[test]
fn a_wall_drawn_in_si_units() {
    let ran = run("walls tilt-up --units si");
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert_snapshot!(ran.out);
}

#[test]
fn every_wall_fits_the_page_and_is_drawn_to_scale() {
    for wall in coldsill::wall::BUILT_IN.iter() {
        let text = coldsill::report::wall(wall, None, coldsill::units::System::Us);
        assert!(text.lines().all(|it| it.chars().count() <= 80), "{}", wall.key);
        let strip = text.lines().find(|it| it.trim_start().starts_with('|')).expect("it is drawn");
        let bars: Vec<usize> =
            strip.trim_start().char_indices().filter(|(_, c)| *c == '|').map(|(at, _)| at).collect();
        // 72 columns from face to face; a bar stands where its depth is, to the column.
        let mut at = 0.0;
        for layer in &wall.layers {
            at += layer.thickness;
            let wanted = at / wall.thickness() * 72.0;
            assert!(
                bars.iter().any(|it| (*it as f64 - wanted).abs() <= 0.51),
                "{}: {wanted} {bars:?}",
                wall.key
            );
        }
    }
}

#[test]
fn a_job_brings_its_own_walls() {
    let job = "walls:\n  ours:\n    name: our rim\n    under the flange: 3/4 in trim\n    layers: [1-1/2 in softwood, R-19 batt in 2x6]\n";
    let ran = Folder::new().with("job.yaml", job).run("walls ours --job job.yaml");
    let text = unwrapped(&ran.out);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    // 1 1/2 in and 5 1/2 in.
    for wanted in [
        "our rim",
        "R-19 batt in 2x6, R-18 as compressed",
        "inside face of insulation, 7 in",
        "3/4 in under every flange",
    ] {
        assert!(text.contains(wanted), "{wanted}: {text}");
    }
}

#[test]
fn a_wall_there_is_not_gets_the_nearest_and_a_word_in_no_name_is_told() {
    run("walls rim-jiost")
        .is_refused(&["walls: \"rim-jiost\" is not a known wall; did you mean \"rim joist\"?"]);
    run("walls --find marble").is_refused(&["--find: \"marble\" is in no wall's name"]);
    run("walls --climate duluth-mn").is_refused(&[
        "--climate: stands without a wall to draw; expected coldsill walls WALL --climate PLACE",
    ]);
}

#[test]
fn the_list_can_be_cut_to_a_word() {
    let text = run("walls --find crawlspace").out;
    assert!(text.contains("crawlspace-block") && !text.contains("2x6-siding"), "{text}");
}
