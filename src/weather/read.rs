//! Reads files of hours of weather in any form.

use super::error::WeatherError;
use super::hourly::{Form, Hourly};
use super::warning::Warning;
use super::{epw, table, tmy3};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Limit, text};
use flate2::read::MultiGzDecoder;
use std::borrow::Cow;
use std::io::Read;

/// Header lines of any form; a file without the first of them is reported as such.
const HEADER_LINES: usize = 8;

impl Hourly {
    /// Reads a weather file of 35 fields under eight header lines (EPW), one of typical years under two (TMY3), or a table
    /// with a heading row, one column of times and one of outdoor temperatures. Each may be packed by gzip. Returns all errors
    /// at once.
    ///
    /// Times of a table are dates with a time of day (month first where written with slashes) or plain hours, on one clock.
    /// The unit of the temperatures is in the heading or in every cell. Rows with neither a time nor a temperature are
    /// skipped.
    pub fn read(file: &str, bytes: &[u8]) -> Result<Self, Diagnostics> {
        read_form(file, bytes)
    }
}

fn read_form(file: &str, bytes: &[u8]) -> Result<Hourly, Diagnostics> {
    let bytes = unpack(file, bytes)?;
    let start = bytes.trim_ascii_start();
    if start.starts_with(b"<") {
        return Err(WeatherError::WebPage.at(Location::whole(file)).into());
    }
    if start.starts_with(b"PK\x03\x04") {
        return Err(WeatherError::Zipped.at(Location::whole(file)).into());
    }
    let form = form_of(&bytes);
    let text::Decoded { text, note, .. } = text::decode_any(file, &bytes)?;
    let mut hourly = match form {
        Form::Epw => epw::read(file, &text),
        Form::Tmy3 => tmy3::read(file, &text),
        Form::Table => table::read(file, &text),
    }?;
    hourly.warnings.extend(note.map(Warning::Encoding));
    Ok(hourly)
}

/// The form of an unpacked file.
fn form_of(bytes: &[u8]) -> Form {
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let lines = || bytes.split(|byte| *byte == b'\n').take(HEADER_LINES);
    if lines().any(epw::is_header) {
        Form::Epw
    } else if lines().any(tmy3::is_header) {
        Form::Tmy3
    } else {
        Form::Table
    }
}

/// The bytes of a file, unpacked if it is packed by gzip. The unpacked bytes have the limit of any file.
fn unpack<'b>(file: &str, bytes: &'b [u8]) -> Result<Cow<'b, [u8]>, Diagnostic> {
    if !bytes.starts_with(b"\x1F\x8B") {
        return Ok(bytes.into());
    }
    let most = Limit::FileBytes.most();
    let mut out = Vec::new();
    let read = MultiGzDecoder::new(bytes).take(most as u64 + 1).read_to_end(&mut out);
    if read.is_err() {
        return Err(WeatherError::DamagedGzip.at(Location::whole(file)));
    }
    if out.len() > most {
        let error = Limit::FileBytes.exceeded(Location::whole(file));
        return Err(Diagnostic { message: format!("{} once unpacked", error.message), ..error });
    }
    Ok(out.into())
}
