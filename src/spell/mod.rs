//! Cold spells, designed, typed or cut from a series of temperatures; and the model year of a climate.

mod clock;
mod cold_spell;
mod doubts;
mod series;
mod typed;
mod window;
mod year;

pub(crate) use crate::weather::interpolate;
pub use clock::Clock;
pub use cold_spell::{MOST_DAYS, Spell, SpellError, SpellKind, Stretch};
pub use doubts::SpellDoubt;
pub use year::{Bin, COLD_WINTER, HOURS, Year};
