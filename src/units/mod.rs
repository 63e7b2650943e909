//! Quantities: dimensions, the unit table, parsing, a band for what is uncertain, and printing with safe rounding. SI
//! inside; a temperature is not a temperature difference.

mod amount;
mod band;
mod dim;
mod error;
mod figures;
mod hedge;
mod number;
mod parse;
mod print;
mod quantity;
mod range;
mod slope;
mod table;

pub use amount::ParseOptions;
pub use dim::{Dim, Measure};
pub use error::{QuantityError, Reason};
pub use figures::{OPENS, figure, figure_text, figures};
pub(crate) use hedge::{DOUBTFUL_SIGNS, Hedge, hedges, outermost};
pub use number::typed;
pub use parse::{parse, parse_in_range, parse_with, parse_with_unit};
pub use print::{Rounding, Show, System, si_symbol, significant, temperature_text};
pub use quantity::{Compared, Ordering, Quantity};
pub use range::{contains, limits};
pub(crate) use table::INCH;
pub use table::{DAY, FOOT, HOUR, UNITS, Unit, find as find_unit};
