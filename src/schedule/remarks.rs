//! Remarks that leave a whole row in doubt: "on hold", "field verify", "not for construction". They name no fact that they
//! could leave open.

use super::description::phrases;
use super::vocabulary::Subject;
use super::word_source::{Words, quoted};
use regex::Regex;
use std::ops::Range;
use std::sync::LazyLock;

/// A whole phrase of a column of remarks; in a description such words are about the phrase before.
const OF_REMARKS: &str = r"\?+|\(\?\)|t\.?b\.?[adc]\.?|v\.?i\.?f\.?|(?:please |field |must |to )*(?:verify|confirm|determine)(?: in (?:the )?field| on site| (?:w/|with|by|before) .*)?|(?:must |to )be (?:field )?(?:verified|confirmed|determined)(?: in (?:the )?field| on site| (?:w/|with|by|before) .*)?|to be determined.*|not (?:yet )?(?:confirmed|verified|approved|final)|un(?:clear|sure|certain|known)|questionable|preliminary|tentative|provisional|optional|if (?:required|req'?d|needed)|(?:owner|architect|arch)(?: to)? selects?|(?:owner|architect|arch|engineer|gc|contractor|plumber|others) to (?:confirm|verify|determine|select|decide)|f\.?v\.?|[\w ]{1,24}(?:\?+|tbv|tbd|vif)|as selected.*|too (?:short|long)|(?:furnished |provided |installed |supplied )*by others.*|à (?:vérifier|confirmer|déterminer)";
/// A whole phrase of any column of words: what is to become of the outlet.
const OF_ROW: &str = r"(?:put )?on hold.*|hold|do not (?:order|install|use|buy|release).*|not (?:to be )?(?:installed|ordered|used).*|not for construction|n\.?i\.?c\.?|not in contract|future.*|superseded.*|void(?:ed)?|withdrawn|cancell?ed|recalled|obsolete|(?:to be )?(?:removed?|demo|demolish(?:ed)?)|(?:conflicts?|differs?|disagrees?) (?:with|from) .*|(?:wrong|incorrect)(?: .*)?|(?:on |from )?non[ \-]?potable(?: (?:water|supply|system|main|line))?|existing(?: to remain|,? (?:to be )?relocated?.*| - relocate.*)?|etr|\(?e\)|\(e\) (?:frost|freeze|hose|sill|wall|yard|hyd|bib).*|rough-?in for .*|relocated?.*|cap(?:ped)?(?: (?:and|&) abandon.*)?|abandon(?:ed)?.*|(?:no longer|not) in use|deferred.*|discontinued.*|rejected|revise (?:and|&) resubmit|no longer made|replaced by .*|(?:removed|deleted) by .*|(?:deleted|cancell?ed|voided|removed|withdrawn) [\d/.\- ]+|[a-z]{1,4}[ -]?\d{1,3}[a-z]? (?:is )?(?:cancell?ed|voided|withdrawn)|spare|deleted?|delete all .*|do not use .*|by (?:owner|others|tenant)|alt(?:ernate|\.)? ?(?:no\.? ?)?\d+|(?:indoors?|interior)(?: use)?(?: only| type)?|.*\b(?:may|might|will|known to) freeze\b.*|en attente";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static DOUBTS: LazyLock<[Regex; 2]> = LazyLock::new(|| {
    [OF_REMARKS, OF_ROW].map(|words| {
        Regex::new(&format!(r"(?i)^[\s(*\-]*(?:{words})[\s).!*\-]*$")).expect("a pattern of the source")
    })
});

#[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
static PARTS: LazyLock<Regex> =
    LazyLock::new(|| Regex::new(r" [-–] |[()]|: ").expect("a pattern of the source"));

/// Whether a text among remarks leaves its row in doubt.
pub(super) fn is_doubt(text: &str) -> bool {
    DOUBTS.iter().any(|it| it.is_match(text))
}

/// Words in the cell of a mark about the standing of its row.
const OF_MARK: &str = r"\?|(?:^|[\s(~\-])(?:del|deleted?|ex|exist(?:ing)?|alt|alternate|future|spare|non[ -]?fp|not fp|n\.?i\.?c\.?|reserved|demo|removed?|tbd|hold)(?:$|[\s)~.\-])|\(e\)";

/// Whether the cell of a mark leaves its row in doubt.
pub(super) fn is_doubtful_mark(text: &str) -> bool {
    #[allow(clippy::expect_used, reason = "a pattern written in the source; a test reads with it")]
    static WORDS: LazyLock<Regex> =
        LazyLock::new(|| Regex::new(&format!("(?i){OF_MARK}")).expect("a pattern of the source"));
    WORDS.is_match(text)
}

/// A phrase parted at its dashes and brackets.
fn parted(text: &str, phrase: Range<usize>) -> Vec<Range<usize>> {
    let (mut parts, mut start) = (Vec::new(), phrase.start);
    for found in PARTS.find_iter(&text[phrase.clone()]) {
        parts.push(start..phrase.start + found.start());
        start = phrase.start + found.end();
    }
    parts.push(start..phrase.end);
    parts
}

/// What leaves a row in doubt, for people.
pub(super) fn of_row(words: &[Words<'_>]) -> Vec<String> {
    let [_, of_row] = &*DOUBTS;
    let mut found = Vec::new();
    for Words { subject, text, plain, location } in words {
        let is_place = *subject == Subject::Location;
        let is_meant = |part: &Range<usize>| {
            let words = &plain.text[part.clone()];
            if is_place || *subject == Subject::Notes { is_doubt(words) } else { of_row.is_match(words) }
        };
        // "North - TBD".
        let parts = phrases(&plain.text)
            .into_iter()
            .flat_map(|it| if is_place { parted(&plain.text, it) } else { vec![it] });
        for part in parts.filter(is_meant) {
            found.push(format!("Remark: {}", quoted(plain.original(text, &part), location)));
        }
    }
    found
}
