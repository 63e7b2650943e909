//! What the library reads, decides and computes.

mod climate;
mod input;
mod language;
mod review;
mod rows;
mod schedule;
mod wall;
mod words;
