//! Climates: places with their design conditions, how cold it gets how often, and cold spells in time.

mod columns;
mod design;
mod extremes;
mod library;
mod lows;
mod moment;
mod place;
mod series;
mod spell;
mod window;
mod year;

pub use design::{CHOICES, DesignBy};
pub use extremes::{AnnualLow, MOST_YEARS, USUAL_WINTERS, Years};
pub use library::Library;
pub use lows::{LOOKED_AT, Low};
pub use place::{Climate, read_climate, read_library_file};
pub use spell::{Kind, MOST_DAYS, NoSpell, Spell, Stretch};
pub use year::{Bin, COLD_WINTER, HOURS, Year};
