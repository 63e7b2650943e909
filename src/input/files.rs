//! Access to files through a trait, so that only the program itself opens any.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::limits::Limit;
use crate::diag::{self, Diagnostic, Location};

/// Reads files by their path.
pub trait Files {
    /// All bytes of a file. A missing or unreadable file, or one over [`super::Limit::FileBytes`], is an error; an
    /// implementation on disk checks the size before it reads.
    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic>;

    /// The paths of the YAML files in a folder, in order; `None` if the path is not a folder. An unreadable folder, or
    /// one with more than [`super::Limit::FolderFiles`], is an error.
    fn folder(&self, _path: &str) -> Result<Option<Vec<String>>, Diagnostic> {
        Ok(None)
    }
}

/// Files held in memory: data built into the program, and tests.
#[derive(Clone, Debug, Default)]
pub struct Memory(BTreeMap<String, Vec<u8>>);

impl Memory {
    /// No files yet.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a file; replaces one with the same path.
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
    fn folder(&self, path: &str) -> Result<Option<Vec<String>>, Diagnostic> {
        let head = format!("{}/", path.trim_end_matches('/'));
        let inside: Vec<String> =
            self.paths().filter(|it| it.starts_with(&head)).map(str::to_owned).collect();
        Ok((!inside.is_empty()).then_some(inside))
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic> {
        self.0.get(path).cloned().ok_or_else(|| {
            Diagnostic::new(Location::whole(path), "there is no such file").nearest(path, self.paths())
        })
    }
}

/// Reads files through another reader and keeps those short enough to be YAML, so that a diagnostic can quote its line
/// without reading the file again: a pipe can be read only once.
pub struct Remembered<'f> {
    files: &'f dyn Files,
    kept: RefCell<BTreeMap<String, Vec<u8>>>,
}

impl<'f> Remembered<'f> {
    /// Keeps the files read through another reader.
    pub fn new(files: &'f dyn Files) -> Self {
        Self { files, kept: RefCell::default() }
    }

    /// Adds the source line to every diagnostic on a line of one of the files.
    pub fn quote(&self, problems: &mut [Diagnostic]) {
        for (path, bytes) in self.kept.borrow().iter() {
            // A binary file has no lines to show.
            if !bytes.contains(&0) {
                diag::quote(problems, path, &String::from_utf8_lossy(bytes));
            }
        }
    }
}

impl Files for Remembered<'_> {
    fn folder(&self, path: &str) -> Result<Option<Vec<String>>, Diagnostic> {
        self.files.folder(path)
    }

    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic> {
        let bytes = self.files.read(path)?;
        if bytes.len() <= Limit::YamlBytes.most() {
            self.kept.borrow_mut().insert(path.to_owned(), bytes.clone());
        }
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn errors_of_text_files_get_their_lines_and_of_binary_ones_none() {
        let files = Memory::new().with("a.yaml", "a: 1\nb: 2\n").with("b.yaml", b"a\0");
        let remembered = Remembered::new(&files);
        assert!(remembered.read("a.yaml").is_ok() && remembered.read("b.yaml").is_ok());
        let at = |file: &str, line| Diagnostic::new(Location::line(&file.into(), line, 1), "is wrong");
        let mut problems = [at("a.yaml", 2), at("b.yaml", 1), at("c.yaml", 1)];
        remembered.quote(&mut problems);
        assert_eq!(problems.map(|it| it.line), [Some("b: 2".into()), None, None]);
    }

    #[test]
    fn a_missing_file_in_memory_names_the_nearest() {
        let files = Memory::new().with("walls.yaml", "walls: []").with("job.yaml", "");
        assert_eq!(files.read("walls.yaml").unwrap(), b"walls: []");
        assert_eq!(
            files.read("wall.yaml").unwrap_err().to_string(),
            "wall.yaml: there is no such file; did you mean \"walls.yaml\"?"
        );
    }
}
