//! Cold spells: what drives freezing in time, and the facts and job keys it is made from.

mod design;
mod design_low;
mod extremes;
mod find;
mod hourly_counts;
mod hourly_figures;
mod hourly_refused;
mod job;
mod places;
mod real_years;
mod series;
mod series_refused;
mod shipped;
mod typed;
mod year;

/// The problems of what is refused, as people see them.
fn lines<T>(read: Result<T, Vec<coldsill::diag::Problem>>) -> Vec<String> {
    match read {
        Ok(_) => panic!("was read"),
        Err(problems) => problems.iter().map(ToString::to_string).collect(),
    }
}
