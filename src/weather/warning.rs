//! Warnings about hours that were read all the same. All their texts are here.

use super::calendar::hours;
use crate::diag::{Diagnostic, Location};
use std::sync::Arc;

/// Something doubtful in a file of hours. It never stops the file from being read.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Warning {
    /// The file's encoding was guessed.
    Encoding(&'static str),
    /// A figure of the header is not plausible and is skipped.
    StationFigure { name: &'static str, text: Arc<str>, range: [f64; 2], at: Location },
    /// The heading of the times says UTC.
    UtcHeading { heading: Arc<str>, at: Location },
    /// Rows without a temperature, of so many rows.
    MissingValues { count: usize, rows: usize, first: Location },
    /// A cell that is not a temperature.
    InvalidValue(Box<Diagnostic>),
    /// So many more of them.
    MoreInvalidValues { count: usize },
    /// Implausible steps between one temperature and the next; the largest, K, and how long it took, s.
    Jumps { count: usize, largest: f64, apart: f64, at: Location, time: String },
    /// Rows missing between two times, each with its row; the second is located.
    Gap { apart: f64, before: (String, u32), time: String, bridged: bool, at: Location },
    /// Many gaps: how many were bridged, how many not, and the time in each kind, s.
    Gaps { bridged: (usize, f64), long: (usize, f64) },
    /// Rows further apart than usual for a while: how many, the usual step and the longest, s.
    WiderSteps { rows: usize, step: f64, longest: f64 },
    /// An average day is coldest at this hour, which is not near sunrise.
    ColdestHour { hour: usize },
    /// The file is so many seconds short of whole years.
    Incomplete { from: String, to: String, short: f64, years: f64, calendar_year: bool },
    /// No latitude, and coldest in this month.
    Southern { month: &'static str },
    /// Temperatures labeled °C that look like °F.
    LooksLikeFahrenheit { heading: Arc<str>, doubt: CelsiusDoubt },
}

/// What makes °C doubtful; figures in °C.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum CelsiusDoubt {
    /// No hour of the winters is below this.
    WarmWinters(f64),
    /// The coldest and the warmest hour of one year.
    WideYear([f64; 2]),
    /// Half of the days go from low to high by this.
    WideDays(f64),
}

impl Warning {
    /// The warning as one located line.
    pub fn diagnostic(&self, file: &Arc<str>) -> Diagnostic {
        let whole = |message: String| Diagnostic::new(Location::whole(file), message);
        match self {
            Self::Encoding(message) => whole((*message).into()),
            Self::StationFigure { name, text, range: [least, most], at } => {
                Diagnostic::new(at.clone(), format!("is out of range for the {name} and is skipped"))
                    .text(&**text)
                    .expected(format!("{least} to {most}"))
            }
            Self::UtcHeading { heading, at } => {
                Diagnostic::new(at.clone(), "gives times in UTC: days, months and winters start at midnight UTC")
                    .text(&**heading)
            }
            Self::MissingValues { count, rows, first } => Diagnostic::new(
                first.clone(),
                format!("is the first of {count} of {rows} rows without a temperature; those hours are unknown"),
            ),
            Self::InvalidValue(error) => {
                Diagnostic { message: format!("{}; that hour is unknown", error.message), ..(**error).clone() }
            }
            Self::MoreInvalidValues { count } => {
                whole(format!("has {count} more cells that are not temperatures; those hours are unknown"))
            }
            Self::Jumps { count, largest, apart, at, time } => Diagnostic::new(
                at.clone(),
                format!(
                    "is {:.0} °F ({largest:.0} K) from the temperature {} h earlier, the largest of {count} implausible \
                     jumps; they cannot be distinguished from a front and are kept",
                    largest * 1.8,
                    hours(*apart)
                ),
            )
            .text(time)
            .expected("at most 25 K (45 °F) in an hour"),
            Self::Gap { apart, before: (before, row), time, bridged, at } => {
                let result = if *bridged {
                    "bridged by a straight line"
                } else {
                    "too long to bridge, so those hours are unknown"
                };
                let message = format!(
                    "is {} h after the temperature before it, \"{before}\" of row {row}: {result}",
                    hours(*apart)
                );
                Diagnostic::new(at.clone(), message).text(time)
            }
            Self::Gaps { bridged: (0, _), long: (long, long_time) } => {
                whole(format!("has {long} gaps over 6 h ({} h unknown)", hours(*long_time)))
            }
            Self::Gaps { bridged: (short, short_time), long: (0, _) } => whole(format!(
                "has {short} gaps of up to 6 h, bridged by straight lines ({} h)",
                hours(*short_time)
            )),
            Self::Gaps { bridged: (short, short_time), long: (long, long_time) } => whole(format!(
                "has {short} gaps of up to 6 h, bridged by straight lines ({} h), and {long} longer gaps ({} h unknown)",
                hours(*short_time),
                hours(*long_time)
            )),
            Self::WiderSteps { rows, step, longest } => whole(format!(
                "has {rows} rows further apart than the usual {} h, up to {} h, for some time; these are not counted as gaps",
                hours(*step),
                hours(*longest)
            )),
            Self::ColdestHour { hour } => whole(format!(
                "is coldest at {hour}:00 on an average day, not near sunrise: its clock may be UTC or another time zone; \
                 days, months and winters start at its midnight"
            ))
            .expected("local standard time"),
            Self::Incomplete { from, to, short, years, calendar_year } => {
                let years = if *years > 1.0 { format!("{years} years") } else { "a year".into() };
                let warning = whole(format!("covers {from} to {to}, {} h less than {years}", hours(*short)));
                if *calendar_year {
                    warning.expected("every hour from 1 January to 31 December")
                } else {
                    warning
                }
            }
            Self::Southern { month } => whole(format!(
                "gives no latitude and is coldest in {month}: assumed to be south of the equator, where winters are counted \
                 from January to December"
            )),
            Self::LooksLikeFahrenheit { heading, doubt } => {
                let doubt = match doubt {
                    CelsiusDoubt::WarmWinters(least) => format!("no hour of its winters is below {least:.1}"),
                    CelsiusDoubt::WideYear([least, most]) => {
                        format!("it ranges from {least:.0} to {most:.0} within a year, more than nearly any place")
                    }
                    CelsiusDoubt::WideDays(swing) => {
                        format!("half of its days swing by {swing:.0} or more, more than any place")
                    }
                };
                whole(format!("is labeled °C, but {doubt}; if these are °F, everything is colder"))
                    .text(&**heading)
                    .expected("°F in the heading, if that is their unit")
            }
        }
    }
}
