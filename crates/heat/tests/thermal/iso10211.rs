//! ISO 10211 (2007 Annex A, 2017 Annex C), the two-dimensional cases 1 and 2.

use crate::thermal::case::{Case, Within, solved};
use coldsill_heat::thermal::{Axis, Face, Film, Grid, Line, Network, NetworkError, Side, Weights, graded};

/// A solved section 1 m deep, to be read at crossings of its mesh lines.
struct Section {
    grid: Grid,
    network: Network,
    weights: Weights,
    given: Vec<f64>,
}

impl Section {
    /// The temperature where two mesh lines cross. Above and below each other cells are joined at the temperature of
    /// the face between them, and a surface counts with its own; the columns left and right are weighed by how well
    /// each is joined to the crossing. At an adiabatic edge the one column there is stands for both.
    fn at(&self, x: f64, y: f64) -> Result<f64, NetworkError> {
        let (i, j) = (line(self.grid.edges(Axis::First), x)?, line(self.grid.edges(Axis::Second), y)?);
        let [columns, rows, _] = self.grid.shape();
        let (mut sum, mut joined) = (0.0, 0.0);
        for column in [i.checked_sub(1), (i < columns).then_some(i)].into_iter().flatten() {
            let below = j.checked_sub(1).map(|row| (row, Side::High));
            let above = (j < rows).then_some((j, Side::Low));
            let (mut heat, mut path, mut sideways) = (0.0, 0.0, 0.0);
            for (row, side) in [below, above].into_iter().flatten() {
                let at = [column, row, 0];
                let cell = self.network.cell_at(self.grid.number(at)).ok_or(NetworkError::Empty)?;
                let k = self.network.conductivities()[cell];
                let face = Face::new(Axis::Second, side);
                let conductance = k / self.grid.half(at, face);
                let surface = self.network.surfaces().iter().position(|it| {
                    it.cell == cell && it.tag == side as u32 && (below.is_none() || above.is_none())
                });
                let temperature = match surface {
                    Some(surface) => self.weights.surface_temperature(surface, &self.given),
                    None => self.weights.cell_temperature(cell, &self.given),
                };
                heat += conductance * temperature;
                path += conductance;
                sideways += k / self.grid.half(at, Face::new(Axis::First, Side::High));
            }
            sum += sideways * heat / path;
            joined += sideways;
        }
        Ok(sum / joined)
    }
}

fn line(edges: &[f64], at: f64) -> Result<usize, NetworkError> {
    edges.iter().position(|edge| (edge - at).abs() < 1e-9).ok_or(NetworkError::TooFewEdges { axis: 0 })
}

const CASE_1: Case = Case {
    name: "ISO 10211 case 1",
    source: "ISO 10211:2017 Annex C (2007 Annex A), case 1, from memory; every value agrees with the Fourier series",
    independent: true,
    expect: &[
        ("1/8, 7/8", 9.7),
        ("2/8, 7/8", 13.4),
        ("3/8, 7/8", 14.7),
        ("4/8, 7/8", 15.1),
        ("1/8, 6/8", 5.3),
        ("2/8, 6/8", 8.6),
        ("3/8, 6/8", 10.3),
        ("4/8, 6/8", 10.8),
        ("1/8, 5/8", 3.2),
        ("2/8, 5/8", 5.6),
        ("3/8, 5/8", 7.0),
        ("4/8, 5/8", 7.5),
        ("1/8, 4/8", 2.0),
        ("2/8, 4/8", 3.6),
        ("3/8, 4/8", 4.7),
        ("4/8, 4/8", 5.0),
        ("1/8, 3/8", 1.3),
        ("2/8, 3/8", 2.3),
        ("3/8, 3/8", 3.0),
        ("4/8, 3/8", 3.2),
        ("1/8, 2/8", 0.7),
        ("2/8, 2/8", 1.4),
        ("3/8, 2/8", 1.8),
        ("4/8, 2/8", 1.9),
        ("1/8, 1/8", 0.3),
        ("2/8, 1/8", 0.6),
        ("3/8, 1/8", 0.8),
        ("4/8, 1/8", 0.9),
    ],
    tolerance: Within::Units(0.1),
    because: "the standard's own condition on a method",
};

/// The same 28 places by the Fourier series of the square, °C.
const CASE_1_SERIES: [f64; 28] = [
    9.658, 13.379, 14.729, 15.085, 5.252, 8.641, 10.316, 10.811, 3.189, 5.609, 7.014, 7.465, 2.014, 3.641,
    4.658, 5.000, 1.262, 2.309, 2.986, 3.219, 0.740, 1.359, 1.767, 1.908, 0.342, 0.630, 0.820, 0.886,
];

fn case_1() -> Result<Vec<f64>, NetworkError> {
    let even = |cells: u32| (0..=cells).map(|i| f64::from(i) / 80.0).collect();
    let grid = Grid::plane(even(40), even(80))?;
    let network = Network::over(
        &grid,
        2,
        |_, _| Some(1.0),
        |at| match (at.face.axis, at.face.side) {
            (Axis::First, Side::Low) | (Axis::Second, Side::Low) => Some(Film::new(0, 0.0)),
            (Axis::Second, Side::High) => Some(Film::new(1, 0.0)),
            _ => None,
        },
    )?;
    let weights = solved(&network)?;
    let section = Section { grid, network, weights, given: vec![0.0, 20.0] };
    let mut got = Vec::new();
    for down in 1..=7 {
        for along in 1..=4 {
            got.push(section.at(f64::from(along) / 8.0, 1.0 - f64::from(down) / 8.0)?);
        }
    }
    Ok(got)
}

#[test]
fn case_1_has_the_28_temperatures_of_the_standard() -> Result<(), NetworkError> {
    /// Cells of 1/80 of the side, second order; the series is given to 0.001.
    const SERIES: f64 = 0.01;
    let got = case_1()?;
    CASE_1.hold(&got);
    for (got, series) in got.iter().zip(CASE_1_SERIES) {
        assert!((got - series).abs() < SERIES, "{got}, series {series}");
    }
    Ok(())
}

const CASE_2_FLOW: Case = Case {
    name: "ISO 10211 case 2: flow",
    source: "ISO 10211:2017 Annex C, case 2, as kept by the general finite-element library feelpp",
    independent: true,
    expect: &[("W/m", 9.5)],
    tolerance: Within::Units(0.1),
    because: "the standard's own condition on a method",
};

const CASE_2: Case = Case {
    name: "ISO 10211 case 2: temperatures",
    source: CASE_2_FLOW.source,
    independent: true,
    expect: &[
        ("A", 7.1),
        ("B", 0.8),
        ("C", 7.9),
        ("D", 6.3),
        ("E", 0.8),
        ("F", 16.4),
        ("G", 16.3),
        ("H", 16.8),
        ("I", 18.3),
    ],
    tolerance: Within::Units(0.1),
    because: CASE_2_FLOW.because,
};

/// Conductivity W/mK at x, y mm, y from indoors.
fn case_2_material(x: f64, y: f64) -> f64 {
    let (aluminium, timber, concrete, insulation) = (230.0, 0.12, 1.15, 0.029);
    match (x, y) {
        (_, y) if y < 1.5 => aluminium,
        (_, y) if y > 41.5 => concrete,
        (x, y) if x < 15.0 && y > 36.5 => timber,
        (x, y) if x < 15.0 && y > 35.0 => aluminium,
        (x, _) if x < 1.5 => aluminium,
        _ => insulation,
    }
}

fn case_2() -> Result<Section, NetworkError> {
    const MM: f64 = 1e-3;
    let lines = |at: &[(f64, f64)]| -> Vec<Line> {
        at.iter().map(|(at, step)| Line::new(at * MM, step * MM)).collect()
    };
    let x = graded(&lines(&[(0.0, 0.2), (1.5, 0.2), (15.0, 0.1), (500.0, 40.0)]), 1.3, 0.05)?;
    let y = [(0.0, 0.5), (1.5, 0.5), (35.0, 0.3), (36.5, 0.2), (41.5, 0.1), (47.5, 0.5)];
    let grid = Grid::plane(x, graded(&lines(&y), 1.3, 0.05)?)?;
    let network = Network::over(
        &grid,
        2,
        |_, at| Some(case_2_material(at[0] / MM, at[1] / MM)),
        |at| {
            let side = at.face.side;
            let film =
                Film { boundary: side as usize, resistance: [0.11, 0.06][side as usize], tag: side as u32 };
            (at.face.axis == Axis::Second).then_some(film)
        },
    )?;
    let weights = solved(&network)?;
    Ok(Section { grid, network, weights, given: vec![20.0, 0.0] })
}

#[test]
fn case_2_has_the_flow_and_the_nine_temperatures_of_the_standard() -> Result<(), NetworkError> {
    let section = case_2()?;
    CASE_2_FLOW.hold(&[section.weights.flows(&section.given)[1]]);
    let at = [
        (0.0, 47.5),
        (500.0, 47.5),
        (0.0, 41.5),
        (15.0, 41.5),
        (500.0, 41.5),
        (0.0, 36.5),
        (15.0, 36.5),
        (0.0, 0.0),
        (500.0, 0.0),
    ];
    let got: Result<Vec<f64>, NetworkError> =
        at.iter().map(|(x, y)| section.at(x * 1e-3, y * 1e-3)).collect();
    CASE_2.hold(&got?);
    Ok(())
}
