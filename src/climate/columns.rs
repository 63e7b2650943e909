//! The headings of a series: which column has the times and which the outdoor temperatures, and in what unit.

use crate::diag::{Place, Problem, nearest};
use crate::input::{Row, Table};
use crate::units::{self, Measure, Unit};
use std::sync::Arc;

/// Headings of a column of times, as [`plain`] leaves them; a unit of hours may follow.
const TIMES: &[&str] = &[
    "time",
    "datetime",
    "dateandtime",
    "timestamp",
    "date",
    "hour",
    "hours",
    "localtime",
    "localstandardtime",
    "elapsed",
    "elapsedtime",
    "elapsedhours",
];
/// Headings of a column of outdoor temperatures, as [`plain`] leaves them; °F or °C may follow.
const TEMPERATURES: &[&str] = &[
    "outdoors",
    "outdoor",
    "outside",
    "outdoortemperature",
    "outdoortemp",
    "outsidetemperature",
    "outsidetemp",
    "outdoorair",
    "outdoorairtemperature",
    "outdoordrybulb",
    "temperature",
    "temp",
    "airtemperature",
    "airtemp",
    "drybulb",
    "drybulbtemperature",
    "drybulbtemp",
    "ambient",
    "ambienttemperature",
    "ambienttemp",
    "oat",
];
/// Shown where no heading is understood.
const SHOWN: [&[&str]; 2] = [
    &["Time", "Hour", "Date/time", "Timestamp"],
    &["Outdoors (°F)", "Outdoors (°C)", "Temperature (°F)", "Dry bulb (°F)", "Outdoor temperature (°F)"],
];
/// Title blocks above the headings are not longer than this.
const LOOKED_AT: usize = 40;

/// A column and what its heading says.
pub(super) struct Column {
    pub index: usize,
    pub name: Arc<str>,
    pub unit: Option<&'static Unit>,
    pub place: Place,
}

/// The row of headings and its two columns.
pub(super) fn find(table: &Table, problems: &mut Vec<Problem>) -> Option<(u32, Column, Column)> {
    let looked_at = || table.rows.iter().take(LOOKED_AT);
    let hours: Vec<_> = units::find_unit("h").into_iter().collect();
    // K stands for a difference here, so that a column of kelvin is told rather than passed over.
    let degrees: Vec<_> = ["°F", "°C", "K"].iter().filter_map(|name| units::find_unit(name)).collect();
    let found = |row: &Row, aliases: &[&str], units: &[&'static Unit]| -> Vec<Column> {
        let meant = row.cells.iter().enumerate().filter_map(|(index, text)| {
            let unit = meant(text, aliases, units)?;
            let name: Arc<str> = text.trim().into();
            let place = Place::cell(&table.file, row.number, Some(&name));
            Some(Column { index, name, unit, place })
        });
        meant.collect()
    };
    let mut half = None;
    for row in looked_at() {
        let (times, temperatures) = (found(row, TIMES, &hours), found(row, TEMPERATURES, &degrees));
        if times.is_empty() != temperatures.is_empty() {
            half = half.or(Some((row, times.is_empty())));
        }
        let (mut times, mut temperatures) = (times.into_iter(), temperatures.into_iter());
        let (Some(mut time), Some(temperature)) = (times.next(), temperatures.next()) else { continue };
        for (first, more, expected) in [
            (&time.name, times.next(), "date and time of day in one column"),
            (&temperature.name, temperatures.next(), "one column of outdoor temperatures"),
        ] {
            if let Some(more) = more {
                let what = format!("is a second column for what \"{first}\" says");
                problems.push(Problem::new(more.place, what).text(&*more.name).expected(expected));
            }
        }
        let is_scale = |unit: &Unit| unit.to_si(1.0, Measure::Temperature).is_some();
        if temperature.unit.is_some_and(|unit| !is_scale(unit)) {
            let what = "is in a unit that outdoor temperatures are not read in";
            let problem = Problem::new(temperature.place, what).text(&*temperature.name);
            problems.push(problem.expected("°F or °C"));
            return None;
        }
        // "Hour" names its own unit.
        if plain(&time.name).contains("hour") {
            time.unit = hours.first().copied();
        }
        return Some((row.number, time, temperature));
    }
    let problem = match half {
        Some((row, times)) => {
            let (what, shown) = if times { ("time", SHOWN[0]) } else { ("outdoor temperature", SHOWN[1]) };
            let place = Place::cell(&table.file, row.number, None);
            let problem = Problem::new(place, format!("no heading for the {what} is understood"))
                .expected(format!("headings such as {}", shown.join(", ")));
            let near = row.cells.iter().find_map(|cell| nearest(cell.trim(), shown.iter().copied()));
            Problem { nearest: near.map(str::to_owned), ..problem }
        }
        None => Problem::new(Place::whole(&table.file), "no row of headings is understood")
            .expected("a time and an outdoor temperature, such as Time and Outdoors (°F)"),
    };
    problems.push(problem);
    None
}

/// The unit of a heading that is one of these: `Some(None)` where it gives none.
fn meant(text: &str, aliases: &[&str], units: &[&'static Unit]) -> Option<Option<&'static Unit>> {
    let words = plain(text);
    aliases.iter().find_map(|alias| {
        let rest = words.strip_prefix(alias)?;
        let named =
            |rest: &str| units.iter().find(|unit| unit.names.iter().any(|name| plain(name) == rest)).copied();
        if rest.is_empty() {
            Some(None)
        } else {
            named(rest).or_else(|| named(rest.strip_prefix("in")?)).map(Some)
        }
    })
}

/// A heading as it is compared: letters and digits in lower case.
fn plain(text: &str) -> String {
    text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}
