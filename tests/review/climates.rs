//! The shipped climates.

use coldsill::shipped;
use std::collections::BTreeSet;

/// Published lows, °C, by return period in years: ASHRAE climatic design conditions as printed, edition beside the place.
/// Mean and deviation are printed to 0.1 K, which the factor of the deviation turns into at most 0.18 K at 50 years, and
/// the low itself to 0.05 K.
const PRINTED: &[(&str, u16, [f64; 4])] = &[
    ("minneapolis-mn", 2009, [-30.7, -32.9, -34.9, -37.6]),
    ("chicago-il", 2021, [-25.1, -27.3, -29.5, -32.3]),
    ("dallas-tx", 2009, [-11.6, -13.7, -15.7, -18.3]),
    ("fairbanks-ak", 2009, [-45.2, -47.1, -48.9, -51.2]),
    ("winnipeg-mb", 2009, [-37.2, -38.6, -39.9, -41.7]),
    ("boise-id", 2009, [-21.7, -25.3, -28.7, -33.2]),
    ("san-francisco-ca", 2009, [0.8, -0.1, -0.9, -1.9]),
    ("whitehorse-yt", 2017, [-43.6, -45.6, -47.5, -50.0]),
];
const ROUNDING: f64 = 0.22;

#[test]
fn printed_lows_are_reproduced_by_the_gumbel_formula() {
    let library = shipped::climates().unwrap();
    for (id, edition, lows) in PRINTED {
        let climate = library.iter().find(|it| &*it.id == *id).unwrap_or_else(|| panic!("{id}"));
        assert!(climate.source.ends_with(&format!("edition {edition}")), "{id}: {}", climate.source);
        for (years, low) in [5.0, 10.0, 20.0, 50.0].into_iter().zip(lows) {
            let found = climate.annual_low.unwrap().low(years).unwrap() - 273.15;
            assert!((found - low).abs() <= ROUNDING, "{id}, {years} years: {found} for {low}");
        }
    }
}

#[test]
fn zones_one_to_eight_are_there_with_at_least_a_dozen_places() {
    let library = shipped::climates().unwrap();
    assert!(library.iter().count() >= 12);
    let zones: BTreeSet<char> = library.iter().filter_map(|it| it.zone.as_ref()?.chars().next()).collect();
    assert_eq!(zones, ('1'..='8').collect());
}

#[test]
fn every_place_is_in_order_and_in_north_america() {
    for it in shipped::climates().unwrap().iter() {
        let (low, design) = (it.annual_low.unwrap(), it.design_low().unwrap());
        let (colder, cold) = (it.heating_996.unwrap(), it.heating_990.unwrap());
        assert!(colder <= cold, "{}: 99.6 % above 99 %", it.id);
        assert!(low.mean < colder, "{}: the mean annual low is above the 99.6 % value", it.id);
        assert!(design < low.mean, "{}: the 20-year low is above the mean", it.id);
        assert!((15.0..=75.0).contains(&it.latitude.unwrap()), "{}", it.id);
        assert!((-170.0..=-50.0).contains(&it.longitude.unwrap()), "{}", it.id);
        assert!((-100.0..=4000.0).contains(&it.elevation.unwrap()), "{}", it.id);
        assert!(
            it.state.as_ref().is_some_and(|state| it.id.ends_with(&format!("-{}", state.to_lowercase()))),
            "{}",
            it.id
        );
    }
}

#[test]
fn a_place_is_found_by_the_name_people_say() {
    let library = shipped::climates().unwrap();
    let at = coldsill::diag::Place::whole("--climate");
    for word in ["minneapolis-mn", "Minneapolis", "minneapolis, mn", "MINNEAPOLIS MN"] {
        assert_eq!(&*library.find(word, &at).unwrap().id, "minneapolis-mn", "{word}");
    }
    assert_eq!(
        library.find("minneapolos", &at).unwrap_err().to_string(),
        "--climate: \"minneapolos\" is not a climate that is built in; did you mean \"minneapolis-mn\"?"
    );
}
