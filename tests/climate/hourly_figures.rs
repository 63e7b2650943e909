//! Figures of hours whose answers are known in closed form or by hand.

use super::hourly_counts::hours_below;
use coldsill::weather::{Fit, Hourly};
use std::f64::consts::{PI, TAU};

const HOUR: f64 = 3600.0;
const DAY: f64 = 24.0 * HOUR;

/// The rows of whole days from 1 January of a year on, every so many hours: the temperature (°C) of a day and an hour.
pub(super) fn table(
    first_year: u32,
    years: u32,
    step: u32,
    celsius: impl Fn(u32, u32, u32, u32) -> Option<f64>,
) -> String {
    let mut csv = String::from("Time,Outdoors (°C)\n");
    for year in first_year..first_year + years {
        let leap = year.is_multiple_of(4);
        let lengths = [31, if leap { 29 } else { 28 }, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
        for (days, month) in lengths.into_iter().zip(1..) {
            for day in 1..=days {
                for hour in (0..24).step_by(step as usize) {
                    if let Some(it) = celsius(year, month, day, hour) {
                        csv.push_str(&format!("{year}-{month:02}-{day:02} {hour:02}:00,{it}\n"));
                    }
                }
            }
        }
    }
    csv
}

pub(super) fn read(csv: &str) -> Hourly {
    Hourly::read("a.csv", csv.as_bytes()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// Two years of 365 days of a cosine about 5 °C that goes 20 K either way and is coldest at the middle of January, hour by
/// hour; in tenths of a millikelvin.
fn sine() -> Hourly {
    let starts = [0, 31, 59, 90, 120, 151, 181, 212, 243, 273, 304, 334];
    read(&table(2001, 2, 1, |_, month, day, hour| {
        let t = f64::from(starts[month as usize - 1] + day - 1) + f64::from(hour) / 24.0;
        Some(5.0 - 20.0 * libm::cos(TAU * (t - 15.5) / 365.0)).map(|it| (it * 1e4).round() / 1e4)
    }))
}

/// Part p of the hours is colder than M − A cos(π p); an hour of 17 520 is 0.006 % of them, which is at most
/// 20·π·0.00006 = 0.004 K.
#[test]
fn shares_of_a_sine_year_are_those_of_the_arc_cosine() {
    let hourly = sine();
    for share in [0.996, 0.99, 0.9, 0.5] {
        let wanted = 5.0 - 20.0 * libm::cos(PI * (1.0 - share));
        let (found, years) = hourly.exceeded_in(share).unwrap();
        assert!((found - 273.15 - wanted).abs() < 0.004, "{share}: {found} for {wanted}");
        assert_eq!(years, 2.0);
    }
}

/// Below 0 °C for 365/π·acos(5/20) days of each year: to an hour at either end.
#[test]
fn hours_and_run_below_freezing_of_a_sine_year() {
    let hourly = sine();
    let days = 365.0 / PI * 0.25_f64.acos();
    assert!((hours_below(&hourly, 273.15) / 24.0 / 2.0 - days).abs() < 1.0 / 12.0);
    let run = hourly.longest_below(273.15).unwrap();
    assert!((run.length / DAY - days).abs() < 1.0 / 12.0 && run.bridged == 0.0);
    // 76 days 13.6 hours either side of noon on 16 January.
    let [from, to] = [run.start, run.start + run.length].map(|it| hourly.time_label(it));
    assert_eq!([from, to], ["2001-10-31 23:00", "2002-04-03 02:00"]);
}

/// The mean of a cosine over n days about its lowest point is M − A·sin(π n/365)/(π n/365). It starts n/2 days before it.
#[test]
fn the_coldest_days_of_a_sine_year_lie_about_its_lowest_point() {
    let hourly = sine();
    for days in [1.0, 7.0, 31.0] {
        let x = PI * days / 365.0;
        let found = hourly.coldest_days(days).unwrap();
        // An hour off the middle changes the mean by far less than a tenth of a millikelvin.
        assert!((found.mean - 278.15 + 20.0 * libm::sin(x) / x).abs() < 1e-3, "{days}: {found:?}");
        assert!((found.coldest - 258.15).abs() < 1e-3);
    }
    let month = hourly.coldest_month().unwrap();
    let x = PI * 31.0 / 365.0;
    assert_eq!((month.month, month.years), (1, 2));
    assert!((month.mean - 278.15 + 20.0 * libm::sin(x) / x).abs() < 1e-3, "{month:?}");
}

/// A year/π·(sin θ − θ cos θ) with cos θ = M/A, by integration of the cosine below 0 °C; of daily means, whose sum differs
/// from the integral by less than one day's 0.5 K at either end.
#[test]
fn the_freezing_index_of_a_sine_winter_is_its_integral() {
    let winters = sine().winters();
    let theta = 0.25_f64.acos();
    let wanted = 20.0 * 365.0 / PI * (libm::sin(theta) - theta * libm::cos(theta));
    assert_eq!(winters.iter().map(|it| it.counts).collect::<Vec<_>>(), [false, true, false]);
    assert_eq!(winters[1].name(), "2001/02");
    let index = winters[1].freezing_index.unwrap() / DAY;
    assert!((index - wanted).abs() < 1.0, "{index} for {wanted}");
}

/// A winter of −5 °C from 1 December to 10 March (100 days of 2001/02) with ten days of +2 °C from 30 January on, else +5 °C:
/// the sum falls by 60·5, rises by 10·2, falls by 30·5 = 430 °C·days from its highest to its lowest point.
#[test]
fn a_thaw_is_taken_off_the_freezing_index() {
    let hourly = read(&table(2001, 2, 6, |year, month, day, _| {
        let thaw = year == 2002 && ((month, day) >= (1, 30) && (month, day) <= (2, 8));
        let frost = (year, month) == (2001, 12) || (year == 2002 && (month, day) <= (3, 10));
        Some(if thaw {
            2.0
        } else if frost {
            -5.0
        } else {
            5.0
        })
    }));
    let index = hourly.winters()[1].freezing_index.unwrap() / DAY;
    assert!((index - 430.0).abs() < 1e-6, "{index}");
}

/// Winters at 0 °C but for one row at noon of 15 January, which is as cold as said; every six hours.
fn winters(lows: &[f64]) -> Hourly {
    let years = u32::try_from(lows.len()).expect("a few winters") + 1;
    read(&table(2001, years, 6, |year, month, day, hour| {
        let low = (year as usize).checked_sub(2002).and_then(|it| lows.get(it));
        Some(low.filter(|_| (month, day, hour) == (1, 15, 12)).copied().unwrap_or(0.0))
    }))
}

/// By hand: (−20 − 22 − 27)/3 = −23, and √((9 + 1 + 16)/2) = √13.
#[test]
fn three_winters_are_fitted_by_hand_and_marked_as_few() {
    let fit = Fit::of(&winters(&[-20.0, -22.0, -27.0]).winters()).unwrap();
    assert!(
        (fit.low.mean - 250.15).abs() < 1e-9 && (fit.low.deviation - 13f64.sqrt()).abs() < 1e-9,
        "{fit:?}"
    );
    assert_eq!((fit.low.winters, fit.is_short), (Some(3.0), true));
    // The factor at 20 years is 1.8658 (scipy.stats.gumbel_r).
    assert!((fit.low.low(20.0).unwrap() - (250.15 - 1.865_799 * 13f64.sqrt())).abs() < 1e-5);
}

/// Of n whole numbers in a row the variance with n − 1 is n(n + 1)/12: 13 for twelve.
#[test]
fn twelve_winters_are_no_longer_few_and_two_are_none() {
    let lows: Vec<f64> = (10..22).map(|it| -f64::from(it)).collect();
    let fit = Fit::of(&winters(&lows).winters()).unwrap();
    assert!(
        (fit.low.mean - 257.65).abs() < 1e-9 && (fit.low.deviation - 13f64.sqrt()).abs() < 1e-9,
        "{fit:?}"
    );
    assert_eq!((fit.low.winters, fit.is_short), (Some(12.0), false));
    assert_eq!(Fit::of(&winters(&[-20.0, -25.0]).winters()), None);
    assert_eq!(Fit::of(&winters(&[-20.0, -20.0, -20.0]).winters()), None);
    assert!(
        winters(&[-20.0, -25.0]).derive_climate().annual_low.unwrap_err().to_string().contains("it has 2")
    );
}

/// December to February of 2001/02 has 90 days: four of them are 4.4 %, five 5.6 %. They lie a week apart.
#[test]
fn winter_missing_over_5_percent_of_cold_months_is_excluded() {
    for (lacking, counts) in [(4, true), (5, false)] {
        let hourly = read(&table(2001, 2, 6, |year, month, day, _| {
            let is_lacking = [(1, 1), (1, 8), (1, 15), (1, 22), (1, 29)]
                .iter()
                .take(lacking)
                .any(|it| *it == (month, day));
            (year != 2002 || !is_lacking).then_some(f64::from(day) / 10.0)
        }));
        let winter = hourly.winters()[1];
        assert_eq!((winter.counts, winter.is_partial()), (counts, false), "{winter:?}");
        assert!((winter.missing - lacking as f64 / 90.0).abs() < 1e-9);
        assert!(hourly.gaps.len() == lacking && hourly.gaps.iter().all(|it| !it.bridged));
    }
}

/// October and November are 61 of 365 days: the winter's low counts, and the winter is partial.
#[test]
fn winter_with_complete_cold_months_only_is_partial() {
    let hourly = read(&table(2001, 2, 6, |year, month, day, _| {
        (year != 2001 || ![10, 11].contains(&month)).then_some(f64::from(day) / 10.0)
    }));
    let winter = hourly.winters()[1];
    assert!(winter.counts && winter.is_partial(), "{winter:?}");
    assert!((winter.missing_of_all - 61.0 / 365.0).abs() < 1e-9);
    assert_eq!(winter.freezing_index, None);
    assert_eq!(hourly.coldest_month().unwrap().years, 2);
}

/// Days that go from −10 to −4 °C and are the coldest; the rest go from 0 to 20 °C.
#[test]
fn the_swing_is_that_of_the_coldest_days() {
    let hourly = read(&table(2001, 2, 6, |_, month, day, hour| {
        let [low, high] = if month == 1 && day <= 7 { [-10.0, -4.0] } else { [0.0, 20.0] };
        Some(if hour == 12 { high } else { low })
    }));
    // Of 730 days a hundredth is seven; two Januaries have fourteen such days.
    let swing = hourly.swing_of_cold_days().unwrap();
    assert_eq!((swing.mean, swing.days), (6.0, 7));
}

#[test]
fn a_gap_of_six_hours_is_bridged_and_one_of_seven_is_not() {
    for (lacking, bridged) in [(6, true), (7, false)] {
        let csv = (0..48).filter(|it| !(20..20 + lacking).contains(it));
        let csv = csv.fold("Hour,Temp C\n".to_owned(), |csv, hour| format!("{csv}{hour},{}\n", -hour));
        let hourly = read(&csv);
        assert_eq!(hourly.bridged(), usize::from(bridged));
        assert_eq!(hourly.hours.len(), if bridged { 48 } else { 41 });
        // The temperature falls by a degree an hour, bridged or not.
        assert!(hourly.hours.iter().all(|it| (it.kelvin - 273.15 + it.time / HOUR).abs() < 1e-9));
        let run = hourly.longest_below(273.15).unwrap();
        let (length, over) = if bridged { (47.0, 6.0) } else { (21.0, 0.0) };
        assert_eq!((run.length / HOUR, run.bridged / HOUR), (length, over));
    }
}
