//! Reads the tables of a set and of amendments.

use super::check::check;
use super::{Direction, Table, TableKey, TableRow, Word};
use crate::diag::Diagnostics;
use crate::expr::{Names, Slot, Type};
use crate::input::{Fields, Key, Kind, Node};
use crate::ruleset::error::{MOST_ROWS, RuleError, unknown};
use crate::ruleset::loader::Loader;
use crate::ruleset::settings::{measure_of, quantity};
use crate::ruleset::{AmendedBy, Note, Noted};
use crate::units::{Measure, Quantity};
use std::sync::Arc;

impl Loader<'_> {
    /// Reads new tables of a set or of an amendment.
    pub(in crate::ruleset) fn read_tables<'n>(
        &mut self,
        set: &str,
        entries: impl Iterator<Item = &'n (Key, Node)>,
        added_by: Option<&AmendedBy>,
    ) {
        for (key, node) in entries {
            let name: Arc<str> = format!("{set}/{}", key.text).into();
            let is_letter = |c: char| c.is_alphanumeric() || c == '_';
            if key.text.is_empty() || !key.text.chars().all(is_letter) {
                self.errors.push(RuleError::NotATableName.at_key(key));
            } else if self.rules.tables.iter().any(|table| table.name == name)
                || self.rules.setting_named(&name).is_some()
            {
                self.errors.push(RuleError::NameTaken.at_location(&key.location).text(&*name));
            } else if let Some(mut table) =
                read(&name, node, None, self.next_slot(), self.facts, &mut self.errors)
            {
                table.changes = added_by.iter().map(|by| by.at(&key.location)).collect();
                self.rules.tables.push(table);
            }
        }
    }

    /// Replaces a table by one with the same facts and measure.
    pub(in crate::ruleset) fn replace_table(&mut self, key: &Key, node: &Node, by: &AmendedBy) {
        let tables = &self.rules.tables;
        let Some(index) = tables.iter().position(|table| *table.name == *key.text) else {
            return self.errors.push(unknown(key, "table", tables.iter().map(|table| &table.name)));
        };
        let old = &tables[index];
        let before = self.errors.len();
        let table = read(&old.name, node, Some(old), old.slot, self.facts, &mut self.errors);
        let Some(mut table) = table.filter(|_| self.errors.len() == before) else { return };
        let slots = |table: &Table| table.by.iter().map(|key| key.slot).collect::<Vec<_>>();
        if slots(&table) != slots(old) {
            let names: Vec<&str> = old.by.iter().map(|key| &*key.name).collect();
            return self.errors.push(RuleError::OtherFacts(names.join(", ")).at_key(key));
        }
        if table.measure != old.measure {
            let error = RuleError::OtherMeasure(table.measure.name(), old.measure.name());
            return self.errors.push(error.at_key(key));
        }
        let by = by.at(&key.location);
        table.changes = old.changes.clone();
        table.changes.push(by.clone());
        if let Some(above) = old.changes.iter().rfind(|change| by.overrules(change)).cloned() {
            let what = Noted::ReplacesAfter { table: table.name.clone(), above };
            self.rules.notes.push(Note { by, what });
        }
        self.rules.tables[index] = table;
    }
}

/// Reads a table. A table that replaces `old` may leave out `about` and `by`.
fn read(
    name: &Arc<str>,
    node: &Node,
    old: Option<&Table>,
    slot: Slot,
    facts: &dyn Names,
    errors: &mut Diagnostics,
) -> Option<Table> {
    let before = errors.len();
    let mut fields = Fields::of(node, &format!("table {name}"), errors)?;
    let mut required_or_old = |key, errors: &mut Diagnostics| {
        if old.is_some() && fields.location(key).is_none() { None } else { fields.required(key, errors) }
    };
    let about = required_or_old("about", errors).and_then(|node| node.text("about", errors));
    let by = required_or_old("by", errors).and_then(|node| read_keys(node, name, facts, errors));
    let rows_node = fields.required("rows", errors);
    let rows = rows_node.and_then(|node| node.list("rows", errors));
    let is_difference =
        fields.optional("difference").and_then(|node| node.yes_no("its values are differences", errors));
    fields.finish(errors);
    let about = about.map(Arc::from).or_else(|| old.map(|old| old.about.clone()))?;
    let by = by.or_else(|| old.map(|old| old.by.clone()))?;
    let (rows_node, rows) = (rows_node?, rows?);
    if rows.is_empty() || rows.len() > MOST_ROWS {
        errors.push(RuleError::RowCount(name, rows.len()).at(rows_node));
        return None;
    }
    let mut table = Table {
        name: name.clone(),
        about,
        by,
        rows: Vec::new(),
        measure: Measure::Temperature,
        slot,
        location: node.location.clone(),
        changes: Vec::new(),
        direction: None,
    };
    let is_difference =
        is_difference.unwrap_or_else(|| old.is_some_and(|old| old.measure != Measure::Temperature));
    let mut reader = RowReader { table: &mut table, measure: None, is_difference, errors };
    rows.iter().for_each(|row| reader.read_row(row));
    let measure = reader.measure;
    if errors.len() == before && measure.is_none() {
        errors.push(RuleError::NoValues(name).at(node));
    }
    table.measure = measure?;
    if errors.len() == before {
        check(&table, errors);
    }
    // Even one with an error defines its name, so that rules that use it get no error of their own.
    Some(table)
}

/// Reads the facts of `by`.
fn read_keys(node: &Node, table: &str, facts: &dyn Names, errors: &mut Diagnostics) -> Option<Vec<TableKey>> {
    let before = errors.len();
    let mut keys: Vec<TableKey> = Vec::new();
    for node in node.list("by", errors)? {
        let Some(name) = node.text("fact", errors) else { continue };
        let Some((slot, ty)) = facts.find(name) else {
            let all = facts.all();
            let error = RuleError::UnknownName.at(node);
            errors.push(error.nearest(name, all.iter().map(String::as_str)));
            continue;
        };
        let is_quantity = |ty: &Type| matches!(ty, Type::Quantity(_));
        if keys.iter().any(|key| key.slot == slot) {
            errors.push(RuleError::FactTwice(table).at(node));
        } else if is_quantity(&ty) && keys.iter().any(|key| is_quantity(&key.ty)) {
            errors.push(RuleError::SecondQuantity(table).at(node));
        } else {
            keys.push(TableKey { slot, name: name.into(), ty });
        }
    }
    if keys.is_empty() && errors.len() == before {
        errors.push(RuleError::NoFacts(table).at(node));
    }
    (errors.len() == before).then_some(keys)
}

/// Reads rows one after the other.
struct RowReader<'t, 'e> {
    table: &'t mut Table,
    measure: Option<Measure>,
    is_difference: bool,
    errors: &'e mut Diagnostics,
}

impl RowReader<'_, '_> {
    fn read_row(&mut self, node: &Node) {
        let Some(entries) = node.map("row of the table", self.errors) else { return };
        let before = self.errors.len();
        let (breaks, column) = (self.table.quantity_key(), self.table.column_key());
        let mut row = TableRow {
            written: Vec::new(),
            to: None,
            words: vec![None; self.table.by.len()],
            cells: Vec::new(),
            location: node.location.clone(),
        };
        for (key, value) in entries {
            let heading = key.text.trim();
            if let Kind::Scalar { text, .. } = &value.kind {
                row.written.push((heading.into(), text.as_str().into()));
            }
            let direction = Direction::WORDS.iter().find(|(word, _)| *word == heading).map(|(_, it)| *it);
            let own = self.table.by.iter().position(|fact| *fact.name == *heading);
            if let (Some(direction), Some(breaks)) = (direction, breaks) {
                self.read_breakpoint(&mut row, key, value, direction, breaks);
            } else if let Some(own) = own.filter(|own| Some(*own) != column && Some(*own) != breaks) {
                row.words[own] = self.read_word(own, value);
            } else if let Some(column) = column {
                if let Some(word) = self.read_heading(column, key)
                    && let Some(cell) = self.read_cell(value)
                {
                    if row.cells.iter().any(|(other, _)| *other == word) {
                        self.errors.push(RuleError::ColumnTwice.at_key(key));
                    }
                    row.cells.push((word, cell));
                }
            } else if heading == "is" {
                row.cells.extend(self.read_cell(value).map(|cell| (Word::Other, cell)));
            } else {
                let error = RuleError::NotARowKey.at_key(key);
                self.errors.push(error.nearest(heading, ["down to", "up to", "is"]));
            }
        }
        if self.errors.len() == before {
            self.check_complete(&row, breaks, column);
        }
        self.table.rows.push(row);
    }

    fn read_breakpoint(
        &mut self,
        row: &mut TableRow,
        key: &Key,
        value: &Node,
        direction: Direction,
        breaks: usize,
    ) {
        let Type::Quantity(measure) = self.table.by[breaks].ty else { return };
        if self.table.direction.is_some_and(|other| other != direction) || row.to.is_some() {
            return self.errors.push(RuleError::MixedDirections.at_key(key));
        }
        self.table.direction = Some(direction);
        let text = value.text("breakpoint", self.errors);
        let to = quantity(value, measure, self.errors);
        row.to = to.zip(text).map(|(to, text)| (to.is, text.into()));
    }

    /// Reads a word of a fact in a row.
    fn read_word(&mut self, fact: usize, node: &Node) -> Option<Word> {
        let text = node.text("word", self.errors)?;
        let words = match self.known_word(fact, text) {
            Ok(word) => return Some(word),
            Err(words) => words,
        };
        let error = RuleError::NotAValue(&self.table.by[fact].name).at(node);
        self.errors.push(error.nearest(text, words.iter().copied()));
        None
    }

    /// Reads the word of a column.
    fn read_heading(&mut self, fact: usize, key: &Key) -> Option<Word> {
        let text = key.text.trim();
        let TableKey { name, ty, .. } = &self.table.by[fact];
        let error = if **name == *text {
            let example = match ty {
                Type::OneOf(words) => words.first().copied().unwrap_or("other"),
                Type::YesNo => "yes",
                _ => "other",
            };
            RuleError::FactOfColumns(example).at_key(key)
        } else {
            match self.known_word(fact, text) {
                Ok(word) => return Some(word),
                Err(words) => {
                    let keys = words.iter().copied().chain(["down to", "up to"]);
                    RuleError::NotAColumn(name).at_key(key).nearest_instead(text, keys)
                }
            }
        };
        self.errors.push(error);
        None
    }

    /// A word of a fact, or the words it has.
    fn known_word(&self, fact: usize, text: &str) -> Result<Word, &'static [&'static str]> {
        let text = text.trim();
        let words: &'static [&'static str] = match self.table.by[fact].ty {
            _ if text == "other" => return Ok(Word::Other),
            Type::OneOf(words) => words,
            Type::YesNo => &["yes", "no"],
            _ => return Ok(Word::Is(text.into())),
        };
        let found = words.iter().find(|word| word.eq_ignore_ascii_case(text));
        found.map(|word| Word::Is((*word).into())).ok_or(words)
    }

    /// Reads a value, or `none`.
    fn read_cell(&mut self, node: &Node) -> Option<Option<Quantity>> {
        let text = node.text("value", self.errors)?;
        if text.trim() == "none" {
            return Some(None);
        }
        let Some(measure) = self.measure.or_else(|| measure_of(text, self.is_difference)) else {
            self.errors.push(RuleError::NotACell.at(node));
            return None;
        };
        self.measure = Some(measure);
        quantity(node, measure, self.errors).map(Some)
    }

    /// Reports what a row does not state.
    fn check_complete(&mut self, row: &TableRow, breaks: Option<usize>, column: Option<usize>) {
        let mut missing: Vec<String> = Vec::new();
        if breaks.is_some() && row.to.is_none() {
            missing.push("down to or up to".into());
        }
        for (index, key) in self.table.by.iter().enumerate() {
            if Some(index) != breaks && Some(index) != column && row.words[index].is_none() {
                missing.push(key.name.to_string());
            }
        }
        if row.cells.is_empty() {
            missing.push("value".into());
        }
        let lacks = |what| RuleError::RowLacks(what).at_location(&row.location);
        self.errors.extend(missing.into_iter().map(lacks));
    }
}
