//! Rules as they are loaded, and the files they come from.

use super::{Level, Rules};
use crate::diag::Diagnostics;
use crate::expr::{Names, Slot};
use crate::input::{Key, Kind, Node};
use std::sync::Arc;

/// A rule file.
#[derive(Clone, Copy, Debug)]
pub struct RuleFile<'f> {
    /// The name people know it by.
    pub name: &'f str,
    /// Its bytes.
    pub bytes: &'f [u8],
}

/// A rule file that a person brings, or an amendment in a job.
#[derive(Clone, Debug)]
pub struct RuleSource {
    /// Its contents.
    pub node: Node,
    /// The level of an amendment that does not state one.
    pub level: Level,
    /// The name of an amendment in a job that does not state one; `None` for a file.
    pub default_name: Option<Arc<str>>,
}

impl RuleSource {
    /// What an amendment states under a key, such as the authority's figures.
    pub fn stated(&self, key: &str) -> Option<&Node> {
        let Kind::Map(entries) = &self.node.kind else { return None };
        let entry = entries.iter().find(|(own, node)| own.text == key && !node.is_null());
        entry.map(|(_, node)| node).filter(|_| self.is_amendment())
    }

    /// Its level: the one it states, or else the one that comes with how it was brought.
    pub fn level_stated(&self) -> Level {
        let stated = self
            .stated("level")
            .and_then(|node| node.one_of("level", &Level::WORDS, &mut Diagnostics::new()));
        stated.unwrap_or(self.level)
    }

    pub(super) fn is_amendment(&self) -> bool {
        let named = |entries: &[(_, _)]| entries.iter().any(|(key, _): &(Key, Node)| key.text == "amendment");
        self.default_name.is_some() || matches!(&self.node.kind, Kind::Map(entries) if named(entries))
    }
}

/// What is loaded so far.
pub(super) struct Loader<'f> {
    /// The names that rules may use.
    pub facts: &'f dyn Names,
    /// The first slot after those of the facts.
    pub first: u16,
    pub rules: Rules,
    pub errors: Diagnostics,
}

impl Loader<'_> {
    /// The slot after those of the settings and tables so far.
    pub(super) fn next_slot(&self) -> Slot {
        let used = self.rules.settings.len() + self.rules.tables.len();
        let used = u16::try_from(used).unwrap_or(u16::MAX - self.first);
        Slot(self.first.saturating_add(used))
    }
}
