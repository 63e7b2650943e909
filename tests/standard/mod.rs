//! Regional standards: each cell against the commands it stands for, the amendment against reviews, comparisons.

mod amendment;
mod cells;
mod common;
mod compare;
mod refused;
mod stock;
