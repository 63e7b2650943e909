//! The examples for users, followed to the letter: each command of a page is run, and what the page shows is printed.

use crate::cli::common::{Folder, program};
use std::fs;
use std::path::Path;

/// Words of a command, as a shell parts them.
fn words(command: &str) -> Vec<String> {
    let (mut words, mut quoted) = (vec![String::new()], false);
    for c in command.chars() {
        match c {
            '"' => quoted = !quoted,
            ' ' if !quoted => words.push(String::new()),
            c => words.last_mut().expect("a word").push(c),
        }
    }
    words
}

/// Runs the commands of a page; returns how many there were.
fn follow(example: &str) -> usize {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let page = fs::read_to_string(root.join("examples").join(example).join("README.md")).expect("a page");
    let blocks: Vec<(&str, &str)> = page
        .split("\n```sh\n")
        .skip(1)
        .map(|part| {
            let (command, rest) = part.split_once("\n```\n").expect("the command ends");
            let shown = rest.split_once("```text\n").and_then(|(_, rest)| rest.split_once("\n```"));
            (command, shown.expect("what it prints").0)
        })
        .collect();
    for (command, shown) in &blocks {
        let arguments = words(command.strip_prefix("coldsill ").expect("a command of the program"));
        let ran = program().current_dir(root).args(&arguments).output().expect("it starts");
        let out = String::from_utf8(ran.stdout).expect("UTF-8");
        for passage in shown.split("\n...\n") {
            assert!(out.contains(passage), "{command} does not print\n{passage}\nbut\n{out}");
        }
    }
    blocks.len()
}

#[test]
fn the_page_for_an_estimator_can_be_followed() {
    assert_eq!(follow("estimator"), 3);
}

#[test]
fn the_page_for_an_examiner_can_be_followed() {
    assert_eq!(follow("examiner"), 2);
}

#[test]
fn the_page_for_a_builder_can_be_followed_in_twelve_cities() {
    assert_eq!(follow("builder"), 5);
}

/// The three forms of the list say the same: rows and quantities of the order, read back as tables.
#[test]
fn the_order_list_is_one_in_text_csv_and_workbook() {
    let folder = Folder::new();
    for name in ["order.csv", "order.xlsx"] {
        let root = Path::new(env!("CARGO_MANIFEST_DIR"));
        let path = folder.path().join(name);
        let path = path.to_str().expect("a path");
        let ran = program()
            .current_dir(root)
            .args(["orders", "examples/estimator/harbor-view.yaml", "--output", path])
            .output()
            .expect("it starts");
        // One row waits for an answer.
        assert_eq!(ran.status.code(), Some(1), "{}", String::from_utf8_lossy(&ran.stderr));
    }
    let read = |name: &str| {
        let bytes = fs::read(folder.path().join(name)).expect("it is written");
        let tables = coldsill::input::tables(name, &bytes).expect("it is a table");
        tables[0]
            .rows
            .iter()
            .map(|row| row.cells.iter().map(ToString::to_string).collect::<Vec<_>>())
            .collect::<Vec<_>>()
    };
    let (csv, xlsx) = (read("order.csv"), read("order.xlsx"));
    // A workbook holds numbers, CSV their digits; blank cells at the end of a row are in the CSV alone.
    let number =
        |cell: &str| cell.parse::<f64>().map_or_else(|_| cell.to_owned(), |number| number.to_string());
    let numbers = |rows: &[Vec<String>]| {
        let row = |row: &Vec<String>| -> Vec<String> {
            let filled = row.iter().rposition(|cell| !cell.is_empty()).map_or(0, |at| at + 1);
            row[..filled].iter().map(|cell| number(cell)).collect()
        };
        rows.iter().map(row).collect::<Vec<_>>()
    };
    assert_eq!(numbers(&csv), numbers(&xlsx));
    assert_eq!(csv.len(), 5, "{csv:?}");
    assert_eq!(csv[1][..2], ["order", "24"]);
    assert!(csv.iter().any(|row| row[0] == "not yet" && row[1] == "6"), "{csv:?}");
}

#[test]
fn an_order_list_cannot_be_a_document_of_another_kind() {
    let folder = Folder::of("Mark,Kind\nHB-1,sillcock\n");
    folder.run_with(&["orders", "s.csv", "--climate", "dallas-tx", "--output", "order.pdf"]).is_refused(&[
        "order.pdf: cannot be written: .pdf is not a format of this output; expected .csv or .xlsx",
    ]);
}

#[test]
fn depth_needs_an_outdoor_temperature_and_a_known_wall() {
    let folder = Folder::new();
    folder.run("depth --wall 2x6 --barrel brass --supply copper").is_refused(&[
        "depth: has no outdoor temperature; expected --climate PLACE, --outdoors TEMPERATURE or a job",
    ]);
    let ran = folder.run("depth --wall 2x66 --barrel brasss --supply copper --climate dallas-tx");
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("\"2x66\" is not a known wall"), "{}", ran.err);
}

/// What a bare temperature and a climate of that design low give is the same depth.
#[test]
fn a_bare_temperature_is_a_design_low() {
    let folder = Folder::new();
    let least = |arguments: &[&str]| {
        let ran = folder.run_with(
            &[&["depth", "--wall", "2x6", "--barrel", "brass", "--supply", "copper"], arguments].concat(),
        );
        assert_eq!((ran.code, ran.err.as_str()), (0, ""));
        let at = ran.out.find("Minimum seat depth").expect("it is printed");
        ran.out[at..].lines().nth(2).map(str::to_owned)
    };
    let bare = least(&["--outdoors", "-5 °F"]);
    assert_eq!(bare, least(&["--climate", "chicago-il", "--design-low", "-5 °F"]));
    assert_eq!(bare, least(&["--outdoors", "-20.56 °C"]));
}
