//! Job files.

#![allow(dead_code, reason = "described, never built")]

use super::rules::Amendment;
use super::shapes::{
    Authority, Climates, CodeOrName, Costs, Defaults, Exposure, Material, Model, Month, Place, Quantity,
    ReviseOn, Soil, Space, Spaces, Supply, SupplyInsulation, SupplyRun, SupplySize, Text, TextOrList, YesNo,
    stated,
};
use schemars::JsonSchema;
use std::collections::BTreeMap;

/// A job: a schedule of outdoor water outlets with its climate, code, authority, spaces, walls, defaults and rules.
/// `coldsill review JOB` reviews it.
#[derive(JsonSchema)]
#[schemars(title = "Coldsill job", deny_unknown_fields)]
pub(super) struct Job {
    /// Name of the job.
    job: Option<Text>,
    /// The climate: one that `coldsill climates` lists, by id, name or station number, or one described here with a
    /// low of its
    /// own.
    climate: Option<ClimateOrId>,
    /// Your own climates: a file of places beside the job, a folder of such files, or a list of both. A place with
    /// the id of a
    /// built-in climate replaces it.
    climates: Option<TextOrList>,
    /// The outdoor temperature an outlet must survive: 50-year low, 99.6 %, 99 %, coldest recorded, authority, or a
    /// temperature;
    /// the 20-year low without it.
    design_low: Option<Text>,
    /// The adopted code.
    code: Option<CodeOrName>,
    authority: Option<Authority>,
    /// Exposure of the metals; away from salt without it.
    exposure: Option<Exposure>,
    /// The soil of the yard, for the frost depth.
    soil: Option<Soil>,
    costs: Option<Costs>,
    /// The county, for tables of amendments.
    county: Option<Text>,
    /// Your own outlet types by model: a file beside the job, or the models themselves.
    products: Option<FileOrModels>,
    spaces: Option<Spaces>,
    spell: Option<Spell>,
    /// Your own walls, each by the name that schedules use; `coldsill walls` lists the built-in ones.
    walls: Option<BTreeMap<String, Wall>>,
    /// The usual supply: its material, or more of it.
    supply: Option<SupplyOrMaterial>,
    /// Values for every outlet that does not state its own, by the headings of a schedule.
    defaults: Option<Defaults>,
    revise_on: Option<ReviseOn>,
    /// A built-in set of changes: for a plans examiner, or for a builder.
    preset: Option<Text>,
    /// Sheets of questions with responses: files beside the job, the newest last.
    answers: Option<OneOrMore>,
    /// Rows that are outdoor outlets, whatever they say: marks, or `row 12`.
    include: Option<OneOrMore>,
    /// Rows that are no outdoor outlets: marks, or `row 12`.
    set_aside: Option<OneOrMore>,
    /// What the schedule's own headings mean: a heading that `coldsill facts` lists, a fact, or ignore.
    columns: Option<BTreeMap<String, Text>>,
    /// Location and count of each mark: a file beside the job, a sheet of a workbook, or a list by the headings of a
    /// schedule.
    places: Option<FileOrPlaces>,
    /// How many homes are built to each plan option: `{ Plan A: 12 }`.
    homes: Option<BTreeMap<String, Quantity>>,
    /// The schedule: a file beside the job, or a sheet of a workbook.
    schedule: FileOrSheet,
    /// Amendments: files beside the job, in the order they apply.
    rules: Option<Amendments>,
}

/// Alternatives for the value of one key.
macro_rules! alternatives {
    ($($name:ident: $($variant:ident($of:ty)),+;)+) => {$(
        #[derive(JsonSchema)]
        #[schemars(inline, untagged)]
        enum $name {
            $($variant($of),)+
        }
    )+};
}

alternatives! {
    ClimateOrId: Id(Climates), Described(Climate);
    FileOrModels: File(Text), Models(BTreeMap<String, Model>);
    SupplyOrMaterial: Material(Supply), More(SupplyParts);
    FileOrSheet: File(Text), Sheet(Schedule);
    FileOrPlaces: File(Text), Sheet(Schedule), List(Vec<Place>);
    Amendments: List(Vec<FileOrAmendment>), One(Amendment);
    FileOrAmendment: File(Text), Amendment(Amendment);
    LayerOrText: Layer(Layer), Text(String);
    OneOrMore: One(Text), Several(Vec<Text>);
}

#[derive(JsonSchema)]
#[schemars(rename = "climate", deny_unknown_fields, extend("anyOf" = [
    stated("design_low"), stated("annual_low"), stated("heating_99.6"), stated("heating_99"), 
        stated("coldest_recorded"),
]))]
struct Climate {
    /// Name of the place.
    name: Text,
    /// State or province.
    state: Option<Text>,
    /// Climate zone of the energy code.
    zone: Option<Text>,
    /// Where the figures are from.
    source: Option<Text>,
    /// Edition of that source.
    edition: Option<Text>,
    /// Where it was measured: airport, harbor.
    measured_at: Option<Text>,
    /// Number of the weather station.
    station: Option<Text>,
    /// Degrees north.
    latitude: Option<Quantity>,
    /// Degrees east.
    longitude: Option<Quantity>,
    /// Above sea level: 830 ft, 253 m.
    elevation: Option<Quantity>,
    /// Whether salt water is near; metals then stand as at the coast.
    coastal: Option<YesNo>,
    /// Dry-bulb temperature exceeded in 99.6 % of the hours of a year.
    #[schemars(rename = "heating_99.6")]
    heating_996: Option<Quantity>,
    /// Dry-bulb temperature exceeded in 99 % of the hours of a year.
    heating_99: Option<Quantity>,
    /// The coldest hour on record.
    coldest_recorded: Option<Quantity>,
    /// The coldest month.
    coldest_month: Option<Month>,
    /// Mean of the coldest month, at which a cold spell starts.
    coldest_month_mean: Option<Quantity>,
    /// The normal of the coldest month; used instead of its mean.
    coldest_month_normal: Option<Quantity>,
    /// The years of that normal, such as 1981-2010 [default: 1991-2020].
    normal_years: Option<String>,
    /// Dew point of outdoor air in humid summer weather, exceeded in 1 % of the hours of a year.
    summer_dew_point: Option<Quantity>,
    /// The water supply as humid weather begins.
    supply_water: Option<Quantity>,
    /// The outdoor temperature an outlet must survive; the 20-year low without it.
    design_low: Option<Quantity>,
    annual_low: Option<AnnualLow>,
}

/// The lowest temperature of each year.
#[derive(JsonSchema)]
#[schemars(rename = "annual_low", deny_unknown_fields)]
struct AnnualLow {
    /// Its mean over the years.
    mean: Quantity,
    /// Its standard deviation, a difference.
    deviation: Quantity,
    /// How many winters both are drawn from; 25 are assumed without it.
    winters: Option<Quantity>,
}

#[derive(JsonSchema)]
#[schemars(rename = "schedule", deny_unknown_fields)]
struct Schedule {
    /// The file, beside the job.
    file: Text,
    /// The sheet of the workbook.
    sheet: Option<Text>,
}

#[derive(JsonSchema)]
#[schemars(rename = "space", deny_unknown_fields, extend("not" = { "allOf": [stated("temperature"), 
        stated("factor")] }))]
pub(super) struct SpaceParts {
    /// Its temperature all winter: 62 °F. Not together with a factor.
    temperature: Option<Quantity>,
    /// Relative humidity of its air: 35 %.
    humidity: Option<Quantity>,
    /// How far it follows the room: 0 % as outdoors, 100 % as the room. Not together with a temperature.
    factor: Option<Quantity>,
    /// Time in which it loses 63 % of its lead over outdoors with the heat off: 30 h.
    #[schemars(rename = "time constant")]
    time_constant: Option<Quantity>,
}

/// The design cold spell.
#[derive(JsonSchema)]
#[schemars(rename = "spell", deny_unknown_fields)]
struct Spell {
    /// How many days the low lasts, 1 to 30.
    days: Option<Quantity>,
    /// Difference between a day's high and low.
    swing: Option<Quantity>,
    /// Daily mean before the spell.
    start: Option<Quantity>,
}

#[derive(JsonSchema)]
#[schemars(rename = "wall", deny_unknown_fields)]
struct Wall {
    /// Its name in reports.
    name: Option<Text>,
    /// The space that is usually behind it.
    #[schemars(rename = "space behind")]
    space_behind: Option<Space>,
    /// What is under the flange, and how thick: 1-1/2 in block.
    #[schemars(rename = "under the flange")]
    under_the_flange: Option<Quantity>,
    /// Its layers from outside to inside, each as keys or as a text such as R-20 batt in 2x6.
    #[schemars(length(min = 1))]
    layers: Vec<LayerOrText>,
}

#[derive(JsonSchema)]
#[schemars(rename = "layer", deny_unknown_fields, extend(
    "anyOf" = [stated("material"), stated("conductivity"), stated("resistance")],
    "allOf" = [
        { "if": stated("density"), "then": stated("specific heat") },
        { "if": stated("specific heat"), "then": stated("density") },
    ],
))]
struct Layer {
    /// A material that `coldsill materials` lists, or air; any name together with a conductivity.
    material: Option<Material>,
    /// Its name in reports.
    name: Option<Text>,
    /// 5 1/2 in, 140 mm.
    thickness: Quantity,
    /// 0.043 W/mK.
    conductivity: Option<Quantity>,
    /// The resistance on its label: R-20.
    resistance: Option<Quantity>,
    /// 12 kg/m³; together with a specific heat.
    density: Option<Quantity>,
    /// 840 J/kgK; together with a density.
    #[schemars(rename = "specific heat")]
    specific_heat: Option<Quantity>,
    /// Whether it counts as insulation.
    insulation: Option<YesNo>,
}

#[derive(JsonSchema)]
#[schemars(rename = "supply", deny_unknown_fields)]
struct SupplyParts {
    material: Option<Supply>,
    size: Option<SupplySize>,
    run: Option<SupplyRun>,
    insulation: Option<SupplyInsulation>,
}
