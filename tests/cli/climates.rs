//! `coldsill climates`: the list, one place whole, those near a point; and climates of one's own wherever one is taken.

use crate::cli::common::{Folder, NOTHING_TO_ASK, Ran, run, unwrapped};
use insta::assert_snapshot;

const OURS: &str = "tests/cli/data/climates";

/// With our own climates, so that what is built in may grow.
#[track_caller]
fn page(arguments: &[&str]) -> String {
    let folder = Folder::new();
    let root = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/cli/data/climates");
    let ran = folder.run_with(&[&["climates", "--climates", root], arguments].concat());
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
    assert!(ran.out.lines().all(|it| it.chars().count() <= 80), "{}", ran.out);
    // Where the tests lie is nobody's business but this machine's.
    ran.out.replace(root, OURS)
}

#[test]
fn one_place_in_full() {
    assert_snapshot!(run(&format!("climates cedar-hollow-mn --climates {OURS}")).out);
}

#[test]
fn one_place_with_few_figures_in_si_units() {
    assert_snapshot!(run(&format!("climates high-post-mt --units si --climates {OURS}")).out);
}

#[test]
fn a_list_with_places_of_ones_own_marked() {
    assert_snapshot!(page(&["--find", "cedar hollow"]));
}

#[test]
fn the_places_near_a_point_with_heights() {
    assert_snapshot!(page(&["--near", "45.0, -93.5", "--find", "cedar", "--elevation", "1,500 ft"]));
}

#[test]
fn a_point_far_from_every_place() {
    assert_snapshot!(page(&["--near", "48N 104W", "--find", "post", "--units", "si"]));
}

#[test]
fn every_place_fits_the_page_and_is_named_with_its_job_line() {
    for climate in coldsill::shipped::climates().expect("they are right").iter() {
        let text = coldsill::report::climate_card(climate, None, None);
        assert!(text.lines().all(|it| it.chars().count() <= 80), "{text}");
        assert!(text.contains(&format!("climate: {}", climate.id)), "{text}");
    }
}

/// What stands before each "°F" of a page.
fn degrees(page: &str) -> Vec<f64> {
    let words: Vec<&str> = page.split_whitespace().collect();
    words.windows(2).filter(|it| it[1].starts_with("°F")).filter_map(|it| it[0].parse().ok()).collect()
}

#[test]
fn no_low_of_a_list_looks_warmer_than_it_is() {
    for climate in coldsill::shipped::climates().expect("they are right").iter() {
        let line = coldsill::report::climates(&[climate], coldsill::units::System::Us);
        let lows: Vec<f64> = [climate.design_low(), climate.heating_996].into_iter().flatten().collect();
        let shown = degrees(&line);
        assert_eq!(shown.len(), lows.len(), "{line}");
        for (shown, kelvin) in shown.into_iter().zip(lows) {
            let is = kelvin * 1.8 - 459.67;
            // What the conversion of a whole degree leaves is no colder degree.
            assert!(shown <= is + 1e-5 && shown > is - 1.0, "{is}: {line}");
        }
    }
}

/// -20.2 °C is -4.36 °F and -15.4 °C is 4.28 °F. By the frequency factor 1.865799 the 20-year low of -20 °F and 6 °F is
/// -31.1948 °F, -35.1082 °C.
#[test]
fn lows_are_the_same_whole_degrees_on_every_page() {
    let own = "places:\n  ridge-mn: { name: Ridge, state: MN, heating_99.6: -20.2 °C, heating_99: -15.4 °C, annual_low: { mean: -20 °F, deviation: 6 °F } }\n";
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", own);
    let review = unwrapped(&folder.run("review --detail s.csv --climate ridge-mn --climates own.yaml").out);
    assert!(review.contains("design low -32 °F (20-year low); 99.6 % -5 °F and 99 % 4 °F"), "{review}");
    let list = folder.run("climates --find ridge-mn --climates own.yaml").out;
    assert!(unwrapped(&list).contains("-32 °F -5 °F"), "{list}");
    let card = folder.run("climates ridge-mn --climates own.yaml").out;
    let row = |name: &str| card.lines().find(|it| it.starts_with(name)).map(unwrapped).unwrap_or_default();
    assert!(row("99 % value").starts_with("99 % value 4 °F (-16 °C) "), "{card}");
    assert!(row("99.6 % value").starts_with("99.6 % value -5 °F (-21 °C) "), "{card}");
    assert!(row("20-year low").starts_with("20-year low -32 °F (-36 °C) "), "{card}");
}

#[test]
fn a_latitude_and_a_longitude_may_stand_as_two_words() {
    let of = |words: &[&str]| page(&[&["--find", "cedar", "--near"], words].concat());
    let table = |text: &str| text.split_once('\n').map(|(_, rest)| rest.to_owned());
    let one = table(&of(&["45.0,-93.5"]));
    assert!(one.is_some());
    for words in [&["45.0", "-93.5"][..], &["45.0N", "93.5W"], &["45°0'N 93°30'W"]] {
        assert_eq!(table(&of(words)), one, "{words:?}");
    }
}

/// 0.2° of latitude are 0.2·π/180·6371.0088 km = 22.24 km, 13.8 mi; 0.3° are 33.36 km, 20.7 mi. 1500 ft stand 600 ft above
/// 900 ft: 600·3.5/1000 = 2.1 °F.
#[test]
fn distances_and_heights_stand_beside_each_place() {
    let text = page(&["--near", "45.0, -93.5", "--find", "cedar hollow", "--elevation", "1,500 ft"]);
    let line = |id: &str| text.lines().find(|it| it.starts_with(id)).map(unwrapped).unwrap_or_default();
    assert!(line("cedar-hollow-mn ").contains(" 14 mi 600 ft lower"), "{text}");
    assert!(line("cedar-hollow-north-mn ").contains(" 21 mi level "), "{text}");
    assert!(unwrapped(&text).contains("here colder by about 2 °F"), "{text}");
}

#[test]
fn invalid_options_are_reported() {
    let of = |arguments: &[&str]| -> Ran { Folder::new().run_with(&[&["climates"], arguments].concat()) };
    for (arguments, line) in [
        (
            &["minneapolos"][..],
            "climates: \"minneapolos\" is not a known town or climate; did you mean \"minneapolis-mn\"?",
        ),
        (
            &["Washington"],
            "climates: \"Washington\" is not a known town or climate; expected a place; `coldsill climates --state WA` lists those of Washington",
        ),
        (
            &["springfield"],
            "climates: \"springfield\" is 21 towns: Springfield, MO; Springfield, MA; Springfield, IL; Springfield, OR; Springfield, OH; Springfield, VA; Springfield, PA; Springfield, TN; and 13 more; expected one of them, with its state",
        ),
        (&["--find", "atlantis"], "--find: \"atlantis\" matches no place in the list"),
        (
            &["--state", "Minesota"],
            "--state: \"Minesota\" is not a state or province; did you mean \"Minnesota\"?",
        ),
        (
            &["--state", "Guam"],
            "--state: \"Guam\" is Guam, which has no place in the list; expected another state, or --near LAT,LON for the nearest place",
        ),
        (
            &["--near", "44.9, 93.2"],
            "--near: \"44.9, 93.2\" has an eastern longitude, far from every place; west is negative or has a W; did you mean \"44.9, -93.2\"?",
        ),
        (
            &["--near", "44.9, 266.8"],
            "--near: \"44.9, 266.8\" has a longitude counted east to 360; west is negative or has a W; did you mean \"44.9, -93.2\"?",
        ),
        (
            &["--near", "-44.9 93.2"],
            "--near: \"-44.9 93.2\" is south and east, far from every place; with letters, such as 44.9S 93.2E, it is accepted; did you mean \"44.9, -93.2\"?",
        ),
        (
            &["--near", "-93.2, 44.9"],
            "--near: \"-93.2, 44.9\" has its longitude first; did you mean \"44.9, -93.2\"?",
        ),
        (
            &["--near", "Duluth"],
            "--near: \"Duluth\" is not a latitude and longitude; expected a latitude and a longitude such as \"44.9, -93.2\" or \"44.9N 93.2W\"",
        ),
        (
            &["--near", "44.9, -93.2", "--elevation", "1200"],
            "--elevation: \"1200\" has no unit; expected a height such as \"1,200 ft\" or \"370 m\"",
        ),
        (
            &["--near", "44.9, -93.2", "--elevation", "30,000 ft"],
            "--elevation: \"30,000 ft\" is out of range for an elevation; expected -1476 ft to 19685 ft",
        ),
    ] {
        of(arguments).is_refused(&[line]);
    }
    of(&["--elevation", "900 ft"]).is_refused(&[
        "--elevation: \"900 ft\" needs a point to compare places with; expected --near LAT,LON",
    ]);
    of(&["duluth-mn", "--zone", "7"]).is_refused(&[
        "climates: \"duluth-mn\" is one place; --find, --state and --zone list several; expected one or the other",
    ]);
}

const OWN: &str = "places:\n  cedar-hollow-mn: { name: Cedar Hollow, state: MN, design_low: -33 °F, annual_low: { mean: -20 °F, deviation: 6 °F } }\n  honolulu-hi: { name: Our own roof, state: HI, design_low: 50 °F }\n";

/// What a review says of its climate.
fn climate(ran: &Ran) -> serde_json::Value {
    assert_eq!(ran.err, "");
    ran.json()["climate"].clone()
}

#[test]
fn own_climates_work_from_a_file_or_a_folder_everywhere() {
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", OWN);
    std::fs::create_dir(folder.path().join("more")).unwrap();
    let folder = folder.with("more/own.yaml", OWN);
    for path in ["own.yaml", "more", "more/"] {
        let ran =
            folder.run(&format!("review s.csv --climate cedar-hollow-mn --climates {path} --format json"));
        let it = climate(&ran);
        assert_eq!(
            (&it["id"], &it["from"], &it["source"]),
            (&"cedar-hollow-mn".into(), &"yours".into(), &"stated in own.yaml".into())
        );
        assert_eq!(it["at"]["line"], 2, "{it}");
    }
    let given = "--climate cedar-hollow-mn --climates own.yaml";
    let mark = NOTHING_TO_ASK.lines().nth(1).and_then(|it| it.split(',').next()).unwrap();
    for command in [
        format!("sheet s.csv --mark {mark} {given}"),
        format!("cold-spell s.csv {given}"),
        format!("walls rim-joist-batt {given}"),
        "climates cedar-hollow-mn --climates own.yaml".into(),
    ] {
        let ran = folder.run(&command);
        assert!(ran.code < 2 && ran.out.contains("Cedar Hollow"), "{command}: {}{}", ran.out, ran.err);
    }
}

#[test]
fn job_brings_own_climates_and_ids_must_be_unique() {
    let job = "climate: Cedar Hollow, Minnesota\nclimates: own.yaml\nschedule: s.csv\n";
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", OWN).with("job.yaml", job);
    let it = climate(&folder.run("review job.yaml --format json"));
    assert_eq!((&it["id"], &it["from"]), (&"cedar-hollow-mn".into(), &"yours".into()));
    // The very same file again says the same of every place, and is no problem.
    assert!(folder.run("review --detail job.yaml --climates own.yaml").code < 2);
    let other = "places:\n  cedar-hollow-mn: { name: Cedar Hollow, design_low: -44 °F }\n";
    let ran = folder.with("other.yaml", other).run("review --detail job.yaml --climates other.yaml");
    ran.is_refused(&["own.yaml, line 2, column 20: \"cedar-hollow-mn\" is the id of another place; expected a unique id: a place in other.yaml has this one"]);
}

#[test]
fn own_climate_replacing_a_built_in_one_is_reported() {
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", OWN);
    let told = "the built-in climate of that id is not used: your own takes its place";
    let ran = folder.run("review --detail s.csv --climate honolulu-hi --climates own.yaml");
    assert!(unwrapped(&ran.out).contains(told), "{}", ran.out);
    let of = |arguments: &str| {
        climate(&folder.run(&format!("review s.csv --format json {arguments}")))["from"].clone()
    };
    assert_eq!(of("--climate honolulu-hi --climates own.yaml"), "yours, in place of the one built in");
    assert_eq!(of("--climate honolulu-hi"), "built in");
    let other = folder.run("review --detail s.csv --climate cedar-hollow-mn --climates own.yaml");
    assert!(!unwrapped(&other.out).contains(told), "{}", other.out);
    let list = folder.run("climates --state HI --climates own.yaml");
    assert!(unwrapped(&list.out).contains("(yours, in place of"), "{}", list.out);
    assert!(!list.out.contains("honolulu-hi  Honolulu, HI  "), "{}", list.out);
}

#[test]
fn climate_described_in_a_job_may_use_every_key() {
    let job = "schedule: s.csv\nclimate:\n  name: High post\n  state: MT\n  measured_at: our mast\n  station: 990011\n  zone: 7\n  \
        latitude: 47.5\n  longitude: -110\n  elevation: 4300 ft\n  coastal: no\n  heating_99.6: -16 °F\n  heating_99: -10 °F\n  \
        annual_low: { mean: -33 °F, deviation: 7 °F, winters: 12 }\n  coldest_recorded: -51 °F\n  coldest_month: January\n  \
        coldest_month_mean: 12 °F\n  design_low: -50 °F\n  source: Our log\n  edition: 2025\n";
    let folder = Folder::of(NOTHING_TO_ASK).with("job.yaml", job);
    let it = climate(&folder.run("review job.yaml --format json"));
    assert_eq!(it["from"], "described in the job");
    assert_eq!((&it["at"]["file"], &it["at"]["line"]), (&"job.yaml".into(), &3.into()));
    assert_eq!(it["source"], "Our log, edition 2025");
    assert_eq!(
        (&it["annual_low"]["winters"], &it["annual_low"]["winters_stated"]),
        (&12.into(), &true.into())
    );
    // -51 °F is (-51 + 459.67)/1.8 = 227.039 K; -50 °F is 227.594 K.
    assert_eq!(
        (&it["coldest_recorded"]["value"], &it["design_low"]["value"]),
        (&227.0389.into(), &227.5944.into())
    );
}

#[test]
fn files_of_climates_that_cannot_be_read_are_told() {
    let folder = Folder::of(NOTHING_TO_ASK).with("s.txt", "x");
    std::fs::create_dir(folder.path().join("empty")).unwrap();
    let of = |path: &str| folder.run(&format!("climates --climates {path}"));
    of("empty").is_refused(&["empty: has no climate files; expected a folder of files of places (.yaml)"]);
    of("gone").is_refused(&["gone: there is no such file"]);
    let ran = folder.run("walls rim-joist-batt --climates own.yaml");
    assert_eq!(ran.code, 2);
}

#[test]
fn error_in_an_own_file_is_located_and_the_only_one() {
    let own = OWN.replace("-33 °F", "-33");
    let job = "climate: cedar-hollow-mn\nclimates: [own.yaml]\nschedule: s.csv\n";
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", own).with("job.yaml", job);
    let wanted =
        "own.yaml, line 2, column 65: \"-33\" has no unit; expected a temperature such as -5 °F or -20 °C";
    let ran = folder.run("review --detail job.yaml");
    ran.is_refused(&[wanted]);
    assert!(ran.err.contains("    source line: "), "{}", ran.err);
}

const BAD_LINE: &str =
    "own.yaml, line 2, column 65: \"-33\" has no unit; expected a temperature such as -5 °F or -20 °C";

#[test]
fn own_place_with_errors_is_skipped_with_a_warning() {
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", OWN.replace("-33 °F", "-33"));
    let list = folder.run("climates --state HI --climates own.yaml");
    assert_eq!((list.code, list.problems()), (1, vec![BAD_LINE]));
    assert!(list.out.contains("Our own roof") && list.err.contains("    source line: "), "{}", list.err);
    let whole = folder.run("review --detail s.csv --climate phoenix-az");
    assert_eq!((whole.code, whole.err.as_str()), (0, ""));
    let ran = folder.run("review --detail s.csv --climate phoenix-az --climates own.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(unwrapped(&ran.out).contains(BAD_LINE), "{}", ran.out);
    let ran = folder.run("review s.csv --climate phoenix-az --climates own.yaml --format json");
    assert_eq!(ran.json()["problems"][0]["at"]["line"], 2, "{}", ran.out);
    let drawn = folder.run("walls rim-joist-batt --climate phoenix-az --climates own.yaml");
    assert_eq!((drawn.code, drawn.problems()), (0, vec![BAD_LINE]));
}

#[test]
fn own_place_with_errors_is_an_error_if_asked_for() {
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", OWN.replace("-33 °F", "-33"));
    let told = |at: &str| {
        format!(
            "{at}: \"Cedar-Hollow-MN\" is a place of yours that has errors; expected its errors in own.yaml corrected"
        )
    };
    let of = |command: &str| folder.run(&format!("{command} --climates own.yaml"));
    of("climates Cedar-Hollow-MN").is_refused(&[&told("climates"), BAD_LINE]);
    let at = told("--climate");
    of("review --detail s.csv --climate Cedar-Hollow-MN").is_refused(&[&at, BAD_LINE]);
    of("walls rim-joist-batt --climate Cedar-Hollow-MN").is_refused(&[&at, BAD_LINE]);
}

/// What is wrong with the file itself may hide any of its places.
#[test]
fn a_file_of_climates_with_a_problem_of_its_own_is_refused() {
    let folder = Folder::new().with("own.yaml", format!("sauce: ours\n{OWN}"));
    let ran = folder.run("climates --state HI --climates own.yaml");
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with("own.yaml, line 1, column 1: "), "{}", ran.err);
}

#[test]
fn card_of_an_own_climate_shows_its_job_lines_and_source() {
    let job = |climates: &str| format!("climate: stated-mn\n{climates}schedule: s.csv\n");
    let own = "places:\n  stated-mn: { name: Stated, state: MN, design_low: -30 °C }\n";
    let folder = Folder::of(NOTHING_TO_ASK).with("own.yaml", own);
    let folder = folder.with("alone.yaml", job("")).with("beside.yaml", job("climates: own.yaml\n"));
    let card = folder.run("climates stated-mn --climates own.yaml").out;
    assert!(card.contains("climate: stated-mn") && card.contains("climates: own.yaml"), "{card}");
    assert!(card.contains("--climates own.yaml"), "{card}");
    // As the card says it works; the line of the climate alone does not.
    assert_eq!(folder.run("review --detail alone.yaml").code, 2);
    assert!(folder.run("review --detail beside.yaml").code < 2);
    // -30 °C is -22 °F.
    let row = card.lines().find(|it| it.starts_with("stated in own.yaml")).map(unwrapped);
    assert_eq!(row.as_deref(), Some("stated in own.yaml -22 °F (-30 °C) - -"), "{card}");
    for command in ["climates stated-mn", "review --detail s.csv --climate stated-mn"] {
        let json = folder.run(&format!("{command} --climates own.yaml --format json")).json();
        let it = if command.starts_with("review") { &json["climate"] } else { &json["climates"][0] };
        assert_eq!(it["design_low_is"], "stated in own.yaml");
    }
}

#[test]
fn how_often_has_a_heading_that_fits_every_row() {
    let card = run(&format!("climates cedar-hollow-mn --climates {OURS}")).out;
    let row = |name: &str| card.lines().find(|it| it.starts_with(name)).map(unwrapped).unwrap_or_default();
    assert!(row("Low ").contains(" How often "), "{card}");
    assert!(
        row("99 % value").contains(" most winters ") && row("20-year low").contains(" once in 20 years "),
        "{card}"
    );
}

#[test]
fn a_wall_of_a_job_is_drawn_at_a_climate_of_that_job() {
    let job = "climate: cedar-hollow-mn\nclimates: own.yaml\nschedule: s.csv\n";
    let folder = Folder::new();
    std::fs::create_dir(folder.path().join("deep")).unwrap();
    let folder = folder.with("deep/own.yaml", OWN).with("deep/job.yaml", job);
    let ran = folder.run("walls rim-joist-batt --job deep/job.yaml --climate cedar-hollow-mn");
    assert!(ran.code == 0 && ran.out.contains("Cedar Hollow"), "{}{}", ran.out, ran.err);
    assert_eq!(folder.run("walls rim-joist-batt --climate cedar-hollow-mn").code, 2);
}

#[test]
fn the_schema_of_the_climates_is_the_one_that_is_shipped() {
    assert_eq!(run("schema climates").out, coldsill::report::climates_schema());
}
