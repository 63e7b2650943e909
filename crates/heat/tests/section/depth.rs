//! The least seat depth, held against sections solved to either side of it.

use crate::section::common::*;
use coldsill_heat::section::{
    Behind, Boundary, Inlet, LONGEST, Micro, NoDepth, SectionError, Solved, Spec, Uncertainty, least_depth,
    solve,
};

/// 32 °F and a margin of 4.
const TARGET: f64 = 36.0;
/// A seat may be this much colder a millimeter further in, °F, as the mesh shifts: a tenth of what a millimeter gains.
const MESH: f64 = 0.05;

/// How much was solved for one depth.
#[derive(Default)]
struct Counted {
    sections: usize,
    with_band: usize,
    equations: usize,
}

fn least(spec: &Spec, at: &Boundary, target: f64) -> (Result<f64, NoDepth>, Counted) {
    let mut counted = Counted::default();
    let probe = |spec: &Spec, uncertainty| -> Result<Box<Solved>, SectionError> {
        let it = solve(spec, uncertainty)?;
        counted.sections += 1;
        counted.with_band += usize::from(uncertainty == Uncertainty::Carried);
        counted.equations += it.solves;
        Ok(Box::new(it))
    };
    let depth = least_depth(spec, at, kelvin(target), probe).map(|it| it.0);
    (depth, counted)
}

fn low_end(spec: &Spec, depth: f64, at: &Boundary) -> f64 {
    fahrenheit(with_band(&spec.with_seat_at(depth)).seat_temperature(at)[0])
}

fn hold(key: &str) {
    let at = state(0.0, 68.0);
    for (metal, conductivity) in METALS {
        for (supply, pipe) in [("copper", copper_pipe()), ("pex", pex_pipe())] {
            let spec = uncertain(outlet(built_in(key), conductivity, pipe, 8.0), metal, supply);
            let what = format!("{key}, {metal}, {supply} supply");
            let (depth, counted) = least(&spec, &at, TARGET);
            let Counted { sections, with_band, equations } = counted;
            match depth {
                Ok(depth) => {
                    println!(
                        "{what}: {:.2} in; {sections} sections, {with_band} of them with bands, {equations} solves",
                        depth / INCH
                    );
                    assert!(
                        (depth * 1e3 - (depth * 1e3).round()).abs() < 1e-9,
                        "{what}: {depth} is no whole mm"
                    );
                    assert!(low_end(&spec, depth, &at) >= TARGET, "{what}: {depth} is not enough");
                    assert!(
                        low_end(&spec, depth - 0.002, &at) < TARGET + MESH,
                        "{what}: 2 mm less than {depth} would do"
                    );
                }
                Err(NoDepth::NotAt(deepest, low)) => {
                    println!(
                        "{what}: none; {:.1} °F at {:.0} in; {sections} sections",
                        fahrenheit(low),
                        deepest / INCH
                    );
                    assert!((deepest - LONGEST).abs() < 0.001, "{what}: {deepest}");
                    assert!(low_end(&spec, deepest, &at) < TARGET, "{what}: {deepest} is enough");
                }
                Err(NoDepth::Refused(error)) => panic!("{what}: {error}"),
            }
        }
    }
}

#[test]
fn in_a_framed_wall_the_least_depth_is_enough_and_two_millimetres_less_is_not() {
    hold("2x6-siding");
}

#[test]
fn in_a_rim_joist_the_least_depth_is_enough_and_two_millimetres_less_is_not() {
    hold("rim-joist-batt");
}

#[test]
fn in_bare_block_the_least_depth_is_enough_and_two_millimetres_less_is_not() {
    hold("block-8-bare");
}

#[test]
fn where_two_feet_are_not_enough_there_is_no_depth_but_the_temperature_there() {
    let spec = uncertain(outlet(built_in("2x6-siding"), COPPER, pex_pipe(), 8.0), "copper", "pex");
    let at = state(-60.0, 68.0);
    let Err(NoDepth::NotAt(deepest, low)) = least(&spec, &at, 60.0).0 else { panic!("there is a depth") };
    assert!((deepest - LONGEST).abs() < 0.001 && deepest <= LONGEST, "{deepest}");
    assert!((fahrenheit(low) - low_end(&spec, deepest, &at)).abs() < 1e-9);
}

#[test]
fn a_seat_warm_enough_at_the_face_needs_no_depth() {
    let spec = outlet(built_in("2x6-siding"), BRASS, copper_pipe(), 8.0);
    assert_eq!(least(&spec, &state(50.0, 68.0), TARGET).0, Ok(0.0));
}

#[test]
fn an_inlet_in_the_wall_looks_no_deeper_than_the_wall_has_room_for() {
    let mut spec = outlet(built_in("slab-2x4-brick"), BRASS, copper_pipe(), 5.0);
    spec.inlet = Inlet::InWall;
    let thickness = spec.wall_thickness();
    let (depth, counted) = least(&spec, &state(-20.0, 68.0), 60.0);
    let Err(NoDepth::NotAt(deepest, low)) = depth else { panic!("there is a depth: {depth:?}") };
    println!(
        "inlet in a wall of {:.2} in: {:.1} °F at {:.2} in; {} sections",
        thickness / INCH,
        fahrenheit(low),
        deepest / INCH,
        counted.sections
    );
    // The fitting, 0.7 in, and the pipe turned down behind it, 5/8 in, stay within the wall.
    let room = thickness - (0.7 + 0.625) * INCH;
    assert!(deepest < room && deepest > room - 0.003, "{deepest} {room}");
    assert!(solve(&spec.with_seat_at(deepest), Uncertainty::LeftOut).is_ok());
    assert!(solve(&spec.with_seat_at(room + 0.002), Uncertainty::LeftOut).is_err());
}

#[test]
fn an_inlet_in_the_wall_has_a_least_depth_where_the_wall_is_warm_enough() {
    let mut spec = outlet(built_in("slab-2x4-brick"), STAINLESS, copper_pipe(), 5.0);
    spec.inlet = Inlet::InWall;
    let at = state(10.0, 68.0);
    let (depth, counted) = least(&spec, &at, TARGET);
    let depth = depth.expect("there is a depth");
    println!("inlet in the wall, stainless at 10 °F: {:.2} in; {} sections", depth / INCH, counted.sections);
    assert!(low_end(&spec, depth, &at) >= TARGET && low_end(&spec, depth - 0.002, &at) < TARGET + MESH);
}

#[test]
fn a_colder_space_behind_asks_for_more_depth_and_a_cold_one_for_more_than_there_is() {
    let with_share = |share: f64| {
        let mut spec = outlet(built_in("rim-joist-batt"), BRASS, copper_pipe(), 8.0);
        spec.behind = Behind { share: Micro::of(share), ..spec.behind };
        least(&spec, &state(0.0, 68.0), 34.0)
    };
    let [(heated, few), (garage, many), (cold, _)] = [1.0, 0.7, 0.4].map(with_share);
    println!(
        "heated {heated:?} in {} sections, 0.7 {garage:?} in {}, 0.4 {cold:?}",
        few.sections, many.sections
    );
    assert!(garage.expect("there is a depth") > heated.expect("there is a depth"));
    // Four tenths of 68 °F is 27 °F: no depth brings the seat above the space it stands in.
    assert!(matches!(cold, Err(NoDepth::NotAt(..))));
}
