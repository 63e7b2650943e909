//! Yard hydrants: how deep they are buried, how deep frost goes, what they drain into.

use super::outlet::{INCH, inches, stated};
use super::reading::{Fact, OrGap, Origin, Outlet};
use super::site::stated as figure;
use super::sweat::NO_YEAR;
use super::{Answers, Blank, Def, Kind, Source, quantity, toward};
use crate::expr::{Gap, Slot, Value};
use crate::physics::frost::{DAY, SOILS, Soil, Winter, find_soil, find_surface, modified_berggren};
use crate::physics::water::ICE_POINT;
use crate::schedule::Reads;
use crate::spell::{COLD_WINTER, Year};
use crate::units::{Dim, Measure, Quantity, Rounding};

const LENGTH: Measure = Measure::Of(Dim::LENGTH);
/// Field depths scatter by a quarter about the formula (see [`modified_berggren`]).
const SCATTER: f64 = 0.25;
/// Ground kept clear of snow.
const SURFACE: &str = "bare-soil";

const REACHED: &str = "reached";
const TOO_CLOSE: &str = "too close to call";
const BY_SOIL: &str = "depends on the soil";
const NOT_REACHED: &str = "not reached";

pub(super) static DEFS: &[Def] = &[
    inches(stated(
        "outlet.bury_depth",
        "depth of a yard hydrant's valve below grade",
        &["Bury depth", "Depth of bury", "Bury"],
        quantity(LENGTH, 0.0, 180.0 * INCH),
        Blank::Unknown,
        Answers::Open,
    )),
    stated(
        "outlet.drains_to_soil",
        "whether a yard hydrant's barrel drains into the ground",
        &["Drains to soil", "Drains to ground", "Weep hole", "Stop and waste below grade"],
        Reads::YesNo,
        Blank::Unknown,
        Answers::All,
    ),
    stated(
        "outlet.upstream_device",
        "whether a backflow preventer upstream protects the potable supply, and the hydrant is marked non-potable",
        &["Upstream backflow preventer", "Upstream protection", "Marked non-potable"],
        Reads::YesNo,
        Blank::Unknown,
        Answers::All,
    ),
    Def {
        name: "site.freezing_index",
        about: "air-freezing index: degree-days below freezing of a winter, less those of its thaws",
        source: Source::Found(Kind::Quantity(Measure::Of(Dim::DEGREE_TIME)), freezing_index),
        answers: Answers::Open,
        show: toward(("°F·days", 0), ("°C·days", 0), Rounding::Nearest),
    },
    Def {
        name: "site.soil",
        about: "the soil of the yard",
        source: Source::Found(Kind::OneOf(&crate::job::SOILS), |outlet, _| {
            match &outlet.world().job().soil {
                Some((word, place)) => Fact {
                    value: Ok(Value::Text((*word).into())),
                    origin: Origin::Job(place.clone(), (*word).into()),
                },
                None => Fact::assumed(
                    Value::Text("gravel".into()),
                    "frost goes deepest in gravel; `soil:` in the job overrides it",
                ),
            }
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "hydrant.frost_depth",
        about: "depth of frost by calculation in an average winter, under bare ground kept clear of snow",
        source: Source::Computed(Kind::Quantity(LENGTH), |outlet, own| {
            frost_depth(outlet, own).map(Value::Quantity)
        }),
        answers: Answers::Open,
        show: toward(("in", 0), ("mm", 0), Rounding::Up),
    },
    Def {
        name: "hydrant.against_frost",
        about: "whether frost by calculation reaches the valve, with its scatter and, where no soil is stated, in any soil",
        source: Source::Computed(Kind::OneOf(&[REACHED, TOO_CLOSE, BY_SOIL, NOT_REACHED]), |outlet, own| {
            let mut gaps = Gap::default();
            let bury = outlet.number("outlet.bury_depth").or_gap(&mut gaps);
            let frost = frost_depth(outlet, own).or_gap(&mut gaps);
            let (bury, frost) = bury.zip(frost).ok_or(gaps)?;
            let word = match bury {
                _ if bury < frost.low => REACHED,
                _ if bury >= frost.high => NOT_REACHED,
                _ if outlet.is_assumed("site.soil") => BY_SOIL,
                _ => TOO_CLOSE,
            };
            Ok(Value::Text(word.into()))
        }),
        answers: Answers::Open,
        show: None,
    },
];

fn year<'w>(outlet: &Outlet<'w>, own: Slot) -> Result<&'w Year, Gap> {
    outlet.world().year().ok_or_else(|| Gap::absent(own, NO_YEAR))
}

/// Where nobody states it, that of an average winter, and up to that of a cold one. It is the mean of many winters: design
/// indices, of the coldest of ten or the three coldest of thirty, lie above it. The rule of Alaska for them, 1.143 of
/// the mean and 345 °F·days (from memory), gives 2290 °F·days for 1700 and 6060 for 5000.
fn freezing_index(outlet: &Outlet<'_>, slot: Slot) -> Fact {
    let said = outlet.world().job().authority.freezing_index.as_ref();
    if said.is_some() {
        return figure(slot, said, |it| Quantity::of(it, Dim::DEGREE_TIME));
    }
    match year(outlet, slot) {
        Ok(year) => {
            let [average, cold] = [0.0, COLD_WINTER].map(|it| year.freezing_index(it));
            Fact::assumed(
                Value::Quantity(Quantity::of(average, Dim::DEGREE_TIME).within(average, cold)),
                "an average winter's, from a model of the year by the mean of the coldest month, and up to that of a winter \
                 in ten, {= 4.5 Δ°F} colder; the design index of an authority or a frost map may be higher still; \
                 `authority: { freezing_index: }` in the job overrides it",
            )
        }
        Err(gap) => Fact { value: Err(gap), origin: Origin::Unknown },
    }
}

/// With the scatter of field depths about it: up to it in a cold winter and, where no soil is stated, down to it in the soil
/// in which frost goes least deep.
fn frost_depth(outlet: &Outlet<'_>, own: Slot) -> Result<Quantity, Gap> {
    let mut gaps = Gap::default();
    let index = outlet.quantity("site.freezing_index").or_gap(&mut gaps);
    let soil = outlet.word("site.soil").or_gap(&mut gaps);
    let year = year(outlet, own).or_gap(&mut gaps);
    let (Some(index), Some(soil), Some(year)) = (index, soil, year) else { return Err(gaps) };
    if index.is < DAY {
        return Err(Gap::absent(own, "the ground does not freeze in an average winter"));
    }
    let none = || Gap::absent(own, "the table of soils has no such soil");
    let soil = find_soil(&soil).ok_or_else(none)?;
    let surface = find_surface(SURFACE).ok_or_else(none)?;
    let winter = |air_index: f64, colder: f64| Winter {
        air_index,
        // An index that somebody states, and one of short frosts, may be of a winter longer than the year's.
        season: year.freezing_season(colder).max(30.0 * DAY),
        // Where the air is colder than that the year round, ground at the ice point is the coldest the formula knows.
        mean_annual: year.mean.max(ICE_POINT),
        n_factor: surface.n_factor,
    };
    let depth_in = |soil: &Soil, winter: &Winter| -> Result<f64, Gap> {
        let refused = |it: crate::physics::Refusal| Gap::absent(own, it.to_string());
        let ground = soil.ground().map_err(refused)?;
        Ok(modified_berggren(&ground, winter).map_err(refused)?.depth)
    };
    let average = winter(index.is, 0.0);
    let depth = depth_in(soil, &average)?;
    let most = if index.high > index.is { depth_in(soil, &winter(index.high, COLD_WINTER))? } else { depth };
    let mut least = depth;
    if outlet.is_assumed("site.soil") {
        for other in SOILS {
            least = least.min(depth_in(other, &average)?);
        }
    }
    Ok(Quantity::of(depth, Dim::LENGTH).within((1.0 - SCATTER) * least, (1.0 + SCATTER) * most))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_soils_a_job_may_name_are_those_of_the_table() {
        let keys: Vec<&str> = SOILS.iter().map(|it| it.key).collect();
        assert_eq!(keys, crate::job::SOILS);
    }
}
