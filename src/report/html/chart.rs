//! The valve seat against the outdoor temperature, with its interval, the design low and how often winters get there.

use super::section::{degrees, temperature};
use super::svg::{Scale, points, tenth};
use crate::climate::DesignBy;
use crate::facts::Drawn;
use crate::physics::water::ICE_POINT;
use crate::report::climates::low_text;
use crate::report::comment_sheet::TypeLine;
use crate::report::words::without_band;
use crate::review::Review;
use crate::section::Boundary;
use crate::units::System;
use maud::{Markup, html};

const WIDTH: f64 = 720.0;
const HEIGHT: f64 = 300.0;
const ACROSS: [f64; 2] = [64.0, 700.0];
const DOWN: [f64; 2] = [40.0, 250.0];
/// Shown below the design low and above freezing, K.
const AROUND: [f64; 2] = [6.0, 8.0];
/// Return periods marked along the top, years.
const YEARS: [f64; 5] = [2.0, 5.0, 10.0, 20.0, 50.0];

/// The chart with its caption.
pub(super) fn figure(line: &TypeLine<'_>, drawn: &Drawn, review: &Review, system: System) -> Markup {
    let outdoors = [drawn.at.outdoors - AROUND[0], ICE_POINT + AROUND[1]];
    let shares = drawn.solved.seat_shares();
    let seat = |share: usize, outdoors: f64| shares[share].temperature(&Boundary { outdoors, ..drawn.at });
    let ends: Vec<f64> = outdoors.iter().flat_map(|out| (0..3).map(|share| seat(share, *out))).collect();
    let low = ends.iter().copied().fold(ICE_POINT - 5.0, f64::min);
    let high = ends.iter().copied().fold(ICE_POINT + 5.0, f64::max);
    let across = Scale::new(outdoors, ACROSS);
    let down = Scale::new([low, high], [DOWN[1], DOWN[0]]);
    let corner = |share: usize, end: usize| [across.at(outdoors[end]), down.at(seat(share, outdoors[end]))];
    let band = points([corner(0, 0), corner(0, 1), corner(2, 1), corner(2, 0)].into_iter());
    let best = points([corner(1, 0), corner(1, 1)].into_iter());
    let good_to = drawn.solved.holds_to(drawn.at.room).map(|[_, best, _]| best);
    let good_text = without_band(&line.findings.facts, "heat.holds_to", system);
    let shown = |kelvin: &f64| (outdoors[0]..=outdoors[1]).contains(kelvin);
    let years = YEARS
        .iter()
        .filter_map(|years| Some((*years, review.climate.low_by(DesignBy::Years(*years)).filter(shown)?)));
    let years: Vec<(f64, f64)> = years.collect();
    let title = format!("{}: valve seat against outdoor temperature, with its 95 % interval", line.marks);
    html! {
        figure tabindex="0" aria-label=(format!("{}: chart", line.marks)) {
            svg viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img" aria-label=(title) {
                @for (text, kelvin) in degrees([low, high], system) {
                    line x1=(ACROSS[0]) x2=(ACROSS[1]) y1=(down.at(kelvin)) y2=(down.at(kelvin)) class="grid" {}
                    text x=(ACROSS[0] - 6.0) y=(tenth(down.at(kelvin) + 4.0)) text-anchor="end" class="soft" { (text) }
                }
                @for (text, kelvin) in degrees(outdoors, system) {
                    text x=(across.at(kelvin)) y=(DOWN[1] + 16.0) text-anchor="middle" class="soft" { (text) }
                }
                polygon points=(band) class="band" {}
                polyline points=(best) class="curve" {}
                line x1=(ACROSS[0]) x2=(ACROSS[1]) y1=(down.at(ICE_POINT)) y2=(down.at(ICE_POINT)) class="freezing" {}
                line x1=(across.at(drawn.at.outdoors)) x2=(across.at(drawn.at.outdoors)) y1=(DOWN[0]) y2=(DOWN[1]) class="mark" {}
                text x=(tenth(across.at(drawn.at.outdoors) + 4.0)) y=(DOWN[1] - 6.0) { "design low " (low_text(drawn.at.outdoors, system)) }
                @if let Some(good_to) = good_to.filter(shown) {
                    circle cx=(across.at(good_to)) cy=(down.at(ICE_POINT)) r="4" class="seat" data-good-to=(good_to) {}
                    text x=(across.at(good_to)) y=(tenth(down.at(ICE_POINT) - 9.0)) text-anchor="middle" { "good to " (good_text.unwrap_or_else(|| temperature(good_to, system))) }
                }
                @for (years, kelvin) in &years {
                    line x1=(across.at(*kelvin)) x2=(across.at(*kelvin)) y1=(DOWN[0] - 6.0) y2=(DOWN[0]) class="axis" {}
                    text x=(across.at(*kelvin)) y=(DOWN[0] - 10.0) text-anchor="middle" class="soft" { (years) }
                }
                @if !years.is_empty() { text x=(ACROSS[1]) y="14" text-anchor="end" class="soft" { "years between winters this cold" } }
                text x=(ACROSS[0].midpoint(ACROSS[1])) y=(HEIGHT - 12.0) text-anchor="middle" class="soft" { "outdoor temperature" }
                rect x=(ACROSS[0]) y=(DOWN[0]) width=(ACROSS[1] - ACROSS[0]) height=(DOWN[1] - DOWN[0]) class="axis" {}
            }
            figcaption { "Valve seat against the outdoor temperature: best estimate and 95 % interval; 32 °F dashed." }
        }
    }
}
