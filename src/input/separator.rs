//! Finds the separator of a text table, and whether decimals are written with commas.

use super::about::Decimals;
use super::cells::Row;

const CANDIDATES: [u8; 4] = [b',', b'\t', b';', b'|'];
/// Lines examined: enough for a title block and some rows.
const LOOKED_AT: usize = 50;

/// The candidate that occurs equally often in most of the first lines; of several, the most frequent.
pub(super) fn find(text: &str) -> u8 {
    find_counted(text).0
}

/// The same, with how many of the first lines agree.
pub(super) fn find_counted(text: &str) -> (u8, usize) {
    let mut lines: Vec<[usize; 4]> = vec![[0; 4]];
    let bytes = text.as_bytes();
    let ends_cell = |byte: Option<&u8>| byte.is_none_or(|it| CANDIDATES.contains(it) || b"\r\n".contains(it));
    let (mut quoted, mut before) = (false, None);
    for (at, byte) in bytes.iter().enumerate() {
        match byte {
            // A quote opens at the start of a cell and closes at its end; within a cell it is an inch mark.
            b'"' if quoted => quoted = !ends_cell(bytes.get(at + 1)),
            b'"' if ends_cell(before) => quoted = true,
            b'\n' | b'\r' if !quoted => {
                if lines.len() == LOOKED_AT {
                    break;
                }
                lines.push([0; 4]);
            }
            _ if quoted => {}
            _ => {
                if let (Some(i), Some(line)) = (CANDIDATES.iter().position(|it| it == byte), lines.last_mut())
                {
                    line[i] += 1;
                }
            }
        }
        before = Some(byte);
    }
    // How many lines agree on a count, and the count.
    let agreement = |i: usize| {
        let counts = lines.iter().map(|line| line[i]).filter(|count| *count > 0);
        counts.clone().map(|count| (counts.clone().filter(|it| *it == count).count(), count)).max()
    };
    let mut best = (0, None);
    for i in 0..CANDIDATES.len() {
        let found = agreement(i);
        if found > best.1 {
            best = (i, found);
        }
    }
    (CANDIDATES[best.0], best.1.map_or(0, |(lines, _)| lines))
}

/// How a table is written, if not with commas and points.
pub(super) fn written(separator: u8, decimals: Decimals) -> Vec<&'static str> {
    let parted = match separator {
        b';' => Some("semicolons"),
        b'\t' => Some("tabs"),
        b'|' => Some("bars"),
        _ => None,
    };
    parted.into_iter().chain((decimals == Decimals::Comma).then_some("decimal commas")).collect()
}

/// A first line `sep=;`, with which spreadsheets declare the separator: the character, and where the table starts. It
/// is not a row.
pub(super) fn declared(text: &str) -> Option<(u8, usize)> {
    let sign =
        text.strip_prefix("sep=").and_then(|it| it.bytes().next()).filter(|it| CANDIDATES.contains(it))?;
    let rest = &text["sep=".len() + 1..];
    let end = if rest.starts_with("\r\n") { 2 } else { usize::from(rest.starts_with(['\n', '\r'])) };
    (end > 0).then_some((sign, "sep=".len() + 1 + end))
}

/// Decimals have commas if the separator is another character, some number can only be read that way, and none has a
/// point.
pub(super) fn decimals(rows: &[Row], separator: u8) -> Decimals {
    let cells = || rows.iter().flat_map(|row| row.cells.iter());
    let has_point = |text: &String| between_digits(text, '.').is_some();
    let is_plain =
        |text: &String| between_digits(text, ',').is_some_and(|[before, after]| !is_group(before, after));
    if separator != b',' && cells().any(is_plain) && !cells().any(has_point) {
        Decimals::Comma
    } else {
        Decimals::Point
    }
}

/// Whether three digits after a sign may be a group of thousands.
fn is_group(before: &str, after: &str) -> bool {
    after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0')
}

/// The digits before and after the only such sign of a cell that starts with a number.
fn between_digits(text: &str, sign: char) -> Option<[&str; 2]> {
    let text = text.trim().trim_start_matches(['-', '+', '−']);
    let (before, rest) = text.split_once(sign)?;
    let after = rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    let is_number = !before.is_empty() && before.bytes().all(|it| it.is_ascii_digit()) && after > 0;
    // A date or an edition has more of them.
    (is_number && !rest[after..].starts_with(sign)).then_some([before, &rest[..after]])
}

/// The text of a quantity with a decimal point; `None` if a comma may also be a thousands separator.
pub fn with_point(text: &str, decimals: Decimals) -> Option<std::borrow::Cow<'_, str>> {
    let is_comma = |at: usize| {
        let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        digit(text[..at].chars().next_back()) && digit(text[at + 1..].chars().next())
    };
    let mut commas = text.match_indices(',').map(|(at, _)| at).filter(|at| is_comma(*at));
    let Some(first) = commas.next() else { return Some(text.into()) };
    let [before, after] = between_digits(text, ',')?;
    if decimals == Decimals::Point || commas.next().is_some() || is_group(before, after) {
        return None;
    }
    Some(format!("{}.{}", &text[..first], &text[first + 1..]).into())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_title_with_a_comma_does_not_hide_what_separates_the_cells() {
        assert_eq!(find("Outlets, level 1\n\nMark;Length\nHB-1;8\nHB-2;10\n"), b';');
        assert_eq!(find("Mark;A;B\nHB-1;0,75;8,5\nHB-2;0,75;8,5\n"), b';');
        assert_eq!(find("Mark,Size\nHB-1,3/4\" x 8\"\nHB-2,\"1\"\" a;b\"\n"), b',');
    }

    #[test]
    fn a_comma_is_a_decimal_only_where_the_file_is_plainly_so() {
        let rows =
            |cells: &[&str]| vec![Row { number: 1, cells: cells.iter().map(|it| (*it).into()).collect() }];
        assert_eq!(decimals(&rows(&["HB-1", "0,75 in"]), b';'), Decimals::Comma);
        assert_eq!(decimals(&rows(&["HB-1", "0,75"]), b','), Decimals::Point);
        assert_eq!(decimals(&rows(&["HB-1", "1,500"]), b';'), Decimals::Point);
        assert_eq!(decimals(&rows(&["HB-1", "0,75", "2.5"]), b';'), Decimals::Point);
        assert_eq!(with_point("0,75 in", Decimals::Comma).as_deref(), Some("0.75 in"));
        assert_eq!(with_point("1,500", Decimals::Comma), None);
        assert_eq!(with_point("0,75", Decimals::Point), None);
        assert_eq!(with_point("8 in, brass", Decimals::Point).as_deref(), Some("8 in, brass"));
    }

    #[test]
    fn a_line_that_declares_the_separator_is_no_row() {
        assert_eq!(declared("sep=;\r\nMark;Length\n"), Some((b';', 7)));
        assert_eq!(declared("sep=x\nMark\n"), None);
    }
}
