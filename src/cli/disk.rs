//! Files on disk.

use coldsill::diag::{Place, Problem};
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
    fn read(&self, path: &str) -> Result<Vec<u8>, Problem> {
        let at = || Place::whole(path);
        let refused = |error: std::io::Error| {
            let what = match error.kind() {
                std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
                std::io::ErrorKind::PermissionDenied => "may not be read".to_owned(),
                _ => format!("cannot be read: {error}"),
            };
            Problem::new(at(), what)
        };
        let known = fs::metadata(path).map_err(refused)?;
        if known.is_dir() {
            return Err(Problem::new(at(), "is a folder").expected("a file"));
        }
        Limit::FileBytes.check(usize::try_from(known.len()).unwrap_or(usize::MAX), at)?;
        let bytes = fs::read(path).map_err(refused)?;
        self.read.borrow_mut().push(fs::canonicalize(path).unwrap_or_else(|_| Path::new(path).to_owned()));
        Ok(bytes)
    }
}
