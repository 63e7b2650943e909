//! A regional standard: for each place, wall, supply and barrel the length to order, what governs it and by how much it is
//! enough; which few products serve the whole region.

mod cells;
mod error;
mod groups;
mod open;
mod previous;
mod read;

pub use cells::{Change, VARIANTS, Variant};
pub use groups::{Groups, Item, Stock};
pub use open::{Files, standard};
pub use previous::{
    CellDifference, PreviousStandard, StandardComparison, compare_standards, is_standard,
    read_previous_standard,
};
pub use read::{Request, SupplyOf, WallOf, read};

use crate::climate::Climate;
use crate::facts::Solves;
use crate::physics::water::ICE_POINT;
use crate::review::{Candidate, Limit, RuleCard, Shown};
use crate::units::Quantity;
use std::sync::Arc;

/// A place of a standard.
#[derive(Clone, Debug)]
pub struct Place {
    /// Its climate.
    pub climate: Arc<Climate>,
    /// Homes built there; `None` if not stated.
    pub homes: Option<f64>,
    /// The outdoor temperature an outlet must survive there, K.
    pub design_low: f64,
    /// What it is: "20-year low".
    pub design_low_is: Arc<str>,
}

/// A wall with the space at the inlet, a supply and a barrel: what a cell is of, besides its place.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// Key of the wall.
    pub wall: Arc<str>,
    /// The space at the inlet.
    pub space: Arc<str>,
    /// Material of the supply.
    pub supply: Arc<str>,
    /// Insulation on it, as stated.
    pub insulation: Option<Arc<str>>,
    /// Metal of the barrel.
    pub barrel: Arc<str>,
}

/// The answer for a place and a setting.
#[derive(Clone, Debug)]
pub struct Cell {
    /// The shortest product that no rule in force asks to revise; `None` if there is none.
    pub needed: Option<usize>,
    /// The product of the standard: the same, or a longer one where a milder place needs it (see `raised_by`).
    pub order: Option<usize>,
    /// The milder place that needs the longer product.
    pub raised_by: Option<usize>,
    /// What the next shorter product, or the longest one if none is enough, is too short for.
    pub limits: Vec<Limit>,
    /// How much shallower the seat of the needed product could be, m, on the safe side.
    pub slack: Option<f64>,
    /// Whether no shorter product bounds the slack: it is at least this.
    pub at_least: bool,
    /// Seat temperature at the design low, good to, years between, of the product of the standard.
    pub facts: Vec<Shown>,
    /// Whether the product of the standard is enough at the 50-year low; `None` if the climate has none.
    pub survives_50_years: Option<bool>,
    /// Whether the needed length changes with each of [`VARIANTS`]; `None` if it cannot be told.
    pub changes: Vec<Option<Change>>,
    /// Rules that ask for something at any depth.
    pub at_any_depth: Vec<Arc<RuleCard>>,
}

/// Slack under this is flagged, m (1/2 in).
pub const THIN: f64 = 0.0127;

impl Cell {
    /// Whether the slack is under 1/2 in.
    pub fn is_thin(&self) -> bool {
        !self.at_least && self.slack.is_some_and(|slack| slack < THIN)
    }

    /// Whether the answer is another one at the 50-year low.
    pub fn flips(&self) -> bool {
        self.survives_50_years == Some(false)
    }
}

/// A regional standard.
#[derive(Clone, Debug)]
pub struct Standard {
    /// Its name.
    pub name: Arc<str>,
    /// The date it is of, as stated.
    pub date: Arc<str>,
    /// The file.
    pub file: Arc<str>,
    /// The places, in the order of the file.
    pub places: Vec<Place>,
    /// Walls, supplies and barrels, in the order of the file.
    pub settings: Vec<Setting>,
    /// The products, the shortest first.
    pub products: Vec<Candidate>,
    /// Cells by place, then by setting.
    pub cells: Vec<Vec<Cell>>,
    /// Which products to stock.
    pub groups: Groups,
    /// Degrees required above freezing, K, as the file states it.
    pub margin: Option<Quantity>,
    /// Whether an inside stop is standard.
    pub inside_stop: bool,
    /// Names of the amendments in force.
    pub amendments: Vec<Arc<str>>,
    /// What is assumed of the outlets, with the reason; the same in every cell.
    pub assumed: Vec<(Shown, Arc<str>)>,
    /// How much was solved.
    pub solves: Solves,
}

impl Standard {
    /// Every cell with its place and setting.
    pub fn all(&self) -> impl Iterator<Item = (&Place, &Setting, &Cell)> {
        self.places.iter().zip(&self.cells).flat_map(|(place, cells)| {
            self.settings.iter().zip(cells).map(move |(setting, cell)| (place, setting, cell))
        })
    }
}

/// A temperature in °F.
pub(crate) fn fahrenheit(kelvin: f64) -> f64 {
    (kelvin - ICE_POINT) * 1.8 + 32.0
}

/// Version of the JSON form of a standard.
pub const STANDARD_FORMAT: u32 = 1;
