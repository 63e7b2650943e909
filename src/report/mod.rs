//! Reports of a review, of a cold spell, of a wall and of what was read. They contain words and layout, no computation.

mod amended;
mod blocks;
mod borrowed;
mod climate;
mod climates;
mod cold_spell;
mod comment_sheet;
mod comments;
mod compare;
mod crew;
mod depth;
mod drawing;
mod footnotes;
mod groups;
mod html;
mod json;
mod left;
mod letter;
mod markdown;
mod order_words;
mod orders;
mod page;
mod pdf;
mod questions;
mod read;
mod remedies;
mod review_csv;
mod review_xlsx;
mod sarif;
mod sentences;
mod settling;
mod sheet;
mod since;
mod spaces;
mod spell_doubts;
mod standard;
mod summary;
mod taken;
mod text;
mod wall;
mod words;
mod workbook;

pub use amended::{by_whom, change, head as amended_head, location_text, of_rule as amended_rule, revise_on};
pub use climates::{climate_card, climates, climates_near};
pub use cold_spell::{cold_spell, cold_spell_csv, cold_spell_html};
pub use compare::{compared, compared_standards};
pub use crew::{NARROW, crew, crew_csv, crew_html};
pub use depth::{depth, depths};
pub use html::html;
pub use json::{
    ClimatesFound, climates_json, climates_schema, cold_spell_json, cold_spell_schema, json, read_json,
    read_schema, review_schema, standard_json, standard_schema,
};
pub use letter::letter;
pub use markdown::markdown;
pub use orders::{orders, orders_csv, orders_xlsx};
pub use page::{labelled, table, wrapped};
pub use pdf::{MOST_SHEETS, pdf};
pub use questions::questions_csv;
pub use read::{read, read_csv};
pub use review_csv::review_csv;
pub use review_xlsx::{questions_xlsx, review_xlsx};
pub use sarif::sarif;
pub use sheet::sheet;
pub use standard::{standard, standard_amendment, standard_csv, standard_html, standard_xlsx};
pub use summary::{MOST_TYPES, summary};
pub use text::text;
pub use wall::{Between, wall, walls};
pub use words::value;

/// The cautions of every report.
pub const REMINDER: &str = "Screening only: it certifies nothing. The locally adopted code, its amendments and the \
                            authority having jurisdiction govern; licensed people do the work. Before work on a \
                            faucet, shut off and drain the supply and relieve the pressure; water can be under \
                            pressure behind ice. Never thaw a pipe with a flame.";

/// Width of a text report, in columns.
pub const WIDTH: usize = 80;
