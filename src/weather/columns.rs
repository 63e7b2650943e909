//! The headings of a table of hours: which columns give times and outdoor temperatures, and in which units.

use super::calendar::join_date;
use super::error::WeatherError;
use super::warning::Warning;
use crate::diag::{Diagnostic, Diagnostics, Location, nearest};
use crate::input::{Row, Table};
use crate::units::{self, Measure, Unit};
use std::borrow::Cow;
use std::sync::Arc;

/// Headings of a column of times, as [`folded`] leaves them; a unit of hours may follow.
const TIMES: &str = "time datetime dateandtime timestamp date hour hours localtime localstandardtime elapsed elapsedtime \
                     elapsedhours utc timeutc utctime datetimeutc timestamputc validtime validtimeutc validtimelocal \
                     forecasttime validdate localhour hourofday timeofday";
/// Headings of a column of dates or weekdays beside one of [`CLOCKS`].
const DATES: &str = "date day weekday localdate validdate";
/// Headings of a column of times of day beside one of [`DATES`].
const CLOCKS: &str = "time hour hours localtime localstandardtime localhour hourofday timeofday validtime";
/// Headings of a column of outdoor temperatures, as [`folded`] leaves them; °F or °C may follow.
const TEMPERATURES: &str = "outdoors outdoor outside outdoortemperature outdoortemp outsidetemperature outsidetemp \
                            outdoorair outdoorairtemperature outdoordrybulb temperature temp airtemperature airtemp \
                            drybulb drybulbtemperature drybulbtemp ambient ambienttemperature ambienttemp oat";
/// Examples of headings, for a table without them.
const TIME_EXAMPLES: &[&str] = &["Time", "Hour", "Date/time", "Timestamp"];
const TEMPERATURE_EXAMPLES: &[&str] =
    &["Outdoors (°F)", "Outdoors (°C)", "Temperature (°F)", "Dry bulb (°F)", "Outdoor temperature (°F)"];
/// Title blocks above the headings are not longer than this.
const MOST_TITLE_ROWS: usize = 40;

/// A column and what its heading says.
pub(super) struct Column {
    pub index: usize,
    pub name: Arc<str>,
    pub unit: Option<&'static Unit>,
    pub location: Location,
}

/// The columns of a table and their heading row.
pub(super) struct Columns {
    /// The number of that row.
    pub heading: u32,
    /// How many cells it has.
    pub width: usize,
    pub time: Column,
    /// Dates or weekdays, where the times are times of day.
    pub date: Option<Column>,
    pub temperature: Column,
    /// What is doubtful about the headings.
    pub warnings: Vec<Warning>,
}

impl Columns {
    /// The time of a row as written, its date included.
    pub fn time_text<'r>(&self, row: &'r Row) -> Cow<'r, str> {
        let clock = row.cell(self.time.index).trim();
        match &self.date {
            Some(date) => join_date(row.cell(date.index).trim(), clock).into(),
            None => clock.into(),
        }
    }
}

/// Finds the heading row and its columns.
pub(super) fn find_columns(table: &Table, errors: &mut Diagnostics) -> Option<Columns> {
    let hours: Vec<_> = units::find_unit("h").into_iter().collect();
    // K is a unit of differences here, so that a column of kelvin is reported rather than ignored.
    let degrees: Vec<_> = ["°F", "°C", "K"].iter().filter_map(|name| units::find_unit(name)).collect();
    let mut incomplete = None;
    for row in table.rows.iter().take(MOST_TITLE_ROWS) {
        let is_one_of = |text: &str, names: &str| names.split(' ').any(|name| name == folded(text));
        let mut times = matching(table, row, TIMES, &hours);
        let clocks = times.iter().filter(|column| is_one_of(&column.name, CLOCKS)).count();
        let dates = matching(table, row, DATES, &[]).into_iter();
        let date = dates.into_iter().next().filter(|date| {
            clocks == 1 && times.iter().all(|time| time.index == date.index || is_one_of(&time.name, CLOCKS))
        });
        times.retain(|time| date.as_ref().is_none_or(|date| date.index != time.index));
        let mut times = times.into_iter();
        let mut temperatures = matching(table, row, TEMPERATURES, &degrees).into_iter();
        let (mut time, temperature) = match (times.next(), temperatures.next()) {
            (Some(time), Some(temperature)) => (time, temperature),
            (None, None) => continue,
            (time, _) => {
                incomplete = incomplete.or(Some((row, time.is_none())));
                continue;
            }
        };
        for (first, second, expected) in [
            (&time.name, times.next(), "date and time of day in one column"),
            (&temperature.name, temperatures.next(), "one column of outdoor temperatures"),
        ] {
            if let Some(second) = second {
                let error = WeatherError::SecondColumn { first: first.to_string(), expected };
                errors.push(error.at(second.location).text(&*second.name));
            }
        }
        let is_scale = |unit: &Unit| unit.to_si(1.0, Measure::Temperature).is_some();
        if temperature.unit.is_some_and(|unit| !is_scale(unit)) {
            errors.push(WeatherError::NotTemperatureUnit.at(temperature.location).text(&*temperature.name));
            return None;
        }
        // "Hour" names its own unit.
        if date.is_none() && folded(&time.name).contains("hour") {
            time.unit = hours.first().copied();
        }
        let mut warnings = Vec::new();
        if time.name.to_lowercase().contains("utc") {
            warnings.push(Warning::UtcHeading { heading: time.name.clone(), at: time.location.clone() });
        }
        let (heading, width) = (row.number, row.cells.len());
        return Some(Columns { heading, width, time, date, temperature, warnings });
    }
    errors.push(match incomplete {
        Some((row, no_time)) => missing_heading(table, row, no_time),
        None => WeatherError::NoHeadings.at(Location::whole(&table.file)),
    });
    None
}

/// The error of a heading row with a time or a temperature but not both.
fn missing_heading(table: &Table, row: &Row, no_time: bool) -> Diagnostic {
    let (of, examples) =
        if no_time { ("time", TIME_EXAMPLES) } else { ("outdoor temperature", TEMPERATURE_EXAMPLES) };
    let error = WeatherError::NoHeading { of, examples: examples.join(", ") };
    let near = row.cells.iter().find_map(|cell| nearest(cell.trim(), examples.iter().copied()));
    let error = error.at(Location::cell(&table.file, row.number, None));
    Diagnostic { nearest: near.map(Into::into), ..error }
}

/// The columns of a row whose headings are among these.
fn matching(table: &Table, row: &Row, names: &str, units: &[&'static Unit]) -> Vec<Column> {
    let columns = row.cells.iter().enumerate().filter_map(|(index, text)| {
        let unit = match_heading(text, names, units)?;
        let name: Arc<str> = text.trim().into();
        let at = Location::cell(&table.file, row.number, Some(&name));
        Some(Column { index, name, unit, location: at })
    });
    columns.collect()
}

/// The unit of a heading that is one of these names; `Some(None)` if it gives none.
fn match_heading(text: &str, names: &str, units: &[&'static Unit]) -> Option<Option<&'static Unit>> {
    let words = folded(text);
    let find = |name: &str| units.iter().find(|unit| unit.names.iter().any(|it| folded(it) == name)).copied();
    names.split_whitespace().find_map(|name| match words.strip_prefix(name)? {
        "" => Some(None),
        rest => find(rest).or_else(|| find(rest.strip_prefix("in")?)).map(Some),
    })
}

/// A heading as it is compared: letters and digits in lower case.
fn folded(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}
