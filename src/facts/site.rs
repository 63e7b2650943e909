//! What the climate, the code and the authority say.

use super::reading::{Fact, Origin, Outlet};
use super::{Answers, Def, Kind, Source, toward};
use crate::climate::{DesignBy, LOW};
use crate::expr::{Gap, Slot, Value};
use crate::job::Stated;
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
const DAYS: f64 = 3.0 * 86_400.0;

const TEMPERATURE: Kind = Kind::Quantity(Measure::Temperature);

const fn found(
    name: &'static str,
    about: &'static str,
    kind: Kind,
    find: fn(&Outlet<'_>, Slot) -> Fact,
) -> Def {
    Def { name, about, source: Source::Found(kind, find), answers: Answers::Open, show: None }
}

/// A low, printed as every low.
const fn found_low(name: &'static str, about: &'static str, find: fn(&Outlet<'_>, Slot) -> Fact) -> Def {
    Def { show: Some(LOW), ..found(name, about, TEMPERATURE, find) }
}

/// Pa.
const PRESSURE_STEP: f64 = 1000.0;

pub(super) static DEFS: &[Def] = &[
    found_low("site.design_low", "the outdoor temperature an outlet must survive", |outlet, slot| {
        let job = outlet.world().job();
        if job.design.stated.is_some() {
            return stated(slot, job.design.stated.as_ref(), Quantity::temperature);
        }
        let from = format!("{}, {}", job.design.words(), job.climate.source);
        published(slot, job.design.low, &from)
    }),
    found_low("site.heating_996", "dry bulb exceeded in 99.6 % of the year's hours", |outlet, slot| {
        let climate = &outlet.world().job().climate;
        published(slot, climate.heating_996, &climate.source)
    }),
    found_low("site.heating_99", "dry bulb exceeded in 99 % of the year's hours", |outlet, slot| {
        let climate = &outlet.world().job().climate;
        published(slot, climate.heating_990, &climate.source)
    }),
    found_low("site.winter_temperature", "the authority's winter design temperature", |outlet, slot| {
        stated(slot, outlet.world().job().authority.winter_temperature.as_ref(), Quantity::temperature)
    }),
    found_low(
        "site.winter_design",
        "winter design temperature: the authority's, else the 99.6 % value (99 %, then the design low, where there is none)",
        winter_design,
    ),
    found_low(
        "site.code_low",
        "what a code rule goes by: the authority's winter temperature where stated, else the design low",
        |outlet, _| {
            let authority = outlet.fact(super::slot("site.winter_temperature"));
            if authority.value.is_ok() { authority } else { outlet.fact(super::slot("site.design_low")) }
        },
    ),
    Def {
        show: toward(("in", 0), ("mm", 0), Rounding::Up),
        ..found(
            "site.frost_depth",
            "the authority's frost depth",
            Kind::Quantity(Measure::Of(Dim::LENGTH)),
            |outlet, slot| {
                let depth = outlet.world().job().authority.frost_depth.as_ref();
                stated(slot, depth, |depth| Quantity::of(depth, Dim::LENGTH))
            },
        )
    },
    Def {
        show: toward(("in", 1), ("mm", 0), Rounding::Nearest),
        ..found(
            "site.outlet_height",
            "the least height of an outlet above grade, where the authority has set one",
            Kind::Quantity(Measure::Of(Dim::LENGTH)),
            |outlet, slot| {
                let height = outlet.world().job().authority.outlet_height.as_ref();
                stated(slot, height, |height| Quantity::of(height, Dim::LENGTH))
            },
        )
    },
    found("site.spell_start", "outdoors before the cold spell, as a daily mean", TEMPERATURE, spell_start),
    found_low("site.spell_low", "the low of each day that the cold spell is held", |outlet, _| {
        outlet.fact(super::slot("site.design_low"))
    }),
    found(
        "site.spell_swing",
        "difference of a day's high and low in the cold spell",
        Kind::Quantity(Measure::Of(Dim::DIFFERENCE)),
        |outlet, slot| {
            let quantity = |kelvin| Quantity::of(kelvin, Dim::DIFFERENCE);
            let job = outlet.world().job();
            let by_the_sea = job.climate.coastal == Some(true)
                || job.exposure.as_ref().is_some_and(|(word, _)| *word == "coastal");
            match job.spell.swing.as_ref() {
                None if by_the_sea => Fact::assumed(
                    Value::Quantity(quantity(SWING_BY_THE_SEA)),
                    "by the sea three of four days of cold spells swing by more, and a lesser swing is colder at the same \
                     low; `spell: { swing: }` in the job overrides it",
                ),
                None => Fact::assumed(
                    Value::Quantity(quantity(SWING)),
                    "three of four days of cold spells swing by more, and a lesser swing is colder at the same low; \
                     `spell: { swing: }` in the job overrides it",
                ),
                said => stated(slot, said, quantity),
            }
        },
    ),
    Def {
        show: toward(("days", 0), ("days", 0), Rounding::Up),
        ..found(
            "site.spell_days",
            "how long the cold spell is held",
            Kind::Quantity(Measure::Of(Dim::TIME)),
            |outlet, slot| match outlet.world().job().spell.days.as_ref() {
                None => Fact::assumed(
                    Value::Quantity(Quantity::of(DAYS, Dim::TIME)),
                    "a spell is taken to be held for three days; `spell: { days: }` in the job overrides it",
                ),
                said => stated(slot, said, |time| Quantity::of(time, Dim::TIME)),
            },
        )
    },
    Def {
        show: toward(("ft", 0), ("m", 0), Rounding::Nearest),
        ..found("site.elevation", "height above the sea", Kind::Quantity(Measure::Of(Dim::LENGTH)), elevation)
    },
    Def {
        name: "site.air_pressure",
        about: "standard air pressure at its height above the sea",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::PRESSURE)), |outlet, own| {
            let pressure = standard_pressure(outlet.number("site.elevation")?);
            let pressure = pressure.map_err(|it| Gap::absent(own, it.to_string()))?;
            // Whole steps, so that places of about one height share their sections: half a step moves an inner film
            // by 0.3 %.
            Ok(Value::Quantity(Quantity::of(
                (pressure / PRESSURE_STEP).round() * PRESSURE_STEP,
                Dim::PRESSURE,
            )))
        }),
        answers: Answers::Open,
        show: toward(("psi", 1), ("kPa", 0), Rounding::Nearest),
    },
    found("site.exposure", "where its metals stand", Kind::OneOf(&["coastal", "exterior"]), exposure),
];

/// Height above the sea where nobody says it, m (7000 ft): all but a few mountain towns lie lower, and thin air warms an
/// inlet less.
const UNKNOWN_HEIGHT: f64 = 7000.0 * 0.3048;

/// Where nobody says how high it lies, the colder side.
fn elevation(outlet: &Outlet<'_>, _: Slot) -> Fact {
    let climate = &outlet.world().job().climate;
    let length = |metres| Value::Quantity(Quantity::of(metres, Dim::LENGTH));
    match climate.elevation {
        Some(metres) => Fact { value: Ok(length(metres)), origin: Origin::Published(climate.source.clone()) },
        None => Fact::assumed(
            length(UNKNOWN_HEIGHT),
            "the climate does not say, and thin air warms an inlet less: higher than all but a few mountain towns; an inlet \
             by the sea is up to {= 1 Δ°F} warmer; `elevation` in the climate overrides it",
        ),
    }
}

/// The job's word, else what the climate's place says of salt water.
fn exposure(outlet: &Outlet<'_>, _: Slot) -> Fact {
    let job = outlet.world().job();
    let word = |word: &str| Value::Text(word.into());
    match (&job.exposure, job.climate.coastal) {
        (Some((said, place)), _) => {
            Fact { value: Ok(word(said)), origin: Origin::Job(place.clone(), (*said).into()) }
        }
        (None, Some(true)) => Fact::assumed(
            word("coastal"),
            "the climate's station lies by salt water; `exposure:` in the job overrides it",
        ),
        (None, _) => {
            Fact::assumed(word("exterior"), "outdoors, away from salt; `exposure:` in the job overrides it")
        }
    }
}

/// Codes take it from tables of what 97 1/2 % of the hours of three winter months exceed (from memory): all but 54 h a year,
/// between the 99.6 % (35 h), which is nearer and colder, and the 99 % value (88 h) published today. What an outlet must
/// survive is colder.
fn winter_design(outlet: &Outlet<'_>, _: Slot) -> Fact {
    let named = ["site.winter_temperature", "site.heating_996", "site.heating_99", "site.design_low"];
    let [authority, rest @ ..] = named.map(|it| outlet.fact(super::slot(it)));
    let (mut found, mut is) = (authority, None);
    for (fact, percent) in rest.into_iter().zip([Some("99.6 %"), Some("99 %"), None]) {
        if found.value.is_err() {
            (found, is) = (fact, percent);
        }
    }
    if let (Some(is), Origin::Published(from)) = (is, &found.origin) {
        found.origin = Origin::Published(format!("{is} value, {from}").into());
    }
    found
}

/// Where the climate has no mean of its coldest month it is taken from its 20-year low, in °C: 0.7·low + 14, and steeper
/// below -35 °C, where months by an ice-bound sea are as cold as their lows are mild. Over the 169 climates that are
/// built in it is at most 4.9 K warmer than their means and on average 3.4 K colder, by up to 25 K in the cold interior.
/// Whatever is chosen as the design low, a spell starts where the winter does.
fn spell_start(outlet: &Outlet<'_>, slot: Slot) -> Fact {
    let job = outlet.world().job();
    if let said @ Some(_) = job.spell.start.as_ref() {
        return stated(slot, said, Quantity::temperature);
    }
    let climate = &job.climate;
    if let Some(mean) = climate.coldest_month_mean {
        let from = format!("mean of the coldest month, {}", climate.coldest_month_source);
        return published(slot, Some(mean), &from);
    }
    let design = outlet.number("site.design_low");
    match climate.low_by(DesignBy::Years(20.0)).map_or(design, Ok) {
        Ok(low) => {
            let low = low - ICE_POINT;
            let start = 0.7 * low + 14.0 + 1.3 * (low + 35.0).min(0.0);
            Fact::assumed(
                Value::Quantity(Quantity::temperature(start + ICE_POINT)),
                "by the 20-year low, from how the mean of the coldest month follows it elsewhere, at most some {= 9 Δ°F} too warm; \
                 `spell: { start: }` in the job, or `coldest_month_mean` in its climate, overrides it",
            )
        }
        Err(gap) => Fact { value: Err(gap), origin: Origin::Unknown },
    }
}

fn published(slot: Slot, kelvin: Option<f64>, source: &str) -> Fact {
    match kelvin {
        Some(kelvin) => Fact {
            value: Ok(Value::Quantity(Quantity::temperature(kelvin))),
            origin: Origin::Published(source.into()),
        },
        None => Fact::unknown(slot),
    }
}

pub(super) fn stated(slot: Slot, figure: Option<&Stated>, quantity: impl Fn(f64) -> Quantity) -> Fact {
    match figure {
        Some(it) => Fact {
            value: Ok(Value::Quantity(quantity(it.value))),
            origin: Origin::Job(it.place.clone(), it.text.clone()),
        },
        None => Fact::unknown(slot),
    }
}
