//! Reads tables and checks them: breakpoints in order, one dimension, every word of a fact.

use super::check::check;
use super::{Direction, Table, TableKey, TableRow, Word};
use crate::diag::{Diagnostic, Diagnostics};
use crate::expr::{Names, Slot, Type};
use crate::input::{Fields, Key, Kind, Node};
use crate::ruleset::amend::unmatched;
use crate::ruleset::settings::{measure_of, quantity};
use crate::ruleset::{Amended, Note, Noted, Rules};
use crate::units::Measure;
use std::sync::Arc;

/// More rows than this are a slip.
const MOST_ROWS: usize = 1000;

/// Whether an amendment's table is one of its own; one with a slash replaces another.
pub(in crate::ruleset) fn is_new(key: &Key) -> bool {
    !key.text.contains('/')
}

/// Reads the tables of a set or of an amendment and adds them.
pub(in crate::ruleset) fn read_tables(
    set: &str,
    entries: &[(Key, Node)],
    added_by: Option<&Amended>,
    facts: &dyn Names,
    first: u16,
    rules: &mut Rules,
    problems: &mut Diagnostics,
) {
    for (key, node) in entries {
        let name: Arc<str> = format!("{set}/{}", key.text).into();
        let is_word = |it: &str| it.chars().all(|c| c.is_alphanumeric() || c == '_') && !it.is_empty();
        if !is_word(&key.text) {
            let problem =
                Diagnostic::new(key.place.clone(), "is not a name a table can have").text(&key.text);
            problems.push(problem.expected("letters, digits and _, such as least_seat_depth"));
            continue;
        }
        if rules.tables.iter().any(|it| it.name == name) || rules.setting_named(&name).is_some() {
            problems.push(Diagnostic::new(key.place.clone(), "is a name that is taken").text(&*name));
            continue;
        }
        let Some(mut table) = read(&name, node, None, rules.next_slot(first), facts, problems) else {
            continue;
        };
        table.changes = added_by.iter().map(|it| it.at(&key.place)).collect();
        rules.tables.push(table);
    }
}

/// Replaces tables as an amendment says, each by one with the same facts and dimension.
pub(in crate::ruleset) fn change_tables(
    entries: &[(Key, Node)],
    by: &Amended,
    facts: &dyn Names,
    rules: &mut Rules,
    problems: &mut Diagnostics,
) {
    for (key, node) in entries {
        let Some(index) = rules.tables.iter().position(|it| *it.name == *key.text) else {
            let known: Vec<String> = rules.tables.iter().map(|it| it.name.to_string()).collect();
            problems.push(unmatched(key, "table", &known));
            continue;
        };
        let old = &rules.tables[index];
        let before = problems.len();
        let table = read(&old.name, node, Some(old), old.slot, facts, problems);
        let Some(mut table) = table.filter(|_| problems.len() == before) else { continue };
        let slots = |it: &Table| it.by.iter().map(|key| key.slot).collect::<Vec<_>>();
        if slots(&table) != slots(old) {
            let names: Vec<&str> = old.by.iter().map(|it| &*it.name).collect();
            let problem =
                Diagnostic::new(key.place.clone(), "goes by other facts than the table it replaces");
            problems.push(problem.text(&key.text).expected(format!("by: [{}]", names.join(", "))));
            continue;
        }
        if table.measure != old.measure {
            let what = format!(
                "gives {} where the table it replaces gives {}",
                table.measure.name(),
                old.measure.name()
            );
            problems.push(Diagnostic::new(key.place.clone(), what).text(&key.text));
            continue;
        }
        let by = by.at(&key.place);
        table.changes = old.changes.clone();
        let above = old.changes.iter().rfind(|it| by.overrules(it)).cloned();
        table.changes.push(by.clone());
        if let Some(above) = above {
            let what = Noted::ReplacesAfter { table: table.name.clone(), above };
            rules.notes.push(Note { by, what });
        }
        rules.tables[index] = table;
    }
}

/// Reads a table; what one that replaces another leaves out is as it was.
fn read(
    name: &Arc<str>,
    node: &Node,
    old: Option<&Table>,
    slot: Slot,
    facts: &dyn Names,
    problems: &mut Diagnostics,
) -> Option<Table> {
    let before = problems.len();
    let what = format!("table {name}");
    let mut fields = Fields::of(node, &what, problems)?;
    let mut need = |key, is_left_out: bool, problems: &mut Diagnostics| {
        if is_left_out && fields.place(key).is_none() { None } else { fields.need(key, problems) }
    };
    let about = need("about", old.is_some(), problems).and_then(|node| node.text("about", problems));
    let by = need("by", old.is_some(), problems).and_then(|node| keys(node, &what, facts, problems));
    let listed = need("rows", false, problems);
    let rows = listed.and_then(|node| node.list("rows", problems));
    let difference =
        fields.take("difference").and_then(|node| node.yes_no("its values are differences", problems));
    fields.finish(problems);
    let about = about.map(Arc::from).or_else(|| old.map(|it| it.about.clone()))?;
    let by = by.or_else(|| old.map(|it| it.by.clone()))?;
    let (listed, rows) = (listed?, rows?);
    if rows.is_empty() || rows.len() > MOST_ROWS {
        let problem = listed.problem(format!("the {what} has {} rows", rows.len()));
        problems.push(problem.expected(format!("1 to {MOST_ROWS}")));
        return None;
    }
    let mut table = Table {
        name: name.clone(),
        about,
        by,
        rows: Vec::new(),
        measure: Measure::Temperature,
        slot,
        place: node.place.clone(),
        changes: Vec::new(),
        direction: None,
    };
    let difference = difference.unwrap_or_else(|| old.is_some_and(|it| it.measure != Measure::Temperature));
    let mut reader = RowReader { table: &mut table, measure: None, difference, problems };
    for row in rows {
        reader.row(row);
    }
    let measure = reader.measure;
    if problems.len() == before && measure.is_none() {
        problems.push(node.problem(format!("the {what} gives no value at all")));
    }
    table.measure = measure?;
    if problems.len() == before {
        check(&table, problems);
    }
    // Even one with a problem has a name: rules that use it are not told that they misspell it.
    Some(table)
}

/// The facts of `by`.
fn keys(node: &Node, what: &str, facts: &dyn Names, problems: &mut Diagnostics) -> Option<Vec<TableKey>> {
    let before = problems.len();
    let mut keys: Vec<TableKey> = Vec::new();
    for node in node.list("by", problems)? {
        let Some(name) = node.text("fact", problems) else { continue };
        let Some((slot, ty)) = facts.find(name) else {
            let all = facts.all();
            problems.push(node.problem("is not a fact").nearest(name, all.iter().map(String::as_str)));
            continue;
        };
        let is_quantity = |ty: &Type| matches!(ty, Type::Quantity(_));
        if keys.iter().any(|it| it.slot == slot) {
            problems.push(node.problem(format!("stands twice in by of the {what}")));
        } else if is_quantity(&ty) && keys.iter().any(|it| is_quantity(&it.ty)) {
            let problem = node.problem(format!("is a second quantity in by of the {what}"));
            problems.push(problem.expected("one fact with breakpoints; the others with words"));
        } else {
            keys.push(TableKey { slot, name: name.into(), ty });
        }
    }
    if keys.is_empty() && problems.len() == before {
        problems.push(node.problem(format!("by of the {what} names no fact")));
    }
    (problems.len() == before).then_some(keys)
}

/// Reads rows one after the other.
struct RowReader<'t, 'p> {
    table: &'t mut Table,
    measure: Option<Measure>,
    difference: bool,
    problems: &'p mut Diagnostics,
}

impl RowReader<'_, '_> {
    fn row(&mut self, node: &Node) {
        let what = "row of the table";
        let Some(entries) = node.map(what, self.problems) else { return };
        let before = self.problems.len();
        let (breaks, column) = (self.table.quantity_key(), self.table.column_key());
        let mut row = TableRow {
            written: Vec::new(),
            to: None,
            words: vec![None; self.table.by.len()],
            cells: Vec::new(),
            place: node.place.clone(),
        };
        for (key, value) in entries {
            let heading = key.text.trim();
            if let Kind::Scalar { text, .. } = &value.kind {
                row.written.push((heading.into(), text.as_str().into()));
            }
            let direction = Direction::WORDS.iter().find(|(word, _)| *word == heading).map(|(_, it)| *it);
            let own = self.table.by.iter().position(|it| *it.name == *heading);
            if let (Some(direction), Some(breaks)) = (direction, breaks) {
                self.breakpoint(&mut row, key, value, direction, breaks);
            } else if let Some(own) = own.filter(|it| Some(*it) != column && Some(*it) != breaks) {
                let text = value.text("word", self.problems).map(str::to_owned);
                row.words[own] = text.and_then(|text| self.word(own, &text, value));
            } else if let Some(column) = column {
                if let Some(word) = self.heading(column, key)
                    && let Some(cell) = self.cell(value)
                {
                    if row.cells.iter().any(|(it, _)| *it == word) {
                        let what = "is a column that the row of the table has already";
                        let problem = Diagnostic::new(key.place.clone(), what).text(heading);
                        self.problems.push(problem.expected("each word once, in capitals or not"));
                    }
                    row.cells.push((word, cell));
                }
            } else if heading == "is" {
                row.cells.extend(self.cell(value).map(|cell| (Word::Other, cell)));
            } else {
                let problem =
                    Diagnostic::new(key.place.clone(), "is not a key of a row of the table").text(heading);
                self.problems.push(
                    problem.expected("down to or up to, and is").nearest(heading, ["down to", "up to", "is"]),
                );
            }
        }
        if self.problems.len() == before {
            self.is_whole(&row, breaks, column);
        }
        self.table.rows.push(row);
    }

    fn breakpoint(
        &mut self,
        row: &mut TableRow,
        key: &Key,
        value: &Node,
        direction: Direction,
        breaks: usize,
    ) {
        let Type::Quantity(measure) = self.table.by[breaks].ty else { return };
        if self.table.direction.is_some_and(|it| it != direction) || row.to.is_some() {
            let problem = Diagnostic::new(key.place.clone(), "turns the table round").text(key.text.trim());
            self.problems.push(problem.expected("down to in every row, or up to in every row"));
            return;
        }
        self.table.direction = Some(direction);
        let text = value.text("breakpoint", self.problems);
        let to = quantity(value, measure, self.problems);
        row.to = to.zip(text).map(|(to, text)| (to.is, text.into()));
    }

    /// A word of a fact as a row states it.
    fn word(&mut self, key: usize, text: &str, at: &Node) -> Option<Word> {
        match self.known_word(key, text) {
            Ok(word) => Some(word),
            Err(words) => {
                let problem = at.problem(format!("is not a word of {}", self.table.by[key].name));
                self.problems.push(problem.nearest(text, words.iter().copied()));
                None
            }
        }
    }

    /// The word of a column.
    fn heading(&mut self, key: usize, at: &Key) -> Option<Word> {
        let text = at.text.trim();
        let fact = &self.table.by[key];
        if *fact.name == *text {
            let what = "is the fact whose words are the columns of the table";
            let problem = Diagnostic::new(at.place.clone(), what).text(text);
            let word = match fact.ty {
                Type::OneOf(words) => words.first().copied().unwrap_or("other"),
                Type::YesNo => "yes",
                _ => "other",
            };
            self.problems
                .push(problem.expected(format!("its words with a value each, such as {word}: 4 in")));
            return None;
        }
        match self.known_word(key, text) {
            Ok(word) => Some(word),
            Err(mut words) => {
                let what = format!("is not a word of {}", self.table.by[key].name);
                words.push("down to");
                words.push("up to");
                let mut problem = Diagnostic::new(at.place.clone(), what).text(text).nearest(text, words);
                if problem.nearest.is_none() {
                    problem = problem.expected("a word of that fact, or other");
                }
                self.problems.push(problem);
                None
            }
        }
    }

    fn known_word(&self, key: usize, text: &str) -> Result<Word, Vec<&'static str>> {
        let text = text.trim();
        if text == "other" {
            return Ok(Word::Other);
        }
        let words: &[&'static str] = match self.table.by[key].ty {
            Type::OneOf(words) => words,
            Type::YesNo => &["yes", "no"],
            _ => return Ok(Word::Is(text.into())),
        };
        let found = words.iter().find(|it| it.eq_ignore_ascii_case(text));
        found.map(|it| Word::Is((*it).into())).ok_or_else(|| words.to_vec())
    }

    /// A value, or `none`.
    fn cell(&mut self, node: &Node) -> Option<Option<crate::units::Quantity>> {
        let text = node.text("value", self.problems)?;
        if text.trim() == "none" {
            return Some(None);
        }
        let measure = self.measure.or_else(|| measure_of(text, self.difference));
        let Some(measure) = measure else {
            let problem = node.problem("is not a quantity with a unit that is known");
            self.problems.push(problem.expected("a quantity such as 10 in or 4 °F, or none"));
            return None;
        };
        self.measure = Some(measure);
        quantity(node, measure, self.problems).map(Some)
    }

    fn is_whole(&mut self, row: &TableRow, breaks: Option<usize>, column: Option<usize>) {
        let mut lacks = |what: String| {
            self.problems.push(Diagnostic::new(
                row.place.clone(),
                format!("the row of the table does not say {what}"),
            ));
        };
        if breaks.is_some() && row.to.is_none() {
            lacks("down to or up to where it goes".into());
        }
        for (index, key) in self.table.by.iter().enumerate() {
            if Some(index) != breaks && Some(index) != column && row.words[index].is_none() {
                lacks(format!("its {}", key.name));
            }
        }
        if row.cells.is_empty() {
            lacks("any value".into());
        }
    }
}
