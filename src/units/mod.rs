//! Quantities: what they measure, the units people write them in, a band for what is uncertain, and printing that
//! rounds to a stated side. SI inside; a temperature is not a temperature difference.

mod dim;
mod figures;
mod hedge;
mod number;
mod parse;
mod print;
mod quantity;
mod slope;
mod spread;
mod table;

pub use dim::{Dim, Measure};
pub use figures::{OPENS, figure, figure_text, figures};
pub use hedge::{Hedge, hedges, outermost};
pub use number::typed;
pub use parse::{Refused, Written, parse, parse_as, parse_with_unit};
pub use print::{Rounding, Show, System, limits, si_symbol};
pub use quantity::{Compared, Ordering, Quantity};
pub(crate) use table::INCH;
pub use table::{UNITS, Unit, find as find_unit};
