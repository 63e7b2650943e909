//! Everyday outlets in three cities: the table on the page of the example is what the program finds. It is a snapshot: what
//! must be right of its figures is tested against other models in the heat crate.

use crate::review::shared::world;
use coldsill::diag::Location;
use coldsill::expr::Value;
use coldsill::facts::{World, edit};
use coldsill::input::Memory;
use coldsill::review::{self, DepthRow};
use coldsill::ruleset::Outcome;
use coldsill::units::Quantity;
use std::fmt::Write as _;

const PAGE: &str = include_str!("../../examples/everyday/README.md");
const JOB: &str = include_str!("../../examples/everyday/job.yaml");
const SCHEDULE: &str = include_str!("../../examples/everyday/schedule.csv");
const CITIES: [&str; 3] = ["minneapolis-mn", "kansas-city-mo", "dallas-fort-worth-tx"];

/// Two supplies, two walls, two barrels and their lengths.
const WALLS: [(&str, &str, &str); 2] = [
    ("rim joist, basement", "rim-joist-batt", "basement"),
    ("2x6, heated room", "2x6-siding", "heated room"),
];
const BARRELS: [(&str, &[i32]); 2] = [("brass", &[8, 10, 12]), ("stainless", &[8, 12])];

fn quantity<'r>(row: &'r DepthRow, name: &str) -> Option<&'r Quantity> {
    row.facts.iter().find(|fact| &*fact.name == name).and_then(|fact| match &fact.value {
        Ok(Value::Quantity(quantity)) => Some(quantity),
        _ => None,
    })
}

const YEAR: f64 = 365.25 * 86_400.0;

/// °F, whole and to the colder side, where it is no colder than any low that there is.
fn fahrenheit(kelvin: f64) -> String {
    let value = (kelvin - 273.15) * 1.8 + 32.0;
    if value < -80.0 { "under -80".into() } else { format!("{:.0}", value.ceil()) }
}

/// "-24 (-35 to -7); 6 years (1 to 44); no".
fn cell(row: &DepthRow) -> String {
    let mut text = match quantity(row, "heat.holds_to") {
        Some(good) => {
            let [low, is, high] = [good.low, good.is, good.high].map(fahrenheit);
            if is == "under -80" { is } else { format!("{is} ({low} to {high})") }
        }
        None => "any low".into(),
    };
    if let Some(years) = quantity(row, "heat.years_between") {
        let [low, is, high] = [years.low, years.is, years.high].map(|seconds| (seconds / YEAR).floor());
        let words = |years: f64| if years >= 200.0 { "200+".into() } else { format!("{years}") };
        text.push_str(&match () {
            () if low >= 200.0 => "; over 200 years".into(),
            () if high < 2.0 => "; most winters".into(),
            () => {
                let unit = if is == 1.0 { "year" } else { "years" };
                format!("; {} {unit} ({} to {})", words(is), words(low), words(high))
            }
        });
    }
    // Of the heat alone: the code's own rule is the next example's.
    let by_heat =
        row.asks.iter().filter(|(rule, _)| &*rule.number == "Freezing 1").map(|(_, outcome)| outcome);
    let answer = match by_heat.min() {
        None => "enough",
        Some(Outcome::Revise) => "too short",
        Some(_) => "close",
    };
    let _ = write!(text, "; {answer}");
    text
}

fn table() -> String {
    let files = Memory::new().with("job.yaml", JOB).with("schedule.csv", SCHEDULE);
    let worlds: Vec<World> = CITIES.iter().map(|city| world(&files, "job.yaml", Some(city))).collect();
    let at = Location::whole("test");
    let mut out = String::from("| | Minneapolis | Kansas City | Dallas |\n|---|---|---|---|\n");
    for (wall, wall_key, space) in WALLS {
        for supply in ["copper", "PEX"] {
            for (barrel, lengths) in BARRELS {
                let facts = [
                    ("outlet.kind", "wall hydrant"),
                    ("outlet.closes", "inside"),
                    ("outlet.wall", wall_key),
                    ("outlet.space_behind", space),
                    ("outlet.supply", supply),
                    ("outlet.supply_insulation", "none"),
                    ("outlet.barrel", barrel),
                    ("outlet.inside_stop", "no"),
                    ("outlet.backflow_device", "integral vacuum breaker"),
                    ("outlet.backflow_standard", "ASSE 1019 type A"),
                ];
                let edits = facts.map(|(fact, text)| edit(fact, text, &at).expect("a value of the fact"));
                let depths: Vec<_> = worlds.iter().map(|world| review::depth(world, &edits)).collect();
                for inches in lengths {
                    let of_length = |depth: &review::Depth| {
                        let is_it = |row: &&DepthRow| {
                            quantity(row, "outlet.nominal_length")
                                .is_some_and(|length| (length.is / 0.0254 - f64::from(*inches)).abs() < 1e-6)
                        };
                        cell(depth.rows.iter().find(is_it).expect("a listed length"))
                    };
                    let cells: Vec<String> = depths.iter().map(of_length).collect();
                    let _ =
                        writeln!(out, "| {wall}, {supply}, {barrel} {inches} in | {} |", cells.join(" | "));
                }
            }
        }
    }
    out
}

#[test]
fn the_page_of_everyday_outlets_shows_what_is_found() {
    let table = table();
    assert!(PAGE.contains(&table), "the page does not show\n{table}");
}
