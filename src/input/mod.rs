//! Input files as raw data: bytes to text, text to YAML values with locations or to a raw table, a workbook to the raw
//! tables of its sheets, within one table of limits. Opens no file: callers pass the bytes.

mod about;
mod cells;
mod fields;
pub mod files;
mod fixed;
pub mod limits;
mod node;
mod separator;
pub mod table;
pub mod text;
mod workbook;
pub mod yaml;

pub use about::{About, Decimals, Flaw, Merge, Remark, Sheet};
pub use cells::{Row, Table};
pub use fields::Fields;
pub use files::{Files, Memory, Remembered};
pub use limits::Limit;
pub use node::{Key, Kind, Node};
pub use separator::with_point;
pub use table::tables;
