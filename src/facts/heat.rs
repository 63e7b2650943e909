//! What the section tells: the seat's temperature, how far it holds, how often it does not, and how deep is deep enough.

use super::detail::block;
use super::outlet::seat_offset;
use super::reading::Outlet;
use super::section_of::spec;
use super::{Answers, Def, Kind, Source, toward};
use crate::climate::{AnnualLow, MOST_YEARS, Years};
use crate::expr::{Gap, Reading, Slot, Value};
use crate::physics::water::ICE_POINT;
use crate::section::{Boundary, Inlet, NoDepth, Solved, Uncertainty};
use crate::units::{Dim, Measure, Quantity, Rounding};
use std::sync::Arc;

const TEMPERATURE: Kind = Kind::Quantity(Measure::Temperature);
const LENGTH: Kind = Kind::Quantity(Measure::Of(Dim::LENGTH));
const INCH: f64 = 0.0254;
/// Nominal lengths that are listed, in.
pub(super) const NOMINAL_LENGTHS: [f64; 6] = [4.0, 6.0, 8.0, 10.0, 12.0, 14.0];
/// The setting that says how far above freezing the seat is kept.
const MARGIN: &str = "freezing/margin";
/// A depth at which the section is set up before others are looked at, m.
const ANY_DEPTH: f64 = 0.05;
/// A Julian year, s.
const YEAR: f64 = 365.25 * 86_400.0;

pub(super) static DEFS: &[Def] = &[
    Def {
        name: "heat.seat_temperature",
        about: "steady temperature of the water just inboard of the seat at the design low",
        source: Source::Computed(TEMPERATURE, |outlet, own| {
            let at = boundary(outlet)?;
            Ok(banded(solved(outlet, own)?.seat_temperature(&at), Measure::Temperature))
        }),
        answers: Answers::Open,
        show: toward(("°F", 1), ("°C", 1), Rounding::Down),
    },
    Def {
        name: "heat.holds_to",
        about: "steady outdoor temperature at which the seat reaches 32 °F",
        source: Source::Computed(TEMPERATURE, |outlet, own| {
            Ok(banded(holds_to(outlet, own)?, Measure::Temperature))
        }),
        answers: Answers::Open,
        show: toward(("°F", 0), ("°C", 0), Rounding::Up),
    },
    Def {
        name: "heat.years_between",
        about: "years between annual lows that bring the seat to 32 °F, 1 to 1000",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::TIME)), |outlet, own| {
            let annual = annual_low(outlet, own)?;
            let years = annual.years_within(holds_to(outlet, own)?).map(|it| it * YEAR);
            Ok(banded(years, Measure::Of(Dim::TIME)))
        }),
        answers: Answers::Open,
        show: toward(("years", 0), ("years", 0), Rounding::Down),
    },
    Def {
        name: "heat.how_often",
        about: "how often lows come that bring the seat to 32 °F, in words",
        source: Source::Computed(Kind::Text, |outlet, own| {
            let annual = annual_low(outlet, own)?;
            Ok(Value::Text(how_often(&annual, holds_to(outlet, own)?).into()))
        }),
        answers: Answers::Open,
        show: None,
    },
    Def {
        name: "heat.chance_in_30_years",
        about: "chance that at least one of 30 winters brings the seat to 32 °F",
        source: Source::Computed(Kind::Quantity(Measure::Of(Dim::NONE)), |outlet, own| {
            let annual = annual_low(outlet, own)?;
            Ok(banded(annual.chance_in(holds_to(outlet, own)?, 30.0), Measure::Of(Dim::NONE)))
        }),
        answers: Answers::Open,
        show: toward(("%", 0), ("%", 0), Rounding::Up),
    },
    Def {
        name: "heat.least_seat_depth",
        about: "least seat depth whose whole band stays above 32 °F by the margin at the design low",
        source: Source::Computed(LENGTH, least_seat_depth),
        answers: Answers::Open,
        show: toward(("in", 1), ("mm", 0), Rounding::Up),
    },
    Def {
        name: "heat.next_length",
        about: "shortest listed nominal length that stays above 32 °F by the margin at the design low",
        source: Source::Computed(LENGTH, next_length),
        answers: Answers::Open,
        show: toward(("in", 0), ("mm", 0), Rounding::Nearest),
    },
];

pub(super) fn banded([low, is, high]: [f64; 3], measure: Measure) -> Value {
    Value::Quantity(Quantity::exact(is, measure).within(low, high))
}

/// Outdoors at the design low and the room of the space behind.
pub(super) fn boundary(outlet: &Outlet<'_>) -> Result<Boundary, Gap> {
    let outdoors = outlet.number("site.design_low");
    let room = outlet.number("space.room_temperature");
    match (outdoors, room) {
        (Ok(outdoors), Ok(room)) => Ok(Boundary { outdoors, room }),
        (outdoors, room) => {
            let mut gap = outdoors.err().unwrap_or_default();
            crate::truth::Reason::absorb(&mut gap, room.err().unwrap_or_default());
            Err(gap)
        }
    }
}

/// The solved section of an outlet.
pub(super) fn solved(outlet: &Outlet<'_>, own: Slot) -> Result<Arc<Solved>, Gap> {
    let spec = spec(outlet, own, None)?;
    outlet.world().section(&spec, Uncertainty::Carried).map_err(|it| Gap::absent(own, it.to_string()))
}

fn holds_to(outlet: &Outlet<'_>, own: Slot) -> Result<[f64; 3], Gap> {
    let solved = solved(outlet, own)?;
    let room = outlet.number("space.room_temperature")?;
    solved.holds_to(room).ok_or_else(|| {
        let why = if room <= ICE_POINT {
            "the space behind is itself at or below freezing"
        } else {
            "it holds at any outdoor temperature there is"
        };
        Gap::absent(own, why)
    })
}

fn annual_low(outlet: &Outlet<'_>, own: Slot) -> Result<AnnualLow, Gap> {
    let annual = outlet.world().job().climate.annual_low;
    annual.ok_or_else(|| Gap::absent(own, "the climate gives a design low but no annual lows"))
}

/// Years are rounded down: more often is the safe side. Below three a whole number hides whether it is every winter or
/// every other.
fn how_often(annual: &AnnualLow, holds_to: [f64; 3]) -> String {
    let [often, is, seldom] = annual.years_within(holds_to);
    let places = usize::from(is < 3.0);
    let number = |years: f64| {
        let scale = if places == 1 && years < 10.0 { 10.0 } else { 1.0 };
        let down = (years * scale).floor() / scale;
        if years >= MOST_YEARS { format!("over {MOST_YEARS:.0}") } else { down.to_string() }
    };
    let (from, to) = (number(often), number(seldom));
    let range = if from == to { String::new() } else { format!(" ({from} to {to})") };
    match annual.how_often(holds_to[1]) {
        Years::MostWinters if seldom < 2.0 => "in most winters".into(),
        Years::MostWinters => format!("in most winters, or as seldom as once in {to} years"),
        Years::Rarer if often >= MOST_YEARS => format!("more rarely than once in {MOST_YEARS:.0} years"),
        Years::Rarer => format!("once in {from} to {to} years"),
        Years::OnceIn(years) => format!("about once in {} years{range}", number(years)),
    }
}

/// What the seat must keep, K.
pub(super) fn target(outlet: &Outlet<'_>, own: Slot) -> Result<f64, Gap> {
    Ok(ICE_POINT + outlet.setting(own, MARGIN)?)
}

fn least_seat_depth(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let depth = least(outlet, own)?;
    Ok(Value::Quantity(Quantity::of(depth, Dim::LENGTH)))
}

fn least(outlet: &Outlet<'_>, own: Slot) -> Result<f64, Gap> {
    let spec = spec(outlet, own, Some(ANY_DEPTH))?;
    let found = outlet.world().depth(&spec, &boundary(outlet)?, target(outlet, own)?);
    // A block under the flange draws the seat out by as much.
    let block = block(outlet)?;
    found.map(|it| it.0 + block).map_err(|none| {
        let why = match &none {
            NoDepth::NotAt(depth, _) if spec.inlet == Inlet::InWall => {
                format!(
                    "none, as the wall leaves room for {{= {:.1} in}} and that is not enough",
                    depth / INCH
                )
            }
            NoDepth::NotAt(depth, _) => {
                format!("none, as not even {{= {:.0} in}} is deep enough", depth / INCH)
            }
            NoDepth::Refused(refusal) => refusal.to_string(),
        };
        Gap::absent(own, why)
    })
}

fn next_length(outlet: &Outlet<'_>, own: Slot) -> Reading {
    let longest = NOMINAL_LENGTHS[NOMINAL_LENGTHS.len() - 1];
    let none =
        || Gap::absent(own, format!("none, as no listed length to {{= {longest:.0} in}} is deep enough"));
    let spec = spec(outlet, own, Some(ANY_DEPTH))?;
    let (at, target) = (boundary(outlet)?, target(outlet, own)?);
    let least = match outlet.world().depth(&spec, &at, target) {
        Ok(depth) => depth.0,
        Err(NoDepth::NotAt(..)) => return Err(none()),
        Err(NoDepth::Refused(refusal)) => return Err(Gap::absent(own, refusal.to_string())),
    };
    let offset = match (outlet.number("outlet.nominal_length"), outlet.number("outlet.seat_depth")) {
        (Ok(nominal), Ok(seat)) if seat > 0.0 && seat < nominal => nominal - seat,
        _ => seat_offset(outlet)?,
    };
    let block = block(outlet)?;
    for nominal in NOMINAL_LENGTHS.map(|it| it * INCH) {
        let seat = nominal - offset - block;
        if seat + 1e-9 < least {
            continue;
        }
        let solved = outlet.world().section(&spec.with_seat_at(seat), Uncertainty::Carried);
        if solved.is_ok_and(|it| it.seat_temperature(&at)[0] >= target) {
            return Ok(Value::Quantity(Quantity::of(nominal, Dim::LENGTH)));
        }
    }
    Err(none())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Mean -26 °C, deviation 4 K, 25 winters, by Python: e = √((1 + 1.1396 F + 1.1 F²)/25), years
    /// 1/(1 − exp(−exp(−(1.28255 G + 0.57722)))) at G = F − 1.65 e, F and F + 0.98 e.
    #[test]
    fn how_often_is_said_in_years_with_their_spread() {
        let annual = AnnualLow { mean: 247.15, deviation: 4.0, winters: None };
        for (celsius, words) in [
            // F = 0.877: 6.0 years; 3.22 to 8.89.
            (-29.508, "about once in 6 years (3 to 8)"),
            // F = 0: 2.33 years; 1.737 to 2.826.
            (-26.0, "about once in 2.3 years (1.7 to 2.8)"),
            // F = -2: 1.0007 years, at most 1.01.
            (-18.0, "in most winters"),
            // F = 6: over 1000 years; 212.7 to over 1000.
            (-50.0, "once in 212 to over 1000 years"),
            (-90.0, "more rarely than once in 1000 years"),
        ] {
            assert_eq!(how_often(&annual, [celsius + 273.15; 3]), words);
        }
        // The section's own band alone makes the far end seldom: from F = -1 to F = 1.
        assert!(
            how_often(&annual, [243.15, 251.15, 252.15])
                .starts_with("in most winters, or as seldom as once in ")
        );
    }
}
