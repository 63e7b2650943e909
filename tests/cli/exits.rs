//! Exit status, and what is left where.

use crate::cli::common::{Folder, NOTHING_TO_ASK, WARM, program, run, unwrapped};
use std::fs;
use std::process::Stdio;

const NO_DEVICE: &str = "Mark,Kind,Backflow device\nHB-1,Hose bibb,None\n";

#[test]
fn a_schedule_that_raises_nothing_exits_with_0() {
    let ran = Folder::of(NOTHING_TO_ASK).run(&format!("review s.csv --climate {WARM}"));
    assert_eq!((ran.code, ran.err.as_str()), (0, ""));
}

#[test]
fn a_schedule_that_raises_nothing_has_no_comment_of_any_kind() {
    let review =
        Folder::of(NOTHING_TO_ASK).run(&format!("review s.csv --climate {WARM} --format json")).json();
    let tally = &review["tally"];
    assert_eq!([&tally["revise"], &tally["clarify"], &tally["advise"]], [0, 0, 0]);
}

#[test]
fn a_schedule_with_something_to_revise_exits_with_1_and_a_silent_standard_error() {
    let ran = Folder::of(NO_DEVICE).run(&format!("review s.csv --climate {WARM}"));
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(ran.out.contains("No backflow device at the hose thread."), "{}", ran.out);
}

#[test]
fn json_exits_as_the_comment_sheet_does() {
    assert_eq!(Folder::of(NO_DEVICE).run(&format!("review s.csv --climate {WARM} --format json")).code, 1);
    assert_eq!(
        Folder::of(NOTHING_TO_ASK).run(&format!("review s.csv --climate {WARM} --format json")).code,
        0
    );
}

#[test]
fn a_report_in_a_file_is_the_report_on_the_screen() {
    let folder = Folder::of(NO_DEVICE);
    let screen = folder.run(&format!("review s.csv --climate {WARM}")).out;
    let ran = folder.run(&format!("review s.csv --climate {WARM} --output report.txt"));
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (1, "", ""));
    assert_eq!(folder.text("report.txt"), screen);
    assert_eq!(folder.names(), ["report.txt", "s.csv"]);
}

#[test]
fn a_report_takes_the_place_of_an_older_one() {
    let folder = Folder::of(NO_DEVICE).with("report.txt", "last week's\n".repeat(10_000));
    folder.run(&format!("review s.csv --climate {WARM} --output report.txt"));
    assert!(folder.text("report.txt").starts_with("COMMENT SHEET"));
    assert!(!folder.text("report.txt").contains("last week's"));
}

#[test]
fn a_refused_review_leaves_an_older_report_as_it_was() {
    let folder = Folder::of("a,b\n1,2\n").with("report.txt", "last week's\n");
    assert_eq!(folder.run(&format!("review s.csv --climate {WARM} --output report.txt")).code, 2);
    assert_eq!(folder.text("report.txt"), "last week's\n");
    assert_eq!(folder.names(), ["report.txt", "s.csv"]);
}

#[test]
fn a_refused_review_makes_no_report() {
    let folder = Folder::of("a,b\n1,2\n");
    folder.run(&format!("review s.csv --climate {WARM} --output report.txt"));
    assert_eq!(folder.names(), ["s.csv"]);
}

#[test]
fn a_report_into_a_folder_that_is_not_there_is_refused() {
    let folder = Folder::of(NO_DEVICE);
    folder
        .run(&format!("review s.csv --climate {WARM} --output reports/june.txt"))
        .is_refused(&["reports/june.txt: cannot be written: there is no such folder"]);
    assert_eq!(folder.names(), ["s.csv"]);
}

#[test]
fn a_report_without_a_name_is_refused() {
    let folder = Folder::of(NO_DEVICE);
    for option in ["--output", "--questions"] {
        let told = "the file to write: has an empty name; expected a name such as review.txt";
        folder.run_with(&["review", "s.csv", "--climate", WARM, option, ""]).is_refused(&[told]);
    }
}

#[test]
fn questions_are_no_json() {
    let folder = Folder::of(NO_DEVICE);
    folder.run(&format!("review s.csv --climate {WARM} --questions q.json")).is_refused(&[
        "q.json: cannot be written: .json is not a format of this output; expected .csv or .xlsx",
    ]);
    assert_eq!(folder.names(), ["s.csv"]);
}

#[test]
fn a_report_named_like_a_folder_is_refused() {
    let folder = Folder::of(NO_DEVICE);
    fs::create_dir(folder.path().join("reports")).unwrap();
    folder
        .run(&format!("review s.csv --climate {WARM} --output reports"))
        .is_refused(&["reports: cannot be written: it is a folder"]);
    assert_eq!(folder.names(), ["reports", "s.csv"]);
}

#[test]
fn a_report_is_not_written_over_the_schedule() {
    let folder = Folder::of(NO_DEVICE);
    folder.run(&format!("review s.csv --climate {WARM} --output ./s.csv")).is_refused(&[
        "./s.csv: is a file the review reads, and is not written over; expected another file for the report",
    ]);
    assert_eq!(folder.text("s.csv"), NO_DEVICE);
}

#[test]
fn a_file_that_only_looks_half_written_is_not_touched() {
    let folder = Folder::of(NO_DEVICE).with("report.txt.part", "mine");
    folder.run(&format!("review s.csv --climate {WARM} --output report.txt"));
    assert_eq!(folder.text("report.txt.part"), "mine");
    assert_eq!(folder.names(), ["report.txt", "report.txt.part", "s.csv"]);
}

#[test]
#[cfg(unix)]
fn a_device_is_written_to_and_not_replaced() {
    let folder = Folder::of(NO_DEVICE);
    let ran = folder.run(&format!("review s.csv --climate {WARM} --output /dev/stdout"));
    assert!(ran.out.starts_with("COMMENT SHEET"), "{}{}", ran.out, ran.err);
}

#[test]
fn a_reader_that_stops_listening_is_not_a_failure() {
    let folder = Folder::of(NOTHING_TO_ASK);
    let mut child = program()
        .current_dir(folder.path())
        .args(["review", "s.csv", "--climate", WARM])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let ended = child.wait_with_output().unwrap();
    assert_eq!((ended.status.code(), ended.stderr.as_slice()), (Some(0), &b""[..]));
}

#[test]
#[cfg(target_os = "linux")]
fn a_full_disk_behind_the_screen_is_told() {
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let ended = program().arg("walls").stdout(full).output().unwrap();
    let said = String::from_utf8(ended.stderr).unwrap();
    assert_eq!(ended.status.code(), Some(2));
    assert!(said.starts_with("standard output: cannot be written: "), "{said}");
}

#[test]
fn the_same_schedule_gives_the_same_bytes_twice() {
    let run = || run("review examples/live-oak/schedule.csv --climate dallas-tx --format json").out;
    assert_eq!(run(), run());
}

#[test]
fn a_command_line_that_is_wrong_exits_with_2_and_prints_no_review() {
    let ran = Folder::of(NO_DEVICE).run("review s.csv --climat dallas-tx");
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.contains("'--climate'"), "{}", ran.err);
}

#[test]
fn the_exit_status_is_in_the_help() {
    let help = unwrapped(&run("--help").out);
    let status = "0 nothing to revise or clarify; 1 something to revise or clarify; 2 error";
    assert!(help.contains(status), "{help}");
}

#[test]
fn the_cautions_are_in_the_help() {
    let help = unwrapped(&run("--help").out);
    assert!(help.contains("Screening only: the locally adopted code"), "{help}");
}

#[test]
fn color_is_for_terminals_and_as_the_environment_says() {
    let error = |variables: &[(&str, &str)]| {
        let ran = program()
            .arg("reviw")
            .env_remove("NO_COLOR")
            .env_remove("CLICOLOR_FORCE")
            .envs(variables.iter().copied())
            .output()
            .expect("it starts");
        String::from_utf8(ran.stderr).expect("it prints UTF-8")
    };
    assert!(!error(&[]).contains('\u{1b}'));
    assert!(error(&[("CLICOLOR_FORCE", "1")]).contains("\u{1b}["));
    assert!(!error(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")]).contains('\u{1b}'));
    // A page has none, whatever the environment says.
    let folder = Folder::of("Mark,Kind\nA,sillcock\n");
    for command in ["review s.csv --climate dallas-tx", "cold-spell s.csv --climate dallas-tx --quiet"] {
        let ran = program()
            .current_dir(folder.path())
            .args(command.split(' '))
            .env("CLICOLOR_FORCE", "1")
            .output()
            .expect("it starts");
        assert!(!ran.stdout.is_empty() && !ran.stdout.contains(&0x1b), "{command}");
    }
}
