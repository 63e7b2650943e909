//! The valve seat against the outdoor temperature, with its interval, the design low and how often winters get there.

use super::scale::{Scale, degrees, tenth};
use super::{Anchor, Drawing, Shape, Style, WIDTH, frame, grid, horizontal, vertical};
use crate::climate::DesignBy;
use crate::facts::Drawn;
use crate::physics::water::ICE_POINT;
use crate::report::climates::low_text;
use crate::report::words::without_band;
use crate::review::{Review, Shown};
use crate::section::Boundary;
use crate::units::{System, temperature_text};

const HEIGHT: f64 = 300.0;
const ACROSS: [f64; 2] = [64.0, WIDTH - 20.0];
const DOWN: [f64; 2] = [40.0, 250.0];
/// Shown below the design low and above freezing, K.
const AROUND: [f64; 2] = [6.0, 8.0];
/// Return periods marked along the top, years.
const YEARS: [f64; 5] = [2.0, 5.0, 10.0, 20.0, 50.0];

/// The chart of an outlet, named by `marks`.
pub(in crate::report) fn seat(
    marks: &str,
    facts: &[Shown],
    drawn: &Drawn,
    review: &Review,
    system: System,
) -> Drawing {
    let outdoors = [drawn.at.outdoors - AROUND[0], ICE_POINT + AROUND[1]];
    let shares = drawn.solved.seat_shares();
    let seat = |share: usize, outdoors: f64| shares[share].temperature(&Boundary { outdoors, ..drawn.at });
    let ends: Vec<f64> = outdoors.iter().flat_map(|out| (0..3).map(|share| seat(share, *out))).collect();
    let low = ends.iter().copied().fold(ICE_POINT - 5.0, f64::min);
    let high = ends.iter().copied().fold(ICE_POINT + 5.0, f64::max);
    let across = Scale::new(outdoors, ACROSS);
    let down = Scale::new([low, high], [DOWN[1], DOWN[0]]);
    let corner = |share: usize, end: usize| [across.at(outdoors[end]), down.at(seat(share, outdoors[end]))];
    let shown = |kelvin: &f64| (outdoors[0]..=outdoors[1]).contains(kelvin);

    let band = vec![corner(0, 0), corner(0, 1), corner(2, 1), corner(2, 0)];
    let mut shapes = vec![Shape::Area(band, Style::Band)];
    let levels = degrees([low, high], system);
    shapes.extend(grid(ACROSS, levels.into_iter().map(|(text, kelvin)| (text, down.at(kelvin)))));
    for (text, kelvin) in degrees(outdoors, system) {
        shapes.push(Shape::text([across.at(kelvin), DOWN[1] + 16.0], Anchor::Middle, Style::Soft, text));
    }
    shapes.push(Shape::Path(vec![corner(1, 0), corner(1, 1)], Style::Curve));
    shapes.push(horizontal(ACROSS, down.at(ICE_POINT), Style::Freezing));
    let design = across.at(drawn.at.outdoors);
    shapes.push(vertical(design, DOWN, Style::Mark));
    let text = format!("design low {}", low_text(drawn.at.outdoors, system));
    shapes.push(Shape::text([tenth(design + 4.0), DOWN[1] - 6.0], Anchor::Start, Style::Plain, text));
    let good_to = drawn.solved.good_to(drawn.at.room).map(|[_, best, _]| best).filter(shown);
    if let Some(good_to) = good_to {
        let text = without_band(facts, "heat.holds_to", system);
        let text = format!("good to {}", text.unwrap_or_else(|| temperature_text(good_to, system)));
        let [x, y] = [across.at(good_to), down.at(ICE_POINT)];
        let diamond = vec![[x - 5.0, y], [x, y - 5.0], [x + 5.0, y], [x, y + 5.0]];
        shapes.push(Shape::Area(diamond, Style::Seat));
        shapes.push(Shape::text([x, tenth(y - 9.0)], Anchor::Middle, Style::Plain, text));
    }
    let years = YEARS
        .iter()
        .filter_map(|years| Some((*years, review.climate.low_by(DesignBy::Years(*years)).filter(shown)?)));
    let years: Vec<(f64, f64)> = years.collect();
    for (_, kelvin) in &years {
        shapes.push(vertical(across.at(*kelvin), [DOWN[0] - 6.0, DOWN[0]], Style::Axis));
    }
    for (years, kelvin) in &years {
        let at = [across.at(*kelvin), DOWN[0] - 10.0];
        shapes.push(Shape::text(at, Anchor::Middle, Style::Soft, format!("{years}")));
    }
    if !years.is_empty() {
        let text = "years between winters this cold";
        shapes.push(Shape::text([ACROSS[1], 14.0], Anchor::End, Style::Soft, text));
    }
    let middle = ACROSS[0].midpoint(ACROSS[1]);
    shapes.push(Shape::text([middle, HEIGHT - 12.0], Anchor::Middle, Style::Soft, "outdoor temperature"));
    shapes.push(frame(ACROSS, DOWN));
    Drawing {
        name: format!("{marks}: chart"),
        alt: format!("{marks}: valve seat against outdoor temperature, with its 95 % interval"),
        height: HEIGHT,
        data: good_to.map(|good_to| ("good-to", good_to)).into_iter().collect(),
        shapes,
        caption: format!(
            "Valve seat against the outdoor temperature: best estimate and 95 % interval; {} dashed.",
            temperature_text(ICE_POINT, system)
        ),
    }
}
