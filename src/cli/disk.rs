//! Files on disk.

use coldsill::diag::{Diagnostic, Location};
use coldsill::input::{Files, Limit};
use std::cell::RefCell;
use std::fs;
use std::path::{Path, PathBuf};

/// The file system, and what has been read from it.
#[derive(Default)]
pub struct Disk {
    read: RefCell<Vec<PathBuf>>,
}

impl Disk {
    /// Whether a path, by whatever name, is a file that was read.
    pub fn has_read(&self, path: &str) -> bool {
        fs::canonicalize(path).is_ok_and(|path| self.read.borrow().contains(&path))
    }
}

impl Files for Disk {
    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic> {
        let at = || Location::whole(path);
        let refused = |error| refused(path, &error);
        let known = fs::metadata(path).map_err(refused)?;
        if known.is_dir() {
            return Err(Diagnostic::new(at(), "is a folder").expected("a file"));
        }
        Limit::FileBytes.check(usize::try_from(known.len()).unwrap_or(usize::MAX), at)?;
        let bytes = fs::read(path).map_err(refused)?;
        self.read.borrow_mut().push(fs::canonicalize(path).unwrap_or_else(|_| Path::new(path).to_owned()));
        Ok(bytes)
    }

    fn folder(&self, path: &str) -> Result<Option<Vec<String>>, Diagnostic> {
        if !Path::new(path).is_dir() {
            return Ok(None);
        }
        let refused = |error| refused(path, &error);
        let mut names = Vec::new();
        for entry in fs::read_dir(path).map_err(refused)? {
            let inside = entry.map_err(refused)?.path();
            let is_yaml = inside.extension().is_some_and(|it| it == "yaml" || it == "yml");
            if is_yaml && inside.is_file() {
                names.push(inside.to_string_lossy().into_owned());
            }
        }
        Limit::FolderFiles.check(names.len(), || Location::whole(path))?;
        names.sort_unstable();
        Ok(Some(names))
    }
}

fn refused(path: &str, error: &std::io::Error) -> Diagnostic {
    let what = match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "may not be read".to_owned(),
        _ => format!("cannot be read: {error}"),
    };
    Diagnostic::new(Location::whole(path), what)
}
