//! The effects of all amendments, for reports and listings.

use super::{
    Adopted, AmendedBy, Amendment, Basis, Dropped, Figure, Level, Note, Noted, Outcome, Part, Rule, Rules,
};
use crate::expr::Slot;
use std::collections::BTreeSet;
use std::sync::Arc;

/// The effects of all amendments.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct AmendmentEffects {
    /// The adopted code, if it has a file. Its changes are not listed one by one.
    pub adopted: Option<Adopted>,
    /// The preset.
    pub preset: Option<Arc<str>>,
    /// The amendments in the order they were applied.
    pub amendments: Vec<Amendment>,
    /// Figures of the authority, and the adopted code, that amendments state.
    pub stated: Vec<Figure>,
    /// Changes of settings.
    pub settings: Vec<Changed>,
    /// Changes of rules.
    pub rules: Vec<Changed>,
    /// Rules that were added: number, title, by which amendment.
    pub added: Vec<(Arc<str>, Arc<str>, AmendedBy)>,
    /// Tables that were added or replaced: name, description, by which amendment.
    pub tables: Vec<(Arc<str>, Arc<str>, AmendedBy)>,
    /// Rules that were dropped.
    pub dropped: Vec<Dropped>,
    /// Other effects to list.
    pub notes: Vec<Note>,
}

/// A change of a setting or of a part of a rule.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Changed {
    /// The name of the setting, or the number of the rule.
    pub what: Arc<str>,
    /// The rule's id; `None` for a setting.
    pub rule: Option<Arc<str>>,
    /// The part of the rule.
    pub part: Option<Part>,
    /// The text before.
    pub was: Arc<str>,
    /// The text after.
    pub is: Arc<str>,
    /// By which amendment.
    pub by: AmendedBy,
}

/// Whether a report lists a change: not what the adopted code itself changes.
fn is_listed(by: &AmendedBy) -> bool {
    by.level != Level::Code
}

impl Rules {
    /// The effects of all amendments, if these bases may require a revision.
    pub fn amendment_effects(&self, revise_on: &[Basis]) -> AmendmentEffects {
        let settings = self.settings.iter().flat_map(|setting| {
            let what = setting.name.clone();
            setting.changes.iter().filter(|it| is_listed(&it.by)).map(move |it| Changed {
                what: what.clone(),
                rule: None,
                part: None,
                was: it.was.clone(),
                is: it.is.clone(),
                by: it.by.clone(),
            })
        });
        let rules = self.rules.iter().flat_map(|rule| {
            rule.changes.iter().filter(|it| is_listed(&it.by)).map(|it| Changed {
                what: rule.number.clone(),
                rule: Some(rule.id.clone()),
                part: Some(it.part),
                was: it.was.clone(),
                is: it.is.clone(),
                by: it.by.clone(),
            })
        });
        let added = self.rules.iter().filter_map(|rule| {
            let by = rule.added.clone().filter(is_listed)?;
            Some((rule.number.clone(), rule.title.clone(), by))
        });
        let tables = self.tables.iter().flat_map(|table| {
            table.changes.iter().map(|by| (table.name.clone(), table.about.clone(), by.clone()))
        });
        AmendmentEffects {
            adopted: self.adopted.clone(),
            preset: self.preset.as_ref().map(|it| it.name.clone()),
            amendments: self.amendments.clone(),
            stated: self.stated.clone(),
            settings: settings.collect(),
            rules: rules.collect(),
            added: added.collect(),
            tables: tables.collect(),
            dropped: self.dropped.iter().filter(|it| is_listed(&it.by)).cloned().collect(),
            notes: self
                .notes
                .iter()
                .cloned()
                .chain(self.unused_tables())
                .chain(self.in_vain(revise_on))
                .collect(),
        }
    }

    /// Tables of amendments that no rule reads.
    fn unused_tables(&self) -> impl Iterator<Item = Note> {
        let read: BTreeSet<Slot> = self.rules.iter().flat_map(Rule::slots).collect();
        let unused = self.tables.iter().filter(move |table| !read.contains(&table.slot));
        unused.filter_map(|table| {
            let by = table.changes.last().filter(|by| is_listed(by))?.clone();
            Some(Note { by, what: Noted::UnusedTable { table: table.name.clone() } })
        })
    }

    /// Amendments that require a revision on a basis that may not require one.
    fn in_vain(&self, revise_on: &[Basis]) -> impl Iterator<Item = Note> {
        let vain =
            self.rules.iter().filter(|it| it.outcome == Outcome::Revise && !revise_on.contains(&it.basis));
        vain.filter_map(|rule| {
            let raised = rule.changes.iter().rev().find(|it| it.part == Part::Outcome);
            let by = raised.map(|it| &it.by).or(rule.added.as_ref())?.clone();
            let what = Noted::MayNotRevise { number: rule.number.clone(), basis: rule.basis };
            Some(Note { by, what })
        })
    }
}
