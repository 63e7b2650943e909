//! An outlet in its wall, to scale, with the temperatures along its metal at the design low.

use super::svg::{Scale, points, tenth, ticks};
use crate::expr::Value;
use crate::facts::Drawn;
use crate::physics::water::ICE_POINT;
use crate::report::comment_sheet::TypeLine;
use crate::report::words::{named, without_band};
use crate::units::{Dim, Measure, Quantity, Rounding, Show, System};
use crate::wall::Layer;
use maud::{Markup, html};

const WIDTH: f64 = 720.0;
/// Top and bottom of the wall, of the plot under it, px.
const WALL: [f64; 2] = [24.0, 174.0];
const PLOT: [f64; 2] = [204.0, 374.0];
const HEIGHT: f64 = 414.0;
/// Left and right ends of the depths, px.
const ACROSS: [f64; 2] = [64.0, 700.0];
/// Width of the flange, m, as drawn.
const FLANGE: f64 = 0.06;
/// Shown in front of the wall and behind the inlet, m.
const AROUND: [f64; 2] = [0.04, 0.09];

const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);

/// The drawing with its caption.
pub(super) fn figure(line: &TypeLine<'_>, drawn: &Drawn, system: System) -> Markup {
    let thickness = drawn.wall.thickness();
    let end = drawn.inlet.max(thickness) + AROUND[1];
    let across = Scale::new([-AROUND[0], end], ACROSS);
    let axis = WALL[0].midpoint(WALL[1]);
    let half = |diameter: f64| tenth(across.long(diameter) / 2.0);
    let depth = |depth: f64| LENGTH.value(&Quantity::of(depth, Dim::LENGTH), system);
    let seat = drawn.solved.seat.temperature(&drawn.at);
    let seat_text = without_band(&line.findings.facts, "heat.seat_temperature", system)
        .unwrap_or_else(|| temperature(seat, system));
    let least = named(&line.findings.facts, "heat.least_seat_depth").and_then(|fact| match fact.value {
        Ok(Value::Quantity(depth)) => Some((depth.is, fact.show.value(&depth, system))),
        _ => None,
    });
    let title = format!(
        "{}: section through the wall, valve seat {} deep at {seat_text} in the design low",
        line.marks,
        depth(drawn.seat)
    );
    html! {
        figure tabindex="0" aria-label=(format!("{}: drawing", line.marks)) {
            svg viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img" aria-label=(title) data-seat-depth=(drawn.seat) data-wall-thickness=(thickness) data-seat-temperature=(seat) {
                (layers(drawn, &across))
                text x=(ACROSS[0]) y="16" class="soft" { "outdoors" }
                text x=(ACROSS[1]) y="16" class="soft" text-anchor="end" { (drawn.wall.space_behind) }
                // Supply, flange, barrel, stem and seat, from behind.
                @if drawn.turns {
                    rect x=(across.at(drawn.inlet) - half(drawn.supply)) y=(axis) width=(across.long(drawn.supply)) height=(WALL[1] - axis) class="pipe" {}
                } @else {
                    rect x=(across.at(drawn.inlet)) y=(axis - half(drawn.supply)) width=(tenth(ACROSS[1] - across.at(drawn.inlet))) height=(across.long(drawn.supply)) class="pipe" {}
                }
                rect x=(across.at(-0.006)) y=(axis - half(FLANGE)) width=(across.long(0.006)) height=(across.long(FLANGE)) class="metal" {}
                rect x=(across.at(-0.012)) y=(axis - half(drawn.barrel)) width=(across.long(drawn.inlet + 0.012)) height=(across.long(drawn.barrel)) class="metal" {}
                rect x=(across.at(-0.03)) y=(axis - half(drawn.stem)) width=(across.long(drawn.seat + 0.03)) height=(across.long(drawn.stem)) class="stem" {}
                rect x=(tenth(across.at(drawn.seat) - 1.5)) y=(axis - half(drawn.barrel)) width="3" height=(across.long(drawn.barrel)) class="seat" {}
                @if let Some(face) = drawn.wall.inside_face_of_insulation() {
                    line x1=(across.at(face)) x2=(across.at(face)) y1=(WALL[0]) y2=(PLOT[1]) class="dew" {}
                    text x=(across.at(face)) y=(WALL[1] + 12.0) text-anchor="middle" class="soft" { "inside face of insulation " (depth(face)) }
                }
                (plot(drawn, &across, system))
                line x1=(across.at(drawn.seat)) x2=(across.at(drawn.seat)) y1=(axis + half(drawn.barrel)) y2=(PLOT[1]) class="mark" {}
                text x=(across.at(drawn.seat)) y=(tenth(axis - half(drawn.barrel) - 5.0)) text-anchor="middle" { "valve seat " (depth(drawn.seat)) ", " (seat_text) }
                @if let Some((least, needed)) = least.filter(|(least, _)| *least <= end) {
                    path d=(format!("M{} {} l-5 9 h10 z", across.at(least), PLOT[1])) class="seat" {}
                    text x=(across.at(least)) y=(PLOT[1] + 22.0) text-anchor="middle" { "needs " (needed) }
                }
            }
            figcaption {
                "To scale, outdoors at the left. Layers from outdoors: "
                @for (index, layer) in drawn.wall.layers.iter().enumerate() {
                    @if index > 0 { ", " } (index + 1) " " (layer.name) " " (depth(layer.thickness))
                }
                ". Below: temperature along the metal at the design low; 32 °F dashed" @if drawn.dew_point.is_some() { ", dew point dotted" } "."
            }
        }
    }
}

fn layers(drawn: &Drawn, across: &Scale) -> Markup {
    let mut from = 0.0;
    let placed: Vec<(usize, &Layer, f64)> = drawn
        .wall
        .layers
        .iter()
        .enumerate()
        .map(|(index, layer)| {
            let at = from;
            from += layer.thickness;
            (index + 1, layer, at)
        })
        .collect();
    html! {
        @for (number, layer, at) in placed {
            rect x=(across.at(at)) y=(WALL[0]) width=(across.long(layer.thickness)) height=(WALL[1] - WALL[0])
                class=(if layer.insulation { "batt" } else { "layer" }) {}
            @if across.long(layer.thickness) > 9.0 {
                text x=(across.at(at + layer.thickness / 2.0)) y=(WALL[1] - 6.0) text-anchor="middle" class="soft" { (number) }
            }
        }
    }
}

/// Temperatures over depth.
fn plot(drawn: &Drawn, across: &Scale, system: System) -> Markup {
    let kelvin = [drawn.at.outdoors.min(ICE_POINT - 5.0), drawn.at.room.max(ICE_POINT + 5.0)];
    let down = Scale::new(kelvin, [PLOT[1], PLOT[0]]);
    let [first, last] = across.ends();
    let within = drawn.solved.stations.iter().filter(|station| (first..=last).contains(&station.depth));
    let metal = points(
        within.map(|station| [across.at(station.depth), down.at(station.share.temperature(&drawn.at))]),
    );
    let freezing = down.at(ICE_POINT);
    html! {
        @for degrees in degrees(kelvin, system) {
            line x1=(ACROSS[0]) x2=(ACROSS[1]) y1=(down.at(degrees.1)) y2=(down.at(degrees.1)) class="grid" {}
            text x=(ACROSS[0] - 6.0) y=(tenth(down.at(degrees.1) + 4.0)) text-anchor="end" class="soft" { (degrees.0) }
        }
        line x1=(ACROSS[0]) x2=(ACROSS[1]) y1=(freezing) y2=(freezing) class="freezing" {}
        @if let Some(dew_point) = drawn.dew_point.filter(|dew_point| (kelvin[0]..kelvin[1]).contains(dew_point)) {
            line x1=(ACROSS[0]) x2=(ACROSS[1]) y1=(down.at(dew_point)) y2=(down.at(dew_point)) class="dew" {}
        }
        polyline points=(metal) class="curve" {}
        rect x=(ACROSS[0]) y=(PLOT[0]) width=(ACROSS[1] - ACROSS[0]) height=(PLOT[1] - PLOT[0]) class="axis" {}
    }
}

/// Round temperatures of a range, K, in the reader's unit, with their text.
pub(in crate::report) fn degrees([low, high]: [f64; 2], system: System) -> Vec<(String, f64)> {
    let (per_kelvin, zero, step, unit) = match system {
        System::Us => (1.8, 459.67, 20.0, "°F"),
        System::Si => (1.0, 273.15, 10.0, "°C"),
    };
    let range = [low, high].map(|kelvin| kelvin * per_kelvin - zero);
    ticks(range, step).map(|tick| (format!("{tick} {unit}"), (tick + zero) / per_kelvin)).collect()
}

/// A temperature in the reader's units.
pub(super) fn temperature(kelvin: f64, system: System) -> String {
    Show::usual(Measure::Temperature).value(&Quantity::temperature(kelvin), system)
}
