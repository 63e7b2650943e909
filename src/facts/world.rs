//! What all outlets of a review share: the job, and every section and depth once solved.

use super::outlet::seat_by_offset;
use super::reading::{Fact, Origin, Outlet};
use super::worse_end::taken;
use super::{CATALOGUE, Facts, VOCABULARY, slot, space_in_doubt};
use crate::climate::Year;
use crate::diag::{Diagnostics, Location};
use crate::expr::{Slot, Value};
use crate::input::Files;
use crate::job::{self, Job, OFFSET, Words};
pub use crate::job::{Presets, Sources};
use crate::ruleset::RuleFile;
use crate::schedule::{Cell, Read, Row};
use crate::section::{
    self, Boundary, Capacities, Course, Damp, Depth, Micro, NoDepth, Refusal, Solved, Spec, Sweat,
    Uncertainty, Weather,
};
use crate::units::{Dim, Quantity};
use crate::wall::Wall;
use std::collections::HashMap;
use std::hash::Hash;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Mutex, OnceLock, PoisonError};

/// How many sections were solved: for outlets as they are, and on the way to a least depth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Solves {
    /// Distinct sections of outlets.
    pub sections: usize,
    /// Distinct sections looked at in search of a depth.
    pub depths: usize,
    /// Distinct sections followed through a cold spell, and states and spells apart.
    pub courses: usize,
}

type DepthKey = (Spec, [Micro; 3]);
type CourseKey = (Spec, Capacities, Vec<Micro>);

/// The job and what has been solved for it.
#[derive(Debug)]
pub struct World {
    job: Job,
    sections: Memo<(Spec, Uncertainty), Result<Arc<Solved>, Refusal>>,
    depths: Memo<DepthKey, Result<Depth, NoDepth>>,
    courses: Memo<CourseKey, Result<Arc<Course>, Refusal>>,
    sweats: Memo<(Spec, [Micro; 4]), Result<Arc<Sweat>, Refusal>>,
    year: OnceLock<Option<Year>>,
    sections_solved: AtomicUsize,
    depths_solved: AtomicUsize,
    courses_followed: AtomicUsize,
}

/// Opens a job or a bare schedule. All problems that keep a review from being made come at once.
pub fn open(sources: &Sources<'_>) -> Result<World, Diagnostics> {
    Ok(World::new(job::load(sources, &words())?))
}

/// Opens a job or a bare schedule to look at what it states: without its climate and its own rules.
pub fn open_to_read(sources: &Sources<'_>) -> Result<World, Diagnostics> {
    Ok(World::new(job::load_to_read(sources, &words())?))
}

/// A world without outlets or climate, for looking at rules and trying their cases.
pub fn open_rules(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    amendments: &[String],
) -> Result<World, Diagnostics> {
    open_rules_with(files, base, amendments, Presets::default())
}

/// The same with a preset.
pub fn open_rules_with(
    files: &dyn Files,
    base: &[RuleFile<'_>],
    amendments: &[String],
    presets: Presets<'_>,
) -> Result<World, Diagnostics> {
    Ok(World::new(job::of_rules(files, base, amendments, presets, &words())?))
}

fn words() -> Words<'static> {
    let (vocabulary, slots) = &*VOCABULARY;
    let mark = slots.iter().position(|it| *it == slot("outlet.mark")).unwrap_or(0);
    Words { vocabulary, mark, facts: &Facts, first_setting: first_setting() }
}

/// The first slot after those of the facts.
fn first_setting() -> u16 {
    u16::try_from(CATALOGUE.len()).unwrap_or(u16::MAX)
}

impl World {
    /// A world of a job.
    pub fn new(job: Job) -> Self {
        Self {
            job,
            sections: Memo::default(),
            depths: Memo::default(),
            courses: Memo::default(),
            sweats: Memo::default(),
            year: OnceLock::new(),
            sections_solved: AtomicUsize::new(0),
            depths_solved: AtomicUsize::new(0),
            courses_followed: AtomicUsize::new(0),
        }
    }

    /// The job.
    pub fn job(&self) -> &Job {
        &self.job
    }

    /// The outlet of a row: what the row states, then the job's defaults.
    pub fn outlet(&self, row: &Row) -> Outlet<'_> {
        Outlet::new(self, self.stated(row))
    }

    /// What a row, the product data of its model and the job's defaults state, by slot.
    pub fn stated(&self, row: &Row) -> Vec<Option<Fact>> {
        let mut given = Vec::new();
        self.put_stated(row, &mut given);
        given
    }

    /// The same put into a list, in place of what it holds: a long schedule uses one list for all its rows.
    pub fn put_stated(&self, row: &Row, given: &mut Vec<Option<Fact>>) {
        // Emptied where they stand: a list of nothing for every fact there is takes long to write.
        given.iter_mut().for_each(|it| *it = None);
        given.resize(CATALOGUE.len(), None);
        for cell in &row.cells {
            let is_answer = self.job.is_answer(cell);
            put(given, cell, if is_answer { Origin::Answered } else { Origin::Stated });
        }
        let model = self.product_data(row);
        let vocabulary = &VOCABULARY.0;
        let other_length = job::seat_is_of_another_length(&row.cells, model, vocabulary);
        let seat = slot("outlet.seat_depth");
        for cell in model.iter().filter(|it| !(other_length && VOCABULARY.1[it.term] == seat)) {
            put(given, cell, Origin::Product);
        }
        put_seat_by_offset(given);
        self.put_under_flange(given);
        let usual = self.usual_space(given);
        space_in_doubt::leave_open(given, usual);
        for cell in &self.job.defaults {
            put(given, cell, Origin::Job);
        }
        put_seat_by_offset(given);
    }

    /// What the job says stands under the flanges on the wall of an outlet: it is nearer than a default for all walls.
    fn put_under_flange(&self, given: &mut [Option<Fact>]) {
        let under = self.wall_of(given).and_then(|it| it.under_flange.as_ref());
        let fact = &mut given[usize::from(slot("outlet.block_thickness").0)];
        if let (None, Some(under)) = (&fact, under) {
            let value = Value::Quantity(Quantity::of(under.thickness, Dim::LENGTH));
            *fact =
                Some(Fact { value: Ok(value), origin: Origin::Job(under.place.clone(), under.text.clone()) });
        }
    }

    /// The wall of an outlet, its own or the job's.
    fn wall_of(&self, given: &[Option<Fact>]) -> Option<&Arc<Wall>> {
        let wall = slot("outlet.wall");
        let word = match given[usize::from(wall.0)].as_ref().map(|fact| &fact.value) {
            Some(Ok(Value::Text(word))) => word,
            Some(_) => return None,
            None => &self.default(wall)?.text,
        };
        self.job.wall(word)
    }

    /// The space behind that is taken where a row states none: the job's, or the usual one of the wall.
    fn usual_space(&self, given: &[Option<Fact>]) -> Option<&str> {
        match self.default(slot("outlet.space_behind")).map(|it| &it.value) {
            Some(Some(Read::Text(space))) => Some(space),
            _ => self.wall_of(given).map(|it| it.space_behind),
        }
    }

    fn default(&self, fact: Slot) -> Option<&Cell> {
        self.job.defaults.iter().find(|cell| VOCABULARY.1[cell.term] == fact)
    }

    /// What product data says of the model that a row, or else the job, names.
    fn product_data(&self, row: &Row) -> &[Cell] {
        let model = slot("outlet.model");
        let mut cells = row.cells.iter().chain(&self.job.defaults);
        let named = cells.find(|cell| VOCABULARY.1.get(cell.term) == Some(&model));
        let found = self.job.products.as_ref().zip(named).and_then(|(it, cell)| it.of(&cell.text));
        found.unwrap_or_default()
    }

    /// An outlet of which only these facts are given.
    pub fn outlet_of(&self, facts: &[(Slot, Value)]) -> Outlet<'_> {
        Outlet::new(self, Vec::new()).suppose(facts)
    }

    /// A section, solved once.
    pub fn section(&self, spec: &Spec, uncertainty: Uncertainty) -> Result<Arc<Solved>, Refusal> {
        self.solve(spec, uncertainty, &self.sections_solved)
    }

    /// The least seat depth of a section at a state, found once.
    pub fn depth(&self, spec: &Spec, at: &Boundary, target: f64) -> Result<Depth, NoDepth> {
        let key = (spec.with_seat_at(0.0), [at.outdoors, at.room, target].map(Micro::of));
        self.depths.get(key, || {
            section::least_depth(spec, at, target, |spec, uncertainty| {
                self.solve(spec, uncertainty, &self.depths_solved)
            })
        })
    }

    /// A section's course through a spell, followed once.
    pub fn course(
        &self,
        spec: &Spec,
        capacities: &Capacities,
        weather: &Weather,
    ) -> Result<Arc<Course>, Refusal> {
        let key = (spec.clone(), capacities.clone(), weather.key());
        self.courses.get(key, || {
            self.courses_followed.fetch_add(1, Ordering::Relaxed);
            section::follow(spec, capacities, weather).map(Arc::new)
        })
    }

    /// A section that sweats at a state, solved once.
    pub fn sweat(&self, spec: &Spec, at: &Boundary, air: &Damp) -> Result<Arc<Sweat>, Refusal> {
        let key = [at.outdoors, at.room, air.temperature, air.vapour_pressure].map(Micro::of);
        self.sweats.get((spec.clone(), key), || section::sweat(spec, at, air).map(Arc::new))
    }

    /// The model year of the job's climate, where its figures allow one.
    pub fn year(&self) -> Option<&Year> {
        self.year.get_or_init(|| Year::of(&self.job.climate)).as_ref()
    }

    /// How many sections were solved so far.
    pub fn solves(&self) -> Solves {
        let counts = [&self.sections_solved, &self.depths_solved, &self.courses_followed];
        let [sections, depths, courses] = counts.map(|it| it.load(Ordering::Relaxed));
        Solves { sections, depths, courses }
    }

    fn solve(
        &self,
        spec: &Spec,
        uncertainty: Uncertainty,
        count: &AtomicUsize,
    ) -> Result<Arc<Solved>, Refusal> {
        self.sections.get((spec.clone(), uncertainty), || {
            count.fetch_add(1, Ordering::Relaxed);
            section::solve(spec, uncertainty).map(Arc::new)
        })
    }
}

/// Takes what a cell says, where nothing was said before.
fn put(given: &mut [Option<Fact>], cell: &Cell, origin: fn(Location, Arc<str>) -> Origin) {
    let slot = VOCABULARY.1[cell.term];
    let fact = &mut given[usize::from(slot.0)];
    if fact.is_none() {
        let (place, text) = (cell.place.clone(), cell.text.clone());
        *fact = Some(match &cell.value {
            Some(read) => taken(Fact { value: Ok(value(read)), origin: origin(place, text) }, slot),
            None => Fact { origin: Origin::Unreadable(place, text), ..Fact::unknown(slot) },
        });
    }
}

/// A seat depth that nobody states follows from a nominal length and a seat offset that are stated.
fn put_seat_by_offset(given: &mut [Option<Fact>]) {
    let [seat, nominal, offset] = ["outlet.seat_depth", "outlet.nominal_length", OFFSET].map(slot);
    let number = |slot: Slot| match given[usize::from(slot.0)].as_ref().map(|fact| &fact.value) {
        Some(Ok(Value::Quantity(quantity))) => Some(quantity.is),
        _ => None,
    };
    if given[usize::from(seat.0)].is_none()
        && let (Some(length), Some(short)) = (number(nominal), number(offset))
    {
        let depth = seat_by_offset(length, short).map(|it| Value::Quantity(Quantity::of(it, Dim::LENGTH)));
        let origin = Origin::Computed([nominal, offset].into());
        given[usize::from(seat.0)] = Some(Fact { value: depth, origin });
    }
}

fn value(read: &Read) -> Value {
    match read {
        Read::Text(text) => Value::Text(text.clone()),
        Read::YesNo(yes) => Value::YesNo(*yes),
        Read::Quantity(quantity) => Value::Quantity(*quantity),
    }
}

/// Remembers results by key; each is worked out once, even where several threads ask at the same time.
#[derive(Debug)]
struct Memo<K, V>(Mutex<HashMap<K, Arc<OnceLock<V>>>>);

impl<K, V> Default for Memo<K, V> {
    fn default() -> Self {
        Self(Mutex::new(HashMap::new()))
    }
}

impl<K: Eq + Hash, V: Clone> Memo<K, V> {
    fn get(&self, key: K, work_out: impl FnOnce() -> V) -> V {
        let slot = self.0.lock().unwrap_or_else(PoisonError::into_inner).entry(key).or_default().clone();
        slot.get_or_init(work_out).clone()
    }
}
