//! Reviews through the library: what is decided, what stays open, what is assumed, what is asked.

mod catalogue;
mod climates;
mod deciding;
mod products;
mod readme;
mod safe_side;
mod shared;
mod wall_detail;
