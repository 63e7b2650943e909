//! What the preset and the amendments have changed.

use super::super::amended::note;
use super::values::{LocationJson, all};
use crate::ruleset::{AmendedBy, Amendment, AmendmentEffects, Changed, Figure, Note, Part};
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;

/// What the preset and the amendments have changed, change by change, with who did it and where.
#[derive(Serialize, JsonSchema)]
pub(super) struct AmendedJson<'r> {
    /// The amendments in the order they were applied.
    amendments: Vec<AmendmentJson<'r>>,
    /// Figures of the authority, and the adopted code, that amendments state.
    stated: Vec<FigureJson<'r>>,
    /// Changes of settings; the last one of a setting is in force.
    settings: Vec<SettingChangeJson<'r>>,
    /// Changes of parts of rules; the last one of a part is in force.
    rules: Vec<RuleChangeJson<'r>>,
    /// Rules that were added.
    added: Vec<AddedRuleJson<'r>>,
    /// Tables that were added or replaced.
    tables: Vec<TableChangeJson<'r>>,
    /// Other notes on the amendments, such as that the adopted code still governs.
    notes: Vec<AmendmentNoteJson<'r>>,
}

#[derive(Serialize, JsonSchema)]
struct AmendmentJson<'r> {
    name: &'r str,
    /// What it is for.
    about: Option<&'r str>,
    /// The layer: region, company, job or preset.
    level: &'static str,
    at: LocationJson<'r>,
}

#[derive(Serialize, JsonSchema)]
struct FigureJson<'r> {
    /// What it is: `frost depth`.
    figure: &'r str,
    /// As it is written.
    is: &'r str,
    by: ByJson<'r>,
}

#[derive(Serialize, JsonSchema)]
struct SettingChangeJson<'r> {
    /// Name of the setting.
    setting: &'r str,
    /// As it was written before.
    was: &'r str,
    /// As it is written now.
    is: &'r str,
    by: ByJson<'r>,
}

#[derive(Serialize, JsonSchema)]
struct RuleChangeJson<'r> {
    /// The rule's id.
    rule: Option<&'r str>,
    /// The rule's number.
    number: &'r str,
    /// The part of the rule: outcome, basis, says, remedy, title, why, see or once.
    part: Option<&'static str>,
    /// As it was written before; empty if there was nothing.
    was: &'r str,
    /// As it is written now.
    is: &'r str,
    by: ByJson<'r>,
}

#[derive(Serialize, JsonSchema)]
struct AddedRuleJson<'r> {
    number: &'r str,
    title: &'r str,
    by: ByJson<'r>,
}

#[derive(Serialize, JsonSchema)]
struct TableChangeJson<'r> {
    /// Name of the table.
    table: &'r str,
    about: &'r str,
    by: ByJson<'r>,
}

#[derive(Serialize, JsonSchema)]
struct AmendmentNoteJson<'r> {
    text: String,
    by: ByJson<'r>,
}

/// The amendment that made a change.
#[derive(Serialize, JsonSchema)]
struct ByJson<'r> {
    name: &'r str,
    /// The layer: region, company, job or preset.
    level: &'static str,
    at: LocationJson<'r>,
}

impl<'r> From<&'r AmendmentEffects> for AmendedJson<'r> {
    fn from(effects: &'r AmendmentEffects) -> Self {
        Self {
            amendments: all(&effects.amendments),
            stated: all(&effects.stated),
            settings: all(&effects.settings),
            rules: all(&effects.rules),
            added: all(&effects.added),
            tables: all(&effects.tables),
            notes: all(&effects.notes),
        }
    }
}

impl<'r> From<&'r Amendment> for AmendmentJson<'r> {
    fn from(amendment: &'r Amendment) -> Self {
        Self {
            name: &amendment.name,
            about: amendment.about.as_deref(),
            level: amendment.level.word(),
            at: (&amendment.location).into(),
        }
    }
}

impl<'r> From<&'r AmendedBy> for ByJson<'r> {
    fn from(by: &'r AmendedBy) -> Self {
        Self { name: &by.name, level: by.level.word(), at: (&by.location).into() }
    }
}

impl<'r> From<&'r Figure> for FigureJson<'r> {
    fn from(figure: &'r Figure) -> Self {
        Self { figure: &figure.what, is: &figure.is, by: (&figure.by).into() }
    }
}

impl<'r> From<&'r Changed> for SettingChangeJson<'r> {
    fn from(change: &'r Changed) -> Self {
        Self { setting: &change.what, was: &change.was, is: &change.is, by: (&change.by).into() }
    }
}

impl<'r> From<&'r Changed> for RuleChangeJson<'r> {
    fn from(change: &'r Changed) -> Self {
        Self {
            rule: change.rule.as_deref(),
            number: &change.what,
            part: change.part.map(Part::word),
            was: &change.was,
            is: &change.is,
            by: (&change.by).into(),
        }
    }
}

impl<'r> From<&'r (Arc<str>, Arc<str>, AmendedBy)> for AddedRuleJson<'r> {
    fn from((number, title, by): &'r (Arc<str>, Arc<str>, AmendedBy)) -> Self {
        Self { number, title, by: by.into() }
    }
}

impl<'r> From<&'r (Arc<str>, Arc<str>, AmendedBy)> for TableChangeJson<'r> {
    fn from((table, about, by): &'r (Arc<str>, Arc<str>, AmendedBy)) -> Self {
        Self { table, about, by: by.into() }
    }
}

impl<'r> From<&'r Note> for AmendmentNoteJson<'r> {
    fn from(own: &'r Note) -> Self {
        Self { text: note(own), by: (&own.by).into() }
    }
}
