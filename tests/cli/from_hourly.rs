//! `coldsill climates --from-hourly`: what it prints is a climate that reads back.

use crate::cli::common::Folder;
use coldsill::climate::Library;
use std::fs;
use std::path::Path;

fn real(file: &str) -> Vec<u8> {
    fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/climate/hourly").join(file))
        .expect("it is there")
}

/// Every six hours from July to June of some winters, at 2 °C but for one hour of each January.
fn winters(lows: &[i32]) -> String {
    let mut csv = String::from("Time,Outdoors (°C)\n");
    for (low, from) in lows.iter().zip(2001..) {
        for (month, days) in [
            (7, 31),
            (8, 31),
            (9, 30),
            (10, 31),
            (11, 30),
            (12, 31),
            (1, 31),
            (2, 28),
            (3, 31),
            (4, 30),
            (5, 31),
            (6, 30),
        ] {
            let year = if month >= 7 { from } else { from + 1 };
            for (day, hour) in (1..=days).flat_map(|day| [0, 6, 12, 18].map(|hour| (day, hour))) {
                let celsius = if (month, day, hour) == (1, 20, 6) { *low } else { 2 };
                csv.push_str(&format!("{year}-{month:02}-{day:02} {hour:02}:00,{celsius}\n"));
            }
        }
    }
    csv
}

#[test]
fn a_climate_drawn_from_real_hours_is_one_page() {
    let folder = Folder::new().with("chicago-2015.csv.gz", real("chicago-2015.csv.gz"));
    let ran = folder.run_with(&[
        "climates",
        "--from-hourly",
        "chicago-2015.csv.gz",
        "--name",
        "Chicago, as in 2015",
    ]);
    assert_eq!((ran.code, ran.err.as_str()), (1, ""));
    insta::assert_snapshot!("from_hourly", ran.out);
}

#[test]
fn what_is_drawn_reads_back_with_the_same_figures() {
    let folder = Folder::new().with("mine.csv", winters(&[-20, -22, -27]));
    let ran = folder.run_with(&[
        "climates",
        "--from-hourly",
        "mine.csv",
        "--name",
        "Alder \"Flat\": #1",
        "--output",
        "a.yaml",
    ]);
    assert_eq!((ran.code, ran.out.as_str(), ran.err.as_str()), (1, "", ""));
    let text = folder.text("a.yaml");
    let library = Library::read([("a.yaml", text.as_bytes())]).unwrap();
    let climate = library.iter().next().unwrap();
    assert_eq!((&*climate.id, &*climate.name), ("alder-flat-1", "Alder \"Flat\": #1"));
    // By hand: (−20 − 22 − 27)/3 = −23 °C, and √((9 + 1 + 16)/2) = 3.61 K.
    let low = climate.annual_low.unwrap();
    assert!((low.mean - 250.15).abs() < 1e-6 && (low.deviation - 3.61).abs() < 1e-6, "{low:?}");
    assert_eq!(low.winters, Some(3.0));
    // 2 °C and −27 °C come back as kelvin to the rounding of adding 273.15.
    let near = |found: Option<f64>, wanted: f64| assert!((found.unwrap() - wanted).abs() < 1e-9, "{found:?}");
    near(climate.coldest_recorded, 246.15);
    near(climate.heating_990, 275.15);
    assert!(text.contains("# few winters: the deviation is itself uncertain"));
    assert_eq!(climate.coldest_month, Some(1));
    assert_eq!((climate.latitude, climate.state.as_deref(), climate.zone.as_deref()), (None, None, None));
    assert!(climate.source.contains("mine.csv"));
}

#[test]
fn typical_month_is_rejected_with_its_warnings() {
    let folder = Folder::new().with("january.epw", real("chicago-january.epw"));
    folder.run_with(&["climates", "--from-hourly", "january.epw"]).is_refused(&[
        "january.epw: gives no low temperature to design for: it covers 31 days, less than a year; its \
         heading calls it typical, and a typical year understates extremes; expected every month of a year, or a \
         complete winter",
        "january.epw: covers 01-01 01:00 to 01-31 24:00, 8016 h less than a year; expected every hour from 1 January to \
         31 December",
    ]);
}

#[test]
fn existing_file_is_not_overwritten() {
    let folder = Folder::new().with("mine.csv", winters(&[-20])).with("a.yaml", "mine: yes\n");
    folder.run_with(&["climates", "--from-hourly", "mine.csv", "--output", "a.yaml"]).is_refused(&[
        "a.yaml: already exists and is not overwritten; expected another file for the climate",
    ]);
    assert_eq!(folder.text("a.yaml"), "mine: yes\n");
}

#[test]
fn a_job_takes_what_was_drawn_as_its_climate() {
    let folder = Folder::new().with("mine.csv", winters(&[-20, -22, -27]));
    let drawn = folder.run_with(&["climates", "--from-hourly", "mine.csv", "--name", "Here"]).out;
    let (_, entry) = drawn.split_once("  here:\n").unwrap();
    let job = format!("schedule: s.csv\nclimate:\n{entry}");
    let folder = Folder::of("Mark,Outlet\nHB-1,wall hydrant\n").with("job.yaml", &job);
    let ran = folder.run("review job.yaml");
    assert!(ran.code < 2 && ran.out.contains("Here"), "{}", ran.err);
}

#[test]
fn names_without_letters_or_with_accents_give_valid_ids() {
    for (name, id) in [("12-3", "place-12-3"), ("Trois-Rivières", "trois-rivieres"), ("№", "place")] {
        let folder = Folder::new().with("mine.csv", winters(&[-20, -22, -27]));
        let text = folder.run_with(&["climates", "--from-hourly", "mine.csv", "--name", name]).out;
        let library = Library::read([("a.yaml", text.as_bytes())]).unwrap();
        assert_eq!(&*library.iter().next().unwrap().id, id);
    }
}

/// A climate's temperatures end at 40 °C.
#[test]
fn unusable_climate_is_rejected_before_it_is_written() {
    let hot: String = winters(&[44]).replace(",2\n", ",44\n");
    let folder = Folder::new().with("hot.csv", hot);
    let ran = folder.run_with(&["climates", "--from-hourly", "hot.csv", "--output", "a.yaml"]);
    assert_eq!((ran.code, ran.out.as_str()), (2, ""));
    assert!(ran.err.starts_with("hot.csv: \"44 °C\" gives a climate that cannot be used: "), "{}", ran.err);
    assert!(!ran.err.contains("is there already"));
}
