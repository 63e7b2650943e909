//! Schedules as they arrive: workbooks of several writers, awkward tables, lists; what stands for what in their rows; and
//! files made to do harm.

mod around;
pub mod common;
mod diagonals;
mod doubts;
mod drawn;
mod headings;
mod hostile;
mod hostile_ods;
mod mutations;
mod over;
mod rows;
mod same;
mod select;
mod sheets;
mod text;
mod unseen;
mod workbooks;
