//! Files that are read and written: reading ends, and writing leaves a whole file or none.
#![cfg(unix)]

use super::common::{Folder, NOTHING_TO_ASK, WARM};
use std::os::unix::fs::{PermissionsExt, symlink};
use std::process::Command;

const NO_DOCUMENT: &str = "is a device or a named pipe; expected a file";

#[test]
fn devices_and_named_pipes_are_errors_wherever_a_file_is_read() {
    let folder = Folder::of(NOTHING_TO_ASK);
    assert!(Command::new("mkfifo").arg(folder.path().join("pipe")).status().unwrap().success());
    for file in ["/dev/zero", "pipe"] {
        let message = format!("{file}: {NO_DOCUMENT}");
        for arguments in [
            vec!["review", file, "--climate", WARM],
            vec!["read", file],
            vec!["review", "s.csv", "--climate", WARM, "--rules", file],
            vec!["review", "s.csv", "--climate", WARM, "--answers", file],
            vec!["review", "s.csv", "--climate", WARM, "--climates", file],
            vec!["cold-spell", "s.csv", "--climate", WARM, "--series", file],
            vec!["climates", "--from-hourly", file, "--name", "ours"],
            vec!["review", "s.csv", "--climate", WARM, "--previous", file],
            vec!["compare", file, "s.csv"],
            vec!["standard", file],
            vec!["rules", "try", file],
        ] {
            let ran = folder.run_with(&arguments);
            assert!(ran.code == 2 && ran.err.contains(&message), "{arguments:?}: {}", ran.err);
        }
    }
}

#[test]
fn devices_and_named_pipes_are_errors_in_every_key_of_a_job() {
    for key in ["schedule", "climates", "products", "answers", "places", "rules"] {
        let schedule = if key == "schedule" { "" } else { "schedule: s.csv\n" };
        let job = format!("climate: {WARM}\n{schedule}{key}: /dev/zero\n");
        let ran = Folder::of(NOTHING_TO_ASK).with("job.yaml", job).run("review job.yaml");
        let named =
            ran.problems().iter().any(|line| line.contains("/dev/zero") && line.contains(NO_DOCUMENT));
        assert!(ran.code == 2 && named, "{key}: {}", ran.err);
    }
}

#[test]
#[cfg(target_os = "linux")]
fn files_of_the_operating_system_are_errors() {
    for file in ["/proc/self/maps", "/proc/self/mem", "/proc/kmsg", "/sys/kernel/notes"] {
        let message = format!("{file}: is a file of the operating system; expected a file");
        Folder::new().run_with(&["read", file]).is_refused(&[&message]);
    }
}

#[test]
fn a_report_keeps_the_mode_of_the_file_it_replaces() {
    let folder = Folder::of(NOTHING_TO_ASK).with("report.txt", "old");
    let path = folder.path().join("report.txt");
    std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).unwrap();
    folder.run_with(&["review", "s.csv", "--climate", WARM, "--output", "report.txt"]);
    assert_eq!(std::fs::metadata(&path).unwrap().permissions().mode() & 0o777, 0o640);
    assert!(folder.text("report.txt").starts_with("COMMENT SHEET"));
}

#[test]
fn questions_are_not_written_if_the_report_cannot_be() {
    let folder = Folder::of(NOTHING_TO_ASK);
    let arguments =
        ["review", "s.csv", "--climate", WARM, "--questions", "q.csv", "--output", "none/report.txt"];
    folder.run_with(&arguments).is_refused(&["none/report.txt: cannot be written: there is no such folder"]);
    assert_eq!(folder.names(), ["s.csv"]);
}

#[test]
fn one_file_under_two_names_is_an_error() {
    let folder = Folder::of(NOTHING_TO_ASK).with("q.csv", "");
    symlink("q.csv", folder.path().join("report.txt")).unwrap();
    for output in ["./q.csv", "report.txt"] {
        let arguments = ["review", "s.csv", "--climate", WARM, "--questions", "q.csv", "--output", output];
        folder.run_with(&arguments).is_refused(&[
            "q.csv: is named for both the questions and the report; expected another file for the questions",
        ]);
    }
}
