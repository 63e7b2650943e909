//! The crew list of a cold spell: every place once, by deadline, on a screen, a phone and a web page.

use crate::cli::common::{Folder, unwrapped};

/// Two lots with several outlets, one that cannot be computed, one below grade, and one row without a location.
const SIX: &str = "Mark,Qty,Location,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop\n\
    A,2,Lot 12,Wall hydrant,Inside,12 in,Stainless,2x6-siding,Heated room,Copper,none,Yes\n\
    B,3,Lot 12,Hose bibb,Face,,Brass,2x6-siding,Heated room,PEX,none,Yes\n\
    C,,Lot 14,Sillcock,Inside,,Brass,2x6-siding,Heated room,PEX,none,No\n\
    B,1,Lot <15>,Hose bibb,Face,,Brass,2x6-siding,Heated room,PEX,none,\n\
    D,1,,Hose bibb,Face,,Brass,2x6-siding,Heated room,PEX,none,No\n\
    YH-1,1,Pump house,yard hydrant,below grade,,,,,,,\n";

/// From 40 °F at noon of Thursday, 15 January 2026, 1.2 °F down each hour: 32 °F after 6 h 40 min, at 18:40.
fn folder() -> Folder {
    let csv = (0..30).fold("Time,Outdoors (°F)\n".to_owned(), |csv, hour| {
        let (day, of_day) = (15 + (12 + hour) / 24, (12 + hour) % 24);
        format!("{csv}2026-01-{day} {of_day:02}:00,{:.1}\n", 40.0 - 1.2 * f64::from(hour))
    });
    Folder::of(SIX).with("f.csv", csv)
}

const ASKED: &str = "cold-spell s.csv --climate dallas-tx --series f.csv";

/// The lines of the table.
fn listed(text: &str) -> Vec<&str> {
    text.lines().filter(|line| line.starts_with("by ") || line.starts_with("before ")).collect()
}

#[test]
fn every_place_has_one_line_by_deadline() {
    let ran = folder().run(&format!("{ASKED} --crew"));
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    assert!(
        ran.out.contains("Every faucet: hose, splitter, timer and nozzle off by 6:40 PM Thu."),
        "{}",
        ran.out
    );
    let lines: Vec<String> = listed(&ran.out).iter().map(|line| unwrapped(line)).collect();
    let ends: Vec<&str> = lines.iter().map(|line| line.as_str()).collect();
    assert_eq!(ends.len(), 5, "{}", ran.out);
    // What cannot be computed comes first; frost ends the day of what stays open.
    assert_eq!(ends[0], "before noon Thu Lot 14 C x ?: facts in doubt: look, drain");
    assert_eq!(ends[1], "by 6:40 PM Thu Lot 12 B x 3: drain at stop; A x 2: hose off");
    assert_eq!(ends[2], "by 6:40 PM Thu Pump house YH-1 x 1: shut fully");
    assert!(ends[3].ends_with("Lot <15> B x 1: find stop, drain"), "{}", ends[3]);
    assert!(ends[4].ends_with("row 6 (no location) D x 1: drain branch"), "{}", ends[4]);
    assert!(ran.out.lines().all(|line| line.chars().count() <= 80), "{}", ran.out);
    let text = unwrapped(&ran.out);
    assert!(text.contains("Never leave a frostproof faucet") && text.contains("Screening only"), "{text}");
}

/// A deadline is not later than the soonest that the JSON gives, and less than 10 minutes sooner.
#[test]
fn a_deadline_is_the_soonest_rounded_down() {
    let folder = folder();
    let json = folder.run(&format!("{ASKED} --mark D --format json")).json();
    let soonest = json["outlets"][0]["events"]["first_ice"]["low"].as_f64().expect("it is blocked");
    let text = folder.run(&format!("{ASKED} --crew --units si")).out;
    let line = listed(&text).into_iter().find(|line| line.contains("row 6")).expect("D is listed");
    let (hour, minute) = line[3..8].split_once(':').expect("a time of day");
    let [hour, minute] = [hour, minute].map(|it| it.parse::<f64>().expect("a number"));
    let deadline = ((hour - 12.0) * 60.0 + minute) * 60.0;
    assert!((0.0..600.0).contains(&(soonest - deadline)), "{line}: {soonest} {deadline}");
}

#[test]
fn the_page_begins_with_the_crew_list() {
    let folder = folder();
    let (page, list) = (folder.run(ASKED).out, folder.run(&format!("{ASKED} --crew")).out);
    assert_eq!(listed(&page), listed(&list));
    let at = |text: &str| page.find(text).unwrap_or_else(|| panic!("{text}: {page}"));
    assert!(at("Crew list") < at("Climate") && page[..at("Climate")].lines().count() < 24, "{page}");
}

#[test]
fn a_phone_gets_forty_columns() {
    let narrow = folder().run(&format!("{ASKED} --narrow")).out;
    assert!(narrow.lines().all(|line| line.chars().count() <= 40), "{narrow}");
    assert!(narrow.contains("by 6:40 PM Thu: Lot 12\n  B x 3: drain at stop; A x 2: hose off\n"), "{narrow}");
    assert!(unwrapped(&narrow).contains("Never thaw a pipe with a flame"), "{narrow}");
}

#[test]
fn the_web_page_has_every_line_and_nothing_from_outside() {
    let folder = folder();
    let ran = folder.run(&format!("{ASKED} --output crew.html"));
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (1, "", ""));
    let page = folder.text("crew.html");
    assert!(page.starts_with("<!DOCTYPE html>") && page.ends_with("</html>"));
    assert_eq!(page.matches("type=\"checkbox\"").count(), 5, "{page}");
    for text in [
        "Lot &lt;15&gt;",
        "by 6:40 PM Thu",
        "B x 3: drain at stop; A x 2: hose off",
        "Never thaw a pipe with a flame",
    ] {
        assert!(page.contains(text), "{text}: {page}");
    }
    assert!(!page.contains("http:") && !page.contains("https:") && !page.contains("<script"), "{page}");
    assert_eq!(page, folder.run(&format!("{ASKED} --format html")).out);
}

#[test]
fn a_file_in_celsius_under_fahrenheit_is_doubted_first() {
    let csv = (0..=30).fold("Time,Outdoors (°F)\n".to_owned(), |csv, hour| {
        format!("{csv}2026-01-{:02} {:02}:00,{}\n", 14 + hour / 24, hour % 24, -hour)
    });
    let folder = Folder::of(SIX).with("c.csv", csv);
    let asked = "cold-spell s.csv --climate dallas-tx --series c.csv";
    for options in ["", " --crew", " --narrow", " --mark B", " --format html"] {
        let out = unwrapped(&folder.run(&format!("{asked}{options}")).out);
        assert!(out.contains("colder than the lowest figure for Dallas"), "{options}: {out}");
    }
    let si = folder.run(&format!("{asked} --crew --units si")).out;
    assert!(unwrapped(&si).contains("the file's -35 °C is colder than the lowest figure"), "{si}");
}

#[test]
fn what_the_deadlines_are_for_is_said() {
    let folder = folder();
    let head = |options: &str| unwrapped(&folder.run(&format!("{ASKED} --crew {options}")).out);
    assert!(head("--state hose-on").contains("Deadlines are for a hose left on."));
    assert!(head("--heat-out 12h").contains("Deadlines are for heat off from 0 h to 12 h after the start."));
    let typed = folder.run("cold-spell s.csv --climate dallas-tx --crew --outdoors 10°F").err;
    assert!(typed.contains("gives no duration"), "{typed}");
    let none = folder.run(&format!("{ASKED} --narrow --format csv"));
    assert_eq!(none.code, 2);
    assert!(none.err.contains("--narrow: is a page to read"), "{}", none.err);
}

#[test]
fn csv_and_json_have_the_lines_of_the_page() {
    let folder = folder();
    let page = folder.run(&format!("{ASKED} --crew")).out;
    let csv = folder.run(&format!("{ASKED} --crew --format csv")).out;
    let mut rows = csv::Reader::from_reader(csv.trim_start_matches('\u{feff}').as_bytes());
    let rows: Vec<Vec<String>> =
        rows.records().map(|row| row.expect("a line").iter().map(str::to_owned).collect()).collect();
    let row = |mark: &str| rows.iter().find(|row| row[3] == mark).unwrap_or_else(|| panic!("{mark}: {csv}"));
    assert_eq!(row("A")[..6], ["by 6:40 PM Thu", row("A")[1].as_str(), "Lot 12", "A", "2", "hose off"]);
    // The first frost, at 6 h 40 min, and the outlet that cannot be computed, at the start.
    let hours = |mark: &str| row(mark)[1].parse::<f64>().expect("a number");
    assert!((hours("YH-1") - 6.0 - 40.0 / 60.0).abs() < 0.01, "{csv}");
    assert_eq!(hours("C"), 0.0);
    // Lot 14 states no quantity.
    assert_eq!(row("C")[4], "");
    let json = folder.run(&format!("{ASKED} --format json")).json();
    let lines = json["crew"]["lines"].as_array().expect("a list");
    assert_eq!(lines.len(), listed(&page).len());
    for line in lines {
        let (deadline, place) = (&line["deadline"], &line["where"]);
        for work in line["work"].as_array().expect("a list") {
            let marks = work["marks"].as_array().expect("a list").iter();
            let marks: Vec<&str> = marks.map(|mark| mark.as_str().expect("a mark")).collect();
            let cells = [deadline, place, &work["do"]].map(|cell| cell.as_str().expect("a text"));
            let same =
                |row: &&Vec<String>| row[3] == marks.join("; ") && [&row[0], &row[2], &row[5]] == cells;
            assert!(rows.iter().any(|row| same(&row)), "{line}");
        }
    }
    assert_eq!(rows.iter().map(|row| &row[2]).collect::<std::collections::BTreeSet<_>>().len(), lines.len());
}

/// Two faucets that stay open in a mild spell; one has a remark.
fn with_remark(remark: &str) -> crate::cli::common::Ran {
    let row = "Frostproof sillcock,Inside,12 in,Stainless,2x6-siding,Heated room,Copper,none,Yes";
    let schedule = format!(
        "Mark,Qty,Location,Kind,Closes,Nominal length,Barrel,Wall,Space behind,Supply,Supply insulation,Inside stop,Notes\n\
         A,2,Lot 12,{row},\nB,1,Lot 14,{row},{remark}\n"
    );
    Folder::of(&schedule).run("cold-spell s.csv --climate dallas-tx")
}

#[test]
fn a_row_in_doubt_is_at_risk_and_looked_at() {
    let ran = with_remark("actually an unheated garage");
    assert_eq!(ran.code, 1);
    let text = unwrapped(&ran.out);
    assert!(
        text.contains("1 of 2 rows: ice blocks or may block 0; 0 cannot be computed; 1 in doubt."),
        "{text}"
    );
    assert!(
        text.contains(
            "Check: B (row 3) is in doubt, and may freeze sooner than computed. Space behind: \"Heated room\" under \
             Space behind, \"unheated\" under Notes."
        ),
        "{text}"
    );
    assert!(text.contains("Lot 14 B x 1: facts in doubt: look, drain"), "{text}");
    assert!(text.contains("Lot 12 A x 2: hose off"), "{text}");
}

#[test]
fn a_doubt_about_screws_alone_sends_nobody() {
    let ran = with_remark("steel screws");
    assert_eq!(ran.code, 0, "{}", ran.out);
    assert!(!ran.out.contains("in doubt"), "{}", ran.out);
}
