//! Inputs shared by the benches beside this file.

pub mod schedules;
