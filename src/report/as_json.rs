//! Places, problems and values as they stand in every JSON, written straight out: a long schedule has half a million of them.

use super::json::{kind, number};
use super::words::{from, value};
use crate::diag::{Diagnostic, Location, Position, Span};
use crate::expr::Value as Known;
use crate::facts::Origin;
use crate::review::{Absence, Shown};
use crate::units::{System, figures, si_symbol};
use serde::ser::{Serialize, SerializeMap, Serializer};
use std::io::{self, Write};

/// A place, with the text that stands there where there is one.
pub(super) struct LocationJson<'r>(pub &'r Location, pub Option<&'r str>);

impl Serialize for LocationJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self(place, text) = self;
        let mut out = to.serialize_map(None)?;
        out.serialize_entry("file", &place.file)?;
        match &place.position {
            Position::Whole => {}
            Position::Line(Span { line, start, .. }) => {
                out.serialize_entry("line", line)?;
                out.serialize_entry("column", start)?;
            }
            Position::Row(row, column) => {
                out.serialize_entry("row", row)?;
                if let Some(column) = column {
                    out.serialize_entry("column", column)?;
                }
            }
        }
        if let Some(text) = text {
            out.serialize_entry("text", text)?;
        }
        out.end()
    }
}

/// A problem, and the line it is told in.
pub(super) struct DiagnosticJson<'r>(pub &'r Diagnostic);

impl Serialize for DiagnosticJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self(problem) = self;
        let mut out = to.serialize_map(None)?;
        out.serialize_entry("at", &LocationJson(&problem.location, problem.text.as_deref()))?;
        out.serialize_entry("what", &problem.message)?;
        out.serialize_entry("expected", &problem.expected)?;
        out.serialize_entry("nearest", &problem.nearest)?;
        out.serialize_entry("text", &problem.to_string())?;
        out.end()
    }
}

/// A value, how it reads in the reader's units, and where it is from.
pub(super) struct ShownJson<'r>(pub &'r Shown, pub System);

impl Serialize for ShownJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let Self(shown, system) = self;
        let mut out = to.serialize_map(None)?;
        match &shown.value {
            Ok(Known::Quantity(quantity)) => {
                out.serialize_entry("value", &number(quantity.is))?;
                if quantity.is_banded() {
                    out.serialize_entry("low", &number(quantity.low))?;
                    out.serialize_entry("high", &number(quantity.high))?;
                }
                out.serialize_entry("unit", &si_symbol(quantity.measure))?;
                out.serialize_entry("kind", &kind(quantity.measure))?;
            }
            Ok(Known::Text(text)) => out.serialize_entry("value", text)?,
            Ok(Known::YesNo(yes)) => out.serialize_entry("value", yes)?,
            Ok(Known::List(words)) => out.serialize_entry("value", words)?,
            Err(absence) => {
                out.serialize_entry("value", &())?;
                out.serialize_entry("absent", &absent(shown, absence, *system))?;
            }
        }
        out.serialize_entry("text", &value(shown, *system))?;
        // A value that nobody stated spans the plausible answers.
        let origin = match &shown.origin {
            Origin::Unknown if shown.value.is_ok() => &Origin::Supposed,
            origin => origin,
        };
        out.serialize_entry("from", from(origin))?;
        match &shown.origin {
            Origin::Stated(at, text)
            | Origin::Answered(at, text)
            | Origin::Product(at, text)
            | Origin::Job(at, text)
            | Origin::Unreadable(at, text) => out.serialize_entry("at", &LocationJson(at, Some(text)))?,
            Origin::Assumed(why) | Origin::Published(why) => {
                out.serialize_entry("why", &figures(why, *system))?;
            }
            Origin::Computed(used) => {
                let names = used.iter().filter_map(|slot| crate::facts::entry(*slot)).map(|it| it.def.name);
                out.serialize_entry("used", &names.collect::<Vec<_>>())?;
            }
            Origin::Supposed | Origin::Setting | Origin::Unknown => {}
        }
        out.end()
    }
}

/// Why a fact has no value. One that waits for others says for which.
fn absent(shown: &Shown, absence: &Absence, system: System) -> String {
    match (absence, &shown.origin) {
        (Absence::Because(why), _) => figures(why, system),
        (_, Origin::Unreadable(..)) => "the cell could not be read".into(),
        (Absence::Missing(headings), _) if **headings == [shown.heading.clone()] => "not stated".into(),
        (Absence::Missing(_), _) => value(shown, system),
    }
}

/// An object of many lines, one for every key, written as it is made.
pub(super) struct Lines<'o> {
    out: &'o mut dyn Write,
    any: bool,
}

impl<'o> Lines<'o> {
    pub(super) fn start(out: &'o mut dyn Write) -> io::Result<Self> {
        out.write_all(b"{\n")?;
        Ok(Self { out, any: false })
    }

    fn name(&mut self, key: &str) -> io::Result<()> {
        let comma = if self.any { ",\n" } else { "" };
        self.any = true;
        write!(self.out, "{comma}  \"{key}\": ")
    }

    pub(super) fn key(&mut self, key: &str, value: &impl Serialize) -> io::Result<()> {
        self.name(key)?;
        Ok(serde_json::to_writer(&mut *self.out, value)?)
    }

    /// A list on the key's own line.
    pub(super) fn list<T: Serialize>(
        &mut self,
        key: &str,
        values: impl Iterator<Item = T>,
    ) -> io::Result<()> {
        self.name(key)?;
        Ok(serde_json::Serializer::new(&mut *self.out).collect_seq(values)?)
    }

    /// A list with a line for every one of it.
    pub(super) fn lines<T: Serialize>(
        &mut self,
        key: &str,
        values: impl Iterator<Item = T>,
    ) -> io::Result<()> {
        self.name(key)?;
        self.out.write_all(b"[\n    ")?;
        for (index, value) in values.enumerate() {
            self.out.write_all(if index == 0 { b"" } else { b",\n    " })?;
            serde_json::to_writer(&mut *self.out, &value)?;
        }
        self.out.write_all(b"\n  ]")
    }

    pub(super) fn end(self) -> io::Result<()> {
        self.out.write_all(b"\n}\n")
    }
}
