//! Footnotes marked with a sign: `Stainless**` in a cell, and `** Brass where exposed` below the rows.

use super::deletion::deletes;
use super::doubt::doubts;
use super::text::has_any_word;

const SIGNS: [char; 4] = ['*', '†', '‡', '§'];

/// The text of a cell without the signs at its end, and the signs.
pub(super) fn cited(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let bare = text.trim_end_matches(SIGNS);
    let signs = &text[bare.len()..];
    let is_cell = bare.contains(char::is_alphanumeric) && !text.starts_with(SIGNS);
    (is_cell && !signs.is_empty()).then(|| (bare.trim_end(), signs))
}

/// The signs and the words of a footnote. `*** LINE CANCELLED ***` is none.
pub(super) fn footnote(text: &str) -> Option<(&str, &str)> {
    let text = text.trim();
    let words = text.trim_start_matches(SIGNS);
    let signs = &text[..text.len() - words.len()];
    let is_note = words.contains(char::is_alphabetic) && !text.ends_with(SIGNS);
    (is_note && !signs.is_empty()).then(|| (signs, words.trim()))
}

/// Whether a text is the sign of a footnote and no more.
pub(super) fn is_sign(text: &str) -> bool {
    let text = text.trim();
    !text.is_empty() && text.chars().all(|c| SIGNS.contains(&c))
}

/// Whether a footnote takes something back from the cell that cites it, or leaves it open.
pub(super) fn takes_back(words: &str) -> bool {
    const DENIES: [&str; 14] = [
        "where",
        "when",
        "not",
        "no",
        "non",
        "except",
        "unless",
        "only",
        "if",
        "change",
        "changed",
        "was",
        "void",
        "preliminary",
    ];
    has_any_word(words, &DENIES) || !doubts(words).is_empty() || deletes(words, None, None).is_some()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sign_at_the_end_of_a_cell_cites_the_footnote_with_that_sign() {
        assert_eq!(cited("Stainless**"), Some(("Stainless", "**")));
        assert_eq!(cited("ASSE 1019-B †"), Some(("ASSE 1019-B", "†")));
        assert_eq!(footnote("** Brass where exposed."), Some(("**", "Brass where exposed.")));
        for text in ["Stainless", "***", "*** LINE CANCELLED ***", ""] {
            assert_eq!((cited(text), footnote(text)), (None, None), "{text}");
        }
    }

    #[test]
    fn a_footnote_may_take_back_what_cites_it() {
        for words in
            ["Not freeze-resistant.", "Deleted by addendum 2.", "verify in field", "except at garages"]
        {
            assert!(takes_back(words), "{words}");
        }
        assert!(!takes_back("Polished finish"));
    }
}
