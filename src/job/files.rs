//! Files that a job names: where they are, and what they hold.

use crate::diag::{Diagnostic, Location};
use crate::input::{Files, Node, text, yaml};
use crate::schedule;
use std::path::Path;

/// Whether a file is YAML, by its name.
pub(super) fn is_yaml(path: &str) -> bool {
    [".yaml", ".yml", ".json"].iter().any(|end| path.to_lowercase().ends_with(end))
}

pub(super) fn parse(files: &dyn Files, path: &str) -> Result<Node, Diagnostic> {
    let bytes = files.read(path)?;
    yaml::parse(path, text::decode(path, &bytes)?)
}

/// What a file holds, by its bytes; text in a file named as YAML is YAML.
pub(super) enum Brought {
    /// Values, of a job or of a listed schedule.
    Values(Node),
    /// A table or a workbook.
    Tables(Vec<u8>),
}

pub(super) fn bring(files: &dyn Files, path: &str) -> Result<Brought, Diagnostic> {
    const NO_TABLES: [&str; 6] = [".md", ".html", ".htm", ".pdf", ".doc", ".docx"];
    if NO_TABLES.iter().any(|end| path.to_lowercase().ends_with(end)) {
        let problem = Diagnostic::new(Location::whole(path), "is not a table");
        return Err(problem.expected("a schedule saved as CSV, or as a workbook (.xlsx or .ods)"));
    }
    let bytes = files.read(path)?;
    let head = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(&bytes).trim_ascii_start();
    let listed = format!("{}:", schedule::OUTLETS);
    let is_values = !bytes.starts_with(b"PK") && is_yaml(path)
        || head.starts_with(b"{")
        || head.starts_with(listed.as_bytes());
    if is_values {
        return yaml::parse(path, text::decode(path, &bytes)?).map(Brought::Values);
    }
    Ok(Brought::Tables(bytes))
}

/// A path named in a file, relative to that file's folder.
pub(super) fn beside(file: &str, path: &str) -> String {
    let folder = Path::new(file).parent().unwrap_or_else(|| Path::new(""));
    folder.join(path).to_string_lossy().into_owned()
}
