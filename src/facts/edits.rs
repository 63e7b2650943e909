//! A row of a schedule with some of its facts changed, as somebody changes them who edits the schedule.

use super::catalogue::{CATALOGUE, VOCABULARY, show_of, slot};
use super::columns::{DESCRIPTION, KIND, LOCATION, MODEL, NOMINAL_LENGTH, NOTES, SPACE_BEHIND};
use super::doubtful_space::first_contradiction;
use super::outlet::{Fact, Origin, Outlet};
use super::world::World;
use crate::diag::{Diagnostic, Location, Position};
use crate::expr::{Slot, Value};
use crate::job::Scope;
use crate::schedule::{Cell, CellValue, Row, parse_description, read_cell};
use crate::units::{Dim, Quantity, System};
use std::sync::Arc;

/// A fact with the value its cell is given; `None` blanks the cell.
pub type Edit = (Slot, Option<Value>);

/// A length of an edit, m.
pub fn length(meters: f64) -> Value {
    Value::Quantity(Quantity::of(meters, Dim::LENGTH))
}

impl World {
    /// A row with some of its cells changed. What the job and its product data state still fills blanks.
    pub fn edited(&self, row: &Row, edits: &[Edit]) -> Row {
        let location = row.location(&self.job().schedule.file);
        let mut row = row.clone();
        for (slot, value) in edits {
            let Some(term) = VOCABULARY.1.iter().position(|own| own == slot) else { continue };
            row.cells.retain(|cell| cell.term != term);
            row.cells.extend(value.as_ref().and_then(|value| {
                let text = as_written(*slot, value).into();
                Some(Cell { term, location: location.clone(), text, value: Some(read(value)?) })
            }));
        }
        row.cells.sort_by_key(|cell| cell.term);
        row
    }

    /// The models of the job's product data as edits: each names a model, and blanks what a row states of the outlet
    /// itself.
    pub fn models(&self) -> Vec<(Arc<str>, Vec<Edit>)> {
        let Some(products) = &self.job().products else { return Vec::new() };
        let of_model = products.models().map(|(name, has_lengths, cells)| {
            let mut edits: Vec<Edit> = (0..)
                .map(Slot)
                .zip(CATALOGUE.iter())
                .filter(|(_, entry)| entry.def.stated_scope() == Some(Scope::Outlet))
                .filter(|(_, entry)| entry.def.name != KIND.name)
                .map(|(slot, _)| (slot, None))
                .collect();
            edits.extend(cells.iter().map(|cell| (VOCABULARY.1[cell.term], None)));
            edits.push((slot(MODEL), Some(Value::Text(name.clone()))));
            let own = |cell: &&Cell| VOCABULARY.1[cell.term] == slot(NOMINAL_LENGTH);
            if has_lengths
                && let Some(CellValue::Quantity(length)) =
                    cells.iter().find(own).and_then(|cell| cell.value.as_ref())
            {
                edits.push((slot(NOMINAL_LENGTH), Some(Value::Quantity(*length))));
            }
            (name.clone(), edits)
        });
        of_model.collect()
    }
}

impl Outlet<'_> {
    /// Words of the row's location, description and notes that state a fact otherwise than an edit, each with its column: left in the
    /// schedule, they would contradict it.
    pub fn words_against(&self, slot: Slot, value: Option<&Value>) -> Vec<(Arc<str>, Arc<str>)> {
        let of_column = |def| {
            let Fact { value: Ok(Value::Text(text)), origin: Origin::Stated(at, _) } = self.get_fact(def)
            else {
                return Vec::new();
            };
            let Position::Row(_, Some(column)) = at.position else { return Vec::new() };
            let stated = parse_description(&text, &VOCABULARY.0).stated.into_iter();
            let otherwise = stated.filter(|words| {
                VOCABULARY.1[words.term] == slot && Some(&super::rows::value(&words.value)) != value
            });
            let otherwise = otherwise.map(|words| Arc::from(words.words));
            // Words for a place say by themselves where the inlet is.
            let space = match value {
                Some(Value::Text(space)) if slot == self.slot(SPACE_BEHIND) => {
                    first_contradiction(&text, Some(space))
                }
                _ => None,
            };
            otherwise.chain(space.map(Arc::from)).map(|words| (words, column.clone())).collect()
        };
        [LOCATION, DESCRIPTION, NOTES].into_iter().flat_map(of_column).collect()
    }
}

/// A fact of a schedule as somebody types it: `edit("outlet.barrel", "brass", …)`.
pub fn edit(name: &str, text: &str, location: &Location) -> Result<Edit, Diagnostic> {
    let term = VOCABULARY.0.iter().position(|term| term.fact == name);
    let term = term.ok_or_else(|| Diagnostic::new(location.clone(), "is not a stated fact").text(name))?;
    let read = read_cell(&VOCABULARY.0[term].reads, text, None);
    let read = read.map_err(|unread| unread.at(location.clone(), text))?;
    Ok((VOCABULARY.1[term], Some(super::rows::value(&read))))
}

/// A value as a cell of a schedule states it.
pub fn as_written(slot: Slot, value: &Value) -> String {
    match value {
        Value::Text(text) => text.to_string(),
        Value::YesNo(yes) => if *yes { "yes" } else { "no" }.into(),
        Value::List(words) => words.join(", "),
        Value::Quantity(quantity) => show_of(slot, quantity.measure).value(quantity, System::Us),
    }
}

fn read(value: &Value) -> Option<CellValue> {
    Some(match value {
        Value::Text(text) => CellValue::Text(text.clone()),
        Value::YesNo(yes) => CellValue::YesNo(*yes),
        Value::Quantity(quantity) => CellValue::Quantity(*quantity),
        Value::List(_) => return None,
    })
}
