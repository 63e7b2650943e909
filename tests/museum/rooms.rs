//! The files and how each is handed to the program: the folder it lies in says which part of a job it is.

use assert_cmd::cargo::cargo_bin;
use coldsill::climate::Library;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::LazyLock;
use tempfile::TempDir;

/// The folders of wrong files.
pub(crate) const ROOMS: [&str; 13] = [
    "layout",
    "jobs",
    "reviewed",
    "walls",
    "climates",
    "hourly",
    "places",
    "products",
    "answers",
    "rules",
    "amendments",
    "finding",
    "own-climates",
];

/// What the program says of a wrong file.
pub(crate) struct Shown {
    pub room: &'static str,
    pub file: String,
    /// Exit status.
    pub code: i32,
    pub out: String,
    /// What is said of the file.
    pub said: String,
    /// Files that lie beside it afterwards and did not before.
    pub left: Vec<String>,
}

impl Shown {
    /// Whether the whole job is refused. A bad cell of product data is told in the report instead.
    pub fn is_refused(&self) -> bool {
        self.code == 2
    }

    /// Whether it is told in a report that is made all the same: of a job that goes through, or of a bad cell or row.
    pub fn is_told(&self) -> bool {
        ["reviewed", "products", "answers", "own-climates", "hourly"].contains(&self.room)
            && !self.is_refused()
    }
}

/// Everything shown, in order of rooms and names.
pub(crate) static ALL: LazyLock<Vec<Shown>> = LazyLock::new(|| {
    ROOMS
        .iter()
        .flat_map(|room| names(&files().join(room)).into_iter().map(|file| show(room, file)))
        .collect()
});

fn files() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/museum/files")
}

fn names(folder: &Path) -> Vec<String> {
    let entries =
        fs::read_dir(folder).expect("the folder is there").map(|it| it.expect("it can be looked at"));
    let mut names: Vec<String> = entries
        .filter(|it| it.path().is_file())
        .map(|it| it.file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}

fn show(room: &'static str, file: String) -> Shown {
    let wrong = fs::read(files().join(room).join(&file)).expect("the file is there");
    if room == "places" {
        return place(room, file, &wrong);
    }
    let folder = TempDir::new().expect("a folder can be made");
    for beside in names(&files()) {
        fs::copy(files().join(&beside), folder.path().join(&beside)).expect("it can be copied");
    }
    fs::write(folder.path().join(&file), wrong).expect("it can be written");
    let key = match room {
        "answers" => "answers",
        "own-climates" => "climates",
        _ => "products",
    };
    let job = format!("climate: dallas-tx\n{key}: {file}\nschedule: models.csv\n");
    fs::write(folder.path().join("the-job.yaml"), job).expect("it can be written");
    let before = names(folder.path());
    let rules = format!("schedule.csv --climate dallas-tx --rules {file}");
    let source = match room {
        "rules" | "amendments" => &rules,
        "products" | "answers" | "own-climates" => "the-job.yaml",
        _ => &file,
    };
    let arguments = match room {
        "hourly" => format!("climates --from-hourly {file} --output report.txt"),
        _ => format!("review {source} --detail --output report.txt"),
    };
    let ran = Command::new(cargo_bin!("coldsill"))
        .current_dir(folder.path())
        .args(arguments.split_whitespace())
        .output()
        .expect("the program starts");
    let code = ran.status.code().expect("it ends by itself");
    let said = if code == 2 {
        String::from_utf8(ran.stderr).expect("it prints UTF-8")
    } else {
        let report = fs::read_to_string(folder.path().join("report.txt")).expect("there is a report");
        if room == "hourly" { comments(&report) } else { told(&report) }
    };
    let left = names(folder.path()).into_iter().filter(|it| !before.contains(it)).collect();
    Shown { room, file, code, out: String::from_utf8(ran.stdout).expect("it prints UTF-8"), said, left }
}

/// A file of places is the program's own data: only whoever adds one sees what is wrong with it.
fn place(room: &'static str, file: String, wrong: &[u8]) -> Shown {
    let other = "source: Another table\nplaces:\n  river-road: { name: River road, design_low: -18 °F }\n";
    let read = Library::read([("other.yaml", other.as_bytes()), (file.as_str(), wrong)]);
    let problems = read.expect_err("it is wrong");
    let said = problems
        .iter()
        .map(|it| {
            format!("{it}\n{}", it.note().iter().map(|line| format!("    {line}\n")).collect::<String>())
        })
        .collect();
    Shown { room, file, code: 2, out: String::new(), said, left: Vec::new() }
}

/// The comments of a climate that was drawn from hours.
fn comments(drawn: &str) -> String {
    drawn.lines().filter_map(|it| it.trim_start().strip_prefix("# ")).map(|it| format!("{it}\n")).collect()
}

/// The parts of a report that tell of what was not read or not used.
fn told(report: &str) -> String {
    let lines: Vec<&str> = report.lines().collect();
    let mut out = String::new();
    for heading in ["Cells that could not be read", "Not used"] {
        if let Some(at) = lines.iter().position(|line| *line == heading) {
            let part = lines[at..].iter().take_while(|line| !line.is_empty());
            part.for_each(|line| out.push_str(&format!("{line}\n")));
        }
    }
    out
}
