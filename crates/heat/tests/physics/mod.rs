//! Backflow devices against their standards; moist air and sweating against libraries, handbooks and second
//! derivations. `tests/reference/moist_air.py` made the tables of the libraries.

mod backflow;
mod moist_air;
mod sweating;
