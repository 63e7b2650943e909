//! The command `read`.

use crate::disk::Disk;
use crate::options::{Read, ReadFormat};
use crate::output;
use coldsill::diag::Problem;
use coldsill::facts::{self, Sources};
use coldsill::{report, review, shipped};

/// Reads, writes, and says whether anything is doubtful or unread.
pub fn run(options: &Read, disk: &Disk) -> Result<bool, Vec<Problem>> {
    let world = facts::open_to_read(&Sources {
        files: disk,
        source: &options.source,
        sheet: options.sheet.as_deref(),
        climate: None,
        design_low: None,
        answers: None,
        rules: &[],
        base_rules: &shipped::rules(),
        presets: Default::default(),
        climates: &shipped::climates()?,
    })?;
    let understood = review::understood(&world);
    let system = options.units.into();
    let text = match options.format {
        ReadFormat::Text => report::read(&understood, system),
        ReadFormat::Json => report::read_json(&understood, system),
        ReadFormat::Csv => report::read_csv(&understood, system),
    };
    output::write(options.output.as_deref(), &text, disk).map_err(|problem| vec![problem])?;
    Ok(understood.is_doubtful())
}
