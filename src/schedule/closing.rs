//! Where an outlet closes decides most of what is said of it: what its kind is called, what is denied of it and words that
//! nobody understood are held against it.

use super::description::alike;
use super::from_words::{Source, quoted};
use super::{Cell, Read, Row, Term};

const CLOSES: &str = "outlet.closes";
const KIND: &str = "outlet.kind";

/// Adds what contradicts the row to `odds`. Where nothing but a kind, a doubt or unread words would be left to tell where it
/// closes, that is left open: a default would follow half of what is said.
pub(super) fn hold_against(
    row: &mut Row,
    sources: &[Source],
    is_open: bool,
    vocabulary: &[Term],
    odds: &mut Vec<String>,
) {
    let (named, words): (Vec<&Source>, Vec<&Source>) = sources.iter().partition(|it| it.is_name);
    deny(row, &words, &named, vocabulary, odds);
    let term = |fact: &str| vocabulary.iter().position(|it| it.fact == fact);
    let (Some(closes), Some(kind)) = (term(CLOSES), term(KIND)) else { return };
    let name = named.iter().find_map(|it| {
        it.heard
            .facts
            .iter()
            .find(|(term, ..)| *term == closes)
            .map(|(_, read, words)| (read, words, &it.place))
    });
    let stated = row.cells.iter().find(|it| it.term == closes);
    if let Some(cell) = stated {
        if let (Some((read, words, place)), Some(value)) = (name, &cell.value)
            && !alike(read, value)
        {
            odds.push(format!("Closes: {}, {}", quoted(&cell.text, &cell.place), quoted(words, place)));
        }
        return;
    }
    let is_plain = row.cells.iter().any(|it| {
        it.term == kind
            && matches!(&it.value, Some(Read::Text(kind)) if ["hose bibb", "sillcock"].contains(&&**kind))
    });
    let doubt = words.iter().filter(|_| is_open).find_map(|it| {
        let of_closing = it.heard.doubtful.iter().find(|(_, terms)| terms.contains(&closes))?;
        Some((&it.place, of_closing.0.clone()))
    });
    let unread = || {
        let left = words.iter().find(|it| it.figures && !it.heard.left.is_empty())?;
        (is_plain && name.is_none()).then(|| (&left.place, left.heard.left.join(", ")))
    };
    if let Some((place, text)) = doubt.or_else(unread) {
        row.cells.push(Cell { term: closes, place: place.clone(), text: text.into(), value: None });
    }
}

/// What is denied that a column, or the name of the kind, says.
fn deny(row: &Row, words: &[&Source], named: &[&Source], vocabulary: &[Term], odds: &mut Vec<String>) {
    let denials = words.iter().flat_map(|it| it.heard.denied.iter().map(move |denied| (&it.place, denied)));
    for (at, (term, read, denial)) in denials {
        let heading = vocabulary[*term].aliases.first().copied().unwrap_or_default();
        // "No brass" may be of something else; "not brass" is of the outlet.
        if vocabulary[*term].fact != CLOSES && !denial.to_lowercase().starts_with("not ") {
            continue;
        }
        let cell = row.cells.iter().find(|it| it.term == *term);
        let said = match cell {
            Some(cell) => {
                cell.value.as_ref().filter(|it| alike(it, read)).map(|_| quoted(&cell.text, &cell.place))
            }
            None => named.iter().find_map(|it| {
                let own = it.heard.facts.iter().find(|(own, value, _)| own == term && alike(value, read))?;
                Some(quoted(&own.2, &it.place))
            }),
        };
        if let Some(said) = said {
            odds.push(format!("{heading}: {said}, {}", quoted(denial, at)));
        }
    }
}
