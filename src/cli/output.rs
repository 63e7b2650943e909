//! Printing, and writing files whole or not at all.

use crate::disk::Disk;
use coldsill::diag::{Diagnostic, Location};
use std::fs;
use std::io::{BufWriter, ErrorKind, Write};
use std::path::Path;

/// Writes to a file, or to the screen. A reader that stops listening is not a fault. A file that was read for the
/// review is not written over: that is a slip of the hand, and the schedule would be gone.
pub fn write(path: Option<&str>, text: &str, disk: &Disk) -> Result<(), Diagnostic> {
    write_with(path, disk, |out| out.write_all(text.as_bytes()))
}

/// The same of what is written bit by bit.
pub fn write_with(
    path: Option<&str>,
    disk: &Disk,
    put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>,
) -> Result<(), Diagnostic> {
    let Some(path) = path else { return print_with(put) };
    if disk.has_read(path) {
        return Err(Diagnostic::new(
            Location::whole(path),
            "is a file the review reads, and is not written over",
        )
        .expected("another file for the report"));
    }
    replace(path, put).map_err(|error| {
        let why = match error.kind() {
            ErrorKind::NotFound => "there is no such folder".to_owned(),
            ErrorKind::PermissionDenied => "it may not be written to".to_owned(),
            _ => error.to_string(),
        };
        Diagnostic::new(Location::whole(path), format!("cannot be written: {why}"))
    })
}

/// The problem of one file for both the questions and the report.
pub fn twice(path: &str) -> Diagnostic {
    Diagnostic::new(Location::whole(path), "is named for both the questions and the report")
        .expected("another file for the questions")
}

/// An error if a file's name says another format than what is written, one of `formats`.
pub fn check_name(path: &str, formats: &[&str]) -> Result<(), Diagnostic> {
    /// Formats that spreadsheets, word processors and browsers open by name.
    const OTHERS: [&str; 11] =
        [".xlsx", ".xls", ".xlsm", ".ods", ".pdf", ".docx", ".doc", ".odt", ".html", ".htm", ".csv"];
    let name = path.to_lowercase();
    let is_other = OTHERS.iter().find(|it| name.ends_with(**it) && !formats.contains(it));
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

/// Writes beside the file and puts it in place, so that a failure leaves nothing half-written.
fn replace(path: &str, put: impl FnOnce(&mut dyn Write) -> std::io::Result<()>) -> std::io::Result<()> {
    let target = Path::new(path);
    match fs::metadata(target) {
        Ok(known) if known.is_dir() => return Err(std::io::Error::other("it is a folder")),
        // A device or a pipe is written to, not replaced.
        Ok(known) if !known.is_file() => return buffered(fs::File::create(target)?, put),
        _ => {}
    }
    // A link stays a link to the file.
    let target = fs::canonicalize(target).unwrap_or_else(|_| target.to_owned());
    let mut beside = target.clone().into_os_string();
    beside.push(format!(".{}.part", std::process::id()));
    let file = fs::File::create_new(&beside)?;
    let done = buffered(file, put).and_then(|()| fs::rename(&beside, &target));
    if done.is_err() {
        // What could not be put in place is not left behind.
        let _ = fs::remove_file(&beside);
    }
    done
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
