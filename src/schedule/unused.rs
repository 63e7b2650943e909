//! What a schedule holds that the review does not use, and why.

use super::types::Unused;
use crate::diag::Location;
use std::collections::BTreeSet;
use std::sync::Arc;

/// Why something is not used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Why {
    IgnoredColumn,
    UnknownHeading,
    SecondColumn,
    SizeOfFaucet,
    ColumnsOfOthers,
    NoSuchNote,
    Deleted,
    Struck,
    HeadingsAgain,
    Total,
    UnknownColumns,
    OtherSheet,
    HiddenSheet,
    SheetWithoutOutlets,
    SameMarks,
    OfTheType,
    Unknown,
    Remark,
    Open,
    OnlyKind,
    OnlyPart,
    NumberInNote,
    TooLong,
    WallInWords,
    HeldAgainst,
    GeneralNote,
    Around,
    NoSuchFootnote,
    NoHeading,
    Comment,
    NamesMark,
    Margin,
}

impl Why {
    /// Completes the sentence that starts with the text.
    pub(super) fn text(self) -> &'static str {
        match self {
            Self::IgnoredColumn => "the job ignores this column",
            Self::UnknownHeading => "unknown heading",
            Self::SecondColumn => "another column states the same fact; that one is read",
            Self::SizeOfFaucet => "is not the size in the column of the supply; that one is used",
            Self::ColumnsOfOthers => "not about an outdoor faucet; not used",
            Self::NoSuchNote => "is cited, and is not among the numbered notes",
            Self::Deleted => "the row is marked as deleted",
            Self::Struck => "the row is struck through",
            Self::HeadingsAgain => "the row repeats the headings",
            Self::Total => "the row is a total, a title or a note, not a faucet",
            Self::UnknownColumns => "the row has nothing in a column with a known heading",
            Self::OtherSheet => "a sheet that also looks like a schedule; name it to have it reviewed",
            Self::HiddenSheet => {
                "a hidden sheet that also looks like a schedule; name it to have it reviewed"
            }
            Self::SheetWithoutOutlets => {
                "a sheet without a row that is plainly an outdoor faucet; name it to have it reviewed"
            }
            Self::SameMarks => {
                "a sheet with the marks of the one that was read: another revision of it, or more of the same faucets; it is not read"
            }
            Self::OfTheType => {
                "a list of places says where a faucet goes, not what it is; that belongs in the schedule"
            }
            Self::Unknown => "unknown words",
            Self::Remark => "is a remark; nothing is read from it",
            Self::Open => "is not a value",
            Self::OnlyKind => {
                "only the kind of faucet is read from it: the rest is open, or has unknown words beside it"
            }
            Self::OnlyPart => {
                "only the clear part is read from it: the rest is open, denied, or has unknown words beside it"
            }
            Self::NumberInNote => "is a number in a note, which may be about something else; it is not used",
            Self::HeldAgainst => "is about a row that is not reviewed; it is not used",
            Self::GeneralNote => "no row cites this; it is not applied to any row",
            Self::Around => "belongs to no row; nothing is read from it",
            Self::NoSuchFootnote => "has the mark of a footnote, and there is no such footnote",
            Self::NamesMark => "names a mark of the schedule, on a sheet that is not read",
            Self::Margin => "is printed above or below the sheet; nothing is read from it",
            Self::Comment => "is a comment on the cell; it is not read",
            Self::NoHeading => "is in a column without a heading, which is not read",
            Self::WallInWords => "describes a wall; which one it is is not stated, and is asked",
            Self::TooLong => "is longer than 2,000 characters; nothing is read from it",
        }
    }

    /// Something at a location that is not used.
    pub(super) fn of(self, location: Location, text: impl Into<Arc<str>>) -> Unused {
        Unused { location, text: text.into(), why: self.text() }
    }
}

/// Whether words are listed as those of a wall.
pub fn is_wall_in_words(unused: &Unused) -> bool {
    unused.why == Why::WallInWords.text()
}

/// Whether words are a remark of which nothing is used, or a line around the rows.
pub fn is_remark(unused: &Unused) -> bool {
    [Why::Remark, Why::Around].iter().any(|it| unused.why == it.text())
}

/// Why a row is not an outdoor outlet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Aside {
    /// A plumbing fixture.
    Fixture,
    /// A drain.
    Drain,
    /// Equipment.
    Equipment,
    /// A part, a tool or another thing of an outlet, or of pipe.
    Accessory,
    /// An outlet indoors.
    Indoors,
    /// A title over other rows.
    Title,
    /// A total.
    Total,
    /// A note.
    Note,
    /// A row that was taken out.
    Deleted,
    /// Nothing says that it is an outlet.
    Unknown,
    /// A person says so.
    Stated,
}

impl Aside {
    /// The reason in one word, and for several rows.
    pub fn words(self) -> [&'static str; 2] {
        match self {
            Self::Fixture => ["fixture", "fixtures"],
            Self::Drain => ["drain", "drains"],
            Self::Equipment => ["equipment", "equipment"],
            Self::Accessory => ["accessory", "accessories"],
            Self::Indoors => ["indoor faucet", "indoor faucets"],
            Self::Title => ["title", "titles"],
            Self::Total => ["total", "totals"],
            Self::Note => ["note", "notes"],
            Self::Deleted => ["deleted row", "deleted rows"],
            Self::Unknown => ["row of unknown kind", "rows of unknown kind"],
            Self::Stated => ["set aside by the job or an answer", "set aside by the job or an answer"],
        }
    }
}

/// Words that are not used: each wording of a cell once.
#[derive(Default)]
pub(super) struct Unread {
    seen: BTreeSet<(Location, Why, String)>,
    listed: Vec<Unused>,
}

impl Unread {
    pub(super) fn add(&mut self, location: &Location, words: &str, why: Why) {
        if self.seen.insert((location.clone(), why, words.to_lowercase())) {
            self.listed.push(why.of(location.clone(), words));
        }
    }

    pub(super) fn listed(self) -> Vec<Unused> {
        self.listed
    }
}
