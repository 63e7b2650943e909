//! Levels of amendments, and the record of what each changed.

use super::{Basis, Outcome};
use crate::diag::Location;
use std::sync::Arc;

/// Whom an amendment is for. Amendments apply in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// The adopted code, shipped with the program.
    Code,
    /// A preset shipped with the program.
    Preset,
    /// A region: a county, a state, an authority.
    Region,
    /// A company: the default for an amendment of the command line.
    Company,
    /// One job: the default for an amendment that a job names.
    Job,
}

impl Level {
    /// Their words in amendments.
    pub const WORDS: [(&'static str, Self); 3] =
        [("region", Self::Region), ("company", Self::Company), ("job", Self::Job)];

    /// Its word in reports.
    pub fn word(self) -> &'static str {
        match self {
            Self::Code => "code",
            Self::Preset => "preset",
            Self::Region => "region",
            Self::Company => "company",
            Self::Job => "job",
        }
    }
}

/// An amendment and a location in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AmendedBy {
    /// Name of the amendment.
    pub name: Arc<str>,
    /// Whom it is for.
    pub level: Level,
    /// The location.
    pub location: Location,
}

impl AmendedBy {
    /// The same amendment at another location in it.
    pub(super) fn at(&self, location: &Location) -> Self {
        Self { location: location.clone(), ..self.clone() }
    }

    /// Whether it overrides an amendment of a higher level. Codes and presets are meant to be amended.
    pub(super) fn overrules(&self, before: &Self) -> bool {
        before.level > Level::Preset && before.level < self.level
    }
}

/// A part of a rule that an amendment may change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// `outcome`
    Outcome,
    /// `basis`
    Basis,
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
            Self::Basis => "basis",
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
    /// The text before; empty if there was none.
    pub was: Arc<str>,
    /// The text after.
    pub is: Arc<str>,
    /// By which amendment.
    pub by: AmendedBy,
}

/// An amendment in force.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Amendment {
    /// Its name.
    pub name: Arc<str>,
    /// What it is for.
    pub about: Option<Arc<str>>,
    /// Whom it is for.
    pub level: Level,
    /// Its location.
    pub location: Location,
}

/// A figure of the authority, or the adopted code, that an amendment states.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// What it is: `frost depth`.
    pub what: Arc<str>,
    /// As it is written: `42 in`.
    pub is: Arc<str>,
    /// By which amendment.
    pub by: AmendedBy,
}

/// The bases that may require a revision, and the amendment that states them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ReviseOn {
    /// The bases.
    pub bases: Vec<Basis>,
    /// The amendment.
    pub by: AmendedBy,
}

/// A preset in force.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Preset {
    /// Its name.
    pub name: Arc<str>,
    /// The bases that may require a revision, if it states them.
    pub revise_on: Option<Vec<Basis>>,
}

/// What the report says of an amendment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Note {
    /// The amendment.
    pub by: AmendedBy,
    /// What it did.
    pub what: Noted,
}

/// Effects of an amendment that the report lists.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Noted {
    /// It changes nothing.
    Nothing,
    /// It changes a rule that an amendment above it changed or added.
    ChangesAfter {
        /// Number of the rule.
        number: Arc<str>,
        /// The amendment above it.
        above: AmendedBy,
    },
    /// It drops a rule that an amendment above it changed or added.
    DropsAfter {
        /// Number of the rule.
        number: Arc<str>,
        /// The amendment above it.
        above: AmendedBy,
    },
    /// It replaces a table of an amendment above it.
    ReplacesAfter {
        /// Name of the table.
        table: Arc<str>,
        /// The amendment above it.
        above: AmendedBy,
    },
    /// It overrides the bases that may require a revision.
    RevisesOnAfter {
        /// The amendment above it.
        above: AmendedBy,
    },
    /// It drops a rule based on the adopted code.
    DropsCode {
        /// Number of the rule.
        number: Arc<str>,
    },
    /// It lowers the outcome of a rule based on the adopted code.
    LowersCode {
        /// Number of the rule.
        number: Arc<str>,
        /// The outcome before.
        from: Outcome,
        /// The outcome now.
        to: Outcome,
    },
    /// It bases a rule of the adopted code on something else.
    LeavesCode {
        /// Number of the rule.
        number: Arc<str>,
    },
    /// It has a table that no rule reads.
    UnusedTable {
        /// Name of the table.
        table: Arc<str>,
    },
    /// It requires a revision on a basis that may not require one.
    MayNotRevise {
        /// Number of the rule.
        number: Arc<str>,
        /// The basis of the rule.
        basis: Basis,
    },
}
