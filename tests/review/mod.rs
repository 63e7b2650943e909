//! Reviews through the library: what is decided, what stays open, what is assumed, what is asked.

mod answers;
mod catalogue;
mod climates;
mod close;
mod contacts;
mod deciding;
mod depth;
mod devices;
mod everyday;
mod hydrants;
mod ice;
mod installations;
mod messages;
mod orders;
mod placed_answers;
mod previous;
mod products;
mod questions;
mod readme;
mod remedies;
mod safe_side;
pub(crate) mod shared;
mod sweating;
mod trail;
mod trapped;
mod unreadable;
mod wall_detail;
