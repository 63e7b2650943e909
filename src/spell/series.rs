//! A cold spell from a series of outdoor temperatures that a weather station or a logger recorded.

use super::clock::Clock;
use super::cold_spell::{Spell, SpellKind};
use super::window;
use crate::diag::{Diagnostics, Location};
use crate::weather::{DAY, Form, Hourly, WeatherError};

/// A longer series is a season, in which a spell must be searched for.
const LONGEST_WHOLE: f64 = 31.0 * DAY;
/// The longest spell that is looked for.
const LONGEST_SPELL: f64 = 366.0 * DAY;

impl Spell {
    /// Reads a series from a file that [`Hourly`] reads: what it warns of is counted. Returns all errors at once.
    ///
    /// `days`: the stretch of that many days with the lowest mean that begins or ends at a row, without a gap longer than
    /// 6 h, and up to 24 h before it as a lead-in; without it the whole series, of at most 31 days. Gaps of up to 6 h are
    /// bridged by a straight line and counted in [`SpellKind::Series`].
    pub fn series(file: &str, bytes: &[u8], days: Option<f64>) -> Result<Self, Diagnostics> {
        cut(&Hourly::read(file, bytes)?, days)
    }
}

/// The gaps that are too long to bridge, each at its end.
fn long_gaps(hourly: &Hourly) -> Diagnostics {
    let gaps = hourly.gaps.iter().filter(|gap| !gap.bridged);
    let errors = gaps.map(|gap| {
        let before = hourly.time_label(gap.from.0);
        let error = WeatherError::LongGap { apart: gap.to.0 - gap.from.0, before, row: gap.from.1 };
        error.at(Location::cell(&hourly.file, gap.to.1, None)).text(hourly.time_label(gap.to.0))
    });
    errors.collect()
}

/// The clock of a spell that starts at a time of a series.
fn clock(hourly: &Hourly, start: f64) -> Clock {
    let is_utc = hourly.form == Form::Table && hourly.station.utc_offset == Some(0.0);
    match hourly.dated {
        true if hourly.is_typical() => Clock::Dates { start },
        is_dated if is_dated || hourly.has_weekdays => Clock::Weekdays { start, is_dated, is_utc },
        _ => Clock::FromStart,
    }
}

/// The part of a series that is used.
fn cut(hourly: &Hourly, days: Option<f64>) -> Result<Spell, Diagnostics> {
    let knots: Vec<[f64; 2]> = hourly.measured().map(|hour| [hour.time, hour.kelvin]).collect();
    let error = |error: WeatherError| Err(error.at(Location::whole(&hourly.file)).into());
    let ([begin, _], [end, _]) = match knots.as_slice() {
        [first, .., last] => (*first, *last),
        _ => return error(WeatherError::TooFewRows { rows: knots.len() }),
    };
    let span = end - begin;
    let (from, to, lead) = match days.map(|days| days * DAY) {
        None if span > LONGEST_WHOLE => return error(WeatherError::NoDaysAsked { span }),
        None => {
            long_gaps(hourly).or(())?;
            (begin, end, None)
        }
        Some(wanted) if !(wanted > 0.0 && wanted <= LONGEST_SPELL) => {
            return error(WeatherError::DaysOutOfRange);
        }
        Some(wanted) if wanted > span => return error(WeatherError::ShorterThanSpell { span, wanted }),
        Some(wanted) => {
            let is_joined = |a: &[f64; 2], b: &[f64; 2]| {
                !hourly.gaps.iter().any(|gap| !gap.bridged && gap.from.0 >= a[0] && gap.to.0 <= b[0])
            };
            let joined = knots.chunk_by(is_joined);
            let found = joined.filter_map(|part| Some((window::coldest(part, wanted)?, part[0][0])));
            let coldest = found.reduce(|best, it| if it.0.1 < best.0.1 { it } else { best });
            let Some(((start, _), first)) = coldest else {
                return Err(long_gaps(hourly));
            };
            let from = first.max(start - DAY);
            (from, start + wanted, Some(start - from))
        }
    };
    // A gap that the window cuts into is one of those it relies on.
    let gaps = hourly.gaps.iter().filter(|gap| gap.to.0 > from && gap.from.0 < to);
    let gaps: Vec<f64> = gaps.map(|gap| gap.to.0 - gap.from.0).collect();
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
    Ok(Spell::of_knots(window::between(&knots, from, to), to - from, kind, clock(hourly, from)))
}
