//! What people bring, before anything is known of its meaning: bytes to text, text to YAML values with places or to
//! a raw table, all within one table of limits. This room opens no file; it is handed bytes.

mod fields;
pub mod files;
pub mod limits;
mod node;
pub mod table;
pub mod text;
pub mod yaml;

pub use fields::Fields;
pub use files::{Files, Memory, Remembered};
pub use limits::Limit;
pub use node::{Key, Kind, Node};
pub use table::{Row, Table};
