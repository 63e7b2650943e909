//! Reports of a review, of a cold spell, of a wall and of what was read. They word and lay out; they compute nothing.

mod amended;
mod as_json;
mod climate;
mod climates;
mod climates_json;
mod cold_spell;
mod comments;
mod json;
mod page;
mod questions;
mod read;
mod sentences;
mod settling;
mod sheet;
mod taken;
mod text;
mod wall;
mod words;

pub use amended::{by_whom, change, head as amended_head, of_rule as amended_rule, place, revise_on};
pub use climates::{climate_card, climates, climates_near};
pub use climates_json::{ClimatesFound, climates_json};
pub use cold_spell::{cold_spell, cold_spell_csv, cold_spell_json};
pub use json::json;
pub use page::{labelled, table, wrapped};
pub use questions::questions_csv;
pub use read::{read, read_csv, read_json};
pub use sheet::sheet;
pub use text::text;
pub use wall::{Between, wall, walls};
pub use words::value;

/// What every report says.
pub const REMINDER: &str = "Screening only: it certifies nothing. The locally adopted code, its amendments and the \
    authority having jurisdiction govern; licensed people do the work. Before work on an outlet, shut off and drain \
    the supply and let the pressure out; water may stand under pressure behind ice. Never thaw a pipe with a flame.";

/// Width of a text report, in columns.
pub const WIDTH: usize = 80;

/// JSON Schema of the review's JSON, format 1.
pub const REVIEW_SCHEMA: &str = include_str!("review.schema.json");

/// JSON Schema of what was read, as JSON, format 1.
pub const READ_SCHEMA: &str = include_str!("read.schema.json");

/// JSON Schema of a cold spell's JSON, format 1.
pub const COLD_SPELL_SCHEMA: &str = include_str!("cold_spell.schema.json");

/// JSON Schema of the climates' JSON, format 1.
pub const CLIMATES_SCHEMA: &str = include_str!("climates.schema.json");
