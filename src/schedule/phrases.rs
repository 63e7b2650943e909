//! What a schedule has besides facts: dittos, references to another row, deleted rows, totals, notes.

use super::text::plain;
use super::tokens::without_accent;

/// Words that start a total.
const TOTALS: [&str; 7] = ["total", "totals", "subtotal", "subtotals", "sub-total", "grand total", "sum"];
/// Titles of rows that are not outlets.
const TITLES: [&str; 6] = ["note", "notes", "general notes", "legend", "abbreviations", "end of schedule"];
/// Words that delete a row, in the form of [`plain`].
const DELETES: &str = "deleted delete nic notincontract notused unused void voided omit omitted removed cancelled canceled struck";
/// Words for the cell above.
const DITTOS: [&str; 8] = ["ditto", "do", "do.", "same", "same as above", "as above", "see above", "-do-"];
/// Words for another row, and whether they can mean nothing else.
const POINTERS: [(&str, bool); 11] = [
    ("idem que ", true),
    ("idem ", true),
    ("meme que ", true),
    ("same as mark ", true),
    ("same as ", true),
    ("identical to ", true),
    ("ditto ", true),
    ("similar to ", false),
    ("as ", false),
    ("like ", false),
    ("see ", false),
];
/// A longer text alone in the column of marks is a note.
const LONGEST_MARK: usize = 16;

fn trimmed(text: &str) -> String {
    text.trim().trim_end_matches([':', '.', ' ']).to_lowercase()
}

/// Whether a text starts a total, alone or with more words.
pub(super) fn is_total(text: &str) -> bool {
    let text = trimmed(text);
    let is_start = |word: &str| {
        text.strip_prefix(word).is_some_and(|rest| rest.is_empty() || rest.starts_with([' ', ':', ',', '(']))
    };
    TOTALS.iter().any(|word| is_start(word))
}

/// Whether a text is only the word for a total.
pub(super) fn is_total_word(text: &str) -> bool {
    TOTALS.contains(&trimmed(text).as_str())
}

/// Whether a text alone in its row is a title or a note across the sheet, not a mark.
pub(super) fn is_note(text: &str) -> bool {
    let text = text.trim();
    let has_digit = text.chars().any(|c| c.is_ascii_digit());
    text.chars().count() > LONGEST_MARK
        || text.ends_with(':')
        || !has_digit && text.contains(char::is_whitespace)
        || TITLES.contains(&trimmed(text).as_str())
}

/// Whether a text is a word that deletes its row, and no more.
pub(super) fn deletes(text: &str) -> bool {
    const LONGEST: usize = 24;
    let plain = plain(text);
    text.len() <= LONGEST && DELETES.split(' ').any(|word| word == plain)
}

/// Words that delete a row, with a reason after them: `DELETED - see HB-1`, `void per addendum 2`.
const DELETES_FOR_REASON: [&str; 8] =
    ["deleted", "delete", "voided", "void", "omitted", "omit", "cancelled", "canceled"];
/// Those that also delete what is before them: `12" - DELETED`. "Handle - omit" is about the handle.
const DELETES_AFTER: [&str; 5] = ["deleted", "voided", "void", "cancelled", "canceled"];

/// Whether a text starts with such a word and gives a reason.
pub(super) fn starts_with_deletion(text: &str) -> bool {
    let lower = text.trim().to_lowercase();
    DELETES_FOR_REASON.iter().any(|word| {
        lower.strip_prefix(*word).is_some_and(|rest| {
            let reason = rest.trim_start();
            let is_parted = reason.starts_with(['-', '–', '—', '(', '[', ',', ';']);
            let says_why = ["per ", "by ", "see "].iter().any(|it| reason.starts_with(it));
            rest.is_empty() || is_parted || rest.starts_with(' ') && says_why
        })
    })
}

/// What is before such a word at the end of a text, after a dash or in brackets.
pub(super) fn deleted_before(text: &str) -> Option<&str> {
    let bare = text.trim().trim_end_matches([')', ']', '.', '!', '*', ' ']);
    DELETES_AFTER.iter().find_map(|word| {
        let at = bare.len().checked_sub(word.len())?;
        let before = bare.get(at..)?.eq_ignore_ascii_case(word).then(|| bare[..at].trim_end())?;
        let signs = ['-', '–', '—', '(', '[', '*'];
        before.ends_with(signs).then(|| before.trim_end_matches(signs).trim_end())
    })
}

/// Words that take a row out where a phrase after a dash, a bracket or asterisks starts with them. "Handle - omit" is
/// about the handle.
const TAKES_OUT: [&str; 15] = [
    "line cancelled",
    "line canceled",
    "item deleted",
    "item cancelled",
    "line deleted",
    "cancelled",
    "canceled",
    "deleted",
    "omitted",
    "removed",
    "demolished",
    "struck from plan",
    "annule",
    "supprime",
    "retire",
];

/// What is before a phrase of a text that takes something out, with a reason or none: `NORTH WALL - OMITTED PER OWNER`,
/// `*** LINE CANCELLED ***`. Nothing is before one that names its line.
pub(super) fn taken_out(text: &str) -> Option<String> {
    let lower: String = text.to_lowercase().chars().map(without_accent).collect();
    let taken = |part: &str, is_first: bool| {
        TAKES_OUT.iter().find(|word| {
            let Some(rest) = part.trim_start().strip_prefix(**word) else { return false };
            let rest = rest.trim_start_matches([' ', ',', ')', ']', '*', '.', ':']);
            let names_line = word.contains(' ');
            let gives_reason = ["per ", "by ", "see ", "add", "asi", "rfi", "rev", "bulletin"];
            (!is_first || names_line)
                && (rest.is_empty() || gives_reason.iter().any(|it| rest.starts_with(it)) || names_line)
        })
    };
    let marked =
        lower.replace(" - ", "\u{1}").replace(" \u{2013} ", "\u{1}").replace(['*', '(', '['], "\u{1}");
    let parts: Vec<&str> = marked.split('\u{1}').collect();
    let found = parts.iter().enumerate().find_map(|(at, part)| Some((at, taken(part, at == 0)?)));
    found.map(|(at, word)| if word.contains(' ') { String::new() } else { parts[..at].join(" ") })
}

/// Whether a mark has such a word after it: `HB-3 (DELETED)`, `HB-3 - void`.
pub(super) fn is_deleted_mark(mark: &str) -> bool {
    let after = mark.trim().trim_end_matches([')', ']']);
    let tail = |sign: &[char]| {
        after.rsplit_once(sign).is_some_and(|(before, word)| !before.trim().is_empty() && deletes(word))
    };
    deletes(mark) || tail(&['(', '[']) || tail(&['-', '–', '—']) || tail(&[' '])
}

/// The most marks that a range in a cell stands for; a longer one is two numbers of something else.
const LONGEST_RANGE: u32 = 500;

/// The marks of a cell with several: `HB-1,2,3`, `P-7, P-8`, `HB-1 & HB-4`, `HB-1 thru HB-4`. Empty if it has one.
pub(super) fn marks(text: &str) -> Vec<String> {
    let lower = text.to_ascii_lowercase();
    let parts: Vec<&str> =
        lower.split([',', '&', ';']).flat_map(|it| it.split(" and ")).map(str::trim).collect();
    let first = parts.first().copied().unwrap_or_default();
    let letters = first.split(|c: char| c.is_ascii_digit()).next().unwrap_or_default();
    let number = |mark: &str| -> Option<u32> {
        let digits = mark.trim().strip_prefix(letters).unwrap_or(mark.trim());
        digits.bytes().all(|byte| byte.is_ascii_digit()).then(|| digits.parse().ok())?
    };
    let ranges = parts.iter().map(|part| match ends(part, letters) {
        Some((first, last)) => {
            let (first, last) = (number(first)?, number(last)?);
            (first < last && last - first < LONGEST_RANGE).then_some(first..=last)
        }
        None => number(part).map(|number| number..=number),
    });
    let ranges: Option<Vec<_>> = ranges.collect();
    let numbers: Vec<u32> = ranges.into_iter().flatten().flatten().collect();
    if letters.is_empty() || numbers.len() < 2 {
        return Vec::new();
    }
    let letters = &text[..letters.len()];
    numbers.into_iter().map(|number| format!("{letters}{number}")).collect()
}

/// The ends of a range of marks: `HB-1 thru HB-4`, `HB-1 to 4`, `HB-1 - HB-4`. `HB-1-4` may be one mark.
fn ends<'t>(text: &'t str, letters: &str) -> Option<(&'t str, &'t str)> {
    let by_word = [" thru ", " through ", " to "].iter().find_map(|word| text.split_once(word));
    let by_dash = || {
        let mut dashes = text.match_indices(['-', '–', '—']).map(|(at, dash)| (at, at + dash.len()));
        let pair = dashes.find(|(_, end)| text[*end..].trim_start().starts_with(letters))?;
        Some((text[..pair.0].trim_end(), &text[pair.1..]))
    };
    by_word.or_else(by_dash)
}

/// Whether a text repeats the cell above it.
pub(super) fn is_ditto(text: &str) -> bool {
    let text = text.trim();
    let is_marks =
        !text.is_empty() && text.chars().all(|c| "\"”“″〃'’".contains(c)) && text.chars().count() <= 2;
    is_marks && text != "'" && text != "’" || DITTOS.contains(&text.to_lowercase().as_str())
}

/// What follows a word for the cell above: `DITTO, 18" LONG`.
pub(super) fn after_ditto(text: &str) -> Option<&str> {
    let text = text.trim();
    let start = ["ditto", "same as above", "as above", "do.", "same", "idem"]
        .into_iter()
        .find(|word| text.get(..word.len()).is_some_and(|it| it.eq_ignore_ascii_case(word)))?;
    let rest = text[start.len()..].trim_start();
    let bare = without_except(rest.trim_start_matches([',', ';', '-', ' ']));
    (rest.starts_with([',', ';', '-']) || bare.len() < rest.len()).then_some(bare).filter(|it| !it.is_empty())
}

/// A text without a word for an exception at its start.
fn without_except(text: &str) -> &str {
    let words = ["except ", "but ", "but with ", "with ", "w/ ", "sauf "];
    let is_start = |word: &&str| text.get(..word.len()).is_some_and(|it| it.eq_ignore_ascii_case(word));
    words
        .iter()
        .filter(|word| is_start(word))
        .map(|it| it.len())
        .max()
        .map_or(text, |at| text[at..].trim_start())
}

/// The mark of another row that a text refers to, and whether it can mean nothing else.
pub(super) fn pointer(text: &str) -> Option<(&str, bool)> {
    pointer_except(text).map(|(to, _, is_certain)| (to, is_certain))
}

/// The same, with what the row says otherwise: `SAME AS HB-1 EXCEPT 12" LONG`.
pub(super) fn pointer_except(text: &str) -> Option<(&str, Option<&str>, bool)> {
    let text = text.trim();
    let (start, is_certain) = POINTERS
        .iter()
        .find(|(start, _)| text.get(..start.len()).is_some_and(|it| it.eq_ignore_ascii_case(start)))?;
    let rest = text[start.len()..].trim();
    let lower = rest.to_ascii_lowercase();
    let cut = [" except ", " but ", ", ", " with ", " w/ ", " sauf "]
        .into_iter()
        .filter_map(|word| lower.find(word))
        .min();
    match cut {
        Some(at) => Some((
            rest[..at].trim().trim_end_matches(['.', ',']),
            Some(without_except(rest[at..].trim_start_matches([',', ' ']))),
            *is_certain,
        )),
        None => Some((rest.trim_end_matches('.'), None, *is_certain)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn deleted_marks_differ_from_similar_marks() {
        for mark in ["DELETED", "N.I.C.", "HB-3 (DELETED)", "HB-3 - VOID", "HB-3 [not used]", "HB-3 deleted"]
        {
            assert!(is_deleted_mark(mark), "{mark}");
        }
        for mark in ["HB-3", "NIC-1", "VOID-2", "HB-(3)", "HB-1 removable"] {
            assert!(!is_deleted_mark(mark), "{mark}");
        }
    }

    #[test]
    fn a_range_of_marks_is_each_of_them_unless_it_is_two_other_numbers() {
        assert_eq!(marks("HB-300 thru HB-302"), ["HB-300", "HB-301", "HB-302"]);
        assert_eq!(marks("HB-1 thru HB-9999"), [""; 0]);
    }

    #[test]
    fn a_deletion_starts_a_text_or_ends_it() {
        for text in ["DELETED - see HB-1", "deleted per addendum 2", "VOID (ASI 4)", "Omit, by landscape"] {
            assert!(starts_with_deletion(text), "{text}");
        }
        assert_eq!(deleted_before("12\" - DELETED"), Some("12\""));
        assert_eq!(deleted_before("Sillcock, brass (void)"), Some("Sillcock, brass"));
        for text in [
            "omit handle",
            "Void form behind",
            "brass, handle omitted",
            "loose key - omit",
            "voids to be grouted",
            "delete escutcheon",
            "not deleted",
        ] {
            assert!(!starts_with_deletion(text) && deleted_before(text).is_none(), "{text}");
        }
    }

    #[test]
    fn a_phrase_that_starts_with_its_removal_takes_out_what_is_before_it() {
        for (text, before) in [
            ("WALL HYDRANT, NORTH WALL - OMITTED PER OWNER 2/27", "wall hydrant, north wall"),
            ("SILLCOCK 6IN *** LINE CANCELLED BY CUSTOMER 10/03 ***", ""),
            ("Robinet antigel, inox - ANNUL\u{c9}, ADDENDA 1", "robinet antigel, inox"),
        ] {
            assert_eq!(taken_out(text).as_deref(), Some(before), "{text}");
        }
        for text in ["loose key - omit", "handle removed", "brass (removed for winter)", "sillcock - brass"] {
            assert_eq!(taken_out(text), None, "{text}");
        }
    }

    #[test]
    fn a_cell_may_have_several_marks() {
        assert_eq!(marks("HB-1,2,3"), ["HB-1", "HB-2", "HB-3"]);
        assert_eq!(marks("P-7, P-8"), ["P-7", "P-8"]);
        for text in [
            "HB-1 thru HB-4",
            "HB-1 through 4",
            "HB-1 TO HB-4",
            "HB-1 - HB-4",
            "HB-1–HB-4",
            "HB-1,2 & HB-3 thru 4",
        ] {
            assert_eq!(marks(text), ["HB-1", "HB-2", "HB-3", "HB-4"], "{text}");
        }
        for text in [
            "HB-1",
            "A, B",
            "HB-1, rear",
            "HB-1-4",
            "HB-4 thru HB-1",
            "HB-1 to garage",
            "Hose bibb, 2 to 4",
            "3 thru 5",
        ] {
            assert_eq!(marks(text), [""; 0], "{text}");
        }
    }

    #[test]
    fn a_title_alone_differs_from_a_mark_alone() {
        for text in ["BUILDING A", "NOTES:", "Notes", "1. All outlets shall be self-draining"] {
            assert!(is_note(text), "{text}");
        }
        for text in ["HB-1", "HB 1", "A", "Hydrant"] {
            assert!(!is_note(text), "{text}");
        }
    }

    #[test]
    fn totals_start_with_their_word() {
        for text in ["TOTAL", "Subtotal:", "Total outlets", "Grand Total (all)"] {
            assert!(is_total(text), "{text}");
        }
        assert!(!is_total("Totally enclosed"));
    }

    #[test]
    fn ditto_marks_are_not_inches() {
        for text in ["\"", "''", "”", "〃", "Ditto", "do.", "Same as above"] {
            assert!(is_ditto(text), "{text}");
        }
        for text in ["8\"", "", "no", "Same as HB-1"] {
            assert!(!is_ditto(text), "{text}");
        }
    }

    #[test]
    fn a_pointer_names_its_mark() {
        assert_eq!(pointer("Same as HB-1."), Some(("HB-1", true)));
        assert_eq!(pointer("see HB-1"), Some(("HB-1", false)));
        assert_eq!(pointer("asbestos"), None);
    }
}
