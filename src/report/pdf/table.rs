//! Tables of a PDF: widths of columns, rows over pages.

use super::fonts::{Face, Fonts};
use super::layout::{Layout, ROOM, Size, artifact, count, show};
use crate::report::blocks::{Cell, HALF_BAR};
use crate::report::page::{inert, kept_together};
use pdf_writer::types::StructRole;

const SIZE: Size = Size { font: 8.0, line: 10.0 };
/// Between columns.
const GAP: f32 = 9.0;
/// Above and below a row.
const PAD: f32 = 2.0;
/// Width of bars.
const BARS: f32 = 100.0;
/// The share of the page that the longest word of a column can claim.
const MOST_OF_A_WORD: f32 = 0.35;

/// A column: where it starts and how wide it is.
#[derive(Clone, Copy)]
struct Column {
    x: f32,
    width: f32,
}

impl Layout<'_> {
    /// A table, its headings again on each page.
    pub(super) fn table(&mut self, heads: &[&'static str], rows: &[Vec<Cell>]) {
        let columns = columns(self.fonts, heads, rows);
        let table = self.element(StructRole::Table);
        let fonts = self.fonts;
        let broken = |text: &str, face: Face, column: &Column| {
            fonts.broken(&kept_together(&inert(text.into())), face, SIZE.font, column.width)
        };
        let head: Vec<Vec<String>> =
            heads.iter().zip(&columns).map(|(head, column)| broken(head, Face::Bold, column)).collect();
        // A heading is not left alone at the end of a page.
        self.need(height(&head) + 3.0 * SIZE.line);
        self.head(Some(table), &head, &columns);
        for row in rows {
            let lines: Vec<Vec<String>> = row
                .iter()
                .zip(&columns)
                .map(|(cell, column)| match cell {
                    Cell::Text(text) => broken(text, Face::Regular, column),
                    Cell::Bars(_) => vec![" ".into()],
                })
                .collect();
            let fits_a_page = height(&lines) + height(&head) < Self::whole_page();
            if fits_a_page && self.need(height(&lines)) {
                self.head(None, &head, &columns);
            }
            self.row(table, &lines, &head, &columns);
            for (cell, column) in row.iter().zip(&columns) {
                if let Cell::Bars(bars) = cell {
                    self.bars(*bars, column);
                }
            }
        }
        self.y -= 4.0;
    }

    /// The headings: content the first time, decoration when they are repeated.
    fn head(&mut self, table: Option<usize>, lines: &[Vec<String>], columns: &[Column]) {
        let row = table.map(|table| self.element_in(table, StructRole::TR));
        let (top, fonts) = (self.y - PAD, self.fonts);
        for (cell, column) in lines.iter().zip(columns) {
            let at = [column.x, top - SIZE.font];
            if let Some(row) = row {
                let element = self.element_in(row, StructRole::TH);
                self.run(element, at, Face::Bold, SIZE, cell);
            } else {
                artifact(self.content(), |content| show(content, fonts, at, Face::Bold, SIZE, cell));
            }
        }
        self.y -= height(lines);
        self.rule(0.4);
    }

    /// A row. One that is higher than a page goes on over the next.
    fn row(&mut self, table: usize, lines: &[Vec<String>], head: &[Vec<String>], columns: &[Column]) {
        let row = self.element_in(table, StructRole::TR);
        let elements: Vec<usize> = lines.iter().map(|_| self.element_in(row, StructRole::TD)).collect();
        self.y -= PAD;
        let all = lines.iter().map(Vec::len).max().unwrap_or(0);
        let mut done = 0;
        while done < all {
            if self.need(SIZE.line) {
                self.head(None, head, columns);
                self.y -= PAD;
            }
            let end = all.min(done + self.fitting(SIZE));
            let y = self.y - SIZE.font;
            for ((cell, column), element) in lines.iter().zip(columns).zip(&elements) {
                let now = &cell[done.min(cell.len())..end.min(cell.len())];
                if !now.is_empty() {
                    self.run(*element, [column.x, y], Face::Regular, SIZE, now);
                }
            }
            self.y -= SIZE.line * count(end - done);
            done = end;
        }
        self.y -= PAD;
        self.rule(0.85);
    }

    /// Bars beside the row above.
    fn bars(&mut self, [left, right]: [usize; 2], column: &Column) {
        let [left, right] = [left, right].map(|long| count(long) / count(HALF_BAR) * column.width / 2.0);
        let (middle, y) = (column.x + column.width / 2.0, self.y + PAD + 1.0);
        let high = SIZE.line - 3.0;
        artifact(self.content(), |content| {
            content.set_fill_gray(0.45);
            content.rect(middle - left, y, left, high).rect(middle, y, right, high).fill_nonzero();
            content.set_fill_gray(0.0).set_stroke_gray(0.0).set_line_width(0.8);
            content.move_to(middle, y - 1.5).line_to(middle, y + high + 1.5).stroke();
        });
    }

    fn rule(&mut self, gray: f32) {
        let (y, left) = (self.y, Self::left());
        artifact(self.content(), |content| {
            content.set_stroke_gray(gray).set_line_width(0.5);
            content.move_to(left, y).line_to(left + ROOM, y).stroke();
        });
    }
}

fn height(cells: &[Vec<String>]) -> f32 {
    count(cells.iter().map(Vec::len).max().unwrap_or(0)) * SIZE.line + 2.0 * PAD
}

/// Columns as wide as their longest cells; if they do not fit, as their longest words, and what is left in proportion to
/// what they lack.
fn columns(fonts: &Fonts, heads: &[&str], rows: &[Vec<Cell>]) -> Vec<Column> {
    let widths = (0..heads.len()).map(|index| {
        let word = |text: &str, face| {
            let words = text.split([' ', '\n']).map(|word| fonts.width(word, face, SIZE.font));
            words.fold(0.0, f32::max).min(ROOM * MOST_OF_A_WORD)
        };
        let head = (fonts.width(heads[index], Face::Bold, SIZE.font), word(heads[index], Face::Bold));
        rows.iter().filter_map(|row| row.get(index)).fold(head, |(longest, least), cell| match cell {
            Cell::Text(text) => (
                longest.max(fonts.width(text, Face::Regular, SIZE.font)),
                least.max(word(text, Face::Regular)),
            ),
            Cell::Bars(_) => (longest.max(BARS), least.max(BARS)),
        })
    });
    let widths: Vec<(f32, f32)> = widths.collect();
    let room = ROOM - GAP * count(heads.len().saturating_sub(1));
    let longest: f32 = widths.iter().map(|(longest, _)| longest).sum();
    let least: f32 = widths.iter().map(|(_, least)| least).sum();
    let mut x = Layout::left();
    let place = |(wish, word): (f32, f32)| {
        let width = if longest <= room {
            wish
        } else if least <= room {
            word + (room - least) * (wish - word) / (longest - least)
        } else {
            word * room / least
        };
        // Rounding does not break what fits.
        let column = Column { x, width: width + 0.01 };
        x += width + GAP;
        column
    };
    widths.into_iter().map(place).collect()
}
