//! The likely cause of a YAML syntax error, judged by the lines around it. Used only after an error, so that a wrong
//! guess can affect a message but never a value.

use std::sync::Arc;

use granit_parser::Marker;

use crate::diag::{Diagnostic, Location, lines_of};

/// The lines of the file and the position of the error.
pub(super) struct Around<'t> {
    file: &'t Arc<str>,
    lines: Vec<&'t str>,
    /// From 0.
    line: usize,
    /// In characters, from 0.
    column: usize,
}

impl<'t> Around<'t> {
    pub fn new(file: &'t Arc<str>, text: &'t str, mark: &Marker) -> Self {
        Self { file, lines: lines_of(text), line: mark.line().saturating_sub(1), column: mark.col() }
    }

    fn text(&self, line: usize) -> &'t str {
        self.lines.get(line).copied().unwrap_or_default()
    }

    /// The last line before another that has more than a comment.
    fn before(&self, line: usize) -> Option<usize> {
        (0..line.min(self.lines.len())).rev().find(|at| holds_something(self.lines[*at]))
    }

    fn at(&self, line: usize, column: usize) -> Location {
        let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX).saturating_add(1);
        Location::line(self.file, count(line), count(column))
    }

    /// The text from the position to the end of the value: of its line, or of its brackets.
    fn value(&self) -> &'t str {
        let line = self.text(self.line);
        let start = line.char_indices().nth(self.column).map_or(line.len(), |(at, _)| at);
        let bracketed = line[..start].contains(['{', '[']);
        let rest = &line[start..];
        let end = if bracketed { rest.find([',', '}', ']']) } else { rest.find(" #") };
        rest[..end.unwrap_or(rest.len())].trim_end()
    }
}

fn holds_something(line: &str) -> bool {
    let text = line.trim_start();
    !text.is_empty() && !text.starts_with('#') && !text.starts_with("---")
}

fn indent(line: &str) -> usize {
    line.chars().take_while(|c| *c == ' ').count()
}

/// Where the text of an entry starts, after the dashes of a list.
fn content(line: &str) -> usize {
    let mut at = indent(line);
    while let Some(rest) = line.get(at..).and_then(|it| it.strip_prefix("- ")) {
        at += 2 + indent(rest);
    }
    at
}

fn spaces(count: usize) -> String {
    if count == 1 { "1 space".into() } else { format!("{count} spaces") }
}

/// A text in quotes that it does not contain.
fn in_quotes(text: &str) -> String {
    let text = text.trim();
    if text.contains('\'') && !text.contains(['"', '\\']) {
        format!("\"{text}\"")
    } else {
        format!("'{}'", text.replace('\'', "''"))
    }
}

/// A tab before the text of the line, or of the next one if the parser is still on the line before.
pub(super) fn tab(around: &Around<'_>) -> Option<Diagnostic> {
    [around.line, around.line + 1].into_iter().find_map(|line| {
        let text = around.text(line);
        let column = text.chars().take_while(|c| c.is_whitespace()).position(|c| c == '\t')?;
        holds_something(text).then(|| {
            Diagnostic::new(around.at(line, column), "the line is indented with a tab")
                .expected("spaces: tabs are not allowed in indentation")
        })
    })
}

/// `climate:dallas-tx`, on the line or on the one before.
pub(super) fn no_space(around: &Around<'_>) -> Option<Diagnostic> {
    [Some(around.line), around.before(around.line)].into_iter().flatten().find_map(|line| {
        let text = around.text(line);
        let start = content(text);
        let entry = text.get(start..)?.trim_end();
        let (key, value) = entry.split_once(':')?;
        let is_key = key.starts_with(char::is_alphabetic)
            && key.chars().all(|c| c.is_alphanumeric() || " _-./".contains(c));
        let joined = !value.is_empty() && !value.starts_with([' ', '/']);
        (is_key && joined).then(|| {
            Diagnostic::new(around.at(line, start), "has no space after its colon")
                .text(entry)
                .expected(format!("\"{key}: {value}\""))
        })
    })
}

/// `job: Kestrel: phase 2`.
pub(super) fn second_colon(around: &Around<'_>) -> Option<Diagnostic> {
    let line = around.text(around.line);
    let entry = line.get(content(line)..)?;
    let (key, value) = entry.split_once(": ")?;
    // The colon in error is not the key's.
    let first = content(line) + key.chars().count();
    (around.column > first).then(|| {
        let location = around.at(around.line, around.column);
        Diagnostic::new(location, format!("the text after \"{}:\" has a second colon", key.trim()))
            .expected(format!("quotes around the text, {}, or a line for each key", in_quotes(value)))
    })
}

/// A key below a line that already has a value, and indented more.
pub(super) fn too_deep(around: &Around<'_>) -> Option<Diagnostic> {
    let line = around.text(around.line);
    let above = around.before(around.line)?;
    let (own, other) = (content(line), content(around.text(above)));
    (own > other).then(|| {
        let what = format!(
            "the line is indented by {} as a part of line {}, which already has a value",
            spaces(own),
            above + 1
        );
        Diagnostic::new(around.at(around.line, own), what).expected(format!(
            "{}, as line {}",
            spaces(other),
            above + 1
        ))
    })
}

/// `says: {outlet.mark} is short`: brackets closed, and a text after them.
pub(super) fn text_after(around: &Around<'_>) -> Option<Diagnostic> {
    let line = around.text(around.line);
    let (key, value) = line.get(content(line)..)?.split_once(": ")?;
    let opens = value.trim_start().starts_with(['{', '[', '"', '\'']);
    let start = content(line) + key.chars().count();
    (opens && around.column > start).then(|| {
        Diagnostic::new(around.at(around.line, around.column), "the text continues after its closing bracket")
            .expected(format!("quotes around the whole text, {}", in_quotes(value)))
    })
}

/// Indentation that matches no line above, or a line in a list that is not an entry.
pub(super) fn indentation(around: &Around<'_>) -> Option<Diagnostic> {
    let line = around.text(around.line);
    let own = indent(line);
    let mut fits: Vec<(usize, usize)> = Vec::new();
    let (mut at, mut least) = (around.line, usize::MAX);
    while let Some(above) = around.before(at) {
        let text = around.text(above);
        for depth in [content(text), indent(text)] {
            if depth < least {
                fits.push((depth, above + 1));
                least = depth;
            }
        }
        at = above;
    }
    let location = || around.at(around.line, own);
    if let Some((_, above)) = fits.iter().find(|(depth, _)| *depth == own) {
        let is_entry = |text: &str| text.trim_start().starts_with("- ");
        let (list, entry) = (is_entry(around.text(above - 1)), is_entry(line));
        let (what, expected) = match (list, entry) {
            (true, false) => ("the lines above it are a list, and this one has no dash", "\"- \" before it"),
            (false, true) => ("the lines above it are keys, and this one has a dash", "\"key: value\""),
            _ => return None,
        };
        return Some(
            Diagnostic::new(location(), what).expected(format!("{expected}, or the spaces of another line")),
        );
    }
    // The nearest on either side are likely.
    fits.sort_unstable();
    let deeper = fits.partition_point(|(depth, _)| *depth < own);
    let fits = &fits[deeper.saturating_sub(1)..fits.len().min(deeper + 1)];
    let ways: Vec<String> = match fits {
        // An item of a list, or its dash.
        [(dash, one), (text, other)] if one == other => {
            vec![format!("{dash} or {} as line {one}", spaces(*text))]
        }
        _ => fits.iter().map(|(depth, above)| format!("{} as line {above}", spaces(*depth))).collect(),
    };
    let what = format!("the line is indented by {}, which matches no line above it", spaces(own));
    (!ways.is_empty()).then(|| Diagnostic::new(location(), what).expected(ways.join(", or ")))
}

/// `%20`, `@home`, `*new* wing`: a character that unquoted text cannot start with.
pub(super) fn opening_sign(around: &Around<'_>) -> Option<Diagnostic> {
    let value = around.value();
    let sign = value.chars().next().filter(|it| !it.is_control())?;
    let location = around.at(around.line, around.column);
    Some(
        Diagnostic::new(location, format!("starts with \"{sign}\", which only quoted text may"))
            .text(value)
            .expected(in_quotes(value)),
    )
}

/// A quote of an earlier line, closed by the first quote of this line.
pub(super) fn open_quote(around: &Around<'_>, quote: char) -> Option<Diagnostic> {
    let count = |text: &str| text.chars().filter(|c| *c == quote).count();
    let until: String = around.text(around.line).chars().take(around.column).collect();
    if count(&until) % 2 == 0 {
        return None;
    }
    // An opening quote starts a value of this line.
    let opened = (0..around.line).rev().find(|at| count(around.text(*at)) % 2 == 1)?;
    let text = around.text(opened);
    let column = text.chars().position(|c| c == quote)?;
    Some(
        Diagnostic::new(
            around.at(opened, column),
            format!("a quote is not closed on this line and continues to line {}", around.line + 1),
        )
        .expected("the same quote after the text"),
    )
}
