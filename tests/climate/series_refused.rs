//! What a series is refused for, each at its cell.

use super::lines;
use coldsill::spell::{Spell, SpellKind};
use proptest::prelude::*;

fn refused(csv: &str, days: Option<f64>) -> Vec<String> {
    lines(Spell::series("station.csv", csv.as_bytes(), days))
}

/// One problem, whose line follows the file's name.
#[track_caller]
fn one(csv: &str, line: &str) {
    assert_eq!(refused(csv, None), [format!("station.csv{line}")]);
}

const TIME: &str =
    "expected a time such as 2026-01-14 05:00 or 1/14/2026 5:00 (month first), or hours such as 2.5";

#[test]
fn a_missing_temperature_is_bridged_and_counted() {
    for cell in ["", "NaN", "inf", "N/A", "--", "-999", "-999.9", "-9999.0", "9999", "-99.9 °F"] {
        let csv = format!("Hour,Temp (F)\n0,10\n1,{cell}\n2,12\n");
        let spell = Spell::series("station.csv", csv.as_bytes(), None).unwrap_or_else(|_| panic!("{cell}"));
        // Halfway between its neighbors: 11 °F.
        assert!(((spell.outdoors(3600.0) - 273.15) * 1.8 + 32.0 - 11.0).abs() < 1e-9, "{cell}");
        let SpellKind::Series { gaps, rows, longest_gap, .. } = spell.kind() else {
            panic!("{:?}", spell.kind())
        };
        assert_eq!((*gaps, *rows, *longest_gap), (1, 2, 7200.0), "{cell}");
    }
}

#[test]
fn a_temperature_that_cannot_be_read_says_what_was_expected() {
    one(
        "Hour,Temp (F)\n0,10\n1,cold\n2,12\n",
        ", row 3, column \"Temp (F)\": \"cold\" does not start with a number; expected a temperature such as -5 °F or -20 °C",
    );
    one(
        "Hour,Temp (F)\n0,10\n1,12 °G\n2,12\n",
        ", row 3, column \"Temp (F)\": \"12 °G\" has an unknown unit, \"°G\"; expected a temperature such as -5 °F \
         or -20 °C",
    );
}

#[test]
fn a_number_without_a_unit_anywhere_is_told_at_its_heading() {
    one(
        "Hour,Outdoors\n0,10\n1,11\n",
        ", row 1, column \"Outdoors\": \"Outdoors\" gives no unit, and neither do its cells; expected a heading \
         such as \"Outdoors (°F)\", or °F or °C in every cell",
    );
    one(
        "Time,Temp C\n0,10\n1,11\n",
        ", row 1, column \"Time\": \"Time\" gives no unit, and neither do its cells; expected a heading such as \
         \"Time (h)\" or \"Hour\", or dates with a time of day",
    );
}

#[test]
fn number_without_a_unit_among_others_is_reported_at_its_cell() {
    one(
        "Hour,Outdoors\n0,10 °F\n1,11\n2,12 °F\n",
        ", row 3, column \"Outdoors\": \"11\" has no unit; expected a temperature such as -5 °F or -20 °C",
    );
}

#[test]
fn a_unit_that_temperatures_are_not_read_in_is_refused() {
    one(
        "Hour,Temperature (K)\n0,270\n1,271\n",
        ", row 1, column \"Temperature (K)\": \"Temperature (K)\" has a unit not supported for outdoor temperatures; \
         expected °F or °C",
    );
}

#[test]
fn a_time_that_cannot_be_read_is_told_at_its_cell() {
    for (cell, what) in [
        ("", "the time is blank"),
        ("soon", "\"soon\" does not start with a number"),
        ("2026-01-14", "\"2026-01-14\" needs both a date and a time of day"),
        ("14/1/2026 6:00", "\"14/1/2026 6:00\" has a month that is not 1 to 12"),
        (
            "2026-01-14 06:00 CST",
            "\"2026-01-14 06:00 CST\" names a time zone; only UTC, Z and offsets such as -06:00 are read",
        ),
        ("6", "\"6\" has no unit"),
    ] {
        one(
            &format!("Time,Temp C\n2026-01-14 05:00,1\n{cell},1\n2026-01-14 07:00,1\n"),
            &format!(", row 3, column \"Time\": {what}; {TIME}"),
        );
    }
    one(
        "Hour,Temp C\n5,1\n2026-01-14 06:00,1\n7,1\n",
        ", row 3, column \"Hour\": \"2026-01-14 06:00\" is not in the form of the first time; expected only dates or only hours",
    );
}

#[test]
fn times_that_do_not_ascend_name_both() {
    one(
        "Time,Temp C\n2026-01-14 05:00,1\n2026-01-14 06:00,1\n2026-01-14 04:00,1\n2026-01-14 07:00,1\n",
        ", row 4, column \"Time\": \"2026-01-14 04:00\" is earlier than \"2026-01-14 06:00\" of row 3; expected times in ascending order",
    );
    // The night when clocks are put back.
    one(
        "Time,Temp C\n11/1/2026 0:00,1\n11/1/2026 1:00,1\n11/1/2026 1:00,1\n11/1/2026 2:00,1\n",
        ", row 4, column \"Time\": \"11/1/2026 1:00\" repeats the time of row 3; expected each time once: standard time all \
         year, without daylight saving",
    );
}

#[test]
fn a_gap_longer_than_six_hours_names_where_it_starts_and_ends() {
    one(
        "Time,Temp C\n2026-01-14 05:00,1\n2026-01-14 06:00,1\n2026-01-14 13:30,1\n2026-01-14 14:00,1\n",
        ", row 4: \"2026-01-14 13:30\" is 7.5 h after \"2026-01-14 06:00\" of row 3; expected rows at most 6 h apart",
    );
    one("Hour,Temp C\n0,1\n24,1\n48,1\n72,1\n", ": its rows are 24 h apart; expected rows at most 6 h apart");
}

#[test]
fn temperatures_that_air_does_not_have_are_refused() {
    for cell in ["-130", "140"] {
        one(
            &format!("Hour,Temp (F)\n0,10\n1,{cell}\n2,12\n"),
            &format!(
                ", row 3, column \"Temp (F)\": \"{cell}\" is out of range for outdoor air; expected a temperature from -112 °F \
                 to 134 °F (-80 °C to 57 °C)"
            ),
        );
    }
}

#[test]
fn a_jump_that_no_hour_makes_is_a_warning() {
    let warnings = |csv: &str| match Spell::series("station.csv", csv.as_bytes(), None).unwrap().kind() {
        SpellKind::Series { warnings, .. } => *warnings,
        other => panic!("{other:?}"),
    };
    // 45 °F in an hour is 25 K; 50 °F in two hours is less than that an hour.
    let [steep, less, slow] = ["0,10\n1,60\n2,60\n", "0,10\n1,54.9\n", "0,10\n2,60\n"]
        .map(|rows| warnings(&format!("Hour,Temp (F)\n{rows}")));
    assert!(steep == less + 1 && less == slow, "{steep} {less} {slow}");
}

#[test]
fn fahrenheit_labelled_celsius_is_told_at_the_heading() {
    one(
        "Hour,Temp C\n0,44\n1,46\n2,50\n",
        ", row 1, column \"Temp C\": \"Temp C\" is not the unit of its numbers: half of them would be above 45 °C, too warm \
         for air; expected °F, if that is their unit",
    );
    // Half of a cool month lies below 45 °F, and its warm afternoons still give the label away.
    let month = (0..100).fold("Hour,Temp C\n".to_owned(), |csv, hour| {
        format!("{csv}{hour},{}\n", if hour % 24 < 3 { 60 } else { 40 })
    });
    one(
        &month,
        ", row 1, column \"Temp C\": \"Temp C\" is not the unit of its numbers: 15 of them would be above 57 °C, too warm for \
         air; expected °F, if that is their unit",
    );
    let label = "Hour,Temp (F)\n0,270\n1,271\n2,272\n";
    one(
        label,
        ", row 1, column \"Temp (F)\": \"Temp (F)\" is not the unit of its numbers: half of them would be above 113 °F, too warm \
         for air",
    );
}

#[test]
fn headings_that_are_not_understood_are_told_with_the_nearest() {
    one(
        "a,b\n1,2\n",
        ": has no heading row with a time and an outdoor temperature; expected headings such as Time and Outdoors (°F)",
    );
    one(
        "Hour,Tempertaure (°F)\n1,2\n",
        ", row 1: has no column for the outdoor temperature; expected a heading such as Outdoors (°F), Outdoors \
         (°C), Temperature (°F), Dry bulb (°F), Outdoor temperature (°F); did you mean \"Temperature (°F)\"?",
    );
    one(
        "Tiem,Temp C\n1,2\n",
        ", row 1: has no column for the time; expected a heading such as Time, Hour, Date/time, Timestamp; did \
         you mean \"Time\"?",
    );
}

#[test]
fn a_second_column_of_the_same_is_a_problem() {
    one(
        "Timestamp,Time,Temp C\n2026-01-14 05:00,5:00,1\n2026-01-14 06:00,6:00,1\n",
        ", row 1, column \"Time\": \"Time\" repeats what column \"Timestamp\" gives; expected date and time of day in one \
         column",
    );
    one(
        "Hour,Temp F,Temp C\n0,32,0\n1,32,0\n",
        ", row 1, column \"Temp C\": \"Temp C\" repeats what column \"Temp F\" gives; expected one column of outdoor \
         temperatures",
    );
}

#[test]
fn a_series_of_one_row_or_of_years_without_a_length_is_refused() {
    one("Hour,Temp C\n", ": has 0 rows with a time and a temperature; expected at least 2");
    one("Hour,Temp C\n0,1\n", ": has 1 rows with a time and a temperature; expected at least 2");
    let years = (0..1500).fold("Hour,Temp C\n".to_owned(), |csv, row| format!("{csv}{},1\n", 6 * row));
    one(
        &years,
        ": covers 375 days, and the length of the spell is not stated; expected the days of the spell, or a series of at most 31 \
         days",
    );
    assert!(Spell::series("station.csv", years.as_bytes(), Some(3.0)).is_ok());
}

#[test]
fn series_too_short_or_without_a_length_is_rejected() {
    let csv = (0..=40).fold("Hour,Temp C\n".to_owned(), |csv, hour| format!("{csv}{hour},1\n"));
    assert_eq!(
        refused(&csv, Some(3.0)),
        ["station.csv: covers 40 h, and the spell needs 72 h; expected a longer series, or fewer days"]
    );
    for days in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(
            refused(&csv, Some(days)),
            [
                "station.csv: the length of the spell is out of range; expected more than 0 days and at most 366"
            ]
        );
    }
    let season = (0..=32 * 24).fold("Hour,Temp C\n".to_owned(), |csv, hour| format!("{csv}{hour},1\n"));
    one(
        &season,
        ": covers 32 days, and the length of the spell is not stated; expected the days of the spell, or a series \
         of at most 31 days",
    );
    assert!(Spell::series("station.csv", season.as_bytes(), Some(3.0)).is_ok());
}

#[test]
fn all_problems_come_at_once_in_the_order_of_the_rows() {
    let csv = "Time,Temp C\n2026-01-14 05:00,x\n2026-01-14 04:00,1\nsoon,-999\n2026-01-14 06:00,1\n";
    let rows: Vec<String> =
        refused(csv, None).iter().map(|it| it.split([',', ':']).nth(1).unwrap_or("").trim().into()).collect();
    assert_eq!(rows, ["row 2", "row 3", "row 4"]);
}

#[test]
fn an_empty_file_is_refused_and_an_older_encoding_is_read() {
    assert_eq!(lines(Spell::series("a.csv", b"", None)), ["a.csv: the file is empty"]);
    // As a logger writes it.
    assert!(Spell::series("a.csv", b"Hour,Temp (\xB0F)\n0,10\n1,11\n", None).is_ok());
}

/// Cells that are nearly right, so that the readers get past the headings.
fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        "[-−0-9.]{1,6}( ?°?[FC])?",
        "-?[0-9]{1,3}",
        "[0-9]{0,4}[-/][0-9]{0,2}[-/][0-9]{0,4}[ T]?[0-9]{0,2}:?[0-9]{0,2}:?[0-9.]{0,4} ?[APM]{0,2}",
        Just(String::new()),
        "\\PC{0,6}",
    ]
}

proptest! {
    #[test]
    fn arbitrary_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..200), days in any::<Option<f64>>()) {
        let _ = Spell::series("station.csv", &bytes, days);
    }

    #[test]
    fn arbitrary_rows_never_panic_or_give_invalid_values(
        rows in proptest::collection::vec((cell(), cell()), 0..12),
        heading in prop_oneof![Just("Time,Temp"), Just("Hour,Temp (F)"), Just("Time,Outdoors (°C)")],
        days in prop_oneof![Just(None), Just(Some(0.1)), Just(Some(1.0))],
    ) {
        let csv = rows.iter().fold(format!("{heading}\n"), |csv, (time, cell)| format!("{csv}{time},{cell}\n"));
        if let Ok(spell) = Spell::series("station.csv", csv.as_bytes(), days) {
            prop_assert!(spell.knots().iter().all(|knot| knot[0].is_finite() && (190.0..=331.0).contains(&knot[1])));
            prop_assert!(spell.knots().windows(2).all(|pair| pair[0][0] < pair[1][0]));
        }
    }
}
