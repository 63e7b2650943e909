//! Words that contradict what a safe outlet is, or what the columns of its row say: a barrel pitched to the house, a hose that
//! stays on, a supply in an attic, a heated room at a garage, another wall. Each raises a comment.

use super::description::phrases;
use super::lexicon::{Sense, items};
use super::text::{Plain, has_any_word};
use super::types::{Cell, Row};
use super::vocabulary::{CellValue, Subject, Term, term_of};
use super::wall_words::wall_words;
use super::word_source::{Words, contradicted, quoted};
use crate::diag::Location;
use regex::{Regex, RegexSet};
use std::sync::LazyLock;

/// Which rows words contradict.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Of {
    Any,
    /// Those that do not say that they close at the face.
    Inside,
    /// The same, for words that descriptions do not know.
    Misspelled,
    /// Those with a heated room behind.
    Heated,
    /// Those that say whether there is a stop inside.
    Stop(bool),
}

/// What the comment calls it, the rows, and the words, in lower case; `[ -~]` is any character of ASCII.
const HAZARDS: &[(&str, Of, &str)] = &[
    (
        "Slope",
        Of::Any,
        r"(?:pitch|slope|slop|fall|tilt|drain)(?:ed|d|s)?\b[ -~]*?\b(?:back |down )?(?:towards?|to|into) (?:the )?(?:house|building|bldg|inside|interior|room)|(?:pitch|slope|fall)(?:ed|d|s)?\b[ -~]*?\b(?:back (?:towards?|to wall)|inwards?)|(?:reverse|back|negative|no|zero)[ -](?:slope|pitch|fall)(?:ed|d)?|(?:pitched|sloped|tilted|angled?|slopes?|pitch) (?:back|in|up|inwards?)|(?:install|set|mount|run|keep)(?:ed)?(?: (?:dead|all|the|it|them|outlets?|barrels?|hydrants?|faucets?))* level|downhill to (?:the )?(?:inside|interior|house|building)",
    ),
    ("Slope", Of::Any, r"^[ -/]*(?:dead )?(?:level|horizontal|drains in)[ -/]*$"),
    (
        "Draining",
        Of::Any,
        r"drain(?: hole)? (?:is )?(?:plugged|blocked|closed)|plugged drain|holds water|standing water",
    ),
    (
        "Hose",
        Of::Any,
        r"hose\b[ -~]*?\b(?:(?:to )?remains? (?:connected|attached)|left (?:connected|attached|on)|permanently connected|stays? (?:connected|attached|on)|year[ -]round|all winter)|timer",
    ),
    (
        "Supply",
        Of::Any,
        r"(?:pipe|pipes|piping|supply|line|plumbing)\b[ -~]*?\b(?:in|through|thru|on|outside|above) (?:the |an? )?(?:attic|outside wall|exterior wall|crawl\w*|garage|unconditioned|unheated|uncond|soffit|canopy|eaves?|cold side|vapou?r barrier|building envelope|envelope)|(?:exterior|outside) wall (?:piping|plumbing|pipe)|exposed to (?:the )?weather|subject to freezing",
    ),
    (
        "Use",
        Of::Any,
        r"chemicals?|fertilizers?|pesticides?|glycol|antifreeze|injectors?|irrigation (?:connection|system|line|main)|(?:connects?|connected|feeds?|serves?) (?:to )?(?:the )?(?:drip )?irrigation|drip irrigation|(?:shut ?-?off|valve|stop)\b[ -~]*?\bdownstream",
    ),
    // Screws and alloys of which no metal is known that would do.
    (
        "Fasteners",
        Of::Any,
        r"(?:deck|drywall) screws?|(?:plain|carbon|black|mild) steel|dissimilar metals?|pot metal|zamak|die[ -]cast zinc",
    ),
    (
        "Fasteners",
        Of::Any,
        r"(?:^|[,;.(] ?|with |w/ ?|by |use )(?:zinc |coated )?steel (?:screws?|fasteners?|anchors?|nails?)",
    ),
    // Of anything.
    ("Metal", Of::Any, r"^[ -/]*galv(?:anized|anised)?[ -/]*$"),
    ("Flange", Of::Any, r"(?:^|[,;.(] ?|with |w/ ?)(?:cast[ -]iron|steel) flange"),
    // A length in words is not read.
    (
        "Nominal length",
        Of::Any,
        r"(?:four|six|eight|ten|twelve|fourteen)[ -]inch(?:es)?|cut to (?:fit|suit)|shorten(?:ed)?|(?:custom|special) length|see [ -~]{0,24}for (?:length|lgth|lg)|short pattern",
    ),
    ("Backflow device", Of::Any, r"(?:no|without|w/o|w/out) (?:integral |any )?(?:device|backflow$)"),
    (
        "Closes",
        Of::Inside,
        r"(?:standard|std\.?|regular|plain|ordinary) (?:sillcock|hose bibb?|faucet)|seats? at (?:the )?face|face[ -]seat(?:ed)?|(?:valve|bibb?|shut ?-?off) at (?:the )?face|(?:frost|freeze)[ -]?(?:proof|resistant) *(?:- ?n|\[ *\]|~~)",
    ),
    // Frostproof, however it is spelled, taken back. The usual spellings are words of descriptions.
    (
        "Closes",
        Of::Misspelled,
        r"(?:not|non?|nor|w/o|w/out|without|less|omit\w*|delete\w*|lacks?)[ -]+(?:a |the |any )?(?:f(?:ro|or|r)(?:st|ts|s|t)[ -]?[pfl]\w+|fr?[eo]e?z+e?[ -]?[prlf]\w+)|(?:f(?:ro|or|r)(?:st|ts|s|t)|fr?e?e?z+e?)[ -]?[prlf]\w+ (?:is |feature )?(?:not|deleted?|omitted|waived|cancell?ed|n/a)",
    ),
    (
        "Inside stop",
        Of::Stop(true),
        r"(?:no|omit|delete|without|w/o) (?:inside |interior |isolation )?(?:shut ?-?off|stop)|(?:shut ?-?off|stop)\b[ -~]*?\b(?:behind (?:drywall|wall|finish\w*)|inaccessible|buried)",
    ),
    (
        "Inside stop",
        Of::Stop(false),
        r"(?:isolation|ball|gate|stop|shut ?-?off) valve (?:inside|indoors|in (?:the )?(?:basement|crawl\w*|room))|(?:inside|interior|isolation) (?:shut ?-?off|stop)",
    ),
    (
        "Space behind",
        Of::Heated,
        r"un-?heated|unhtd|(?:not|non|semi)[ -]heated|not in heated|un-?conditioned|uncond|not conditioned|heat(?:ing)? (?:is )?(?:shut )?off|no heat|garages?|gar\.|parkade|parking structure|crawl(?: ?spaces?)?|attics?|carports?|barns?|sheds?|pump ?houses?|well ?houses?|outbuildings?|detached|cold storage|cold porch|freezer|closed (?:in|for) (?:the )?winter|louvers? open|seasonal (?:cabin|building|use)|shell (?:space|only)",
    ),
];

/// The hazards together, to see quickly that a text has none, and each.
struct Patterns {
    any: RegexSet,
    each: Vec<Regex>,
}

#[allow(clippy::expect_used, reason = "patterns written in the source; a test reads with them")]
static PATTERNS: LazyLock<Patterns> = LazyLock::new(|| {
    let whole = |(.., words): &(&str, Of, &str)| {
        format!(r"(?-u)(?:\b{{start-half}}|^)(?:{words})(?:\b{{end-half}}|$)")
    };
    let all: Vec<String> = HAZARDS.iter().map(whole).collect();
    Patterns {
        any: RegexSet::new(&all).expect("patterns of the source"),
        each: all.iter().map(|it| Regex::new(it).expect("a pattern of the source")).collect(),
    }
});

/// What a text contradicts, whatever the row.
pub(super) struct Contradicts {
    hazards: Vec<(&'static str, Of, String)>,
    /// The text in lower case, and its words for a wall.
    text: String,
    wall: Option<String>,
}

impl Contradicts {
    pub(super) fn of(text: &str) -> Self {
        Self::of_plain(&Plain::of(text), text)
    }

    fn of_plain(plain: &Plain, text: &str) -> Self {
        let lower = plain.text.to_lowercase();
        let find = |at: usize| {
            let (heading, of, _) = HAZARDS[at];
            let mut all = PATTERNS.each[at].find_iter(&lower);
            let found = all.find(|it| {
                !is_forbidden(&lower, it.start())
                    && (of != Of::Heated || !is_near(&lower, it.start()))
                    && (of != Of::Misspelled || !names_closing(it.as_str()))
            })?;
            Some((heading, of, found.as_str().to_owned()))
        };
        let hazards = PATTERNS.any.matches(&lower).into_iter().filter_map(find).collect();
        Self { hazards, wall: wall_words(plain, text), text: lower }
    }

    /// Whether it contradicts any row, whatever the row says.
    pub(super) fn is_any(&self) -> bool {
        !self.hazards.is_empty()
    }

    /// Whether it has words for a wall.
    pub(super) fn names_wall(&self) -> bool {
        self.wall.is_some()
    }

    /// Whether it can contradict a row.
    pub(super) fn says_anything(&self) -> bool {
        let names_wall = STUDS.iter().any(|it| self.text.contains(it))
            || FAMILIES.iter().any(|(family, _)| has_any_word(&self.text, family));
        self.is_any() || self.wall.is_some() || names_wall || self.text.contains("uninsulated wall")
    }

    /// What it contradicts of a row, for people. The text as it is written, and its location.
    pub(super) fn in_row(
        &self,
        row: &Row,
        text: &str,
        location: &Location,
        vocabulary: &[Term],
    ) -> Vec<String> {
        let of = |subject| row.cell(term_of(subject, vocabulary)?).filter(|own| own.value.is_some());
        let disagree =
            |heading: &str, column: &Cell, words: &str| contradicted(heading, column, words, location);
        let mut found = Vec::new();
        for (heading, of_rows, words) in &self.hazards {
            match of_rows {
                // A slope with a figure has its own rule.
                Of::Any if *heading == "Slope" => {
                    if of(Subject::Slope).is_none_or(|own| own.location != *location) {
                        found.push(format!("{heading}: {}", quoted(text, location)));
                    }
                }
                Of::Any => found.push(format!("{heading}: {}", quoted(text, location))),
                Of::Inside | Of::Misspelled => {
                    if of(Subject::Closes).is_none_or(|own| !is_text(own, "face")) {
                        found.push(format!("{heading}: {}", quoted(text, location)));
                    }
                }
                Of::Heated => {
                    let is_heated = |own: &&Cell| is_text(own, "heated room");
                    found.extend(
                        of(Subject::SpaceBehind).filter(is_heated).map(|it| disagree(heading, it, words)),
                    );
                }
                Of::Stop(has) => {
                    let says =
                        |own: &&Cell| own.value == Some(CellValue::YesNo(*has)) && own.location != *location;
                    found.extend(of(Subject::InsideStop).filter(says).map(|it| disagree(heading, it, words)));
                }
            }
        }
        if let Some(wall) = of(Subject::Wall).filter(|it| it.location != *location)
            && let Some(words) = self.other_wall(wall)
        {
            found.push(disagree("Wall", wall, words));
        }
        found
    }

    /// Words for a wall that cannot be the one of a column.
    fn other_wall(&self, wall: &Cell) -> Option<&str> {
        let mut known = wall.text.to_lowercase();
        if let Some(CellValue::Text(key)) = &wall.value {
            known.push_str(&key.to_lowercase());
        }
        let stud = |text: &str| STUDS.iter().copied().find(|it| text.contains(it));
        match (stud(&known), stud(&self.text)) {
            (Some(own), Some(other)) if own != other => return Some(other),
            _ if self.text.contains("uninsulated wall") && !known.contains("uninsulated") => {
                return Some("uninsulated wall");
            }
            _ => {}
        }
        let of_another = |text: &str| {
            FAMILIES.iter().find(|(family, like)| {
                let mut agree = family.iter().chain(*like);
                has_any_word(text, family) && !agree.any(|it| known.contains(it))
            })
        };
        const BESIDE: [&str; 7] = ["color", "colour", "match", "paint", "screen", "near", "retaining"];
        if BESIDE.iter().any(|it| self.text.contains(it)) {
            return None;
        }
        if let Some(words) = self.wall.as_deref() {
            return of_another(&words.to_lowercase()).map(|_| words);
        }
        // "Brick" alone; "match brick" is of something else.
        let alone = phrases(&self.text)
            .into_iter()
            .map(|it| self.text[it].trim_matches(|c: char| !c.is_alphanumeric()));
        alone.into_iter().find(|phrase| {
            let words: Vec<&str> =
                phrase.split(' ').filter(|it| !["wall", "veneer", "here", "at"].contains(it)).collect();
            FAMILIES.iter().any(|(family, _)| family.contains(&words.join(" ").as_str()))
                && of_another(phrase).is_some()
        })
    }
}

/// Whether descriptions know a word in a text for where a faucet closes.
fn names_closing(text: &str) -> bool {
    let is_known = |sense| {
        matches!(
            sense,
            Sense::Closing(_) | Sense::ClosingBeside(_) | Sense::KindClosing(..) | Sense::UnclearClosing
        )
    };
    items(text).iter().any(|it| is_known(it.sense))
}

/// Whether the phrase before a place in a text forbids what follows: "do not run piping in attic".
fn is_forbidden(text: &str, at: usize) -> bool {
    const FORBIDS: [&str; 9] =
        ["do not ", "don't ", "never ", "no ", "not in ", "not for ", "avoid ", "shall not ", "must not "];
    let start = text[..at].rfind([',', ';', '.', '\n']).map_or(0, |it| it + 1);
    let before = text[start..at].trim_start();
    let is_denied = before.trim_end() == "not" || before.trim_end().ends_with(" not");
    is_denied || FORBIDS.iter().any(|it| before.starts_with(it) || before.contains(&format!(" {it}")))
}

/// Whether what stands at a place in a text is only near: "next to detached shed". A wall beside a garage door is the garage's.
fn is_near(text: &str, at: usize) -> bool {
    const NEAR: [&str; 6] = ["near", "next to", "beside", "adjacent to", "across from", "opposite"];
    const BETWEEN: [&str; 3] = [" the", " detached", " unheated"];
    let mut before = text[..at].trim_end();
    while let Some(rest) = BETWEEN.iter().find_map(|word| before.strip_suffix(word)) {
        before = rest.trim_end();
    }
    let is_door = text[at..].split(|c: char| !c.is_alphanumeric()).nth(1) == Some("door");
    !is_door && NEAR.iter().any(|it| before.ends_with(it))
}

/// Stud sizes that distinguish one wall from another.
const STUDS: [&str; 4] = ["2x4", "2x6", "2x8", "2x10"];
/// What a wall is made of: words for it, and others that agree with them.
const FAMILIES: &[(&[&str], &[&str])] = &[
    (&["brick", "brk"], &[]),
    (&["stone"], &[]),
    (&["stucco"], &[]),
    (&["eifs"], &[]),
    (&["cmu", "block"], &["masonry"]),
    (&["masonry"], &["cmu", "block", "brick", "stone"]),
    (&["concrete", "cip"], &["cmu", "block", "icf"]),
    (&["log"], &[]),
    (&["sip", "sips"], &[]),
    (&["icf"], &[]),
    (&["adobe"], &[]),
    (&["rim"], &[]),
];

fn is_text(cell: &Cell, word: &str) -> bool {
    matches!(&cell.value, Some(CellValue::Text(text)) if &**text == word)
}

/// What contradicts in the words of a row, for people.
pub(super) fn of_row(row: &Row, words: &[Words<'_>], vocabulary: &[Term]) -> Vec<String> {
    let said = |it: &Words<'_>| {
        Contradicts::of_plain(&it.plain, it.text).in_row(row, it.text, it.location, vocabulary)
    };
    words.iter().flat_map(said).collect()
}
