//! The walls of a job: its own before those built in.

use super::Job;
use super::files::parse;
use crate::diag::{Diagnostic, Diagnostics};
use crate::input::{Files, Kind};
use crate::schedule::{Schedule, Unused, is_wall_in_words};
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

/// Removes words for a wall, as "2x6 wall", that say no more than the studs of the job's default wall.
pub(super) fn leave_to_default(job: &Job, wall: usize, schedule: &mut Schedule) {
    let default = job.defaults.iter().find(|cell| cell.term == wall).and_then(|cell| job.wall(&cell.text));
    let Some(default) = default else { return };
    let is_it = |text: &str| says_studs_of(text, default);
    for row in &mut schedule.rows {
        row.cells.retain(|cell| cell.term != wall || cell.value.is_some() || !is_it(&cell.text));
    }
    schedule.unused.retain(|unused| !(is_wall_in_words(unused) && is_it(&unused.text)));
}

/// Whether words say what the studs of a wall are, and nothing else of it.
fn says_studs_of(text: &str, wall: &Wall) -> bool {
    /// Depths of studs, m.
    const STUDS: [(&str, f64); 5] =
        [("2x4", 0.0889), ("2x6", 0.1397), ("2x8", 0.1842), ("2x10", 0.235), ("2x12", 0.2858)];
    const OTHERS: [&str; 12] =
        ["wall", "walls", "is", "are", "of", "stud", "studs", "wood", "framed", "framing", "exterior", "ext"];
    let text = text.to_lowercase().replace(" x ", "x");
    let (studs, others): (Vec<&str>, Vec<&str>) =
        text.split_whitespace().partition(|word| STUDS.iter().any(|(name, _)| name == word));
    let depth = STUDS.iter().find(|(name, _)| studs == [*name]).map(|(_, depth)| *depth);
    let has = |depth: f64| wall.layers.iter().any(|layer| (layer.thickness - depth).abs() < 0.001);
    depth.is_some_and(has) && others.iter().all(|word| OTHERS.contains(word))
}
