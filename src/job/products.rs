//! Product data: a user's own file of outlet types by model. A row that names a model takes its blanks from
//! here; where the two differ, the row's value is used and the difference is reported.

use super::Vocabulary;
use super::compare::{alike, keep_common, number, same};
use super::files::{beside, is_yaml, parse};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Files, Kind, Limit, Node, Table, tables};
use crate::schedule::{self, Cell, Columns, Noted, ReadOptions, Row, Schedule, Subject, Unused, plain};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

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
    /// What it is in every length.
    cells: Vec<Cell>,
    /// What it is in each of its lengths; blank if it is described once.
    lengths: Vec<Vec<Cell>>,
}

impl Products {
    /// Reads what `products:` in a job names or describes. What keeps the file from being read goes to `problems`; a bad
    /// cell is kept and reported with those of the schedule.
    pub(super) fn read(
        node: &Node,
        job_file: &str,
        files: &dyn Files,
        vocabulary: &Vocabulary,
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

    fn of_tables(tables: &[Table], vocabulary: &Vocabulary) -> Result<Self, Diagnostic> {
        let model = vocabulary.model;
        let options = ReadOptions {
            vocabulary,
            mark: model,
            columns: &Columns::default(),
            own: &[],
            is_mixed: false,
            select: None,
        };
        let Schedule { file, rows, notes, unused, problems, .. } =
            schedule::choose(tables, None, &options)?.schedule;
        let mut products = Self { file: file.clone(), models: BTreeMap::new(), problems, unused, notes };
        let names_models = rows.iter().flat_map(|row| &row.cells).any(|cell| cell.term == model);
        if !names_models {
            let headings = vocabulary.get(model).map_or(&[][..], |it| it.aliases);
            let expected = format!("a column {}", headings.first().copied().unwrap_or_default());
            return Err(Diagnostic::new(Location::whole(&file), "does not name models").expected(expected));
        }
        for Row { number, cells, .. } in rows {
            match cells.iter().find(|cell| cell.term == model) {
                Some(cell) => {
                    let (name, location) = (cell.text.clone(), cell.location.clone());
                    products.add(&name, &location, cells, vocabulary)?;
                }
                None => {
                    let location = Location::cell(&file, number, None);
                    products
                        .problems
                        .push(Diagnostic::new(location, "the row does not name a model; it is not used"));
                }
            }
        }
        Ok(products)
    }

    fn of_node(node: &Node, vocabulary: &Vocabulary, problems: &mut Diagnostics) -> Option<Self> {
        let file = node.location.file.clone();
        let mut products = Self {
            file,
            models: BTreeMap::new(),
            problems: Diagnostics::new(),
            unused: Vec::new(),
            notes: Vec::new(),
        };
        let (mut keys, mut read) = (Vec::new(), Schedule::default());
        for (key, node) in node.map("product data", problems)? {
            let Some(entries) = node.map("model", &mut products.problems) else { continue };
            let mut cells: Vec<Cell> = Vec::new();
            for (heading, node) in entries.iter().filter(|(_, node)| !node.is_null()) {
                let errors = &mut products.problems;
                let Some(term) =
                    vocabulary.heading(heading, "is not a heading product data can have", errors)
                else {
                    continue;
                };
                if !vocabulary.put(vocabulary.cells(term, node, errors), &mut cells) {
                    let error = Diagnostic::new(heading.location.clone(), "is given twice for one model");
                    errors.push(error.text(&heading.text));
                }
            }
            read.rows.push(Row { number: 0, cells, at: None });
            keys.push(key);
        }
        // Texts that models share are parsed once.
        schedule::read_words(&mut read, vocabulary);
        products.unused.append(&mut read.unused);
        for (key, Row { cells, .. }) in keys.into_iter().zip(read.rows) {
            if let Err(problem) = products.add(&key.text, &key.location, cells, vocabulary) {
                problems.push(problem);
                return None;
            }
        }
        Some(products)
    }

    /// Adds a model with what it says of the outlet itself.
    fn add(
        &mut self,
        name: &str,
        location: &Location,
        cells: Vec<Cell>,
        vocabulary: &Vocabulary,
    ) -> Result<(), Diagnostic> {
        Limit::Models.check(self.models.len() + 1, || location.clone())?;
        let key = plain(name);
        if key.is_empty() {
            self.problems.push(Diagnostic::new(location.clone(), "is not a model's name").text(name));
            return Ok(());
        }
        let length = number(&cells, vocabulary.nominal_length);
        if let Some(known) = self.models.get(&key)
            && !known.is_another_length(length, vocabulary)
        {
            let own = cells.iter().filter(|cell| vocabulary.scope(cell.term).is_in_product_data());
            let own: Vec<Cell> = own.filter(|cell| cell.term != vocabulary.model).cloned().collect();
            let differs = self.models.get_mut(&key).is_some_and(|known| known.doubt(&own, vocabulary));
            let what = match differs {
                true => "is a model described twice; nothing in which the two differ is used",
                false => "is a model described twice, alike",
            };
            self.problems.push(Diagnostic::new(location.clone(), what).text(name));
            return Ok(());
        }
        let (own, others): (Vec<Cell>, Vec<Cell>) =
            cells.into_iter().partition(|cell| vocabulary.scope(cell.term).is_in_product_data());
        // Words are read, and what of them is not used is listed by the reader.
        let is_words = |cell: &Cell| {
            matches!(vocabulary[cell.term].subject, Some(Subject::Description | Subject::Notes))
        };
        for cell in others.into_iter().filter(|cell| !is_words(cell)) {
            self.unused.push(Unused {
                location: cell.location,
                text: cell.text,
                why: "product data says what a faucet is, not where it goes",
            });
        }
        let (named, mut own): (Vec<Cell>, Vec<Cell>) =
            own.into_iter().partition(|cell| cell.term == vocabulary.model);
        for cell in named.iter().filter(|cell| plain(&cell.text) != key) {
            let what = format!("is not the model it stands under, {name}; it is not used");
            self.problems.push(Diagnostic::new(cell.location.clone(), what).text(&*cell.text));
        }
        let [nominal, short] =
            [vocabulary.nominal_length, vocabulary.seat_offset].map(|term| number(&own, term));
        let offset = own.iter().find(|cell| cell.term == vocabulary.seat_offset);
        if let (Some(nominal), Some(short), Some(cell)) = (nominal, short, offset)
            && short > nominal
        {
            let what = "is longer than the nominal length";
            self.problems.push(Diagnostic::new(cell.location.clone(), what).text(&*cell.text));
        }
        let implied = implied_seat(nominal, short);
        if let (Some(seat), Some(implied)) = (number(&own, vocabulary.seat_depth), implied)
            && !alike(seat, implied)
        {
            let at = offset.map_or_else(|| location.clone(), |cell| cell.location.clone());
            let what = "disagrees with nominal length and seat depth; the seat depth is used";
            let text = offset.map_or_else(|| name.into(), |cell| cell.text.to_string());
            self.problems.push(Diagnostic::new(at, what).text(text));
        }
        own.sort_by_key(|cell| cell.term);
        match self.models.get_mut(&key) {
            Some(known) => known.add_length(own),
            None => {
                let model = Model { name: name.into(), cells: own, lengths: Vec::new() };
                self.models.insert(key, model);
            }
        }
        Ok(())
    }

    /// What is said of a model in the length that a row orders, where the file has it. A row without a length, or with
    /// another, gets what the model's lengths have in common.
    pub fn of(&self, model: &str, row: &[Cell], vocabulary: &Vocabulary) -> Option<&[Cell]> {
        self.model(model).map(|it| it.in_length(row, vocabulary))
    }

    /// Every model in each of its lengths: its name, its length if it has several, and what it is.
    pub fn models(&self) -> impl Iterator<Item = (&Arc<str>, bool, &[Cell])> {
        self.models.values().flat_map(|model| {
            let has_lengths = !model.lengths.is_empty();
            let one = (!has_lengths).then_some(&model.cells);
            model.lengths.iter().chain(one).map(move |cells| (&model.name, has_lengths, cells.as_slice()))
        })
    }

    /// The model of this name. A sign that leaves the name open, as in `GEN-12?`, names none.
    fn model(&self, name: &str) -> Option<&Model> {
        const SIGNS: [char; 8] = ['?', '*', '~', '≈', '†', '‡', '±', '≠'];
        let model = self.models.get(&plain(name))?;
        let is_open = name.contains(|sign| SIGNS.contains(&sign) && !model.name.contains(sign));
        (!is_open).then_some(model)
    }

    /// Whether it has a model of this name.
    pub(super) fn has(&self, model: &str) -> bool {
        self.model(model).is_some()
    }

    /// The problem of a model there is not.
    pub(super) fn no_model(&self, model: &str, at: &Location) -> Diagnostic {
        let what = match self.models.contains_key(&plain(model)) {
            true => "is doubtful, not final; nothing of the product data is used".to_owned(),
            false => format!("is not a model of {}", self.file),
        };
        let problem = Diagnostic::new(at.clone(), what).text(model);
        problem.nearest(model, self.models.values().map(|it| &*it.name))
    }

    /// Tells the schedule's rows that name no model there is, or say of it what the product data does not; `usual` is the
    /// model of rows that name none. Returns what is wrong in the product data itself, and what of it is not used.
    pub(super) fn check(
        &self,
        schedule: &mut Schedule,
        usual: Option<&str>,
        vocabulary: &Vocabulary,
    ) -> (Diagnostics, Vec<Unused>) {
        let mut missing = BTreeSet::new();
        for row in &schedule.rows {
            let named = row.cells.iter().find(|cell| cell.term == vocabulary.model);
            let Some(model) = named.map(|cell| &*cell.text).or(usual) else { continue };
            match self.model(model) {
                Some(model) => {
                    let files = [&schedule.file, &self.file];
                    model.contradicted(row, files, vocabulary, &mut schedule.problems);
                }
                None => {
                    let Some(cell) = named else { continue };
                    missing.insert(plain(model));
                    let look = missing.len() <= MOST_NEAREST;
                    schedule.problems.push(if look {
                        self.no_model(model, &cell.location)
                    } else {
                        Diagnostic::new(cell.location.clone(), format!("is not a model of {}", self.file))
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
    /// Whether it is described by length, and not yet in this one.
    fn is_another_length(&self, length: Option<f64>, vocabulary: &Vocabulary) -> bool {
        let one = self.lengths.is_empty().then_some(&self.cells);
        let mut known = self.lengths.iter().chain(one).map(|cells| number(cells, vocabulary.nominal_length));
        length.is_some_and(|length| known.all(|known| known.is_some_and(|known| !alike(known, length))))
    }

    fn add_length(&mut self, cells: Vec<Cell>) {
        if self.lengths.is_empty() {
            self.lengths.push(self.cells.clone());
        }
        self.cells.retain(|own| {
            cells.iter().any(|cell| cell.term == own.term && cell.value.is_some() && cell.value == own.value)
        });
        self.lengths.push(cells);
    }

    /// Takes back everything in which another description of it differs. Returns whether anything does.
    fn doubt(&mut self, others: &[Cell], vocabulary: &Vocabulary) -> bool {
        let length = |cells: &[Cell]| number(cells, vocabulary.nominal_length);
        let other = length(others);
        let is_it = |cells: &&mut Vec<Cell>| match (length(cells), other) {
            (Some(own), Some(other)) => alike(own, other),
            _ => true,
        };
        let mut differs = false;
        for cells in self.lengths.iter_mut().filter(is_it) {
            differs |= keep_common(cells, others, true);
        }
        // What its lengths have in common stays common.
        differs | keep_common(&mut self.cells, others, self.lengths.is_empty())
    }

    /// What it is in the length that a row orders.
    fn in_length(&self, row: &[Cell], vocabulary: &Vocabulary) -> &[Cell] {
        let length = |cells: &[Cell]| number(cells, vocabulary.nominal_length);
        let ordered = length(row);
        let is_it = |cells: &&Vec<Cell>| ordered.zip(length(cells)).is_some_and(|(a, b)| alike(a, b));
        self.lengths.iter().find(is_it).unwrap_or(&self.cells)
    }

    /// Tells what a row says otherwise.
    fn contradicted(
        &self,
        row: &Row,
        [schedule, file]: [&Arc<str>; 2],
        vocabulary: &Vocabulary,
        problems: &mut Diagnostics,
    ) {
        let at = |term| row.cells.iter().find(|cell| cell.term == term);
        let cells = self.in_length(&row.cells, vocabulary);
        let dropped = at(vocabulary.seat_depth).is_none()
            && number(cells, vocabulary.seat_depth).is_some()
            && seat_is_of_another_length(&row.cells, cells, vocabulary);
        let tell = |cell: &Cell, text: &str, location: &Location, problems: &mut Diagnostics| {
            let seat = dropped && cell.term == vocabulary.nominal_length;
            let what = format!(
                "contradicts the product data of {}, \"{}\" ({location}); the {}'s is used{}",
                self.name,
                crate::diag::shortened(text),
                if cell.location.file == *schedule { "schedule" } else { "answer" },
                if seat { ", and the model's seat depth is not" } else { "" }
            );
            problems.push(Diagnostic::new(cell.location.clone(), what).text(&*cell.text));
        };
        for cell in &row.cells {
            let Some(said) = &cell.value else { continue };
            let own = cells.iter().find(|it| it.term == cell.term);
            if let Some(own) = own
                && own.value.as_ref().is_some_and(|value| !same(value, said))
            {
                tell(cell, &own.text, &own.location, problems);
            }
        }
        // The seat depth of a row against the offset of its model.
        let offset = cells.iter().find(|cell| cell.term == vocabulary.seat_offset);
        let (Some(seat), Some(offset)) = (at(vocabulary.seat_depth), offset) else { return };
        if at(vocabulary.seat_offset).is_some() || number(cells, vocabulary.seat_depth).is_some() {
            return;
        }
        let nominal =
            number(&row.cells, vocabulary.nominal_length).or(number(cells, vocabulary.nominal_length));
        let implied = implied_seat(nominal, number(cells, vocabulary.seat_offset));
        if let (Some(said), Some(implied)) = (number(&row.cells, vocabulary.seat_depth), implied)
            && !alike(said, implied)
        {
            let text = format!("nominal length less {}", offset.text);
            tell(seat, &text, &Location { file: file.clone(), ..offset.location.clone() }, problems);
        }
    }
}

/// Whether a model's seat depth is of another length than the one a row orders, so that it says nothing of the row's.
pub fn seat_is_of_another_length(row: &[Cell], model: &[Cell], vocabulary: &Vocabulary) -> bool {
    let nominal = |cells: &[Cell]| number(cells, vocabulary.nominal_length);
    row.iter().any(|cell| cell.term == vocabulary.nominal_length)
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
