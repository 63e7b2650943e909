//! Cells so fine and conductive that what they pass on within a step is far more than what they hold.

use crate::thermal::march::{Body, Matter, even, fixed, none};
use coldsill_heat::thermal::{NetworkError, Solver};

#[test]
fn fine_cells_of_metal_take_long_steps_in_kelvin_too() -> Result<(), NetworkError> {
    /// A part of what is exchanged, some 2.7e6 J. A solve rounds at 1e-16 of 3e7 W/K times up to 40 K in each of its 400
    /// rows, for the 176 s of a stage.
    const KEPT: f64 = 1e-9;
    // 400 cells of 0.05 mm of copper exchange 8e6 W/K·m² and hold 170 J/K·m² each.
    let body = Body::column(even(400, 0.02), Matter::Dry(390.0, 3.4e6), 0.03)?;
    let solver = Solver::analyse(&body.network)?;
    let mut march = body.march(&solver, none(), 293.15, fixed(600.0))?;
    for _ in 0..20 {
        march.advance(&|_| vec![253.15])?;
    }
    let effort = march.effort();
    assert_eq!((effort.rejected, effort.factorized), (0, 1), "a linear problem with one step: {effort:?}");
    assert!(march.account().imbalance() < KEPT, "{:e}", march.account().imbalance());
    Ok(())
}
