//! Why a grid or a network is not solved.

/// Why a grid or a network is not solved. Cells, links, surfaces and boundaries are counted from 0.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NetworkError {
    /// An axis without a single cell.
    #[error("axis {axis} has fewer than two edges")]
    TooFewEdges {
        /// The axis.
        axis: usize,
    },
    /// Edges that are not finite, or do not ascend.
    #[error("axis {axis}: edge {edge} is not a finite number greater than the one before it")]
    EdgesNotAscending {
        /// The axis.
        axis: usize,
        /// The first edge that is wrong.
        edge: usize,
    },
    /// A cylindrical grid that starts at a negative radius.
    #[error("the first radius is negative")]
    NegativeRadius,
    /// More cells than [`crate::thermal::grid::MOST_CELLS`].
    #[error("the grid would have more than {most} cells")]
    TooManyCells {
        /// The most that is accepted.
        most: usize,
    },
    /// A spacing or growth ratio no mesh can be made with.
    #[error("spacings must be positive and finite, and the growth ratio finite and at least 1")]
    Spacing,
    /// A network without cells.
    #[error("the network has no cells")]
    Empty,
    /// A cell that is not in the network.
    #[error("there is no cell {cell}")]
    NoSuchCell {
        /// The cell named.
        cell: usize,
    },
    /// A surface that is not in the network.
    #[error("there is no surface {surface}")]
    NoSuchSurface {
        /// The surface named.
        surface: usize,
    },
    /// A boundary that was not announced when the network was made.
    #[error("there is no boundary {boundary}")]
    NoSuchBoundary {
        /// The boundary named.
        boundary: usize,
    },
    /// A cell linked to itself.
    #[error("cell {cell} is linked to itself")]
    LinkedToItself {
        /// The cell.
        cell: usize,
    },
    /// A geometry factor, area or added resistance that is negative or not finite (an area must be positive).
    #[error("a geometry factor, area or resistance is negative or not finite")]
    Geometry,
    /// A conductivity that is not positive and finite.
    #[error("cell {cell}: conductivity {value} W/mK is not positive and finite")]
    Conductivity {
        /// The cell.
        cell: usize,
        /// Its conductivity, W/mK.
        value: f64,
    },
    /// A film resistance that is negative or not finite.
    #[error("surface {surface}: film resistance {value} m²K/W is negative or not finite")]
    Film {
        /// The surface.
        surface: usize,
        /// Its film resistance, m²K/W.
        value: f64,
    },
    /// A link whose resistance is zero, or too large or small to be a number.
    #[error("link {link} has no usable resistance")]
    LinkResistance {
        /// The link.
        link: usize,
    },
    /// A surface whose resistance is zero, or too large or small to be a number.
    #[error("surface {surface} has no usable resistance")]
    SurfaceResistance {
        /// The surface.
        surface: usize,
    },
    /// Cells that reach no boundary: their temperature is not determined.
    #[error("cell {cell} is joined to no boundary, so that its temperature is not determined")]
    Floating {
        /// The first such cell.
        cell: usize,
    },
    /// A network with other cells, links or surfaces than the one analysed.
    #[error("the network is not the one that was analysed")]
    NotAnalysed,
    /// Stores or initial temperatures that are not one for each cell.
    #[error("a transient needs one store and one temperature for each cell")]
    CellCount,
    /// The factorization broke down: conductances too far apart for double precision.
    #[error("the equations could not be factorized")]
    Factorization,
    /// A substance whose temperature and enthalpy do not both ascend from knot to knot, or with fewer than two knots.
    #[error(
        "knot {knot} of the substance is not a finite number above the one before it in temperature and enthalpy"
    )]
    Curve {
        /// The first knot that is wrong.
        knot: usize,
    },
    /// A tolerance or a step that is not positive and finite.
    #[error("tolerances and steps in time must be positive and finite")]
    Control,
    /// A cell that holds nothing, or something negative, conducts nothing, or starts at no temperature.
    #[error("cell {cell} holds or conducts no heat, or starts at no temperature")]
    Store {
        /// The first such cell.
        cell: usize,
    },
    /// No step, however short, is within the tolerances.
    #[error("no step in time, however short, is close enough after {time} s")]
    StuckAt {
        /// s
        time: f64,
    },
    /// Not enough memory.
    #[error("not enough memory for the equations")]
    Memory,
    /// A solution that does not conserve energy, even after refinement.
    #[error("boundary {boundary}: energy does not balance ({imbalance:e} of the flow)")]
    Imbalance {
        /// The boundary whose solve does not balance.
        boundary: usize,
        /// What is missing, as a fraction of the flow.
        imbalance: f64,
    },
}
