//! The language of rules: tests and templates over names the caller gives, typed and with units, checked when they are
//! loaded and evaluated in three values. The grammar stands in `parse.rs`; `tests/language/` is the specification.
//!
//! It knows no names: [`Names`] finds them when an expression is checked, [`Readings`] gives their values.

mod ast;
mod check;
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

pub use template::{Part, Template};
pub use value::{Close, Gap, Reading, Slot, Type, Value, folded, same_text};

use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::truth::Truth;
use source::Source;

/// The longest expression or template, in characters.
pub const MOST_CHARACTERS: usize = 4096;

/// Finds names when an expression is checked.
pub trait Names {
    /// The slot and type of a name.
    fn find(&self, name: &str) -> Option<(Slot, Type)>;
    /// Every name, to suggest the nearest of a misspelt one.
    fn all(&self) -> Vec<String>;
}

/// Gives values when an expression is evaluated.
pub trait Readings {
    /// The value of a name, or why there is none.
    fn get(&self, slot: Slot) -> Result<&Value, Gap>;
    /// Whether a person stated it, rather than it being assumed or computed.
    fn stated(&self, slot: Slot) -> bool;
}

/// A checked test: true, false or unknown of what it reads. Two are equal where they ask the same, however each is written.
#[derive(Clone, Debug)]
pub struct Program {
    text: Arc<str>,
    test: Arc<eval::Test>,
    slots: BTreeSet<Slot>,
}

impl Program {
    /// Checks a test. `place` is where its text starts; every problem that can be found at once is returned, in the
    /// order of the text.
    pub fn check(text: &str, place: &Location, names: &dyn Names) -> Result<Self, Diagnostics> {
        let source = Source { text, place };
        source.bounded("a shorter expression, or several rules")?;
        let (tree, problems) = parse::parse(source, lex::tokens(source));
        let test = check::check(source, names, &tree, problems)?;
        let mut slots = BTreeSet::new();
        test.slots(&mut slots);
        Ok(Self { text: text.into(), test: Arc::new(test), slots })
    }

    /// Evaluates it. An unknown names everything that keeps it so.
    pub fn truth(&self, from: &dyn Readings) -> Truth<Gap> {
        self.test.truth(from)
    }

    /// Every name in it, those only asked for by `stated` and `known` included.
    pub fn slots(&self) -> BTreeSet<Slot> {
        self.slots.clone()
    }

    /// The text it was checked from.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The text in one settled form: single spaces, no parentheses but those that matter, decimal numbers, each unit by the
    /// name it is printed by. Checked again it is the same program.
    pub fn printed(&self) -> String {
        let place = Location::whole("");
        let source = Source { text: &self.text, place: &place };
        print::printed(&parse::parse(source, lex::tokens(source)).0)
    }
}

impl PartialEq for Program {
    fn eq(&self, other: &Self) -> bool {
        self.test == other.test
    }
}

/// "is not a known name", with the nearest one, or a hint where a sign was written without spaces.
fn unknown_name(source: Source<'_>, span: source::Span, names: &dyn Names) -> Diagnostic {
    let name = source.slice(span);
    let problem = source.problem(span, "is not a known name");
    let glued = name.match_indices(['-', '/']).find(|(at, _)| names.find(&name[..*at]).is_some());
    match glued {
        Some((_, sign)) => {
            problem.expected(format!("spaces around \"{sign}\" where it is not part of a name"))
        }
        None => {
            let all = names.all();
            // A name cut short is nearer to its whole than to another of the same length.
            let mut nearest = problem.nearest(name, all.iter().map(String::as_str));
            if name.contains('.')
                && let Some(whole) = all.iter().filter(|it| it.starts_with(name)).min_by_key(|it| it.len())
            {
                nearest.nearest = Some(whole.clone());
            }
            if nearest.nearest.is_none() {
                nearest = nearest.expected("a name that `coldsill facts` or `coldsill rules` lists");
            }
            nearest
        }
    }
}
