//! The headings of a series: which column has the times and which the outdoor temperatures, and in what unit; and those of
//! relative humidity and wind where there are any.

use crate::diag::{Diagnostic, Diagnostics, Location, nearest};
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
    "utc",
    "timeutc",
    "utctime",
    "datetimeutc",
    "timestamputc",
];
/// Headings of a column of relative humidity, as [`plain`] leaves them: per cent or a fraction, which the numbers tell.
const HUMIDITIES: &[&str] = &[
    "relativehumidity",
    "relativehumiditypercent",
    "relhumidity",
    "humidity",
    "humiditypercent",
    "rh",
    "rhpercent",
    "rhum",
];
/// Headings of a column of wind speeds, as [`plain`] leaves them; a unit follows.
const WINDS: &[&str] = &["windspeed", "wind", "wspd", "windspd"];
/// Units of wind, as [`plain`] leaves them, and m/s of each: exact but for the knot's 1852/3600.
const SPEEDS: &[(&str, f64)] = &[
    ("ms", 1.0),
    ("mps", 1.0),
    ("kmh", 1.0 / 3.6),
    ("kph", 1.0 / 3.6),
    ("mph", 0.447_04),
    ("milesperhour", 0.447_04),
    ("kn", 1852.0 / 3600.0),
    ("kt", 1852.0 / 3600.0),
    ("kts", 1852.0 / 3600.0),
    ("knots", 1852.0 / 3600.0),
];
/// No wind near the ground is faster, m/s (113 m/s: Barrow Island, 1996; WMO archive of weather extremes, from memory).
pub(super) const FASTEST: f64 = 115.0;
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
    pub place: Location,
}

/// The row of headings and its columns.
pub(super) struct Columns {
    /// The number of that row.
    pub heading: u32,
    pub time: Column,
    pub temperature: Column,
    /// The column and what one of its numbers counts, as a fraction.
    humidity: Option<(usize, f64)>,
    /// The column and what one of its numbers counts, m/s.
    wind: Option<(usize, f64)>,
    /// Headings of wind that give no unit, so that their columns are not read.
    pub left_out: Vec<(Location, Arc<str>)>,
}

impl Columns {
    /// Relative humidity of a row, 0 to 1.
    pub fn humidity_in(&self, row: &Row) -> Option<f64> {
        humidity(of(row, self.humidity)?)
    }

    /// Wind of a row, m/s.
    pub fn wind_in(&self, row: &Row) -> Option<f64> {
        of(row, self.wind).filter(|it| (0.0..=FASTEST).contains(it))
    }

    /// Adds what stands beside the times and temperatures.
    fn look_beside(mut self, table: &Table, heading: &Row) -> Self {
        for (index, text) in heading.cells.iter().enumerate() {
            let words = plain(text);
            if self.humidity.is_none() && HUMIDITIES.contains(&&*words) {
                let below = || table.rows.iter().skip_while(|row| row.number <= heading.number);
                let most = below().filter_map(|row| of(row, Some((index, 1.0)))).fold(0.0, f64::max);
                self.humidity = Some((index, if most <= 1.0 { 1.0 } else { 0.01 }));
            }
            let Some(unit) = WINDS.iter().find_map(|it| words.strip_prefix(it)) else { continue };
            let speed =
                SPEEDS.iter().find(|(name, _)| *name == unit || unit.strip_prefix("in") == Some(name));
            match speed {
                Some((_, factor)) => self.wind = self.wind.or(Some((index, *factor))),
                None if unit.is_empty() => {
                    let name: Arc<str> = text.trim().into();
                    let place = Location::cell(&table.file, heading.number, Some(&name));
                    self.left_out.push((place, name));
                }
                None => {}
            }
        }
        self
    }
}

/// A relative humidity as a fraction: to 1.1 as 1, as instruments show it in fog; `None` where it is none.
pub(super) fn humidity(fraction: f64) -> Option<f64> {
    (0.0..=1.1).contains(&fraction).then(|| fraction.min(1.0))
}

fn of(row: &Row, column: Option<(usize, f64)>) -> Option<f64> {
    let (index, factor) = column?;
    let text = row.cell(index).trim();
    super::rows::plain(text.strip_suffix('%').map_or(text, str::trim_end)).map(|it| it * factor)
}

/// The row of headings and its columns.
pub(super) fn find(table: &Table, problems: &mut Diagnostics) -> Option<Columns> {
    let looked_at = || table.rows.iter().take(LOOKED_AT);
    let hours: Vec<_> = units::find_unit("h").into_iter().collect();
    // K stands for a difference here, so that a column of kelvin is told rather than passed over.
    let degrees: Vec<_> = ["°F", "°C", "K"].iter().filter_map(|name| units::find_unit(name)).collect();
    let found = |row: &Row, aliases: &[&str], units: &[&'static Unit]| -> Vec<Column> {
        let meant = row.cells.iter().enumerate().filter_map(|(index, text)| {
            let unit = meant(text, aliases, units)?;
            let name: Arc<str> = text.trim().into();
            let place = Location::cell(&table.file, row.number, Some(&name));
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
                problems.push(Diagnostic::new(more.place, what).text(&*more.name).expected(expected));
            }
        }
        let is_scale = |unit: &Unit| unit.to_si(1.0, Measure::Temperature).is_some();
        if temperature.unit.is_some_and(|unit| !is_scale(unit)) {
            let what = "is in a unit that outdoor temperatures are not read in";
            let problem = Diagnostic::new(temperature.place, what).text(&*temperature.name);
            problems.push(problem.expected("°F or °C"));
            return None;
        }
        // "Hour" names its own unit.
        if plain(&time.name).contains("hour") {
            time.unit = hours.first().copied();
        }
        let columns = Columns {
            heading: row.number,
            time,
            temperature,
            humidity: None,
            wind: None,
            left_out: Vec::new(),
        };
        return Some(columns.look_beside(table, row));
    }
    let problem = match half {
        Some((row, times)) => {
            let (what, shown) = if times { ("time", SHOWN[0]) } else { ("outdoor temperature", SHOWN[1]) };
            let place = Location::cell(&table.file, row.number, None);
            let problem = Diagnostic::new(place, format!("no heading for the {what} is understood"))
                .expected(format!("headings such as {}", shown.join(", ")));
            let near = row.cells.iter().find_map(|cell| nearest(cell.trim(), shown.iter().copied()));
            Diagnostic { nearest: near.map(str::to_owned), ..problem }
        }
        None => Diagnostic::new(Location::whole(&table.file), "no row of headings is understood")
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
