//! A review from memory: no file is opened, nothing is printed by the library.
//! `cargo run --example review`

#![allow(clippy::print_stdout, reason = "an example shows its result")]

use coldsill::diag::Diagnostics;
use coldsill::facts::{self, Presets, Sources};
use coldsill::input::Memory;
use coldsill::ruleset::Outcome;
use coldsill::units::System;
use coldsill::{report, review, shipped};

const SCHEDULE: &str = "\
Mark,Kind,Nominal length,Barrel,Wall,Space behind,Supply,Backflow device
HB-1,Frostproof sillcock,8 in,Brass,2x6,Heated room,Copper,Integral VB
HB-2,Hose bibb,,Brass,2x6,Heated room,Copper,None
";

fn reviewed() -> Result<review::Review, Diagnostics> {
    let world = facts::open(&Sources {
        files: &Memory::new().with("schedule.csv", SCHEDULE),
        source: "schedule.csv",
        sheet: None,
        climate: Some("minneapolis-mn"),
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &shipped::rules(),
        presets: Presets::default(),
        climates: shipped::climates()?,
    })?;
    Ok(review::run(&world))
}

fn main() -> std::process::ExitCode {
    match reviewed() {
        Ok(review) => {
            print!("{}", report::summary(&review, System::Us));
            for outlet in &review.outlets {
                let comments = outlet.findings.comments.iter().filter(|it| it.outcome == Outcome::Revise);
                println!("{}: {} to revise", outlet.mark, comments.count());
            }
            std::process::ExitCode::SUCCESS
        }
        Err(problems) => {
            problems.iter().for_each(|problem| println!("{problem}"));
            std::process::ExitCode::FAILURE
        }
    }
}
