//! Quantities, cells and descriptions as people write them: the data files beside this one are the specification.

#![allow(clippy::unwrap_used, reason = "a specification that cannot be read must fail")]

mod cells;
mod descriptions;
mod devices;
mod hedges;
mod printed;
mod quantities;
mod remarks;
mod rows;
mod two_things;
