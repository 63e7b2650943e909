//! Weather files whose columns are fixed: rows with a date, an hour and a temperature in °C, one year or months of several.

use super::record::{Entry, Given};
use super::{Form, Hourly, Station};
use crate::climate::columns::{Column, FASTEST, humidity};
use crate::climate::moment;
use crate::climate::rows::{self, AIR, plain};
use crate::climate::spell::DAY;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::units::{self, Measure};
use std::sync::Arc;

/// Of a last row that lacks fields.
pub(super) const CUT_SHORT: &str = "the file looks cut short";
/// What is to be done about it.
pub(super) const FETCH: &str = "the whole file, fetched anew";

/// A day and the time of day, s, from 0 to 86 400.
#[derive(Clone, Copy)]
pub(super) struct Stamp {
    pub year: u32,
    pub month: u32,
    pub day: u32,
    pub clock: f64,
}

/// One row as it stands.
pub(super) struct Line<'t> {
    pub row: u32,
    pub stamp: Stamp,
    pub dry_bulb: &'t str,
    pub humidity: &'t str,
    pub wind: &'t str,
}

/// The rows of a file, as they are read one by one.
pub(super) struct Fixed {
    file: Arc<str>,
    dry_bulb: Arc<str>,
    /// The form's own number for a temperature that is missing.
    code: f64,
    rows: Vec<(Stamp, Entry)>,
    labelled: Vec<f64>,
    missing: Vec<u32>,
    wrong: Diagnostics,
    /// What refuses the file.
    pub problems: Diagnostics,
}

impl Fixed {
    pub fn new(file: &str, dry_bulb: &str, code: f64) -> Self {
        let (rows, labelled, missing) = (Vec::new(), Vec::new(), Vec::new());
        let (file, dry_bulb) = (file.into(), dry_bulb.into());
        Self {
            file,
            dry_bulb,
            code,
            rows,
            labelled,
            missing,
            wrong: Diagnostics::new(),
            problems: Diagnostics::new(),
        }
    }

    /// Refuses the file for a row.
    pub fn refuse(&mut self, row: u32, what: impl Into<String>, text: &str, expected: &str) {
        let problem = Diagnostic::new(Location::cell(&self.file, row, None), what);
        let problem = if text.is_empty() { problem } else { problem.text(text) };
        self.problems.push(problem.expected(expected));
    }

    /// Takes a row with its fields.
    pub fn take(&mut self, line: &Line<'_>) {
        let Stamp { year, month, day, .. } = line.stamp;
        if !(1800..=2200).contains(&year)
            || !(1..=12).contains(&month)
            || day < 1
            || day > moment::days_in(year, month)
        {
            let text = format!("{year}-{month}-{day}");
            let expected = "a year of four digits, a month 1 to 12 and a day that it has";
            return self.refuse(line.row, "is no date there is", &text, expected);
        }
        let kelvin = self.kelvin(line.row, line.dry_bulb.trim());
        let humidity = plain(line.humidity.trim()).and_then(|it| humidity(it / 100.0));
        let wind = plain(line.wind.trim()).filter(|it| (0.0..=FASTEST).contains(it));
        self.rows.push((line.stamp, Entry { time: 0.0, kelvin, humidity, wind, row: line.row }));
    }

    fn kelvin(&mut self, row: u32, text: &str) -> Option<f64> {
        let celsius = plain(text);
        let is_code = celsius.is_some_and(|it| (it - self.code).abs() < 1e-9);
        if text.is_empty() || is_code || rows::is_mark(text) {
            self.missing.push(row);
            return None;
        }
        let kelvin = celsius.map(|it| it + 273.15);
        self.labelled.extend(kelvin);
        let air = kelvin.filter(|it| (AIR[0]..=AIR[1]).contains(it));
        if air.is_none() {
            let place = Location::cell(&self.file, row, Some(&self.dry_bulb));
            let what = "is no temperature that air has outdoors in °C";
            self.wrong.push(Diagnostic::new(place, what).text(text).expected("one from -80 to 57"));
        }
        air
    }

    /// Puts the rows on one clock. `means_typical`: the file calls itself a typical year.
    pub fn finish(
        mut self,
        form: Form,
        station: Station,
        means_typical: bool,
        notes: Diagnostics,
    ) -> Result<Hourly, Diagnostics> {
        let place =
            Location::cell(&self.file, self.rows.first().map_or(1, |it| it.1.row), Some(&self.dry_bulb));
        let celsius = units::find_unit("°C").filter(|it| it.to_si(0.0, Measure::Temperature).is_some());
        let column = Column { index: 0, name: self.dry_bulb.clone(), unit: celsius, place };
        if let Some(problem) = rows::implausible(&column, std::mem::take(&mut self.labelled)) {
            self.problems.push(problem.expected("°C, in which this form keeps it"));
            self.wrong.take();
        }
        let several_years = self.rows.windows(2).any(|pair| pair[0].0.year != pair[1].0.year);
        // One pass of the calendar, whatever the years: no record of real years does that.
        let position = |it: &Stamp| (it.month, it.day, it.clock);
        let one_pass = self.rows.windows(2).all(|pair| position(&pair[0].0) < position(&pair[1].0));
        let typical = one_pass && (several_years || means_typical);
        let has_leap_day = self.rows.iter().any(|(it, _)| (it.month, it.day) == (2, 29));
        let stands_in = if has_leap_day { 1972 } else { 1970 };
        // A row at 0:00 is no end of an hour.
        let ends_hour = self.rows.iter().all(|(it, _)| it.clock > 0.0);
        let entries = self.rows.into_iter().map(|(it, entry)| {
            let year = if typical { stands_in } else { it.year };
            Entry { time: moment::days_from_civil(year, it.month, it.day) * DAY + it.clock, ..entry }
        });
        let given = Given {
            file: self.file,
            form,
            station,
            entries: entries.collect(),
            time_name: None,
            temperature_name: self.dry_bulb,
            typical,
            pieced: typical && several_years,
            celsius: true,
            dated: true,
            ends_hour,
            missing: self.missing,
            wrong: self.wrong,
            notes,
        };
        if self.problems.is_empty() { given.build() } else { Err(self.problems) }
    }
}

/// A text that says something: not blank and none of the marks that stand for nothing.
pub(super) fn said(text: &str) -> Option<Arc<str>> {
    let text = text.trim().trim_matches('"').trim();
    (!["", "-", "--", "unknown", "n/a"].contains(&text.to_lowercase().as_str())).then(|| text.into())
}

/// A number of a header line within its range, or nothing and a note.
pub(super) fn figure(
    name: &str,
    text: &str,
    [least, most]: [f64; 2],
    place: &Location,
    notes: &mut Diagnostics,
) -> Option<f64> {
    let text = text.trim();
    let read = text.parse::<f64>().ok().filter(|it| (least..=most).contains(it));
    if read.is_none() && said(text).is_some() {
        let what = format!("is no {name} a climate can have, and is left out");
        notes.push(Diagnostic::new(place.clone(), what).text(text).expected(format!("{least} to {most}")));
    }
    read
}
