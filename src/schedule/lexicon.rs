//! The lexicon: words and abbreviations of the trade to classes, in one table for cells, descriptions, notes, titles
//! and the selection of rows. Its tables are in `lexicon/`.

mod outlets;
mod places;
mod spellings;
mod things;

use super::doubt::denial_before;
use super::frostproof::{is_denied_compound, is_displaced};
use super::text::Plain;
use super::tokens::{Token, tokens};
use super::unused::Aside;
use super::vocabulary::{Subject, Words};
use spellings::{choices, expand, first_choices, key, literal, may_start, split, written};
use std::collections::{HashMap, HashSet};
use std::ops::Range;
use std::sync::LazyLock;

/// What a word or an abbreviation says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Sense {
    /// A kind of outlet.
    OfKind(&'static str),
    /// A kind of outlet and where it closes: `FPHB`.
    KindClosing(&'static str, &'static str),
    /// An abbreviation that is a kind in a cell and beside FP, and may be a heater elsewhere: `WH`.
    MayBeKind(&'static str),
    /// FP, NF and FF: where it closes, if a kind is beside it.
    ClosingBeside(&'static str),
    /// Where it closes.
    Closing(&'static str),
    /// A word for where it closes that may not say it of the outlet.
    UnclearClosing,
    /// A box around a hydrant.
    Boxed,
    /// A metal.
    Metal(&'static str),
    /// A metal coating or a finish, with the form of the anodic index, if it is one.
    Plating(&'static str),
    /// Another look of a surface.
    Look,
    /// A material barrels are not made of.
    Plastic,
    /// A pipe that only supplies are made of.
    Pipe(&'static str),
    /// A part whose metal is a fact.
    Part(Subject),
    /// What a wall is made of.
    Construction,
    /// Any other thing, with a length or a metal of its own.
    Thing,
    /// What a figure beside it measures.
    Measure(Subject),
    /// A figure beside it is of nothing that is a fact: above the floor, on center.
    Elsewhere,
    /// A kind of backflow device; `None` if the words do not say which.
    Device(Option<&'static str>),
    /// A kind of inlet.
    Joint(&'static str),
    /// Yes for a fact; no if denied.
    Yes(Subject),
    /// No for a fact.
    No(Subject),
    /// A word of a fact.
    Word(Subject, &'static str),
    /// A space behind a wall, if the words say so.
    Space(&'static str),
    /// A place indoors, outdoors, or one that is neither for sure.
    Place(Where),
    /// Something else on a schedule.
    Other(Aside),
    /// A pointer to somewhere: "see detail 5". Its numbers are of nothing.
    Pointer,
    /// Known, and says nothing.
    Idle,
}

/// Where a place is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Where {
    Indoors,
    Outdoors,
    /// Under a roof and cold: a garage.
    Between,
}

/// A word or words with their sense.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Item {
    pub range: Range<usize>,
    pub sense: Sense,
}

/// A row of a table: a sense, and its spellings, parted by bars; `{a|b}` stands for either, and an empty one for none.
type Row = (Sense, &'static str);

/// The longest name, in tokens.
const MOST_TOKENS: usize = 9;

/// Most choices of a spelling that are written out.
const MOST_WRITTEN: usize = 1000;

/// Senses by the letters of their spellings, and the spellings word by word.
struct Senses {
    by_letters: HashMap<String, Sense>,
    spelled: HashSet<String>,
    /// All letters, sorted, to stop at what starts no name.
    sorted: Vec<String>,
    /// Spellings with more choices than are written out: the letters before the first choice, and the spelling. Written
    /// ones go first.
    wide: Vec<(String, String, Sense)>,
}

static SENSES: LazyLock<Senses> = LazyLock::new(|| {
    let (by_letters, spelled_out) = (HashMap::new(), HashSet::new());
    let mut senses = Senses { by_letters, spelled: spelled_out, sorted: Vec::new(), wide: Vec::new() };
    for (sense, spellings) in outlets::ROWS.iter().chain(things::ROWS).chain(places::ROWS) {
        for spelling in split(spellings) {
            if choices(spelling) > MOST_WRITTEN {
                senses.wide.extend(first_choices(spelling).map(|one| (key(literal(&one)), one, *sense)));
                continue;
            }
            for one in expand(spelling) {
                // The first row of a spelling has it.
                senses.by_letters.entry(key(&one)).or_insert(*sense);
                senses.spelled.insert(spelled(&tokens(&one)));
            }
        }
    }
    senses.sorted = senses.by_letters.keys().cloned().collect();
    senses.sorted.sort_unstable();
    senses
});

impl Senses {
    /// The sense of the letters of a name.
    fn get(&self, letters: &str) -> Option<Sense> {
        let wide = || self.wide_of(letters).find(|(spelling, _)| written(spelling, letters).next().is_some());
        self.by_letters.get(letters).copied().or_else(|| wide().map(|(_, sense)| sense))
    }

    /// Whether words are a name word by word.
    fn is_spelled(&self, words: &str) -> bool {
        let letters = key(words);
        let mut wide = self.wide_of(&letters).flat_map(|(spelling, _)| written(spelling, &letters));
        self.spelled.contains(words) || wide.any(|one| spelled(&tokens(&one)) == words)
    }

    /// Whether some name starts with letters.
    fn has_start(&self, letters: &str) -> bool {
        let next = self.sorted.partition_point(|name| **name < *letters);
        self.sorted.get(next).is_some_and(|name| name.starts_with(letters))
            || self.wide_of(letters).any(|(spelling, _)| may_start(spelling, letters))
    }

    /// The wide spellings that agree with letters up to their first choice.
    fn wide_of<'s>(&'s self, letters: &'s str) -> impl Iterator<Item = (&'s str, Sense)> {
        let agrees = move |before: &str| letters.starts_with(before) || before.starts_with(letters);
        self.wide
            .iter()
            .filter(move |(before, ..)| agrees(before))
            .map(|(_, spelling, sense)| (&**spelling, *sense))
    }
}

/// The items of a text, in order: at each place the longest name.
pub(super) fn items(text: &str) -> Vec<Item> {
    let tokens = tokens(text);
    let (mut items, mut at) = (Vec::new(), 0);
    while at < tokens.len() {
        match longest(text, &tokens[at..]) {
            Some((count, sense)) => {
                let mut range = tokens[at].range.start..tokens[at + count - 1].range.end;
                // "H.B.": the last point belongs to the abbreviation.
                if text[range.clone()].contains('.') && text[range.end..].starts_with('.') {
                    range.end += 1;
                }
                let is_unclear = matches!(sense, Sense::Closing("inside") | Sense::ClosingBeside(_))
                    && is_displaced(text, &range);
                items.push(Item { range, sense: if is_unclear { Sense::UnclearClosing } else { sense } });
                at += count;
            }
            None => at += 1,
        }
    }
    items
}

fn longest(text: &str, tokens: &[Token]) -> Option<(usize, Sense)> {
    if is_denied_compound(text, tokens) {
        return None;
    }
    let (mut name, mut best) = (String::new(), None);
    for (index, token) in tokens.iter().take(MOST_TOKENS).enumerate() {
        if let Some(before) = index.checked_sub(1)
            && !is_joined(&text[tokens[before].range.end..token.range.start])
        {
            break;
        }
        name.push_str(&token.word);
        // "With S.S." is not the plural of "with".
        let is_word = index == 0 || token.word.len() > 1 || text[..token.range.start].ends_with('\'');
        let plural = if is_word { singular(&name) } else { None };
        let sense = SENSES.get(&name).or_else(|| SENSES.get(plural?));
        best = sense.filter(|_| is_spelled(&tokens[..=index])).map(|sense| (index + 1, sense)).or(best);
        if !SENSES.has_start(&name) {
            break;
        }
    }
    best
}

/// Words with runs of single letters as one: `S.S. body` is "ss body".
fn spelled(tokens: &[Token]) -> String {
    let mut out = String::new();
    let mut was_letter = false;
    for token in tokens {
        let is_letter = token.word.chars().count() == 1;
        let goes_on = is_letter && was_letter;
        if !(out.is_empty() || goes_on) {
            out.push(' ');
        }
        out.push_str(&token.word);
        was_letter = is_letter;
    }
    out
}

/// Whether tokens are a name word by word, or long words of a name written as one ("sill cock"), or letters ("S.S.").
/// "To P.T." is no "top".
fn is_spelled(tokens: &[Token]) -> bool {
    let all = |is: fn(usize) -> bool| tokens.iter().all(|it| is(it.word.chars().count()));
    let words = spelled(tokens);
    tokens.len() == 1
        || all(|length| length == 1)
        || all(|length| length >= 3)
        || SENSES.is_spelled(&words)
        || words.strip_suffix('s').is_some_and(|it| SENSES.is_spelled(it.trim_end()))
}

/// Whether what is between two tokens may be within a name.
fn is_joined(gap: &str) -> bool {
    gap.len() <= 3 && gap.chars().all(|c| " -./'&_".contains(c))
}

fn singular(name: &str) -> Option<&str> {
    let short = name.strip_suffix('s').filter(|it| it.len() > 1 && !it.ends_with('s'))?;
    if SENSES.get(short).is_some() { Some(short) } else { short.strip_suffix('e') }
}

/// The word among `words` that a whole cell is a name of.
pub(super) fn word(words: &Words, text: &str) -> Option<&'static str> {
    let has = |name: &str| words.iter().find(|(word, _)| *word == name).map(|(word, _)| *word);
    let text = Plain::of(text).text;
    let tokens = tokens(&text);
    // A comma within the name of a kind: "Sillcock, frost-proof".
    let items = items(&text);
    let covered = |token: &Token| items.iter().any(|it| it.range.contains(&token.range.start));
    if tokens.is_empty() || !tokens.iter().all(covered) {
        return None;
    }
    let mut senses: Vec<Sense> = items.iter().map(|it| it.sense).filter(|it| *it != Sense::Idle).collect();
    let is_kind =
        |sense: &Sense| matches!(sense, Sense::OfKind(_) | Sense::KindClosing(..) | Sense::MayBeKind(_));
    if senses.iter().any(is_kind) {
        senses.retain(|sense| !matches!(sense, Sense::Closing(_) | Sense::ClosingBeside(_)));
        if senses.contains(&Sense::Boxed) && senses.contains(&Sense::OfKind("wall hydrant")) {
            return has("box hydrant").filter(|_| senses.len() == 2);
        }
    }
    match senses.as_slice() {
        [Sense::OfKind(word) | Sense::KindClosing(word, _) | Sense::MayBeKind(word)] => has(word),
        [Sense::Device(Some(word)) | Sense::Metal(word) | Sense::Pipe(word) | Sense::Joint(word)] => {
            has(word)
        }
        [Sense::Plating(word) | Sense::Word(_, word)] => has(word),
        // "Galvanized brass" is plated; "galv/brass" are two metals.
        [Sense::Plating(word), Sense::Metal(_)] if !names_two(&text) => has(word),
        _ => None,
    }
}

/// Whether something in a text separates two things.
fn names_two(text: &str) -> bool {
    text.contains(['/', '&', '+', ',', ';']) || text.to_lowercase().contains(" and ")
}

/// Common names of kinds, to suggest for a misspelled one.
pub(super) fn names(words: &Words) -> Vec<String> {
    const FROST_PROOF: [&str; 4] = ["frostproof", "freezeless", "freeze-resistant", "non-freeze"];
    let is_kind = |word: &str| matches!(SENSES.get(&key(word)), Some(Sense::OfKind(kind)) if kind == word);
    let kinds = words.iter().map(|(word, _)| *word).filter(|word| is_kind(word));
    kinds.flat_map(|kind| FROST_PROOF.map(|frost_proof| format!("{frost_proof} {kind}"))).collect()
}

/// Where an outlet closes by the name of its kind: `inside` if it is called frost-proof, `face` if it is meant for a
/// mild climate.
pub fn closes_by_name(kind: &str) -> Option<&'static str> {
    let items = items(&Plain::of(kind).text);
    let has_kind = items.iter().any(|it| matches!(it.sense, Sense::OfKind(_) | Sense::MayBeKind(_)));
    if items.iter().any(|it| it.sense == Sense::UnclearClosing) {
        return None;
    }
    items.iter().find_map(|it| match it.sense {
        Sense::Closing(closes) | Sense::KindClosing(_, closes) => Some(closes),
        Sense::ClosingBeside(closes) if has_kind => Some(closes),
        _ => None,
    })
}

/// Whether a text says that something is not frostproof, or leaves it open.
pub(super) fn denies_frostproof(text: &str) -> bool {
    let text = Plain::of(text).text;
    items(&text).iter().any(|it| match it.sense {
        Sense::Closing("inside") => denial_before(&text[..it.range.start]).is_some(),
        sense => sense == Sense::UnclearClosing,
    })
}

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
            ("Outside faucet", "hose bibb", None),
            ("Sill faucet", "sillcock", None),
        ] {
            assert_eq!((word(WORDS, text), closes_by_name(text)), (Some(kind), closes), "{text}");
        }
        for text in [
            "Brass sillcock",
            "Roof hydrant",
            "FP",
            "frost-proof",
            "",
            "Non-freeze-resistant wall hydrant",
            "Sillcock, un-frostproof",
            "Wall hydrant in frostproof box",
        ] {
            assert_eq!(word(WORDS, text), None, "{text}");
        }
    }
}
