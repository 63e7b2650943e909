//! Tables of a rule set: a quantity by breakpoints of one fact and by words of others, such as a least seat depth by
//! design low and barrel.
//!
//! ```yaml
//! least_seat_depth:
//!   about: least seat depth by design low and barrel
//!   by: [site.design_low, outlet.barrel]
//!   rows:
//!     - { down to: 20 °F, stainless: 4 in, other: 6 in }
//!     - { down to: 0 °F, stainless: 5 in, other: 10 in }
//! ```
//!
//! `down to` includes its breakpoint and everything above it up to the row before; the first row has no upper end, and
//! below the last breakpoint the table has no value. `up to` is the same in the other direction. Columns are values of the
//! last fact of `by` that is not a quantity; values of any other are in the row under its name. Without such a fact the
//! value is under `is`. `other` is every value not named; of several rows that fit, the one that names most values
//! applies. `none` means that there is no value.

mod check;
mod look_up;
mod read;

use super::AmendedBy;
use crate::diag::Location;
use crate::expr::{Slot, Type, same_text};
use crate::units::{Measure, Quantity};
use std::sync::Arc;

/// A table that rules use by its name, like a setting.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    /// `company/least_seat_depth`.
    pub name: Arc<str>,
    /// What it is.
    pub about: Arc<str>,
    /// The facts that select a value.
    pub by: Vec<TableKey>,
    /// Its rows, in the order of the file.
    pub rows: Vec<TableRow>,
    /// What its values measure.
    pub measure: Measure,
    /// Its slot, after those of the facts.
    pub slot: Slot,
    /// Its location.
    pub location: Location,
    /// The amendments that added or replaced it, in their order.
    pub changes: Vec<AmendedBy>,
    /// The direction of its breakpoints, if it has any.
    direction: Option<Direction>,
}

/// A fact that selects a value.
#[derive(Clone, Debug, PartialEq)]
pub struct TableKey {
    /// Its slot.
    pub slot: Slot,
    /// Its name.
    pub name: Arc<str>,
    /// Its type.
    pub ty: Type,
}

/// A row of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct TableRow {
    /// The original cells: heading, text.
    pub written: Vec<(Arc<str>, Arc<str>)>,
    /// Its breakpoint, SI, and the original text.
    to: Option<(f64, Arc<str>)>,
    /// Values of the facts in the order of the table; `None` for those not in the row.
    words: Vec<Option<Word>>,
    /// Values by the columns; `None` for `none`.
    cells: Vec<(Word, Option<Quantity>)>,
    location: Location,
}

/// A value of a fact, or all others.
#[derive(Clone, Debug)]
enum Word {
    Is(Arc<str>),
    Other,
}

/// The direction of breakpoints.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Direction {
    Down,
    Up,
}

impl Direction {
    const WORDS: [(&'static str, Self); 2] = [("down to", Self::Down), ("up to", Self::Up)];

    /// Whether a value is within a breakpoint, apart from rounding of units.
    fn takes_in(self, value: f64, to: f64) -> bool {
        let noise = 1e-9 * to.abs();
        match self {
            Self::Down => value >= to - noise,
            Self::Up => value <= to + noise,
        }
    }

    /// Beyond every breakpoint.
    fn beyond(self) -> f64 {
        match self {
            Self::Down => f64::NEG_INFINITY,
            Self::Up => f64::INFINITY,
        }
    }
}

impl Table {
    /// The fact with breakpoints.
    fn quantity_key(&self) -> Option<usize> {
        self.by.iter().position(|it| matches!(it.ty, Type::Quantity(_)))
    }

    /// The fact whose values are the columns.
    fn column_key(&self) -> Option<usize> {
        self.by.iter().rposition(|it| !matches!(it.ty, Type::Quantity(_)))
    }
}

impl TableRow {
    /// The number of facts it names a value of.
    fn named(&self) -> usize {
        self.words.iter().filter(|it| matches!(it, Some(Word::Is(_)))).count()
    }
}

impl Word {
    fn is(&self, word: &str) -> bool {
        matches!(self, Self::Is(own) if same_text(own, word))
    }
}

impl PartialEq for Word {
    fn eq(&self, it: &Self) -> bool {
        match (self, it) {
            (Self::Is(own), Self::Is(it)) => same_text(own, it),
            (Self::Other, Self::Other) => true,
            _ => false,
        }
    }
}
