//! Product data: a user's own file of outlet types by model. A row that names a model takes from here what it does not
//! say itself; what it says otherwise is told, and stands.

use super::IDENTITY;
use super::load::{beside, is_yaml, parse};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Files, Kind, Limit, Node, Table, tables};
use crate::schedule::{
    self, Cell, Columns, Noted, Read, Reading, Row, Schedule, Term, Unused, is_blank, plain, read_cell,
};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The fact that names a row's model.
const MODEL: &str = "outlet.model";
/// How much the seat lies short of the nominal length.
pub const OFFSET: &str = "outlet.seat_offset";
const SEAT: &str = "outlet.seat_depth";
const NOMINAL: &str = "outlet.nominal_length";
/// Facts of where an outlet is put, not of what it is: product data says nothing of them.
pub const OF_THE_PLACE: [&str; 7] = [
    "outlet.wall",
    "outlet.space_behind",
    "outlet.supply",
    "outlet.supply_size",
    "outlet.supply_run",
    "outlet.supply_insulation",
    "outlet.inside_stop",
];
/// Two figures that differ by no more are one figure rounded between inches and millimetres (0.035 in is 0.889 mm, written
/// 0.9), as a share.
const ROUNDING: f64 = 0.02;
/// The nearest model is looked for this often; beyond, a file is of other models altogether.
const MOST_NEAREST: usize = 100;

/// The outlet types of a file.
#[derive(Clone, Debug, PartialEq)]
pub struct Products {
    file: Arc<str>,
    models: BTreeMap<String, Model>,
    problems: Diagnostics,
    unused: Vec<Unused>,
    notes: Vec<Noted>,
}

#[derive(Clone, Debug, PartialEq)]
struct Model {
    name: Arc<str>,
    cells: Vec<Cell>,
}

impl Products {
    /// Reads what `products:` in a job names or describes. What keeps the file from being read goes to `problems`; a bad
    /// cell is kept, to be told with those of the schedule.
    pub(super) fn read(
        node: &Node,
        job_file: &str,
        files: &dyn Files,
        vocabulary: &[Term],
        problems: &mut Diagnostics,
    ) -> Option<Self> {
        if let Kind::Map(_) = node.kind {
            return Self::of_node(node, vocabulary, problems);
        }
        let path = beside(job_file, node.text("products", problems)?);
        let read = || -> Result<Result<Self, Node>, Diagnostic> {
            if is_yaml(&path) {
                return Ok(Err(parse(files, &path)?));
            }
            let bytes = files.read(&path)?;
            Self::of_tables(&tables(&path, &bytes)?, vocabulary).map(Ok)
        };
        match read() {
            Ok(Ok(products)) => Some(products),
            Ok(Err(node)) => Self::of_node(&node, vocabulary, problems),
            Err(problem) => {
                problems.push(problem);
                None
            }
        }
    }

    fn of_tables(tables: &[Table], vocabulary: &[Term]) -> Result<Self, Diagnostic> {
        let model = term(vocabulary, MODEL).unwrap_or(usize::MAX);
        let reading = Reading { vocabulary, mark: model, columns: &Columns::default(), own: &[] };
        let Schedule { file, rows, notes, unused, problems, .. } = schedule::choose(tables, None, &reading)?;
        let mut products = Self { file: file.clone(), models: BTreeMap::new(), problems, unused, notes };
        let names_models = rows.iter().flat_map(|row| &row.cells).any(|cell| cell.term == model);
        if !names_models {
            let headings = vocabulary.get(model).map_or(&[][..], |it| it.aliases);
            let expected = format!("a column {}", headings.first().copied().unwrap_or_default());
            return Err(Diagnostic::new(Location::whole(&file), "names no model").expected(expected));
        }
        for Row { number, cells, .. } in rows {
            match cells.iter().find(|cell| cell.term == model) {
                Some(cell) => {
                    let (name, place) = (cell.text.clone(), cell.place.clone());
                    products.add(&name, &place, cells, vocabulary)?;
                }
                None => {
                    let place = Location::cell(&file, number, None);
                    products.problems.push(Diagnostic::new(place, "the row names no model; it is not used"));
                }
            }
        }
        Ok(products)
    }

    fn of_node(node: &Node, vocabulary: &[Term], problems: &mut Diagnostics) -> Option<Self> {
        let file = node.place.file.clone();
        let mut products = Self {
            file,
            models: BTreeMap::new(),
            problems: Diagnostics::new(),
            unused: Vec::new(),
            notes: Vec::new(),
        };
        for (key, node) in node.map("product data", problems)? {
            let Some(entries) = node.map("model", &mut products.problems) else { continue };
            let mut cells: Vec<Cell> = Vec::new();
            for (heading, node) in entries {
                let wanted = plain(&heading.text);
                let is_meant = |term: &Term| term.aliases.iter().any(|alias| plain(alias) == wanted);
                let at = |what| Diagnostic::new(heading.place.clone(), what).text(&heading.text);
                match vocabulary.iter().position(is_meant) {
                    _ if node.is_null() => {}
                    Some(term) if cells.iter().any(|it| it.term == term) => {
                        products.problems.push(at("is given twice for one model"));
                    }
                    Some(term) => cells.extend(products.cell(term, vocabulary, node)),
                    None => {
                        let aliases = vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
                        let problem = at("is not a heading product data can have");
                        let mut problem = problem.nearest(&heading.text, aliases);
                        if problem.nearest.is_none() {
                            problem = problem.expected("a heading that `coldsill facts` lists");
                        }
                        products.problems.push(problem);
                    }
                }
            }
            if let Err(problem) = products.add(&key.text, &key.place, cells, vocabulary) {
                problems.push(problem);
                return None;
            }
        }
        Some(products)
    }

    fn cell(&mut self, term: usize, vocabulary: &[Term], node: &Node) -> Option<Cell> {
        let text = node.text("value", &mut self.problems)?.trim();
        if is_blank(text) {
            return None;
        }
        let value = match read_cell(&vocabulary[term].reads, text, None) {
            Ok(value) => Some(value),
            Err(refused) => {
                self.problems.push(refused.at(node.place.clone(), text));
                None
            }
        };
        Some(Cell { term, place: node.place.clone(), text: text.into(), value })
    }

    /// Adds a model with what it says of the outlet itself.
    fn add(
        &mut self,
        name: &str,
        place: &Location,
        cells: Vec<Cell>,
        vocabulary: &[Term],
    ) -> Result<(), Diagnostic> {
        Limit::Models.check(self.models.len() + 1, || place.clone())?;
        let key = plain(name);
        if key.is_empty() {
            self.problems.push(Diagnostic::new(place.clone(), "is not a model's name").text(name));
            return Ok(());
        }
        if self.models.contains_key(&key) {
            let what = "is a model described a second time; the first is used";
            self.problems.push(Diagnostic::new(place.clone(), what).text(name));
            return Ok(());
        }
        let (own, others): (Vec<Cell>, Vec<Cell>) = cells.into_iter().partition(|cell| {
            let fact = vocabulary[cell.term].fact;
            !IDENTITY.contains(&fact) && !OF_THE_PLACE.contains(&fact)
        });
        for cell in others {
            self.unused.push(Unused {
                place: cell.place,
                text: cell.text,
                why: "product data says what an outlet is, not where it goes",
            });
        }
        let mut own: Vec<Cell> = own.into_iter().filter(|cell| vocabulary[cell.term].fact != MODEL).collect();
        let [nominal, short] = [NOMINAL, OFFSET].map(|fact| number(&own, vocabulary, fact));
        let offset = own.iter().find(|cell| vocabulary[cell.term].fact == OFFSET);
        if let (Some(nominal), Some(short), Some(cell)) = (nominal, short, offset)
            && short > nominal
        {
            let what = "is longer than the nominal length";
            self.problems.push(Diagnostic::new(cell.place.clone(), what).text(&*cell.text));
        }
        let implied = implied_seat(nominal, short);
        if let (Some(seat), Some(implied)) = (number(&own, vocabulary, SEAT), implied)
            && !alike(seat, implied)
        {
            let at = offset.map_or_else(|| place.clone(), |cell| cell.place.clone());
            let what = "does not lead from the nominal length to the seat depth; the seat depth is used";
            let text = offset.map_or_else(|| name.into(), |cell| cell.text.to_string());
            self.problems.push(Diagnostic::new(at, what).text(text));
        }
        own.sort_by_key(|cell| cell.term);
        self.models.insert(key, Model { name: name.into(), cells: own });
        Ok(())
    }

    /// What is said of a model, where the file has it.
    pub fn of(&self, model: &str) -> Option<&[Cell]> {
        self.models.get(&plain(model)).map(|it| it.cells.as_slice())
    }

    /// The problem of a model there is not.
    pub(super) fn no_model(&self, model: &str, at: &Location) -> Diagnostic {
        let problem = Diagnostic::new(at.clone(), format!("is not a model of {}", self.file)).text(model);
        problem.nearest(model, self.models.values().map(|it| &*it.name))
    }

    /// Tells the schedule's rows that name no model there is, or say of it what the product data does not; `usual` is the
    /// model of rows that name none. Returns what is wrong in the product data itself, and what of it is not used.
    pub(super) fn check(
        &self,
        schedule: &mut Schedule,
        usual: Option<&str>,
        vocabulary: &[Term],
    ) -> (Diagnostics, Vec<Unused>) {
        let mut missing = BTreeSet::new();
        for row in &schedule.rows {
            let named = row.cells.iter().find(|cell| vocabulary[cell.term].fact == MODEL);
            let Some(model) = named.map(|cell| &*cell.text).or(usual) else { continue };
            match self.models.get(&plain(model)) {
                Some(model) => {
                    let files = [&schedule.file, &self.file];
                    model.contradicted(row, files, vocabulary, &mut schedule.problems);
                }
                None => {
                    let Some(cell) = named else { continue };
                    missing.insert(plain(model));
                    let look = missing.len() <= MOST_NEAREST;
                    schedule.problems.push(if look {
                        self.no_model(model, &cell.place)
                    } else {
                        Diagnostic::new(cell.place.clone(), format!("is not a model of {}", self.file))
                            .text(model)
                    });
                }
            }
        }
        schedule.notes.extend(self.notes.iter().cloned());
        (self.problems.clone(), self.unused.clone())
    }
}

impl Model {
    /// Tells what a row says otherwise.
    fn contradicted(
        &self,
        row: &Row,
        [schedule, file]: [&Arc<str>; 2],
        vocabulary: &[Term],
        problems: &mut Diagnostics,
    ) {
        let at = |fact| row.cells.iter().find(|cell| vocabulary[cell.term].fact == fact);
        let dropped = at(SEAT).is_none()
            && number(&self.cells, vocabulary, SEAT).is_some()
            && seat_is_of_another_length(&row.cells, &self.cells, vocabulary);
        let tell = |cell: &Cell, text: &str, place: &Location, problems: &mut Diagnostics| {
            let seat = dropped && vocabulary[cell.term].fact == NOMINAL;
            let what = format!(
                "is not what product data says of {}, \"{}\" ({place}); the {}'s is used{}",
                self.name,
                crate::diag::shortened(text),
                if cell.place.file == *schedule { "schedule" } else { "answer" },
                if seat { ", and the model's seat depth is not" } else { "" }
            );
            problems.push(Diagnostic::new(cell.place.clone(), what).text(&*cell.text));
        };
        for cell in &row.cells {
            let Some(said) = &cell.value else { continue };
            let own = self.cells.iter().find(|it| it.term == cell.term);
            if let Some(own) = own
                && own.value.as_ref().is_some_and(|value| !same(value, said))
            {
                tell(cell, &own.text, &own.place, problems);
            }
        }
        // The seat depth of a row against the offset of its model.
        let offset = self.cells.iter().find(|cell| vocabulary[cell.term].fact == OFFSET);
        let (Some(seat), Some(offset)) = (at(SEAT), offset) else { return };
        if at(OFFSET).is_some() || number(&self.cells, vocabulary, SEAT).is_some() {
            return;
        }
        let nominal = number(&row.cells, vocabulary, NOMINAL).or(number(&self.cells, vocabulary, NOMINAL));
        let implied = implied_seat(nominal, number(&self.cells, vocabulary, OFFSET));
        if let (Some(said), Some(implied)) = (number(&row.cells, vocabulary, SEAT), implied)
            && !alike(said, implied)
        {
            let text = format!("nominal length less {}", offset.text);
            tell(seat, &text, &Location { file: file.clone(), ..offset.place.clone() }, problems);
        }
    }
}

/// Whether a model's seat depth is of another length than the one a row orders, so that it says nothing of the row's.
pub fn seat_is_of_another_length(row: &[Cell], model: &[Cell], vocabulary: &[Term]) -> bool {
    let nominal = |cells: &[Cell]| number(cells, vocabulary, NOMINAL);
    row.iter().any(|cell| vocabulary[cell.term].fact == NOMINAL)
        && match (nominal(row), nominal(model)) {
            (Some(row), Some(model)) => !alike(row, model),
            // The row's cannot be read: it may be any length.
            (None, _) => true,
            (Some(_), None) => false,
        }
}

/// Where a seat lies by nominal length and offset, m; an offset beyond the length gives none.
fn implied_seat(nominal: Option<f64>, offset: Option<f64>) -> Option<f64> {
    Some(nominal? - offset?).filter(|seat| *seat >= 0.0)
}

fn term(vocabulary: &[Term], fact: &str) -> Option<usize> {
    vocabulary.iter().position(|term| term.fact == fact)
}

fn number(cells: &[Cell], vocabulary: &[Term], fact: &str) -> Option<f64> {
    let cell = cells.iter().find(|cell| vocabulary[cell.term].fact == fact)?;
    match &cell.value {
        Some(Read::Quantity(quantity)) => Some(quantity.is),
        _ => None,
    }
}

pub(super) fn same(a: &Read, b: &Read) -> bool {
    match (a, b) {
        (Read::Quantity(a), Read::Quantity(b)) => alike(a.is, b.is),
        (Read::Text(a), Read::Text(b)) => plain(a) == plain(b),
        (a, b) => a == b,
    }
}

fn alike(a: f64, b: f64) -> bool {
    (a - b).abs() <= ROUNDING * a.abs().max(b.abs())
}
