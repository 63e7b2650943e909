//! A word for frostproof that may not say it of the outlet: denied within its own compound ("non-freeze-resistant"), said of a box
//! or a cover, or given as a choice. Such words state nothing, and where the outlet closes is asked.

use super::cell::read_cell;
use super::entries::Raw;
use super::text::plain;
use super::tokens::Token;
use super::types::{Cell, Row};
use super::vocabulary::{CellType, CellValue, Subject, Term};
use crate::diag::Location;
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// What makes a compound of "freeze" and the word before it its denial.
const PROOF: [&str; 8] = ["proof", "prf", "free", "less", "resistant", "resisting", "resist", "protected"];

/// Words right before, and right after, that take "frostproof" away from the outlet.
const BEFORE: &str = r"(?:\b(?:almost|nearly|near|formerly|previously|once|partly|partially|quasi|demo|demolish)[\s\-]+|\b(?:standard|std|regular|plain|conventional)\s*(?:/|\bor\b)\s*)$";
const AFTER: &[&str] = &[
    // "Freeze-resistant: N".
    r"\s*[:=]\s*(?:n|no|not|none|false|y/n|yes/no)\b|\s*\(\s*(?:n|no)\s*\)|\s+(?:y/n|yes/no)\b",
    r"\s*(?:/|\bor\b|\band/or\b)\s*(?:non[\s\-]?|standard|std|regular|plain|conventional)\s*(?:$|[,;()]|frost|freeze|hose|bib|sill|hb|wall|type)",
];
/// What may be frostproof in place of the outlet, with words that may come before it; not "box hydrant".
const OF_ANOTHER: &str = r"^[\s\-]*(?:(?:foam|insulat(?:ed|ing)|winter|steel|metal|plastic|wall|recessed|protective|outlet|valve|faucet)\s+){0,2}(?:box|boxes|cover|covers|jacket|sock|bag|pouch|enclosure|cabinet|housing|blanket|dome|vault)\b";
const OF_HYDRANT: &str = r"^[\s\-]*(?:type\b|(?:wall\s+)?hyd)";

struct Words {
    before: Regex,
    after: Vec<Regex>,
    of_another: Regex,
    of_hydrant: Regex,
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static WORDS: LazyLock<Words> = LazyLock::new(|| {
    let words = |words: &str| Regex::new(&format!("(?i-u){words}")).expect("a pattern of the source");
    Words {
        before: words(BEFORE),
        after: AFTER.iter().map(|it| words(&format!("^(?:{it})"))).collect(),
        of_another: words(OF_ANOTHER),
        of_hydrant: words(OF_HYDRANT),
    }
});

/// Whether tokens start with the denial of a compound: "non-freeze-resistant" is not resistant, though "non-freeze" alone is the
/// trade's word for frostproof.
pub(super) fn is_denied_compound(text: &str, tokens: &[Token]) -> bool {
    let mut words = tokens.iter().take(3).map(|it| &*it.word);
    let rest = match words.next() {
        Some("non" | "anti")
            if words.next().is_some_and(|it| ["freeze", "freezing", "frz"].contains(&it)) =>
        {
            2
        }
        Some("nonfreeze" | "nonfreezing" | "antifreeze") => 1,
        _ => return false,
    };
    let (Some(last), Some(next)) = (tokens.get(rest - 1), tokens.get(rest)) else { return false };
    let gap = &text[last.range.end..next.range.start];
    gap.chars().all(|c| " -".contains(c)) && PROOF.contains(&&*next.word)
}

/// Whether the words beside a word for frostproof leave open whether the outlet is.
pub(super) fn is_displaced(text: &str, range: &Range<usize>) -> bool {
    let (before, after) = (&text[..range.start], &text[range.end..]);
    let is_of_another =
        WORDS.of_another.find(after).is_some_and(|thing| !WORDS.of_hydrant.is_match(&after[thing.end()..]));
    is_of_another || WORDS.before.is_match(before) || WORDS.after.iter().any(|it| it.is_match(after))
}

/// Headings of a column that says yes or no.
const HEADINGS: [&str; 6] =
    ["Frostproof", "Freezeproof", "Freeze-resistant", "Frost-free", "Freezeless", "Non-freeze"];

fn is_heading(location: &Location) -> bool {
    location.heading().is_some_and(|heading| HEADINGS.iter().any(|it| plain(it) == plain(heading)))
}

/// Where an outlet closes by a yes or no under "Frostproof".
pub(super) fn by_heading(raw: &Raw, vocabulary: &[Term]) -> Option<CellValue> {
    let is_it = vocabulary[raw.term].subject == Some(Subject::Closes) && is_heading(&raw.location);
    match read_cell(&CellType::YesNo, &raw.text, None).ok().filter(|_| is_it)? {
        CellValue::YesNo(is_frostproof) => {
            Some(CellValue::Text(if is_frostproof { "inside" } else { "face" }.into()))
        }
        _ => None,
    }
}

/// A frostproof hydrant in the ground closes below grade.
pub(super) fn put_below_grade(row: &mut Row, vocabulary: &[Term]) {
    let inside = CellValue::Text("inside".into());
    let is_it = |cell: &&mut Cell| {
        vocabulary[cell.term].subject == Some(Subject::Closes)
            && is_heading(&cell.location)
            && cell.value.as_ref() == Some(&inside)
    };
    if let Some(cell) = row.cells.iter_mut().find(is_it) {
        cell.value = Some(CellValue::Text("below grade".into()));
    }
}
