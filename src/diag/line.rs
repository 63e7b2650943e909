//! The line a problem stands on, repeated in a note under it.

use super::{Diagnostic, Position};

/// Most characters of a note, its own words included: a page is 80 wide, and a note is set in.
const MOST: usize = 76;
/// Most characters that name the spot.
const MOST_OF_SPOT: usize = 16;

/// Gives every problem that stands on a line of this file that line.
pub fn quote(problems: &mut [Diagnostic], file: &str, text: &str) {
    let here = |it: &&mut Diagnostic| &*it.place.file == file && it.line.is_none();
    let mut lines: Option<Vec<&str>> = None;
    for problem in problems.iter_mut().filter(here) {
        let Position::Line(number, column) = problem.place.spot else { continue };
        let lines = lines.get_or_insert_with(|| lines_of(text));
        let (number, column) = unfolded(lines, number, column, problem.text.as_deref());
        problem.place.spot = Position::Line(number, column);
        problem.line = lines.get(index(number)).map(|line| Box::from(*line));
    }
}

/// A count from 1 as an index.
fn index(count: u32) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX).wrapping_sub(1)
}

/// Where a spot beyond the end of its line stands: a text folded over several lines is read as one, each line joined to
/// the one before by a space. Where the text is not found there, the spot is left as it is.
fn unfolded(lines: &[&str], number: u32, column: u32, text: Option<&str>) -> (u32, u32) {
    let (mut at, mut across) = (index(number), index(column));
    while let Some(line) = lines.get(at) {
        let line = line.trim_end();
        let length = line.chars().count();
        if across <= length {
            let rest: String = line.chars().skip(across).collect();
            let found = text
                .is_none_or(|text| rest.starts_with(text) || (!rest.is_empty() && text.starts_with(&rest)));
            let count = |n: usize| u32::try_from(n).unwrap_or(u32::MAX).saturating_add(1);
            return if found { (count(at), count(across)) } else { (number, column) };
        }
        let indent =
            lines.get(at + 1).map_or(0, |next| next.chars().take_while(|c| c.is_whitespace()).count());
        across = across - length - 1 + indent;
        at += 1;
    }
    (number, column)
}

/// The lines of a text, whatever ends them, without a byte order mark.
pub fn lines_of(text: &str) -> Vec<&str> {
    let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
    let mut lines: Vec<&str> = text.split('\n').collect();
    if text.contains('\r') {
        lines = lines.iter().flat_map(|line| line.strip_suffix('\r').unwrap_or(line).split('\r')).collect();
    }
    lines
}

impl Diagnostic {
    /// The line it stands on as a note to set under it: `the line reads: margin: 8 °G`. Where the problem does not
    /// quote what stands at the spot, or the line holds it twice, the note says where in the line it is. A long line is
    /// cut around the spot.
    pub fn note(&self) -> Option<String> {
        let (Position::Line(_, column), Some(line)) = (&self.place.spot, &self.line) else { return None };
        let chars: Vec<char> = line.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        let start = chars.iter().position(|c| !c.is_whitespace())?;
        let end = chars.iter().rposition(|c| !c.is_whitespace())? + 1;
        let spot = usize::try_from(*column).unwrap_or(usize::MAX).saturating_sub(1).clamp(start, end);
        let quoted = self.text.as_deref().is_some_and(|text| line.match_indices(text).count() == 1);
        // The dash of a list is no part of what stands there.
        let first = chars[start..spot].iter().all(|c| *c == '-' || c.is_whitespace());
        let says = if quoted || first {
            "the line reads: ".to_owned()
        } else if spot == end {
            "at the end of the line: ".to_owned()
        } else {
            let here = part(&chars, spot, end.min(spot + MOST_OF_SPOT), end);
            let mark = if here.contains('"') { '\'' } else { '"' };
            format!("at {mark}{here}{mark} in the line: ")
        };
        let room = MOST.saturating_sub(says.chars().count());
        let (from, to) = if end - start <= room {
            (start, end)
        } else {
            // Two of the characters may be marks of omission.
            let shown = room - 2;
            let from = spot.saturating_sub(room / 3).clamp(start, end - shown);
            (from, from + shown)
        };
        let before = if from > start { "…" } else { "" };
        Some(format!("{says}{before}{}", part(&chars, from, to, end)))
    }
}

/// Some characters, with a mark where they are not the last.
fn part(chars: &[char], from: usize, to: usize, end: usize) -> String {
    let text: String = chars[from..to].iter().collect();
    if to < end { format!("{}…", text.trim_end()) } else { text }
}

#[cfg(test)]
mod tests {
    use super::super::Location;
    use super::*;

    fn note(text: &str, line: u32, column: u32, quoted: Option<&str>) -> Option<String> {
        let mut problem = Diagnostic::new(Location::line(&"a.yaml".into(), line, column), "is wrong");
        problem.text = quoted.map(str::to_owned);
        let mut problems = [problem];
        quote(&mut problems, "a.yaml", text);
        problems[0].note()
    }

    #[test]
    fn a_line_is_repeated_without_its_indentation_and_its_end() {
        let text = "a: 1\r\n  margin: 8 °G  \r\nb: 2\n";
        assert_eq!(note(text, 2, 11, Some("8 °G")).unwrap(), "the line reads: margin: 8 °G");
        assert_eq!(note("\u{FEFF}a: 1\rb: x\r", 2, 4, Some("x")).unwrap(), "the line reads: b: x");
    }

    #[test]
    fn a_spot_that_the_problem_does_not_quote_is_named() {
        let line = "job: Kestrel: phase 2";
        assert_eq!(note(line, 1, 13, None).unwrap(), format!("at \": phase 2\" in the line: {line}"));
        assert_eq!(note("a: x = x", 1, 8, Some("x")).unwrap(), "at \"x\" in the line: a: x = x");
        assert_eq!(note("a: [1, 2", 1, 9, None).unwrap(), "at the end of the line: a: [1, 2");
        assert_eq!(note("  a: [1, 2", 1, 3, None).unwrap(), "the line reads: a: [1, 2");
    }

    #[test]
    fn a_long_line_is_cut_around_the_spot_and_fits_the_page() {
        let line = format!("{}here{}", "left ".repeat(40), " right".repeat(40));
        let note = note(&line, 1, 201, Some("here")).unwrap();
        assert!(
            note.starts_with("the line reads: …") && note.ends_with('…') && note.contains(" here "),
            "{note}"
        );
        assert!(note.chars().count() <= 76, "{note}");
    }

    #[test]
    fn a_spot_in_a_text_folded_over_lines_is_found_on_its_own_line() {
        let text = "needs: >-\n  a >= 8 in\n  and b = 1\nwhy: x\n";
        let at = |column, quoted: Option<&str>| {
            let mut problem = Diagnostic::new(Location::line(&"a.yaml".into(), 2, column), "is wrong");
            problem.text = quoted.map(str::to_owned);
            let mut problems = [problem];
            quote(&mut problems, "a.yaml", text);
            (problems[0].place.spot.clone(), problems[0].note())
        };
        // "a >= 8 in and b = 1" starts at column 3, so that its "b" is at 17.
        let note = Some("the line reads: and b = 1".to_owned());
        assert_eq!(at(17, Some("b")), (Position::Line(3, 7), note.clone()));
        assert_eq!(at(13, Some("and b")), (Position::Line(3, 3), note));
        // Not where it says: left where it was.
        assert_eq!(at(17, Some("c")).0, Position::Line(2, 17));
    }

    #[test]
    fn nothing_is_repeated_of_a_blank_line_or_one_that_is_not_there() {
        assert_eq!(note("a: 1\n   \n", 2, 1, None), None);
        assert_eq!(note("a: 1\n", 9, 1, None), None);
        let mut problems = [Diagnostic::new(Location::line(&"b.yaml".into(), 1, 1), "is wrong")];
        quote(&mut problems, "a.yaml", "a: 1\n");
        assert_eq!(problems[0].note(), None);
    }
}
