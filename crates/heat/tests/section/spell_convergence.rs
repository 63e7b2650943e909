//! What a spell must not depend on: steps, mesh, where it is read; and what bounds it whatever happens in it.

use crate::section::common::*;
use crate::section::spells::*;
use coldsill_heat::section::{
    Bore, Closely, Course, Ended, Goal, Inlet, Micro, PLUG, Sleeve, Spec, Weather, blocks, follow_at,
};

/// Name, wall, outlet and spell.
type Case = (&'static str, &'static str, Spec, Weather);

fn full(mut spec: Spec) -> Spec {
    spec.bore = Bore::Full;
    spec
}

fn in_the_cavity(mut spec: Spec) -> Spec {
    spec.inlet = Inlet::InWall;
    spec
}

fn sleeved(mut spec: Spec) -> Spec {
    spec.supply.sleeve = Some(Sleeve { thickness: Micro::of(0.5 * INCH), conductivity: Micro::of(0.036) });
    spec
}

/// Outlets that close inside and at the face, drained and full, on copper and plastic, in several walls; spells stepped
/// and with a daily swing. All of them freeze.
fn freezing() -> Vec<Case> {
    let [framed, slab, block] = ["2x6-siding", "slab-2x4-brick", "block-8-bare"];
    let at = |key: &str, metal, supply, seat| outlet(built_in(key), metal, supply, seat);
    vec![
        ("brass 4 in, drained, PEX", framed, at(framed, BRASS, pex_pipe(), 4.0), step(32.0, 0.0, 48.0)),
        ("the same, swinging", framed, at(framed, BRASS, pex_pipe(), 4.0), swinging(32.0, 10.0, 10.0, 2.0)),
        ("brass at the face, copper", framed, at(framed, BRASS, copper_pipe(), 0.0), step(40.0, 18.0, 48.0)),
        (
            "the same, swinging",
            framed,
            at(framed, BRASS, copper_pipe(), 0.0),
            swinging(40.0, 15.0, 10.0, 2.0),
        ),
        (
            "brass at the face, PEX",
            framed,
            at(framed, BRASS, pex_pipe(), 0.0),
            swinging(40.0, 15.0, 10.0, 2.0),
        ),
        (
            "brass 4 in, hose on, PEX",
            framed,
            full(at(framed, BRASS, pex_pipe(), 4.0)),
            swinging(32.0, 5.0, 10.0, 2.0),
        ),
        (
            "copper 6 in, drained, copper, sleeved",
            framed,
            sleeved(at(framed, COPPER, copper_pipe(), 6.0)),
            swinging(32.0, -20.0, 15.0, 2.0),
        ),
        (
            "stainless 3 in, drained, PEX",
            "2x4-siding",
            at("2x4-siding", STAINLESS, pex_pipe(), 3.0),
            swinging(32.0, -5.0, 10.0, 2.0),
        ),
        (
            "brass at the face, copper in the cavity",
            slab,
            in_the_cavity(at(slab, BRASS, copper_pipe(), 0.0)),
            step(32.0, 15.0, 72.0),
        ),
        (
            "brass 5 in, PEX in the cavity",
            slab,
            in_the_cavity(at(slab, BRASS, pex_pipe(), 5.0)),
            swinging(40.0, 0.0, 10.0, 2.0),
        ),
        (
            "brass 4 in, drained, copper",
            block,
            at(block, BRASS, copper_pipe(), 4.0),
            swinging(32.0, -5.0, 10.0, 2.0),
        ),
    ]
}

#[test]
fn hours_to_blocked_do_not_depend_on_steps_or_mesh() {
    /// Of the hours to blocked.
    const PART: f64 = 0.02;
    /// What a temperature takes to cross a cell of water 4.5 mm wide, l²/α with 1.35e-7 m²/s, h: it counts where a sudden
    /// fall blocks the bore within a few hours.
    const CELL: f64 = 150.0 / HOUR;
    println!("hours to blocked {:24} {:16} usual; steps / 10; mesh / 2", "", "");
    for (name, wall, spec, weather) in freezing() {
        let weather = Weather { goal: Goal::Blocked, ..weather };
        let capacities = in_wall(&spec, wall);
        let [usual, depth] = blocked(&followed(&spec, &capacities, &weather)).expect("it freezes");
        print!("{name:40} {wall:16} {usual:7.3}");
        for (at, what) in [(FINE_STEPS, "steps"), (FINE_MESH, "mesh")] {
            let [fine, fine_depth] = blocked(&closely(&spec, &capacities, &weather, at)).expect("it freezes");
            print!(" {fine:7.3}");
            assert!((fine - usual).abs() < PART * usual + CELL, "{name}, {what}: {usual} {fine}");
            assert!((fine_depth - depth).abs() < 0.1, "{name}, {what}: at {depth} and {fine_depth} in");
        }
        println!(" at {depth:.2} in");
    }
}

#[test]
fn no_heat_is_lost_through_freezing_and_thawing() {
    /// Each stage is solved until no cell is further off than 1e-7 K, of some 10 K that freezing is worth.
    const LOST: f64 = 1e-6;
    for (name, wall, spec, weather) in freezing() {
        let course = followed(&spec, &in_wall(&spec, wall), &weather);
        println!(
            "{name:40} lost {:.0e}; {:?} at {} h",
            course.imbalance,
            course.ended,
            shown(hours(course.clear))
        );
        assert!(course.imbalance < LOST, "{name}: {}", course.imbalance);
        assert_eq!(course.ended, Ended::Clear, "{name}");
        // All of it in its order.
        let [first, blocked, clear] = [course.first_ice, course.blocked.map(|it| it.0), course.clear]
            .map(|it| it.expect("it happened"));
        assert!(0.0 <= first && first < blocked && blocked < clear, "{name}: {first} {blocked} {clear}");
        assert!(course.longest_plug >= PLUG - 1e-9 && course.most_frozen <= 1.0 + 1e-9, "{name}");
    }
}

/// Outlets that a spell does not freeze, at the low of their spell, °F.
fn unfrozen() -> Vec<(&'static str, Spec, f64)> {
    let at = |key: &str, metal, supply, seat| outlet(built_in(key), metal, supply, seat);
    vec![
        ("2x6-siding", at("2x6-siding", BRASS, copper_pipe(), 8.0), 5.0),
        ("2x6-siding", at("2x6-siding", STAINLESS, pex_pipe(), 10.0), -10.0),
        ("rim-joist-foam", at("rim-joist-foam", COPPER, copper_pipe(), 12.0), 10.0),
        ("block-8-insulated", at("block-8-insulated", STAINLESS, copper_pipe(), 12.0), 0.0),
        ("slab-2x4-brick", in_the_cavity(at("slab-2x4-brick", STAINLESS, copper_pipe(), 6.0)), 25.0),
        ("2x6-siding", full(at("2x6-siding", COPPER, copper_pipe(), 4.0)), 30.0),
    ]
}

#[test]
fn a_long_constant_spell_without_ice_ends_at_the_steady_seat() {
    /// Water's conductivity follows temperature in time (0.556 to 0.598 W/mK) and is 0.568 in the steady section, K.
    const WATER: f64 = 0.02;
    for (wall, spec, low) in unfrozen() {
        let weather = step(50.0, low, 240.0);
        let course = followed(&spec, &in_wall(&spec, wall), &weather);
        let last = course.moments[239];
        let steady = solved(&spec).seat.temperature(&state(low, 68.0));
        println!("{wall:20} {:.3} K, steady {steady:.3} K; {:?}", last.seat, course.ended);
        assert_eq!(course.ended, Ended::NoIce, "{wall}");
        assert!(course.first_ice.is_none() && course.blocked.is_none() && course.clear.is_none(), "{wall}");
        assert!((last.seat - steady).abs() < WATER, "{wall}: {} {steady}", last.seat);
        assert!((course.coldest_seat - steady).abs() < WATER, "{wall}: {} {steady}", course.coldest_seat);
    }
}

#[test]
fn no_water_gets_colder_than_the_coldest_steady_water() {
    /// Ice conducts four times as well as the water the steady section has, which moves the balance: K. Where no ice
    /// forms, what [`a_long_constant_spell_without_ice_ends_at_the_steady_seat`] allows.
    const ICE: f64 = 0.5;
    const WATER: f64 = 0.02;
    let calm =
        unfrozen().into_iter().map(|(wall, spec, low)| (wall, wall, spec, swinging(50.0, low, 15.0, 3.0)));
    for (name, wall, spec, weather) in freezing().into_iter().chain(calm) {
        let course = followed(&spec, &in_wall(&spec, wall), &weather);
        let lowest = weather.outdoors.iter().map(|it| it[1]).fold(f64::INFINITY, f64::min);
        let bound = solved(&spec).coldest_temperature(&state(fahrenheit(lowest), 68.0))[1];
        let slack = if course.first_ice.is_some() { ICE } else { WATER };
        println!("{name:40} seat down to {:.2} K, bound {bound:.2} K", course.coldest_seat);
        assert!(course.coldest_seat > bound - slack, "{name}: {} {bound}", course.coldest_seat);
        assert!(course.moments.iter().all(|it| it.seat >= course.coldest_seat - 1e-9), "{name}");
    }
}

#[test]
fn water_that_stays_above_freezing_in_the_steady_state_never_has_ice() {
    // The bound as it is used: a section whose coldest steady water is above the ice point need not be followed.
    for (wall, spec, low) in unfrozen() {
        let at = state(low, 68.0);
        assert!(solved(&spec).coldest_temperature(&at)[1] > 273.15, "{wall}");
        for swing in [5.0, 25.0] {
            let course = followed(&spec, &in_wall(&spec, wall), &swinging(50.0, low, swing, 4.0));
            assert_eq!(course.ended, Ended::NoIce, "{wall}");
        }
    }
}

#[test]
fn the_same_spell_gives_the_same_course_bit_for_bit() {
    for (name, wall, spec, weather) in freezing().into_iter().take(4) {
        let once = || {
            let course = followed(&spec, &in_wall(&spec, wall), &weather);
            let numbers = course.moments.iter().flat_map(|it| [it.time, it.seat, it.frozen, it.plug]);
            let numbers: Vec<u64> = numbers.map(f64::to_bits).collect();
            (numbers, course)
        };
        assert!(once() == once(), "{name}");
    }
}

#[test]
fn what_comes_after_the_end_of_what_is_followed_has_not_happened() {
    let (_, wall, spec, weather) = freezing().swap_remove(1);
    let whole = followed(&spec, &in_wall(&spec, wall), &weather);
    let blocked = whole.blocked.expect("it is blocked").0;
    // Half a minute before: any step from there reaches beyond.
    let end = blocked - 30.0;
    for goal in [Goal::Blocked, Goal::Cleared] {
        let cut = Weather { over: end, end, goal, ..weather.clone() };
        let course = followed(&spec, &in_wall(&spec, wall), &cut);
        assert_eq!((course.blocked, course.ended), (None, Ended::StillIce));
        assert_eq!(course.first_ice, whole.first_ice);
    }
}

#[test]
fn no_event_is_told_that_comes_after_the_end_of_what_is_followed() {
    let (_, wall, spec, weather) = freezing().swap_remove(1);
    let followed_until = |end: f64| {
        followed(
            &spec,
            &in_wall(&spec, wall),
            &Weather { over: weather.over.min(end), end, ..weather.clone() },
        )
    };
    let whole = followed_until(weather.end);
    type Read = fn(&Course) -> Option<f64>;
    let events: [Read; 3] = [|it| it.first_ice, |it| it.plug_at_seat, |it| it.clear];
    for event in events {
        // A second before: the last step reaches beyond.
        let end = event(&whole).expect("it happens") - 1.0;
        assert_eq!(event(&followed_until(end)), None, "{end}");
    }
}

#[test]
fn whether_ice_blocks_is_what_steps_a_tenth_as_wrong_say() {
    for (name, wall, spec, weather) in freezing() {
        let capacities = in_wall(&spec, wall);
        let course = follow_at(&spec, &capacities, &weather, FINE_STEPS).expect("it is followed");
        let blocked = course.blocked.expect("it is blocked").0;
        // Long after that moment, and a tenth of it after and before, where the usual steps may be 2 % off.
        for over in [3.0 * blocked, 1.1 * blocked, 0.9 * blocked] {
            let cut = Weather { over, end: over, ..weather.clone() };
            assert_eq!(blocks(&spec, &capacities, &cut), Ok(blocked <= over), "{name} {over}");
        }
    }
}

/// Rough steps have the bore blocked a little sooner than the usual ones in some of these.
#[test]
fn close_to_the_moment_the_usual_steps_decide_whether_ice_blocks() {
    for (name, wall, spec, weather) in freezing() {
        let capacities = in_wall(&spec, wall);
        let blocked = followed(&spec, &capacities, &weather).blocked.expect("it is blocked").0;
        for (part, is_blocked) in [(0.97, false), (0.99, false), (1.01, true), (1.03, true)] {
            let over = part * blocked;
            let cut = Weather { over, end: over, ..weather.clone() };
            assert_eq!(blocks(&spec, &capacities, &cut), Ok(is_blocked), "{name} {part}");
        }
    }
}

/// In a spell without ice the tolerance of temperatures alone sets the steps, up to the longest, which a looser one leaves as it is.
#[test]
fn a_looser_tolerance_takes_fewer_steps() {
    let spec = outlet(built_in("2x6-siding"), BRASS, copper_pipe(), 8.0);
    let (capacities, weather) = (in_wall(&spec, "2x6-siding"), step(60.0, 40.0, 48.0));
    let steps = |error| {
        let course = closely(&spec, &capacities, &weather, Closely { error, ..Closely::default() });
        assert_eq!(course.ended, Ended::NoIce);
        course.effort.steps
    };
    let [loose, usual] = [Some(16.0), None].map(steps);
    assert!(loose < usual, "{loose} {usual}");
}
