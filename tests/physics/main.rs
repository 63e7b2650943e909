//! Moist air and sweating against libraries, handbooks and second derivations; `tests/reference/moist_air.py` made the
//! tables of the libraries.

mod moist_air;
mod sweating;
