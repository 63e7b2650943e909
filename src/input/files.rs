//! How the library is handed files: through a trait, so that only the program itself opens any.

use std::cell::RefCell;
use std::collections::BTreeMap;

use super::limits::Limit;
use crate::diag::{self, Diagnostic, Location};

/// Hands over the bytes of a file by its path.
pub trait Files {
    /// All bytes of a file. A file that is missing, unreadable or over [`super::Limit::FileBytes`] is a problem;
    /// an implementation on disk looks at the size before it reads.
    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic>;

    /// The paths of the YAML files in a folder, in order; `None` where the path is no folder, as nowhere that has none.
    /// A folder that cannot be looked into or that holds over [`super::Limit::FolderFiles`] is a problem.
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

/// Hands over another's files and keeps those short enough to be YAML, so that a problem can repeat its line without
/// the file being read twice: a pipe gives its text only once.
pub struct Remembered<'f> {
    files: &'f dyn Files,
    kept: RefCell<BTreeMap<String, Vec<u8>>>,
}

impl<'f> Remembered<'f> {
    /// The files of another.
    pub fn new(files: &'f dyn Files) -> Self {
        Self { files, kept: RefCell::default() }
    }

    /// Gives every problem that stands on a line of one of the files that line.
    pub fn quote(&self, problems: &mut [Diagnostic]) {
        for (path, bytes) in self.kept.borrow().iter() {
            // Of a binary file no line can be shown.
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
