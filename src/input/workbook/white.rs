//! Text in white on nothing or hidden by its format: a search and this program read it; paper does not show it.

use std::collections::{BTreeMap, BTreeSet};

use crate::input::{About, Remark};

/// Says of each row, and of each column of the others, where it is white.
pub(super) fn apply(
    white: &BTreeMap<u32, BTreeSet<usize>>,
    rows: &BTreeMap<u32, Vec<String>>,
    about: &mut About,
) {
    let mut told: BTreeSet<usize> = BTreeSet::new();
    for (row, columns) in white {
        let Some(cells) = rows.get(row) else { continue };
        let is_seen = |(column, text): (usize, &String)| !text.is_empty() && !columns.contains(&column);
        if !cells.iter().enumerate().any(is_seen) {
            let text = cells.iter().find(|it| !it.is_empty()).cloned().unwrap_or_default();
            let what =
                "is in a row of white or hidden text, which paper does not show; it is read like the others";
            about.notes.push(Remark::new(Some(*row), text, what));
            continue;
        }
        for column in columns.iter().filter(|column| told.insert(**column)) {
            let text = cells.get(*column).cloned().unwrap_or_default();
            let what = "is white or hidden text, which paper does not show, the first in its column; it is read like other text";
            about.notes.push(Remark::new(Some(*row), text, what));
        }
    }
}
