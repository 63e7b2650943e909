//! Rule files: sets of rules with their settings and cases, and the amendments that change them.

mod amend;
mod read;
mod settings;

pub use read::{RuleFile, load};
pub use settings::{MayBe, Setting};

use crate::diag::Place;
use crate::expr::{Names, Program, Slot, Template, Type, Value};
use std::sync::Arc;

/// What a rule stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// The adopted code says so.
    AdoptedCode,
    /// The product's listing says so.
    Listing,
    /// The maker's instructions say so.
    Instructions,
    /// A company's or the trade's own standard.
    Company,
    /// A calculation, and nothing else.
    Calculation,
}

impl Basis {
    /// As rule files and jobs write them.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("adopted code", Self::AdoptedCode),
        ("listing", Self::Listing),
        ("instructions", Self::Instructions),
        ("company", Self::Company),
        ("calculation", Self::Calculation),
    ];

    /// As rule files write it.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, basis)| *basis == self).map_or("", |(word, _)| word)
    }
}

/// What a rule says of an outlet, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    /// Something has to change.
    Revise,
    /// Something has to be told before it can be judged.
    Clarify,
    /// Something is worth knowing.
    Advise,
    /// Nothing to say.
    NoComment,
    /// Not meant for this outlet.
    DoesNotApply,
}

impl Outcome {
    /// As they are written and printed.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("revise", Self::Revise),
        ("clarify", Self::Clarify),
        ("advise", Self::Advise),
        ("no comment", Self::NoComment),
        ("does not apply", Self::DoesNotApply),
    ];

    /// As it is written and printed.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, outcome)| *outcome == self).map_or("", |(word, _)| word)
    }
}

/// A rule.
#[derive(Clone, Debug)]
pub struct Rule {
    /// `set/name-of-the-problem`.
    pub id: Arc<str>,
    /// What people see: `Freezing 2`.
    pub number: Arc<str>,
    /// The problem in a line.
    pub title: Arc<str>,
    /// What it stands on.
    pub basis: Basis,
    /// Why it matters.
    pub why: Arc<str>,
    /// Which outlets it is meant for; all where there is none.
    pub applies: Option<Program>,
    /// What must hold.
    pub needs: Program,
    /// What is said where it does not hold.
    pub outcome: Outcome,
    /// One general note for the job instead of a comment per outlet.
    pub once: bool,
    /// The comment.
    pub says: Template,
    /// What would mend it.
    pub remedy: Option<Template>,
    /// Where to look.
    pub see: Vec<Arc<str>>,
    /// Tested cases.
    pub cases: Vec<Case>,
    /// Where it stands.
    pub place: Place,
    /// The amendment that changed it.
    pub changed_by: Option<Arc<str>>,
}

/// A tested case of a rule.
#[derive(Clone, Debug)]
pub struct Case {
    /// What it shows.
    pub name: Arc<str>,
    /// Facts as they would be stated.
    pub given: Vec<(Slot, Value)>,
    /// What the rule must say.
    pub gives: Outcome,
    /// Where it stands.
    pub place: Place,
}

/// A rule an amendment has dropped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dropped {
    /// The rule.
    pub rule: Arc<str>,
    /// Its number before.
    pub number: Arc<str>,
    /// Why.
    pub reason: Arc<str>,
    /// By which amendment.
    pub by: Arc<str>,
}

/// All rules in force.
#[derive(Clone, Debug, Default)]
pub struct Rules {
    /// In the order of their files.
    pub rules: Vec<Rule>,
    /// In the order of their files; slots follow those of the facts.
    pub settings: Vec<Setting>,
    /// What amendments have dropped.
    pub dropped: Vec<Dropped>,
    /// Names of the amendments in force, in order.
    pub amendments: Vec<Arc<str>>,
}

impl Rules {
    /// The setting of a slot, where it is one.
    pub fn setting(&self, slot: Slot) -> Option<&Setting> {
        // They stand in the order of their slots.
        let at = self.settings.binary_search_by_key(&slot, |it| it.slot).ok()?;
        self.settings.get(at)
    }

    /// The setting of a name: `freezing/margin`.
    pub fn setting_named(&self, name: &str) -> Option<&Setting> {
        self.settings.iter().find(|it| &*it.name == name)
    }

    /// The rule of an id.
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|it| &*it.id == id)
    }
}

/// The names of facts and of settings together.
struct AllNames<'n> {
    facts: &'n dyn Names,
    settings: &'n [Setting],
}

impl AllNames<'_> {
    fn is_setting(&self, name: &str) -> bool {
        self.settings.iter().any(|it| &*it.name == name)
    }
}

impl Names for AllNames<'_> {
    fn find(&self, name: &str) -> Option<(Slot, Type)> {
        let setting = self.settings.iter().find(|it| &*it.name == name);
        setting.map(|it| (it.slot, it.ty())).or_else(|| self.facts.find(name))
    }

    fn all(&self) -> Vec<String> {
        let mut all = self.facts.all();
        all.extend(self.settings.iter().map(|it| it.name.to_string()));
        all
    }
}
