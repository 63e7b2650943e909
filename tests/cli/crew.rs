//! The crew list of a cold spell: deadlines by the clock, width, and every location once.

use crate::cli::common::{Folder, Ran, run};
use insta::assert_snapshot;

const SCHEDULE: &str = "Mark,Qty,Location,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop\n\
    A,2,Lot 12,Wall hydrant,Inside,12 in,Stainless,2x6-siding,Heated room,Copper,none,Yes\n\
    B,3,Lot <b>14,Hose bibb,Face,,Brass,2x6-siding,Heated room,PEX,none,Yes\n\
    C,,,Sillcock,Inside,,Brass,2x6-siding,Heated room,PEX,none,No\n";

fn crew(heading: &str, arguments: &[&str]) -> Ran {
    let hours = (0..30).map(|hour| {
        // 40 °F until 23:00 on Thursday, January 15, 2026; then 0 °F.
        let outdoors = if hour < 5 { 40 } else { 0 };
        format!("2026-01-{} {:02}:00,{outdoors}\n", 15 + (18 + hour) / 24, (18 + hour) % 24)
    });
    let forecast = format!("{heading},Outdoors (°F)\n{}", hours.collect::<String>());
    let folder = Folder::of(SCHEDULE).with("f.csv", forecast);
    let all = ["cold-spell", "s.csv", "--climate", "duluth-mn", "--series", "f.csv"];
    folder.run_with(&[&all[..], arguments].concat())
}

#[track_caller]
fn fits(text: &str, width: usize) {
    for line in text.lines() {
        assert!(line.chars().count() <= width, "{} columns: {line}", line.chars().count());
    }
}

#[test]
fn the_crew_list_of_a_job() {
    let ran = run("cold-spell examples/kestrel-ridge/job.yaml --format crew");
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    fits(&ran.out, 80);
    assert_snapshot!(ran.out);
}

#[test]
fn the_crew_list_for_a_phone() {
    let ran = crew("Time", &["--narrow"]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    fits(&ran.out, 40);
    assert_snapshot!(ran.out);
}

/// The hydrant closed at its face cannot have ice before the cold arrives, nor long after: its water is outdoors.
#[test]
fn deadlines_are_weekdays_of_the_forecast() {
    let ran = crew("Time", &["--format", "crew"]);
    let lot = ran.out.lines().find(|line| line.contains("Lot <b>14")).expect("the lot is listed");
    assert!(lot.starts_with("by 22:") || lot.starts_with("by 23:") || lot.starts_with("by 00:"), "{lot}");
    let weekday = if lot.starts_with("by 00:") { "Fri" } else { "Thu" };
    assert_eq!(lot.split_whitespace().nth(2), Some(weekday), "{lot}");
}

#[test]
fn deadlines_of_a_utc_file_say_so() {
    let ran = crew("Time (UTC)", &["--format", "crew"]);
    let lot = ran.out.lines().find(|line| line.contains("Lot <b>14")).expect("the lot is listed");
    assert!(lot.contains("Thu UTC") || lot.contains("Fri UTC"), "{lot}");
    assert!(ran.out.contains("Times are in UTC, as in the file, not local time."), "{}", ran.out);
}

#[test]
fn the_crew_page_escapes_and_loads_nothing() {
    let ran = crew("Time", &["--format", "html"]);
    assert!(ran.out.contains("Lot &lt;b&gt;14") && !ran.out.contains("<b>14"), "{}", ran.out);
    for part in ["<script", "http:", "https:", "src="] {
        assert!(!ran.out.contains(part), "{part}");
    }
}

#[test]
fn narrow_is_for_the_crew_list_only() {
    let ran = crew("Time", &["--narrow", "--format", "json"]);
    assert_eq!(ran.code, 2);
    assert_eq!(ran.err.trim(), "--narrow: does not apply to this format; expected --format crew");
}
