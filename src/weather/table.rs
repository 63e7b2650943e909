//! A table of times and outdoor temperatures as hours of weather.

use super::calendar::HOUR;
use super::doubts::CellDoubts;
use super::error::WeatherError;
use super::hourly::{Form, Hourly, Station, YearType};
use super::record::Record;
use super::rows::{self, Times};
use super::warning::Warning;
use crate::diag::{Diagnostics, Location};
use crate::input::table;

/// Reads a table. A cell without a temperature is an unknown hour.
pub(super) fn read(file: &str, text: &str) -> Result<Hourly, Diagnostics> {
    let table = table::parse(file, text)?;
    let rows::Rows { columns, entries, times, missing, invalid, mut errors } = rows::read(&table);
    let Some(mut columns) = columns else { return Err(errors) };
    // A table that breaks off in its last row has fewer cells there, and no line end.
    if let Some(last) = table.rows.last()
        && !text.ends_with(['\n', '\r'])
        && last.cells.len() < columns.width
    {
        let error = WeatherError::CutShort { found: last.cells.len(), wanted: columns.width, of: "cells" };
        errors.retain(|error| error.location.row() != Some(last.number));
        errors.push(error.at(Location::cell(&table.file, last.number, None)));
    }
    let cells = CellDoubts {
        heading: columns.temperature.name.clone(),
        celsius: columns.temperature.unit.is_some_and(|unit| unit.names[0] == "°C"),
        rows: entries.len(),
        missing: missing.iter().filter_map(|missing| missing.location.row()).collect(),
        invalid,
    };
    let offset = match times {
        Times::Dates { offset } => offset,
        Times::Hours | Times::Weekdays => None,
    };
    if offset == Some(0.0) && columns.warnings.is_empty() {
        let (heading, at) = (columns.time.name.clone(), columns.time.location.clone());
        columns.warnings.push(Warning::UtcHeading { heading, at });
    }
    let is_utc = !columns.warnings.is_empty();
    let utc_offset = offset.map(|offset| offset / HOUR).or(is_utc.then_some(0.0));
    let record = Record {
        file: table.file.clone(),
        form: Form::Table,
        station: Station { utc_offset, ..Station::default() },
        entries,
        time_heading: Some(columns.time.name.clone()),
        year_type: YearType::Real,
        dated: matches!(times, Times::Dates { .. }),
        has_weekdays: times == Times::Weekdays,
        ends_hour: false,
        cells,
        warnings: columns.warnings,
    };
    record.build(errors)
}
