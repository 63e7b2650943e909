//! Drawings in a PDF: shapes to strokes and areas that read in gray, too.

use super::fonts::{Face, Fonts};
use super::layout::{ROOM, Size, hundredth, show};
use crate::report::drawing::{Anchor, Drawing, Shape, Style, TEXT, WIDTH};
use crate::report::page::inert;
use pdf_writer::Content;

type Color = [f32; 3];

const BLACK: Color = [0.1, 0.1, 0.1];
const GRAY: Color = [0.35, 0.35, 0.35];
const PALE: Color = [0.82, 0.82, 0.82];
const WHITE: Color = [1.0, 1.0, 1.0];
const COLD: Color = [0.11, 0.37, 0.66];
const WARM: Color = [0.66, 0.26, 0.11];

/// How a style is drawn.
struct Ink {
    fill: Option<Color>,
    /// Color, width and dashes.
    stroke: Option<(Color, f32, &'static [f32])>,
}

fn ink(style: Style) -> Ink {
    let filled = |color| Ink { fill: Some(color), stroke: None };
    let edged = |color, edge, width| Ink { fill: Some(color), stroke: Some((edge, width, &[])) };
    let line = |color, width, dashes| Ink { fill: None, stroke: Some((color, width, dashes)) };
    match style {
        Style::Axis => line(GRAY, 0.7, &[]),
        Style::Band => filled([0.93, 0.86, 0.83]),
        Style::Batt => edged([0.93, 0.88, 0.72], GRAY, 0.6),
        Style::Curve => line(WARM, 1.5, &[]),
        Style::Dew => line(GRAY, 0.7, &[1.5, 2.0]),
        Style::Freezing => line(COLD, 0.8, &[4.0, 3.0]),
        Style::Grid => line(PALE, 0.5, &[]),
        Style::Ice => filled([0.72, 0.81, 0.91]),
        Style::Layer => edged([0.87, 0.88, 0.9], GRAY, 0.6),
        Style::Mark => line(BLACK, 0.6, &[0.8, 1.6]),
        Style::Metal => edged([0.72, 0.6, 0.33], BLACK, 0.5),
        Style::Outdoors => line(COLD, 1.2, &[]),
        Style::Pipe => edged(WHITE, BLACK, 0.9),
        Style::Plain => filled(BLACK),
        Style::Seat => filled([0.61, 0.11, 0.11]),
        Style::Soft => filled(GRAY),
        Style::Stem => edged(WHITE, BLACK, 0.5),
    }
}

/// Points of a pixel.
#[allow(clippy::cast_possible_truncation, reason = "a ratio about 1")]
const POINTS: f32 = ROOM / WIDTH as f32;

/// The height of a drawing on a page.
pub(super) fn height(drawing: &Drawing) -> f32 {
    points(drawing.height)
}

#[allow(clippy::cast_possible_truncation, reason = "px within a drawing")]
fn points(pixels: f64) -> f32 {
    pixels as f32 * POINTS
}

/// Draws at the top left corner.
pub(super) fn draw(content: &mut Content, fonts: &Fonts, drawing: &Drawing, [left, top]: [f32; 2]) {
    let at = |[x, y]: [f64; 2]| [hundredth(left + points(x)), hundredth(top - points(y))];
    for shape in &drawing.shapes {
        content.save_state();
        match shape {
            Shape::Rect { corner, size, style } => {
                let [x, y] = at([corner[0], corner[1] + size[1]]);
                content.rect(x, y, hundredth(points(size[0])), hundredth(points(size[1])));
                paint(content, *style, true);
            }
            Shape::Line { from, to, style } => {
                through(content, &[at(*from), at(*to)]);
                paint(content, *style, false);
            }
            Shape::Path(path, style) => {
                through(content, &path.iter().copied().map(at).collect::<Vec<_>>());
                paint(content, *style, false);
            }
            Shape::Area(path, style) => {
                through(content, &path.iter().copied().map(at).collect::<Vec<_>>());
                content.close_path();
                paint(content, *style, true);
            }
            Shape::Text { at: place, anchor, style, text } => {
                label(content, fonts, at(*place), *anchor, *style, &inert(text.clone()));
            }
        }
        content.restore_state();
    }
}

fn through(content: &mut Content, path: &[[f32; 2]]) {
    for (index, [x, y]) in path.iter().enumerate() {
        if index == 0 {
            content.move_to(*x, *y);
        } else {
            content.line_to(*x, *y);
        }
    }
}

/// Paints the path.
fn paint(content: &mut Content, style: Style, is_closed: bool) {
    let Ink { fill, stroke } = ink(style);
    let fill = fill.filter(|_| is_closed);
    if let Some([red, green, blue]) = fill {
        content.set_fill_rgb(red, green, blue);
    }
    if let Some(([red, green, blue], width, dashes)) = stroke {
        content.set_stroke_rgb(red, green, blue).set_line_width(width);
        content.set_dash_pattern(dashes.iter().copied(), 0.0);
    }
    match (fill.is_some(), stroke.is_some()) {
        (true, true) => content.fill_nonzero_and_stroke(),
        (true, false) => content.fill_nonzero(),
        (false, true) => content.stroke(),
        (false, false) => content.end_path(),
    };
}

/// A text on white, so that no line runs through it.
fn label(content: &mut Content, fonts: &Fonts, [x, y]: [f32; 2], anchor: Anchor, style: Style, text: &str) {
    let size = points(TEXT);
    let wide = fonts.width(text, Face::Regular, size);
    let x = match anchor {
        Anchor::Start => x,
        Anchor::Middle => x - wide / 2.0,
        Anchor::End => x - wide,
    };
    let [red, green, blue] = WHITE;
    content.set_fill_rgb(red, green, blue);
    content
        .rect(hundredth(x - 1.0), hundredth(y - 1.8), hundredth(wide + 2.0), hundredth(size))
        .fill_nonzero();
    let [red, green, blue] = ink(style).fill.unwrap_or(BLACK);
    content.set_fill_rgb(red, green, blue);
    let size = Size { font: size, line: size };
    show(content, fonts, [x, y], Face::Regular, size, &[format!("{text} ")]);
}
