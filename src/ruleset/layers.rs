//! Levels of amendments, and who has changed what: nothing that an amendment does is lost sight of.

use super::{Basis, Outcome};
use crate::diag::Location;
use std::sync::Arc;

/// For whom an amendment speaks. They apply in this order, whatever order they are given in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// A preset shipped with the program.
    Preset,
    /// A region: a county, a state, an authority.
    Region,
    /// A company; what an amendment of the command line is that does not say.
    Company,
    /// One job; what an amendment that a job names is that does not say.
    Job,
}

impl Level {
    /// As amendments write them.
    pub const WORDS: [(&'static str, Self); 3] =
        [("region", Self::Region), ("company", Self::Company), ("job", Self::Job)];

    /// As it is printed.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, level)| *level == self).map_or("preset", |(word, _)| word)
    }
}

/// An amendment, and where in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amended {
    /// Name of the amendment.
    pub by: Arc<str>,
    /// For whom it speaks.
    pub level: Level,
    /// Where it says so.
    pub place: Location,
}

impl Amended {
    /// The same amendment at another place in it.
    pub(super) fn at(&self, place: &Location) -> Self {
        Self { place: place.clone(), ..self.clone() }
    }

    /// Whether it takes the place of what an amendment above it has said. A preset is there to be changed.
    pub(super) fn overrules(&self, before: &Self) -> bool {
        before.level != Level::Preset && before.level < self.level
    }
}

/// A part of a rule that an amendment may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// `outcome`
    Outcome,
    /// `says`
    Says,
    /// `remedy`
    Remedy,
    /// `title`
    Title,
    /// `why`
    Why,
    /// `see`
    See,
    /// `once`
    Once,
}

impl Part {
    /// As rule files write it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Outcome => "outcome",
            Self::Says => "says",
            Self::Remedy => "remedy",
            Self::Title => "title",
            Self::Why => "why",
            Self::See => "see",
            Self::Once => "once",
        }
    }
}

/// A change of a part of a rule; the last one of a part is in force.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The part.
    pub part: Part,
    /// What it was before, as it was written; empty where there was nothing.
    pub was: Arc<str>,
    /// What it became.
    pub is: Arc<str>,
    /// By whom.
    pub by: Amended,
}

/// An amendment in force.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amendment {
    /// Its name.
    pub name: Arc<str>,
    /// What it is for.
    pub about: Option<Arc<str>>,
    /// For whom it speaks.
    pub level: Level,
    /// Where it stands.
    pub place: Location,
}

/// Bases that may ask for a revision, and who says so.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviseOn {
    /// The bases.
    pub bases: Vec<Basis>,
    /// Who says so.
    pub by: Amended,
}

/// A preset in force.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Preset {
    /// Its name.
    pub name: Arc<str>,
    /// Bases that may ask for a revision, where it says.
    pub revise_on: Option<Vec<Basis>>,
}

/// Something a reader of the report has to know of an amendment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// The amendment.
    pub by: Amended,
    /// What it has done.
    pub what: Noted,
}

/// What an amendment has done that a reader has to know.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Noted {
    /// It changes nothing.
    Nothing,
    /// It changes a rule that an amendment above it had changed or added.
    ChangesAfter {
        /// Number of the rule.
        number: Arc<str>,
        /// The amendment above it.
        above: Amended,
    },
    /// It drops a rule that an amendment above it had changed or added.
    DropsAfter {
        /// Number of the rule.
        number: Arc<str>,
        /// The amendment above it.
        above: Amended,
    },
    /// It replaces a table of an amendment above it.
    ReplacesAfter {
        /// Name of the table.
        table: Arc<str>,
        /// The amendment above it.
        above: Amended,
    },
    /// It says anew which bases may ask for a revision.
    RevisesOnAfter {
        /// The amendment above it.
        above: Amended,
    },
    /// It drops a rule that rests on the adopted code.
    DropsCode {
        /// Number of the rule.
        number: Arc<str>,
    },
    /// It lowers a rule that rests on the adopted code.
    LowersCode {
        /// Number of the rule.
        number: Arc<str>,
        /// The outcome before.
        from: Outcome,
        /// The outcome now.
        to: Outcome,
    },
    /// It asks for a revision on a basis that may not ask for one.
    MayNotRevise {
        /// Number of the rule.
        number: Arc<str>,
        /// What the rule stands on.
        basis: Basis,
    },
}
