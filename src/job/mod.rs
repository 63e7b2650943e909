//! A job: a schedule with its climate, code, authority, spaces, walls, defaults and rules, tied together and checked.

mod load;
mod products;
mod read;

pub use load::{Sources, Words, load, of_rules};
pub use products::{OF_THE_PLACE, OFFSET, Products, seat_is_of_another_length};

use crate::climate::Climate;
use crate::diag::{Place, Problem};
use crate::ruleset::{Basis, Rules};
use crate::schedule::{Cell, Schedule, plain};
use crate::wall::Wall;
use std::collections::BTreeMap;
use std::sync::Arc;

/// Facts that are each outlet's own: they tell outlets apart, and a job gives no default for them.
pub const IDENTITY: [&str; 5] =
    ["outlet.mark", "outlet.quantity", "outlet.location", "outlet.description", "outlet.notes"];

/// A figure a job states, SI, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Stated {
    /// SI value.
    pub value: f64,
    /// As it is written.
    pub text: Arc<str>,
    /// Where it stands.
    pub place: Place,
}

/// The adopted code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// Its name.
    pub name: Arc<str>,
    /// Its edition.
    pub edition: Option<Arc<str>>,
}

/// What the authority having jurisdiction has set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Authority {
    /// Winter design temperature, K.
    pub winter_temperature: Option<Stated>,
    /// Frost depth, m.
    pub frost_depth: Option<Stated>,
    /// Air-freezing index, K·s: 0 to 10 000 °F·days (`freezing_index`).
    pub freezing_index: Option<Stated>,
    /// Least height of an outlet above grade, m: to 10 ft (`outlet_height`).
    pub outlet_height: Option<Stated>,
}

/// Soils a job may name.
pub const SOILS: [&str; 4] = ["gravel", "sand", "silt", "clay"];

/// What a job says of a space behind outlets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Space {
    /// K, held all winter.
    pub temperature: Option<Stated>,
    /// Relative humidity, 0 to 1.
    pub humidity: Option<Stated>,
    /// Share of the room in its temperature, 0 (as outdoors) to 1 (as the room).
    pub factor: Option<Stated>,
    /// Time in which it loses 63 % of its lead over outdoors with the heat off, s: 1 h to 1000 h (`time constant`).
    pub time_constant: Option<Stated>,
}

/// What a job says of the design cold spell: `spell: { days: 3, swing: 10 °F, start: 30 °F }`, each of them optional.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SpellSaid {
    /// How long the low is held, s: 1 to 30 whole days (`days`).
    pub days: Option<Stated>,
    /// Difference of a day's high and low, K: 0 to 40 °F (`swing`).
    pub swing: Option<Stated>,
    /// Daily mean before the spell, K (`start`).
    pub start: Option<Stated>,
}

/// A job, everything found.
#[derive(Clone, Debug)]
pub struct Job {
    /// Its name, where it has one.
    pub name: Option<Arc<str>>,
    /// The job file, where there is one.
    pub file: Option<Arc<str>>,
    /// The climate.
    pub climate: Arc<Climate>,
    /// The climate the job file names, where the command line named another.
    pub climate_overridden: Option<Arc<str>>,
    /// The adopted code.
    pub code: Option<Code>,
    /// What the authority has set.
    pub authority: Authority,
    /// Where its metals stand: coastal or exterior.
    pub exposure: Option<(&'static str, Place)>,
    /// The soil of its yard: one of [`SOILS`].
    pub soil: Option<(&'static str, Place)>,
    /// Outlet types by model, where the job brings them.
    pub products: Option<Products>,
    /// Spaces by name.
    pub spaces: BTreeMap<&'static str, Space>,
    /// The design cold spell.
    pub spell: SpellSaid,
    /// Walls by their place in the job, then those built in.
    pub walls: Vec<Arc<Wall>>,
    /// Facts that hold for every outlet that does not state its own.
    pub defaults: Vec<Cell>,
    /// Bases that may ask for a revision; the others advise.
    pub revise_on: Vec<Basis>,
    /// The schedule.
    pub schedule: Schedule,
    /// The rules in force.
    pub rules: Rules,
}

impl Job {
    /// The wall of a key or another of its names; case, hyphens and spaces do not count.
    pub fn wall(&self, word: &str) -> Option<&Arc<Wall>> {
        let wanted = plain(word);
        self.walls.iter().find(|wall| {
            plain(&wall.key) == wanted
                || plain(&wall.name) == wanted
                || wall.aliases.iter().any(|alias| plain(alias) == wanted)
        })
    }

    /// The problem of a word that is no wall, with the nearest that is.
    pub fn no_wall(&self, word: &str, at: &Place) -> Problem {
        let names = self.walls.iter().flat_map(|wall| std::iter::once(&wall.key).chain(&wall.aliases));
        let problem =
            Problem::new(at.clone(), "is not a wall").text(word).nearest(word, names.map(AsRef::as_ref));
        if problem.nearest.is_some() {
            problem
        } else {
            problem.expected("a wall that `coldsill walls` lists or the job describes")
        }
    }
}
