//! `coldsill orders`.

use crate::disk::Disk;
use crate::output;
use coldsill::diag::Diagnostic;
use coldsill::report;
use coldsill::review::{self, Review};
use coldsill::units::System;

/// Writes the order list in the format that the file is named for. Returns whether some rows
/// cannot be ordered yet, or something could not be read.
pub fn run(review: &Review, path: Option<&str>, system: System, disk: &Disk) -> Result<bool, Diagnostic> {
    if let Some(path) = path {
        output::check_name(path, &[".csv", ".xlsx"])?;
    }
    let orders = review::orders(review);
    let name = path.unwrap_or_default().to_lowercase();
    output::write_with(path, disk, |out| match name.rsplit_once('.') {
        Some((_, "csv")) => out.write_all(report::orders_csv(review, &orders, system).as_bytes()),
        Some((_, "xlsx")) => out.write_all(&report::orders_xlsx(review, &orders, system)?),
        _ => out.write_all(report::orders(review, &orders, system).as_bytes()),
    })?;
    Ok(!orders.is_complete() || !review.problems.is_empty())
}
