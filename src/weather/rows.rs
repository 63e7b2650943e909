//! The rows of a table of times and outdoor temperatures.

use super::calendar::{self, DAY, Stamp};
use super::cells::{air, check_label, is_missing_mark, plain_number};
use super::columns::{Column, Columns, find_columns};
use super::error::WeatherError;
use super::record::Entry;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::Table;
use crate::units::{self, Dim, Measure, Unit};

/// Words for a missing temperature.
const MISSING: [&str; 18] = [
    "n. a.", "#n/a", "no data", "-", "--", "—", "–", "?", "n/a", "na", "nan", "null", "none", "missing", "m",
    "inf", "-inf", "+inf",
];

/// s.
const WEEK: f64 = 7.0 * DAY;

/// What the times of a table are.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) enum Times {
    /// Numbers of hours.
    #[default]
    Hours,
    /// Weekdays with a time of day.
    Weekdays,
    /// Dates with a time of day, on a clock so many seconds ahead of UTC if that is stated.
    Dates { offset: Option<f64> },
}

impl Times {
    fn of(stamp: Option<Stamp>) -> Self {
        match stamp {
            None => Self::Hours,
            Some(Stamp { is_date: true, offset, .. }) => Self::Dates { offset },
            Some(_) => Self::Weekdays,
        }
    }
}

/// What the rows of a table say.
#[derive(Default)]
pub(super) struct Rows {
    pub columns: Option<Columns>,
    /// Rows with a time.
    pub entries: Vec<Entry>,
    /// What their times are.
    pub times: Times,
    /// Temperatures left blank or marked as missing.
    pub missing: Diagnostics,
    /// Temperatures that are not valid.
    pub invalid: Diagnostics,
    /// Everything else: headings, units, times.
    pub errors: Diagnostics,
}

/// A value of a cell.
enum Cell {
    /// SI.
    Value { si: f64, own_unit: bool },
    /// A date or a weekday with a time of day.
    Stamp(Stamp),
    /// A number without a unit, and the error that this is.
    NoUnit(Diagnostic),
}

/// Numbers without a unit: reported once at the heading if no cell has a unit, otherwise at each cell.
#[derive(Default)]
struct UnitCheck {
    any_with_unit: bool,
    errors: Diagnostics,
}

impl UnitCheck {
    /// The value of a cell with a unit, and whether the unit is its own.
    fn value(&mut self, cell: Cell) -> Option<(f64, bool)> {
        match cell {
            Cell::Value { si, own_unit } => {
                self.any_with_unit |= own_unit;
                Some((si, own_unit))
            }
            Cell::Stamp(stamp) => {
                self.any_with_unit = true;
                Some((stamp.time, true))
            }
            Cell::NoUnit(error) => {
                self.errors.push(error);
                None
            }
        }
    }

    fn finish(self, column: &Column, expected: &'static str) -> Diagnostics {
        if self.any_with_unit || self.errors.is_empty() {
            return self.errors;
        }
        WeatherError::NoUnit { expected }.at(column.location.clone()).text(&*column.name).into()
    }
}

/// Reads all rows below the headings.
pub(super) fn read(table: &Table) -> Rows {
    let mut rows = Rows::default();
    let Some(columns) = find_columns(table, &mut rows.errors) else { return rows };
    let (mut time_units, mut temperature_units) = (UnitCheck::default(), UnitCheck::default());
    let (mut labeled, mut out_of_range) = (Vec::new(), Diagnostics::new());
    for row in table.rows.iter().skip_while(|row| row.number <= columns.heading) {
        let (time_text, text) = (columns.time_text(row), row.cell(columns.temperature.index).trim());
        if time_text.is_empty() && text.is_empty() {
            continue;
        }
        let at = |column: &Column| Location::cell(&table.file, row.number, Some(&column.name));
        let mut kelvin = None;
        if let Some(error) = missing_temperature(text) {
            rows.missing.push(located(&error, at(&columns.temperature), text));
        } else {
            let unit = columns.temperature.unit;
            let cell = number(text, Measure::Temperature, unit, "°F", &|| at(&columns.temperature));
            if let Some((value, own_unit)) = rows.invalid.ok(cell).and_then(|it| temperature_units.value(it))
            {
                kelvin = air(value);
                if !own_unit {
                    labeled.push(value);
                }
                if kelvin.is_none() {
                    out_of_range.push(located(&WeatherError::OutOfRange, at(&columns.temperature), text));
                }
            }
        }
        let cell = rows.errors.ok(time(&time_text, columns.time.unit, &|| at(&columns.time)));
        let stamp = match cell {
            Some(Cell::Stamp(stamp)) => Some(stamp),
            _ => None,
        };
        let Some((time, _)) = cell.and_then(|cell| time_units.value(cell)) else { continue };
        if rows.entries.is_empty() {
            rows.times = Times::of(stamp);
        }
        let last = rows.entries.last().map(|entry| entry.time);
        match on_one_clock(rows.times, Times::of(stamp), time, last) {
            Ok(time) => rows.entries.push(Entry {
                time,
                kelvin,
                row: row.number,
                texts: Some([time_text.into(), text.into()]),
            }),
            Err(error) => rows.errors.push(located(&error, at(&columns.time), &time_text)),
        }
    }
    let expected = "a heading such as \"Time (h)\" or \"Hour\", or dates with a time of day";
    rows.errors.extend(time_units.finish(&columns.time, expected));
    let expected = "a heading such as \"Outdoors (°F)\", or °F or °C in every cell";
    rows.errors.extend(temperature_units.finish(&columns.temperature, expected));
    let Column { name, unit, location: at, .. } = &columns.temperature;
    let is_celsius = unit.is_some_and(|unit| unit.names[0] == "°C");
    match check_label(name, *unit, labeled, at, is_celsius.then_some("°F, if that is their unit")) {
        Some(error) => rows.errors.push(error),
        None => rows.invalid.append(&mut out_of_range),
    }
    rows.columns = Some(columns);
    rows
}

/// A time on the clock of the first row, s. Weekdays run on from week to week.
fn on_one_clock(first: Times, own: Times, time: f64, last: Option<f64>) -> Result<f64, WeatherError> {
    match (first, own) {
        (Times::Dates { offset: Some(first) }, Times::Dates { offset: Some(own) }) => Ok(time - own + first),
        (Times::Dates { offset: None }, Times::Dates { offset: None }) | (Times::Hours, Times::Hours) => {
            Ok(time)
        }
        (Times::Dates { .. }, Times::Dates { .. }) => Err(WeatherError::MixedOffsets),
        (Times::Weekdays, Times::Weekdays) => {
            let weeks = last.map_or(0.0, |last| ((last - time) / WEEK).round().max(0.0));
            Ok(time + weeks * WEEK)
        }
        _ => Err(WeatherError::MixedTimes),
    }
}

fn located(error: &WeatherError, at: Location, text: &str) -> Diagnostic {
    let error = error.at(at);
    if text.is_empty() { error } else { error.text(text) }
}

/// Why a cell gives no temperature, if it is blank or a mark for a missing value.
fn missing_temperature(text: &str) -> Option<WeatherError> {
    match text {
        "" => Some(WeatherError::BlankTemperature),
        _ if is_missing_mark(text) => Some(WeatherError::MissingMark),
        _ if MISSING.contains(&text.to_lowercase().as_str()) => Some(WeatherError::NotTemperature),
        _ => None,
    }
}

fn time(text: &str, unit: Option<&'static Unit>, at: &dyn Fn() -> Location) -> Result<Cell, Diagnostic> {
    if text.is_empty() {
        return Err(WeatherError::BlankTime.at(at()));
    }
    if calendar::is_dated(text) {
        return calendar::parse_time(text)
            .map(Cell::Stamp)
            .map_err(|error| WeatherError::Time(error).at(at()).text(text));
    }
    let with_format = |error| Diagnostic { expected: Some(calendar::TIME_FORMAT.into()), ..error };
    match number(text, Measure::Of(Dim::TIME), unit, "h", at) {
        Ok(Cell::NoUnit(error)) => Ok(Cell::NoUnit(with_format(error))),
        read => read.map_err(with_format),
    }
}

/// A number with its own unit or that of the heading. `any_unit` is any unit of the measure, to recognize a bare number.
fn number(
    text: &str,
    measure: Measure,
    unit: Option<&'static Unit>,
    any_unit: &str,
    at: &dyn Fn() -> Location,
) -> Result<Cell, Diagnostic> {
    // Nearly every cell of a long series is a plain decimal under a heading with a unit.
    if let Some(si) = unit.and_then(|unit| unit.to_si(plain_number(text)?, measure)) {
        return Ok(Cell::Value { si, own_unit: false });
    }
    let error = match units::parse(text, measure) {
        Ok(quantity) => return Ok(Cell::Value { si: quantity.is, own_unit: true }),
        Err(error) => error,
    };
    let Some(unit) = unit else {
        let is_bare = units::parse_with_unit(text, measure, units::find_unit(any_unit)).is_ok();
        let error = error.at(at(), text);
        return if is_bare { Ok(Cell::NoUnit(error)) } else { Err(error) };
    };
    match units::parse_with_unit(text, measure, Some(unit)) {
        Ok(quantity) => Ok(Cell::Value { si: quantity.is, own_unit: false }),
        Err(error) => Err(error.at(at(), text)),
    }
}
