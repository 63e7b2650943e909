//! Hours of weather from files: a typical year, years on record, or a logger's table. The form is recognized by the content of
//! a file, not by its name.
//!
//! Errors, because nothing safe can be made of the file: a header that does not parse, times that repeat or do not ascend, a
//! date that does not parse, a unit that the numbers contradict, a last row that is cut short, rows more than 6 h apart
//! throughout, more than one invalid temperature in a hundred. Warnings, because the hours concerned then count as unknown:
//! values marked as missing, a few invalid temperatures, missing hours. Up to 6 h without a temperature are bridged by a
//! straight line, with a warning.

mod calendar;
mod cells;
mod cold_days;
mod columns;
mod days;
mod derived;
mod doubts;
mod epw;
mod error;
mod figure;
mod fixed;
mod freezing;
mod hourly;
mod interpolate;
mod months;
mod read;
mod record;
mod rows;
mod runs;
mod season;
mod shares;
mod table;
mod tmy3;
mod warning;
mod winters;

pub(crate) use calendar::{DAY, HOUR, month_and_day, weekday};
pub use cold_days::{ColdDays, Swing};
pub use derived::DerivedClimate;
pub(crate) use error::WeatherError;
pub use figure::{Figure, NoFigure};
pub(crate) use hourly::FREEZING;
pub use hourly::{Form, Gap, Hour, Hourly, Station, YearType};
pub(crate) use interpolate::interpolate;
pub use months::Month;
pub use runs::Run;
pub use winters::{Fit, Winter};
