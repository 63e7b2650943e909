//! Checks outdoor water outlets on a plan against a climate, with the heat-transfer calculation behind every
//! comment. It screens; it never certifies: the locally adopted code and the authority having jurisdiction govern.

pub use coldsill_heat::{physics, section, thermal};

pub mod climate;
pub mod diag;
pub mod expr;
pub mod facts;
pub mod input;
pub mod job;
pub mod report;
pub mod review;
pub mod ruleset;
pub mod schedule;
pub mod schema;
pub mod shipped;
pub mod spell;
pub mod standard;
pub mod truth;
pub mod units;
pub mod wall;
pub mod weather;
