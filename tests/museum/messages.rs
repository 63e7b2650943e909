//! Every text the readers of files can say is looked for in what the museum shows.

use crate::museum::rooms::ALL;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::LazyLock;

/// Files and folders of `src` whose texts a wrong file can bring up. Of a folder, the files that make problems.
const READERS: [&str; 14] = [
    "expr",
    "ruleset",
    "input/yaml.rs",
    "input/yaml",
    "input/node.rs",
    "input/fields.rs",
    "units/error.rs",
    "job",
    "weather/error.rs",
    "weather/warning.rs",
    "climate/error.rs",
    "climate/read.rs",
    "wall/read.rs",
    "wall/error.rs",
];

const PLACED: &str = "said of answers in a job with places: tests/review/placed_answers.rs";

const IS_OUTLET: &str = "said of answers to whether a row is an outlet: tests/cli/questions.rs";
const OPTION: &str = "said of an option: tests/cli/climates.rs, tests/climate/find.rs";
const SERIES: &str = "said of --series: tests/climate/series_refused.rs";
const PREVIOUS: &str = "said of --previous or --answers: tests/cli/previous.rs";

/// Texts that no wrong file can bring up, each with the reason.
const UNREACHED: &[(&str, &str)] = &[
    ("Outdoor outlet", "a word of the sheet of questions"),
    ("outdoor outlet", "an answer on the sheet of questions"),
    ("not an outdoor outlet", "an answer on the sheet of questions"),
    ("does not say whether it is an outdoor outlet", IS_OUTLET),
    ("is answered otherwise by {newer}; {used} is used", IS_OUTLET),
    ("has no faucets left: the answers set all of them aside", IS_OUTLET),
    ("a sheet of places; the job names another list of them", "said of a workbook: tests/schedule/sheets.rs"),
    ("Adopted code: ", "how a rule refers to the adopted code by its subject"),
    ("Model codes: ", "what stands for it where no code is stated"),
    ("subject of the adopted code", "said of a code file, which the program ships: tests/cli/codes.rs"),
    ("is another sheet; only one sheet of responses is read", "said of a workbook: tests/schedule/sheets.rs"),
    ("is not the JSON of a review", PREVIOUS),
    ("a sheet of questions, or what `coldsill review --format json` wrote", PREVIOUS),
    ("is not a response this version reads", PREVIOUS),
    (
        "a response of the previous review; stated or answered since, or its faucet is no longer scheduled",
        PREVIOUS,
    ),
    (
        "names only studs; {key} is assumed{rows}",
        "a note on a file that is not wrong: tests/wall/families.rs",
    ),
    ("stated on the command line", "a word of reports for where a figure is from"),
    ("stated in the climate", "a word of reports for where a figure is from"),
    (
        "is for the job's own place, and --climate names another",
        "said of a job with another climate on the command line: tests/climate/design_low.rs",
    ),
    ("a unique id: a place in {file} has this one", "said of two files: tests/cli/climates.rs"),
    ("has no climate files", "said of a folder: tests/cli/climates.rs"),
    ("a folder of files of places (.yaml)", "said of a folder: tests/cli/climates.rs"),
    ("is a place of yours that has errors", "said of --climates: tests/cli/climates.rs"),
    ("its errors in {file} corrected", "said of --climates: tests/cli/climates.rs"),
    (
        "a place; `coldsill climates --state {code}` lists those of {name}",
        "said of a state alone: tests/cli/climates.rs",
    ),
    ("is {name}, which has no place in the list", OPTION),
    ("another state, or --near LAT,LON for the nearest place", OPTION),
    ("is not a state or province", OPTION),
    ("one such as MN or Minnesota", OPTION),
    ("is the zone of no place in the list", OPTION),
    ("matches no place in the list", OPTION),
    ("is not a point on Earth", OPTION),
    ("a latitude of -90 to 90 and a longitude of -180 to 180", OPTION),
    ("is not a latitude and longitude", OPTION),
    ("gives one direction twice", OPTION),
    ("has a sign and a letter for one direction", OPTION),
    ("has minutes or seconds of 60 or more", OPTION),
    ("has an eastern longitude, far from every place; west is negative or has a W", OPTION),
    ("has a longitude counted east to 360; west is negative or has a W", OPTION),
    ("is south and east, far from every place; with letters, such as 44.9S 93.2E, it is accepted", OPTION),
    ("has its longitude first", OPTION),
    ("a latitude and a longitude such as \"44.9, -93.2\" or \"44.9N 93.2W\"", OPTION),
    ("the temperature is blank", SERIES),
    ("marks a missing value", SERIES),
    ("a temperature, or no row at all: gaps of up to 6 h are bridged", SERIES),
    ("is {} h after \"{before}\" of row {row}", SERIES),
    ("covers {:.0} days, and the length of the spell is not stated", SERIES),
    ("the days of the spell, or a series of at most 31 days", SERIES),
    ("the length of the spell is out of range", SERIES),
    ("more than 0 days and at most 366", SERIES),
    ("covers {} h, and the spell needs {} h", SERIES),
    ("a longer series, or fewer days", SERIES),
    ("stated in the job", "a word of reports for where a figure is from"),
    ("{}, edition {edition}", "a word of reports for where a figure is from"),
    ("density and specific heat stated in the job", "a word of reports for where a figure is from"),
    ("call `finish`, or a misspelled key is not reported", "a note to whoever writes a reader"),
    ("Outlet type", "a heading of the sheet of questions, read past and never a problem"),
    ("Possible answers", "a heading of the sheet of questions, read past and never a problem"),
    ("What turns on it", "a heading of the sheet of questions, read past and never a problem"),
    ("mounting block", "a word that is understood after a thickness under the flange"),
    ("words of {fact}", "what a list may be; only figures have bounds that are reported"),
    (
        "has a point that may be a thousands separator or a decimal point",
        "said of a schedule with decimal commas: tests/words/quantities.rs",
    ),
    ("is too large a number", "a safeguard: no text of the length that is read holds such a number"),
    ("preset {}", "the name of who sets which bases can require a revision"),
    ("supply: {key}", "a key of a job as the catalogue names it"),
    ("is not a job", "said by `coldsill walls` of a job file, which no review reads that way"),
    ("contradicts \"{text}\", stated for the faucet of {stands}{more} ({}); \"{text}\" is used", PLACED),
    ("is not a row of a faucet", PLACED),
    ("marks and rows of the same schedule", PLACED),
    ("is in none of the rows named, and other marks are; it is not answered", PLACED),
    ("cannot be understood", "for a check that fails without an error of its own, which none does"),
];

/// The texts in the quotes of some code, escapes undone: of two words or more, up to the unit tests.
fn texts(code: &str) -> Vec<String> {
    let code = code.split("#[cfg(test)]").next().unwrap_or_default();
    let chars: Vec<char> = code.chars().collect();
    let (mut out, mut at) = (Vec::new(), 0);
    while at < chars.len() {
        let next = |by: usize| chars.get(at + by).copied().unwrap_or(' ');
        match chars[at] {
            '/' if next(1) == '/' => at += chars[at..].iter().take_while(|c| **c != '\n').count(),
            // A quote in single quotes opens nothing; a lifetime closes nothing.
            '\'' if next(1) == '\\' => {
                at += 3 + chars[at + 3..].iter().take_while(|c| **c != '\'').count() + 1
            }
            '\'' if next(2) == '\'' => at += 3,
            '"' => {
                let (text, end) = text_at(&chars, at + 1);
                out.push(text);
                at = end;
            }
            _ => at += 1,
        }
    }
    out.retain(|text| text.trim().contains(' ') && text.contains(|c: char| c.is_lowercase()));
    out
}

/// The text after an opening quote, and where the code goes on after it.
fn text_at(chars: &[char], mut at: usize) -> (String, usize) {
    let mut text = String::new();
    while let Some(c) = chars.get(at) {
        match (c, chars.get(at + 1)) {
            ('"', _) => return (text, at + 1),
            ('\\', Some('\n')) => {
                at += 2 + chars[at + 2..].iter().take_while(|c| c.is_whitespace()).count();
                continue;
            }
            ('\\', Some('n')) => text.push('\n'),
            ('\\', Some(other)) => text.push(*other),
            (c, _) => {
                text.push(*c);
                at += 1;
                continue;
            }
        }
        at += 2;
    }
    (text, at)
}

/// The parts of a text that stand between what is filled in: `is {} long` has two.
fn fixed(text: &str) -> Vec<String> {
    let mut parts = vec![String::new()];
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        let filled = rest.strip_prefix('{').and_then(|after| after.split_once('}')).filter(|(inside, _)| {
            let name = inside.split(':').next().unwrap_or_default();
            name.chars().all(|c| c.is_alphanumeric() || c == '_') && !inside.contains(' ')
        });
        if let Some((_, after)) = filled {
            parts.push(String::new());
            rest = after;
        } else {
            if let Some(last) = parts.last_mut() {
                last.push(c);
            }
            rest = &rest[c.len_utf8()..];
        }
    }
    parts
}

/// Whether the fixed parts of a text stand in a line in their order.
fn stands_in(text: &str, line: &str) -> bool {
    let mut rest = line;
    fixed(text).iter().all(|part| {
        let found = rest.find(part.as_str());
        if let Some(at) = found {
            rest = &rest[at + part.len()..];
        }
        found.is_some()
    })
}

/// Every text of the readers, and a file that holds it.
fn written() -> BTreeMap<String, String> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    for reader in READERS {
        add(&src.join(reader), &mut files);
    }
    let mut all = BTreeMap::new();
    for path in files {
        let code = fs::read_to_string(&path).expect("the source is there");
        let is_table = path.ends_with("error.rs");
        if !is_table
            && !code.contains("Diagnostic")
            && !code.contains("problem(")
            && !code.contains("report(")
        {
            continue;
        }
        let name = path.strip_prefix(&src).expect("it lies in src").to_string_lossy().into_owned();
        for text in texts(&code) {
            all.entry(text).or_insert_with(|| name.clone());
        }
    }
    all
}

fn add(path: &Path, files: &mut Vec<PathBuf>) {
    if path.is_dir() {
        let entries = fs::read_dir(path).expect("the folder is there");
        let mut inside: Vec<PathBuf> = entries.map(|it| it.expect("it can be looked at").path()).collect();
        inside.sort();
        inside.iter().for_each(|it| add(it, files));
    } else if path.file_name().is_some_and(|name| name != "tests.rs") {
        files.push(path.to_owned());
    }
}

/// What people see, a line for each problem; what a report has wrapped is on one line again.
static SEEN: LazyLock<Vec<String>> = LazyLock::new(|| {
    let of = |said: &str, refused: bool| -> Vec<String> {
        if refused {
            said.lines().map(str::to_owned).collect()
        } else {
            vec![said.split_whitespace().collect::<Vec<_>>().join(" ")]
        }
    };
    ALL.iter().flat_map(|it| of(&it.said, it.is_refused())).collect()
});

#[test]
fn every_text_a_reader_of_files_can_say_is_shown_by_a_wrong_file() {
    let missing: Vec<String> = written()
        .into_iter()
        .filter(|(text, _)| !UNREACHED.iter().any(|(it, _)| it == text))
        .filter(|(text, _)| !SEEN.iter().any(|line| stands_in(text, line)))
        .map(|(text, file)| format!("  src/{file}: {text:?}"))
        .collect();
    assert!(
        missing.is_empty(),
        "no file of the museum makes the program say\n{}\nFor each, add a small wrong file to \
         tests/museum/files/FOLDER that does (rules, amendments, jobs, walls, climates, products, or layout for what is \
         no YAML), run `cargo test --test program museum` and look at the new page before you keep it. Where no file can bring \
         it up, add it to UNREACHED in tests/museum/messages.rs with the reason.",
        missing.join("\n")
    );
}

#[test]
fn what_is_said_to_be_out_of_reach_is_written_somewhere_and_not_shown() {
    let written = written();
    for (text, reason) in UNREACHED {
        assert!(written.contains_key(*text), "{text:?} is no longer written");
        assert!(!SEEN.iter().any(|line| stands_in(text, line)), "{text:?} is shown after all");
        assert!(!reason.is_empty());
    }
}

#[test]
fn texts_are_told_from_code_comments_and_quotes_in_single_quotes() {
    let code = "// \"a comment\"\nlet a: &'static str = \"one \\\"two\\\"\"; let b = '\"'; let c = '\\''; \
                f(\"is \\\n   cut in two\");\n#[cfg(test)]\nlet d = \"not this\";";
    assert_eq!(texts(code), ["one \"two\"", "is cut in two"]);
}

#[test]
fn what_is_filled_in_may_be_anything_and_braces_with_spaces_stand_for_themselves() {
    assert!(stands_in("is {} long, not {name}", "it is 8 in long, not 9 in"));
    assert!(!stands_in("is {} long", "long it is"));
    assert!(stands_in("{ key: value }", "expected { key: value }"));
    assert!(!stands_in("{ key: value }", "expected key"));
    assert_eq!(
        BTreeSet::from_iter(fixed("U+{code:04X} here")),
        BTreeSet::from(["U+".into(), " here".into()])
    );
}
