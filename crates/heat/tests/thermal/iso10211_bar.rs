//! ISO 10211 case 4, an iron bar through an insulation layer, in three dimensions.

use crate::thermal::case::{Case, Within, solved};
use coldsill_heat::thermal::{Axis, Film, Grid, Line, Network, NetworkError, Side, graded};

const FLOW: Case = Case {
    name: "ISO 10211 case 4: flow",
    source: "ISO 10211:2017 Annex C, case 4, as kept by the general finite-element library feelpp",
    independent: true,
    expect: &[("W", 0.540)],
    tolerance: Within::Part(0.01),
    because: "1 %, the standard's own condition on a method",
};

const WARMEST: Case = Case {
    name: "ISO 10211 case 4: highest external surface temperature",
    source: FLOW.source,
    independent: true,
    expect: &[("°C", 0.805)],
    tolerance: Within::Units(0.005),
    because: "the standard's own condition on a method",
};

#[test]
fn case_4_has_the_flow_and_the_highest_surface_temperature_of_the_standard() -> Result<(), NetworkError> {
    // A quarter, cut along both planes of symmetry: layer 0.2 m thick, bar 0.1 by 0.05 m, flush with the cold face
    // and 0.4 m out of the warm one.
    let (half_width, half_height, thick, long) = (0.05, 0.025, 0.2, 0.6);
    let grid = Grid::cartesian([
        graded(&[Line::new(0.0, 0.02), Line::new(half_width, 0.004), Line::new(0.5, 0.1)], 1.5, 0.1)?,
        graded(&[Line::new(0.0, 0.02), Line::new(half_height, 0.004), Line::new(0.5, 0.1)], 1.5, 0.1)?,
        graded(&[Line::new(0.0, 0.004), Line::new(thick, 0.004), Line::new(long, 0.04)], 1.5, 0.04)?,
    ])?;
    let network = Network::over(
        &grid,
        2,
        |_, [x, y, z]| {
            let bar = x < half_width && y < half_height;
            if bar { Some(50.0) } else { (z < thick).then_some(0.1) }
        },
        |at| {
            let cold = at.face.axis == Axis::Third && at.face.side == Side::Low;
            let cut = at.face.axis != Axis::Third && at.center[2] < thick;
            let symmetry = at.face.side == Side::Low && at.face.axis != Axis::Third;
            (!cut && !symmetry).then(|| Film::new(usize::from(!cold), 0.10))
        },
    )?;
    let weights = solved(&network)?;
    let given = [0.0, 1.0];
    FLOW.hold(&[4.0 * weights.flows(&given)[0]]);
    let outside = network.surfaces().iter().enumerate().filter(|(_, surface)| surface.boundary == 0);
    let warmest =
        outside.map(|(number, _)| weights.surface_temperature(number, &given)).fold(f64::MIN, f64::max);
    WARMEST.hold(&[warmest]);
    Ok(())
}
