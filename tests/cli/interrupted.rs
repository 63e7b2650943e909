//! A run that is killed, has no room, or runs beside another: a report is whole or absent, and the next run works. The same
//! input gives the same bytes whatever the environment.
#![cfg(unix)]

use super::common::{Folder, NOTHING_TO_ASK, WARM, program, run};
use std::process::{Child, Command, Stdio};
use std::time::Duration;

const JOB: &str = "examples/kestrel-ridge/job.yaml";

fn start(folder: &Folder, output: &str) -> Child {
    let job = format!("{}/{JOB}", env!("CARGO_MANIFEST_DIR"));
    program()
        .current_dir(folder.path())
        .args(["review", &job, "--output", output])
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts")
}

/// Kills as many runs after growing times; each leaves a whole report or none, and the next run works.
fn killed(times: u32, longest: Duration) {
    let folder = Folder::new();
    assert_eq!(start(&folder, "whole.json").wait().expect("it ends").code(), Some(1));
    let whole = folder.text("whole.json");
    for number in 0..times {
        let mut child = start(&folder, "report.json");
        std::thread::sleep(longest * number / times);
        child.kill().expect("it can be killed");
        child.wait().expect("it ends");
        if folder.names().contains(&"report.json".to_owned()) {
            assert_eq!(folder.text("report.json"), whole, "cut short after kill {number}");
            std::fs::remove_file(folder.path().join("report.json")).expect("it can be removed");
        }
    }
    assert_eq!(start(&folder, "report.json").wait().expect("it ends").code(), Some(1));
    assert_eq!(folder.text("report.json"), whole);
}

#[test]
fn a_killed_run_leaves_a_whole_report_or_none() {
    killed(6, Duration::from_secs(1));
}

#[test]
#[ignore = "a hundred runs: minutes"]
fn a_hundred_killed_runs_leave_whole_reports_or_none() {
    killed(100, Duration::from_secs(2));
}

#[test]
fn a_report_without_room_is_not_left_half_written() {
    let folder = Folder::of(NOTHING_TO_ASK).with("report.html", "last week's\n");
    // A limit on the size of files stands for a full disk; the signal it sends is ignored, so that writing fails.
    let limited =
        format!("ulimit -f 1; trap '' XFSZ; exec \"$0\" review s.csv --climate {WARM} --output report.html");
    let ran = Command::new("bash")
        .current_dir(folder.path())
        .args(["-c", &limited])
        .arg(program().get_program())
        .output()
        .expect("it starts");
    let said = String::from_utf8_lossy(&ran.stderr);
    assert_eq!(ran.status.code(), Some(2), "{said}");
    assert!(said.starts_with("report.html: cannot be written: "), "{said}");
    assert_eq!(folder.names(), ["report.html", "s.csv"]);
    assert_eq!(folder.text("report.html"), "last week's\n");
}

#[test]
fn writers_at_the_same_time_leave_one_whole_report() {
    let folder = Folder::new();
    let writers: Vec<Child> = (0..4).map(|_| start(&folder, "report.json")).collect();
    for mut writer in writers {
        assert_eq!(writer.wait().expect("it ends").code(), Some(1));
    }
    assert_eq!(folder.names(), ["report.json"]);
    start(&folder, "alone.json").wait().expect("it ends");
    assert_eq!(folder.text("report.json"), folder.text("alone.json"));
}

#[test]
fn locale_time_zone_and_threads_change_no_byte() {
    let plain = run(&format!("review {JOB} --format json")).out;
    for (name, value) in [
        ("LC_ALL", "de_DE.UTF-8"),
        ("LC_ALL", "tr_TR.UTF-8"),
        ("TZ", "Asia/Kathmandu"),
        ("RAYON_NUM_THREADS", "1"),
        ("RAYON_NUM_THREADS", "7"),
    ] {
        let arguments = ["review", JOB, "--format", "json"];
        let ran = program()
            .current_dir(env!("CARGO_MANIFEST_DIR"))
            .args(arguments)
            .env(name, value)
            .output()
            .expect("it starts");
        assert!(ran.stdout == plain.as_bytes(), "{name}={value} changes the report");
    }
}

#[test]
fn a_pipe_without_end_is_an_error() {
    let mut endless = Command::new("yes").stdout(Stdio::piped()).spawn().expect("it starts");
    let pipe = endless.stdout.take().expect("is piped");
    let ran = program().args(["read", "/dev/stdin"]).stdin(pipe).output().expect("it starts");
    endless.wait().expect("it ends with its reader");
    assert_eq!(
        (ran.status.code(), String::from_utf8_lossy(&ran.stderr).as_ref()),
        (Some(2), "/dev/stdin: is over the limit of 64,000,000 bytes in a file\n")
    );
}

#[test]
fn a_closed_screen_is_not_a_failure() {
    let closed = "exec \"$0\" walls >&- 2>&-";
    let ran =
        Command::new("bash").args(["-c", closed]).arg(program().get_program()).output().expect("it starts");
    assert_eq!(ran.status.code(), Some(0));
}
