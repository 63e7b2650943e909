//! JSON forms and their JSON Schemas, both from the types in this module. Values are SI; `text` is in the reader's
//! units.

mod amended;
mod borrowed;
mod climate;
mod climates;
mod cold_spell;
mod course;
mod facts;
mod findings;
mod moves;
mod read;
mod remedies;
mod review;
mod schema;
mod since;
mod standard;
mod values;

pub use climates::{ClimatesFound, climates_json};
pub use cold_spell::cold_spell_json;
pub use read::read_json;
pub use review::json;
pub use schema::{climates_schema, cold_spell_schema, read_schema, review_schema, standard_schema};
pub use standard::standard_json;

pub(super) use values::number;

use super::page::is_obeyed;
use serde::Serialize;
use serde_json::ser::{Formatter, Serializer};
use std::io::{self, Write};

/// Version of the program, as every form states it.
pub(super) const PROGRAM: &str = env!("CARGO_PKG_VERSION");

/// Writes a document: a line for each key, and a line for each entry of a list directly below it.
pub(super) fn write(document: &impl Serialize, out: &mut dyn Write) -> io::Result<()> {
    document.serialize(&mut Serializer::with_formatter(&mut *out, Lines::default()))?;
    out.write_all(b"\n")
}

/// A document as text.
fn to_text(document: &impl Serialize) -> String {
    let mut bytes = Vec::new();
    // Memory takes every byte, and every key is a string.
    let _ = write(document, &mut bytes);
    String::from_utf8(bytes).unwrap_or_default()
}

/// Breaks lines in the document's own object and in the lists that are its values, and nowhere else.
#[derive(Default)]
struct Lines {
    depth: usize,
    has_entries: bool,
}

impl Lines {
    fn separate<W: ?Sized + Write>(&mut self, out: &mut W, first: bool, depth: usize) -> io::Result<()> {
        self.has_entries = true;
        if !first {
            out.write_all(b",")?;
        }
        match self.depth {
            depth_now if depth_now != depth => Ok(()),
            1 => out.write_all(b"\n  "),
            _ => out.write_all(b"\n    "),
        }
    }
}

impl Formatter for Lines {
    /// Characters that a terminal or a reader of text obeys are escaped, as JSON allows for any character.
    fn write_string_fragment<W: ?Sized + Write>(&mut self, out: &mut W, fragment: &str) -> io::Result<()> {
        let mut rest = fragment;
        while let Some(at) = rest.find(is_obeyed) {
            out.write_all(&rest.as_bytes()[..at])?;
            let mut units = [0; 2];
            let obeyed = rest[at..].chars().next().unwrap_or_default();
            for unit in obeyed.encode_utf16(&mut units) {
                write!(out, "\\u{unit:04x}")?;
            }
            rest = &rest[at + obeyed.len_utf8()..];
        }
        out.write_all(rest.as_bytes())
    }

    fn begin_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.depth += 1;
        out.write_all(b"{")
    }

    fn begin_object_key<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.separate(out, first, 1)
    }

    fn begin_object_value<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        out.write_all(if self.depth == 1 { b": " } else { b":" })
    }

    fn end_object<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.depth -= 1;
        out.write_all(if self.depth == 0 { b"\n}" } else { b"}" })
    }

    fn begin_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.depth += 1;
        self.has_entries = false;
        out.write_all(b"[")
    }

    fn begin_array_value<W: ?Sized + Write>(&mut self, out: &mut W, first: bool) -> io::Result<()> {
        self.separate(out, first, 2)
    }

    fn end_array<W: ?Sized + Write>(&mut self, out: &mut W) -> io::Result<()> {
        self.depth -= 1;
        out.write_all(if self.depth == 1 && self.has_entries { b"\n  ]" } else { b"]" })
    }
}
