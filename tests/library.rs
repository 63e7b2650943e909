//! What the library reads, decides and computes.

mod climate;
mod input;
mod language;
mod review;
mod rows;
mod schedule;
mod standard;
mod wall;
mod words;
