//! Which place a text means, and what is nearest to a point: the data files are the specification.

use coldsill::climate::{Climate, Filter, Library, Point, distance};
use coldsill::diag::Location;
use serde::Deserialize;
use std::sync::LazyLock;

static PLACES: LazyLock<Library> = LazyLock::new(|| {
    let file = include_bytes!("data/places.yaml");
    Library::read([("places.yaml", file.as_slice())]).unwrap_or_else(|problems| panic!("{problems:?}"))
});

#[derive(Deserialize)]
struct File<T> {
    /// What the file is about; read by people.
    #[serde(rename = "about")]
    _about: String,
    cases: Vec<T>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Finding {
    words: String,
    is: Option<String>,
    several: Option<Vec<String>>,
    #[serde(default)]
    none: Option<String>,
}

#[test]
fn every_text_means_the_place_that_the_table_says() {
    let file: File<Finding> = serde_saphyr::from_str(include_str!("data/finding.yaml")).unwrap();
    let mut wrong = Vec::new();
    for case in &file.cases {
        let found = PLACES.find(&case.words, &Location::whole("here"));
        let right = match (&found, &case.is, &case.several) {
            (Ok(climate), Some(id), None) => *climate.id == **id,
            (Err(problem), None, Some(ids)) => {
                let told: Vec<&str> =
                    problem.message.split(", ").filter_map(|it| it.split(" (").next()).collect();
                let ids_told: Vec<&str> = told
                    .iter()
                    .map(|it| it.rsplit(' ').next().unwrap_or(it))
                    .filter(|it| it.contains('-'))
                    .collect();
                problem.message.starts_with(&format!("is {} places: ", ids.len())) && ids_told == *ids
            }
            (Err(problem), None, None) => {
                problem.nearest.as_deref() == case.none.as_deref()
                    && problem.message == "is not a known town or climate"
            }
            _ => false,
        };
        if !right {
            wrong.push(format!(
                "{:?}: {:?}",
                case.words,
                found.map(|it| it.id.clone()).map_err(|it| it.to_string())
            ));
        }
    }
    assert!(file.cases.len() > 60, "{}", file.cases.len());
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

#[test]
fn several_matches_are_listed_with_state_and_station() {
    let problem = PLACES.find("Victoria", &Location::whole("--climate")).unwrap_err();
    assert_eq!(
        problem.to_string(),
        "--climate: \"Victoria\" is 3 places: victoria-bc (Victoria, BC, airport), victoria-gonzales-bc (Victoria, BC, \
         Gonzales), victoria-tx (Victoria, TX); expected one of their ids"
    );
}

/// Of a place that is built in, its id, and its name with its state, mean it or are told to mean several.
#[test]
fn every_built_in_place_is_found_by_id_and_name() {
    let library = coldsill::shipped::climates().unwrap();
    for it in library.iter() {
        let at = Location::whole("here");
        assert_eq!(library.find(&it.id, &at).unwrap().id, it.id);
        if let Some(station) = &it.station {
            assert_eq!(library.find(station, &at).unwrap().id, it.id);
        }
        match library.find(&it.name_and_state(), &at) {
            // Of several stations of a town the colder one is used.
            Ok(found) if found.id != it.id => {
                let low =
                    |climate: &Climate| climate.low_by(coldsill::climate::DesignBy::Years(20.0)).unwrap();
                assert!(found.state == it.state && low(&found) <= low(it), "{}: {}", it.id, found.id);
            }
            Ok(_) => {}
            Err(problem) => assert!(problem.message.contains(&*it.id), "{problem}"),
        }
    }
}

/// A slip of one finger gets the name; a name that is further off may be another town, and gets the way there too.
#[test]
fn unknown_town_gets_the_way_to_a_place_near_it() {
    let of = |words: &str| PLACES.find(words, &Location::whole("here")).unwrap_err();
    for words in ["springfield", "columbus", "Salmon"] {
        assert!(of(words).expected.is_some_and(|it| it.contains("ZIP or postal code")), "{words}");
    }
    for words in ["minneapolos", "Ft. Wane", "Monreal"] {
        let problem = of(words);
        assert!(problem.expected.is_none() && problem.nearest.is_some(), "{problem}");
    }
    let state = of("Kansas");
    assert_eq!(state.nearest, None);
    assert!(of("Minn.").expected.is_some_and(|it| it.contains("--state MN")));
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Distance {
    name: String,
    a: [f64; 2],
    b: [f64; 2],
    sphere: f64,
    ellipsoid: f64,
}

/// A sine near 1 has lost half its digits: two points nearly on opposite sides of the earth are off by up to 1.5e-8 of a
/// radius, 0.1 m. Elsewhere the reference's own last digit, 0.1 mm, is met.
#[test]
fn distances_match_an_independent_library() {
    let file: File<Distance> = serde_saphyr::from_str(include_str!("data/distances.yaml")).unwrap();
    for case in file.cases {
        let tolerance = if case.sphere > 1.9e7 { 0.2 } else { 0.001 };
        for found in [distance(case.a, case.b), distance(case.b, case.a)] {
            assert!((found - case.sphere).abs() < tolerance, "{}: {found} for {}", case.name, case.sphere);
            assert!((found - case.ellipsoid).abs() <= 0.006 * case.ellipsoid, "{}", case.name);
        }
    }
}

/// E. Williams, Aviation Formulary: Los Angeles (33°57'N 118°24'W) to New York (40°38'N 73°47'W) is 0.623585 radians,
/// from coordinates in radians to six places (from memory): 2e-6 radians, 13 m.
#[test]
fn the_distance_of_two_airports_is_the_published_one() {
    let at = Location::whole("here");
    let [a, b] = ["33°57'N 118°24'W", "40°38'N 73°47'W"].map(|it| Point::parse(it, &at).unwrap().position());
    assert!((distance(a, b) / 6_371_008.8 - 0.623_585).abs() < 2e-6, "{}", distance(a, b));
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    text: String,
    is: Option<[f64; 2]>,
    says: Option<String>,
}

#[test]
fn every_point_is_read_as_the_table_says() {
    let file: File<Written> = serde_saphyr::from_str(include_str!("data/points.yaml")).unwrap();
    let mut wrong = Vec::new();
    for case in file.cases {
        let found = Point::parse(&case.text, &Location::whole("--near"));
        let right = match (&found, case.is, &case.says) {
            (Ok(point), Some(wanted), None) => {
                point.position().iter().zip(wanted).all(|(is, wanted)| (is - wanted).abs() < 1e-6)
            }
            (Err(problem), None, Some(says)) => problem.message == *says,
            _ => false,
        };
        if !right {
            wrong.push(format!("{:?}: {found:?}", case.text));
        }
    }
    assert!(wrong.is_empty(), "\n{}", wrong.join("\n"));
}

fn library(places: &str) -> Library {
    let text = format!("source: invented\nplaces:\n{places}");
    Library::read([("a.yaml", text.as_bytes())]).unwrap_or_else(|problems| panic!("{problems:?}"))
}

fn nearest(
    library: &Library,
    text: &str,
    elevation: Option<f64>,
) -> Result<Vec<(String, Option<f64>)>, String> {
    let at = Location::whole("--near");
    let point = Point::parse(text, &at).expect("it is a point");
    let found = library.nearest(&point, &Filter::default(), elevation, 2, &at);
    found
        .map(|(near, _)| near.iter().map(|it| (it.climate.id.to_string(), it.higher)).collect())
        .map_err(|it| it.to_string())
}

const THREE: &str = "  east: { name: East, latitude: 45, longitude: -90, elevation: 100 m, design_low: 0 °F }
  west: { name: West, latitude: 45, longitude: -94, elevation: 400 m, design_low: 0 °F }
  far: { name: Far, latitude: 60, longitude: -150, design_low: 0 °F }
  nowhere: { name: Nowhere, design_low: 0 °F }
";

#[test]
fn the_nearest_come_first_with_how_much_higher_the_point_lies() {
    let found = nearest(&library(THREE), "45, -93", Some(350.0)).unwrap();
    assert_eq!(found, [("west".into(), Some(-50.0)), ("east".into(), Some(250.0))]);
    let found = nearest(&library(THREE), "45, -91", None).unwrap();
    assert_eq!(found, [("east".into(), None), ("west".into(), None)]);
}

#[test]
fn wrong_sign_or_order_is_suggested_unless_lettered() {
    let library = library(THREE);
    for text in ["45, 93", "-93, 45", "93, 45", "45, 267", "45N 267E", "-45, 93"] {
        let problem = nearest(&library, text, None).unwrap_err();
        assert!(problem.ends_with("; did you mean \"45, -93\"?"), "{problem}");
    }
    assert!(nearest(&library, "45N 93E", None).is_ok());
    assert!(nearest(&library, "45S 93E", None).is_ok());
    // Far from every place, and no slip brings it near one.
    assert!(nearest(&library, "-33.9, 18.4", None).is_ok());
    assert_eq!(
        nearest(&library, "95, -93", None).unwrap_err(),
        "--near: \"95, -93\" is not a point on Earth; expected a latitude of -90 to 90 and a longitude of -180 to 180"
    );
}

/// 30 mi is 48.28 km; a degree of latitude on this sphere is 111.195 km, so that 0.43° are 47.8 km and 0.44° 48.9 km. 500 ft
/// are 152.4 m; 3.5 °F per 1000 ft over 200 m (656.2 ft) are 2.297 °F, 1.276 K.
#[test]
fn beyond_thirty_miles_or_five_hundred_feet_a_place_says_little() {
    let library = library(THREE);
    let at = Location::whole("--near");
    let of = |text: &str, elevation| {
        let point = Point::parse(text, &at).unwrap();
        library.nearest(&point, &Filter::default(), Some(elevation), 1, &at).unwrap().0.remove(0)
    };
    assert!(!of("45.43, -94", 400.0).is_far() && of("45.44, -94", 400.0).is_far());
    assert!(!of("45, -94", 552.0).differs_in_elevation() && of("45, -94", 553.0).differs_in_elevation());
    assert!(!of("45, -94", 248.0).differs_in_elevation() && of("45, -94", 247.0).differs_in_elevation());
    assert!((of("45, -94", 600.0).colder_by().unwrap() - 1.276).abs() < 0.001);
}

fn ids<'l>(library: &'l Library, wanted: Filter<'_>) -> Vec<&'l str> {
    let found = library.list(&wanted).unwrap_or_else(|problem| panic!("{problem}"));
    found.into_iter().map(|it: &std::sync::Arc<Climate>| &*it.id).collect()
}

#[test]
fn list_is_by_country_state_and_name() {
    let all = ids(&PLACES, Filter::default());
    assert_eq!(all.len(), PLACES.iter().count());
    // Canada before the United States; British Columbia first of those here, the District of Columbia first of these.
    assert_eq!(all[..3], ["victoria-bc", "victoria-gonzales-bc", "saint-john-nb"]);
    assert_eq!(all[7..9], ["washington-dc", "lihue-hi"]);
    assert_eq!(all.last(), Some(&"garmisch"));
}

#[test]
fn words_states_and_zones_may_be_looked_for_together() {
    let words = |words| Filter { words: Some(words), ..Filter::default() };
    assert_eq!(ids(&PLACES, words("st marie")), ["sault-ste-marie-on", "sault-ste-marie-mi"]);
    assert_eq!(ids(&PLACES, words("gonzal")), ["victoria-gonzales-bc"]);
    assert_eq!(ids(&PLACES, words("quebec")), ["montreal-qc", "quebec-qc"]);
    let both = Filter { words: Some("vict"), state: Some("b.c."), zone: None };
    assert_eq!(ids(&PLACES, both), ["victoria-bc", "victoria-gonzales-bc"]);
    let zoned = library(
        "  a: { name: A, zone: 6A, design_low: 0 °F }\n  b: { name: B, zone: 6B, design_low: 0 °F }\n  c: { name: C, zone: 7, design_low: 0 °F }\n",
    );
    let zone = |zone| Filter { zone: Some(zone), ..Filter::default() };
    assert_eq!((ids(&zoned, zone("6")), ids(&zoned, zone("6a"))), (vec!["a", "b"], vec!["a"]));
    assert_eq!(
        zoned.list(&zone("6C")).unwrap_err().to_string(),
        "--zone: \"6C\" is the zone of no place in the list; expected one of 6A, 6B, 7"
    );
}
