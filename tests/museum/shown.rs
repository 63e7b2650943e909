//! What is said, room by room, and that a refusal leaves nothing behind.

use crate::museum::rooms::{ALL, ROOMS};

fn page(room: &str) -> String {
    ALL.iter().filter(|it| it.room == room).map(|it| format!("{}\n", it.said)).collect()
}

#[test]
fn what_is_said_of_each_wrong_file() {
    for room in ROOMS {
        insta::assert_snapshot!(room, page(room));
    }
}

#[test]
fn a_wrong_file_exits_with_2_prints_nothing_and_leaves_nothing_half_written() {
    for it in ALL.iter().filter(|it| !it.is_told()) {
        let at = format!("{}/{}", it.room, it.file);
        assert_eq!((it.code, it.out.as_str()), (2, ""), "{at}");
        assert!(it.left.is_empty(), "{at} leaves {:?}", it.left);
        assert!(!it.said.is_empty(), "{at}");
    }
}

#[test]
fn what_refuses_no_job_is_told_in_a_report_that_is_made_all_the_same() {
    for it in ALL.iter().filter(|it| it.is_told()) {
        assert_eq!((it.code, it.left.as_slice()), (1, &["report.txt".to_owned()][..]), "{}", it.file);
        assert!(it.said.contains(&it.file) || it.said.contains("models.csv"), "{}: {}", it.file, it.said);
    }
}

/// Each diagnostic is one line; under it at most its source line, and under that at most a line of carets.
#[test]
fn each_diagnostic_is_one_line_with_at_most_a_source_line() {
    for it in ALL.iter().filter(|it| it.is_refused()) {
        let mut before = "";
        for line in it.said.lines() {
            let (is_source, is_caret) =
                (line.starts_with("    source line: "), line.trim_matches([' ', '^']).is_empty());
            assert!(
                !is_source || before.contains(": ") && !before.starts_with("    "),
                "{}: {line}",
                it.file
            );
            assert!(!is_caret || before.starts_with("    source line: "), "{}: {line}", it.file);
            assert!(is_source || is_caret || line.contains(": "), "{}: {line}", it.file);
            assert!(!(is_source || is_caret) || line.chars().count() <= 80, "{}: {line}", it.file);
            before = line;
        }
    }
}

#[test]
fn a_problem_on_a_line_of_a_file_has_that_line_under_it() {
    for it in ALL.iter().filter(|it| it.is_refused()) {
        let lines: Vec<&str> = it.said.lines().collect();
        for (index, line) in lines.iter().enumerate() {
            let located = line.starts_with(&format!("{}, line ", it.file));
            let noted = lines.get(index + 1).is_some_and(|next| next.starts_with("    "));
            assert!(!located || noted, "{}: {line}", it.file);
        }
    }
}
