//! Towns, postal areas and further stations: tables beside the climates, read when a place is not one of these.

use super::extremes::AnnualLow;
use super::place::{Climate, Whose};
use super::states::StateName;
use super::words::{fold, name};
use crate::diag::Location;
use std::sync::Arc;

/// Where the figures of the further stations are published.
const SOURCE: &str = "ASHRAE Handbook of Fundamentals, climatic design conditions, edition 2013";
const EDITION: u16 = 2013;
/// 0 °C, K.
const ICE_POINT: f64 = 273.15;
/// The file of the stations, as locations name it.
const STATIONS: &str = "stations-2013.csv";
/// How the mean of the coldest month is estimated, as sources name it.
const MONTH_SOURCE: &str = "estimated from the 99 % and 99.6 % values, within about 8 °F";
/// What that leaves, K, 19 times in 20: 1.9 K of the line and 1.2 K of the correction.
const MONTH_WITHIN: f64 = 4.4;

/// What kind of site a station stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Site {
    /// Ordinary ground.
    Land,
    /// On a pier, a buoy or an island: for its own shore only.
    Marine,
    /// Much colder or milder than the stations around it: for its own valley or hill only.
    Pocket,
}

/// A town of the gazetteer.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Town {
    pub name: Arc<str>,
    /// The name as it is compared.
    pub key: String,
    pub state: Arc<str>,
    /// Degrees north and east.
    pub position: [f64; 2],
    /// m above sea level.
    pub elevation: Option<f64>,
    pub population: u32,
}

/// The area of a ZIP code, or of the first three characters of a Canadian postal code.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PostalArea {
    pub code: Arc<str>,
    pub state: Arc<str>,
    /// Degrees north and east of its middle.
    pub position: [f64; 2],
    /// IECC climate zone.
    pub zone: Option<Arc<str>>,
}

/// The tables. A line that cannot be read is skipped; a test counts the lines of the built-in ones.
#[derive(Clone, Debug, Default)]
pub struct Atlas {
    pub(super) stations: Vec<(Arc<Climate>, Site)>,
    pub(super) towns: Vec<Town>,
    pub(super) postal: Vec<PostalArea>,
}

impl Atlas {
    /// Reads the tables: CSV with a heading, in the columns of the built-in ones.
    pub fn read(stations: &str, towns: &str, postal: &str) -> Self {
        Self {
            stations: rows(stations).filter_map(|(line, row)| station(line, &row)).collect(),
            towns: rows(towns).filter_map(|(_, row)| town(&row)).collect(),
            postal: rows(postal).filter_map(|(_, row)| postal_area(&row)).collect(),
        }
    }

    /// How many stations, towns and postal areas it has.
    pub fn counts(&self) -> [usize; 3] {
        [self.stations.len(), self.towns.len(), self.postal.len()]
    }

    /// Every town with its state: "Saint Cloud, MN".
    pub fn town_names(&self) -> impl Iterator<Item = String> {
        self.towns.iter().map(|town| format!("{}, {}", town.name, town.state))
    }

    /// The towns of a name, in a state if one is given; the largest first.
    pub(super) fn towns_named(&self, words: &[String], state: Option<&StateName>) -> Vec<&Town> {
        let wanted = name(words);
        let same_name = self.towns.iter().filter(|town| town.key == wanted);
        let mut found: Vec<&Town> =
            same_name.filter(|town| state.is_none_or(|state| *state.code == *town.state)).collect();
        found.sort_by_key(|town| std::cmp::Reverse(town.population));
        found
    }

    /// The area of a ZIP or postal code, if the text is one: `56301`, `56301-1234`, `ZIP 56301`, `K1A 0B1`, `K1A`.
    pub(super) fn postal_area(&self, text: &str) -> Option<&PostalArea> {
        let text = text.trim().to_uppercase();
        let text = text.strip_prefix("ZIP").or_else(|| text.strip_prefix("POSTAL CODE")).unwrap_or(&text);
        let text = text.trim_start_matches([' ', ':']);
        let code = match text.split_once('-') {
            Some((code, rest)) if rest.len() == 4 && is_digits(rest) => code,
            Some(_) => return None,
            None if is_canadian(text) => &text[..3],
            None => text,
        };
        let at = self.postal.binary_search_by(|area| (*area.code).cmp(code)).ok()?;
        Some(&self.postal[at])
    }
}

fn is_digits(text: &str) -> bool {
    text.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a text has the form of a whole Canadian postal code or of its first half.
fn is_canadian(text: &str) -> bool {
    let form: String =
        text.bytes().map(|byte| if byte.is_ascii_digit() { '9' } else { char::from(byte) }).collect();
    let letters = |pattern: &str| {
        form.len() == pattern.len()
            && form.bytes().zip(pattern.bytes()).all(|(is, wanted)| match wanted {
                b'A' => is.is_ascii_uppercase(),
                _ => is == wanted,
            })
    };
    letters("A9A") || letters("A9A 9A9") || letters("A9A9A9")
}

/// The rows of a table with their line numbers, without the heading.
fn rows(table: &str) -> impl Iterator<Item = (u32, csv::StringRecord)> {
    let records = csv::Reader::from_reader(table.as_bytes()).into_records();
    (2..).zip(records.filter_map(Result::ok))
}

fn town(row: &csv::StringRecord) -> Option<Town> {
    Some(Town {
        state: row.get(0)?.into(),
        name: row.get(1)?.into(),
        key: name(&fold(row.get(1)?)),
        position: [number(row, 2)?, number(row, 3)?],
        elevation: number(row, 4),
        population: row.get(5)?.parse().unwrap_or(0),
    })
}

fn postal_area(row: &csv::StringRecord) -> Option<PostalArea> {
    Some(PostalArea {
        code: row.get(0)?.into(),
        state: row.get(1)?.into(),
        position: [number(row, 2)?, number(row, 3)?],
        zone: text(row, 4),
    })
}

fn station(line: u32, row: &csv::StringRecord) -> Option<(Arc<Climate>, Site)> {
    let [heating_996, heating_990, mean] = [7, 8, 9].map(|column| number(row, column));
    let celsius = |degrees: Option<f64>| degrees.map(|degrees| degrees + ICE_POINT);
    let climate = Climate {
        id: row.get(2)?.into(),
        state: text(row, 0),
        name: row.get(1)?.into(),
        station: text(row, 2),
        zone: text(row, 3),
        latitude: Some(number(row, 4)?),
        longitude: Some(number(row, 5)?),
        elevation: number(row, 6),
        heating_996: celsius(heating_996),
        heating_990: celsius(heating_990),
        annual_low: Some(AnnualLow {
            mean: celsius(mean)?,
            deviation: number(row, 10)?,
            winters: number(row, 12),
            is_elsewhere: false,
        }),
        coldest_month: row.get(11)?.parse().ok(),
        coldest_month_mean: celsius(heating_990.zip(heating_996).map(month_mean)),
        coldest_month_within: Some(MONTH_WITHIN),
        coldest_month_source: MONTH_SOURCE.into(),
        source: SOURCE.into(),
        edition: Some(EDITION),
        location: Location::cell(&STATIONS.into(), line, None),
        whose: Whose::BuiltIn,
        ..Climate::unknown()
    };
    let site = match row.get(13)? {
        "marine" => Site::Marine,
        "pocket" => Site::Pocket,
        _ => Site::Land,
    };
    Some((Arc::new(climate), site))
}

/// The mean of the coldest month from the 99 % and the 99.6 % values, °C: a straight line fitted to the 169 climates
/// with all three, and what typical years are too cold, 1.1 K (`united-states.yaml`). Leaving each out in turn, the line is
/// off by 1.9 K (standard deviation), between -4.8 and 4.9 K.
fn month_mean((heating_990, heating_996): (f64, f64)) -> f64 {
    6.2 + 0.85 * heating_990 + 1.27 * (heating_990 - heating_996)
}

fn number(row: &csv::StringRecord, column: usize) -> Option<f64> {
    row.get(column)?.parse().ok()
}

fn text(row: &csv::StringRecord, column: usize) -> Option<Arc<str>> {
    row.get(column).filter(|text| !text.is_empty()).map(Into::into)
}
