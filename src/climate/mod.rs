//! Climates: places with their design conditions, how cold they get and how often, and how they are found.

mod atlas;
mod design;
mod error;
mod extremes;
mod figures;
mod find;
mod library;
mod listing;
mod lows;
mod near;
mod own;
mod place;
mod point;
mod read;
mod states;
mod stations;
mod towns;
mod words;

pub use atlas::Atlas;
pub use design::{CHOICES, DesignBy};
pub use extremes::{AnnualLow, FEW_WINTERS, MOST_YEARS, USUAL_WINTERS, Years};
pub use library::Library;
pub use listing::Filter;
pub use lows::{LOOKED_AT, LOW, Low};
pub(crate) use near::MILE;
pub use near::{FAR, MOST_ELEVATION_DIFFERENCE, distance};
pub use own::{SkippedPlace, read_own};
pub use place::{Borrowed, Climate, MONTHS, Near, Whose};
pub(crate) use place::{DEVIATION, ELEVATIONS, OUTDOORS};
pub use point::Point;
pub use read::{read_climate, read_library_file};
pub use words::place_id;
