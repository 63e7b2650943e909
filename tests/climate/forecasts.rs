//! Forecasts as people download them: each form gives the same spell, on a clock that deadlines are read from.

use super::lines;
use coldsill::climate::Climate;
use coldsill::spell::{Spell, SpellDoubt};
use coldsill::units::System;

const HOUR: f64 = 3600.0;

fn read(csv: &str) -> Spell {
    Spell::series("forecast.csv", csv.as_bytes(), None).unwrap_or_else(|problems| {
        panic!("{csv}\n{}", problems.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n"))
    })
}

/// Heading, three times an hour apart, and the deadline 90 minutes after the first. 15 January 2026 was a Thursday
/// (`date -d 2026-01-15 +%a`).
const FORMS: &[(&str, [&str; 3], &str)] = &[
    ("Time", ["2026-01-15 23:00", "2026-01-16 00:00", "2026-01-16 01:00"], "by 00:30 Fri"),
    (
        "valid_time",
        ["2026-01-15T23:00-06:00", "2026-01-16T00:00-06:00", "2026-01-16T01:00-06:00"],
        "by 00:30 Fri",
    ),
    (
        "Valid time",
        ["2026-01-15T23:00:00-0600", "2026-01-16T06:00:00Z", "2026-01-16T07:00:00+00:00"],
        "by 00:30 Fri",
    ),
    (
        "validTime",
        ["2026-01-15T23:00:00Z", "2026-01-16T00:00:00Z", "2026-01-16T01:00:00Z"],
        "by 00:30 UTC Fri",
    ),
    ("Time (UTC)", ["2026-01-15 23:00", "2026-01-16 00:00", "2026-01-16 01:00"], "by 00:30 UTC Fri"),
    ("Date,Hour", ["1/15/2026,23", "1/16/2026,0", "1/16/2026,1"], "by 00:30 Fri"),
    ("Hour,Date", ["2300,2026-01-15", "0000,2026-01-16", "0100,2026-01-16"], "by 00:30 Fri"),
    ("Date,Time", ["2026-01-15,11:00 PM", "2026-01-16,12:00 AM", "2026-01-16,1:00 AM"], "by 00:30 Fri"),
    ("Date,Time", ["Thu 1/15/2026,11 PM", "Fri 1/16/2026,12 AM", "Fri 1/16/2026,1 AM"], "by 00:30 Fri"),
    ("Day,Time", ["Thu,11 PM", "Fri,12 AM", "Fri,1 AM"], "by 00:30 Fri"),
    ("Time", ["Thu 11 PM", "Fri 12 AM", "Fri 1 AM"], "by 00:30 Fri"),
    ("Time", ["Thursday 11:00 PM", "Friday 12:00 AM", "Friday 1:00 AM"], "by 00:30 Fri"),
    ("Time", ["11 PM Wed", "12 AM Thu", "1 AM Thu"], "by 00:30 Thu"),
    (
        "Time",
        ["\"Thu, 1/15/2026 11:00 PM\"", "\"Fri, 1/16/2026 12:00 AM\"", "\"Fri, 1/16/2026 1:00 AM\""],
        "by 00:30 Fri",
    ),
    ("Hour", ["0", "1", "2"], "within 1 h 30 min"),
];

#[test]
fn each_form_gives_the_same_spell_and_its_clock() {
    for (heading, [first, second, third], deadline) in FORMS {
        let spell = read(&format!("{heading},Temp (F)\n{first},50\n{second},32\n{third},14\n"));
        let celsius = [10.0, 0.0, -10.0];
        for ((knot, celsius), hour) in spell.knots().iter().zip(celsius).zip([0.0, 1.0, 2.0]) {
            assert_eq!(knot[0], hour * HOUR, "{heading} {first}");
            assert!((knot[1] - 273.15 - celsius).abs() < 1e-9, "{heading} {first}");
        }
        assert_eq!(
            spell.clock().deadline(1.5 * HOUR, spell.length(), System::Si),
            *deadline,
            "{heading} {first}"
        );
        assert!((spell.first_below(273.15).unwrap() - HOUR).abs() < 1e-6);
    }
}

/// Wednesday is the last day before the count starts again.
#[test]
fn weekdays_run_on_through_a_week() {
    let days = ["Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun", "Mon"];
    let rows = days.iter().flat_map(|day| [0, 6, 12, 18].map(|hour| format!("{day} {hour:02}:00,10\n")));
    let spell = read(&format!("Time,Temp (F)\n{}", rows.collect::<String>()));
    assert_eq!(spell.length(), (7.0 * 24.0 + 18.0) * HOUR);
}

/// A cell that says N/A is a row that is not there.
#[test]
fn one_missing_value_is_bridged_as_a_missing_row() {
    let with = read("Time,Temp (F)\nThu 1 PM,30\nThu 2 PM,N/A\nThu 3 PM,20\nThu 4 PM,20\n");
    let without = read("Time,Temp (F)\nThu 1 PM,30\nThu 3 PM,20\nThu 4 PM,20\n");
    assert_eq!(with.knots(), without.knots());
    let at_two = 25.0;
    assert!(((with.outdoors(HOUR) - 273.15) * 1.8 + 32.0 - at_two).abs() < 1e-9);
}

#[test]
fn one_error_is_said_once_with_its_count() {
    let rows = |cell: &str, count: usize| (0..count).map(|_| format!("{cell},1\n")).collect::<String>();
    for (csv, line) in [
        (
            format!("Time,Temp C\n{}", rows("2026-01-14", 30)),
            "forecast.csv, row 2, column \"Time\": \"2026-01-14\" needs both a date and a time of day, and so in 29 \
             more rows; expected a time such as",
        ),
        (
            "Time,Temp C\n2026-01-14T05:00Z,1\n2026-01-14 06:00,1\n2026-01-14 07:00,1\n".into(),
            "forecast.csv, row 3, column \"Time\": \"2026-01-14 06:00\" differs from the first time in whether it states \
             its offset from UTC, and so in 1 more row; expected an offset",
        ),
        (
            format!("Hour,Temp C\n9,1\n{}", rows("5", 3)),
            "forecast.csv, row 3, column \"Hour\": \"hour 5\" is earlier than \"hour 9\" of row 2, and so in 2 more rows; \
             expected times in ascending order",
        ),
    ] {
        let found = lines(Spell::series("forecast.csv", csv.as_bytes(), None));
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(
            found[0].replace("\"5\"", "\"hour 5\"").replace("\"9\"", "\"hour 9\"").starts_with(line),
            "{found:?}"
        );
    }
}

fn shipped(id: &str) -> Climate {
    let climates = coldsill::shipped::climates().expect("the shipped climates are right");
    let found = climates.iter().find(|it| &*it.id == id).expect("it is shipped");
    (**found).clone()
}

/// A day from a high to a low and back, each hour, in °F as the file says.
fn day(high: f64, low: f64) -> Spell {
    let rows = (0..=24).map(|hour: i32| {
        let share = f64::from((hour - 12).abs()) / 12.0;
        format!("{hour},{}\n", low + share * (high - low))
    });
    read(&format!("Hour,Temp (F)\n{}", rows.collect::<String>()))
}

/// -8 °F was the lowest temperature of Dallas-Fort Worth (12 February 1899, National Weather Service, from memory), and a
/// winter day of 40 to 10 °F is usual there; -12 to -24 °C is what -13 °F weather reads in °C.
#[test]
fn a_file_far_outside_the_climate_is_doubted() {
    let dallas = shipped("dallas-tx");
    assert_eq!(day(40.0, 20.0).doubts(&dallas), []);
    let found = day(-12.0, -24.0).doubts(&dallas);
    assert!(
        matches!(found[..], [SpellDoubt::BelowRecord { .. }, SpellDoubt::AllBelowUsualLow { .. }]),
        "{found:?}"
    );
    // Two hours of a night may well stay below the usual low of a winter.
    assert_eq!(read("Hour,Temp (F)\n0,6\n1,5\n2,6\n").doubts(&dallas), []);
    let coarse = read("Hour,Temp (F)\n0,40\n3,30\n6,20\n").doubts(&dallas);
    assert_eq!(coarse, [SpellDoubt::CoarseSteps(3.0 * HOUR)]);
    assert_eq!(read("Hour,Temp (F)\n0,40\n2,30\n4,20\n").doubts(&dallas), []);
    // Of the coldest month in Minneapolis, 16 °F, this is 16 °F warmer at its coldest, and it freezes.
    let mild = day(50.0, 31.9).doubts(&shipped("minneapolis-mn"));
    assert!(mild.is_empty(), "8.8 K is within the 10 K: {mild:?}");
}
