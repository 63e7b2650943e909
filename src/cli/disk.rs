//! Files on disk.

use coldsill::diag::{Place, Problem};
use coldsill::input::{Files, Limit};
use std::fs;

/// The file system.
pub struct Disk;

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
            return Err(Problem::new(at(), "is a folder").expected("a schedule (.csv) or a job (.yaml)"));
        }
        Limit::FileBytes.check(usize::try_from(known.len()).unwrap_or(usize::MAX), at)?;
        fs::read(path).map_err(refused)
    }
}
