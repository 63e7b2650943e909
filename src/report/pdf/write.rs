//! A laid-out document as a PDF file: pages, fonts, bookmarks and the structure for screen readers.

use super::fonts::{Face, Fonts};
use super::layout::{Bookmark, Document, Kid, PAGE, Page};
use flate2::Compression;
use flate2::write::ZlibEncoder;
use pdf_writer::types::{
    CidFontType, FontFlags, PageMode, StructRole, TabOrder, TableHeaderScope, UnicodeCmap,
};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str, TextStr};
use std::io::Write;

const LANGUAGE: &str = "en-US";
const IDENTITY: pdf_writer::types::SystemInfo<'_> =
    pdf_writer::types::SystemInfo { registry: Str(b"Adobe"), ordering: Str(b"Identity"), supplement: 0 };

/// The numbers of the objects in the file, in blocks.
struct Numbers {
    pages: i32,
    contents: i32,
    marks: i32,
    elements: i32,
    bookmarks: i32,
}

const CATALOG: Ref = Ref::new(1);
const PAGES: Ref = Ref::new(2);
const INFO: Ref = Ref::new(3);
const METADATA: Ref = Ref::new(4);
const OUTLINE: Ref = Ref::new(5);
const STRUCTURE: Ref = Ref::new(6);
const FONTS: i32 = 7;
/// Objects of a font.
const OF_A_FONT: i32 = 5;

impl Numbers {
    fn of(document: &Document) -> Self {
        let pages = FONTS + 2 * OF_A_FONT;
        let contents = pages + number(document.pages.len());
        let marks = contents + number(document.pages.len());
        let elements = marks + number(document.pages.len());
        let bookmarks = elements + number(document.elements.len());
        Self { pages, contents, marks, elements, bookmarks }
    }

    fn page(&self, index: usize) -> Ref {
        Ref::new(self.pages + number(index))
    }

    fn element(&self, index: usize) -> Ref {
        Ref::new(self.elements + number(index))
    }

    fn bookmark(&self, index: usize) -> Ref {
        Ref::new(self.bookmarks + number(index))
    }
}

/// A count as the file has it. A document of more objects than that does not fit in memory.
fn number(count: usize) -> i32 {
    i32::try_from(count).unwrap_or(i32::MAX)
}

/// The document as a file.
pub(super) fn write(document: Document, fonts: &Fonts, title: &str) -> std::io::Result<Vec<u8>> {
    let numbers = Numbers::of(&document);
    let mut pdf = Pdf::new();
    let mut catalog = pdf.catalog(CATALOG);
    catalog.pages(PAGES).outlines(OUTLINE).page_mode(PageMode::UseOutlines).metadata(METADATA);
    catalog.lang(TextStr(LANGUAGE)).pair(Name(b"StructTreeRoot"), STRUCTURE);
    catalog.mark_info().marked(true);
    catalog.viewer_preferences().display_doc_title(true);
    catalog.finish();
    pdf.document_info(INFO).title(TextStr(title));
    pdf.metadata(METADATA, metadata(title).as_bytes());
    for face in Face::ALL {
        font(&mut pdf, fonts, face)?;
    }
    structure(&mut pdf, &document, &numbers);
    bookmarks(&mut pdf, &document.bookmarks, &numbers);
    pages(&mut pdf, document.pages, &numbers)?;
    Ok(pdf.finish())
}

fn deflated(bytes: &[u8]) -> std::io::Result<Vec<u8>> {
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::default());
    encoder.write_all(bytes)?;
    encoder.finish()
}

/// The title again, in the form that archives read.
fn metadata(title: &str) -> String {
    let title = title.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    format!(
        "<?xpacket begin=\"\u{feff}\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n\
         <x:xmpmeta xmlns:x=\"adobe:ns:meta/\"><rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\
         <rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\
         <dc:title><rdf:Alt><rdf:li xml:lang=\"x-default\">{title}</rdf:li></rdf:Alt></dc:title>\
         <dc:language><rdf:Bag><rdf:li>{LANGUAGE}</rdf:li></rdf:Bag></dc:language>\
         </rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end=\"r\"?>"
    )
}

fn font(pdf: &mut Pdf, fonts: &Fonts, face: Face) -> std::io::Result<()> {
    let first = FONTS + OF_A_FONT * number(face as usize);
    let [whole, glyphs, descriptor, file, unicode] = [0, 1, 2, 3, 4].map(|index| Ref::new(first + index));
    let name = Name(face.name());
    pdf.type0_font(whole)
        .base_font(name)
        .encoding_predefined(Name(b"Identity-H"))
        .descendant_font(glyphs)
        .to_unicode(unicode);
    let mut cid = pdf.cid_font(glyphs);
    cid.subtype(CidFontType::Type2).base_font(name).system_info(IDENTITY).font_descriptor(descriptor);
    cid.default_width(0.0).cid_to_gid_map_predefined(Name(b"Identity"));
    let mut widths = cid.widths();
    for (_, glyph) in fonts.characters(face) {
        widths.consecutive(glyph.id, [f32::from(glyph.width)]);
    }
    widths.finish();
    cid.finish();
    // From the tables `head` and `hhea` of the two fonts, in thousandths.
    pdf.font_descriptor(descriptor)
        .name(name)
        .flags(FontFlags::NON_SYMBOLIC)
        .bbox(Rect::new(-391.0, -300.0, 1297.0, 1070.0))
        .italic_angle(0.0)
        .ascent(928.0)
        .descent(-236.0)
        .cap_height(729.0)
        .stem_v(if face == Face::Bold { 150.0 } else { 80.0 })
        .font_file2(file);
    let bytes = face.file();
    let packed = deflated(bytes)?;
    pdf.stream(file, &packed).filter(Filter::FlateDecode).pair(Name(b"Length1"), number(bytes.len()));
    let mut map = UnicodeCmap::<u16>::new(Name(b"Coldsill"), IDENTITY);
    for (character, glyph) in fonts.characters(face) {
        map.pair(glyph.id, character);
    }
    let packed = deflated(map.finish().as_slice())?;
    pdf.cmap(unicode, &packed).filter(Filter::FlateDecode);
    Ok(())
}

fn structure(pdf: &mut Pdf, document: &Document, numbers: &Numbers) {
    let mut root = pdf.indirect(STRUCTURE).start::<pdf_writer::writers::StructTreeRoot<'_>>();
    root.child(numbers.element(0));
    let mut tree = root.parent_tree();
    let mut entries = tree.nums();
    for page in 0..document.pages.len() {
        entries.insert(number(page), Ref::new(numbers.marks + number(page)));
    }
    entries.finish();
    tree.finish();
    root.parent_tree_next_key(number(document.pages.len()));
    root.finish();
    for (index, page) in document.pages.iter().enumerate() {
        let elements = page.marks.iter().map(|element| numbers.element(*element));
        pdf.indirect(Ref::new(numbers.marks + number(index))).array().items(elements);
    }
    for (index, element) in document.elements.iter().enumerate() {
        let mut written = pdf.struct_element(numbers.element(index));
        written.kind(element.role).parent(element.parent.map_or(STRUCTURE, |parent| numbers.element(parent)));
        if let Some(alt) = &element.alt {
            written.alt(TextStr(alt));
        }
        if element.role == StructRole::TH {
            written.attributes().push().table().scope(TableHeaderScope::Column);
        }
        // Marks of its own page go by their numbers alone.
        let own = element.kids.iter().find_map(|kid| match kid {
            Kid::Mark { page, .. } => Some(*page),
            Kid::Element(_) => None,
        });
        if let Some(page) = own {
            written.page(numbers.page(page));
        }
        let mut children = written.children();
        for kid in &element.kids {
            match kid {
                Kid::Element(kid) => {
                    children.struct_element(numbers.element(*kid));
                }
                Kid::Mark { page, mark } if Some(*page) == own => {
                    children.marked_content_id(number(*mark));
                }
                Kid::Mark { page, mark } => {
                    children.marked_content_ref().page(numbers.page(*page)).marked_content_id(number(*mark));
                }
            }
        }
    }
}

/// Titles with the headings under them, closed.
fn bookmarks(pdf: &mut Pdf, bookmarks: &[Bookmark], numbers: &Numbers) {
    let titles: Vec<usize> = (0..bookmarks.len()).filter(|index| bookmarks[*index].level == 0).collect();
    let mut outline = pdf.outline(OUTLINE);
    if let [first, .., last] | [first @ last] = titles.as_slice() {
        outline.first(numbers.bookmark(*first)).last(numbers.bookmark(*last)).count(number(titles.len()));
    }
    outline.finish();
    let ends = titles.iter().skip(1).copied().chain([bookmarks.len()]);
    for (at, (title, end)) in titles.iter().copied().zip(ends).enumerate() {
        let beside = [at.checked_sub(1), Some(at + 1)].map(|at| titles.get(at?).copied());
        bookmark(pdf, bookmarks, numbers, title, OUTLINE, beside, title + 1..end);
        for heading in title + 1..end {
            let beside = [heading - 1, heading + 1]
                .map(|other| Some(other).filter(|other| (title + 1..end).contains(other)));
            bookmark(pdf, bookmarks, numbers, heading, numbers.bookmark(title), beside, 0..0);
        }
    }
}

fn bookmark(
    pdf: &mut Pdf,
    bookmarks: &[Bookmark],
    numbers: &Numbers,
    index: usize,
    parent: Ref,
    [before, after]: [Option<usize>; 2],
    under: std::ops::Range<usize>,
) {
    let Bookmark { title, page, top, .. } = &bookmarks[index];
    let mut item = pdf.outline_item(numbers.bookmark(index));
    item.title(TextStr(title)).parent(parent);
    if let Some(before) = before {
        item.prev(numbers.bookmark(before));
    }
    if let Some(after) = after {
        item.next(numbers.bookmark(after));
    }
    if !under.is_empty() {
        item.first(numbers.bookmark(under.start)).last(numbers.bookmark(under.end - 1));
        item.count(-number(under.len()));
    }
    item.dest().page(numbers.page(*page)).xyz(0.0, top + 4.0, None);
}

fn pages(pdf: &mut Pdf, pages: Vec<Page>, numbers: &Numbers) -> std::io::Result<()> {
    let mut tree = pdf.pages(PAGES);
    tree.count(number(pages.len())).kids((0..pages.len()).map(|index| numbers.page(index)));
    tree.media_box(Rect::new(0.0, 0.0, PAGE[0], PAGE[1]));
    let mut resources = tree.resources();
    let mut fonts = resources.fonts();
    for face in Face::ALL {
        fonts.pair(Name(face.resource()), Ref::new(FONTS + OF_A_FONT * number(face as usize)));
    }
    fonts.finish();
    resources.finish();
    tree.finish();
    for (index, page) in pages.into_iter().enumerate() {
        let content = Ref::new(numbers.contents + number(index));
        pdf.page(numbers.page(index))
            .parent(PAGES)
            .contents(content)
            .struct_parents(number(index))
            .tab_order(TabOrder::StructureOrder);
        let packed = deflated(page.content.finish().as_slice())?;
        pdf.stream(content, &packed).filter(Filter::FlateDecode);
    }
    Ok(())
}
