//! Forms of a description with a grammar of their own: standards, slopes, counts, numbers of drawings, marks, lumber.

use super::vocabulary::Subject::{self, *};
use regex::{Captures, Regex, RegexSet};
use std::ops::Range;
use std::sync::LazyLock;

/// A form that a text has: its range, the subject it states, and the words it states it by. Without a subject it states
/// nothing.
pub(super) struct Form {
    pub range: Range<usize>,
    pub states: Option<(Subject, String)>,
}

const SLOPE: &str = r#"(?:\d{1,2}/\d{1,2} ?(?:in|in\.|inch|po|"|'')? ?(?:/|per|par|:|in) ?(?:1'(?:-0"?)?|12 ?"?|ft|foot|pied|pi|'|lin ft)\.?|\d{1,2}(?:[.,]\d+)? ?(?:%|°|percent|deg(?:rees?)?\.?)|1:\d{2,3})"#;
const TOWARD: &str = r"(?:,? (?:down )?(?:back )?(?:to|toward|towards|away from|in|out|vers)(?:wards?)?(?: (?:the |l')?[a-z]+(?: (?:inside|indoors))?)?)";

/// The forms, each with the groups whose words state its subject. Tried in order; a later one does not match what an
/// earlier one has matched.
const FORMS: &[(&str, Option<Subject>, &[usize])] = &[
    (
        r"(?:asse|a s s e)(?:/ansi)?(?: (?:std|standard|no|listed))?[ #.-]*(1001|1011|1013|1015|1019|1020|1024|1035|1052|1053|1056|1057)(?: ?(?:,? ?type ?|- ?|\()?([a-c1-5])\)?)?",
        Some(BackflowStandard),
        &[1, 2],
    ),
    (r"(?:csa )?(b64 ?\.? ?(?:1 ?\. ?[123]|2(?:\.(?:1\.1|1|2))?|[4-7]))", Some(BackflowStandard), &[1]),
    (
        r"(?:(?:barrel |tube )?(?:slop|pitch|fall|pente)(?:e|es|ed|ing|s)?(?: (?:down|barrel|tube|hydrants?|outlets?|sillcocks?|bibbs?|faucets?|bodies|units?))? ?(?:at |of |de |@ ?|: ?)?SLOPETOWARD?)",
        Some(Slope),
        &[0],
    ),
    (r"SLOPE (?:slope|pitch|fall|pente)TOWARD?", Some(Slope), &[0]),
    (r"(?:qty|quantity) ?[:=]? ?\(?(\d{1,4})\)?", Some(Quantity), &[1]),
    (r"(\d{1,4}) (?:ea|each|pcs|total|req'?d)", Some(Quantity), &[1]),
    (r"typ(?:ical)? (?:of|for) \(?(\d{1,3})\)?", Some(Quantity), &[1]),
    (r"^\((\d{1,3})\)", Some(Quantity), &[1]),
    (
        r"(?:see|per|ref(?:er)?(?: to)?) (?:plumbing |arch(?:itectural)? |struct(?:ural)? )?(?:detail|details|dtl|det|sheet|sht|dwgs?|drawings?|spec(?:ification)?s?|notes?|plans?|elevations?|schedule|section)(?: no)?(?: #?\d*/?[a-z]{0,3}-?\d+[a-z]?(?:[.\-]\w{1,3})*(?:/[a-z]{0,3}-?\d+[a-z]?(?:[.\-]\w{1,3})*)?)?",
        None,
        &[],
    ),
    (r"(?:detail|dtl|det) \d+(?:/[\w.\-]+)?", None, &[]),
    (r"(?:nf|fp|ff)?(?:hb|wh|yh|wh[a-z]|bh|ph|rh)-?\d{1,3}[a-z]?", None, &[]),
    (
        r"2 ?x ?(?:4|6|8|10)(?: (?:wood |stud |framed? |ext(?:erior)? )?(?:stud|wall|framing|frame|studs|plate)s?)?",
        None,
        &[],
    ),
];

struct Compiled {
    set: RegexSet,
    each: Vec<Regex>,
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static COMPILED: LazyLock<Compiled> = LazyLock::new(|| {
    let whole = |(words, ..): &(&str, Option<Subject>, &[usize])| {
        let words = words.replace("SLOPE", SLOPE).replace("TOWARD", TOWARD).replace(' ', r"[\s.\-]*");
        format!(r"(?i-u)(?:\b{{start-half}}|\b)(?:{words})(?:\b{{end-half}}|\b)")
    };
    let patterns: Vec<String> = FORMS.iter().map(whole).collect();
    Compiled {
        set: RegexSet::new(&patterns).expect("patterns of the source"),
        each: patterns.iter().map(|it| Regex::new(it).expect("a pattern of the source")).collect(),
    }
});

/// The forms of a text, in the order of the table.
pub(super) fn forms(text: &str) -> Vec<Form> {
    let mut found: Vec<Form> = Vec::new();
    for index in &COMPILED.set.matches(text) {
        let (_, subject, groups) = &FORMS[index];
        for captures in COMPILED.each[index].captures_iter(text) {
            let Some(mut range) = captures.get(0).map(|it| it.range()) else { continue };
            // Only ASCII letters are matched, to be fast; a word may go on.
            if text[..range.end].ends_with(|c: char| c.is_alphabetic()) {
                range.end +=
                    text[range.end..].find(|c: char| !c.is_alphanumeric()).unwrap_or(text.len() - range.end);
            }
            let is_free = found.iter().all(|it| range.start >= it.range.end || it.range.start >= range.end);
            if range.is_empty() || !is_free || cuts_a_number(text, &range) {
                continue;
            }
            let words =
                if *groups == [0] { text[range.clone()].to_owned() } else { of_groups(&captures, groups) };
            found.push(Form { range, states: subject.map(|subject| (subject, words)) });
        }
    }
    found
}

fn of_groups(captures: &Captures<'_>, groups: &[usize]) -> String {
    let words = groups.iter().filter_map(|group| Some(captures.get(*group)?.as_str().trim()));
    words.filter(|it| !it.is_empty()).collect::<Vec<_>>().join(" ")
}

/// Whether a range starts or ends inside a number.
fn cuts_a_number(text: &str, range: &Range<usize>) -> bool {
    let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let (before, own, after) = (&text[..range.start], &text[range.clone()], &text[range.end..]);
    let starts_inside = before.ends_with(['-', '/', '.', ','])
        && is_digit(before.trim_end_matches(['-', '/', '.', ',']).chars().next_back());
    let ends_inside = after.starts_with(['/', '.', '-']) && is_digit(after.chars().nth(1));
    is_digit(own.chars().next()) && starts_inside
        || is_digit(own.chars().next_back()) && (ends_inside || after.starts_with(['"', '\'']))
}
