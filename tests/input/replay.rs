//! Damaged copies of our own files through every reader: each ends in values or in errors located in that file. What the fuzz
//! targets (`fuzz/`) do at length, here in a fixed order and a few seconds.

use coldsill::climate::Library;
use coldsill::diag::Diagnostic;
use coldsill::facts::{CATALOGUE, Facts, Sources, VOCABULARY, open_to_read};
use coldsill::input::{Memory, table, text, yaml};
use coldsill::ruleset::{RuleFile, load};
use coldsill::schedule;
use coldsill::shipped;
use coldsill::weather::Hourly;
use std::path::Path;

/// Copies of each file with one to four damages each.
const COPIES: usize = 20;

/// The same choices in every run (Marsaglia's xorshift, 64 bits).
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 >> 33).expect("31 bits") % sides.max(1)
    }

    fn damage(&mut self, bytes: &mut Vec<u8>) {
        const PIECES: [&[u8]; 16] = [
            b"\"",
            b"\0",
            b"\xFF",
            b"\xC2\xB0",
            b"\r",
            b"\n\n",
            b",,,,",
            b"[",
            b"{",
            b"*a",
            b"&a ",
            b": ",
            b"-1e999",
            b"999999999999999999999",
            b"NaN",
            b"=1+1",
        ];
        let [a, b] = [self.roll(bytes.len() + 1), self.roll(bytes.len() + 1)];
        let (start, end) = (a.min(b), a.max(b).min(a.min(b) + 40));
        match self.roll(6) {
            0 => bytes.truncate(start),
            1 => drop(bytes.drain(start..end)),
            2 => {
                let copy = bytes[start..end].to_vec();
                bytes.splice(end..end, copy);
            }
            3 if start < bytes.len() => bytes[start] ^= 1 << self.roll(8),
            _ => {
                let piece = PIECES[self.roll(PIECES.len())];
                bytes.splice(start..end.min(start + piece.len()), piece.iter().copied());
            }
        }
    }
}

/// What reading a file of a name gives, its errors if it has any.
type Reader = fn(&str, &[u8]) -> Vec<Diagnostic>;

fn as_schedule(name: &str, bytes: &[u8]) -> Vec<Diagnostic> {
    let files = Memory::new().with(name, bytes);
    let Ok(climates) = shipped::climates() else { return Vec::new() };
    let opened = open_to_read(&Sources {
        files: &files,
        source: name,
        sheet: None,
        climate: None,
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &[],
        presets: Default::default(),
        climates,
    });
    match opened {
        Ok(world) => world.job().schedule.problems.to_vec(),
        Err(problems) => some(problems.to_vec(), name),
    }
}

fn as_table(name: &str, bytes: &[u8]) -> Vec<Diagnostic> {
    let mark = VOCABULARY.0.iter().position(|it| it.fact == "outlet.mark").unwrap_or(0);
    match table::tables(name, bytes) {
        Ok(tables) => tables.iter().filter_map(|it| schedule::read(it, &VOCABULARY.0, mark).err()).collect(),
        Err(problem) => vec![problem],
    }
}

fn as_yaml(name: &str, bytes: &[u8]) -> Vec<Diagnostic> {
    text::decode(name, bytes).and_then(|text| yaml::parse(name, text)).err().into_iter().collect()
}

fn as_hours(name: &str, bytes: &[u8]) -> Vec<Diagnostic> {
    match Hourly::read(name, bytes) {
        Ok(hours) => hours.diagnostics().to_vec(),
        Err(problems) => some(problems.to_vec(), name),
    }
}

fn as_climates(name: &str, bytes: &[u8]) -> Vec<Diagnostic> {
    Library::read([(name, bytes)]).err().map(|problems| some(problems.to_vec(), name)).unwrap_or_default()
}

fn as_rules(name: &str, bytes: &[u8]) -> Vec<Diagnostic> {
    let first = u16::try_from(CATALOGUE.len()).expect("facts are few");
    match load(&[RuleFile { name, bytes }], &Facts, first) {
        Ok(_) => Vec::new(),
        Err(problems) => some(problems.to_vec(), name),
    }
}

/// What is refused says why.
fn some(problems: Vec<Diagnostic>, name: &str) -> Vec<Diagnostic> {
    assert!(!problems.is_empty(), "{name} is refused without a reason");
    problems
}

#[test]
fn damaged_files_end_in_values_or_located_errors() {
    let files: [(&str, Reader); 12] = [
        ("examples/kestrel-ridge/schedule.csv", as_schedule),
        ("examples/kestrel-ridge/job.yaml", as_schedule),
        ("examples/estimator/harbor-view.csv", as_schedule),
        ("examples/estimator/lot-14.tsv", as_schedule),
        ("tests/schedule/data/awkward.xlsx", as_table),
        ("tests/schedule/data/same.ods", as_table),
        ("tests/schedule/data/utf-16-le.csv", as_table),
        ("examples/estimator/maple-yard.yaml", as_yaml),
        ("tests/climate/hourly/springfield-fortnight.csv", as_hours),
        ("tests/climate/hourly/chicago-january.epw", as_hours),
        ("climates/canada.yaml", as_climates),
        ("rules/freezing.yaml", as_rules),
    ];
    let mut dice = Dice(0x00C0_1D51_1100_0001);
    for (path, read) in files {
        let whole = std::fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(path));
        let whole = whole.unwrap_or_else(|error| panic!("{path}: {error}"));
        let name = path.rsplit('/').next().unwrap_or(path);
        for copy in 0..COPIES {
            let mut bytes = whole.clone();
            for _ in 0..=dice.roll(4) {
                dice.damage(&mut bytes);
            }
            for problem in read(name, &bytes) {
                let line = problem.to_string();
                assert!(!line.contains('\n') && !problem.message.is_empty(), "{name}, copy {copy}: {line}");
            }
        }
    }
}
