//! Schedules opened as the program opens them.

use coldsill::facts::{Sources, World, open};
use coldsill::input::Memory;
use coldsill::job::Job;
use coldsill::schedule::{CellValue, Schedule, Subject};
use coldsill::shipped;
use coldsill::units::{Dim, Measure};
use std::path::Path;

/// A file of `tests/schedule/data`.
pub fn data(name: &str) -> Vec<u8> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/schedule/data").join(name);
    std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// Opens a source among files held in memory.
pub fn opened(
    files: &Memory,
    source: &str,
    sheet: Option<&str>,
    climate: Option<&str>,
) -> Result<World, Vec<String>> {
    let climates = shipped::climates().expect("the shipped climates are right");
    let base_rules = shipped::rules();
    let sources = Sources {
        files,
        source,
        sheet,
        climate,
        design_low: None,
        answers: &[],
        rules: &[],
        presets: Default::default(),
        base_rules: &base_rules,
        climates,
    };
    open(&sources).map_err(|problems| problems.iter().map(ToString::to_string).collect())
}

/// A schedule by itself.
pub fn world(name: &str, bytes: &[u8], sheet: Option<&str>) -> Result<World, Vec<String>> {
    opened(&Memory::new().with(name, bytes), name, sheet, Some("minneapolis-mn"))
}

#[track_caller]
pub fn read(name: &str, bytes: &[u8]) -> Schedule {
    of(&world(name, bytes, None).unwrap_or_else(|problems| panic!("{problems:?}")))
}

pub fn of(world: &World) -> Schedule {
    let job: &Job = world.job();
    job.schedule.clone()
}

/// The one line by which a file is refused.
#[track_caller]
pub fn refusal(name: &str, bytes: &[u8]) -> String {
    match world(name, bytes, None) {
        Ok(_) => panic!("{name} was read"),
        Err(problems) => problems.join("\n"),
    }
}

pub fn problems(schedule: &Schedule) -> Vec<String> {
    schedule.problems.iter().map(ToString::to_string).collect()
}

pub fn notes(schedule: &Schedule) -> Vec<String> {
    schedule.notes.iter().map(|it| format!("{}: {} {}", it.location, it.text, it.what)).collect()
}

pub fn unused(schedule: &Schedule) -> Vec<String> {
    schedule.unused.iter().map(|it| format!("{}: {}: {}", it.location, it.text, it.why)).collect()
}

/// Rows that are no outdoor outlets, with the reason.
pub fn aside(schedule: &Schedule) -> Vec<String> {
    schedule
        .rows_set_aside
        .iter()
        .map(|it| format!("{}: {}: {}", it.location, it.text, it.reason.words()[0]))
        .collect()
}

/// What a row's cells say, by heading: lengths in inches; `?` where it is not known.
pub fn said(schedule: &Schedule, row: u32) -> Vec<String> {
    let row = schedule.rows.iter().find(|it| it.number == row).unwrap_or_else(|| panic!("no row {row}"));
    let value = |value: &Option<CellValue>| match value {
        None => "?".to_owned(),
        Some(CellValue::Text(text)) => text.to_string(),
        Some(CellValue::YesNo(yes)) => yes.to_string(),
        Some(CellValue::Quantity(it)) if it.measure == Measure::Of(Dim::LENGTH) => inches(it.is),
        Some(CellValue::Quantity(it)) => format!("{}", (it.is * 1e9).round() / 1e9),
    };
    row.cells.iter().map(|cell| value(&cell.value)).collect()
}

/// 0.0254 m is an inch, to the last digits of the computer's arithmetic.
fn inches(metres: f64) -> String {
    ((metres / 0.0254 * 1e9).round() / 1e9).to_string()
}

/// What is held against a row: the review asks about it. Empty if nothing is.
pub fn held(schedule: &Schedule, row: u32) -> String {
    let row = schedule.rows.iter().find(|it| it.number == row).unwrap_or_else(|| panic!("no row {row}"));
    let is_it = |term: usize| coldsill::facts::VOCABULARY.0[term].subject == Some(Subject::Disagreement);
    row.cells.iter().filter(|cell| is_it(cell.term)).map(|cell| cell.text.to_string()).collect()
}
