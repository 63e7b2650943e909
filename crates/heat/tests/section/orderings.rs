//! Which metal, supply and depth is warmer, under the conditions in which each ordering holds, and where it reverses.
//! The reasons are the trade's and the physics': a conductive part joins the seat to whatever lies at its other end,
//! cold outdoors for a barrel, the warm space for a supply.

use crate::section::common::*;
use coldsill_heat::section::{Bore, Fineness, Micro, Ranged, Sleeve, Spec, Uncertainty, solve_at};

/// An ordering counts where two seats differ by more than the mesh moves them, °F.
const CLEAR: f64 = 0.5;

fn cold() -> coldsill_heat::section::Boundary {
    state(-30.0, 68.0)
}

fn seats(spec: impl Fn(f64) -> Spec) -> [f64; 3] {
    METALS.map(|(_, conductivity)| seat(&spec(conductivity), &cold()))
}

/// A foam sleeve of 3/4 in on the supply.
fn insulated(mut spec: Spec) -> Spec {
    spec.supply.sleeve = Some(Sleeve { thickness: Micro::of(0.75 * INCH), conductivity: Micro::of(0.036) });
    spec
}

/// An insulated cover over the head, m²K/W.
fn covered(mut spec: Spec) -> Spec {
    spec.cover = Micro::of(0.5);
    spec
}

#[test]
fn past_the_insulation_drained_stainless_is_warmer_than_brass_than_copper() {
    for (key, depth) in
        [("2x6-siding", 8.0), ("2x6-siding", 12.0), ("rim-joist-batt", 10.0), ("rim-joist-foam", 8.0)]
    {
        for (supply, pipe) in supplies() {
            let [copper, brass, stainless] = seats(|metal| outlet(built_in(key), metal, pipe, depth));
            println!("{key}, seat {depth} in, {supply} supply: {copper:.1}, {brass:.1}, {stainless:.1} °F");
            assert!(stainless > brass + CLEAR && brass > copper + CLEAR, "{key} {depth} {supply}");
        }
    }
}

#[test]
fn past_the_insulation_a_copper_supply_is_warmer_than_pex() {
    for key in ["2x6-siding", "rim-joist-foam", "block-8-insulated"] {
        for (metal, conductivity) in METALS {
            let [copper, pex] =
                supplies().map(|(_, pipe)| seat(&outlet(built_in(key), conductivity, pipe, 12.0), &cold()));
            println!("{key}, {metal}: copper {copper:.1}, PEX {pex:.1} °F");
            assert!(copper > pex + CLEAR, "{key} {metal}: {copper} {pex}");
        }
    }
}

#[test]
fn a_deeper_seat_is_warmer_before_one_warm_space() {
    for (key, metal, pipe) in [
        ("2x6-siding", BRASS, copper_pipe()),
        ("rim-joist-batt", STAINLESS, pex_pipe()),
        ("block-8-bare", COPPER, copper_pipe()),
    ] {
        let seats: Vec<f64> = (1..=14)
            .map(|inches| seat(&outlet(built_in(key), metal, pipe, f64::from(inches)), &cold()))
            .collect();
        for pair in seats.windows(2) {
            assert!(pair[1] > pair[0], "{key}: {pair:?}");
        }
    }
}

#[test]
fn a_face_valve_under_a_cover_reverses_the_metals() {
    // Water stands at the face and the cover keeps the cold off: now the more conductive body is the warmer one,
    // since it carries the copper supply's heat out to its whole length.
    for key in ["2x6-siding", "rim-joist-batt", "log-8", "block-8-bare"] {
        let [copper, brass, stainless] =
            seats(|metal| covered(outlet(built_in(key), metal, copper_pipe(), 0.0)));
        println!(
            "{key}, face valve under a cover: copper {copper:.1}, brass {brass:.1}, stainless {stainless:.1} °F"
        );
        assert!(copper > stainless + CLEAR && brass > stainless + CLEAR && copper > brass, "{key}");
    }
}

#[test]
fn water_standing_in_a_full_barrel_is_warmest_at_the_face_of_a_copper_one() {
    // The seat of an 8 in outlet is past the insulation and keeps its ordering; the barrel's water at the face has
    // the opposite one, by more than 5 °F each.
    const FACE: f64 = 0.25;
    let full = |metal| {
        let mut spec = outlet(built_in("2x6-siding"), metal, copper_pipe(), 8.0);
        spec.bore = Bore::Full;
        spec
    };
    let [copper, brass, stainless] = METALS.map(|(_, metal)| metal_at(&solved(&full(metal)), FACE, &cold()));
    println!(
        "barrel 1/4 in from the face, full: copper {copper:.1}, brass {brass:.1}, stainless {stainless:.1} °F"
    );
    assert!(copper > brass + 5.0 && brass > stainless + 5.0, "{copper} {brass} {stainless}");
    let [copper, brass, stainless] = seats(full);
    assert!(stainless > brass + CLEAR && brass > copper + CLEAR, "the seat: {copper} {brass} {stainless}");
}

#[test]
fn a_shallow_seat_in_bare_masonry_under_a_cover_reverses_too() {
    let [copper, brass, stainless] =
        seats(|metal| covered(outlet(built_in("block-8-bare"), metal, copper_pipe(), 0.5)));
    println!(
        "bare block, seat 1/2 in under a cover: copper {copper:.1}, brass {brass:.1}, stainless {stainless:.1} °F"
    );
    assert!(copper > stainless + CLEAR && brass > stainless + CLEAR);
}

#[test]
fn without_a_cover_bare_block_all_but_levels_the_metals_at_the_face() {
    // Where the wall itself is as cold as the head the metals differ by less than the mesh can tell, against more
    // than 4 °F in a framed wall.
    let spread = |key: &str| {
        let [copper, _, stainless] = seats(|metal| outlet(built_in(key), metal, copper_pipe(), 0.0));
        stainless - copper
    };
    let (block, framed) = (spread("block-8-bare"), spread("2x6-siding"));
    println!("face valve, stainless less copper: bare block {block:.2}, 2x6 {framed:.2} °F");
    assert!(block.abs() < CLEAR && framed > 4.0, "{block} {framed}");
}

#[test]
fn insulation_on_a_copper_supply_takes_heat_from_the_seat() {
    // Trade and theory agree on the sign: the supply is what warms the seat. The least is had by taking all of the
    // supply's heat away, as PEX nearly does.
    for (key, depth) in [("2x6-siding", 6.0), ("2x6-siding", 8.0), ("rim-joist-batt", 8.0)] {
        for (metal, conductivity) in [("copper", COPPER), ("brass", BRASS)] {
            let bare = outlet(built_in(key), conductivity, copper_pipe(), depth);
            let plastic = seat(&outlet(built_in(key), conductivity, pex_pipe(), depth), &cold());
            let (with, without) = (seat(&insulated(bare.clone()), &cold()), seat(&bare, &cold()));
            println!(
                "{key}, {metal}, seat {depth} in: bare supply {without:.1}, insulated {with:.1}, PEX {plastic:.1} °F"
            );
            assert!(
                without - with > 5.0 && with > plastic,
                "{key} {metal} {depth}: {without} {with} {plastic}"
            );
        }
    }
}

#[test]
fn insulation_on_a_supply_hardly_matters_to_a_stainless_barrel_past_the_insulation() {
    let bare = outlet(built_in("2x6-siding"), STAINLESS, copper_pipe(), 10.0);
    let taken = seat(&bare, &cold()) - seat(&insulated(bare.clone()), &cold());
    println!("stainless, seat 10 in: insulation takes {taken:.2} °F");
    assert!((0.0..1.0).contains(&taken), "{taken}");
}

#[test]
fn a_cover_over_the_head_never_cools_the_seat() {
    // More resistance before the cold boundary can only shift every temperature toward the warm one (the maximum
    // principle); films at the seat's own critical state alter that by far less than a cover does.
    for key in ["2x6-siding", "block-8-bare", "metal-panel-4"] {
        for (metal, conductivity) in METALS {
            for depth in [0.0, 4.0, 10.0] {
                let spec = outlet(built_in(key), conductivity, copper_pipe(), depth);
                let gain = seat(&covered(spec.clone()), &cold()) - seat(&spec, &cold());
                println!("{key}, {metal}, seat {depth} in: a cover gives {gain:+.2} °F");
                assert!(gain > 0.0, "{key} {metal} {depth}: {gain}");
            }
        }
    }
}

#[test]
fn a_gasket_is_worth_fractions_of_a_degree_and_its_sign_is_sure_for_brass_in_a_framed_wall_only() {
    /// On bare block the effect is too small for any mesh to give its sign.
    const FRACTION: f64 = 0.25;
    let gain = |key: &str, metal: f64, fineness: Fineness| {
        let without = outlet(built_in(key), metal, copper_pipe(), 6.0);
        let mut with = without.clone();
        with.gasket = Micro::of(0.003);
        // The gasket draws the seat outwards; here the barrel is longer by as much, so that only the rubber counts.
        with.seat_depth = Ranged::exact(6.0 * INCH + 0.003);
        let seat = |spec: &Spec| {
            let solved = solve_at(spec, Uncertainty::LeftOut, fineness).expect("the section solves");
            fahrenheit(solved.seat.temperature(&cold()))
        };
        seat(&with) - seat(&without)
    };
    for (key, name, metal) in [("2x6-siding", "brass", BRASS), ("block-8-bare", "copper", COPPER)] {
        let both = [Fineness::Usual, Fineness::Halved].map(|fineness| gain(key, metal, fineness));
        println!(
            "{key}, {name}, seat 6 in: a 3 mm gasket gives {:+.3} °F, {:+.3} on half the mesh",
            both[0], both[1]
        );
        assert!(both.iter().all(|it| it.abs() < FRACTION), "{key}: {both:?}");
        assert!(key == "block-8-bare" || both.iter().all(|it| *it > 0.05), "{key}: {both:?}");
    }
}

#[test]
fn a_gasket_draws_the_seat_of_a_given_barrel_outwards_and_cools_it() {
    for metal in [COPPER, BRASS, STAINLESS] {
        let without = outlet(built_in("2x6-siding"), metal, copper_pipe(), 6.0);
        let with = coldsill_heat::section::Spec { gasket: Micro::of(0.003), ..without.clone() };
        let drawn = outlet(built_in("2x6-siding"), metal, copper_pipe(), 6.0 - 0.003 / INCH);
        let seat = |spec| solved(spec).seat.temperature(&cold());
        assert!(seat(&with) < seat(&without), "{metal} W/mK");
        // The rubber gives back less than moving the seat takes.
        assert!(seat(&with) > seat(&drawn), "{metal} W/mK");
    }
}

#[test]
fn a_cold_space_behind_takes_the_seat_below_freezing_whatever_the_outlet() {
    // A vented crawlspace that follows the house by a fifth stands at -10.4 °F here; nothing within can be warmer,
    // and the ordering of metals and supplies remains while the seat lies between outdoors and that space.
    let behind = -30.0 + 0.2 * 98.0;
    for (supply, pipe) in supplies() {
        let crawlspace = |metal| {
            let mut spec = outlet(built_in("rim-joist-batt"), metal, pipe, 12.0);
            spec.behind.share = Micro::of(0.2);
            spec
        };
        let seats = seats(crawlspace);
        println!("crawlspace at {behind:.1} °F, {supply} supply: {seats:.1?} °F");
        assert!(
            seats.iter().all(|it| *it < behind) && seats[0] < seats[1] && seats[1] < seats[2],
            "{supply} {seats:?}"
        );
    }
}
