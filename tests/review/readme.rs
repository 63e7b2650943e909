//! The README shows what the program prints.

use crate::review::shared::world;
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
    let printed = report::summary(
        &review::run(&world(&files, &format!("{folder}/job.yaml"), None)),
        Default::default(),
    );
    let readme = read("README.md");
    let shown = readme.split("```text\n").nth(1).and_then(|it| it.split("```").next()).unwrap();
    for passage in shown.split("\n...\n") {
        assert!(printed.contains(passage.trim_end()), "not printed any more:\n{passage}");
    }
}

/// The README's block that starts with a line.
fn block(first: &str) -> String {
    let readme = read("README.md");
    let blocks = readme.split("```yaml\n").skip(1).filter_map(|it| it.split("```").next());
    let found = blocks.into_iter().find(|it| it.starts_with(first));
    found.unwrap_or_else(|| panic!("no block starts with {first}")).to_owned()
}

#[test]
fn the_amendment_in_the_readme_loads_and_what_it_adds_holds_its_cases() {
    let files = Memory::new().with("county.yaml", block("amendment:"));
    let base = coldsill::shipped::rules();
    let world = coldsill::facts::open_rules(&files, &base, &["county.yaml".to_owned()]).expect("it loads");
    let added: Vec<_> =
        review::try_cases(&world).into_iter().filter(|it| it.rule.starts_with("North County/")).collect();
    assert_eq!(added.len(), 3);
    assert!(added.iter().all(|it| it.found == it.wanted), "{added:?}");
    assert_eq!(world.job().rules.dropped.len(), 1);
}

#[test]
fn the_job_in_the_readme_is_reviewed() {
    let files = Memory::new()
        .with("job.yaml", block("job:"))
        .with("our-amendment.yaml", block("amendment:"))
        .with("outlets.csv", "Model,Closes,Seat offset\nGEN-10,Inside,3/4 in\n")
        .with(
            "schedule.csv",
            "Mark,Kind,Closes,Nominal length,Barrel,VB?,Phase\nHB-1,sillcock,inside,10 in,brass,none,2\n",
        );
    let review = review::run(&world(&files, "job.yaml", None));
    assert_eq!(review.amendments.len(), 1);
    assert_eq!(*review.problems, []);
}
