//! Walls: those built in against published figures, a job's own as they are written, and where outlets are put.

mod built_in;
mod families;
mod heat_tests;
mod labeled;
mod own;
mod places;
