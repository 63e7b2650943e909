//! The wall and the space behind.

use super::reading::{Fact, Outlet};
use super::site::stated;
use super::{Answers, Def, Kind, Source, slot, toward};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::job::Space;
use crate::units::{Dim, Measure, Quantity, Rounding};
use crate::wall::Wall;
use std::sync::Arc;

/// 68 °F and 60 °F.
const ROOM: f64 = 293.15;
const BASEMENT: f64 = 288.705_555_555_6;
/// 24 h. ISO 13790 (from memory): internal heat capacity of the class "light" 110 kJ/K per m² of floor area, over a heat
/// loss of about 1.3 W/K per m² of floor area: 85 000 s, 23.5 h. A house that loses less keeps its heat longer.
const TIME_CONSTANT: f64 = 86_400.0;
/// 45 °F: at and above it a space that a job states to be held is semi-conditioned (common practice, no source).
const SEMI_CONDITIONED: f64 = 280.372_222_222_2;

const LENGTH: Kind = Kind::Quantity(Measure::Of(Dim::LENGTH));
const RATIO: Kind = Kind::Quantity(Measure::Of(Dim::NONE));

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "wall.thickness",
        about: "exterior finished face to interior surface",
        source: Source::Computed(LENGTH, |outlet, _| Ok(length(wall(outlet)?.thickness()))),
        answers: Answers::Open,
        show: toward(("in", 2), ("mm", 0), Rounding::Nearest),
    },
    Def {
        name: "wall.inside_face_of_insulation",
        about: "exterior finished face to the inner face of the innermost insulation layer",
        source: Source::Computed(LENGTH, |outlet, slot| {
            let depth = wall(outlet)?.inside_face_of_insulation();
            depth.map(length).ok_or_else(|| Gap::absent(slot, "the wall has no insulation layer"))
        }),
        answers: Answers::Open,
        show: toward(("in", 2), ("mm", 0), Rounding::Up),
    },
    Def {
        name: "wall.insulated",
        about: "whether the wall has an insulation layer",
        source: Source::Computed(Kind::YesNo, |outlet, _| {
            Ok(Value::YesNo(wall(outlet)?.inside_face_of_insulation().is_some()))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "wall.resistance",
        about: "thermal resistance of the layers, without films or framing",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::RESISTANCE)), |outlet, _| {
            Ok(Value::Quantity(Quantity::of(wall(outlet)?.resistance(), Dim::RESISTANCE)))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "wall.storage",
        about: "how the heat that the wall's layers hold is known, for freezing in time",
        source: Source::Found(Kind::Text, |outlet, _| match wall(outlet) {
            Err(gap) => unknown(gap),
            Ok(wall) if wall.layers.iter().any(|it| it.capacity_assumed) => Fact::assumed(
                Value::Text("lightest of its kind".into()),
                "a layer given by its conductivity alone is taken as the lightest material of such a conductivity, which \
                 cools soonest; `density:` and `specific heat:` in the job override it",
            ),
            Ok(_) => Fact {
                value: Ok(Value::Text("published or stated".into())),
                origin: super::Origin::Computed(std::iter::once(slot("outlet.wall")).collect()),
            },
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "space.room_temperature",
        about: "temperature of the heated room the space behind belongs to",
        source: Source::Found(Kind::Quantity(Measure::Temperature), room_temperature),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "space.share",
        about: "how far the space behind follows the room rather than outdoors, 0 to 1",
        source: Source::Found(RATIO, share),
        answers: Answers::Open,
        show: toward(("", 2), ("", 2), Rounding::Nearest),
    },
    Def {
        name: "space.time_constant",
        about: "time in which the house, its heat off, loses 63 % of its lead over outdoors",
        source: Source::Found(Kind::Quantity(Measure::Of(Dim::TIME)), time_constant),
        answers: Answers::Open,
        show: toward(("h", 0), ("h", 0), Rounding::Down),
    },
    Def {
        name: "space.heated",
        about: "whether the space behind is an open heated or semi-conditioned space",
        source: Source::Found(Kind::YesNo, heated),
        answers: Answers::Open,
        show: None,
    },
];

pub(super) fn wall(outlet: &Outlet<'_>) -> Result<Arc<Wall>, Gap> {
    let key = outlet.word("outlet.wall")?;
    outlet.world().job().wall(&key).cloned().ok_or_else(|| Gap::missing(slot("outlet.wall")))
}

fn length(si: f64) -> Value {
    Value::Quantity(Quantity::of(si, Dim::LENGTH))
}

fn said<'o>(outlet: &'o Outlet<'_>, space: &str) -> Option<&'o Space> {
    outlet.world().job().spaces.get(space)
}

/// What the job says of the space decides; else a basement is taken as heated, and says so.
fn heated(outlet: &Outlet<'_>, _: Slot) -> Fact {
    let space = match outlet.word("outlet.space_behind") {
        Ok(space) => space,
        Err(gap) => return unknown(gap),
    };
    let computed = |yes: bool| Fact {
        value: Ok(Value::YesNo(yes)),
        origin: super::Origin::Computed(std::iter::once(super::slot("outlet.space_behind")).collect()),
    };
    if &*space == "wall cavity" {
        return computed(false);
    }
    match said(outlet, &space) {
        Some(Space { temperature: Some(held), .. }) => computed(held.value >= SEMI_CONDITIONED),
        Some(Space { factor: Some(factor), .. }) => computed(factor.value >= 1.0),
        _ if &*space == "basement" => {
            let why =
                "a basement is taken as heated; call it unheated, or give it a temperature under `spaces:`";
            Fact::assumed(Value::YesNo(true), why)
        }
        _ => computed(&*space == "heated room"),
    }
}

fn room_temperature(outlet: &Outlet<'_>, slot: Slot) -> Fact {
    let space = match outlet.word("outlet.space_behind") {
        Ok(space) => space,
        Err(gap) => return unknown(gap),
    };
    let of = |name: &str| said(outlet, name).and_then(|it| it.temperature.as_ref());
    // A space with a temperature of its own is its own room; others follow the heated room.
    let own = of(&space).or_else(|| if &*space == "basement" { None } else { of("heated room") });
    if own.is_some() {
        return stated(slot, own, Quantity::temperature);
    }
    let (kelvin, why) = if &*space == "basement" {
        (BASEMENT, "a heated basement is taken at {= 60 °F}; `spaces:` in the job overrides it")
    } else {
        (ROOM, "heated rooms are taken at {= 68 °F}; `spaces:` in the job overrides it")
    };
    Fact::assumed(Value::Quantity(Quantity::temperature(kelvin)), why)
}

/// Spaces without heat of their own follow the heated room's; a basement is its own room.
fn time_constant(outlet: &Outlet<'_>, slot: Slot) -> Fact {
    let space = match outlet.word("outlet.space_behind") {
        Ok(space) => space,
        Err(gap) => return unknown(gap),
    };
    let of = |name: &str| said(outlet, name).and_then(|it| it.time_constant.as_ref());
    let own = of(&space).or_else(|| if &*space == "basement" { None } else { of("heated room") });
    match own {
        Some(_) => stated(slot, own, |seconds| Quantity::of(seconds, Dim::TIME)),
        None => Fact::assumed(
            Value::Quantity(Quantity::of(TIME_CONSTANT, Dim::TIME)),
            "a light frame house is taken to cool by 63 % in 24 h; `time constant` under `spaces:` overrides it",
        ),
    }
}

/// T = T_out + share·(T_room − T_out). The defaults are one less the reduction factors b_u of EN 12831-1 (from
/// memory): crawlspace 0.8, attic 0.9, garage taken as a room with two or more outside walls, 0.6 to 0.8.
fn share(outlet: &Outlet<'_>, slot: Slot) -> Fact {
    let space = match outlet.word("outlet.space_behind") {
        Ok(space) => space,
        Err(gap) => return unknown(gap),
    };
    let number = |it: f64| Value::Quantity(Quantity::of(it, Dim::NONE));
    if let Some(factor) = said(outlet, &space).and_then(|it| it.factor.as_ref()) {
        return stated(slot, Some(factor), |it| Quantity::of(it, Dim::NONE));
    }
    let held = said(outlet, &space).is_some_and(|it| it.temperature.is_some());
    if held || matches!(&*space, "heated room" | "basement" | "wall cavity") {
        // It is its own room: there is nothing to assume.
        return Fact {
            value: Ok(number(1.0)),
            origin: super::Origin::Computed(std::iter::once(super::slot("outlet.space_behind")).collect()),
        };
    }
    let (share, why) = match &*space {
        "crawlspace" => {
            (0.2, "a vented crawlspace follows outdoors by four fifths (EN 12831-1, from memory)")
        }
        "unheated basement" => {
            (0.5, "an unheated basement follows outdoors by half (EN 12831-1, from memory)")
        }
        "garage" => (0.3, "an unheated garage follows outdoors by seven tenths (EN 12831-1, from memory)"),
        _ => (0.1, "an unheated attic follows outdoors by nine tenths (EN 12831-1, from memory)"),
    };
    Fact::assumed(number(share), why)
}

fn unknown(gap: Gap) -> Fact {
    let value: Reading = Err(gap);
    Fact { value, origin: super::Origin::Unknown }
}
