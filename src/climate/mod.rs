//! Climates: places with their design conditions, how cold it gets how often, and cold spells in time.

mod columns;
mod extremes;
mod library;
mod moment;
mod place;
mod series;
mod spell;
mod window;
mod year;

pub use extremes::{AnnualLow, MOST_YEARS, Years};
pub use library::Library;
pub use place::{Climate, read_climate, read_library_file};
pub use spell::{Kind, MOST_DAYS, NoSpell, Spell, Stretch};
pub use year::{Bin, HOURS, Year};
