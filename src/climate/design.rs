//! Which of a climate's figures an outlet must survive.

use super::place::OUTDOORS;
use crate::units::{self, Measure};

/// The figure that is the design low.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum DesignBy {
    /// The annual low that comes about once in this many years, more than 1 and at most 1000.
    Years(f64),
    /// Dry bulb exceeded in 99.6 % of the hours of a year.
    Heating996,
    /// Dry bulb exceeded in 99 % of the hours of a year.
    Heating99,
    /// The coldest hour on record.
    ColdestRecorded,
    /// The authority's winter temperature.
    Authority,
    /// A stated temperature, K.
    Stated(f64),
}

/// How a choice is written.
pub const CHOICES: &str =
    "20-year low, 99.6 %, 99 %, coldest recorded, authority, or a temperature such as -20 °F";

/// Return periods that lows are asked for, years.
const YEARS: [f64; 2] = [1.5, 1000.0];

impl DesignBy {
    /// Parses a choice as people write it: `50-year low`, `99.6 %`, `coldest recorded`, `authority`, `-20 °F`. `None` if the
    /// text is not one of [`CHOICES`] or is out of range.
    pub fn parse(text: &str) -> Option<Self> {
        let folded = text.trim().to_lowercase().replace(['-', '–', '_'], " ");
        let folded = folded.strip_prefix("the ").unwrap_or(&folded);
        let words: Vec<&str> = folded.split_whitespace().collect();
        match words.as_slice() {
            ["coldest" | "record" | "lowest", rest @ ..]
                if all_of(rest, &["recorded", "low", "on", "record"]) =>
            {
                return Some(Self::ColdestRecorded);
            }
            ["authority" | "authority's", rest @ ..]
                if all_of(rest, &["winter", "temperature", "figure", "own"]) =>
            {
                return Some(Self::Authority);
            }
            [years, "year" | "years" | "yr", rest @ ..]
                if all_of(rest, &["low", "annual", "return", "period"]) =>
            {
                let years: f64 = years.parse().ok()?;
                return (YEARS[0]..=YEARS[1]).contains(&years).then_some(Self::Years(years));
            }
            _ => {}
        }
        let percent = folded.replace("heating", "").replace("value", "").replace(' ', "");
        match percent.as_str() {
            "99.6%" => return Some(Self::Heating996),
            "99%" | "99.0%" => return Some(Self::Heating99),
            _ => {}
        }
        let stated = units::parse(text, Measure::Temperature).ok()?;
        units::contains(OUTDOORS, stated.is).then_some(Self::Stated(stated.is))
    }

    /// Its name, to follow the figure: "20-year low".
    pub fn words(self) -> String {
        match self {
            Self::Years(years) => format!("{years}-year low"),
            Self::Heating996 => "99.6 % value".into(),
            Self::Heating99 => "99 % value".into(),
            Self::ColdestRecorded => "coldest recorded".into(),
            Self::Authority => "the authority's winter temperature".into(),
            Self::Stated(_) => "as stated".into(),
        }
    }
}

fn all_of(words: &[&str], known: &[&str]) -> bool {
    words.iter().all(|word| known.contains(word))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn choices_parse_as_people_write_them() {
        for (text, by) in [
            ("20-year low", DesignBy::Years(20.0)),
            ("50 year", DesignBy::Years(50.0)),
            ("99.6 %", DesignBy::Heating996),
            ("99.6% heating", DesignBy::Heating996),
            ("99.6 % value", DesignBy::Heating996),
            ("the authority's winter temperature", DesignBy::Authority),
            ("99%", DesignBy::Heating99),
            ("Coldest recorded", DesignBy::ColdestRecorded),
            ("record low", DesignBy::ColdestRecorded),
            ("authority's winter temperature", DesignBy::Authority),
        ] {
            assert_eq!(DesignBy::parse(text), Some(by), "{text}");
        }
    }

    #[test]
    fn a_temperature_is_a_choice() {
        let Some(DesignBy::Stated(kelvin)) = DesignBy::parse("-40 °C") else { panic!("not parsed") };
        assert!((kelvin - 233.15).abs() < 1e-9);
    }

    #[test]
    fn other_texts_are_not_choices() {
        for text in [
            "",
            "-20",
            "97.5 %",
            "1-year low",
            "2000-year low",
            "coldest month",
            "authority of Duluth",
            "-200 °F",
        ] {
            assert_eq!(DesignBy::parse(text), None, "{text}");
        }
    }
}
