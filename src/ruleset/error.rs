//! Errors in rule files, with all their texts.

use super::{AmendedBy, Basis, Outcome};
use crate::diag::{Diagnostic, Location, nearest, shortened};
use crate::expr::same_text;
use crate::input::{Key, Kind, Node};
use std::sync::Arc;

/// An error in a rule file, beside its location and the text it is about.
#[derive(Clone, Debug)]
pub(super) enum RuleError<'e> {
    NotARuleFile,
    FileTwice,
    // Sets and rules
    DuplicateSet(&'e Location),
    DuplicateRule,
    MissingCase(Outcome),
    UnknownName,
    ListInCase,
    NoSentence,
    // Amendments
    LevelInJob,
    NotAnAmendmentName,
    DuplicateAmendment(&'e Location),
    AmendmentNamedAsSet(&'e Location),
    NoBasis,
    DroppedWithoutReason,
    AlreadyDropped(&'e AmendedBy),
    RuleUnchanged,
    CheckCannotChange,
    // Settings
    SettingUnchanged(&'e str),
    /// Name of the setting and its value.
    ValueOutOfNewBounds(&'e str, &'e str),
    NoBounds(&'e str),
    NotTwoBounds(&'e str),
    ReversedBounds(&'e str),
    /// Name of the setting and its bounds.
    WiderBounds(&'e str, String),
    OutOfBounds(&'e str, String),
    NotAFactOfWords,
    NotASetting,
    /// Name of the setting and the fact its words are of.
    NoWords(&'e str, &'e str),
    EmptyWord,
    WordTwice,
    // Tables
    NotATableName,
    NameTaken,
    OtherFacts(String),
    OtherMeasure(String, String),
    RowCount(&'e str, usize),
    NoValues(&'e str),
    FactTwice(&'e str),
    SecondQuantity(&'e str),
    NoFacts(&'e str),
    ColumnTwice,
    NotARowKey,
    MixedDirections,
    NotAValue(&'e str),
    NotAColumn(&'e str),
    FactOfColumns(&'e str),
    NotACell,
    RowLacks(String),
    RowTwice,
    /// On which side of the row before it a row belongs, and what its breakpoint must be.
    RowsOutOfOrder(&'static str, String),
    /// The fact, and its values without one of the table's.
    MissingValues(&'e str, String),
    /// The line of another row, and the words that both fit.
    EqualRows(u32, String),
}

/// Most rows of a table.
pub(super) const MOST_ROWS: usize = 1000;

impl RuleError<'_> {
    /// At a value, which it quotes if that is a text.
    pub fn at(self, node: &Node) -> Diagnostic {
        let error = self.at_location(&node.location);
        if let Kind::Scalar { text, .. } = &node.kind { error.text(text) } else { error }
    }

    /// At a key, which it quotes.
    pub fn at_key(self, key: &Key) -> Diagnostic {
        self.at_location(&key.location).text(key.text.trim())
    }

    /// At a location.
    pub fn at_location(self, location: &Location) -> Diagnostic {
        let (message, expected) = self.texts();
        Diagnostic { expected, ..Diagnostic::new(location.clone(), message) }
    }

    /// What is wrong, and what was expected.
    fn texts(self) -> (String, Option<String>) {
        const OWN_NAME: &str = "a name of its own, so that each rule has its own number";
        const BOUNDS: &str = "the least and the most, between: [6 °F, 20 °F]";
        let (message, expected) = match self {
            Self::NotARuleFile => {
                ("is not a rule file", "`set:` with `rules:`, or `amendment:` with what it changes")
            }
            Self::FileTwice => {
                ("is given twice as a rule file", "each file once: in the job or on the command line")
            }
            Self::DuplicateSet(first) => {
                return (format!("is the name of another set of rules ({first})"), Some(OWN_NAME.into()));
            }
            Self::DuplicateRule => ("is the id of another rule", ""),
            Self::MissingCase(outcome) => {
                let message = format!("the rule has no case that gives \"{}\"", outcome.word());
                return (message, Some("one below `cases:`, so that the rule is tested".into()));
            }
            Self::UnknownName => ("is not a known name", ""),
            Self::ListInCase => ("is for a list, which a case cannot set", ""),
            Self::NoSentence => ("the wording has no sentences", "a text, or a list of sentences"),
            Self::LevelInJob => {
                ("cannot be the level of an amendment in a job", "job, or an amendment in a file of its own")
            }
            Self::NotAnAmendmentName => ("cannot be the name of an amendment", "words without a slash"),
            Self::DuplicateAmendment(first) => {
                return (
                    format!("is the name of another amendment ({first})"),
                    Some("a name of its own, so that reports distinguish the two".into()),
                );
            }
            Self::AmendmentNamedAsSet(set) => {
                return (format!("is the name of a set of rules ({set})"), Some(OWN_NAME.into()));
            }
            Self::NoBasis => {
                let words = Basis::WORDS.map(|(word, _)| word);
                let expected = format!("at least one of {}", words.join(", "));
                return ("revise_on has no basis".into(), Some(expected));
            }
            Self::DroppedWithoutReason => ("is dropped without a reason", ""),
            Self::AlreadyDropped(AmendedBy { name: by, location, .. }) => {
                return (format!("was already dropped by {by} ({location})"), None);
            }
            Self::RuleUnchanged => {
                ("has no changes", "outcome, basis, says, remedy, title, why, see or once")
            }
            Self::CheckCannotChange => (
                "cannot be changed: a rule that checks something else is another rule",
                "the rule under `drop:` with a reason, and one of your own under `add:`",
            ),
            Self::SettingUnchanged(name) => {
                return (format!("the setting {name} has no changes"), Some("is, between, or both".into()));
            }
            Self::ValueOutOfNewBounds(name, value) => {
                let message = format!("leaves the setting {name}, {value}, out of bounds");
                return (message, Some("`is:` with a value within them".into()));
            }
            Self::NoBounds(name) => {
                let message = format!("the setting {name} is not a quantity and has no bounds");
                return (message, Some("`is:` alone".into()));
            }
            Self::NotTwoBounds(name) => {
                return (
                    format!("the bounds of the setting {name} are not two figures"),
                    Some(BOUNDS.into()),
                );
            }
            Self::ReversedBounds(name) => {
                return (format!("the bounds of the setting {name} are reversed"), None);
            }
            Self::WiderBounds(name, bounds) => {
                return (format!("the bounds of the setting {name} may only get narrower"), Some(bounds));
            }
            Self::OutOfBounds(name, bounds) => {
                return (format!("is outside the bounds of the setting {name}"), Some(bounds));
            }
            Self::NotAFactOfWords => {
                ("is not a fact that is a word or a text", "a fact such as outlet.barrel")
            }
            Self::NotASetting => (
                "is not a quantity with a known unit",
                "a quantity such as 4 °F or 1 in, yes or no, or a list of words",
            ),
            Self::NoWords(name, fact) => {
                let expected = format!("at least one word of {fact}");
                return (format!("the setting {name} has no words"), Some(expected));
            }
            Self::EmptyWord => ("is an empty text", ""),
            Self::WordTwice => ("is in the list twice", ""),
            Self::NotATableName => {
                ("cannot be the name of a table", "letters, digits and _, such as least_seat_depth")
            }
            Self::NameTaken => ("is the name of another table or setting", ""),
            Self::OtherFacts(by) => {
                return ("has other facts than the table it replaces".into(), Some(format!("by: [{by}]")));
            }
            Self::OtherMeasure(new, old) => {
                return (format!("gives {new}, but the table it replaces gives {old}"), None);
            }
            Self::RowCount(name, rows) => {
                return (format!("the table {name} has {rows} rows"), Some(format!("1 to {MOST_ROWS}")));
            }
            Self::NoValues(name) => return (format!("the table {name} has no values"), None),
            Self::FactTwice(name) => return (format!("is twice in `by` of the table {name}"), None),
            Self::SecondQuantity(name) => {
                let expected = "one fact with breakpoints, the others with words";
                return (format!("is a second quantity in `by` of the table {name}"), Some(expected.into()));
            }
            Self::NoFacts(name) => return (format!("`by` of the table {name} has no facts"), None),
            Self::ColumnTwice => ("is twice in the row of the table", "each word once, in any case"),
            Self::NotARowKey => ("is not a key of a row of the table", "down to or up to, and is"),
            Self::MixedDirections => {
                ("mixes `down to` and `up to` in one table", "down to in every row, or up to in every row")
            }
            Self::NotAValue(fact) => return (format!("is not a value of {fact}"), None),
            Self::NotAColumn(fact) => {
                return (format!("is not a value of {fact}"), Some("a value of that fact, or other".into()));
            }
            Self::FactOfColumns(word) => {
                let expected = format!("its values as keys, each with an entry, such as {word}: 4 in");
                return ("is the fact whose values are the columns of the table".into(), Some(expected));
            }
            Self::NotACell => {
                ("is not a quantity with a known unit", "a quantity such as 10 in or 4 °F, or none")
            }
            Self::RowLacks(what) => return (format!("the row of the table has no {what}"), None),
            Self::RowTwice => ("the row is in the table twice", ""),
            Self::RowsOutOfOrder(side, expected) => {
                return (format!("is not {side} the row before it"), Some(expected));
            }
            Self::MissingValues(fact, words) => {
                let message = format!("the table has no value for {fact} {words}");
                return (message, Some("a value for each, or other:".into()));
            }
            Self::EqualRows(line, words) => {
                let message =
                    format!("the row of the table and that of line {line} fit {words} equally well");
                return (message, Some(format!("a row of its own for {words}")));
            }
        };
        (message.into(), (!expected.is_empty()).then(|| expected.into()))
    }
}

/// The error of a name that is not known, with the nearest: as a whole, or by what follows its slash.
pub(super) fn unknown<'n>(key: &Key, what: &str, names: impl Iterator<Item = &'n Arc<str>>) -> Diagnostic {
    let names: Vec<&str> = names.map(AsRef::as_ref).collect();
    let wanted = key.text.trim();
    let message = format!("there is no {what} \"{}\"", shortened(wanted));
    let error = Diagnostic::new(key.location.clone(), message).nearest(wanted, names.iter().copied());
    let tails = || names.iter().filter_map(|name| Some((*name, name.rsplit_once('/')?.1)));
    let exact = tails().find(|(_, tail)| same_text(tail, wanted));
    let near = || {
        let near = nearest(wanted, tails().map(|(_, tail)| tail)).filter(|_| !wanted.contains('/'));
        tails().find(|(_, tail)| error.nearest.is_none() && near == Some(*tail))
    };
    match exact.or_else(near) {
        Some((name, _)) => Diagnostic { nearest: Some(name.into()), ..error },
        None => error,
    }
}
