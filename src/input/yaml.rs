//! YAML text to a tree of values with locations. The only module that uses the YAML library.
//!
//! The tree is built from the library's events, not through serde: an event has the original text of a plain scalar,
//! while serde would turn `3.50` into a number and `yes` into a Boolean. There is no recursion, and a copy made by an
//! alias is counted against the limits before it is made.

mod causes;
mod words;

use std::collections::BTreeMap;
use std::sync::Arc;

use granit_parser::{self as granit, Event, Marker, ScalarStyle};

use super::limits::Limit;
use super::node::{Key, Kind, Node};
use crate::diag::{Diagnostic, Location, Position, Span};

/// Parses the one document of a YAML file. Stops at the first syntax error.
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
                location_of_mark(&builder.file, &start),
                "starts with \"!\", which only quoted text may",
            )
            .text(tag.original())
            .expected("the value alone, or quotes around the whole text"));
        }
        let location = location(&builder.file, &event, &span);
        builder.event(event, location, span.is_empty())?;
    }
    builder
        .root
        .ok_or_else(|| Diagnostic::new(Location::whole(file), "the file has only blank lines and comments"))
}

fn location_of_mark(file: &Arc<str>, mark: &Marker) -> Location {
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    Location::line(file, count(mark.line()), count(mark.col()).saturating_add(1))
}

/// The characters of a text on one line; of anything else only its start.
fn location(file: &Arc<str>, event: &Event<'_>, span: &granit::Span) -> Location {
    let start = location_of_mark(file, &span.start);
    let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
    let is_text = matches!(event, Event::Scalar(..) | Event::Alias(_));
    match start.position {
        Position::Line(start) if is_text && span.start.line() == span.end.line() => {
            Location::span(file, Span { end: count(span.end.col()).saturating_add(1), ..start })
        }
        _ => start,
    }
}

/// The size of a value with its contents.
#[derive(Clone, Copy, Default)]
struct Size {
    nodes: usize,
    text: usize,
    nesting: usize,
}

/// A list or mapping that is not complete yet.
struct Open {
    location: Location,
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
    /// Values with an anchor; `None` until the value is complete.
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

    /// `blank` distinguishes a blank value from a written `~`: the library gives the same text for both.
    fn event(&mut self, event: Event<'_>, location: Location, blank: bool) -> Result<(), Diagnostic> {
        match event {
            Event::DocumentStart(..) if self.root.is_some() => {
                Err(Diagnostic::new(location, "a line of dashes starts a second document in this file")
                    .expected("one job or one set of rules in a file"))
            }
            Event::Scalar(text, style, anchor, _) => {
                let text = if blank && style == ScalarStyle::Plain { "" } else { &*text };
                self.scalar(text, style, anchor, location)
            }
            Event::SequenceStart(_, anchor, _) => self.start(location, anchor, Holds::List(Vec::new())),
            Event::MappingStart(_, anchor, _) => {
                let holds = Holds::Map { entries: Vec::new(), seen: BTreeMap::new(), key: None };
                self.start(location, anchor, holds)
            }
            Event::SequenceEnd | Event::MappingEnd => self.end(),
            Event::Alias(id) => self.alias(id, location),
            _ => Ok(()),
        }
    }

    fn scalar(
        &mut self,
        text: &str,
        style: ScalarStyle,
        anchor: usize,
        location: Location,
    ) -> Result<(), Diagnostic> {
        let size = Size { nodes: 1, text: text.len(), nesting: 0 };
        self.pay(size, &location)?;
        let plain = style == ScalarStyle::Plain;
        if self.awaits_key() && anchor == 0 {
            self.add_size(size);
            return self.key(text, plain, location);
        }
        // The null values of YAML 1.2's core schema.
        let kind = if plain && matches!(text, "" | "~" | "null" | "Null" | "NULL") {
            Kind::Null
        } else {
            Kind::Scalar { text: text.to_owned(), plain }
        };
        let location = if text.is_empty() && plain { self.key_place().unwrap_or(location) } else { location };
        let quoted = matches!(style, ScalarStyle::SingleQuoted | ScalarStyle::DoubleQuoted);
        self.value(Node { location, quoted, kind }, size, anchor)
    }

    fn start(&mut self, location: Location, anchor: usize, holds: Holds) -> Result<(), Diagnostic> {
        if self.awaits_key() {
            return Err(no_text_key(location));
        }
        Limit::YamlNesting.check(self.open.len() + 1, || location.clone())?;
        let size = Size { nodes: 1, text: 0, nesting: 0 };
        self.pay(size, &location)?;
        if anchor != 0 {
            self.anchored.insert(anchor, None);
        }
        self.open.push(Open { location, anchor, size, holds });
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
        self.value(Node { location: open.location, quoted: false, kind }, size, open.anchor)
    }

    fn alias(&mut self, id: usize, location: Location) -> Result<(), Diagnostic> {
        if self.awaits_key() {
            return Err(no_text_key(location));
        }
        let Some(Some((_, size))) = self.anchored.get(&id) else {
            return Err(Diagnostic::new(location, "a copy (\"*\") is inside the value it copies")
                .expected("the value written out"));
        };
        let size = *size;
        Limit::YamlNesting.check(self.open.len() + size.nesting, || location.clone())?;
        self.pay(size, &location)?;
        match self.anchored.get(&id) {
            Some(Some((node, _))) => {
                let node = node.clone();
                self.value(node, size, 0)
            }
            _ => Ok(()),
        }
    }

    /// Adds a complete value to its parent, and stores it by its anchor.
    fn value(&mut self, node: Node, size: Size, anchor: usize) -> Result<(), Diagnostic> {
        if anchor != 0 {
            if self.awaits_key() {
                return Err(
                    Diagnostic::new(node.location, "a key has an \"&\" before it").expected("the key alone")
                );
            }
            // The copy stored for the aliases counts too.
            self.pay(size, &node.location)?;
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

    fn key(&mut self, text: &str, plain: bool, location: Location) -> Result<(), Diagnostic> {
        if plain && text == "<<" {
            return Err(Diagnostic::new(location, "is not supported: keys cannot be copied from elsewhere")
                .text(text)
                .expected("the keys written out"));
        }
        if text.trim().is_empty() || (plain && text == "~") {
            return Err(
                Diagnostic::new(location, "this colon has no key before it").expected("\"key: value\"")
            );
        }
        if let Some(Open { holds: Holds::Map { seen, key, .. }, .. }) = self.open.last_mut() {
            if let Some(first) = seen.insert(text.to_owned(), location.clone()) {
                let message = match first.line_or_row() {
                    Some(line) => format!("is given twice; the first is on line {line}"),
                    None => "is given twice".into(),
                };
                return Err(Diagnostic::new(location, message).text(text).expected("each key once"));
            }
            *key = Some(Key { text: text.to_owned(), location });
        }
        Ok(())
    }

    fn awaits_key(&self) -> bool {
        matches!(self.open.last(), Some(Open { holds: Holds::Map { key: None, .. }, .. }))
    }

    fn key_place(&self) -> Option<Location> {
        match self.open.last() {
            Some(Open { holds: Holds::Map { key: Some(key), .. }, .. }) => Some(key.location.clone()),
            _ => None,
        }
    }

    /// Counts a value against the limits before it is made.
    fn pay(&mut self, size: Size, location: &Location) -> Result<(), Diagnostic> {
        self.total.nodes += size.nodes;
        self.total.text += size.text;
        Limit::YamlNodes.check(self.total.nodes, || location.clone())?;
        Limit::YamlText.check(self.total.text, || location.clone())
    }

    /// Adds the size of a complete value to its parent.
    fn add_size(&mut self, size: Size) {
        if let Some(open) = self.open.last_mut() {
            open.size.nodes += size.nodes;
            open.size.text += size.text;
            open.size.nesting = open.size.nesting.max(size.nesting);
        }
    }
}

fn no_text_key(location: Location) -> Diagnostic {
    Diagnostic::new(location, "a list or a bracket is in the place of a key")
        .expected("\"key: value\", with quotes around a text that starts with a bracket")
}

#[cfg(test)]
mod tests;
