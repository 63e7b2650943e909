//! Heat flow through a water outlet in a wall, steady and in time. SI units throughout.
//!
//! [`thermal`] conducts heat through a network of cells and has never heard of outlets; [`physics`] holds pure functions
//! of air, water, materials and metals; [`section`] puts the two together for one outlet in one wall.

pub mod physics;
pub mod section;
pub mod thermal;
