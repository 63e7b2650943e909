//! The `coldsill` program: reads its arguments, opens files, prints. Everything else is the library's.

mod climates;
mod cold_spell;
mod disk;
mod fact_card;
mod facts;
mod from_hourly;
mod lists;
mod options;
mod output;
mod progress;
mod read;
mod rules;
mod walls;

use clap::Parser;
use coldsill::diag::Diagnostics;
use coldsill::facts::{Presets, World};
use coldsill::{report, review, schema, shipped};
use disk::Disk;
use options::{Cli, Command, Format, Source};
use std::process::ExitCode;

/// Nothing to revise or clarify; something is; the review could not be made.
const CLEAN: u8 = 0;
const ASKS: u8 = 1;
const REFUSED: u8 = 2;

fn main() -> ExitCode {
    let cli = Cli::parse();
    match run(&cli.command) {
        Ok(code) => ExitCode::from(code),
        Err(problems) => {
            output::problems(&problems);
            ExitCode::from(REFUSED)
        }
    }
}

fn run(command: &Command) -> Result<u8, Diagnostics> {
    let disk = Disk::default();
    match command {
        Command::Review { source, format, output, questions } => {
            if let Some(path) = questions.as_deref().filter(|_| questions == output) {
                return Err(output::twice(path).into());
            }
            let (world, left_out) = open(source, &disk)?;
            let mut review = reviewed(&world);
            review.problems.extend(left_out);
            let units = source.units.into();
            if let Some(path) = questions {
                let sheet = report::questions_csv(&review, source.units.into());
                output::write(Some(path), &sheet, &disk)?;
            }
            output::write_with(output.as_deref(), &disk, |out| match format {
                Format::Text => out.write_all(report::text(&review, units).as_bytes()),
                Format::Json => report::json(&review, units, out),
            })?;
            Ok(if review.asks_for_something() { ASKS } else { CLEAN })
        }
        Command::Sheet { source, mark, output } => {
            let (world, left_out) = open(source, &disk)?;
            output::problems(&left_out);
            let review = reviewed(&world);
            let sheets = review::sheets(&world, &review, mark)?;
            let text = report::sheet(&review, &sheets, source.units.into());
            output::write(output.as_deref(), &text, &disk)?;
            Ok(CLEAN)
        }
        Command::Read(options) => Ok(if read::run(options, &disk)? { ASKS } else { CLEAN }),
        Command::ColdSpell(options) => {
            let (world, left_out) = open(&options.source, &disk)?;
            output::problems(&left_out);
            Ok(if cold_spell::run(options, &world, &disk)? { ASKS } else { CLEAN })
        }
        Command::Climates(options) => match &options.from_hourly {
            Some(file) => {
                let told = from_hourly::run(file, options.name.as_deref(), options.output.as_deref(), &disk)?;
                Ok(if told { ASKS } else { CLEAN })
            }
            None => Ok(if climates::run(options, &disk)? { ASKS } else { CLEAN }),
        },
        Command::Walls(options) => print(&walls::text(options, &disk)?),
        Command::Materials => print(&lists::materials()),
        Command::Metals => print(&lists::metals()),
        Command::Devices => print(&lists::devices()),
        Command::Facts { name, format } => {
            let rules = rules_only(&[], None, &disk)?;
            let cards = facts::found(name.as_deref(), &rules)?;
            print(&match format {
                Format::Text => facts::text(&cards, name.is_some()),
                Format::Json => facts::json(&cards),
            })
        }
        Command::Rules { action: None, which, rules, preset } => {
            let world = rules_only(rules, preset.as_deref(), &disk)?;
            let asked = which.join(" ");
            if asked.is_empty() {
                return print(&rules::list(&world));
            }
            print(&rules::one(&world, &asked)?)
        }
        Command::Rules { action: Some(options::RulesAction::Try { files }), rules, preset, .. } => {
            let all: Vec<String> = rules.iter().chain(files).cloned().collect();
            let (base, amended) =
                (rules_only(&[], None, &disk)?, rules_only(&all, preset.as_deref(), &disk)?);
            let (text, all_hold) = rules::cases(&base, &amended);
            output::print(&text)?;
            Ok(if all_hold { CLEAN } else { ASKS })
        }
        Command::Schema { of: options::SchemaOf::Review } => print(&report::review_schema()),
        Command::Schema { of: options::SchemaOf::ColdSpell } => print(&report::cold_spell_schema()),
        Command::Schema { of: options::SchemaOf::Climates } => print(&report::climates_schema()),
        Command::Schema { of: options::SchemaOf::Read } => print(&report::read_schema()),
        Command::Schema { of: options::SchemaOf::Rules } => {
            print(&schema::rules(&rules_only(&[], None, &disk)?.job().rules))
        }
        Command::Schema { of: options::SchemaOf::Job } => {
            print(&schema::job(&rules_only(&[], None, &disk)?.job().rules, &shipped::climates()?))
        }
    }
}

fn print(text: &str) -> Result<u8, Diagnostics> {
    output::print(text)?;
    Ok(CLEAN)
}

fn reviewed(world: &World) -> review::Review {
    let progress = progress::Progress::of("Reviewing outlet");
    review::run_with(world, &|at, of| progress.tell(at, of))
}

/// What there is to review, and what is wrong with places of the person's own that are not asked for.
fn open(source: &Source, disk: &Disk) -> Result<(World, Diagnostics), Diagnostics> {
    let library = climates::library(&source.climates, disk)?;
    let left_out: Diagnostics = library.left_out().cloned().collect();
    let world = coldsill::facts::open(&coldsill::facts::Sources {
        files: disk,
        source: &source.source,
        sheet: source.sheet.as_deref(),
        climate: source.climate.as_deref(),
        design_low: source.design_low.as_deref(),
        answers: source.answers.as_deref(),
        rules: &source.rules,
        base_rules: &shipped::rules(),
        presets: Presets { all: &shipped::presets(), chosen: source.preset.as_deref() },
        climates: &library,
    });
    match world {
        Ok(world) => Ok((world, left_out)),
        Err(problems) => Err(problems.into_iter().chain(left_out).collect()),
    }
}

/// The rules in force without a job.
fn rules_only(amendments: &[String], preset: Option<&str>, disk: &Disk) -> Result<World, Diagnostics> {
    let presets = shipped::presets();
    let presets = Presets { all: &presets, chosen: preset };
    coldsill::facts::open_rules_with(disk, &shipped::rules(), amendments, presets)
}
