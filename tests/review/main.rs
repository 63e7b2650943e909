//! Reviews through the library: what is decided, what stays open, what is assumed, what is asked.

mod catalogue;
mod climates;
mod contacts;
mod deciding;
mod ice;
mod devices;
mod readme;
mod safe_side;
mod shared;
mod trapped;
mod sweating;
