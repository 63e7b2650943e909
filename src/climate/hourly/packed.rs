//! Files packed by gzip, as archives of weather keep them.

use crate::diag::{Diagnostic, Location};
use crate::input::Limit;
use flate2::read::MultiGzDecoder;
use std::borrow::Cow;
use std::io::Read;

/// The bytes of a file, unpacked where it is packed. What it unpacks to is held to the limit of any file, whatever size it
/// declares.
pub(in super::super) fn unpacked<'b>(file: &str, bytes: &'b [u8]) -> Result<Cow<'b, [u8]>, Diagnostic> {
    if !bytes.starts_with(b"\x1F\x8B") {
        return Ok(bytes.into());
    }
    let most = Limit::FileBytes.most();
    let mut out = Vec::new();
    let read = MultiGzDecoder::new(bytes).take(most as u64 + 1).read_to_end(&mut out);
    if read.is_err() {
        let what = "is packed by gzip, and damaged or cut short";
        return Err(
            Diagnostic::new(Location::whole(file), what).expected("the file fetched anew, or unpacked")
        );
    }
    if out.len() > most {
        let problem = Limit::FileBytes.exceeded(Location::whole(file));
        return Err(Diagnostic { message: format!("{} once unpacked", problem.message), ..problem });
    }
    Ok(out.into())
}
