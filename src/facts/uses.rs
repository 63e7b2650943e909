//! What each fact is worked out from. Reading records it; the table holds it for those who only look it up.

use std::collections::BTreeMap;
use std::sync::LazyLock;

/// `fact: what it reads`, a line each, in the order of the catalogue. A test holds it against what reading records.
const TABLE: &str = include_str!("reads.txt");

static READS: LazyLock<BTreeMap<&str, Vec<&str>>> = LazyLock::new(|| {
    let rows = TABLE.lines().filter_map(|line| line.split_once(": "));
    rows.map(|(fact, reads)| (fact, reads.split(", ").collect())).collect()
});

/// Names of the facts and settings that a fact is worked out from, where it is not stated.
pub fn reads_of(fact: &str) -> impl Iterator<Item = &'static str> + use<> {
    READS.get(fact).into_iter().flatten().copied()
}

/// Keys of a job that facts are taken from, beside the headings under `defaults`.
const OF_THE_JOB: &[(&str, &[&str])] = &[
    ("outlet.supply", &["supply", "supply: material"]),
    ("outlet.supply_size", &["supply: size"]),
    ("outlet.supply_run", &["supply: run"]),
    ("outlet.supply_insulation", &["supply: insulation"]),
    ("site.design_low", &["climate", "design_low", "climate: design_low", "climate: annual_low"]),
    ("site.heating_996", &["climate: heating_99.6"]),
    ("site.heating_99", &["climate: heating_99"]),
    ("site.winter_temperature", &["authority: winter_temperature"]),
    ("site.frost_depth", &["authority: frost_depth"]),
    ("site.outlet_height", &["authority: outlet_height"]),
    ("site.freezing_index", &["authority: freezing_index"]),
    ("site.spell_start", &["spell: start", "climate: coldest_month_mean"]),
    ("site.spell_swing", &["spell: swing"]),
    ("site.spell_days", &["spell: days"]),
    ("site.exposure", &["exposure", "climate: coastal"]),
    ("site.elevation", &["climate: elevation"]),
    ("site.soil", &["soil"]),
    ("wall.thickness", &["walls"]),
    ("wall.inside_face_of_insulation", &["walls"]),
    ("wall.insulated", &["walls"]),
    ("wall.resistance", &["walls"]),
    ("wall.storage", &["walls"]),
    ("wall.masonry", &["walls"]),
    ("space.room_temperature", &["spaces: temperature"]),
    ("space.share", &["spaces: factor"]),
    ("space.time_constant", &["spaces: time constant"]),
    ("space.heated", &["spaces: temperature"]),
    ("space.humidity", &["spaces: humidity"]),
    ("space.humidity_advised", &["climate: coldest_month_mean"]),
    ("heat.years_between", &["climate: annual_low"]),
    ("heat.how_often", &["climate: annual_low"]),
    ("heat.chance_in_30_years", &["climate: annual_low"]),
    ("hydrant.frost_depth", &["climate: coldest_month_mean"]),
    ("sweat.wood_humidity", &["climate: coldest_month_mean"]),
    ("sweat.hours_a_year", &["climate"]),
    ("sweat.water_a_year", &["climate"]),
    ("energy.heat_per_season", &["climate"]),
    ("backflow.code_asks_for_fixed", &["code"]),
];

/// Keys of a job that a fact is taken from: `authority: frost_depth`.
pub fn job_keys(fact: &str) -> &'static [&'static str] {
    OF_THE_JOB.iter().find(|(name, _)| *name == fact).map_or(&[], |(_, keys)| keys)
}
