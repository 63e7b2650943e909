//! Climates fit their schema; documents that were tampered with do not.

use crate::common::{assert_schema_fits, parsed};
use coldsill::climate::{Climate, Filter, Library, Point};
use coldsill::diag::Location;
use coldsill::physics::moist_air::standard_pressure;
use coldsill::report::{ClimatesFound, climates_json, climates_schema};
use coldsill::shipped;
use coldsill::units::System;
use serde_json::{Value, json};
use std::sync::LazyLock;

static LIBRARY: LazyLock<&'static Library> = LazyLock::new(|| shipped::climates().expect("they are right"));
static ALL: LazyLock<Value> = LazyLock::new(|| listed(&LIBRARY, System::Us));
static NEAR: LazyLock<Value> = LazyLock::new(|| near("44.9, -93.2", Some(457.2)));

fn with_pressure(climate: &Climate) -> (&Climate, Option<f64>) {
    (climate, climate.elevation.and_then(|it| standard_pressure(it).ok()))
}

fn listed(library: &Library, system: System) -> Value {
    let climates = library.iter().map(|it| with_pressure(it)).collect();
    parsed(&climates_json(&ClimatesFound { climates, ..Default::default() }, system))
}

fn near(text: &str, elevation: Option<f64>) -> Value {
    let at = Location::whole("--near");
    let point = Point::parse(text, &at).expect("it is a point");
    let (near, unplaced) =
        LIBRARY.nearest(&point, &Filter::default(), elevation, 5, &at).expect("something is near");
    let climates = near.iter().map(|it| with_pressure(&it.climate)).collect();
    let found = ClimatesFound { climates, point: Some(&point), elevation, near: &near, unplaced };
    parsed(&climates_json(&found, System::Us))
}

#[track_caller]
fn assert_fits(found: &Value) {
    assert_schema_fits(&parsed(&climates_schema()), found);
}

#[track_caller]
fn assert_refused(of: &Value, tamper: impl FnOnce(&mut Value)) {
    let mut found = of.clone();
    tamper(&mut found);
    assert_ne!(found, *of, "nothing was changed");
    assert!(!jsonschema::is_valid(&parsed(&climates_schema()), &found));
}

#[test]
fn the_schema_is_itself_a_valid_json_schema_of_2020_12() {
    assert!(jsonschema::draft202012::meta::is_valid(&parsed(&climates_schema())));
}

#[test]
fn all_that_are_built_in_fit_the_schema() {
    assert_eq!(ALL["climates"].as_array().map(Vec::len), Some(LIBRARY.iter().count()));
    assert_fits(&ALL);
    assert_fits(&listed(&LIBRARY, System::Si));
}

#[test]
fn places_near_a_point_fit_the_schema_with_distances() {
    assert_fits(&NEAR);
    assert_fits(&near("44.9N 93.2W", None));
    assert_eq!(NEAR["climates"].as_array().map(Vec::len), Some(5));
    let first = &NEAR["climates"][0];
    let lies =
        first["elevation"]["value"].as_f64().unwrap() + first["point_higher_by"]["value"].as_f64().unwrap();
    // 1500 ft.
    assert!((lies - 457.2).abs() < 1e-3, "{first}");
}

#[test]
fn bare_place_fits_the_schema_with_nulls_not_zeros() {
    let text = "source: invented\nplaces:\n  bare: { name: Bare, heating_99: 0 °F }\n";
    let library = Library::read([("a.yaml", text.as_bytes())]).expect("it is right");
    let found = listed(&library, System::Us);
    assert_fits(&found);
    let it = &found["climates"][0];
    for key in [
        "state",
        "zone",
        "latitude",
        "elevation",
        "standard_pressure",
        "coastal",
        "design_low",
        "annual_low",
        "coldest_month",
    ] {
        assert!(it[key].is_null(), "{key}: {}", it[key]);
    }
    assert!(it["lows"][0]["once_in_years"].is_null(), "{it}");
}

/// A low of 20 deviations above the mean comes every winter, and one of 20 below it in none anybody could count.
#[test]
fn no_chance_is_0_or_1_and_how_often_is_said_in_words() {
    let text = "source: invented\nplaces:\n  here: { name: Here, heating_99: 10 °F, coldest_recorded: -50 °F, annual_low: { mean: -20 °F, deviation: 1.5 °F } }\n";
    let library = Library::read([("a.yaml", text.as_bytes())]).expect("it is right");
    let found = listed(&library, System::Us);
    assert_fits(&found);
    let lows = &found["climates"][0]["lows"];
    let of = |is: &str| {
        let it = lows.as_array().and_then(|all| all.iter().find(|it| it["is"] == is)).expect("it is there");
        (it["often"].clone(), it["chance_in_30_years"].clone())
    };
    assert_eq!(of("99 % value"), (json!("most winters"), json!(0.9999)));
    assert_eq!(of("20-year low").0, json!("once in 20 years"));
    assert_eq!(of("coldest recorded"), (json!("once in over 1000 years"), json!(0.0001)));
    assert_refused(&found, |it| it["climates"][0]["lows"][0]["chance_in_30_years"] = json!(1));
}

/// 1 m of elevation takes 12 Pa off 101 325 Pa at the sea: ASHRAE 2017, ch. 1, Table 1, has 95 461 Pa at 500 m.
#[test]
fn the_standard_pressure_is_that_of_the_elevation() {
    let text = "source: invented\nplaces:\n  high: { name: High, elevation: 500 m, design_low: 0 °F }\n";
    let library = Library::read([("a.yaml", text.as_bytes())]).expect("it is right");
    let pressure = listed(&library, System::Us)["climates"][0]["standard_pressure"]["value"].as_f64();
    assert!((pressure.unwrap() - 95_461.0).abs() < 1.0, "{pressure:?}");
}

#[test]
fn an_extra_key_at_the_top_or_of_a_place_is_refused() {
    assert_refused(&ALL, |it| it["best"] = json!("a"));
    assert_refused(&ALL, |it| it["climates"][0]["score"] = json!(1));
    assert_refused(&ALL, |it| it["climates"][0]["lows"][0]["score"] = json!(1));
}

#[test]
fn place_without_source_or_location_is_rejected() {
    for key in ["source", "at", "from", "lows"] {
        assert_refused(&ALL, |it| {
            it["climates"][0].as_object_mut().and_then(|it| it.remove(key));
        });
    }
}

#[test]
fn schema_rejects_wrong_units_chances_and_latitudes() {
    assert_refused(&ALL, |it| it["climates"][0]["design_low"]["unit"] = json!("°F"));
    assert_refused(&ALL, |it| it["climates"][0]["lows"][0]["chance_in_30_years"] = json!(1.5));
    assert_refused(&ALL, |it| it["climates"][0]["latitude"] = json!(93.2));
    assert_refused(&ALL, |it| it["climates"][0]["coastal"] = json!("no"));
}

#[test]
fn a_distance_goes_with_a_point_and_only_with_one() {
    assert_refused(&NEAR, |it| {
        it["climates"][0].as_object_mut().and_then(|it| it.remove("away"));
    });
    assert_refused(&NEAR, |it| it["near"] = Value::Null);
}
