//! The calculation sheet of one outlet: every number with its unit, its source and how it came to be here.

mod method;
mod moves;

use super::REMINDER;
use super::blocks::{Block, Blocks};
use super::comments::said;
use super::drawing::Drawing;
use super::footnotes::Footnotes;
use super::words::{from, lower, value};
use crate::diag::{Location, Position};
use crate::facts::{Origin, SectionSheet};
use crate::review::{Absence, Review, Sheet, Shown};
use crate::section::LONGEST;
use crate::units::{Dim, Quantity, Rounding, Show, System, figures};

const TEMPERATURE: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Nearest);
const LENGTH: Show = Show::new(("in", 2), ("mm", 0), Rounding::Nearest);

/// The sheets of one mark as text.
pub fn sheet(review: &Review, sheets: &[Sheet], system: System) -> String {
    let mut out = Blocks::default();
    let mut notes = Footnotes::default();
    for (index, sheet) in sheets.iter().enumerate() {
        if index > 0 {
            out.space();
            out.space();
        }
        out.title(format!("Calculation sheet: {}", sheet.outlet.mark));
        add(&mut out, review, sheet, Vec::new(), system, &mut notes);
    }
    notes.list(&mut out, "Sources");
    out.space();
    out.paragraph(REMINDER);
    out.into_text()
}

/// Adds a sheet below its title, its drawings after its head.
pub(super) fn add<'s>(
    out: &mut Blocks,
    review: &'s Review,
    sheet: &'s Sheet,
    drawings: Vec<Drawing>,
    system: System,
    notes: &mut Footnotes<'s>,
) {
    head(out, review, sheet, system, notes);
    for drawing in drawings {
        out.push(Block::Figure { drawing, plain: String::new() });
    }
    inputs(out, sheet, system);
    match &sheet.section {
        Ok(section) => section_lines(out, section, system, notes),
        Err(absence) => {
            out.heading("Section");
            let why = match absence {
                Absence::Because(why) => figures(why, system),
                Absence::Missing(headings) => format!("unknown: {}", lower(headings)),
            };
            out.paragraph(&format!("Not solved: {why}."));
        }
    }
    outputs(out, sheet, system);
    comments(out, sheet, system, notes);
}

fn head<'s>(out: &mut Blocks, review: &'s Review, sheet: &Sheet, system: System, notes: &mut Footnotes<'s>) {
    out.labelled("Faucet", &sheet.outlet.location.to_string());
    if let Some(location) = &sheet.outlet.where_it_is {
        out.labelled("Location", location);
    }
    let instead = review.climate_overridden.as_ref();
    let climate =
        super::climate::in_words(&review.climate, &review.design, &review.authority, instead, system);
    let source = notes.cite(&*review.climate.source);
    out.labelled("Climate", &format!("{climate} {source}"));
}

fn inputs(out: &mut Blocks, sheet: &Sheet, system: System) {
    let facts = &sheet.outlet.findings.facts;
    out.heading("Inputs");
    let given = facts.iter().filter(|it| !matches!(it.origin, Origin::Computed(_)) && it.value.is_ok());
    let rows = given.map(|fact| {
        // The findings are shared by rows alike; a cell's own location is this row's.
        let own = sheet.outlet.fact(&fact.name);
        let here = own.as_ref().unwrap_or(fact);
        vec![
            fact.heading.to_string(),
            value(fact, system),
            from(&fact.origin).into(),
            whence(&here.origin, &sheet.outlet.location, system),
        ]
    });
    out.table(&["Fact", "Value", "From", "Location or reason"], rows);
    let unknown = facts.iter().filter(|it| matches!(it.origin, Origin::Unknown | Origin::Unreadable(..)));
    // A fact without a column cannot be asked for.
    let names: Vec<_> = unknown
        .filter(|it| it.value.is_err() && crate::facts::can_be_asked(&it.name))
        .map(|it| it.heading.clone())
        .collect();
    if !names.is_empty() {
        out.space();
        out.paragraph(&format!("Unknown: {}.", lower(&names)));
    }
}

fn whence(origin: &Origin, outlet: &Location, system: System) -> String {
    match origin {
        // The facts of a type stand in another file than its places.
        Origin::Stated(location, text) if location.file != outlet.file => format!("{location}: {text}"),
        Origin::Stated(location, text) => format!("{}: {text}", spot(location)),
        Origin::Job(location, text) => format!("{}: {text}", spot(location)),
        Origin::Answered(location, text) | Origin::Product(location, text) => format!("{location}: {text}"),
        Origin::Published(why) | Origin::Assumed(why) => figures(why, system),
        Origin::Setting
        | Origin::Supposed
        | Origin::Computed(_)
        | Origin::Unknown
        | Origin::Unreadable(..) => String::new(),
    }
}

/// Where in a file that the sheet's head names already.
fn spot(location: &Location) -> String {
    match &location.position {
        Position::Row(row, Some(column)) => format!("row {row}, \"{column}\""),
        Position::Row(row, None) => format!("row {row}"),
        Position::Line(span) => format!("job, line {}", span.line),
        Position::Whole => location.file.to_string(),
    }
}

fn outputs(out: &mut Blocks, sheet: &Sheet, system: System) {
    out.heading("Results");
    let facts = sheet.outlet.findings.facts.iter().chain(&sheet.more);
    let computed = facts.filter(|it| matches!(it.origin, Origin::Computed(_)));
    let rows = computed.map(|it| vec![it.heading.to_string(), value(it, system), about(it)]);
    out.table(&["Fact", "Value (low to high)", "Description"], rows);
}

fn about(fact: &Shown) -> String {
    let entry = crate::facts::CATALOGUE.iter().find(|entry| entry.def.name == &*fact.name);
    entry.map_or("", |entry| entry.def.about).into()
}

fn comments<'s>(out: &mut Blocks, sheet: &'s Sheet, system: System, notes: &mut Footnotes<'s>) {
    out.heading("Comments");
    for comment in &sheet.outlet.findings.comments {
        let title = format!("{}, {}: {}", comment.rule.number, comment.outcome.word(), comment.rule.title);
        out.paragraph(&title);
        if !super::comments::speaks(comment) {
            continue;
        }
        let (says, settle) = said(comment, system);
        for text in says.iter().chain(&settle) {
            out.indented(3, text);
        }
        let see: Vec<String> = comment.rule.see.iter().map(|source| notes.cite(&**source)).collect();
        let rule = format!("Rule {}, {} {}", comment.rule.id, comment.rule.location, see.join(" "));
        out.indented(3, rule.trim_end());
    }
}

fn section_lines<'s>(out: &mut Blocks, section: &'s SectionSheet, system: System, notes: &mut Footnotes<'s>) {
    layers(out, section, system, notes);
    materials(out, section, notes);
    seat(out, section, system);
    method::lines(out, section, system, notes);
}

fn layers<'s>(out: &mut Blocks, section: &'s SectionSheet, system: System, notes: &mut Footnotes<'s>) {
    out.heading(&format!("Wall: {}", section.wall.name));
    let mut depth = 0.0;
    let rows = section.wall.layers.iter().map(|layer| {
        let start = depth;
        depth += layer.thickness;
        let conductivity = Quantity::of(layer.conductivity, Dim::CONDUCTIVITY);
        vec![
            format!("{} to {}", length(start, system), length(depth, system)),
            format!("{} {}", layer.name, notes.cite(&*layer.source)),
            Show::usual(conductivity.measure).value(&conductivity, System::Si),
            super::wall::resistance(layer.thickness / layer.conductivity, system),
        ]
    });
    out.table(&["From face", "Layer", "Conductivity", "Resistance"], rows);
}

fn materials<'s>(out: &mut Blocks, section: &'s SectionSheet, notes: &mut Footnotes<'s>) {
    out.heading("Metals and pipe");
    let rows = section.materials.iter().map(|(role, material)| {
        let spread = material.conductivity;
        vec![
            (*role).to_owned(),
            format!("{} {}", material.name, notes.cite_as(material.source, material.standing)),
            format!("{} W/mK", spread.used),
            format!("{} to {}", spread.low, spread.high),
        ]
    });
    out.table(&["Part", "Material", "Conductivity", "Published"], rows);
}

fn seat(out: &mut Blocks, section: &SectionSheet, system: System) {
    let solved = &section.solved;
    let share = solved.seat.0;
    out.heading("Valve seat temperature");
    let lines = format!(
        "seat = {share:.4} x room + {:.4} x outdoors = {share:.4} x {} + {:.4} x {} = {}",
        1.0 - share,
        temperature(section.at.room, system),
        1.0 - share,
        temperature(section.at.outdoors, system),
        Show::new(("°F", 2), ("°C", 2), Rounding::Nearest)
            .value(&Quantity::temperature(solved.seat.temperature(&section.at)), system)
    );
    out.paragraph(&lines);
    out.space();
    moves::lines(out, section, system);
    out.space();
    out.paragraph("Along the faucet's metal at the design low:");
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
    out.table(&["From face", "Temperature"], rows);
    out.space();
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
