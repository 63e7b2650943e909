//! The zipped package of a workbook: parts by name, unpacked as they are read and never beyond the limits, whatever
//! sizes the package declares.

use std::collections::BTreeMap;
use std::io::{self, BufReader, Cursor, Read};
use std::sync::Arc;

use zip::ZipArchive;
use zip::read::ZipFile;
use zip::result::ZipError;

use super::xml::Xml;
use crate::diag::{Diagnostic, Location};
use crate::input::Limit;
use crate::input::limits::ALWAYS_UNPACKED;

/// Every entry of a package's list starts with this.
const LISTED: &[u8] = b"PK\x01\x02";

/// A package, opened.
pub(super) struct Package<'b> {
    pub file: Arc<str>,
    zip: ZipArchive<Cursor<&'b [u8]>>,
    /// Parts by name, in lower case with forward slashes.
    parts: BTreeMap<String, usize>,
    /// Bytes that may still be unpacked.
    left: usize,
    /// The limit that ends them.
    limit: Limit,
}

/// A part as it is unpacked.
pub(super) type Unpacking<'p, 'b> = Bounded<'p, ZipFile<'p, Cursor<&'b [u8]>>>;
/// A part as it is read.
pub(super) type Part<'p, 'b> = Xml<BufReader<Unpacking<'p, 'b>>>;

impl<'b> Package<'b> {
    pub(super) fn open(file: &Arc<str>, bytes: &'b [u8]) -> Result<Self, Diagnostic> {
        let whole = || Location::whole(file);
        // The library keeps its list in memory, so the length is checked first.
        Limit::Parts.check(bytes.windows(LISTED.len()).filter(|it| *it == LISTED).count(), whole)?;
        let zip = ZipArchive::new(Cursor::new(bytes)).map_err(|error| broken(file, &error))?;
        let mut parts = BTreeMap::new();
        for index in 0..zip.len() {
            if let Some(Ok(name)) = zip.name_for_index(index) {
                parts.insert(name.replace('\\', "/").trim_start_matches('/').to_lowercase(), index);
            }
        }
        let expanded = bytes.len().saturating_mul(Limit::Expansion.most()).max(ALWAYS_UNPACKED);
        let (left, limit) = if expanded < Limit::Unpacked.most() {
            (expanded, Limit::Expansion)
        } else {
            (Limit::Unpacked.most(), Limit::Unpacked)
        };
        Ok(Self { file: file.clone(), zip, parts, left, limit })
    }

    pub(super) fn has(&self, name: &str) -> bool {
        self.parts.contains_key(&name.to_lowercase())
    }

    /// Whether any part lies in a folder.
    pub(super) fn has_folder(&self, folder: &str) -> bool {
        let folder = folder.to_lowercase();
        self.parts.range(folder.clone()..).next().is_some_and(|(name, _)| name.starts_with(&folder))
    }

    /// The unpacked bytes of a part, if there is one of the name.
    pub(super) fn raw(&mut self, name: &str) -> Result<Option<Unpacking<'_, 'b>>, Diagnostic> {
        let Some(index) = self.parts.get(&name.to_lowercase()) else { return Ok(None) };
        let inner = self.zip.by_index(*index).map_err(|error| broken(&self.file, &error))?;
        Ok(Some(Bounded { inner, left: &mut self.left, limit: self.limit, run: 0 }))
    }

    /// A part as XML, if there is one of the name.
    pub(super) fn part(&mut self, name: &str) -> Result<Option<Part<'_, 'b>>, Diagnostic> {
        let file = self.file.clone();
        Ok(self.raw(name)?.map(|bytes| Xml::new(&file, name, BufReader::new(bytes))))
    }

    /// A required part.
    pub(super) fn need(&mut self, name: &str) -> Result<Part<'_, 'b>, Diagnostic> {
        let missing = damaged(&self.file, &format!("its part {name} is missing"));
        self.part(name)?.ok_or(missing)
    }
}

/// The error for a damaged workbook.
pub(super) fn damaged(file: &str, why: &str) -> Diagnostic {
    let what = format!("is a workbook that is damaged or cut short: {why}");
    Diagnostic::new(Location::whole(file), what)
        .expected("the workbook opened and saved again in a spreadsheet")
}

fn broken(file: &str, error: &ZipError) -> Diagnostic {
    match error {
        ZipError::UnsupportedArchive(ZipError::PASSWORD_REQUIRED) | ZipError::InvalidPassword => locked(file),
        ZipError::CompressionMethodNotSupported(_) => {
            Diagnostic::new(Location::whole(file), "is compressed in a way that workbooks are not")
                .expected("the workbook opened and saved again in a spreadsheet")
        }
        _ => damaged(file, "its list of parts cannot be read"),
    }
}

/// The error for a workbook with a password.
pub(super) fn locked(file: &str) -> Diagnostic {
    Diagnostic::new(Location::whole(file), "is protected by a password and cannot be read")
        .expected("a copy saved without the password")
}

/// A limit passed while a part was unpacked.
#[derive(Debug, thiserror::Error)]
#[error("over a limit")]
pub(super) struct Over(pub Limit);

/// Unpacks within the limits on all bytes and on bytes without markup.
pub(super) struct Bounded<'p, R> {
    inner: R,
    left: &'p mut usize,
    limit: Limit,
    run: usize,
}

impl<R: Read> Read for Bounded<'_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let count = self.inner.read(buffer)?;
        *self.left = self.left.checked_sub(count).ok_or_else(|| io::Error::other(Over(self.limit)))?;
        self.run = match buffer[..count].iter().rposition(|byte| matches!(byte, b'<' | b'>')) {
            Some(at) => count - at,
            None => self.run + count,
        };
        if self.run > Limit::XmlRun.most() {
            return Err(io::Error::other(Over(Limit::XmlRun)));
        }
        Ok(count)
    }
}
