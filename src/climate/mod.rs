//! Climates: places with their design conditions, how cold it gets how often, and cold spells in time.

mod columns;
mod design;
mod extremes;
mod find;
mod hourly;
mod library;
mod listing;
mod lows;
mod moment;
mod near;
mod order;
mod own;
mod place;
mod point;
mod rows;
mod series;
mod spell;
mod states;
mod window;
mod words;
mod year;

pub use design::{CHOICES, DesignBy};
pub use extremes::{AnnualLow, FEW_WINTERS, MOST_YEARS, USUAL_WINTERS, Years};
pub use hourly::{ColdDays, Drawn, Figure, Fit, Form, Gap, Hour, Hourly, Month, Run, Station, Swing, Winter};
pub use library::Library;
pub use listing::Wanted;
pub use lows::{LOOKED_AT, Low};
pub use near::{FAR, HEIGHT, Near, distance};
pub use own::{LeftOut, read_own};
pub use place::{Climate, MONTHS, Whose, read_climate, read_library_file};
pub use point::Point;
pub use spell::{Kind, MOST_DAYS, NoSpell, Spell, Stretch};
pub use states::State;
pub use words::place_id;
pub use year::{Bin, COLD_WINTER, HOURS, Year};
