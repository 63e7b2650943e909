//! The rows that an answer names: `rows 2, 5 to 9; sheet 2 row 3`.

use crate::schedule::RowOf;
use std::ops::RangeInclusive;

/// Rows that follow one another.
pub(super) type Rows = (RowOf, RangeInclusive<u32>);

/// What rows are called, longer names first, and what they are rows of.
const CALLED: [(&str, RowOf); 10] = [
    ("place rows", RowOf::Places),
    ("place row", RowOf::Places),
    ("places", RowOf::Places),
    ("place", RowOf::Places),
    ("job lines", RowOf::Job),
    ("job line", RowOf::Job),
    ("lines", RowOf::Job),
    ("line", RowOf::Job),
    ("rows", RowOf::Schedule),
    ("row", RowOf::Schedule),
];

/// "rows 2, 5 to 9; place rows 2, 3" or "2; 5-9". Numbers are the schedule's until a word says otherwise.
pub(super) fn ranges(text: &str) -> Option<Vec<Rows>> {
    let text = text.to_lowercase().replace("and", ",");
    let parts = text.split([',', ';', '\n']).map(str::trim).filter(|part| !part.is_empty());
    let mut of = RowOf::Schedule;
    let ranges = parts.map(|part| {
        let called = on_sheet(part)
            .or_else(|| CALLED.iter().find_map(|(name, of)| Some((part.strip_prefix(name)?, *of))));
        let numbers = called.map_or(part, |(rest, _)| rest);
        of = called.map_or(of, |(_, of)| of);
        let ends =
            numbers.split_once("to").or_else(|| numbers.split_once(['-', '–'])).unwrap_or((numbers, numbers));
        let rows: RangeInclusive<u32> = ends.0.trim().parse().ok()?..=ends.1.trim().parse().ok()?;
        (!rows.is_empty()).then_some((of, rows))
    });
    ranges.collect()
}

/// "sheet 2 rows 5": what follows, and the sheet.
fn on_sheet(part: &str) -> Option<(&str, RowOf)> {
    let (number, rest) = part.strip_prefix("sheet ")?.trim_start().split_once(' ')?;
    let rows = ["rows", "row"].iter().find_map(|name| rest.trim_start().strip_prefix(name))?;
    Some((rows, RowOf::Sheet(number.parse().ok()?)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_read_as_the_sheet_writes_them_and_as_people_do() {
        let row = |rows| (RowOf::Schedule, rows);
        assert_eq!(ranges("row 7"), Some(vec![row(7..=7)]));
        for text in ["rows 2, 5 to 9", "2; 5-9", "2 and 5–9", "row 2, row 5 - 9"] {
            assert_eq!(ranges(text), Some(vec![row(2..=2), row(5..=9)]), "{text}");
        }
        let places = vec![row(4..=4), (RowOf::Places, 2..=2), (RowOf::Places, 5..=9), (RowOf::Job, 12..=12)];
        assert_eq!(ranges("row 4; place rows 2, 5 to 9; job line 12"), Some(places));
        assert_eq!(
            ranges("row 4; sheet 2 rows 2, 5 to 9"),
            Some(vec![row(4..=4), (RowOf::Sheet(2), 2..=2), (RowOf::Sheet(2), 5..=9)])
        );
        assert_eq!(ranges("sheet B row 3"), None);
        assert_eq!(ranges("9 to 5"), None);
        assert_eq!(ranges("2-Jan"), None);
    }
}
