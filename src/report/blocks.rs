//! A page as blocks, which are printed as text or laid out in a web page or a PDF.

use super::WIDTH;
use super::drawing::Drawing;
use super::page::{heading, inert, labelled_at, table, wrapped};

/// Characters of a label.
const LABEL: usize = 11;
/// Half of a bar, in characters.
pub(super) const HALF_BAR: usize = 12;

/// A part of a page. Columns and indents are in characters.
pub(super) enum Block {
    /// The title of a page, with a few words at the right.
    Title { text: String, aside: &'static str },
    /// A heading.
    Heading(String),
    /// A label in its own column, then text.
    Labelled { column: usize, label: String, text: String },
    /// The first line of a numbered comment.
    Item { column: usize, number: usize, text: String },
    /// A paragraph.
    Paragraph { indent: usize, text: String },
    /// A table.
    Table { heads: Vec<&'static str>, rows: Vec<Vec<Cell>> },
    /// Something to fill in by hand.
    Blank(&'static str),
    /// A drawing, with what stands for it in plain text.
    Figure { drawing: Drawing, plain: String },
    /// A blank line.
    Space,
}

/// A cell of a table.
pub(super) enum Cell {
    /// Text.
    Text(String),
    /// Bars to the left and to the right of a middle, of [`HALF_BAR`] at most.
    Bars([usize; 2]),
}

impl From<String> for Cell {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<&str> for Cell {
    fn from(text: &str) -> Self {
        Self::Text(text.into())
    }
}

impl Cell {
    /// Its text; empty for bars.
    pub(super) fn text(&self) -> &str {
        if let Self::Text(text) = self { text } else { "" }
    }

    fn into_text(self) -> String {
        match self {
            Self::Text(text) => text,
            Self::Bars([left, right]) => {
                format!("{:>HALF_BAR$}|{}", "#".repeat(left), "#".repeat(right))
            }
        }
    }
}

/// The blocks of a page, in order.
#[derive(Default)]
pub(super) struct Blocks(Vec<Block>);

impl Blocks {
    /// Adds a block.
    pub(super) fn push(&mut self, block: Block) {
        self.0.push(block);
    }

    /// Adds the title of a page.
    pub(super) fn title(&mut self, text: impl Into<String>) {
        self.push(Block::Title { text: text.into(), aside: "" });
    }

    /// Adds a heading.
    pub(super) fn heading(&mut self, text: &str) {
        self.push(Block::Heading(text.into()));
    }

    /// Adds a label with its text.
    pub(super) fn labelled(&mut self, label: &str, text: &str) {
        self.labelled_at(LABEL, label, text);
    }

    /// Adds a label in a column of another width.
    pub(super) fn labelled_at(&mut self, column: usize, label: &str, text: &str) {
        self.push(Block::Labelled { column, label: label.into(), text: text.into() });
    }

    /// Adds a paragraph.
    pub(super) fn paragraph(&mut self, text: &str) {
        self.indented(0, text);
    }

    /// Adds a paragraph that is set in.
    pub(super) fn indented(&mut self, indent: usize, text: &str) {
        self.push(Block::Paragraph { indent, text: text.into() });
    }

    /// Adds a table.
    pub(super) fn table<C: Into<Cell>>(
        &mut self,
        heads: &[&'static str],
        rows: impl IntoIterator<Item = Vec<C>>,
    ) {
        let rows = rows.into_iter().map(|row| row.into_iter().map(Into::into).collect());
        self.push(Block::Table { heads: heads.into(), rows: rows.collect() });
    }

    /// Adds a blank line.
    pub(super) fn space(&mut self) {
        self.push(Block::Space);
    }

    /// The page as text of [`WIDTH`] columns.
    pub(super) fn into_text(self) -> String {
        let mut out = String::new();
        for block in self.0 {
            match block {
                Block::Title { text, aside: "" } => out.push_str(&format!("{text}\n\n")),
                Block::Title { text, aside } => {
                    let room = WIDTH.saturating_sub(aside.len());
                    out.push_str(&format!("{text:<room$}{aside}\n\n"));
                }
                Block::Heading(text) => heading(&mut out, &text),
                Block::Labelled { column, label, text } => {
                    out.push_str(&labelled_at(column, &label, &text, WIDTH));
                }
                Block::Item { column, number, text } => {
                    out.push_str(&labelled_at(column, &format!("{number}."), &text, WIDTH));
                }
                Block::Paragraph { indent, text } => {
                    out.push_str(&wrapped(&text, WIDTH, &" ".repeat(indent)))
                }
                Block::Table { heads, rows } => {
                    let rows = rows.into_iter().map(|row| row.into_iter().map(Cell::into_text).collect());
                    out.push_str(&table(&heads, rows.collect(), WIDTH));
                    out.push('\n');
                }
                Block::Blank(label) => out.push_str(&format!("{label:<10} {}\n", "_".repeat(40))),
                Block::Figure { plain, .. } => out.push_str(&plain),
                Block::Space => out.push('\n'),
            }
        }
        inert(out)
    }
}

impl IntoIterator for Blocks {
    type Item = Block;
    type IntoIter = std::vec::IntoIter<Block>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.into_iter()
    }
}
