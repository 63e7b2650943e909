//! What the mesh is worth, and that no solve loses heat.

use crate::section::common::*;
use coldsill_heat::section::{Fineness, Spec, Uncertainty, solve_at};

/// Part of the flow a solve may lose: rounding over a thousand cells stays far below, a fault of assembly does not.
const BALANCE: f64 = 1e-9;
/// What halving every spacing may move a seat, °F: a tenth of the least margin a review is asked to tell apart.
const HALVING: f64 = 0.3;

fn halving(key: &str, depths: &[f64]) {
    let at = state(-30.0, 68.0);
    let (mut most, mut cells, mut solves) = ((0.0, String::new()), 0, 0);
    for (supply, pipe) in supplies() {
        for (metal, conductivity) in METALS {
            for &depth in depths {
                let spec: Spec = outlet(built_in(key), conductivity, pipe, depth);
                let usual = solved(&spec);
                let halved = solve_at(&spec, Uncertainty::LeftOut, Fineness::Halved)
                    .expect("the finer section solves");
                let moved = 1.8 * (halved.seat.temperature(&at) - usual.seat.temperature(&at)).abs();
                let what = || format!("{metal}, {supply} supply, seat {depth} in");
                assert!(halved.cells > 3 * usual.cells / 2, "{}: the halved mesh is no finer", what());
                assert!(usual.imbalance.max(halved.imbalance) <= BALANCE, "{}", what());
                if moved > most.0 {
                    most = (moved, what());
                }
                (cells, solves) = (usual.cells.max(cells), usual.solves.max(solves));
            }
        }
    }
    println!("{key}: at most {cells} cells and {solves} solves; halving moves {:.2} °F ({})", most.0, most.1);
    assert!(most.0 < HALVING, "{key}: {:.3} °F, {}", most.0, most.1);
}

const NOMINAL: [f64; 6] = [4.0, 6.0, 8.0, 10.0, 12.0, 14.0];

#[test]
fn halving_the_mesh_leaves_seats_in_a_framed_wall_where_they_are() {
    halving("2x6-siding", &NOMINAL);
}

#[test]
fn halving_the_mesh_leaves_seats_in_a_rim_joist_where_they_are() {
    halving("rim-joist-batt", &NOMINAL);
}

#[test]
fn halving_the_mesh_leaves_seats_in_brick_veneer_where_they_are() {
    halving("2x6-brick", &NOMINAL);
}

#[test]
fn halving_the_mesh_leaves_seats_in_bare_block_where_they_are() {
    halving("block-8-bare", &[0.0, 2.0, 8.0]);
}

#[test]
fn halving_the_mesh_leaves_seats_between_metal_skins_where_they_are() {
    // Metal, foam and film meet at the flange's rim and where the supply passes the inner skin.
    halving("metal-panel-4", &[0.0, 2.0, 3.0, 4.0, 8.0]);
}
