//! The design spell against its closed form.

use coldsill::spell::{MOST_DAYS, Spell, SpellError, SpellKind};
use proptest::prelude::*;

const HOUR: f64 = 3600.0;

fn at(spell: &Spell, hour: f64) -> f64 {
    spell.outdoors(hour * HOUR)
}

/// Straight lines between hourly knots: the mean of a whole day is the trapezoidal rule over its 24 hours.
fn day_mean(spell: &Spell, day: u32) -> f64 {
    let hour = |it: u32| at(spell, f64::from(24 * day + it));
    (0..24).map(|it| (hour(it) + hour(it + 1)) / 2.0).sum::<f64>() / 24.0
}

#[test]
fn three_days_at_the_low_make_a_spell_of_96_hours() {
    let spell = Spell::design(270.0, 250.0, 8.0, 3).unwrap();
    assert_eq!(spell.length(), 96.0 * HOUR);
    assert_eq!((spell.start(), spell.coldest()), (270.0, 250.0));
    assert_eq!(*spell.kind(), SpellKind::Design { start: 270.0, low: 250.0, swing: 8.0, days: 3 });
}

#[test]
fn each_day_touches_the_low_once_half_a_swing_below_its_mean() {
    let spell = Spell::design(270.0, 250.0, 8.0, 3).unwrap();
    for day in 1..=3 {
        let within = |time: f64| (24.0 * f64::from(day)..24.0 * f64::from(day + 1)).contains(&(time / HOUR));
        let lows = spell.knots().iter().filter(|[time, kelvin]| within(*time) && *kelvin == 250.0);
        assert_eq!(lows.map(|[time, _]| time / HOUR % 24.0).collect::<Vec<_>>(), [6.0], "day {day}");
        // A cosine sampled evenly over its period has the mean of its period: only rounding is left.
        assert!((day_mean(&spell, day) - 254.0).abs() < 1e-9, "day {day}");
    }
}

/// By hand: half way down, the floor is 260 and the half-grown swing 0.5·4·(1 − cos 90°) above it; at 18:00 of a day held the
/// full swing; half past the coldest, half of 4·(1 − cos 15°), cos 15° = (√6 + √2)/4; half way up, between 254 and 270.
#[test]
fn the_curve_has_its_closed_form() {
    let spell = Spell::design(270.0, 250.0, 8.0, 3).unwrap();
    let cos_15 = (6f64.sqrt() + 2f64.sqrt()) / 4.0;
    for (hour, kelvin) in [
        (0.0, 270.0),
        (12.0, 262.0),
        (24.0, 254.0),
        (30.0, 250.0),
        (30.5, 250.0 + 2.0 * (1.0 - cos_15)),
        (42.0, 258.0),
        (96.0, 254.0),
        (108.0, 262.0),
        (120.0, 270.0),
        (1000.0, 270.0),
        (-1000.0, 270.0),
    ] {
        assert!((at(&spell, hour) - kelvin).abs() < 1e-9, "{hour} h: {}", at(&spell, hour));
    }
}

#[test]
fn without_a_swing_the_low_is_held_flat() {
    let spell = Spell::design(270.0, 250.0, 0.0, 1).unwrap();
    assert!((24..=48).all(|hour| at(&spell, f64::from(hour)) == 250.0));
    assert_eq!(at(&spell, 12.0), 260.0);
}

#[test]
fn figures_that_make_no_spell_are_refused() {
    for (start, low, swing, days, why) in [
        (249.9, 250.0, 8.0, 3, SpellError::StartsBelowLow),
        (270.0, 250.0, -0.1, 3, SpellError::Figures),
        (270.0, 250.0, 8.0, 0, SpellError::Figures),
        (270.0, 250.0, 8.0, MOST_DAYS + 1, SpellError::Figures),
        (f64::NAN, 250.0, 8.0, 3, SpellError::Figures),
        (270.0, f64::NEG_INFINITY, 8.0, 3, SpellError::Figures),
    ] {
        assert_eq!(Spell::design(start, low, swing, days), Err(why), "{start} {low} {swing} {days}");
    }
    assert!(Spell::design(250.0, 250.0, 8.0, MOST_DAYS).is_ok());
}

proptest! {
    /// The fall is start + f·(low − start) + f·w with f from 0 to 1 in 24 steps and w = swing/2·(1 − cos), at most the swing
    /// and at most swing·sin(π/24) from hour to hour: a step is at most the sum of the three.
    #[test]
    fn no_hour_steps_too_far_or_below_the_low(
        low in 200.0..290.0,
        above in 0.001..60.0,
        swing in 0.1..25.0,
        days in 1..=MOST_DAYS,
    ) {
        let start = low + above;
        let spell = Spell::design(start, low, swing, days).unwrap();
        let most = above / 24.0 + swing / 24.0 + swing * libm::sin(std::f64::consts::PI / 24.0) + 1e-9;
        let hours = spell.length() / HOUR + 24.0;
        for pair in spell.knots().windows(2) {
            let per_hour = (pair[1][1] - pair[0][1]).abs() / ((pair[1][0] - pair[0][0]) / HOUR);
            prop_assert!(per_hour <= most, "{per_hour} K/h for {most}");
        }
        prop_assert!(spell.knots().iter().all(|knot| knot[1] >= low));
        prop_assert_eq!(spell.coldest(), low);
        prop_assert_eq!(at(&spell, hours), start);
        let lows = spell.knots().iter().filter(|knot| knot[1] == low).count();
        prop_assert_eq!(u32::try_from(lows), Ok(days));
    }
}
