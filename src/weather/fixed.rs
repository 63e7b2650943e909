//! Weather files with fixed columns: rows with a date, an hour and a temperature in °C, of one year or months of several.

use super::calendar::{DAY, days_from_civil, days_in_month};
use super::cells::{air, check_label, is_missing_mark, plain_number};
use super::doubts::CellDoubts;
use super::error::WeatherError;
use super::hourly::{FREEZING, Form, Hourly, Station, YearType};
use super::record::{Entry, Record};
use super::warning::Warning;
use crate::diag::{Diagnostics, Location};
use crate::units::find_unit;
use std::sync::Arc;

/// A day and the time of day, s, from 0 to 86 400.
#[derive(Clone, Copy)]
pub(super) struct Stamp {
    pub year: u32,
    pub month: u32,
    pub day: u32,
    pub clock: f64,
}

/// The rows of a file, as they are read one by one.
#[derive(Default)]
pub(super) struct FixedRows {
    file: Arc<str>,
    dry_bulb: Arc<str>,
    /// The form's own number for a missing temperature.
    missing_code: f64,
    rows: Vec<(Stamp, Entry)>,
    labeled: Vec<f64>,
    missing: Vec<u32>,
    invalid: Diagnostics,
    pub warnings: Vec<Warning>,
    /// What makes the file unreadable.
    pub errors: Diagnostics,
}

impl FixedRows {
    pub fn new(file: &str, dry_bulb: &str, missing_code: f64) -> Self {
        Self { file: file.into(), dry_bulb: dry_bulb.into(), missing_code, ..Self::default() }
    }

    /// Where a row is.
    pub fn at(&self, row: u32) -> Location {
        Location::cell(&self.file, row, None)
    }

    /// Adds an error at a row.
    pub fn error(&mut self, row: u32, error: &WeatherError, text: &str) {
        let error = error.at(self.at(row));
        self.errors.push(if text.is_empty() { error } else { error.text(text) });
    }

    /// Whether a row has enough fields; otherwise adds an error. In the last row it is that the file is cut short.
    pub fn check_fields(
        &mut self,
        row: u32,
        [found, wanted]: [usize; 2],
        is_last: bool,
        expected: &'static str,
    ) -> bool {
        if found < wanted && is_last {
            self.error(row, &WeatherError::CutShort { found, wanted, of: "fields" }, "");
        } else if found < wanted {
            self.error(row, &WeatherError::FieldCount { found, wanted, expected }, "");
        }
        found >= wanted
    }

    /// Adds a row with its dry bulb.
    pub fn push(&mut self, row: u32, stamp: Stamp, dry_bulb: &str) {
        let Stamp { year, month, day, .. } = stamp;
        let is_date = (1800..=2200).contains(&year)
            && (1..=12).contains(&month)
            && (1..=days_in_month(year, month)).contains(&day);
        if !is_date {
            return self.error(row, &WeatherError::NoSuchDate, &format!("{year}-{month}-{day}"));
        }
        let kelvin = self.kelvin(row, dry_bulb.trim());
        self.rows.push((stamp, Entry { time: 0.0, kelvin, row, texts: None }));
    }

    fn kelvin(&mut self, row: u32, text: &str) -> Option<f64> {
        let celsius = plain_number(text);
        let is_code = celsius.is_some_and(|celsius| (celsius - self.missing_code).abs() < 1e-9);
        if text.is_empty() || is_code || is_missing_mark(text) {
            self.missing.push(row);
            return None;
        }
        let kelvin = celsius.map(|celsius| celsius + FREEZING);
        self.labeled.extend(kelvin);
        let kelvin = kelvin.and_then(air);
        if kelvin.is_none() {
            let at = Location::cell(&self.file, row, Some(&self.dry_bulb));
            self.invalid.push(WeatherError::OutOfRangeCelsius.at(at).text(text));
        }
        kelvin
    }

    /// Puts the rows on one clock. `called_typical`: the file calls itself a typical year.
    pub fn finish(
        mut self,
        form: Form,
        station: Station,
        called_typical: bool,
    ) -> Result<Hourly, Diagnostics> {
        let first_row = self.rows.first().map_or(1, |(_, entry)| entry.row);
        let at = Location::cell(&self.file, first_row, Some(&self.dry_bulb));
        let expected = Some("°C, the unit of this form");
        if let Some(error) = check_label(&self.dry_bulb, find_unit("°C"), self.labeled, &at, expected) {
            self.errors.push(error);
            self.invalid.take();
        }
        if !self.errors.is_empty() {
            return Err(self.errors);
        }
        let several_years = self.rows.windows(2).any(|pair| pair[0].0.year != pair[1].0.year);
        // One pass through the calendar, with any years: no record of real years does that.
        let of_calendar = |stamp: &Stamp| (stamp.month, stamp.day, stamp.clock);
        let one_pass = self.rows.windows(2).all(|pair| of_calendar(&pair[0].0) < of_calendar(&pair[1].0));
        let year_type = match (one_pass, several_years, called_typical) {
            (true, true, _) => YearType::Composed,
            (true, false, true) => YearType::CalledTypical,
            _ => YearType::Real,
        };
        let has_leap_day = self.rows.iter().any(|(stamp, _)| (stamp.month, stamp.day) == (2, 29));
        let typical_year = if has_leap_day { 1972 } else { 1970 };
        // A row at 0:00 is not the end of an hour.
        let ends_hour = self.rows.iter().all(|(stamp, _)| stamp.clock > 0.0);
        let entries = self.rows.into_iter().map(|(stamp, entry)| {
            let year = if year_type == YearType::Real { stamp.year } else { typical_year };
            Entry { time: days_from_civil(year, stamp.month, stamp.day) * DAY + stamp.clock, ..entry }
        });
        let entries: Vec<Entry> = entries.collect();
        let cells = CellDoubts {
            heading: self.dry_bulb,
            celsius: true,
            rows: entries.len(),
            missing: self.missing,
            invalid: self.invalid,
        };
        let record = Record {
            file: self.file,
            form,
            station,
            entries,
            time_heading: None,
            year_type,
            dated: true,
            has_weekdays: false,
            ends_hour,
            cells,
            warnings: self.warnings,
        };
        record.build(Diagnostics::new())
    }
}

/// A stated text: not blank and not a mark for an unknown value.
pub(super) fn stated(text: &str) -> Option<Arc<str>> {
    let text = text.trim().trim_matches('"').trim();
    (!["", "-", "--", "unknown", "n/a"].contains(&text.to_lowercase().as_str())).then(|| text.into())
}

/// A number of the header line of the station; a warning if it is out of range.
pub(super) fn station_figure(
    name: &'static str,
    text: &str,
    range: [f64; 2],
    at: &Location,
    warnings: &mut Vec<Warning>,
) -> Option<f64> {
    let text = text.trim();
    let number = text.parse::<f64>().ok().filter(|number| (range[0]..=range[1]).contains(number));
    if number.is_none() && stated(text).is_some() {
        warnings.push(Warning::StationFigure { name, text: text.into(), range, at: at.clone() });
    }
    number
}
