//! Towns, postal areas, points and further stations: what a text means, and which station stands for a place.

use coldsill::climate::{Climate, DesignBy, Library};
use coldsill::diag::Location;
use coldsill::shipped;
use serde::Deserialize;
use std::sync::{Arc, LazyLock};

static SHIPPED: LazyLock<&'static Library> =
    LazyLock::new(|| shipped::climates().expect("the shipped climates are right"));

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases {
    #[serde(rename = "about")]
    _about: String,
    cases: Vec<Case>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    words: String,
    is: Option<String>,
    station: Option<String>,
    error: Option<String>,
}

fn find(words: &str) -> Result<Arc<Climate>, String> {
    SHIPPED.find(words, &Location::whole("here")).map_err(|error| error.to_string())
}

fn table<T: for<'de> Deserialize<'de>>(bytes: &[u8]) -> Vec<T> {
    let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(bytes);
    reader.deserialize().map(|row| row.expect("the test's table is right")).collect()
}

#[test]
fn every_text_means_the_place_in_the_table() {
    let file: Cases = serde_saphyr::from_str(include_str!("data/towns.yaml")).unwrap();
    for case in &file.cases {
        match (find(&case.words), &case.error) {
            (Ok(found), None) => {
                assert_eq!(Some(&*found.id), case.is.as_deref(), "{}", case.words);
                assert_eq!(found.station.as_deref(), case.station.as_deref(), "{}", case.words);
            }
            (Err(message), Some(error)) => {
                assert_eq!(message, format!("here: \"{}\" {error}", case.words));
            }
            (found, _) => panic!("{}: {:?}", case.words, found.map(|climate| climate.id.clone())),
        }
    }
}

/// The counts of the sources: 1,663 stations, 22,481 towns, 33,144 ZIP areas and 1,651 first halves of postal codes.
#[test]
fn every_line_of_the_tables_is_read() {
    assert_eq!(SHIPPED.atlas().counts(), [1663, 22_481, 33_144 + 1651]);
}

#[derive(Deserialize)]
struct Printed {
    station: String,
    low_20: f64,
}

#[test]
fn further_stations_are_in_order_and_match_printed_lows() {
    let printed: Vec<Printed> = table(include_bytes!("data/printed-lows-2013.csv"));
    assert_eq!(printed.len(), 1663);
    for row in printed {
        let station = find(&row.station).unwrap();
        // One of the numbers is also that of a built-in climate, of another edition and 31 km away.
        if station.location.file.as_ref() != "stations-2013.csv" {
            assert_eq!(&*station.id, "amarillo-tx");
            continue;
        }
        let low = station.low_by(DesignBy::Years(20.0)).unwrap() - 273.15;
        assert!((low - row.low_20).abs() <= 0.3, "{}: {low} for {}", row.station, row.low_20);
        let mean = station.annual_low.unwrap().mean;
        let [heating_996, heating_990] = [station.heating_996, station.heating_990].map(Option::unwrap);
        assert!(heating_996 <= heating_990 && mean < heating_996, "{}", row.station);
        assert!(station.coldest_month_mean.unwrap() > mean, "{}", row.station);
    }
}

#[derive(Deserialize)]
struct City {
    city: String,
    station: String,
    latitude: Option<f64>,
    longitude: Option<f64>,
    away: Option<f64>,
}

/// Great circles on a sphere lie within 0.6 % of geodesics; the station's own position is printed to 0.01°, some 1.1 km,
/// which both computations share.
#[test]
fn large_cities_have_the_station_of_a_second_implementation() {
    let cities: Vec<City> = table(include_bytes!("data/cities.csv"));
    assert_eq!(cities.len(), 190);
    for city in cities {
        let found = find(&city.city).unwrap();
        assert_eq!(found.station.as_deref(), Some(&*city.station), "{}", city.city);
        assert_eq!(found.borrowed.is_some(), city.away.is_some(), "{}", city.city);
        if let (Some(borrowed), Some(away)) = (&found.borrowed, city.away) {
            assert_eq!([found.latitude, found.longitude], [city.latitude, city.longitude], "{}", city.city);
            let near = borrowed.station.distance;
            assert!((near - away).abs() <= 0.006 * away + 1.0, "{}: {near} m for {away}", city.city);
        }
    }
}

/// Every 100th town, as the whole gazetteer takes a minute: it has a station, or the error names the
/// towns or places that the name may mean.
#[test]
fn a_town_has_a_station_or_an_error_says_why() {
    for name in SHIPPED.atlas().town_names().step_by(100) {
        match find(&name) {
            Ok(climate) => assert!(climate.annual_low.is_some(), "{name}"),
            Err(error) => {
                let says_why =
                    ["towns: ", "places: ", "no weather station"].iter().any(|why| error.contains(why));
                assert!(says_why, "{error}");
            }
        }
    }
}

#[test]
fn a_borrowed_low_has_a_wider_range_than_the_station_s_own() {
    let width = |words: &str| {
        let low = find(words).unwrap().low(DesignBy::Years(20.0), 240.0).within.unwrap();
        low[1] - low[0]
    };
    let (own, borrowed) = (width("726550"), width("St. Cloud, MN"));
    // At a station without uncertainty of its own the range would be 0.7791 × (3.9 + 3.2) K.
    assert!(borrowed > own && borrowed > 0.7791 * 7.1, "{borrowed} {own}");
}
