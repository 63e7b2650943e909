//! The calculation sheet of one outlet: every number with its unit, its source and how it came to be here.

use super::comments::{speaks, to_settle};
use super::page::{labelled, table, wrapped};
use super::words::{from, sentence, value};
use super::{REMINDER, WIDTH};
use crate::facts::{Origin, SectionSheet};
use crate::review::{Absence, Review, Sheet, Shown};
use crate::section::{Factor, LONGEST};
use crate::units::{Dim, Measure, Quantity, Rounding, Show, System};
use std::fmt::Write;

const TEMPERATURE: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Nearest);
const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);

/// The sheets of one mark as text.
pub fn sheet(review: &Review, sheets: &[Sheet], system: System) -> String {
    let mut out = String::new();
    for sheet in sheets {
        one(&mut out, review, sheet, system);
    }
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

fn heading(out: &mut String, text: &str) {
    let _ = write!(out, "\n{text}\n{}\n", "-".repeat(text.chars().count()));
}

fn one(out: &mut String, review: &Review, sheet: &Sheet, system: System) {
    let _ = writeln!(out, "Calculation sheet: {}", sheet.outlet.mark);
    let _ = writeln!(out, "{}", sheet.outlet.place);
    let climate = &review.climate;
    let _ = writeln!(out, "{}; {}", climate.name, climate.source);
    let facts = &sheet.outlet.findings.facts;
    heading(out, "What goes in");
    let given = facts.iter().filter(|it| !matches!(it.origin, Origin::Computed(_)) && it.value.is_ok());
    out.push_str(&table(&["Fact", "Value", "From", "Where, or why"], given.map(|it| input(it, sheet, system)).collect(), WIDTH));
    let unknown: Vec<&Shown> =
        facts.iter().filter(|it| matches!(it.origin, Origin::Unknown | Origin::Unreadable(..)) && it.value.is_err()).collect();
    if !unknown.is_empty() {
        let names: Vec<_> = unknown.iter().map(|it| it.heading.clone()).collect();
        out.push_str("\n\n");
        out.push_str(&wrapped(&format!("Not known: {}.", super::words::listed(&names, usize::MAX)), WIDTH, ""));
    } else {
        out.push('\n');
    }
    match &sheet.section {
        Ok(section) => section_lines(out, section, system),
        Err(Absence::Because(why)) => {
            heading(out, "Section");
            out.push_str(&wrapped(&format!("Not solved: {why}."), WIDTH, ""));
        }
        Err(Absence::Missing(headings)) => {
            heading(out, "Section");
            let what = super::words::listed(headings, usize::MAX);
            out.push_str(&wrapped(&format!("Not solved: {what} not known."), WIDTH, ""));
        }
    }
    heading(out, "What comes out");
    let computed = facts.iter().filter(|it| matches!(it.origin, Origin::Computed(_)));
    let rows = computed.map(|it| vec![it.name.to_string(), value(it, system), about(it)]);
    out.push_str(&table(&["Fact", "Value (low to high)", "Which is"], rows.collect(), WIDTH));
    out.push('\n');
    heading(out, "Comments");
    for comment in sheet.outlet.findings.comments.iter() {
        let title = format!("{}  {}: {}", comment.rule.number, comment.outcome.word(), comment.rule.title);
        out.push_str(&wrapped(&title, WIDTH, ""));
        if speaks(comment) {
            out.push_str(&wrapped(&sentence(&comment.says, system), WIDTH, "   "));
            if let Some(settle) = comment.open.as_ref().and_then(|open| to_settle(open, comment.outcome, system)) {
                out.push_str(&wrapped(&settle, WIDTH, "   "));
            }
            out.push_str(&wrapped(&format!("Rule: {} ({}).", comment.rule.id, comment.rule.place), WIDTH, "   "));
        }
    }
}

fn input(fact: &Shown, sheet: &Sheet, system: System) -> Vec<String> {
    // The findings are shared by rows alike; a cell's own place is this row's.
    let here = sheet.outlet.stated.iter().find(|it| it.name == fact.name).unwrap_or(fact);
    let place = match &here.origin {
        Origin::Stated(place, text) | Origin::Job(place, text) => format!("{place}: {text}"),
        Origin::Published(source) => source.to_string(),
        Origin::Assumed(why) => why.to_string(),
        Origin::Setting | Origin::Supposed | Origin::Computed(_) | Origin::Unknown | Origin::Unreadable(..) => String::new(),
    };
    vec![fact.name.to_string(), value(fact, system), from(&fact.origin).into(), place]
}

fn about(fact: &Shown) -> String {
    let slot = crate::facts::CATALOGUE.iter().find(|entry| entry.def.name == &*fact.name);
    slot.map_or("", |entry| entry.def.about).into()
}

fn section_lines(out: &mut String, section: &SectionSheet, system: System) {
    let length = |si: f64| LENGTH.value(&Quantity::of(si, Dim::LENGTH), system);
    let temperature = |kelvin: f64| TEMPERATURE.value(&Quantity::temperature(kelvin), system);
    let difference = |kelvin: f64| TEMPERATURE.value(&Quantity::of(kelvin, Dim::DIFFERENCE), system);
    let solved = &section.solved;
    heading(out, &format!("Wall: {}", section.wall.name));
    let mut at = 0.0;
    let rows = section.wall.layers.iter().map(|layer| {
        let from = at;
        at += layer.thickness;
        let conductivity = Quantity::of(layer.conductivity, Dim::CONDUCTIVITY);
        let resistance = Quantity::of(layer.thickness / layer.conductivity, Dim::RESISTANCE);
        vec![
            format!("{} to {}", length(from), length(at)),
            layer.name.to_string(),
            Show::usual(conductivity.measure).value(&conductivity, System::Si),
            Show::usual(resistance.measure).value(&resistance, system),
            layer.source.to_string(),
        ]
    });
    out.push_str(&table(&["Depth", "Layer", "Conductivity", "Resistance", "Source"], rows.collect(), WIDTH));
    out.push('\n');
    heading(out, "Seat temperature");
    let share = solved.seat.0;
    let lines = format!(
        "seat = {share:.4} x room + {:.4} x outdoors = {share:.4} x {} + {:.4} x {} = {}",
        1.0 - share,
        temperature(section.at.room),
        1.0 - share,
        temperature(section.at.outdoors),
        temperature(solved.seat.temperature(&section.at))
    );
    out.push_str(&wrapped(&lines, WIDTH, ""));
    let rows = solved.moved_by(&section.at).into_iter().map(|(factor, [down, up])| {
        vec![factor_name(factor), difference(down), format!("+{}", difference(up))]
    });
    out.push_str("\nEach uncertain input alone moves it; the band adds them by the root of the sum of squares.\n");
    out.push_str(&table(&["Input", "Down by", "Up by"], rows.collect(), WIDTH));
    out.push_str("\n\nAlong the outlet's metal, at the design low:\n");
    let mut rows: Vec<Vec<String>> = Vec::new();
    let mut last = f64::NEG_INFINITY;
    for station in &solved.stations {
        // About one line an inch.
        if station.depth - last >= 0.0254 && station.depth <= LONGEST {
            rows.push(vec![length(station.depth), temperature(station.share.temperature(&section.at))]);
            last = station.depth;
        }
    }
    out.push_str(&table(&["From the face", "Temperature"], rows, WIDTH));
    out.push_str("\n\n");
    method(out, section, system);
}

fn factor_name(factor: Factor) -> String {
    factor.name().into()
}

fn method(out: &mut String, section: &SectionSheet, system: System) {
    let solved = &section.solved;
    let mut line = |label: &str, text: &str| out.push_str(&labelled(label, text, WIDTH));
    line("Model", "Axisymmetric finite volumes through wall, barrel, seat, inlet fitting and supply; adiabatic 150 mm \
        (5.9 in) from the axis. Seat temperature is the mean of the water in the first 3 mm inboard of the washer. \
        Steady: it says whether, not when. Buoyant exchange in the water, which would warm the seat, is left out; so is \
        radiation to a clear night sky, which would cool it.");
    line("Weights", "ISO 10211 weighting factors of outdoors and room; one solve serves every outdoor temperature.");
    if let Some([least, most]) = solved.indoor_films {
        let film = |it: f64| {
            let quantity = Quantity::of(it, Dim::FILM);
            Show::usual(Measure::Of(Dim::FILM)).value(&quantity, system)
        };
        let text = format!(
            "Indoors {} to {} on bare metal and pipe: natural convection (Churchill and Chu) and radiation, held where \
            the seat is at 32 °F.",
            film(least),
            film(most)
        );
        line("Films", &text);
    }
    if let Some(error) = section.films_held {
        let error = Quantity::of(error, Dim::DIFFERENCE);
        let text = format!("Found at the design low instead, the films would move the seat by {}.", TEMPERATURE.value(&error, system));
        line("", &text);
    }
    line("Mesh", &format!("{} cells, {} solves; energy lost at most {:.0e} of the flow.", solved.cells, solved.solves, solved.imbalance));
}
