//! A person's own climates: a file of places, or a folder of such files.

use super::place::{Climate, read_own_file};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Files, Kind, Node, text, yaml};
use std::path::Path;
use std::sync::Arc;

/// A place that cannot be had, and why.
#[derive(Clone, Debug)]
pub struct LeftOut {
    /// Its id.
    pub id: Arc<str>,
    /// The file it stands in.
    pub file: Arc<str>,
    /// What is wrong with it.
    pub problems: Diagnostics,
}

/// Reads the places of a file or of all YAML files in a folder, in the order of their names. A problem of a place is that
/// place's; `problems` takes those of whole files.
pub fn read_own(files: &dyn Files, path: &str, problems: &mut Diagnostics) -> Vec<Result<Climate, LeftOut>> {
    let names = match files.folder(path) {
        Ok(Some(names)) => names,
        Ok(None) => vec![path.to_owned()],
        Err(problem) => {
            problems.push(problem);
            return Vec::new();
        }
    };
    if names.is_empty() {
        let problem = Diagnostic::new(Location::whole(path), "is a folder without climate files");
        problems.push(problem.expected("files of places (.yaml) in it"));
    }
    names.iter().flat_map(|name| read_file(files, name, problems)).collect()
}

fn read_file(files: &dyn Files, path: &str, problems: &mut Diagnostics) -> Vec<Result<Climate, LeftOut>> {
    let read = files.read(path).and_then(|bytes| yaml::parse(path, text::decode(path, &bytes)?));
    let node = match read {
        Ok(node) => node,
        Err(problem) => {
            problems.push(problem);
            return Vec::new();
        }
    };
    let name = Path::new(path).file_name().map_or_else(|| path.into(), |it| it.to_string_lossy());
    let usual = format!("stated in {name}");
    let mut found = Diagnostics::new();
    let all = read_own_file(&node, &usual, &mut found);
    if found.is_empty() {
        return all.into_iter().map(Ok).collect();
    }
    let mut of_file = Diagnostics::new();
    let alone = each_alone(&node);
    if let Some((without, _)) = &alone {
        read_own_file(without, &usual, &mut of_file);
    }
    let Some((_, places)) = alone.filter(|_| of_file.is_empty()) else {
        problems.append(&mut found);
        return Vec::new();
    };
    let read = places.into_iter().map(|(id, node)| {
        let mut own = Diagnostics::new();
        match read_own_file(&node, &usual, &mut own).pop() {
            Some(climate) if own.is_empty() => Ok(climate),
            _ => Err(LeftOut { id: id.into(), file: path.into(), problems: own }),
        }
    });
    read.collect()
}

/// A file of places without any, and with each of them alone by its id.
fn each_alone(node: &Node) -> Option<(Node, Vec<(String, Node)>)> {
    let Kind::Map(entries) = &node.kind else { return None };
    let at = entries.iter().position(|(key, _)| key.text == "places")?;
    let Kind::Map(places) = &entries[at].1.kind else { return None };
    let with = |places| {
        let mut entries = entries.clone();
        entries[at].1.kind = Kind::Map(places);
        Node { kind: Kind::Map(entries), ..node.clone() }
    };
    let alone = places.iter().map(|place| (place.0.text.clone(), with(vec![place.clone()])));
    Some((with(Vec::new()), alone.collect()))
}
