//! A place and its design conditions.

use super::design::DesignBy;
use super::extremes::AnnualLow;
use crate::diag::Location;
use std::sync::Arc;

/// Plausible outdoor temperatures, K (-112 °F to 104 °F); others have a wrong sign or scale.
pub(crate) const OUTDOORS: [f64; 2] = [193.15, 313.15];
/// Plausible standard deviations of annual lows, K.
pub(crate) const DEVIATION: [f64; 2] = [0.1, 12.0];
/// Elevations from below the lowest shore to above the highest town of the continent, m; air films are known to 60 kPa.
pub(crate) const ELEVATIONS: [f64; 2] = [-450.0, 4200.0];
/// Winters of a record; fewer are too few for a standard deviation.
pub(super) const WINTERS: [f64; 2] = [3.0, 300.0];

/// Months as files name them, and their numbers.
pub const MONTHS: [(&str, u8); 12] = [
    ("January", 1),
    ("February", 2),
    ("March", 3),
    ("April", 4),
    ("May", 5),
    ("June", 6),
    ("July", 7),
    ("August", 8),
    ("September", 9),
    ("October", 10),
    ("November", 11),
    ("December", 12),
];

/// Who a climate comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// The program's own.
    BuiltIn,
    /// A file of the person's own.
    Own,
    /// The same, replacing a built-in one of the same id.
    InPlaceOfBuiltIn,
    /// The job describes it.
    Job,
}

impl Whose {
    /// Whether it is in a file of the person's own.
    pub fn is_own(self) -> bool {
        matches!(self, Self::Own | Self::InPlaceOfBuiltIn)
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::BuiltIn => "built in",
            Self::Own => "yours",
            Self::InPlaceOfBuiltIn => "yours, in place of the one built in",
            Self::Job => "described in the job",
        }
    }
}

/// The source of a normal of the coldest month, of years such as 1981-2010.
pub(super) fn normal_source(years: Option<&str>) -> String {
    format!("{} normal of the coldest month", years.unwrap_or("1991-2020"))
}

/// A place and how cold it gets. All temperatures in K.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// Its id in a job; blank for one described in the job.
    pub id: Arc<str>,
    /// Its name.
    pub name: Arc<str>,
    /// State or province, by its postal abbreviation.
    pub state: Option<Arc<str>>,
    /// Where it was measured, such as an airport, if the name does not say.
    pub measured_at: Option<Arc<str>>,
    /// Number of its station (WMO).
    pub station: Option<Arc<str>>,
    /// IECC climate zone.
    pub zone: Option<Arc<str>>,
    /// Degrees north.
    pub latitude: Option<f64>,
    /// Degrees east.
    pub longitude: Option<f64>,
    /// m above sea level.
    pub elevation: Option<f64>,
    /// Whether salt water is near enough to matter for metals; `None` if not stated.
    pub coastal: Option<bool>,
    /// Dry bulb exceeded in 99.6 % of the hours of a year.
    pub heating_996: Option<f64>,
    /// Dry bulb exceeded in 99 % of the hours of a year.
    pub heating_990: Option<f64>,
    /// The annual extreme low.
    pub annual_low: Option<AnnualLow>,
    /// The coldest hour on record.
    pub coldest_recorded: Option<f64>,
    /// The coldest month, 1 to 12.
    pub coldest_month: Option<u8>,
    /// Mean of the coldest month.
    pub coldest_month_mean: Option<f64>,
    /// The 95 % error of that mean as the long-term normal, K, after any correction; `None` if not stated.
    pub coldest_month_within: Option<f64>,
    /// Where that mean is from.
    pub coldest_month_source: Arc<str>,
    /// Dew point of outdoor air in humid summer weather, exceeded in 1 % of the hours of a year.
    pub summer_dew_point: Option<f64>,
    /// The water supply as humid weather begins.
    pub supply_water: Option<f64>,
    /// A stated design low, used instead of the 20-year low.
    pub stated_low: Option<f64>,
    /// Where the figures are published.
    pub source: Arc<str>,
    /// The year of the edition they are published in, if stated.
    pub edition: Option<u16>,
    /// The station that the figures are from, if it is not at the place itself.
    pub borrowed: Option<Arc<Borrowed>>,
    /// Its location in a file.
    pub location: Location,
    /// Who it comes from.
    pub whose: Whose,
}

/// A place near a point.
#[derive(Clone, Debug, PartialEq)]
pub struct Near {
    /// The place.
    pub climate: Arc<Climate>,
    /// Along a great circle, m.
    pub distance: f64,
    /// How much higher the point is than the place, m; `None` if either height is not stated.
    pub higher: Option<f64>,
}

/// Where the figures of a place come from.
#[derive(Clone, Debug, PartialEq)]
pub struct Borrowed {
    /// The station, as far away and as much lower than the place as it is.
    pub station: Near,
    /// A station of an older edition that is colder.
    pub colder: Option<Near>,
    /// States of other, much smaller towns of the same name, where the text gave no state.
    pub same_name_in: Vec<Arc<str>>,
}

impl Climate {
    /// A climate without any figure.
    pub fn unknown() -> Self {
        Self {
            id: "".into(),
            name: "no climate".into(),
            state: None,
            measured_at: None,
            station: None,
            zone: None,
            latitude: None,
            longitude: None,
            elevation: None,
            coastal: None,
            heating_996: None,
            heating_990: None,
            annual_low: None,
            coldest_recorded: None,
            coldest_month: None,
            coldest_month_mean: None,
            summer_dew_point: None,
            supply_water: None,
            coldest_month_within: None,
            coldest_month_source: "".into(),
            stated_low: None,
            source: "".into(),
            edition: None,
            borrowed: None,
            location: Location::whole(""),
            whose: Whose::Job,
        }
    }

    /// The outdoor temperature an outlet must survive unless another is chosen: the stated low, or the 20-year low, K.
    pub fn design_low(&self) -> Option<f64> {
        self.low_by(self.usual_design())
    }

    /// What [`Climate::design_low`] is.
    pub fn usual_design(&self) -> DesignBy {
        self.stated_low.map_or(DesignBy::Years(20.0), DesignBy::Stated)
    }

    /// A figure of this climate, K; `None` if it does not have it. The authority's figure is not one of a climate.
    pub fn low_by(&self, by: DesignBy) -> Option<f64> {
        match by {
            DesignBy::Stated(kelvin) => Some(kelvin),
            DesignBy::Years(years) => self.annual_low.and_then(|low| low.low(years)),
            DesignBy::Heating996 => self.heating_996,
            DesignBy::Heating99 => self.heating_990,
            DesignBy::ColdestRecorded => self.coldest_recorded,
            DesignBy::Authority => None,
        }
    }

    /// Whether it has any low temperature to design for.
    pub(super) fn has_a_low(&self) -> bool {
        let all = [self.stated_low, self.heating_996, self.heating_990, self.coldest_recorded];
        self.annual_low.is_some() || all.iter().any(Option::is_some)
    }

    /// Its coldest month.
    pub fn coldest_month_name(&self) -> Option<&'static str> {
        let own = MONTHS.iter().find(|(_, number)| Some(*number) == self.coldest_month);
        own.map(|(name, _)| *name)
    }

    /// Whether two differ only in their locations.
    pub(super) fn is_same_as(&self, other: &Self) -> bool {
        *self == Self { location: self.location.clone(), whose: self.whose, ..other.clone() }
    }

    /// Where it was measured, with its state: "St Cloud Rgnl AP, MN".
    pub fn station_name(&self) -> String {
        let name = self.measured_at.as_ref().unwrap_or(&self.name);
        self.state.as_ref().map_or_else(|| name.to_string(), |state| format!("{name}, {state}"))
    }

    /// "Minneapolis-St Paul, MN".
    pub fn name_and_state(&self) -> String {
        self.state.as_ref().map_or_else(|| self.name.to_string(), |state| format!("{}, {state}", self.name))
    }
}
