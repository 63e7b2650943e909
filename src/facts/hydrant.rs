//! Yard hydrants: how deep they are buried, how deep frost goes, what they drain into.

use super::assumed::no;
use super::columns::{BACKFLOW_DEVICE, BACKFLOW_STANDARD};
use super::def::RangeEnd::Low;
use super::def::{
    Assumed, Compute, DAY, Def, FactType, LENGTH, computed, computed_quantity, facts, found, stated_length,
    stated_yes_no,
};
use super::outlet::{All, Fact, Outlet};
use super::sweat::year;
use crate::expr::{Gap, Value, ValueOrGap};
use crate::job::Scope;
use crate::physics::OutOfRange;
use crate::physics::backflow::{Fits, agreed, find};
use crate::physics::frost::{SOILS, Winter, find_soil, find_surface, modified_berggren};
use crate::physics::water::ICE_POINT;
use crate::spell::COLD_WINTER;
use crate::units::{Dim, Measure, Quantity, Rounding};

/// Field depths scatter by a quarter about the formula (see [`modified_berggren`]).
const SCATTER: f64 = 0.25;
/// Ground kept clear of snow.
const SURFACE: &str = "bare-soil";

const REACHED: &str = "reached";
const TOO_CLOSE: &str = "too close to call";
const BY_SOIL: &str = "depends on the soil";
const NOT_REACHED: &str = "not reached";

facts! {
    BURY_DEPTH = stated_length("outlet.bury_depth", "depth of a yard hydrant's valve below grade", [0.0, 180.0])
        .headings(&["Bury depth", "Depth of bury", "Bury"])
        .question_such_as("How deep below grade is the hydrant's valve?", "48 in")
        .scope(Scope::Use)
        .range(Low("calculations use the shallower end"));
    DRAINS_TO_SOIL = stated_yes_no("outlet.drains_to_soil", "whether a yard hydrant's barrel drains into the ground")
        .headings(&["Drains to soil", "Drains to ground", "Weep hole", "Stop and waste below grade"])
        .question("Does the hydrant's barrel drain into the ground?")
        .assume(drains_to_soil);
    DRAINAGE_BED = stated_yes_no(
        "outlet.drainage_bed",
        "whether a bed of gravel takes the water that a yard hydrant's barrel drains into the ground",
    )
        .headings(&["Drainage bed", "Gravel bed", "Gravel", "Drain rock", "Stone bed"])
        .question("Is a bed of gravel shown at the hydrant's drain?")
        .scope(Scope::Use);
    HIGH_WATER_TABLE = stated_yes_no(
        "outlet.high_water_table",
        "whether groundwater stands at a yard hydrant's drain in any season",
    )
        .headings(&["High water table", "High groundwater", "Groundwater at drain"])
        .question("Does groundwater rise to the hydrant's drain in any season?")
        .scope(Scope::Use);
    UPSTREAM_DEVICE = stated_yes_no(
        "outlet.upstream_device",
        "whether a backflow preventer upstream protects the potable supply",
    )
        .headings(&["Upstream backflow preventer", "Upstream protection"])
        .question("Does a backflow preventer upstream protect the potable supply?")
        .scope(Scope::Use);
    NONPOTABLE_SIGN = stated_yes_no("outlet.nonpotable_sign", "whether a sign says that its water is not for drinking")
        .headings(&["Non-potable sign", "Nonpotable sign", "Marked non-potable"])
        .question("Does a sign at the hydrant say that its water is not for drinking?")
        .scope(Scope::Use);
    FREEZING_INDEX = found(
        "site.freezing_index",
        "air-freezing index: degree-days below freezing of a winter, less those of its thaws",
        FactType::Quantity(Measure::Of(Dim::DEGREE_TIME)),
        freezing_index,
    )
        .job_keys(&["authority: freezing_index"])
        .show(("°F·days", 0), ("°C·days", 0), Rounding::Nearest);
    SOIL = found("site.soil", "soil of the yard", FactType::OneOf(&crate::job::SOILS), |outlet| {
        Ok(outlet.world().job().soil.as_ref().map_or_else(
            || {
                let why = "frost goes deepest in gravel; `soil:` in the job overrides it";
                Fact::assumed(Value::Text("gravel".into()), why)
            },
            Outlet::word_of_job,
        ))
    })
        .job_keys(&["soil"]);
    FROST_DEPTH = computed_quantity(
        "hydrant.frost_depth",
        "calculated depth of frost in an average winter, under bare ground kept clear of snow",
        LENGTH,
        |outlet| frost_depth(outlet).map(Value::Quantity),
    )
        .job_keys(&["climate: coldest_month_mean"])
        .show(("in", 0), ("mm", 0), Rounding::Up);
    FROST_IN_CLAY = frost_in("hydrant.frost_in_clay", "calculated depth of frost in clay in an average winter", |outlet| {
        average_depth(outlet, "clay")
    });
    FROST_IN_GRAVEL =
        frost_in("hydrant.frost_in_gravel", "calculated depth of frost in gravel in an average winter", |outlet| {
            average_depth(outlet, "gravel")
        });
    AGAINST_FROST = computed(
        "hydrant.against_frost",
        "whether calculated frost reaches the valve, with its scatter and, if no soil is stated, in any soil",
        FactType::OneOf(&[REACHED, TOO_CLOSE, BY_SOIL, NOT_REACHED]),
        against_frost,
    );
}

const fn frost_in(name: &'static str, about: &'static str, compute: Compute) -> Def {
    computed_quantity(name, about, LENGTH, compute).show(("in", 0), ("mm", 0), Rounding::Nearest)
}

/// A sanitary yard hydrant keeps its water in a closed chamber.
fn drains_to_soil(outlet: &Outlet<'_>) -> Assumed {
    let standard = outlet.word(BACKFLOW_STANDARD).or_else(|_| outlet.word(BACKFLOW_DEVICE));
    let rows = standard.map(|standard| find(&standard)).unwrap_or_default();
    match agreed(&rows, |device| device.fits) {
        Some(Fits::YardHydrant) => no("a sanitary yard hydrant keeps its water in a closed chamber"),
        _ => Ok(None),
    }
}

fn against_frost(outlet: &Outlet<'_>) -> ValueOrGap {
    let (bury, frost) = (outlet.number(BURY_DEPTH), frost_depth(outlet)).all()?;
    let word = match bury {
        _ if bury < frost.low => REACHED,
        _ if bury >= frost.high => NOT_REACHED,
        _ if outlet.is_assumed(SOIL) => BY_SOIL,
        _ => TOO_CLOSE,
    };
    Ok(Value::Text(word.into()))
}

/// The index that the authority states; otherwise that of an average winter, up to that of a cold one. It is the mean of
/// many winters: design indices, of the coldest of ten or the three coldest of thirty, are higher. The rule of Alaska for
/// them, 1.143 of the mean and 345 °F·days (not checked against the edition), gives 2290 °F·days for 1700 and 6060 for
/// 5000.
fn freezing_index(outlet: &Outlet<'_>) -> Result<Fact, Gap> {
    if let stated @ Some(_) = outlet.world().job().authority.freezing_index.as_ref() {
        return Ok(outlet.of_job(stated, |index| Quantity::of(index, Dim::DEGREE_TIME)));
    }
    let year = year(outlet)?;
    // The error of the month and the scatter of winters go together as the root of the sum of squares.
    let month = outlet.world().job().climate.coldest_month_within.unwrap_or_default();
    let [mild, average, cold] =
        [-month, 0.0, libm::hypot(COLD_WINTER, month)].map(|colder| year.freezing_index(colder));
    Ok(Fact::assumed(
        Value::Quantity(Quantity::of(average, Dim::DEGREE_TIME).within(mild, cold)),
        "of an average winter, from a model of the year by the mean of the coldest month; its range takes in the error of that \
         mean and, on the cold side, a winter in ten, {= 4.5 Δ°F} colder; the design index of an authority or a frost map may \
         be higher still; `authority: { freezing_index: }` in the job overrides it",
    ))
}

/// The depth of frost with the scatter of field depths: up to the depth in a cold winter and, if no soil is stated, down to
/// the depth in the soil with the shallowest frost.
fn frost_depth(outlet: &Outlet<'_>) -> Result<Quantity, Gap> {
    let (index, soil) = (outlet.quantity(FREEZING_INDEX), outlet.word(SOIL)).all()?;
    let depth = depth_in(outlet, &soil, index.is, 0.0)?;
    let most = if index.high > index.is { depth_in(outlet, &soil, index.high, COLD_WINTER)? } else { depth };
    let mut least = if index.low < index.is { depth_in(outlet, &soil, index.low, 0.0)? } else { depth };
    if outlet.is_assumed(SOIL) {
        for other in SOILS {
            least = least.min(depth_in(outlet, other.key, index.low, 0.0)?);
        }
    }
    Ok(Quantity::of(depth, Dim::LENGTH).within((1.0 - SCATTER) * least, (1.0 + SCATTER) * most))
}

/// The depth of frost in a soil under bare ground, m, by an air-freezing index (K·s) in a season of a winter colder than
/// average by some K.
fn depth_in(outlet: &Outlet<'_>, soil: &str, air_index: f64, colder: f64) -> Result<f64, Gap> {
    if air_index < DAY {
        return Err(outlet.absent("the ground does not freeze in an average winter"));
    }
    let none = || outlet.absent("the table of soils has no such soil");
    let out_of_range = |error: OutOfRange| outlet.absent(error);
    let year = year(outlet)?;
    let winter = Winter {
        air_index,
        // A stated index, or one of short frosts, may be of a winter longer than the year's.
        season: year.freezing_season(colder).max(30.0 * DAY),
        // If the mean of the year is colder than that, ground at the ice point is the coldest the formula accepts.
        mean_annual: year.mean.max(ICE_POINT),
        n_factor: find_surface(SURFACE).ok_or_else(none)?.n_factor,
    };
    let ground = find_soil(soil).ok_or_else(none)?.ground().map_err(out_of_range)?;
    Ok(modified_berggren(&ground, &winter).map_err(out_of_range)?.depth)
}

fn average_depth(outlet: &Outlet<'_>, soil: &str) -> ValueOrGap {
    let depth = depth_in(outlet, soil, outlet.number(FREEZING_INDEX)?, 0.0)?;
    Ok(Value::Quantity(Quantity::of(depth, Dim::LENGTH)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn soils_of_jobs_are_those_of_the_table() {
        let keys: Vec<&str> = SOILS.iter().map(|it| it.key).collect();
        assert_eq!(keys, crate::job::SOILS);
    }
}
