//! The `coldsill` program: reads its arguments, opens files, prints. Everything else is the library's.

mod cold_spell;
mod disk;
mod fact_card;
mod facts;
mod lists;
mod options;
mod output;

use clap::Parser;
use coldsill::diag::Problem;
use coldsill::facts::World;
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

fn run(command: &Command) -> Result<u8, Vec<Problem>> {
    let disk = Disk::default();
    match command {
        Command::Review { source, format, output } => {
            let world = open(source, &disk)?;
            let review = review::run(&world);
            let text = match format {
                Format::Text => report::text(&review, source.units.into()),
                Format::Json => report::json(&review, source.units.into()),
            };
            output::write(output.as_deref(), &text, &disk).map_err(|problem| vec![problem])?;
            Ok(if review.asks_for_something() { ASKS } else { CLEAN })
        }
        Command::Sheet { source, mark, output } => {
            let world = open(source, &disk)?;
            let review = review::run(&world);
            let sheets = review::sheets(&world, &review, mark).map_err(|problem| vec![problem])?;
            let text = report::sheet(&review, &sheets, source.units.into());
            output::write(output.as_deref(), &text, &disk).map_err(|problem| vec![problem])?;
            Ok(CLEAN)
        }
        Command::ColdSpell(options) => {
            let world = open(&options.source, &disk)?;
            Ok(if cold_spell::run(options, &world, &disk)? { ASKS } else { CLEAN })
        }
        Command::Climates => print(&lists::climates(&shipped::climates()?)),
        Command::Walls => print(&lists::walls()),
        Command::Materials => print(&lists::materials()),
        Command::Metals => print(&lists::metals()),
        Command::Devices => print(&lists::devices()),
        Command::Facts { name, format } => {
            let rules = rules_only(&[], &disk)?;
            let cards = facts::found(name.as_deref(), &rules).map_err(|problem| vec![problem])?;
            print(&match format {
                Format::Text => facts::text(&cards, name.is_some()),
                Format::Json => facts::json(&cards),
            })
        }
        Command::Rules { action: None, rules } => print(&lists::rules(&rules_only(rules, &disk)?)),
        Command::Rules { action: Some(options::RulesAction::Try { files }), rules } => {
            let all: Vec<String> = rules.iter().chain(files).cloned().collect();
            // A set's cases stand for the set as it was written; an amendment's for what it adds.
            let (base, amended) = (rules_only(&[], &disk)?, rules_only(&all, &disk)?);
            let mut results = review::try_cases(&base);
            let is_added = |id: &str| base.job().rules.rule(id).is_none();
            results.extend(review::try_cases(&amended).into_iter().filter(|it| is_added(&it.rule)));
            let (text, all_hold) = lists::cases(&results);
            output::print(&text).map_err(|problem| vec![problem])?;
            Ok(if all_hold { CLEAN } else { ASKS })
        }
        Command::Schema { of: options::SchemaOf::Review } => print(report::REVIEW_SCHEMA),
        Command::Schema { of: options::SchemaOf::ColdSpell } => print(report::COLD_SPELL_SCHEMA),
        Command::Schema { of: options::SchemaOf::Rules } => {
            print(&schema::rules(&rules_only(&[], &disk)?.job().rules))
        }
        Command::Schema { of: options::SchemaOf::Job } => {
            print(&schema::job(&rules_only(&[], &disk)?.job().rules, &shipped::climates()?))
        }
    }
}

fn print(text: &str) -> Result<u8, Vec<Problem>> {
    output::print(text).map_err(|problem| vec![problem])?;
    Ok(CLEAN)
}

fn open(source: &Source, disk: &Disk) -> Result<World, Vec<Problem>> {
    coldsill::facts::open(&coldsill::facts::Sources {
        files: disk,
        source: &source.source,
        climate: source.climate.as_deref(),
        rules: &source.rules,
        base_rules: &shipped::rules(),
        climates: &shipped::climates()?,
    })
}

/// The rules in force without a job.
fn rules_only(amendments: &[String], disk: &Disk) -> Result<World, Vec<Problem>> {
    coldsill::facts::open_rules(disk, &shipped::rules(), amendments)
}
