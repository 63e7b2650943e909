//! House rules the compiler cannot check: which module may use which, length of files, a first line that says what a
//! file is for.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::{fs, io};

/// Each module (a folder or file of `src`), and the modules it may use.
const MODULES: &[(&str, &[&str])] = &[
    ("truth", &[]),
    ("diag", &[]),
    ("thermal", &[]),
    ("physics", &[]),
    ("units", &["diag"]),
    ("input", &["units", "diag"]),
    ("expr", &["truth", "units", "diag"]),
    ("schedule", &["input", "units", "diag"]),
    ("climate", &["input", "units", "diag"]),
    ("weather", &["climate", "input", "units", "diag"]),
    ("spell", &["weather", "climate", "units", "diag"]),
    ("wall", &["input", "units", "diag", "physics"]),
    ("section", &["thermal", "physics"]),
    ("ruleset", &["input", "expr", "truth", "units", "diag"]),
    ("job", &["schedule", "spell", "climate", "wall", "ruleset", "expr", "input", "units", "diag"]),
    (
        "facts",
        &[
            "job", "schedule", "spell", "climate", "wall", "ruleset", "expr", "truth", "input", "units",
            "diag", "section", "physics",
        ],
    ),
    (
        "review",
        &["facts", "ruleset", "job", "expr", "truth", "units", "diag", "schedule", "spell", "climate"],
    ),
    ("standard", &["review", "facts", "job", "climate", "input", "units", "diag", "physics"]),
    (
        "report",
        &[
            "standard", "review", "facts", "ruleset", "expr", "units", "diag", "section", "physics", "spell",
            "climate", "wall",
        ],
    ),
    ("schema", &["facts", "job", "wall", "climate", "ruleset", "expr", "units", "physics"]),
    ("shipped", &["climate", "ruleset", "diag"]),
];
/// The program uses the library as anybody would: `coldsill::`, and its own files.
const PROGRAM: &str = "cli";
const LIBRARY: &str = "lib";
/// Where the modules lie: the program, and the heat engine, which is a crate of its own.
const SOURCES: [&str; 2] = ["src", "crates/heat/src"];
const MOST_LINES: usize = 400;

/// A file of `src` by its path below it.
struct File<'f> {
    path: &'f str,
    text: &'f str,
}

impl File<'_> {
    /// The folders and the file's own name: `["facts", "heat"]` for `facts/heat.rs`, `["facts"]` for `facts/mod.rs`.
    fn module(&self) -> Vec<&str> {
        let mut parts: Vec<&str> = self.path.trim_end_matches(".rs").split('/').collect();
        if matches!(parts.last(), Some(&"mod")) {
            parts.pop();
        }
        parts
    }

    fn top_module(&self) -> &str {
        self.path.split('/').next().unwrap_or_default().trim_end_matches(".rs")
    }

    fn problems(&self) -> Vec<String> {
        let mut problems = Vec::new();
        if self.text.lines().count() > MOST_LINES {
            problems.push(format!("{}: has more than {MOST_LINES} lines", self.path));
        }
        if !self.text.starts_with("//! ") {
            problems.push(format!("{}: does not start by saying what it is for (`//! ...`)", self.path));
        }
        let module = self.top_module();
        let allowed = match (module, MODULES.iter().find(|(name, _)| *name == module)) {
            (LIBRARY | PROGRAM, _) => &[],
            (_, Some((_, allowed))) => *allowed,
            (_, None) => {
                problems.push(format!(
                    "{}: the module `{module}` is missing from the table of modules",
                    self.path
                ));
                return problems;
            }
        };
        for used in self.used() {
            let own = match module {
                LIBRARY => true,
                PROGRAM => !is_module(&used),
                _ => used == module,
            };
            if !own && !allowed.contains(&used.as_str()) {
                problems.push(format!("{}: `{module}` must not use `{used}`", self.path));
            }
        }
        problems
    }

    /// The modules the file names: by `crate::`, in a group, or up through `super::`.
    fn used(&self) -> BTreeSet<String> {
        let code = without_comments_and_texts(self.text);
        let mut used = BTreeSet::new();
        for (at, _) in code.match_indices("crate::") {
            if !code[..at].ends_with(is_letter) {
                used.extend(first_names(&code[at + "crate::".len()..]));
            }
        }
        let depth = self.module().len();
        for (at, _) in code.match_indices("super::") {
            // Each chain is looked at once, from its start.
            if code[..at].ends_with("super::") || code[..at].ends_with(is_letter) {
                continue;
            }
            let chain = &code[at..];
            let ups =
                std::iter::successors(chain.strip_prefix("super::"), |it| it.strip_prefix("super::")).count();
            // A test module within the file is one deeper than the file.
            let depth = depth + usize::from(code[..at].contains("mod tests {"));
            if ups >= depth {
                used.extend(first_names(&chain[ups * "super::".len()..]));
            }
        }
        used
    }
}

fn is_module(name: &str) -> bool {
    MODULES.iter().any(|(module, _)| *module == name)
}

fn is_letter(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The name a path starts with, or those a group in braces starts with.
fn first_names(path: &str) -> Vec<String> {
    let Some(group) = path.strip_prefix('{') else {
        return vec![path.chars().take_while(|c| is_letter(*c)).collect()];
    };
    let (mut names, mut depth, mut starts) = (Vec::new(), 0_usize, true);
    for (at, c) in group.char_indices() {
        match c {
            '{' => depth += 1,
            '}' if depth == 0 => break,
            '}' => depth -= 1,
            ',' if depth == 0 => starts = true,
            c if starts && is_letter(c) => {
                names.push(group[at..].chars().take_while(|c| is_letter(*c)).collect());
                starts = false;
            }
            _ => {}
        }
    }
    names
}

/// The code, with everything in comments and in quotes blanked out.
fn without_comments_and_texts(text: &str) -> String {
    let mut code = String::new();
    for line in text.lines() {
        let (mut quoted, mut escaped, mut before) = (false, false, ' ');
        for c in line.chars() {
            if !quoted && before == '/' && c == '/' {
                break;
            }
            // A quote in single quotes opens nothing.
            if c == '"' && !escaped && before != '\'' {
                quoted = !quoted;
            } else if !quoted {
                code.push(c);
            }
            escaped = quoted && c == '\\' && !escaped;
            before = c;
        }
        code.push('\n');
    }
    code
}

fn rust_files(dir: &Path) -> io::Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(dir)? {
        let path = entry?.path();
        if path.is_dir() {
            files.extend(rust_files(&path)?);
        } else if path.extension().is_some_and(|it| it == "rs") {
            files.push(path);
        }
    }
    files.sort();
    Ok(files)
}

#[test]
fn every_source_file_keeps_the_house_rules() -> io::Result<()> {
    let mut problems = Vec::new();
    for source in SOURCES {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join(source);
        for path in rust_files(&source)? {
            let below = path.strip_prefix(&source).map_err(io::Error::other)?.to_string_lossy();
            let below = below.replace('\\', "/");
            problems.extend(File { path: &below, text: &fs::read_to_string(&path)? }.problems());
        }
    }
    assert!(problems.is_empty(), "\n{}\n", problems.join("\n"));
    Ok(())
}

#[test]
fn every_module_of_the_table_is_in_the_sources() {
    let stands = |source: &str, module: &str| {
        let source = Path::new(env!("CARGO_MANIFEST_DIR")).join(source);
        source.join(module).is_dir() || source.join(format!("{module}.rs")).is_file()
    };
    for (module, _) in MODULES {
        assert!(SOURCES.iter().any(|source| stands(source, module)), "{module}");
    }
}

/// A row of the table in `DEVELOPERS.md` is "| `schedule`, `climate` | what they hold | input, units |".
#[test]
fn the_table_for_contributors_lists_the_same_modules() {
    let words = |cell: &str| -> BTreeSet<String> {
        cell.split(',')
            .map(|word| word.trim().trim_matches('`').to_owned())
            .filter(|it| !it.is_empty())
            .collect()
    };
    let mut listed = BTreeSet::new();
    let rows = include_str!("../DEVELOPERS.md").lines().filter(|line| line.starts_with("| `"));
    for row in rows {
        let [_, modules, _, uses, _] = row.split('|').collect::<Vec<_>>()[..] else { panic!("{row}") };
        listed.extend(words(modules).into_iter().map(|module| (module, words(uses))));
    }
    let allowed = |uses: &[&str]| uses.iter().map(|it| (*it).to_owned()).collect();
    let mut expected: BTreeSet<(String, BTreeSet<String>)> =
        MODULES.iter().map(|(module, uses)| ((*module).to_owned(), allowed(uses))).collect();
    expected.insert((PROGRAM.into(), words("the public library")));
    assert_eq!(listed, expected);
}

#[test]
fn no_two_rooms_use_each_other() {
    let uses = |module: &str| MODULES.iter().find(|(name, _)| *name == module).map_or(&[][..], |(_, it)| it);
    for (module, allowed) in MODULES {
        for other in *allowed {
            assert!(is_module(other), "{module} may use {other}, which is no module");
            assert!(!uses(other).contains(module), "{module} and {other}");
        }
    }
}

/// The problems of a made-up file that starts as it should.
fn found(path: &str, code: &str) -> Vec<String> {
    File { path, text: &format!("//! Made up.\n{code}") }.problems()
}

#[test]
fn a_room_that_may_be_used_is_no_problem() {
    assert_eq!(found("expr/lex.rs", "use crate::units::Dim;\nuse crate::{diag, truth::Truth};\n"), [""; 0]);
}

#[test]
fn a_rooms_own_files_are_no_problem() {
    assert_eq!(found("expr/lex.rs", "use super::ast;\nuse crate::expr::Value;\n"), [""; 0]);
}

#[test]
fn a_room_that_may_not_be_used_is_named() {
    assert_eq!(
        found("thermal/grid.rs", "use crate::units::Dim;\n"),
        ["thermal/grid.rs: `thermal` must not use `units`"]
    );
}

#[test]
fn a_use_in_the_middle_of_code_counts() {
    assert_eq!(
        found("truth.rs", "fn a() {\n    let b = crate::expr::c();\n}\n"),
        ["truth.rs: `truth` must not use `expr`"]
    );
}

#[test]
fn every_name_of_a_group_counts_and_what_is_within_them_does_not() {
    assert_eq!(
        found("climate/place.rs", "use crate::{\n    diag::{self, section},\n    job::Job,\n    wall,\n};\n"),
        ["climate/place.rs: `climate` must not use `job`", "climate/place.rs: `climate` must not use `wall`"]
    );
}

#[test]
fn the_way_round_through_super_counts() {
    assert_eq!(
        found("physics/water.rs", "use super::super::facts::Fact;\n"),
        ["physics/water.rs: `physics` must not use `facts`"]
    );
    assert_eq!(
        found("physics/mod.rs", "use super::facts;\n"),
        ["physics/mod.rs: `physics` must not use `facts`"]
    );
    assert_eq!(found("truth.rs", "use super::{diag, units};\n").len(), 2);
}

#[test]
fn super_within_a_room_is_no_problem() {
    assert_eq!(found("expr/parse/arithmetic.rs", "use super::super::facts;\n"), [""; 0]);
}

#[test]
fn a_test_module_is_one_deeper_than_its_file() {
    let code = "mod tests {\n    use super::super::depth;\n    use super::super::super::facts;\n}\n";
    assert_eq!(found("section/solve.rs", code), ["section/solve.rs: `section` must not use `facts`"]);
}

#[test]
fn comments_and_texts_use_nothing() {
    let code = "// crate::facts\nlet a = \"crate::facts \\\" super::super::facts\"; // super::super::facts\n";
    assert_eq!(found("units/table.rs", code), [""; 0]);
}

#[test]
fn a_quote_in_single_quotes_opens_no_text() {
    assert_eq!(
        found("units/table.rs", "let a = ('\"', crate::facts::b);\n"),
        ["units/table.rs: `units` must not use `facts`"]
    );
}

#[test]
fn a_macro_of_another_crate_is_not_this_crate() {
    assert_eq!(found("truth.rs", "use mycrate::facts;\n"), [""; 0]);
}

#[test]
fn the_program_may_use_its_own_files_but_no_room_except_through_the_library() {
    assert_eq!(
        found("cli/main.rs", "use crate::options::Cli;\nuse coldsill::facts;\nuse super::disk;\n"),
        [""; 0]
    );
    assert_eq!(
        found("cli/lists.rs", "use crate::facts::World;\n"),
        ["cli/lists.rs: `cli` must not use `facts`"]
    );
}

#[test]
fn the_library_itself_may_name_every_room() {
    assert_eq!(found("lib.rs", "pub mod facts;\nuse crate::facts::World;\n"), [""; 0]);
}

#[test]
fn a_room_that_is_not_in_the_table_is_told() {
    assert_eq!(
        found("attic/mod.rs", ""),
        ["attic/mod.rs: the module `attic` is missing from the table of modules"]
    );
}

#[test]
fn a_long_file_is_told_and_one_at_the_limit_is_not() {
    assert_eq!(found("truth.rs", &"\n".repeat(MOST_LINES - 1)), [""; 0]);
    assert_eq!(found("truth.rs", &"\n".repeat(MOST_LINES)), ["truth.rs: has more than 400 lines"]);
}

#[test]
fn a_file_that_does_not_say_what_it_is_for_is_told() {
    let file = File { path: "truth.rs", text: "use std::fmt;\n" };
    assert_eq!(file.problems(), ["truth.rs: does not start by saying what it is for (`//! ...`)"]);
}
