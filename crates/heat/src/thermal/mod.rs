//! Heat conduction through a network of cells: a tensor grid, Cartesian or cylindrical, gives the geometry; a network
//! holds cells, links and surfaces. A solve gives the weight of every boundary temperature in every steady cell
//! temperature; a transient carries the same network through time, change of phase included. SI units throughout (m,
//! s, J, W, K); temperatures in °C or K alike.

mod band;
mod error;
mod factor;
pub mod grid;
mod heat;
pub mod mesh;
pub mod near;
pub mod network;
pub mod steady;
mod substance;
pub mod transient;

pub use error::NetworkError;
pub use grid::{Axis, Face, Grid, Metric, Side};
pub use heat::{Account, Control, Effort, Store};
pub use mesh::{Line, graded};
pub use near::Solution;
pub use network::{Conductances, Exposed, Film, Link, Network, Surface, Values};
pub use steady::{Factors, Solver, Weights};
pub use substance::{Knot, Substance};
pub use transient::Transient;
