//! Outlets through a cold spell: the pages as people see them, exit status, and what the numbers must hold to.

use crate::cli::common::{Folder, NOTHING_TO_ASK, Ran, WARM, run, unwrapped};
use insta::assert_snapshot;
use serde_json::Value;

const WIDTH: usize = 80;

#[track_caller]
fn fits(text: &str) {
    for line in text.lines() {
        assert!(line.chars().count() <= WIDTH, "{} columns: {line}", line.chars().count());
        assert!(!line.contains(['\x1b', '\t']), "{line:?}");
    }
}

/// A stainless outlet beside a heated room, and a bare one that closes at the face; a third that lacks its wall.
const THREE: &str = "Mark,Qty,Location,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop\n\
    A,2,North,Wall hydrant,Inside,12 in,Stainless,2x6-siding,Heated room,Copper,none,Yes\n\
    B,3,South,Hose bibb,Face,,Brass,2x6-siding,Heated room,PEX,none,Yes\n\
    C,,West,Sillcock,Inside,,Brass,2x6-siding,Heated room,PEX,none,No\n";

fn three(arguments: &[&str]) -> Ran {
    let all: Vec<&str> = ["cold-spell", "s.csv"].iter().chain(arguments).copied().collect();
    Folder::of(THREE).run_with(&all)
}

fn three_json(arguments: &[&str]) -> Value {
    three(&[arguments, &["--format", "json"]].concat()).json()
}

/// A figure of each hour of one outlet.
fn hourly(spell: &Value, key: &str) -> Vec<f64> {
    let hours = spell["outlets"][0]["hourly"].as_array().expect("a mark has hours");
    hours.iter().map(|it| it[key].as_f64().expect("a number")).collect()
}

#[test]
fn the_page_of_one_outlet() {
    let ran = run("cold-spell examples/live-oak/schedule.csv --climate dallas-tx --mark WH-1");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    fits(&ran.out);
    assert_snapshot!(ran.out);
}

#[test]
fn the_order_of_a_job() {
    let ran = run("cold-spell examples/kestrel-ridge/job.yaml");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    fits(&ran.out);
    assert_snapshot!(ran.out);
}

#[test]
fn the_first_hours_as_csv() {
    let ran = run("cold-spell examples/live-oak/schedule.csv --climate dallas-tx --mark WH-1 --format csv");
    let head: Vec<&str> = ran.out.lines().take(18).collect();
    assert_snapshot!(head.join("\n"));
}

#[test]
fn pages_in_si_units_and_of_other_spells_fit_as_well() {
    for arguments in [
        &["--climate", "duluth-mn", "--units", "si"][..],
        &["--climate", "duluth-mn", "--mark", "B", "--units", "si", "--heat-out", "12 h"],
        &["--climate", "duluth-mn", "--mark", "A", "--outdoors", "-20 °F for 50 days"],
        &["--climate", "duluth-mn", "--mark", "C", "--state", "hose-on"],
    ] {
        let ran = three(arguments);
        assert_eq!((ran.code != 2, ran.err.as_str()), (true, ""), "{arguments:?}");
        fits(&ran.out);
    }
}

#[test]
fn a_schedule_that_nothing_happens_to_exits_with_0_and_says_that_no_ice_forms() {
    let folder = Folder::of(NOTHING_TO_ASK);
    let all = folder.run(&format!("cold-spell s.csv --climate {WARM}"));
    assert_eq!((all.code, all.err.as_str()), (0, ""));
    let one = folder.run(&format!("cold-spell s.csv --climate {WARM} --mark hb-1"));
    assert_eq!(one.code, 0);
    assert!(one.out.contains("\nNo ice forms in it.\n"), "{}", one.out);
    assert!(one.out.contains("Coldest the seat gets"), "{}", one.out);
}

#[test]
fn an_outlet_that_cannot_be_followed_is_listed_with_what_is_missing_and_is_no_pass() {
    let ran = three(&["--climate", WARM]);
    assert_eq!(ran.code, 1);
    let text = unwrapped(&ran.out);
    assert!(text.contains("Cannot be computed: treat as at risk until the facts are known"), "{text}");
    assert!(text.contains("4 C not stated West unknown: nominal length"), "{text}");
    let spell = three_json(&["--climate", WARM]);
    let last = &spell["outlets"][2];
    assert_eq!((&last["mark"], &last["at_risk"]), (&"C".into(), &true.into()));
    assert_eq!(last["not_known"], "unknown: nominal length");
}

#[test]
fn a_list_without_walls_is_ranked_over_common_walls_and_says_so() {
    let list = "Mark,Kind,Nominal length\nA,hose bibb,\nB,frostproof sillcock,8 in\n";
    let text = unwrapped(&Folder::of(list).run("cold-spell s.csv --climate duluth-mn").out);
    assert!(text.contains("2 of 2 rows: ice blocks or may block 2; 0 cannot be computed"), "{text}");
    assert!(text.contains("B (row 3): not stated, so the worst case is assumed: wall "), "{text}");
}

#[test]
fn the_first_to_be_blocked_comes_first_in_every_form() {
    let of_json = three_json(&["--climate", "duluth-mn"]);
    let marks: Vec<&str> =
        of_json["outlets"].as_array().unwrap().iter().filter_map(|it| it["mark"].as_str()).collect();
    assert_eq!(marks, ["B", "A", "C"]);
    let csv = three(&["--climate", "duluth-mn", "--format", "csv"]).out;
    let lines: Vec<&str> = csv.lines().skip(1).collect();
    assert!(lines[0].starts_with("1,3,B,3,South,yes,"), "{csv}");
    assert!(lines[1].starts_with("2,2,A,2,North,no,,,,,,,"), "{csv}");
    assert_eq!(lines[2], ",4,C,,West,yes,,,,,,,,,,unknown: nominal length");
    let text = unwrapped(&three(&["--climate", "duluth-mn"]).out);
    assert!(
        text.contains("In this order, look for one: B (row 3).")
            || text.contains("drain the line: B (row 3)."),
        "{text}"
    );
}

#[test]
fn rows_of_one_mark_that_are_alike_are_one_line_with_all_their_places() {
    let twice = THREE
        .replace("C,,West,Sillcock,Inside", "B,4,East,Hose bibb,Face")
        .replace("PEX,none,No", "PEX,none,Yes");
    let spell = Folder::of(&twice).run("cold-spell s.csv --climate duluth-mn --format json").json();
    let outlets = spell["outlets"].as_array().unwrap();
    assert_eq!(outlets.len(), 2);
    assert_eq!(outlets[0]["quantity"], 7);
    assert_eq!(outlets[0]["locations"], serde_json::json!(["South", "East"]));
    assert_eq!(outlets[0]["at"][1]["row"], 4);
}

#[test]
fn a_place_is_named_as_a_place_in_every_form() {
    let folder = Folder::of(THREE).with("job.yaml", "climate: duluth-mn\nschedule: s.csv\nplaces: p.csv\n");
    let folder = folder.with("p.csv", "Mark,Where,Count\nB,South,2\nB,East,1\n");
    let spell = folder.run("cold-spell job.yaml --format json").json();
    let at = |of: usize| spell["outlets"][of]["at"].clone();
    assert_eq!(
        at(0),
        serde_json::json!([{ "file": "p.csv", "row": 2 }, { "file": "p.csv", "row": 3 }]),
        "{spell}"
    );
    assert_eq!(at(1), serde_json::json!([{ "file": "s.csv", "row": 2 }]));
    let text = unwrapped(&folder.run("cold-spell job.yaml").out);
    assert!(text.contains("drain the line: B (place rows 2 and 3)."), "{text}");
    let csv = folder.run("cold-spell job.yaml --format csv").out;
    assert!(csv.lines().nth(1).is_some_and(|it| it.starts_with("1,place row 2; place row 3,B,3,")), "{csv}");
    assert!(csv.lines().nth(2).is_some_and(|it| it.starts_with("2,2,A,2,North,no")), "{csv}");
    let page = folder.run("cold-spell job.yaml --mark B").out;
    assert!(unwrapped(&page).contains("p.csv, place rows 2 and 3"), "{page}");
}

#[test]
fn a_spell_that_does_not_freeze_is_no_cold_spell() {
    let folder = Folder::of(
        "Mark,Kind,Closes,Nominal length,Wall,Space behind\nA,sillcock,inside,12 in,2x6 siding,heated room\n",
    );
    for more in [&[][..], &["--crew"], &["--mark", "A"]] {
        let all = [
            &["cold-spell", "s.csv", "--climate", "minneapolis-mn", "--outdoors", "12 °C for 60 h"][..],
            more,
        ]
        .concat();
        let ran = folder.run_with(&all);
        let page = unwrapped(&ran.out);
        assert!(
            page.contains("the spell does not go below freezing (coldest 53 °F): check the unit."),
            "{page}"
        );
        assert_eq!(ran.code, 1, "{page}");
    }
}

/// What is before a spell does not depend on how cold its first stretch is.
#[test]
fn a_typed_spell_sets_out_from_what_was_before_it() {
    let seat = |spell: &str| {
        let json = three_json(&["--climate", "dallas-tx", "--mark", "B", "--outdoors", spell]);
        (hourly(&json, "seat")[0], json["spell"]["start"]["value"].as_f64().unwrap())
    };
    let ((mild, start), (cold, _)) = (seat("40 °F for 12 h"), seat("-10 °F for 12 h"));
    assert_eq!(mild, cold);
    assert!(mild > start, "{mild} {start}");
}

/// T = T_out + (T_room - T_out)·exp(-t/τ), with 68 °F and 24 h as assumed for a heated room, and both stretches one after
/// the other; the step lies within an hour. Heat is back as long after as it was out.
#[test]
fn a_room_without_heat_cools_by_its_time_constant() {
    let json = three_json(&[
        "--climate",
        "dallas-tx",
        "--mark",
        "A",
        "--outdoors",
        "20 °F for 90 min, 0 °F for 30 h",
        "--heat-out",
        "12 h",
    ]);
    let space = hourly(&json, "space");
    let kelvin = |fahrenheit: f64| (fahrenheit + 459.67) * 5.0 / 9.0;
    let after_stretch = 20.0 + (68.0 - 20.0) * libm::exp(-1.5 / 24.0);
    let after_cut = after_stretch * libm::exp(-10.5 / 24.0);
    // The JSON has seven digits.
    assert!((space[0] - kelvin(68.0)).abs() < 1e-4, "{space:?}");
    assert!((space[12] - kelvin(after_cut)).abs() < 1e-4, "{} {}", space[12], kelvin(after_cut));
    assert!((space[24] - kelvin(68.0)).abs() < 1e-4, "{space:?}");
}

#[test]
fn in_the_design_spell_heat_is_lost_as_the_cold_has_arrived() {
    let json = three_json(&["--climate", "duluth-mn", "--mark", "A", "--heat-out", "12 h"]);
    let space = hourly(&json, "space");
    assert!(space[..=24].iter().all(|it| *it == space[0]), "{space:?}");
    assert!(space[25] < space[0] - 1.0, "{space:?}");
    assert_eq!(json["heat_out"]["from"]["value"], 86_400);
}

#[test]
fn without_heat_the_seat_gets_colder_and_a_hose_left_on_fills_the_barrel() {
    let coldest = |arguments: &[&str]| {
        let json = three_json(&[&["--climate", "duluth-mn", "--mark", "A"], arguments].concat());
        (
            json["outlets"][0]["events"]["coldest_seat"]["value"].as_f64().unwrap(),
            json["outlets"][0]["full"].clone(),
        )
    };
    let (as_it_stands, is_full) = coldest(&[]);
    assert_eq!(is_full, false);
    assert!(coldest(&["--heat-out", "24 h"]).0 < as_it_stands - 5.0);
    assert_eq!(coldest(&["--state", "hose-on"]).1, true);
}

/// After the last row nothing is known, and nothing is made up.
#[test]
fn a_file_is_followed_to_its_last_row_and_no_further() {
    let csv = (0..=30).fold("Time,Outdoors (°F)\n".to_owned(), |csv, hour| {
        format!("{csv}2026-01-{:02} {:02}:00,{}\n", 14 + hour / 24, hour % 24, 25 - hour)
    });
    let folder = Folder::of(THREE).with("station.csv", csv);
    let json =
        folder.run("cold-spell s.csv --climate dallas-tx --mark B --series station.csv --format json").json();
    assert_eq!(hourly(&json, "time").last(), Some(&(30.0 * 3600.0)));
    assert_eq!(json["outlets"][0]["followed"]["as_used"]["ended"], "still ice");
    let text = folder.run("cold-spell s.csv --climate dallas-tx --mark B --series station.csv").out;
    let text = unwrapped(&text);
    assert!(text.contains("station.csv: 31 rows, 2026-01-14 00:00 to 2026-01-15 06:00; no gaps."), "{text}");
    assert!(text.contains("to the last row of the file, with ice still in it"), "{text}");
    let days = folder
        .run("cold-spell s.csv --climate dallas-tx --mark B --series station.csv --days 0.5 --format json");
    assert_eq!(days.json()["spell"]["lead"]["value"], 18 * 3600);
}

#[test]
fn a_report_in_a_file_is_the_report_on_the_screen() {
    let folder = Folder::of(THREE);
    let screen = folder.run("cold-spell s.csv --climate duluth-mn").out;
    let ran = folder.run("cold-spell s.csv --climate duluth-mn --output report.txt");
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (1, "", ""));
    assert_eq!(folder.text("report.txt"), screen);
    assert_eq!(folder.names(), ["report.txt", "s.csv"]);
}

#[test]
fn the_exit_status_is_in_the_help() {
    let help = unwrapped(&run("cold-spell --help").out);
    let says =
        "0 ice blocks no faucet; 1 ice blocks or may block a faucet, or one cannot be computed; 2 error";
    assert!(help.contains(says), "{help}");
}

#[test]
fn the_schema_is_the_one_that_is_shipped() {
    assert_eq!(run("schema cold-spell").out, coldsill::report::cold_spell_schema());
}

#[test]
fn what_is_not_known_is_taken_at_its_worst_and_said() {
    let schedule = |supply: &str| {
        format!(
            "Mark,Kind,Closes,Wall,Nominal length,Barrel,Supply,Supply insulation\nA,sillcock,inside,2x4,4 in,brass,{supply}\n"
        )
    };
    let blocked = |supply: &str| {
        let spell = ["--outdoors", "-10 °F for 48 h", "--format", "json"];
        let arguments = [&["cold-spell", "s.csv", "--climate", "minneapolis-mn"][..], &spell].concat();
        let ran = Folder::of(&schedule(supply)).run_with(&arguments);
        let outlet = ran.json()["outlets"][0].clone();
        (
            outlet["events"]["blocked"]["low"].as_f64().expect("it is blocked"),
            outlet["taken_at_worst"].clone(),
        )
    };
    let (open, taken) = blocked(",");
    // The worst of what is tried: no plastic or copper supply is blocked sooner.
    for known in ["copper,none", "copper,1/2 in", "PEX,none", "PEX,1/2 in"] {
        let (hours, nothing) = blocked(known);
        assert!(open <= hours, "{known}: {open} {hours}");
        assert_eq!(nothing, serde_json::json!({}));
    }
    assert!(taken["outlet.supply"].is_object(), "{taken}");
    let page = Folder::of(&schedule(",")).run("cold-spell s.csv --climate minneapolis-mn");
    assert!(unwrapped(&page.out).contains("not stated, so the worst case is assumed"), "{}", page.out);
}

#[test]
fn what_closes_below_grade_gets_no_advice_for_a_room_and_no_exit_status() {
    let ran = Folder::of("Mark,Kind,Closes\nYH-1,yard hydrant,below grade\n")
        .run("cold-spell s.csv --climate minneapolis-mn");
    assert_eq!(ran.code, 0, "{}", ran.out);
    let text = unwrapped(&ran.out);
    assert!(text.contains("the review checks their bury depth") && !text.contains("cabinet"), "{text}");
}

#[test]
fn columns_that_are_not_understood_are_listed() {
    let ran =
        Folder::of("Mark,Kind,Gizmo\nA,hose bibb,7\n").run(&format!("cold-spell s.csv --climate {WARM}"));
    assert!(ran.out.contains("\"Gizmo\": unknown heading"), "{}", ran.out);
}

#[test]
fn the_json_lists_what_is_not_used_as_the_page_does() {
    let job = format!(
        "climate: {WARM}\nschedule: s.csv\ncolumns: {{ Colour: ignore }}\nwalls: {{ 2x6-siding: {{ layers: [R-20 batt in 2x6] }} }}\n"
    );
    let folder = Folder::of("Mark,Kind,Colour\nA,hose bibb,red\n").with("j.yaml", job);
    let page = unwrapped(&folder.run("cold-spell j.yaml").out);
    let json = folder.run("cold-spell j.yaml --format json").json();
    let unused = json["unused"].as_array().unwrap();
    assert_eq!(unused.len(), 2, "{json}");
    for it in unused {
        let line = format!("\"{}\": {}", it["at"]["text"].as_str().unwrap(), it["why"].as_str().unwrap());
        assert!(page.contains(&line), "{line}\n{page}");
    }
}

#[test]
fn how_warm_it_is_before_a_typed_spell_can_be_said() {
    let seat = |before: &str| {
        let of_b =
            ["--climate", "dallas-tx", "--mark", "B", "--outdoors", "8 °F for 12 h", "--before", before];
        hourly(&three_json(&of_b), "seat")[0]
    };
    assert!(seat("50 °F") > seat("35 °F"));
    let alone = Folder::of(NOTHING_TO_ASK).run(&format!("cold-spell s.csv --climate {WARM} --before 45"));
    assert_eq!(alone.code, 2);
    assert!(alone.err.contains("--before"), "{}", alone.err);
}

#[test]
fn a_file_that_never_freezes_is_asked_about() {
    let folder = Folder::of(NOTHING_TO_ASK).with("warm.csv", "Time (h),Outdoors (°C)\n0,8\n1,9\n2,8\n");
    let ran = folder.run(&format!("cold-spell s.csv --climate {WARM} --series warm.csv"));
    assert!(unwrapped(&ran.out).contains("check the unit"), "{}", ran.out);
}
