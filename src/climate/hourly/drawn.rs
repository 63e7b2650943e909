//! A climate's figures as a file of hours gives them, each with the reason where it gives none.

use super::winters::FEWEST;
use super::{Fit, Hourly, Month, Winter};

/// A figure, or why it is left out, completing a sentence.
pub type Figure<T> = Result<T, String>;

/// Deviations that a climate may have, K.
const DEVIATION: [f64; 2] = crate::climate::place::DEVIATION;

/// What a climate says, drawn from hours.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
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
    /// The share of the hours of the cold months that the shares do not know, 0 to 1: where those were colder, both are too
    /// high.
    pub hidden: Option<f64>,
    /// Whole years that the shares are of.
    pub years: Option<f64>,
    /// The winters, those that do not count among them.
    pub winters: Vec<Winter>,
}

const PIECED: &str = "its months are of different years, and such a typical year understates extremes";
const CALLED: &str = "its heading calls it typical, and a typical year understates extremes";

impl Hourly {
    /// All that a climate can be given.
    pub fn drawn(&self) -> Drawn {
        let winters = self.winters();
        let typical = if self.pieced { PIECED } else { CALLED };
        let counted = || winters.iter().filter(|it| it.counts);
        let annual_low = match Fit::of(&winters) {
            _ if self.typical => Err(typical.into()),
            Some(fit) if (DEVIATION[0]..=DEVIATION[1]).contains(&fit.low.deviation) => Ok(fit),
            Some(fit) if fit.low.deviation > DEVIATION[1] => {
                Err(format!("its lows spread by {:.1} K, which no place's do", fit.low.deviation))
            }
            None if counted().count() < FEWEST && self.dated => Err(format!(
                "a spread needs {FEWEST} whole winters at least, and it has {}",
                counted().count()
            )),
            None if !self.dated => Err("its rows have no dates".into()),
            _ => {
                Err(format!("the lows of its {} winters are all alike, as no place's are", counted().count()))
            }
        };
        // What was measured in a winter that does not count was measured all the same.
        let all = winters.iter().map(|it| it.coldest).filter(|_| counted().count() > 0);
        let coldest = all.reduce(|a, b| if b.1 < a.1 { b } else { a });
        let coldest_recorded = match coldest {
            _ if self.typical => Err(typical.into()),
            Some(it) => Ok(it),
            None if !self.dated => Err("its rows have no dates".into()),
            None => Err("no winter of it counts".into()),
        };
        let exceeded = |share| self.exceeded_in(share).map(|it| it.0);
        Drawn {
            heating_996: exceeded(0.996),
            heating_990: exceeded(0.99),
            annual_low,
            coldest_recorded,
            coldest_month: self.coldest_month(),
            years: self.exceeded_in(0.99).ok().map(|it| it.1),
            hidden: self.hidden(),
            winters,
        }
    }
}

impl Drawn {
    /// Whether it has any figure that an outlet can be held to.
    pub fn has_a_low(&self) -> bool {
        self.heating_990.is_ok() || self.annual_low.is_ok() || self.coldest_recorded.is_ok()
    }
}
