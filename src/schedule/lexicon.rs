//! The lexicon: names of kinds of outlets and of backflow devices, and words for where an outlet closes. One table for
//! cells, which are matched as a whole, and for descriptions, where the patterns refer to it.

use super::text::Plain;
use super::vocabulary::Words;
use regex::Regex;
use std::sync::LazyLock;

/// The key by which patterns refer to a row, the word of the vocabulary, and its spellings as a pattern.
type Row = (&'static str, &'static str, &'static str);

/// Names of kinds.
const KINDS: &[Row] = &[
    ("yard-hydrant", "yard hydrant", r"(?:yard|post) hyd(?:rant)?s?"),
    (
        "box-hydrant",
        "box hydrant",
        r"(?:(?:recessed|encased|flush) )?(?:box(?:ed)?|recessed|encased) (?:type )?(?:wall )?hyd(?:rant)?s?|(?:wall )?hyd(?:rant)?s?,? (?:(?:recessed |encased )?box(?:ed)?(?: type)?|recessed|encased)",
    ),
    ("wall-hydrant", "wall hydrant", r"w(?:all)? hyd(?:rant)?s?\.?"),
    ("sillcock", "sillcock", r"sill ?cocks?|silcocks?"),
    ("hose-bibb", "hose bibb", r"hose ?bib{1,2}s?|hose faucets?|hose cocks?|bibbs?|h b'?s?\.?"),
    // Only a cell: in a description it may be a water heater.
    ("wh", "wall hydrant", "w h"),
];

/// Names of backflow devices.
const DEVICES: &[Row] = &[
    (
        "integral-breaker",
        "integral vacuum breaker",
        r"(?:integral|integrated|built in|int)(?: non removable)? (?:{vb}|anti siphon(?: {vb})?|b ?f ?p|backflow (?:preventer|device|protection))|{vb} (?:is )?(?:integral|built in)",
    ),
    (
        "hose-breaker",
        "hose connection vacuum breaker",
        r"(?:non removable )?(?:screw(?:ed)? on|hose (?:connection|conn|thread|bibb?|end)|hose) {vb}|h c v b|h b v b",
    ),
    (
        "pressure-breaker",
        "pressure vacuum breaker",
        r"spill (?:resistant|proof) (?:pressure )?{vb}|s v b|pressure (?:type )?{vb}|p v b",
    ),
    ("atmospheric-breaker", "atmospheric vacuum breaker", r"atmospheric {vb}|a v b"),
    (
        "dual-check",
        "dual check",
        r"(?:hose connection )?dual check(?: (?:backflow preventer|bfp|valve|device))?",
    ),
    (
        "double-check",
        "double check assembly",
        r"double check(?: (?:valve|detector))?(?: (?:assembly|backflow preventer|bfp|device))?|d c v a",
    ),
    (
        "reduced-pressure",
        "reduced pressure principle assembly",
        r"reduced pressure(?: (?:zone|principle))?(?: (?:assembly|backflow preventer|device|bfp))?|r p z|r p b a",
    ),
];

/// Words for where an outlet closes.
const CLOSING: &[Row] = &[
    (
        "frost-proof",
        "inside",
        r"(?:frost|freeze) ?(?:proof|free|less|resistant|resisting)|(?:non|anti) freez(?:e|ing)",
    ),
    ("fp", "inside", r"(?:n|f) ?(?:p|f)"),
    ("mild-climate", "face", r"(?:mild|moderate|warm) climate"),
];

/// The pattern of some words with its shorthands filled in. Only ASCII letters are matched: the classes of all scripts
/// would make it slow.
fn expand(words: &str) -> String {
    const SPACE: &str = r"[\s.\-]*";
    let mut out = words.replace(' ', SPACE);
    for (key, _, spellings) in KINDS.iter().chain(DEVICES).chain(CLOSING) {
        out = out.replace(&format!("{{{key}}}"), &format!("(?:{})", spellings.replace(' ', SPACE)));
    }
    for (short, long) in SHORT {
        out = out.replace(short, long);
    }
    format!("(?:{out})")
}

/// A pattern as whole words.
pub(super) fn whole_words(words: &str) -> String {
    let start = if words.starts_with('^') { "" } else { r"(?:\b{start-half}|\b)" };
    format!(r"(?i-u){start}{}(?:\b{{end-half}}|\b)", expand(words))
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test compiles them")]
static CELLS: LazyLock<Vec<(&'static str, Regex)>> = LazyLock::new(|| {
    const CLOSES: &str = "(?:{frost-proof}|{mild-climate}|{fp})";
    let cell = |(key, word, _): &Row| {
        let pattern = expand(&format!("(?:{CLOSES},? )?{{{key}}}(?:,? {CLOSES})?"));
        (*word, Regex::new(&format!("(?i-u)^{pattern}$")).expect("a pattern of the source"))
    };
    KINDS.iter().chain(DEVICES).map(cell).collect()
});

/// The word among `words` that a whole cell is a name of.
pub(super) fn word(words: &Words, text: &str) -> Option<&'static str> {
    let text = Plain::of(text).text;
    let has = |name: &str| words.iter().any(|(word, _)| *word == name);
    CELLS.iter().find(|(word, cell)| has(word) && cell.is_match(text.trim())).map(|(word, _)| *word)
}

/// Common names of kinds, to suggest for a misspelled one.
pub(super) fn names(words: &Words) -> Vec<String> {
    const FROST_PROOF: [&str; 4] = ["frostproof", "freezeless", "freeze-resistant", "non-freeze"];
    let is_kind = |word: &str| KINDS.iter().any(|(_, kind, _)| *kind == word);
    let kinds = words.iter().map(|(word, _)| *word).filter(|word| is_kind(word));
    kinds.flat_map(|kind| FROST_PROOF.map(|frost_proof| format!("{frost_proof} {kind}"))).collect()
}

/// Where an outlet closes by the name of its kind: `inside` if it is called frost-proof, `face` if it is meant for a
/// mild climate.
pub fn closes_by_name(kind: &str) -> Option<&'static str> {
    #[allow(clippy::expect_used, reason = "patterns written in the source; a test compiles them")]
    static WORDS: LazyLock<[(&'static str, Regex); 2]> = LazyLock::new(|| {
        let abbreviated = "{fp} (?:h b|{wh}|{hose-bibb}|{sillcock}|{wall-hydrant})s?|(?:{hose-bibb}|{sillcock}|{wall-hydrant}),? {fp}";
        [("inside", format!("{{frost-proof}}|{abbreviated}")), ("face", "{mild-climate}".into())].map(
            |(closes, words)| {
                (
                    closes,
                    Regex::new(&format!(r"(?i-u)\b{}\b", expand(&words))).expect("a pattern of the source"),
                )
            },
        )
    });
    let text = Plain::of(kind).text;
    WORDS.iter().find(|(_, words)| words.is_match(&text)).map(|(closes, _)| *closes)
}

/// The shorthands of the patterns.
pub(super) const SHORT: &[(&str, &str)] = &[
    ("{vb}", r"(?:vac(?:uum)?[\s.\-]*(?:bkr|brkr|breaker|brk)s?|v[\s./]*b)"),
    (
        "{plated}",
        r"(?:(?:rough |polished |satin )?(?:chrome|nickel|chromium)(?:[\s\-]*plated?)?|c\.?p\.?|zinc(?:[\s\-]*plated)?|hdg|hot[\s\-]*dip(?:ped)?[\s\-]*galv(?:anized)?|galv(?:anized)?(?: steel)?)",
    ),
    (
        "{metal}",
        r"(?:red brass|silicon bronze|brass|bronze|copper|stainless(?: steel)?|s\.?s\.?|18-8(?: s\.?s\.?| stainless)?|(?:304|316)(?: s\.?s\.?| stainless(?: steel)?)?|alum(?:inum|inium))",
    ),
    ("{red}", r"(?:wrought )?red brass"),
    (
        "{slope}",
        r"(?:\d{1,2}/\d{1,2} ?(?:in|in\.|inch|{mark})? ?(?:/|per|:|in) ?(?:1'(?:-0{mark})?|12 ?{mark}?|ft|foot|'|lin ft)|\d{1,2}(?:\.\d+)? ?(?:%|°|percent|deg(?:rees?)?)|1:\d{2,3})",
    ),
    ("{ft}", r"(?:{num}[ \-]*(?:ft|feet|foot|')\.?(?:[ \-]*{num} ?(?:{mark}|inch(?:es)?\b|in\b))?|{in})"),
    (
        "{long}",
        r"(?:(?:[4-9]|[123]\d)(?:[ \-]\d{1,2}/\d{1,2}|\.\d+)?[ \-]*(?:{mark}|inch(?:es)?\b|in\b|in\.)|(?:[1-9]\d{2}) ?mm\b)",
    ),
    ("{in}", r"(?:{num}[ \-]*(?:{mark}|inch(?:es)?\b|in\b|mm\b|cm\b)\.?)"),
    ("{num}", r"(?:\d{1,3}(?:[ \-]\d{1,2}/\d{1,2}|\.\d+|/\d{1,2})?)"),
    ("{frac}", r"(?:1/2|3/4|5/8|1)"),
    ("{q}", r"(?:{mark}|in\b|in\.)?"),
    ("{mark}", r#"(?:"|'')"#),
];

#[cfg(test)]
mod tests {
    use super::*;

    const WORDS: &Words =
        &[("hose bibb", &[]), ("sillcock", &[]), ("wall hydrant", &[]), ("box hydrant", &[])];

    #[test]
    fn a_cell_is_the_name_of_a_kind_with_or_without_where_it_closes() {
        for (text, kind, closes) in [
            ("HB", "hose bibb", None),
            ("NFHB", "hose bibb", Some("inside")),
            ("FFHB", "hose bibb", Some("inside")),
            ("F.P. H.B.", "hose bibb", Some("inside")),
            ("FPWH", "wall hydrant", Some("inside")),
            ("Frost-free sillcock", "sillcock", Some("inside")),
            ("Sillcock, frostproof", "sillcock", Some("inside")),
            ("Freeze‑resistant wall hydrant", "wall hydrant", Some("inside")),
            ("Moderate climate wall hydrant", "wall hydrant", Some("face")),
            ("Recessed wall hydrant", "box hydrant", None),
        ] {
            assert_eq!((word(WORDS, text), closes_by_name(text)), (Some(kind), closes), "{text}");
        }
        for text in ["Brass sillcock", "Roof hydrant", "FP", "frost-proof", ""] {
            assert_eq!(word(WORDS, text), None, "{text}");
        }
    }
}
