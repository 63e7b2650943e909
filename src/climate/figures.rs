//! Figures of a place held against each other: those that cannot all be right are reported, each where it is written.

use super::error::ClimateError;
use super::place::Climate;
use crate::diag::{Diagnostic, Location};
use crate::input::{Kind, Node};
use crate::units::{System, temperature_text};

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

/// The figures of a place that are held against each other.
struct Figures<'n> {
    node: &'n Node,
    month: Option<Figure>,
    heating_99: Option<Figure>,
    heating_996: Option<Figure>,
    mean: Option<Figure>,
    record: Option<Figure>,
    design: Option<Figure>,
}

/// The first contradiction among the figures of a place, which `node` describes. `normal` is that of its coldest month, with
/// the mean of the month beside it, if both are stated.
pub(super) fn contradiction(climate: &Climate, normal: [Option<f64>; 2], node: &Node) -> Option<Diagnostic> {
    let figure = |path: Path, name, kelvin: Option<f64>| Some((path, name, kelvin?));
    let of_month = if normal[0].is_some() { NORMAL } else { MONTH };
    let figures = Figures {
        node,
        month: figure(of_month, "mean of the coldest month", climate.coldest_month_mean),
        heating_99: figure(&["heating_99"], "99 % value", climate.heating_990),
        heating_996: figure(&["heating_99.6"], "99.6 % value", climate.heating_996),
        mean: figure(MEAN_LOW, "mean annual low", climate.annual_low.map(|low| low.mean)),
        record: figure(RECORDED, "coldest recorded", climate.coldest_recorded),
        design: figure(DESIGN_LOW, "design low", climate.stated_low),
    };
    let deviation = climate.annual_low.map_or(0.0, |low| low.deviation);
    let too_warm = || climate.too_warm(climate.stated_low?, &at(node, DESIGN_LOW));
    figures
        .not_descending()
        .or_else(too_warm)
        .or_else(|| figures.far_apart(deviation))
        .or_else(|| figures.months_apart(normal))
        .or_else(|| of_summer(climate, node))
}

impl Figures<'_> {
    /// Two figures of which the second must be no warmer than the first.
    fn not_descending(&self) -> Option<Diagnostic> {
        let Self { month, heating_99, heating_996, mean, record, design, .. } = *self;
        let chains: [(&[Option<Figure>], f64); 4] = [
            (&[heating_99, heating_996, mean, record], 0.0),
            (&[month, mean], 0.0),
            (&[month, design], 0.0),
            (&[month, heating_99], ABOVE_MONTH),
        ];
        chains.into_iter().find_map(|(descending, above)| {
            let known: Vec<Figure> = descending.iter().copied().flatten().collect();
            let pair = known.windows(2).find(|pair| pair[1].2 > pair[0].2 + above)?;
            let [milder, colder] = [pair[0], pair[1]]
                .map(|(_, name, kelvin)| [name.to_owned(), temperature_text(kelvin, System::Us)]);
            Some(ClimateError::ContradictingLows { milder, colder }.at(&at(self.node, pair[1].0)))
        })
    }

    /// Two figures further from each other than any place has them.
    fn far_apart(&self, deviation: f64) -> Option<Diagnostic> {
        let Self { month, mean, record, design, .. } = *self;
        let below_mean = (RECORD_DEVIATIONS * deviation).max(RECORD_BELOW_MEAN);
        // The warmer, the colder and how much warmer it may be; whether the colder is the one to mend.
        let pairs = [
            (mean, record, below_mean, true),
            (record, design, BELOW_RECORD, false),
            (month, mean, MONTH_ABOVE_MEAN, false),
            (month, design, MONTH_ABOVE_LOW, false),
        ];
        pairs.into_iter().find_map(|(warmer, colder, most, is_colder)| {
            let (warmer, colder) = (warmer?, colder?);
            let is_far = warmer.2 - colder.2 > most;
            is_far.then(|| self.apart(if is_colder { [colder, warmer] } else { [warmer, colder] }))
        })
    }

    /// A mean and a normal of one month.
    fn months_apart(&self, [normal, typical]: [Option<f64>; 2]) -> Option<Diagnostic> {
        let (normal, typical) = normal.zip(typical)?;
        let typical = (MONTH, "mean of the coldest month", typical);
        let normal = (NORMAL, "normal of the coldest month", normal);
        ((normal.2 - typical.2).abs() > MONTH_FROM_NORMAL).then(|| self.apart([typical, normal]))
    }

    /// The error at the first of two figures.
    fn apart(&self, figures: [Figure; 2]) -> Diagnostic {
        let [of, from] =
            figures.map(|(_, name, kelvin)| [name.to_owned(), temperature_text(kelvin, System::Us)]);
        ClimateError::FarApart { of, from }.at(&at(self.node, figures[0].0))
    }
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
            Some(usual) if low > usual => {
                ClimateError::MilderThanUsual { name: name(), usual: temperature_text(usual, System::Us) }
            }
            None if low > WARMEST => ClimateError::TooWarm,
            _ => {
                let record = self.coldest_recorded.filter(|record| low > record + ABOVE_RECORD)?;
                ClimateError::FarAboveRecord { name: name(), record: temperature_text(record, System::Us) }
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
