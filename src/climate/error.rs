//! Errors in files of climates, and in requests for a climate. All their texts are here.

use crate::diag::{Diagnostic, Location};

/// What is wrong with a file of climates, a place of it, or a request.
#[derive(Clone, Debug)]
pub(super) enum ClimateError {
    InvalidId,
    DuplicateId { file: Option<String> },
    NoLow,
    ContradictingLows { milder: [String; 2], colder: [String; 2] },
    FarApart { of: [String; 2], from: [String; 2] },
    MonthOfSummer { is_north: bool },
    MilderThanUsual { name: String, usual: String },
    TooWarm,
    FarAboveRecord { name: String, record: String },
    OutOfRange { of: String, range: String },
    EmptyFolder,
    SkippedPlace { file: String },
    UnknownClimate { has_own: bool, expected: Option<UnknownClimate> },
    SeveralPlaces { count: usize, places: String },
    SeveralTowns { count: usize, towns: String, is_one_state: bool },
    StationOrZip { zip: String, station: String },
    NoStation,
    EmptyState { name: String },
    UnknownState { has_nearest: bool },
    EmptyZone { zones: String },
    NoMatch,
    NotOnEarth,
    NotAPoint,
    RepeatedDirection,
    SignAndLetter,
    SixtyMinutes,
    EasternLongitude,
    LongitudeBeyond180,
    SouthEast,
    LongitudeFirst,
}

/// The way to a place if a text is none.
#[derive(Clone, Debug)]
pub(super) enum UnknownClimate {
    /// Nothing more than a name is known.
    Anywhere,
    /// The text is a state.
    State { code: String, name: String },
    /// The text is a town of a state that has places.
    TownOfState { code: String },
    /// The state has no places.
    EmptyState { name: String },
}

impl ClimateError {
    /// The diagnostic of this error at a location.
    pub fn at(&self, location: &Location) -> Diagnostic {
        let (message, expected) = self.texts();
        let diagnostic = Diagnostic::new(location.clone(), message);
        if expected.is_empty() { diagnostic } else { diagnostic.expected(expected) }
    }

    /// The message, and what was expected; blank if the message is sufficient.
    fn texts(&self) -> (String, String) {
        const POINT: &str = "a latitude and a longitude such as \"44.9, -93.2\" or \"44.9N 93.2W\"";
        const LOW: &str = "a low that winters there reach: is a minus missing?";
        let plain = |message: &str, expected: &str| (message.to_owned(), expected.to_owned());
        match self {
            Self::InvalidId => {
                plain("is not a valid id of a place", "an id with letters, such as cedar-hollow-mn")
            }
            Self::DuplicateId { file } => (
                "is the id of another place".into(),
                file.as_ref()
                    .map_or_else(String::new, |file| format!("a unique id: a place in {file} has this one")),
            ),
            Self::NoLow => plain(
                "has no low temperature to design for",
                "annual_low: { mean: 2 °F, deviation: 5 °F }, or design_low: 0 °F",
            ),
            Self::ContradictingLows { milder: [milder, above], colder: [colder, below] } => (
                format!("has a {colder} of {below} above its {milder} of {above}"),
                "each figure no warmer than the one before: is a minus missing?".into(),
            ),
            Self::FarApart { of: [of, is], from: [from, its] } => (
                format!("has a {of} of {is}, which is far from its {from} of {its}"),
                "figures of one place: is a minus missing?".into(),
            ),
            Self::MonthOfSummer { is_north: true } => plain(
                "is no coldest month of a place in the north",
                "November to March: or is a minus of the latitude missing?",
            ),
            Self::MonthOfSummer { is_north: false } => plain(
                "is no coldest month of a place in the south",
                "May to September: or is the latitude north?",
            ),
            Self::MilderThanUsual { name, usual } => {
                (format!("is not a design low of {name}: every winter reaches {usual}"), LOW.into())
            }
            Self::TooWarm => plain("is warmer than any plausible design low", LOW),
            Self::FarAboveRecord { name, record } => {
                (format!("is not a design low of {name}: its coldest hour on record is {record}"), LOW.into())
            }
            Self::OutOfRange { of, range } => (format!("is out of range for the {of}"), range.clone()),
            Self::EmptyFolder => plain("has no climate files", "a folder of files of places (.yaml)"),
            Self::SkippedPlace { file } => {
                ("is a place of yours that has errors".into(), format!("its errors in {file} corrected"))
            }
            Self::UnknownClimate { has_own, expected } => {
                let message = if *has_own {
                    "is not a known town or climate, nor one of your own climates"
                } else {
                    "is not a known town or climate"
                };
                (message.into(), expected.as_ref().map_or_else(String::new, UnknownClimate::text))
            }
            Self::SeveralPlaces { count, places } => {
                (format!("is {count} places: {places}"), "one of their ids".into())
            }
            Self::SeveralTowns { count, towns, is_one_state } => (
                format!("is {count} towns: {towns}"),
                if *is_one_state {
                    "its ZIP or postal code, or its latitude and longitude"
                } else {
                    "one of them, with its state"
                }
                .into(),
            ),
            Self::StationOrZip { zip, station } => (
                format!("is a ZIP code and the number of {station}"),
                format!("\"ZIP {zip}\", or the station's number of six digits"),
            ),
            Self::NoStation => plain(
                "has no weather station within 200 miles",
                "the climate described in the job: `climate: { name: , annual_low: }`",
            ),
            Self::EmptyState { name } => (
                format!("is {name}, which has no place in the list"),
                "another state, or --near LAT,LON for the nearest place".into(),
            ),
            Self::UnknownState { has_nearest } => (
                "is not a state or province".into(),
                if *has_nearest { String::new() } else { "one such as MN or Minnesota".into() },
            ),
            Self::EmptyZone { zones } => ("is the zone of no place in the list".into(), zones.clone()),
            Self::NoMatch => plain("matches no place in the list", ""),
            Self::NotOnEarth => {
                plain("is not a point on Earth", "a latitude of -90 to 90 and a longitude of -180 to 180")
            }
            Self::NotAPoint => plain("is not a latitude and longitude", POINT),
            Self::RepeatedDirection => plain("gives one direction twice", POINT),
            Self::SignAndLetter => plain("has a sign and a letter for one direction", POINT),
            Self::SixtyMinutes => plain("has minutes or seconds of 60 or more", POINT),
            Self::EasternLongitude => {
                plain("has an eastern longitude, far from every place; west is negative or has a W", "")
            }
            Self::LongitudeBeyond180 => {
                plain("has a longitude counted east to 360; west is negative or has a W", "")
            }
            Self::SouthEast => plain(
                "is south and east, far from every place; with letters, such as 44.9S 93.2E, it is accepted",
                "",
            ),
            Self::LongitudeFirst => plain("has its longitude first", ""),
        }
    }
}

impl UnknownClimate {
    fn text(&self) -> String {
        match self {
            Self::Anywhere => {
                "a town with its state such as \"St. Cloud, MN\", a ZIP or postal code, or a latitude and longitude"
                    .into()
            }
            Self::State { code, name } => {
                format!("a place; `coldsill climates --state {code}` lists those of {name}")
            }
            Self::TownOfState { code } => format!(
                "a town of {code}, a ZIP or postal code, a latitude and longitude, or a place from `coldsill climates \
                 --state {code}`"
            ),
            Self::EmptyState { name } => {
                format!(
                    "a place from `coldsill climates`; none is in {name}, and --near LAT,LON finds the nearest"
                )
            }
        }
    }
}
