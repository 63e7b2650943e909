//! Slopes written as a rise over a run: `1:48`, `1/4":12"`, `1/4" per 12"`, `2 cm per m`, `1/4 per foot`.

use super::dim::{Dim, Measure};
use super::number::number_at;
use super::parse::{Written, unit_of};
use super::table;

const LENGTH: Measure = Measure::Of(Dim::LENGTH);

/// Rise over run of a number and what follows it; `None` where it is no slope.
pub(super) fn rise_over_run(rise: f64, tail: &str, how: Written<'_>) -> Option<f64> {
    let lower = tail.to_lowercase();
    let parted = [":", " per ", "per ", "/", " in ", "in "].iter();
    parted
        .filter_map(|it| lower.split_once(it))
        .find_map(|(first, run)| ratio(rise, first.trim(), run.trim(), how))
}

fn ratio(rise: f64, unit: &str, run: &str, how: Written<'_>) -> Option<f64> {
    let run = run.strip_prefix("lineal ").or_else(|| run.strip_prefix("lin ")).unwrap_or(run);
    let (run, of_run, counted) = match number_at(run, how.decimal_comma) {
        Ok((number, rest)) => (number, rest.trim().trim_start_matches('-'), true),
        Err(_) => (1.0, run, false),
    };
    let metres = |number: f64, unit: &str| unit_of(unit).and_then(|it| it.to_si(number, LENGTH));
    let (rise, run) = match (unit, of_run) {
        // A ratio; the unit of one end is the unit of both.
        ("", "") => (rise, run),
        (one, "") | ("", one) if counted => (metres(rise, one)?, metres(run, one)?),
        // "1/4 per foot" means inches.
        ("", per) if unit_of(per).is_some_and(|it| it.names[0] == "ft") => {
            (metres(rise, "in")?, metres(run, per)?)
        }
        (unit, of_run) => (metres(rise, unit)?, length(run, of_run)?),
    };
    (run > 0.0).then_some(rise / run).filter(|it| it.is_finite())
}

/// A run in one unit, or in feet and no inches: `1'-0"`.
fn length(number: f64, unit: &str) -> Option<f64> {
    let unit = unit.strip_suffix("-0\"").unwrap_or(unit);
    table::find(unit).or_else(|| unit_of(unit))?.to_si(number, LENGTH)
}
