//! The thermal core against published cases, closed forms and other people's solvers.

mod case;
mod exact;
mod fins;
mod iso10211;
mod iso10211_bar;
mod iso10211_corner;
mod refusals;
mod rod_in_slab;
mod sound;
