//! Loads rule files: sets first, then amendments level by level. Reports all errors of all files.

use super::amend::Header;
use super::error::RuleError;
use super::loader::{Loader, RuleFile, RuleSource};
use super::{CodeFile, Level, Preset, Rules};
use crate::diag::{Diagnostics, Location};
use crate::expr::Names;
use crate::input::{Node, text, yaml};
use std::collections::BTreeSet;
use std::path::{Component, Path, PathBuf};

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

/// Loads sets and amendments. `facts` are the names that rules may use; `first` is the first slot after them.
pub fn load(files: &[RuleFile<'_>], facts: &dyn Names, first: u16) -> Result<Rules, Diagnostics> {
    load_layers(&Shipped { base: files, ..Shipped::default() }, &[], facts, first)
}

/// Loads sets, the adopted code, a preset, and what a person brings. Amendments follow the sets by level: code, preset,
/// region, company, job; those of one level in the order given.
pub fn load_layers(
    shipped: &Shipped<'_>,
    brought: &[RuleSource],
    facts: &dyn Names,
    first: u16,
) -> Result<Rules, Diagnostics> {
    let mut loader = Loader { facts, first, rules: Rules::default(), errors: Diagnostics::new() };
    let base = shipped.base.iter().filter_map(|file| {
        Some(RuleSource { node: loader.parse(file)?, level: Level::Company, default_name: None })
    });
    let mut all: Vec<RuleSource> = base.collect();
    all.extend(brought.iter().cloned());
    loader.drop_duplicates(&mut all);
    let (amendments, sets): (Vec<&RuleSource>, Vec<&RuleSource>) =
        all.iter().partition(|it| it.is_amendment());
    sets.iter().for_each(|set| loader.read_set(&set.node));
    let sections = shipped.code.map(|(code, edition)| loader.read_code(code, edition)).unwrap_or_default();
    if let Some((name, file)) = shipped.preset
        && let Some(node) = loader.parse(&file)
    {
        loader.read_amendment(&node, Header { default_name: None, level: Level::Preset });
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
    loader.rules.brought = brought.iter().map(|it| it.node.location.file.clone()).collect();
    loader.rules.refer_to(&sections);
    loader.errors.or(loader.rules)
}

impl Loader<'_> {
    fn parse(&mut self, file: &RuleFile<'_>) -> Option<Node> {
        let parsed = text::decode(file.name, file.bytes).and_then(|text| yaml::parse(file.name, text));
        self.errors.ok(parsed)
    }

    /// Reports files given twice and keeps one of each.
    fn drop_duplicates(&mut self, all: &mut Vec<RuleSource>) {
        let mut seen: BTreeSet<PathBuf> = BTreeSet::new();
        all.retain(|it| {
            let file = &it.node.location.file;
            let is_new = it.default_name.is_some() || seen.insert(plain_path(file));
            if !is_new {
                self.errors.push(RuleError::FileTwice.at_location(&Location::whole(file)));
            }
            is_new
        });
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
