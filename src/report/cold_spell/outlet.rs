//! One outlet in a cold spell: what happens when, its course, and what the figures rest on.

use super::super::blocks::{Block, Blocks};
use super::super::drawing::course::course;
use super::super::spell_doubts::{doubts, row_in_doubt};
use super::super::words::{listed, value, wall};
use super::plot::plot;
use super::times::{self, Event, cells, clock};
use super::{FREEZING, HOUR, fact, head, hours, rows, taken, temperature, why_not};
use crate::facts::{Followed, Origin};
use crate::review::{ColdSpell, InSpell};
use crate::section::{Course, Ended, Moment};
use crate::spell::SpellKind;
use crate::units::{Dim, Quantity, System};
use std::sync::Arc;

/// A line of the table every this many hours; every day where the course is long.
const EVERY: usize = 6;
const LONG: usize = 24 * 15;

pub(super) fn add(out: &mut Blocks, spell: &ColdSpell, outlet: &InSpell, system: System) {
    out.title(format!("{} in a cold spell", outlet.mark));
    out.labelled("Faucet", &which(spell, outlet, system));
    if !outlet.locations.is_empty() {
        out.labelled("Where", &listed(&outlet.location_names(), usize::MAX));
    }
    head(out, spell, system);
    for doubt in doubts(spell, system).into_iter().chain(row_in_doubt(outlet)) {
        out.labelled("Check", &doubt);
    }
    let followed = match &outlet.course {
        Ok(followed) => followed,
        Err(absence) => {
            out.heading("What happens");
            let text = format!(
                "It cannot be computed: {}. This is not a pass: treat it as at risk until the facts are known.",
                why_not(absence, system)
            );
            out.paragraph(&text);
            return;
        }
    };
    let water =
        if followed.is_full { "Its barrel is full of water to the face" } else { "Its barrel is drained" };
    let cover = if followed.is_covered { ", and its cover is on" } else { "" };
    out.labelled("Water", &format!("{water}{cover}."));
    if !outlet.at_worst.is_empty() {
        let text = format!("{}; the worst plausible values.", taken(outlet, system));
        out.labelled("Unknown", &text);
    }
    assumed(out, outlet, system);
    out.heading("What happens");
    out.paragraph(&in_short(followed, spell));
    out.space();
    events(out, followed, spell, system);
    let [_, used, _] = &followed.courses;
    out.heading("Over time, at the values used");
    if let Some(drawing) = course(&outlet.mark, used, system) {
        out.push(Block::Figure { drawing, plain: plot(&used.moments, system) });
    }
    by_hours(out, &used.moments, spell.spell.length(), system);
    method(out, followed, spell, system);
    cautions(out);
}

/// "schedule.csv, rows 2 and 5: brass, seat 7 in from the face, rim joist batt, basement".
fn which(spell: &ColdSpell, outlet: &InSpell, system: System) -> String {
    let said = |name: &str| fact(outlet, name).filter(|it| it.value.is_ok()).map(|it| value(it, system));
    let parts = [
        said("outlet.barrel").map(|it| format!("{it} barrel")),
        said("outlet.seat_depth").map(|it| format!("seat {it} from the face")),
        fact(outlet, "outlet.wall").and_then(wall).map(|it| format!("wall {it}")),
        said("outlet.space_behind").map(|it| format!("{it} at the inlet")),
        said("outlet.supply").map(|it| format!("{it} supply")),
    ];
    let parts: Vec<String> = parts.into_iter().flatten().collect();
    let said = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(", ")) };
    format!("{}, {}{said}", outlet.places.first().map_or(&spell.schedule, |it| &it.file), rows(outlet))
}

fn assumed(out: &mut Blocks, outlet: &InSpell, system: System) {
    let taken = outlet.facts.iter().filter(|it| matches!(it.origin, Origin::Assumed(_)) && it.value.is_ok());
    let taken: Vec<Arc<str>> =
        taken.map(|it| format!("{} {}", it.heading.to_lowercase(), value(it, system)).into()).collect();
    if !taken.is_empty() {
        let text = format!(
            "{}. `coldsill sheet --mark {}` gives the reasons.",
            listed(&taken, usize::MAX),
            outlet.mark
        );
        out.labelled("Assumed", &text);
    }
}

/// The answer, before any table.
fn in_short(followed: &Followed, spell: &ColdSpell) -> String {
    let (first, blocked) = (Event::first_ice(followed), Event::blocked(followed));
    let end = followed.courses.each_ref().map(|it| it.blocked.is_some());
    let risk = match end {
        [_, true, _] if blocked.used() == Some(0.0) => {
            "It may already be frozen at the start of the spell: check for flow. If nobody draws water, ice blocks it at the \
             temperature before the spell. Drain it for the season."
                .into()
        }
        _ if first.used() == Some(0.0) => {
            let then = if blocked.never() {
                "the tube stays open".into()
            } else {
                format!("blocked after {}", blocked.in_short())
            };
            format!("There may already be ice in it at the start of the spell: check for flow; {then}.")
        }
        [_, true, true] => format!("Ice blocks it after {}.", blocked.in_short()),
        [_, true, false] => format!(
            "At the best estimates, ice blocks it after {}; in the best case it stays open. Treat it as at \
             risk.",
            blocked.as_used()
        ),
        [true, false, _] => format!(
            "Too close to call: it stays open at the best estimates, and ice blocks it {} in the worst case. Treat it as at risk.",
            blocked.band()[0].map_or_else(String::new, |it| format!("after {}", hours(it)))
        ),
        [false, false, _] if first.never() => "No ice forms in it.".into(),
        [false, false, _] => {
            let when = first.used().map_or_else(
                || "only in the worst case".into(),
                |time| format!("after {}", hours(time)),
            );
            format!("Ice forms in it {when} but the tube stays open.")
        }
    };
    let cold_at_the_end = matches!(spell.spell.kind(), SpellKind::Series { .. })
        && spell.spell.outdoors(spell.spell.length()) < FREEZING
        && end.contains(&false);
    if cold_at_the_end {
        format!("{risk} It is still freezing outdoors at the end of the file.")
    } else {
        risk
    }
}

fn events(out: &mut Blocks, followed: &Followed, spell: &ColdSpell, system: System) {
    let has_ice = !Event::first_ice(followed).never();
    let has_clock = matches!(spell.spell.kind(), SpellKind::Design { .. }) && has_ice;
    let when = |event: &Event| match event.used() {
        Some(time) if has_clock && time > 0.0 => clock(time),
        _ => String::new(),
    };
    let timed =
        |name: &str, event: &Event| vec![name.to_owned(), event.as_used(), event.low_to_high(), when(event)];
    let measured =
        |name: &str, [value, range]: [String; 2]| vec![name.to_owned(), value, range, String::new()];
    let known = |quantity: Option<Quantity>, show| {
        quantity.map_or_else(|| ["-".into(), String::new()], |quantity| cells(&quantity, show, system))
    };
    let seat = measured("Coldest the seat gets", known(times::coldest_seat(followed), times::SEAT));
    let first = Event::first_ice(followed);
    let mut lines = Vec::new();
    if !first.never() {
        let blocked = Event::blocked(followed);
        lines.push(timed("Ice first forms", &first));
        lines.push(timed("Ice blocks the tube", &blocked));
        if let Some(depth) = times::blocked_at(followed) {
            lines.push(measured("  how deep from the face", cells(&depth, super::LENGTH, system)));
        }
        if !blocked.never() {
            lines.push(timed("The plug reaches the seat", &Event::plug_at_seat(followed)));
            lines.push(measured(
                "Longest plug, with the supply",
                known(times::longest_plug(followed), times::PLUG),
            ));
        }
        lines.push(measured("Water frozen at most", known(times::most_frozen(followed), times::FROZEN)));
        lines.push(vec![
            "All ice gone".into(),
            gone(&followed.courses[1]),
            gone_between(followed),
            when(&Event::clear(followed)),
        ]);
    }
    lines.push(seat);
    let mut headings = vec!["From the start of the spell", "Best estimate", "Low to high", "Time of day"];
    if !has_clock {
        headings.pop();
        lines.iter_mut().for_each(|it| it.truncate(3));
    }
    out.table(&headings, lines);
}

fn gone(course: &Course) -> String {
    match (course.first_ice, course.clear) {
        (None, _) => "no ice".into(),
        (Some(_), Some(time)) => hours(time),
        (Some(_), None) => {
            let last = course.moments.last().map_or(0.0, |it| it.time);
            format!("still ice at {}", hours(last))
        }
    }
}

fn gone_between(followed: &Followed) -> String {
    let [cold, used, warm] = followed.courses.each_ref().map(|it| gone(it));
    if cold == used && used == warm {
        return String::new();
    }
    match (warm.strip_suffix(" h"), cold.strip_suffix(" h")) {
        (Some(warm), Some(_)) => format!("{warm} to {cold}"),
        _ => format!("warm end: {warm}; cold end: {cold}"),
    }
}

/// Every few hours through the spell and a day after it, then every day.
fn by_hours(out: &mut Blocks, moments: &[Moment], length: f64, system: System) {
    let until = length + 24.0 * HOUR;
    let every = if moments.len() > LONG { 24 } else { EVERY };
    let thins = every < 24 && moments.iter().any(|it| it.time > until);
    let then = if thins { "then every day, " } else { "" };
    out.heading(&format!("Every {every} h, {then}at the values used"));
    let is_shown = |hour: usize, it: &Moment| hour.is_multiple_of(if it.time > until { 24 } else { every });
    let shown = moments.iter().enumerate().filter(|(hour, it)| is_shown(*hour, it));
    let lines = shown.map(|(_, it)| {
        vec![
            hours(it.time),
            temperature(it.outdoors, system),
            temperature(it.space, system),
            temperature(it.seat, system),
            times::FROZEN.value(&Quantity::of(it.frozen, Dim::NONE), system),
            times::PLUG.value(&Quantity::of(it.plug, Dim::LENGTH), system),
        ]
    });
    let headings = ["Time", "Outdoors", "Space", "Seat", "Frozen", "Plug"];
    out.table(&headings, lines);
}

fn method(out: &mut Blocks, followed: &Followed, spell: &ColdSpell, system: System) {
    out.heading("How it is computed, and what the model leaves out");
    let mut line = |label: &str, text: &str| out.labelled(label, text);
    line(
        "Model",
        "The section of the calculation sheet over time: wall, metals and pipe store heat; water freezes at 32 °F (0 \
         °C) and gives off its latent heat (enthalpy method, step size by error control). The tube is blocked when \
         all the water across it is ice at some depth; the frozen share is of the water between the face and the \
         inside of the wall.",
    );
    let [low, _, high] = followed
        .shifts
        .map(|kelvin| super::TEMPERATURE.value(&Quantity::of(kelvin, Dim::DIFFERENCE), system));
    let band = format!(
        "Low to high stands for metals, sizes and films at the ends of their usual range. They are worked in as \
         colder or warmer outdoors, by {low} to {high} at the coldest, which moves the coldest water by its 95 % interval. \
         The weather itself is taken as given."
    );
    line("Band", &band);
    line(
        "Left out",
        "Supercooling: still water may cool 4 to 6 K (7 to 11 °F) below freezing before ice starts, and then ice fills \
         the bore at once (Gilpin 1977); no credit is taken for the delay. Natural convection in the water, which \
         would warm the seat. Changes of the surface films: they stay as they are with the seat at freezing. Heat \
         stored in the wall around a supply that turns down inside it. Water use. Radiation to a night sky and wind \
         through gaps, which would cool it.",
    );
    let ended: Vec<Arc<str>> = ended(followed, spell);
    line("Computed", &format!("{}.", listed(&ended, usize::MAX)));
    let [_, used, _] = &followed.courses;
    // Below this it is the machine's rounding.
    let lost = if used.imbalance.abs() < 1e-9 {
        "below 1e-9".into()
    } else {
        format!("{:.0e}", used.imbalance.abs())
    };
    let effort = format!(
        "{} cells, {} steps ({} rejected); numerical heat loss: {lost} of the heat through the surfaces.",
        used.cells, used.effort.steps, used.effort.rejected
    );
    line("Effort", &effort);
}

/// Until when each course was followed, said once where it is the same of all.
fn ended(followed: &Followed, spell: &ColdSpell) -> Vec<Arc<str>> {
    let is_file = matches!(spell.spell.kind(), SpellKind::Series { .. });
    let said = followed.courses.each_ref().map(|it| match it.ended {
        Ended::NoIce => "to the end of the spell, without ice",
        Ended::Clear => "until the spell was over and all ice was gone",
        Ended::Blocked => "until the tube was blocked",
        Ended::StillIce if is_file => "to the last row of the file, with ice still in it",
        Ended::StillIce => "for 7 days after the spell, with ice still in it",
    });
    let last = followed.courses[1].moments.last().map_or(0.0, |it| (it.time / HOUR).floor());
    let [cold, used, warm] = said;
    if cold == used && used == warm {
        return vec![format!("{used} ({last} h at the values used)").into()];
    }
    vec![
        format!("at the values used {used} ({last} h)").into(),
        format!("at the cold end {cold}").into(),
        format!("at the warm end {warm}").into(),
    ]
}

fn cautions(out: &mut Blocks) {
    out.heading("Take care");
    let text = "Do not count on these hours: a colder start or wind is faster. Ice at a seat with an open supply \
                pushes water back to the main; between two plugs, or against a check valve or a hose, pressure rises \
                and the tube can split before anything shows. A split shows at the thaw: stay near the shutoff then. \
                The adopted code and the building department govern, and licensed people do the work.";
    out.paragraph(text);
}
