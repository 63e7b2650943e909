//! Source lines: adds them to diagnostics, and shows them with a caret under the text that is meant.

use super::{Diagnostic, Position, Span};

/// Longest note in characters: a page is 80 wide, and a note is indented.
const MOST: usize = 76;
const LABEL: &str = "source line: ";

/// Adds the source line to every diagnostic that is on a line of this file.
pub fn quote(diagnostics: &mut [Diagnostic], file: &str, text: &str) {
    let mut lines: Option<Vec<&str>> = None;
    for diagnostic in diagnostics {
        let Position::Line(span) = diagnostic.location.position else { continue };
        if &*diagnostic.location.file != file || diagnostic.line.is_some() {
            continue;
        }
        let lines = lines.get_or_insert_with(|| lines_of(text));
        let span = unfold(lines, span, diagnostic.text.as_deref());
        diagnostic.location.position = Position::Line(span);
        diagnostic.line = lines.get(index(span.line)).map(|line| Box::from(*line));
    }
}

/// A count from 1 as an index.
fn index(count: u32) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX).wrapping_sub(1)
}

fn count(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX).saturating_add(1)
}

/// The real span of one that starts beyond the end of its line: YAML joins the lines of a folded text by spaces. Returns
/// the span unchanged if the diagnostic's text is not at the place found.
fn unfold(lines: &[&str], span: Span, text: Option<&str>) -> Span {
    let (mut at, mut start) = (index(span.line), index(span.start));
    while let Some(line) = lines.get(at) {
        let line = line.trim_end();
        let length = line.chars().count();
        if start <= length {
            let rest: String = line.chars().skip(start).collect();
            let is_there = text
                .is_none_or(|text| rest.starts_with(text) || (!rest.is_empty() && text.starts_with(&rest)));
            if at == index(span.line) || !is_there {
                return span;
            }
            let end = length.min(start + index(span.length() + 1));
            return Span { line: count(at), start: count(start), end: count(end) };
        }
        let indent =
            lines.get(at + 1).map_or(0, |next| next.chars().take_while(|c| c.is_whitespace()).count());
        start = start - length - 1 + indent;
        at += 1;
    }
    span
}

/// The lines of a text with any line ends, without a byte order mark.
pub fn lines_of(text: &str) -> Vec<&str> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let mut lines: Vec<&str> = text.split('\n').collect();
    if text.contains('\r') {
        lines = lines.iter().flat_map(|line| line.strip_suffix('\r').unwrap_or(line).split('\r')).collect();
    }
    lines
}

impl Diagnostic {
    /// The source line to print under the message, `source line: margin: 8 °G`, and a line of carets under the text that
    /// is meant. A long line is cut around it. No caret if only the start is known and nothing but dashes is before it.
    pub fn note(&self) -> Vec<String> {
        let (Position::Line(span), Some(line)) = (&self.location.position, &self.line) else {
            return Vec::new();
        };
        let chars: Vec<char> = line.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let Some(first) = chars.iter().position(|c| !c.is_whitespace()) else { return Vec::new() };
        let end = chars.iter().rposition(|c| !c.is_whitespace()).unwrap_or(first) + 1;
        let spot = index(span.start).clamp(first, end);
        let room = MOST - LABEL.len();
        let (from, to) = if end - first <= room {
            (first, end)
        } else {
            // Two of the characters may be marks of omission.
            let shown = room - 2;
            let from = spot.saturating_sub(room / 3).clamp(first, end - shown);
            (from, from + shown)
        };
        let before = if from > first { "…" } else { "" };
        let after = if to < end { "…" } else { "" };
        let text: String = chars[from..to].iter().collect();
        let mut note = vec![format!("{LABEL}{before}{}{after}", text.trim_end())];
        let is_first = chars[first..spot].iter().all(|c| *c == '-' || c.is_whitespace());
        if (span.length() > 0 || !is_first) && index(span.start) <= end {
            let carets = index(span.length() + 1).min(to.saturating_sub(spot)).max(1);
            let indent = LABEL.len() + before.chars().count() + spot - from;
            note.push(format!("{}{}", " ".repeat(indent), "^".repeat(carets)));
        }
        note
    }
}

#[cfg(test)]
mod tests {
    use super::super::Location;
    use super::*;

    fn note(text: &str, line: u32, start: u32, end: u32) -> Vec<String> {
        let location = Location::span(&"a.yaml".into(), Span { line, start, end });
        let mut diagnostics = [Diagnostic::new(location, "is wrong")];
        quote(&mut diagnostics, "a.yaml", text);
        diagnostics[0].note()
    }

    #[test]
    fn a_source_line_is_shown_without_indentation() {
        let text = "a: 1\r\n  margin: 8 °G  \r\nb: 2\n";
        assert_eq!(note(text, 2, 11, 15), ["source line: margin: 8 °G", "                     ^^^^"]);
        assert_eq!(note("\u{FEFF}a: 1\rb: x\r", 2, 4, 5), ["source line: b: x", "                ^"]);
    }

    #[test]
    fn a_start_alone_gets_one_caret_unless_it_is_first() {
        assert_eq!(note("a: [1, 2", 1, 9, 9), ["source line: a: [1, 2", "                     ^"]);
        assert_eq!(note("a: x = x", 1, 8, 8), ["source line: a: x = x", "                    ^"]);
        assert_eq!(note("  - a: [1, 2", 1, 5, 5), ["source line: - a: [1, 2"]);
    }

    #[test]
    fn a_long_line_is_cut_around_the_span() {
        let line = format!("{}here{}", "left ".repeat(40), " right".repeat(40));
        let note = note(&line, 1, 201, 205);
        assert!(note[0].starts_with("source line: …") && note[0].ends_with('…'), "{note:?}");
        assert!(note.iter().all(|line| line.chars().count() <= 76), "{note:?}");
        let caret = note[1].find('^').unwrap();
        let under: String = note[0].chars().skip(caret).take(note[1].len() - caret).collect();
        assert_eq!(under, "here");
    }

    #[test]
    fn a_span_in_a_folded_text_is_found_on_its_own_line() {
        let text = "needs: >-\n  a >= 8 in\n  and b = 1\nwhy: x\n";
        let at = |start, text_meant: &str| {
            let end = start + u32::try_from(text_meant.len()).unwrap();
            let location = Location::span(&"a.yaml".into(), Span { line: 2, start, end });
            let mut diagnostics = [Diagnostic::new(location, "is wrong").text(text_meant)];
            quote(&mut diagnostics, "a.yaml", text);
            (diagnostics[0].location.position.clone(), diagnostics[0].note())
        };
        // "a >= 8 in and b = 1" starts at column 3, so its "b" is at 17.
        let (position, lines) = at(17, "b");
        assert_eq!(position, Position::Line(Span { line: 3, start: 7, end: 8 }));
        assert_eq!(lines, ["source line: and b = 1", "                 ^"]);
        assert_eq!(at(13, "and b").0, Position::Line(Span { line: 3, start: 3, end: 8 }));
        // Not at the place found: unchanged.
        assert_eq!(at(17, "c").0, Position::Line(Span { line: 2, start: 17, end: 18 }));
    }

    #[test]
    fn a_blank_or_missing_line_has_no_note() {
        assert!(note("a: 1\n   \n", 2, 1, 1).is_empty());
        assert!(note("a: 1\n", 9, 1, 1).is_empty());
        let mut diagnostics = [Diagnostic::new(Location::line(&"b.yaml".into(), 1, 1), "is wrong")];
        quote(&mut diagnostics, "a.yaml", "a: 1\n");
        assert!(diagnostics[0].note().is_empty());
    }
}
