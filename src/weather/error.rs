//! Errors in files of hours of weather. All their texts are here.

use super::calendar::{DAY, TIME_FORMAT, TimeError, hours};
use crate::diag::{Diagnostic, Location};

/// What is wrong with a file of hours, a row or a cell.
#[derive(Clone, Debug)]
pub(crate) enum WeatherError {
    WebPage,
    Zipped,
    DamagedGzip,
    HeaderEnds { wanted: &'static str },
    HeaderLine { wanted: &'static str, all: String },
    RecordsPerHour,
    Tmy3Header,
    NoColumn { name: &'static str },
    NoHeadings,
    NoHeading { of: &'static str, examples: String },
    SecondColumn { first: String, expected: &'static str },
    NotTemperatureUnit,
    NoUnit { expected: &'static str },
    WrongLabel { limit: String, above: Option<usize>, expected: Option<&'static str> },
    CutShort { found: usize, wanted: usize, of: &'static str },
    FieldCount { found: usize, wanted: usize, expected: &'static str },
    EpwDate,
    EpwHour,
    Tmy3Time,
    NoSuchDate,
    BlankTemperature,
    MissingMark,
    NotTemperature,
    OutOfRange,
    OutOfRangeCelsius,
    BlankTime,
    Time(TimeError),
    MixedTimes,
    MixedOffsets,
    RepeatedTime { row: u32 },
    EarlierTime { before: String, row: u32 },
    SparseRows { step: f64 },
    LongGap { apart: f64, before: String, row: u32 },
    TooFewRows { rows: usize },
    NoDaysAsked { span: f64 },
    DaysOutOfRange,
    ShorterThanSpell { span: f64, wanted: f64 },
}

impl WeatherError {
    /// The diagnostic of this error at a location.
    pub fn at(&self, location: Location) -> Diagnostic {
        let (message, expected) = self.texts();
        let diagnostic = Diagnostic::new(location, message);
        if expected.is_empty() { diagnostic } else { diagnostic.expected(expected) }
    }

    /// The message, and what was expected; blank if the message is sufficient.
    fn texts(&self) -> (String, String) {
        const WEATHER_FILE: &str =
            "the file itself, unzipped: .epw, a TMY3 .csv, or a table saved as \"CSV UTF-8\"";
        const WHOLE_FILE: &str = "the complete file, downloaded again";
        const TMY3_COLUMNS: &str = "the column names of a TMY3 file";
        const NO_ROW: &str = "a temperature, or no row at all: gaps of up to 6 h are bridged";
        const CLOSE_ROWS: &str = "rows at most 6 h apart";
        let plain = |message: &str, expected: &str| (message.to_owned(), expected.to_owned());
        match self {
            Self::WebPage => plain("is a web page or another document, not hours of weather", WEATHER_FILE),
            Self::Zipped => plain("is a workbook or another zipped file, not hours of weather", WEATHER_FILE),
            Self::DamagedGzip => {
                plain("is a damaged or incomplete gzip file", "the file downloaded again, or unpacked")
            }
            Self::HeaderEnds { wanted } => {
                (format!("ends within its header: no line {wanted}"), WHOLE_FILE.into())
            }
            Self::HeaderLine { wanted, all } => (
                format!("is in the place of the header line {wanted}"),
                format!("the eight header lines in this order: {all}"),
            ),
            Self::RecordsPerHour => {
                plain("does not give the number of records per hour", "DATA PERIODS,1,1, and so on")
            }
            Self::Tmy3Header => plain(
                "does not have the two header lines of a TMY3 file",
                "a line of the station, then the line of column names, then the hours",
            ),
            Self::NoColumn { name } => (format!("has no column {name}"), TMY3_COLUMNS.into()),
            Self::NoHeadings => plain(
                "has no heading row with a time and an outdoor temperature",
                "headings such as Time and Outdoors (°F)",
            ),
            Self::NoHeading { of, examples } => {
                (format!("has no column for the {of}"), format!("a heading such as {examples}"))
            }
            Self::SecondColumn { first, expected } => {
                (format!("repeats what column \"{first}\" gives"), (*expected).into())
            }
            Self::NotTemperatureUnit => {
                plain("has a unit not supported for outdoor temperatures", "°F or °C")
            }
            Self::NoUnit { expected } => plain("gives no unit, and neither do its cells", expected),
            Self::WrongLabel { limit, above, expected } => {
                let how_many =
                    above.map_or_else(|| "half of them".to_owned(), |count| format!("{count} of them"));
                let message = format!(
                    "is not the unit of its numbers: {how_many} would be above {limit}, too warm for air"
                );
                (message, expected.unwrap_or_default().into())
            }
            Self::CutShort { found, wanted, of } => {
                (format!("has {found} {of} of {wanted}: the file is cut short"), WHOLE_FILE.into())
            }
            Self::FieldCount { found, wanted, expected } => {
                (format!("has {found} fields of {wanted}"), (*expected).into())
            }
            Self::EpwDate => plain("has no valid date and hour", "year,month,day,hour,minute"),
            Self::EpwHour => plain("is not an hour of an EPW row", "hours 1 to 24, each named by its end"),
            Self::Tmy3Time => plain("is not a date and time of a TMY3 row", "such as 01/31/1997 and 24:00"),
            Self::NoSuchDate => plain(
                "is not a date in the calendar",
                "a year of four digits, a month 1 to 12 and a day of that month",
            ),
            Self::BlankTemperature => plain("the temperature is blank", NO_ROW),
            Self::MissingMark => plain("marks a missing value", NO_ROW),
            Self::NotTemperature => plain("is not a temperature", NO_ROW),
            Self::OutOfRange => plain(
                "is out of range for outdoor air",
                "a temperature from -112 °F to 134 °F (-80 °C to 57 °C)",
            ),
            Self::OutOfRangeCelsius => {
                plain("is not a temperature of outdoor air in °C", "a number from -80 to 57")
            }
            Self::BlankTime => plain("the time is blank", TIME_FORMAT),
            Self::Time(error) => (error.to_string(), TIME_FORMAT.into()),
            Self::MixedTimes => plain("is not in the form of the first time", "only dates or only hours"),
            Self::MixedOffsets => plain(
                "differs from the first time in whether it states its offset from UTC",
                "an offset such as -06:00 or Z in every row, or in none",
            ),
            Self::RepeatedTime { row } => (
                format!("repeats the time of row {row}"),
                "each time once: standard time all year, without daylight saving".into(),
            ),
            Self::EarlierTime { before, row } => {
                (format!("is earlier than \"{before}\" of row {row}"), "times in ascending order".into())
            }
            Self::SparseRows { step } => {
                (format!("its rows are {} h apart", hours(*step)), CLOSE_ROWS.into())
            }
            Self::LongGap { apart, before, row } => {
                (format!("is {} h after \"{before}\" of row {row}", hours(*apart)), CLOSE_ROWS.into())
            }
            Self::TooFewRows { rows } => {
                (format!("has {rows} rows with a time and a temperature"), "at least 2".into())
            }
            Self::NoDaysAsked { span } => (
                format!("covers {:.0} days, and the length of the spell is not stated", span / DAY),
                "the days of the spell, or a series of at most 31 days".into(),
            ),
            Self::DaysOutOfRange => {
                plain("the length of the spell is out of range", "more than 0 days and at most 366")
            }
            Self::ShorterThanSpell { span, wanted } => (
                format!("covers {} h, and the spell needs {} h", hours(*span), hours(*wanted)),
                "a longer series, or fewer days".into(),
            ),
        }
    }
}
