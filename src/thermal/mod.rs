//! Steady heat conduction through a network of cells: a tensor grid, Cartesian or cylindrical, gives the geometry;
//! a network holds cells, links and surfaces; a sparse solve gives the weight of every boundary temperature in
//! every cell temperature. SI units throughout (m, W, K); temperatures in °C or K alike, as everything is linear.

pub mod grid;
pub mod mesh;
pub mod network;
mod refusal;
mod sparse;
pub mod steady;

pub use grid::{Axis, Face, Grid, Metric, Side};
pub use mesh::{Line, graded};
pub use network::{Conductances, Exposed, Film, Link, Network, Surface};
pub use refusal::Refusal;
pub use steady::{Solver, Weights};
