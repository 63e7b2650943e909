//! A person's own climates: a file of places, or a folder of such files.

use super::error::ClimateError;
use super::place::Climate;
use super::read::read_own_file;
use crate::diag::{Diagnostics, Location};
use crate::input::{Files, Kind, Node, text, yaml};
use std::path::Path;
use std::sync::Arc;

/// A place with errors.
#[derive(Clone, Debug)]
pub struct SkippedPlace {
    /// Its id.
    pub id: Arc<str>,
    /// Its file.
    pub file: Arc<str>,
    /// Its errors.
    pub errors: Diagnostics,
}

/// Reads the places of a file or of all YAML files in a folder, in the order of their names. Errors of a place belong to that
/// place; `errors` gets those of whole files.
pub fn read_own(
    files: &dyn Files,
    path: &str,
    errors: &mut Diagnostics,
) -> Vec<Result<Climate, SkippedPlace>> {
    let Some(folder) = errors.ok(files.folder(path)) else { return Vec::new() };
    let names = folder.unwrap_or_else(|| vec![path.to_owned()]);
    if names.is_empty() {
        errors.push(ClimateError::EmptyFolder.at(&Location::whole(path)));
    }
    names.iter().flat_map(|name| read_file(files, name, errors)).collect()
}

fn read_file(files: &dyn Files, path: &str, errors: &mut Diagnostics) -> Vec<Result<Climate, SkippedPlace>> {
    let node = files.read(path).and_then(|bytes| yaml::parse(path, text::decode(path, &bytes)?));
    let Some(node) = errors.ok(node) else { return Vec::new() };
    let name = Path::new(path).file_name().map_or_else(|| path.into(), |name| name.to_string_lossy());
    let source = format!("stated in {name}");
    let mut of_all = Diagnostics::new();
    let all = read_own_file(&node, &source, &mut of_all);
    if of_all.is_empty() {
        return all.into_iter().map(Ok).collect();
    }
    // Tell the errors of the file from those of each place.
    let mut of_file = Diagnostics::new();
    let Some((empty, places)) = split_places(&node) else {
        errors.append(&mut of_all);
        return Vec::new();
    };
    read_own_file(&empty, &source, &mut of_file);
    if !of_file.is_empty() {
        errors.append(&mut of_all);
        return Vec::new();
    }
    let read = places.into_iter().map(|(id, node)| {
        let mut of_place = Diagnostics::new();
        match read_own_file(&node, &source, &mut of_place).pop() {
            Some(climate) if of_place.is_empty() => Ok(climate),
            _ => Err(SkippedPlace { id: id.into(), file: path.into(), errors: of_place }),
        }
    });
    read.collect()
}

/// A file of places without any, and with each of them alone by its id.
fn split_places(node: &Node) -> Option<(Node, Vec<(String, Node)>)> {
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
