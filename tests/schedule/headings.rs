//! Headings a job names itself, and two columns for one fact.

use super::common::{held, of, opened, problems, read, said, unused};
use coldsill::input::Memory;

fn with_columns(columns: &str, schedule: &str) -> Result<coldsill::schedule::Schedule, Vec<String>> {
    let job = format!("climate: miami-fl\nschedule: s.csv\ncolumns: {columns}\n");
    let files = Memory::new().with("job.yaml", job).with("s.csv", schedule);
    opened(&files, "job.yaml", None, None).map(|it| of(&it))
}

#[test]
fn a_job_says_what_its_own_headings_are() {
    let schedule = with_columns(
        "{ \"#\": Mark, Reach: nominal_length, Spec ref: ignore }",
        "#,Reach (in),Spec ref,Kind\nHB-1,8,22 11 19,sillcock\n",
    )
    .expect("is read");
    assert_eq!(said(&schedule, 2), ["HB-1", "sillcock", "8"]);
    assert_eq!(unused(&schedule), ["s.csv, row 1: Spec ref: the job ignores this column"]);
    assert_eq!(problems(&schedule), [""; 0]);
}

#[test]
fn a_heading_named_wrongly_is_told_where_the_job_names_it() {
    assert_eq!(
        with_columns("{ Reach: Bareel }", "Mark,Reach\nHB-1,8 in\n").expect_err("is refused"),
        [
            "job.yaml, line 3, column 19: \"Bareel\" is not a heading a schedule can have, nor a fact; did you mean \"Barrel\"?"
        ]
    );
    let schedule = with_columns("{ Reech: Barrel }", "Mark,Reach\nHB-1,8 in\n").expect("is read");
    assert_eq!(
        problems(&schedule),
        ["job.yaml, line 3, column 12: \"Reech\" is not a heading of the schedule; did you mean \"Reach\"?"]
    );
}

#[test]
fn two_columns_for_one_fact_are_told_only_where_they_differ() {
    let schedule = read(
        "s.csv",
        b"Mark,Length (in),Barrel length\nHB-1,8,8 in\nHB-2,8,10 in\nHB-3,,12 in\nHB-4,8,203.2 mm\n",
    );
    let lengths: Vec<String> = (2..6).map(|row| said(&schedule, row)[1].clone()).collect();
    assert_eq!(lengths, ["8", "?", "12", "8"]);
    assert_eq!(
        problems(&schedule),
        [
            "s.csv, row 3, column \"Barrel length\": \"10 in\" contradicts \"8\" under \"Length (in)\"; neither is used; \
          expected the same in both columns"
        ]
    );
}

#[test]
fn of_two_columns_of_free_words_the_more_usual_heading_is_read() {
    let schedule = read("s.csv", b"Item,Mark,Kind\n1,HB-1,sillcock\n");
    assert_eq!(said(&schedule, 2), ["HB-1", "sillcock"]);
    assert_eq!(
        unused(&schedule),
        ["s.csv, row 1: Item: another column states the same fact; that one is read"]
    );
}

#[test]
fn a_unit_below_a_heading_that_it_does_not_measure_is_told() {
    let schedule = read("s.csv", b"Mark,Nominal length,Slope\n,in,in\nHB-1,8,2 %\n");
    assert_eq!(said(&schedule, 3), ["HB-1", "8", "0.02"]);
    assert_eq!(problems(&schedule), ["s.csv, row 2, column \"Slope\": \"in\" is not a unit for this column"]);
}

/// Three titles name hydrants, and only two rows have a mark.
#[test]
fn titles_do_not_decide_what_the_column_of_marks_is() {
    let schedule = read(
        "s.csv",
        b"Mark,Closes,Nominal length\nWALL HYDRANTS NORTH,,\nHB-1,inside,8 in\nWALL HYDRANTS SOUTH,,\n\
          HB-2,inside,10 in\nWALL HYDRANTS ROOF,,\n",
    );
    assert_eq!(said(&schedule, 3)[0], "HB-1");
    assert_eq!(said(&schedule, 5)[0], "HB-2");
}

/// One cell in five is too few.
#[test]
fn an_unknown_column_with_one_name_is_not_a_description() {
    let schedule = read(
        "s.csv",
        b"Mark,Kind,Zqx\nA,sillcock,ok\nB,sillcock,ok\nC,sillcock,ok\nD,sillcock,ok\nE,sillcock,water closet\n",
    );
    assert_eq!(unused(&schedule), ["s.csv, row 1: Zqx: unknown heading"]);
}

#[test]
fn a_column_no_with_letters_is_not_a_count() {
    let schedule = read("s.csv", b"Mark,No.,Kind\nHB-1,W1,sillcock\nHB-2,W2,sillcock\n");
    assert_eq!(
        unused(&schedule),
        ["s.csv, row 1: No.: another column states the same fact; that one is read"]
    );
    assert_eq!(problems(&schedule), [""; 0]);
}

#[test]
fn a_heading_in_doubt_is_held_against_each_row_with_a_cell_under_it_unless_the_job_names_it() {
    for heading in [
        "Former kind",
        "Prior kind",
        "Kind (not approved)",
        "Kind (if approved)",
        "Kind (tentative)",
        "Alternate kind",
        "Kind - deleted",
    ] {
        let text = format!("Mark,{heading},Length\nHB-1,sillcock,8 in\nHB-2,,8 in\n");
        let schedule = read("s.csv", text.as_bytes());
        assert_eq!(held(&schedule, 2), format!("Heading: \"{heading}\" in s.csv, row 1"));
        let named = with_columns(&format!("{{ \"{heading}\": Kind }}"), &text).expect("is read");
        assert_eq!(held(&named, 2), "", "{heading}");
    }
    assert_eq!(held(&read("s.csv", b"Mark,Kind of faucet\nHB-1,sillcock\n"), 2), "");
}

#[test]
fn a_length_in_inches_under_a_heading_in_millimeters_is_not_known() {
    let told = |heading: &str, cell: &str| {
        let text = format!("Mark,Kind,{heading}\nHB-1,sillcock,{cell}\n");
        problems(&read("s.csv", text.as_bytes()))
    };
    assert_eq!(
        told("Length (mm)", "12 in"),
        [
            "s.csv, row 2, column \"Length (mm)\": \"12 in\" is not in mm, which its heading says; expected a number alone, \
             or a heading without a unit"
        ]
    );
    assert_eq!(told("Length (in)", "305 mm").len(), 1);
    for (heading, cell) in
        [("Length (in)", "1 ft"), ("Length (mm)", "305"), ("Length (mm)", "305 mm"), ("Length", "305 mm")]
    {
        assert_eq!(told(heading, cell), [""; 0], "{cell} under {heading}");
    }
}

#[test]
fn words_beside_a_heading_that_change_nothing_leave_it_known() {
    let schedule =
        read("s.csv", b"Mark / tag,Qty (ea),Kind,Length (nom.),Flange mat'l\nHB-1,12,sillcock,8 in,brass\n");
    assert_eq!(unused(&schedule), [""; 0]);
    assert_eq!(said(&schedule, 2), ["HB-1", "12", "sillcock", "8", "brass"]);
}

#[test]
fn a_row_that_numbers_the_columns_belongs_to_the_headings() {
    for numbers in ["(1),(2),(3)", "1,2,3", "A,B,C"] {
        let text = format!("Mark,Qty,Kind\n{numbers}\nHB-1,12,sillcock\n");
        let schedule = read("s.csv", text.as_bytes());
        let rows: Vec<u32> = schedule.rows.iter().map(|row| row.number).collect();
        assert_eq!(rows, [3], "{numbers}");
    }
}

/// The marks and counts of rows with two columns before the kind.
fn marks_and_counts(headings: &str, rows: &[[&str; 2]]) -> Vec<String> {
    let lines: String = rows.iter().map(|[one, other]| format!("{one},{other},sillcock\n")).collect();
    let schedule = read("s.csv", format!("{headings},Kind\n{lines}").as_bytes());
    let all = |row| said(&schedule, row).into_iter().filter(|it| it != "sillcock").collect::<Vec<_>>();
    (2..).take(rows.len()).flat_map(all).collect()
}

#[test]
fn numbers_of_lines_beside_the_marks_count_nothing() {
    for heading in ["No.", "Number", "#"] {
        let rows = [["101", "HB-1"], ["102", "HB-2"], ["103", "HB-3"]];
        assert_eq!(
            marks_and_counts(&format!("{heading},Mark"), &rows),
            ["HB-1", "HB-2", "HB-3"],
            "{heading}"
        );
    }
    let rows = [["HB-1", "1"], ["HB-2", "2"], ["HB-3", "3"]];
    assert_eq!(marks_and_counts("Tag,No.", &rows), ["HB-1", "HB-2", "HB-3"]);
    // One number before a mark may be either.
    assert_eq!(marks_and_counts("No.,Tag", &[["4", "HB-1"]]), ["HB-1"]);
}

#[test]
fn counts_under_number_are_counts() {
    assert_eq!(marks_and_counts("No.,Tag", &[["4", "HB-1"], ["2", "HB-2"]]), ["HB-1", "4", "HB-2", "2"]);
    assert_eq!(marks_and_counts("Tag,Number", &[["HB-1", "4"]]), ["HB-1", "4"]);
    assert_eq!(marks_and_counts("Number,Qty", &[["HB-1", "4"], ["HB-2", "5"]]), ["HB-1", "4", "HB-2", "5"]);
}

#[test]
fn of_two_tables_side_by_side_the_first_has_the_marks_and_it_is_told() {
    let schedule = read("s.csv", b"Mark,Kind,,Mark,Vent\nHB-1,sillcock,,P-9,2 in\n");
    assert_eq!(said(&schedule, 2), ["HB-1", "sillcock"]);
    let twice = "is the heading of two columns that differ, of which one is read";
    let expected = "expected each heading once, and tables below each other or on sheets of their own";
    assert_eq!(problems(&schedule), [format!("s.csv, row 1: \"Mark\" {twice}; {expected}")]);
}

#[test]
fn a_heading_twice_over_the_same_texts_is_no_problem() {
    let schedule =
        read("s.csv", b"Mark,Location,Kind,Location\nHB-1,North,sillcock,north\nHB-2,South,sillcock,\n");
    assert_eq!(problems(&schedule), [""; 0]);
}

#[test]
fn a_shutoff_is_a_valve_on_the_pipe_and_says_nothing_of_where_the_faucet_closes() {
    for (says, problem) in
        [("No", None), ("Yes", None), ("Inside", Some("is neither yes nor no; expected yes or no"))]
    {
        let schedule =
            read("s.csv", format!("Mark,Description,Shutoff\nHB-1,frostproof sillcock,{says}\n").as_bytes());
        assert!(said(&schedule, 2).contains(&"inside".to_owned()), "{:?}", said(&schedule, 2));
        let plain = read("s.csv", format!("Mark,Description,Shutoff\nHB-1,hose bibb,{says}\n").as_bytes());
        assert!(!said(&plain, 2).contains(&"inside".to_owned()), "{:?}", said(&plain, 2));
        let expected: Vec<String> = problem
            .map(|problem| format!("s.csv, row 2, column \"Shutoff\": \"{says}\" {problem}"))
            .into_iter()
            .collect();
        assert_eq!(problems(&schedule), expected);
    }
}
