//! Standards of files held in memory: the builder's example, and one of listed lengths.

use coldsill::diag::{Diagnostic, Diagnostics};
use coldsill::facts::{Presets, Sources, World, open};
use coldsill::input::{Files, Memory};
use coldsill::shipped;
use coldsill::standard::{self, Standard};
use std::sync::LazyLock;

/// The builder's standard: twelve cities, two walls, models with seat depths of their own.
pub static BUILDER: LazyLock<Standard> = LazyLock::new(|| computed(&builder(), "standard.yaml"));
/// One of listed lengths, with a margin; a garage where the code asks for a stop at any length.
pub static LISTED: LazyLock<Standard> = LazyLock::new(|| computed(&listed(LISTED_TEXT), "listed.yaml"));

pub const LISTED_TEXT: &str = include_str!("data/listed.yaml");

pub fn builder() -> Memory {
    let names = ["standard.yaml", "job.yaml", "products.csv", "schedule.csv"];
    names.into_iter().fold(Memory::new(), |files, name| {
        let path = format!("{}/examples/builder/{name}", env!("CARGO_MANIFEST_DIR"));
        files.with(name, std::fs::read(path).expect("the example is there"))
    })
}

pub fn listed(text: &str) -> Memory {
    Memory::new().with("listed.yaml", text)
}

pub fn computed(files: &Memory, file: &str) -> Standard {
    compute(files, file).unwrap_or_else(|problems| panic!("{}", texts(&problems).join("\n")))
}

pub fn texts(problems: &[Diagnostic]) -> Vec<String> {
    problems.iter().map(ToString::to_string).collect()
}

pub fn compute(files: &Memory, file: &str) -> Result<Standard, Diagnostics> {
    let library = shipped::climates()?;
    let request = standard::read(file, &files.read(file)?, library)?;
    let own = standard::Files::of(&request, files);
    let rules: Vec<String> = own.rules().map(Into::into).into_iter().collect();
    with_sources(&own, own.job(), None, &rules, |sources| standard::standard(&request, sources, &|_, _| ()))
}

/// Opens a source with the rules and climates of the program.
pub fn world(files: &dyn Files, source: &str, climate: Option<&str>, rules: &[String]) -> World {
    with_sources(files, source, climate, rules, open)
        .unwrap_or_else(|problems| panic!("{}", texts(&problems).join("\n")))
}

fn with_sources<T>(
    files: &dyn Files,
    source: &str,
    climate: Option<&str>,
    rules: &[String],
    then: impl FnOnce(&Sources<'_>) -> Result<T, Diagnostics>,
) -> Result<T, Diagnostics> {
    let climates = shipped::climates()?;
    then(&Sources {
        files,
        source,
        sheet: None,
        climate,
        design_low: None,
        answers: &[],
        rules,
        base_rules: &shipped::rules(),
        presets: Presets { all: &shipped::presets(), codes: &shipped::codes()?, ..Presets::default() },
        climates,
    })
}
