//! The command line.

use crate::formats::{Format, ReviewFormat, SchemaOf, SpellFormat};
use clap::{Args, Parser, Subcommand, ValueEnum};
use coldsill::facts::State;
use coldsill::units::System;

/// Checks outdoor faucets on a plan (hose bibbs, sillcocks, hydrants) against a climate. Screening only: the locally adopted code and the
/// authority having jurisdiction govern.
#[derive(Debug, Parser)]
#[command(
    version,
    max_term_width = 80,
    after_help = "Exit status: 0 nothing to revise or clarify; 1 something to revise or clarify; 2 error.\n\
                  Errors and this help are colored on a terminal only; NO_COLOR and CLICOLOR_FORCE are respected."
)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Show no progress line; errors and warnings are still printed
    #[arg(long, short, global = true)]
    pub quiet: bool,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Review a schedule or a job: the comment sheet
    Review {
        /// What to review.
        #[command(flatten)]
        source: Source,
        /// Format of the review [default: by the name of --output, otherwise text]
        #[arg(long, value_enum)]
        format: Option<ReviewFormat>,
        /// Print every comment with its reason, its sources and its range; JSON always has them
        #[arg(long)]
        detail: bool,
        /// Write to a file instead of the screen
        #[arg(long, value_name = "FILE")]
        output: Option<String>,
        /// Compare with the review before, as JSON: what is new, settled and standing; numbers and responses are kept
        #[arg(long, value_name = "FILE")]
        previous: Option<String>,
        /// Write the questions as a sheet to fill in (.csv or .xlsx)
        #[arg(long, value_name = "FILE")]
        questions: Option<String>,
    },
    /// Find the minimum seat depth for a wall, barrel, supply and climate, and what each length does
    Depth(Box<crate::depth::Depth>),
    /// Set a regional standard: the length to order at each place for each wall, supply and barrel
    #[command(after_help = "Exit status: 0 every place has a product; 1 some have none; 2 error.")]
    Standard(Box<crate::regional::Standard>),
    /// Compare two reviews, or two standards, written as JSON: what differs, and why
    #[command(after_help = "Exit status: 0 nothing differs; 1 something differs; 2 error.")]
    Compare(crate::compare::Compare),
    /// List what to order: faucets after remedies, other work, and what cannot be ordered yet
    #[command(
        after_help = "Exit status: 0 every row can be ordered; 1 some rows cannot be ordered yet; 2 error."
    )]
    Orders {
        /// What to order for.
        #[command(flatten)]
        source: Source,
        /// Write to a file instead of the screen: .txt, .csv or .xlsx
        #[arg(long, value_name = "FILE")]
        output: Option<String>,
    },
    /// Show one faucet's calculation, every number with its source
    Sheet {
        /// What to review.
        #[command(flatten)]
        source: Source,
        /// The faucet's mark, such as HB-1
        #[arg(long)]
        mark: String,
        /// Write to a file instead of the screen
        #[arg(long, value_name = "FILE")]
        output: Option<String>,
    },
    /// Show how a schedule or a job is read, cell by cell, before any review
    #[command(
        after_help = "Exit status: 0 everything was understood; 1 something is doubtful or was not read; 2 error."
    )]
    Read(Read),
    /// Compute a cold spell: which faucets ice blocks, in what order, after how long
    #[command(
        after_help = "Exit status: 0 ice blocks no faucet; 1 ice blocks or may block a faucet, or one cannot be \
                      computed; 2 error."
    )]
    ColdSpell(Box<ColdSpell>),
    /// List the climates, show one, find those near a place, or make one from hourly weather
    Climates(Box<Climates>),
    /// List the walls, or draw one to scale
    Walls(Walls),
    /// List the built-in materials, with their sources
    Materials,
    /// List the metals: anodic index, sea water, treated wood
    Metals,
    /// List the backflow devices by standard, with their properties
    Devices,
    /// List the facts a schedule can state and rules can use, or describe one
    Facts {
        /// A fact's name, a part of it, or a heading such as "seat depth" [default: a short list of all]
        #[arg(value_name = "FACT")]
        name: Option<String>,
        /// Format of the list
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// List the rules in force, or run their cases
    Rules {
        /// What to do with them.
        #[command(subcommand)]
        action: Option<RulesAction>,
        /// Show one rule, by its number such as Freezing 1 or its id
        #[arg(value_name = "RULE")]
        which: Vec<String>,
        /// Amend the base rules with a file; repeatable
        #[arg(long, value_name = "FILE", global = true)]
        rules: Vec<String>,
        /// A preset: examiner or builder
        #[arg(long, value_name = "NAME", global = true)]
        preset: Option<String>,
        /// The adopted code, such as "UPC 2021"
        #[arg(long, value_name = "CODE", global = true)]
        code: Option<String>,
    },
    /// Print a JSON Schema
    Schema {
        /// The format to describe
        #[arg(value_enum)]
        of: SchemaOf,
    },
    /// Print a completion script for a shell, or the manual page
    Generate {
        /// What to print
        #[arg(value_enum)]
        what: Generated,
    },
}

/// What is generated from the options.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Generated {
    /// Completions for bash
    Bash,
    /// Completions for elvish
    Elvish,
    /// Completions for fish
    Fish,
    /// Completions for PowerShell
    Powershell,
    /// Completions for zsh
    Zsh,
    /// The manual page, in roff
    Man,
}

/// What to do with the rules.
#[derive(Debug, Subcommand)]
pub enum RulesAction {
    /// Run the cases that rules carry
    Try {
        /// Rule files after the base rules: amendments, or your own sets
        files: Vec<String>,
    },
}

/// A schedule or a job, and what goes with it.
#[derive(Debug, Args)]
pub struct Source {
    /// A schedule (.csv, .xlsx, .ods, .yaml) or a job (.yaml)
    #[arg(value_name = "SCHEDULE|JOB")]
    pub source: String,
    /// The sheet of the workbook
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Place: a town such as "St. Cloud, MN", a ZIP or postal code, "44.9, -93.2", or an id from `coldsill climates`
    #[arg(long, value_name = "PLACE")]
    pub climate: Option<String>,
    /// Your own climates: a file (.yaml) or a folder of such files; repeatable
    #[arg(long, value_name = "FOLDER|FILE")]
    pub climates: Vec<String>,
    /// Design low: "50-year low", "99.6 %", "99 %", "coldest recorded", "authority" or a temperature
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub design_low: Option<String>,
    /// Answers: a filled-in sheet of questions (.csv or .xlsx); repeatable, a later one wins
    #[arg(long, value_name = "FILE")]
    pub answers: Vec<String>,
    /// The rules in force.
    #[command(flatten)]
    pub in_force: InForce,
    /// Units of the report
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// What is in force beside a job.
#[derive(Debug, Args)]
pub struct InForce {
    /// Amend the rules with a file; repeatable
    #[arg(long, value_name = "FILE")]
    pub rules: Vec<String>,
    /// What can require a revision: examiner or builder [default: the job's preset and `revise_on`]
    #[arg(long, value_name = "NAME")]
    pub preset: Option<String>,
    /// The adopted code, such as "UPC 2021" [default: the job's]
    #[arg(long, value_name = "CODE")]
    pub code: Option<String>,
}

/// Outlets in a cold spell.
#[derive(Debug, Args)]
pub struct ColdSpell {
    /// What to follow.
    #[command(flatten)]
    pub source: Source,
    /// Page of one faucet, by its mark such as HB-1 [default: the faucets at risk, in order]
    #[arg(long)]
    pub mark: Option<String>,
    /// Cold spell in place of the job's, such as "12 °F for 60 h" or "20 °F for 12 h, 5 °F for 1 day"
    #[arg(long, value_name = "SPELL", allow_hyphen_values = true)]
    pub outdoors: Option<String>,
    /// Outdoor temperature before the spell, such as "45 °F" [default: mean of the coldest month, or the file's first]
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub before: Option<String>,
    /// Cold spell from a file of times and outdoor temperatures (.csv) or hourly weather (.epw, TMY3), gzipped or not
    #[arg(long, value_name = "FILE")]
    pub series: Option<String>,
    /// Use the coldest N days of the file
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub days: Option<String>,
    /// State of the faucets during the spell
    #[arg(long, value_enum, default_value_t = Standing::AsItStands)]
    pub state: Standing,
    /// Power outage, such as "12 h": when the cold has arrived, or from the start of your own spell
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub heat_out: Option<String>,
    /// Print only the crew list: who goes where by when
    #[arg(long)]
    pub crew: bool,
    /// Print the crew list in 40 columns, for a phone
    #[arg(long)]
    pub narrow: bool,
    /// Format of the report [default: by the name of --output, otherwise text]
    #[arg(long, value_enum)]
    pub format: Option<SpellFormat>,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
}

/// A schedule or a job to be read.
#[derive(Debug, Args)]
pub struct Read {
    /// A schedule (.csv, .xlsx, .ods, .yaml) or a job (.yaml); no climate is needed
    #[arg(value_name = "SCHEDULE|JOB")]
    pub source: String,
    /// The sheet of the workbook
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Format of the output
    #[arg(long, value_enum, default_value_t = ReadFormat::Text)]
    pub format: ReadFormat,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
    /// Units of the output
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// Form of what was read.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum ReadFormat {
    /// A page to read
    Text,
    /// All data, for other programs
    Json,
    /// A line for every cell
    Csv,
}

/// Walls, or one of them.
#[derive(Debug, Args)]
pub struct Walls {
    /// Draw this wall, by its key or another of its names
    pub wall: Option<String>,
    /// List the walls whose names or usual space contain these words
    #[arg(long, value_name = "WORDS", conflicts_with = "wall")]
    pub find: Option<String>,
    /// Include the walls that a job describes
    #[arg(long, value_name = "JOB")]
    pub job: Option<String>,
    /// Show temperatures through the layers at this climate's design low
    #[arg(long, value_name = "PLACE")]
    pub climate: Option<String>,
    /// Your own climates: a file (.yaml) or a folder of such files; repeatable
    #[arg(long, value_name = "FOLDER|FILE", requires = "climate")]
    pub climates: Vec<String>,
    /// Units of the output
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// The climates there are, one of them, or those near a place.
#[derive(Debug, Args)]
pub struct Climates {
    /// Show one place, by its id, its name such as "St. Paul, MN", or its station number
    #[arg(value_name = "PLACE", allow_negative_numbers = true)]
    pub place: Vec<String>,
    /// List the places whose id, name or station name contains these words
    #[arg(long, value_name = "WORDS")]
    pub find: Option<String>,
    /// List the places of a state or province, such as MN or Minnesota
    #[arg(long, value_name = "STATE")]
    pub state: Option<String>,
    /// List the places of a climate zone of the energy code, such as 6A, or 6 for 6A and 6B
    #[arg(long, value_name = "ZONE")]
    pub zone: Option<String>,
    /// List the five places nearest to a latitude and longitude, such as "44.9, -93.2" or "44.9N 93.2W"
    #[arg(long, value_name = "LAT,LON", allow_hyphen_values = true)]
    pub near: Option<String>,
    /// Elevation of the place of --near, such as "1,200 ft", to compare with the others
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    pub elevation: Option<String>,
    /// Your own climates: a file (.yaml) or a folder of such files; repeatable
    #[arg(long, value_name = "FOLDER|FILE")]
    pub climates: Vec<String>,
    /// Format of the page
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
    /// Units [default: °F and feet in lists, both systems for one place]
    #[arg(long, value_enum)]
    pub units: Option<Units>,
    /// Draw a climate from hours of weather (.epw, TMY3 .csv, or a .csv of times and temperatures; or one packed,
    /// .gz): exit
    /// status 1 where something is told or left out
    #[arg(long, value_name = "FILE", conflicts_with_all = ["place", "find", "state", "zone", "near", "elevation", 
        "climates", "format", "units"])]
    pub from_hourly: Option<String>,
    /// Name of the new climate, such as "Northway, AK" [default: the station's]
    #[arg(long, value_name = "NAME", requires = "from_hourly")]
    pub name: Option<String>,
}

/// How outlets stand in a spell.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Standing {
    /// As scheduled
    AsItStands,
    /// With a hose left on, so the barrel stays full
    HoseOn,
    /// Without its cover
    Uncovered,
}

impl From<Standing> for State {
    fn from(it: Standing) -> Self {
        match it {
            Standing::AsItStands => Self::AsItStands,
            Standing::HoseOn => Self::HoseOn,
            Standing::Uncovered => Self::Uncovered,
        }
    }
}

/// Units of a report.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Units {
    /// Inches, °F
    Us,
    /// Millimeters, °C
    Si,
}

impl From<Units> for System {
    fn from(it: Units) -> Self {
        match it {
            Units::Us => Self::Us,
            Units::Si => Self::Si,
        }
    }
}
