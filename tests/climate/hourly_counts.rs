//! Hours of real weather against an independent count of them (`hourly/README.md`).

use coldsill::weather::{Form, Hourly};
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::fs;
use std::path::{Path, PathBuf};

/// Means and shares are printed to three places, temperatures that were read to two.
const PRINTED: f64 = 0.0006;
const READ: f64 = 0.0051;
const DAY: f64 = 86_400.0;

#[derive(Deserialize)]
struct Counted {
    series: String,
    valid: usize,
    filled: usize,
    #[serde(rename = "min_C")]
    min: f64,
    #[serde(rename = "max_C")]
    max: f64,
    min_at: String,
    #[serde(rename = "longest_below_32F_h_filled")]
    below_32: f64,
    #[serde(rename = "longest_below_20F_h_filled")]
    below_20: f64,
    #[serde(rename = "longest_below_0F_h_filled")]
    below_0: f64,
    #[serde(rename = "longest_below_32F_from")]
    from_32: String,
    #[serde(rename = "longest_below_20F_from")]
    from_20: String,
    #[serde(rename = "longest_below_0F_from")]
    from_0: String,
    #[serde(rename = "hours_below_32F")]
    hours_32: f64,
    #[serde(rename = "hours_below_20F")]
    hours_20: f64,
    #[serde(rename = "coldest_1d_mean_C")]
    mean_1: f64,
    #[serde(rename = "coldest_3d_mean_C")]
    mean_3: f64,
    #[serde(rename = "coldest_7d_mean_C")]
    mean_7: f64,
    coldest_1d_from: String,
    coldest_3d_from: String,
    coldest_7d_from: String,
    #[serde(rename = "value_99.6_C")]
    value_996: f64,
    #[serde(rename = "value_99_C")]
    value_990: f64,
    coldest_month: u8,
    #[serde(rename = "coldest_month_mean_C")]
    month_mean: f64,
}

#[derive(Deserialize)]
struct Band {
    series: String,
    #[serde(rename = "from_C")]
    from: f64,
    hours: f64,
}

#[derive(Deserialize)]
struct OfWinter {
    series: String,
    winter: String,
    #[serde(rename = "min_C")]
    min: f64,
    min_at: String,
    dec_to_feb_hours: f64,
    dec_to_feb_valid: f64,
}

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/climate/hourly")
}

fn rows<T: DeserializeOwned>(file: &str) -> Vec<T> {
    let mut reader = csv::Reader::from_path(folder().join(file)).expect("the table is there");
    reader.deserialize().map(|row| row.expect("the table is right")).collect()
}

fn read(file: &str) -> Hourly {
    let bytes = fs::read(folder().join(file)).expect("the file is there");
    Hourly::read(file, &bytes).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// The files that lie here whole, each with the series it is counted as.
const FILES: [(&str, &str); 5] = [
    ("chicago-january.epw", "chicago-january.epw"),
    ("greensboro-fortnight-tmy3.csv", "greensboro-fortnight-tmy3.csv"),
    ("northway-fortnight.csv", "northway-fortnight.csv"),
    ("springfield-fortnight.csv", "springfield-fortnight.csv"),
    ("chicago-2015.csv.gz", "isd-chicago-2015"),
];

#[track_caller]
fn near(found: f64, wanted: f64, what: &str) {
    within(found, wanted, PRINTED, what);
}

#[track_caller]
fn within(found: f64, wanted: f64, apart: f64, what: &str) {
    assert!((found - wanted).abs() < apart, "{what}: {found} for {wanted}");
}

/// A time as the count prints it; a typical year's rows say which year their month is of, and its hours are of none.
fn same_time(of: &Hourly, time: f64, printed: &str) {
    let said = of.time_label(time);
    assert!(!said.is_empty() && printed.ends_with(&said), "{said} for {printed}");
}

/// Measured hours colder than a temperature (K), except for the rounding of conversion.
pub(super) fn hours_below(hourly: &Hourly, kelvin: f64) -> f64 {
    let colder = hourly.measured().filter(|hour| hour.kelvin < kelvin - 1e-6);
    colder.map(|hour| hour.lasts).sum::<f64>() / 3600.0
}

#[test]
fn measured_and_missing_hours_match_an_independent_count() {
    let counts: Vec<Counted> = rows("counts.csv");
    for (file, series) in FILES {
        let (hourly, wanted) = (read(file), counts.iter().find(|it| it.series == series).unwrap());
        assert_eq!(hourly.measured().count(), wanted.valid, "{file}");
        assert_eq!(hourly.hours.len() - wanted.valid, wanted.filled, "{file}");
        let coldest = hourly.measured().min_by(|a, b| a.kelvin.total_cmp(&b.kelvin)).unwrap();
        within(coldest.kelvin - 273.15, wanted.min, READ, file);
        same_time(&hourly, coldest.time, &wanted.min_at);
        let warmest = hourly.measured().map(|it| it.kelvin).fold(0.0, f64::max);
        within(warmest - 273.15, wanted.max, READ, file);
    }
}

#[test]
fn longest_runs_match_an_independent_count() {
    let counts: Vec<Counted> = rows("counts.csv");
    for (file, series) in FILES {
        let (hourly, it) = (read(file), counts.iter().find(|it| it.series == series).unwrap());
        for (fahrenheit, hours, from) in [
            (32.0, it.below_32, &it.from_32),
            (20.0, it.below_20, &it.from_20),
            (0.0, it.below_0, &it.from_0),
        ] {
            let run = hourly.longest_below((fahrenheit + 459.67) / 1.8);
            assert_eq!(run.map_or(0.0, |it| it.length / 3600.0), hours, "{file} below {fahrenheit} °F");
            if let Some(run) = run {
                same_time(&hourly, run.start, from);
            }
        }
        assert_eq!(hours_below(&hourly, 273.15), it.hours_32, "{file}");
        assert_eq!(hours_below(&hourly, (20.0 + 459.67) / 1.8), it.hours_20, "{file}");
    }
}

#[test]
fn coldest_days_match_an_independent_count() {
    let counts: Vec<Counted> = rows("counts.csv");
    for (file, series) in FILES {
        let (hourly, it) = (read(file), counts.iter().find(|it| it.series == series).unwrap());
        for (days, mean, from) in [
            (1.0, it.mean_1, &it.coldest_1d_from),
            (3.0, it.mean_3, &it.coldest_3d_from),
            (7.0, it.mean_7, &it.coldest_7d_from),
        ] {
            let found = hourly.coldest_days(days).unwrap();
            near(found.mean - 273.15, mean, file);
            same_time(&hourly, found.start, from);
        }
        let whole = (hourly.span() / DAY).round();
        assert!(hourly.coldest_days(whole).is_some() && hourly.coldest_days(whole + 1.0).is_none(), "{file}");
    }
}

#[test]
fn bins_match_an_independent_count() {
    let bands: Vec<Band> = rows("bins.csv");
    for (file, series) in FILES {
        let hourly = read(file);
        let wanted: Vec<&Band> = bands.iter().filter(|it| it.series == series).collect();
        assert!(!wanted.is_empty(), "{file}");
        for band in &wanted {
            let from = band.from + 273.15;
            let hours = hours_below(&hourly, from + 2.0) - hours_below(&hourly, from);
            assert_eq!(hours, band.hours, "{file} from {} °C", band.from);
        }
        let all: f64 = wanted.iter().map(|it| it.hours).sum();
        assert_eq!(hours_below(&hourly, 1000.0), all, "{file}");
    }
}

#[test]
fn year_shares_and_coldest_month_match_an_independent_count() {
    let counts: Vec<Counted> = rows("counts.csv");
    let (hourly, it) =
        (read("chicago-2015.csv.gz"), counts.iter().find(|it| it.series == "isd-chicago-2015").unwrap());
    let value = |share| hourly.exceeded_in(share).unwrap();
    near(value(0.996).0 - 273.15, it.value_996, "99.6 %");
    near(value(0.99).0 - 273.15, it.value_990, "99 %");
    assert_eq!(value(0.99).1, 1.0);
    let month = hourly.coldest_month().unwrap();
    assert_eq!((month.month, month.years), (it.coldest_month, 1));
    near(month.mean - 273.15, it.month_mean, "coldest month");
}

/// The year 2015 has the end of one winter and the start of the next: neither counts.
#[test]
fn winter_lows_match_an_independent_count() {
    let wanted: Vec<OfWinter> = rows("winters.csv");
    let wanted: Vec<&OfWinter> = wanted.iter().filter(|it| it.series == "isd-chicago-2015").collect();
    let hourly = read("chicago-2015.csv.gz");
    let winters = hourly.winters();
    assert_eq!(winters.len(), wanted.len());
    // December to February of 2014/15 has 90 days, of 2015/16 one more; the count's hours are those since the file begins.
    for ((found, wanted), days) in winters.iter().zip(wanted).zip([90.0, 91.0]) {
        assert_eq!(format!("{}-{}", found.years[0], found.years[1]), wanted.winter);
        near(found.coldest.1 - 273.15, wanted.min, &wanted.winter);
        same_time(&hourly, found.coldest.0, &wanted.min_at);
        near(found.missing, 1.0 - wanted.dec_to_feb_valid / (24.0 * days), &wanted.winter);
        assert!(wanted.dec_to_feb_hours >= wanted.dec_to_feb_valid && !found.counts);
        assert_eq!(found.freezing_index, None);
    }
}

#[test]
fn form_and_station_come_from_the_content() {
    let epw = read("chicago-january.epw");
    assert_eq!((epw.form, epw.is_typical(), epw.ends_hour), (Form::Epw, true, true));
    let at = &epw.station;
    assert_eq!(at.name.as_deref(), Some("Chicago OHare Intl AP"));
    assert_eq!((at.state.as_deref(), at.country.as_deref()), (Some("IL"), Some("USA")));
    assert_eq!(
        (at.number.as_deref(), at.latitude, at.longitude),
        (Some("725300"), Some(41.983), Some(-87.917))
    );
    assert_eq!((at.utc_offset, at.elevation), (Some(-6.0), Some(201.0)));
    let tmy3 = read("greensboro-fortnight-tmy3.csv");
    assert_eq!((tmy3.form, tmy3.is_typical()), (Form::Tmy3, true));
    let at = &tmy3.station;
    assert_eq!(at.name.as_deref(), Some("GREENSBORO PIEDMONT TRIAD INT"));
    assert_eq!(
        (at.state.as_deref(), at.country.as_deref(), at.number.as_deref()),
        (Some("NC"), None, Some("723170"))
    );
    assert_eq!((at.latitude, at.longitude, at.elevation), (Some(36.1), Some(-79.95), Some(273.0)));
    // Its first row: 10.0 °C at 01:00.
    let first = tmy3.hours[0];
    assert_eq!((first.kelvin, first.row), (283.15, Some(3)));
    assert_eq!(tmy3.time_label(first.time), "01-01 01:00");
    assert_eq!(read("northway-fortnight.csv").form, Form::Table);
}

#[test]
fn a_cold_spell_is_cut_from_any_of_them() {
    use coldsill::spell::{Spell, SpellKind};
    for (file, from) in [
        ("chicago-january.epw", "01-0"),
        ("greensboro-fortnight-tmy3.csv", "01-"),
        ("chicago-2015.csv.gz", "2015-01-0"),
    ] {
        let bytes = fs::read(folder().join(file)).unwrap();
        let spell = Spell::series(file, &bytes, Some(3.0)).unwrap();
        let SpellKind::Series { from: first, lead, gaps, .. } = spell.kind() else { panic!("{file}") };
        assert!(first.starts_with(from), "{file}: {first}");
        assert_eq!((*lead, *gaps), (Some(DAY), 0), "{file}");
        // Straight lines between hours and hours that each stand for themselves differ by half the ends at most.
        let mean = read(file).coldest_days(3.0).unwrap().mean;
        let hours = (0..72).map(|it| spell.outdoors(DAY + f64::from(it) * 3600.0));
        assert!((hours.sum::<f64>() / 72.0 - mean).abs() < 0.2, "{file}");
    }
}

#[test]
fn hours_below_thresholds_match_an_independent_count() {
    // NOAA's hours of Chicago in 2015, counted apart from this project: 0.1942 of 8758 are below 32 °F.
    let bytes = std::fs::read(folder().join("chicago-2015.csv.gz")).expect("the file is there");
    let hourly = Hourly::read("chicago-2015.csv.gz", &bytes).unwrap();
    let share = hourly.time_below(273.15) / 3600.0 / 8758.0;
    assert!((share - 0.1942).abs() < 0.0001, "{share}");
}
