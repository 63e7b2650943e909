//! Files of product data that are broken, hostile or of nothing: the job is refused in located lines, or the file is read
//! and what is wrong in it told.

use coldsill::climate::Library;
use coldsill::facts::{Sources, World, open};
use coldsill::input::Memory;
use coldsill::shipped;
use proptest::prelude::*;
use std::sync::LazyLock;

const SCHEDULE: &str = "Mark,Model,Kind\nHB-1,GEN-1,sillcock\nHB-2,GEN-9,sillcock\n";

static CLIMATES: LazyLock<&'static Library> =
    LazyLock::new(|| shipped::climates().expect("the shipped climates are right"));

/// A job with this file of product data.
fn opened(name: &str, bytes: &[u8], schedule: &str) -> Result<World, Vec<String>> {
    let job = format!("climate: miami-fl\nproducts: {name}\nschedule: s.csv\n");
    let files = Memory::new().with("job.yaml", job).with(name, bytes).with("s.csv", schedule);
    let sources = Sources {
        files: &files,
        source: "job.yaml",
        sheet: None,
        climate: None,
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &[],
        presets: Default::default(),
        climates: &CLIMATES,
    };
    open(&sources).map_err(|problems| problems.iter().map(ToString::to_string).collect())
}

#[track_caller]
fn refused(name: &str, bytes: &[u8], message: &str) {
    assert_eq!(opened(name, bytes, SCHEDULE).expect_err("was read"), [message]);
}

fn told(name: &str, bytes: &[u8]) -> Vec<String> {
    let world = opened(name, bytes, SCHEDULE).expect("was refused");
    world.job().schedule.problems.iter().map(ToString::to_string).collect()
}

const NO_GEN_9: &str = "s.csv, row 3, column \"Model\": \"GEN-9\" is not a model of";

#[test]
fn a_file_that_cannot_be_read_refuses_the_job_by_its_name() {
    refused("p.csv", b"", "p.csv: the file is empty");
    refused(
        "p.yaml",
        b"- [",
        "p.yaml, line 1, column 3: the bracket \"[\" that opens here is not closed; expected \"]\"",
    );
    let save = "expected UTF-8 text (in a spreadsheet, save it as \"CSV UTF-8\")";
    refused("p.csv", b"%PDF-1.7\n", &format!("p.csv: is a PDF, not text; {save}"));
    refused(
        "p.csv",
        b"Model,Barrel\nGEN-1,brass\xB0 \xC2\xB0\n",
        &format!(
            "p.csv, line 2, column 12: byte B0 is not UTF-8; the file looks like Windows-1252 text; {save}"
        ),
    );
    refused("p.csv", b"Mark,Barrel\nHB-1,brass\n", "p.csv: does not name models; expected a column Model");
    refused("p.csv", b"Model,Barrel\n", "p.csv: does not name models; expected a column Model");
    refused(
        "p.yaml",
        b"- GEN-1\n",
        "p.yaml, line 1, column 1: the product data should be keys with values, not a list; expected \"key: value\" lines without dashes, or { key: value }",
    );
}

#[test]
fn a_file_there_is_not_names_the_nearest() {
    let files = Memory::new()
        .with("job.yaml", "climate: miami-fl\nproducts: outlet.csv\nschedule: s.csv\n")
        .with("outlets.csv", "Model\nGEN-1\n")
        .with("s.csv", SCHEDULE);
    let sources = Sources {
        files: &files,
        source: "job.yaml",
        sheet: None,
        climate: None,
        design_low: None,
        answers: &[],
        rules: &[],
        base_rules: &[],
        presets: Default::default(),
        climates: &CLIMATES,
    };
    let problems: Vec<String> = open(&sources).err().unwrap().iter().map(ToString::to_string).collect();
    assert_eq!(problems, ["outlet.csv: there is no such file; did you mean \"outlets.csv\"?"]);
}

#[test]
fn more_models_than_there_can_be_are_refused_soon() {
    let mut file = "Model,Barrel\n".to_owned();
    (0..10_001).for_each(|model| file += &format!("GEN-{model},brass\n"));
    refused(
        "p.csv",
        file.as_bytes(),
        "p.csv, row 10002, column \"Model\": is over the limit of 10,000 models in a file of product data",
    );
}

#[test]
fn ten_thousand_unknown_models_are_each_reported() {
    let file: String = (0..9_000).map(|model| format!("GEN-{model:05},brass\n")).collect();
    let schedule: String =
        (0..10_000).map(|row| format!("HB-{row},OTHER-{row}-LONG-NAME,sillcock\n")).collect();
    let world =
        opened("p.csv", format!("Model,Barrel\n{file}").as_bytes(), &format!("Mark,Model,Kind\n{schedule}"));
    assert_eq!(world.map(|it| it.job().schedule.problems.len()), Ok(10_000));
}

#[test]
fn a_bad_cell_is_told_at_its_place_and_the_rest_is_read() {
    let problems = told(
        "p.csv",
        b"Model,Barrel,Nominal length,Bareel thickness\nGEN-1,brasss,10 parsecs,1\n,copper,,\n",
    );
    let [missing, barrel, length, heading, nameless] = {
        let mut it = problems.clone();
        it.sort();
        let find = |part: &str| {
            it.iter().find(|it| it.contains(part)).unwrap_or_else(|| panic!("{part}: {it:?}")).clone()
        };
        [find(NO_GEN_9), find("\"brasss\""), find("parsecs"), find("Bareel"), find("does not name a model")]
    };
    assert_eq!(problems.len(), 5, "{problems:?}");
    assert!(missing.contains("p.csv"), "{missing}");
    assert!(
        barrel.starts_with("p.csv, row 2, column \"Barrel\"") && barrel.contains("did you mean \"brass\"?"),
        "{barrel}"
    );
    assert!(length.starts_with("p.csv, row 2, column \"Nominal length\""), "{length}");
    assert!(heading.contains("did you mean \"Barrel thickness\"?"), "{heading}");
    assert!(nameless.starts_with("p.csv, row 3"), "{nameless}");
}

#[test]
fn yaml_of_the_wrong_shape_is_told_where_it_stands() {
    let file = "GEN-1: { Barel: brass, Barrel: { a: b }, Length: 8 in, Nominal length: 10 in, Stem: ~ }\nGEN-2: brass\n\"-\": { Barrel: brass }\n";
    assert_eq!(
        told("p.yaml", file.as_bytes()),
        [
            &format!("{NO_GEN_9} p.yaml; did you mean \"GEN-1\"?"),
            "p.yaml, line 1, column 10: \"Barel\" is not a heading product data can have; did you mean \"Barrel\"?",
            "p.yaml, line 1, column 32: the value should be a text, not keys with values; expected one value; in quotes, where it starts with a brace or holds a colon",
            "p.yaml, line 1, column 56: \"Nominal length\" is given twice for one model",
            "p.yaml, line 2, column 8: the model should be keys with values, not a text; expected \"key: value\" lines, or { key: value }",
            "p.yaml, line 3, column 1: \"-\" is not a model's name",
        ]
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_a_job_with_product_data_panic(bytes in prop::collection::vec(any::<u8>(), 0..200), yaml in any::<bool>()) {
        let name = if yaml { "p.yaml" } else { "p.csv" };
        if let Err(problems) = opened(name, &bytes, SCHEDULE) {
            prop_assert!(problems.iter().all(|it| !it.contains(['\n', '\r'])), "{problems:?}");
        }
    }

    /// Whatever the cells hold, the file is read and every problem is one line that names its file.
    #[test]
    fn any_cells_under_right_headings_are_read_or_told(
        rows in prop::collection::vec((0_u8..4, "\\PC{0,12}", "[0-9 /\"inmm.°-]{0,8}", "\\PC{0,12}"), 1..6)
    ) {
        let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
        let mut file = "Model,Barrel,Nominal length,Seat offset\nGEN-1,brass,10 in,1 in\n".to_owned();
        for (model, barrel, length, offset) in &rows {
            file += &format!("GEN-{model},{},{},{}\n", quoted(barrel), quoted(length), quoted(offset));
        }
        let world = opened("p.csv", file.as_bytes(), SCHEDULE).map_err(|it| TestCaseError::fail(format!("{it:?}")))?;
        for problem in &world.job().schedule.problems {
            let line = problem.to_string();
            prop_assert!(!line.contains(['\n', '\r']), "{line}");
            prop_assert!(line.starts_with("p.csv, row ") || line.starts_with("s.csv, row "), "{line}");
        }
        // The first GEN-1 holds, unless another line describes the same model.
        let row = &world.job().schedule.rows[0];
        let stated = world.given_facts(row);
        let barrel = stated.iter().flatten().any(|fact| {
            matches!(&fact.value, Ok(coldsill::expr::Value::Text(word)) if &**word == "brass")
        });
        let is_again = rows.iter().any(|(model, ..)| *model == 1);
        prop_assert!(barrel || is_again);
    }
}
