//! What hours of weather are refused for, and what is told and read on.

use super::lines;
use coldsill::spell::Spell;
use coldsill::weather::{Form, Hourly};
use flate2::{Compression, write::GzEncoder};
use proptest::prelude::*;
use std::io::Write;

const HEADER: &str = "LOCATION,Alder Flat,MN,USA,Custom,999999,45.5,-93.25,-6.0,280.0\nDESIGN CONDITIONS,0\n\
                      TYPICAL/EXTREME PERIODS,0\nGROUND TEMPERATURES,0\nHOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0\nCOMMENTS 1,\n\
                      COMMENTS 2,\nDATA PERIODS,1,1,Data,Sunday,1/1,12/31\n";

/// A row of 35 fields.
fn row(year: u32, month: u32, day: u32, hour: u32, minute: u32, celsius: &str) -> String {
    let rest = ",0".repeat(10);
    format!(
        "{year},{month},{day},{hour},{minute},A7,{celsius},-9.0,80,99000{rest},180,3.5{}\n",
        ",0".repeat(13)
    )
}

/// A year of rows, each at a temperature, but for those that are left out; months have their days.
fn year(of: u32, leap: bool, row_of: impl Fn(u32, u32, u32) -> Option<String>) -> String {
    let lengths = [31, if leap { 29 } else { 28 }, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut out = HEADER.to_owned();
    for (days, month) in lengths.into_iter().zip(1..) {
        for day in 1..=days {
            for hour in 1..=24 {
                if let Some(celsius) = row_of(month, day, hour) {
                    out.push_str(&row(of, month, day, hour, 0, &celsius));
                }
            }
        }
    }
    out
}

fn read(text: &str) -> Hourly {
    Hourly::read("a.epw", text.as_bytes()).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn refused(text: &str) -> Vec<String> {
    lines(Hourly::read("a.epw", text.as_bytes()))
}

fn notes(hourly: &Hourly) -> Vec<String> {
    hourly.diagnostics().iter().map(ToString::to_string).collect()
}

fn mild(month: u32, _: u32, hour: u32) -> String {
    // Coldest at 6:00.
    format!("{:.1}", f64::from(month) - if hour == 6 { 8.0 } else { 0.0 })
}

#[test]
fn complete_year_and_leap_year_have_no_warnings() {
    for (of, leap, hours) in [(2015, false, 8760), (2016, true, 8784)] {
        let hourly = read(&year(of, leap, |month, day, hour| Some(mild(month, day, hour))));
        assert_eq!((hourly.hours.len(), hourly.diagnostics().len(), hourly.is_typical()), (hours, 0, false));
        assert_eq!(hourly.time_label(hourly.hours[0].time), format!("{of}-01-01 01:00"));
        assert_eq!(hourly.time_label(hourly.hours[hours - 1].time), format!("{of}-12-31 24:00"));
    }
}

#[test]
fn dos_line_ends_and_a_byte_order_mark_change_nothing() {
    let text = year(2015, false, |month, day, hour| Some(mild(month, day, hour)));
    let dos = format!("\u{FEFF}{}", text.replace('\n', "\r\n"));
    assert_eq!(read(&dos), read(&text));
}

#[test]
fn months_of_several_years_are_a_typical_year() {
    let text = year(2015, false, |month, day, hour| Some(mild(month, day, hour)));
    let pieced = text.replace("\n2015,2,", "\n1998,2,");
    let hourly = read(&pieced);
    assert!(hourly.is_typical() && hourly.winters().is_empty());
    assert_eq!(hourly.hours.len(), 8760);
    let drawn = hourly.derive_climate();
    assert!(drawn.annual_low.unwrap_err().to_string().starts_with("its months are of different years"));
    assert!(drawn.coldest_recorded.unwrap_err().to_string().contains("understates extremes"));
    // January is at 1 °C, and at −7 °C in one hour of 24.
    let month = drawn.coldest_month.unwrap();
    assert_eq!(month.month, 1);
    assert!((month.mean - 273.15 - (1.0 - 8.0 / 24.0)).abs() < 1e-6);
    let called = read(&text.replacen(",Custom,", ",TMY3,", 1));
    assert!(
        called.is_typical()
            && called
                .derive_climate()
                .annual_low
                .unwrap_err()
                .to_string()
                .starts_with("its heading calls it typical")
    );
}

#[test]
fn two_consecutive_real_years_are_not_typical() {
    let one = year(2014, false, |month, day, hour| Some(mild(month, day, hour)));
    let two = year(2015, false, |month, day, hour| Some(mild(month, day, hour)));
    let hourly = read(&format!("{one}{}", two.strip_prefix(HEADER).unwrap()));
    assert!(!hourly.is_typical());
    assert_eq!(hourly.hours.len(), 2 * 8760);
}

#[test]
fn a_year_that_lacks_an_hour_says_which_and_bridges_it() {
    let text = year(2015, false, |month, day, hour| {
        ((month, day, hour) != (3, 8, 3)).then(|| mild(month, day, hour))
    });
    let hourly = read(&text);
    // 31 + 28 + 7 days of 24 rows and two more come before it, after the eight of the header.
    assert_eq!(
        notes(&hourly),
        [
            "a.epw, row 1595: \"2015-03-08 04:00\" is 2 h after the temperature before it, \"2015-03-08 02:00\" of row \
          1594: bridged by a straight line"
        ]
    );
    assert_eq!((hourly.hours.len(), hourly.measured().count(), hourly.bridged()), (8760, 8759, 1));
}

#[test]
fn a_year_without_its_last_hour_says_what_it_covers() {
    let text = year(2015, false, |month, day, hour| {
        ((month, day, hour) != (12, 31, 24)).then(|| mild(month, day, hour))
    });
    assert_eq!(
        notes(&read(&text)),
        [
            "a.epw: covers 2015-01-01 01:00 to 2015-12-31 23:00, 1 h less than a year; expected every hour from 1 January to \
          31 December"
        ]
    );
}

#[test]
fn missing_code_is_counted_and_never_a_temperature() {
    let text = year(2015, false, |month, day, hour| {
        let missing = (month, day) == (1, 2) && (3..=5).contains(&hour) || (month, day) == (7, 1);
        Some(if missing { "99.9".into() } else { mild(month, day, hour) })
    });
    let hourly = read(&text);
    assert_eq!((hourly.missing, hourly.measured().count(), hourly.hours.len()), (27, 8733, 8736));
    assert!(hourly.hours.iter().all(|it| it.kelvin < 290.0));
    let told = notes(&hourly);
    assert_eq!(
        told[0],
        "a.epw, row 35, column \"dry bulb\": is the first of 27 of 8760 rows without a temperature; those hours are \
         unknown"
    );
    assert!(told[1].contains("is 4 h after") && told[1].ends_with("bridged by a straight line"), "{told:?}");
    assert!(told[2].contains("is 25 h after") && told[2].contains("too long to bridge"), "{told:?}");
}

#[test]
fn spell_is_not_cut_from_a_file_with_a_long_gap() {
    let text = year(2015, false, |month, day, hour| {
        Some(if (month, day) == (7, 1) { "99.9".into() } else { mild(month, day, hour) })
    });
    // In July: the coldest three days are not cut by it, but a spell of 300 days would be.
    assert!(Spell::series("a.epw", text.as_bytes(), Some(3.0)).is_ok());
    assert_eq!(
        lines(Spell::series("a.epw", text.as_bytes(), Some(300.0))),
        [
            "a.epw, row 4377: \"2015-07-02 01:00\" is 25 h after \"2015-06-30 24:00\" of row 4352; expected rows at most 6 h \
          apart"
        ]
    );
}

#[test]
fn several_records_an_hour_stand_at_their_minutes() {
    let mut text = HEADER.replace("DATA PERIODS,1,1", "DATA PERIODS,1,4");
    for hour in 1..=24 {
        for (minute, celsius) in [(15, "-1.0"), (30, "-2.0"), (45, "-3.0"), (0, "-4.0")] {
            text.push_str(&row(2015, 1, 1, hour, minute, celsius));
        }
    }
    let hourly = read(&text);
    assert_eq!((hourly.hours.len(), hourly.step), (96, 900.0));
    assert_eq!(hourly.time_label(hourly.hours[0].time), "2015-01-01 00:15");
    assert_eq!(hourly.time_label(hourly.hours[95].time), "2015-01-01 24:00");
    // 24 of the 96 quarters.
    assert_eq!(super::hourly_counts::hours_below(&hourly, 273.15 - 3.5), 6.0);
    assert_eq!(hourly.longest_below(273.15 - 2.5).unwrap().length, 1800.0);
}

#[test]
fn a_last_row_cut_short_is_refused_in_every_form() {
    let whole = row(2015, 1, 1, 1, 0, "-1.0") + &row(2015, 1, 1, 2, 0, "-2.0");
    let cut = &row(2015, 1, 1, 3, 0, "-30.0")[..21];
    assert_eq!(
        refused(&format!("{HEADER}{whole}{cut}")),
        [
            "a.epw, row 11: has 7 fields of 35: the file is cut short; expected the complete file, downloaded again"
        ]
    );
    assert_eq!(
        lines(Hourly::read(
            "a.csv",
            b"Time,Temp C,RH\n2015-01-01 01:00,1,80\n2015-01-01 02:00,2,80\n2015-01-01 03:0"
        )),
        [
            "a.csv, row 4: has 1 cells of 3: the file is cut short; expected the complete file, downloaded again"
        ]
    );
}

#[test]
fn fahrenheit_in_a_file_of_celsius_is_refused() {
    let text = year(2015, false, |month, _, _| Some(format!("{}", 30 + 4 * month)));
    assert_eq!(
        refused(&text),
        [
            "a.epw, row 9, column \"dry bulb\": \"dry bulb\" is not the unit of its numbers: half of them would be above 45 °C, too \
          warm for air; expected °C, the unit of this form"
        ]
    );
}

#[test]
fn few_invalid_cells_are_unknown_and_many_are_an_error() {
    let text = |every: u32| {
        (0..500_u32).fold("Hour,Temp C\n".to_owned(), |csv, hour| {
            let cell = if hour % every == 7 { "err".into() } else { format!("{}", hour % 24) };
            format!("{csv}{hour},{cell}\n")
        })
    };
    let hourly = Hourly::read("a.csv", text(100).as_bytes()).unwrap();
    assert_eq!((hourly.missing, hourly.bridged()), (5, 5));
    let told = notes(&hourly);
    assert_eq!(
        told[0],
        "a.csv, row 9, column \"Temp C\": \"err\" does not start with a number; that hour is unknown; expected a \
         temperature such as -5 °F or -20 °C"
    );
    assert_eq!(told[3], "a.csv: has 2 more cells that are not temperatures; those hours are unknown");
    let many = lines(Hourly::read("a.csv", text(50).as_bytes()));
    // One error, said once: the first of ten cells.
    assert_eq!(many.len(), 1);
    assert!(many[0].contains("\"err\" does not start with a number, and so in 9 more rows;"), "{many:?}");
}

#[test]
fn an_hour_that_comes_twice_or_too_early_is_refused() {
    let of = |hours: [u32; 4]| {
        hours.iter().fold(HEADER.to_owned(), |text, it| text + &row(2015, 11, 1, *it, 0, "1.0"))
    };
    assert_eq!(
        refused(&of([1, 2, 2, 3])),
        [
            "a.epw, row 11: \"2015-11-01 02:00\" repeats the time of row 10; expected each time once: standard time all year, \
          without daylight saving"
        ]
    );
    assert_eq!(
        refused(&of([1, 3, 2, 4])),
        [
            "a.epw, row 11: \"2015-11-01 02:00\" is earlier than \"2015-11-01 03:00\" of row 10; expected times in ascending order"
        ]
    );
}

/// Two days that go from 0 °C to 40 °C and back in one hour each.
#[test]
fn implausible_jumps_are_one_warning_with_the_largest() {
    let csv = (0..48).fold("Hour,Temp C\n".to_owned(), |csv, hour| {
        let celsius = if hour == 30 {
            45
        } else if hour == 10 {
            40
        } else {
            0
        };
        format!("{csv}{hour},{celsius}\n")
    });
    let warnings = notes(&Hourly::read("a.csv", csv.as_bytes()).unwrap());
    assert_eq!(
        warnings,
        [
            "a.csv, row 32, column \"Temp C\": \"hour 30\" is 81 °F (45 K) from the temperature 1 h earlier, the largest of 4 \
             implausible jumps; they cannot be distinguished from a front and are kept; expected at most 25 K (45 °F) in an \
             hour"
        ]
    );
}

/// Rows every three hours, coldest at 6:00 local standard time; six hours west of Greenwich that is noon UTC.
#[test]
fn clock_coldest_far_from_sunrise_is_a_warning() {
    let table = |heading: &str, coldest: u32| {
        let rows = (0..336_u32).flat_map(|day| (0..24).step_by(3).map(move |hour| (day, hour)));
        rows.fold(format!("{heading},Temp C\n"), |csv, (day, hour)| {
            let celsius = if hour == coldest { -5 } else { 5 };
            format!("{csv}2015-{:02}-{:02} {hour:02}:00,{celsius}\n", day / 28 + 1, day % 28 + 1)
        })
    };
    let told = |heading, coldest| notes(&Hourly::read("a.csv", table(heading, coldest).as_bytes()).unwrap());
    let is_told = |notes: &[String]| notes.iter().any(|it| it.contains("its clock may be UTC"));
    assert!(is_told(&told("Time", 12)) && !is_told(&told("Time", 6)));
    let utc = told("Time (UTC)", 12);
    assert!(!is_told(&utc) && utc[0].contains("gives times in UTC"), "{utc:?}");
}

/// A logger's title block may start as an EPW does.
#[test]
fn a_title_block_that_says_a_location_makes_no_epw_of_a_table() {
    let csv = "Location,North wall\nTime,Temp C\n2015-01-01 01:00,1\n2015-01-01 02:00,2\n";
    assert_eq!(Hourly::read("a.csv", csv.as_bytes()).unwrap().form, Form::Table);
    assert!(Spell::series("a.csv", csv.as_bytes(), None).is_ok());
}

fn packed(bytes: &[u8]) -> Vec<u8> {
    let mut out = GzEncoder::new(Vec::new(), Compression::fast());
    out.write_all(bytes).expect("memory is written to");
    out.finish().expect("memory is written to")
}

#[test]
fn a_packed_file_is_the_file_itself_whatever_its_name() {
    let csv = "Time,Temp C\n2015-01-01 01:00,1\n2015-01-01 02:00,2\n";
    let epw = year(2015, false, |month, day, hour| Some(mild(month, day, hour)));
    for text in [csv, &epw] {
        assert_eq!(Hourly::read("a.txt", &packed(text.as_bytes())), Hourly::read("a.txt", text.as_bytes()));
        let days = (text == epw).then_some(3.0);
        assert_eq!(
            Spell::series("a", &packed(text.as_bytes()), days),
            Spell::series("a", text.as_bytes(), days)
        );
    }
    // Archives put several packed parts one after the other.
    let (first, second) = csv.split_at(20);
    let parts = [packed(first.as_bytes()), packed(second.as_bytes())].concat();
    assert_eq!(Hourly::read("a.csv", &parts).unwrap().form, Form::Table);
}

#[test]
fn a_small_file_that_unpacks_to_a_huge_one_is_refused() {
    let bomb = packed(&vec![b' '; 64_000_001]);
    assert!(bomb.len() < 1_000_000);
    let wanted = ["a.gz: is over the limit of 64,000,000 bytes in a file once unpacked"];
    assert_eq!(lines(Hourly::read("a.gz", &bomb)), wanted);
    assert_eq!(lines(Spell::series("a.gz", &bomb, None)), wanted);
}

#[test]
fn twenty_years_of_hours_are_read() {
    let mut csv = String::from("Time,Outdoors (°F)\n");
    for day in 0..20 * 336_u32 {
        let (year, month, of) = (2000 + day / 336, day % 336 / 28 + 1, day % 28 + 1);
        (0..24).for_each(|hour| {
            csv.push_str(&format!("{year}-{month:02}-{of:02} {hour:02}:00,{}\n", hour + month))
        });
    }
    let hourly = Hourly::read("a.csv", csv.as_bytes()).unwrap();
    assert_eq!(hourly.measured().count(), 20 * 336 * 24);
    // A cold spell is looked for within months: the gaps between them are too long. January's nights are the coldest.
    let spell = Spell::series("a.csv", csv.as_bytes(), Some(3.0)).unwrap();
    assert!((spell.coldest() - (273.15 - 31.0 / 1.8)).abs() < 1e-9, "{}", spell.coldest());
}

proptest! {
    #[test]
    fn arbitrary_bytes_never_panic(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
        let _ = Hourly::read("a", &bytes);
        let _ = Hourly::read("a", &[b"\x1F\x8B\x08", bytes.as_slice()].concat());
        let _ = Hourly::read("a.epw", &[HEADER.as_bytes(), &bytes].concat());
    }

    #[test]
    fn arbitrary_rows_never_panic_or_give_unordered_hours(
        rows in proptest::collection::vec((0..3_u32, 0..14_u32, 0..33_u32, 0..26_u32, "-?[0-9.]{0,4}"), 0..20),
    ) {
        let text = rows.iter().fold(HEADER.to_owned(), |text, (year, month, day, hour, celsius)| {
            text + &row(2015 + year, *month, *day, *hour, 0, celsius)
        });
        if let Ok(hourly) = Hourly::read("a.epw", text.as_bytes()) {
            prop_assert!(hourly.hours.windows(2).all(|pair| pair[0].time < pair[1].time && pair[0].lasts > 0.0));
            prop_assert!(hourly.hours.iter().all(|it| (190.0..=331.0).contains(&it.kelvin)));
            let _ = (hourly.derive_climate(), hourly.coldest_days(0.5), hourly.swing_of_cold_days());
        }
    }
}
