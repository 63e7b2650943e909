//! A fixture schedule: raw cells matched to the terms of a vocabulary that the caller gives. An unreadable cell is one
//! located error and has no value; reading continues.
//!
//! Cells go one way: headings, entries, rows and references, then each cell by its term, then the words.

mod agree;
mod ambiguous;
mod around;
mod binding;
mod cell;
mod cites;
mod closing;
mod columns;
mod columns_by_cells;
mod deletion;
mod described_twice;
mod description;
mod device;
mod doubt;
mod entries;
mod errors;
mod footnotes;
mod forms;
mod from_words;
mod frostproof;
mod general;
mod hazards;
mod headings;
mod held;
mod legend;
mod lexicon;
mod listed;
mod matching;
mod over;
mod phrases;
mod place;
mod places;
mod read;
mod references;
mod remarks;
mod rows;
mod select;
mod sheets;
mod slope;
mod spotted;
mod text;
mod tokens;
mod totals;
mod trim;
mod types;
mod unused;
mod vocabulary;
mod wall_words;
mod weighed;
mod word_source;

pub use cell::{CellError, read_cell};
pub use columns::{Columns, Meant};
pub use description::{Description, Statement, parse_description};
pub use device::read_facts;
pub use from_words::read_words;
pub use lexicon::closes_by_name;
pub use listed::{OUTLETS, is_listed, read_listed};
pub use places::{Homes, PlaceTerms, put_places};
pub use read::{read, read_with};
pub use sheets::{NamedSheet, Sheets, choose};
pub use slope::SlopeError;
pub use spotted::{RowOf, Spotted};
pub use text::{is_blank, plain, says_unknown};
pub use types::{
    AsWritten, Cell, Chosen, ChosenRow, MayBe, Noted, ReadOptions, Row, Schedule, SetAside, Unused,
};
pub use unused::{Aside, is_remark, is_wall_in_words};
pub use vocabulary::{CellType, CellValue, Subject, Term, term_named};
