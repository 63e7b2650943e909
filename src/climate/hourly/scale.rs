//! Whether temperatures called °C may be °F. It refuses nothing: mild winters and wide swings there are.

use super::Hourly;
use super::days::Day;
use crate::climate::moment::civil;
use crate::diag::{Diagnostic, Diagnostics, Location};
use std::sync::Arc;

/// From the coldest hour to the warmest of a year few places outside of Siberia reach this, K. In °F it is 42 K, which most
/// places with a winter do.
const WIDEST_YEAR: f64 = 75.0;
/// Nor do they see both of these in one year, K (-10 and 45 °C).
const BOTH: [f64; 2] = [263.15, 318.15];
/// Half of all days from low to high reach it nowhere, K: deserts come to 18.
const WIDEST_DAY: f64 = 20.0;
/// Days of which no more is known have no swing, h.
const WHOLE: f64 = 23.0;
/// With fewer days half of them say nothing.
const FEWEST: usize = 20;
const FREEZING: f64 = 273.15;

/// What makes °C doubtful, if anything does.
pub(super) fn doubt(of: &Hourly, column: &Arc<str>) -> Diagnostics {
    let coldest = of.winters().iter().filter(|it| it.counts).map(|it| it.coldest.1).reduce(f64::min);
    let days = of.days();
    let mut swings: Vec<f64> =
        days.iter().filter(|it| it.known >= WHOLE).map(|it| it.most - it.least).collect();
    swings.sort_by(f64::total_cmp);
    let swing = swings.get(swings.len() / 2).filter(|_| swings.len() >= FEWEST);
    let years = days.chunk_by(|a, b| civil(a.day).0 == civil(b.day).0);
    let wide = years
        .map(range)
        .find(|[least, most]| most - least > WIDEST_YEAR || *least < BOTH[0] && *most > BOTH[1]);
    let what = if let Some(coldest) = coldest.filter(|it| *it > FREEZING) {
        format!("is called °C, and no hour of its winters is below {:.1}", coldest - FREEZING)
    } else if let Some([least, most]) = wide.map(|it| it.map(|kelvin| kelvin - FREEZING)) {
        format!(
            "is called °C, and it goes from {least:.0} to {most:.0} within a year, as hardly any place does"
        )
    } else if let Some(swing) = swing.filter(|it| **it > WIDEST_DAY) {
        format!(
            "is called °C, and half of its days go up and down by {swing:.0} or more, which no place's do"
        )
    } else {
        return Diagnostics::new();
    };
    let problem =
        Diagnostic::new(Location::whole(&of.file), format!("{what}; if these are °F, all is colder"))
            .text(&**column);
    problem.expected("°F in the heading, if that is what they are in").into()
}

fn range(days: &[Day]) -> [f64; 2] {
    let least = days.iter().map(|it| it.least).fold(f64::INFINITY, f64::min);
    [least, days.iter().map(|it| it.most).fold(f64::NEG_INFINITY, f64::max)]
}
