//! A folder of its own for each run, and what came of the run.

use crate::rows::by_row;
use assert_cmd::cargo::cargo_bin;
use serde_json::Value;
use std::ffi::OsStr;
use std::fs;
use std::path::Path;
use std::process::{Command, Output};
use tempfile::TempDir;

/// A schedule that states everything and raises nothing in a warm climate.
pub(crate) const NOTHING_TO_ASK: &str = include_str!("data/nothing-to-ask.csv");
pub(crate) const WARM: &str = "honolulu-hi";

/// What came of a run.
pub(crate) struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

impl Ran {
    fn of(output: &Output) -> Self {
        Self {
            code: output.status.code().expect("it ended by itself"),
            out: String::from_utf8(output.stdout.clone()).expect("it prints UTF-8"),
            err: String::from_utf8(output.stderr.clone()).expect("it prints UTF-8"),
        }
    }

    pub(crate) fn json(&self) -> Value {
        by_row(serde_json::from_str(&self.out).unwrap_or_else(|error| panic!("{error}: {}", self.err)))
    }

    /// The review could not be made: these lines, one for each problem, under each at most the line of the file, and
    /// nothing else.
    #[track_caller]
    pub(crate) fn is_refused(&self, problems: &[&str]) {
        assert_eq!((self.code, self.out.as_str(), self.problems().as_slice()), (2, "", problems));
    }

    /// The problems told, without the lines of the file that are repeated under them.
    pub(crate) fn problems(&self) -> Vec<&str> {
        self.err.lines().filter(|line| !line.starts_with("    ")).collect()
    }
}

/// A folder for one test. The program runs in it, so that messages name files as they are typed.
pub(crate) struct Folder(TempDir);

impl Folder {
    pub(crate) fn new() -> Self {
        Self(TempDir::new().expect("a folder can be made"))
    }

    /// With one schedule, `s.csv`.
    pub(crate) fn of(schedule: &str) -> Self {
        Self::new().with("s.csv", schedule)
    }

    pub(crate) fn with(self, name: &str, bytes: impl AsRef<[u8]>) -> Self {
        fs::write(self.path().join(name), bytes).expect("a file can be written");
        self
    }

    pub(crate) fn path(&self) -> &Path {
        self.0.path()
    }

    pub(crate) fn text(&self, name: &str) -> String {
        fs::read_to_string(self.path().join(name)).expect("the file is there")
    }

    /// Names of everything in it, in order.
    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.path()).expect("the folder is there");
        let mut names: Vec<String> = entries
            .map(|it| it.expect("it can be looked at").file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }

    pub(crate) fn run(&self, arguments: &str) -> Ran {
        run_in(self.path(), arguments.split_whitespace())
    }

    /// With arguments that have spaces in them.
    pub(crate) fn run_with(&self, arguments: &[&str]) -> Ran {
        run_in(self.path(), arguments)
    }
}

/// Runs where the repository lies, as somebody who tries its examples would.
pub(crate) fn run(arguments: &str) -> Ran {
    run_in(Path::new(env!("CARGO_MANIFEST_DIR")), arguments.split_whitespace())
}

pub(crate) fn program() -> Command {
    Command::new(cargo_bin!("coldsill"))
}

fn run_in<S: AsRef<OsStr>>(folder: &Path, arguments: impl IntoIterator<Item = S>) -> Ran {
    Ran::of(&program().current_dir(folder).args(arguments).output().expect("the program starts"))
}

/// The schedule's outlet of a row, from the JSON of a review.
pub(crate) fn outlet(review: &Value, row: u64) -> &Value {
    let outlets = review["outlets"].as_array().expect("a review has outlets");
    outlets.iter().find(|it| it["at"]["row"] == row).expect("the row is reviewed")
}

/// What a rule says of an outlet.
pub(crate) fn comment<'o>(outlet: &'o Value, rule: &str) -> &'o Value {
    let comments = outlet["comments"].as_array().expect("an outlet has comments");
    comments.iter().find(|it| it["rule"] == rule).unwrap_or_else(|| panic!("{rule} says nothing"))
}

/// A text on one line, as if the page were endlessly wide.
pub(crate) fn unwrapped(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}
