//! The command `read`.

use crate::disk::Disk;
use crate::options::{Read, ReadFormat};
use crate::output;
use coldsill::diag::Diagnostics;
use coldsill::facts::{self, Sources};
use coldsill::{report, review, shipped};

/// Writes how a schedule was read. Returns whether anything is doubtful or unread.
pub fn run(options: &Read, disk: &Disk) -> Result<bool, Diagnostics> {
    let world = facts::open_to_read(&Sources {
        files: disk,
        source: &options.source,
        sheet: options.sheet.as_deref(),
        climate: None,
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &shipped::rules(),
        presets: Default::default(),
        climates: shipped::climates()?,
    })?;
    let understood = review::understood(&world);
    let system = options.units.into();
    output::write_with(options.output.as_deref(), disk, |out| match options.format {
        ReadFormat::Text => out.write_all(report::read(&understood, system).as_bytes()),
        ReadFormat::Json => report::read_json(&understood, system, out),
        ReadFormat::Csv => report::read_csv(&understood, system, out),
    })?;
    Ok(understood.is_doubtful())
}
