//! The XML of a workbook's parts, event by event. Entities that a part declares are not resolved.

use std::borrow::Cow;
use std::io::BufRead;
use std::sync::Arc;

use quick_xml::events::{BytesStart, Event};
use quick_xml::name::QName;
use quick_xml::{Reader, XmlVersion};

use super::package::{Over, damaged};
use crate::diag::{Diagnostic, Location};
use crate::input::Limit;

/// A part of a workbook as it is read.
pub(super) struct Xml<R> {
    reader: Reader<R>,
    buffer: Vec<u8>,
    file: Arc<str>,
    part: String,
    depth: usize,
}

impl<R: BufRead> Xml<R> {
    pub(super) fn new(file: &Arc<str>, part: &str, from: R) -> Self {
        let mut reader = Reader::from_reader(from);
        reader.config_mut().expand_empty_elements = true;
        Self { reader, buffer: Vec::new(), file: file.clone(), part: part.to_owned(), depth: 0 }
    }

    /// The next event; an empty element is a start and an end.
    pub(super) fn next(&mut self) -> Result<Event<'_>, Diagnostic> {
        self.buffer.clear();
        let event = match self.reader.read_event_into(&mut self.buffer) {
            Ok(event) => event,
            Err(error) => return Err(refused(&self.file, &self.part, &error)),
        };
        match &event {
            Event::Start(_) => {
                self.depth += 1;
                Limit::XmlNesting.check(self.depth, || Location::whole(&self.file))?;
            }
            Event::End(_) => self.depth = self.depth.saturating_sub(1),
            // A part that ends inside an element is truncated.
            Event::Eof if self.depth > 0 => {
                return Err(damaged(&self.file, &format!("its part {} ends too soon", self.part)));
            }
            Event::DocType(_) => {
                return Err(Diagnostic::new(
                    Location::whole(&self.file),
                    "declares entities of its own, which no spreadsheet does; it is not read",
                )
                .expected("the workbook opened and saved again in a spreadsheet"));
            }
            _ => {}
        }
        Ok(event)
    }

    /// Reads past the end of the element that was just started.
    pub(super) fn skip(&mut self) -> Result<(), Diagnostic> {
        let outside = self.depth.saturating_sub(1);
        while self.depth > outside {
            if matches!(self.next()?, Event::Eof) {
                break;
            }
        }
        Ok(())
    }

    /// How many elements are open.
    pub(super) fn depth(&self) -> usize {
        self.depth
    }
}

fn refused(file: &str, part: &str, error: &quick_xml::Error) -> Diagnostic {
    if let quick_xml::Error::Io(error) = error
        && let Some(Over(limit)) = error.get_ref().and_then(|it| it.downcast_ref())
    {
        return limit.exceeded(Location::whole(file));
    }
    damaged(file, &format!("its part {part} cannot be read"))
}

/// The name of an element without its prefix.
pub(super) fn name<'e>(start: &'e BytesStart<'_>) -> &'e str {
    start.local_name().into_inner()
}

/// An attribute by its full name; `None` if it cannot be read.
pub(super) fn attribute(start: &BytesStart<'_>, key: &str) -> Option<String> {
    attribute_where(start, |it| it.into_inner() == key)
}

/// An attribute by its name without the prefix.
pub(super) fn attribute_named(start: &BytesStart<'_>, local: &str) -> Option<String> {
    attribute_where(start, |it| it.local_name().into_inner() == local)
}

fn attribute_where(start: &BytesStart<'_>, is_meant: impl Fn(QName<'_>) -> bool) -> Option<String> {
    let mut all = start.attributes();
    let found = all.with_checks(false).flatten().find(|it| is_meant(it.key))?;
    found.normalized_value(XmlVersion::Implicit1_0).ok().map(Cow::into_owned)
}

/// Whether an attribute is true.
pub(super) fn flag(start: &BytesStart<'_>, key: &str) -> bool {
    attribute(start, key).is_some_and(|it| matches!(it.as_str(), "1" | "true" | "on"))
}

/// Whether an element that switches something on says that it is off.
pub(super) fn is_off(start: &BytesStart<'_>) -> bool {
    attribute(start, "val").is_some_and(|it| matches!(it.as_str(), "0" | "false" | "off"))
}

/// Adds the text of an event. Unknown entities are left unchanged.
pub(super) fn add_text(text: &mut String, event: &Event<'_>) {
    match event {
        Event::Text(it) => text.push_str(&it.xml10_content()),
        Event::CData(it) => text.push_str(&it.xml10_content()),
        Event::GeneralRef(it) => match it.resolve_char_ref() {
            Ok(Some(character)) => text.push(character),
            _ => {
                let name: &str = it;
                match quick_xml::escape::resolve_predefined_entity(name) {
                    Some(known) => text.push_str(known),
                    None => text.push_str(&format!("&{name};")),
                }
            }
        },
        _ => {}
    }
}
