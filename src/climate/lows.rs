//! How cold it gets at a place, side by side: every figure that a design low can be taken from.

use super::design::DesignBy;
use super::extremes::Years;
use super::place::Climate;

/// Return periods that are listed, years.
const LISTED: [f64; 4] = [5.0, 10.0, 20.0, 50.0];
/// How long a house is looked at, years.
pub const LOOKED_AT: f64 = 30.0;

/// One figure, and how often a low that cold comes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Low {
    /// Which figure.
    pub by: DesignBy,
    /// K.
    pub kelvin: f64,
    /// Its spread from how few winters the climate was drawn from, coldest first, K; a return period's only.
    pub within: Option<[f64; 2]>,
    /// How often an annual low reaches it, where the annual lows are known.
    pub often: Option<Years>,
    /// The chance that one of [`LOOKED_AT`] winters reaches it.
    pub chance: Option<f64>,
}

impl Climate {
    /// One figure of it. `kelvin` is that of a figure that is not the climate's own.
    pub fn low(&self, by: DesignBy, kelvin: f64) -> Low {
        let within = match by {
            DesignBy::Years(years) => self.annual_low.and_then(|it| it.low_within(years)),
            _ => None,
        };
        Low {
            by,
            kelvin,
            within: within.map(|[coldest, _, warmest]| [coldest, warmest]),
            often: self.annual_low.map(|it| it.how_often(kelvin)),
            chance: self.annual_low.map(|it| it.chance_within(kelvin, LOOKED_AT)),
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
