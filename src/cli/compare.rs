//! `coldsill compare`: what differs between two reviews, or two standards, and which inputs differ.

use crate::disk::Disk;
use crate::output;
use clap::Args;
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::input::Files as _;
use coldsill::{report, review, standard};

/// Two documents of one kind.
#[derive(Debug, Args)]
pub struct Compare {
    /// The older review or standard, as JSON (`--format json`)
    #[arg(value_name = "OLD")]
    pub old: String,
    /// The newer one
    #[arg(value_name = "NEW")]
    pub new: String,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
}

/// Writes the page. Returns whether anything differs.
pub fn run(options: &Compare, disk: &Disk) -> Result<bool, Diagnostics> {
    let Compare { old, new, output: path } = options;
    let names = [old.as_str(), new.as_str()];
    if let Some(path) = path {
        output::check_name(path, &[])?;
    }
    let [before, after] = [disk.read(old)?, disk.read(new)?];
    let (text, differs) = match [&before, &after].map(|bytes| standard::is_standard(bytes)) {
        [true, true] => {
            let before = standard::read_previous_standard(old, &before)?;
            let found = standard::compare_standards(&before, &standard::read_previous_standard(new, &after)?);
            (report::compared_standards(names, &found), !found.is_empty())
        }
        [false, false] => {
            let before = review::read_previous(old, &before)?;
            let found = review::compare(&before, &review::read_previous(new, &after)?);
            (report::compared(names, &found), !found.is_empty())
        }
        _ => {
            let problem =
                Diagnostic::new(Location::whole(new), "is not of the same kind as the older document");
            return Err(problem.expected("two reviews, or two standards").into());
        }
    };
    output::write(path.as_deref(), &text, disk)?;
    Ok(differs)
}
