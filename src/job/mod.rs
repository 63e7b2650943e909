//! A job: a schedule with its climate, code, authority, spaces, walls, defaults and rules, tied together and checked.

mod answer_notes;
mod answered_rows;
mod answers;
mod are_outlets;
mod carried;
mod climate;
mod compare;
mod design;
mod elsewhere;
mod files;
mod headings;
mod load;
mod places;
mod products;
mod put_answers;
mod read;
mod rules;
mod rules_alone;
mod sources;
mod vocabulary;
mod walls;

pub use answers::SHEET_HEADINGS;
pub use are_outlets::{IS_OUTLET, IS_OUTLET_ANSWERS};
pub use climate::climates_of;
pub use design::Design;
pub use load::{load, load_schedule_only, rules_only_job};
pub use products::{Products, seat_is_of_another_length};
pub use rules::Presets;
pub use sources::Sources;
pub use vocabulary::{Scope, TermUse, Vocabulary, Words};
pub use walls::walls;

use crate::climate::Climate;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::ruleset::{Basis, Rules};
use crate::schedule::{Cell, CellValue, Noted, Schedule, says_unknown};
use crate::units::{DOUBTFUL_SIGNS, Hedge, hedges};
use crate::wall::{self, Wall, says_studs_only};
use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;

/// A figure that a job states.
#[derive(Clone, Debug, PartialEq)]
pub struct JobFigure {
    /// SI value.
    pub value: f64,
    /// Its text.
    pub text: Arc<str>,
    /// Its location.
    pub location: Location,
}

/// The adopted code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Code {
    /// Its name.
    pub name: Arc<str>,
    /// Its edition.
    pub edition: Option<Arc<str>>,
}

impl Code {
    /// Parses a code such as `UPC 2021` or `2021 UPC`: the year is its edition, unless one is stated apart.
    pub(crate) fn parse(text: &str, edition: Option<&str>) -> Self {
        let is_year = |word: &&str| year_of(word).is_some();
        let year = text.split_whitespace().find(is_year).filter(|_| edition.is_none());
        let name = text.split_whitespace().filter(|word| Some(*word) != year);
        Self { name: name.collect::<Vec<_>>().join(" ").into(), edition: edition.or(year).map(Into::into) }
    }

    /// The error of a code or an edition that is in doubt: `2021?`, `2021 or 2024`, `TBD`.
    pub(crate) fn doubt(text: &str, at: &Location) -> Option<Diagnostic> {
        let years: Vec<&str> =
            text.split(|c: char| !c.is_ascii_digit()).filter(|word| year_of(word).is_some()).collect();
        // "OR" and "CA" may be states.
        let is_open = says_unknown(text)
            || years.len() > 1
            || text.contains(['?', '~', '≈'])
            || text.contains(" or ")
            || hedges(text).iter().any(|(_, hedge)| *hedge == Hedge::Open);
        let problem = Diagnostic::new(at.clone(), "is doubtful, not final").text(text);
        let problem = problem.expected("one code and one edition, such as 2021, or no edition");
        is_open.then(|| match years.as_slice() {
            [year] => Diagnostic { nearest: Some((*year).into()), ..problem },
            _ => problem,
        })
    }

    /// The year of its edition.
    pub(crate) fn year(&self) -> Option<u16> {
        Self::year_in(self.edition.as_ref()?)
    }

    /// The year that the text of an edition names: `2021`, `8th edition (2023)`.
    pub(crate) fn year_in(edition: &str) -> Option<u16> {
        edition.split(|c: char| !c.is_ascii_digit()).find_map(year_of)
    }
}

/// The years of editions, in words.
const EDITIONS: &str = "a year from 1980 to 2040";

/// A year of an edition. Codes of before 1980 number their sections otherwise, and of those after 2040 nothing is known; no
/// clock is read.
fn year_of(word: &str) -> Option<u16> {
    word.parse().ok().filter(|year| (1980..=2040).contains(year))
}

/// What the authority having jurisdiction has set.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Authority {
    /// Winter design temperature, K.
    pub winter_temperature: Option<JobFigure>,
    /// Frost depth, m.
    pub frost_depth: Option<JobFigure>,
    /// Air-freezing index, K·s: 0 to 10 000 °F·days (`freezing_index`).
    pub freezing_index: Option<JobFigure>,
    /// Least height of an outlet above grade, m: to 10 ft (`outlet_height`).
    pub outlet_height: Option<JobFigure>,
}

/// Soils a job may name.
pub const SOILS: [&str; 4] = ["gravel", "sand", "silt", "clay"];

/// Keys under `costs:` of a job, one for each change of a remedy but `model`, whose cost is the difference of prices: `length`,
/// then the changes of `review/remedy/table.rs` in their order. A cost is in dollars, that of `length` in dollars per inch.
pub const COST_KEYS: [&str; 32] = [
    "length",
    "hose off",
    "stainless barrel",
    "frostproof outlet",
    "insulation off inlet",
    "copper tail",
    "bare supply",
    "heated space",
    "inside stop",
    "shutoff",
    "pipe insulation",
    "heat cable",
    "vacuum breaker",
    "built-in vacuum breaker",
    "pressure vacuum breaker",
    "timer vacuum breaker",
    "reduced-pressure assembly",
    "self-draining outlet",
    "screws",
    "joint",
    "combination inlet",
    "slope",
    "sealed flange",
    "sleeve",
    "firestop",
    "access panel",
    "height",
    "clearance",
    "bury depth",
    "sanitary hydrant",
    "upstream backflow preventer",
    "drainage bed",
];

/// What a job states of a space behind outlets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Space {
    /// Its temperature all winter, K.
    pub temperature: Option<JobFigure>,
    /// Relative humidity, 0 to 1.
    pub humidity: Option<JobFigure>,
    /// How far its temperature follows the heated room's: 0 as outdoors, 1 as the room.
    pub factor: Option<JobFigure>,
    /// Time in which it loses 63 % of its difference from outdoors with the heat off, s: 1 h to 1000 h (`time constant`).
    pub time_constant: Option<JobFigure>,
}

/// What a job states of the design cold spell: `spell: { days: 3, swing: 10 °F, start: 30 °F }`, each optional.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct StatedSpell {
    /// How long the low lasts, s: 1 to 30 whole days (`days`).
    pub duration: Option<JobFigure>,
    /// Difference of a day's high and low, K: 0 to 40 °F (`swing`).
    pub swing: Option<JobFigure>,
    /// Daily mean before the spell, K (`start`).
    pub start: Option<JobFigure>,
}

/// A job with its climate, walls, products and rules resolved.
#[derive(Clone, Debug)]
pub struct Job {
    /// Its name, if it has one.
    pub name: Option<Arc<str>>,
    /// The job file, if there is one.
    pub file: Option<Arc<str>>,
    /// The climate.
    pub climate: Arc<Climate>,
    /// The outdoor temperature its outlets must survive.
    pub design: Design,
    /// The climate the job file names, if the command line names another.
    pub climate_overridden: Option<Arc<str>>,
    /// The adopted code.
    pub code: Option<Code>,
    /// What the authority has set.
    pub authority: Authority,
    /// The exposure of its metals: coastal or exterior.
    pub exposure: Option<(&'static str, Location)>,
    /// The soil of its yard: one of [`SOILS`].
    pub soil: Option<(&'static str, Location)>,
    /// Its county, if it states one.
    pub county: Option<(Arc<str>, Location)>,
    /// Outlet types by model, if the job has product data.
    pub products: Option<Products>,
    /// What changes add to the cost of an outlet, by names of [`COST_KEYS`] and in their units.
    pub costs: BTreeMap<&'static str, f64>,
    /// Spaces by name.
    pub spaces: BTreeMap<&'static str, Space>,
    /// What it states of the design cold spell.
    pub spell: StatedSpell,
    /// Walls in the order of the job, then those built in.
    pub walls: Vec<Arc<Wall>>,
    /// Facts that hold for every outlet that does not state its own.
    pub defaults: Vec<Cell>,
    /// Bases that can require a revision; the others advise.
    pub revise_on: Vec<Basis>,
    /// The job, preset or amendment that sets them; `None` if nothing does, and every basis can require a revision.
    pub revise_on_set_by: Option<Arc<str>>,
    /// The schedule; its rows hold the answers too.
    pub schedule: Schedule,
    /// Files of answers, newest first (of two answers the newer counts), those carried over from a previous review last.
    pub answers: Vec<Arc<str>>,
    /// The rules in force.
    pub rules: Rules,
}

impl Job {
    /// Whether a cell of a row is an answer, not the schedule's own.
    pub fn is_answer(&self, cell: &Cell) -> bool {
        self.answers.contains(&cell.location.file)
    }

    /// The wall with this key or other name; case, hyphens and spaces are ignored. The job's own walls come first.
    pub fn wall(&self, word: &str) -> Option<&Arc<Wall>> {
        wall::find(&self.walls, word)
    }

    /// Sets the value of each cell to the key of the wall it names, or to none, with an error. Each wording is looked up once:
    /// a long schedule has few different ones. Adds a note if a wording states only the studs and the usual wall with them is assumed.
    fn resolve_walls<'c>(
        &self,
        cells: impl Iterator<Item = &'c mut Cell>,
        notes: &mut Vec<Noted>,
    ) -> Diagnostics {
        let mut known: HashMap<Arc<str>, Result<Arc<str>, Diagnostic>> = HashMap::new();
        let mut problems = Diagnostics::new();
        // Wordings that state only the studs: the first location of each, and the number of its rows.
        let mut studs: BTreeMap<Arc<str>, (Location, usize)> = BTreeMap::new();
        for cell in cells {
            let found = known.entry(cell.text.clone()).or_insert_with(|| {
                // "2x6?" names a wall with doubt, and is refused as unknown.
                let is_doubtful =
                    cell.text.contains(['?', '~', '≠', '≈']) || cell.text.contains(DOUBTFUL_SIGNS);
                let wall = self.wall(&cell.text).filter(|_| !is_doubtful);
                if wall.is_some_and(|wall| wall.built_in) && says_studs_only(&cell.text) {
                    studs.insert(cell.text.clone(), (cell.location.clone(), 0));
                }
                wall.map(|wall| wall.key.clone())
                    .ok_or_else(|| self.unknown_wall_error(&cell.text, &cell.location))
            });
            cell.value = found.as_ref().ok().map(|key| CellValue::Text(key.clone()));
            if let Some((_, rows)) = studs.get_mut(&cell.text) {
                *rows += 1;
            }
            if let Err(problem) = found {
                problems.push(Diagnostic { location: cell.location.clone(), ..problem.clone() });
            }
        }
        for (text, (location, rows)) in studs {
            let Some(Ok(key)) = known.get(&text) else { continue };
            let rows = if rows == 1 { String::new() } else { format!(" in {rows} rows") };
            let what = format!("names only studs; {key} is assumed{rows}").into();
            notes.push(Noted { location, text, what });
        }
        problems
    }

    /// The error of a word that names no wall, with the nearest name.
    pub fn unknown_wall_error(&self, word: &str, at: &Location) -> Diagnostic {
        wall::unknown(&self.walls, word, at)
    }
}
