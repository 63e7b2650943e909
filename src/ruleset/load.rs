//! Loads rule files: sets first, then amendments level by level. Reports all errors of all files.

use super::amend::Header;
use super::error::RuleError;
use super::{CodeFile, Level, Preset, Rules};
use crate::diag::{Diagnostics, Location};
use crate::expr::{Names, Slot};
use crate::input::{Kind, Node, text, yaml};
use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};
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
pub struct Brought {
    /// Its contents.
    pub node: Node,
    /// The level of an amendment that does not state one.
    pub level: Level,
    /// The name of an amendment in a job that does not state one; `None` for a file.
    pub called: Option<Arc<str>>,
}

/// The rules and amendments shipped with the program that a job uses.
#[derive(Clone, Copy, Debug, Default)]
pub struct Shipped<'f> {
    /// The base rule sets.
    pub base: &'f [RuleFile<'f>],
    /// The adopted code, and the year of its edition if stated.
    pub code: Option<(&'f CodeFile, Option<u16>)>,
    /// The preset, with its name.
    pub preset: Option<(&'f str, RuleFile<'f>)>,
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

/// Loads sets and amendments. `facts` are the names that rules may use; `first` is the first slot after them.
pub fn load(files: &[RuleFile<'_>], facts: &dyn Names, first: u16) -> Result<Rules, Diagnostics> {
    load_layers(&Shipped { base: files, ..Shipped::default() }, &[], facts, first)
}

/// Loads sets, the adopted code, a preset, and what a person brings. Amendments follow the sets by level: code, preset,
/// region, company, job; those of one level in the order given.
pub fn load_layers(
    shipped: &Shipped<'_>,
    brought: &[Brought],
    facts: &dyn Names,
    first: u16,
) -> Result<Rules, Diagnostics> {
    let mut loader = Loader { facts, first, rules: Rules::default(), errors: Diagnostics::new() };
    let base = shipped
        .base
        .iter()
        .filter_map(|file| Some(Brought { node: loader.parse(file)?, level: Level::Company, called: None }));
    let mut all: Vec<Brought> = base.collect();
    all.extend(brought.iter().cloned());
    loader.drop_duplicates(&mut all);
    let (amendments, sets): (Vec<&Brought>, Vec<&Brought>) = all.iter().partition(|it| it.is_amendment());
    sets.iter().for_each(|set| loader.read_set(&set.node));
    let sections = shipped.code.map(|(code, edition)| loader.read_code(code, edition)).unwrap_or_default();
    if let Some((name, file)) = shipped.preset
        && let Some(node) = loader.parse(&file)
    {
        loader.read_amendment(&node, Header { called: None, level: Level::Preset });
        // A preset is not an amendment that somebody brings.
        loader.rules.amendments.clear();
        let revise_on = loader.rules.revise_on.as_ref().map(|it| it.bases.clone());
        loader.rules.preset = Some(Preset { name: name.into(), revise_on });
    }
    let headers = amendments.iter().map(|it| (Header::of(it, &mut loader.errors), &it.node));
    let mut by_level: Vec<(Header, &Node)> = headers.collect();
    by_level.sort_by_key(|(header, _)| header.level);
    for (header, node) in by_level {
        loader.read_amendment(node, header);
    }
    loader.rules.refer_to(&sections);
    loader.errors.or(loader.rules)
}

impl Loader<'_> {
    fn parse(&mut self, file: &RuleFile<'_>) -> Option<Node> {
        let parsed = text::decode(file.name, file.bytes).and_then(|text| yaml::parse(file.name, text));
        self.errors.ok(parsed)
    }

    /// Reports files given twice and keeps one of each.
    fn drop_duplicates(&mut self, all: &mut Vec<Brought>) {
        let mut seen: BTreeSet<PathBuf> = BTreeSet::new();
        all.retain(|it| {
            let file = &it.node.place.file;
            let is_new = it.called.is_some() || seen.insert(plain_path(file));
            if !is_new {
                self.errors.push(RuleError::FileTwice.at_location(&Location::whole(file)));
            }
            is_new
        });
    }

    /// The slot after those of the settings and tables so far.
    pub(super) fn next_slot(&self) -> Slot {
        let used = self.rules.settings.len() + self.rules.tables.len();
        let used = u16::try_from(used).unwrap_or(u16::MAX - self.first);
        Slot(self.first.saturating_add(used))
    }
}

impl Brought {
    fn is_amendment(&self) -> bool {
        let named = |entries: &[(_, _)]| {
            entries.iter().any(|(key, _): &(crate::input::Key, Node)| key.text == "amendment")
        };
        self.called.is_some() || matches!(&self.node.kind, Kind::Map(entries) if named(entries))
    }
}

/// A path without `.`, and without folders followed by `..`.
fn plain_path(path: &str) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in Path::new(path).components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if matches!(plain.components().next_back(), Some(Component::Normal(_))) => {
                plain.pop();
            }
            other => plain.push(other),
        }
    }
    plain
}
