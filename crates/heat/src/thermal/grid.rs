//! A tensor grid of three axes. The metric is a factor in areas, volumes and path lengths, so that one assembly
//! serves plane cases in one to three dimensions and bodies of revolution alike.

use super::error::NetworkError;
use std::f64::consts::PI;

/// The most cells a grid may have: a guard against spacings entered in the wrong unit.
pub const MOST_CELLS: usize = 2_000_000;

/// How the three axes span space.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Metric {
    /// x, y, z in meters. A case with fewer dimensions gives the others one cell 1 m wide.
    Cartesian,
    /// r and z in meters; the third axis is one cell standing for the full circle.
    Cylindrical,
}

/// An axis: x, y, z of a Cartesian grid; r, z of a cylindrical one.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// x or r.
    First,
    /// y, or z of a cylindrical grid.
    Second,
    /// z of a Cartesian grid.
    Third,
}

/// The end of a cell along an axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// Towards smaller coordinates.
    Low,
    /// Towards larger coordinates.
    High,
}

/// One face of a cell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Face {
    /// The axis it stands across.
    pub axis: Axis,
    /// The end of the cell it closes.
    pub side: Side,
}

impl Face {
    /// The six faces, axis by axis, low before high.
    pub const ALL: [Self; 6] = [
        Self::new(Axis::First, Side::Low),
        Self::new(Axis::First, Side::High),
        Self::new(Axis::Second, Side::Low),
        Self::new(Axis::Second, Side::High),
        Self::new(Axis::Third, Side::Low),
        Self::new(Axis::Third, Side::High),
    ];

    /// The face of a cell across an axis, on one side.
    pub const fn new(axis: Axis, side: Side) -> Self {
        Self { axis, side }
    }

    /// The same face as the cell behind it has it.
    pub const fn opposite(self) -> Self {
        let side = match self.side {
            Side::Low => Side::High,
            Side::High => Side::Low,
        };
        Self::new(self.axis, side)
    }
}

/// A tensor grid. Cells are numbered with the first axis running fastest.
#[derive(Clone, Debug, PartialEq)]
pub struct Grid {
    metric: Metric,
    edges: [Vec<f64>; 3],
    nodes: [Vec<f64>; 3],
    /// Of a ring: the logarithm of node to inner and of outer to node radius, over 2 π.
    logarithms: Vec<[f64; 2]>,
}

impl Grid {
    /// A Cartesian grid from its edges along x, y and z \[m\], each ascending.
    pub fn cartesian(edges: [Vec<f64>; 3]) -> Result<Self, NetworkError> {
        Self::new(Metric::Cartesian, edges)
    }

    /// A Cartesian grid of two dimensions, 1 m deep in the third, so that watts are watts per meter.
    pub fn plane(x: Vec<f64>, y: Vec<f64>) -> Result<Self, NetworkError> {
        Self::new(Metric::Cartesian, [x, y, vec![0.0, 1.0]])
    }

    /// A body of revolution from its edges along r (from 0 for a solid body) and z \[m\], each ascending. All areas,
    /// volumes and flows are those of the full circle.
    pub fn cylindrical(r: Vec<f64>, z: Vec<f64>) -> Result<Self, NetworkError> {
        if r.first().is_some_and(|&first| first < 0.0) {
            return Err(NetworkError::NegativeRadius);
        }
        Self::new(Metric::Cylindrical, [r, z, vec![0.0, 2.0 * PI]])
    }

    fn new(metric: Metric, edges: [Vec<f64>; 3]) -> Result<Self, NetworkError> {
        for (axis, edges) in edges.iter().enumerate() {
            ascending(axis, edges)?;
        }
        let cells = edges.iter().try_fold(1_usize, |cells, edges| cells.checked_mul(edges.len() - 1));
        match cells {
            Some(cells) if cells <= MOST_CELLS => {}
            _ => return Err(NetworkError::TooManyCells { most: MOST_CELLS }),
        }
        let nodes: [Vec<f64>; 3] = std::array::from_fn(|axis| {
            let radial = metric == Metric::Cylindrical && axis == 0;
            let node = |ends: &[f64]| {
                let [low, high] = [ends[0], ends[1]];
                if radial { (0.5 * (low * low + high * high)).sqrt() } else { 0.5 * (low + high) }
            };
            edges[axis].windows(2).map(node).collect()
        });
        let logarithms = match metric {
            Metric::Cartesian => Vec::new(),
            Metric::Cylindrical => {
                let ring = |(ends, node): (&[f64], &f64)| {
                    [ends[0], ends[1]].map(|rim| libm::log(rim / node).abs() / (2.0 * PI))
                };
                edges[0].windows(2).zip(&nodes[0]).map(ring).collect()
            }
        };
        Ok(Self { metric, edges, nodes, logarithms })
    }

    /// The metric.
    pub fn metric(&self) -> Metric {
        self.metric
    }

    /// The edges along an axis, m.
    pub fn edges(&self, axis: Axis) -> &[f64] {
        &self.edges[axis as usize]
    }

    /// Cells along each axis.
    pub fn shape(&self) -> [usize; 3] {
        [0, 1, 2].map(|axis| self.edges[axis].len() - 1)
    }

    /// Cells in all.
    pub fn cells(&self) -> usize {
        self.shape().iter().product()
    }

    /// The number of the cell at a position along each axis.
    pub fn number(&self, at: [usize; 3]) -> usize {
        let [first, second, _] = self.shape();
        at[0] + first * (at[1] + second * at[2])
    }

    /// The position along each axis of the cell with a number.
    pub fn position(&self, number: usize) -> [usize; 3] {
        let [first, second, _] = self.shape();
        [number % first, number / first % second, number / (first * second)]
    }

    /// The position of the cell that shares a face with this one, where the grid goes on there.
    pub fn neighbor(&self, at: [usize; 3], face: Face) -> Option<[usize; 3]> {
        let axis = face.axis as usize;
        let mut next = at;
        next[axis] = match face.side {
            Side::Low => at[axis].checked_sub(1)?,
            Side::High => at[axis] + 1,
        };
        (next[axis] + 1 < self.edges[axis].len()).then_some(next)
    }

    /// The node of a cell, where its temperature is taken to stand: the middle of it along x, y and z; along r the
    /// radius that halves its area, so that node and mean temperature agree to second order.
    pub fn center(&self, at: [usize; 3]) -> [f64; 3] {
        [self.node(0, at[0]), self.node(1, at[1]), self.node(2, at[2])]
    }

    /// The middle of a face: the node of the cell, moved along the face's axis onto the face.
    pub fn face_center(&self, at: [usize; 3], face: Face) -> [f64; 3] {
        let mut center = self.center(at);
        center[face.axis as usize] = self.coordinate(at, face);
        center
    }

    /// The coordinate of a face along its own axis, m.
    pub fn coordinate(&self, at: [usize; 3], face: Face) -> f64 {
        let axis = face.axis as usize;
        match face.side {
            Side::Low => self.edges[axis][at[axis]],
            Side::High => self.edges[axis][at[axis] + 1],
        }
    }

    /// The volume of a cell, m³.
    pub fn volume(&self, at: [usize; 3]) -> f64 {
        self.area(at, Face::new(Axis::Second, Side::Low)) * self.width(1, at[1])
    }

    /// The area of a face, m². 0 if there is no face: at r = 0, and around the circle, which closes on itself.
    pub fn area(&self, at: [usize; 3], face: Face) -> f64 {
        match (self.metric, face.axis) {
            (Metric::Cartesian, axis) => [0, 1, 2]
                .into_iter()
                .filter(|&other| other != axis as usize)
                .map(|other| self.width(other, at[other]))
                .product(),
            (Metric::Cylindrical, Axis::First) => 2.0 * PI * self.coordinate(at, face) * self.width(1, at[1]),
            (Metric::Cylindrical, Axis::Second) => {
                let [inner, outer] = self.ends(0, at[0]);
                PI * (outer - inner) * (outer + inner)
            }
            (Metric::Cylindrical, Axis::Third) => 0.0,
        }
    }

    /// The geometry factor from the node of a cell to one of its faces, 1/m: divided by the conductivity it is the
    /// resistance of that half of the cell, K/W. Logarithmic along r, so that a hollow cylinder is exact with any
    /// number of cells. A cell that reaches the axis has no through-flow along r: what leaves its rim has come in
    /// along z, and for an even supply the mean temperature stands 1/(8 π L) above the rim. Infinite if there is
    /// no face.
    pub fn half(&self, at: [usize; 3], face: Face) -> f64 {
        let axis = face.axis as usize;
        match (self.metric, face.axis) {
            (Metric::Cylindrical, Axis::First) => {
                let rim = self.coordinate(at, face);
                let length = self.width(1, at[1]);
                if rim == 0.0 {
                    f64::INFINITY
                } else if self.edges[0][at[0]] == 0.0 {
                    1.0 / (8.0 * PI * length)
                } else {
                    self.logarithms[at[0]][face.side as usize] / length
                }
            }
            (Metric::Cylindrical, Axis::Third) => f64::INFINITY,
            _ => 0.5 * self.width(axis, at[axis]) / self.area(at, face),
        }
    }

    fn ends(&self, axis: usize, cell: usize) -> [f64; 2] {
        [self.edges[axis][cell], self.edges[axis][cell + 1]]
    }

    fn width(&self, axis: usize, cell: usize) -> f64 {
        let [low, high] = self.ends(axis, cell);
        high - low
    }

    fn node(&self, axis: usize, cell: usize) -> f64 {
        self.nodes[axis][cell]
    }
}

/// Whether the edges of an axis are at least two, finite and ascending.
pub(super) fn ascending(axis: usize, edges: &[f64]) -> Result<(), NetworkError> {
    if edges.len() < 2 {
        return Err(NetworkError::TooFewEdges { axis });
    }
    let wrong = (0..edges.len()).find(|&i| !edges[i].is_finite() || i > 0 && edges[i] <= edges[i - 1]);
    wrong.map_or(Ok(()), |edge| Err(NetworkError::EdgesNotAscending { axis, edge }))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Sums of a few terms of order one.
    const ROUNDING: f64 = 1e-14;

    fn near(a: f64, b: f64) -> bool {
        (a - b).abs() <= ROUNDING * b.abs().max(1.0)
    }

    #[test]
    fn volumes_of_a_cylinder_add_up_to_the_cylinder() {
        let grid = Grid::cylindrical(vec![0.0, 0.3, 0.7, 1.1], vec![-0.2, 0.5, 0.6]).unwrap();
        let sum: f64 = (0..grid.cells()).map(|i| grid.volume(grid.position(i))).sum();
        assert!(near(sum, PI * 1.1 * 1.1 * 0.8), "{sum}");
    }

    #[test]
    fn numbers_and_positions_are_inverse_on_an_unequal_grid() {
        let edges = |n: u32| (0..=n).map(f64::from).collect::<Vec<_>>();
        let grid = Grid::cartesian([edges(3), edges(5), edges(2)]).unwrap();
        for i in 0..grid.cells() {
            assert_eq!(grid.number(grid.position(i)), i);
        }
        assert_eq!(grid.number([2, 4, 1]), 29);
    }

    #[test]
    fn both_halves_of_a_ring_add_up_to_the_logarithm_of_its_radii() {
        let grid = Grid::cylindrical(vec![0.02, 0.05], vec![0.0, 3.0]).unwrap();
        let half = |side| grid.half([0, 0, 0], Face::new(Axis::First, side));
        let whole = libm::log(2.5) / (2.0 * PI * 3.0);
        assert!(near(half(Side::Low) + half(Side::High), whole));
    }

    #[test]
    fn the_axis_has_no_face() {
        let grid = Grid::cylindrical(vec![0.0, 0.05], vec![0.0, 1.0]).unwrap();
        assert_eq!(grid.area([0, 0, 0], Face::new(Axis::First, Side::Low)), 0.0);
        assert_eq!(grid.neighbor([0, 0, 0], Face::new(Axis::First, Side::Low)), None);
    }

    #[test]
    fn edges_that_do_not_ascend_are_refused_by_place() {
        let wrong = |x: Vec<f64>| Grid::plane(x, vec![0.0, 1.0]).unwrap_err();
        assert_eq!(wrong(vec![0.0, 1.0, 1.0]), NetworkError::EdgesNotAscending { axis: 0, edge: 2 });
        assert_eq!(wrong(vec![f64::NAN, 1.0]), NetworkError::EdgesNotAscending { axis: 0, edge: 0 });
        assert_eq!(wrong(vec![0.0]), NetworkError::TooFewEdges { axis: 0 });
        let negative = Grid::cylindrical(vec![-0.1, 1.0], vec![0.0, 1.0]);
        assert_eq!(negative.unwrap_err(), NetworkError::NegativeRadius);
    }
}
