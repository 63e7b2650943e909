//! The model of a year against hours of real and typical years (`data/real-years.csv`, made by
//! `tests/reference/year.py`) and against normals. `--nocapture` prints what it is off by.
//!
//! Off by means: so many kelvin warmer or colder outdoors, the model's figure would be the record's.

#![allow(clippy::print_stdout, reason = "the errors are for people to read")]

use coldsill::climate::{AnnualLow, Climate};
use coldsill::shipped;
use coldsill::spell::Year;
use std::collections::BTreeMap;

const ZERO: f64 = 273.15;
/// 65 and 32, 20, 0 °F, K.
const BASE: f64 = (65.0 + 459.67) / 1.8;
const LIMITS: [(&str, f64); 3] =
    [("below_32f", 273.15), ("below_20f", 479.67 / 1.8), ("below_0f", 459.67 / 1.8)];
/// Of one place, its annual mean scatters by 1.7 K about what month and latitude say (each of 43 left out of the fit in turn:
/// `year_model.py fit`); the mean of a year differs from that of many by about 1 K (from memory). One standard deviation of both.
const SCATTER: f64 = 1.97;
/// A coldest month of one winter differs from that of many by about 2 K (from memory): what a climate's figures add where
/// they meet single years.
const WINTERS: f64 = 2.0;

struct Record(BTreeMap<String, String>);

impl Record {
    fn text(&self, name: &str) -> &str {
        &self.0[name]
    }

    fn maybe(&self, name: &str) -> Option<f64> {
        let text = self.text(name);
        (!text.is_empty()).then(|| text.parse().unwrap_or_else(|_| panic!("{name}: {text}")))
    }

    fn number(&self, name: &str) -> f64 {
        self.maybe(name).unwrap_or_else(|| panic!("no {name}"))
    }

    fn name(&self) -> String {
        format!("{} {}", self.text("series"), self.text("kind"))
    }

    fn is_actual(&self) -> bool {
        self.text("kind") == "actual"
    }

    /// A climate of the series' own figures.
    fn own(&self) -> Option<Climate> {
        let mut climate = Climate::unknown();
        climate.coldest_month_mean = Some(ZERO + self.number("coldest_month"));
        climate.heating_990 = Some(ZERO + self.maybe("heating_99")?);
        climate.heating_996 = self.maybe("heating_996").map(|it| ZERO + it);
        climate.latitude = self.maybe("latitude");
        Some(climate)
    }
}

fn records() -> Vec<Record> {
    let mut file = csv::Reader::from_path("tests/climate/data/real-years.csv").expect("the file is there");
    file.deserialize().map(|it| Record(it.expect("the file is whole"))).collect()
}

/// The shift (K) of outdoors at which a figure that falls as it gets warmer is the record's.
fn off(figure: impl Fn(f64) -> f64, record: f64) -> f64 {
    let [mut low, mut high] = [-30.0, 30.0];
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        *(if figure(middle) > record { &mut low } else { &mut high }) = middle;
    }
    0.5 * (low + high)
}

/// K·days of heating below 65 °F where outdoors is so much warmer.
fn heating(year: &Year, warmer: f64) -> f64 {
    year.bins.iter().map(|it| it.hours * (BASE - it.temperature - warmer).max(0.0)).sum::<f64>() / 24.0
}

/// What a model year is off by in each figure; prints a line.
fn compare(year: &Year, record: &Record) -> Vec<(&'static str, f64)> {
    let mut all = vec![("mean", ZERO + record.number("mean") - year.mean)];
    // By hours where there are hours, as the model has them; by days it is less wherever nights alone are cold.
    let degree_days = record.maybe("degree_hours").unwrap_or_else(|| record.number("degree_days"));
    // Where next to nothing is heated, or freezes, a shift says nothing.
    if degree_days > 300.0 {
        all.push(("degree days", off(|it| heating(year, it), degree_days)));
    }
    let mut line = format!(
        "{:24} mean {:5.1} for {:5.1} °C, degree days {:5.0} for {:5.0}, hours",
        record.name(),
        year.mean - ZERO,
        record.number("mean"),
        heating(year, 0.0),
        degree_days
    );
    for (name, kelvin) in LIMITS {
        let Some(hours) = record.maybe(name) else { continue };
        line += &format!(" {:4.0} for {hours:4.0},", 8766.0 * year.part_colder_than(kelvin));
        if hours > 50.0 {
            all.push((name, off(|it| 8766.0 * year.part_colder_than(kelvin - it), hours)));
        }
    }
    let index = record.number("freezing_index");
    line += &format!(" index {:4.0} for {index:4.0}; off by", year.freezing_index(0.0) / 86400.0);
    if index > 5.0 {
        all.push(("freezing index", off(|it| year.freezing_index(-it) / 86400.0, index)));
    }
    println!("{line} {}", all.iter().map(|it| format!("{:.1}", it.1)).collect::<Vec<_>>().join(" "));
    all
}

fn root_mean_square(all: impl IntoIterator<Item = f64>) -> f64 {
    let all: Vec<f64> = all.into_iter().collect();
    (all.iter().map(|it| it * it).sum::<f64>() / f64::from(u32::try_from(all.len()).expect("few"))).sqrt()
}

/// Every figure within two standard deviations, all together within one.
fn hold(all: &[(String, Vec<(&'static str, f64)>)], deviation: f64) {
    for (place, figures) in all {
        for (figure, off) in figures {
            assert!(off.abs() < 2.0 * deviation, "{place}, {figure}: {off}");
        }
    }
    let together = root_mean_square(all.iter().flat_map(|it| it.1.iter().map(|it| it.1)));
    println!("together {together:.2} K");
    assert!(together < deviation, "{together}");
}

#[test]
fn own_figures_model_hours_and_degree_days_of_a_record() {
    let mut all = Vec::new();
    for record in records() {
        let Some(climate) = record.own() else { continue };
        let year = Year::of(&climate).unwrap();
        all.push((record.name(), compare(&year, &record)));
    }
    assert!(all.len() >= 14);
    hold(&all, SCATTER);
}

#[test]
fn published_figures_model_real_years_within_their_spread() {
    let (library, records) = (shipped::climates().unwrap(), records());
    let mut all = Vec::new();
    for record in records.iter().filter(|it| it.is_actual()) {
        let station = record.text("station");
        let shipped = library.iter().find(|it| it.station.as_deref() == Some(station));
        let climate = shipped.map(|it| it.as_ref().clone()).or_else(|| {
            // As one would be shipped: the design conditions, and the coldest month of the typical year.
            let mut climate = Climate::unknown();
            climate.heating_996 = Some(ZERO + record.maybe("published_996")?);
            climate.heating_990 = Some(ZERO + record.maybe("published_99")?);
            let (mean, deviation) =
                (record.maybe("published_low")? + ZERO, record.maybe("published_low_deviation")?);
            climate.annual_low = Some(AnnualLow { mean, deviation, winters: None, is_elsewhere: false });
            climate.latitude = record.maybe("latitude");
            let typical = records.iter().find(|it| it.text("station") == station && !it.is_actual())?;
            climate.coldest_month_mean = Some(ZERO + typical.number("coldest_month"));
            Some(climate)
        });
        let Some(climate) = climate.filter(|_| !station.is_empty()) else { continue };
        all.push((record.name(), compare(&Year::of(&climate).unwrap(), record)));
    }
    // Chicago, Northway, Mount Shasta and Seattle at least.
    assert!(all.len() >= 4);
    hold(&all, SCATTER.hypot(WINTERS));
}

#[test]
fn latitude_improves_the_annual_mean_where_not_fitted() {
    let [mut with, mut without] = [Vec::new(), Vec::new()];
    let fitted = ["chicago", "miami", "seattle"];
    for record in records().iter().filter(|it| !fitted.contains(&it.text("series"))) {
        let mut climate = record.own().unwrap();
        let mean = |climate: &Climate| Year::of(climate).unwrap().mean - ZERO - record.number("mean");
        with.push(mean(&climate));
        climate.latitude = None;
        without.push(mean(&climate));
    }
    let [with, without] = [with, without].map(root_mean_square);
    println!("{with:.2} K with latitude, {without:.2} K without");
    assert!(with < without && with < SCATTER, "{with} {without}");
}

/// Normals of 1981 to 2010: means by NOAA (Comparative Climatic Data), or from memory where the table says so, as the
/// degree days. The means were what the annual mean was fitted to; degree days were not. They are
/// sums over days from halfway between high and low: by hours, as the model has them, they are more, by some 100 K·days
/// where it is mild. The coldest months that are built in are of typical years.
#[test]
fn degree_days_of_the_places_built_in_are_near_the_normals() {
    let library = shipped::climates().unwrap();
    let mut all = Vec::new();
    for row in csv::Reader::from_path("tests/climate/data/normals.csv").unwrap().records() {
        let row = row.unwrap();
        let Some(climate) = library.iter().find(|it| *it.id == row[0]) else { continue };
        let year = Year::of(climate).unwrap();
        let normal = row[2].parse::<f64>().unwrap() / 1.8;
        // As in [`compare`].
        if normal > 300.0 {
            let off = off(|it| heating(&year, it), normal);
            println!("{:18} {:5.0} for {normal:5.0}, off by {off:4.1}", &row[0], heating(&year, 0.0));
            all.push((row[0].to_owned(), vec![("degree days", off)]));
        }
    }
    assert!(all.len() >= 30);
    // A shift of every day, of the year and of winter: the mean's scatter, and the typical month against the normal one.
    hold(&all, SCATTER.hypot(1.0));
}

/// Share of a standard normal distribution times its excess above `x`: what a scatter of one adds to max(0, -x).
fn excess(x: f64) -> f64 {
    // Abramowitz and Stegun 26.2.17, to 1e-7.
    let t = 1.0 / (1.0 + 0.231_641_9 * x.abs());
    let density = libm::exp(-0.5 * x * x) / (2.0 * std::f64::consts::PI).sqrt();
    let series =
        0.319_381_53 + t * (-0.356_563_782 + t * (1.781_477_937 + t * (-1.821_255_978 + t * 1.330_274_429)));
    let above = density * t * series;
    let above = if x < 0.0 { 1.0 - above } else { above };
    density - x * above
}

/// Mean air-freezing indices beside what the monthly normals of 1981 to 2010 (NOAA, Comparative Climatic Data) leave open, in
/// °F·days. At least the sum over monthly means, as if every day had its month's mean; at most the same with days that
/// scatter by 12 °F about it (11 to 13 °F in the records of `real-years.csv`), without thaws taken off. Each to a tenth and
/// 50 °F·days: a mean of one day is not the mean of its month.
#[test]
fn cold_places_have_the_index_of_their_monthly_normals() {
    const DAYS: [f64; 12] = [31.0, 28.25, 31.0, 30.0, 31.0, 30.0, 31.0, 31.0, 30.0, 31.0, 30.0, 31.0];
    const DAILY: f64 = 12.0;
    let library = shipped::climates().unwrap();
    let mut places = 0;
    let mut table = String::new();
    let mut outside = Vec::new();
    for row in csv::Reader::from_path("tests/climate/data/monthly-normals-1981-2010.csv").unwrap().records() {
        let row = row.unwrap();
        let months: Vec<f64> = (1..=12).map(|at| row[at].parse().unwrap()).collect();
        let sum = |of: &dyn Fn(f64) -> f64| {
            months.iter().zip(DAYS).map(|(mean, days)| days * of(*mean)).sum::<f64>()
        };
        let from = sum(&|mean| (32.0 - mean).max(0.0));
        let to = sum(&|mean| DAILY * excess((mean - 32.0) / DAILY));
        if from < 50.0 {
            continue;
        }
        places += 1;
        let climate = library.iter().find(|it| *it.id == row[0]).unwrap();
        let index = Year::of(climate).unwrap().freezing_index(0.0) / 48_000.0;
        table += &format!("{:22} {index:5.0}, normals {from:5.0} to {to:5.0}\n", &row[0]);
        if !(0.9 * from - 50.0..=1.1 * to + 50.0).contains(&index) {
            outside.push((row[0].to_owned(), index, from, to));
        }
    }
    println!("{table}");
    assert!(places >= 20, "{places}");
    assert!(outside.is_empty(), "{outside:?}");
}
