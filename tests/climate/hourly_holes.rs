//! Hours that are not there where they matter, and what a table does not say of itself.

use super::hourly_figures::{read, table};
use coldsill::weather::{Hourly, Winter};

const DAY: f64 = 86_400.0;

fn notes(hourly: &Hourly) -> String {
    hourly.diagnostics().iter().map(|it| format!("{it}\n")).collect()
}

/// Two years of rows every six hours, without some days of January and October 2002.
fn without(lacks: impl Fn(u32, u32) -> bool) -> Hourly {
    read(&table(2001, 2, 6, |year, month, day, _| {
        (year != 2002 || !lacks(month, day)).then_some(f64::from(month) - f64::from(day) / 40.0)
    }))
}

/// The record of 2001/02 lacks far less than one hour in twenty of its cold months each time.
#[test]
fn winter_missing_over_a_day_at_once_is_excluded() {
    let winter = |hourly: Hourly| -> Winter { hourly.winters()[1] };
    assert!(winter(without(|month, day| (month, day) == (1, 9))).counts);
    let long = winter(without(|month, day| month == 1 && (9..=10).contains(&day)));
    assert!(!long.counts && long.fails_by_one_hole() && long.missing < 0.05, "{long:?}");
    assert!((long.longest_hole / DAY - 2.0).abs() < 1e-9);
    assert!(winter(without(|month, day| month == 3 && (9..=11).contains(&day))).counts);
}

/// Of the 90 days of January, February and December one is 1.1 %, two are 2.2 %.
#[test]
fn shares_are_not_given_if_2_percent_of_cold_hours_is_unknown() {
    let year = |lacking: u32| {
        read(&table(2001, 1, 6, |_, month, day, _| {
            (month != 1 || !(9..9 + lacking).contains(&day)).then_some(f64::from(month))
        }))
    };
    let one = year(1).derive_climate();
    assert!(one.heating_990.is_ok() && (one.unknown_cold_share.unwrap() - 1.0 / 90.0).abs() < 1e-9);
    let two = year(2).derive_climate();
    assert!(two.heating_990.unwrap_err().to_string().starts_with("2.2 % of the hours of its cold months"));
}

/// −5 °C on all days but the 62 of July and August, at +5 °C: the sum falls by 303·5 °C·days.
#[test]
fn the_freezing_index_goes_on_beyond_april_where_frost_does() {
    let far_north = |from: u32| {
        read(&table(2001, 2, 6, |year, month, _, _| {
            let summer = if [7, 8].contains(&month) { 5.0 } else { -5.0 };
            ((year, month) >= (2001, from)).then_some(summer)
        }))
    };
    let index = far_north(7).winters()[0].freezing_index.unwrap() / DAY;
    assert!((index - 303.0 * 5.0).abs() < 1e-6, "{index}");
    // From 1 October on it begins in frost: what fell before that is not known.
    assert_eq!(far_north(10).winters()[0].freezing_index, None);
}

#[test]
fn table_coldest_in_july_is_assumed_southern() {
    let hourly = read(&table(2001, 2, 6, |_, month, _, _| Some((f64::from(month) - 7.0).abs() * 5.0 - 10.0)));
    assert!(notes(&hourly).contains("gives no latitude and is coldest in July"), "{}", notes(&hourly));
    let winters = hourly.winters();
    assert_eq!(winters.iter().map(Winter::name).collect::<Vec<_>>(), ["2001", "2002"]);
    // July is at −10 °C, June and August are at −5 °C, 31, 30 and 31 days.
    let index = winters[0].freezing_index.unwrap() / DAY;
    assert!((index - (31.0 * 10.0 + 61.0 * 5.0)).abs() < 1e-6 && winters[0].counts, "{index}");
}

#[test]
fn three_hour_rows_are_not_gaps_and_missing_hours_are() {
    let early = table(2001, 1, 3, |_, month, _, _| Some(f64::from(month)));
    let late = table(2002, 2, 1, |_, month, day, hour| {
        ((month, day) != (5, 5) || ![10, 11].contains(&hour)).then_some(f64::from(month))
    });
    let hourly = read(&format!("{early}{}", late.split_once('\n').unwrap().1));
    // Two gaps, of 5 May in both of the years that have hours.
    assert_eq!((hourly.step, hourly.gaps.len(), hourly.bridged()), (3600.0, 2, 2));
    assert!(notes(&hourly).contains("has 2920 rows further apart than the usual 1 h, up to 3 h"));
    assert!(hourly.winters()[1].counts && hourly.exceeded_in(0.99).unwrap().1 == 3.0);
}

#[test]
fn incomplete_table_says_how_much_less_than_years_it_covers() {
    let years = |first, count, last| {
        let csv = table(first, count, 1, |_, month, _, hour| Some(f64::from(month + hour) / 4.0));
        let rows = csv.lines().count();
        let kept: String = csv.lines().take(rows - last).map(|it| format!("{it}\n")).collect();
        notes(&read(&kept))
    };
    assert!(years(2001, 1, 1).contains("2001-12-31 22:00, 1 h less than a year"));
    assert!(years(2003, 2, 24).contains("24 h less than 2 years"));
    // 8,784 hours of a leap year are a year.
    assert!(!years(2004, 1, 0).contains("less than") && years(2004, 1, 24).contains("24 h less than a year"));
}

#[test]
fn equal_lows_are_reported() {
    let alike = read(&table(2001, 4, 6, |_, month, _, _| Some(f64::from(month) - 10.0)));
    assert_eq!(
        alike.derive_climate().annual_low.unwrap_err().to_string(),
        "the lows of its 3 winters are equal, which is not plausible"
    );
}

#[test]
fn numbers_unlikely_in_celsius_are_a_warning() {
    // January −25, July 95 and 22 from low to high: Celsius of no place, Fahrenheit of many.
    let wide = |month: u32, hour: u32| 35.0 - 10.0 * (f64::from(month) - 7.0).abs() + f64::from(hour);
    let doubts = |heading: &str, celsius: &dyn Fn(u32, u32) -> f64| {
        let csv = table(2001, 2, 6, |_, month, _, hour| Some(celsius(month, hour)));
        notes(&read(&csv.replacen("°C", heading, 1))).contains("if these are °F")
    };
    assert!(doubts("°C", &wide) && !doubts("°F", &wide));
    assert!(doubts("°C", &|month, _| 40.0 - 5.0 * (f64::from(month) - 7.0).abs()));
    assert!(doubts("°C", &|month, hour| f64::from(month) - 15.0 + 1.2 * f64::from(hour)));
    assert!(!doubts("°C", &|month, hour| 20.0 - 8.0 * (f64::from(month) - 7.0).abs() + 0.5 * f64::from(hour)));
}
