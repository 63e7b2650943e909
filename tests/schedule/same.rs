//! One schedule in seven files of five writers is one review.

use super::common::{data, world};
use crate::rows::by_row;
use coldsill::units::System;
use coldsill::{report, review};
use serde_json::Value;

/// The JSON of a review without its places: where a cell stands, and the sentences that say so.
fn review_of(name: &str) -> String {
    let world = world(name, &data(name), None).unwrap_or_else(|problems| panic!("{problems:?}"));
    let mut bytes = Vec::new();
    report::json(&review::run(&world), System::Us, &mut bytes).expect("memory can be written to");
    let mut json = by_row(serde_json::from_slice(&bytes).expect("is JSON"));
    without_places(&mut json);
    json["schedule"].take();
    json.to_string()
}

fn without_places(value: &mut Value) {
    match value {
        Value::Object(entries) => {
            // What stands there is no place.
            if let Some(at) = entries.get_mut("at") {
                *at = at["text"].take();
            }
            if entries.contains_key("nearest") {
                entries.remove("text");
            }
            entries.remove("rows");
            entries.values_mut().for_each(without_places);
        }
        Value::Array(list) => list.iter_mut().for_each(without_places),
        _ => {}
    }
}

#[test]
fn one_schedule_gives_one_review_from_every_kind_of_file() {
    let csv = review_of("same.csv");
    assert!(csv.contains("HB-5") && csv.len() > 10_000, "the review is whole");
    for name in ["same.xlsx", "same.ods", "same-office.xlsx", "same-office.ods", "same.yaml"] {
        let other = review_of(name);
        let at = csv.bytes().zip(other.bytes()).take_while(|(a, b)| a == b).count();
        let near =
            |text: &str| text.get(at.saturating_sub(80)..(at + 80).min(text.len())).unwrap_or("").to_owned();
        assert!(csv == other, "{name} differs:\n{}\n{}", near(&csv), near(&other));
    }
}
