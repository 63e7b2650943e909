//! Gathers rule files: sets first, then amendments level by level. All problems of all files come at once.

use super::amend::{self, Header};
use super::read::read_set;
use super::{Level, Preset, Rules};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::expr::Names;
use crate::input::{Kind, Node, text, yaml};
use std::collections::BTreeMap;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// A rule file: its name as people know it, and its bytes.
#[derive(Clone, Copy, Debug)]
pub struct RuleFile<'f> {
    /// Name.
    pub name: &'f str,
    /// Bytes.
    pub bytes: &'f [u8],
}

/// A rule file or an amendment written in a job, as a person brings it.
#[derive(Clone, Debug)]
pub struct Brought {
    /// What it says.
    pub node: Node,
    /// The level of an amendment that does not state its own.
    pub level: Level,
    /// What an amendment written in a job is called where it does not say; nothing for a file.
    pub called: Option<Arc<str>>,
}

/// Loads sets and amendments. `facts` are the names rules may use; `first` is the first slot after them.
pub fn load(files: &[RuleFile<'_>], facts: &dyn Names, first: u16) -> Result<Rules, Diagnostics> {
    load_layers(files, None, &[], facts, first)
}

/// Loads sets, a preset, and what a person brings. Sets come first, then amendments: region, company, job; those of one
/// level in the order given.
pub fn load_layers(
    base: &[RuleFile<'_>],
    preset: Option<(&str, RuleFile<'_>)>,
    brought: &[Brought],
    facts: &dyn Names,
    first: u16,
) -> Result<Rules, Diagnostics> {
    let mut problems = Diagnostics::new();
    let mut all: Vec<Brought> = Vec::new();
    for file in base {
        all.extend(parse(file, &mut problems).map(|node| Brought {
            node,
            level: Level::Company,
            called: None,
        }));
    }
    all.extend(brought.iter().cloned());
    told_twice(&mut all, &mut problems);
    let mut rules = Rules::default();
    let (amendments, sets): (Vec<&Brought>, Vec<&Brought>) = all.iter().partition(|it| is_amendment(it));
    for it in sets {
        read_set(&it.node, facts, first, &mut rules, &mut problems);
    }
    if let Some((name, file)) = preset
        && let Some(node) = parse(&file, &mut problems)
    {
        let header = Header { called: None, level: Level::Preset };
        amend::read(&node, header, facts, first, &mut rules, &mut problems);
        // A preset is no amendment that somebody brings: it is told by itself.
        rules.amendments.clear();
        let revise_on = rules.revise_on.as_ref().map(|it| it.bases.clone());
        rules.preset = Some(Preset { name: name.into(), revise_on });
    }
    let mut by_level: Vec<(Header, &Node)> =
        amendments.iter().map(|it| (Header::of(it, &mut problems), &it.node)).collect();
    by_level.sort_by_key(|(header, _)| header.level);
    for (header, node) in by_level {
        amend::read(node, header, facts, first, &mut rules, &mut problems);
    }
    if problems.is_empty() { Ok(rules) } else { Err(problems) }
}

fn parse(file: &RuleFile<'_>, problems: &mut Diagnostics) -> Option<Node> {
    let read = text::decode(file.name, file.bytes).and_then(|it| yaml::parse(file.name, it));
    read.map_err(|problem| problems.push(problem)).ok()
}

fn is_amendment(it: &Brought) -> bool {
    it.called.is_some()
        || matches!(&it.node.kind, Kind::Map(entries) if entries.iter().any(|(key, _)| key.text == "amendment"))
}

/// Files given twice are told and read once.
fn told_twice(all: &mut Vec<Brought>, problems: &mut Diagnostics) {
    let mut seen: BTreeMap<PathBuf, Arc<str>> = BTreeMap::new();
    all.retain(|it| {
        if it.called.is_some() {
            return true;
        }
        let file = &it.node.place.file;
        match seen.insert(plain_path(file), file.clone()) {
            None => true,
            Some(_) => {
                let problem = Diagnostic::new(Location::whole(file), "is given twice as a rule file");
                problems.push(problem.expected("each file once: in the job or on the command line"));
                false
            }
        }
    });
}

/// A path without `.` and without folders that are left again.
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
