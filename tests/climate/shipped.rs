//! The shipped climates: what is printed, in order, where it should be, and each place once.

use coldsill::climate::{Climate, read_library_file};
use coldsill::diag::Diagnostics;
use coldsill::shipped;
use serde::Deserialize;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Zones of the IECC (table C301.1).
const ZONES: [&str; 19] = [
    "0A", "0B", "1A", "1B", "2A", "2B", "3A", "3B", "3C", "4A", "4B", "4C", "5A", "5B", "5C", "6A", "6B",
    "7", "8",
];
/// Editions of the handbook that have means and deviations of annual lows: one in four years.
const EDITIONS: [&str; 4] = ["2009", "2013", "2017", "2021"];
const SOURCE: &str = "ASHRAE Handbook of Fundamentals, climatic design conditions, edition ";

#[derive(Deserialize)]
struct State {
    state: String,
    south: f64,
    north: f64,
    west: f64,
    east: f64,
    salt_water: String,
}

#[derive(Deserialize)]
struct Printed {
    id: String,
    edition: String,
    low_5: f64,
    low_10: f64,
    low_20: f64,
    low_50: f64,
}

fn all() -> Vec<Arc<Climate>> {
    shipped::climates().expect("the shipped climates are right").iter().cloned().collect()
}

fn table<T: for<'de> Deserialize<'de>>(bytes: &[u8]) -> Vec<T> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(bytes);
    reader.deserialize().map(|row| row.expect("the test's table is right")).collect()
}

fn states() -> Vec<State> {
    table(include_bytes!("data/states.csv"))
}

fn state_of(climate: &Climate) -> State {
    let state = climate.state.as_deref().unwrap_or_else(|| panic!("{}: no state", climate.id));
    states().into_iter().find(|it| it.state == state).unwrap_or_else(|| panic!("{}: {state}", climate.id))
}

/// Metres between two places on a sphere of the Earth's mean radius.
fn apart(a: &Climate, b: &Climate) -> f64 {
    let at = |it: &Climate| match (it.latitude, it.longitude) {
        (Some(north), Some(east)) => (north.to_radians(), east.to_radians()),
        _ => panic!("{}: no coordinates", it.id),
    };
    let ((north, east), (other_north, other_east)) = (at(a), at(b));
    // Flat to the few kilometers that matter here.
    let across = (east - other_east) * libm::cos(0.5 * (north + other_north));
    6_371_008.8 * across.hypot(north - other_north)
}

#[test]
fn there_are_150_places_or_more_and_zones_one_to_eight() {
    let all = all();
    assert!(all.len() >= 150, "{}", all.len());
    let zones: BTreeSet<char> = all.iter().filter_map(|it| it.zone.as_ref()?.chars().next()).collect();
    assert_eq!(zones, ('1'..='8').collect());
}

#[test]
fn every_place_has_its_figures_and_each_within_range() {
    for it in all() {
        let zone = it.zone.as_deref().unwrap_or_else(|| panic!("{}: no zone", it.id));
        assert!(ZONES.contains(&zone), "{}: {zone}", it.id);
        let edition = it.source.strip_prefix(SOURCE).unwrap_or_else(|| panic!("{}: {}", it.id, it.source));
        assert!(EDITIONS.contains(&edition), "{}: {edition}", it.id);
        // Six digits of a station; those of North America and the Pacific start with 7 or 9.
        let station = it.station.as_deref().unwrap_or_else(|| panic!("{}: no station", it.id));
        assert!(station.len() == 6 && station.bytes().all(|it| it.is_ascii_digit()), "{}: {station}", it.id);
        assert!(station.starts_with(['7', '9']), "{}: {station}", it.id);
        // The lowest settled ground is about -85 m, the highest town in North America about 3,200 m.
        assert!(it.elevation.is_none_or(|height| (-90.0..=3300.0).contains(&height)), "{}", it.id);
        // A 99.6 % value of -50 °C is colder than any town has; of 20 °C, warmer.
        let celsius = [it.heating_996, it.heating_990].map(|it| it.unwrap() - 273.15);
        assert!(celsius.iter().all(|it| (-50.0..=20.0).contains(it)), "{}: {celsius:?}", it.id);
        let deviation = it.annual_low.unwrap().deviation;
        assert!((0.4..=7.0).contains(&deviation), "{}: {deviation}", it.id);
    }
}

#[test]
fn every_places_figures_stand_in_the_order_of_their_cold() {
    for it in all() {
        let (cold, colder) = (it.heating_990.unwrap(), it.heating_996.unwrap());
        let low = it.annual_low.unwrap();
        assert!(colder <= cold, "{}: 99.6 % above 99 %", it.id);
        assert!(low.mean < colder, "{}: the mean annual low is not below the 99.6 % value", it.id);
        let lows = [5.0, 10.0, 20.0, 50.0].map(|years| low.low(years).unwrap());
        assert!(lows.is_sorted_by(|a, b| a > b), "{}: {lows:?}", it.id);
        // A low of five years lies below the mean: it is the 80th percentile of a lopsided distribution.
        assert!(lows[0] < low.mean, "{}", it.id);
        assert!(cold < it.coldest_month_mean.unwrap(), "{}: 99 % above the coldest month's mean", it.id);
        // No month but these is the coldest of a typical year on the northern side of the tropics.
        assert!(matches!(it.coldest_month, Some(12 | 1 | 2)), "{}: {:?}", it.id, it.coldest_month);
    }
}

#[test]
fn every_place_lies_in_its_state() {
    for it in all() {
        let (state, north, east) = (state_of(&it), it.latitude.unwrap(), it.longitude.unwrap());
        assert!((state.south..=state.north).contains(&north), "{}: latitude {north}", it.id);
        assert!((state.west..=state.east).contains(&east), "{}: longitude {east}", it.id);
    }
}

#[test]
fn a_place_by_salt_water_lies_low_in_a_state_that_has_some() {
    let coastal: Vec<_> = all().into_iter().filter(|it| it.coastal == Some(true)).collect();
    assert!(!coastal.is_empty());
    for it in coastal {
        assert_eq!(state_of(&it).salt_water, "yes", "{}", it.id);
        // Airports on bluffs (Port Angeles, Tacoma, Arcata) stand up to some 90 m above the water.
        assert!(it.elevation.is_none_or(|height| height < 100.0), "{}: {:?}", it.id, it.elevation);
    }
    // Absent says nothing, so that nothing is read from it: the head of the files says so.
    assert!(all().iter().all(|it| it.coastal != Some(false)));
}

#[test]
fn no_two_entries_are_of_one_place() {
    let all = all();
    for (n, it) in all.iter().enumerate() {
        for other in &all[..n] {
            assert_ne!(it.id, other.id);
            assert_ne!(it.station, other.station, "{} and {}", it.id, other.id);
            assert!(apart(it, other) > 1000.0, "{} and {}: {} m", it.id, other.id, apart(it, other));
            let named = |it: &Climate| (it.name_and_state(), it.measured_at.clone());
            assert_ne!(named(it), named(other), "{} and {}: nothing tells them apart", it.id, other.id);
        }
    }
}

#[test]
fn an_id_is_plain_and_ends_in_the_state_and_files_go_by_state() {
    let all = all();
    for it in &all {
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        assert!(it.id.chars().all(plain), "{}", it.id);
        let state = it.state.as_ref().unwrap().to_lowercase();
        assert!(it.id.strip_suffix(&*state).is_some_and(|town| town.ends_with('-')), "{}", it.id);
    }
    for pair in all.windows(2).filter(|pair| pair[0].location.file == pair[1].location.file) {
        assert!(pair[0].state <= pair[1].state, "{} after {}", pair[1].id, pair[0].id);
    }
}

#[test]
fn the_printed_lows_of_every_place_are_reproduced() {
    const ROUNDING: f64 = 0.22;
    let printed: Vec<Printed> = table(include_bytes!("data/printed-lows.csv"));
    let all = all();
    let ids = |ids: &mut dyn Iterator<Item = String>| ids.collect::<BTreeSet<_>>();
    let shipped = ids(&mut all.iter().map(|it| it.id.to_string()));
    assert_eq!(ids(&mut printed.iter().map(|it| it.id.clone())), shipped, "a place without its printed lows");
    for row in printed {
        let climate = all.iter().find(|it| *it.id == *row.id).unwrap();
        assert_eq!(&*climate.source, format!("{SOURCE}{}", row.edition), "{}", row.id);
        let lows = [(5.0, row.low_5), (10.0, row.low_10), (20.0, row.low_20), (50.0, row.low_50)];
        for (years, low) in lows {
            let found = climate.annual_low.unwrap().low(years).unwrap() - 273.15;
            assert!((found - low).abs() <= ROUNDING, "{}, {years} years: {found} for {low}", row.id);
        }
    }
}

/// An independent count of three typical years (`hourly/counts.csv`, made by a script from the files themselves) has the
/// coldest month of these places, its mean rounded to 0.01 K.
#[test]
fn coldest_months_match_the_typical_years() {
    let counts: Vec<std::collections::BTreeMap<String, String>> = table(include_bytes!("hourly/counts.csv"));
    for (series, id) in [
        ("epw-northway", "northway-ak"),
        ("epw-mount-shasta", "mount-shasta-ca"),
        ("epw-chicago", "chicago-il"),
    ] {
        let row = counts.iter().find(|it| it["series"] == series).unwrap();
        let climate = all().into_iter().find(|it| &*it.id == id).unwrap();
        assert_eq!(climate.coldest_month, Some(row["coldest_month"].parse().unwrap()), "{id}");
        let counted: f64 = row["coldest_month_mean_C"].parse().unwrap();
        let found = climate.coldest_month_mean.unwrap() - 273.15;
        // With the 2 °F that typical years are too cold; Chicago has its normal, 25.2 °F.
        let wanted = if id == "chicago-il" { -6.8 / 1.8 } else { counted + 2.0 / 1.8 };
        assert!((found - wanted).abs() <= 0.0051, "{id}: {found} for {wanted}");
    }
}

#[test]
fn an_entry_whose_month_is_no_month_is_told_where_it_stands() {
    let text =
        "source: Us\nplaces:\n  here:\n    name: Here\n    design_low: 0 °F\n    coldest_month: Janury\n";
    let mut problems = Diagnostics::new();
    let node = coldsill::input::yaml::parse("a.yaml", text).unwrap();
    assert!(read_library_file(&node, &mut problems).is_empty());
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(
        matches!(lines.as_slice(), [one] if one.starts_with("a.yaml, line 6, column 20: \"Janury\"") && one.contains("\"January\"")),
        "{lines:?}"
    );
}
