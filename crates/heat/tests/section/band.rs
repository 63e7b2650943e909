//! The band around the seat temperature, holds-to, and what holding the films is worth.

use crate::section::common::*;
use coldsill_heat::section::{
    Bore, Boundary, Micro, Ranged, Share, Solved, Spec, UncertainInput, Varied, seat_with_films_at,
};

/// Outlets with a spread on everything, past and within the insulation.
fn outlets() -> Vec<(String, Spec)> {
    let mut all = Vec::new();
    for key in ["2x6-siding", "block-8-bare"] {
        for (metal, conductivity) in METALS {
            for (supply, pipe) in [("copper", copper_pipe()), ("pex", pex_pipe())] {
                let spec = uncertain(outlet(built_in(key), conductivity, pipe, 8.0), metal, supply);
                all.push((format!("{key}, {metal}, {supply} supply"), spec));
            }
        }
    }
    all
}

#[test]
fn the_interval_takes_in_the_best_estimate_and_no_more_than_all_bounds() {
    let at = state(-10.0, 68.0);
    let odds = |share: Share| libm::log(share.0 / (1.0 - share.0));
    for (what, spec) in outlets() {
        let it = with_band(&spec);
        let [low, is, high] = it.seat_temperature(&at).map(fahrenheit);
        println!("{what}: {low:.1} / {is:.1} / {high:.1} °F");
        assert!(low < is && is < high, "{what}");
        assert!(low > -10.0 && high < 68.0, "{what}: beyond a boundary temperature");
        let [cold, best, warm] = it.seat_shares().map(odds);
        let (mut down, mut up) = (0.0, 0.0);
        for varied in &it.varied {
            let moved = varied.seat.map(|share| odds(share) - best);
            down += moved[0].min(moved[1]).min(0.0);
            up += moved[0].max(moved[1]).max(0.0);
        }
        assert!(
            cold >= best + down - 1e-9 && warm <= best + up + 1e-9,
            "{what}: wider than every bound at once"
        );
    }
}

#[test]
fn an_outlet_known_exactly_has_no_band() {
    let spec = outlet(built_in("2x6-siding"), BRASS, copper_pipe(), 8.0);
    let it = with_band(&spec);
    let [low, is, high] = it.seat_temperature(&state(-10.0, 68.0));
    assert!(low == is && is == high && it.varied.is_empty(), "{low} {is} {high}");
    assert_eq!(it.seat, solved(&spec).seat);
}

#[test]
fn an_input_stated_at_its_best_estimate_narrows_the_band() {
    // In the odds of the two weights, in which inputs add: temperatures are a curve of them.
    let width = |spec: &Spec| {
        let [cold, _, warm] = with_band(spec).seat_shares().map(|share| libm::log(share.0 / (1.0 - share.0)));
        warm - cold
    };
    /// The stem's bounds are lines of the mesh: without them the mesh is a slightly different one. Of the share; 0.05 °F.
    const MESH: f64 = 5e-4;
    for (what, spec) in outlets() {
        let all = width(&spec);
        for input in UncertainInput::ALL {
            let stated = input.fixed(&spec, |range| range.used);
            let one = width(&stated);
            assert!(one <= all + MESH, "{what}, {}: {one} from {all}", input.name());
            let moved = solved(&stated).seat.0 - solved(&spec).seat.0;
            assert!(moved.abs() < MESH, "{what}, {}: {moved}", input.name());
        }
    }
}

#[test]
fn the_coldest_water_of_a_full_barrel_moves_little_in_its_odds() {
    /// What a spell with a hose left on tries before it works out a band (`facts::spell`). The coldest water is at the head,
    /// where hardly anything of the inlet is felt: 0.83 over 150 sections in five walls.
    const WIDEST: f64 = 1.5;
    for (what, mut spec) in outlets() {
        spec.bore = Bore::Full;
        let [cold, best, warm] =
            with_band(&spec).coldest_shares().map(|share| share.log_odds(Share(spec.behind.share.si())));
        assert!(best - cold < WIDEST && warm - best < WIDEST, "{what}: {cold} {best} {warm}");
    }
}

/// Everything known exactly but one input, which is known at one of its bounds.
fn at_bound(spec: &Spec, input: UncertainInput, pick: impl Fn(Ranged) -> Micro) -> Spec {
    UncertainInput::ALL
        .into_iter()
        .fold(input.fixed(spec, pick), |spec, it| it.fixed(&spec, |range| range.used))
}

#[test]
fn each_input_moves_the_seat_as_a_section_built_with_its_end_does() {
    // Most inputs move within one mesh, tubes as conductivity, with films as at the best estimate; here every bound is a
    // section of its own, with its own mesh and films.
    /// Ratio of what a input moves in place to what a section built anew has moved. Films held for the best estimate keep
    /// a bare surface's film where its lead over the room changed: with h ~ ΔT^(1/4) of convection, a half of the film,
    /// a seat that moves by a fifth of its lead changes the film by 3 %, which is 3 % of what the film itself is worth.
    /// A tenth of each movement and a quarter of a degree take that in.
    const PART: f64 = 0.1;
    const HELD: f64 = 0.25;
    let at = state(-10.0, 68.0);
    let mut wrong = Vec::new();
    for (what, spec) in outlets() {
        let it = with_band(&spec);
        let used = seat(&spec, &at);
        for Varied { input, seat: ends, .. } in &it.varied {
            for (low, share) in [true, false].into_iter().zip(ends) {
                let moved = fahrenheit(share.temperature(&at)) - used;
                let end = at_bound(&spec, *input, |range| if low { range.low } else { range.high });
                let built = seat(&end, &at) - used;
                println!("{what}, {}: {moved:+.2} °F, built {built:+.2}", input.name());
                if (moved - built).abs() > HELD + PART * built.abs() {
                    wrong.push(format!("{what}, {}, low {low}: {moved} {built}", input.name()));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_input_with_a_spread_is_in_the_band_and_no_other() {
    let (_, spec) = outlets().swap_remove(0);
    let inputs = |spec: &Spec| with_band(spec).varied.iter().map(|it| it.input).collect::<Vec<_>>();
    assert_eq!(inputs(&spec), UncertainInput::ALL);
    for input in UncertainInput::ALL {
        let others = UncertainInput::ALL.into_iter().filter(|it| *it != input);
        let one = others.fold(spec.clone(), |spec, it| it.fixed(&spec, |range| range.used));
        assert_eq!(inputs(&one), [input]);
    }
}

/// Draws from the triangles of every input, by the inverse of their distribution functions.
fn draw(spec: &Spec, random: &mut impl FnMut() -> f64) -> Spec {
    UncertainInput::ALL.into_iter().fold(spec.clone(), |spec, input| {
        let part = random();
        input.fixed(&spec, |range| {
            let [low, used, high] = [range.low, range.used, range.high].map(Micro::si);
            let below = range.below().unwrap_or(0.0);
            Micro::of(if part < below {
                low + f64::sqrt(part * (high - low) * (used - low))
            } else {
                high - f64::sqrt((1.0 - part) * (high - low) * (high - used))
            })
        })
    })
}

/// The interval beside `draws` sections solved at random values (JCGM 101): ends of the interval and quantiles of 2.5 and
/// 97.5 % of the seat temperature, °F, and the deviation of the draws.
fn beside_draws(spec: &Spec, at: &Boundary, draws: usize) -> ([f64; 2], [f64; 2], f64) {
    // SplitMix64 (Steele, Lea, Flood 2014).
    let mut state: u64 = 2026;
    let mut random = || {
        state = state.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = state;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        #[allow(clippy::cast_precision_loss, reason = "53 bits of a random number")]
        (((z ^ (z >> 31)) >> 11) as f64 / 9_007_199_254_740_992.0)
    };
    let mut seats: Vec<f64> = (0..draws).map(|_| seat(&draw(spec, &mut random), at)).collect();
    seats.sort_by(f64::total_cmp);
    #[allow(clippy::cast_precision_loss, reason = "some thousand draws")]
    let count = draws as f64;
    let mean = seats.iter().sum::<f64>() / count;
    let deviation = f64::sqrt(seats.iter().map(|it| (it - mean) * (it - mean)).sum::<f64>() / (count - 1.0));
    let quantile = |thousandth: usize| seats[thousandth * draws / 1000];
    let [low, _, high] = with_band(spec).seat_temperature(at).map(fahrenheit);
    ([low, high], [quantile(25), quantile(975)], deviation)
}

fn agrees_with_draws(draws: usize) {
    // JCGM 101, 8.1: propagation is validated where its interval lies within δ of that of the draws, half a unit of the last
    // digit of a standard uncertainty stated to one digit. Besides, three standard errors of the draws' own quantiles,
    // √(p(1 - p)/n) over a normal density of 0.0584/σ at 2.5 %.
    #[allow(clippy::cast_precision_loss, reason = "some thousand draws")]
    let part = 3.0 * f64::sqrt(0.025 * 0.975 / draws as f64) / 0.0584;
    let at = state(-10.0, 68.0);
    for (key, metal, conductivity, supply, pipe) in [
        ("2x6-siding", "brass", BRASS, "copper", copper_pipe()),
        ("rim-joist-batt", "brass", BRASS, "pex", pex_pipe()),
        ("rim-joist-batt", "stainless", STAINLESS, "pex", pex_pipe()),
    ] {
        let spec = uncertain(outlet(built_in(key), conductivity, pipe, 8.0), metal, supply);
        let (ours, drawn, deviation) = beside_draws(&spec, &at, draws);
        println!(
            "{key}, {metal}, {supply}: interval {:.1} to {:.1} °F; {draws} draws {:.1} to {:.1}, deviation {deviation:.2}",
            ours[0], ours[1], drawn[0], drawn[1]
        );
        let delta = 0.5 * libm::pow(10.0, libm::log10(deviation).floor());
        for (own, other) in ours.iter().zip(drawn) {
            assert!(
                (own - other).abs() < delta + part * deviation,
                "{key}, {metal}: {ours:?} {drawn:?} {deviation}"
            );
        }
    }
}

#[test]
fn the_interval_agrees_with_a_monte_carlo_of_three_sections() {
    agrees_with_draws(300);
}

/// Some minutes: `cargo test -p coldsill-heat ten_thousand -- --ignored --nocapture`.
#[test]
#[ignore = "takes minutes"]
fn the_interval_agrees_with_ten_thousand_draws() {
    agrees_with_draws(10_000);
}

#[test]
fn at_the_outdoor_temperature_it_holds_to_the_seat_is_at_the_ice_point() {
    const ROUNDING: f64 = 1e-6;
    /// The lowest air temperature on record, °F (Vostok, 1983; WMO).
    const COLDEST: f64 = -128.6;
    let mut known = 0;
    for (what, spec) in outlets() {
        let it = with_band(&spec);
        let room = kelvin(68.0);
        let Some([low, is, high]) = it.good_to(room) else {
            let seat = fahrenheit(it.seat.temperature(&state(COLDEST, 68.0)));
            println!("{what}: holds at any cold; {seat:.1} °F at the lowest on record");
            assert!(seat > 32.0, "{what}: {seat}");
            continue;
        };
        let seat = it.seat.temperature(&Boundary { outdoors: is, room });
        println!(
            "{what}: holds to {:.0} / {:.0} / {:.0} °F",
            fahrenheit(low),
            fahrenheit(is),
            fahrenheit(high)
        );
        assert!((fahrenheit(seat) - 32.0).abs() < ROUNDING, "{what}: {seat}");
        assert!(low < is && is < high, "{what}: {low} {is} {high}");
        known += 1;
    }
    assert!(known >= 8, "most of these outlets freeze at some cold: {known}");
}

#[test]
fn a_leak_moves_it_by_what_the_colder_bay_is_worth() {
    // By hand: a seat of the weight w in a bay δ colder than the room holds to outdoors δ w/(1 - w) warmer.
    let spec = outlet(built_in("rim-joist-batt"), BRASS, copper_pipe(), 8.0);
    let mut leaky = spec.clone();
    leaky.behind.leak = Ranged::exact(0.07);
    let room = kelvin(68.0);
    let [tight, leaking] = [&spec, &leaky].map(|it| solved(it).good_to(room).expect("it freezes")[1]);
    let weight = solved(&spec).seat.0;
    let bay = 0.07 * (room - leaking);
    let by_hand = bay * weight / (1.0 - weight);
    println!(
        "bay {:.1} °F colder: {:.1} °F, by hand {:.1}",
        bay * 1.8,
        (leaking - tight) * 1.8,
        by_hand * 1.8
    );
    // Films of the critical state, which moved.
    assert!((leaking - tight - by_hand).abs() < 0.1 * by_hand, "{leaking} {tight} {by_hand}");
}

#[test]
fn exchange_in_a_plastic_supply_raises_its_fin_as_by_hand() {
    // A long fin carries √(h P k A) (Incropera). 1/2 in PEX: 7.88e-5 m² of pipe at 0.38 and 1.19e-4 m² of water at 0.568 W/mK,
    // so that three times the water's k raises k A from 9.75e-5 to 2.33e-4 and the fin by √2.39. Without a wall, barrel
    // and fitting that share its heat the odds of the seat would rise as much; with them they rise by less.
    let spec = outlet(built_in("rim-joist-batt"), BRASS, pex_pipe(), 8.0);
    let mut mixed = spec.clone();
    mixed.supply.exchange = Ranged::exact(3.0);
    let odds = |spec: &Spec| {
        let share = solved(spec).seat.0;
        share / (1.0 - share)
    };
    let ratio = odds(&mixed) / odds(&spec);
    let good_to = |spec: &Spec| fahrenheit(solved(spec).good_to(kelvin(68.0)).expect("it freezes")[1]);
    println!(
        "odds {ratio:.3} times, fin {:.3}; {:+.1} °F",
        f64::sqrt(2.39),
        good_to(&mixed) - good_to(&spec)
    );
    assert!(ratio > 1.0 && ratio < f64::sqrt(2.39), "{ratio}");
}

fn film_error(it: &Solved, spec: &Spec, outdoors: f64) -> (f64, f64) {
    let at = state(outdoors, 68.0);
    let held = fahrenheit(it.seat.temperature(&at));
    let actual = fahrenheit(seat_with_films_at(spec, &at).expect("the section solves"));
    (held, actual - held)
}

#[test]
fn holding_the_films_costs_little_where_a_seat_is_judged_and_errs_to_the_cold_below_freezing() {
    /// At seats of 32 to 38 °F, a tenth of the half width of their intervals, 5 °F: by squares it would add half a percent.
    const DECIDING: f64 = 0.5;
    /// Elsewhere, where no rule decides, less than half of that width.
    const ELSEWHERE: f64 = 2.0;
    /// Films are found to 2e-4 of 100 °F.
    const FOUND: f64 = 0.05;
    let (mut deciding, mut elsewhere) = (0.0_f64, 0.0_f64);
    for key in ["2x6-siding", "rim-joist-batt", "block-8-bare"] {
        for (_, pipe) in supplies() {
            for (_, metal) in METALS {
                for depth in [4.0, 8.0, 12.0] {
                    let spec = outlet(built_in(key), metal, pipe, depth);
                    let it = solved(&spec);
                    for outdoors in [-40.0, -20.0, 0.0, 20.0, 32.0] {
                        let (seat, error) = film_error(&it, &spec, outdoors);
                        let worst =
                            if (32.0..=38.0).contains(&seat) { &mut deciding } else { &mut elsewhere };
                        *worst = worst.max(error.abs());
                        assert!(
                            seat > 32.0 || error > -FOUND,
                            "{key}, {depth} in, {outdoors} °F: {seat} {error}"
                        );
                    }
                }
            }
        }
    }
    println!(
        "held films err by at most {deciding:.2} °F at seats of 32 to 38 °F and {elsewhere:.2} elsewhere"
    );
    assert!(deciding < DECIDING, "{deciding}");
    assert!(elsewhere < ELSEWHERE, "{elsewhere}");
}

#[test]
fn a_space_that_follows_outdoors_altogether_leaves_the_seat_at_outdoors() {
    let mut spec = outlet(built_in("2x6-siding"), BRASS, copper_pipe(), 8.0);
    spec.behind.share = Micro::of(0.0);
    let at = state(-10.0, 68.0);
    assert!((seat(&spec, &at) + 10.0).abs() < 1e-9);
}
