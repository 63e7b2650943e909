//! How the library is handed files: through a trait, so that only the program itself opens any.

use std::collections::BTreeMap;

use crate::diag::{Place, Problem};

/// Hands over the bytes of a file by its path.
pub trait Files {
    /// All bytes of a file. A file that is missing, unreadable or over [`super::Limit::FileBytes`] is a problem;
    /// an implementation on disk looks at the size before it reads.
    fn read(&self, path: &str) -> Result<Vec<u8>, Problem>;
}

/// Files held in memory: data built into the program, and tests.
#[derive(Clone, Debug, Default)]
pub struct Memory(BTreeMap<String, Vec<u8>>);

impl Memory {
    /// No files yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a file, in place of any of the same path.
    #[must_use]
    pub fn with(mut self, path: &str, bytes: impl Into<Vec<u8>>) -> Self {
        self.0.insert(path.to_owned(), bytes.into());
        self
    }

    /// The paths of the files, in order.
    pub fn paths(&self) -> impl Iterator<Item = &str> {
        self.0.keys().map(String::as_str)
    }
}

impl Files for Memory {
    fn read(&self, path: &str) -> Result<Vec<u8>, Problem> {
        self.0.get(path).cloned().ok_or_else(|| {
            Problem::new(Place::whole(path), "there is no such file").nearest(path, self.paths())
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_held_in_memory_is_read_and_a_missing_one_names_the_nearest() {
        let files = Memory::new().with("walls.yaml", "walls: []").with("job.yaml", "");
        assert_eq!(files.read("walls.yaml").unwrap(), b"walls: []");
        assert_eq!(
            files.read("wall.yaml").unwrap_err().to_string(),
            "wall.yaml: there is no such file; did you mean \"walls.yaml\"?"
        );
    }
}
