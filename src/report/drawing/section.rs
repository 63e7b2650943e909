//! An outlet in its wall, to scale, with the temperatures along its metal at the design low.

use super::scale::{Scale, degrees, tenth};
use super::{Anchor, Drawing, Shape, Style, WIDTH, frame, grid, horizontal, vertical};
use crate::expr::Value;
use crate::facts::Drawn;
use crate::physics::water::ICE_POINT;
use crate::report::words::{named, without_band};
use crate::review::Shown;
use crate::units::{Dim, Quantity, Rounding, Show, System, temperature_text};

/// Top and bottom of the wall, of the plot under it, px.
const WALL: [f64; 2] = [24.0, 174.0];
const PLOT: [f64; 2] = [204.0, 374.0];
const HEIGHT: f64 = 414.0;
/// Left and right ends of the depths, px.
const ACROSS: [f64; 2] = [64.0, WIDTH - 20.0];
/// Width of the flange, m, as drawn.
const FLANGE: f64 = 0.06;
/// Shown in front of the wall and behind the inlet, m.
const AROUND: [f64; 2] = [0.04, 0.09];
/// Narrower layers have no number in them, px.
const NUMBERED: f64 = 9.0;

const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);

/// The section of an outlet, named by `marks`.
pub(in crate::report) fn section(marks: &str, facts: &[Shown], drawn: &Drawn, system: System) -> Drawing {
    let thickness = drawn.wall.thickness();
    let end = drawn.inlet.max(thickness) + AROUND[1];
    let across = Scale::new([-AROUND[0], end], ACROSS);
    let seat = drawn.solved.seat.temperature(&drawn.at);
    let seat_text = without_band(facts, "heat.seat_temperature", system)
        .unwrap_or_else(|| temperature_text(seat, system));
    let seat_depth = depth(drawn.seat, system);
    let mut shapes = layers(drawn, &across);
    shapes.push(Shape::text([ACROSS[0], 16.0], Anchor::Start, Style::Soft, "outdoors"));
    shapes.push(Shape::text([ACROSS[1], 16.0], Anchor::End, Style::Soft, drawn.wall.space_behind));
    shapes.extend(outlet(drawn, &across));
    if let Some(face) = drawn.wall.inside_face_of_insulation() {
        let text = format!("inside face of insulation {}", depth(face, system));
        shapes.push(vertical(across.at(face), [WALL[0], PLOT[1]], Style::Dew));
        shapes.push(Shape::text([across.at(face), WALL[1] + 12.0], Anchor::Middle, Style::Soft, text));
    }
    shapes.extend(plot(drawn, &across, system));
    let above = tenth(across.long(drawn.barrel) / 2.0);
    let axis = WALL[0].midpoint(WALL[1]);
    shapes.push(vertical(across.at(drawn.seat), [axis + above, PLOT[1]], Style::Mark));
    shapes.push(Shape::text(
        [across.at(drawn.seat), tenth(axis - above - 5.0)],
        Anchor::Middle,
        Style::Plain,
        format!("valve seat {seat_depth}, {seat_text}"),
    ));
    shapes.extend(needed(facts, &across, system));
    Drawing {
        name: format!("{marks}: drawing"),
        alt: format!(
            "{marks}: section through the wall, valve seat {seat_depth} deep at {seat_text} in the design low"
        ),
        height: HEIGHT,
        data: vec![("seat-depth", drawn.seat), ("wall-thickness", thickness), ("seat-temperature", seat)],
        shapes,
        caption: caption(drawn, system),
    }
}

fn caption(drawn: &Drawn, system: System) -> String {
    let layers = drawn.wall.layers.iter().zip(1..);
    let layers: Vec<String> = layers
        .map(|(layer, number)| format!("{number} {} {}", layer.name, depth(layer.thickness, system)))
        .collect();
    let dew = if drawn.dew_point.is_some() { ", dew point dotted" } else { "" };
    format!(
        "To scale, outdoors at the left. Layers from outdoors: {}. Below: temperature along the metal at the design \
         low; {} dashed{dew}.",
        layers.join(", "),
        temperature_text(ICE_POINT, system)
    )
}

/// Supply, flange, barrel, stem and seat, from behind.
fn outlet(drawn: &Drawn, across: &Scale) -> Vec<Shape> {
    let axis = WALL[0].midpoint(WALL[1]);
    let inlet = across.at(drawn.inlet);
    let supply = across.long(drawn.supply);
    // A tube about the axis, from one depth to another, m.
    let tube = |from: f64, to: f64, diameter: f64, style: Style| {
        let wide = across.long(diameter);
        Shape::Rect {
            corner: [across.at(from), axis - tenth(wide / 2.0)],
            size: [across.long(to - from), wide],
            style,
        }
    };
    let pipe = if drawn.turns {
        let corner = [inlet - tenth(supply / 2.0), axis];
        Shape::Rect { corner, size: [supply, WALL[1] - axis], style: Style::Pipe }
    } else {
        let corner = [inlet, axis - tenth(supply / 2.0)];
        Shape::Rect { corner, size: [tenth(ACROSS[1] - inlet), supply], style: Style::Pipe }
    };
    let barrel = across.long(drawn.barrel);
    let seat = Shape::Rect {
        corner: [tenth(across.at(drawn.seat) - 1.5), axis - tenth(barrel / 2.0)],
        size: [3.0, barrel],
        style: Style::Seat,
    };
    vec![
        pipe,
        tube(-0.006, 0.0, FLANGE, Style::Metal),
        tube(-0.012, drawn.inlet, drawn.barrel, Style::Metal),
        tube(-0.03, drawn.seat, drawn.stem, Style::Stem),
        seat,
    ]
}

/// The least seat depth, if it is within the drawing.
fn needed(facts: &[Shown], across: &Scale, system: System) -> Vec<Shape> {
    let Some(fact) = named(facts, "heat.least_seat_depth") else { return Vec::new() };
    let Ok(Value::Quantity(least)) = fact.value else { return Vec::new() };
    if least.is > across.ends()[1] {
        return Vec::new();
    }
    let at = across.at(least.is);
    let text = format!("needs {}", fact.show.value(&least, system));
    vec![
        Shape::Area(vec![[at, PLOT[1]], [at - 5.0, PLOT[1] + 9.0], [at + 5.0, PLOT[1] + 9.0]], Style::Seat),
        Shape::text([at, PLOT[1] + 22.0], Anchor::Middle, Style::Plain, text),
    ]
}

fn layers(drawn: &Drawn, across: &Scale) -> Vec<Shape> {
    let mut shapes = Vec::new();
    let mut from = 0.0;
    let mut numbers = Vec::new();
    for (layer, number) in drawn.wall.layers.iter().zip(1..) {
        let wide = across.long(layer.thickness);
        shapes.push(Shape::Rect {
            corner: [across.at(from), WALL[0]],
            size: [wide, WALL[1] - WALL[0]],
            style: if layer.insulation { Style::Batt } else { Style::Layer },
        });
        if wide > NUMBERED {
            let middle = across.at(from + layer.thickness / 2.0);
            let at = [middle, WALL[1] - 6.0];
            numbers.push(Shape::text(at, Anchor::Middle, Style::Soft, format!("{number}")));
        }
        from += layer.thickness;
    }
    shapes.extend(numbers);
    shapes
}

/// Temperatures over depth.
fn plot(drawn: &Drawn, across: &Scale, system: System) -> Vec<Shape> {
    let kelvin = [drawn.at.outdoors.min(ICE_POINT - 5.0), drawn.at.room.max(ICE_POINT + 5.0)];
    let down = Scale::new(kelvin, [PLOT[1], PLOT[0]]);
    let [first, last] = across.ends();
    let within = drawn.solved.stations.iter().filter(|station| (first..=last).contains(&station.depth));
    let metal =
        within.map(|station| [across.at(station.depth), down.at(station.share.temperature(&drawn.at))]);
    let level = |kelvin: f64, style| horizontal(ACROSS, down.at(kelvin), style);
    let mut shapes = Vec::new();
    let degrees = degrees(kelvin, system);
    shapes.extend(grid(ACROSS, degrees.into_iter().map(|(text, kelvin)| (text, down.at(kelvin)))));
    shapes.push(level(ICE_POINT, Style::Freezing));
    let dew_point = drawn.dew_point.filter(|dew_point| (kelvin[0]..kelvin[1]).contains(dew_point));
    shapes.extend(dew_point.map(|dew_point| level(dew_point, Style::Dew)));
    shapes.push(Shape::Path(metal.collect(), Style::Curve));
    shapes.push(frame(ACROSS, PLOT));
    shapes
}

fn depth(meters: f64, system: System) -> String {
    LENGTH.value(&Quantity::of(meters, Dim::LENGTH), system)
}
