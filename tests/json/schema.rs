//! Real reviews fit the schema; documents that were tampered with do not.

use crate::common::{KESTREL_RIDGE, LIVE_OAK, assert_schema_fits, example, json, of, of_job, parsed};
use coldsill::report::review_schema;
use coldsill::units::System;
use serde_json::{Value, json};

fn schema() -> Value {
    parsed(&review_schema())
}

#[track_caller]
fn assert_fits(review: &Value) {
    assert_schema_fits(&schema(), review);
}

/// A review with one thing changed, which must then not fit the schema.
#[track_caller]
fn assert_refused(tamper: impl FnOnce(&mut Value)) {
    let mut review = LIVE_OAK.clone();
    tamper(&mut review);
    assert_ne!(review, *LIVE_OAK, "nothing was changed");
    assert!(!jsonschema::is_valid(&schema(), &review));
}

/// The first comment of an outcome.
fn comment<'r>(review: &'r mut Value, outcome: &str) -> &'r mut Value {
    let sets = review["findings"].as_array_mut().into_iter().flatten();
    let mut comments = sets.flat_map(|findings| findings["comments"].as_array_mut().into_iter().flatten());
    comments.find(|it| it["outcome"] == outcome).expect("there is such a comment")
}

#[test]
fn the_schema_is_itself_a_valid_json_schema_of_2020_12() {
    let schema = schema();
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
}

#[test]
fn a_review_of_a_job_fits_the_schema() {
    assert_fits(&KESTREL_RIDGE);
}

#[test]
fn a_review_of_a_bare_schedule_fits_the_schema() {
    assert_fits(&LIVE_OAK);
}

#[test]
fn a_review_with_product_data_fits_the_schema_and_says_what_comes_from_it() {
    let review = parsed(&json(&example("product-data/job.yaml", None), System::Us));
    let barrel = &review["findings"][0]["facts"]["outlet.barrel"];
    assert_eq!(
        (&barrel["from"], &barrel["at"]["file"]),
        (&json!("product"), &json!("examples/product-data/outlets.csv"))
    );
    assert_fits(&review);
}

#[test]
fn a_review_in_si_units_fits_the_schema() {
    assert_fits(&parsed(&json(&example("live-oak/schedule.csv", Some("dallas-tx")), System::Si)));
}

#[test]
fn a_review_of_a_job_that_describes_its_own_climate_fits_the_schema() {
    let job = "climate: { name: High Valley, design_low: 5 °F }\nschedule: schedule.csv\n";
    assert_fits(&of_job(job, "Mark,Kind\nHB-1,Hose bibb\n", None));
}

#[test]
fn a_review_whose_climate_was_overridden_fits_the_schema() {
    let review = of_job(
        "climate: duluth-mn\nschedule: schedule.csv\n",
        "Mark,Kind\nHB-1,Hose bibb\n",
        Some("dallas-tx"),
    );
    assert_eq!(review["climate"]["in_place_of"], "duluth-mn");
    assert_fits(&review);
}

#[test]
fn a_review_with_amendments_and_things_not_used_fits_the_schema() {
    let amendment = "amendment: house\ndrop:\n  backflow/no-device-at-hose-thread: checked elsewhere\n";
    let review = of("Mark,Kind,Colour\nHB-1,Hose bibb,blue\n", "dallas-tx", &[amendment]);
    assert_eq!(review["dropped"][0]["reason"], "checked elsewhere");
    assert_eq!(review["unused"][0]["at"]["text"], "Colour");
    assert_fits(&review);
}

#[test]
fn an_unknown_outcome_is_refused() {
    assert_refused(|review| comment(review, "revise")["outcome"] = json!("fail"));
}

#[test]
fn a_missing_reminder_is_refused() {
    assert_refused(|review| drop(review.as_object_mut().and_then(|it| it.remove("reminder"))));
}

#[test]
fn an_extra_key_at_the_top_is_refused() {
    assert_refused(|review| review["verdict"] = json!("fine"));
}

#[test]
fn an_extra_key_of_a_comment_is_refused() {
    assert_refused(|review| comment(review, "revise")["severity"] = json!(3));
}

#[test]
fn an_extra_key_of_a_fact_is_refused() {
    assert_refused(|review| review["findings"][0]["facts"]["outlet.kind"]["score"] = json!(1));
}

#[test]
fn an_extra_key_of_a_quantity_is_refused() {
    assert_refused(|review| review["climate"]["design_low"]["score"] = json!(1));
}

#[test]
fn a_band_with_one_end_is_refused() {
    assert_refused(|review| {
        let seat = &mut review["findings"][0]["facts"];
        let seat = seat.as_object_mut().and_then(|it| it.values_mut().find(|it| it.get("low").is_some()));
        seat.and_then(Value::as_object_mut).map(|it| it.remove("high")).expect("some value has a band");
    });
}

#[test]
fn a_fact_that_nobody_stated_with_a_value_is_refused() {
    assert_refused(|review| {
        review["findings"][0]["facts"]["outlet.inlet"] =
            json!({ "value": false, "text": "no", "from": "unknown" });
    });
}

#[test]
fn a_fact_without_a_value_that_does_not_say_why_is_refused() {
    assert_refused(|review| {
        drop(
            review["findings"][0]["facts"]["outlet.inlet"].as_object_mut().and_then(|it| it.remove("absent")),
        );
    });
}

#[test]
fn a_temperature_in_degrees_fahrenheit_is_refused() {
    assert_refused(|review| review["climate"]["design_low"]["unit"] = json!("°F"));
}

#[test]
fn a_difference_in_place_of_a_temperature_is_refused() {
    assert_refused(|review| review["climate"]["design_low"]["kind"] = json!("temperature difference"));
}

#[test]
fn a_column_without_a_row_is_refused() {
    assert_refused(|review| {
        let at = &review["findings"][0]["rows"][0]["at"];
        review["findings"][0]["rows"][0]["at"] = json!({ "file": at["file"], "column": "Kind" });
    });
}

#[test]
fn another_version_of_the_format_is_refused() {
    assert_refused(|review| review["format"] = json!(1));
}

/// Company rules whose settings are a list and a yes or no.
const IN_STOCK: &str = r#"
set: company
about: Made up.
settings:
  barrels: { is: [stainless, brass], of: outlet.barrel, about: barrels that are kept in stock }
  strict: { is: yes, about: whether stock counts }
rules:
  - id: barrel-not-in-stock
    title: The barrel is not in stock
    basis: company
    why: Spares are kept for what is in stock.
    applies: company/strict
    needs: outlet.barrel in company/barrels
    outcome: advise
    says: "The barrel is {outlet.barrel}, not {company/barrels}."
    cases:
      - { name: in stock, given: { outlet.barrel: brass }, gives: no comment }
      - { name: not in stock, given: { outlet.barrel: copper }, gives: advise }
"#;

#[test]
fn a_setting_that_is_a_list_fits_the_schema_and_is_said_in_words() {
    let review = of("Mark,Kind,Barrel\nHB-1,sillcock,copper\n", "dallas-tx", &[IN_STOCK]);
    assert_fits(&review);
    let comments = review["findings"][0]["comments"].as_array().unwrap();
    let comment = comments.iter().find(|it| it["rule"] == "company/barrel-not-in-stock").unwrap();
    assert_eq!(comment["text"], "The barrel is copper, not stainless or brass.");
    let barrels = &comment["values"]["company/barrels"];
    assert_eq!((&barrels["value"], &barrels["from"]), (&json!(["stainless", "brass"]), &json!("setting")));
    assert_eq!(comment["values"]["company/strict"]["value"], json!(true));
}

#[test]
fn a_setting_that_an_amendment_makes_shorter_asks_less() {
    let amendment = "amendment: North County\nsettings: { company/barrels: [copper], company/strict: no }\n";
    let review = of("Mark,Kind,Barrel\nHB-1,sillcock,copper\n", "dallas-tx", &[IN_STOCK, amendment]);
    let comments = review["findings"][0]["comments"].as_array().unwrap();
    assert!(comments.iter().all(|it| it["rule"] != "company/barrel-not-in-stock"));
}
