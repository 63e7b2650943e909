//! A table of times and outdoor temperatures as hours of weather: read as a spell's series is, but a cell without a
//! temperature is an hour that is not known rather than an end of the reading.

use super::fixed::{CUT_SHORT, FETCH};
use super::record::{Entry, Given};
use super::{Form, Hourly, Station, told};
use crate::climate::{moment, rows};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::table;

pub(super) fn read(file: &str, text: &str) -> Result<Hourly, Diagnostics> {
    let table = table::parse(file, text)?;
    let rows = rows::read(&table);
    let mut problems = rows.problems;
    let Some(columns) = rows.columns else { return Err(problems) };
    // A table that breaks off in its last row: fewer cells than the rest, and no line end.
    if let (Some(last), Some(heading)) =
        (table.rows.last(), table.rows.iter().find(|it| it.number == columns.heading))
        && !text.ends_with(['\n', '\r'])
        && last.cells.len() < heading.cells.len()
    {
        let what =
            format!("has {} cells of {} and no line end: {CUT_SHORT}", last.cells.len(), heading.cells.len());
        problems.retain(|it| it.location.row() != Some(last.number));
        problems.push(Diagnostic::new(Location::cell(&table.file, last.number, None), what).expected(FETCH));
    }
    if !problems.is_empty() {
        problems.sort_by_key(|problem| problem.location.row());
        return Err(problems);
    }
    let dated = rows.readings.first().is_some_and(|it| moment::is_dated(it.time_text));
    let mut notes: Diagnostics = columns
        .left_out
        .iter()
        .map(|(place, name)| {
            let problem = Diagnostic::new(place.clone(), "gives no unit, and is not read").text(&**name);
            problem.expected("a heading such as \"Wind (mph)\" or \"Wind (m/s)\"")
        })
        .collect();
    notes.extend(told::utc(&columns.time));
    let (missing, wrong): (Vec<_>, Vec<_>) = rows.bad.into_iter().partition(|it| it.missing);
    let entries = rows.readings.iter().map(|it| Entry {
        time: it.time,
        kelvin: it.kelvin,
        humidity: it.humidity,
        wind: it.wind,
        row: it.row,
    });
    let given = Given {
        form: Form::Table,
        station: Station::default(),
        entries: entries.collect(),
        time_name: Some(columns.time.name.clone()),
        temperature_name: columns.temperature.name.clone(),
        typical: false,
        pieced: false,
        celsius: columns.temperature.unit.is_some_and(|it| it.names[0] == "°C"),
        dated,
        ends_hour: false,
        missing: missing.iter().filter_map(|it| it.problem.location.row()).collect(),
        wrong: wrong.into_iter().map(|it| it.problem).collect(),
        notes,
        file: table.file.clone(),
    };
    given.build()
}
