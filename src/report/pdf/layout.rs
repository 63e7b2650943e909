//! Blocks laid out on pages, each with its place in the structure that a screen reader follows.

use super::fonts::{Face, Fonts};
use super::ink;
use crate::diag::shortened;
use crate::report::blocks::{Block, Blocks};
use crate::report::drawing::Drawing;
use crate::report::page::{inert, kept_together};
use pdf_writer::types::StructRole;
use pdf_writer::{Content, Name, Str};

/// Width and height of a page: US Letter, in points.
pub(super) const PAGE: [f32; 2] = [612.0, 792.0];
/// Left, right and top.
const MARGIN: f32 = 54.0;
/// Where the lines of a page end.
const BOTTOM: f32 = 58.0;
/// Baseline of the footer.
const FOOTER: f32 = 34.0;
pub(super) const ROOM: f32 = PAGE[0] - 2.0 * MARGIN;
/// Points of a column of characters in a text page.
const COLUMN: f32 = 5.6;
const BODY: Size = Size { font: 9.0, line: 12.0 };
const HEADING: Size = Size { font: 11.0, line: 15.0 };
const TITLE: Size = Size { font: 15.0, line: 22.0 };
const SMALL: Size = Size { font: 7.5, line: 10.0 };

/// Size of a font and height of its lines.
#[derive(Clone, Copy)]
pub(super) struct Size {
    pub font: f32,
    pub line: f32,
}

/// A document, laid out.
pub(super) struct Document {
    pub pages: Vec<Page>,
    /// The structure; the first is the document itself.
    pub elements: Vec<Element>,
    pub bookmarks: Vec<Bookmark>,
}

/// A page: what is drawn, and the element of each of its marks.
pub(super) struct Page {
    pub content: Content,
    pub marks: Vec<usize>,
}

/// An element of the structure.
pub(super) struct Element {
    pub role: StructRole,
    pub parent: Option<usize>,
    pub kids: Vec<Kid>,
    /// What a figure shows.
    pub alt: Option<String>,
}

/// A part of an element.
pub(super) enum Kid {
    Element(usize),
    Mark { page: usize, mark: usize },
}

/// A title or a heading, where it stands.
pub(super) struct Bookmark {
    pub level: usize,
    pub title: String,
    pub page: usize,
    pub top: f32,
}

/// A document that is being laid out.
pub(super) struct Layout<'f> {
    pub fonts: &'f Fonts,
    document: Document,
    /// The element that blocks go into.
    section: usize,
    /// Where the next line's top is.
    pub y: f32,
}

impl<'f> Layout<'f> {
    /// An empty document.
    pub(super) fn new(fonts: &'f Fonts) -> Self {
        let root = Element { role: StructRole::Document, parent: None, kids: Vec::new(), alt: None };
        let document = Document { pages: Vec::new(), elements: vec![root], bookmarks: Vec::new() };
        Self { fonts, document, section: 0, y: 0.0 }
    }

    /// Adds blocks; a title starts a page.
    pub(super) fn add(&mut self, blocks: Blocks) {
        for block in blocks {
            self.block(block);
        }
    }

    /// The document, each page with its number and `footer`.
    pub(super) fn finish(mut self, footer: &str) -> Document {
        let count = self.document.pages.len();
        let footer = inert(footer.into());
        let fonts = self.fonts;
        let first = fonts.broken(&footer, Face::Regular, SMALL.font, ROOM - 90.0).into_iter().next();
        let footer = first.unwrap_or_default();
        for (page, number) in self.document.pages.iter_mut().zip(1..) {
            let number = format!("Page {number} of {count}");
            let right = PAGE[0] - MARGIN - fonts.width(&number, Face::Regular, SMALL.font);
            artifact(&mut page.content, |content| {
                content.set_fill_gray(0.35);
                show(content, fonts, [MARGIN, FOOTER], Face::Regular, SMALL, std::slice::from_ref(&footer));
                show(content, fonts, [right, FOOTER], Face::Regular, SMALL, &[number]);
                content.set_fill_gray(0.0);
            });
        }
        self.document
    }

    fn block(&mut self, block: Block) {
        match block {
            Block::Title { text, aside } => self.title(&text, aside),
            Block::Heading(text) => self.heading(&text),
            Block::Labelled { column, label, text } => self.labelled(column, &label, &text, Face::Regular),
            Block::Item { column, number, text } => {
                self.labelled(column, &format!("{number}."), &text, Face::Bold);
            }
            Block::Paragraph { indent, text } => {
                // What it announces is not on another page.
                self.need(if text.ends_with(':') { 6.0 } else { 1.0 } * BODY.line);
                let element = self.element(StructRole::P);
                self.lines(element, columns(indent), Face::Regular, BODY, &text);
                self.y -= 2.0;
            }
            Block::Table { heads, rows } => self.table(&heads, &rows),
            Block::Blank(label) => self.blank(label),
            Block::Figure { drawing, .. } => self.figure(&drawing),
            Block::Space => self.y -= BODY.line / 2.0,
        }
    }

    fn title(&mut self, text: &str, aside: &str) {
        self.section = 0;
        self.section = self.element(StructRole::Sect);
        self.start_page();
        self.bookmark(0, text);
        let element = self.element(StructRole::H1);
        let first = self.y - TITLE.font;
        self.lines(element, 0.0, Face::Bold, TITLE, text);
        if !aside.is_empty() {
            let wide = self.fonts.width(aside, Face::Regular, BODY.font);
            let element = self.element(StructRole::P);
            self.run(element, [PAGE[0] - MARGIN - wide, first], Face::Regular, BODY, &[format!("{aside} ")]);
        }
        self.y -= 6.0;
    }

    fn heading(&mut self, text: &str) {
        self.y -= 8.0;
        // Not alone at the end of a page.
        self.need(HEADING.line + 4.0 * BODY.line);
        self.bookmark(1, text);
        let element = self.element(StructRole::H2);
        self.lines(element, 0.0, Face::Bold, HEADING, text);
        let y = self.y;
        artifact(self.content(), |content| {
            content.set_stroke_gray(0.6).set_line_width(0.6);
            content.move_to(MARGIN, y).line_to(PAGE[0] - MARGIN, y).stroke();
        });
        self.y -= 5.0;
    }

    fn labelled(&mut self, column: usize, label: &str, text: &str, face: Face) {
        let element = self.element(StructRole::P);
        self.need(2.0 * BODY.line);
        if !label.is_empty() {
            let y = self.y - BODY.font;
            self.run(element, [MARGIN, y], Face::Bold, BODY, &[format!("{label} ")]);
        }
        self.lines(element, columns(column), face, BODY, text);
        self.y -= 2.0;
    }

    fn blank(&mut self, label: &str) {
        self.need(18.0);
        self.y -= 6.0;
        let y = self.y - BODY.font;
        let element = self.element(StructRole::P);
        self.run(element, [MARGIN, y], Face::Bold, BODY, &[format!("{label} ")]);
        artifact(self.content(), |content| {
            let x = MARGIN + columns(11);
            content.set_stroke_gray(0.4).set_line_width(0.6);
            content.move_to(x, y - 2.0).line_to(x + 240.0, y - 2.0).stroke();
        });
        self.y -= BODY.line;
    }

    fn figure(&mut self, drawing: &Drawing) {
        let height = ink::height(drawing);
        self.need(height + 3.0 * SMALL.line);
        let element = self.element(StructRole::Figure);
        self.document.elements[element].alt = Some(inert(drawing.alt.clone()));
        let (top, fonts) = (self.y, self.fonts);
        self.marked(element, |content| ink::draw(content, fonts, drawing, [MARGIN, top]));
        self.y -= height + 4.0;
        let caption = self.element(StructRole::Caption);
        self.lines(caption, 0.0, Face::Regular, SMALL, &drawing.caption);
        self.y -= 8.0;
    }

    /// Lines of an element, over as many pages as they take.
    fn lines(&mut self, element: usize, indent: f32, face: Face, size: Size, text: &str) {
        let text = kept_together(&inert(text.into()));
        let lines = self.fonts.broken(&text, face, size.font, ROOM - indent);
        let mut rest = lines.as_slice();
        while !rest.is_empty() {
            self.need(size.line);
            let (now, later) = rest.split_at(self.fitting(size).min(rest.len()));
            self.run(element, [MARGIN + indent, self.y - size.font], face, size, now);
            self.y -= size.line * count(now.len());
            rest = later;
        }
    }

    /// Lines of text of an element, from the baseline of the first down.
    pub(super) fn run(&mut self, element: usize, at: [f32; 2], face: Face, size: Size, lines: &[String]) {
        let fonts = self.fonts;
        self.marked(element, |content| show(content, fonts, at, face, size, lines));
    }

    /// How many lines fit on the page; at least one.
    pub(super) fn fitting(&self, size: Size) -> usize {
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "lines of a page")]
        let lines = ((self.y - BOTTOM) / size.line).floor() as usize;
        lines.max(1)
    }

    /// Draws as content of an element.
    pub(super) fn marked(&mut self, element: usize, draw: impl FnOnce(&mut Content)) {
        let page = self.document.pages.len() - 1;
        let role = self.document.elements[element].role.to_name();
        let current = &mut self.document.pages[page];
        let mark = current.marks.len();
        current.marks.push(element);
        let number = i32::try_from(mark).unwrap_or(i32::MAX);
        current.content.begin_marked_content_with_properties(role).properties().identify(number);
        draw(&mut current.content);
        current.content.end_marked_content();
        self.document.elements[element].kids.push(Kid::Mark { page, mark });
    }

    /// The content of the page.
    pub(super) fn content(&mut self) -> &mut Content {
        let last = self.document.pages.len() - 1;
        &mut self.document.pages[last].content
    }

    /// A new element of the section.
    pub(super) fn element(&mut self, role: StructRole) -> usize {
        self.element_in(self.section, role)
    }

    /// A new element of another.
    pub(super) fn element_in(&mut self, parent: usize, role: StructRole) -> usize {
        let elements = &mut self.document.elements;
        elements.push(Element { role, parent: Some(parent), kids: Vec::new(), alt: None });
        let new = elements.len() - 1;
        elements[parent].kids.push(Kid::Element(new));
        new
    }

    /// Starts a page unless there is room for a height; says whether it did.
    pub(super) fn need(&mut self, height: f32) -> bool {
        let is_full = self.y - height < BOTTOM;
        if is_full {
            self.start_page();
        }
        is_full
    }

    /// The room from the top of a page to its end.
    pub(super) const fn whole_page() -> f32 {
        PAGE[1] - MARGIN - BOTTOM
    }

    pub(super) const fn left() -> f32 {
        MARGIN
    }

    fn start_page(&mut self) {
        self.document.pages.push(Page { content: Content::new(), marks: Vec::new() });
        self.y = PAGE[1] - MARGIN;
    }

    fn bookmark(&mut self, level: usize, text: &str) {
        let page = self.document.pages.len() - 1;
        let title = inert(shortened(text));
        self.document.bookmarks.push(Bookmark { level, title, page, top: self.y });
    }
}

/// The width of columns of characters.
fn columns(columns: usize) -> f32 {
    count(columns) * COLUMN
}

/// A small count.
#[allow(clippy::cast_precision_loss, reason = "columns, or lines of a page")]
pub(super) fn count(count: usize) -> f32 {
    count as f32
}

/// Draws what is no content, such as a rule.
pub(super) fn artifact(content: &mut Content, draw: impl FnOnce(&mut Content)) {
    content.begin_marked_content(Name(b"Artifact"));
    draw(content);
    content.end_marked_content();
}

/// Shows lines of text, from the baseline of the first down.
pub(super) fn show(
    content: &mut Content,
    fonts: &Fonts,
    at: [f32; 2],
    face: Face,
    size: Size,
    lines: &[String],
) {
    content.begin_text();
    content.set_font(Name(face.resource()), size.font);
    content.next_line(hundredth(at[0]), hundredth(at[1]));
    for (index, line) in lines.iter().enumerate() {
        if index == 0 {
            content.set_leading(size.line).show(Str(&fonts.encoded(line, face)));
        } else {
            content.next_line_show(Str(&fonts.encoded(line, face)));
        }
    }
    content.end_text();
}

/// Whole hundredths of a point keep the file short.
pub(super) fn hundredth(points: f32) -> f32 {
    (points * 100.0).round() / 100.0
}
