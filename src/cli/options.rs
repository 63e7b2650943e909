//! The command line.

use clap::{Args, Parser, Subcommand, ValueEnum};
use coldsill::facts::State;
use coldsill::units::System;

/// Checks outdoor water outlets on a plan against a climate. Screening only: the locally adopted code and the
/// authority having jurisdiction govern.
#[derive(Debug, Parser)]
#[command(
    version,
    about,
    max_term_width = 80,
    after_help = "Exit status: 0 nothing to revise or clarify; 1 something is; 2 the review could not be made."
)]
pub struct Cli {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Review a schedule or a job: the comment sheet
    Review {
        /// What to review.
        #[command(flatten)]
        source: Source,
        /// Form of the review
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
        /// Write to a file instead of the screen
        #[arg(long, value_name = "FILE")]
        output: Option<String>,
        /// Write what has to be asked as a sheet to fill in (.csv)
        #[arg(long, value_name = "FILE")]
        questions: Option<String>,
    },
    /// Show one outlet's calculation, every number with its source
    Sheet {
        /// What to review.
        #[command(flatten)]
        source: Source,
        /// The outlet's mark, such as HB-1
        #[arg(long)]
        mark: String,
        /// Write to a file instead of the screen
        #[arg(long, value_name = "FILE")]
        output: Option<String>,
    },
    /// Show what is understood of a schedule or a job, cell by cell, before any review
    #[command(
        after_help = "Exit status: 0 all is understood; 1 something is doubtful or was not read; 2 it could not be read."
    )]
    Read(Read),
    /// Follow outlets through a cold spell: which ice blocks, in what order, after how long
    #[command(
        after_help = "Exit status: 0 ice blocks no outlet; 1 it blocks one, or may, or one cannot be followed; 2 it could \
                      not be made."
    )]
    ColdSpell(Box<ColdSpell>),
    /// List the climates there are, show one whole, find those near a place, or draw one from hours of weather
    Climates(Box<Climates>),
    /// List the walls there are, or draw one to scale
    Walls(Walls),
    /// List the materials built in, with their sources
    Materials,
    /// List the metals: anodic index, sea water, treated wood
    Metals,
    /// List the backflow devices by standard, and what each does
    Devices,
    /// List the facts a schedule can state and rules can use, or tell all of one
    Facts {
        /// A fact's name, a part of it, or a heading such as "seat depth"; all in short without it
        #[arg(value_name = "FACT")]
        name: Option<String>,
        /// Form of the list
        #[arg(long, value_enum, default_value_t = Format::Text)]
        format: Format,
    },
    /// List the rules in force, or try their cases
    Rules {
        /// What to do with them.
        #[command(subcommand)]
        action: Option<RulesAction>,
        /// One rule whole, by its number such as Freezing 1 or its id
        #[arg(value_name = "RULE")]
        which: Vec<String>,
        /// Amend the base rules with a file; may be given more than once
        #[arg(long, value_name = "FILE", global = true)]
        rules: Vec<String>,
        /// A preset: examiner or builder
        #[arg(long, value_name = "NAME", global = true)]
        preset: Option<String>,
    },
    /// Print a JSON Schema
    Schema {
        /// Of what
        #[arg(value_enum)]
        of: SchemaOf,
    },
}

/// What to do with the rules.
#[derive(Debug, Subcommand)]
pub enum RulesAction {
    /// Run the cases that rules carry
    Try {
        /// Rule files after the base rules: amendments, or sets of your own
        files: Vec<String>,
    },
}

/// A schedule or a job, and what goes with it.
#[derive(Debug, Args)]
pub struct Source {
    /// A schedule (.csv, .xlsx, .ods, .yaml) or a job (.yaml)
    #[arg(value_name = "SCHEDULE|JOB")]
    pub source: String,
    /// The sheet of a workbook that is the schedule
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// The climate: an id that `coldsill climates` lists, a name such as "St. Paul, MN", or a station's number
    #[arg(long, value_name = "PLACE")]
    pub climate: Option<String>,
    /// Climates of your own: a file (.yaml) or a folder of such; may be given more than once
    #[arg(long, value_name = "FOLDER|FILE")]
    pub climates: Vec<String>,
    /// The design low: "50-year low", "99.6 %", "99 %", "coldest recorded", "authority" or a temperature
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub design_low: Option<String>,
    /// Answers: a sheet of questions that came back filled in (.csv)
    #[arg(long, value_name = "FILE")]
    pub answers: Option<String>,
    /// Amend the rules with a file; may be given more than once
    #[arg(long, value_name = "FILE")]
    pub rules: Vec<String>,
    /// What may ask for a revision: examiner or builder, in place of the job's preset and `revise_on`
    #[arg(long, value_name = "NAME")]
    pub preset: Option<String>,
    /// Units of the report
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// Outlets in a cold spell.
#[derive(Debug, Args)]
pub struct ColdSpell {
    /// What to follow.
    #[command(flatten)]
    pub source: Source,
    /// One outlet's page, by its mark such as HB-1; without it, which outlets are at risk and in what order
    #[arg(long)]
    pub mark: Option<String>,
    /// A spell of your own in place of the job's, such as "12 °F for 60 h" or "20 °F for 12 h, 5 °F for 1 day"
    #[arg(long, value_name = "SPELL", allow_hyphen_values = true)]
    pub outdoors: Option<String>,
    /// How warm it is before --outdoors, such as "45 °F"; the mean of the coldest month where nothing is said
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true)]
    pub before: Option<String>,
    /// A spell from a file of times and outdoor temperatures (.csv) or of hourly weather (.epw, TMY3), packed (.gz) or not
    #[arg(long, value_name = "FILE")]
    pub series: Option<String>,
    /// The coldest so many days of the file
    #[arg(long, value_name = "N", allow_hyphen_values = true)]
    pub days: Option<String>,
    /// How the outlets stand in the spell
    #[arg(long, value_enum, default_value_t = Standing::AsItStands)]
    pub state: Standing,
    /// Heat is lost for a time such as "12 h": as the cold has arrived, or at the start of a spell of your own
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub heat_out: Option<String>,
    /// Form of the report
    #[arg(long, value_enum, default_value_t = SpellFormat::Text)]
    pub format: SpellFormat,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
}

/// A schedule or a job to be read.
#[derive(Debug, Args)]
pub struct Read {
    /// A schedule (.csv) or a job (.yaml); no climate is needed
    #[arg(value_name = "SCHEDULE|JOB")]
    pub source: String,
    /// The sheet of a workbook that is the schedule
    #[arg(long, value_name = "NAME")]
    pub sheet: Option<String>,
    /// Form
    #[arg(long, value_enum, default_value_t = ReadFormat::Text)]
    pub format: ReadFormat,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
    /// Units
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// Form of what was read.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum ReadFormat {
    /// A page to read
    Text,
    /// Everything, for other programs
    Json,
    /// A line for every cell
    Csv,
}

/// Walls, or one of them.
#[derive(Debug, Args)]
pub struct Walls {
    /// Draw this wall, by its key or another of its names
    pub wall: Option<String>,
    /// List the walls whose names or usual space have these words
    #[arg(long, value_name = "WORDS", conflicts_with = "wall")]
    pub find: Option<String>,
    /// With the walls that a job describes
    #[arg(long, value_name = "JOB")]
    pub job: Option<String>,
    /// With temperatures through the layers at this climate's design low
    #[arg(long, value_name = "PLACE")]
    pub climate: Option<String>,
    /// Climates of your own: a file (.yaml) or a folder of such; may be given more than once
    #[arg(long, value_name = "FOLDER|FILE", requires = "climate")]
    pub climates: Vec<String>,
    /// Units
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
}

/// The climates there are, one of them, or those near a place.
#[derive(Debug, Args)]
pub struct Climates {
    /// One place whole: its id, its name such as "St. Paul, MN", or its station's number
    #[arg(value_name = "PLACE", allow_negative_numbers = true)]
    pub place: Vec<String>,
    /// List the places whose id, name or station's name have these words
    #[arg(long, value_name = "WORDS")]
    pub find: Option<String>,
    /// List the places of a state or province, such as MN or Minnesota
    #[arg(long, value_name = "STATE")]
    pub state: Option<String>,
    /// List the places of a climate zone of the energy code, such as 6A, or 6 for 6A and 6B
    #[arg(long, value_name = "ZONE")]
    pub zone: Option<String>,
    /// The five places nearest to a latitude and a longitude, such as "44.9, -93.2" or "44.9N 93.2W"
    #[arg(long, value_name = "LAT,LON", allow_hyphen_values = true)]
    pub near: Option<String>,
    /// How high the place of --near lies, such as "1,200 ft", to see how much higher or lower the others do
    #[arg(long, value_name = "HEIGHT", allow_hyphen_values = true)]
    pub elevation: Option<String>,
    /// Climates of your own: a file (.yaml) or a folder of such; may be given more than once
    #[arg(long, value_name = "FOLDER|FILE")]
    pub climates: Vec<String>,
    /// Form of the page
    #[arg(long, value_enum, default_value_t = Format::Text)]
    pub format: Format,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
    /// Units; without it lists are in °F and feet, and one place is shown in both
    #[arg(long, value_enum)]
    pub units: Option<Units>,
    /// Draw a climate from hours of weather (.epw, TMY3 .csv, or a .csv of times and temperatures; or one packed, .gz): exit
    /// status 1 where something is told or left out
    #[arg(long, value_name = "FILE", conflicts_with_all = ["place", "find", "state", "zone", "near", "elevation", "climates", "format", "units"])]
    pub from_hourly: Option<String>,
    /// The name of the climate drawn, such as "Northway, AK"; the station's without it
    #[arg(long, value_name = "NAME", requires = "from_hourly")]
    pub name: Option<String>,
}

/// How outlets stand in a spell.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Standing {
    /// As the schedule has it
    AsItStands,
    /// With a hose left on, so that the barrel stays full
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

/// Form of a cold spell's report.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum SpellFormat {
    /// A page to read
    Text,
    /// Everything, for other programs
    Json,
    /// The hours of an outlet, or the table of all
    Csv,
}

/// Form of a page.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Format {
    /// A page to read
    Text,
    /// Everything, for other programs
    Json,
}

/// Units of a report.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum Units {
    /// Inches, °F
    Us,
    /// Millimetres, °C
    Si,
}

/// What a schema is of.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub enum SchemaOf {
    /// The JSON of a review
    Review,
    /// The JSON of a cold spell
    ColdSpell,
    /// The JSON of climates
    Climates,
    /// The JSON of what was read
    Read,
    /// Rule files: sets and amendments
    Rules,
    /// Job files
    Job,
}

impl From<Units> for System {
    fn from(it: Units) -> Self {
        match it {
            Units::Us => Self::Us,
            Units::Si => Self::Si,
        }
    }
}
