//! Which outlet freezes first: hose left on, drained, closing at the face; by metal and supply; and where that reverses.
//!
//! The conditions: barrel, stem and fitting of one metal; a seat of 4 in; a 2x6 wall (down to -10 °F) or bare block (down
//! to -20 °F) before a heated room; outdoors falling from 40 °F within a day, steadily or with a daily swing.

use crate::section::common::*;
use crate::section::spells::*;
use coldsill_heat::section::{Bore, Course, Spec};
use std::sync::LazyLock;

/// The three ways in which one outlet may meet a spell.
struct Three {
    what: String,
    wall: &'static str,
    metal: &'static str,
    supply: &'static str,
    drained: Course,
    /// A hose left on: the barrel is full of water.
    full: Course,
    /// Closes at the face.
    face: Course,
}

static ALL: LazyLock<Vec<Three>> = LazyLock::new(|| {
    let mut all = Vec::new();
    for (wall, low, swings) in
        [("2x6-siding", -10.0, false), ("2x6-siding", -10.0, true), ("block-8-bare", -20.0, false)]
    {
        let spell = if swings {
            swinging(40.0, low, 15.0, 2.0)
        } else {
            weather(&[[0.0, 40.0], [24.0, low], [72.0, low], [96.0, 40.0]], 96.0, 240.0)
        };
        for (metal, conductivity) in METALS {
            for (supply, pipe) in supplies() {
                let through = |spec: &Spec| followed(spec, &in_wall(spec, wall), &spell);
                let at = |seat| outlet(built_in(wall), conductivity, pipe, seat);
                let full = Spec { bore: Bore::Full, ..at(4.0) };
                let what =
                    format!("{wall}, {metal}, {supply} supply{}", if swings { ", swinging" } else { "" });
                let [drained, full, face] = [&at(4.0), &full, &at(0.0)].map(through);
                all.push(Three { what, wall, metal, supply, drained, full, face });
            }
        }
    }
    all
});

/// Hours to blocked; where it never is, later than any.
fn to_blocked(course: &Course) -> f64 {
    course.blocked.map_or(f64::INFINITY, |it| it.0 / HOUR)
}

fn to_seat(course: &Course) -> f64 {
    course.plug_at_seat.map_or(f64::INFINITY, |it| it / HOUR)
}

/// Differences count beyond what steps and mesh move: 2 % and 150 s (spell_convergence.rs).
fn clearly_before(a: f64, b: f64) -> bool {
    a * 1.02 + 150.0 / HOUR < b
}

/// The same wall, supply and spell with copper, brass and stainless.
fn by_metal(of: impl Fn(&Three) -> f64, wall: &str, supply: &str) -> Vec<[f64; 3]> {
    let rows: Vec<&Three> = ALL.iter().filter(|it| it.wall == wall && it.supply == supply).collect();
    let spells = rows.len() / METALS.len();
    let metal =
        |name: &str, spell: usize| rows.iter().filter(|it| it.metal == name).nth(spell).map(|it| of(it));
    (0..spells).map(|spell| METALS.map(|(name, _)| metal(name, spell).expect("a row"))).collect()
}

#[test]
fn a_table_of_hours_to_blocked_and_to_a_plug_at_the_seat() {
    for it in ALL.iter() {
        let [drained, full, face] = [&it.drained, &it.full, &it.face].map(to_blocked);
        println!(
            "{:45} drained {drained:5.1}, hose on {full:5.1} (at the seat {:5.1}), at the face {face:5.1} h",
            it.what,
            to_seat(&it.full)
        );
        // Drained and at the face all of the water is inboard of the washer, and ice begins beside it.
        for course in [&it.drained, &it.face] {
            assert_eq!(course.plug_at_seat, course.blocked.map(|it| it.0), "{}", it.what);
        }
    }
}

#[test]
fn a_hose_left_on_blocks_sooner_than_a_drained_barrel_and_stays_longer() {
    // The coldest water of a full barrel is at the face, that of a drained one at the seat.
    for it in ALL.iter() {
        assert!(clearly_before(to_blocked(&it.full), to_blocked(&it.drained)), "{}", it.what);
        let [full, drained] = [&it.full, &it.drained].map(|it| it.clear.map_or(0.0, |clear| clear / HOUR));
        assert!(full > drained, "{}: {full} {drained}", it.what);
    }
}

#[test]
fn a_valve_at_the_face_blocks_sooner_than_a_drained_barrel() {
    for it in ALL.iter() {
        assert!(clearly_before(to_blocked(&it.face), to_blocked(&it.drained)), "{}", it.what);
    }
}

#[test]
fn a_hose_left_on_and_a_valve_at_the_face_have_no_order() {
    // A long barrel of water is fed by the room along copper and cut off from it along stainless.
    let is = |metal: &str| {
        ALL.iter().find(|it| it.metal == metal && it.wall == "2x6-siding" && it.supply == "copper")
    };
    let [copper, stainless] = ["copper", "stainless"].map(|it| is(it).expect("a row"));
    assert!(clearly_before(to_blocked(&stainless.full), to_blocked(&stainless.face)));
    assert!(!clearly_before(to_blocked(&copper.full), to_blocked(&copper.face)));
}

#[test]
fn a_hose_left_on_brings_the_plug_to_the_seat_sooner_on_copper_and_later_on_plastic_in_a_framed_wall() {
    // The reversal: on plastic little heat reaches the seat from the room, so that what counts is how much is stored
    // beside it, and the barrel's water stores more than its air.
    for it in ALL.iter().filter(|it| to_seat(&it.full).is_finite()) {
        let (full, drained) = (to_seat(&it.full), to_seat(&it.drained));
        if it.supply == "copper" {
            assert!(clearly_before(full, drained), "{}: {full} {drained}", it.what);
        } else if it.wall == "2x6-siding" && it.metal != "stainless" {
            assert!(clearly_before(drained, full), "{}: {full} {drained}", it.what);
        }
    }
}

#[test]
fn drained_copper_blocks_before_brass_before_stainless() {
    for wall in ["2x6-siding", "block-8-bare"] {
        for supply in ["copper", "PEX"] {
            for [copper, brass, stainless] in by_metal(|it| to_blocked(&it.drained), wall, supply) {
                assert!(clearly_before(copper, brass) && clearly_before(brass, stainless), "{wall} {supply}");
            }
        }
    }
}

#[test]
fn water_standing_at_the_face_blocks_in_stainless_before_brass_before_copper() {
    // The reversal, on a copper supply: a conductive barrel carries the room's heat out to the water at the face. On plastic
    // there is little to carry, and the metals are within an hour of each other.
    for wall in ["2x6-siding", "block-8-bare"] {
        for [copper, brass, stainless] in by_metal(|it| to_blocked(&it.full), wall, "copper") {
            assert!(clearly_before(stainless, brass) && clearly_before(brass, copper), "{wall}");
        }
    }
    for row in by_metal(|it| to_blocked(&it.full), "2x6-siding", "PEX") {
        let [least, most] =
            [row.iter().copied().fold(f64::INFINITY, f64::min), row.iter().copied().fold(0.0, f64::max)];
        assert!(most - least < 1.0, "{row:?}");
    }
}

#[test]
fn a_plastic_supply_blocks_before_a_copper_one() {
    for it in ALL.iter().filter(|it| it.supply == "copper") {
        let what = it.what.replace("copper supply", "PEX supply");
        let plastic = ALL.iter().find(|it| it.what == what).expect("a row");
        for of in [|it: &Three| to_blocked(&it.drained), |it: &Three| to_blocked(&it.face)] {
            assert!(clearly_before(of(plastic), of(it)), "{}", it.what);
        }
        assert!(to_blocked(&plastic.full) < to_blocked(&it.full), "{}", it.what);
    }
}
