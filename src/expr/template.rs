//! Text with names in braces, as rules say things: `At {site.design_low} outdoors ...`. `{{` and `}}` are braces;
//! `{= 1/8 in}` is a figure that follows the reader's units.

use std::collections::BTreeSet;
use std::sync::Arc;

use super::source::{Source, Span};
use super::value::Slot;
use super::{Names, unknown_name};
use crate::diag::{Diagnostics, Location};
use crate::units;

/// A checked template.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    text: Arc<str>,
    parts: Vec<Part>,
}

/// A part of a template.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    /// As it stands.
    Text(Arc<str>),
    /// The value of a name.
    Slot(Slot),
}

impl Template {
    /// Checks a template. `place` is where its text starts; every problem is returned, in the order of the text.
    pub fn check(text: &str, place: &Location, names: &dyn Names) -> Result<Self, Diagnostics> {
        let source = Source { text, place };
        source.bounded("a shorter wording")?;
        let (mut parts, mut problems) = (Vec::new(), Diagnostics::new());
        let mut plain = String::new();
        let mut at = 0;
        while let Some(brace) = text[at..].find(['{', '}']).map(|more| at + more) {
            plain.push_str(&text[at..brace]);
            let (mark, rest) = text[brace..].split_at(1);
            if rest.starts_with(mark) {
                plain.push_str(mark);
                at = brace + 2;
                continue;
            }
            if mark == "}" {
                let span = Span { start: brace, end: brace + 1 };
                problems.push(source.problem(span, "closes nothing").expected("}} for a brace"));
                at = brace + 1;
                continue;
            }
            let next = rest.find(['{', '}']).unwrap_or(rest.len());
            if !rest[next..].starts_with('}') {
                at = brace + 1 + next;
                let span = Span { start: brace, end: at };
                let problem = source.problem(span, "has a brace that is not closed");
                problems.push(problem.expected("{{ for a brace"));
                continue;
            }
            let inside = &rest[..next];
            let start = brace + 1 + (next - inside.trim_start().len());
            let span = Span { start, end: start + inside.trim().len() };
            at = brace + 1 + next + 1;
            if let Some(written) = inside.strip_prefix('=') {
                // It stays in the text, which whoever prints it knows the reader's units for.
                if units::figure(written).is_err() {
                    let from = span.start + 1 + (written.len() - written.trim_start().len());
                    let span = Span { start: from, end: from + written.trim().len() };
                    let problem = source.problem(span, "is not a figure with a unit that is known");
                    problems.push(problem.expected("{= 1/8 in} or {= 32 °F}"));
                }
                plain.push_str(&text[brace..at]);
            } else if inside.trim().is_empty() {
                let span = Span { start: brace, end: at };
                problems.push(source.problem(span, "names nothing").expected("a name, or {{ for a brace"));
            } else if let Some((slot, _)) = names.find(inside.trim()) {
                if !plain.is_empty() {
                    parts.push(Part::Text(std::mem::take(&mut plain).into()));
                }
                parts.push(Part::Slot(slot));
            } else {
                problems.push(unknown_name(source, span, names));
            }
        }
        plain.push_str(&text[at..]);
        if !plain.is_empty() {
            parts.push(Part::Text(plain.into()));
        }
        if problems.is_empty() { Ok(Self { text: text.into(), parts }) } else { Err(problems) }
    }

    /// Its parts in order; no two texts stand side by side.
    pub fn parts(&self) -> &[Part] {
        &self.parts
    }

    /// Every name in it.
    pub fn slots(&self) -> BTreeSet<Slot> {
        self.parts
            .iter()
            .filter_map(|part| match part {
                Part::Slot(slot) => Some(*slot),
                Part::Text(_) => None,
            })
            .collect()
    }

    /// The text it was checked from.
    pub fn text(&self) -> &str {
        &self.text
    }
}
