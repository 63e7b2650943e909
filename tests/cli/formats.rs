//! A review as a letter, in Markdown and as CSV: the same words and figures as the page.

use crate::cli::common::{Folder, run};
use insta::assert_snapshot;

const EXAMPLE: &str = "review examples/kestrel-ridge/job.yaml --format";

#[test]
fn the_letter_numbers_what_to_revise_and_what_to_submit() {
    let letter = run(&format!("{EXAMPLE} letter")).out;
    // Whoever gets it does not know the program.
    for of_the_program in ["`", "coldsill", "--"] {
        let text = letter.lines().filter(|line| !line.chars().all(|c| c == '-'));
        assert!(text.clone().all(|line| !line.contains(of_the_program)), "{of_the_program}");
    }
    assert_snapshot!(letter);
}

#[test]
fn a_letter_with_nothing_to_say_says_so() {
    let folder = Folder::of(super::common::NOTHING_TO_ASK);
    let letter = folder.run(&format!("review s.csv --climate {} --format letter", super::common::WARM)).out;
    assert!(letter.contains("\nResult     nothing to revise or to clarify\n"), "{letter}");
}

/// A question quotes the first four texts; the others are listed at the end.
#[test]
fn a_letter_shows_every_text_that_cannot_be_read() {
    let lengths = ["long", "short", "as needed", "thru wall", "deep", "varies"];
    let rows: String =
        (1..).zip(lengths).map(|(n, it)| format!("HB-{n},frostproof sillcock,{it}\n")).collect();
    let folder = Folder::of(&format!("Mark,Kind,Nominal length\n{rows}"));
    let letter = folder.run("review s.csv --climate minneapolis-mn --format letter").out;
    for length in lengths {
        assert_eq!(letter.matches(&format!("\"{length}\"")).count(), 1, "{length}: {letter}");
    }
    assert!(letter.contains("\"thru wall\" and 2 more."), "{letter}");
}

/// One more than four is quoted instead of counted.
#[test]
fn a_letter_quotes_the_fifth_unreadable_text_once() {
    let lengths = ["long", "short", "as needed", "thru wall", "deep"];
    let rows: String =
        (1..).zip(lengths).map(|(n, it)| format!("HB-{n},frostproof sillcock,{it}\n")).collect();
    let folder = Folder::of(&format!("Mark,Kind,Nominal length\n{rows}"));
    let letter = folder.run("review s.csv --climate minneapolis-mn --format letter").out;
    assert_eq!(letter.matches("\"deep\"").count(), 1, "{letter}");
}

#[test]
fn the_page_in_markdown() {
    assert_snapshot!(run(&format!("{EXAMPLE} markdown")).out);
}

#[test]
fn a_line_for_each_row_of_the_schedule() {
    assert_snapshot!(run(&format!("{EXAMPLE} csv")).out);
}

/// A row that contradicts itself asks no question of a fact; the page and the file say what to do and quote both.
#[test]
fn a_row_in_doubt_is_to_be_settled_and_not_as_scheduled() {
    let folder = Folder::of("Mark,Kind,Barrel,Remarks\nA,frostproof sillcock,copper,on hold\n");
    let review = |format: &str| folder.run(&format!("review s.csv --climate dallas-tx {format}"));
    let page = review("").out;
    assert!(page.contains("; settle") && page.contains("\"on hold\" under Remarks"), "{page}");
    let csv = review("--format csv").out;
    assert!(
        csv.lines().nth(1).is_some_and(|line| line.contains("clarify") && line.contains("settle what is in")),
        "{csv}"
    );
    assert_eq!(review("--format letter").code, 1);
}

/// Whoever filters by a blank last column sees no row with a cell that was not read.
#[test]
fn a_line_of_csv_names_the_cells_that_could_not_be_read() {
    let folder = Folder::of(
        "Mark,Kind,Flange,Barrel\nA,frostproof sillcock,zork,copper?\nB,frostproof sillcock,brass,copper\n",
    );
    let csv = folder.run("review s.csv --climate dallas-tx --format csv").out;
    let line = |mark: &str| {
        csv.lines().find(|it| it.contains(&format!(",{mark},"))).expect("it has a line").to_owned()
    };
    assert!(line("A").ends_with("not read: Barrel \"\"copper?\"\", Flange \"\"zork\"\"\""), "{}", line("A"));
    assert!(!line("B").contains("not read"), "{}", line("B"));
}

#[test]
fn a_line_of_csv_names_the_words_that_are_not_used() {
    let folder = Folder::of(
        "Mark,Kind,Barrel,Notes\nA,frostproof sillcock,copper,as the tenant likes\nB,frostproof sillcock,copper,\n",
    );
    let csv = folder.run("review s.csv --climate dallas-tx --format csv").out;
    let lines: Vec<&str> = csv.lines().skip(1).collect();
    assert!(lines[0].contains("not used: Notes \"\"as the tenant likes\"\""), "{}", lines[0]);
    assert!(!lines[1].contains("not used"), "{}", lines[1]);
}

#[test]
fn what_is_no_cell_of_a_reviewed_row_has_a_line_of_csv_of_its_own() {
    let folder = Folder::of(
        "Not for construction,,,\nMark,Kind,Barrel,Standrad\nA,frostproof sillcock,copper,1019\nB,water closet,,\n",
    );
    let csv = folder.run("review s.csv --climate dallas-tx --format csv").out;
    let lines: Vec<&str> = csv.lines().skip(1).map(str::trim_end).collect();
    let own: Vec<&str> = lines.iter().copied().filter(|it| it.contains(",not ")).collect();
    assert_eq!(
        own,
        [
            "s.csv,2,,,,,not read,,\"\"\"Standrad\"\" is not a known heading; did you mean \"\"VB standard\"\"?\"",
            "s.csv,2,,,,,not used,,\"\"\"Standrad\"\": unknown heading\"",
            "s.csv,1,,,,,not used,,\"\"\"Not for construction\"\": no row cites this; it is not applied to any row\"",
        ]
    );
}

/// What a job says of rows and columns that are not there, each with a word of how every format tells it.
#[test]
fn a_job_that_cannot_be_followed_is_told_in_every_format() {
    for (name, job, told) in [
        ("columns", "columns: { Barel: barrel }", "Barel"),
        ("set_aside", "set_aside: HB-99", "HB-99"),
        ("places", "places: p.csv", "HB-77"),
    ] {
        let folder = Folder::of(super::common::NOTHING_TO_ASK)
            .with("p.csv", "Mark,Location,Qty\nHB-1,Rear,1\nHB-77,Side,1\n")
            .with("j.yaml", format!("climate: {}\nschedule: s.csv\n{job}\n", super::common::WARM));
        for format in ["text", "letter", "csv", "markdown", "html", "json", "sarif"] {
            let ran = folder.run(&format!("review j.yaml --format {format}"));
            assert_eq!(ran.code, 1, "{name}, {format}: {}", ran.err);
            assert!(ran.out.contains(told), "{name}, {format}: {}", ran.out);
        }
        let letter = folder.run("review j.yaml --format letter").out;
        assert!(
            letter.contains("\nResult     nothing to revise; what cannot be read is to be clarified\n"),
            "{letter}"
        );
        assert_eq!(letter.matches(&format!("\"{told}\"")).count(), 1, "{letter}");
    }
}

#[test]
fn what_a_schedule_says_is_no_formula_and_no_markup() {
    let schedule = "Mark,Kind,Location\n=cmd,sillcock,<b>|x\n";
    let folder = Folder::of(schedule);
    let review =
        |format: &str| folder.run(&format!("review s.csv --climate dallas-tx --format {format}")).out;
    assert!(review("csv").contains(", =cmd,"), "{}", review("csv"));
    let markdown = review("markdown");
    assert!(!markdown.contains("<b>"), "{markdown}");
}
