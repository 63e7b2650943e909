//! From rows to hours on one clock: checks the order of times and bridges short gaps.

use super::calendar::HOUR;
use super::doubts::{CellDoubts, find_doubts};
use super::error::WeatherError;
use super::hourly::{Form, Gap, Hour, Hourly, LONGEST_GAP, Station, YearType, has_gap};
use super::warning::Warning;
use crate::diag::{Diagnostic, Diagnostics, Location};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Of a hundred rows at most this many may have an invalid temperature; a file with more is not what it seems.
const MOST_INVALID_IN_A_HUNDRED: usize = 1;
/// One temperature has no step.
const FEWEST: usize = 2;
/// Steps to either side that show how close rows are at a row: two days of hours.
const STEPS_AROUND: usize = 24;

/// A row with its time.
pub(super) struct Entry {
    pub time: f64,
    pub kelvin: Option<f64>,
    pub row: u32,
    /// The cells of the time and the temperature, where each is one cell.
    pub texts: Option<[Box<str>; 2]>,
}

/// What any form of file gives.
pub(super) struct Record {
    pub file: Arc<str>,
    pub form: Form,
    pub station: Station,
    pub entries: Vec<Entry>,
    /// The heading of the times, where they have one column.
    pub time_heading: Option<Arc<str>>,
    pub year_type: YearType,
    pub dated: bool,
    pub has_weekdays: bool,
    pub ends_hour: bool,
    pub cells: CellDoubts,
    pub warnings: Vec<Warning>,
}

impl Record {
    /// The hours of the record with their warnings. `errors` are those found so far.
    pub fn build(self, mut errors: Diagnostics) -> Result<Hourly, Diagnostics> {
        if self.cells.invalid.len() * 100 > self.entries.len() * MOST_INVALID_IN_A_HUNDRED {
            errors.extend(self.cells.invalid.iter().cloned());
        }
        let mut hourly = Hourly {
            file: self.file.clone(),
            form: self.form,
            station: self.station.clone(),
            hours: Vec::new(),
            step: usual_step(self.entries.iter().map(|entry| entry.time)),
            year_type: self.year_type,
            dated: self.dated,
            has_weekdays: self.has_weekdays,
            ends_hour: self.ends_hour,
            missing: self.cells.missing.len() + self.cells.invalid.len(),
            gaps: Vec::new(),
            warnings: Vec::new(),
        };
        self.check_order(&hourly, &mut errors);
        let known = self.entries.iter().filter(|entry| entry.kelvin.is_some()).count();
        if errors.is_empty() && known < FEWEST {
            errors.push(WeatherError::TooFewRows { rows: known }.at(Location::whole(&self.file)));
        }
        if !errors.is_empty() {
            return Err(once(errors));
        }
        (hourly.hours, hourly.gaps) = fill(&self.entries, hourly.step);
        hourly.warnings = self.warnings;
        let doubts = find_doubts(&hourly, self.cells);
        hourly.warnings.extend(doubts);
        Ok(hourly)
    }

    /// Reports times that do not ascend, and rows too far apart.
    fn check_order(&self, hourly: &Hourly, errors: &mut Diagnostics) {
        let is_sparse = hourly.step > LONGEST_GAP;
        if is_sparse {
            errors.push(WeatherError::SparseRows { step: hourly.step }.at(Location::whole(&self.file)));
        }
        let label = |entry: &Entry| match &entry.texts {
            Some([time, _]) => time.to_string(),
            None => hourly.time_label(entry.time),
        };
        let mut out_of_order = [Vec::new(), Vec::new()];
        let mut entries = self.entries.iter();
        let Some(mut last) = entries.next() else { return };
        for entry in entries {
            let at = |heading| Location::cell(&self.file, entry.row, heading);
            let (apart, row) = (entry.time - last.time, last.row);
            let error = if apart == 0.0 {
                Some(WeatherError::RepeatedTime { row })
            } else if apart < 0.0 {
                Some(WeatherError::EarlierTime { before: label(last), row })
            } else {
                None
            };
            if let Some(error) = error {
                let of_kind = &mut out_of_order[usize::from(apart < 0.0)];
                of_kind.push(error.at(at(self.time_heading.as_ref())).text(label(entry)));
            }
            if apart <= 0.0 {
                continue;
            }
            last = entry;
        }
        errors.extend(out_of_order.into_iter().filter_map(first_of));
    }
}

/// Errors in the order of their rows, each error of a column once with a count.
fn once(errors: Diagnostics) -> Diagnostics {
    let mut alike: Vec<Vec<Diagnostic>> = Vec::new();
    let mut index = BTreeMap::new();
    for error in errors {
        let key = (error.location.heading().cloned(), error.message.clone());
        let at = *index.entry(key).or_insert(alike.len());
        if at == alike.len() {
            alike.push(Vec::new());
        }
        alike[at].push(error);
    }
    let mut errors: Diagnostics = alike.into_iter().filter_map(first_of).collect();
    errors.sort_by_key(|error| error.location.row());
    errors
}

/// The first of some errors of one kind, with how many more there are.
fn first_of(errors: Vec<Diagnostic>) -> Option<Diagnostic> {
    let more = errors.len().saturating_sub(1);
    let first = errors.into_iter().min_by_key(|error| error.location.row())?;
    let rows = if more == 1 { "row" } else { "rows" };
    let message =
        if more == 0 { first.message } else { format!("{}, and so in {more} more {rows}", first.message) };
    Some(Diagnostic { message, ..first })
}

/// The hours that are known, with straight lines over gaps that are short enough, and the gaps.
fn fill(entries: &[Entry], usual: f64) -> (Vec<Hour>, Vec<Gap>) {
    let times: Vec<f64> = entries.iter().map(|entry| entry.time).collect();
    let mut hours: Vec<Hour> = Vec::with_capacity(entries.len());
    let mut gaps = Vec::new();
    for (entry, step) in entries.iter().zip(steps_around(&times, usual)) {
        let Some(kelvin) = entry.kelvin else { continue };
        let &Entry { time, row, .. } = entry;
        let hour = Hour { time, lasts: step, kelvin, row: Some(row) };
        if let Some(last) = hours.last().copied()
            && has_gap(&last, &hour)
        {
            let apart = time - last.time;
            // Six hourly rows are missing between two that are seven hours apart.
            let bridged = apart <= LONGEST_GAP + last.lasts.min(HOUR);
            let from = (last.time, last.row.unwrap_or_default());
            gaps.push(Gap { from, to: (time, row), step: last.lasts, bridged });
            let parts = (apart / last.lasts).round();
            let mut part = 1.0;
            while bridged && part < parts {
                let along = part / parts;
                hours.push(Hour {
                    time: last.time + along * apart,
                    kelvin: last.kelvin + along * (kelvin - last.kelvin),
                    row: None,
                    ..last
                });
                part += 1.0;
            }
        }
        hours.push(hour);
    }
    for next in 1..hours.len() {
        hours[next - 1].lasts = hours[next - 1].lasts.min(hours[next].time - hours[next - 1].time);
    }
    (hours, gaps)
}

/// The median of the steps forward, s.
pub(super) fn usual_step(times: impl Iterator<Item = f64> + Clone) -> f64 {
    let pairs = times.clone().zip(times.skip(1));
    let mut steps: Vec<f64> = pairs.map(|(a, b)| b - a).filter(|step| *step > 0.0).collect();
    steps.sort_by(f64::total_cmp);
    steps.get(steps.len().saturating_sub(1) / 2).copied().unwrap_or(0.0)
}

/// The usual step about each time, s: the median of the steps near it where that is longer than the usual one of all and
/// not too long to bridge. A record whose rows are further apart for a while has no gaps there.
fn steps_around(times: &[f64], usual: f64) -> Vec<f64> {
    let steps: Vec<f64> = times.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let around = |at: usize| {
        // A step that is not longer may yet end in a row without a temperature.
        let end = (at + STEPS_AROUND + 1).min(steps.len());
        let near = steps.get(at.saturating_sub(STEPS_AROUND)..end).unwrap_or(&[]);
        if near.iter().all(|step| *step <= usual) {
            return usual;
        }
        let mut near = near.to_vec();
        let middle = near.len().saturating_sub(1) / 2;
        let (_, median, _) = near.select_nth_unstable_by(middle, f64::total_cmp);
        if *median <= LONGEST_GAP { median.max(usual) } else { usual }
    };
    (0..times.len()).map(around).collect()
}
