//! Remedies: sets of changes to an outlet that settle its comments, reviewed again under every rule in force before they
//! are listed.

mod change;
mod prove;
mod search;
mod table;
mod tried;

pub use change::Finished;
pub(super) use search::remedies;
pub(super) use tried::order_of;

use super::{Piece, Shown};
use crate::units::Quantity;
use std::sync::Arc;

/// A set of changes to one outlet, proven by a review of the outlet with them.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What is changed.
    pub changes: Vec<Change>,
    /// Rules, by number, that had something to revise or clarify and no longer do.
    pub answers: Vec<Arc<str>>,
    /// Rules, by number, that still wait for information, with the headings that are missing.
    pub leaves: Vec<(Arc<str>, Vec<Arc<str>>)>,
    /// Whether all of it can be done in a finished wall.
    pub finished: Finished,
    /// What it adds to the cost of each outlet, if the job states the cost of every change in it.
    pub cost: Option<f64>,
    /// How far the next shorter stock length falls short, if it orders another length.
    pub short: Option<Short>,
    /// The facts that identify the outlet to order, after the changes.
    pub order: Vec<Shown>,
}

/// A cell: name and heading of its fact, and its new text; `None` if it is blanked.
type ChangedCell = (Arc<str>, Arc<str>, Option<Arc<str>>);

/// One change.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Its name, as `costs:` of a job names it.
    pub name: &'static str,
    /// Whether it orders another outlet.
    pub is_order: bool,
    /// Whether that is another product, not the same one in another length or metal.
    pub is_other_product: bool,
    /// Whether the designer decides it: it moves piping or adds to it upstream.
    pub is_of_designer: bool,
    /// What to do.
    pub says: Vec<Piece>,
    /// The cells of the schedule it changes: name and heading of the fact, and its new text; `None` if it is blanked.
    pub cells: Vec<ChangedCell>,
    /// Words of the row's description or notes that state otherwise, each with its column: strike them too.
    pub strikes: Vec<(Arc<str>, Arc<str>)>,
}

/// A stock length that is not enough, and by how much its seat falls short: by nothing if it would do but for the spread of
/// the usual seat offset.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Short {
    /// The length.
    pub length: Quantity,
    /// The least seat depth that is enough.
    pub seat_needed: Quantity,
    /// What its own seat lacks; zero or less if it would do with a seat depth from product data.
    pub by: Quantity,
}
