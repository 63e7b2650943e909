//! The figures of a climate drawn from hours, each with the reason if there is none.

use super::figure::{Figure, NoFigure};
use super::hourly::{Hourly, YearType};
use super::months::Month;
use super::winters::{FEWEST, Fit, Winter};
use crate::climate::DEVIATION;

/// The figures of a climate, drawn from hours.
#[derive(Clone, Debug, PartialEq)]
pub struct DerivedClimate {
    /// Dry bulb exceeded in 99.6 % of the hours, K.
    pub heating_996: Figure<f64>,
    /// Dry bulb exceeded in 99 % of the hours, K.
    pub heating_990: Figure<f64>,
    /// The annual low.
    pub annual_low: Figure<Fit>,
    /// The coldest hour: when, s, and K.
    pub coldest_recorded: Figure<(f64, f64)>,
    /// The coldest month.
    pub coldest_month: Figure<Month>,
    /// The unknown share of the hours of the cold months, 0 to 1. If those were colder, the heating values are too high.
    pub unknown_cold_share: Option<f64>,
    /// Whole years that the heating values are drawn from.
    pub years: Option<f64>,
    /// All winters, including those that do not count.
    pub winters: Vec<Winter>,
}

impl Hourly {
    /// Draws all figures that a climate can have.
    pub fn derive_climate(&self) -> DerivedClimate {
        let winters = self.winters();
        let heating_990 = self.exceeded_in(0.99);
        DerivedClimate {
            heating_996: self.exceeded_in(0.996).map(|(kelvin, _)| kelvin),
            heating_990: heating_990.map(|(kelvin, _)| kelvin),
            annual_low: self.can_have_extremes().and_then(|()| fit(&winters)),
            coldest_recorded: self.can_have_extremes().and_then(|()| coldest_hour(&winters)),
            coldest_month: self.coldest_month(),
            years: heating_990.ok().map(|(_, years)| years),
            unknown_cold_share: self.unknown_cold_share(),
            winters,
        }
    }

    /// Whether its winters are those of real years.
    fn can_have_extremes(&self) -> Figure<()> {
        match self.year_type {
            YearType::Composed => Err(NoFigure::ComposedYear),
            YearType::CalledTypical => Err(NoFigure::CalledTypical),
            YearType::Real if !self.dated => Err(NoFigure::NoDates),
            YearType::Real => Ok(()),
        }
    }
}

fn fit(winters: &[Winter]) -> Figure<Fit> {
    let counted = winters.iter().filter(|winter| winter.counts).count();
    match Fit::of(winters) {
        Some(fit) if fit.low.deviation > DEVIATION[1] => Err(NoFigure::WideLows(fit.low.deviation)),
        Some(fit) if fit.low.deviation >= DEVIATION[0] => Ok(fit),
        None if counted < FEWEST => Err(NoFigure::FewWinters(counted)),
        _ => Err(NoFigure::EqualLows(counted)),
    }
}

/// The coldest hour of all winters, if any counts: what was measured in one that does not count was measured all the same.
fn coldest_hour(winters: &[Winter]) -> Figure<(f64, f64)> {
    let coldest = winters.iter().map(|winter| winter.coldest).reduce(|a, b| if b.1 < a.1 { b } else { a });
    coldest.filter(|_| winters.iter().any(|winter| winter.counts)).ok_or(NoFigure::NoWinter)
}

impl DerivedClimate {
    /// Whether it has any figure that an outlet can be held to.
    pub fn has_a_low(&self) -> bool {
        self.heating_990.is_ok() || self.annual_low.is_ok() || self.coldest_recorded.is_ok()
    }
}
