//! The outlet section against things outside the project: an independent model, what the trade reads off pipes, and
//! second derivations. `cargo test -p coldsill-heat --test heat section -- --nocapture` shows the figures.

#![allow(clippy::print_stdout, reason = "the figures are for people to see")]

mod band;
mod common;
mod depth;
mod mesh;
mod model;
mod orderings;
mod pocket;
mod random;
mod sections;
mod spell_attic;
mod spell_convergence;
mod spell_orderings;
mod spell_reference;
mod spell_trade;
mod spells;
mod sweat;
mod trade;
mod walls;
