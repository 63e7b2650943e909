//! Random legal outlets in random legal walls, and degenerate ones: every solution is physical, or the section is refused with
//! a reason.

use super::common::{INCH, kelvin, pipe_of, state};
use coldsill_heat::section::{
    Barrel, Behind, Bore, Capacities, Fineness, Fitting, Goal, Inlet, Layer, Micro, Ranged, SectionError,
    Solved, Spec, Stem, Supply, Uncertainty, Weather, follow, solve, solve_at,
};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

/// Energy lost as a fraction of the flow: the bound that the solver's own tests use for direct elimination in doubles.
const IMBALANCE: f64 = 1e-9;

/// Between two figures, evenly in the logarithm.
fn between(low: f64, high: f64) -> impl Strategy<Value = f64> {
    (libm::log(low)..libm::log(high)).prop_map(libm::exp)
}

/// A best estimate with bounds up to 40 % away.
fn about(low: f64, high: f64) -> impl Strategy<Value = Ranged> {
    (between(low, high), 0.6..1.0, 1.0..1.4)
        .prop_map(|(used, less, more)| Ranged::new(used * less, used, used * more))
}

prop_compose! {
    /// One to five layers, 3 mm to 1 m in all, of 0.005 (an evacuated panel) to 400 W/mK (copper).
    fn walls()(
        thickness in between(0.003, 1.0),
        parts in prop::collection::vec((0.05..1.0, between(0.005, 400.0)), 1..=5),
    ) -> Vec<Layer> {
        let whole: f64 = parts.iter().map(|(part, _)| part).sum();
        let layer = |(part, conductivity): &(f64, f64)| Layer {
            thickness: Micro::of(thickness * part / whole),
            conductivity: Micro::of(*conductivity),
        };
        parts.iter().map(layer).collect()
    }
}

prop_compose! {
    fn specs()(
        wall in walls(),
        seat in prop_oneof![Just(0.0), 0.0..1.2],
        diameter in between(0.012, 0.06),
        tube in 0.03..0.15,
        stem in 0.1..0.9,
        conductivities in [about(0.2, 400.0), about(0.2, 400.0), about(0.2, 400.0), about(0.2, 400.0)],
        fitting in about(0.005, 0.1),
        bore in prop_oneof![Just(Bore::Drained), Just(Bore::Full)],
        inlet in prop_oneof![Just(Inlet::InSpace), Just(Inlet::InWall)],
        (share, leak, convection) in (0.05..1.0, 0.0..0.5, 0.85..1.15),
        run in 0.1..2.0,
        film in 8.0..60.0,
        (gasket, cover) in (prop_oneof![Just(0.0), Just(0.003)], prop_oneof![Just(0.0), Just(0.3)]),
    ) -> Spec {
        let thickness = wall.iter().map(|it| it.thickness.si()).sum::<f64>();
        let [barrel, rod, brass, pipe] = conductivities;
        let bore_width = diameter * (1.0 - 2.0 * tube);
        Spec {
            wall,
            // To a fifth beyond the wall.
            seat_depth: Ranged::new(0.0, seat * thickness.max(0.1), seat * thickness.max(0.1) * 1.05),
            barrel: Barrel {
                diameter: Ranged::exact(diameter),
                thickness: Ranged::exact(diameter * tube),
                conductivity: barrel,
                emissivity: Ranged::new(0.05, 0.4, 0.6),
            },
            stem: Stem { diameter: Ranged::exact(bore_width * stem), conductivity: rod },
            fitting: Fitting { length: fitting, conductivity: brass },
            bore,
            supply: pipe_of(pipe, run),
            inlet,
            behind: Behind {
                room: Micro::of(kelvin(68.0)),
                share: Micro::of(share),
                leak: Ranged::exact(leak),
                pressure: Ranged::exact(101_325.0),
                convection: Ranged::exact(convection),
            },
            held_back: None,
            outdoor_resistance: Ranged::exact(1.0 / film),
            gasket: Micro::of(gasket),
            cover: Micro::of(cover),
        }
    }
}

/// Whole bands lie between the boundaries, weights between 0 and 1, and energy is kept.
fn is_physical(spec: &Spec, solved: &Solved) -> Result<(), TestCaseError> {
    prop_assert!(solved.imbalance.abs() < IMBALANCE, "imbalance {}", solved.imbalance);
    let most = spec.behind.weight();
    // The interval may reach a space without the leak, and no further.
    prop_assert!((solved.behind.0 - spec.behind.share.si()).abs() < 1e-6, "behind {}", solved.behind.0);
    let stations = solved.stations.iter().map(|it| it.share.0);
    let bands = solved.seat_shares().into_iter().chain(solved.coldest_shares()).map(|it| it.0);
    for share in stations.chain(bands).chain(solved.bare.iter().map(|it| it.share.0)) {
        prop_assert!((-1e-9..=1.0 + 1e-9).contains(&share), "share {share}");
    }
    let warmest = solved.seat_shares().into_iter().chain(solved.coldest_shares()).map(|it| it.0);
    prop_assert!(warmest.fold(0.0, f64::max) <= solved.behind.0 + 1e-9, "warmer than the space behind");
    prop_assert!(solved.seat.0 <= most + 1e-9, "the seat {} is warmer than its air {most}", solved.seat.0);
    // Linear in the two boundaries: the mean of two states has the mean of their temperatures.
    let [cold, warm, between] = [state(-40.0, 50.0), state(30.0, 80.0), state(-5.0, 65.0)];
    let [at_cold, at_warm, at_mean] = [cold, warm, between].map(|it| solved.seat.temperature(&it));
    prop_assert!((at_mean - (at_cold + at_warm) / 2.0).abs() < 1e-9);
    for at in [cold, warm] {
        for kelvin in solved.seat_temperature(&at).into_iter().chain(solved.coldest_temperature(&at)) {
            prop_assert!(kelvin >= at.outdoors - 1e-6 && kelvin <= at.room + 1e-6, "{kelvin} K of {at:?}");
        }
    }
    prop_assert!(solved.point_transmittance.is_finite());
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn random_outlets_are_physical_or_refused(spec in specs()) {
        match solve(&spec, Uncertainty::Carried) {
            Ok(solved) => is_physical(&spec, &solved)?,
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
}

prop_compose! {
    /// Outlets of metals and pipes that are sold, in walls of 0.02 to 3 W/mK; every uncertain input with a range of its own,
    /// some up to four times as wide as the program's.
    fn uncertain()(
        spec in specs(),
        seat in (0.0..0.5, 0.0..0.03, 0.0..0.03),
        wall in prop::collection::vec((0.005..0.15, between(0.02, 3.0)), 1..=5),
        barrel in (between(0.018, 0.028), 0.0..0.15, 0.0..0.15, about(14.0, 400.0)),
        (thickness, stem) in (about(0.0008, 0.002), about(0.004, 0.009)),
        (rod, brass, fitting) in (about(14.0, 400.0), about(14.0, 400.0), about(0.012, 0.06)),
        supply in prop_oneof![Just(Ranged::new(300.0, 339.0, 400.0)), Just(Ranged::new(0.35, 0.41, 0.5))],
        leak in (0.0..0.08, 0.0..0.1),
        (exchange, convection) in (1.0..3.0, (0.7..1.0, 1.0..1.4)),
        film in (8.0..20.0, 20.0..36.0, 36.0..80.0),
        pressure in (60_000.0..85_000.0, 85_000.0..102_000.0),
    ) -> Spec {
        let (diameter, less, more, conductivity) = barrel;
        let exchange = exchange_in(supply, exchange);
        let leak: (f64, f64) = leak;
        let leak = Ranged::new(0.0, leak.0, leak.0 + leak.1);
        Spec {
            wall: wall
                .iter()
                .map(|(thickness, k)| Layer { thickness: Micro::of(*thickness), conductivity: Micro::of(*k) })
                .collect(),
            seat_depth: Ranged::new(f64::max(seat.0 - seat.1, 0.0), seat.0, seat.0 + seat.2),
            barrel: Barrel {
                diameter: Ranged::new(diameter * (1.0 - less), diameter, diameter * (1.0 + more)),
                thickness,
                conductivity,
                ..spec.barrel
            },
            stem: Stem { diameter: stem, conductivity: rod },
            fitting: Fitting { length: fitting, conductivity: brass },
            supply: Supply { exchange, ..pipe_of(supply, spec.supply.run.si()) },
            behind: Behind {
                leak,
                convection: Ranged::new(convection.0, 1.0, convection.1),
                pressure: Ranged::new(pressure.0, pressure.1, pressure.1),
                ..spec.behind
            },
            outdoor_resistance: Ranged::new(film.0, film.1, film.2).reciprocal(),
            ..spec
        }
    }
}

/// Water in a plastic pipe may carry more heat than still water; in a metal one that makes no difference.
fn exchange_in(pipe: Ranged, most: f64) -> Ranged {
    if pipe.si() > 1.0 { Ranged::exact(1.0) } else { Ranged::new(1.0, 1.0, most) }
}

/// A search looks only at these bounds, and what it finds is proved with the interval itself: a section in many thousands may
/// lie outside them, with ranges as wide as these, but not one in a thousand. The sections are the same in every run.
#[test]
fn a_rough_interval_bounds_the_interval_of_all_but_one_section_in_a_thousand() {
    const SECTIONS: usize = 2000;
    let mut runner = TestRunner::deterministic();
    let at = state(-40.0, 70.0);
    let (mut compared, mut outside) = (0, Vec::new());
    for _ in 0..SECTIONS {
        let spec = uncertain().new_tree(&mut runner).expect("nothing is filtered").current();
        let solved = [Uncertainty::Carried, Uncertainty::Rough].map(|uncertainty| solve(&spec, uncertainty));
        let [Ok(carried), Ok(rough)] = solved else { continue };
        let Some([narrowest, widest]) = carried.seat_temperature_within(&rough, &at) else { continue };
        let interval = carried.seat_temperature(&at);
        let is_low_within = widest[0] <= interval[0] && interval[0] <= narrowest[0];
        let is_high_within = narrowest[2] <= interval[2] && interval[2] <= widest[2];
        compared += 1;
        if !(is_low_within && is_high_within) {
            outside.push(format!("{interval:?} {narrowest:?} {widest:?}"));
        }
    }
    assert!(compared > SECTIONS / 2, "{compared}");
    assert!(outside.len() * 1000 <= compared, "{}", outside.join("\n"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: ProptestConfig::default().cases / 8, failure_persistence: None, ..ProptestConfig::default() })]

    /// A spell ends, conserves energy, and takes nothing beyond the temperatures around it.
    #[test]
    fn random_spells_are_physical_or_refused(spec in specs(), low in -60.0..30.0, hours in 1.0..48.0) {
        let held = Capacities {
            layers: vec![Micro::of(1e6); spec.wall.len()],
            barrel: Micro::of(3.2e6),
            fitting: Micro::of(3.2e6),
            stem: Micro::of(3.2e6),
            supply: Micro::of(3.4e6),
            sleeve: Micro::of(3e4),
        };
        let weather = Weather {
            outdoors: vec![[0.0, kelvin(40.0)], [3600.0, kelvin(low)]],
            room: vec![[0.0, kelvin(68.0)]],
            over: hours * 3600.0,
            end: hours * 3600.0,
            goal: Goal::Cleared,
        };
        if let Ok(course) = follow(&spec, &held, &weather) {
            // The bound of the tests of whole spells.
            prop_assert!(course.imbalance.abs() < 1e-6, "imbalance {}", course.imbalance);
            prop_assert!((0.0..=1.0 + 1e-9).contains(&course.fullest), "{}", course.fullest);
            prop_assert!((kelvin(low.min(40.0)) - 1e-6..=kelvin(68.0) + 1e-6).contains(&course.coldest_seat));
            for moment in &course.moments {
                let within = kelvin(low) - 1e-6..=kelvin(68.0) + 1e-6;
                prop_assert!(within.contains(&moment.seat) && moment.frozen.is_finite(), "{moment:?}");
            }
        }
    }
}

/// A wall of three layers, 10 mm, 100 mm and 20 mm.
fn three_layers() -> Vec<Layer> {
    [(0.01, 0.9), (0.1, 0.04), (0.02, 0.2)]
        .map(|(thickness, conductivity)| Layer {
            thickness: Micro::of(thickness),
            conductivity: Micro::of(conductivity),
        })
        .to_vec()
}

fn plain(wall: Vec<Layer>, seat: f64) -> Spec {
    super::common::outlet(wall, super::common::BRASS, super::common::copper_pipe(), seat / INCH)
}

#[test]
fn a_seat_in_each_layer_and_on_each_border_is_solved() {
    let mut before = 0.0;
    for depth in [0.0, 0.005, 0.01, 0.06, 0.11, 0.12, 0.13, 0.2] {
        let solved = solve(&plain(three_layers(), depth), Uncertainty::Carried)
            .unwrap_or_else(|error| panic!("{depth} m: {error}"));
        // A deeper seat in the same wall is no colder: 1 % of the range for the mesh, which differs from depth to depth.
        assert!(solved.seat.0 > before - 0.01, "{depth} m: {} after {before}", solved.seat.0);
        before = solved.seat.0;
    }
}

#[test]
fn extreme_walls_are_solved_between_the_boundaries() {
    for thickness in [0.003, 0.03, 0.3, 1.0] {
        for conductivity in [0.005, 0.04, 1.0, 400.0] {
            let wall = vec![Layer { thickness: Micro::of(thickness), conductivity: Micro::of(conductivity) }];
            for seat in [0.0, thickness / 2.0, thickness] {
                let case = format!("{thickness} m of {conductivity} W/mK, seat at {seat} m");
                let solved = solve(&plain(wall.clone(), seat), Uncertainty::LeftOut);
                let share = solved.unwrap_or_else(|error| panic!("{case}: {error}")).seat.0;
                assert!((0.0..=1.0).contains(&share), "{case}: {share}");
            }
        }
    }
}

#[test]
fn a_stem_as_thick_as_the_bore_is_refused_with_the_reason() {
    let mut spec = plain(three_layers(), 0.06);
    spec.stem.diameter = Ranged::exact(spec.barrel.diameter.si());
    assert!(matches!(solve(&spec, Uncertainty::Carried), Err(SectionError::DoesNotFit(_))));
}

#[test]
fn half_the_mesh_spacing_moves_no_random_seat_far() {
    // A kelvin in a hundred between room and outdoors: a sixth of what the uncertain inputs come to.
    for (seat, conductivity) in [(0.0, 0.02), (0.05, 0.5), (0.1, 2.0), (0.25, 0.1)] {
        let wall = vec![Layer { thickness: Micro::of(0.25), conductivity: Micro::of(conductivity) }];
        let spec = plain(wall, seat);
        let [usual, halved] = [Fineness::Usual, Fineness::Halved]
            .map(|fineness| solve_at(&spec, Uncertainty::LeftOut, fineness).expect("it solves").seat.0);
        assert!((usual - halved).abs() < 0.01, "{seat} m in {conductivity} W/mK: {usual}, {halved}");
    }
}
