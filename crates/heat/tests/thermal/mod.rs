//! The thermal core against published cases, closed forms and other people's solvers.

mod case;
mod cool_down;
mod errors;
mod exact;
mod fine_metal;
mod fins;
mod heat_kept;
mod histories;
mod inward;
mod iso10211;
mod iso10211_bar;
mod iso10211_corner;
mod march;
mod order;
mod rod_in_slab;
mod solids;
mod sound;
mod standing;
mod stefan;
