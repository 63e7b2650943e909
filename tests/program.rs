//! The program as people run it, what it says of wrong files, and the house rules of its source.

mod cli;
mod dependencies;
mod museum;
mod rows;
mod tidy;
