//! Hours of weather on one clock: what every file form is read into, and what all statistics are drawn from.

use super::calendar::{DAY, HOUR, format_time, hours, weekday};
use super::warning::Warning;
use crate::diag::Diagnostics;
use std::sync::Arc;

/// Consecutive hours further apart than this many of the usual steps have a gap between them.
const GAP: f64 = 1.5;
/// Gaps of up to this long are bridged by a straight line, s.
pub(crate) const LONGEST_GAP: f64 = 6.0 * HOUR;
/// K from one hour to the next. Fronts and chinooks stay below it nearly everywhere.
const LARGEST_JUMP: f64 = 25.0;
/// 0 °C, K.
pub(crate) const FREEZING: f64 = 273.15;

/// The form of a file of hours, recognized by its content.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Weather of 35 fields an hour under eight header lines, `LOCATION` first.
    Epw,
    /// A typical year under a line of the station and a line of column names.
    Tmy3,
    /// A table of times and outdoor temperatures.
    Table,
}

impl Form {
    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Self::Epw => "EPW",
            Self::Tmy3 => "TMY3",
            Self::Table => "a table of times and temperatures",
        }
    }
}

/// Where the weather was measured, as far as the file says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Station {
    /// Its name.
    pub name: Option<Arc<str>>,
    /// State or province.
    pub state: Option<Arc<str>>,
    /// Country.
    pub country: Option<Arc<str>>,
    /// Its number (WMO).
    pub number: Option<Arc<str>>,
    /// Degrees north.
    pub latitude: Option<f64>,
    /// Degrees east.
    pub longitude: Option<f64>,
    /// m above sea level.
    pub elevation: Option<f64>,
    /// Hours its clock is ahead of UTC.
    pub utc_offset: Option<f64>,
}

/// Which years the hours are of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum YearType {
    /// As they were measured.
    Real,
    /// A typical year by the file's own heading.
    CalledTypical,
    /// A typical year put together from months of different years.
    Composed,
}

/// The weather at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hour {
    /// s on the file's one clock: since the start of 1970 where its rows have dates, else as they count. A typical year
    /// is placed in 1970, or in 1972 if it has a 29 February.
    pub time: f64,
    /// The time it represents, s: until the next, and the usual step about it at most.
    pub lasts: f64,
    /// Outdoor dry bulb, K.
    pub kelvin: f64,
    /// The row it was read from; `None` if a straight line bridges a gap.
    pub row: Option<u32>,
}

/// A stretch between two temperatures in which others are missing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The last temperature before it, s, and its row.
    pub from: (f64, u32),
    /// The first one after it, s, and its row.
    pub to: (f64, u32),
    /// The usual step about it, s.
    pub step: f64,
    /// Whether it is bridged by a straight line: 6 h at most.
    pub bridged: bool,
}

/// Hours of weather on one clock, in order of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Hourly {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// Its form.
    pub form: Form,
    /// Where it was measured.
    pub station: Station,
    /// The hours, including those that bridge a gap.
    pub hours: Vec<Hour>,
    /// The usual step from one to the next, s.
    pub step: f64,
    /// Which years they are of.
    pub year_type: YearType,
    /// Whether the rows have dates.
    pub dated: bool,
    /// Whether the rows have weekdays without dates.
    pub has_weekdays: bool,
    /// Whether a row represents the time before it, so that 24:00 belongs to the day it ends.
    pub ends_hour: bool,
    /// Rows without a valid temperature.
    pub missing: usize,
    /// Gaps between temperatures, bridged or not.
    pub gaps: Vec<Gap>,
    /// What is doubtful, in the order it was found.
    pub(crate) warnings: Vec<Warning>,
}

impl Hourly {
    /// Whether it is a year of typical months, which understates extremes.
    pub fn is_typical(&self) -> bool {
        self.year_type != YearType::Real
    }

    /// The warnings as located lines.
    pub fn diagnostics(&self) -> Diagnostics {
        self.warnings.iter().map(|warning| warning.diagnostic(&self.file)).collect()
    }

    /// How many gaps are bridged by a straight line.
    pub fn bridged(&self) -> usize {
        self.gaps.iter().filter(|gap| gap.bridged).count()
    }

    /// The hours that were measured, without those on a straight line over a gap.
    pub fn measured(&self) -> impl DoubleEndedIterator<Item = &Hour> {
        self.hours.iter().filter(|hour| hour.row.is_some())
    }

    /// The time it covers, s, including gaps.
    pub fn span(&self) -> f64 {
        match self.hours.as_slice() {
            [first, .., last] => last.time - first.time + last.lasts,
            _ => 0.0,
        }
    }

    /// A time of it as people write it: `1999-01-14 05:00`, without a year in a typical year, `Fri 05:00`, or
    /// `hour 12.5`.
    pub fn time_label(&self, time: f64) -> String {
        if self.has_weekdays {
            return format!("{} {}", weekday(time), &format_time(time)[11..]);
        }
        if !self.dated {
            return format!("hour {}", hours(time));
        }
        // Midnight is the end of a day where rows represent the time before them.
        let is_midnight = self.ends_hour && time.rem_euclid(DAY) == 0.0;
        let text = if is_midnight {
            let day_before = format_time(time - DAY);
            format!("{}24:00", day_before.trim_end_matches("00:00"))
        } else {
            format_time(time)
        };
        if self.is_typical() { text.split_once('-').map_or("", |(_, rest)| rest).to_owned() } else { text }
    }

    /// Stretches of hours without a gap.
    pub(super) fn stretches(&self) -> impl Iterator<Item = &[Hour]> {
        self.hours.chunk_by(|hour, next| !has_gap(hour, next))
    }
}

/// Whether hours are missing between two consecutive ones.
pub(super) fn has_gap(hour: &Hour, next: &Hour) -> bool {
    next.time - hour.time > GAP * hour.lasts
}

/// Whether a step from one temperature (K) to the next is more than air makes.
pub(super) fn is_jump(a: f64, b: f64, apart: f64) -> bool {
    (b - a).abs() > LARGEST_JUMP * (apart / HOUR).max(1.0)
}
