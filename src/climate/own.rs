//! A person's own climates: a file of places, or a folder of such files.

use super::place::{Climate, read_own_file};
use crate::diag::{Place, Problem};
use crate::input::{Files, text, yaml};
use std::path::Path;

/// Reads the places of a file or of all YAML files in a folder, in the order of their names.
pub fn read_own(files: &dyn Files, path: &str, problems: &mut Vec<Problem>) -> Vec<Climate> {
    let names = match files.folder(path) {
        Ok(Some(names)) => names,
        Ok(None) => vec![path.to_owned()],
        Err(problem) => {
            problems.push(problem);
            return Vec::new();
        }
    };
    if names.is_empty() {
        let problem = Problem::new(Place::whole(path), "is a folder without climate files");
        problems.push(problem.expected("files of places (.yaml) in it"));
    }
    names.iter().flat_map(|name| read_file(files, name, problems)).collect()
}

fn read_file(files: &dyn Files, path: &str, problems: &mut Vec<Problem>) -> Vec<Climate> {
    let read = files.read(path).and_then(|bytes| yaml::parse(path, text::decode(path, &bytes)?));
    match read {
        Ok(node) => {
            let name = Path::new(path).file_name().map_or_else(|| path.into(), |it| it.to_string_lossy());
            read_own_file(&node, &format!("stated in {name}"), problems)
        }
        Err(problem) => {
            problems.push(problem);
            Vec::new()
        }
    }
}
