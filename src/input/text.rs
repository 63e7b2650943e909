//! Bytes to text: UTF-8, with or without a byte order mark, any line ends. Other kinds of files are errors that name
//! the kind. A table may also be in the other encodings that spreadsheets save.

use std::borrow::Cow;
use std::sync::Arc;

use super::limits::Limit;
use crate::diag::{Diagnostic, Location};

/// What to do about a file that is not UTF-8.
const SAVE_AS: &str = "UTF-8 text (in a spreadsheet, save it as \"CSV UTF-8\")";

/// The text of a file, without its byte order mark.
pub fn decode<'b>(file: &str, bytes: &'b [u8]) -> Result<&'b str, Diagnostic> {
    let whole = || Location::whole(file);
    Limit::FileBytes.check(bytes.len(), whole)?;
    if let Some(kind) = known_other(bytes) {
        return Err(Diagnostic::new(whole(), format!("is {kind}")).expected(SAVE_AS));
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    if bytes.is_empty() {
        return Err(Diagnostic::new(whole(), "the file is empty"));
    }
    if let Some(at) = bytes.iter().position(|&b| b == 0) {
        return Err(Diagnostic::new(
            at_byte(file, bytes, at),
            "there is a NUL byte here; the file is binary, not text",
        )
        .expected(SAVE_AS));
    }
    let text = std::str::from_utf8(bytes).map_err(|e| not_utf8(file, bytes, &e))?;
    check_lines(file, bytes)?;
    Ok(text)
}

/// The text of a table.
pub struct Decoded<'b> {
    /// The text, without its byte order mark.
    pub text: Cow<'b, str>,
    /// The encoding, if it is not UTF-8.
    pub encoding: Option<&'static str>,
    /// A note about that.
    pub note: Option<&'static str>,
}

/// The text of a table, in the encodings that spreadsheets save: UTF-8, UTF-16, or Windows-1252 if it is clearly not
/// UTF-8.
pub fn decode_any<'b>(file: &str, bytes: &'b [u8]) -> Result<Decoded<'b>, Diagnostic> {
    let whole = || Location::whole(file);
    Limit::FileBytes.check(bytes.len(), whole)?;
    let head = String::from_utf8_lossy(&bytes[..bytes.len().min(200)]).trim_start().to_lowercase();
    if ["<?xml", "<html", "<!doctype", "<table", "{\\rtf"].iter().any(|it| head.starts_with(it)) {
        let problem = Diagnostic::new(whole(), "is a web page or another document, not a table");
        return Err(problem.expected("the schedule saved as .xlsx, .ods or CSV"));
    }
    if let Some(encoding) = utf_16(bytes) {
        let (text, wrong) = encoding.decode_with_bom_removal(bytes);
        if wrong || text.contains('\0') {
            return Err(
                Diagnostic::new(whole(), "is UTF-16 text that is damaged or cut short").expected(SAVE_AS)
            );
        }
        check_lines(file, text.as_bytes())?;
        return Ok(Decoded { text, encoding: Some("UTF-16"), note: None });
    }
    match decode(file, bytes) {
        Ok(text) => Ok(Decoded { text: text.into(), encoding: None, note: None }),
        Err(_) if is_western(bytes) => {
            check_lines(file, bytes)?;
            let (text, _) = encoding_rs::WINDOWS_1252.decode_without_bom_handling(bytes);
            let note = "is not UTF-8 text; it was read as Windows-1252, which older spreadsheets save";
            Ok(Decoded { text, encoding: Some("Windows-1252"), note: Some(note) })
        }
        Err(problem) => Err(problem),
    }
}

/// UTF-16, by its mark or by the NUL bytes of plain English in it.
fn utf_16(bytes: &[u8]) -> Option<&'static encoding_rs::Encoding> {
    let starts = |magic: &[u8]| bytes.starts_with(magic);
    if starts(b"\xFF\xFE\0\0") {
        None
    } else if starts(b"\xFF\xFE") || has_nul_at(bytes, true) {
        Some(encoding_rs::UTF_16LE)
    } else if starts(b"\xFE\xFF") || has_nul_at(bytes, false) {
        Some(encoding_rs::UTF_16BE)
    } else {
        None
    }
}

/// Whether exactly every second byte at the start is NUL: UTF-16 of plain English.
fn has_nul_at(bytes: &[u8], odd: bool) -> bool {
    let head = &bytes[..bytes.len().min(64)];
    head.len() >= 4 && head.iter().enumerate().all(|(i, &b)| (b == 0) == ((i % 2 == 1) == odd))
}

/// Whether bytes that are not UTF-8 are clearly Windows-1252: no undefined byte, no control character, and no UTF-8
/// beyond ASCII.
fn is_western(bytes: &[u8]) -> bool {
    let is_text = |b: u8| {
        !matches!(b, 0x81 | 0x8D | 0x8F | 0x90 | 0x9D | 0x7F) && (b >= b' ' || b"\t\r\n".contains(&b))
    };
    let cut_short = std::str::from_utf8(bytes).is_err_and(|error| error.error_len().is_none());
    let is_ascii = bytes.utf8_chunks().all(|chunk| chunk.valid().is_ascii());
    !bytes.is_ascii() && !cut_short && is_ascii && bytes.iter().all(|b| is_text(*b))
}

fn check_lines(file: &str, bytes: &[u8]) -> Result<(), Diagnostic> {
    let mut start = 0;
    for line in bytes.split(|&b| b == b'\n' || b == b'\r') {
        Limit::LineBytes.check(line.len(), || at_byte(file, bytes, start))?;
        start += line.len() + 1;
    }
    Ok(())
}

/// The kind of a common file, by its first bytes.
fn known_other(bytes: &[u8]) -> Option<&'static str> {
    let starts = |magic: &[u8]| bytes.starts_with(magic);
    if starts(b"\xFF\xFE\0\0") || starts(b"\0\0\xFE\xFF") {
        Some("UTF-32 text")
    } else if starts(b"\xFF\xFE")
        || starts(b"\xFE\xFF")
        || has_nul_at(bytes, false)
        || has_nul_at(bytes, true)
    {
        Some("UTF-16 text")
    } else if starts(b"PK\x03\x04") {
        Some("a workbook or another zipped file, not text")
    } else if starts(b"\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1") {
        Some("a workbook or document in the older binary format, not text")
    } else if starts(b"%PDF-") {
        Some("a PDF, not text")
    } else {
        None
    }
}

fn not_utf8(file: &str, bytes: &[u8], error: &std::str::Utf8Error) -> Diagnostic {
    let at = error.valid_up_to();
    let location = at_byte(file, bytes, at);
    if error.error_len().is_none() {
        return Diagnostic::new(location, "the file ends in the middle of a character; it looks cut short");
    }
    // The five bytes Windows-1252 leaves undefined; a file with any of them is something else again.
    let western = !bytes.iter().any(|b| matches!(b, 0x81 | 0x8D | 0x8F | 0x90 | 0x9D));
    let guess = if western { "; the file looks like Windows-1252 text" } else { "" };
    Diagnostic::new(location, format!("byte {:02X} is not UTF-8{guess}", bytes[at])).expected(SAVE_AS)
}

/// The line and character of a byte.
fn at_byte(file: &str, bytes: &[u8], at: usize) -> Location {
    let (mut line, mut line_start) = (1, 0);
    for (i, b) in bytes[..at].iter().enumerate() {
        // A CR before an LF is one break with it, counted at the LF.
        if *b == b'\n' || (*b == b'\r' && bytes.get(i + 1) != Some(&b'\n')) {
            line += 1;
            line_start = i + 1;
        }
    }
    let before = String::from_utf8_lossy(&bytes[line_start..at]).chars().count();
    let column = u32::try_from(before).unwrap_or(u32::MAX).saturating_add(1);
    Location::line(&Arc::from(file), line, column)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn refusal(bytes: &[u8]) -> String {
        decode("a.csv", bytes).unwrap_err().to_string()
    }

    #[test]
    fn utf_8_is_read_with_or_without_a_mark_and_with_any_line_ends() {
        for text in ["Mark\nHB-1", "Mark\r\nHB-1\r\n", "Mark\rHB-1", "Tiefe °F é\n"] {
            assert_eq!(decode("a.csv", text.as_bytes()).unwrap(), text);
            assert_eq!(decode("a.csv", format!("\u{FEFF}{text}").as_bytes()).unwrap(), text);
        }
    }

    #[test]
    fn a_place_counts_characters_and_takes_cr_lf_as_one_break() {
        let message = refusal(b"Mark\r\nHB-1\rHB-2\n\xC2\xB0F \xB0F\n");
        assert!(message.starts_with("a.csv, line 4, column 4: byte B0 is not UTF-8"), "{message}");
    }

    #[test]
    fn undefined_bytes_are_not_called_windows_1252() {
        let message = refusal(b"a\x81b\n");
        assert!(message.starts_with("a.csv, line 1, column 2: byte 81 is not UTF-8; expected"), "{message}");
    }

    #[test]
    fn a_file_of_nothing_but_a_byte_order_mark_is_empty() {
        assert_eq!(refusal(b"\xEF\xBB\xBF"), "a.csv: the file is empty");
    }
}
