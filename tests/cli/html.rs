//! A review as one web page.

use crate::cli::common::{Folder, run};
use serde_json::Value;
use std::collections::BTreeSet;

const EXAMPLE: &str = "examples/kestrel-ridge/job.yaml";

fn attribute(page: &str, name: &str) -> Vec<f64> {
    let start = format!("{name}=\"");
    page.split(&start).skip(1).filter_map(|rest| rest.split('"').next()?.parse().ok()).collect()
}

#[test]
fn the_page_needs_no_other_file_and_no_network() {
    let page = run(&format!("review {EXAMPLE} --format html")).out;
    assert!(page.starts_with("<!DOCTYPE html>"));
    for outside in ["http:", "https:", "src=", "@import", "url("] {
        assert!(!page.contains(outside), "{outside}");
    }
}

#[test]
fn figures_of_the_drawings_are_those_of_the_json() {
    let page = run(&format!("review {EXAMPLE} --format html")).out;
    let json = run(&format!("review {EXAMPLE} --format json")).out;
    let json: Value = serde_json::from_str(&json).unwrap();
    let sets = json["findings"].as_array().unwrap();
    let found: Vec<f64> =
        sets.iter().filter_map(|set| set["facts"]["heat.seat_temperature"]["value"].as_f64()).collect();
    let drawn = attribute(&page, "data-seat-temperature");
    assert!(!found.is_empty());
    for found in found {
        // The JSON has seven digits.
        assert!(drawn.iter().any(|drawn| (drawn - found).abs() <= 1e-6 * found), "{found} is not drawn");
    }
}

#[test]
fn what_a_schedule_says_is_text_and_never_markup() {
    let schedule = "Mark,Kind,Location,Notes\n\"<script>alert(1)</script>\",sillcock,\"<img src=x onerror=alert(1)>\",\"\"\"><b>\"\n";
    let page = Folder::of(schedule).run("review s.csv --climate dallas-tx --format html").out;
    assert!(!page.contains("<script>alert") && !page.contains("<img") && !page.contains("<b>"));
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt;"));
}

#[test]
fn the_name_of_the_file_says_the_format() {
    let folder = Folder::of("Mark,Kind\nA,sillcock\n");
    let ran = folder.run("review s.csv --climate dallas-tx --output page.html");
    assert_eq!(ran.err, "");
    assert!(folder.text("page.html").starts_with("<!DOCTYPE html>"));
    folder
        .run("review s.csv --climate dallas-tx --format text --output other.html")
        .is_refused(&["other.html: cannot be written: .html is not a format of this output; expected a name such as review.txt or review.json"]);
}

#[test]
fn every_mark_of_a_type_leads_to_its_part() {
    let rows: String = (1..=5).map(|number| format!("\"HB-{number}, rear\",sillcock\n")).collect();
    let folder = Folder::of(&format!("Mark,Kind\n{rows}"));
    let page = folder.run("review s.csv --climate dallas-tx --format html").out;
    let marks: Vec<String> = (1..=5).map(|number| format!("hb-{number}, rear")).collect();
    assert!(page.contains(&format!("data-marks=\"{}\"", marks.join("\n"))));
}

#[test]
fn the_web_page_of_a_spell_has_the_words_of_its_text() {
    let asked = format!("cold-spell {EXAMPLE} --mark HB-1");
    let (text, page) = (run(&asked).out, run(&format!("{asked} --format html")).out);
    assert!(!page.contains("<script") && page.matches("<svg").count() == 2);
    let plain: String =
        page.split('<').filter_map(|part| Some(part.split_once('>')?.1)).collect::<Vec<_>>().join(" ");
    let plain = plain.replace("&quot;", "\"").replace("&lt;", "<").replace("&gt;", ">").replace("&amp;", "&");
    let there: BTreeSet<&str> = plain.split_whitespace().collect();
    // A chart stands for the plot in characters.
    let mut is_plot = false;
    for line in text.lines() {
        is_plot = (is_plot || line.starts_with("Over time,")) && !line.starts_with("Every ");
        let words = line.split_whitespace().filter(|word| !is_plot && !word.starts_with("--"));
        for word in words {
            assert!(there.contains(word), "{word} of: {line}");
        }
    }
}
