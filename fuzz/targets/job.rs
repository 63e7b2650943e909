//! Whole jobs over a schedule that is right: no bytes panic, and what is refused says why.
#![no_main]

use coldsill::climate::Library;
use coldsill::facts::{Presets, Sources, open};
use coldsill::input::Memory;
use coldsill::ruleset::RuleFile;
use coldsill::shipped;
use libfuzzer_sys::fuzz_target;
use std::sync::LazyLock;

static CLIMATES: LazyLock<&'static Library> = LazyLock::new(|| shipped::climates().expect("the shipped climates are right"));
static RULES: LazyLock<Vec<RuleFile<'static>>> = LazyLock::new(|| shipped::rules().into_iter().take(1).collect());
const SCHEDULE: &str = "Mark,Kind,Nominal length,Wall\nHB-1,Frostproof sillcock,8 in,2x6\n";

fuzz_target!(|bytes: &[u8]| {
    let files = Memory::new().with("job.yaml", bytes).with("schedule.csv", SCHEDULE);
    let opened = open(&Sources {
        files: &files,
        source: "job.yaml",
        sheet: None,
        climate: None,
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &RULES,
        presets: Presets::default(),
        climates: &CLIMATES,
    });
    if let Err(problems) = opened {
        assert!(problems.iter().all(|it| !it.message.is_empty()) && !problems.is_empty());
    }
});
