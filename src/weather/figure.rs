//! A figure drawn from hours, or why there is none.

use super::calendar::DAY;
use super::winters::FEWEST;
use crate::climate::MONTHS;

/// A figure, or why there is none.
pub type Figure<T> = Result<T, NoFigure>;

/// Why hours give no figure. Displays as the rest of a sentence about the file.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum NoFigure {
    /// The rows have plain hours.
    #[error("its rows have no dates")]
    NoDates,
    /// The file has no hours.
    #[error("it has no hours")]
    NoHours,
    /// It covers so many seconds.
    #[error("it covers {:.0} days, less than a year", .0 / DAY)]
    LessThanAYear(f64),
    /// A share of the hours of a month, 0 to 1, is missing.
    #[error("{:.0} % of the hours of its {} were not measured", 100.0 * missing, month_name(*month))]
    MissingHours {
        /// 1 to 12.
        month: u8,
        /// 0 to 1.
        missing: f64,
    },
    /// A share of the hours of the cold months, 0 to 1, is missing.
    #[error(
        "{:.1} % of the hours of its cold months were not measured, and they may have been the coldest",
        100.0 * .0
    )]
    MissingColdHours(f64),
    /// A month is complete in no year.
    #[error("no {} of it is complete", month_name(*month))]
    IncompleteMonth {
        /// 1 to 12.
        month: u8,
    },
    /// Its months are of different years.
    #[error("its months are of different years, and such a typical year understates extremes")]
    ComposedYear,
    /// The heading calls it typical.
    #[error("its heading calls it typical, and a typical year understates extremes")]
    CalledTypical,
    /// It has only so many complete winters.
    #[error("a standard deviation needs at least {FEWEST} complete winters, and it has {0}")]
    FewWinters(usize),
    /// The lows of so many winters are equal.
    #[error("the lows of its {0} winters are equal, which is not plausible")]
    EqualLows(usize),
    /// The lows have this standard deviation, K.
    #[error("its lows have a standard deviation of {0:.1} K, which is not plausible")]
    WideLows(f64),
    /// No winter is complete.
    #[error("no winter of it is complete")]
    NoWinter,
}

fn month_name(month: u8) -> &'static str {
    MONTHS.get(usize::from(month) - 1).map_or("", |(name, _)| name)
}
