//! SECURITY.md says what the source says: every limit, and tests that are there.

use coldsill::input::Limit;
use std::fs;
use std::path::Path;

const PAGE: &str = include_str!("../../SECURITY.md");

#[test]
fn the_page_lists_every_limit_and_no_other() {
    let (_, listed) = PAGE.split_once("## Limits").expect("the page has its limits");
    let listed: Vec<&str> = listed.lines().filter_map(|line| line.strip_prefix("- ")).collect();
    let all: Vec<String> = Limit::all().map(Limit::words).collect();
    assert_eq!(listed, all);
}

#[test]
fn every_test_the_page_names_is_there() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let mut named = 0;
    for name in PAGE.split('`').filter(|name| name.contains("::") && !name.starts_with("input::limits")) {
        let parts: Vec<&str> = name.split("::").collect();
        // A file of its own, or a function in one.
        let read = |parts: &[&str]| fs::read_to_string(tests.join(parts.join("/")).with_extension("rs"));
        let (function, file) = parts.split_last().expect("a name has parts");
        let is_there =
            read(&parts).is_ok() || read(file).is_ok_and(|text| text.contains(&format!("fn {function}(")));
        assert!(is_there, "{name}");
        named += 1;
    }
    assert!(named > 10, "only {named} are named");
}
