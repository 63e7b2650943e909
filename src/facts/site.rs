//! What the climate, the code and the authority say.

use super::reading::{Fact, Origin, Outlet};
use super::{Answers, Def, Kind, Source, toward};
use crate::expr::{Slot, Value};
use crate::job::Stated;
use crate::units::{Dim, Measure, Quantity, Rounding};

const TEMPERATURE: Kind = Kind::Quantity(Measure::Temperature);

const fn found(
    name: &'static str,
    about: &'static str,
    kind: Kind,
    find: fn(&Outlet<'_>, Slot) -> Fact,
) -> Def {
    Def { name, about, source: Source::Found(kind, find), answers: Answers::Open, show: None }
}

pub(super) static DEFS: &[Def] = &[
    found(
        "site.design_low",
        "the outdoor temperature an outlet must survive",
        TEMPERATURE,
        |outlet, slot| {
            let climate = &outlet.world().job().climate;
            let from = format!("{}, {}", climate.design_low_is(), climate.source);
            published(slot, climate.design_low(), &from)
        },
    ),
    found(
        "site.heating_996",
        "dry bulb exceeded in 99.6 % of the year's hours",
        TEMPERATURE,
        |outlet, slot| {
            let climate = &outlet.world().job().climate;
            published(slot, climate.heating_996, &climate.source)
        },
    ),
    found("site.heating_99", "dry bulb exceeded in 99 % of the year's hours", TEMPERATURE, |outlet, slot| {
        let climate = &outlet.world().job().climate;
        published(slot, climate.heating_990, &climate.source)
    }),
    found(
        "site.winter_temperature",
        "the authority's winter design temperature",
        TEMPERATURE,
        |outlet, slot| {
            stated(slot, outlet.world().job().authority.winter_temperature.as_ref(), Quantity::temperature)
        },
    ),
    found(
        "site.code_low",
        "what a code rule goes by: the authority's winter temperature where stated, else the design low",
        TEMPERATURE,
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
    found("site.exposure", "where its metals stand", Kind::OneOf(&["coastal", "exterior"]), |outlet, _| {
        match &outlet.world().job().exposure {
            Some((word, place)) => Fact {
                value: Ok(Value::Text((*word).into())),
                origin: Origin::Job(place.clone(), (*word).into()),
            },
            None => Fact::assumed(
                Value::Text("exterior".into()),
                "outdoors, away from salt; `exposure:` in the job overrides it",
            ),
        }
    }),
];

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
