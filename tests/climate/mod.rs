//! Cold spells: what drives freezing in time, and the facts and job keys it is made from.

mod design;
mod design_low;
mod extremes;
mod figures;
mod find;
mod forecasts;
mod hourly_counts;
mod hourly_figures;
mod hourly_holes;
mod hourly_refused;
mod job;
mod places;
mod real_years;
mod series;
mod series_refused;
mod shipped;
mod towns;
mod typed;
mod year;

/// The problems of what is refused, as people see them.
fn lines<T>(read: Result<T, coldsill::diag::Diagnostics>) -> Vec<String> {
    match read {
        Ok(_) => panic!("was read"),
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    }
}

/// A job opened with the shipped climates and rules; `schedule` is its file of outlets.
pub(crate) fn opened(
    job: &str,
    schedule: &str,
    design_low: Option<&str>,
) -> Result<coldsill::facts::World, coldsill::diag::Diagnostics> {
    opened_at(job, schedule, design_low, None)
}

/// The same with a climate of the command line.
fn opened_at(
    job: &str,
    schedule: &str,
    design_low: Option<&str>,
    climate: Option<&str>,
) -> Result<coldsill::facts::World, coldsill::diag::Diagnostics> {
    let files = coldsill::input::Memory::new()
        .with("job.yaml", format!("schedule: s.csv\n{job}"))
        .with("s.csv", schedule);
    coldsill::facts::open(&coldsill::facts::Sources {
        files: &files,
        source: "job.yaml",
        sheet: None,
        climate,
        design_low,
        answers: &[],
        rules: &[],
        base_rules: &coldsill::shipped::rules(),
        presets: Default::default(),
        climates: coldsill::shipped::climates().expect("the shipped climates are right"),
    })
}
