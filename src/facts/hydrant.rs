//! Yard hydrants: how deep they are buried, how deep frost goes, what they drain into.

use super::outlet::{INCH, inches, stated};
use super::reading::{Fact, OrGap, Origin, Outlet};
use super::site::stated as figure;
use super::{Answers, Blank, Def, Kind, Source, quantity, toward};
use crate::expr::{Gap, Slot, Value};
use crate::physics::frost::{DAY, SOILS, Soil, Winter, find_soil, find_surface, modified_berggren};
use crate::physics::water::ICE_POINT;
use crate::schedule::Reads;
use crate::units::{Dim, Measure, Quantity, Rounding};

const LENGTH: Measure = Measure::Of(Dim::LENGTH);
/// Mean of the warmest month, K: 21 °C. Of the places in which frost matters, Fairbanks has 17, Duluth 19, Buffalo 22,
/// Minneapolis and Denver 23, Omaha 25 °C (climatic normals, from memory); the colder shortens no winter.
const WARMEST_MONTH: f64 = 294.15;
const YEAR: f64 = 365.25 * DAY;
/// Mean of the extreme month over the amplitude of a sine wave: sin(15°)/(π/12).
const OF_A_MONTH: f64 = 0.988_616;
/// Field depths scatter by a quarter about the formula (see [`modified_berggren`]).
const SCATTER: f64 = 0.25;
/// Ground kept clear of snow.
const SURFACE: &str = "bare-soil";
const NO_MONTH: &str = "the climate gives no mean of its coldest month";

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
        about: "air-freezing index: degree-days below freezing of a winter",
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
        about: "depth of frost by calculation, under bare ground kept clear of snow",
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

/// A year's daily means as a sine wave, °C.
#[derive(Clone, Copy, Debug)]
struct Year {
    mean: f64,
    amplitude: f64,
}

impl Year {
    /// From the mean of its coldest month, K.
    fn of(coldest_month: f64) -> Self {
        let amplitude = 0.5 * (WARMEST_MONTH - coldest_month) / OF_A_MONTH;
        Self { mean: 0.5 * (WARMEST_MONTH + coldest_month) - ICE_POINT, amplitude }
    }

    /// Time below freezing, s, and the index of it, K·s.
    fn freezing(self) -> (f64, f64) {
        let ratio = (self.mean / self.amplitude).clamp(-1.0, 1.0);
        let angle = libm::acos(ratio);
        let season = YEAR / std::f64::consts::PI * angle;
        let depth = self.amplitude * (1.0 - ratio * ratio).sqrt() - self.mean * angle;
        (season, (YEAR / std::f64::consts::PI * depth).max(0.0))
    }
}

fn year(outlet: &Outlet<'_>) -> Option<Year> {
    outlet.world().job().climate.coldest_month_mean.filter(|it| *it < WARMEST_MONTH - 1.0).map(Year::of)
}

/// Where nobody states it, an average winter's by the sine wave. Short thaws and frosts of a mild winter even out in it, so
/// that it errs low where the coldest month is near freezing.
fn freezing_index(outlet: &Outlet<'_>, slot: Slot) -> Fact {
    let quantity = |it| Quantity::of(it, Dim::DEGREE_TIME);
    let said = outlet.world().job().authority.freezing_index.as_ref();
    if said.is_some() {
        return figure(slot, said, quantity);
    }
    match year(outlet) {
        Some(year) => Fact::assumed(
            Value::Quantity(quantity(year.freezing().1)),
            "an average winter's, from the mean of the coldest month and {= 70 °F} in the warmest; colder winters freeze \
             deeper; `authority: { freezing_index: }` in the job overrides it",
        ),
        None => Fact { value: Err(Gap::absent(slot, NO_MONTH)), origin: Origin::Unknown },
    }
}

/// With the scatter of field depths about it and, where no soil is stated, down to that of the soil in which frost goes
/// least deep.
fn frost_depth(outlet: &Outlet<'_>, own: Slot) -> Result<Quantity, Gap> {
    let mut gaps = Gap::default();
    let index = outlet.number("site.freezing_index").or_gap(&mut gaps);
    let soil = outlet.word("site.soil").or_gap(&mut gaps);
    let year = year(outlet).ok_or_else(|| Gap::absent(own, NO_MONTH)).or_gap(&mut gaps);
    let (Some(index), Some(soil), Some(year)) = (index, soil, year) else { return Err(gaps) };
    if index < DAY {
        return Err(Gap::absent(own, "the ground does not freeze in an average winter"));
    }
    let none = || Gap::absent(own, "the table of soils has no such soil");
    let soil = find_soil(&soil).ok_or_else(none)?;
    let surface = find_surface(SURFACE).ok_or_else(none)?;
    let winter = Winter {
        air_index: index,
        // An index that somebody states may be of a winter longer than the sine wave's.
        season: year.freezing().0.max(30.0 * DAY),
        mean_annual: year.mean + ICE_POINT,
        n_factor: surface.n_factor,
    };
    let refused = |it: crate::physics::Refusal| Gap::absent(own, it.to_string());
    let depth_in = |soil: &Soil| -> Result<f64, Gap> {
        let ground = soil.ground().map_err(refused)?;
        Ok(modified_berggren(&ground, &winter).map_err(refused)?.depth)
    };
    let depth = depth_in(soil)?;
    let mut least = depth;
    if outlet.is_assumed("site.soil") {
        for other in SOILS {
            least = least.min(depth_in(other)?);
        }
    }
    Ok(Quantity::of(depth, Dim::LENGTH).within((1.0 - SCATTER) * least, (1.0 + SCATTER) * depth))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_soils_a_job_may_name_are_those_of_the_table() {
        let keys: Vec<&str> = SOILS.iter().map(|it| it.key).collect();
        assert_eq!(keys, crate::job::SOILS);
    }

    /// The closed form against the sum over days.
    #[test]
    fn the_index_is_the_sum_of_the_days_below_freezing() {
        for celsius in [-25.0, -9.0, -1.5, 4.0] {
            let year = Year::of(ICE_POINT + celsius);
            let steps = 36_525;
            let (mut index, mut season) = (0.0, 0.0);
            for step in 0..steps {
                let angle = std::f64::consts::TAU * (f64::from(step) + 0.5) / f64::from(steps);
                let below = -(year.mean - year.amplitude * libm::cos(angle));
                if below > 0.0 {
                    index += below * YEAR / f64::from(steps);
                    season += YEAR / f64::from(steps);
                }
            }
            let (got_season, got) = year.freezing();
            assert!((got - index).abs() <= 1e-4 * index + 1.0, "{celsius}: {got} {index}");
            assert!((got_season - season).abs() <= 0.02 * DAY, "{celsius}: {got_season} {season}");
        }
    }

    /// Mean of the coldest month comes back as the mean of the thirtieth of the year around the trough.
    #[test]
    fn the_coldest_month_of_the_wave_is_the_one_it_was_made_of() {
        let year = Year::of(ICE_POINT - 9.0);
        let steps = 1000;
        let month: f64 = (0..steps)
            .map(|step| {
                let angle =
                    std::f64::consts::PI / 12.0 * (2.0 * (f64::from(step) + 0.5) / f64::from(steps) - 1.0);
                year.mean - year.amplitude * libm::cos(angle)
            })
            .sum::<f64>()
            / f64::from(steps);
        assert!((month + 9.0).abs() < 1e-4, "{month}");
    }

    /// Mean air-freezing indices as frost maps show them (from memory, to about a fifth): Minneapolis 1500 to 1700, Duluth
    /// 2200 to 2500, Fairbanks 5000 to 5700 °F·days; means of the coldest month by climatic normals, 16, 10 and -8 °F, and 11.5 °F (-11.39 °C), which the climate file that is built in gives for Minneapolis.
    #[test]
    fn cold_places_have_about_the_index_that_maps_show() {
        for (fahrenheit, from, to) in
            [(16.0, 1500.0, 1700.0), (11.5, 1500.0, 1700.0), (10.0, 2200.0, 2500.0), (-8.0, 5000.0, 5700.0)]
        {
            let kelvin = (fahrenheit + 459.67) / 1.8;
            let index = Year::of(kelvin).freezing().1 / 48_000.0;
            assert!((0.8 * from..=1.2 * to).contains(&index), "{fahrenheit} °F: {index}");
        }
    }
}
