//! The length of a wall, supply and barrel against the design low of each place, and whether it changes.

use super::{change, product, variant};
use crate::report::climates::low_text;
use crate::report::drawing::scale::{Scale, degrees, tenth};
use crate::report::html::coordinates;
use crate::standard::{Cell, Change, Place, Standard, VARIANTS};
use crate::units::{Dim, Quantity, System};
use maud::{Markup, html};

const WIDTH: f64 = 720.0;
const ACROSS: [f64; 2] = [64.0, 690.0];
const TOP: f64 = 30.0;
/// Between two lengths.
const STEP: f64 = 26.0;
/// Shown beside the mildest and the coldest place, K.
const BESIDE: f64 = 3.0;

/// The chart of a setting, by its number, with its caption.
pub(super) fn figure(standard: &Standard, setting: usize, name: &str, system: System) -> Markup {
    let mut lengths: Vec<f64> = standard.products.iter().map(|product| product.length).collect();
    lengths.dedup();
    let row = |length: Option<f64>| {
        let at = length.and_then(|own| lengths.iter().position(|known| *known >= own));
        #[allow(clippy::cast_precision_loss, reason = "a few lengths")]
        let down = (lengths.len() - at.unwrap_or(lengths.len())) as f64;
        tenth(TOP + STEP * down)
    };
    let bottom = row(lengths.first().copied()) + STEP;
    let mut cells: Vec<(&Place, &Cell)> =
        standard.places.iter().zip(standard.cells.iter().map(|cells| &cells[setting])).collect();
    cells.sort_by(|a, b| b.0.design_low.total_cmp(&a.0.design_low));
    let (Some(mildest), Some(coldest)) = (cells.first(), cells.last()) else { return html! {} };
    let range = [coldest.0.design_low - BESIDE, mildest.0.design_low + BESIDE];
    let across = Scale::new(range, ACROSS);
    let length = |cell: &Cell| cell.order.map(|at| standard.products[at].length);
    let steps = cells.windows(2).flat_map(|pair| {
        let [before, after] = [&pair[0], &pair[1]].map(|(_, cell)| row(length(cell)));
        let [from, to] = [&pair[0], &pair[1]].map(|(place, _)| across.at(place.design_low));
        [[from, before], [from, after], [to, after]]
    });
    let line = coordinates(&steps.collect::<Vec<_>>());
    let texts = lengths
        .iter()
        .map(|own| (super::LENGTH.value(&Quantity::of(*own, Dim::LENGTH), system), row(Some(*own))));
    html! {
        figure tabindex="0" aria-label=(format!("{name}: chart")) {
            svg viewBox=(format!("0 0 {WIDTH} {}", bottom + 36.0)) role="img"
                aria-label=(format!("{name}: length to order against the design low of each place")) {
                @for (text, down) in texts.chain([("none".to_owned(), row(None))]) {
                    line x1=(ACROSS[0]) x2=(ACROSS[1]) y1=(down) y2=(down) class="grid" {}
                    text x=(ACROSS[0] - 6.0) y=(tenth(down + 4.0)) text-anchor="end" class="soft" { (text) }
                }
                @for (text, kelvin) in degrees(range, system) {
                    text x=(across.at(kelvin)) y=(bottom + 14.0) text-anchor="middle" class="soft" { (text) }
                }
                polyline points=(line) class="pipe" {}
                @for (place, cell) in &cells {
                    (mark([across.at(place.design_low), row(length(cell))], place, cell, standard, system))
                }
                text x=(ACROSS[0].midpoint(ACROSS[1])) y=(bottom + 30.0) text-anchor="middle" class="soft" { "design low" }
                rect x=(ACROSS[0]) y=(TOP - STEP / 2.0) width=(ACROSS[1] - ACROSS[0]) height=(bottom - TOP + STEP / 2.0) class="axis" {}
            }
            figcaption { (name) }
        }
    }
}

/// A place: a dot where the length stays with everything that is varied, a triangle where it changes with something, a ring
/// where no product is enough.
fn mark([x, y]: [f64; 2], place: &Place, cell: &Cell, standard: &Standard, system: System) -> Markup {
    let order = cell.order.map_or_else(|| "none".into(), |at| product(&standard.products[at], system));
    let changes = VARIANTS.iter().zip(&cell.changes);
    let changes = changes.filter(|(_, own)| matches!(own, Some(Change::Longer | Change::Shorter)));
    let changes: Vec<String> =
        changes.map(|(own, found)| format!("{}: {}", variant(*own), change(*found))).collect();
    let (answer, what) = match (cell.order, changes.is_empty()) {
        (None, _) => ("not known", String::new()),
        (Some(_), true) => ("no", String::new()),
        (Some(_), false) => ("yes", format!(" ({})", changes.join("; "))),
    };
    let title = format!(
        "{}, design low {}: {order}. Length changes: {answer}{what}",
        place.climate.name_and_state(),
        low_text(place.design_low, system)
    );
    let length = cell.order.map(|at| standard.products[at].length);
    let corners = [[x, y - 6.0], [x + 6.0, y + 5.0], [x - 6.0, y + 5.0]];
    html! {
        g data-low=(place.design_low) data-length=[length] data-changes=(answer) {
            title { (title) }
            @match answer {
                "yes" => polygon points=(coordinates(&corners.map(|corner| corner.map(tenth)))) class="seat" {},
                "no" => circle cx=(x) cy=(y) r="3.5" class="same" {},
                _ => circle cx=(x) cy=(y) r="4" class="axis" {},
            }
        }
    }
}
