//! What kind of file hours of weather come in, told by what it holds.

use super::{epw, tmy3};
use crate::diag::{Diagnostic, Location};

/// Kinds of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Form {
    /// Weather of 35 fields an hour under eight header lines, `LOCATION` first.
    Epw,
    /// A typical year under a line of the station and a line of column names.
    Tmy3,
    /// A table of times and outdoor temperatures.
    Table,
}

/// Header lines of either form; whoever cut some of them off is told so.
const LOOKED_AT: usize = 8;

impl Form {
    /// The form of an unpacked file.
    pub fn of(bytes: &[u8]) -> Self {
        let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
        let lines = || bytes.split(|it| *it == b'\n').take(LOOKED_AT);
        if lines().any(epw::is_header) {
            Self::Epw
        } else if lines().any(|line| line.starts_with(tmy3::MARK.as_bytes())) {
            Self::Tmy3
        } else {
            Self::Table
        }
    }

    /// What it is called.
    pub fn name(self) -> &'static str {
        match self {
            Self::Epw => "EPW",
            Self::Tmy3 => "TMY3",
            Self::Table => "table",
        }
    }
}

/// The problem of a file that is plainly something else: what a site sends in place of a file, or a workbook.
pub(super) fn other(file: &str, bytes: &[u8]) -> Option<Diagnostic> {
    let start = bytes.trim_ascii_start();
    let what = if start.starts_with(b"<") {
        "is a web page or another document, not hours of weather"
    } else if start.starts_with(b"PK\x03\x04") {
        "is a workbook or another zipped file, not hours of weather"
    } else {
        return None;
    };
    let expected = "the file itself, unzipped: .epw, a TMY3 .csv, or a table saved as \"CSV UTF-8\"";
    Some(Diagnostic::new(Location::whole(file), what).expected(expected))
}
