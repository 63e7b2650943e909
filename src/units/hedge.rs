//! What people add to a figure: that it is only near, a limit, a choice or not settled. Such a text gives no figure, and
//! says why; words that add nothing are taken off.

use super::dim::{Dim, Measure};

/// Words of a figure that is only near.
const NEAR: &[&str] = &["approx", "approximately", "about", "abt", "circa", "ca", "roughly", "around"];
const LEAST: &[&str] =
    &["minimum", "at least", "or more", "or greater", "or longer", "not less than", "no less than"];
const MOST: &[&str] = &[
    "max",
    "maximum",
    "at most",
    "or less",
    "or fewer",
    "not more than",
    "no more than",
    "up to",
    "not to exceed",
];
const OPEN: &[&str] = &[
    "tbd",
    "tba",
    "verify",
    "vif",
    "v.i.f",
    "confirm",
    "varies",
    "by others",
    "to be determined",
    "as required",
    "if required",
    "optional",
    "unknown",
    "not sure",
];
/// Words that add nothing to a figure in a cell whose heading says what it is.
const IDLE: &[&str] = &["nominal", "nom", "long", "lg", "deep", "thick", "typ", "typical", "only"];

/// Why a text gives no figure of its own, where words or signs in it say so.
pub(super) fn unsettled(text: &str, want: Measure) -> Option<&'static str> {
    let lower = text.to_lowercase();
    // Padded so that whole words are found; a hyphen or a dot does not make another word of one.
    let words: String = lower.chars().map(|c| if "(),;".contains(c) { ' ' } else { c }).collect();
    let words = format!(
        " {} ",
        words.split_whitespace().map(|it| it.trim_end_matches('.')).collect::<Vec<_>>().join(" ")
    );
    let has = |list: &[&str]| list.iter().any(|it| words.contains(&format!(" {it} ")));
    // "5 min" is a time.
    let is_minutes = want == Measure::Of(Dim::TIME) && !words.starts_with(" min ");
    Some(match () {
        () if has(OPEN) || text.contains('?') => "is not settled",
        () if has(&["or", "either"]) && !has(LEAST) && !has(MOST) => "is a choice, not one figure",
        () if has(NEAR) || text.starts_with(['~', '≈', '±']) || words.contains(" ~") => {
            "is only approximate"
        }
        () if text.contains(['≥', '>']) || text.ends_with('+') || has(LEAST) => LIMIT_BELOW,
        () if has(&["min"]) && !is_minutes => LIMIT_BELOW,
        () if text.contains(['≤', '<']) || has(MOST) => "is the most it may be, not the figure itself",
        () => return None,
    })
}

const LIMIT_BELOW: &str = "is the least it may be, not the figure itself";

/// The text without words that add nothing, at either end or in brackets at the end.
pub(super) fn without_idle(text: &str) -> &str {
    let mut text = text.trim();
    loop {
        let before = text.len();
        for word in IDLE {
            text = bare_end(text, word);
            if let Some(rest) = text.get(word.len()..).filter(|_| starts(text, word))
                && (rest.starts_with(' ') || rest.starts_with(". "))
            {
                text = rest.trim_start_matches('.').trim_start();
            }
        }
        if text.len() == before {
            return text;
        }
    }
}

fn starts(text: &str, word: &str) -> bool {
    text.get(..word.len()).is_some_and(|it| it.eq_ignore_ascii_case(word))
}

/// Takes off a word at the end that stands by itself, in brackets or not.
fn bare_end<'t>(text: &'t str, word: &str) -> &'t str {
    let inner = text.trim_end_matches([')', ']']).trim_end_matches('.');
    let Some(at) = inner.len().checked_sub(word.len()) else { return text };
    let Some((rest, last)) = inner.split_at_checked(at) else { return text };
    let cut = rest.trim_end_matches(['(', '[', ',', ' ']);
    let stands_alone = cut.len() < rest.len() || rest.ends_with('"');
    if last.eq_ignore_ascii_case(word) && stands_alone && !cut.is_empty() { cut } else { text }
}
