//! What makes the unit or the steps of a file doubtful, beside the records of its climate.

use super::cold_spell::{Spell, SpellKind};
use crate::climate::{Climate, DesignBy};
use crate::weather::{DAY, FREEZING, HOUR};

/// Rows further apart than this can miss the low of a night, s.
const COARSE: f64 = 2.0 * HOUR;
/// A spell whose coldest is this much warmer than the mean of the coldest month is no cold spell there, K.
const MILD: f64 = 10.0;

/// Something doubtful about a file; temperatures in K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SpellDoubt {
    /// Colder than any low on record, or than the 50-year low.
    BelowRecord {
        /// The coldest of the file.
        coldest: f64,
        /// The lowest of the climate's figures.
        record: f64,
    },
    /// A day or more without a temperature above the mean annual low.
    AllBelowUsualLow {
        /// The warmest of the file.
        warmest: f64,
        /// The mean annual low.
        usual: f64,
    },
    /// It does not come near the coldest month.
    AboveColdestMonth {
        /// The coldest of the file.
        coldest: f64,
        /// The mean of the coldest month.
        mean: f64,
    },
    /// No hour of it is below freezing.
    NeverFreezes {
        /// The coldest of the file, or of the stretches typed.
        coldest: f64,
    },
    /// Rows are this far apart, s.
    CoarseSteps(f64),
}

impl Spell {
    /// Of a spell that a person gives and that is none: the coldest of it, not of what is before and after it.
    pub fn never_freezes(&self) -> Option<f64> {
        let coldest = match self.kind() {
            SpellKind::Typed { stretches, .. } => {
                stretches.iter().map(|it| it.temperature).fold(f64::INFINITY, f64::min)
            }
            SpellKind::Series { .. } => self.coldest(),
            SpellKind::Design { .. } => return None,
        };
        (coldest >= FREEZING).then_some(coldest)
    }

    /// What is doubtful about a file in a climate. A spell that was typed or designed is what the user wants to try, if it is
    /// one.
    pub fn doubts(&self, climate: &Climate) -> Vec<SpellDoubt> {
        let never_freezes = self.never_freezes().map(|coldest| SpellDoubt::NeverFreezes { coldest });
        let SpellKind::Series { .. } = self.kind() else { return never_freezes.into_iter().collect() };
        let (coldest, warmest) = (self.coldest(), self.warmest());
        let figures = [climate.low_by(DesignBy::ColdestRecorded), climate.low_by(DesignBy::Years(50.0))];
        let record = figures.into_iter().flatten().reduce(f64::min);
        let below_record = record.filter(|record| coldest < *record);
        let usual = climate.annual_low.map(|low| low.mean);
        let usual = usual.filter(|usual| warmest < *usual && self.length() >= DAY);
        let mean = climate.coldest_month_mean.filter(|mean| coldest > mean + MILD && coldest < FREEZING);
        let knots = self.knots().windows(2).map(|pair| pair[1][0] - pair[0][0]);
        let step = knots.reduce(f64::max).filter(|step| *step > COARSE);
        [
            never_freezes,
            below_record.map(|record| SpellDoubt::BelowRecord { coldest, record }),
            usual.map(|usual| SpellDoubt::AllBelowUsualLow { warmest, usual }),
            mean.map(|mean| SpellDoubt::AboveColdestMonth { coldest, mean }),
            step.map(SpellDoubt::CoarseSteps),
        ]
        .into_iter()
        .flatten()
        .collect()
    }
}
