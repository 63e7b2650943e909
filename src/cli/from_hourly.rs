//! The command `climates --from-hourly`: a climate drawn from hours of weather, as an entry that a library or a job reads.

use crate::disk::Disk;
use crate::output;
use coldsill::climate::{Drawn, Form, Hourly, Library, Winter, place_id};
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::input::Files;
use coldsill::report::{WIDTH, wrapped};
use std::fs;
use std::sync::Arc;

const HOUR: f64 = 3600.0;
const DAY: f64 = 24.0 * HOUR;
const FREEZING: f64 = 273.15;
/// Thresholds whose longest runs are told, °F.
const THRESHOLDS: [f64; 3] = [32.0, 20.0, 0.0];
/// Lengths of the coldest stretches that are told, days.
const STRETCHES: [f64; 3] = [1.0, 3.0, 7.0];

/// Draws, writes, and says whether anything is told or left out. A file that is there already is not written over.
pub fn run(file: &str, name: Option<&str>, output: Option<&str>, disk: &Disk) -> Result<bool, Diagnostics> {
    let one = Diagnostics::from;
    if let Some(path) = output.filter(|path| fs::metadata(path).is_ok_and(|it| it.is_file())) {
        let problem = Diagnostic::new(Location::whole(path), "is there already, and is not written over");
        return Err(problem.expected("another file for the climate").into());
    }
    let hourly = Hourly::read(file, &disk.read(file).map_err(one)?)?;
    let drawn = hourly.drawn();
    if let (Err(share), Err(low), false) = (&drawn.heating_990, &drawn.coldest_recorded, drawn.has_a_low()) {
        let what = format!("gives no figure an outlet can be held to: {share}; {low}");
        let problem = Diagnostic::new(Location::whole(file), what);
        let mut problems = Diagnostics::from(problem.expected("every month of a year, or a whole winter"));
        problems.extend(hourly.notes.iter().cloned());
        return Err(problems);
    }
    let (text, is_whole) = yaml(&hourly, &drawn, name);
    read_back(file, &text)?;
    output::write(output, &text, disk).map_err(one)?;
    Ok(!is_whole || !hourly.notes.is_empty())
}

/// What is written must be read again. A figure or a name that would not be is told as it would be then.
fn read_back(file: &str, text: &str) -> Result<(), Diagnostics> {
    let refused = |problem: Diagnostic| {
        let message = format!("gives a climate that cannot be used: {}", problem.message);
        Diagnostic { location: Location::whole(file), message, line: None, ..problem }
    };
    let read = Library::read([("climate", text.as_bytes())]);
    read.map(|_| ()).map_err(|problems| problems.into_iter().map(refused).collect())
}

/// The entry with its comments, and whether it has every figure.
fn yaml(hourly: &Hourly, drawn: &Drawn, name: Option<&str>) -> (String, bool) {
    let file = hourly.file.rsplit(['/', '\\']).next().unwrap_or_default();
    let state = hourly.station.state.as_deref();
    let given = name.or(hourly.station.name.as_deref()).unwrap_or(file.split('.').next().unwrap_or(file));
    let ending = state.map(|it| format!(", {it}"));
    let name = ending.as_ref().and_then(|it| given.strip_suffix(it.as_str())).unwrap_or(given).trim();
    let mut out = String::new();
    told(&mut out, hourly, drawn, file);
    let kind = if hourly.typical { "hours of a typical year" } else { "hours on record" };
    out.push_str(&format!("source: {}\nplaces:\n", quoted(&format!("{kind} in {file}, drawn by coldsill"))));
    out.push_str(&format!("  {}:\n    name: {}\n", place_id(name, state), quoted(name)));
    // What is left out, by the reason why.
    let mut left_out: Vec<(String, Vec<&str>)> = Vec::new();
    let mut put = |key: &'static str, value: Result<String, String>| match value {
        Ok(value) => out.push_str(&format!("    {key}: {value}\n")),
        Err(why) => match left_out.iter_mut().find(|it| it.0 == why) {
            Some((_, keys)) => keys.push(key),
            None => left_out.push((why, vec![key])),
        },
    };
    let station = &hourly.station;
    let text = |it: &Option<Arc<str>>| it.as_deref().map(quoted).ok_or(NOT_SAID.to_owned());
    let number = |it: Option<f64>| it.map(|it| it.to_string()).ok_or(NOT_SAID.to_owned());
    if station.name.as_deref().is_some_and(|it| it != name) {
        put("measured_at", text(&station.name));
    }
    put("state", text(&station.state));
    put("station", text(&station.number));
    put("latitude", number(station.latitude));
    put("longitude", number(station.longitude));
    put("elevation", number(station.elevation).map(|it| format!("{it} m")));
    put("heating_99.6", drawn.heating_996.clone().map(celsius));
    put("heating_99", drawn.heating_990.clone().map(celsius));
    let low = drawn.annual_low.clone().map(|fit| {
        let (mean, deviation) = (celsius(fit.low.mean), rounded(fit.low.deviation));
        let note = if fit.is_short { " # few winters: the spread is itself a guess" } else { "" };
        format!("{{ mean: {mean}, deviation: {deviation} °C, winters: {} }}{note}", fit.low.record())
    });
    put("annual_low", low);
    let measured =
        if drawn.winters.iter().any(|it| !it.counts) { " # of the hours that were measured" } else { "" };
    put("coldest_recorded", drawn.coldest_recorded.clone().map(|it| celsius(it.1) + measured));
    put("coldest_month", drawn.coldest_month.clone().map(|it| MONTHS[usize::from(it.month) - 1].to_owned()));
    put("coldest_month_mean", drawn.coldest_month.clone().map(|it| celsius(it.mean)));
    let is_whole = left_out.is_empty();
    left_out.push(("hours of weather do not say".into(), vec!["zone", "coastal"]));
    for (why, keys) in left_out {
        let line = format!("Left out: {}; {}.", keys.join(", "), clean(&why));
        out.push_str(&wrapped(&line, WIDTH, "    # "));
    }
    (out, is_whole)
}

const NOT_SAID: &str = "the file does not say";

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// What the figures were drawn from, and what else the hours say, as comments.
fn told(out: &mut String, hourly: &Hourly, drawn: &Drawn, file: &str) {
    let mut line = |text: &str| out.push_str(&wrapped(&clean(text), WIDTH, "# "));
    let form = match hourly.form {
        Form::Table => "a table of times and temperatures",
        form => form.name(),
    };
    let (first, last) = (hourly.hours.first(), hourly.hours.last());
    let time = |it: Option<&coldsill::climate::Hour>| it.map_or(String::new(), |it| hourly.said(it.time));
    line(&format!(
        "A climate drawn from {file} ({form}): {} measured values, {} h apart, {} to {}{}.",
        grouped(hourly.measured().count()),
        hours(hourly.step),
        time(first),
        time(last),
        match (hourly.typical, hourly.pieced) {
            (false, _) => "",
            (true, true) => ", a typical year put together from months of different years",
            (true, false) => ", a typical year as its heading calls it",
        }
    ));
    line(&format!(
        "Screening only. heating_99.6 and heating_99: 0.4 % and 1 % of the measured hours of {} are as cold or colder. \
         annual_low: the coldest hour of each winter on average, and how much the yearly lows vary (standard deviation). A \
         winter goes from July to June (in the south January to December) and counts where at least 95 % of its three cold \
         months was measured, with no more than a day missing at once.",
        drawn
            .years
            .map_or("whole years".to_owned(), |it| format!("{it} year{}", if it == 1.0 { "" } else { "s" }))
    ));
    if let (Some(hidden), Ok(_)) = (drawn.hidden.filter(|it| *it > 0.0), &drawn.heating_990) {
        line(&format!(
            "{} % of the hours of the cold months were not measured: where those were the coldest, heating_99.6 and \
             heating_99 are too high.",
            percent(hidden)
        ));
    }
    line("To use it, put what stands under its id below `climate:` in a job.");
    for note in &hourly.notes {
        line(&format!("Told: {note}."));
    }
    for fahrenheit in THRESHOLDS {
        let kelvin = (fahrenheit + 459.67) / 1.8;
        match hourly.longest_below(kelvin) {
            Some(run) => line(&format!(
                "Longest run below {fahrenheit} °F: {} h from {}{}; coldest {}.",
                hours(run.length),
                hourly.said(run.start),
                if run.bridged > 0.0 {
                    format!(", {} h of it bridged", hours(run.bridged))
                } else {
                    String::new()
                },
                both(run.coldest)
            )),
            None => line(&format!("No hour below {fahrenheit} °F.")),
        }
    }
    for days in STRETCHES {
        if let Some(it) = hourly.coldest_days(days) {
            line(&format!(
                "Coldest {days} day{}: mean {}, from {}; coldest hour {}.",
                if days > 1.0 { "s" } else { "" },
                both(it.mean),
                hourly.said(it.start),
                both(it.coldest)
            ));
        }
    }
    if let Some(swing) = hourly.swing_of_cold_days() {
        let (k, f) = (rounded(swing.mean), (swing.mean * 18.0).round() / 10.0);
        line(&format!("Low to high of the coldest {} days: {f} °F ({k} K) on average.", swing.days));
    }
    if let Some(index) = hourly.ordinary_freezing_index() {
        line(&format!("Air-freezing index of this ordinary winter: {}.", degree_days(index)));
    }
    drawn.winters.iter().for_each(|it| line(&winter(it, hourly)));
}

fn winter(it: &Winter, hourly: &Hourly) -> String {
    let counts = if it.is_partial() {
        format!(", counts, partial: {} % of the whole winter not measured", percent(it.missing_of_all))
    } else if it.counts {
        String::new()
    } else if it.counts_but_for_a_hole() {
        let days = rounded(it.longest_hole / DAY);
        format!(", does not count: {days} days at once of its cold months not measured")
    } else {
        format!(", does not count: {} % of its cold months not measured", percent(it.missing))
    };
    let index =
        it.freezing_index.map_or(String::new(), |it| format!(", air-freezing index {}", degree_days(it)));
    format!(
        "Winter {}: coldest {}, {}{index}{counts}.",
        it.name(),
        both(it.coldest.1),
        hourly.said(it.coldest.0)
    )
}

fn percent(share: f64) -> f64 {
    (share * 1000.0).ceil() / 10.0
}

fn celsius(kelvin: f64) -> String {
    format!("{} °C", rounded(kelvin - FREEZING))
}

fn both(kelvin: f64) -> String {
    let fahrenheit = ((kelvin - FREEZING) * 18.0).round() / 10.0 + 32.0;
    format!("{} °F ({} °C)", (fahrenheit * 10.0).round() / 10.0 + 0.0, rounded(kelvin - FREEZING))
}

fn degree_days(index: f64) -> String {
    format!("{:.0} °F·days ({:.0} °C·days)", index / DAY * 1.8, index / DAY)
}

/// To a hundredth, without a negative zero.
fn rounded(number: f64) -> f64 {
    (number * 100.0).round() / 100.0 + 0.0
}

fn hours(seconds: f64) -> f64 {
    rounded(seconds / HOUR)
}

fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// A text on one line.
fn clean(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A text as YAML reads it back whatever is in it.
fn quoted(text: &str) -> String {
    format!("\"{}\"", clean(text).replace('\\', "\\\\").replace('"', "\\\""))
}
