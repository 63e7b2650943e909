//! A clean schedule with one cell damaged: no fact changes in silence.

use coldsill::facts::VOCABULARY;
use coldsill::input::table::parse;
use coldsill::schedule::{CellValue, Chosen, Columns, ReadOptions, Schedule, read_with};
use std::collections::BTreeMap;

const HEADINGS: [&str; 12] = [
    "Mark",
    "Qty",
    "Kind",
    "Closes",
    "Nominal length",
    "Barrel",
    "Fasteners",
    "Self-draining",
    "Backflow device",
    "Supply size",
    "Supply",
    "Description",
];
const ROWS: [[&str; 12]; 4] = [
    [
        "HB-1",
        "2",
        "sillcock",
        "inside",
        "12 in",
        "brass",
        "stainless",
        "yes",
        "integral vacuum breaker",
        "1/2 in",
        "copper",
        "wheel handle",
    ],
    [
        "HB-2",
        "4",
        "wall hydrant",
        "inside",
        "10 in",
        "bronze",
        "brass",
        "no",
        "dual check",
        "3/4 in",
        "PEX",
        "loose key, frost-proof",
    ],
    [
        "HB-3",
        "1",
        "hose bibb",
        "face",
        "",
        "brass",
        "zinc-plated steel",
        "no",
        "hose connection vacuum breaker",
        "1/2 in",
        "copper",
        "",
    ],
    [
        "HB-4",
        "6",
        "box hydrant",
        "inside",
        "14 in",
        "stainless",
        "stainless",
        "yes",
        "none",
        "3/4 in",
        "CPVC",
        "with gasket",
    ],
];
/// What is put into a cell. No digit, as that is another figure, which nobody can tell from a slip.
const DAMAGE: [&str; 32] = [
    "?",
    " (?)",
    "~",
    "≠",
    " TBD",
    " or ",
    " verify",
    "x",
    "q",
    "-",
    "'",
    "\"",
    "..",
    ",",
    "/",
    "*",
    " ",
    "!",
    "[",
    "(",
    " by others",
    " not",
    "no ",
    "z",
    " min",
    " max",
    " approx",
    "#",
    ";",
    "±",
    " see note 3",
    " or equal",
];

/// Damage that makes another word of the trade, which nobody can tell from a slip.
const OTHER_WORDS: [&str; 4] = ["with no gasket", "with not gasket", "PE", "PVC"];

/// Numbers without order, the same every time (an LCG with the constants of Knuth's MMIX).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, most: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap_or(0) % most
    }
}

fn schedule(rows: &[Vec<String>]) -> Option<Schedule> {
    let quoted = |cell: &String| format!("\"{}\"", cell.replace('"', "\"\""));
    let lines = rows.iter().map(|row| row.iter().map(quoted).collect::<Vec<_>>().join(","));
    let text = format!("{}\n{}\n", HEADINGS.join(","), lines.collect::<Vec<_>>().join("\n"));
    let (columns, chosen) = (Columns::default(), Chosen::default());
    let options = ReadOptions {
        vocabulary: &VOCABULARY.0,
        mark: 0,
        columns: &columns,
        own: &[],
        is_mixed: false,
        select: Some(&chosen),
    };
    read_with(&parse("s.csv", &text).ok()?, &options).ok()
}

/// Values by row and fact, without free words.
fn facts(schedule: &Schedule) -> BTreeMap<(u32, &'static str), CellValue> {
    let mut facts = BTreeMap::new();
    for row in &schedule.rows {
        for cell in &row.cells {
            let fact = VOCABULARY.0[cell.term].fact;
            let is_words =
                ["outlet.mark", "outlet.description", "outlet.description_disagrees", "outlet.wall"]
                    .contains(&fact);
            if let (Some(value), false) = (&cell.value, is_words) {
                facts.insert((row.number, fact), value.clone());
            }
        }
    }
    facts
}

/// Whether something is said of a row.
fn is_told(schedule: &Schedule, row: u32) -> bool {
    let is_row = |place: &coldsill::diag::Location| place.line_or_row() == Some(row);
    schedule.problems.iter().any(|it| is_row(&it.location))
        || schedule.unused.iter().any(|it| is_row(&it.location))
        || schedule.rows_set_aside.iter().any(|it| is_row(&it.location))
        || schedule.notes.iter().any(|it| is_row(&it.location))
        || schedule.rows.iter().any(|it| {
            it.number == row
                && it.cells.iter().any(|cell| VOCABULARY.0[cell.term].fact == "outlet.description_disagrees")
        })
}

#[test]
fn no_fact_changes_in_silence_when_a_cell_is_damaged() {
    assert_eq!(VOCABULARY.0[0].fact, "outlet.mark");
    let clean: Vec<Vec<String>> =
        ROWS.iter().map(|row| row.iter().map(|it| (*it).to_owned()).collect()).collect();
    let before: Vec<_> = (0..clean.len()).map(|row| facts(&schedule(&clean[row..=row]).unwrap())).collect();
    let count = std::env::var("MUTATIONS").ok().and_then(|it| it.parse().ok()).unwrap_or(1500);
    let mut numbers = Numbers(16);
    let mut wrong = Vec::new();
    for _ in 0..count {
        let (row, column) = (numbers.below(ROWS.len()), 1 + numbers.below(HEADINGS.len() - 1));
        let mut rows = clean.clone();
        let cell = &mut rows[row][column];
        let places: Vec<usize> = cell.char_indices().map(|(at, _)| at).chain([cell.len()]).collect();
        let at = places[numbers.below(places.len())];
        let is_digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
        let in_number = is_digit(cell[..at].chars().next_back()) && is_digit(cell[at..].chars().next());
        let damage = DAMAGE[numbers.below(DAMAGE.len())];
        let can_cut = cell[at..].starts_with(|c: char| c.is_alphabetic());
        match numbers.below(3) {
            0 if can_cut => drop(cell.remove(at)),
            // Within a number a sign makes another number.
            _ if in_number => cell.insert(at, 'q'),
            _ => cell.insert_str(at, damage),
        }
        let text = cell.clone();
        if OTHER_WORDS.contains(&&*text) {
            continue;
        }
        // A row by itself, to be fast; its number is 2.
        let Some(after) = schedule(&rows[row..=row]) else { continue };
        let told = is_told(&after, 2);
        let (before, after) = (&before[row], facts(&after));
        for key in before.keys().chain(after.keys()) {
            let (old, new) = (before.get(key), after.get(key));
            let is_changed = old.is_some() && new.is_some() && old != new;
            if old != new && (is_changed || !told) {
                wrong.push(format!("{} \"{text}\": {} was {old:?}, is {new:?}", HEADINGS[column], key.1));
            }
        }
    }
    wrong.sort();
    wrong.dedup();
    assert!(wrong.is_empty(), "{} of {count}\n{}", wrong.len(), wrong.join("\n"));
}
