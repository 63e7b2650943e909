//! The README shows what the program prints.

use crate::shared::world;
use coldsill::input::Memory;
use coldsill::{report, review};
use std::path::Path;

fn read(path: &str) -> String {
    std::fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join(path))
        .expect("the file is in the repository")
}

#[test]
fn the_output_in_the_readme_is_the_programs_own() {
    let folder = "examples/kestrel-ridge";
    let files = Memory::new()
        .with(&format!("{folder}/job.yaml"), read(&format!("{folder}/job.yaml")))
        .with(&format!("{folder}/schedule.csv"), read(&format!("{folder}/schedule.csv")));
    let printed =
        report::text(&review::run(&world(&files, &format!("{folder}/job.yaml"), None)), Default::default());
    let readme = read("README.md");
    let shown = readme.split("```text\n").nth(1).and_then(|it| it.split("```").next()).unwrap();
    for passage in shown.split("\n...\n") {
        assert!(printed.contains(passage.trim_end()), "not printed any more:\n{passage}");
    }
}
