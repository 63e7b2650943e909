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
    for shape in &drawing.shapes {
        out.push_str(&element(shape));
    }
    out.push_str("</svg>");
    out
}

fn element(shape: &Shape) -> String {
    match shape {
        Shape::Rect { corner: [x, y], size: [width, height], style } => {
            format!("<rect x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"{}/>", class(*style))
        }
        Shape::Line { from: [x1, y1], to: [x2, y2], style } => {
            format!("<line x1=\"{x1}\" y1=\"{y1}\" x2=\"{x2}\" y2=\"{y2}\"{}/>", class(*style))
        }
        Shape::Path(points, style) => format!("<polyline points=\"{}\"{}/>", listed(points), class(*style)),
        Shape::Area(points, style) => format!("<polygon points=\"{}\"{}/>", listed(points), class(*style)),
        Shape::Text { at: [x, y], anchor, style, text } => {
            let anchor = match anchor {
                Anchor::Start => "",
                Anchor::Middle => " text-anchor=\"middle\"",
                Anchor::End => " text-anchor=\"end\"",
            };
            format!("<text x=\"{x}\" y=\"{y}\"{anchor}{}>{}</text>", class(*style), escaped(text))
        }
    }
}

fn class(style: Style) -> String {
    match style.class() {
        "" => String::new(),
        class => format!(" class=\"{class}\""),
    }
}

/// "10,20 30,40".
fn listed(points: &[[f64; 2]]) -> String {
    points.iter().map(|[x, y]| format!("{x},{y}")).collect::<Vec<_>>().join(" ")
}

fn escaped(text: &str) -> String {
    html! { (text) }.into_string()
}
