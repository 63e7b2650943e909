//! Facts of the wall and of the space behind it.

use super::columns::{CLOSES_AT, NOMINAL_LENGTH, SPACE_BEHIND, WALL};
use super::def::{
    DAY, FactType, INCH, LENGTH, RATIO, TEMPERATURE, TIME, computed_quantity, computed_yes_no, facts, found,
};
use super::outlet::{Fact, Outlet};
use crate::expr::{Gap, Value};
use crate::job::Space;
use crate::units::{Dim, Measure, Quantity, Rounding};
use crate::wall::Wall;
use std::sync::Arc;

/// 68 °F and 60 °F, K.
pub(super) const ROOM: f64 = 293.15;
const BASEMENT: f64 = 288.705_555_555_6;
/// 24 h. ISO 13790 (not checked against the edition): internal heat capacity of the class "light" 110 kJ/K per m² of
/// floor area, over a heat loss of about 1.3 W/K per m² of floor area: 85 000 s, 23.5 h. A house that loses less keeps
/// its heat longer.
const TIME_CONSTANT: f64 = DAY;
/// 45 °F, K: a space that a job states to be held at this or above is semi-conditioned (no published source).
const SEMI_CONDITIONED: f64 = 280.372_222_222_2;

facts! {
    THICKNESS = computed_quantity("wall.thickness", "exterior finished face to interior surface", LENGTH, |outlet| {
        Ok(length(wall(outlet)?.thickness()))
    })
        .job_keys(&["walls"])
        .show(("in", 2), ("mm", 0), Rounding::Nearest);
    INSIDE_FACE_OF_INSULATION = computed_quantity(
        "wall.inside_face_of_insulation",
        "exterior finished face to the inside face of the innermost insulation layer",
        LENGTH,
        |outlet| {
            let depth = wall(outlet)?.inside_face_of_insulation();
            depth.map(length).ok_or_else(|| outlet.absent("the wall has no insulation layer"))
        },
    )
        .job_keys(&["walls"])
        .show(("in", 2), ("mm", 0), Rounding::Up);
    INSULATED = computed_yes_no("wall.insulated", "whether the wall has an insulation layer", |outlet| {
        Ok(Value::YesNo(wall(outlet)?.inside_face_of_insulation().is_some()))
    })
        .job_keys(&["walls"]);
    RESISTANCE = computed_quantity(
        "wall.resistance",
        "thermal resistance of the layers, without films or framing",
        Measure::Of(Dim::RESISTANCE),
        |outlet| Ok(Value::Quantity(Quantity::of(wall(outlet)?.resistance(), Dim::RESISTANCE))),
    )
        .job_keys(&["walls"]);
    STORAGE = found(
        "wall.storage",
        "source of the heat capacity of the wall's layers, for freezing in time",
        FactType::Text,
        storage,
    )
        .job_keys(&["walls"]);
    ROOM_TEMPERATURE = found(
        "space.room_temperature",
        "temperature of the heated room that the space behind belongs to",
        FactType::Quantity(TEMPERATURE),
        room_temperature,
    )
        .job_keys(&["spaces: temperature"]);
    SHARE = found(
        "space.share",
        "how far the space behind follows the room rather than outdoors, 0 to 1",
        FactType::Quantity(RATIO),
        share,
    )
        .label("share of room warmth")
        .job_keys(&["spaces: factor"])
        .show(("", 2), ("", 2), Rounding::Nearest);
    CONSTANT = found(
        "space.time_constant",
        "time in which the unheated house loses 63 % of its temperature difference from outdoors",
        FactType::Quantity(TIME),
        time_constant,
    )
        .job_keys(&["spaces: time constant"])
        .show(("h", 0), ("h", 0), Rounding::Down);
    HEATED = found(
        "space.heated",
        "whether the space behind is an open heated or semi-conditioned space",
        FactType::YesNo,
        heated,
    )
        .job_keys(&["spaces: temperature"]);
}

/// The wall of an outlet.
pub(super) fn wall(outlet: &Outlet<'_>) -> Result<Arc<Wall>, Gap> {
    let key = outlet.word(WALL)?;
    outlet.world().job().wall(&key).cloned().ok_or_else(|| outlet.missing(WALL))
}

/// Walls that an outlet without one may go through, the job's own or else common ones: an outlet that closes inside is
/// ordered a few inches longer than its wall is thick (common practice, no source).
pub fn candidate_walls(outlet: &Outlet<'_>) -> Vec<Value> {
    const COMMON: [&str; 6] =
        ["2x4-siding", "2x6-siding", "slab-2x4-brick", "2x6-brick", "rim-joist-batt", "block-8-bare"];
    const LONGER: [f64; 2] = [-INCH, 6.0 * INCH];
    let length = outlet
        .number(NOMINAL_LENGTH)
        .ok()
        .filter(|_| outlet.word(CLOSES_AT).is_ok_and(|it| &*it == "inside"));
    let fits = |wall: &Arc<Wall>| {
        length.is_none_or(|length| (LONGER[0]..=LONGER[1]).contains(&(length - wall.thickness())))
    };
    let job = outlet.world().job();
    let own: Vec<Arc<Wall>> = job.walls.iter().filter(|it| !it.built_in).cloned().collect();
    let common = || COMMON.iter().filter_map(|key| job.wall(key).cloned()).collect();
    let walls = if own.is_empty() { common() } else { own };
    walls.into_iter().filter(fits).map(|it| Value::Text(it.key.clone())).collect()
}

/// What the job states of a space.
pub(super) fn stated_space<'w>(outlet: &Outlet<'w>, space: &str) -> Option<&'w Space> {
    outlet.world().job().spaces.get(space)
}

fn length(meters: f64) -> Value {
    Value::Quantity(Quantity::of(meters, Dim::LENGTH))
}

/// A fact that follows from what has been read for it.
fn known(outlet: &Outlet<'_>, value: Value) -> Fact {
    Fact { value: Ok(value), origin: outlet.computed() }
}

fn storage(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let is_assumed = wall(outlet)?.layers.iter().any(|layer| layer.capacity_assumed);
    Ok(if is_assumed {
        Fact::assumed(
            Value::Text("lightest of its kind".into()),
            "a layer given by its conductivity alone counts as the lightest material of that conductivity, which cools \
             soonest; `density:` and `specific heat:` in the job override it",
        )
    } else {
        known(outlet, Value::Text("published or stated".into()))
    })
}

/// Whether the space is heated: as the job states; a basement is assumed to be.
fn heated(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let space = outlet.word(SPACE_BEHIND)?;
    let is_heated = match (&*space, stated_space(outlet, &space)) {
        ("wall cavity", _) => false,
        (_, Some(Space { temperature: Some(held), .. })) => held.value >= SEMI_CONDITIONED,
        (_, Some(Space { factor: Some(factor), .. })) => factor.value >= 1.0,
        ("basement", _) => {
            let why =
                "a basement is assumed heated; call it unheated, or give it a temperature under `spaces:`";
            return Ok(Fact::assumed(Value::YesNo(true), why));
        }
        (space, _) => space == "heated room",
    };
    Ok(known(outlet, Value::YesNo(is_heated)))
}

/// What the job states of a space or, unless it is a basement, of the heated room: spaces without heat of their own follow
/// the heated room.
fn stated_of_room<'w, T>(
    outlet: &Outlet<'w>,
    space: &str,
    get: fn(&'w Space) -> Option<&'w T>,
) -> Option<&'w T> {
    let of = |name| stated_space(outlet, name).and_then(get);
    of(space).or_else(|| if space == "basement" { None } else { of("heated room") })
}

fn room_temperature(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let space = outlet.word(SPACE_BEHIND)?;
    let stated = stated_of_room(outlet, &space, |it| it.temperature.as_ref());
    Ok(match (stated, &*space) {
        (Some(_), _) => outlet.of_job(stated, Quantity::temperature),
        (None, "basement") => Fact::assumed(
            Value::Quantity(Quantity::temperature(BASEMENT)),
            "a heated basement at {= 60 °F}; `spaces:` in the job overrides it",
        ),
        (None, _) => Fact::assumed(
            Value::Quantity(Quantity::temperature(ROOM)),
            "heated rooms at {= 68 °F}; `spaces:` in the job overrides it",
        ),
    })
}

fn time_constant(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let space = outlet.word(SPACE_BEHIND)?;
    let quantity = |seconds| Quantity::of(seconds, Dim::TIME);
    Ok(match stated_of_room(outlet, &space, |it| it.time_constant.as_ref()) {
        None => Fact::assumed(
            Value::Quantity(quantity(TIME_CONSTANT)),
            "a light frame house cools by 63 % in 24 h; `time constant` under `spaces:` overrides it",
        ),
        stated => outlet.of_job(stated, quantity),
    })
}

/// The share of the room in T = T_out + share·(T_room − T_out). The defaults are one less the reduction factors b_u of
/// EN 12831-1 (not checked against the edition): crawlspace 0.8, attic 0.9, garage as a room with two or more outside
/// walls, 0.6 to 0.8.
fn share(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    let space = outlet.word(SPACE_BEHIND)?;
    let quantity = |share| Quantity::of(share, Dim::NONE);
    let stated = stated_space(outlet, &space);
    if let factor @ Some(_) = stated.and_then(|it| it.factor.as_ref()) {
        return Ok(outlet.of_job(factor, quantity));
    }
    let is_held = stated.is_some_and(|it| it.temperature.is_some());
    let (share, why) = match &*space {
        // A room of its own.
        _ if is_held => return Ok(known(outlet, Value::Quantity(quantity(1.0)))),
        "heated room" | "basement" | "wall cavity" => {
            return Ok(known(outlet, Value::Quantity(quantity(1.0))));
        }
        "crawlspace" => {
            (0.2, "a vented crawlspace follows outdoors by four fifths (EN 12831-1, from memory)")
        }
        "unheated basement" => {
            (0.5, "an unheated basement follows outdoors by half (EN 12831-1, from memory)")
        }
        "garage" => (0.3, "an unheated garage follows outdoors by seven tenths (EN 12831-1, from memory)"),
        _ => (0.1, "an unheated attic follows outdoors by nine tenths (EN 12831-1, from memory)"),
    };
    Ok(Fact::assumed(Value::Quantity(quantity(share)), why))
}
