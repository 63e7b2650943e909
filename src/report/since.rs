//! What became of the comments of a previous review, in words.

use super::letter::LetterItem;
use super::words::listed;
use crate::review::{PreviousLetterItem, Review, SinceLine, Standing};
use std::collections::BTreeSet;
use std::sync::Arc;

/// Marks of a line before the rest is only counted.
const MOST_MARKS: usize = 6;

/// The line of the head: "before.json: new: Freezing 2 (HB-3); settled: Freezing 1 (HB-1); 4 comments stand".
pub(super) fn head(review: &Review) -> Option<(&'static str, String)> {
    let since = review.since.as_ref()?;
    let mut parts = Vec::new();
    for standing in
        [Standing::New, Standing::Settled, Standing::NotListed, Standing::NotInForce, Standing::Standing]
    {
        let own = since.lines.iter().filter(|line| line.standing == standing);
        let comments: Vec<Arc<str>> = own.map(|line| comment(line).into()).collect();
        parts.push(match (standing, comments.len()) {
            (Standing::New | Standing::Settled, 0) => format!("nothing {}", word(standing)),
            (_, 0) => continue,
            _ => format!("{}: {}", word(standing), listed(&comments, usize::MAX)),
        });
    }
    Some(("Since", format!("{}: {}", since.file, parts.join("; "))))
}

pub(super) fn word(standing: Standing) -> &'static str {
    match standing {
        Standing::New => "new",
        Standing::Standing => "standing",
        Standing::Settled => "settled",
        Standing::NotListed => "no longer scheduled",
        Standing::NotInForce => "rule no longer in force",
    }
}

/// "Freezing 1 (HB-1 and HB-2)".
fn comment(line: &SinceLine) -> String {
    format!("{} ({})", line.number, listed(&line.marks, MOST_MARKS))
}

/// Comments of the letter before that are not in this one, by their numbers: each with its marks, the settled ones before
/// those no longer scheduled.
pub(super) fn gone(review: &Review, items: &[LetterItem<'_>]) -> Vec<(usize, String)> {
    let Some(since) = &review.since else { return Vec::new() };
    let kept: BTreeSet<usize> = items.iter().map(|item| item.number).collect();
    let scheduled: BTreeSet<&Arc<str>> = review.outlets.iter().map(|outlet| &outlet.mark).collect();
    let dropped: BTreeSet<&Arc<str>> =
        since.lines.iter().filter(|it| it.standing == Standing::NotInForce).map(|it| &it.rule).collect();
    let text = |before: &PreviousLetterItem| {
        let (here, gone): (Vec<Arc<str>>, Vec<Arc<str>>) =
            before.marks.iter().cloned().partition(|mark| scheduled.contains(mark));
        let settled = if dropped.contains(&before.about) { Standing::NotInForce } else { Standing::Settled };
        let parts =
            [(here, settled), (gone, Standing::NotListed)].into_iter().filter(|(marks, _)| !marks.is_empty());
        let parts: Vec<String> =
            parts.map(|(marks, what)| format!("{} {}", listed(&marks, usize::MAX), word(what))).collect();
        (before.number, format!("{}: {}.", before.title.trim_end_matches(['.', '?']), parts.join(", ")))
    };
    let mut gone: Vec<(usize, String)> =
        since.letter.iter().filter(|before| !kept.contains(&before.number)).map(text).collect();
    gone.sort();
    gone
}
