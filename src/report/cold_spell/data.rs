//! A cold spell as JSON and as CSV, for other programs. Values are SI in JSON, in the reader's units in CSV.

use super::super::REMINDER;
use super::super::json::{climate, fill, lines, number, place, problem, shown, shown_low, usual};
use super::super::page::quoted;
use super::times::{self, Event};
use super::{spell_in_words, why_not};
use crate::facts::{Followed, State};
use crate::review::{ColdSpell, InSpell, RowOf, Spotted};
use crate::section::{Course, Ended, Moment};
use crate::spell::SpellKind;
use crate::units::{Dim, Measure, Quantity, Show, System, find_unit};
use serde_json::{Map, Value, json};
use std::fmt::Write;

/// Version of the format.
const FORMAT: u32 = 1;

/// A cold spell as JSON, format 1: a line for every key of the whole, a line for every outlet.
pub fn cold_spell_json(spell: &ColdSpell, system: System) -> String {
    let mut figures = Map::new();
    for it in &spell.figures {
        figures.insert(it.name.to_string(), shown(it, system));
    }
    let whole = json!({
        "coldsill": env!("CARGO_PKG_VERSION"),
        "format": FORMAT,
        "reminder": REMINDER,
        "job": spell.job,
        "schedule": spell.schedule,
        "climate": climate(&spell.climate, &spell.design, spell.climate_overridden.as_ref(), system),
        "spell": spell_value(spell, system),
        "figures": figures,
        "state": state(spell.state),
        "heat_out": spell.heat_out.map(|it| json!({ "from": time(it.from), "time": time(it.time) })),
        "mark": spell.mark,
        "outlets": null,
        "problems": spell.problems.iter().map(problem).collect::<Vec<_>>(),
    });
    let Value::Object(whole) = whole else { return String::new() };
    let outlets: Vec<String> = spell.outlets.iter().map(|it| outlet(spell, it, system).to_string()).collect();
    lines(&whole, &outlets)
}

fn time(seconds: f64) -> Value {
    usual(&Quantity::of(seconds, Dim::TIME), System::Si)
}

fn kelvin(kelvin: f64, system: System) -> Value {
    usual(&Quantity::temperature(kelvin), system)
}

fn state(state: State) -> &'static str {
    match state {
        State::AsItStands => "as it stands",
        State::HoseOn => "hose on",
        State::Uncovered => "uncovered",
        State::PowerCut => "power cut",
    }
}

fn spell_value(spell: &ColdSpell, system: System) -> Value {
    let it = &spell.spell;
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| drop(out.insert(key.to_owned(), value));
    put("text", json!(spell_in_words(spell, system)));
    put("length", time(it.length()));
    put("coldest", shown_low(&Quantity::temperature(it.coldest()), system));
    put("start", kelvin(it.start(), system));
    match it.kind() {
        SpellKind::Design { low, swing, days, .. } => {
            put("kind", json!("design"));
            put("low", shown_low(&Quantity::temperature(*low), system));
            put("swing", usual(&Quantity::of(*swing, Dim::DIFFERENCE), system));
            put("days", json!(days));
        }
        SpellKind::Typed { stretches, .. } => {
            put("kind", json!("typed"));
            let each = stretches
                .iter()
                .map(|it| json!({ "outdoors": kelvin(it.temperature, system), "time": time(it.time) }));
            put("stretches", each.collect());
        }
        SpellKind::Series { file, from, to, rows, lead, gaps, longest_gap, typical, warnings } => {
            put("kind", json!("series"));
            put("file", json!(file));
            put("from", json!(from));
            put("to", json!(to));
            put("rows", json!(rows));
            put("lead", lead.map_or(Value::Null, time));
            put("gaps", json!(gaps));
            put("longest_gap", time(*longest_gap));
            put("typical", json!(typical));
            put("told", json!(warnings));
        }
    }
    Value::Object(out)
}

fn outlet(spell: &ColdSpell, outlet: &InSpell, system: System) -> Value {
    let mut out = Map::new();
    let mut put = |key: &str, value: Value| drop(out.insert(key.to_owned(), value));
    put("mark", json!(outlet.mark));
    put("at", outlet.places.iter().map(|it| place(it, None)).collect());
    put("quantity", outlet.quantity.map_or(Value::Null, number));
    put("locations", json!(outlet.locations));
    put("at_risk", json!(outlet.is_at_risk()));
    let at_worst: Map<String, Value> =
        outlet.at_worst.iter().map(|it| (it.name.to_string(), shown(it, system))).collect();
    put("taken_at_worst", Value::Object(at_worst));
    match &outlet.course {
        Ok(followed) => {
            put("not_known", Value::Null);
            put("full", json!(followed.is_full));
            put("covered", json!(followed.is_covered));
            put("events", events(followed, system));
            put("followed", courses(followed, system));
        }
        Err(absence) => put("not_known", json!(why_not(absence, system))),
    }
    if spell.mark.is_some() {
        let facts: Map<String, Value> =
            outlet.facts.iter().map(|it| (it.name.to_string(), shown(it, system))).collect();
        put("facts", Value::Object(facts));
        if let Ok(followed) = &outlet.course {
            put("hourly", followed.courses[1].moments.iter().map(hour).collect());
        }
    }
    Value::Object(out)
}

fn events(followed: &Followed, system: System) -> Value {
    let depth = times::blocked_at(followed).map_or(Value::Null, |it| figure(&it, super::LENGTH, system));
    json!({
        "first_ice": event(&Event::first_ice(followed)),
        "blocked": event(&Event::blocked(followed)),
        "blocked_at": depth,
        "plug_at_seat": event(&Event::plug_at_seat(followed)),
        "longest_plug": figure(&times::longest_plug(followed), times::PLUG, system),
        "most_frozen": figure(&times::most_frozen(followed), times::FROZEN, system),
        "coldest_seat": figure(&times::coldest_seat(followed), times::SEAT, system),
    })
}

/// Soonest and latest; null where it does not happen.
fn event(event: &Event) -> Value {
    let [low, high] = event.band();
    json!({
        "value": event.used().map(number), "low": low.map(number), "high": high.map(number),
        "unit": "s", "kind": "time", "text": event.in_short(),
    })
}

fn figure(quantity: &Quantity, show: Show, system: System) -> Value {
    let mut out = Map::new();
    fill(&mut out, quantity);
    out.insert("text".into(), json!(show.with_band(quantity, system)));
    Value::Object(out)
}

/// The three courses: at the cold end, at the values used, at the warm end.
fn courses(followed: &Followed, system: System) -> Value {
    let one = |course: &Course, shift: f64| {
        json!({
            "outdoors_moved_by": usual(&Quantity::of(shift, Dim::DIFFERENCE), system),
            "until": course.moments.last().map(|it| time(it.time)),
            "ended": ended(course.ended),
            "ice_gone": course.clear.map(time),
            "cells": course.cells,
            "steps": course.effort.steps,
            // Below this it is the machine's rounding.
            "heat_lost": if course.imbalance.abs() < 1e-9 { json!(0) } else { number(course.imbalance) },
        })
    };
    let [cold, used, warm] = &followed.courses;
    let [cold_by, used_by, warm_by] = followed.shifts;
    json!({
        "cold_end": one(cold, cold_by), "as_used": one(used, used_by), "warm_end": one(warm, warm_by),
    })
}

fn ended(ended: Ended) -> &'static str {
    match ended {
        Ended::NoIce => "no ice",
        Ended::Blocked => "blocked",
        Ended::Clear => "ice gone",
        Ended::StillIce => "still ice",
    }
}

/// An hour in SI.
fn hour(it: &Moment) -> Value {
    json!({
        "time": number(it.time), "outdoors": number(it.outdoors), "space": number(it.space),
        "seat": number(it.seat), "frozen": number(it.frozen), "plug": number(it.plug),
    })
}

/// A cold spell as CSV: the hours of a mark's outlets, or the table of all.
pub fn cold_spell_csv(spell: &ColdSpell, system: System) -> String {
    let lines = if spell.mark.is_some() { hourly(spell, system) } else { ranked(spell, system) };
    let mut text = String::new();
    for line in lines {
        let cells: Vec<String> = line.iter().map(|it| quoted(it).into_owned()).collect();
        let _ = writeln!(text, "{}", cells.join(","));
    }
    text
}

/// Names and units of temperature and length in headings.
fn units(system: System) -> [(&'static str, &'static str); 2] {
    match system {
        System::Us => [("F", "°F"), ("in", "in")],
        System::Si => [("C", "°C"), ("mm", "mm")],
    }
}

fn written(si: f64, unit: &str, measure: Measure) -> String {
    let value = find_unit(unit).and_then(|it| it.from_si(si, measure)).unwrap_or(si);
    number(value).to_string()
}

fn hourly(spell: &ColdSpell, system: System) -> Vec<Vec<String>> {
    let [(degree, degrees), (length, lengths)] = units(system);
    let headings = [
        "row".into(),
        "time_h".into(),
        format!("outdoors_{degree}"),
        format!("space_{degree}"),
        format!("seat_{degree}"),
        "frozen_share".into(),
        format!("plug_length_{length}"),
        "not_known".into(),
    ];
    let mut lines = vec![headings.to_vec()];
    for outlet in &spell.outlets {
        let first = outlet.rows.first().map_or_else(String::new, row);
        match &outlet.course {
            Ok(followed) => lines.extend(followed.courses[1].moments.iter().map(|it| {
                let mut line = vec![first.clone(), written(it.time, "h", Measure::Of(Dim::TIME))];
                let warmth = [it.outdoors, it.space, it.seat];
                line.extend(warmth.map(|it| written(it, degrees, Measure::Temperature)));
                line.push(number(it.frozen).to_string());
                line.push(written(it.plug, lengths, Measure::Of(Dim::LENGTH)));
                line.push(String::new());
                line
            })),
            Err(absence) => {
                let mut line = vec![String::new(); headings.len()];
                line[0] = first;
                line[headings.len() - 1] = why_not(absence, system);
                lines.push(line);
            }
        }
    }
    lines
}

/// A row by its number; one that is not the schedule's with what it is a row of.
fn row(it: &Spotted) -> String {
    if it.of == RowOf::Schedule { it.number.to_string() } else { it.to_string() }
}

fn ranked(spell: &ColdSpell, system: System) -> Vec<Vec<String>> {
    let [(degree, degrees), _] = units(system);
    let mut headings: Vec<String> =
        ["rank", "rows", "mark", "quantity", "location", "at_risk"].map(Into::into).into();
    for event in ["blocked", "first_ice"] {
        headings.extend(["", "_low", "_high"].map(|end| format!("{event}{end}_h")));
    }
    headings.extend(["", "_low", "_high"].map(|end| format!("coldest_seat{end}_{degree}")));
    headings.push("not_known".into());
    let width = headings.len();
    let mut lines = vec![headings];
    for (index, outlet) in spell.outlets.iter().enumerate() {
        let rows: Vec<String> = outlet.rows.iter().map(row).collect();
        let mut line = vec![
            if outlet.course.is_ok() { (index + 1).to_string() } else { String::new() },
            rows.join(if outlet.rows.iter().any(|it| it.of != RowOf::Schedule) { "; " } else { " " }),
            outlet.mark.to_string(),
            outlet.quantity.map_or_else(String::new, |it| number(it).to_string()),
            outlet.locations.join("; "),
            if outlet.is_at_risk() { "yes" } else { "no" }.into(),
        ];
        match &outlet.course {
            Ok(followed) => {
                for event in [Event::blocked(followed), Event::first_ice(followed)] {
                    let [low, high] = event.band();
                    line.extend([event.used(), low, high].map(|it| {
                        it.map_or_else(String::new, |it| written(it, "h", Measure::Of(Dim::TIME)))
                    }));
                }
                let seat = times::coldest_seat(followed);
                let ends = [seat.is, seat.low, seat.high];
                line.extend(ends.map(|it| written(it, degrees, Measure::Temperature)));
                line.push(String::new());
            }
            Err(absence) => {
                line.resize(width - 1, String::new());
                line.push(why_not(absence, system));
            }
        }
        lines.push(line);
    }
    lines
}
