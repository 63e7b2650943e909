//! What `read` understood fits its schema; documents that were tampered with do not.

use crate::common::{assert_schema_fits, open_to_read, parsed};
use coldsill::report::{self, read_json, read_schema};
use coldsill::review::understood;
use coldsill::units::System;
use serde_json::{Value, json};

fn read(files: &[(&str, &[u8])], source: &str, system: System) -> Value {
    let mut out = Vec::new();
    read_json(&understood(&open_to_read(files, source)), system, &mut out).expect("memory can be written to");
    parsed(std::str::from_utf8(&out).expect("it is UTF-8"))
}

/// A bare schedule with a cell that cannot be read, words, a ditto, and a column nobody understands.
fn bare() -> Value {
    let schedule = "Mark,Qty,Description,Nominal length,Barrel,Color\n\
                    HB-1,2,\"Frostproof sillcock, SS screws\",8 in,brass,rough\n\
                    HB-2,1,Wall hydrant,8 cubits,\"\"\"\",\n";
    read(&[("s.csv", schedule.as_bytes())], "s.csv", System::Us)
}

#[track_caller]
fn assert_fits(read: &Value) {
    assert_schema_fits(&parsed(&read_schema()), read);
}

#[track_caller]
fn assert_refused(tamper: impl FnOnce(&mut Value)) {
    let mut read = bare();
    tamper(&mut read);
    assert_ne!(read, bare(), "nothing was changed");
    assert!(!jsonschema::is_valid(&parsed(&read_schema()), &read));
}

#[test]
fn the_schema_of_what_was_read_is_itself_a_valid_json_schema_of_2020_12() {
    let schema = parsed(&read_schema());
    assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
    assert!(jsonschema::draft202012::meta::is_valid(&schema));
}

#[test]
fn what_was_read_of_a_bare_schedule_fits_the_schema_in_either_system() {
    let read_us = bare();
    assert_fits(&read_us);
    assert_eq!(read_us["outlets"][1]["facts"]["outlet.nominal_length"]["from"], "unreadable");
    assert_eq!(read_us["outlets"][1]["facts"]["outlet.barrel"]["value"], "brass");
    assert!(!read_us["notes"].as_array().unwrap().is_empty());
    assert!(!read_us["unused"].as_array().unwrap().is_empty());
    assert_fits(&read(&[("s.csv", b"Mark,Nominal length\nHB-1,8 to 10 in\n")], "s.csv", System::Si));
}

#[test]
fn what_was_read_of_a_job_with_places_products_and_a_list_fits_the_schema() {
    let job = "schedule: s.yaml\nplaces: p.csv\nproducts: m.csv\ndefaults: { barrel: brass }\n";
    let listed = "outlets:\n  - { mark: HB-1, model: A 10, nominal length: 10 in }\n";
    let files = [
        ("job.yaml", job.as_bytes()),
        ("s.yaml", listed.as_bytes()),
        ("p.csv", b"Mark,Location,Count\nHB-1,North,2\nHB-1,South,1\n".as_slice()),
        ("m.csv", b"Model,Kind,Seat offset\nA 10,sillcock,1 in\n".as_slice()),
    ];
    let read = read(&files, "job.yaml", System::Us);
    assert_fits(&read);
    let facts = &read["outlets"][0]["facts"];
    let from = |name: &str| facts[name]["from"].clone();
    assert_eq!(
        ["outlet.kind", "outlet.barrel", "outlet.seat_depth", "outlet.location"].map(from),
        ["product", "job", "computed", "stated"]
    );
    assert_eq!((&read["heading_row"], &read["job"]), (&Value::Null, &json!("job.yaml")));
}

#[test]
fn an_extra_key_anywhere_is_refused() {
    assert_refused(|it| it["verdict"] = json!("fine"));
    assert_refused(|it| it["outlets"][0]["score"] = json!(1));
    assert_refused(|it| it["outlets"][0]["facts"]["outlet.kind"]["score"] = json!(1));
    assert_refused(|it| it["columns"][0]["score"] = json!(1));
    assert_refused(|it| it["blanks"][0]["score"] = json!(1));
    assert_refused(|it| it["problems"][0]["score"] = json!(1));
}

#[test]
fn a_cell_that_could_not_be_read_with_a_value_is_refused() {
    assert_refused(|it| it["outlets"][1]["facts"]["outlet.nominal_length"]["value"] = json!("8"));
}

#[test]
fn a_blank_that_is_taken_as_something_without_a_reason_is_refused() {
    assert_refused(|it| {
        let blanks = it["blanks"].as_array_mut().expect("a list");
        let taken = blanks.iter_mut().find(|it| it["taken_as"].is_string()).expect("something is taken");
        taken["why"] = Value::Null;
    });
}

#[test]
fn how_a_table_of_text_is_written_is_said_where_that_is_not_the_usual_way() {
    let office = b"Mark;Nominal length;Location\nHB-1;20,3 cm;Caf\xE9\n".as_slice();
    let world = open_to_read(&[("s.csv", office)], "s.csv");
    let page = report::read(&understood(&world), System::Us);
    let head = "Schedule   headings in row 1, 1 faucet; Windows-1252, semicolons, decimal commas\n";
    assert!(page.contains(head), "{page}");
    let json = read(&[("s.csv", office)], "s.csv", System::Us);
    assert_eq!(json["written"], json!(["Windows-1252", "semicolons", "decimal commas"]));
    assert_fits(&json);
    assert_eq!(bare()["written"], json!([]));
}
