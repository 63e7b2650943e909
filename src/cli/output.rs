//! Printing, and writing files whole or not at all.

use coldsill::diag::{Place, Problem};
use std::fs;
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Writes to a file, or to the screen. A reader that stops listening is not a fault.
pub fn write(path: Option<&str>, text: &str) -> Result<(), Problem> {
    match path {
        None => match std::io::stdout().lock().write_all(text.as_bytes()) {
            Err(error) if error.kind() != ErrorKind::BrokenPipe => {
                Err(Problem::new(Place::whole("standard output"), format!("cannot be written: {error}")))
            }
            _ => Ok(()),
        },
        Some(path) => replace(path, text)
            .map_err(|error| Problem::new(Place::whole(path), format!("cannot be written: {error}"))),
    }
}

/// Writes beside the file and puts it in place, so that a failure leaves nothing half-written.
fn replace(path: &str, text: &str) -> std::io::Result<()> {
    let target = Path::new(path);
    if target.is_dir() {
        return Err(std::io::Error::other("it is a folder"));
    }
    let mut beside = target.as_os_str().to_owned();
    beside.push(".part");
    let done = fs::write(&beside, text).and_then(|()| fs::rename(&beside, target));
    if done.is_err() {
        // What could not be put in place is not left behind.
        let _ = fs::remove_file(&beside);
    }
    done
}

/// One located problem a line, on standard error.
pub fn problems(problems: &[Problem]) {
    let lines: String = problems.iter().map(|problem| format!("{problem}\n")).collect();
    // Nobody is left to tell where standard error is closed.
    let _ = std::io::stderr().lock().write_all(lines.as_bytes());
}
