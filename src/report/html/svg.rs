//! Drawings as SVG, in a figure with a caption.

use crate::report::drawing::{Anchor, Drawing, Shape, Style, WIDTH};
use maud::{Markup, PreEscaped, html};
use std::fmt::Write;

/// A drawing with its caption.
pub(super) fn figure(drawing: &Drawing) -> Markup {
    html! {
        figure tabindex="0" aria-label=(drawing.name) {
            (PreEscaped(svg(drawing)))
            figcaption { (drawing.caption) }
        }
    }
}

fn svg(drawing: &Drawing) -> String {
    let mut out = format!(
        "<svg viewBox=\"0 0 {WIDTH} {}\" role=\"img\" aria-label=\"{}\"",
        drawing.height,
        escaped(&drawing.alt)
    );
    for (name, value) in &drawing.data {
        let _ = write!(out, " data-{name}=\"{value}\"");
    }
    out.push('>');
    for alike in drawing.shapes.chunk_by(|a, b| look(a) == look(b)) {
        out.push_str(&elements(alike));
    }
    out.push_str("</svg>");
    out
}

/// What shapes that follow each other have in common if they can share an element.
fn look(shape: &Shape) -> (Style, Option<Anchor>) {
    match shape {
        Shape::Rect { style, .. }
        | Shape::Line { style, .. }
        | Shape::Path(_, style)
        | Shape::Area(_, style) => (*style, None),
        Shape::Text { style, anchor, .. } => (*style, Some(*anchor)),
    }
}

/// Shapes that look alike: each its own element if it is alone, otherwise one for all, as a page may have thousands.
fn elements(shapes: &[Shape]) -> String {
    let Some((style, anchor)) = shapes.first().map(look) else { return String::new() };
    let looks = class(style) + anchor.map_or("", anchored);
    let texts = shapes.iter().filter_map(|shape| match shape {
        Shape::Text { at: [x, y], text, .. } => Some((x, y, escaped(text))),
        _ => None,
    });
    match shapes {
        [Shape::Text { at: [x, y], text, .. }] => {
            format!("<text x=\"{x}\" y=\"{y}\"{looks}>{}</text>", escaped(text))
        }
        [Shape::Text { .. }, ..] => {
            let texts: String =
                texts.map(|(x, y, text)| format!("<text x=\"{x}\" y=\"{y}\">{text}</text>")).collect();
            format!("<g{looks}>{texts}</g>")
        }
        [Shape::Rect { corner: [x, y], size: [width, height], .. }] => {
            format!("<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"{looks}/>")
        }
        [Shape::Path(points, _)] => format!("<polyline points=\"{}\"{looks}/>", coordinates(points)),
        [Shape::Area(points, _)] => format!("<polygon points=\"{}\"{looks}/>", coordinates(points)),
        _ => format!("<path d=\"{}\"{looks}/>", shapes.iter().map(steps).collect::<String>()),
    }
}

/// A shape as a part of a path.
fn steps(shape: &Shape) -> String {
    match shape {
        Shape::Rect { corner: [x, y], size: [width, height], .. } => {
            format!("M{x} {y}h{width}v{height}h-{width}z")
        }
        Shape::Line { from, to, .. } if from[1] == to[1] => format!("M{} {}H{}", from[0], from[1], to[0]),
        Shape::Line { from, to, .. } if from[0] == to[0] => format!("M{} {}V{}", from[0], from[1], to[1]),
        Shape::Line { from, to, .. } => format!("M{}L{}", coordinates(&[*from]), coordinates(&[*to])),
        Shape::Path(points, _) => format!("M{}", coordinates(points)),
        Shape::Area(points, _) => format!("M{}z", coordinates(points)),
        Shape::Text { .. } => String::new(),
    }
}

fn anchored(anchor: Anchor) -> &'static str {
    match anchor {
        Anchor::Start => "",
        Anchor::Middle => " text-anchor=\"middle\"",
        Anchor::End => " text-anchor=\"end\"",
    }
}

fn class(style: Style) -> String {
    match style.class() {
        "" => String::new(),
        class => format!(" class=\"{class}\""),
    }
}

/// "10,20 30,40".
pub(in crate::report) fn coordinates(points: &[[f64; 2]]) -> String {
    points.iter().map(|[x, y]| format!("{x},{y}")).collect::<Vec<_>>().join(" ")
}

fn escaped(text: &str) -> String {
    html! { (text) }.into_string()
}
