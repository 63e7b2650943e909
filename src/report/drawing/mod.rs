//! Drawings to scale as shapes, which become an SVG in a web page or strokes in a PDF.

pub(super) mod course;
pub(super) mod scale;
pub(super) mod seat;
pub(super) mod section;

/// Width of every drawing, px.
pub(super) const WIDTH: f64 = 720.0;
/// Size of its text, px.
pub(super) const TEXT: f64 = 12.0;

/// A drawing. Coordinates are in px from its top left corner.
pub(super) struct Drawing {
    /// What it is, in a few words.
    pub name: String,
    /// What it shows, for whoever cannot see it.
    pub alt: String,
    /// Its height.
    pub height: f64,
    /// Figures for a program to read back, in SI units.
    pub data: Vec<(&'static str, f64)>,
    /// Its shapes; a later one covers an earlier.
    pub shapes: Vec<Shape>,
    /// The line under it.
    pub caption: String,
}

/// A shape of a drawing.
pub(super) enum Shape {
    Rect {
        corner: [f64; 2],
        size: [f64; 2],
        style: Style,
    },
    Line {
        from: [f64; 2],
        to: [f64; 2],
        style: Style,
    },
    /// A line through points.
    Path(Vec<[f64; 2]>, Style),
    /// An area between points.
    Area(Vec<[f64; 2]>, Style),
    Text {
        at: [f64; 2],
        anchor: Anchor,
        style: Style,
        text: String,
    },
}

impl Shape {
    fn text(at: [f64; 2], anchor: Anchor, style: Style, text: impl Into<String>) -> Self {
        Self::Text { at, anchor, style, text: text.into() }
    }
}

/// Which point of a text is placed.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// How a shape looks: a class of the style sheet, an ink of the PDF.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    Axis,
    Band,
    Batt,
    Curve,
    Dew,
    Freezing,
    Grid,
    Ice,
    Layer,
    Mark,
    Metal,
    Outdoors,
    Pipe,
    Plain,
    Seat,
    Soft,
    Stem,
}

impl Style {
    /// The class of the style sheet; none for plain text.
    pub(super) fn class(self) -> &'static str {
        match self {
            Self::Axis => "axis",
            Self::Band => "band",
            Self::Batt => "batt",
            Self::Curve => "curve",
            Self::Dew => "dew",
            Self::Freezing => "freezing",
            Self::Grid => "grid",
            Self::Ice => "ice",
            Self::Layer => "layer",
            Self::Mark => "mark",
            Self::Metal => "metal",
            Self::Outdoors => "outdoors",
            Self::Pipe => "pipe",
            Self::Plain => "",
            Self::Seat => "seat",
            Self::Soft => "soft",
            Self::Stem => "stem",
        }
    }
}

fn horizontal([from, to]: [f64; 2], y: f64, style: Style) -> Shape {
    Shape::Line { from: [from, y], to: [to, y], style }
}

fn vertical(x: f64, [from, to]: [f64; 2], style: Style) -> Shape {
    Shape::Line { from: [x, from], to: [x, to], style }
}

/// Lines across a plot, each with its text at the left: first all lines, then all texts.
fn grid(across: [f64; 2], levels: impl Iterator<Item = (String, f64)>) -> Vec<Shape> {
    let (lines, texts): (Vec<Shape>, Vec<Shape>) = levels
        .map(|(text, y)| {
            let at = [across[0] - 6.0, scale::tenth(y + 4.0)];
            (horizontal(across, y, Style::Grid), Shape::text(at, Anchor::End, Style::Soft, text))
        })
        .unzip();
    lines.into_iter().chain(texts).collect()
}

/// The frame of a plot.
fn frame(across: [f64; 2], down: [f64; 2]) -> Shape {
    let size = [across[1] - across[0], down[1] - down[0]];
    Shape::Rect { corner: [across[0], down[0]], size, style: Style::Axis }
}
