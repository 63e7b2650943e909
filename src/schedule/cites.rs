//! Numbered notes: how a note says its number, and how cells cite notes by theirs.

/// Whether a text is the number of a note: two digits at most, or a letter.
pub(super) fn is_number(text: &str) -> bool {
    let is_digits = text.len() <= 2 && !text.is_empty() && text.bytes().all(|it| it.is_ascii_digit());
    is_digits || text.len() == 1 && text.bytes().all(|it| it.is_ascii_alphabetic())
}

/// The number and words of a note: `1. Set 24 in above grade`, `NOTE 2: …`.
pub(super) fn numbered(text: &str) -> Option<(String, &str)> {
    let lower = text.trim_start();
    let bare = lower
        .get(..4)
        .filter(|it| it.eq_ignore_ascii_case("note"))
        .map_or(lower, |_| lower[4..].trim_start());
    let marked = || bare.split_once(['.', ')', ']', ':']).or_else(|| bare.split_once(" -"));
    let (number, note) = lettered(bare).or_else(marked)?;
    let number = number.trim().trim_start_matches(['(', '[', '#']);
    let is_spaced = note.starts_with(' ') && !note.trim().is_empty();
    (is_number(number) && is_spaced).then(|| (number.to_lowercase(), note.trim()))
}

/// The numbers of the notes that a cell cites: `1,3`, `[1] [2]`, `NOTES 1 & 2`, `Bus loop; 1`.
pub(super) fn cited(text: &str) -> Vec<String> {
    let named = cited_by_name(text);
    if !named.is_empty() {
        return named;
    }
    text.to_lowercase().split(';').filter_map(|part| numbers(part.trim())).flatten().collect()
}

/// The numbers of the notes that a text names as such: `NOTE 3`, `REMARK A`.
pub(super) fn cited_by_name(text: &str) -> Vec<String> {
    let lower = text.to_lowercase();
    const NAMES: [&str; 7] = ["keyed notes", "key notes", "key note", "notes", "note", "remarks", "remark"];
    let named = NAMES.into_iter().find_map(|word| {
        let (_, after) = lower.split_once(word)?;
        if after.starts_with(char::is_alphabetic) {
            return None;
        }
        let after = after.trim_start_matches(['#', ':', ' ']);
        // The end of the sentence, or the first word.
        let is_word = |part: &str| {
            let letters = part.chars().filter(|c| c.is_alphabetic()).count();
            letters > 1 && part != "and" && !THROUGH.contains(&part)
        };
        let mut end = 0;
        for part in after.split_inclusive([',', '&', '/', ' ', '.', ';']) {
            if is_word(part.trim_end_matches([',', '&', '/', ' ', '.', ';'])) {
                break;
            }
            end += part.len();
            if part.ends_with(['.', ';']) {
                break;
            }
        }
        numbers(after[..end].trim_end_matches(';'))
    });
    named.unwrap_or_default()
}

/// What stands between the first and the last number of a range.
const THROUGH: [&str; 5] = ["thru", "through", "to", "-", "\u{2013}"];

/// The numbers of a list of nothing else, ranges filled: `1, 3`, `2 thru 5`, `1-3`.
fn numbers(part: &str) -> Option<Vec<String>> {
    let spaced = part.replace(['-', '\u{2013}'], " - ");
    let parts = spaced.split([',', '&', '/', ' ', '.', '#', '(', ')', '[', ']']);
    let mut found: Vec<String> = Vec::new();
    let mut is_range = false;
    for part in parts.filter(|it| !it.is_empty() && *it != "and" && *it != "et") {
        if THROUGH.contains(&part) && !found.is_empty() && !is_range {
            is_range = true;
            continue;
        }
        if !is_number(part) {
            return None;
        }
        if std::mem::take(&mut is_range) {
            let number = |text: &str| text.parse::<u32>().ok();
            let (first, last) = (found.last().and_then(|it| number(it))?, number(part)?);
            found.extend((first + 1..last).map(|it| it.to_string()));
        }
        found.push(part.to_owned());
    }
    (!found.is_empty() && !is_range).then_some(found)
}

/// Whether a text says nothing but which notes apply.
pub(super) fn only_cites(text: &str) -> bool {
    let lower = text.to_lowercase();
    let bare = lower.trim_start_matches("see ").trim_start_matches("note").trim_start_matches(['s', ' ']);
    !cited(text).is_empty() && bare.chars().filter(|c| c.is_alphabetic()).count() <= 1
}

/// A letter and a note after two spaces: "A  WALL: …".
fn lettered(text: &str) -> Option<(&str, &str)> {
    let (letter, note) = text.split_at_checked(1)?;
    note.starts_with("  ").then_some((letter, note))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_are_found_by_their_numbers() {
        assert_eq!(numbered("1. SET 24\" AFG"), Some(("1".into(), "SET 24\" AFG")));
        assert_eq!(numbered("NOTE 2: buried lines"), Some(("2".into(), "buried lines")));
        assert_eq!(numbered("A. ALL EXTERIOR HYDRANTS"), Some(("a".into(), "ALL EXTERIOR HYDRANTS")));
        assert_eq!(numbered("[3] MOUNT LOW"), Some(("3".into(), "MOUNT LOW")));
        assert_eq!(numbered("A  WALL: BRICK"), Some(("a".into(), "WALL: BRICK")));
        for text in ["HB-1", "1.5 in", "Fixtures: 205", "10. "] {
            assert_eq!(numbered(text), None, "{text}");
        }
    }

    #[test]
    fn rows_cite_notes_by_number() {
        for (text, numbers) in [
            ("1,3", vec!["1", "3"]),
            ("1-3", vec!["1", "2", "3"]),
            ("See notes 1 thru 3", vec!["1", "2", "3"]),
            ("NOTES 2 to 4 & 7", vec!["2", "3", "4", "7"]),
            ("1 to", vec![]),
            ("A - B", vec![]),
            ("NOTE 1", vec!["1"]),
            ("See notes 1 & 2", vec!["1", "2"]),
            ("BUS LOOP; 1", vec!["1"]),
            ("[3] [4]", vec!["3", "4"]),
            ("(1)(2)", vec!["1", "2"]),
            ("REAR PATIO. REMARK A.", vec!["a"]),
            ("TOWER, 2-HOUR WALL. NOTE 4.", vec!["4"]),
            ("drips at the packing", vec![]),
        ] {
            assert_eq!(cited(text), numbers, "{text}");
        }
        assert!(only_cites("1,3") && only_cites("See note 2") && !only_cites("Bus loop; 1"));
    }
}
