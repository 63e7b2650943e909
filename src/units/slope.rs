//! Slopes written as a rise over a run: `1:48`, `1/4":12"`, `1/4" per 12"`, `2 cm per m`, `1/4 per foot`.

use super::dim::{Dim, Measure};
use super::number::parse_number;
use super::table::{self, find_written};

const LENGTH: Measure = Measure::Of(Dim::LENGTH);

/// Rise over run of a number and the text after it; `None` if the text is not a slope.
pub(super) fn rise_over_run(rise: f64, tail: &str, decimal_comma: bool) -> Option<f64> {
    let lower = tail.to_lowercase();
    let separators = [":", " per ", " par ", "per ", "/", " in ", "in "];
    separators
        .iter()
        .filter_map(|separator| lower.split_once(separator))
        .find_map(|(unit, run)| ratio(rise, unit.trim(), run.trim(), decimal_comma))
}

fn ratio(rise: f64, unit: &str, run: &str, decimal_comma: bool) -> Option<f64> {
    let run = run.strip_prefix("lineal ").or_else(|| run.strip_prefix("lin ")).unwrap_or(run);
    let (run, run_unit, has_number) = match parse_number(run, decimal_comma) {
        Ok((number, rest)) => (number, rest.trim().trim_start_matches('-'), true),
        Err(_) => (1.0, run, false),
    };
    let meters = |number: f64, unit: &str| find_written(unit)?.to_si(number, LENGTH);
    let (rise, run) = match (unit, run_unit) {
        // A ratio. A unit on one side holds for both.
        ("", "") => (rise, run),
        (one, "") | ("", one) if has_number => (meters(rise, one)?, meters(run, one)?),
        // "1/4 per foot" means inches.
        ("", per) if find_written(per).is_some_and(|it| it.names[0] == "ft") => {
            (meters(rise, "in")?, meters(run, per)?)
        }
        (unit, run_unit) => (meters(rise, unit)?, run_length(run, run_unit)?),
    };
    // A run is never negative; over one of nothing the slope is not finite.
    Some(rise / run).filter(|it| it.is_finite())
}

/// A run in one unit, or in feet and zero inches: `1'-0"`.
fn run_length(number: f64, unit: &str) -> Option<f64> {
    let unit = unit.strip_suffix("-0\"").unwrap_or(unit);
    table::find(unit).or_else(|| find_written(unit))?.to_si(number, LENGTH)
}
