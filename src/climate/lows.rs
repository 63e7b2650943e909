//! The lows of a climate: every figure that a design low can be taken from.

use super::design::DesignBy;
use super::extremes::Years;
use super::place::Climate;
use crate::units::{Rounding, Show};

/// How every page prints a low: in whole degrees, rounded to the colder side. Data for other programs has the full value.
pub const LOW: Show = Show::new(("°F", 0), ("°C", 0), Rounding::Down);

/// Return periods that are listed, years.
const LISTED: [f64; 4] = [5.0, 10.0, 20.0, 50.0];
/// The years over which the chance of a low is given.
pub const LOOKED_AT: f64 = 30.0;

/// One figure, and how often a low that cold comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Low {
    /// Which figure.
    pub by: DesignBy,
    /// K.
    pub kelvin: f64,
    /// Its range by the number of winters it is drawn from, coldest first, K; of a return period only.
    pub within: Option<[f64; 2]>,
    /// How often an annual low reaches it, where the annual lows are known.
    pub often: Option<Years>,
    /// The chance that one of [`LOOKED_AT`] winters reaches it.
    pub chance: Option<f64>,
}

impl Climate {
    /// One figure with how often it comes. `kelvin` may be of a figure that is not the climate's own.
    pub fn low(&self, by: DesignBy, kelvin: f64) -> Low {
        let within = match by {
            DesignBy::Years(years) => self.annual_low.and_then(|low| low.low_within(years)),
            _ => None,
        };
        Low {
            by,
            kelvin,
            within: within.map(|[coldest, _, warmest]| [coldest, warmest]),
            often: self.annual_low.map(|low| low.how_often(kelvin)),
            chance: self.annual_low.map(|low| low.chance_in_years(kelvin, LOOKED_AT)),
        }
    }

    /// All figures it has, the mildest kind first.
    pub fn lows(&self) -> Vec<Low> {
        let percents = [DesignBy::Heating99, DesignBy::Heating996];
        let years = LISTED.map(DesignBy::Years);
        let all = percents.into_iter().chain(years).chain([DesignBy::ColdestRecorded]);
        all.filter_map(|by| Some(self.low(by, self.low_by(by)?))).collect()
    }
}
