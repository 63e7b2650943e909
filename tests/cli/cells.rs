//! Cells that are wrong, blank or repeated. None ends a review; none passes.

use crate::cli::common::{Folder, NOTHING_TO_ASK, Ran, WARM, comment, outlet, unwrapped};
use serde_json::{Value, json};

/// The schedule that raises nothing, with a second row below it in which one cell is replaced.
fn with_cell(column: &str, text: &str) -> Folder {
    let mut lines = NOTHING_TO_ASK.lines();
    let (heading, row) = (lines.next().unwrap_or_default(), lines.next().unwrap_or_default());
    let index = heading.split(',').position(|it| it == column).expect("the schedule has the column");
    let mut cells: Vec<&str> = row.split(',').collect();
    cells[0] = "HB-2";
    cells[index] = text;
    Folder::of(&format!("{heading}\n{row}\n{}\n", cells.join(",")))
}

fn review(folder: &Folder) -> Ran {
    folder.run(&format!("review --detail s.csv --climate {WARM}"))
}

fn json_of(folder: &Folder) -> Value {
    folder.run(&format!("review s.csv --climate {WARM} --format json")).json()
}

/// Each bad cell: its column, its text, the fact it states, and the problem as the report tells it.
const BAD: [(&str, &str, &str, &str); 7] = [
    (
        "Nominal length",
        "-8 in",
        "outlet.nominal_length",
        "s.csv, row 3, column \"Nominal length\": \"-8 in\" is out of range; expected 1 in to 48 in",
    ),
    (
        "Nominal length",
        "8 kg",
        "outlet.nominal_length",
        "s.csv, row 3, column \"Nominal length\": \"8 kg\" is a mass, not a length; expected a length such as 8 in, \
         1 1/2\" or 203 mm",
    ),
    (
        "Seat depth",
        "40 ft",
        "outlet.seat_depth",
        "s.csv, row 3, column \"Seat depth\": \"40 ft\" is out of range; expected 0 in to 48 in",
    ),
    (
        "Wall",
        "block-8-baer",
        "outlet.wall",
        "s.csv, row 3, column \"Wall\": \"block-8-baer\" is not a known wall; did you mean \"block-8-bare\"?",
    ),
    (
        "Barrel",
        "Stanless",
        "outlet.barrel",
        "s.csv, row 3, column \"Barrel\": \"Stanless\" is not a known value; expected copper, brass, red brass, bronze, \
         silicon brass, stainless, galvanized steel; did you mean \"stainless\"?",
    ),
    (
        "Inside stop",
        "perhaps",
        "outlet.inside_stop",
        "s.csv, row 3, column \"Inside stop\": \"perhaps\" is neither yes nor no; expected yes or no",
    ),
    (
        "Backflow device",
        "$%&",
        "outlet.backflow_device",
        "s.csv, row 3, column \"Backflow device\": \"$%&\" is not a known value; expected none, hose connection vacuum \
         breaker, integral vacuum breaker, dual check, atmospheric vacuum breaker, pressure vacuum breaker, double \
         check assembly, residential dual check, reduced pressure principle assembly, sanitary yard hydrant, laboratory faucet backflow preventer",
    ),
];

#[test]
fn a_bad_cell_exits_with_1_and_says_nothing_on_standard_error() {
    for (column, text, ..) in BAD {
        let ran = review(&with_cell(column, text));
        assert_eq!((ran.code, ran.err.as_str()), (1, ""), "{column} {text}");
    }
}

#[test]
fn a_bad_cell_is_told_in_the_comment_sheet_with_its_place() {
    for (column, text, _, problem) in BAD {
        let sheet = unwrapped(&review(&with_cell(column, text)).out);
        assert!(sheet.contains(&unwrapped(problem)), "{problem}\n{sheet}");
    }
}

#[test]
fn a_bad_cell_is_told_in_the_json_with_its_place() {
    for (column, text, _, problem) in BAD {
        let review = json_of(&with_cell(column, text));
        assert_eq!(review["problems"].as_array().map(Vec::len), Some(1), "{review}");
        assert_eq!(review["problems"][0]["text"], problem);
        assert_eq!(
            review["problems"][0]["at"],
            json!({ "file": "s.csv", "row": 3, "column": column, "text": text })
        );
    }
}

#[test]
fn a_bad_cell_is_a_fact_that_is_not_known() {
    for (column, text, name, _) in BAD {
        let review = json_of(&with_cell(column, text));
        let fact = &outlet(&review, 3)["facts"][name];
        assert_eq!((&fact["value"], &fact["from"]), (&Value::Null, &json!("unreadable")), "{column} {text}");
    }
}

#[test]
fn a_bad_cell_leaves_the_other_rows_as_they_were() {
    let alone = json_of(&Folder::of(NOTHING_TO_ASK));
    for (column, text, ..) in BAD {
        let review = json_of(&with_cell(column, text));
        assert_eq!(outlet(&review, 2), outlet(&alone, 2), "{column} {text}");
    }
}

#[test]
fn a_backflow_cell_that_cannot_be_read_is_to_clarify() {
    let review = json_of(&with_cell("Backflow device", "$%&"));
    assert_eq!(comment(outlet(&review, 3), "backflow/no-device-at-hose-thread")["outcome"], "clarify");
}

#[test]
fn a_blank_backflow_cell_is_to_clarify_and_never_passes() {
    for blank in ["", "-", "TBD", "n/a", "?"] {
        let review = json_of(&with_cell("Backflow device", blank));
        let comment = comment(outlet(&review, 3), "backflow/no-device-at-hose-thread");
        assert_eq!(comment["outcome"], "clarify", "{blank:?}");
        assert_eq!(comment["missing"], json!(["outlet.backflow_device"]), "{blank:?}");
    }
}

#[test]
fn a_schedule_without_a_backflow_column_is_to_clarify() {
    let review = json_of(&Folder::of("Mark,Kind\nHB-1,Hose bibb\n"));
    assert_eq!(comment(outlet(&review, 2), "backflow/no-device-at-hose-thread")["outcome"], "clarify");
}

#[test]
fn problems_come_in_the_order_of_the_rows() {
    let folder = Folder::of(
        "Mark,Kind,Barrel,Wall\nHB-1,Hose bibb,brass,nowall\nHB-2,Hose bibb,nometal,2x4\nHB-3,Hose bibb,brass,nowall\n",
    );
    let review = json_of(&folder);
    let rows: Vec<&Value> =
        review["problems"].as_array().unwrap().iter().map(|it| &it["at"]["row"]).collect();
    assert_eq!(rows, [2, 3, 4]);
}

const SEAT: &str = "freezing/seat-reaches-freezing-at-design-low";

/// An outlet in a rim joist in Kansas City with this barrel.
fn in_rim_joist(barrel: &str) -> Value {
    Folder::of(&format!(
        "Mark,Kind,Closes,Nominal length,Barrel,Wall,Backflow device,Supply,Supply insulation\n\
         HB-1,Wall hydrant,Inside,10 in,{barrel},rim joist batt,Integral,Copper,none\n"
    ))
    .run("review s.csv --climate kansas-city-mo --format json")
    .json()
}

#[test]
fn a_blank_barrel_is_to_clarify_and_is_asked_for() {
    let review = in_rim_joist("");
    let comment = comment(outlet(&review, 2), SEAT);
    assert_eq!((&comment["outcome"], &comment["missing"]), (&json!("clarify"), &json!(["outlet.barrel"])));
    assert_eq!(review["questions"][0]["fact"], "outlet.barrel");
}

#[test]
fn a_blank_barrel_names_the_metals_that_would_pass_and_those_that_would_not() {
    let review = in_rim_joist("");
    let said = comment(outlet(&review, 2), SEAT)["text"].as_str().unwrap().to_owned();
    let (pass, fail) = (said.find("No comment with ").unwrap(), said.find("revise with ").unwrap());
    assert!(said[pass..fail].contains("stainless"), "{said}");
    assert!(said[fail..].contains("copper"), "{said}");
}

#[test]
fn what_a_metal_is_said_to_come_to_is_what_it_comes_to_once_stated() {
    let review = in_rim_joist("");
    let answers = comment(outlet(&review, 2), SEAT)["would_settle"].as_array().unwrap().clone();
    let mut outcomes = Vec::new();
    for metal in ["copper", "stainless"] {
        let said = answers.iter().find(|it| it["given"]["outlet.barrel"] == metal).unwrap();
        let stated = in_rim_joist(metal);
        assert_eq!(comment(outlet(&stated, 2), SEAT)["outcome"], said["outcome"], "{metal}");
        outcomes.push(said["outcome"].clone());
    }
    assert_eq!(outcomes, ["revise", "no comment"]);
}

#[test]
fn a_blank_quantity_is_not_stated_and_left_out_of_the_total() {
    let ran = review(&with_cell("Quantity", ""));
    assert!(ran.out.contains("2 rows, 4 faucets, and 1 row"), "{}", ran.out);
    assert!(ran.out.lines().any(|it| it.starts_with("3    HB-2  not stated  ")), "{}", ran.out);
}

#[test]
fn a_blank_quantity_is_null_in_the_json() {
    let review = json_of(&with_cell("Quantity", ""));
    assert_eq!((&outlet(&review, 2)["quantity"], &outlet(&review, 3)["quantity"]), (&json!(4), &Value::Null));
}

#[test]
fn a_mark_that_repeats_is_reviewed_on_every_row_and_named_once_with_its_rows() {
    let folder = Folder::of(
        "Mark,Kind,Backflow device,Location\nHB-1,Hose bibb,none,North\nHB-1,Hose bibb,none,South\nHB-1,Hose bibb,Integral,East\n",
    );
    let sheet = review(&folder).out;
    assert!(sheet.contains("  Faucets    HB-1 (rows 2 and 3)\n"), "{sheet}");
    let review = json_of(&folder);
    let outcomes: Vec<&Value> = [2, 3, 4]
        .iter()
        .map(|row| &comment(outlet(&review, *row), "backflow/no-device-at-hose-thread")["outcome"])
        .collect();
    assert_eq!(outcomes, ["revise", "revise", "no comment"]);
}

#[test]
fn the_sheets_of_a_mark_that_repeats_cover_every_row_that_differs() {
    let folder = Folder::of(
        "Mark,Kind,Backflow device\nHB-1,Hose bibb,none\nHB-1,Hose bibb,none\nhb-1,Hose bibb,Integral\n",
    );
    let sheets = folder.run(&format!("sheet s.csv --climate {WARM} --mark HB-1")).out;
    assert_eq!(sheets.matches("Calculation sheet: ").count(), 2);
    assert!(sheets.contains("s.csv, row 2") && sheets.contains("s.csv, row 4"), "{sheets}");
}

#[test]
fn a_column_that_is_not_understood_is_listed() {
    let folder = Folder::of("Mark,Kind,Motto,Backflow device\nHB-1,Hose bibb,blue,Integral\n");
    let sheet = unwrapped(&review(&folder).out);
    assert!(sheet.contains("Not used -------- s.csv, row 1: \"Motto\": unknown heading"), "{sheet}");
}

#[test]
fn a_misspelt_heading_is_a_problem_that_names_the_nearest() {
    let folder = Folder::of("Mark,Kind,Barel\nHB-1,Hose bibb,brass\n");
    let review = json_of(&folder);
    assert_eq!(
        review["problems"][0]["text"],
        "s.csv, row 1: \"Barel\" is not a known heading; did you mean \"Barrel\"?"
    );
    assert_eq!(outlet(&review, 2)["facts"]["outlet.barrel"]["value"], Value::Null);
}

#[test]
fn an_assumption_about_some_rows_of_a_mark_names_them() {
    let folder = Folder::of("Mark,Kind,Closes\nHB-1,Hose bibb,face\nHB-1,Hose bibb,\nHB-2,Hose bibb,\n");
    let page = unwrapped(&folder.run("review --detail s.csv --climate dallas-tx").out);
    assert!(page.contains("Closes face (HB-1 (row 3) and HB-2): a plain hose bibb"), "{page}");
}
