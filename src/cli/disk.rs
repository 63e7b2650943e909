//! Files on disk.

use coldsill::diag::{Diagnostic, Location};
use coldsill::input::{Files, Limit};
use std::cell::RefCell;
use std::fs;
use std::io::Read;
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
        // The pipe of a command, such as /dev/fd/63, has no place in the file system.
        let place = fs::canonicalize(path);
        if let Some(what) = place.as_ref().ok().and_then(|place| not_a_document(place, &known)) {
            return Err(Diagnostic::new(at(), what).expected("a file"));
        }
        Limit::FileBytes.check(usize::try_from(known.len()).unwrap_or(usize::MAX), at)?;
        // What is read may be longer than what was announced.
        let most = u64::try_from(Limit::FileBytes.most()).unwrap_or(u64::MAX);
        let mut bytes = Vec::with_capacity(usize::try_from(known.len()).unwrap_or_default());
        fs::File::open(path)
            .and_then(|file| file.take(most.saturating_add(1)).read_to_end(&mut bytes))
            .map_err(refused)?;
        Limit::FileBytes.check(bytes.len(), at)?;
        self.read.borrow_mut().push(place.unwrap_or_else(|_| Path::new(path).to_owned()));
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

/// What a path is if it is no document: reading one of these may never end.
fn not_a_document(place: &Path, known: &fs::Metadata) -> Option<&'static str> {
    if ["/proc", "/sys"].iter().any(|system| place.starts_with(system)) {
        return Some("is a file of the operating system");
    }
    (!known.is_file()).then_some("is a device or a named pipe")
}

fn refused(path: &str, error: &std::io::Error) -> Diagnostic {
    let what = match error.kind() {
        std::io::ErrorKind::NotFound => "there is no such file".to_owned(),
        std::io::ErrorKind::PermissionDenied => "may not be read".to_owned(),
        _ => format!("cannot be read: {error}"),
    };
    Diagnostic::new(Location::whole(path), what)
}
