//! What people bring, before anything is known of its meaning: bytes to text, text to YAML values with places or to
//! a raw table, a workbook to the raw tables of its sheets, all within one table of limits. This room opens no file; it is handed bytes.

mod about;
mod fields;
pub mod files;
pub mod limits;
mod node;
mod separator;
pub mod table;
pub mod text;
mod workbook;
pub mod yaml;

pub use about::{About, Decimals, Flaw, Merge, Remark, Sheet};
pub use fields::Fields;
pub use files::{Files, Memory, Remembered};
pub use limits::Limit;
pub use node::{Key, Kind, Node};
pub use separator::with_point;
pub use table::{Row, Table, tables};
