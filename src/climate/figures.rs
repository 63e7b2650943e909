//! Figures of a place held against each other: those that cannot all be right are told, each where it is written.

use super::error::ClimateError;
use super::place::Climate;
use crate::diag::{Diagnostic, Location};
use crate::input::{Kind, Node};
use crate::units::{Measure, Quantity, Show, System};

/// No place of the continent that people build in has a winter without an hour this cold, K (60 °F).
const WARMEST: f64 = 288.71;
/// A design low further than this above the coldest hour on record, 50 °F, is a slip: in the shipped climates the 99 % value
/// is at most 36 °F above the 20-year low.
const ABOVE_RECORD: f64 = 50.0 / 1.8;
/// A design low further than this below the record, 15 °F, is a slip: a hollow may be 10 °F colder than its station.
const BELOW_RECORD: f64 = 15.0 / 1.8;
/// A record further than this below the mean annual low, in deviations and at least 30 °F, is a slip: by Gumbel's
/// distribution one winter in 50 000 is that cold.
const RECORD_DEVIATIONS: f64 = 8.0;
const RECORD_BELOW_MEAN: f64 = 30.0 / 1.8;
/// A mean of the coldest month further above the mean annual low (75 °F) or a design low (85 °F) is a slip: in the shipped
/// climates it is at most 53 °F above the one and 67 °F above the 20-year low.
const MONTH_ABOVE_MEAN: f64 = 75.0 / 1.8;
const MONTH_ABOVE_LOW: f64 = 85.0 / 1.8;
/// A 99 % value further above the mean of the coldest month than 3 °F is a slip: hours of few winters may have it a little above.
const ABOVE_MONTH: f64 = 3.0 / 1.8;
/// A mean and a normal of one month that differ by more than this, 15 °F, are not of one place: by 5.2 °F at most in the
/// shipped climates.
const MONTH_FROM_NORMAL: f64 = 15.0 / 1.8;
/// Degrees of latitude: between the tropics any month may be the coldest.
const TROPIC: f64 = 23.5;

/// The keys of a figure, from the place's own inwards.
type Path = &'static [&'static str];

const DESIGN_LOW: Path = &["design_low"];
const MEAN_LOW: Path = &["annual_low", "mean"];
const RECORDED: Path = &["coldest_recorded"];
const MONTH: Path = &["coldest_month_mean"];
const NORMAL: Path = &["coldest_month_normal"];

/// A figure of a place: where it is written, its name and its value in K.
type Figure = (Path, &'static str, f64);

/// The first contradiction among the figures of a place, which `node` describes. `normal` is that of its coldest month, with
/// the mean of the month beside it, if both are stated.
pub(super) fn contradiction(climate: &Climate, normal: [Option<f64>; 2], node: &Node) -> Option<Diagnostic> {
    let is_normal = normal[0].is_some();
    let too_warm = || climate.too_warm(climate.stated_low?, &at(node, DESIGN_LOW));
    not_descending(climate, is_normal, node)
        .or_else(too_warm)
        .or_else(|| far_apart(climate, normal, node))
        .or_else(|| of_summer(climate, node))
}

fn month(climate: &Climate, is_normal: bool) -> Option<Figure> {
    Some((if is_normal { NORMAL } else { MONTH }, "mean of the coldest month", climate.coldest_month_mean?))
}

/// Two figures of which the second must be no warmer than the first.
fn not_descending(climate: &Climate, is_normal: bool, node: &Node) -> Option<Diagnostic> {
    let figure = |path: Path, name, kelvin: Option<f64>| Some((path, name, kelvin?));
    let mean = figure(MEAN_LOW, "mean annual low", climate.annual_low.map(|low| low.mean));
    let heating_99 = figure(&["heating_99"], "99 % value", climate.heating_990);
    let lows = [
        heating_99,
        figure(&["heating_99.6"], "99.6 % value", climate.heating_996),
        mean,
        figure(RECORDED, "coldest recorded", climate.coldest_recorded),
    ];
    let month = month(climate, is_normal);
    let design = figure(DESIGN_LOW, "design low", climate.stated_low);
    let chains: [(&[Option<Figure>], f64); 4] =
        [(&lows, 0.0), (&[month, mean], 0.0), (&[month, design], 0.0), (&[month, heating_99], ABOVE_MONTH)];
    chains.into_iter().find_map(|(descending, above)| {
        let known: Vec<Figure> = descending.iter().copied().flatten().collect();
        let pair = known.windows(2).find(|pair| pair[1].2 > pair[0].2 + above)?;
        let [milder, colder] = [pair[0], pair[1]].map(|(_, name, kelvin)| [name.to_owned(), text(kelvin)]);
        Some(ClimateError::ContradictingLows { milder, colder }.at(&at(node, pair[1].0)))
    })
}

/// Two figures further from each other than any place has them.
fn far_apart(climate: &Climate, normal: [Option<f64>; 2], node: &Node) -> Option<Diagnostic> {
    let month = month(climate, normal[0].is_some());
    let mean = climate.annual_low.map(|low| (MEAN_LOW, "mean annual low", low.mean));
    let record = climate.coldest_recorded.map(|it| (RECORDED, "coldest recorded", it));
    let design = climate.stated_low.map(|it| (DESIGN_LOW, "design low", it));
    let [normal, typical] = normal;
    let deviation = climate.annual_low.map_or(0.0, |low| low.deviation);
    // The warmer, the colder and how much warmer it may be; the last is the one to be told.
    let pairs = [
        (mean, record, (RECORD_DEVIATIONS * deviation).max(RECORD_BELOW_MEAN), record),
        (record, design, BELOW_RECORD, record),
        (month, mean, MONTH_ABOVE_MEAN, month),
        (month, design, MONTH_ABOVE_LOW, month),
    ];
    let apart = |[told, other]: [Figure; 2]| {
        let [of, from] = [told, other].map(|(_, name, kelvin)| [name.to_owned(), text(kelvin)]);
        ClimateError::FarApart { of, from }.at(&at(node, told.0))
    };
    let pair = pairs.into_iter().find_map(|(warmer, colder, most, told)| {
        let (warmer, colder, told) = (warmer?, colder?, told?);
        let other = if told == warmer { colder } else { warmer };
        (warmer.2 - colder.2 > most).then_some([told, other])
    });
    let months = normal.zip(typical).filter(|(normal, typical)| (normal - typical).abs() > MONTH_FROM_NORMAL);
    let months = months.map(|(normal, typical)| {
        [(MONTH, "mean of the coldest month", typical), (NORMAL, "normal of the coldest month", normal)]
    });
    pair.or(months).map(apart)
}

/// A coldest month on the warm side of the year: a lost minus of the latitude, or a wrong month.
fn of_summer(climate: &Climate, node: &Node) -> Option<Diagnostic> {
    let latitude = climate.latitude.filter(|it| it.abs() > TROPIC)?;
    let winter: &[u8] = if latitude > 0.0 { &[11, 12, 1, 2, 3] } else { &[5, 6, 7, 8, 9] };
    climate.coldest_month.filter(|month| !winter.contains(month))?;
    let error = ClimateError::MonthOfSummer { is_north: latitude > 0.0 }.at(&at(node, &["coldest_month"]));
    Some(error.text(climate.coldest_month_name()?))
}

impl Climate {
    /// A low that is milder than what most winters bring there is a slip, and would let everything pass.
    pub(crate) fn too_warm(&self, low: f64, location: &Location) -> Option<Diagnostic> {
        let name = || self.name.to_string();
        let usual = self.heating_990.or(self.heating_996).or(self.annual_low.map(|it| it.mean));
        let error = match usual {
            Some(usual) if low > usual => ClimateError::MilderThanUsual { name: name(), usual: text(usual) },
            None if low > WARMEST => ClimateError::TooWarm,
            _ => {
                let record = self.coldest_recorded.filter(|record| low > record + ABOVE_RECORD)?;
                ClimateError::FarAboveRecord { name: name(), record: text(record) }
            }
        };
        Some(error.at(location))
    }
}

/// Where a figure of a place is written; the place's own location if it is computed.
fn at(place: &Node, path: Path) -> Location {
    let inwards = path.iter().try_fold(place, |node, key| {
        let Kind::Map(entries) = &node.kind else { return None };
        entries.iter().find(|(written, _)| written.text == *key).map(|(_, node)| node)
    });
    inwards.unwrap_or(place).location.clone()
}

fn text(kelvin: f64) -> String {
    Show::usual(Measure::Temperature).value(&Quantity::temperature(kelvin), System::Us)
}
