//! Results of the section: the seat temperature, the outdoor temperature the outlet is good to, how often lows are colder,
//! and which depth is enough.

use super::assumed::{nominal_lengths, seat_offset};
use super::columns::{NOMINAL_LENGTH, SEAT_DEPTH};
use super::def::{DAY, FactType, INCH, LENGTH, RATIO, TEMPERATURE, TIME, computed, computed_quantity, facts};
use super::detail::BLOCK_THICKNESS;
use super::outlet::{All, Interval, Outlet};
use super::section::spec;
use super::site::DESIGN_LOW;
use super::space::ROOM_TEMPERATURE;
use crate::climate::{AnnualLow, Years};
use crate::expr::{Gap, Value, ValueOrGap};
use crate::physics::water::ICE_POINT;
use crate::section::{Boundary, Inlet, NoDepth, Solved, Spec, Uncertainty};
use crate::units::{Dim, Measure, Quantity, Rounding, Show, System};
use std::sync::Arc;

/// The setting that states how far above freezing the seat must stay.
const MARGIN: &str = "freezing/margin";
/// The depth of a section until the search for a least depth puts its own in.
const PLACEHOLDER_DEPTH: f64 = 0.05; // m
/// A Julian year, s.
const YEAR: f64 = 365.25 * DAY;
/// How a depth that a wall has room for is printed.
const ROOM_IN_WALL: Show = Show::new(("in", 1), ("mm", 0), Rounding::Down);

facts! {
    SEAT_TEMPERATURE = computed_quantity(
        "heat.seat_temperature",
        "steady temperature of the water just on the warm side of the valve seat at the design low",
        TEMPERATURE,
        |outlet| Ok(banded(seat_temperature(outlet)?, TEMPERATURE)),
    )
        .show(("°F", 1), ("°C", 1), Rounding::Down);
    SEAT_NEEDED = computed_quantity(
        "heat.seat_needed",
        "temperature that the seat must keep: 32 °F and any margin of the company",
        TEMPERATURE,
        |outlet| Ok(Value::Quantity(Quantity::temperature(target(outlet)?))),
    )
        .label("seat temperature needed")
        .show(("°F", 0), ("°C", 0), Rounding::Up);
    MOST_UNCERTAIN = computed(
        "heat.most_uncertain",
        "uncertain inputs with the largest effect, each by itself, on the outdoor temperature the outlet is good to",
        FactType::Text,
        |outlet| {
            let moves = solved(outlet)?.moves_of_good_to(outlet.number(ROOM_TEMPERATURE)?);
            let most: Vec<&str> = moves.iter().take(3).map(|(input, _)| input.name()).collect();
            if most.is_empty() {
                return Err(outlet.absent("every input is known exactly"));
            }
            Ok(Value::Text(most.join(", ").into()))
        },
    );
    // "Good to" on every page; `holds_to` is the name that rule files know.
    GOOD_TO = computed_quantity(
        "heat.holds_to",
        "steady outdoor temperature at which the seat reaches 32 °F",
        TEMPERATURE,
        |outlet| Ok(banded(good_to(outlet)?, TEMPERATURE)),
    )
        .label("good to")
        .show(("°F", 0), ("°C", 0), Rounding::Up);
    YEARS_BETWEEN = computed_quantity(
        "heat.years_between",
        "years between annual lows that bring the seat to 32 °F, 1 to 1000",
        TIME,
        |outlet| {
            let (annual, good_to) = (annual_low(outlet), good_to(outlet)).all()?;
            Ok(banded(annual.return_period_band(good_to).map(|years| years * YEAR), TIME))
        },
    )
        .job_keys(&["climate: annual_low"])
        .show(("years", 0), ("years", 0), Rounding::Down);
    HOW_OFTEN = computed(
        "heat.how_often",
        "how often lows bring the seat to 32 °F, in words",
        FactType::Text,
        |outlet| {
            let (annual, good_to) = (annual_low(outlet), good_to(outlet)).all()?;
            Ok(Value::Text(how_often_words(&annual, good_to).into()))
        },
    )
        .job_keys(&["climate: annual_low"]);
    CHANCE_IN_30_YEARS = computed_quantity(
        "heat.chance_in_30_years",
        "chance that at least one of 30 winters brings the seat to 32 °F",
        RATIO,
        |outlet| {
            let (annual, good_to) = (annual_low(outlet), good_to(outlet)).all()?;
            Ok(banded(annual.chance_in_years_band(good_to, 30.0), RATIO))
        },
    )
        .job_keys(&["climate: annual_low"])
        .show(("%", 0), ("%", 0), Rounding::Up);
    LEAST_SEAT_DEPTH = computed_quantity(
        "heat.least_seat_depth",
        "least seat depth at which the cold end of the seat temperature keeps 32 °F and any margin at the design low",
        LENGTH,
        least_seat_depth,
    )
        .label("minimum seat depth")
        .show(("in", 1), ("mm", 0), Rounding::Up);
    // Not the one after the present length: `next` is the name that rule files know.
    ENOUGH_LENGTH = computed_quantity(
        "heat.next_length",
        "shortest stock length at which the cold end of the seat temperature keeps 32 °F and any margin at the design low",
        LENGTH,
        next_length,
    )
        .label("shortest stock length")
        .show(("in", 0), ("mm", 0), Rounding::Nearest);
}

/// A quantity with its band: low, best estimate, high.
pub(super) fn banded([low, best, high]: [f64; 3], measure: Measure) -> Value {
    Value::Quantity(Quantity::exact(best, measure).within(low, high))
}

/// Outdoors at the design low, and the heated room that the space behind borders on.
pub(super) fn boundary(outlet: &Outlet<'_>) -> Result<Boundary, Gap> {
    let (outdoors, room) = (outlet.number(DESIGN_LOW), outlet.number(ROOM_TEMPERATURE)).all()?;
    Ok(Boundary { outdoors, room })
}

/// The solved section of an outlet.
pub(super) fn solved(outlet: &Outlet<'_>) -> Result<Arc<Solved>, Gap> {
    solved_with(outlet, Uncertainty::Carried)
}

/// The seat temperature, K: cold end, best estimate, warm end. Of an outlet on trial, an interval from a coarse mesh if
/// [`Outlet::interval`] asks for one and the coarse mesh has one.
fn seat_temperature(outlet: &Outlet<'_>) -> Result<[f64; 3], Gap> {
    let with = |uncertainty| (boundary(outlet), solved_with(outlet, uncertainty)).all();
    let interval = outlet.interval();
    if matches!(interval, Interval::Widest | Interval::Narrowest) {
        let (at, best) = with(Uncertainty::LeftOut)?;
        let rough = solved_with(outlet, Uncertainty::Rough).ok();
        if let Some([narrowest, widest]) = rough.and_then(|rough| best.seat_temperature_within(&rough, &at)) {
            return Ok(if interval == Interval::Widest { widest } else { narrowest });
        }
    }
    let is_best = interval == Interval::LeftOut;
    let (at, solved) = with(if is_best { Uncertainty::LeftOut } else { Uncertainty::Carried })?;
    Ok(solved.seat_temperature(&at))
}

fn solved_with(outlet: &Outlet<'_>, uncertainty: Uncertainty) -> Result<Arc<Solved>, Gap> {
    let spec = spec(outlet, None)?;
    outlet.world().section(&spec, uncertainty).map_err(|it| outlet.absent(it))
}

/// The outdoor temperature at which the seat reaches 32 °F, K: lowest, best estimate, highest.
fn good_to(outlet: &Outlet<'_>) -> Result<[f64; 3], Gap> {
    let (solved, room) = (solved(outlet), outlet.number(ROOM_TEMPERATURE)).all()?;
    solved.good_to(room).ok_or_else(|| {
        outlet.absent(if room <= ICE_POINT {
            "the heated room is itself at or below freezing"
        } else {
            "the seat stays above freezing at any outdoor temperature"
        })
    })
}

fn annual_low(outlet: &Outlet<'_>) -> Result<AnnualLow, Gap> {
    let annual = outlet.world().job().climate.annual_low;
    annual.ok_or_else(|| outlet.absent("the climate gives a design low but no annual lows"))
}

/// The longest return period put in words, in years: records of some 25 winters support no longer one.
/// `heat.years_between` goes up to 1000 years, for comparison.
const MOST_PRINTED: f64 = 200.0;

/// How often lows reach a temperature, in words. Years are rounded down, as more often is the safe side. If the best
/// estimate is below three years, all figures below ten have tenths: whole numbers would not tell every winter from every
/// other.
fn how_often_words(annual: &AnnualLow, good_to: [f64; 3]) -> String {
    let [often, best, seldom] = annual.return_period_band(good_to);
    let number = |years: f64| {
        let scale = if best < 3.0 && years < 10.0 { 10.0 } else { 1.0 };
        let down = (years * scale).floor() / scale;
        if years >= MOST_PRINTED { format!("over {MOST_PRINTED:.0}") } else { down.to_string() }
    };
    let (from, to) = (number(often), number(seldom));
    let range = if from == to { String::new() } else { format!(" ({from} to {to})") };
    match annual.how_often(good_to[1]) {
        Years::MostWinters if seldom < 1.05 => "every winter".into(),
        Years::MostWinters if seldom < 2.0 => "most winters".into(),
        Years::MostWinters => format!("most winters (at best once in {to} years)"),
        Years::Rarer | Years::OnceIn(_) if often >= MOST_PRINTED => {
            format!("less than once in {MOST_PRINTED:.0} years")
        }
        Years::Rarer | Years::OnceIn(MOST_PRINTED..) => format!("once in {from} to {to} years"),
        Years::OnceIn(years) => format!("about once in {} years{range}", number(years)),
    }
}

/// The temperature that the seat must keep, K.
pub(super) fn target(outlet: &Outlet<'_>) -> Result<f64, Gap> {
    Ok(ICE_POINT + outlet.setting(MARGIN)?)
}

/// The section with its seat at a placeholder depth, without a band: the search for a least depth puts its own depths in.
pub(super) fn spec_for_depth_search(outlet: &Outlet<'_>) -> Result<Spec, Gap> {
    spec(outlet, Some(Quantity::of(PLACEHOLDER_DEPTH, Dim::LENGTH)))
}

fn least_seat_depth(outlet: &Outlet<'_>) -> ValueOrGap {
    let spec = spec_for_depth_search(outlet)?;
    let depth = outlet.world().depth(&spec, &boundary(outlet)?, target(outlet)?);
    // A block under the flange moves the seat outward by its thickness.
    let block = outlet.number(BLOCK_THICKNESS)?;
    let depth = depth.map_err(|no_depth| {
        outlet.absent(match &no_depth {
            NoDepth::NotAt(depth, _) if spec.inlet == Inlet::InWall => {
                let depth = ROOM_IN_WALL.value(&Quantity::of(*depth, Dim::LENGTH), System::Us);
                format!(
                    "none, as the wall has room for a seat up to {{= {depth}}} deep, and that is not enough"
                )
            }
            NoDepth::NotAt(depth, _) => {
                format!("none, as no seat depth up to {{= {:.0} in}} is enough", depth / INCH)
            }
            NoDepth::Refused(error) => error.to_string(),
        })
    })?;
    Ok(Value::Quantity(Quantity::of(depth.0 + block, Dim::LENGTH)))
}

fn next_length(outlet: &Outlet<'_>) -> ValueOrGap {
    let all_too_short = || {
        let longest = nominal_lengths().fold(0.0, f64::max) / INCH;
        outlet.absent(format!("none, as no stock length up to {{= {longest:.0} in}} is enough"))
    };
    let spec = spec_for_depth_search(outlet)?;
    let (at, target) = (boundary(outlet)?, target(outlet)?);
    let least = outlet.world().depth(&spec, &at, target).map_err(|no_depth| match no_depth {
        NoDepth::NotAt(..) => all_too_short(),
        NoDepth::Refused(error) => outlet.absent(error),
    })?;
    let offset = match (outlet.number(NOMINAL_LENGTH), outlet.quantity(SEAT_DEPTH)) {
        (Ok(nominal), Ok(seat)) if seat.is > 0.0 && seat.is < nominal => {
            Quantity::of(nominal - seat.is, Dim::LENGTH).within(nominal - seat.high, nominal - seat.low)
        }
        _ => seat_offset(outlet)?,
    };
    let block = outlet.number(BLOCK_THICKNESS)?;
    // A seat short of the least depth needs no solve: it cannot be enough.
    let is_enough = |nominal: &f64| {
        let [low, seat, high] = [offset.high, offset.is, offset.low].map(|offset| nominal - offset - block);
        let depth = Quantity::of(seat, Dim::LENGTH).within(f64::max(low, 0.0), high);
        let solve = || {
            outlet
                .world()
                .section(&super::section::spec(outlet, Some(depth)).ok()?, Uncertainty::Carried)
                .ok()
        };
        seat + 1e-9 >= least.0 && solve().is_some_and(|it| it.seat_temperature(&at)[0] >= target)
    };
    let nominal = nominal_lengths().find(is_enough).ok_or_else(all_too_short)?;
    Ok(Value::Quantity(Quantity::of(nominal, Dim::LENGTH)))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean -26 °C, deviation 4 K, 25 winters, by Python: e = √((1 + 1.1396 F + 1.1 F²)/25), years
    /// 1/(1 − exp(−exp(−(1.28255 G + 0.57722)))) at G = F − 1.65 e, F and F + 0.98 e.
    #[test]
    fn how_often_is_in_years_with_their_spread() {
        let annual = AnnualLow { mean: 247.15, deviation: 4.0, winters: None, is_elsewhere: false };
        for (celsius, words) in [
            // F = 0.877: 6.0 years; 3.22 to 8.89.
            (-29.508, "about once in 6 years (3 to 8)"),
            // F = 0: 2.33 years; 1.737 to 2.826.
            (-26.0, "about once in 2.3 years (1.7 to 2.8)"),
            // F = -2: 1.0007 years, at most 1.01.
            (-18.0, "every winter"),
            // F = 4: 301 years; 39.8 to over 1000.
            (-42.0, "once in 39 to over 200 years"),
            // F = 6: over 1000 years; 212.7 to over 1000.
            (-50.0, "less than once in 200 years"),
        ] {
            assert_eq!(how_often_words(&annual, [celsius + 273.15; 3]), words);
        }
        // The section's own band does most to make the far end seldom: from F = -1 to F = 1.
        assert!(
            how_often_words(&annual, [243.15, 251.15, 252.15]).starts_with("most winters (at best once in ")
        );
    }
}
