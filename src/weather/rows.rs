//! The rows of a table of times and outdoor temperatures.

use super::calendar;
use super::cells::{air, check_label, is_missing_mark, plain_number};
use super::columns::{Column, Columns, find_columns};
use super::error::WeatherError;
use super::record::Entry;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Row, Table};
use crate::units::{self, Dim, Measure, Unit};

/// Words for a missing temperature.
const MISSING: [&str; 15] =
    ["-", "--", "—", "–", "?", "n/a", "na", "nan", "null", "none", "missing", "m", "inf", "-inf", "+inf"];

/// What the rows of a table say.
#[derive(Default)]
pub(super) struct Rows {
    pub columns: Option<Columns>,
    /// Rows with a time.
    pub entries: Vec<Entry>,
    /// Whether their times are dates.
    pub dated: bool,
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
    /// The value of a cell with a unit.
    fn value(&mut self, cell: Cell) -> Option<(f64, bool)> {
        match cell {
            Cell::Value { si, own_unit } => {
                self.any_with_unit |= own_unit;
                Some((si, own_unit))
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
        WeatherError::NoUnit { expected }.at(column.at.clone()).text(&*column.name).into()
    }
}

/// Reads all rows below the headings.
pub(super) fn read(table: &Table) -> Rows {
    let mut rows = Rows::default();
    let Some(columns) = find_columns(table, &mut rows.errors) else { return rows };
    let (mut time_units, mut temperature_units) = (UnitCheck::default(), UnitCheck::default());
    let (mut labeled, mut out_of_range) = (Vec::new(), Diagnostics::new());
    for row in table.rows.iter().skip_while(|row| row.number <= columns.heading) {
        let [time_text, text] =
            [&columns.time, &columns.temperature].map(|column| row.cell(column.index).trim());
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
        let cell = time(time_text, columns.time.unit, &|| at(&columns.time));
        let Some((time, _)) = rows.errors.ok(cell).and_then(|it| time_units.value(it)) else { continue };
        let is_dated = calendar::is_dated(time_text);
        if rows.entries.is_empty() {
            rows.dated = is_dated;
        } else if rows.dated != is_dated {
            rows.errors.push(located(&WeatherError::MixedTimes, at(&columns.time), time_text));
            continue;
        }
        rows.entries.push(entry(&columns, row, time, kelvin));
    }
    let expected = "a heading such as \"Time (h)\" or \"Hour\", or dates with a time of day";
    rows.errors.extend(time_units.finish(&columns.time, expected));
    let expected = "a heading such as \"Outdoors (°F)\", or °F or °C in every cell";
    rows.errors.extend(temperature_units.finish(&columns.temperature, expected));
    let Column { name, unit, at, .. } = &columns.temperature;
    let is_celsius = unit.is_some_and(|unit| unit.names[0] == "°C");
    match check_label(name, *unit, labeled, at, is_celsius.then_some("°F, if that is their unit")) {
        Some(error) => rows.errors.push(error),
        None => rows.invalid.append(&mut out_of_range),
    }
    rows.columns = Some(columns);
    rows
}

fn entry(columns: &Columns, row: &Row, time: f64, kelvin: Option<f64>) -> Entry {
    let texts = [&columns.time, &columns.temperature].map(|column| row.cell(column.index).trim().into());
    Entry { time, kelvin, row: row.number, texts: Some(texts) }
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
            .map(|si| Cell::Value { si, own_unit: true })
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
