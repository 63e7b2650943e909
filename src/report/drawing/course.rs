//! An outlet through a cold spell: temperatures outdoors and at the valve seat over time, with the ice in its water.

use super::scale::{Scale, degrees, hours, tenth};
use super::{Anchor, Drawing, Shape, Style, WIDTH, frame, grid, horizontal, vertical};
use crate::physics::water::ICE_POINT;
use crate::report::words;
use crate::section::{Course, Moment};
use crate::units::{System, temperature_text};

const HEIGHT: f64 = 360.0;
const ACROSS: [f64; 2] = [64.0, WIDTH - 20.0];
/// Top and bottom of the temperatures, of the ice under them, px.
const WARMTH: [f64; 2] = [40.0, 220.0];
const ICE: [f64; 2] = [250.0, 310.0];
/// Shown beyond the coldest and the warmest, K.
const AROUND: f64 = 2.0;

/// The chart of the course at the values used; `None` if there is no time to draw.
pub(in crate::report) fn course(mark: &str, course: &Course, system: System) -> Option<Drawing> {
    let moments = &course.moments;
    let [first, last] = [moments.first()?.time, moments.last()?.time];
    if first >= last {
        return None;
    }
    let both = || moments.iter().flat_map(|moment| [moment.outdoors, moment.seat]);
    let kelvin = [both().fold(ICE_POINT, f64::min) - AROUND, both().fold(ICE_POINT, f64::max) + AROUND];
    let across = Scale::new([first, last], ACROSS);
    let down = Scale::new(kelvin, [WARMTH[1], WARMTH[0]]);
    let line = |of: fn(&Moment) -> f64, style| {
        Shape::Path(
            moments.iter().map(|moment| [across.at(moment.time), down.at(of(moment))]).collect(),
            style,
        )
    };
    let levels = degrees(kelvin, system);
    let mut shapes = grid(ACROSS, levels.into_iter().map(|(text, kelvin)| (text, down.at(kelvin))));
    shapes.push(horizontal(ACROSS, down.at(ICE_POINT), Style::Freezing));
    shapes.push(line(|moment| moment.outdoors, Style::Outdoors));
    shapes.push(line(|moment| moment.seat, Style::Curve));
    shapes.push(frame(ACROSS, WARMTH));
    shapes.extend(ice(moments, &across));
    for (text, time) in hours([first, last]) {
        shapes.push(Shape::text([across.at(time), ICE[1] + 16.0], Anchor::Middle, Style::Soft, text));
    }
    let middle = ACROSS[0].midpoint(ACROSS[1]);
    let axis = "hours from the start of the spell";
    shapes.push(Shape::text([middle, HEIGHT - 12.0], Anchor::Middle, Style::Soft, axis));
    let blocked = course.blocked.map(|(time, _)| time);
    let events = [
        ("first-ice", "first ice", course.first_ice),
        ("blocked", "blocked", blocked),
        ("ice-gone", "all ice gone", course.clear),
    ];
    let known = events.into_iter().filter_map(|(name, text, time)| Some((name, text, time?)));
    let mut data = vec![("from", first), ("until", last), ("coldest", kelvin[0]), ("warmest", kelvin[1])];
    for (line, (name, text, time)) in known.enumerate() {
        data.push((name, time));
        let x = across.at(time);
        shapes.push(vertical(x, [WARMTH[0], ICE[1]], Style::Mark));
        // Each a line lower, so that they do not run into each other.
        #[allow(clippy::cast_precision_loss, reason = "0 to 2")]
        let y = WARMTH[0] + 14.0 + 15.0 * line as f64;
        let (anchor, beside) = if x > middle { (Anchor::End, -4.0) } else { (Anchor::Start, 4.0) };
        let when = if time > 0.0 { words::hours(time) } else { "at start".into() };
        let text = format!("{text} {when}");
        shapes.push(Shape::text([tenth(x + beside), y], anchor, Style::Plain, text));
    }
    shapes.extend(legend());
    Some(Drawing {
        name: format!("{mark}: chart"),
        alt: format!(
            "{mark}: temperatures outdoors and at the valve seat over time, and the ice in its water"
        ),
        height: HEIGHT,
        data,
        shapes,
        caption: format!(
            "Through the spell, at the values used: temperatures outdoors and at the valve seat, {} dashed; below, the \
             share of the faucet's water that is ice.",
            temperature_text(ICE_POINT, system)
        ),
    })
}

/// The share of the water that is ice, over time.
fn ice(moments: &[Moment], across: &Scale) -> Vec<Shape> {
    let down = Scale::new([0.0, 1.0], [ICE[1], ICE[0]]);
    let levels = [("0 %", 0.0), ("50 %", 0.5), ("100 %", 1.0)];
    let mut shapes = grid(ACROSS, levels.into_iter().map(|(text, share)| (text.into(), down.at(share))));
    let top = moments.iter().map(|moment| [across.at(moment.time), down.at(moment.frozen)]);
    let area = [[ACROSS[0], ICE[1]]].into_iter().chain(top).chain([[ACROSS[1], ICE[1]]]);
    shapes.push(Shape::Area(area.collect(), Style::Ice));
    shapes.push(Shape::text([ACROSS[0] + 4.0, ICE[0] - 6.0], Anchor::Start, Style::Soft, "ice in its water"));
    shapes.push(frame(ACROSS, ICE));
    shapes
}

fn legend() -> Vec<Shape> {
    const LONG: f64 = 24.0;
    let entries = [("outdoors", Style::Outdoors, ACROSS[0]), ("valve seat", Style::Curve, ACROSS[0] + 110.0)];
    let entry = |(text, style, x): (&str, Style, f64)| {
        let y = WARMTH[0] - 18.0;
        [
            horizontal([x, x + LONG], y, style),
            Shape::text([x + LONG + 6.0, y + 4.0], Anchor::Start, Style::Soft, text),
        ]
    };
    entries.into_iter().flat_map(entry).collect()
}
