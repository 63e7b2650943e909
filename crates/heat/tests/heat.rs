//! The heat engine against published cases, closed forms and independent models. `tests/reference/` has the scripts that
//! made the tables.

mod physics;
mod section;
mod thermal;
