//! `coldsill standard`: which length to order at each place of a region, and an amendment that enforces it.

use crate::disk::Disk;
use crate::open::Asked;
use crate::options::{InForce, Units};
use crate::progress::Progress;
use crate::{climates, output};
use clap::{Args, ValueEnum};
use coldsill::diag::Diagnostics;
use coldsill::input::Files as _;
use coldsill::{report, standard};
use std::io::Write;

/// A region, and what is built there.
#[derive(Debug, Args)]
pub struct Standard {
    /// The file of the standard (.yaml): places, walls, supplies, barrels or products, design low, margin, date
    #[arg(value_name = "FILE")]
    pub file: String,
    /// Your own climates: a file (.yaml) or a folder of such files; repeatable
    #[arg(long, value_name = "FOLDER|FILE")]
    pub climates: Vec<String>,
    /// The rules in force.
    #[command(flatten)]
    pub in_force: InForce,
    /// Format [default: by the name of --output, otherwise text]
    #[arg(long, value_enum)]
    pub format: Option<StandardFormat>,
    /// Units of the page; an amendment is always in inches and °F
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
    /// Write to a file instead of the screen: .txt, .html, .csv, .xlsx, .json, or .yaml for an amendment
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
}

/// Form of a standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum StandardFormat {
    /// A page to read: a matrix for each supply and barrel
    Text,
    /// A web page for a vendor, in one file
    Html,
    /// A line for each place, wall, supply and barrel, for a spreadsheet
    Csv,
    /// The same as a workbook; needs --output
    Xlsx,
    /// All data, for other programs
    Json,
    /// A rule file that enforces it: `coldsill review --rules FILE`
    Amendment,
}

impl StandardFormat {
    /// The format that the name of a file says; text if none.
    fn of_name(path: Option<&str>) -> Self {
        let name = path.unwrap_or_default().to_lowercase();
        let named = [
            (Self::Html, ".html"),
            (Self::Html, ".htm"),
            (Self::Csv, ".csv"),
            (Self::Xlsx, ".xlsx"),
            (Self::Json, ".json"),
            (Self::Amendment, ".yaml"),
            (Self::Amendment, ".yml"),
        ];
        named.into_iter().find(|(_, end)| name.ends_with(end)).map_or(Self::Text, |(format, _)| format)
    }
}

/// Writes the standard. Returns whether some cell has no product.
pub fn run(options: &Standard, disk: &Disk, is_quiet: bool) -> Result<bool, Diagnostics> {
    let format = options.format.unwrap_or_else(|| StandardFormat::of_name(options.output.as_deref()));
    if let Some(path) = &options.output {
        let endings: &[&str] = match format {
            StandardFormat::Html => &[".html", ".htm"],
            StandardFormat::Csv => &[".csv"],
            StandardFormat::Xlsx => &[".xlsx"],
            StandardFormat::Text | StandardFormat::Json | StandardFormat::Amendment => &[],
        };
        output::check_name(path, endings)?;
    }
    let library = climates::library(&options.climates, disk)?;
    output::problems(&library.skipped().cloned().collect::<Vec<_>>());
    let bytes = disk.read(&options.file)?;
    let request = standard::read(&options.file, &bytes, &library)?;
    let files = standard::Files::of(&request, disk);
    let InForce { rules, preset, code } = &options.in_force;
    let rules = rules.iter().cloned().chain(files.rules().map(Into::into)).collect();
    let in_force = InForce { rules, preset: preset.clone(), code: code.clone() };
    let asked = Asked {
        source: files.job(),
        sheet: None,
        climate: None,
        design_low: None,
        answers: &[],
        in_force: &in_force,
    };
    let progress = Progress::of("Computing wall, supply and barrel", is_quiet);
    let found = asked.with_sources(&files, &library, |sources| {
        standard::standard(&request, sources, &|at, of| progress.tell(at, of))
    })?;
    drop(progress);
    let units = options.units.into();
    output::write_with(options.output.as_deref(), disk, |out: &mut dyn Write| match format {
        StandardFormat::Text => out.write_all(report::standard(&found, units).as_bytes()),
        StandardFormat::Html => out.write_all(report::standard_html(&found, units).as_bytes()),
        StandardFormat::Csv => out.write_all(report::standard_csv(&found, units).as_bytes()),
        StandardFormat::Xlsx => out.write_all(&report::standard_xlsx(&found, units)?),
        StandardFormat::Json => report::standard_json(&found, units, out),
        StandardFormat::Amendment => out.write_all(report::standard_amendment(&found).as_bytes()),
    })?;
    Ok(found.all().any(|(.., cell)| cell.needed.is_none()))
}
