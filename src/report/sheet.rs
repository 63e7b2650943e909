//! The calculation sheet of one outlet: every number with its unit, its source and how it came to be here.

use super::comments::said;
use super::page::{heading, labelled, table, wrapped};
use super::words::{from, lower, value};
use super::{REMINDER, WIDTH};
use crate::diag::{Location, Position};
use crate::facts::{Origin, SectionSheet};
use crate::review::{Absence, Review, Sheet, Shown};
use crate::section::LONGEST;
use crate::units::{Dim, Measure, Quantity, Rounding, Show, System, figures};
use std::fmt::Write;

const TEMPERATURE: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Nearest);
/// Grams a day in a kg/s.
const GRAMS_A_DAY: f64 = 86.4e6;
const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);

/// The sheets of one mark as text.
pub fn sheet(review: &Review, sheets: &[Sheet], system: System) -> String {
    let mut out = String::new();
    for (index, sheet) in sheets.iter().enumerate() {
        if index > 0 {
            out.push_str("\n\n");
        }
        head(&mut out, review, sheet, system);
        inputs(&mut out, sheet, system);
        match &sheet.section {
            Ok(section) => section_lines(&mut out, section, system),
            Err(absence) => {
                heading(&mut out, "Section");
                let why = match absence {
                    Absence::Because(why) => figures(why, system),
                    Absence::Missing(headings) => format!("not known: {}", lower(headings)),
                };
                out.push_str(&wrapped(&format!("Not solved: {why}."), WIDTH, ""));
            }
        }
        outputs(&mut out, sheet, system);
        comments(&mut out, sheet, system);
    }
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

fn head(out: &mut String, review: &Review, sheet: &Sheet, system: System) {
    let _ = writeln!(out, "Calculation sheet: {}\n", sheet.outlet.mark);
    out.push_str(&labelled("Outlet", &sheet.outlet.place.to_string(), WIDTH));
    if let Some(location) = &sheet.outlet.location {
        out.push_str(&labelled("Where", location, WIDTH));
    }
    let instead = review.climate_overridden.as_ref();
    let climate =
        super::climate::in_words(&review.climate, &review.design, &review.authority, instead, system);
    out.push_str(&labelled("Climate", &climate, WIDTH));
    out.push_str(&labelled("", &format!("Source: {}.", review.climate.source), WIDTH));
}

fn inputs(out: &mut String, sheet: &Sheet, system: System) {
    let facts = &sheet.outlet.findings.facts;
    heading(out, "What goes in");
    let given = facts.iter().filter(|it| !matches!(it.origin, Origin::Computed(_)) && it.value.is_ok());
    let rows = given.map(|fact| {
        // The findings are shared by rows alike; a cell's own location is this row's.
        let own = sheet.outlet.fact(&fact.name);
        let here = own.as_ref().unwrap_or(fact);
        vec![
            fact.heading.to_string(),
            value(fact, system),
            from(&fact.origin).into(),
            whence(&here.origin, &sheet.outlet.place, system),
        ]
    });
    out.push_str(&table(&["Fact", "Value", "From", "Where, or why"], rows.collect(), WIDTH));
    out.push('\n');
    let unknown = facts.iter().filter(|it| matches!(it.origin, Origin::Unknown | Origin::Unreadable(..)));
    // What no column can state, nobody can be asked for.
    let names: Vec<_> = unknown
        .filter(|it| it.value.is_err() && crate::facts::can_be_asked(&it.name))
        .map(|it| it.heading.clone())
        .collect();
    if !names.is_empty() {
        out.push('\n');
        out.push_str(&wrapped(&format!("Not known: {}.", lower(&names)), WIDTH, ""));
    }
}

fn whence(origin: &Origin, outlet: &Location, system: System) -> String {
    match origin {
        // The facts of a type stand in another file than its places.
        Origin::Stated(place, text) if place.file != outlet.file => format!("{place}: {text}"),
        Origin::Stated(place, text) => format!("{}: {text}", spot(place)),
        Origin::Job(place, text) => format!("{}: {text}", spot(place)),
        Origin::Answered(place, text) | Origin::Product(place, text) => format!("{place}: {text}"),
        Origin::Published(why) | Origin::Assumed(why) => figures(why, system),
        Origin::Setting
        | Origin::Supposed
        | Origin::Computed(_)
        | Origin::Unknown
        | Origin::Unreadable(..) => String::new(),
    }
}

/// Where in a file that the sheet's head names already.
fn spot(place: &Location) -> String {
    match &place.spot {
        Position::Row(row, Some(column)) => format!("row {row}, \"{column}\""),
        Position::Row(row, None) => format!("row {row}"),
        Position::Line(line, _) => format!("job, line {line}"),
        Position::Whole => place.file.to_string(),
    }
}

fn outputs(out: &mut String, sheet: &Sheet, system: System) {
    heading(out, "What comes out");
    let facts = sheet.outlet.findings.facts.iter().chain(&sheet.more);
    let computed = facts.filter(|it| matches!(it.origin, Origin::Computed(_)));
    let rows = computed.map(|it| vec![it.heading.to_string(), value(it, system), about(it)]);
    out.push_str(&table(&["Fact", "Value (low to high)", "Which is"], rows.collect(), WIDTH));
    out.push('\n');
}

fn about(fact: &Shown) -> String {
    let entry = crate::facts::CATALOGUE.iter().find(|entry| entry.def.name == &*fact.name);
    entry.map_or("", |entry| entry.def.about).into()
}

fn comments(out: &mut String, sheet: &Sheet, system: System) {
    heading(out, "Comments");
    for comment in &sheet.outlet.findings.comments {
        let title = format!("{}, {}: {}", comment.rule.number, comment.outcome.word(), comment.rule.title);
        out.push_str(&wrapped(&title, WIDTH, ""));
        if !super::comments::speaks(comment) {
            continue;
        }
        let (says, settle) = said(comment, system);
        for text in says.iter().chain(&settle) {
            out.push_str(&wrapped(text, WIDTH, "   "));
        }
        out.push_str(&wrapped(&format!("Rule {}, {}", comment.rule.id, comment.rule.place), WIDTH, "   "));
    }
}

fn section_lines(out: &mut String, section: &SectionSheet, system: System) {
    layers(out, section, system);
    materials(out, section);
    seat(out, section, system);
    method(out, section, system);
}

fn layers(out: &mut String, section: &SectionSheet, system: System) {
    heading(out, &format!("Wall: {}", section.wall.name));
    let mut at = 0.0;
    let rows = section.wall.layers.iter().map(|layer| {
        let from = at;
        at += layer.thickness;
        let conductivity = Quantity::of(layer.conductivity, Dim::CONDUCTIVITY);
        let resistance = Quantity::of(layer.thickness / layer.conductivity, Dim::RESISTANCE);
        vec![
            format!("{} to {}", length(from, system), length(at, system)),
            layer.name.to_string(),
            Show::usual(conductivity.measure).value(&conductivity, System::Si),
            Show::new(("R", 1), ("m²K/W", 2), Rounding::Nearest).value(&resistance, system),
        ]
    });
    out.push_str(&table(&["From the face", "Layer", "Conductivity", "Resistance"], rows.collect(), WIDTH));
    out.push_str("\n\n");
    for layer in &section.wall.layers {
        out.push_str(&wrapped(&format!("{}: {}", layer.name, layer.source), WIDTH, ""));
    }
}

fn materials(out: &mut String, section: &SectionSheet) {
    heading(out, "Metals and pipe");
    let rows = section.materials.iter().map(|(role, it)| {
        let spread = it.conductivity;
        vec![
            (*role).to_owned(),
            it.name.to_owned(),
            format!("{} W/mK", spread.used),
            format!("{} to {}", spread.low, spread.high),
        ]
    });
    out.push_str(&table(&["Part", "Material", "Conductivity", "Published"], rows.collect(), WIDTH));
    out.push_str("\n\n");
    for (index, (_, it)) in section.materials.iter().enumerate() {
        // A barrel and a stem of one metal have one source.
        if section.materials[..index].iter().any(|(_, before)| before.key == it.key) {
            continue;
        }
        out.push_str(&wrapped(&format!("{}: {} ({})", it.name, it.source, it.standing.words()), WIDTH, ""));
    }
}

fn seat(out: &mut String, section: &SectionSheet, system: System) {
    let solved = &section.solved;
    let share = solved.seat.0;
    heading(out, "Seat temperature");
    let lines = format!(
        "seat = {share:.4} x room + {:.4} x outdoors = {share:.4} x {} + {:.4} x {} = {}",
        1.0 - share,
        temperature(section.at.room, system),
        1.0 - share,
        temperature(section.at.outdoors, system),
        Show::new(("°F", 2), ("°C", 2), Rounding::Nearest)
            .value(&Quantity::temperature(solved.seat.temperature(&section.at)), system)
    );
    out.push_str(&wrapped(&lines, WIDTH, ""));
    out.push('\n');
    let text =
        "Each uncertain input alone moves the seat; the band adds them by the root of the sum of squares:";
    out.push_str(&wrapped(text, WIDTH, ""));
    let rows = solved.moved_by(&section.at).into_iter().map(|(factor, [down, up])| {
        vec![factor.name().to_owned(), difference(down, system), difference(up, system)]
    });
    out.push_str(&table(&["Input", "Down by", "Up by"], rows.collect(), WIDTH));
    out.push_str("\n\nAlong the outlet's metal, at the design low:\n");
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut last = f64::NEG_INFINITY;
    for station in &solved.stations {
        // About one line an inch.
        if station.depth - last >= 0.0254 && station.depth <= LONGEST {
            rows.push(vec![
                length(station.depth, system),
                temperature(station.share.temperature(&section.at), system),
            ]);
            last = station.depth;
        }
    }
    out.push_str(&table(&["From the face", "Temperature"], rows, WIDTH));
    out.push_str("\n\n");
}

fn method(out: &mut String, section: &SectionSheet, system: System) {
    let solved = &section.solved;
    let mut line = |label: &str, text: &str| out.push_str(&labelled(label, text, WIDTH));
    line(
        "Model",
        "Axisymmetric finite volumes through wall, barrel, seat, inlet fitting and supply; adiabatic 150 mm (5.9 in) \
         from the axis. Washer zone 12 mm (0.47 in) at 0.25 W/mK outboard of the seat; solid inlet fitting 0.7 in long, \
         of the barrel's metal; head 1.1 in by 2 in and flange 2.5 in by 1/8 in outdoors. Seat temperature is the mean \
         of the water in the first 3 mm inboard of the washer.",
    );
    line(
        "Left out",
        "Time, which `coldsill cold-spell` follows on the same cells. Buoyant exchange in the water, which would warm the \
         seat. Radiation to a clear night sky, which would cool it. Framing beside the outlet.",
    );
    line(
        "Weights",
        "ISO 10211 weighting factors of outdoors and room; one solve serves every outdoor temperature.",
    );
    line(
        "Films",
        "Outdoors 34 W/m²K (10 to 60): the handbook's 6.7 m/s winter film, ASHRAE Fundamentals ch. 26, from memory; on \
         the wall inside 1/0.13 W/m²K, ISO 6946, from memory.",
    );
    if let Some([least, most]) = solved.indoor_films {
        let text = format!(
            "On bare metal and pipe indoors {} to {}: natural convection (Churchill and Chu 1975) and radiation, held \
             as they are where the seat is at freezing.",
            film(least),
            film(most)
        );
        line("", &text);
    }
    if let Some(error) = section.films_held {
        let text = format!(
            "Found at the design low instead, they would move the seat by {}.",
            difference(error, system)
        );
        line("", &text);
    }
    if let Some(sweat) = &section.sweat
        && sweat.in_dry_air.rate > 0.0
    {
        let text = format!(
            "Lewis relation on what stands in the room's air, at sea level, by the convective part of its film. The latent \
             heat is given back to the metal: {:.2} g a day instead of {:.2}, and the seat {} warmer than in dry air; its \
             balance closes to {:.0e}. What gathers neither runs nor insulates.",
            sweat.gathered.rate * GRAMS_A_DAY,
            sweat.in_dry_air.rate * GRAMS_A_DAY,
            difference(sweat.seat[1] - sweat.seat[0], system),
            sweat.imbalance.abs()
        );
        line("Sweating", &text);
    }
    let mesh = format!(
        "{} cells, {} solves; energy lost at most {:.0e} of the flow.",
        solved.cells, solved.solves, solved.imbalance
    );
    line("Mesh", &mesh);
}

fn length(si: f64, system: System) -> String {
    LENGTH.value(&Quantity::of(si, Dim::LENGTH), system)
}

fn temperature(kelvin: f64, system: System) -> String {
    TEMPERATURE.value(&Quantity::temperature(kelvin), system)
}

fn difference(kelvin: f64, system: System) -> String {
    TEMPERATURE.value(&Quantity::of(kelvin, Dim::DIFFERENCE), system)
}

fn film(it: f64) -> String {
    let quantity = Quantity::of(it, Dim::FILM);
    Show::usual(Measure::Of(Dim::FILM)).value(&quantity, System::Si)
}
