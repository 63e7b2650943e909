//! What columns are by what is in them: which of several is the mark, which are words. No two columns fight, and none is
//! dropped because another has the same role.

use super::headings::{Column, Headings, Known};
use super::lexicon::{Sense, items};
use super::text::{Plain, are_numbers, count_up, is_blank, plain};
use super::types::ReadOptions;
use super::vocabulary::{Subject, term_of};
use crate::input::Table;
use std::cmp::Reverse;

/// Rows that are looked at.
const LOOKED_AT: usize = 200;
/// Headings of numbers of lines, in the form of [`plain`].
const LINE_NUMBERS: [&str; 5] = ["line", "lineno", "linenumber", "lineitem", "lineitemno"];
/// The share of cells that makes a column one of names, or of marks.
const ENOUGH: f64 = 0.3;

/// What the cells of a column look like; shares of those that are not blank.
#[derive(Clone, Copy, Debug, Default)]
struct Looks {
    cells: usize,
    marks: f64,
    counts: f64,
    /// Whether they are whole numbers, each one more than the last, as those of lines are.
    is_numbering: bool,
    /// Whether they are whole numbers that rise from row to row.
    is_rising: bool,
    /// Names of outlets, fixtures and other things.
    names: f64,
    /// Several words, some of which describe an outlet.
    descriptions: f64,
}

/// Decides about columns by their cells, all together.
pub(super) fn assign(table: &Table, headings: &mut Headings, options: &ReadOptions<'_>) {
    let looks: Vec<Looks> =
        (0..headings.columns.len()).map(|index| Looks::of(table, headings.last, index)).collect();
    let term = |subject| term_of(subject, options.vocabulary);
    let Some(words) = term(Subject::Description) else { return };
    let as_words = Known::Column(Column { term: words, unit: None });
    let of_term = |headings: &Headings, wanted: Option<usize>| -> Vec<usize> {
        let is_it = |it: &Known| matches!(it, Known::Column(column) if Some(column.term) == wanted);
        (0..headings.columns.len()).filter(|index| is_it(&headings.columns[*index])).collect()
    };
    // Of several columns of marks, the one that the job names, then the one whose cells look most like marks and do not
    // number the lines, then the one with the more usual heading, then the first.
    let marks = of_term(headings, Some(options.mark));
    let rank = |index: usize| {
        let aliases = options.vocabulary[options.mark].aliases;
        aliases
            .iter()
            .position(|alias| plain(alias) == plain(&headings.names[index]))
            .unwrap_or(aliases.len())
    };
    let order = |index: &usize| {
        let is_named = options.columns.of(&headings.names[*index]).is_some();
        let looks = looks[*index];
        let alike = (looks.marks * 4.0).round() as i32;
        (is_named, !looks.is_numbering, alike, Reverse(rank(*index)), Reverse(*index))
    };
    let best = marks.iter().copied().max_by_key(order);
    // Without marks, the numbers of the lines name the rows.
    let is_line = |index: &usize| LINE_NUMBERS.contains(&plain(&headings.names[*index]).as_str());
    let line = (0..headings.names.len()).find(|index| is_line(index) && looks[*index].marks > 0.5);
    if let (None, Some(index)) = (best, line) {
        headings.columns[index] = Known::Column(Column { term: options.mark, unit: None });
    }
    for index in marks {
        let looks = looks[index];
        let is_names = looks.names >= ENOUGH && looks.marks < 0.5;
        if Some(index) == best && !is_names {
            continue;
        }
        let quantity = term(Subject::Quantity);
        let is_number = plain(&headings.names[index]).starts_with("no");
        headings.columns[index] = match quantity {
            _ if is_names => as_words,
            Some(term) if is_number && looks.counts == 1.0 && of_term(headings, quantity).is_empty() => {
                Known::Column(Column { term, unit: None })
            }
            _ => Known::Second,
        };
    }
    // A column "No." or "Number" may be of marks. Beside the marks it may number the lines, or the rooms, and count nothing.
    let is_number = |index: &usize| {
        let name = &headings.names[*index];
        ["no", "number"].contains(&plain(name).as_str()) && options.columns.of(name).is_none()
    };
    let mut numbers = of_term(headings, term(Subject::Quantity));
    numbers.retain(is_number);
    match best {
        Some(mark) => {
            for index in numbers.into_iter().filter(|index| looks[*index].numbers_rows(*index < mark)) {
                headings.columns[index] = Known::Second;
            }
        }
        None => {
            let of_marks = |index: &usize| looks[*index].marks > 0.5 && looks[*index].counts < 0.5;
            if let Some(index) = numbers.into_iter().find(of_marks) {
                headings.columns[index] = Known::Column(Column { term: options.mark, unit: None });
            }
        }
    }
    // A column "Type" of sizes, beside one of names.
    let has_names = looks.iter().any(|it| it.names >= 0.5);
    for index in of_term(headings, term(Subject::Kind)) {
        if looks[index].cells > 0 && looks[index].names < 0.5 && has_names {
            headings.columns[index] = as_words;
        }
    }
    for (index, known) in headings.columns.iter_mut().enumerate() {
        let looks = looks[index];
        if matches!(known, Known::Not) && (looks.names >= 0.4 || looks.descriptions >= ENOUGH) {
            *known = as_words;
        }
    }
}

impl Looks {
    /// Whether the numbers of a column are those of rows and not counts. A single one before the mark may be either.
    fn numbers_rows(&self, is_before_mark: bool) -> bool {
        match self.cells {
            0 => false,
            1 => is_before_mark,
            2 | 3 => self.is_numbering || self.is_rising && is_before_mark,
            _ => self.is_rising,
        }
    }

    fn of(table: &Table, after: u32, index: usize) -> Self {
        let below = table.rows.iter().filter(|row| row.number > after);
        // Titles and notes across the table are cells of its first column only.
        let several = below.filter(|row| row.cells.iter().filter(|cell| !is_blank(cell)).count() > 1);
        let cells: Vec<&str> =
            several.take(LOOKED_AT).map(|row| row.cell(index).trim()).filter(|it| !is_blank(it)).collect();
        let share = |is_it: fn(&str) -> bool| {
            let count = cells.iter().filter(|cell| is_it(cell)).count();
            if cells.is_empty() { 0.0 } else { count as f64 / cells.len() as f64 }
        };
        Self {
            is_numbering: count_up(cells.iter().copied()),
            is_rising: are_numbers(cells.iter().copied(), |one, next| one < next),
            cells: cells.len(),
            marks: share(is_mark),
            counts: share(is_count),
            names: share(is_name),
            descriptions: share(is_description),
        }
    }
}

fn is_mark(text: &str) -> bool {
    let letters = text.chars().filter(|c| c.is_alphabetic()).count();
    let has_digit = text.chars().any(|c| c.is_ascii_digit());
    let is_short = text.chars().count() <= 14 && text.split_whitespace().count() <= 3;
    is_short && !text.contains(['"', '\'']) && (has_digit && letters <= 8 || letters <= 3)
}

fn is_count(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

fn is_description(text: &str) -> bool {
    let tells = |sense: Sense| {
        matches!(
            sense,
            Sense::Closing(_)
                | Sense::Metal(_)
                | Sense::Device(_)
                | Sense::Joint(_)
                | Sense::Measure(_)
                | Sense::Yes(_)
        )
    };
    text.split_whitespace().count() >= 3
        && items(&Plain::of(text).text).iter().filter(|it| tells(it.sense)).count() >= 2
}

fn is_name(text: &str) -> bool {
    if is_mark(text) && text.chars().any(|c| c.is_ascii_digit()) {
        return false;
    }
    let is_noun = |sense: Sense| matches!(sense, Sense::OfKind(_) | Sense::KindClosing(..) | Sense::Other(_));
    items(&Plain::of(text).text).iter().any(|it| is_noun(it.sense))
}
