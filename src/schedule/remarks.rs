//! Remarks that leave a whole row in doubt: "on hold", "field verify", "not for construction". They name no fact that they
//! could leave open.

use super::description::phrases;
use super::text::Plain;
use super::types::Row;
use super::vocabulary::{Subject, Term};
use super::word_source::quoted;
use regex::Regex;
use std::sync::LazyLock;

/// A whole phrase of a column of remarks; in a description such words are about the phrase before.
const OF_REMARKS: &str = r"\?+|\(\?\)|t\.?b\.?[adc]\.?|v\.?i\.?f\.?|(?:please |field |to |be |must |to be )*(?:verify|verified|confirm|confirmed|determined)(?: in (?:the )?field| on site| (?:w/|with|by|before) .*)?|to be determined.*|not (?:yet )?(?:confirmed|verified|approved|final)|un(?:clear|sure|certain|known)|questionable|preliminary|tentative|provisional|optional|if (?:required|req'?d|needed)|(?:owner|architect|arch)(?: to)? selects?|as selected.*|too (?:short|long)|(?:furnished |provided |installed |supplied )*by others.*|à (?:vérifier|confirmer|déterminer)";
/// A whole phrase of any column of words: what is to become of the outlet.
const OF_ROW: &str = r"(?:put )?on hold.*|hold|do not (?:order|install|use|buy|release).*|not (?:to be )?(?:installed|ordered|used).*|not for construction|n\.?i\.?c\.?|not in contract|future.*|superseded.*|void(?:ed)?|withdrawn|cancell?ed|recalled|obsolete|(?:to be )?(?:removed?|demo|demolish(?:ed)?)|(?:conflicts?|differs?|disagrees?) (?:with|from) .*|(?:wrong|incorrect)(?: .*)?|(?:on |from )?non[ \-]?potable(?: (?:water|supply|system|main|line))?|en attente";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static DOUBTS: LazyLock<[Regex; 2]> = LazyLock::new(|| {
    [OF_REMARKS, OF_ROW].map(|words| {
        Regex::new(&format!(r"(?i)^[\s(*\-]*(?:{words})[\s).!*\-]*$")).expect("a pattern of the source")
    })
});

/// Whether a text among remarks leaves its row in doubt.
pub(super) fn is_doubt(text: &str) -> bool {
    DOUBTS.iter().any(|it| it.is_match(text))
}

/// What leaves a row in doubt, for people.
pub(super) fn of_row(row: &Row, vocabulary: &[Term]) -> Vec<String> {
    let [_, of_row] = &*DOUBTS;
    let mut found = Vec::new();
    for cell in &row.cells {
        let is_meant: &dyn Fn(&str) -> bool = match vocabulary[cell.term].subject {
            Some(Subject::Notes) => &is_doubt,
            Some(Subject::Description | Subject::Location) => &|phrase| of_row.is_match(phrase),
            _ => continue,
        };
        let plain = Plain::of(&cell.text);
        for phrase in phrases(&plain.text).into_iter().filter(|it| is_meant(&plain.text[it.clone()])) {
            let words = plain.original(&cell.text, &phrase);
            found.push(format!("Remark: {}", quoted(words, &cell.location)));
        }
    }
    found
}
