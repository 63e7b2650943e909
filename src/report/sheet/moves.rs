//! What moves an outlet, on its calculation sheet: a table and a small chart.

use super::super::blocks::{Blocks, Cell, HALF_BAR};
use super::difference;
use crate::facts::{Move, SectionSheet};
use crate::units::{Dim, Quantity, Rounding, Show, System};

const DEPTH: Show = Show::new(("in", 1), ("mm", 0), Rounding::Nearest);

pub(super) fn lines(out: &mut Blocks, section: &SectionSheet, system: System) {
    out.heading("What moves it");
    let text = "Each uncertain input by itself between its bounds, everything else at its best estimate: the outdoor \
                temperature the faucet is good to, the minimum seat depth, and whether another length would be ordered. \
                Left of the bar is better.";
    out.paragraph(text);
    let furthest = section.moves.iter().flat_map(|it| it.good_to).map(f64::abs).fold(0.0, f64::max);
    /// What prints as nothing, K.
    const NOTHING: f64 = 0.05 / 1.8;
    let moving = section.moves.iter().filter(|it| it.good_to.iter().any(|kelvin| kelvin.abs() >= NOTHING));
    let rows = moving.map(|it| {
        let [better, worse] = it.good_to.map(|kelvin| difference(kelvin, system));
        let depth = it.depth.map_or_else(
            || "none is enough".into(),
            |ends| {
                let [shorter, longer] =
                    ends.map(|meters| DEPTH.value(&Quantity::of(meters, Dim::LENGTH), system));
                format!("{shorter} to {longer}")
            },
        );
        let order = it.changes_order.map_or("", |changes| if changes { "yes" } else { "no" });
        vec![
            Cell::from(it.input.name()),
            format!("{better} to {worse}").into(),
            bar(it, furthest),
            depth.into(),
            order.into(),
        ]
    });
    let heads = ["Input", "Good to", "Better | worse", "Least depth", "Order changes"];
    out.table(&heads, rows);
}

/// A bar from the best estimate to either side, the furthest of all as long as half the chart.
fn bar(it: &Move, furthest: f64) -> Cell {
    #[allow(
        clippy::cast_precision_loss,
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "0 to 12"
    )]
    let long = |kelvin: f64| {
        if furthest > 0.0 { (kelvin.abs() / furthest * HALF_BAR as f64).round() as usize } else { 0 }
    };
    Cell::Bars(it.good_to.map(long))
}
