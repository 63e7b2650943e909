//! The vocabulary of a schedule: what a column can state, under which headings, and how its cells are read.

use super::text::{is_plainly, plain};
use crate::units::{Measure, Quantity};
use std::sync::Arc;

/// What a column can state.
#[derive(Clone, Debug)]
pub struct Term {
    /// The fact it states.
    pub fact: &'static str,
    /// Headings for it; case and punctuation are ignored.
    pub aliases: &'static [&'static str],
    /// How its cells are read.
    pub reads: CellType,
    /// What it is about, if descriptions speak of that too.
    pub subject: Option<Subject>,
}

/// What descriptions, notes and columns can be about. The vocabulary says which term is about what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
#[allow(missing_docs, reason = "the names say it")]
pub enum Subject {
    Kind,
    Closes,
    Quantity,
    NominalLength,
    SeatDepth,
    Supply,
    SupplySize,
    SupplyInsulation,
    Inlet,
    Barrel,
    Stem,
    Fasteners,
    Flange,
    BackflowDevice,
    BackflowStandard,
    Finish,
    Handle,
    SpaceBehind,
    Height,
    BlockThickness,
    BuryDepth,
    Slope,
    SelfDraining,
    InsideStop,
    Cover,
    Gasket,
    HeatCable,
    Sleeve,
    CheckValve,
    Serves,
    DrainsToSoil,
    UpstreamDevice,
    Firestop,
    FireRated,
    StopAccess,
    Blocking,
    Cladding,
    Location,
    Wall,
    /// A description in words.
    Description,
    /// Remarks in words.
    Notes,
    /// Where descriptions and columns disagree; no column of its own.
    Disagreement,
}

/// How a cell is read.
#[derive(Clone, Copy, Debug)]
pub enum CellType {
    /// As it stands.
    Text,
    /// Yes or no.
    YesNo,
    /// A quantity within a range, SI. `none` in the cell is zero if the flag says so.
    Quantity {
        /// What it measures.
        measure: Measure,
        /// Least accepted, SI.
        least: f64,
        /// Most accepted, SI.
        most: f64,
        /// Whether "none" is a way to write zero.
        none: bool,
    },
    /// A whole number of things.
    Count,
    /// One of these words, each with other spellings.
    Words(&'static Words),
}

/// Words, each with other spellings.
pub(super) type Words = [(&'static str, &'static [&'static str])];

impl CellType {
    /// Whether a cell holds a number.
    pub(super) fn is_numeric(&self) -> bool {
        matches!(self, Self::Quantity { .. } | Self::Count)
    }
}

/// What a cell says.
#[derive(Clone, Debug, PartialEq)]
pub enum CellValue {
    /// A text or a word.
    Text(Arc<str>),
    /// Yes or no.
    YesNo(bool),
    /// A quantity.
    Quantity(Quantity),
}

impl CellValue {
    /// Whether two values can both be meant: one may be rounded, or say more than the other.
    pub(super) fn is_compatible(&self, other: &Self) -> bool {
        /// Words for one thing in the trade.
        const SAME: [&str; 2] = ["hose bibb", "sillcock"];
        match (self, other) {
            (Self::Quantity(a), Self::Quantity(b)) => a.is_near(b),
            (Self::Text(a), Self::Text(b)) => {
                let is_same = SAME.contains(&&**a) && SAME.contains(&&**b);
                is_same || a.contains(&**b) || b.contains(&**a)
            }
            (a, b) => a == b,
        }
    }
}

/// The index of the term about a subject.
pub(super) fn term_of(subject: Subject, vocabulary: &[Term]) -> Option<usize> {
    vocabulary.iter().position(|term| term.subject == Some(subject))
}

/// The usual heading of a term.
pub(super) fn heading_of(term: &Term) -> &'static str {
    term.aliases.first().copied().unwrap_or(term.fact)
}

/// The headings of a vocabulary.
pub(super) fn headings(vocabulary: &[Term]) -> impl Iterator<Item = &'static str> {
    vocabulary.iter().flat_map(|term| term.aliases.iter().copied())
}

/// The index of the term with a heading, or of a fact's name with or without its topic.
pub fn term_named(word: &str, vocabulary: &[Term]) -> Option<usize> {
    let wanted = plain(word);
    if wanted.is_empty() {
        return None;
    }
    let has_alias = |term: &Term| term.aliases.iter().any(|alias| is_plainly(alias, &wanted));
    let has_name = |term: &Term| {
        let short = term.fact.rsplit('.').next().unwrap_or_default();
        is_plainly(term.fact, &wanted) || is_plainly(short, &wanted)
    };
    vocabulary.iter().position(has_alias).or_else(|| vocabulary.iter().position(has_name))
}
