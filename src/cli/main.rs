//! The `coldsill` program: parses arguments, opens files and prints. The library does the rest.

mod climates;
mod cold_spell;
mod compare;
mod depth;
mod disk;
mod fact_card;
mod facts;
mod formats;
mod from_hourly;
mod generate;
mod lists;
mod open;
mod options;
mod orders;
mod output;
mod progress;
mod read;
mod regional;
mod rules;
mod walls;

use clap::Parser;
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::facts::World;
use coldsill::input::Files as _;
use coldsill::{report, review, schema, shipped};
use disk::Disk;
use formats::{Format, ReviewFormat, SchemaOf};
use open::{base_rules, open, rules_with};
use options::{Cli, Command};
use std::process::ExitCode;

/// Nothing to revise or clarify.
const EXIT_OK: u8 = 0;
/// Something to revise or clarify.
const EXIT_COMMENTS: u8 = 1;
/// The command could not be carried out.
const EXIT_ERROR: u8 = 2;

fn main() -> ExitCode {
    let cli = Cli::parse();
    match run(&cli.command, cli.quiet) {
        Ok(code) => ExitCode::from(code),
        Err(problems) => {
            output::problems(&problems);
            ExitCode::from(EXIT_ERROR)
        }
    }
}

fn run(command: &Command, is_quiet: bool) -> Result<u8, Diagnostics> {
    let disk = Disk::default();
    match command {
        Command::Review { source, format, detail, output, previous, questions } => {
            if let (Some(questions), Some(output)) = (questions, output)
                && output::is_same_file(questions, output)
            {
                return Err(output::twice(questions).into());
            }
            let previous = match previous {
                Some(path) => Some((path.as_str(), review::read_previous(path, &disk.read(path)?)?)),
                None => None,
            };
            let (world, climate_problems) =
                open::open_after(source, previous.as_ref().map(|(path, _)| *path), &disk)?;
            let format = format.unwrap_or_else(|| ReviewFormat::of_name(output.as_deref()));
            // If the output is a file that was read, `stage` has a clearer error than a wrong ending.
            if let Some(path) = output.as_ref().filter(|path| !disk.has_read(path)) {
                output::check_name(path, format.endings())?;
            }
            if let Some(path) = questions {
                output::check_name(path, &[".csv", ".xlsx"])?;
            }
            let extent = if *detail { review::Extent::Whole } else { format.extent() };
            let mut review = reviewed(&world, extent, is_quiet);
            review.problems.extend(climate_problems);
            let since = previous.map(|(path, previous)| review::Since::of(path, &previous, &review));
            review.since = since;
            let units = source.units.into();
            let questions_file =
                |path: &str, out: &mut dyn std::io::Write| match path.to_lowercase().ends_with(".xlsx") {
                    true => out.write_all(&report::questions_xlsx(&review, units)?),
                    false => out.write_all(report::questions_csv(&review, units).as_bytes()),
                };
            // Stage the questions before the report is written, so that an error leaves neither file.
            let stage = |path| output::stage(path, &disk, |out| questions_file(path, out));
            let staged = questions.as_deref().map(stage).transpose()?;
            output::write_with(output.as_deref(), &disk, |out| match format {
                ReviewFormat::Text if *detail => out.write_all(report::text(&review, units).as_bytes()),
                ReviewFormat::Text => out.write_all(report::summary(&review, units).as_bytes()),
                ReviewFormat::Letter => out.write_all(report::letter(&review, units).as_bytes()),
                ReviewFormat::Markdown => out.write_all(report::markdown(&review, units).as_bytes()),
                ReviewFormat::Csv => out.write_all(report::review_csv(&review, units).as_bytes()),
                ReviewFormat::Xlsx => {
                    out.write_all(&report::review_xlsx(&review, &review::orders(&review), units)?)
                }
                ReviewFormat::Html => {
                    let drawings = review::drawings(&world, &review);
                    out.write_all(report::html(&review, &drawings, units).as_bytes())
                }
                ReviewFormat::Pdf => {
                    let drawings = review::drawings(&world, &review);
                    let sheets = review::first_sheets(&world, &review, report::MOST_SHEETS);
                    out.write_all(&report::pdf(&review, &drawings, &sheets, units)?)
                }
                ReviewFormat::Sarif => report::sarif(&review, units, out),
                ReviewFormat::Json => report::json(&review, units, out),
            })?;
            if let Some(staged) = staged {
                staged.put_in_place()?;
            }
            Ok(status(review.asks_for_something()))
        }
        Command::Sheet { source, mark, output } => {
            let (world, climate_problems) = open(source, &disk)?;
            output::problems(&climate_problems);
            let review = reviewed(&world, review::Extent::Whole, is_quiet);
            let sheets = review::sheets(&world, &review, mark)?;
            let text = report::sheet(&review, &sheets, source.units.into());
            output::write(output.as_deref(), &text, &disk)?;
            Ok(EXIT_OK)
        }
        Command::Depth(options) => Ok(status(depth::run(options, &disk)?)),
        Command::Compare(options) => Ok(status(compare::run(options, &disk)?)),
        Command::Standard(options) => Ok(status(regional::run(options, &disk, is_quiet)?)),
        Command::Orders { source, output } => {
            let (world, climate_problems) = open(source, &disk)?;
            output::problems(&climate_problems);
            Ok(status(orders::run(
                &reviewed(&world, review::Extent::Whole, is_quiet),
                output.as_deref(),
                source.units.into(),
                &disk,
            )?))
        }
        Command::Read(options) => Ok(status(read::run(options, &disk)?)),
        Command::ColdSpell(options) => {
            let (world, climate_problems) = open(&options.source, &disk)?;
            output::problems(&climate_problems);
            Ok(status(cold_spell::run(options, &world, &disk, is_quiet)?))
        }
        Command::Climates(options) => match &options.from_hourly {
            Some(file) => {
                let (name, output) = (options.name.as_deref(), options.output.as_deref());
                Ok(status(from_hourly::run(file, name, output, &disk)?))
            }
            None => Ok(status(climates::run(options, &disk)?)),
        },
        Command::Walls(options) => print(&walls::text(options, &disk)?),
        Command::Materials => print(&lists::materials()),
        Command::Metals => print(&lists::metals()),
        Command::Devices => print(&lists::devices()),
        Command::Facts { name, format } => {
            let rules = base_rules(&disk)?;
            let cards = facts::found(name.as_deref(), &rules)?;
            print(&match format {
                Format::Text => facts::text(&cards, name.is_some()),
                Format::Json => facts::json(&cards)?,
            })
        }
        Command::Rules { action: None, which, rules, preset, code } => {
            let world = rules_with(rules, preset.as_deref(), code.as_deref(), &disk)?;
            let name = which.join(" ");
            if name.is_empty() {
                return print(&rules::list(&world));
            }
            print(&rules::one(&world, &name)?)
        }
        Command::Rules { action: Some(options::RulesAction::Try { files }), rules, preset, code, .. } => {
            let all: Vec<String> = rules.iter().chain(files).cloned().collect();
            let amended = rules_with(&all, preset.as_deref(), code.as_deref(), &disk)?;
            let (text, all_hold) = rules::cases(&base_rules(&disk)?, &amended);
            output::print(&text)?;
            Ok(if all_hold { EXIT_OK } else { EXIT_COMMENTS })
        }
        Command::Generate { what } => {
            let text = generate::text(*what)
                .map_err(|error| Diagnostic::new(Location::whole("generate"), error.to_string()))?;
            print(&String::from_utf8_lossy(&text))
        }
        Command::Schema { of: SchemaOf::Review } => print(&report::review_schema()),
        Command::Schema { of: SchemaOf::ColdSpell } => print(&report::cold_spell_schema()),
        Command::Schema { of: SchemaOf::Climates } => print(&report::climates_schema()),
        Command::Schema { of: SchemaOf::Standard } => print(&report::standard_schema()),
        Command::Schema { of: SchemaOf::Read } => print(&report::read_schema()),
        Command::Schema { of: SchemaOf::Rules } => print(&schema::rules(&base_rules(&disk)?.job().rules)),
        Command::Schema { of: SchemaOf::Job } => {
            print(&schema::job(&base_rules(&disk)?.job().rules, shipped::climates()?))
        }
    }
}

/// The exit status of a command, by whether it has something to revise, clarify or warn of.
fn status(has_comments: bool) -> u8 {
    if has_comments { EXIT_COMMENTS } else { EXIT_OK }
}

fn print(text: &str) -> Result<u8, Diagnostics> {
    output::print(text)?;
    Ok(EXIT_OK)
}

fn reviewed(world: &World, extent: review::Extent, is_quiet: bool) -> review::Review {
    let progress = progress::Progress::of("Reviewing faucet", is_quiet);
    review::run_with(world, extent, &|at, of| progress.tell(at, of))
}
