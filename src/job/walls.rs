//! The walls of a job: its own before those built in.

use super::files::parse;
use crate::diag::{Diagnostic, Diagnostics};
use crate::input::{Files, Kind};
use crate::schedule::Unused;
use crate::wall::{BUILT_IN, Wall, find, read_walls};
use std::sync::Arc;

/// The walls of a job file and those built in; nothing else in the file is looked at.
pub fn walls(files: &dyn Files, job: &str) -> Result<Vec<Arc<Wall>>, Diagnostics> {
    let node = parse(files, job)?;
    let mut problems = Diagnostics::new();
    let own = match &node.kind {
        Kind::Map(entries) => entries.iter().find(|(key, node)| key.text == "walls" && !node.is_null()),
        _ => {
            return Err(Diagnostic::new(node.location.clone(), "is not a job")
                .expected("keys with values")
                .into());
        }
    };
    let own = own.map(|(_, node)| read_walls(node, &mut problems)).unwrap_or_default();
    if problems.is_empty() { Ok(with_built_in(own)) } else { Err(problems) }
}

/// A job's own walls, then those built in.
pub(super) fn with_built_in(own: Vec<Wall>) -> Vec<Arc<Wall>> {
    own.into_iter().chain(BUILT_IN.iter().cloned()).map(Arc::new).collect()
}

/// The built-in walls that cannot be had by a name because a wall of the job has taken it.
pub(super) fn hidden(walls: &[Arc<Wall>]) -> Vec<Unused> {
    let own = walls.iter().filter(|it| !it.built_in);
    let hidden = own.filter_map(|wall| {
        find(&BUILT_IN, &wall.key)?;
        let why = "the built-in wall of that name is not used: the job describes its own";
        Some(Unused { location: wall.location.clone()?, text: wall.key.clone(), why })
    });
    hidden.collect()
}
