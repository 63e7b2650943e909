//! The climates there are, by id.

use super::place::{Climate, read_library_file};
use crate::diag::{Place, Problem, nearest, quote};
use crate::input::{text, yaml};
use std::sync::Arc;

/// Climates in the order of their files.
#[derive(Clone, Debug, Default)]
pub struct Library(Vec<Arc<Climate>>);

impl Library {
    /// Reads library files, given as name and bytes. All problems of all files come at once.
    pub fn read<'f>(files: impl IntoIterator<Item = (&'f str, &'f [u8])>) -> Result<Self, Vec<Problem>> {
        let mut problems = Vec::new();
        let mut climates: Vec<Arc<Climate>> = Vec::new();
        for (name, bytes) in files {
            let before = problems.len();
            match text::decode(name, bytes).and_then(|it| yaml::parse(name, it)) {
                Ok(node) => {
                    for climate in read_library_file(&node, &mut problems) {
                        if climates.iter().any(|it| it.id == climate.id) {
                            let problem = Problem::new(climate.at.clone(), "is an id that another place has");
                            problems.push(problem.text(&*climate.id));
                        } else {
                            climates.push(Arc::new(climate));
                        }
                    }
                }
                Err(problem) => problems.push(problem),
            }
            quote(&mut problems[before..], name, &String::from_utf8_lossy(bytes));
        }
        if problems.is_empty() { Ok(Self(climates)) } else { Err(problems) }
    }

    /// All climates.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Climate>> {
        self.0.iter()
    }

    /// The climate of an id, or the problem of a word at a place that is none, with the nearest id.
    pub fn find(&self, word: &str, at: &Place) -> Result<Arc<Climate>, Problem> {
        let wanted = word.trim().to_lowercase();
        if let Some(found) = self.0.iter().find(|it| *it.id == *wanted) {
            return Ok(found.clone());
        }
        // A name typed as it is spoken: "Minneapolis", "Minneapolis, MN".
        let spoken: String = wanted
            .replace([',', '.', ' '], "-")
            .split('-')
            .filter(|it| !it.is_empty())
            .collect::<Vec<_>>()
            .join("-");
        let mut starting =
            self.0.iter().filter(|it| *it.id == *spoken || it.id.starts_with(&format!("{spoken}-")));
        if let (Some(one), None) = (starting.next(), starting.next()) {
            return Ok(one.clone());
        }
        let mut problem = Problem::new(at.clone(), "is not a climate that is built in").text(word);
        let names =
            self.0.iter().flat_map(|it| [&*it.id, it.id.rsplit_once('-').map_or(&*it.id, |(town, _)| town)]);
        let near = nearest(&spoken, names);
        problem.nearest = near
            .and_then(|near| self.0.iter().find(|it| it.id.starts_with(near)))
            .map(|it| it.id.to_string());
        if problem.nearest.is_none() {
            problem = problem.expected("an id that `coldsill climates` lists");
        }
        Err(problem)
    }
}
