//! The JSON of a review against its schema, and what it promises beyond a shape.

mod climates;
mod cold_spell;
mod common;
mod files;
mod promises;
mod read;
#[path = "../rows.rs"]
mod rows;
mod sarif;
mod schema;
mod standard;
