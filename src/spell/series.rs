//! A cold spell from a series of outdoor temperatures that a weather station or a logger recorded.

use super::cold_spell::{Spell, SpellKind};
use super::window;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::weather::{DAY, Hourly, LONGEST_SERIES, WeatherError, usual_step};

/// A longer series is a season, in which a spell must be searched for.
const LONGEST_WHOLE: f64 = 31.0 * DAY;

impl Spell {
    /// Reads a series from a file that [`Hourly`] reads. Every row of a table must have a temperature; the hours that a
    /// weather file marks as missing count as a gap. Returns all errors at once, each at its cell.
    ///
    /// `days`: the stretch of that many days with the lowest mean that begins or ends at a row, and up to 24 h before it
    /// as a lead-in; without it the whole series, of at most 31 days. Gaps of up to 6 h are bridged by a straight line and
    /// counted in [`SpellKind::Series`].
    pub fn series(file: &str, bytes: &[u8], days: Option<f64>) -> Result<Self, Diagnostics> {
        let hourly = Hourly::read_complete(file, bytes)?;
        check_gaps_and_length(&hourly)?;
        Ok(cut(&hourly, days)?)
    }
}

fn check_gaps_and_length(hourly: &Hourly) -> Result<(), Diagnostics> {
    let mut errors = Diagnostics::new();
    for gap in hourly.gaps.iter().filter(|gap| !gap.bridged) {
        let before = hourly.time_label(gap.from.0);
        let error = WeatherError::LongGap { apart: gap.to.0 - gap.from.0, before, row: gap.from.1 };
        let at = Location::cell(&hourly.file, gap.to.1, None);
        errors.push(error.at(at).text(hourly.time_label(gap.to.0)));
    }
    if let (Some(first), Some(last)) = (hourly.measured().next(), hourly.measured().next_back())
        && last.time - first.time > LONGEST_SERIES
    {
        let at = Location::cell(&hourly.file, last.row.unwrap_or_default(), None);
        let error = WeatherError::TooLong { span: last.time - first.time };
        errors.push(error.at(at).text(hourly.time_label(last.time)));
    }
    errors.or(())
}

/// The part of a series that is used.
fn cut(hourly: &Hourly, days: Option<f64>) -> Result<Spell, Diagnostic> {
    let knots: Vec<[f64; 2]> = hourly.measured().map(|hour| [hour.time, hour.kelvin]).collect();
    let error = |error: WeatherError| Err(error.at(Location::whole(&hourly.file)));
    let ([begin, _], [end, _]) = match knots.as_slice() {
        [first, .., last] => (*first, *last),
        _ => return error(WeatherError::TooFewRows { rows: knots.len() }),
    };
    let span = end - begin;
    let (from, to, lead) = match days.map(|days| days * DAY) {
        None if span > LONGEST_WHOLE => return error(WeatherError::NoDaysAsked { span }),
        None => (begin, end, None),
        Some(wanted) if !(wanted > 0.0 && wanted <= LONGEST_SERIES) => {
            return error(WeatherError::DaysOutOfRange);
        }
        Some(wanted) if wanted > span => return error(WeatherError::ShorterThanSpell { span, wanted }),
        Some(wanted) => {
            let start = window::coldest(&knots, wanted);
            let from = begin.max(start - DAY);
            (from, start + wanted, Some(start - from))
        }
    };
    let step = usual_step(knots.iter().map(|knot| knot[0]));
    // A gap that the window cuts into is one of those it relies on.
    let pairs = knots.windows(2).filter(|pair| pair[1][0] > from && pair[0][0] < to);
    let gaps: Vec<f64> =
        pairs.map(|pair| pair[1][0] - pair[0][0]).filter(|apart| *apart > 1.5 * step).collect();
    let used: Vec<f64> = knots.iter().map(|knot| knot[0]).filter(|time| (from..=to).contains(time)).collect();
    let label = |time: Option<&f64>| time.map_or(String::new(), |time| hourly.time_label(*time)).into();
    let kind = SpellKind::Series {
        file: hourly.file.clone(),
        typical: hourly.is_typical(),
        warnings: hourly.warnings.len(),
        from: label(used.first()),
        to: label(used.last()),
        rows: used.len(),
        lead,
        gaps: gaps.len(),
        longest_gap: gaps.iter().copied().fold(0.0, f64::max),
    };
    Ok(Spell::of_knots(window::between(&knots, from, to), to - from, kind))
}
