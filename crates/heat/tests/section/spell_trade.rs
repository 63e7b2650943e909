//! What the trade says of hours and days of cold, against sections followed through them. Common practice, no source.
//!
//! On a slab in the south a plain bibb closes at the face, its supply turned down in the outer wall: it freezes in a spell of
//! a few days at 15 to 20 °F. A freeze-resistant outlet whose seat is well inside a heated room does not know of such a
//! spell. An insulated cover helps for some time. And a plain copper run through a thin foam box at -30 °F into a warm
//! room did not freeze solid in four days.

use crate::section::common::*;
use crate::section::spells::*;
use coldsill_heat::section::{
    Bore, Course, Ended, Goal, Inlet, Micro, Ranged, Sleeve, Spec, Supply, Weather,
};

const SLAB: &str = "slab-2x4-brick";
/// Outdoors before the spell, °F.
const BEFORE: f64 = 45.0;

/// Down within a day and held for some days, then back within a day.
fn held(low: f64, days: f64) -> Weather {
    let end = 24.0 * (days + 1.0);
    weather(&[[0.0, BEFORE], [24.0, low], [end, low], [end + 24.0, BEFORE]], end + 24.0, end + 120.0)
}

/// A brass bibb with its water up to the face, the supply turned down at once: beside the brick. And one whose supply
/// comes through the brick, full of water, and turns down in the batt behind the sheathing.
fn bibbs(supply: Supply) -> [(&'static str, Spec); 2] {
    let turned = |seat| {
        let mut spec = outlet(built_in(SLAB), BRASS, supply, seat);
        (spec.inlet, spec.bore) = (Inlet::InWall, Bore::Full);
        spec
    };
    [("turned down in the brick", turned(0.0)), ("turned down in the batt", turned(5.5))]
}

fn plumbing() -> Vec<(String, Spec)> {
    let foam = Sleeve { thickness: Micro::of(0.5 * INCH), conductivity: Micro::of(0.036) };
    let mut all = Vec::new();
    for (name, supply) in supplies() {
        for (sleeve, what) in [(None, "bare"), (Some(foam), "1/2 in foam")] {
            for (place, spec) in bibbs(Supply { sleeve, ..supply }) {
                all.push((format!("{name}, {what}, {place}"), spec));
            }
        }
    }
    all
}

fn through(spec: &Spec, wall: &str, weather: &Weather) -> Course {
    followed(spec, &in_wall(spec, wall), weather)
}

fn covered(mut spec: Spec) -> Spec {
    spec.cover = Micro::of(0.5);
    spec
}

/// Hours to blocked; a bibb that is not is a failure here.
fn to_blocked(name: &str, course: &Course) -> f64 {
    blocked(course).unwrap_or_else(|| panic!("{name}: open all along"))[0]
}

#[test]
fn a_plain_bibb_on_a_slab_is_blocked_within_the_first_day_of_a_fall_to_twenty_or_fifteen() {
    // Outdoors passes 32 °F after 12.5 h on its way to 20 °F, after 10.4 h on its way to 15: nothing can freeze before.
    // A third and a fourth day only make the plug longer. The wall around the turned-down pipe answers at once here, as
    // no heat is counted in it: with the brick's the hours beside the brick would be more.
    for (name, spec) in plumbing() {
        for low in [20.0, 15.0] {
            let [three, four] = [3.0, 4.0].map(|days| through(&spec, SLAB, &held(low, days)));
            let passes = 24.0 * (BEFORE - 32.0) / (BEFORE - low);
            let hours_to = to_blocked(&name, &three);
            let first = hours(three.first_ice).expect("it freezes");
            println!(
                "{name:42} {low} °F: first ice {first:.1} h, blocked {hours_to:.1} h (outdoors {:.1} °F), {:.1} in from \
                 the face; plug {:.0} in, after a fourth day {:.0} in",
                BEFORE - (BEFORE - low) * hours_to / 24.0,
                blocked(&three).expect("it is")[1],
                three.longest_plug / INCH,
                four.longest_plug / INCH
            );
            assert!(first > passes && hours_to < 24.0, "{name} {low}: {first} {hours_to}");
            assert!(four.longest_plug >= three.longest_plug - 1e-9, "{name} {low}");
            assert!((to_blocked(&name, &four) - hours_to).abs() < 1e-9, "{name} {low}");
        }
    }
}

#[test]
fn the_same_spell_does_not_reach_a_seat_well_inside_a_heated_room() {
    for (wall, metal, seat) in
        [("2x6-siding", BRASS, 12.0), ("2x6-siding", STAINLESS, 8.0), ("rim-joist-batt", COPPER, 12.0)]
    {
        for (supply, pipe) in supplies() {
            let course = through(&outlet(built_in(wall), metal, pipe, seat), wall, &held(15.0, 4.0));
            let coldest = fahrenheit(course.coldest_seat);
            println!("{wall}, {metal} W/mK, seat {seat} in, {supply}: down to {coldest:.1} °F");
            assert_eq!(course.ended, Ended::NoIce, "{wall} {metal} {supply}");
            assert!(coldest > 40.0, "{wall} {metal} {supply}: {coldest}");
        }
    }
}

#[test]
fn a_cover_gains_hours_and_not_days() {
    // over the head. What is left of the fall is a few hours, and the pipe in the wall loses heat as before.
    let spell = Weather { goal: Goal::Blocked, ..held(20.0, 3.0) };
    for (name, spec) in plumbing() {
        let [bare, covered] =
            [spec.clone(), covered(spec.clone())].map(|it| to_blocked(&name, &through(&it, SLAB, &spell)));
        println!("{name:45} 20 °F: blocked after {bare:.1} h, under a cover {covered:.1} h");
        assert!(covered - bare > 1.0 && covered - bare < 6.0, "{name}: {bare} {covered}");
    }
}

/// The foam box of trade.rs: 1 5/8 in of polystyrene (0.029 W/mK; 30 kg/m³ at 1450 J/kgK, from memory), -30 °F at once and
/// for four days, a room at 70 °F, a copper valve and run.
fn foam_box(film: f64) -> (Spec, Course) {
    let mut spec = outlet(vec![layer(FOAM, 0.029)], COPPER, copper_pipe(), 0.0);
    spec.outdoor_resistance = Ranged::exact(1.0 / film);
    spec.behind.room = Micro::of(kelvin(70.0));
    let mut spell = step(70.0, -30.0, 96.0);
    spell.room = vec![[0.0, kelvin(70.0)]];
    let course = followed(&spec, &holding(&spec, &[30.0 * 1450.0]), &spell);
    (spec, course)
}

const FOAM: f64 = 1.625;

#[test]
fn a_copper_run_into_a_warm_room_does_not_freeze_solid_in_four_days() {
    // Why: beyond the foam every inch of pipe takes in heat from the room, and copper carries it to the ice. Ice grows
    // until what it passes on to the cold end is what arrives, within the first day, and then stands, about where the
    // balance without ice has 32 °F: copper conducts far more than water or ice within it. The first inch or so of pipe in
    // the room is below 32 °F, as its frost says.
    for film in [8.0, 10.0] {
        let (spec, course) = foam_box(film);
        let steady = solved(&spec);
        let reaches = (0..400)
            .map(|it| f64::from(it) * 0.05)
            .find(|&it| metal_at(&steady, it.max(0.05), &state(-30.0, 70.0)) > 32.0);
        let reaches = reaches.expect("the run is warm further in");
        let plugs = [24, 48, 72, 95].map(|hour| course.moments[hour].plug / INCH);
        println!(
            "film {film}: first ice {} h, blocked {} h; plug {plugs:.2?} in after 1 to 4 days; 32 °F without ice at \
             {reaches:.2} in from the face, {:.2} in inside the foam",
            shown(hours(course.first_ice)),
            shown(blocked(&course).map(|it| it[0])),
            reaches - FOAM
        );
        // It stands after a day, an inch or two into the room, of a run of 36 in.
        assert!(plugs.iter().all(|it| (it - plugs[0]).abs() < 1e-6), "{plugs:?}");
        assert!(plugs[0] > FOAM && plugs[0] < FOAM + 3.0, "{plugs:?}");
        /// Slices end up to 1.5 in apart that far from the fitting.
        const SLICE: f64 = 1.5;
        assert!((plugs[0] - reaches).abs() < SLICE, "{plugs:?} {reaches}");
        // All of the run from there on stays liquid: water at the coldest moment, 3 in into the room.
        assert!(metal_at(&steady, FOAM + 3.0, &state(-30.0, 70.0)) > 32.0);
    }
}
