//! What is drawn over an XLSX sheet: text boxes, pictures with words for them, lines. ECMA-376, part 1, 20.5.

use quick_xml::events::{BytesStart, Event};

use super::crossed::{Line, Role};
use super::grid::Grid;
use super::package::Part;
use super::xml::{add_text, attribute, name};
use crate::diag::Diagnostic;

/// The forms with which people strike something out.
const LINES: [&str; 6] = ["line", "lineInv", "straightConnector1", "noSmoking", "mathMinus", "mathMultiply"];
/// How the names of connectors begin that go round corners; a number of corners follows.
const CONNECTORS: [&str; 2] = ["curvedConnector", "bentConnector"];
/// A drawing's units of length in a centimeter, and in a point.
const CENTIMETER: f64 = 360_000.0;
const POINT: f64 = 12_700.0;
/// How far from the edge of a row a line may lie that is meant to be along it: two pixels of a screen.
const NEAR: f64 = 19_050.0;

/// A corner of a drawing, as text of the file: the cell, from 0, and the distance below its upper edge.
#[derive(Clone, Debug, Default)]
struct Corner {
    column: String,
    row: String,
    below: String,
}

/// What stands at one anchor.
#[derive(Clone, Debug, Default)]
struct Anchored {
    from: Corner,
    to: Option<Corner>,
    /// How large it is, if that is stated instead of its other corner.
    size: [f64; 2],
    text: String,
    instead: String,
    /// How many lines there are, and how many of them have an arrowhead.
    lines: usize,
    pointers: usize,
    /// Whether something is drawn by hand.
    is_freehand: bool,
    /// Whether there is a picture, or an object that shows one.
    has_picture: bool,
    shape: Shape,
}

/// The shape that is being read, of several at one anchor.
#[derive(Clone, Copy, Debug, Default)]
struct Shape {
    is_picture: bool,
    is_line: bool,
    is_pointer: bool,
}

/// The text that is being read.
#[derive(Clone, Copy)]
enum Within {
    Column,
    Row,
    Below,
    Text,
}

/// Adds what stands at each anchor, with the row its upper edge is in.
pub(super) fn read(mut part: Part<'_, '_>, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
    let mut anchored = Anchored::default();
    let mut within = None;
    loop {
        match part.next()? {
            Event::Start(start) => match name(&start) {
                "twoCellAnchor" | "oneCellAnchor" | "absoluteAnchor" => anchored = Anchored::default(),
                "to" => anchored.to = Some(Corner::default()),
                "col" => within = Some(Within::Column),
                "row" => within = Some(Within::Row),
                "rowOff" => within = Some(Within::Below),
                "t" => within = Some(Within::Text),
                "ext" if attribute(&start, "cx").is_some() => {
                    anchored.size = ["cx", "cy"].map(|key| centimeters(&start, key))
                }
                "cNvPr" => {
                    for words in ["title", "descr"].iter().filter_map(|key| attribute(&start, key)) {
                        anchored.instead.push_str(&words);
                        anchored.instead.push(' ');
                    }
                }
                "sp" | "cxnSp" => anchored.shape = Shape::default(),
                "pic" => {
                    anchored.shape = Shape { is_picture: true, ..Shape::default() };
                    anchored.has_picture = true;
                }
                "graphicFrame" => anchored.has_picture = true,
                "prstGeom" if attribute(&start, "prst").is_some_and(|it| is_line(&it)) => {
                    anchored.add_line();
                }
                // A picture may be cut to a form of its own.
                "custGeom" => anchored.is_freehand |= !anchored.shape.is_picture,
                "contentPart" => anchored.is_freehand = true,
                "headEnd" | "tailEnd" if attribute(&start, "type").is_some_and(|it| it != "none") => {
                    anchored.add_arrowhead();
                }
                _ => {}
            },
            Event::End(end) => {
                within = None;
                match end.local_name().into_inner() {
                    "twoCellAnchor" | "oneCellAnchor" | "absoluteAnchor" => anchored.put(grid)?,
                    "p" => anchored.text.push(' '),
                    _ => {}
                }
            }
            Event::Eof => return Ok(()),
            event => {
                if let Some(within) = within {
                    anchored.add(within, &event);
                }
            }
        }
    }
}

fn is_line(form: &str) -> bool {
    LINES.contains(&form) || CONNECTORS.iter().any(|it| form.starts_with(it))
}

fn centimeters(start: &BytesStart<'_>, key: &str) -> f64 {
    let units: Option<f64> = attribute(start, key).and_then(|it| it.parse().ok());
    units.filter(|it| it.is_finite()).unwrap_or(0.0) / CENTIMETER
}

impl Anchored {
    fn add(&mut self, within: Within, event: &Event<'_>) {
        let corner = self.to.as_mut().unwrap_or(&mut self.from);
        let text = match within {
            Within::Column => &mut corner.column,
            Within::Row => &mut corner.row,
            Within::Below => &mut corner.below,
            Within::Text => &mut self.text,
        };
        add_text(text, event);
    }

    fn add_line(&mut self) {
        self.lines += usize::from(!self.shape.is_line);
        self.shape.is_line = true;
    }

    fn add_arrowhead(&mut self) {
        self.pointers += usize::from(self.shape.is_line && !self.shape.is_pointer);
        self.shape.is_pointer = true;
    }

    fn put(&self, grid: &mut Grid<'_>) -> Result<(), Diagnostic> {
        let from = self.from.cell();
        let row = from.map(|(_, row)| row);
        grid.drawn(row, [&self.text, &self.instead], self.has_picture)?;
        // A form of its own around a text is a text box.
        let is_freehand = self.is_freehand && self.text.trim().is_empty();
        if self.lines == 0 && !is_freehand {
            return Ok(());
        }
        let Some(from) = from else { return grid.line_somewhere() };
        let to = self.to.as_ref().and_then(Corner::cell);
        let to = to.unwrap_or_else(|| Line::usual_end(from, self.size[0], self.size[1]));
        let mut line = Line::between(from, to, Role::Across);
        if self.pointers == self.lines && !is_freehand {
            line.role = Role::Pointer;
        } else if self.is_along_edge(from.1, to.1, grid) {
            line.rows[1] = line.rows[0];
            line.role = Role::Edge;
        }
        grid.line(line)
    }

    /// Whether it starts and ends near the same edge of a row.
    fn is_along_edge(&self, row: u32, last_row: u32, grid: &Grid<'_>) -> bool {
        let edge = self.from.edge(row, grid);
        edge.is_some()
            && match &self.to {
                Some(to) => edge == to.edge(last_row, grid),
                None => self.size[1] * CENTIMETER <= NEAR,
            }
    }
}

impl Corner {
    /// The column from 0, and the row number.
    fn cell(&self) -> Option<(usize, u32)> {
        let row: u32 = self.row.trim().parse().ok()?;
        Some((self.column.trim().parse().ok()?, row.saturating_add(1)))
    }

    /// The row whose lower edge it lies near, where borders are drawn; 0 for the top of the sheet.
    fn edge(&self, row: u32, grid: &Grid<'_>) -> Option<u32> {
        let below: f64 = self.below.trim().parse().unwrap_or(0.0);
        let (height, is_stated) = grid.height(row);
        let above = height * POINT - below;
        if below <= NEAR {
            return Some(row.saturating_sub(1));
        }
        // What lies far below the usual height lies in a row that is higher.
        (above <= NEAR && (is_stated || above >= -NEAR)).then_some(row)
    }
}
