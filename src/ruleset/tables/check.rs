//! Checks a table as a whole: breakpoints in order, every word of a fact, and one row that fits best.

use super::{Direction, Table, TableRow, Word};
use crate::diag::Diagnostics;
use crate::expr::Type;
use crate::ruleset::error::RuleError;

/// Checks a table of rows that are correct each by itself.
pub(super) fn check(table: &Table, errors: &mut Diagnostics) {
    check_order(table, errors);
    check_words(table, errors);
    check_one_best(table, errors);
}

/// Reports breakpoints of rows with the same words that are not each beyond the one before.
fn check_order(table: &Table, errors: &mut Diagnostics) {
    for (index, row) in table.rows.iter().enumerate() {
        let Some(before) = table.rows[..index].iter().rfind(|before| before.words == row.words) else {
            continue;
        };
        match (table.direction, &before.to, &row.to) {
            (None, ..) => errors.push(RuleError::RowTwice.at_location(&row.location)),
            (Some(direction), Some((last, last_text)), Some((to, text)))
                if direction.takes_in(*to, *last) =>
            {
                let (side, less) = match direction {
                    Direction::Down => ("below", "less"),
                    Direction::Up => ("above", "more"),
                };
                let error = RuleError::RowsOutOfOrder(side, format!("{less} than {last_text}"));
                errors.push(error.at_location(&row.location).text(&**text));
            }
            _ => {}
        }
    }
}

/// Reports values of a fact that have neither an entry nor `other`.
fn check_words(table: &Table, errors: &mut Diagnostics) {
    let column = table.column_key();
    for (index, key) in table.by.iter().enumerate() {
        let values: &[&str] = match key.ty {
            Type::OneOf(words) => words,
            Type::YesNo => &["yes", "no"],
            _ => continue,
        };
        let mut check = |words: Vec<&Word>, location| {
            let has = |value: &str| words.iter().any(|word| word.is(value) || **word == Word::Other);
            let missing: Vec<&str> = values.iter().copied().filter(|value| !has(value)).collect();
            if !missing.is_empty() {
                errors.push(RuleError::MissingValues(&key.name, missing.join(", ")).at_location(location));
            }
        };
        if Some(index) == column {
            for row in &table.rows {
                check(row.cells.iter().map(|(word, _)| word).collect(), &row.location);
            }
        } else {
            check(table.rows.iter().filter_map(|row| row.words[index].as_ref()).collect(), &table.location);
        }
    }
}

/// Reports two rows that fit the same words equally well: which one holds must not depend on their order.
fn check_one_best(table: &Table, errors: &mut Diagnostics) {
    for (index, row) in table.rows.iter().enumerate() {
        let rival = table.rows[..index].iter().find_map(|other| {
            let common = common_words(other, row).filter(|_| other.words != row.words)?;
            let is_decided = other.named() != row.named() || table.rows.iter().any(|row| row.words == common);
            (!is_decided).then_some((other, common))
        });
        let Some((rival, common)) = rival else { continue };
        let words = common.iter().flatten().map(|word| match word {
            Word::Is(word) => &**word,
            Word::Other => "other",
        });
        let words = words.collect::<Vec<_>>().join(", ");
        let line = rival.location.line_or_row().unwrap_or(1);
        errors.push(RuleError::EqualRows(line, words).at_location(&row.location));
    }
}

/// The words that fit both rows, if there are any.
fn common_words(left: &TableRow, right: &TableRow) -> Option<Vec<Option<Word>>> {
    let common = left.words.iter().zip(&right.words).map(|(left, right)| match (left, right) {
        (Some(Word::Other), word) | (word, Some(Word::Other)) => Some(word.clone()),
        (left, right) => (left == right).then(|| left.clone()),
    });
    common.collect()
}
