//! Checks a table as a whole: breakpoints in order, every word of a fact, and one row that fits best.

use super::{Direction, Table, Word};
use crate::diag::{Diagnostic, Diagnostics, Location, Position};
use crate::expr::Type;

/// Checks a table whose rows are in order each by itself.
pub(super) fn check(table: &Table, problems: &mut Diagnostics) {
    in_order(table, problems);
    every_word(table, problems);
    one_best(table, problems);
}

/// Breakpoints of rows with the same words go one way, each beyond the one before.
fn in_order(table: &Table, problems: &mut Diagnostics) {
    let Some(direction) = table.direction else {
        for (index, row) in table.rows.iter().enumerate().skip(1) {
            if table.rows[..index].iter().any(|it| it.words == row.words) {
                problems.push(Diagnostic::new(row.place.clone(), "the row of the table stands twice"));
            }
        }
        return;
    };
    for (index, row) in table.rows.iter().enumerate() {
        let before = table.rows[..index].iter().rfind(|it| it.words == row.words);
        if let (Some((last, said)), Some((to, text))) = (before.and_then(|it| it.to.as_ref()), &row.to)
            && direction.takes_in(*to, *last)
        {
            let (side, less) = match direction {
                Direction::Down => ("below", "less"),
                Direction::Up => ("above", "more"),
            };
            let what = format!("does not come {side} the row before it");
            let problem = Diagnostic::new(row.place.clone(), what).text(&**text);
            problems.push(problem.expected(format!("{less} than {said}")));
        }
    }
}

/// Every word of a fact has its value, or `other` has.
fn every_word(table: &Table, problems: &mut Diagnostics) {
    let missing = |ty: &Type, has: &dyn Fn(&str) -> bool| -> Vec<&'static str> {
        let words: &[&'static str] = match ty {
            Type::OneOf(words) => words,
            Type::YesNo => &["yes", "no"],
            _ => &[],
        };
        words.iter().copied().filter(|word| !has(word)).collect()
    };
    let column = table.column_key();
    for (index, key) in table.by.iter().enumerate() {
        if Some(index) == column {
            for row in &table.rows {
                let has = |word: &str| row.cells.iter().any(|(it, _)| it.is(word) || *it == Word::Other);
                report(&missing(&key.ty, &has), &key.name, &row.place, problems);
            }
        } else {
            let mut words = table.rows.iter().filter_map(|row| row.words[index].as_ref());
            let words: Vec<&Word> = words.by_ref().collect();
            let has = |word: &str| words.iter().any(|it| it.is(word) || **it == Word::Other);
            report(&missing(&key.ty, &has), &key.name, &table.place, problems);
        }
    }
}

fn report(missing: &[&str], fact: &str, place: &Location, problems: &mut Diagnostics) {
    if !missing.is_empty() {
        let what = format!("has no value for {fact} {}", missing.join(", "));
        let problem = Diagnostic::new(place.clone(), format!("the table {what}"));
        problems.push(problem.expected("a value for each, or other:"));
    }
}

/// Of rows that fit the same words, one names more words than the others: which of two holds is never left to their
/// order.
fn one_best(table: &Table, problems: &mut Diagnostics) {
    for (index, row) in table.rows.iter().enumerate() {
        let rival = table.rows[..index].iter().find_map(|it| {
            if it.words == row.words || it.named() != row.named() {
                return None;
            }
            let both: Option<Vec<_>> = it.words.iter().zip(&row.words).map(|(a, b)| both(a, b)).collect();
            both.filter(|both| !table.rows.iter().any(|it| it.words == *both)).map(|both| (it, both))
        });
        let Some((rival, both)) = rival else { continue };
        let words: Vec<&str> = both
            .iter()
            .filter_map(|word| match word {
                Some(Word::Is(word)) => Some(&**word),
                Some(Word::Other) => Some("other"),
                None => None,
            })
            .collect();
        let (words, line) = (
            words.join(", "),
            match rival.place.spot {
                Position::Line(line, _) => line,
                Position::Row(row, _) => row,
                Position::Whole => 1,
            },
        );
        let what = format!("the row of the table and that of line {line} fit {words} equally well");
        problems
            .push(Diagnostic::new(row.place.clone(), what).expected(format!("a row of its own for {words}")));
    }
}

/// What fits two words of a fact: nothing where they are of two kinds.
fn both(a: &Option<Word>, b: &Option<Word>) -> Option<Option<Word>> {
    match (a, b) {
        (Some(Word::Other), it) | (it, Some(Word::Other)) => Some(it.clone()),
        (a, b) => (a == b).then(|| a.clone()),
    }
}
