//! What is drawn over an OpenDocument sheet: text boxes and shapes with text, pictures with words for them, lines.

use quick_xml::events::{BytesStart, Event};

use super::crossed::{Line, Role};
use super::grid::Grid;
use super::package::Part;
use super::xlsx::reference;
use super::xml::{add_text, attribute, name};
use crate::diag::Diagnostic;

/// The forms with which people strike something out, as programs name them.
const STRIKES: [&str; 5] =
    ["forbidden", "mso-spt57", "ooxml-noSmoking", "ooxml-mathMinus", "ooxml-mathMultiply"];
/// A form drawn by hand, as programs name it.
const FREEHAND: [&str; 2] = ["non-primitive", "ooxml-non-primitive"];

/// What of a drawing may strike something out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Form {
    Line,
    /// Drawn by hand; around a text it is a text box.
    Freehand,
}

/// A drawing as it starts.
#[derive(Clone, Debug)]
pub(super) struct Opened {
    form: Option<Form>,
    ends: Ends,
    /// The cell in which it ends, by column and row.
    end: Option<(usize, u32)>,
}

/// How far a line goes, in centimeters, and how far below the upper edge of the cell it ends.
#[derive(Clone, Copy, Debug)]
struct Ends {
    across: f64,
    down: f64,
    below: Option<f64>,
}

/// A drawing.
#[derive(Debug)]
pub(super) struct Drawn {
    text: String,
    /// Words for those who do not see it.
    instead: String,
    /// Whether there is a picture, or an object that shows one.
    has_picture: bool,
    opened: Opened,
}

impl Opened {
    /// Whether an element is a drawing.
    pub(super) fn of(start: &BytesStart<'_>) -> Option<Self> {
        const DRAWINGS: [&str; 15] = [
            "frame",
            "custom-shape",
            "rect",
            "line",
            "connector",
            "measure",
            "ellipse",
            "circle",
            "polygon",
            "regular-polygon",
            "polyline",
            "path",
            "caption",
            "control",
            "g",
        ];
        if !DRAWINGS.contains(&name(start)) {
            return None;
        }
        let length = |key: &str| attribute(start, key).and_then(|it| centimeters(&it));
        let distance = |from, to| match (length(from), length(to)) {
            (Some(from), Some(to)) => (to - from).abs(),
            _ => 0.0,
        };
        let form = match name(start) {
            "line" | "connector" => Some(Form::Line),
            "polyline" | "path" => Some(Form::Freehand),
            _ => None,
        };
        let ends = Ends {
            across: length("svg:width").unwrap_or_else(|| distance("svg:x1", "svg:x2")),
            down: length("svg:height").unwrap_or_else(|| distance("svg:y1", "svg:y2")),
            below: length("table:end-y"),
        };
        let end = attribute(start, "table:end-cell-address").and_then(|it| {
            let cell = it.rsplit('.').next()?.replace('$', "");
            reference(&cell)
        });
        Some(Self { form, ends, end })
    }
}

/// Reads the drawing just started, with those within it.
pub(super) fn read(part: &mut Part<'_, '_>, opened: Opened) -> Result<Drawn, Diagnostic> {
    let outside = part.depth() - 1;
    let mut drawn = Drawn { text: String::new(), instead: String::new(), has_picture: false, opened };
    let (mut in_text, mut in_words) = (0_usize, false);
    while part.depth() > outside {
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "p" | "h" => in_text += 1,
                "s" | "tab" | "line-break" => drawn.text.push(' '),
                "title" | "desc" => in_words = true,
                "image" | "object" | "object-ole" => drawn.has_picture = true,
                "enhanced-geometry" => drawn.opened.form = drawn.opened.form.or(form_of(&start)),
                _ => {
                    // Of a group, its line.
                    if let Some(within) = Opened::of(&start) {
                        let group = &mut drawn.opened;
                        if group.form.is_none() {
                            group.form = within.form;
                            group.ends = within.ends;
                        }
                        group.end = group.end.or(within.end);
                    }
                }
            },
            Event::End(end) => match end.local_name().into_inner() {
                "p" | "h" => {
                    in_text = in_text.saturating_sub(1);
                    drawn.text.push(' ');
                }
                "title" | "desc" => {
                    in_words = false;
                    drawn.instead.push(' ');
                }
                _ => {}
            },
            Event::Eof => break,
            event if in_words => add_text(&mut drawn.instead, &event),
            event if in_text > 0 => add_text(&mut drawn.text, &event),
            _ => {}
        }
    }
    Ok(drawn)
}

/// What the form of a shape that has one of many is.
fn form_of(start: &BytesStart<'_>) -> Option<Form> {
    let kind = attribute(start, "draw:type")?;
    let is_one_of = |kinds: &[&str]| kinds.contains(&kind.as_str());
    if is_one_of(&STRIKES) {
        return Some(Form::Line);
    }
    is_one_of(&FREEHAND).then_some(Form::Freehand)
}

/// Adds the drawings of the element just started, which are placed on the page and at no cell.
pub(super) fn beside_cells(part: &mut Part<'_, '_>, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
    let outside = part.depth() - 1;
    while part.depth() > outside {
        let opened = match part.next()? {
            Event::Start(start) => Opened::of(&start),
            Event::Eof => break,
            _ => None,
        };
        if let Some(opened) = opened {
            let drawn = read(part, opened)?;
            drawn.put_at(None, grid)?;
            if drawn.strikes() {
                grid.line_somewhere()?;
            }
        }
    }
    Ok(())
}

impl Drawn {
    /// Whether it may strike something out.
    fn strikes(&self) -> bool {
        match self.opened.form {
            Some(Form::Line) => true,
            Some(Form::Freehand) => self.text.trim().is_empty(),
            None => false,
        }
    }

    /// Adds it at a row, or for the whole sheet, but for a line.
    fn put_at(&self, row: Option<u32>, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
        grid.drawn(row, [&self.text, &self.instead], self.has_picture)
    }

    /// Adds it at the cell it is drawn from.
    pub(super) fn put(self, row: u32, column: usize, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
        self.put_at(Some(row), grid)?;
        if !self.strikes() {
            return Ok(());
        }
        let Opened { ends, end, .. } = self.opened;
        let end = end.unwrap_or_else(|| Line::usual_end((column, row), ends.across, ends.down));
        // It ends on the edge between two rows.
        let is_edge = ends.below.is_some_and(|it| it < 0.05) && end.1 == row;
        let role = if is_edge { Role::Edge } else { Role::Across };
        grid.line(Line::between((column, row), end, role))
    }
}

/// A length such as `2.5cm`.
fn centimeters(text: &str) -> Option<f64> {
    const UNITS: [(&str, f64); 4] = [("cm", 1.0), ("mm", 0.1), ("in", 2.54), ("pt", 2.54 / 72.0)];
    let (unit, factor) = UNITS.into_iter().find(|(unit, _)| text.ends_with(unit))?;
    let number: f64 = text.strip_suffix(unit)?.trim().parse().ok()?;
    number.is_finite().then_some(number * factor)
}
