//! Spells read from a series of measurements.

use coldsill::spell::{Spell, SpellKind};
use proptest::prelude::*;

const HOUR: f64 = 3600.0;
const DAY: f64 = 24.0 * HOUR;

/// °C to K.
fn kelvin(celsius: f64) -> f64 {
    celsius + 273.15
}

fn read(csv: &str, days: Option<f64>) -> Spell {
    Spell::series("station.csv", csv.as_bytes(), days).unwrap_or_else(|problems| {
        panic!("{}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    })
}

#[track_caller]
fn same(found: &[[f64; 2]], hours_and_celsius: &[[f64; 2]]) {
    assert_eq!(found.len(), hours_and_celsius.len(), "{found:?}");
    for (found, wanted) in found.iter().zip(hours_and_celsius) {
        assert!((found[0] - wanted[0] * HOUR).abs() < 1e-6, "{found:?} for {wanted:?}");
        assert!((found[1] - kelvin(wanted[1])).abs() < 1e-9, "{found:?} for {wanted:?}");
    }
}

#[test]
fn a_short_series_is_used_whole_and_starts_at_its_first_row() {
    let spell =
        read("Time,Outdoors (°F)\n2026-01-14 05:00,32\n2026-01-14 06:00,14\n2026-01-14 07:00,23\n", None);
    same(spell.knots(), &[[0.0, 0.0], [1.0, -10.0], [2.0, -5.0]]);
    assert_eq!(spell.length(), 2.0 * HOUR);
    assert!((spell.start() - kelvin(0.0)).abs() < 1e-9);
    assert!((spell.coldest() - kelvin(-10.0)).abs() < 1e-9);
    assert!((spell.outdoors(1.5 * HOUR) - kelvin(-7.5)).abs() < 1e-9);
    assert!((spell.outdoors(99.0 * HOUR) - kelvin(-5.0)).abs() < 1e-9);
    let kind = SpellKind::Series {
        file: "station.csv".into(),
        from: "2026-01-14 05:00".into(),
        to: "2026-01-14 07:00".into(),
        rows: 3,
        lead: None,
        gaps: 0,
        longest_gap: 0.0,
        typical: false,
        warnings: 0,
    };
    assert_eq!(*spell.kind(), kind);
}

#[test]
fn headings_and_times_are_read_as_loggers_and_people_write_them() {
    for (heading, times) in [
        ("Time", ["2026-01-14 23:00", "2026-01-15 00:00"]),
        ("TIMESTAMP", ["2026-01-14T23:00", "2026-01-15T00:00"]),
        ("Date/time", ["2026-01-14T23:00:00", "2026-01-14T24:00:00"]),
        ("date time", ["1/14/2026 23:00", "1/15/2026 0:00"]),
        ("Date & Time", ["12/31/2025 11:00 PM", "1/1/2026 12:00 AM"]),
        ("Hour", ["0", "1"]),
        ("Hours", ["-0.5", "0.5"]),
        ("Time (h)", ["23", "24"]),
        ("\"Elapsed time, hours\"", ["1.5", "2.5"]),
        ("Time", ["0 h", "60 min"]),
    ] {
        let spell = read(&format!("{heading},Temp C\n{},-1\n{},-2\n", times[0], times[1]), None);
        same(spell.knots(), &[[0.0, -1.0], [1.0, -2.0]]);
    }
    for heading in [
        "Outdoors (°C)",
        "Temperature °C",
        "Dry bulb (C)",
        "Temp C",
        "temp_c",
        "TempC",
        "Outdoor temperature in °C",
        "\"Outside temperature, deg C\"",
        "Air temp [celsius]",
        "OAT (°C)",
    ] {
        let spell = read(&format!("Hour,{heading}\n0,-1\n1,-2\n"), None);
        same(spell.knots(), &[[0.0, -1.0], [1.0, -2.0]]);
    }
}

#[test]
fn a_cell_may_carry_its_own_unit_which_wins_over_the_headings() {
    same(read("Hour,Outdoors\n0,14 °F\n1,-5 °C\n", None).knots(), &[[0.0, -10.0], [1.0, -5.0]]);
    same(read("Hour,Outdoors (°F)\n0,14\n1,-5 °C\n", None).knots(), &[[0.0, -10.0], [1.0, -5.0]]);
}

#[test]
fn title_blocks_other_columns_and_separators_are_accepted() {
    let csv = "Logger 7 at the north wall\n\nNo;Date/time;RH %;Outdoor temperature (°C)\n1;2026-01-14 05:00;80;-1\n2;2026-01-14 06:00;;-2\n";
    same(read(csv, None).knots(), &[[0.0, -1.0], [1.0, -2.0]]);
}

#[test]
fn gaps_of_up_to_six_hours_are_bridged_and_counted() {
    let spell = read("Hour,Temp C\n0,0\n1,0\n2,0\n8,-6\n9,-6\n10,-6\n13,-6\n14,-6\n", None);
    assert!((spell.outdoors(5.0 * HOUR) - kelvin(-3.0)).abs() < 1e-9);
    let SpellKind::Series { rows, gaps, longest_gap, .. } = spell.kind() else {
        panic!("{:?}", spell.kind())
    };
    assert_eq!((*rows, *gaps, *longest_gap), (8, 2, 6.0 * HOUR));
}

#[test]
fn rows_three_hours_apart_throughout_are_no_gaps() {
    let spell = read("Hour,Temp C\n0,0\n3,-1\n6,-2\n9,-3\n", None);
    assert!(matches!(spell.kind(), SpellKind::Series { gaps: 0, .. }));
}

/// Ten days at 0 °C but for 30 hours at −20 °C from hour 100 on, with an hour's fall and rise.
fn one_cold_day() -> String {
    let celsius = |hour| if (100..=130).contains(&hour) { -20.0 } else { 0.0 };
    (0..=240).fold("Hour,Temp C\n".into(), |csv, hour| format!("{csv}{hour},{}\n", celsius(hour)))
}

/// Any 24 hours within the 30 have the same mean: the first of them is taken.
#[test]
fn with_days_the_coldest_stretch_is_used_after_a_day_of_lead_in() {
    let spell = read(&one_cold_day(), Some(1.0));
    assert_eq!(spell.length(), 2.0 * DAY);
    assert_eq!(spell.start(), kelvin(0.0));
    assert_eq!(spell.outdoors(23.0 * HOUR), kelvin(0.0));
    assert_eq!(spell.outdoors(24.0 * HOUR), kelvin(-20.0));
    assert_eq!(spell.outdoors(48.0 * HOUR), kelvin(-20.0));
    let kind = SpellKind::Series {
        file: "station.csv".into(),
        from: "hour 76".into(),
        to: "hour 124".into(),
        rows: 49,
        lead: Some(DAY),
        gaps: 0,
        longest_gap: 0.0,
        typical: false,
        warnings: 0,
    };
    assert_eq!(*spell.kind(), kind);
}

/// The stretch and its lead begin at hour 76: there a gap of two hours ends, or begins.
#[test]
fn a_gap_before_the_part_that_is_used_is_not_counted() {
    for (missing, counted) in [("\n75,0\n", 0), ("\n77,0\n", 1)] {
        let spell = read(&one_cold_day().replace(missing, "\n"), Some(1.0));
        let SpellKind::Series { from, gaps, .. } = spell.kind() else { panic!("{:?}", spell.kind()) };
        assert_eq!((&**from, *gaps), ("hour 76", counted), "{missing:?}");
    }
}

#[test]
fn a_month_is_taken_whole_and_of_more_the_days_are_asked_for() {
    let rows =
        |last: u32| (0..=last).fold("Hour,Temp C\n".to_owned(), |csv, hour| format!("{csv}{hour},-5\n"));
    assert_eq!(read(&rows(31 * 24), None).length(), 31.0 * DAY);
    assert!(Spell::series("station.csv", rows(31 * 24 + 1).as_bytes(), None).is_err());
}

/// In two days the 30 hours and their hours of fall and rise lie wherever the two days do: the first such stretch begins
/// 48 hours before the end of the rise, at hour 131.
#[test]
fn longer_stretch_starts_at_the_first_row_of_the_coldest() {
    let spell = read(&one_cold_day(), Some(2.0));
    let SpellKind::Series { from, to, .. } = spell.kind() else { panic!("{:?}", spell.kind()) };
    assert_eq!((&**from, &**to), ("hour 59", "hour 131"));
}

#[test]
fn the_lead_in_is_as_long_as_there_are_hours_before_the_stretch() {
    let csv = (0..=60).fold("Hour,Temp C\n".to_owned(), |csv, hour| {
        format!("{csv}{hour},{}\n", if hour < 10 { 0.0 } else { -9.0 })
    });
    let spell = read(&csv, Some(2.0));
    assert_eq!(spell.length(), 58.0 * HOUR);
    assert!(matches!(spell.kind(), SpellKind::Series { lead, .. } if *lead == Some(10.0 * HOUR)));
}

#[test]
fn a_stretch_that_ends_between_rows_is_cut_there() {
    let spell = read("Hour,Temp C\n0,0\n2,-8\n4,-8\n6,0\n", Some(0.125));
    // The last of its three hours lies half way up from −8 to 0, or the first half way down: alike, so the first is taken.
    same(spell.knots(), &[[0.0, 0.0], [2.0, -8.0], [4.0, -8.0]]);
    assert!(matches!(spell.kind(), SpellKind::Series { lead, .. } if *lead == Some(HOUR)));
}

proptest! {
    /// The mean of straight lines over a stretch of whole hours that begins at a row, by the trapezoidal rule, row by row.
    #[test]
    fn no_stretch_that_begins_at_a_row_is_colder_than_the_one_used(
        celsius in proptest::collection::vec(-12.0..12.0, 30..120),
        days in 1_u8..3,
    ) {
        let csv = celsius.iter().zip(0..).fold("Hour,Temp C\n".to_owned(), |csv, (celsius, hour)| {
            format!("{csv}{hour},{celsius}\n")
        });
        let hours = 24 * usize::from(days);
        prop_assume!(celsius.len() > hours);
        let mean = |from: usize| {
            let pairs = celsius[from..=from + hours].windows(2);
            pairs.map(|pair| (pair[0] + pair[1]) / 2.0).sum::<f64>() / hours as f64
        };
        let coldest = (0..celsius.len() - hours).map(mean).fold(f64::INFINITY, f64::min);
        let spell = read(&csv, Some(f64::from(days)));
        let SpellKind::Series { lead: Some(lead), .. } = spell.kind() else { panic!("{:?}", spell.kind()) };
        let hour = |it: usize| spell.outdoors(lead + it as f64 * HOUR) - 273.15;
        let found = (0..hours).map(|it| (hour(it) + hour(it + 1)) / 2.0).sum::<f64>() / hours as f64;
        prop_assert!((found - coldest).abs() < 1e-6, "{found} for {coldest}");
    }
}

#[test]
fn a_spell_cut_from_a_typical_year_says_that_it_is_one() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/climate/hourly/chicago-january.epw");
    let spell = Spell::series("chicago-january.epw", &std::fs::read(file).unwrap(), Some(3.0)).unwrap();
    assert!(matches!(spell.kind(), SpellKind::Series { typical: true, .. }), "{:?}", spell.kind());
}

#[test]
fn the_coldest_days_of_several_years_are_found_between_long_gaps() {
    // Three years by the hour, 0 °C, with three days of -20 °C cut by a gap of a day in the second winter and three whole days
    // of -10 °C in the third.
    let mut csv = "Hour,Temp C\n".to_owned();
    for hour in 0..3 * 8766_u32 {
        let celsius = match hour {
            12_000..12_024 => continue,
            11_976..12_048 => -20,
            20_000..20_072 => -10,
            _ => 0,
        };
        csv.push_str(&format!("{hour},{celsius}\n"));
    }
    let spell = read(&csv, Some(2.5));
    let SpellKind::Series { from, lead, .. } = spell.kind() else { panic!("{:?}", spell.kind()) };
    assert_eq!((&**from, *lead), ("hour 19976", Some(DAY)));
    assert!((spell.coldest() - kelvin(-10.0)).abs() < 1e-9);
    // A day of -20 °C stands on either side of the gap.
    assert!((read(&csv, Some(0.5)).coldest() - kelvin(-20.0)).abs() < 1e-9);
}
