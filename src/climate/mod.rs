//! Climates: places with their design conditions, and how cold it gets how often.

mod extremes;
mod library;
mod place;

pub use extremes::{AnnualLow, MOST_YEARS, Years};
pub use library::Library;
pub use place::{Climate, read_climate, read_library_file};
