//! The rule language: expressions and templates with types and units, checked when loaded and evaluated in three-valued
//! logic. The grammar is in `parse.rs`; `tests/language/` is the specification.
//!
//! It knows no names: [`Names`] resolves them when an expression is checked, [`Values`] gives their values.

mod ast;
mod check;
mod error;
mod eval;
mod lex;
mod number;
mod parse;
mod pattern;
mod print;
mod source;
mod template;
mod types;
mod value;

use std::collections::BTreeSet;
use std::sync::Arc;

pub use error::MOST_CHARACTERS;
pub use template::{Part, Template};
pub use value::{Close, Gap, Slot, Type, Value, ValueOrGap, folded, same_text};

use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::truth::Truth;
use error::ExprError;
use source::Source;

/// Resolves names when an expression is checked.
pub trait Names {
    /// The slot and type of a name.
    fn find(&self, name: &str) -> Option<(Slot, Type)>;
    /// Every name, to suggest the nearest one to a misspelled name.
    fn all(&self) -> Vec<String>;
}

/// Gives values when an expression is evaluated.
pub trait Values {
    /// The value of a name, or why it has none.
    fn get(&self, slot: Slot) -> Result<&Value, Gap>;
    /// Whether anything was given for the name, even a text that cannot be read, rather than its value being assumed or
    /// computed.
    fn is_stated(&self, slot: Slot) -> bool;
    /// Whether comparisons use the best estimate of a quantity and not its band.
    fn compares_best_estimates(&self) -> bool {
        false
    }
}

/// The same values, each compared by its best estimate.
struct BestEstimates<'r>(&'r dyn Values);

impl Values for BestEstimates<'_> {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        self.0.get(slot)
    }

    fn is_stated(&self, slot: Slot) -> bool {
        self.0.is_stated(slot)
    }

    fn compares_best_estimates(&self) -> bool {
        true
    }
}

/// A checked expression: true, false or unknown. Two are equal if their checked trees are, whatever their spelling.
#[derive(Clone, Debug)]
pub struct Condition {
    text: Arc<str>,
    test: Arc<eval::Test>,
    slots: BTreeSet<Slot>,
}

impl Condition {
    /// Checks an expression. `location` is that of its text; all errors are returned, in the order of the text.
    pub fn check(text: &str, location: &Location, names: &dyn Names) -> Result<Self, Diagnostics> {
        let source = Source { text, location };
        source.check_length("a shorter expression, or several rules")?;
        let (tree, errors) = parse::parse(source, lex::tokens(source));
        let test = check::check(source, names, &tree, errors)?;
        let mut slots = BTreeSet::new();
        test.slots(&mut slots);
        Ok(Self { text: text.into(), test: Arc::new(test), slots })
    }

    /// Evaluates it. If it is unknown, the gap names everything that keeps it so.
    pub fn truth(&self, values: &dyn Values) -> Truth<Gap> {
        self.test.truth(values)
    }

    /// Evaluates it by best estimates, so that no comparison is too close to call.
    pub fn truth_at_best(&self, values: &dyn Values) -> Truth<Gap> {
        self.test.truth(&BestEstimates(values))
    }

    /// The first fact of `known a` or `known a or known b ...`; `None` for any other condition.
    pub fn first_known_tested(&self) -> Option<Slot> {
        self.test.first_known_tested()
    }

    /// Every name in it, including those only in `stated` and `known`.
    pub fn slots(&self) -> BTreeSet<Slot> {
        self.slots.clone()
    }

    /// The text it was checked from.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text in one standard form: single spaces, only the parentheses that matter, decimal numbers, each unit by its
    /// printed name. It parses to an equal condition.
    pub fn printed(&self) -> String {
        let location = Location::whole("");
        let source = Source { text: &self.text, location: &location };
        print::printed(&parse::parse(source, lex::tokens(source)).0)
    }
}

impl PartialEq for Condition {
    fn eq(&self, other: &Self) -> bool {
        self.test == other.test
    }
}

/// The error of an unknown name, with the nearest one; or, if a known name is followed by `-` or `/`, with a hint to put
/// spaces around the operator.
fn unknown_name(source: Source<'_>, span: source::Span, names: &dyn Names) -> Diagnostic {
    let name = source.slice(span);
    let operator = name.match_indices(['-', '/']).find(|(at, _)| names.find(&name[..*at]).is_some());
    if let Some((_, operator)) = operator {
        return source.error(span, ExprError::OperatorInName(operator.into()));
    }
    let all = names.all();
    // Suggest a completion (`outlet.bar`: `outlet.barrel`) before the nearest name by edit distance.
    let completions = all.iter().filter(|known| name.contains('.') && known.starts_with(name));
    let error = source.error(span, ExprError::UnknownName);
    match completions.min_by_key(|known| known.len()) {
        Some(known) => Diagnostic { nearest: Some(known.as_str().into()), expected: None, ..error },
        None => error.nearest_instead(name, all.iter().map(String::as_str)),
    }
}
