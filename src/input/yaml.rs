//! YAML text to a tree of values with places. This is the only module that knows the YAML library.
//!
//! The tree is built from the library's events rather than through serde: an event still holds a plain scalar as it
//! stands in the file, where serde would first turn `3.50` into a number and `yes` into a truth value. There is no
//! recursion, and a copy made by an alias is paid for before it is made.

mod causes;
mod words;

use std::collections::BTreeMap;
use std::sync::Arc;

use granit_parser::{self as granit, Event, Marker, ScalarStyle};

use super::limits::Limit;
use super::node::{Key, Kind, Node};
use crate::diag::{Diagnostic, Location, Position, Span};

/// Reads the one document of a YAML file. Stops at the first thing that is no YAML.
pub fn parse(file: &str, text: &str) -> Result<Node, Diagnostic> {
    Limit::YamlBytes.check(text.len(), || Location::whole(file))?;
    let mut options = granit::Options::default();
    options.set_emit_comments(false);
    options.flow_nesting_limit = Limit::YamlNesting.most();
    options.block_nesting_limit = Limit::YamlNesting.most();
    let mut builder = Builder::new(file);
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    for next in granit::Parser::new_from_str_with_options(text, options) {
        let (event, span) = next.map_err(|e| words::refused(&builder.file, text, &e))?;
        if let Some(tag) = event.tag() {
            let start = span.tag_start().unwrap_or(span.start);
            return Err(Diagnostic::new(
                place(&builder.file, &start),
                "starts with \"!\", as only a text in quotes may",
            )
            .text(tag.original())
            .expected("the value alone, or quotes around the whole text"));
        }
        let location = location(&builder.file, &event, &span);
        builder.event(event, location, span.is_empty())?;
    }
    builder.root.ok_or_else(|| {
        Diagnostic::new(Location::whole(file), "the file holds nothing but blank lines and comments")
    })
}

fn place(file: &Arc<str>, mark: &Marker) -> Location {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Location::line(file, count(mark.line()), count(mark.col()).saturating_add(1))
}

/// The characters of a text on one line; of anything else only its start.
fn location(file: &Arc<str>, event: &Event<'_>, span: &granit::Span) -> Location {
    let start = place(file, &span.start);
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let is_text = matches!(event, Event::Scalar(..) | Event::Alias(_));
    match start.position {
        Position::Line(start) if is_text && span.start.line() == span.end.line() => {
            Location::span(file, Span { end: count(span.end.col()).saturating_add(1), ..start })
        }
        _ => start,
    }
}

/// What a value costs, its contents included.
#[derive(Clone, Copy, Default)]
struct Size {
    nodes: usize,
    text: usize,
    nesting: usize,
}

/// A list or mapping that is still open.
struct Open {
    place: Location,
    anchor: usize,
    size: Size,
    holds: Holds,
}

enum Holds {
    List(Vec<Node>),
    Map { entries: Vec<(Key, Node)>, seen: BTreeMap<String, Location>, key: Option<Key> },
}

struct Builder {
    file: Arc<str>,
    open: Vec<Open>,
    /// Values with an anchor; `None` while the value is still open.
    anchored: BTreeMap<usize, Option<(Node, Size)>>,
    total: Size,
    root: Option<Node>,
}

impl Builder {
    fn new(file: &str) -> Self {
        Self {
            file: file.into(),
            open: Vec::new(),
            anchored: BTreeMap::new(),
            total: Size::default(),
            root: None,
        }
    }

    /// `blank` tells a value left out from a `~` that is written: the library gives the same text for both.
    fn event(&mut self, event: Event<'_>, place: Location, blank: bool) -> Result<(), Diagnostic> {
        match event {
            Event::DocumentStart(..) if self.root.is_some() => {
                Err(Diagnostic::new(place, "a line of dashes starts a second file within this one")
                    .expected("one job or one set of rules in a file"))
            }
            Event::Scalar(text, style, anchor, _) => {
                let text = if blank && style == ScalarStyle::Plain { "" } else { &*text };
                self.scalar(text, style, anchor, place)
            }
            Event::SequenceStart(_, anchor, _) => self.start(place, anchor, Holds::List(Vec::new())),
            Event::MappingStart(_, anchor, _) => {
                let holds = Holds::Map { entries: Vec::new(), seen: BTreeMap::new(), key: None };
                self.start(place, anchor, holds)
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(),
            Event::Alias(id) => self.alias(id, place),
            _ => Ok(()),
        }
    }

    fn scalar(
        &mut self,
        text: &str,
        style: ScalarStyle,
        anchor: usize,
        place: Location,
    ) -> Result<(), Diagnostic> {
        let size = Size { nodes: 1, text: text.len(), nesting: 0 };
        self.pay(size, &place)?;
        let plain = style == ScalarStyle::Plain;
        if self.awaits_key() && anchor == 0 {
            self.add_size(size);
            return self.key(text, plain, place);
        }
        // The words of YAML 1.2's core schema for nothing.
        let kind = if plain && matches!(text, "" | "~" | "null" | "Null" | "NULL") {
            Kind::Null
        } else {
            Kind::Scalar { text: text.to_owned(), plain }
        };
        let place = if text.is_empty() && plain { self.key_place().unwrap_or(place) } else { place };
        let quoted = matches!(style, ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted);
        self.value(Node { place, quoted, kind }, size, anchor)
    }

    fn start(&mut self, place: Location, anchor: usize, holds: Holds) -> Result<(), Diagnostic> {
        if self.awaits_key() {
            return Err(no_text_key(place));
        }
        Limit::YamlNesting.check(self.open.len() + 1, || place.clone())?;
        let size = Size { nodes: 1, text: 0, nesting: 0 };
        self.pay(size, &place)?;
        if anchor != 0 {
            self.anchored.insert(anchor, None);
        }
        self.open.push(Open { place, anchor, size, holds });
        Ok(())
    }

    fn end(&mut self) -> Result<(), Diagnostic> {
        let Some(open) = self.open.pop() else {
            return Ok(());
        };
        let kind = match open.holds {
            Holds::List(entries) => Kind::List(entries),
            Holds::Map { entries, .. } => Kind::Map(entries),
        };
        let size = Size { nesting: open.size.nesting + 1, ..open.size };
        self.value(Node { place: open.place, quoted: false, kind }, size, open.anchor)
    }

    fn alias(&mut self, id: usize, place: Location) -> Result<(), Diagnostic> {
        if self.awaits_key() {
            return Err(no_text_key(place));
        }
        let Some(Some((_, size))) = self.anchored.get(&id) else {
            return Err(Diagnostic::new(place, "a copy (\"*\") stands inside the very value it copies")
                .expected("the value written out"));
        };
        let size = *size;
        Limit::YamlNesting.check(self.open.len() + size.nesting, || place.clone())?;
        self.pay(size, &place)?;
        match self.anchored.get(&id) {
            Some(Some((node, _))) => {
                let node = node.clone();
                self.value(node, size, 0)
            }
            _ => Ok(()),
        }
    }

    /// Puts a finished value where it belongs, and by its anchor.
    fn value(&mut self, node: Node, size: Size, anchor: usize) -> Result<(), Diagnostic> {
        if anchor != 0 {
            if self.awaits_key() {
                return Err(
                    Diagnostic::new(node.place, "a key has an \"&\" before it").expected("the key alone")
                );
            }
            // The copy kept for the aliases is a copy like any other.
            self.pay(size, &node.place)?;
            self.anchored.insert(anchor, Some((node.clone(), size)));
        }
        self.add_size(size);
        match self.open.last_mut().map(|open| &mut open.holds) {
            None => self.root = Some(node),
            Some(Holds::List(entries)) => entries.push(node),
            Some(Holds::Map { entries, key, .. }) => {
                if let Some(key) = key.take() {
                    entries.push((key, node));
                }
            }
        }
        Ok(())
    }

    fn key(&mut self, text: &str, plain: bool, place: Location) -> Result<(), Diagnostic> {
        if plain && text == "<<" {
            return Err(Diagnostic::new(place, "is not read: keys are not copied from elsewhere")
                .text(text)
                .expected("the keys written out"));
        }
        if text.trim().is_empty() || (plain && text == "~") {
            return Err(Diagnostic::new(place, "a colon stands here without a key before it")
                .expected("\"key: value\""));
        }
        if let Some(Open { holds: Holds::Map { seen, key, .. }, .. }) = self.open.last_mut() {
            if let Some(first) = seen.insert(text.to_owned(), place.clone()) {
                let what = match first.line_or_row() {
                    Some(line) => format!("is given twice; it stands on line {line} already"),
                    None => "is given twice".into(),
                };
                return Err(Diagnostic::new(place, what).text(text).expected("each key once"));
            }
            *key = Some(Key { text: text.to_owned(), place });
        }
        Ok(())
    }

    fn awaits_key(&self) -> bool {
        matches!(self.open.last(), Some(Open { holds: Holds::Map { key: None, .. }, .. }))
    }

    fn key_place(&self) -> Option<Location> {
        match self.open.last() {
            Some(Open { holds: Holds::Map { key: Some(key), .. }, .. }) => Some(key.place.clone()),
            _ => None,
        }
    }

    /// Counts a value against the limits before it is made.
    fn pay(&mut self, size: Size, place: &Location) -> Result<(), Diagnostic> {
        self.total.nodes += size.nodes;
        self.total.text += size.text;
        Limit::YamlNodes.check(self.total.nodes, || place.clone())?;
        Limit::YamlText.check(self.total.text, || place.clone())
    }

    /// Adds a finished value's size to the list or mapping it stands in.
    fn add_size(&mut self, size: Size) {
        if let Some(open) = self.open.last_mut() {
            open.size.nodes += size.nodes;
            open.size.text += size.text;
            open.size.nesting = open.size.nesting.max(size.nesting);
        }
    }
}

fn no_text_key(place: Location) -> Diagnostic {
    Diagnostic::new(place, "a list or a bracket stands where a key should")
        .expected("\"key: value\", with quotes around a text that starts with a bracket")
}

#[cfg(test)]
mod tests;
