//! The spellings of a row: parted by bars, with choices in braces.

use super::super::tokens::without_accent;

/// Parts of a row at the bars outside braces.
pub(super) fn split(spellings: &'static str) -> Vec<&'static str> {
    let (mut parts, mut start, mut depth) = (Vec::new(), 0, 0);
    for (at, c) in spellings.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            '|' if depth == 0 => {
                parts.push(&spellings[start..at]);
                start = at + 1;
            }
            _ => {}
        }
    }
    parts.push(&spellings[start..]);
    parts
}

/// A spelling as it is looked up: its letters and digits, so that "sill cock" and "sillcock" are one.
pub(super) fn key(spelling: &str) -> String {
    let letters = spelling.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase);
    letters.map(without_accent).collect()
}

/// What stands before the first choice of a spelling.
pub(super) fn literal(spelling: &str) -> &str {
    spelling.split('{').next().unwrap_or_default()
}

/// How many choices a spelling has.
pub(super) fn choices(spelling: &str) -> usize {
    let groups = spelling.split('{').skip(1).filter_map(|part| part.split('}').next());
    groups.map(|group| group.split('|').count()).product()
}

/// A spelling with each choice of its first braces; itself if it has none.
pub(super) fn first_choices(spelling: &str) -> impl Iterator<Item = String> {
    let (before, rest) = spelling.split_once('{').unwrap_or((spelling, "}"));
    let (choices, after) = rest.split_once('}').unwrap_or((rest, ""));
    choices.split('|').map(move |choice| format!("{before}{choice}{after}"))
}

/// A spelling with each choice of its braces.
pub(super) fn expand(spelling: &str) -> Vec<String> {
    if spelling.contains('{') {
        first_choices(spelling).flat_map(|one| expand(&one)).collect()
    } else {
        vec![spelling.to_owned()]
    }
}

/// The choices of a spelling that have these letters.
pub(super) fn written(spelling: &str, letters: &str) -> impl Iterator<Item = String> {
    let mut left = vec![spelling.to_owned()];
    std::iter::from_fn(move || {
        while let Some(one) = left.pop() {
            if one.contains('{') {
                left.extend(first_choices(&one).filter(|one| letters.starts_with(&key(literal(one)))));
            } else if key(&one) == letters {
                return Some(one);
            }
        }
        None
    })
}

/// Whether a choice of a spelling starts with these letters.
pub(super) fn may_start(spelling: &str, letters: &str) -> bool {
    let before = key(literal(spelling));
    before.starts_with(letters)
        || letters.starts_with(&before)
            && spelling.contains('{')
            && first_choices(spelling).any(|one| may_start(&one, letters))
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn choices_of_a_spelling_are_written_out() {
        assert_eq!(expand("{a|b}c{d|}"), ["acd", "ac", "bcd", "bc"]);
        assert_eq!((choices("{a|b}c{d|}"), choices("c")), (4, 1));
    }

    #[test]
    fn choices_that_are_not_written_out_match_the_same_letters() {
        let spelling = "{drain|weep hole} {to|into} {a |the |}{gravel|soil} {bed|}";
        let all = expand(spelling);
        for one in &all {
            let letters = key(one);
            let alike: BTreeSet<String> = all.iter().filter(|other| key(other) == letters).cloned().collect();
            assert_eq!(written(spelling, &letters).collect::<BTreeSet<_>>(), alike);
            for end in 1..=letters.len() {
                assert!(may_start(spelling, &letters[..end]), "{one}");
            }
            for other in [format!("{letters}x"), letters.replacen('i', "y", 1)] {
                let starts = all.iter().any(|one| key(one).starts_with(&other));
                assert_eq!(may_start(spelling, &other), starts, "{other}");
                assert_eq!(
                    written(spelling, &other).count(),
                    all.iter().filter(|one| key(one) == other).count()
                );
            }
        }
    }
}
