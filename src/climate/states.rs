//! States and provinces: postal abbreviations, names, and other ways they are written.

use super::place::Climate;
use super::words::fold;
use std::sync::Arc;

/// A state, province or territory.
#[derive(Debug, PartialEq, Eq)]
pub struct State {
    /// Its postal abbreviation.
    pub code: &'static str,
    /// Its name.
    pub name: &'static str,
    /// Its country.
    pub country: &'static str,
    /// Other ways to write it.
    also: &'static [&'static str],
}

const US: &str = "United States";
const CANADA: &str = "Canada";

const fn row(
    code: &'static str,
    name: &'static str,
    country: &'static str,
    also: &'static [&'static str],
) -> State {
    State { code, name, country, also }
}

/// By country, then name.
static STATES: [State; 67] = [
    row("AB", "Alberta", CANADA, &["Alta"]),
    row("BC", "British Columbia", CANADA, &[]),
    row("MB", "Manitoba", CANADA, &["Man"]),
    row("NB", "New Brunswick", CANADA, &[]),
    row("NL", "Newfoundland and Labrador", CANADA, &["Newfoundland", "Labrador", "NF", "Nfld"]),
    row("NT", "Northwest Territories", CANADA, &["NWT"]),
    row("NS", "Nova Scotia", CANADA, &[]),
    row("NU", "Nunavut", CANADA, &[]),
    row("ON", "Ontario", CANADA, &["Ont"]),
    row("PE", "Prince Edward Island", CANADA, &["PEI"]),
    row("QC", "Quebec", CANADA, &["PQ", "Que"]),
    row("SK", "Saskatchewan", CANADA, &["Sask"]),
    row("YT", "Yukon", CANADA, &["Yukon Territory", "YK"]),
    row("AL", "Alabama", US, &["Ala"]),
    row("AK", "Alaska", US, &[]),
    row("AZ", "Arizona", US, &["Ariz"]),
    row("AR", "Arkansas", US, &["Ark"]),
    row("CA", "California", US, &["Calif", "Cal"]),
    row("CO", "Colorado", US, &["Colo"]),
    row("CT", "Connecticut", US, &["Conn"]),
    row("DE", "Delaware", US, &["Del"]),
    row("DC", "District of Columbia", US, &[]),
    row("FL", "Florida", US, &["Fla"]),
    row("GA", "Georgia", US, &[]),
    row("GU", "Guam", US, &[]),
    row("HI", "Hawaii", US, &[]),
    row("ID", "Idaho", US, &[]),
    row("IL", "Illinois", US, &["Ill"]),
    row("IN", "Indiana", US, &["Ind"]),
    row("IA", "Iowa", US, &[]),
    row("KS", "Kansas", US, &["Kan", "Kans"]),
    row("KY", "Kentucky", US, &[]),
    row("LA", "Louisiana", US, &[]),
    row("ME", "Maine", US, &[]),
    row("MD", "Maryland", US, &[]),
    row("MA", "Massachusetts", US, &["Mass"]),
    row("MI", "Michigan", US, &["Mich"]),
    row("MN", "Minnesota", US, &["Minn"]),
    row("MS", "Mississippi", US, &["Miss"]),
    row("MO", "Missouri", US, &[]),
    row("MT", "Montana", US, &["Mont"]),
    row("NE", "Nebraska", US, &["Neb", "Nebr"]),
    row("NV", "Nevada", US, &["Nev"]),
    row("NH", "New Hampshire", US, &[]),
    row("NJ", "New Jersey", US, &[]),
    row("NM", "New Mexico", US, &["N Mex"]),
    row("NY", "New York", US, &[]),
    row("NC", "North Carolina", US, &["N Car"]),
    row("ND", "North Dakota", US, &["N Dak"]),
    row("OH", "Ohio", US, &[]),
    row("OK", "Oklahoma", US, &["Okla"]),
    row("OR", "Oregon", US, &["Ore"]),
    row("PA", "Pennsylvania", US, &["Penn", "Penna"]),
    row("PR", "Puerto Rico", US, &[]),
    row("RI", "Rhode Island", US, &[]),
    row("SC", "South Carolina", US, &["S Car"]),
    row("SD", "South Dakota", US, &["S Dak"]),
    row("TN", "Tennessee", US, &["Tenn"]),
    row("TX", "Texas", US, &["Tex"]),
    row("UT", "Utah", US, &[]),
    row("VT", "Vermont", US, &[]),
    row("VI", "Virgin Islands", US, &["US Virgin Islands", "USVI"]),
    row("VA", "Virginia", US, &[]),
    row("WA", "Washington", US, &["Wash"]),
    row("WV", "West Virginia", US, &["W Va"]),
    row("WI", "Wisconsin", US, &["Wis", "Wisc"]),
    row("WY", "Wyoming", US, &["Wyo"]),
];

impl State {
    /// The state of a code, a name or another way to write it; case, accents and points do not count.
    pub fn find(text: &str) -> Option<&'static Self> {
        let wanted = fold(text).concat();
        let is_meant = |it: &&Self| {
            let spellings = [it.code, it.name].into_iter().chain(it.also.iter().copied());
            spellings.into_iter().any(|spelling| fold(spelling).concat() == wanted)
        };
        STATES.iter().find(is_meant)
    }

    /// All names and codes.
    pub fn spellings() -> impl Iterator<Item = &'static str> {
        STATES.iter().flat_map(|it| [it.name, it.code])
    }
}

/// A state that places are in: one of the table, or one that only a place states.
#[derive(Clone, Debug)]
pub(super) struct StateName {
    /// Its abbreviation.
    pub code: String,
    /// Its name.
    pub name: String,
}

impl StateName {
    /// The state of a text; `own` are those that places state.
    pub fn find<'s>(text: &str, mut own: impl Iterator<Item = &'s Arc<str>>) -> Option<Self> {
        let of = |code: &str, name: &str| Self { code: code.to_owned(), name: name.to_owned() };
        let known = State::find(text).map(|state| of(state.code, state.name));
        known.or_else(|| own.find(|own| is_same(own, text)).map(|own| of(own, own)))
    }

    /// Whether a climate is in it.
    pub fn holds(&self, climate: &Climate) -> bool {
        climate.state.as_ref().is_some_and(|own| match State::find(own) {
            Some(state) => state.code == self.code,
            None => is_same(own, &self.code),
        })
    }
}

fn is_same(a: &str, b: &str) -> bool {
    fold(a).concat() == fold(b).concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 50 states, the district and 3 territories with places of their own; 10 provinces and 3 territories.
    #[test]
    fn every_state_and_province_is_listed_once() {
        let count = |country| STATES.iter().filter(|it| it.country == country).count();
        assert_eq!((count(US), count(CANADA)), (54, 13));
        for it in &STATES {
            for text in [it.code, it.name].iter().chain(it.also) {
                assert_eq!(State::find(text), Some(it), "{text}");
            }
        }
    }

    #[test]
    fn case_accents_and_points_are_ignored() {
        for (text, code) in [
            ("Québec", "QC"),
            ("b.c.", "BC"),
            ("N.W.T.", "NT"),
            ("newfoundland & labrador", "NL"),
            ("d. c.", "DC"),
        ] {
            assert_eq!(State::find(text).map(|it| it.code), Some(code), "{text}");
        }
        assert_eq!(State::find("Bavaria"), None);
    }
}
