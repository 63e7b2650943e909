//! The vocabulary of a job: the terms of a schedule, who may state each, and those that a job treats specially.

use crate::diag::{Diagnostic, Diagnostics};
use crate::expr::Names;
use crate::input::{Key, Node};
use crate::schedule::{Cell, Subject, Term, is_blank, plain, read_facts, says_unknown};

/// What a stated fact describes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scope {
    /// One row: its mark, quantity or location. "Same as HB-1" does not copy it.
    Row,
    /// One row, in words that a list of places may add to: notes.
    Notes,
    /// One row, though "same as HB-1" copies it: its description or plan option.
    Label,
    /// The wall, space and supply at the site. Product data cannot state it.
    Site,
    /// How it is mounted. Product data may state it, and so may a list of places.
    Mounting,
    /// What is done with it or near it on the job. Product data may state it.
    Use,
    /// The outlet itself, the same wherever it goes.
    Outlet,
}

impl Scope {
    /// Whether it tells outlets apart rather than what they are; a job has no default for it.
    pub const fn is_identity(self) -> bool {
        matches!(self, Self::Row | Self::Notes | Self::Label)
    }

    /// Whether a row that is the same as another keeps its own.
    pub const fn is_kept_by_copies(self) -> bool {
        matches!(self, Self::Row | Self::Notes)
    }

    /// Whether product data may state it of a model.
    pub const fn is_in_product_data(self) -> bool {
        matches!(self, Self::Mounting | Self::Use | Self::Outlet)
    }

    /// Whether a list of places may state it.
    pub const fn is_in_places(self) -> bool {
        matches!(self, Self::Site | Self::Mounting | Self::Notes)
    }
}

/// How a job uses a term.
#[derive(Clone, Copy, Debug)]
pub struct TermUse {
    /// What it describes.
    pub scope: Scope,
    /// Keys of a job file that state it: `supply: size`.
    pub job_keys: &'static [&'static str],
}

/// The terms of a schedule as a job uses them; terms are named by their index.
#[derive(Debug)]
pub struct Vocabulary {
    /// The terms.
    pub terms: Vec<Term>,
    /// Their uses, in the same order.
    pub uses: Vec<TermUse>,
    /// Names an outlet.
    pub mark: usize,
    /// How many outlets a row is.
    pub quantity: usize,
    /// Where it is.
    pub location: usize,
    /// The plan option.
    pub option: usize,
    /// The wall.
    pub wall: usize,
    /// The model that product data describes.
    pub model: usize,
    /// The length it is ordered by.
    pub nominal_length: usize,
    /// The depth of the valve seat.
    pub seat_depth: usize,
    /// Nominal length less seat depth.
    pub seat_offset: usize,
}

impl std::ops::Deref for Vocabulary {
    type Target = [Term];

    fn deref(&self) -> &[Term] {
        &self.terms
    }
}

impl Vocabulary {
    /// What a term describes.
    pub(super) fn scope(&self, term: usize) -> Scope {
        self.uses[term].scope
    }

    /// Names of the facts whose scope meets a condition.
    pub(super) fn facts_in(&self, is_meant: fn(Scope) -> bool) -> Vec<&'static str> {
        let terms = self.terms.iter().zip(&self.uses);
        terms.filter(|(_, use_of)| is_meant(use_of.scope)).map(|(term, _)| term.fact).collect()
    }

    /// The term that a key of a job file states.
    pub(super) fn keyed(&self, key: &str) -> Option<usize> {
        self.uses.iter().position(|use_of| use_of.job_keys.contains(&key))
    }

    /// The term of a heading. An unknown heading is an error, with the nearest known one.
    pub(super) fn heading(&self, key: &Key, what: &'static str, errors: &mut Diagnostics) -> Option<usize> {
        let wanted = plain(&key.text);
        let is_meant = |term: &Term| term.aliases.iter().any(|alias| plain(alias) == wanted);
        let found = self.terms.iter().position(is_meant);
        if found.is_none() {
            let error = Diagnostic::new(key.location.clone(), what).text(&key.text);
            let error = error.nearest(&key.text, self.headings());
            let is_near = error.nearest.is_some();
            errors.push(if is_near {
                error
            } else {
                error.expected("a heading that `coldsill facts` lists")
            });
        }
        found
    }

    /// All headings.
    pub(super) fn headings(&self) -> impl Iterator<Item = &'static str> + Clone {
        self.terms.iter().flat_map(|term| term.aliases.iter().copied())
    }

    /// The cells that a value of a term states, its own first; none for a blank value. A value that cannot be read is an
    /// error, and leaves a cell without a value.
    pub(super) fn cells(&self, term: usize, node: &Node, errors: &mut Diagnostics) -> Vec<Cell> {
        let text = node.text("value", errors).map_or("", str::trim);
        if is_blank(text) {
            return Vec::new();
        }
        let cell = |term, value| Cell { term, location: node.location.clone(), text: text.into(), value };
        if says_unknown(text) {
            let problem = Diagnostic::new(node.location.clone(), "says that it is not known").text(text);
            errors.push(problem.expected("the value, or nothing here: then it is asked"));
            return vec![cell(term, None)];
        }
        match read_facts(term, text, None, &self.terms) {
            Ok(facts) => facts.into_iter().map(|(term, value)| cell(term, Some(value))).collect(),
            Err(error) => {
                errors.push(error.at(node.location.clone(), text));
                vec![cell(term, None)]
            }
        }
    }

    /// Adds cells to others; returns false if one of them is there already. The standard that a device's cell names may
    /// be stated again.
    pub(super) fn put(&self, new: Vec<Cell>, cells: &mut Vec<Cell>) -> bool {
        let is_again = |cell: &Cell, known: &Cell| {
            known.value == cell.value && self.terms[cell.term].subject == Some(Subject::BackflowStandard)
        };
        let mut are_new = true;
        for cell in new {
            match cells.iter().find(|known| known.term == cell.term) {
                None => cells.push(cell),
                Some(known) => are_new &= is_again(&cell, known),
            }
        }
        are_new
    }
}

/// Names that people may use: terms of a schedule, facts in rules.
#[derive(Clone, Copy)]
pub struct Words<'r> {
    /// The terms a schedule may use.
    pub vocabulary: &'r Vocabulary,
    /// The facts rules may use.
    pub facts: &'r dyn Names,
    /// The first slot after those of the facts.
    pub first_setting: u16,
}
