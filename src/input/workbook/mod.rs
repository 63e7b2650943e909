//! Workbooks to raw tables, one per sheet. The content of a file decides its format, not its name; an unsupported
//! format is an error that says what to do.

mod beside;
mod crossed;
mod drawing;
mod format;
mod grid;
mod margin;
mod ods;
mod ods_drawn;
mod ods_number;
mod ods_styles;
mod package;
mod styles;
mod white;
mod xlsx;
mod xml;

use std::io::Read;
use std::sync::Arc;

use package::Package;

use super::{Limit, Remark, Table};
use crate::diag::{Diagnostic, Location};

/// What to do about an unsupported format.
const SAVE_AS: &str = "the schedule saved as .xlsx, .ods or CSV";
const MACROS: &str = "has macros; they were not run";
const LINKS: &str =
    "has links to other files; they were not followed, and the values saved in the workbook are read";

/// Whether a file is a zipped package, or a container of the older format.
pub(super) fn is_workbook(bytes: &[u8]) -> bool {
    is_zipped(bytes) || is_older(bytes)
}

fn is_zipped(bytes: &[u8]) -> bool {
    bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"PK\x05\x06")
}

fn is_older(bytes: &[u8]) -> bool {
    bytes.starts_with(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")
}

/// The tables of all sheets with content, in the order of the workbook; at least one.
pub(super) fn read(file: &str, bytes: &[u8]) -> Result<Vec<Table>, Diagnostic> {
    Limit::FileBytes.check(bytes.len(), || Location::whole(file))?;
    if is_older(bytes) {
        return Err(older(file, bytes));
    }
    let file: Arc<str> = file.into();
    let refused = |what: &str| Diagnostic::new(Location::whole(&file), what).expected(SAVE_AS);
    let mut package = Package::open(&file, bytes)?;
    let is_open_document = package.has("content.xml");
    let mut tables = if package.has("xl/workbook.bin") {
        return Err(refused("is a binary workbook (.xlsb), which is not supported"));
    } else if package.has_folder("word/") || package.has_folder("ppt/") {
        return Err(refused("is a document, not a workbook"));
    } else if package.has_folder("index/") && !is_open_document && !package.has_folder("xl/") {
        return Err(refused("is a workbook in a format (.numbers) that is not supported"));
    } else if is_open_document {
        check_kind(&mut package)?;
        ods::read(&mut package)?
    } else if package.has_folder("xl/") || package.has("[content_types].xml") {
        xlsx::read(&mut package)?
    } else {
        return Err(refused("is a zip file, but not a workbook"));
    };
    let mut notes = Vec::new();
    if package.has("xl/vbaproject.bin") || package.has_folder("basic/") || package.has_folder("scripts/") {
        notes.push(MACROS);
    }
    if package.has_folder("xl/externallinks/") {
        notes.push(LINKS);
    }
    for table in &mut tables {
        table.about.notes.extend(notes.iter().map(|what| Remark::new(None, "the workbook", what)));
    }
    if tables.is_empty() {
        return Err(Diagnostic::new(Location::whole(&file), "the workbook has no sheet with anything in it"));
    }
    Ok(tables)
}

/// Checks the type in the first part of an open document.
fn check_kind(package: &mut Package<'_>) -> Result<(), Diagnostic> {
    let file = package.file.clone();
    if package.is_locked_by_manifest()? {
        return Err(package::locked(&file));
    }
    let kind = package.head("mimetype", 200)?;
    if kind.is_empty() || kind.starts_with("application/vnd.oasis.opendocument.spreadsheet") {
        return Ok(());
    }
    Err(Diagnostic::new(Location::whole(&file), "is a document, not a workbook").expected(SAVE_AS))
}

/// The error for a container of the older format: its directory names the content, in UTF-16.
fn older(file: &str, bytes: &[u8]) -> Diagnostic {
    let names = |name: &str| {
        let wanted: Vec<u8> = name.encode_utf16().flat_map(u16::to_le_bytes).collect();
        bytes.windows(wanted.len()).any(|it| it == wanted)
    };
    if names("EncryptedPackage") || names("EncryptionInfo") {
        return package::locked(file);
    }
    let what = if names("WordDocument") {
        "is a document, not a workbook"
    } else if names("Workbook") || names("Book") {
        "is a workbook in the older format (.xls), which is not supported"
    } else {
        "is a workbook or document in the older binary format, which is not supported"
    };
    Diagnostic::new(Location::whole(file), what).expected(SAVE_AS)
}

impl Package<'_> {
    /// The first bytes of a part as text; empty if there is no such part.
    fn head(&mut self, name: &str, most: u64) -> Result<String, Diagnostic> {
        let mut bytes = Vec::new();
        let broken = package::damaged(&self.file, &format!("its part {name} cannot be read"));
        if let Some(part) = self.raw(name)? {
            part.take(most).read_to_end(&mut bytes).map_err(|_| broken)?;
        }
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }

    fn is_locked_by_manifest(&mut self) -> Result<bool, Diagnostic> {
        Ok(self.head("META-INF/manifest.xml", 1_000_000)?.contains("encryption-data"))
    }
}
