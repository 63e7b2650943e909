//! Climates on a page: a list, those near a point, and one in full.

use super::page::{labelled, table, wrapped};
use super::{REMINDER, WIDTH, location_text};
use crate::climate::{
    AnnualLow, Climate, DesignBy, FAR, FEW_WINTERS, LOOKED_AT, LOW, MILE, MOST_ELEVATION_DIFFERENCE, Near,
    Whose, Years,
};
use crate::units::{Dim, FOOT, Quantity, Rounding, Show, System};

/// Means to the tenth.
const TENTHS: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Nearest);
const DIFFERENCE: Show = Show::new(("°F", 0), ("K", 0), Rounding::Nearest);
pub(super) const ELEVATION: Show = Show::new(("ft", 0), ("m", 0), Rounding::Nearest);
const PRESSURE: Show = Show::new(("psi", 1), ("kPa", 1), Rounding::Nearest);
const CHANCE: Show = Show::new(("%", 0), ("%", 0), Rounding::Nearest);
const UNKNOWN: &str = "-";
const NOT_STATED: &str = "not stated";

/// A list with a row for each climate, and how many there are.
pub fn climates(climates: &[&Climate], system: System) -> String {
    let rows = climates.iter().map(|climate| {
        let zone = climate.zone.as_deref().unwrap_or(UNKNOWN);
        let [low, heating] = lows_of_list(climate, system);
        vec![climate.id.to_string(), distinct_name(climate, climates), zone.into(), low, heating]
    });
    let page = table(&["Climate", "Place", "Zone", "20-year low", "99.6 %"], rows.collect(), WIDTH);
    let places = if climates.len() == 1 { "1 place.".into() } else { format!("{} places.", climates.len()) };
    let notes = format!(
        "{places} The 20-year low is reached about once in 20 years; 99.6 % of the hours of a year are warmer than the \
         99.6 % value. `coldsill climates PLACE` shows one in full, for any town, ZIP or postal code too; --state, --find and --near \
         LAT,LON also list further stations."
    );
    format!("{page}\n\n{}", wrapped(&notes, WIDTH, ""))
}

/// The places near a point, the nearest first, with cautions.
pub fn climates_near(point: &str, near: &[Near], unplaced: usize, system: System) -> String {
    let all: Vec<&Climate> = near.iter().map(|near| &*near.climate).collect();
    let compares_heights = near.iter().any(|near| near.higher.is_some());
    let rows = near.iter().map(|near| {
        let climate = &near.climate;
        let height = if compares_heights {
            near.higher.map(|higher| relative_height(-higher, system))
        } else {
            climate.elevation.map(|elevation| height(elevation, system))
        };
        let height = height.unwrap_or_else(|| UNKNOWN.into());
        let [low, heating] = lows_of_list(climate, system);
        let (name, away) = (distinct_name(climate, &all), far(near.distance, system));
        vec![climate.id.to_string(), name, away, height, low, heating]
    });
    let heights = if compares_heights { "Height" } else { "Elevation" };
    let headings = ["Climate", "Place", "Away", heights, "20-year low", "99.6 %"];
    let mut out = wrapped(&format!("Nearest to {point} (straight-line distance):"), WIDTH, "");
    out.push_str(&format!("\n{}\n", table(&headings, rows.collect(), WIDTH)));
    let mut notes = near_notes(near, unplaced, system);
    if compares_heights {
        notes.insert(0, "Height: of each place relative to yours.".into());
    } else {
        let example = if system == System::Us { "1,200 ft" } else { "370 m" };
        notes.push(format!("--elevation \"{example}\" adds how much higher or lower each place is."));
    }
    for note in notes {
        out.push_str(&format!("\n{}", wrapped(&note, WIDTH, "")));
    }
    out
}

/// Cautions about the nearest place, a sentence or two each.
pub(super) fn near_notes(near: &[Near], unplaced: usize, system: System) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(nearest) = near.first() {
        let name = nearest.climate.name_and_state();
        if nearest.is_far() {
            notes.push(format!(
                "Even the nearest, {name}, is {} away. Beyond about {} the lows of one place say little about another: open \
                 country, a lake or a city between them is enough. Ask the building department for its winter design temperature, or give a \
                 climate of your own.",
                far(nearest.distance, system),
                far(FAR, system)
            ));
        }
        if let (true, Some(higher), Some(colder)) =
            (nearest.differs_in_elevation(), nearest.higher, nearest.colder_by())
        {
            notes.push(format!(
                "Your site is {} than {name}, more than {}. Air is typically colder by about 3.5 °F for every 1000 ft \
                 (6.4 °C per km), here {} by about {}; on clear, calm nights cold air collects in valleys and reverses it. \
                 Common practice, not a published figure of either place.",
                relative_height(higher, system),
                height(MOST_ELEVATION_DIFFERENCE, system),
                if colder > 0.0 { "colder" } else { "warmer" },
                DIFFERENCE.value(&Quantity::of(colder.abs(), Dim::DIFFERENCE), system)
            ));
        }
    }
    if unplaced > 0 {
        let plural = if unplaced == 1 { " gives" } else { "s give" };
        notes.push(format!("{unplaced} climate{plural} no latitude and longitude and cannot be compared."));
    }
    notes
}

/// One climate in full, in both units or in those asked for. `pressure` is the standard one at its elevation, Pa.
pub fn climate_card(climate: &Climate, pressure: Option<f64>, system: Option<System>) -> String {
    let mut title = climate.name_and_state();
    if title != *climate.id {
        title = format!("{title} ({})", climate.id);
    }
    let coastal = match climate.coastal {
        Some(true) => {
            "yes: salt water is near, which matters for metals and for the daily swing in a cold spell"
        }
        Some(false) => "no: salt water is not near",
        None => "not stated; state `exposure: coastal` in the job if salt water is near",
    };
    let mut out = format!("{}{}\n", wrapped(&title, WIDTH, ""), "-".repeat(title.chars().count().min(WIDTH)));
    for (label, text) in [
        ("Measured", &*measured(climate)),
        ("Location", &*location(climate, pressure, system)),
        ("Zone", climate.zone.as_deref().unwrap_or(NOT_STATED)),
        ("Coastal", coastal),
        ("Coldest", &*coldest_month(climate, system)),
    ] {
        out.push_str(&labelled(label, text, WIDTH));
    }
    let borrowed = super::borrowed::notes(climate, system.unwrap_or_default());
    if !borrowed.is_empty() {
        out.push_str(&format!("\n{}", wrapped(&borrowed.join(" "), WIDTH, "")));
    }
    out.push_str(&format!("\n{}\n", lows(climate, system)));
    for note in low_notes(climate, system) {
        out.push_str(&format!("\n{}", wrapped(&note, WIDTH, "")));
    }
    out.push('\n');
    let file = format!("{} ({})", location_text(&climate.location), climate.whose.words());
    for (label, text) in [("Source", &*climate.source), ("File", &*file), ("In a job", &*in_a_job(climate))] {
        out.push_str(&labelled(label, text, WIDTH));
    }
    out.push_str(&format!("\n{}", wrapped(REMINDER, WIDTH, "")));
    out
}

/// What a job states to use it; a person's own also needs its file.
fn in_a_job(climate: &Climate) -> String {
    let (id, file) = (&climate.id, &climate.location.file);
    if climate.whose.is_own() {
        format!(
            "climate: {id} and, on a line of its own, climates: {file} (its path from the folder of the job); or on the \
             command line --climate {id} --climates {file}"
        )
    } else if id.contains(',') {
        format!("climate: \"{id}\"")
    } else {
        format!("climate: {id}")
    }
}

fn measured(climate: &Climate) -> String {
    let station = climate.station.as_ref().map(|station| format!("station {station}"));
    let parts = climate.measured_at.iter().map(ToString::to_string).chain(station);
    or_not_stated(parts.collect())
}

fn or_not_stated(parts: Vec<String>) -> String {
    if parts.is_empty() { NOT_STATED.into() } else { parts.join("; ") }
}

/// "month: January, mean 10.4 °F (-12 °C) (typical-year weather files)".
fn coldest_month(climate: &Climate, system: Option<System>) -> String {
    let month = climate.coldest_month_name().unwrap_or(NOT_STATED);
    let mean = climate.coldest_month_mean.map_or_else(String::new, |mean| {
        let mean = both(&Quantity::temperature(mean), TENTHS, system);
        format!(", mean {mean} ({})", climate.coldest_month_source)
    });
    format!("month: {month}{mean}")
}

fn location(climate: &Climate, pressure: Option<f64>, system: Option<System>) -> String {
    let angle =
        |it: f64, [plus, minus]: [&str; 2]| format!("{}° {}", it.abs(), if it < 0.0 { minus } else { plus });
    let mut parts = Vec::new();
    if let (Some(north), Some(east)) = (climate.latitude, climate.longitude) {
        parts.push(format!("{}, {}", angle(north, ["N", "S"]), angle(east, ["E", "W"])));
    }
    if let Some(elevation) = climate.elevation {
        let elevation = both(&Quantity::of(elevation, Dim::LENGTH), ELEVATION, system);
        parts.push(format!("elevation {elevation}"));
    }
    if let Some(pressure) = pressure {
        let pressure = both(&Quantity::of(pressure, Dim::PRESSURE), PRESSURE, system);
        parts.push(format!("standard air pressure {pressure}"));
    }
    or_not_stated(parts)
}

/// A table of every low it has, with how often it comes.
fn lows(climate: &Climate, system: Option<System>) -> String {
    let stated = climate.stated_low.map(|kelvin| climate.low(DesignBy::Stated(kelvin), kelvin));
    let rows = stated.into_iter().chain(climate.lows()).map(|low| {
        let quantity = Quantity::temperature(low.kelvin);
        let range = low.within.map(|[coldest, warmest]| {
            LOW.range(&quantity.within(coldest, warmest), system.unwrap_or_default())
        });
        vec![
            figure(low.by, climate),
            both(&quantity, LOW, system),
            range.unwrap_or_default(),
            low.often.map_or_else(|| UNKNOWN.into(), often),
            low.chance.map_or_else(|| UNKNOWN.into(), chance),
        ]
    });
    let years = format!("In {LOOKED_AT:.0} years");
    table(&["Low", "Temperature", "Range", "How often", &years], rows.collect(), WIDTH)
}

/// The name of a figure; that of a stated one says where: "stated in own.yaml".
pub(super) fn figure(by: DesignBy, climate: &Climate) -> String {
    match by {
        DesignBy::Stated(_) if climate.whose == Whose::Job => "stated in the job".into(),
        DesignBy::Stated(_) => {
            let file = climate.location.file.rsplit(['/', '\\']).next().unwrap_or(&climate.location.file);
            format!("stated in {file}")
        }
        _ => by.words(),
    }
}

/// To the whole percent, and never certain.
pub(super) fn chance(chance: f64) -> String {
    match chance {
        0.995.. => "over 99 %".into(),
        ..0.005 => "under 1 %".into(),
        _ => CHANCE.value(&Quantity::of(chance, Dim::NONE), System::Us),
    }
}

/// "once in 20 years".
pub(super) fn often(years: Years) -> String {
    match years {
        Years::MostWinters => "most winters".into(),
        Years::OnceIn(years) if years < 3.0 => format!("once in {years:.1} years"),
        Years::OnceIn(years) => format!("once in {years:.0} years"),
        Years::Rarer => "once in over 1000 years".into(),
    }
}

/// What the lows mean, and how certain they are.
fn low_notes(climate: &Climate, system: Option<System>) -> Vec<String> {
    let stated = climate.stated_low.map(|low| both(&Quantity::temperature(low), LOW, system));
    let Some(annual) = climate.annual_low else {
        let design = stated.map_or_else(String::new, |low| format!("The stated design low is {low}. "));
        return vec![format!(
            "{design}The lowest temperature of each year is not given, so how often a low comes is unknown."
        )];
    };
    let mut notes = Vec::new();
    notes.extend(chance_note(climate, annual, system));
    let (winters, whose) = match annual.winters {
        Some(winters) => (winters, "by the source"),
        None => (annual.record(), "assumed: the source does not state the number"),
    };
    let elsewhere = if annual.is_elsewhere {
        " The range also covers how much a place differs from a station nearby: -7 to 6 °F in nine cases of ten."
    } else {
        ""
    };
    let few = if winters < FEW_WINTERS { " So few winters are a weak basis." } else { "" };
    notes.push(format!(
        "The lows by years are drawn from {winters:.0} winters ({whose}), which is why each has a range: the true figure is \
         within it eight times in ten, and one time in ten it is colder.{few}{elsewhere}"
    ));
    notes.extend(
        stated.map(|low| format!("The stated design low, {low}, is used instead of the 20-year low.")),
    );
    notes
}

fn chance_note(climate: &Climate, annual: AnnualLow, system: Option<System>) -> Option<String> {
    let low = climate.low(DesignBy::Years(20.0), annual.low(20.0)?);
    let below = climate.heating_996.map_or_else(String::new, |heating| {
        let below = both(&Quantity::of(heating - low.kelvin, Dim::DIFFERENCE), DIFFERENCE, system);
        format!(" and is {below} below the 99.6 % value here")
    });
    Some(format!("A 20-year low has a {} chance within {LOOKED_AT:.0} years{below}.", chance(low.chance?)))
}

/// Its name and state; if another has the same, also where it was measured; and whether it is the person's own.
fn distinct_name(climate: &Climate, among: &[&Climate]) -> String {
    let name = climate.name_and_state();
    let has_twin = among.iter().filter(|other| other.name_and_state() == name).count() > 1;
    let at = climate.measured_at.as_ref().filter(|_| has_twin).map(|at| format!(", {at}"));
    let own = climate.whose.is_own().then(|| format!(" ({})", climate.whose.words()));
    format!("{name}{}{}", at.unwrap_or_default(), own.unwrap_or_default())
}

/// The 20-year low, or the design low that is stated in its place; and the 99.6 % value.
fn lows_of_list(climate: &Climate, system: System) -> [String; 2] {
    let stated = if climate.stated_low.is_some() { ", stated" } else { "" };
    let text = |kelvin: Option<f64>| kelvin.map_or_else(|| UNKNOWN.into(), |kelvin| low_text(kelvin, system));
    [text(climate.design_low()) + stated, text(climate.heating_996)]
}

/// A low as every page prints it.
pub(super) fn low_text(kelvin: f64, system: System) -> String {
    LOW.value(&Quantity::temperature(kelvin), system)
}

/// "-31 °F (-35 °C)", or in the one unit asked for.
fn both(quantity: &Quantity, show: Show, system: Option<System>) -> String {
    let text = |system| show.value(quantity, system);
    system.map_or_else(|| format!("{} ({})", text(System::Us), text(System::Si)), text)
}

pub(super) fn height(meters: f64, system: System) -> String {
    ELEVATION.value(&Quantity::of(meters, Dim::LENGTH), system)
}

/// "200 ft higher".
pub(super) fn relative_height(meters: f64, system: System) -> String {
    let unit = if system == System::Us { FOOT } else { 1.0 };
    match meters {
        _ if meters.abs() < 0.5 * unit => "level".into(),
        ..0.0 => format!("{} lower", height(-meters, system)),
        _ => format!("{} higher", height(meters, system)),
    }
}

/// A distance in miles or kilometers, to two figures below ten.
pub(super) fn far(meters: f64, system: System) -> String {
    let (number, unit) = match system {
        System::Us => (meters / MILE, "mi"),
        System::Si => (meters / 1000.0, "km"),
    };
    if number < 9.95 { format!("{number:.1} {unit}") } else { format!("{number:.0} {unit}") }
}
