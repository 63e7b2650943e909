//! `coldsill depth`: the seat depth of an outlet that is on no schedule yet.

use crate::disk::Disk;
use crate::open::Asked;
use crate::options::{InForce, Units};
use crate::{climates, output};
use clap::Args;
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::facts::{Edit, World};
use coldsill::input::Files;
use coldsill::review::Planned;
use coldsill::{report, review};

/// The outlet, and where it goes.
#[derive(Debug, Args)]
pub struct Depth {
    /// A job with walls, spaces, products, rules and climate of its own; its schedule is not used
    #[arg(value_name = "JOB")]
    pub job: Option<String>,
    /// Wall, by its key in `coldsill walls`
    #[arg(long, value_name = "WALL")]
    pub wall: String,
    /// Metal of the barrel, such as brass or stainless [default: the products of the job]
    #[arg(long, value_name = "METAL")]
    pub barrel: Option<String>,
    /// Material of the supply pipe, such as copper or PEX [default: the job's]
    #[arg(long, value_name = "MATERIAL")]
    pub supply: Option<String>,
    /// Insulation on the supply pipe, such as "1/2 in" [default: none, or the job's]
    #[arg(long, value_name = "THICKNESS")]
    pub supply_insulation: Option<String>,
    /// Space at the inlet, such as basement [default: the usual one behind the wall]
    #[arg(long, value_name = "SPACE")]
    pub space: Option<String>,
    /// Thickness of a block or veneer under the flange, such as "1 1/2 in"
    #[arg(long, value_name = "THICKNESS")]
    pub block: Option<String>,
    /// Clear space outdoors in line with it, such as "24 in"
    #[arg(long, value_name = "LENGTH")]
    pub clearance: Option<String>,
    /// It has an inside stop-and-waste valve within reach
    #[arg(long)]
    pub inside_stop: bool,
    /// Place, as for a review; several make a table, a line for each
    #[arg(long, value_name = "PLACE")]
    pub climate: Vec<String>,
    /// Your own climates: a file (.yaml) or a folder of such files; repeatable
    #[arg(long, value_name = "FOLDER|FILE")]
    pub climates: Vec<String>,
    /// Outdoor temperature in place of a climate, such as "-10 °F"
    #[arg(long, value_name = "TEMPERATURE", allow_hyphen_values = true, conflicts_with_all = ["climate", "design_low"])]
    pub outdoors: Option<String>,
    /// Design low, as for a review
    #[arg(long, value_name = "LOW", allow_hyphen_values = true)]
    pub design_low: Option<String>,
    /// The rules in force.
    #[command(flatten)]
    pub in_force: InForce,
    /// Units of the page
    #[arg(long, value_enum, default_value_t = Units::Us)]
    pub units: Units,
    /// Write to a file instead of the screen
    #[arg(long, value_name = "FILE")]
    pub output: Option<String>,
}

/// Files of a job that nobody wrote.
const TYPED: &str = "depth.yaml";
const SCHEDULE: &str = "depth.csv";

/// The disk, and a job made of the options.
struct Typed<'d> {
    disk: &'d Disk,
    job: String,
}

impl Files for Typed<'_> {
    fn read(&self, path: &str) -> Result<Vec<u8>, Diagnostic> {
        match path {
            TYPED => Ok(self.job.clone().into_bytes()),
            SCHEDULE => Ok(b"Kind\nwall hydrant\n".to_vec()),
            _ => self.disk.read(path),
        }
    }

    fn folder(&self, path: &str) -> Result<Option<Vec<String>>, Diagnostic> {
        self.disk.folder(path)
    }
}

/// Writes the page. Returns whether no depth is enough somewhere.
pub fn run(options: &Depth, disk: &Disk) -> Result<bool, Diagnostics> {
    let units = options.units.into();
    let at = |climate: Option<&str>| -> Result<_, Diagnostics> {
        let world = open(options, climate, disk)?;
        let depth = review::depth(&world, &edits(options, &world)?);
        Ok((world.job().climate.name.clone(), depth))
    };
    let places: Vec<Option<&str>> = match options.climate.as_slice() {
        [] => vec![None],
        places => places.iter().map(|place| Some(place.as_str())).collect(),
    };
    let found = places.into_iter().map(at).collect::<Result<Vec<_>, Diagnostics>>()?;
    let text = match found.as_slice() {
        [(_, depth)] => report::depth(depth, units),
        several => report::depths(several, units),
    };
    output::write(options.output.as_deref(), &text, disk)?;
    Ok(found.iter().any(|(_, depth)| depth.least.is_err()))
}

fn open(options: &Depth, climate: Option<&str>, disk: &Disk) -> Result<World, Diagnostics> {
    if options.job.is_none() && climate.is_none() && options.outdoors.is_none() {
        let problem = Diagnostic::new(Location::whole("depth"), "has no outdoor temperature");
        return Err(problem.expected("--climate PLACE, --outdoors TEMPERATURE or a job").into());
    }
    let library = climates::library(&options.climates, disk)?;
    output::problems(&library.skipped().cloned().collect::<Vec<_>>());
    let bare = match (&options.job, &options.outdoors) {
        (None, Some(low)) => format!("climate: {{ name: \"{low} outdoors\", design_low: \"{low}\" }}\n"),
        _ => String::new(),
    };
    let job = format!("{bare}schedule: {SCHEDULE}\n");
    let files = Typed { disk, job };
    let asked = Asked {
        source: options.job.as_deref().unwrap_or(TYPED),
        sheet: None,
        climate,
        design_low: options.design_low.as_deref().or(options.outdoors.as_deref()),
        answers: &[],
        in_force: &options.in_force,
    };
    asked.open(&files, &library)
}

/// What the options state of the outlet.
fn edits(options: &Depth, world: &World) -> Result<Vec<Edit>, Diagnostics> {
    let planned = Planned {
        wall: &options.wall,
        barrel: options.barrel.as_deref(),
        supply: options.supply.as_deref(),
        supply_insulation: options.supply_insulation.as_deref(),
        space: options.space.as_deref(),
        block: options.block.as_deref(),
        clearance: options.clearance.as_deref(),
        inside_stop: options.inside_stop,
    };
    planned.edits(world, &|name| Location::whole(&format!("--{name}")))
}
