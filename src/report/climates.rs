//! Climates on a page: those there are, those near a point, and one of them whole.

use super::page::{labelled, table, wrapped};
use super::{REMINDER, WIDTH, place};
use crate::climate::{Climate, DesignBy, FAR, FEW_WINTERS, HEIGHT, LOOKED_AT, Low, Near, Whose, Years};
use crate::units::{Dim, Quantity, Rounding, Show, System};

/// Lows to the whole degree, for lists; none looks warmer than it is.
const DEGREES: Show = Show::new(("°F", 0), ("°C", 0), Rounding::Down);
/// Lows to the tenth, as they are published, and never warmer.
const LOWS: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Down);
/// Means and spreads to the tenth.
const TENTHS: Show = LOWS.toward(Rounding::Nearest);
const APART: Show = Show::new(("°F", 0), ("K", 0), Rounding::Nearest);
const HEIGHTS: Show = Show::new(("ft", 0), ("m", 0), Rounding::Nearest);
const CHANCE: Show = Show::new(("%", 0), ("%", 0), Rounding::Nearest);
const MILE: f64 = 1609.344;

/// A list, one a row, with how many they are.
pub fn climates(climates: &[&Climate], system: System) -> String {
    let rows = climates.iter().map(|it| {
        vec![
            it.id.to_string(),
            told_apart(it, climates),
            it.zone.as_deref().unwrap_or("-").into(),
            low(it, system),
            degrees(it.heating_996, system),
        ]
    });
    let page = table(&["Climate", "Place", "Zone", "20-year low", "99.6 %"], rows.collect(), WIDTH);
    let places = if climates.len() == 1 { "1 place.".into() } else { format!("{} places.", climates.len()) };
    let notes = format!(
        "{places} The 20-year low is reached about once in 20 years; the 99.6 % value is exceeded in 99.6 % of the \
         hours of a year. `coldsill climates PLACE` shows one of them whole; --near LAT,LON finds the nearest."
    );
    format!("{page}\n\n{}", wrapped(&notes, WIDTH, ""))
}

/// The places near a point, the nearest first, and what to mind.
pub fn climates_near(point: &str, near: &[Near], unplaced: usize, system: System) -> String {
    let all: Vec<&Climate> = near.iter().map(|it| &*it.climate).collect();
    let knows_heights = near.iter().any(|it| it.higher.is_some());
    let rows = near.iter().map(|it| {
        let climate = &it.climate;
        let height = if knows_heights {
            it.higher.map_or_else(|| "-".into(), |it| apart(-it, system))
        } else {
            climate.elevation.map_or_else(|| "-".into(), |it| height(it, system))
        };
        vec![
            climate.id.to_string(),
            told_apart(climate, &all),
            far(it.distance, system),
            height,
            low(climate, system),
            degrees(climate.heating_996, system),
        ]
    });
    let heights = if knows_heights { "Height" } else { "Elevation" };
    let headings = ["Climate", "Place", "Away", heights, "20-year low", "99.6 %"];
    let mut out = wrapped(&format!("Nearest to {point}, as the crow flies:"), WIDTH, "");
    out.push_str(&format!("\n{}\n", table(&headings, rows.collect(), WIDTH)));
    let mut notes = near_notes(near, unplaced, system);
    if knows_heights {
        notes.insert(0, "Height: as each place lies to yours.".into());
    } else {
        let height = if system == System::Us { "1,200 ft" } else { "370 m" };
        notes.push(format!("--elevation \"{height}\" tells how much higher or lower than that each lies."));
    }
    for note in notes {
        out.push_str(&format!("\n{}", wrapped(&note, WIDTH, "")));
    }
    out
}

/// What to mind of the nearest place, a sentence or two each.
pub(super) fn near_notes(near: &[Near], unplaced: usize, system: System) -> Vec<String> {
    let mut notes = Vec::new();
    if let Some(nearest) = near.first() {
        let name = nearest.climate.name_and_state();
        if nearest.is_far() {
            notes.push(format!(
                "Even the nearest, {name}, is {} away. Beyond about {} a place's lows say little of another's: open \
                 country, a lake or a city between them is enough. Ask the authority for its own winter temperature, or \
                 give a climate of your own.",
                far(nearest.distance, system),
                far(FAR, system)
            ));
        }
        if let (true, Some(higher), Some(colder)) =
            (nearest.is_of_another_height(), nearest.higher, nearest.colder_by())
        {
            notes.push(format!(
                "Your site lies {} than {name}, more than {}. As a rule air is colder by about 3.5 °F for every 1000 ft \
                 (6.4 °C per km), here {} by about {}; on clear, calm nights cold air pools in valleys and reverses it. \
                 Common practice, not a published figure of either place.",
                apart(higher, system),
                height(HEIGHT, system),
                if colder > 0.0 { "colder" } else { "warmer" },
                APART.value(&Quantity::of(colder.abs(), Dim::DIFFERENCE), system)
            ));
        }
    }
    if unplaced > 0 {
        let of = if unplaced == 1 { "1 climate gives" } else { &format!("{unplaced} climates give") };
        notes.push(format!("{of} no latitude and longitude and cannot be near anything."));
    }
    notes
}

/// One climate whole, in both units or in those asked for. `pressure` is the standard one at its elevation, Pa.
pub fn climate_card(climate: &Climate, pressure: Option<f64>, system: Option<System>) -> String {
    let title = format!("{} ({})", climate.name_and_state(), climate.id);
    let mut out = format!("{}{}\n", wrapped(&title, WIDTH, ""), "-".repeat(title.chars().count().min(WIDTH)));
    let mut say = |label: &str, what: &str| out.push_str(&labelled(label, what, WIDTH));
    say("Measured", &measured(climate));
    say("Stands", &stands(climate, pressure, system));
    say("Zone", climate.zone.as_deref().unwrap_or("not said"));
    let coastal = match climate.coastal {
        Some(true) => "yes: salt water is near, for its metals and for how days swing in a cold spell",
        Some(false) => "no: salt water is not near",
        None => "not said; a job says `exposure: coastal` where salt water is near",
    };
    say("Coastal", coastal);
    say("Coldest", &coldest_month(climate, system));
    out.push_str(&format!("\n{}\n", lows(climate, system)));
    for note in low_notes(climate, system) {
        out.push_str(&format!("\n{}", wrapped(&note, WIDTH, "")));
    }
    out.push('\n');
    out.push_str(&labelled("Source", &climate.source, WIDTH));
    out.push_str(&labelled(
        "Stands in",
        &format!("{} ({})", place(&climate.at), climate.whose.words()),
        WIDTH,
    ));
    out.push_str(&labelled("In a job", &in_a_job(climate), WIDTH));
    out.push_str(&format!("\n{}", wrapped(REMINDER, WIDTH, "")));
    out
}

/// What a job says to have it; one of a person's own is found only beside the file it stands in.
fn in_a_job(climate: &Climate) -> String {
    let own = format!("climate: {}", climate.id);
    if climate.whose.is_own() {
        let file = &climate.at.file;
        format!(
            "{own} and, on a line of its own, climates: {file} (its path from the folder of the job); or on the \
             command line --climate {} --climates {file}",
            climate.id
        )
    } else {
        own
    }
}

fn measured(climate: &Climate) -> String {
    let station = climate.station.as_ref().map(|it| format!("station {it}"));
    let parts: Vec<String> = climate.measured_at.iter().map(ToString::to_string).chain(station).collect();
    if parts.is_empty() { "not said where".into() } else { parts.join("; ") }
}

/// "month: January, its mean 10.4 °F (-12 °C) (typical-year weather files)".
fn coldest_month(climate: &Climate, system: Option<System>) -> String {
    let mean = climate
        .coldest_month_mean
        .map(|mean| format!("{} ({})", both(mean, TENTHS, system), climate.coldest_month_source));
    match (climate.coldest_month_name(), mean) {
        (Some(month), Some(mean)) => format!("month: {month}, its mean {mean}"),
        (Some(month), None) => format!("month: {month}"),
        (None, Some(mean)) => format!("month's mean {mean}; which month is not said"),
        (None, None) => "month not said".into(),
    }
}

fn stands(climate: &Climate, pressure: Option<f64>, system: Option<System>) -> String {
    let angle =
        |it: f64, [plus, minus]: [&str; 2]| format!("{}° {}", it.abs(), if it < 0.0 { minus } else { plus });
    let mut parts = Vec::new();
    if let (Some(north), Some(east)) = (climate.latitude, climate.longitude) {
        parts.push(format!("{}, {}", angle(north, ["N", "S"]), angle(east, ["E", "W"])));
    }
    if let Some(elevation) = climate.elevation {
        let elevation = Quantity::of(elevation, Dim::LENGTH);
        parts.push(format!("{} above the sea", both_of(&elevation, HEIGHTS, system)));
    }
    if let Some(pressure) = pressure {
        let show = Show::new(("psi", 1), ("kPa", 1), Rounding::Nearest);
        let pressure = Quantity::of(pressure, Dim::PRESSURE);
        parts.push(format!("standard air pressure there {}", both_of(&pressure, show, system)));
    }
    if parts.is_empty() { "not said".into() } else { parts.join("; ") }
}

/// Every low it has, with how often it comes.
fn lows(climate: &Climate, system: Option<System>) -> String {
    let systems: &[System] = match &system {
        Some(one) => std::slice::from_ref(one),
        None => &[System::Us, System::Si],
    };
    let stated = climate.stated_low.map(|kelvin| climate.low(DesignBy::Stated(kelvin), kelvin));
    let rows: Vec<Vec<String>> = stated
        .into_iter()
        .chain(climate.lows())
        .map(|it| {
            let mut row = vec![figure(it.by, climate)];
            row.extend(systems.iter().map(|system| {
                let text = LOWS.value(&Quantity::temperature(it.kelvin), *system);
                text.trim_end_matches(LOWS.unit(*system)).trim_end().to_owned()
            }));
            row.push(spread(&it, systems[0]));
            row.push(it.often.map_or_else(|| "-".into(), often));
            row.push(it.chance.map_or_else(|| "-".into(), chance));
            row
        })
        .collect();
    let years = format!("Within {LOOKED_AT:.0} years");
    let mut headings = vec!["Low"];
    headings.extend(systems.iter().map(|it| LOWS.unit(*it)));
    let sure = format!("Spread, {}", LOWS.unit(systems[0]));
    headings.extend([&*sure, "How often", &*years]);
    table(&headings, rows, WIDTH)
}

/// Which figure it is. One that a climate states says where: "stated in own.yaml".
pub(super) fn figure(by: DesignBy, climate: &Climate) -> String {
    if matches!(by, DesignBy::Stated(_)) {
        if climate.whose == Whose::Job {
            return "stated in the job".into();
        }
        let file = climate.at.file.rsplit(['/', '\\']).next().unwrap_or(&climate.at.file);
        return format!("stated in {file}");
    }
    by.words()
}

/// "-38.1 to -28.4": outwards to the tenth, without the unit.
fn spread(it: &Low, system: System) -> String {
    let without_unit = |text: String| text.trim_end_matches(LOWS.unit(system)).trim_end().to_owned();
    it.within.map_or_else(String::new, |[coldest, warmest]| {
        without_unit(LOWS.range(&Quantity::temperature(it.kelvin).within(coldest, warmest), system))
    })
}

/// To the whole per cent, and never certain.
pub(super) fn chance(it: f64) -> String {
    match it {
        it if it > 0.995 => "over 99 %".into(),
        it if it < 0.005 => "under 1 %".into(),
        it => CHANCE.value(&Quantity::of(it, Dim::NONE), System::Us),
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

/// What the lows mean, and how sure they are.
fn low_notes(climate: &Climate, system: Option<System>) -> Vec<String> {
    let mut notes = Vec::new();
    let Some(annual) = climate.annual_low else {
        let what =
            "The lowest temperature of each year is not given, so that nobody can say how often a low comes.";
        notes.push(match climate.stated_low {
            Some(low) => format!("The design low stated is {}. {what}", both(low, LOWS, system)),
            None => what.into(),
        });
        return notes;
    };
    if let Some(low) = annual.low(20.0).map(|kelvin| climate.low(DesignBy::Years(20.0), kelvin))
        && let Some(chance) = low.chance
    {
        let chance = self::chance(chance);
        let below = climate.heating_996.map_or_else(String::new, |heating| {
            let below = both_of(&Quantity::of(heating - low.kelvin, Dim::DIFFERENCE), APART, system);
            format!(" and lies {below} below the 99.6 % value here")
        });
        notes.push(format!("A 20-year low has a {chance} chance within {LOOKED_AT:.0} years{below}."));
    }
    let (winters, whose) = match annual.winters {
        Some(winters) => (winters, "as the source says"),
        None => (annual.record(), "assumed: the source does not say how many"),
    };
    let few = if annual.record() < FEW_WINTERS { " So few winters tell little." } else { "" };
    notes.push(format!(
        "The lows by years are drawn from {winters:.0} winters ({whose}), which leaves them as uncertain as their spread \
         says: the true figure lies within it eight times in ten, and one time in ten it is colder.{few}"
    ));
    if let Some(low) = climate.stated_low {
        notes.push(format!(
            "The design low stated, {}, goes before the 20-year low.",
            both(low, LOWS, system)
        ));
    }
    notes
}

/// Its name and state; where another has the same, also where it was measured.
fn told_apart(climate: &Climate, among: &[&Climate]) -> String {
    let name = climate.name_and_state();
    let has_twin = among.iter().filter(|it| it.name_and_state() == name).count() > 1;
    let at = climate.measured_at.as_ref().filter(|_| has_twin);
    let at = at.map_or_else(String::new, |at| format!(", {at}"));
    format!("{name}{at}{}", yours(climate))
}

fn yours(climate: &Climate) -> String {
    match climate.whose {
        Whose::BuiltIn | Whose::Job => String::new(),
        own => format!(" ({})", own.words()),
    }
}

/// The 20-year low, or the design low that is stated in its place.
fn low(climate: &Climate, system: System) -> String {
    let stated = if climate.stated_low.is_some() { ", stated" } else { "" };
    degrees(climate.design_low(), system) + stated
}

fn degrees(kelvin: Option<f64>, system: System) -> String {
    kelvin.map_or_else(|| "-".into(), |it| DEGREES.value(&Quantity::temperature(it), system))
}

fn both(kelvin: f64, show: Show, system: Option<System>) -> String {
    both_of(&Quantity::temperature(kelvin), show, system)
}

/// "-30.8 °F (-34.9 °C)", or in the one unit asked for.
fn both_of(quantity: &Quantity, show: Show, system: Option<System>) -> String {
    let of = |system| show.value(quantity, system);
    system.map_or_else(|| format!("{} ({})", of(System::Us), of(System::Si)), of)
}

fn height(metres: f64, system: System) -> String {
    HEIGHTS.value(&Quantity::of(metres, Dim::LENGTH), system)
}

/// "200 ft higher".
fn apart(metres: f64, system: System) -> String {
    let how = if metres < 0.0 { "lower" } else { "higher" };
    let apart = height(metres.abs(), system);
    if apart.starts_with("0 ") { "level".into() } else { format!("{apart} {how}") }
}

/// A distance in miles or kilometres, to two figures below ten.
pub(super) fn far(metres: f64, system: System) -> String {
    let (number, unit) = match system {
        System::Us => (metres / MILE, "mi"),
        System::Si => (metres / 1000.0, "km"),
    };
    if number < 9.95 { format!("{number:.1} {unit}") } else { format!("{number:.0} {unit}") }
}
