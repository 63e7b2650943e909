//! A job's climate, and the figures of any climate that a design low can be taken from.

use super::super::climate::design_is;
use super::super::climates::often;
use super::borrowed::BorrowedJson;
use super::values::{
    DifferenceJson, LocationJson, Number, TemperatureJson, difference, low_temperature, temperature,
};
use crate::climate::{AnnualLow, Climate, Low};
use crate::review::Design;
use crate::units::{Quantity, System};
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;

/// The climate of a job.
#[derive(Serialize, JsonSchema)]
pub(super) struct ClimateJson<'r> {
    /// Null for a climate that the job describes.
    id: Option<&'r str>,
    name: &'r str,
    /// State or province, by its postal abbreviation.
    state: Option<&'r str>,
    /// IECC climate zone.
    zone: Option<&'r str>,
    /// The outdoor temperature an outlet must survive.
    design_low: Option<TemperatureJson>,
    /// What the design low is: a low by years such as 20-year low, 99.6 % value, 99 % value, coldest recorded, the
    /// authority's
    /// winter temperature, or stated in the job or in the file that the climate is from.
    design_low_is: String,
    /// Dry-bulb temperature exceeded in 99.6 % of the year's hours.
    #[serde(rename = "heating_99.6")]
    heating_996: Option<TemperatureJson>,
    /// Dry-bulb temperature exceeded in 99 % of the year's hours.
    heating_99: Option<TemperatureJson>,
    annual_low: Option<AnnualLowJson>,
    /// The coldest hour on record.
    coldest_recorded: Option<TemperatureJson>,
    /// Every figure that a design low can be taken from, the mildest kind first.
    lows: Vec<LowJson>,
    /// Where the figures are published.
    source: &'r str,
    /// Who provides it: built in, the user, or the job.
    from: &'static str,
    at: LocationJson<'r>,
    /// The station that a town, a postal area or a point has its figures from; null for a climate of its own.
    borrowed: Option<BorrowedJson<'r>>,
    /// The climate the job names, if the command line named this one instead.
    in_place_of: Option<&'r str>,
}

impl<'r> ClimateJson<'r> {
    pub(super) fn of(
        climate: &'r Climate,
        design: &Design,
        in_place_of: Option<&'r Arc<str>>,
        system: System,
    ) -> Self {
        let kelvin =
            |value: Option<f64>| value.map(|value| low_temperature(&Quantity::temperature(value), system));
        Self {
            id: (!climate.id.is_empty()).then_some(&climate.id),
            name: &climate.name,
            state: climate.state.as_deref(),
            zone: climate.zone.as_deref(),
            design_low: kelvin(design.low),
            design_low_is: design_is(design, climate),
            heating_996: kelvin(climate.heating_996),
            heating_99: kelvin(climate.heating_990),
            annual_low: climate.annual_low.map(|low| AnnualLowJson::of(&low, system)),
            coldest_recorded: kelvin(climate.coldest_recorded),
            lows: lows(climate, system),
            source: &climate.source,
            from: climate.whose.words(),
            at: (&climate.location).into(),
            borrowed: BorrowedJson::of(climate, system),
            in_place_of: in_place_of.map(|id| &**id),
        }
    }
}

/// The lowest temperature of a year: mean and standard deviation over the years.
#[derive(Serialize, JsonSchema)]
pub(super) struct AnnualLowJson {
    mean: TemperatureJson,
    deviation: DifferenceJson,
    /// How many winters both are drawn from.
    #[schemars(range(min = 2))]
    winters: Number,
    /// Whether the source says how many; false if they are assumed.
    winters_stated: bool,
}

impl AnnualLowJson {
    pub(super) fn of(low: &AnnualLow, system: System) -> Self {
        Self {
            mean: temperature(low.mean, system),
            deviation: difference(low.deviation, system),
            winters: Number(low.record()),
            winters_stated: low.winters.is_some(),
        }
    }
}

/// One figure of a climate. How often an annual low reaches it is null if the annual lows are unknown.
#[derive(Serialize, JsonSchema)]
pub(super) struct LowJson {
    /// Which figure: 99 % value, 99.6 % value, 5-year low and so on, coldest recorded.
    is: String,
    /// The figure; a low by years has a band, from the number of winters it is drawn from.
    temperature: TemperatureJson,
    /// How often an annual low reaches it, in words: most winters, once in 20 years, once in over 1000 years.
    often: Option<String>,
    /// About how many years lie between annual lows that reach it: 1 for most winters, 1000 for more.
    #[schemars(range(min = 1, max = 1000))]
    once_in_years: Option<Number>,
    /// The chance that one of 30 winters reaches it, never 0 or 1.
    #[schemars(range(min = 0.0001, max = 0.9999))]
    chance_in_30_years: Option<Number>,
}

/// Every figure of a climate that a design low can be taken from.
pub(super) fn lows(climate: &Climate, system: System) -> Vec<LowJson> {
    climate.lows().iter().map(|low| LowJson::of(low, system)).collect()
}

impl LowJson {
    fn of(low: &Low, system: System) -> Self {
        // Never impossible and never certain, as on a page.
        const CHANCES: [f64; 2] = [0.0001, 0.9999];
        let [coldest, warmest] = low.within.unwrap_or([low.kelvin; 2]);
        let kelvin = Quantity::temperature(low.kelvin).within(coldest, warmest);
        Self {
            is: low.by.words(),
            temperature: low_temperature(&kelvin, system),
            often: low.often.map(often),
            once_in_years: low.often.map(|years| Number(years.number())),
            chance_in_30_years: low.chance.map(|chance| Number(chance.clamp(CHANCES[0], CHANCES[1]))),
        }
    }
}
