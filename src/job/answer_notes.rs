//! Notes beside responses: one that takes its response back, or doubts it, leaves the question open.

use crate::units::{Hedge, hedges};
use regex::Regex;
use std::sync::LazyLock;

/// Words of a note that leave its response in doubt, besides the hedges of values.
const DOUBT: &str = r"withdrawn|withdraw|wrong|incorrect|superseded|void|draft|not|un(?:sure|certain|confirmed|verified|clear)|guess(?:ed)?|probably|maybe|perhaps|likely|was|were|instead|should be|ignore|disregard|hold|chang(?:e|es|ed)|revis(?:e|ed|ion)|preliminary|tentative|cancel(?:led|ed)?|error|mistake|conflicts?|differs?|depends|if|except|only|unless|until|actually|disagrees?|waiting|advise|ask|check|prelim|pricing|believe|replaced|but";

#[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
static WORDS: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(&format!(r"(?i-u)\b(?:{DOUBT})\b")).expect("a pattern of the source"));

/// Whether a note leaves the response beside it in doubt.
pub(super) fn is_doubtful(note: &str) -> bool {
    let is_open = |hedge: Hedge| matches!(hedge, Hedge::Open | Hedge::Choice | Hedge::Near);
    WORDS.is_match(note) || hedges(note).into_iter().any(|(_, hedge)| is_open(hedge))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_note_that_says_where_the_response_is_from_is_no_doubt() {
        for note in [
            "by phone",
            "per RFI 12",
            "see submittal 22 40 00",
            "confirmed by the architect",
            "J. Smith, 11/3",
        ] {
            assert!(!is_doubtful(note), "{note}");
        }
        for note in
            ["not sure, verify", "withdrawn", "was 8 in, wrong: use 8 in", "?", "to be confirmed", "10 or 12"]
        {
            assert!(is_doubtful(note), "{note}");
        }
    }
}
