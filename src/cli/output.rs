//! Printing, and writing files whole or not at all.

use crate::disk::Disk;
use coldsill::diag::{Diagnostic, Location};
use std::fs;
use std::hash::{BuildHasher, Hasher, RandomState};
use std::io::{BufWriter, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Writes to a file, or to the screen. A closed pipe is not an error. A file that was read for the review is not
/// overwritten: that is a slip, and the schedule would be lost.
pub fn write(path: Option<&str>, text: &str, disk: &Disk) -> Result<(), Diagnostic> {
    write_with(path, disk, |out| out.write_all(text.as_bytes()))
}

/// As [`write`], for output written in parts.
pub fn write_with(
    path: Option<&str>,
    disk: &Disk,
    put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>,
) -> Result<(), Diagnostic> {
    match path {
        None => print_with(put),
        Some(path) => stage(path, disk, put)?.put_in_place(),
    }
}

/// Writes a temporary file beside the path; [`Staged::put_in_place`] moves it there, otherwise it is removed.
pub fn stage(
    path: &str,
    disk: &Disk,
    put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>,
) -> Result<Staged, Diagnostic> {
    if path.is_empty() {
        let problem = Diagnostic::new(Location::whole("the file to write"), "has an empty name");
        return Err(problem.expected("a name such as review.txt"));
    }
    if disk.has_read(path) {
        return Err(Diagnostic::new(
            Location::whole(path),
            "is a file the review reads, and is not written over",
        )
        .expected("another file for the report"));
    }
    Staged::write(path, put).map_err(|error| cannot_write(path, &error))
}

fn cannot_write(path: &str, error: &std::io::Error) -> Diagnostic {
    let why = match error.kind() {
        ErrorKind::NotFound => "there is no such folder".to_owned(),
        ErrorKind::PermissionDenied => "it may not be written to".to_owned(),
        _ => error.to_string(),
    };
    Diagnostic::new(Location::whole(path), format!("cannot be written: {why}"))
}

/// Whether two paths name one file.
pub fn is_same_file(a: &str, b: &str) -> bool {
    let place = |path: &str| {
        let path = Path::new(path);
        fs::canonicalize(path).ok().or_else(|| {
            let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
            Some(fs::canonicalize(folder.unwrap_or(Path::new("."))).ok()?.join(path.file_name()?))
        })
    };
    a == b || place(a).is_some_and(|a| Some(a) == place(b))
}

/// The error of one file for both the questions and the report.
pub fn twice(path: &str) -> Diagnostic {
    Diagnostic::new(Location::whole(path), "is named for both the questions and the report")
        .expected("another file for the questions")
}

/// An error if the ending of a file's name is that of another format than the `formats` that can be written.
pub fn check_name(path: &str, formats: &[&str]) -> Result<(), Diagnostic> {
    /// Formats that spreadsheets, word processors and browsers open by name.
    const OTHERS: [&str; 11] =
        [".xlsx", ".xls", ".xlsm", ".ods", ".pdf", ".docx", ".doc", ".odt", ".html", ".htm", ".csv"];
    let name = path.to_lowercase();
    // Text without an ending of its own may be JSON.
    let json = Some(&".json").filter(|_| !formats.is_empty());
    let is_other = OTHERS.iter().chain(json).find(|it| name.ends_with(**it) && !formats.contains(it));
    is_other.map_or(Ok(()), |other| {
        let what = format!("cannot be written: {other} is not a format of this output");
        let expected = if formats.is_empty() {
            "a name such as review.txt or review.json".to_owned()
        } else {
            formats.join(" or ")
        };
        Err(Diagnostic::new(Location::whole(path), what).expected(expected))
    })
}

/// Writes to the screen.
pub fn print(text: &str) -> Result<(), Diagnostic> {
    print_with(|out| out.write_all(text.as_bytes()))
}

fn print_with(put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>) -> Result<(), Diagnostic> {
    match buffered(std::io::stdout().lock(), put) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Diagnostic::new(Location::whole("standard output"), format!("cannot be written: {error}")))
        }
        _ => Ok(()),
    }
}

/// A file that is written, but not yet in its place. A failure leaves nothing half-written, and a later one removes it.
pub struct Staged {
    path: String,
    target: PathBuf,
    /// Where it is until it is put in place; `None` for a device or a pipe, which is written to at once.
    beside: Option<PathBuf>,
}

impl Staged {
    fn write(path: &str, put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>) -> std::io::Result<Self> {
        let target = Path::new(path);
        let known = fs::metadata(target).ok();
        match &known {
            Some(known) if known.is_dir() => return Err(std::io::Error::other("it is a folder")),
            Some(known) if !known.is_file() => {
                buffered(fs::File::create(target)?, put)?;
                return Ok(Self { path: path.into(), target: target.into(), beside: None });
            }
            _ => {}
        }
        // A link stays a link to the file.
        let target = fs::canonicalize(target).unwrap_or_else(|_| target.to_owned());
        let mut beside = target.clone().into_os_string();
        // Random, so that what a killed run left behind is never in the way.
        beside.push(format!(".{:016x}.part", RandomState::new().build_hasher().finish()));
        let file = fs::File::create_new(&beside)?;
        let staged = Self { path: path.into(), target, beside: Some(beside.into()) };
        if let Some(known) = known {
            file.set_permissions(known.permissions())?;
        }
        buffered(file, put)?;
        Ok(staged)
    }

    /// Puts the file in its place, whole.
    pub fn put_in_place(mut self) -> Result<(), Diagnostic> {
        let Some(beside) = &self.beside else { return Ok(()) };
        fs::rename(beside, &self.target).map_err(|error| cannot_write(&self.path, &error))?;
        self.beside = None;
        Ok(())
    }
}

impl Drop for Staged {
    fn drop(&mut self) {
        // Nobody is left to tell if it cannot be removed.
        let _ = self.beside.as_ref().map(fs::remove_file);
    }
}

fn buffered(to: impl Write, put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>) -> std::io::Result<()> {
    let mut out = BufWriter::with_capacity(1 << 16, to);
    put(&mut out)?;
    out.flush()
}

/// Of one file no more problems are told at once: whoever has mended these sees the others.
const MOST_OF_A_FILE: usize = 25;

/// On standard error, file by file in the order of its lines: a located problem a line, and set in under it the line of
/// the file it stands on.
pub fn problems(problems: &[Diagnostic]) {
    // Nobody is left to tell where standard error is closed.
    let _ = std::io::stderr().lock().write_all(listed(problems).as_bytes());
}

fn listed(problems: &[Diagnostic]) -> String {
    let mut files: Vec<&str> = Vec::new();
    for problem in problems {
        if !files.contains(&&*problem.location.file) {
            files.push(&problem.location.file);
        }
    }
    let mut text = String::new();
    for file in files {
        let mut found: Vec<&Diagnostic> = problems.iter().filter(|it| &*it.location.file == file).collect();
        found.sort_by_key(|it| &it.location.position);
        for problem in found.iter().take(MOST_OF_A_FILE) {
            text.push_str(&format!("{problem}\n"));
            for line in problem.note() {
                text.push_str(&format!("    {line}\n"));
            }
        }
        if found.len() > MOST_OF_A_FILE {
            text.push_str(&format!("{file}: and {} more\n", found.len() - MOST_OF_A_FILE));
        }
    }
    text
}
