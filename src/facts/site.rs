//! Facts of the site: what the climate, the code and the authority state.

use super::def::{DAY, FOOT, FactType, LENGTH, PRESSURE, TEMPERATURE, TIME, computed_quantity, facts, found};
use super::outlet::{Fact, Origin, Outlet};
use crate::climate::DesignBy;
use crate::expr::{Gap, Value};
use crate::physics::moist_air::standard_pressure;
use crate::physics::water::ICE_POINT;
use crate::units::{Dim, Measure, Quantity, Rounding};

/// 10 °F, as a difference. The days of the coldest three-day runs of 11 years of hourly temperatures (Northway AK, Chicago
/// and Mount Shasta CA; eight years of NOAA ISD-Lite, three typical years) swing by 4 to 18 K, median 8.9 K, lower
/// quartile 6.2 K (11 °F). With the low given, a lesser swing makes the day colder: the quartile is taken, rounded down.
const SWING: f64 = 10.0 * (5.0 / 9.0);
/// 7 °F, as a difference, by the sea: 15 such days of places near it (`tests/reference/year.py spells`) have a lower
/// quartile of 3.9 K and a median of 4.6 K.
const SWING_BY_THE_SEA: f64 = 7.0 * (5.0 / 9.0);
/// An assumption of this project; no standard sets it.
const DAYS: f64 = 3.0 * DAY;

/// Air pressure is rounded to this, Pa, so that places at about the same elevation share their sections: half a step
/// changes an inner film by 0.3 %.
const PRESSURE_STEP: f64 = 1000.0;
const A_TEMPERATURE: FactType = FactType::Quantity(TEMPERATURE);
const A_LENGTH: FactType = FactType::Quantity(LENGTH);

facts! {
    DESIGN_LOW = found("site.design_low", "outdoor low at which the water at the valve seat must stay above freezing", A_TEMPERATURE, design_low)
        .low()
        .job_keys(&["climate", "design_low", "climate: design_low", "climate: annual_low"]);
    HEATING_996 = found(
        "site.heating_996",
        "dry-bulb temperature exceeded in 99.6 % of the hours of a year",
        A_TEMPERATURE,
        |outlet| {
            Ok(published(outlet, outlet.world().job().climate.heating_996, None))
        },
    )
        .low()
        .label("99.6 % heating temperature")
        .job_keys(&["climate: heating_99.6"]);
    HEATING_99 = found(
        "site.heating_99",
        "dry-bulb temperature exceeded in 99 % of the hours of a year",
        A_TEMPERATURE,
        |outlet| {
            Ok(published(outlet, outlet.world().job().climate.heating_990, None))
        },
    )
        .low()
        .label("99 % heating temperature")
        .job_keys(&["climate: heating_99"]);
    STATE = found("site.state", "state or province of the climate, by its postal abbreviation", FactType::Text, |outlet| {
        let climate = &outlet.world().job().climate;
        Ok(climate.state.as_ref().map_or_else(|| outlet.unknown(), |state| Fact {
            value: Ok(Value::Text(state.clone())),
            origin: Origin::Published(climate.source.clone()),
        }))
    });
    COUNTY = found("site.county", "county that the job states", FactType::Text, |outlet| {
        let county = outlet.world().job().county.as_ref();
        Ok(county.map_or_else(
            || outlet.unknown(),
            |(county, location)| Fact {
                value: Ok(Value::Text(county.clone())),
                origin: Origin::Job(location.clone(), county.clone()),
            },
        ))
    })
        .job_keys(&["county"]);
    ZONE = found("site.zone", "climate zone of the energy code, such as 6A", FactType::Text, |outlet| {
        let climate = &outlet.world().job().climate;
        Ok(climate.zone.as_ref().map_or_else(
            || outlet.unknown(),
            |zone| Fact {
                value: Ok(Value::Text(zone.clone())),
                origin: Origin::Published(climate.source.clone()),
            },
        ))
    });
    WINTER_TEMPERATURE = found(
        "site.winter_temperature",
        "winter design temperature set by the authority",
        A_TEMPERATURE,
        |outlet| {
            let stated = outlet.world().job().authority.winter_temperature.as_ref();
            Ok(outlet.of_job(stated, Quantity::temperature))
        },
    )
        .low()
        .job_keys(&["authority: winter_temperature"]);
    WINTER_DESIGN = found(
        "site.winter_design",
        "winter design temperature, by which a code takes a place to be subject to freezing: the authority's, otherwise the \
         99.6 % value (then the 99 % value, then the design low)",
        A_TEMPERATURE,
        winter_design,
    )
        .low();
    FROST_DEPTH = found("site.frost_depth", "frost depth set by the authority", A_LENGTH, |outlet| {
        let stated = outlet.world().job().authority.frost_depth.as_ref();
        Ok(outlet.of_job(stated, |depth| Quantity::of(depth, Dim::LENGTH)))
    })
        .job_keys(&["authority: frost_depth"])
        .show(("in", 0), ("mm", 0), Rounding::Up);
    OUTLET_HEIGHT = found(
        "site.outlet_height",
        "least height of a faucet above grade set by the authority",
        A_LENGTH,
        |outlet| {
            let stated = outlet.world().job().authority.outlet_height.as_ref();
            Ok(outlet.of_job(stated, |height| Quantity::of(height, Dim::LENGTH)))
        },
    )
        .job_keys(&["authority: outlet_height"])
        .show(("in", 1), ("mm", 0), Rounding::Nearest);
    SPELL_START = found("site.spell_start", "outdoor daily mean before the cold spell", A_TEMPERATURE, spell_start)
        .job_keys(&["spell: start", "climate: coldest_month_mean"]);
    SPELL_LOW = found("site.spell_low", "low of each day of the cold spell", A_TEMPERATURE, |outlet| {
        Ok(outlet.get_fact(DESIGN_LOW))
    })
        .low();
    SPELL_SWING = found(
        "site.spell_swing",
        "daily high less daily low in the cold spell",
        FactType::Quantity(Measure::Of(Dim::DIFFERENCE)),
        spell_swing,
    )
        .label("day-to-night swing")
        .job_keys(&["spell: swing"]);
    SPELL_DAYS = found("site.spell_days", "length of the cold spell", FactType::Quantity(TIME), |outlet| {
        let quantity = |time| Quantity::of(time, Dim::TIME);
        Ok(match outlet.world().job().spell.duration.as_ref() {
            None => Fact::assumed(
                Value::Quantity(quantity(DAYS)),
                "the program's default; `days` under `spell:` overrides it",
            ),
            stated => outlet.of_job(stated, quantity),
        })
    })
        .label("cold spell")
        .job_keys(&["spell: days"])
        .show(("days", 0), ("days", 0), Rounding::Up);
    ELEVATION = found("site.elevation", "elevation above sea level", A_LENGTH, elevation)
        .job_keys(&["climate: elevation"])
        .show(("ft", 0), ("m", 0), Rounding::Nearest);
    AIR_PRESSURE = computed_quantity(
        "site.air_pressure",
        "standard air pressure at its elevation",
        PRESSURE,
        |outlet| {
            let elevation = outlet.quantity(ELEVATION)?;
            let pressure = |elevation| {
                let pressure = standard_pressure(elevation).map_err(|it| outlet.absent(it))?;
                Ok::<f64, Gap>((pressure / PRESSURE_STEP).round() * PRESSURE_STEP)
            };
            let [low, is, high] = [elevation.high, elevation.is, elevation.low].map(pressure);
            Ok(Value::Quantity(Quantity::of(is?, Dim::PRESSURE).within(low?, high?)))
        },
    )
        .show(("psi", 1), ("kPa", 0), Rounding::Nearest);
    EXPOSURE = found("site.exposure", "exposure of its metals", FactType::OneOf(&["coastal", "exterior"]), exposure)
        .job_keys(&["exposure", "climate: coastal"]);
}

fn design_low(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let job = outlet.world().job();
    Ok(match &job.design.stated {
        None => published(outlet, job.design.low, Some(&job.design.words())),
        stated => outlet.of_job(stated.as_ref(), Quantity::temperature),
    })
}

fn spell_swing(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let quantity = |kelvin| Quantity::of(kelvin, Dim::DIFFERENCE);
    let job = outlet.world().job();
    let by_the_sea = job.climate.coastal == Some(true)
        || job.exposure.as_ref().is_some_and(|(word, _)| *word == "coastal");
    Ok(match job.spell.swing.as_ref() {
        None if by_the_sea => Fact::assumed(
            Value::Quantity(quantity(SWING_BY_THE_SEA)),
            "near the sea three out of four cold-spell days swing more than this, and a smaller swing keeps the day colder; \
             `swing` under `spell:` overrides it",
        ),
        None => Fact::assumed(
            Value::Quantity(quantity(SWING)),
            "three out of four cold-spell days swing more than this, and a smaller swing keeps the day colder; \
             `swing` under `spell:` overrides it",
        ),
        stated => outlet.of_job(stated, quantity),
    })
}

/// Elevations of towns, m: most lie below 1000 ft, only a few mountain towns above 7000 ft (no published source).
const UNKNOWN_ELEVATION: [f64; 3] = [0.0, 1000.0 * FOOT, 7000.0 * FOOT];

/// The elevation of the climate; if not published, anything up to that of mountain towns.
fn elevation(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let climate = &outlet.world().job().climate;
    let length = |meters| Quantity::of(meters, Dim::LENGTH);
    let [low, is, high] = UNKNOWN_ELEVATION;
    Ok(match climate.elevation {
        Some(meters) => Fact {
            value: Ok(Value::Quantity(length(meters))),
            origin: Origin::Published(climate.source.clone()),
        },
        None => Fact::assumed(
            Value::Quantity(length(is).within(low, high)),
            "the climate does not state it: most towns lie below {= 1000 ft}, a few mountain towns at {= 7000 ft}, where \
             thin air warms an inlet less, by up to {= 1 Δ°F}; `elevation` in the climate overrides it",
        ),
    })
}

/// The exposure that the job states; otherwise coastal if the climate's station is by salt water.
fn exposure(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let job = outlet.world().job();
    let assumed = |word: &str, why| Fact::assumed(Value::Text(word.into()), why);
    Ok(match (&job.exposure, job.climate.coastal) {
        (Some(stated), _) => Outlet::word_of_job(stated),
        (None, Some(true)) => {
            assumed("coastal", "the climate's station is by salt water; `exposure:` in the job overrides it")
        }
        (None, _) => assumed("exterior", "outdoors, away from salt; `exposure:` in the job overrides it"),
    })
}

/// The winter design temperature. Codes take it from tables of what 97 1/2 % of the hours of three winter months exceed
/// (not checked against an edition): all but 54 h a year, between the 99.6 % value (35 h), which is nearer and colder, and
/// the 99 % value (88 h) published today. What an outlet must survive is colder.
fn winter_design(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let mut found = outlet.get_fact(WINTER_TEMPERATURE);
    for (def, percent) in [(HEATING_996, Some("99.6 %")), (HEATING_99, Some("99 %")), (DESIGN_LOW, None)] {
        let fact = outlet.get_fact(def);
        if found.value.is_err() {
            found = fact;
            if let (Some(percent), Origin::Published(from)) = (percent, &found.origin) {
                found.origin = Origin::Published(format!("{percent} value, {from}").into());
            }
        }
    }
    Ok(found)
}

/// The daily mean before the cold spell: as stated, the mean of the coldest month, or estimated from the 20-year low, in
/// °C: 0.7·low + 15.3, and steeper below -35 °C, where months by an ice-bound sea are as cold as their lows are mild. Over
/// the 169 built-in climates the estimate is at most 5.1 K warmer than their means and on average 3.1 K colder, by up to
/// 25 K in the cold interior. It does not depend on the choice of the design low.
fn spell_start(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let job = outlet.world().job();
    if let stated @ Some(_) = job.spell.start.as_ref() {
        return Ok(outlet.of_job(stated, Quantity::temperature));
    }
    let climate = &job.climate;
    if let Some(mean) = climate.coldest_month_mean {
        let from = format!("mean of the coldest month, {}", climate.coldest_month_source);
        return Ok(Fact {
            value: Ok(Value::Quantity(Quantity::temperature(mean))),
            origin: Origin::Published(from.into()),
        });
    }
    let design = outlet.number(DESIGN_LOW);
    let low = climate.low_by(DesignBy::Years(20.0)).map_or(design, Ok)? - ICE_POINT;
    let start = 0.7 * low + 15.3 + 1.3 * (low + 35.0).min(0.0);
    Ok(Fact::assumed(
        Value::Quantity(Quantity::temperature(start + ICE_POINT)),
        "estimated from the 20-year low as in other climates, at most about {= 9 Δ°F} too warm; `spell: { start: }` in the \
         job, or `coldest_month_mean` in its climate, overrides it",
    ))
}

/// A temperature that the climate publishes; unknown if it does not. `figure` says which one it is.
fn published(outlet: &Outlet<'_>, kelvin: Option<f64>, figure: Option<&str>) -> Fact {
    let Some(kelvin) = kelvin else { return outlet.unknown() };
    let source = &outlet.world().job().climate.source;
    let from = figure.map_or_else(|| source.clone(), |figure| format!("{figure}, {source}").into());
    Fact { value: Ok(Value::Quantity(Quantity::temperature(kelvin))), origin: Origin::Published(from) }
}
