//! Rule files: sets of rules with settings and cases, and the amendments that change them.

mod amend;
mod change;
mod codes;
mod effects;
mod error;
mod layers;
mod load;
mod loader;
mod open;
mod read;
mod settings;
mod tables;

pub(crate) use amend::bases;
pub(crate) use amend::slug;
pub use codes::{Adopted, BY_SUBJECT, CodeFile, OF_MODEL_CODES};
pub use effects::{AmendmentEffects, Changed};
pub use layers::{AmendedBy, Amendment, Change, Figure, Level, Note, Noted, Part, Preset, ReviseOn};
pub use load::{Shipped, load, load_layers};
pub use loader::{RuleFile, RuleSource};
pub use open::{IsOpen, NoOpenCase};
pub use settings::{MayBe, Setting, SettingChange};
pub use tables::{Table, TableKey, TableRow};

use crate::diag::Location;
use crate::expr::{Condition, Names, Slot, Template, Type, Value};
use std::collections::BTreeSet;
use std::sync::Arc;

/// The basis of a rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Basis {
    /// The adopted code.
    AdoptedCode,
    /// The product's listing.
    Listing,
    /// The manufacturer's instructions.
    Instructions,
    /// A standard of a company or the trade.
    Company,
    /// A calculation alone.
    Calculation,
}

impl Basis {
    /// The words in rule files and jobs.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("adopted code", Self::AdoptedCode),
        ("listing", Self::Listing),
        ("instructions", Self::Instructions),
        ("company", Self::Company),
        ("calculation", Self::Calculation),
    ];

    /// Its word in rule files.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, basis)| *basis == self).map_or("", |(word, _)| word)
    }
}

/// The outcome of a rule for an outlet, most severe first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Outcome {
    /// Something must change.
    Revise,
    /// Information is needed to decide.
    Clarify,
    /// An advisory.
    Advise,
    /// No comment.
    NoComment,
    /// The rule is not for this outlet.
    DoesNotApply,
}

impl Outcome {
    /// Their words in files and reports.
    pub const WORDS: [(&'static str, Self); 5] = [
        ("revise", Self::Revise),
        ("clarify", Self::Clarify),
        ("advise", Self::Advise),
        ("no comment", Self::NoComment),
        ("does not apply", Self::DoesNotApply),
    ];

    /// Whether it makes a comment.
    pub fn is_comment(self) -> bool {
        self < Self::NoComment
    }

    /// Its word in files and reports.
    pub fn word(self) -> &'static str {
        Self::WORDS.iter().find(|(_, outcome)| *outcome == self).map_or("", |(word, _)| word)
    }
}

/// A rule.
#[derive(Clone, Debug)]
pub struct Rule {
    /// `set/name-of-the-problem`.
    pub id: Arc<str>,
    /// The number in reports: `Freezing 2`.
    pub number: Arc<str>,
    /// The problem in one line.
    pub title: Arc<str>,
    /// Its basis.
    pub basis: Basis,
    /// Why it matters.
    pub why: Arc<str>,
    /// The outlets it applies to; all if `None`.
    pub applies: Option<Condition>,
    /// What must be true.
    pub needs: Condition,
    /// The outcome if it is not.
    pub outcome: Outcome,
    /// The outcome where it is at the best estimates but not over the whole of their bands, and nothing that a schedule can
    /// state would decide it; if the rule does not say, such a comparison is too close to call.
    pub close: Option<Outcome>,
    /// One general note for the job instead of a comment per outlet.
    pub once: bool,
    /// The comment.
    pub says: Template,
    /// How to correct it.
    pub remedy: Option<Template>,
    /// The comment in one line, for the summary; the title stands in for it.
    pub brief: Option<Template>,
    /// What to do in a few words, for the summary.
    pub action: Option<Template>,
    /// References. A † marks one that was not checked.
    pub see: Vec<Arc<str>>,
    /// Test cases.
    pub cases: Vec<Case>,
    /// Its location.
    pub location: Location,
    /// The amendment that added it.
    pub added: Option<AmendedBy>,
    /// Its changes by amendments, in their order.
    pub changes: Vec<Change>,
}

impl Rule {
    /// Every name it reads or prints.
    pub fn slots(&self) -> BTreeSet<Slot> {
        let tests = self.applies.iter().chain([&self.needs]).flat_map(|it| it.slots());
        tests.chain(self.wordings().flat_map(|wording| wording.slots())).collect()
    }

    /// Every text with values in it.
    pub fn wordings(&self) -> impl Iterator<Item = &Template> {
        [&self.says].into_iter().chain(&self.remedy).chain(&self.brief).chain(&self.action)
    }

    /// The names of the amendments that changed it, other than its code's, each once, in their order.
    pub fn changed_by(&self) -> Vec<Arc<str>> {
        let mut names: Vec<Arc<str>> = Vec::new();
        for it in self.changes.iter().map(|it| &it.by).filter(|it| it.level != Level::Code) {
            if !names.contains(&it.name) {
                names.push(it.name.clone());
            }
        }
        names
    }

    /// Whether it is based on the adopted code as the program ships it, not as somebody amended it.
    pub fn is_of_code(&self) -> bool {
        self.basis == Basis::AdoptedCode && self.added.as_ref().is_none_or(|by| by.level == Level::Code)
    }
}

/// A test case of a rule.
#[derive(Clone, Debug)]
pub struct Case {
    /// What it tests.
    pub name: Arc<str>,
    /// Stated facts.
    pub given: Vec<(Slot, Value)>,
    /// The expected outcome.
    pub gives: Outcome,
    /// Its location.
    pub location: Location,
}

/// A rule that an amendment dropped.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dropped {
    /// The rule.
    pub rule: Arc<str>,
    /// Its former number.
    pub number: Arc<str>,
    /// Why.
    pub reason: Arc<str>,
    /// By which amendment.
    pub by: AmendedBy,
}

/// A set of rules.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Set {
    /// Its name.
    pub name: Arc<str>,
    /// What it is for.
    pub about: Arc<str>,
    /// Its location.
    pub location: Location,
}

/// All rules in force.
#[derive(Clone, Debug, Default)]
pub struct Rules {
    /// In the order of their files.
    pub rules: Vec<Rule>,
    /// The sets they come from.
    pub sets: Vec<Set>,
    /// In the order of their files; slots follow those of the facts.
    pub settings: Vec<Setting>,
    /// In the order of their files; slots follow those of the facts, among those of the settings.
    pub tables: Vec<Table>,
    /// Rules that amendments dropped.
    pub dropped: Vec<Dropped>,
    /// The adopted code, if it has a file.
    pub adopted: Option<Adopted>,
    /// The preset in force.
    pub preset: Option<Preset>,
    /// The amendments in force, in the order they were applied.
    pub amendments: Vec<Amendment>,
    /// The bases that may require a revision, if an amendment or the preset states them.
    pub revise_on: Option<ReviseOn>,
    /// Figures of the authority, and the adopted code, that amendments state.
    pub stated: Vec<Figure>,
    /// What the report says of the amendments.
    pub notes: Vec<Note>,
    /// The files of rules and amendments that a person brings.
    pub brought: BTreeSet<Arc<str>>,
}

impl Rules {
    /// The setting of a slot.
    pub fn setting(&self, slot: Slot) -> Option<&Setting> {
        // Settings are in the order of their slots.
        let at = self.settings.binary_search_by_key(&slot, |it| it.slot).ok()?;
        self.settings.get(at)
    }

    /// The setting of a name: `freezing/margin`.
    pub fn setting_named(&self, name: &str) -> Option<&Setting> {
        self.settings.iter().find(|it| &*it.name == name)
    }

    /// The table of a slot.
    pub fn table(&self, slot: Slot) -> Option<&Table> {
        self.tables.iter().find(|it| it.slot == slot)
    }

    /// The name and description of the setting or table of a slot.
    pub fn called(&self, slot: Slot) -> Option<(&Arc<str>, &Arc<str>)> {
        let setting = self.setting(slot).map(|it| (&it.name, &it.about));
        setting.or_else(|| self.table(slot).map(|it| (&it.name, &it.about)))
    }

    /// The rule of an id.
    pub fn rule(&self, id: &str) -> Option<&Rule> {
        self.rules.iter().find(|it| &*it.id == id)
    }
}

/// The names of facts, settings and tables together.
struct AllNames<'n> {
    facts: &'n dyn Names,
    settings: &'n [Setting],
    tables: &'n [Table],
}

impl<'n> AllNames<'n> {
    fn of(facts: &'n dyn Names, rules: &'n Rules) -> Self {
        Self { facts, settings: &rules.settings, tables: &rules.tables }
    }
}

impl Names for AllNames<'_> {
    fn find(&self, name: &str) -> Option<(Slot, Type)> {
        let setting = self.settings.iter().find(|it| &*it.name == name);
        let setting = setting.map(|it| (it.slot, it.ty()));
        let table = || self.tables.iter().find(|it| &*it.name == name);
        let table = || table().map(|it| (it.slot, Type::Quantity(it.measure)));
        setting.or_else(table).or_else(|| self.facts.find(name))
    }

    fn all(&self) -> Vec<String> {
        let mut all = self.facts.all();
        all.extend(self.settings.iter().map(|it| it.name.to_string()));
        all.extend(self.tables.iter().map(|it| it.name.to_string()));
        all
    }
}
