//! A metal rod through an insulating slab as a body of revolution, against a finite-element solution of the same
//! section, and what a one-dimensional estimate makes of it.
//!
//! The rod is flush with the outdoor face. Indoors it is flush too, or goes on as a stub whose side and end are in
//! the indoor film, as is the face of the slab. The rim of the slab is adiabatic.

use crate::thermal::case::{Case, Within, solved};
use coldsill_heat::thermal::{
    Axis, Exposed, Face, Film, Grid, Line, Network, NetworkError, Side, Weights, graded,
};

/// Rod and slab radius and slab thickness, m.
const ROD: f64 = 0.0143;
const SLAB: f64 = 0.30;
const THICK: f64 = 0.1905;
/// Conductivity of the slab, W/mK.
const INSULATION: f64 = 0.04;
/// Films outdoors and indoors, W/m²K.
const FILMS: [f64; 2] = [34.0, 8.3];
/// Temperatures outdoors and indoors, °C.
const GIVEN: [f64; 2] = [-23.3, 21.1];

/// The rod's conductivity W/mK and its indoor stub m, row by row.
const ROWS: [(f64, f64); 3] = [(110.0, 0.0), (110.0, 0.15), (380.0, 0.15)];

const AXIS: Case = Case {
    name: "rod through a slab: temperatures on the axis",
    source: "finite elements with scikit-fem, mesh-converged to 0.4 mK; one row confirmed by FiPy",
    independent: true,
    expect: &[
        ("110 W/mK, outdoor face", -8.3716),
        ("110 W/mK, mid", -7.7097),
        ("110 W/mK, indoor face", -7.1539),
        ("110 W/mK and stub, outdoor face", 7.5284),
        ("110 W/mK and stub, mid", 8.9541),
        ("110 W/mK and stub, indoor face", 10.5801),
        ("380 W/mK and stub, outdoor face", 9.5000),
        ("380 W/mK and stub, mid", 9.9397),
        ("380 W/mK and stub, indoor face", 10.4427),
    ],
    tolerance: Within::Units(0.05),
    because: "the reference is good to 0.4 mK; cells of 0.25 mm where rod, slab and film meet leave 0.02 K, of 1 mm 0.11 K",
};

const FLOW: Case = Case {
    name: "rod through a slab: flow through the whole disc",
    source: AXIS.source,
    independent: true,
    expect: &[("110 W/mK, W", 2.9975), ("110 W/mK and stub, W", 3.6841), ("380 W/mK and stub, W", 3.7603)],
    tolerance: Within::Units(0.006),
    because: "0.2 %, as 0.05 K is of the 20 to 30 K that drive the rod's share",
};

const ALONE: Case = Case {
    name: "rod without sideways exchange: its two faces",
    source: "the same reference's one-dimensional column, by resistances in series and the fin formula",
    independent: true,
    expect: &[
        ("110 W/mK, outdoor", -14.687),
        ("110 W/mK, indoor", -14.180),
        ("110 W/mK and stub, outdoor", 11.905),
        ("110 W/mK and stub, indoor", 13.978),
        ("380 W/mK and stub, outdoor", 13.452),
        ("380 W/mK and stub, indoor", 14.079),
    ],
    tolerance: Within::Units(0.02),
    because: "the stub is resolved across its radius and the column is 1-D: hR/k = 0.001 of some 20 K",
};

struct Solved {
    grid: Grid,
    network: Network,
    weights: Weights,
}

fn solve(conductivity: f64, stub: f64, slab: bool) -> Result<Solved, NetworkError> {
    let fine = 0.00025;
    let r = [Line::new(0.0, 0.004), Line::new(ROD, fine), Line::new(SLAB, 0.03)];
    let z = [
        Line::new(0.0, fine),
        Line::new(THICK / 2.0, 0.01),
        Line::new(THICK, fine),
        Line::new(THICK + stub, 0.005),
    ];
    let z = if stub > 0.0 { &z[..] } else { &z[..3] };
    let grid = Grid::cylindrical(graded(&r, 1.15, 0.03)?, graded(z, 1.15, 0.01)?)?;
    let material = |_, [r, z, _]: [f64; 3]| {
        if r < ROD { Some(conductivity) } else { (slab && z < THICK).then_some(INSULATION) }
    };
    let film = |at: &Exposed| {
        let [r, z, _] = at.center;
        let film = |boundary: usize| Some(Film::new(boundary, 1.0 / FILMS[boundary]));
        match (at.face.axis, at.face.side) {
            (Axis::Second, Side::Low) => film(0),
            (Axis::Second, Side::High) => film(1),
            // The rim of the slab, and the rod within the wall where it is taken alone.
            _ if r > ROD * 1.001 || z < THICK => None,
            _ => film(1),
        }
    };
    let network = Network::over(&grid, 2, material, film)?;
    let weights = solved(&network)?;
    Ok(Solved { grid, network, weights })
}

impl Solved {
    /// The temperature on the axis at a mesh line z, m: of the surface where the rod ends there, else between the
    /// two cells that meet there, in proportion to their lengths. The axial cell's mean stands for the axis: across
    /// 4 mm of metal the two differ by less than a millikelvin.
    fn axis(&self, z: f64) -> Result<f64, NetworkError> {
        let edges = self.grid.edges(Axis::Second);
        let row = edges.iter().position(|edge| (edge - z).abs() < 1e-9).ok_or(NetworkError::Empty)?;
        let cell = |row| self.network.cell_at(self.grid.number([0, row, 0])).ok_or(NetworkError::Empty);
        if row == 0 || row == edges.len() - 1 {
            let cell = cell(row.min(edges.len() - 2))?;
            let mut surfaces = self.network.surfaces().iter();
            // A cell on the axis has no other surface than the end of the rod.
            let surface = surfaces.position(|it| it.cell == cell).ok_or(NetworkError::Empty)?;
            return Ok(self.weights.surface_temperature(surface, &GIVEN));
        }
        let face = Face::new(Axis::Second, Side::High);
        let (below, above) = (self.grid.half([0, row - 1, 0], face), self.grid.half([0, row, 0], face));
        let temperature = |row| Ok::<_, NetworkError>(self.weights.cell_temperature(cell(row)?, &GIVEN));
        Ok((temperature(row - 1)? * above + temperature(row)? * below) / (above + below))
    }
}

#[test]
fn the_axis_and_the_flow_are_those_of_the_finite_element_solution() -> Result<(), NetworkError> {
    let (mut axis, mut flow) = (Vec::new(), Vec::new());
    for (conductivity, stub) in ROWS {
        let solved = solve(conductivity, stub, true)?;
        for z in [0.0, THICK / 2.0, THICK] {
            axis.push(solved.axis(z)?);
        }
        flow.push(solved.weights.flows(&GIVEN)[0]);
    }
    AXIS.hold(&axis);
    FLOW.hold(&flow);
    Ok(())
}

#[test]
fn a_rod_without_the_wall_around_it_has_the_faces_of_the_one_dimensional_estimate() -> Result<(), NetworkError>
{
    let mut faces = Vec::new();
    for (conductivity, stub) in ROWS {
        let solved = solve(conductivity, stub, false)?;
        for z in [0.0, THICK] {
            faces.push(solved.axis(z)?);
        }
    }
    ALONE.hold(&faces);
    Ok(())
}

#[test]
fn leaving_out_sideways_exchange_errs_by_kelvins_and_on_the_unsafe_side_with_a_stub()
-> Result<(), NetworkError> {
    for (conductivity, stub) in ROWS {
        let (wall, alone) = (solve(conductivity, stub, true)?, solve(conductivity, stub, false)?);
        let error = alone.axis(THICK)? - wall.axis(THICK)?;
        assert!(error.abs() > 2.0, "{conductivity} W/mK, stub {stub} m: {error} K");
        assert_eq!(error > 0.0, stub > 0.0, "{conductivity} W/mK, stub {stub} m: {error} K");
    }
    Ok(())
}
