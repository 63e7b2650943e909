//! Legends beside a table: "KEY: FF = frost free   BX = box hydrant". A cell that is one of the abbreviations reads as its
//! words.

use super::entries::{Entry, alone};
use super::text::plain;
use super::types::{Noted, ReadOptions, Schedule};
use super::vocabulary::{Subject, term_of};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The longest abbreviation, in characters.
const LONGEST: usize = 6;

/// Spells out the cells of kinds and descriptions that are an abbreviation of a legend, and notes it.
pub(super) fn apply(entries: &mut [Entry], options: &ReadOptions<'_>, schedule: &mut Schedule) {
    let mut known: BTreeMap<String, (String, u32)> = BTreeMap::new();
    for entry in entries.iter() {
        let Some(raw) = alone(entry, options).filter(|raw| raw.text.contains('=')) else { continue };
        for (short, words) in pairs(&raw.text) {
            known.entry(plain(&short)).or_insert((words, entry.number));
        }
    }
    if known.is_empty() {
        return;
    }
    let terms = [Subject::Kind, Subject::Description].map(|subject| term_of(subject, options.vocabulary));
    for raw in entries.iter_mut().flat_map(|entry| &mut entry.cells) {
        let meant = known.get(&plain(&raw.text)).filter(|_| terms.contains(&Some(raw.term)));
        if let Some((words, row)) = meant {
            let what = format!("stands for \"{words}\" by the legend in row {row}").into();
            schedule.notes.push(Noted { location: raw.location.clone(), text: raw.text.clone(), what });
            raw.text = Arc::from(words.as_str());
        }
    }
}

/// The abbreviations of a legend, each with its words.
fn pairs(text: &str) -> Vec<(String, String)> {
    let parts: Vec<&str> = text.split('=').map(str::trim).collect();
    let last_word = |part: &str| part.rsplit(char::is_whitespace).next().unwrap_or_default().to_owned();
    let pair = |at: usize| {
        let short = last_word(parts[at]);
        let words = parts[at + 1];
        let is_last = at + 2 == parts.len();
        let words = if is_last { words } else { words.strip_suffix(last_word(words).as_str())? };
        let words = words.trim().trim_end_matches([',', ';', '.']);
        let is_abbreviation = !plain(&short).is_empty() && short.chars().count() <= LONGEST;
        (is_abbreviation && words.contains(char::is_alphabetic)).then(|| (short, words.to_owned()))
    };
    (0..parts.len().saturating_sub(1)).filter_map(pair).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_legend_has_abbreviations_with_their_words() {
        let pair = |short: &str, words: &str| (short.to_owned(), words.to_owned());
        assert_eq!(
            pairs("KEY: FF = frost free   BX = non freeze box hydrant,  reg. = shuts at the handle"),
            [
                pair("FF", "frost free"),
                pair("BX", "non freeze box hydrant"),
                pair("reg.", "shuts at the handle")
            ]
        );
        assert_eq!(pairs("no legend"), []);
    }
}
