//! What cannot be solved is refused by name, never by a panic and never with numbers.

use coldsill_heat::thermal::{Film, Grid, Link, Network, NetworkError, Solver, Surface};

fn meet(cell: usize, boundary: usize) -> Surface {
    Surface { cell, boundary, half: 1.0, area: 0.1, tag: 0 }
}

/// Two cells in a row between two boundaries.
fn pair() -> Result<Network, NetworkError> {
    let mut network = Network::new(2);
    let (a, b) = (network.add_cell(0.5)?, network.add_cell(0.5)?);
    network.link(Link { cells: [a, b], half: [1.0, 1.0], extra: 0.0 })?;
    network.meet(meet(a, 0), 0.1)?;
    network.meet(meet(b, 1), 0.1)?;
    Ok(network)
}

#[test]
fn a_network_without_cells_is_refused() {
    assert_eq!(Solver::analyse(&Network::new(2)).unwrap_err(), NetworkError::Empty);
}

#[test]
fn cells_that_reach_no_boundary_are_named() {
    let mut network = pair().unwrap();
    let (c, d) = (network.add_cell(1.0).unwrap(), network.add_cell(1.0).unwrap());
    assert_eq!(Solver::analyse(&network).unwrap_err(), NetworkError::Floating { cell: 2 });
    network.link(Link { cells: [d, c], half: [1.0, 1.0], extra: 0.0 }).unwrap();
    assert_eq!(Solver::analyse(&network).unwrap_err(), NetworkError::Floating { cell: 2 });
    network.link(Link { cells: [d, 0], half: [1.0, 1.0], extra: 0.0 }).unwrap();
    assert!(Solver::analyse(&network).is_ok());
}

#[test]
fn a_grid_with_only_adiabatic_faces_floats() {
    let grid = Grid::plane(vec![0.0, 1.0, 2.0], vec![0.0, 1.0]).unwrap();
    let network = Network::over(&grid, 2, |_, _| Some(1.0), |_| None).unwrap();
    assert_eq!(Solver::analyse(&network).unwrap_err(), NetworkError::Floating { cell: 0 });
}

#[test]
fn conductivities_that_are_not_positive_numbers_are_refused_where_they_enter() {
    let grid = Grid::plane(vec![0.0, 1.0, 2.0], vec![0.0, 1.0]).unwrap();
    for value in [0.0, -0.04, f64::NAN, f64::INFINITY] {
        let named = |error: NetworkError, number: usize| match error {
            NetworkError::Conductivity { cell, value: told } => {
                cell == number && told.to_bits() == value.to_bits()
            }
            _ => false,
        };
        let over = Network::over(&grid, 1, |at, _| Some([1.0, value][at[0]]), |_| Some(Film::new(0, 0.1)));
        assert!(named(over.unwrap_err(), 1), "{value}");
        assert!(named(pair().unwrap().set_conductivity(0, value).unwrap_err(), 0), "{value}");
    }
}

#[test]
fn films_that_are_negative_or_not_numbers_are_refused_where_they_enter() {
    for value in [-0.1, f64::NAN, f64::INFINITY] {
        let refused =
            |result: Result<(), NetworkError>| matches!(result, Err(NetworkError::Film { surface: 1, .. }));
        assert!(refused(pair().unwrap().set_film(1, value)), "{value}");
        let mut network = Network::new(1);
        let cell = network.add_cell(1.0).unwrap();
        network.meet(meet(cell, 0), 0.0).unwrap();
        assert!(refused(network.meet(meet(cell, 0), value).map(|_| ())), "{value}");
    }
}

#[test]
fn geometry_that_is_not_a_number_is_refused() {
    let mut network = pair().unwrap();
    for wrong in [f64::NAN, f64::INFINITY, -1.0] {
        let link = Link { cells: [0, 1], half: [1.0, wrong], extra: 0.0 };
        assert_eq!(network.link(link), Err(NetworkError::Geometry));
        assert_eq!(
            network.link(Link { half: [1.0, 1.0], extra: wrong, ..link }),
            Err(NetworkError::Geometry)
        );
        assert_eq!(network.meet(Surface { half: wrong, ..meet(0, 0) }, 0.1), Err(NetworkError::Geometry));
        assert_eq!(network.meet(Surface { area: wrong, ..meet(0, 0) }, 0.1), Err(NetworkError::Geometry));
    }
    assert_eq!(network.meet(Surface { area: 0.0, ..meet(0, 0) }, 0.1), Err(NetworkError::Geometry));
}

#[test]
fn what_is_not_there_cannot_be_joined_or_changed() {
    let mut network = pair().unwrap();
    let link = Link { cells: [0, 2], half: [1.0, 1.0], extra: 0.0 };
    assert_eq!(network.link(link), Err(NetworkError::NoSuchCell { cell: 2 }));
    assert_eq!(network.link(Link { cells: [1, 1], ..link }), Err(NetworkError::LinkedToItself { cell: 1 }));
    assert_eq!(network.meet(meet(5, 0), 0.1), Err(NetworkError::NoSuchCell { cell: 5 }));
    assert_eq!(network.meet(meet(0, 2), 0.1), Err(NetworkError::NoSuchBoundary { boundary: 2 }));
    assert_eq!(network.set_conductivity(2, 1.0), Err(NetworkError::NoSuchCell { cell: 2 }));
    assert_eq!(network.set_film(2, 0.1), Err(NetworkError::NoSuchSurface { surface: 2 }));
}

#[test]
fn a_joint_without_resistance_is_refused() {
    let solve = |network: &Network| Solver::analyse(network).and_then(|solver| solver.solve(network));
    let mut network = pair().unwrap();
    network.link(Link { cells: [0, 1], half: [0.0, 0.0], extra: 0.0 }).unwrap();
    assert_eq!(solve(&network).unwrap_err(), NetworkError::LinkResistance { link: 1 });
    let mut network = pair().unwrap();
    network.meet(Surface { half: 0.0, ..meet(0, 0) }, 0.0).unwrap();
    assert_eq!(solve(&network).unwrap_err(), NetworkError::SurfaceResistance { surface: 2 });
}

#[test]
fn numbers_beyond_double_precision_are_refused_and_not_solved_wrongly() {
    let solve = |k: f64| {
        let mut network = pair().unwrap();
        network.set_conductivity(0, k).unwrap();
        Solver::analyse(&network).and_then(|solver| solver.solve(&network))
    };
    assert_eq!(solve(1e-310).unwrap_err(), NetworkError::LinkResistance { link: 0 });
    assert!(solve(1e300).is_ok(), "a cell without any resistance of its own is still a cell");
    // Two very good conductors joined better than any double can weigh against the films.
    let mut network = pair().unwrap();
    network.link(Link { cells: [0, 1], half: [0.0, 0.0], extra: 1e-30 }).unwrap();
    let refused = Solver::analyse(&network).and_then(|solver| solver.solve(&network)).unwrap_err();
    assert!(matches!(refused, NetworkError::Factorization | NetworkError::Imbalance { .. }), "{refused}");
}

#[test]
fn a_solver_refuses_another_network_than_it_analysed() {
    let network = pair().unwrap();
    let solver = Solver::analyse(&network).unwrap();
    let mut other = network.clone();
    other.meet(meet(0, 1), 0.1).unwrap();
    assert_eq!(solver.solve(&other).unwrap_err(), NetworkError::NotAnalysed);
    let mut other = network.clone();
    other.link(Link { cells: [0, 1], half: [1.0, 1.0], extra: 0.0 }).unwrap();
    assert_eq!(solver.solve(&other).unwrap_err(), NetworkError::NotAnalysed);
    assert!(solver.solve(&network).is_ok());
}
