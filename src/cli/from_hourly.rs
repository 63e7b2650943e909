//! The command `climates --from-hourly`: draws a climate from hours of weather, as an entry that a library or a job reads.

use crate::disk::Disk;
use crate::output;
use coldsill::climate::{Library, MONTHS, place_id};
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::input::Files;
use coldsill::physics::water::ICE_POINT;
use coldsill::report::{WIDTH, wrapped};
use coldsill::units::{DAY, HOUR};
use coldsill::weather::{DerivedClimate, Hourly, Winter, YearType};
use std::fmt::Display;
use std::fs;

/// Thresholds whose hours and longest runs are listed, °F.
const THRESHOLDS: [f64; 3] = [32.0, 20.0, 0.0];
/// Lengths of the coldest stretches that are listed, days.
const STRETCHES: [f64; 3] = [1.0, 3.0, 7.0];
const NOT_STATED: &str = "not stated in the file";

/// Draws and writes a climate, and says whether there are warnings or missing figures. An existing file is not overwritten.
pub fn run(file: &str, name: Option<&str>, output: Option<&str>, disk: &Disk) -> Result<bool, Diagnostics> {
    if let Some(path) = output.filter(|path| fs::metadata(path).is_ok_and(|entry| entry.is_file())) {
        let error = Diagnostic::new(Location::whole(path), "already exists and is not overwritten");
        return Err(error.expected("another file for the climate").into());
    }
    let hourly = Hourly::read(file, &disk.read(file)?)?;
    let climate = hourly.derive_climate();
    let warnings = hourly.diagnostics();
    if let (Err(share), Err(low), false) =
        (&climate.heating_990, &climate.coldest_recorded, climate.has_a_low())
    {
        let what = format!("gives no low temperature to design for: {share}; {low}");
        let error = Diagnostic::new(Location::whole(file), what);
        let mut errors = Diagnostics::from(error.expected("every month of a year, or a complete winter"));
        errors.extend(warnings);
        return Err(errors);
    }
    let (text, is_complete) = entry(&hourly, &climate, name);
    check_readable(file, &text)?;
    output::write(output, &text, disk)?;
    Ok(!is_complete || !warnings.is_empty())
}

/// Reports what would make the entry unreadable as a climate, before it is written.
fn check_readable(file: &str, text: &str) -> Result<(), Diagnostics> {
    let of_file = |error: Diagnostic| {
        let message = format!("gives a climate that cannot be used: {}", error.message);
        Diagnostic { location: Location::whole(file), message, line: None, ..error }
    };
    let read = Library::read([("climate", text.as_bytes())]);
    read.map(|_| ()).map_err(|errors| errors.into_iter().map(of_file).collect())
}

/// Keys with values, and the keys without a value by the reason why.
#[derive(Default)]
struct Keys {
    text: String,
    missing: Vec<(String, Vec<&'static str>)>,
}

impl Keys {
    fn put<E: Display>(&mut self, key: &'static str, value: Result<String, E>) {
        match value.map_err(|reason| reason.to_string()) {
            Ok(value) => self.text.push_str(&format!("    {key}: {value}\n")),
            Err(reason) => match self.missing.iter_mut().find(|(known, _)| *known == reason) {
                Some((_, keys)) => keys.push(key),
                None => self.missing.push((reason, vec![key])),
            },
        }
    }
}

/// The entry with its comments, and whether it has every figure.
fn entry(hourly: &Hourly, climate: &DerivedClimate, name: Option<&str>) -> (String, bool) {
    let station = &hourly.station;
    let file = hourly.file.rsplit(['/', '\\']).next().unwrap_or_default();
    let state = station.state.as_deref();
    let given = name.or(station.name.as_deref()).unwrap_or(file.split('.').next().unwrap_or(file));
    let ending = state.map(|state| format!(", {state}"));
    let name = ending.and_then(|ending| given.strip_suffix(&*ending)).unwrap_or(given).trim();
    let mut keys = Keys::default();
    let text = |text: Option<&str>| text.map(quoted).ok_or(NOT_STATED);
    let number = |number: Option<f64>| number.map(|number| number.to_string()).ok_or(NOT_STATED);
    if station.name.as_deref().is_some_and(|station| station != name) {
        keys.put("measured_at", text(station.name.as_deref()));
    }
    keys.put("state", text(state));
    keys.put("station", text(station.number.as_deref()));
    keys.put("latitude", number(station.latitude));
    keys.put("longitude", number(station.longitude));
    keys.put("elevation", number(station.elevation).map(|elevation| format!("{elevation} m")));
    keys.put("heating_99.6", climate.heating_996.map(celsius));
    keys.put("heating_99", climate.heating_990.map(celsius));
    let low = climate.annual_low.map(|fit| {
        let (mean, deviation) = (celsius(fit.low.mean), rounded(fit.low.deviation));
        let note = if fit.is_short { " # few winters: the deviation is itself uncertain" } else { "" };
        format!("{{ mean: {mean}, deviation: {deviation} °C, winters: {} }}{note}", fit.low.record())
    });
    keys.put("annual_low", low);
    let is_partial = climate.winters.iter().any(|winter| !winter.counts);
    let note = if is_partial { " # of the hours that were measured" } else { "" };
    keys.put("coldest_recorded", climate.coldest_recorded.map(|(_, kelvin)| celsius(kelvin) + note));
    let month = climate.coldest_month;
    keys.put("coldest_month", month.map(|month| MONTHS[usize::from(month.month) - 1].0.to_owned()));
    keys.put("coldest_month_mean", month.map(|month| celsius(month.mean)));
    let is_complete = keys.missing.is_empty();
    keys.missing.push(("not in hours of weather".into(), vec!["zone", "coastal"]));

    let kind = if hourly.is_typical() { "hours of a typical year" } else { "hours on record" };
    let source = quoted(&format!("{kind} in {file}, drawn by coldsill"));
    let mut out: String = comments(hourly, climate, file).iter().map(|line| comment(line, "# ")).collect();
    out.push_str(&format!("source: {source}\nplaces:\n  {}:\n    name: ", place_id(name, state)));
    out.push_str(&format!("{}\n{}", quoted(name), keys.text));
    for (reason, keys) in keys.missing {
        out.push_str(&comment(&format!("Not given: {} ({reason}).", keys.join(", ")), "    # "));
    }
    (out, is_complete)
}

/// What the figures were drawn from, and what else the hours show.
fn comments(hourly: &Hourly, climate: &DerivedClimate, file: &str) -> Vec<String> {
    let mut lines = vec![summary(hourly, file), method(climate)];
    if let (Some(unknown), Ok(_)) =
        (climate.unknown_cold_share.filter(|share| *share > 0.0), &climate.heating_990)
    {
        lines.push(format!(
            "{} % of the hours of the cold months were not measured: if those were the coldest, heating_99.6 and \
             heating_99 are too high.",
            percent(unknown)
        ));
    }
    lines.push("To use it, put the lines under its id below `climate:` in a job.".into());
    lines.extend(hourly.diagnostics().iter().map(|warning| format!("Warning: {warning}.")));
    lines.push(hours_below(hourly));
    lines.extend(THRESHOLDS.map(|fahrenheit| longest_run(hourly, fahrenheit)));
    for days in STRETCHES {
        if let Some(stretch) = hourly.coldest_days(days) {
            lines.push(format!(
                "Coldest {}: mean {}, from {}; coldest hour {}.",
                counted(days, "day"),
                both(stretch.mean),
                hourly.time_label(stretch.start),
                both(stretch.coldest)
            ));
        }
    }
    if let Some(swing) = hourly.swing_of_cold_days() {
        let (kelvin, fahrenheit) = (rounded(swing.mean), (swing.mean * 18.0).round() / 10.0);
        lines.push(format!(
            "Low to high of the coldest {} days: {fahrenheit} °F ({kelvin} K) on average.",
            swing.days
        ));
    }
    if let Some(index) = hourly.ordinary_freezing_index() {
        lines.push(format!("Air-freezing index of this ordinary winter: {}.", degree_days(index)));
    }
    lines.extend(climate.winters.iter().map(|it| winter(it, hourly)));
    lines
}

fn summary(hourly: &Hourly, file: &str) -> String {
    let time = |hour: Option<&coldsill::weather::Hour>| {
        hour.map_or(String::new(), |hour| hourly.time_label(hour.time))
    };
    let year_type = match hourly.year_type {
        YearType::Real => "",
        YearType::Composed => ", a typical year put together from months of different years",
        YearType::CalledTypical => ", a typical year by its heading",
    };
    format!(
        "A climate drawn from {file} ({}): {} measured values, {} h apart, {} to {}{year_type}.",
        hourly.form.name(),
        grouped(hourly.measured().count()),
        hours(hourly.step),
        time(hourly.hours.first()),
        time(hourly.hours.last()),
    )
}

fn method(climate: &DerivedClimate) -> String {
    let years = climate.years.map_or("whole years".to_owned(), |years| counted(years, "year"));
    format!(
        "Screening only. heating_99.6 and heating_99: 0.4 % and 1 % of the measured hours of {years} are as cold or colder. \
         annual_low: the coldest hour of each winter on average, and the standard deviation from year to year. A winter is \
         July to June (in the south January to December) and counts if at least 95 % of its three cold months was measured, \
         with at most a day missing at once."
    )
}

fn hours_below(hourly: &Hourly) -> String {
    let all: f64 = hourly.measured().map(|hour| hour.lasts).sum();
    let [freezing, cold, coldest] =
        THRESHOLDS.map(|fahrenheit| hours(hourly.time_below((fahrenheit + 459.67) / 1.8)));
    let [a, b, c] = THRESHOLDS;
    format!(
        "Of {} measured hours {freezing} were below {a} °F, {cold} below {b} °F and {coldest} below {c} °F.",
        hours(all)
    )
}

fn longest_run(hourly: &Hourly, fahrenheit: f64) -> String {
    let Some(run) = hourly.longest_below((fahrenheit + 459.67) / 1.8) else {
        return format!("No hour below {fahrenheit} °F.");
    };
    let bridged =
        if run.bridged > 0.0 { format!(", {} h of it bridged", hours(run.bridged)) } else { String::new() };
    format!(
        "Longest run below {fahrenheit} °F: {} h from {}{bridged}; coldest {}.",
        hours(run.length),
        hourly.time_label(run.start),
        both(run.coldest)
    )
}

fn winter(winter: &Winter, hourly: &Hourly) -> String {
    let counts = if winter.is_partial() {
        format!(", counts, partial: {} % of the whole winter not measured", percent(winter.missing_of_all))
    } else if winter.counts {
        String::new()
    } else if winter.fails_by_one_hole() {
        let days = rounded(winter.longest_hole / DAY);
        format!(", does not count: {days} days in a row of its cold months not measured")
    } else {
        format!(", does not count: {} % of its cold months not measured", percent(winter.missing))
    };
    let index = winter
        .freezing_index
        .map_or(String::new(), |index| format!(", air-freezing index {}", degree_days(index)));
    let (time, kelvin) = winter.coldest;
    format!("Winter {}: coldest {}, {}{index}{counts}.", winter.name(), both(kelvin), hourly.time_label(time))
}

/// A line of comment, wrapped.
fn comment(text: &str, start: &str) -> String {
    wrapped(&one_line(text), WIDTH, start)
}

/// "1 day", "3 days".
fn counted(number: f64, noun: &str) -> String {
    format!("{number} {noun}{}", if number == 1.0 { "" } else { "s" })
}

fn percent(share: f64) -> f64 {
    (share * 1000.0).ceil() / 10.0
}

fn celsius(kelvin: f64) -> String {
    format!("{} °C", rounded(kelvin - ICE_POINT))
}

fn both(kelvin: f64) -> String {
    let fahrenheit = ((kelvin - ICE_POINT) * 18.0).round() / 10.0 + 32.0;
    format!("{} °F ({})", (fahrenheit * 10.0).round() / 10.0 + 0.0, celsius(kelvin))
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

/// "8,760".
fn grouped(number: usize) -> String {
    let digits = number.to_string();
    let parts: Vec<&str> =
        digits.as_bytes().rchunks(3).rev().filter_map(|it| str::from_utf8(it).ok()).collect();
    parts.join(",")
}

/// A text on one line.
fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

/// A text in quotes that YAML reads back.
fn quoted(text: &str) -> String {
    format!("\"{}\"", one_line(text).replace('\\', "\\\\").replace('"', "\\\""))
}
