//! The facts given for a row, by precedence of their sources, and the outlet of a row.

use super::assumed::seat_by_offset;
use super::catalogue::{CATALOGUE, JOB_VOCABULARY, VOCABULARY, slot};
use super::columns::{MODEL, NOMINAL_LENGTH, SEAT_DEPTH, SEAT_OFFSET, SPACE_BEHIND, WALL};
use super::def::{Def, RangeEnd, Source};
use super::detail::BLOCK_THICKNESS;
use super::doubtful_space::contradiction;
use super::outlet::{Fact, Origin, Outlet};
use super::world::World;
use crate::diag::Location;
use crate::expr::{Gap, Slot, Value};
use crate::job::{self, Job};
use crate::schedule::{Cell, CellValue, Row};
use crate::units::{Dim, Quantity};
use crate::wall::{Wall, members};
use std::sync::Arc;

/// Sources of the facts of a row, in order of precedence: the first that states a fact wins. A fact that none states is
/// assumed or unknown.
const PRECEDENCE: [fn(&Inputs<'_>, &mut Given); 8] = [
    cells_of_row,
    answers,
    product_data,
    seat_from_offset,
    // What the job states of a wall is more specific than its defaults for all walls.
    under_flange,
    // If the words of the row contradict the default space behind, that space is unknown.
    contradicted_space,
    defaults_of_job,
    // Again: the defaults may give the offset.
    seat_from_offset,
];

impl World {
    /// The outlet of a row.
    pub fn outlet(&self, row: &Row) -> Outlet<'_> {
        Outlet::new(self, &CATALOGUE, self.given_facts(row))
    }

    /// An outlet of which only these facts are given.
    pub fn outlet_of(&self, facts: &[(Slot, Value)]) -> Outlet<'_> {
        Outlet::new(self, &CATALOGUE, Vec::new()).suppose(facts)
    }

    /// The facts that the sources give for a row, by slot.
    pub fn given_facts(&self, row: &Row) -> Vec<Option<Fact>> {
        let mut given = Vec::new();
        self.put_given_facts(row, &mut given);
        given
    }

    /// As [`World::given_facts`], in a list that is reused for all rows of a long schedule.
    pub fn put_given_facts(&self, row: &Row, list: &mut Vec<Option<Fact>>) {
        // Cleared in place: writing a new list of all facts takes longer.
        list.iter_mut().for_each(|fact| *fact = None);
        list.resize(CATALOGUE.len(), None);
        let mut given = Given(std::mem::take(list));
        let inputs = Inputs { job: self.job(), row };
        for source in PRECEDENCE {
            source(&inputs, &mut given);
        }
        *list = given.0;
    }
}

/// The row and the job that the sources are read from.
struct Inputs<'s> {
    job: &'s Job,
    row: &'s Row,
}

/// Facts given so far, by slot.
struct Given(Vec<Option<Fact>>);

impl Given {
    fn get(&self, def: &Def) -> Option<&Fact> {
        self.0[usize::from(slot(def).0)].as_ref()
    }

    fn number(&self, def: &Def) -> Option<f64> {
        match self.get(def)?.value {
            Ok(Value::Quantity(quantity)) => Some(quantity.is),
            _ => None,
        }
    }

    /// Adds a fact, unless an earlier source gave it.
    fn state(&mut self, slot: Slot, fact: impl FnOnce() -> Fact) {
        self.0[usize::from(slot.0)].get_or_insert_with(fact);
    }

    fn state_cell(&mut self, cell: &Cell, origin: fn(Location, Arc<str>) -> Origin) {
        let slot = VOCABULARY.1[cell.term];
        self.state(slot, || {
            let (location, text) = (cell.location.clone(), cell.text.clone());
            match &cell.value {
                Some(read) => {
                    at_range_end(Fact { value: Ok(value(read)), origin: origin(location, text) }, slot)
                }
                None => Fact { origin: Origin::Unreadable(location, text), ..Fact::unknown(slot) },
            }
        });
    }
}

fn cells_of_row(inputs: &Inputs<'_>, given: &mut Given) {
    for cell in inputs.row.cells.iter().filter(|cell| !inputs.job.is_answer(cell)) {
        given.state_cell(cell, Origin::Stated);
    }
}

fn answers(inputs: &Inputs<'_>, given: &mut Given) {
    for cell in inputs.row.cells.iter().filter(|cell| inputs.job.is_answer(cell)) {
        given.state_cell(cell, Origin::Answered);
    }
}

/// Product data of the model that the row, or else the job, names.
fn product_data(Inputs { job, row }: &Inputs<'_>, given: &mut Given) {
    let named = row.cells.iter().find(|cell| is(cell, MODEL)).or_else(|| default(job, MODEL));
    let Some(cells) = job
        .products
        .as_ref()
        .zip(named)
        .and_then(|(products, cell)| products.of(&cell.text, &row.cells, &JOB_VOCABULARY))
    else {
        return;
    };
    // Skip the seat depth of another length.
    let other_length = job::seat_is_of_another_length(&row.cells, cells, &JOB_VOCABULARY);
    for cell in cells.iter().filter(|cell| !(other_length && is(cell, SEAT_DEPTH))) {
        given.state_cell(cell, Origin::Product);
    }
}

/// A seat depth that follows from a stated nominal length and seat offset.
fn seat_from_offset(_: &Inputs<'_>, given: &mut Given) {
    if let (Some(nominal), Some(offset)) = (given.number(NOMINAL_LENGTH), given.number(SEAT_OFFSET)) {
        let seat = slot(SEAT_DEPTH);
        given.state(seat, || Fact {
            value: seat_by_offset(nominal, offset)
                .map(|depth| Value::Quantity(Quantity::of(depth, Dim::LENGTH)))
                .map_err(|why| Gap::absent(seat, why)),
            origin: Origin::Computed([NOMINAL_LENGTH, SEAT_OFFSET].map(slot).into()),
        });
    }
}

/// The block under the flange, if the job states one for the outlet's wall.
fn under_flange(Inputs { job, .. }: &Inputs<'_>, given: &mut Given) {
    if let Some(under) = wall_of(job, given).and_then(|wall| wall.under_flange.as_ref()) {
        given.state(slot(BLOCK_THICKNESS), || Fact {
            value: Ok(Value::Quantity(Quantity::of(under.thickness, Dim::LENGTH))),
            origin: Origin::Job(under.location.clone(), under.text.clone()),
        });
    }
}

/// The space behind as unknown, if the words of the row contradict the default or usual one.
fn contradicted_space(Inputs { job, .. }: &Inputs<'_>, given: &mut Given) {
    if given.get(SPACE_BEHIND).is_some() {
        return;
    }
    // The job's default, otherwise the usual space of the wall.
    let usual = match default(job, SPACE_BEHIND).map(|cell| &cell.value) {
        Some(Some(CellValue::Text(space))) => Some(&**space),
        _ => wall_of(job, given).map(|wall| wall.space_behind),
    };
    let found = contradiction(usual, |def| match given.get(def)? {
        Fact { value: Ok(Value::Text(text)), origin: Origin::Stated(location, _) } => Some((text, location)),
        _ => None,
    });
    let found = found.map(|(why, text, location)| (why, Origin::Unreadable(location.clone(), text.clone())));
    if let Some((why, origin)) = found {
        let space = slot(SPACE_BEHIND);
        let gap = Gap { absent: Gap::absent(space, why).absent, ..Gap::missing(space) };
        given.state(space, || Fact { value: Err(gap), origin });
    }
}

fn defaults_of_job(inputs: &Inputs<'_>, given: &mut Given) {
    for cell in &inputs.job.defaults {
        given.state_cell(cell, Origin::Job);
    }
}

/// The answers that the words of a row allow: walls of a family. Empty if they allow any.
pub fn choices(row: &Row, asked: Slot) -> Vec<Value> {
    let wall = row.cells.iter().find(|cell| is(cell, WALL)).filter(|_| asked == slot(WALL));
    let keys = wall.map_or(&[][..], |cell| members(&cell.text));
    keys.iter().map(|key| Value::Text((*key).into())).collect()
}

fn is(cell: &Cell, def: &Def) -> bool {
    VOCABULARY.1.get(cell.term) == Some(&slot(def))
}

fn default<'j>(job: &'j Job, def: &Def) -> Option<&'j Cell> {
    job.defaults.iter().find(|cell| is(cell, def))
}

/// The wall of an outlet, its own or the job's default.
fn wall_of<'j>(job: &'j Job, given: &Given) -> Option<&'j Arc<Wall>> {
    match given.get(WALL).map(|fact| &fact.value) {
        // A value read from a row is a key.
        Some(Ok(Value::Text(key))) => {
            job.walls.iter().find(|wall| wall.key == *key).or_else(|| job.wall(key))
        }
        Some(_) => None,
        None => job.wall(&default(job, WALL)?.text),
    }
}

/// A stated fact at the end of its range that calculations use; unknown if either end may be the worse one.
fn at_range_end(fact: Fact, slot: Slot) -> Fact {
    let Ok(Value::Quantity(quantity)) = fact.value else { return fact };
    if !quantity.is_banded() {
        return fact;
    }
    let end = match CATALOGUE.get(usize::from(slot.0)).map(|entry| &entry.def.source) {
        Some(Source::Stated { range, .. }) => *range,
        _ => RangeEnd::Neither,
    };
    let at = |is| Ok(Value::Quantity(Quantity { is, ..quantity }));
    let value = match end {
        RangeEnd::Low(_) => at(quantity.low),
        RangeEnd::High(_) => at(quantity.high),
        RangeEnd::Neither => {
            Err(Gap::absent(slot, "a range is stated, and either end may be the worse case; state one value"))
        }
    };
    Fact { value, ..fact }
}

pub(super) fn value(read: &CellValue) -> Value {
    match read {
        CellValue::Text(text) => Value::Text(text.clone()),
        CellValue::YesNo(yes) => Value::YesNo(*yes),
        CellValue::Quantity(quantity) => Value::Quantity(*quantity),
    }
}
