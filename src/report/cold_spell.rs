//! Outlets through a cold spell, as text, JSON and CSV. Words and layout only; computes nothing.

mod csv;
mod outlet;
mod plot;
mod ranking;
pub(super) mod times;

pub use csv::cold_spell_csv;

use super::blocks::Blocks;
use super::climates::low_text;
use super::html::{blocks, page};
use super::page::wrapped;
use super::words::{TIME, called, from, hours, row_numbers, value};
use super::{REMINDER, WIDTH};
use crate::facts::{Origin, State};
use crate::review::{Absence, ColdSpell, InSpell, RowOf, Shown, Spotted};
use crate::spell::{SpellKind, Stretch};
use crate::units::{Dim, HOUR, Quantity, Rounding, Show, System, figures};
use maud::html;
use std::fmt::Write;
use std::sync::Arc;

/// The ice point, K.
const FREEZING: f64 = 273.15;
const TEMPERATURE: Show = Show::new(("°F", 1), ("°C", 1), Rounding::Nearest);
pub(super) const LENGTH: Show = Show::new(("in", 1), ("mm", 0), Rounding::Nearest);

/// A cold spell as text: the page of each outlet of the mark that was asked for, or which outlets are at risk.
pub fn cold_spell(spell: &ColdSpell, system: System) -> String {
    if spell.mark.is_some() {
        return outlets(spell, system).into_text();
    }
    let mut out = String::new();
    ranking::page(&mut out, spell, system);
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

/// The page of each outlet of the mark that was asked for as one web page: no other file, no script, no network.
pub fn cold_spell_html(spell: &ColdSpell, system: System) -> String {
    let title = format!("Cold spell: {}", spell.mark.as_deref().unwrap_or(&spell.schedule));
    page(&title, &html! { main { (blocks(outlets(spell, system))) } }, None)
}

fn outlets(spell: &ColdSpell, system: System) -> Blocks {
    let mut out = Blocks::default();
    for (index, outlet) in spell.outlets.iter().enumerate() {
        if index > 0 {
            out.space();
            out.space();
        }
        outlet::add(&mut out, spell, outlet, system);
    }
    out.space();
    out.paragraph(REMINDER);
    out
}

/// Climate, spell, state and loss of heat.
fn head(out: &mut Blocks, spell: &ColdSpell, system: System) {
    let mut line = |label: &str, text: &str| out.labelled(label, text);
    line("Climate", &climate(spell));
    line("Spell", &spell_in_words(spell, system));
    for it in spell.figures.iter().filter(|it| from(&it.origin) == "assumed") {
        if let Origin::Assumed(why) = &it.origin {
            line("", &format!("{}, {}: {}.", it.heading, value(it, system), figures(why, system)));
        }
    }
    line("State", state(spell.state));
    if let Some(cut) = spell.heat_out {
        let text = format!(
            "Off from {} to {} after the start. The room cools with the time constant of the house; it is assumed to \
             warm up again in as long as the heat was off.",
            hours(cut.from),
            hours(cut.from + cut.time),
        );
        line("Heat", &text);
    }
}

/// "barrel copper, supply insulation 0.5 in": what is not known, as it was taken.
fn taken(outlet: &InSpell, system: System) -> String {
    let said = outlet.at_worst.iter().map(|it| match (&*it.name, &*value(it, system)) {
        ("outlet.closes", "face") => "a standard bibb that closes at the face".into(),
        ("outlet.closes", "inside") => "a frostproof one that closes inside".into(),
        (_, value) => format!("{} {value}", called(it).to_lowercase()),
    });
    said.collect::<Vec<String>>().join(", ")
}

fn climate(spell: &ColdSpell) -> String {
    let climate = &spell.climate;
    let mut text = climate.name_and_state();
    if let Some(instead) = &spell.climate_overridden {
        let _ = write!(text, ". From the command line, in place of the job's {instead}");
    }
    text
}

/// A spell in a sentence or two.
pub(super) fn spell_in_words(spell: &ColdSpell, system: System) -> String {
    match spell.spell.kind() {
        SpellKind::Design { start, low, swing, days } => {
            let swing = Quantity::of(*swing, Dim::DIFFERENCE);
            let nights = if *days == 1 { "1 day".into() } else { format!("{days} days") };
            format!(
                "The job's design spell. From midnight, it gets colder outdoors over one day, from a daily mean of {}. \
                 Then {nights} with a low of {} at 6 am and highs {} warmer. It then warms up again over one day.",
                temperature(*start, system),
                low_text(*low, system),
                TEMPERATURE.value(&swing, system),
            )
        }
        SpellKind::Typed { start, stretches } => {
            let each: Vec<Arc<str>> = stretches.iter().map(|it| stretch(it, system).into()).collect();
            format!(
                "As typed: {}. Outdoors is at {} for a long time before it, and returns there within an hour after it.",
                super::words::listed(&each, usize::MAX),
                temperature(*start, system),
            )
        }
        SpellKind::Series { file, from, to, rows, lead, gaps, longest_gap, typical, warnings } => {
            let mut text = format!("{file}: {rows} rows, {from} to {to}");
            if let Some(lead) = lead {
                let _ =
                    write!(text, ", the coldest stretch of that length with the {} before it", hours(*lead));
            }
            let _ = match gaps {
                0 => write!(text, "; no gaps. "),
                1 => write!(text, "; 1 gap of {} was bridged by a straight line. ", hours(*longest_gap)),
                _ => write!(
                    text,
                    "; {gaps} gaps, the longest of {}, were bridged by straight lines. ",
                    hours(*longest_gap)
                ),
            };
            if *typical {
                text.push_str("It is a typical year, which understates extremes. ");
            }
            if *warnings > 0 {
                let plural = if *warnings == 1 { "" } else { "s" };
                let _ = write!(
                    text,
                    "`coldsill climates --from-hourly` lists {warnings} warning{plural} about the whole file. "
                );
            }
            let _ = write!(
                text,
                "Coldest {}. Before the first row, outdoors is assumed to have been at {} for a long time; nothing \
                 is computed after the last row.",
                low_text(spell.spell.coldest(), system),
                temperature(spell.spell.start(), system)
            );
            text
        }
    }
}

fn stretch(it: &Stretch, system: System) -> String {
    format!("{} for {}", temperature(it.temperature, system), hours(it.time))
}

fn state(state: State) -> &'static str {
    match state {
        State::AsItStands => "As scheduled: self-draining faucets drained, covers on where scheduled.",
        State::HoseOn => "A hose is left on, so the barrel stays full.",
        State::Uncovered => "Without its cover.",
        State::PowerCut => "Heat is off (power outage).",
    }
}

/// Why an outlet cannot be followed.
pub(super) fn why_not(absence: &Absence, system: System) -> String {
    match absence {
        Absence::Because(why) => figures(why, system),
        Absence::Missing(headings) => format!("unknown: {}", super::words::lower(headings)),
    }
}

fn fact<'i>(outlet: &'i InSpell, name: &str) -> Option<&'i Shown> {
    outlet.facts.iter().find(|it| &*it.name == name)
}

/// `row 2`, `place rows 3 and 4`.
fn rows(outlet: &InSpell) -> String {
    row_numbers(&outlet.rows)
}

/// The same under a heading that says rows: the word only where they are not the schedule's own.
fn numbers(outlet: &InSpell) -> String {
    let rows = rows(outlet);
    match outlet.rows.first() {
        Some(Spotted { of: RowOf::Schedule, .. }) => {
            rows.trim_start_matches(char::is_alphabetic).trim().to_owned()
        }
        _ => rows,
    }
}

fn temperature(kelvin: f64, system: System) -> String {
    TEMPERATURE.value(&Quantity::temperature(kelvin), system)
}
