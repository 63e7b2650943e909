//! Which outlets a cold spell puts at risk, in what order, and what to do first.

use super::super::WIDTH;
use super::super::blocks::Blocks;
use super::super::crew::{self, Crew};
use super::super::page::{heading, labelled, not_used, table, unread, wrapped};
use super::super::words::listed;
use super::times::{self, Event};
use super::{fact, head, numbers, rows, taken, temperature, why_not};
use crate::expr::Value;
use crate::facts::State;
use crate::physics::air_film::ASHRAE_WIND_SUMMER;
use crate::review::{ColdSpell, InSpell};
use crate::spell::SpellKind;
use crate::units::System;
use std::sync::Arc;

pub(super) fn page(out: &mut String, spell: &ColdSpell, system: System) {
    out.push_str("Outdoor faucets in a cold spell\n\n");
    if let Some(job) = &spell.job {
        out.push_str(&labelled("Job", job, WIDTH));
    }
    out.push_str(&labelled("Schedule", &spell.schedule, WIDTH));
    let (buried, above): (Vec<&InSpell>, Vec<&InSpell>) =
        spell.outlets.iter().partition(|it| it.closes_below_grade());
    let (known, unknown): (Vec<&InSpell>, Vec<&InSpell>) = above.iter().partition(|it| it.course.is_ok());
    out.push_str(&labelled("At risk", &tally(&known, &unknown), WIDTH));
    heading(out, "Crew list: who goes where by when");
    crew::body(out, &Crew::of(spell, system), WIDTH);
    heading(out, "Spell");
    let mut of_spell = Blocks::default();
    head(&mut of_spell, spell, system);
    out.push_str(&of_spell.into_text());
    if !known.is_empty() {
        heading(out, "Faucets, in the order ice may block them");
        order(out, spell, &known, system);
    }
    if !unknown.is_empty() {
        heading(out, "Cannot be computed: treat as at risk until the facts are known");
        let lines = unknown.iter().map(|it| {
            let why = it.course.as_ref().err().map_or_else(String::new, |it| why_not(it, system));
            vec![numbers(it), it.mark.to_string(), quantity(it), places(it), why]
        });
        out.push_str(&table(&["Row", "Mark", "Qty", "Where", "Why"], lines.collect(), WIDTH));
        out.push('\n');
    }
    if !buried.is_empty() {
        heading(out, "Closing below grade: not computed here");
        let text = format!(
            "{}. Frost in the ground reaches them, not the air of a night: the review checks their bury depth. Take \
             the hose off and shut them fully, so that they drain.",
            marks(&buried)
        );
        out.push_str(&wrapped(&text, WIDTH, ""));
    }
    first_steps(out, spell, &known, &unknown, system);
    notes(out, spell);
}

fn tally(known: &[&InSpell], unknown: &[&InSpell]) -> String {
    let count = |of: &[&InSpell], is: fn(&InSpell) -> bool| -> usize {
        of.iter().filter(|it| is(it)).map(|it| it.rows.len()).sum()
    };
    let all = count(known, |_| true) + count(unknown, |_| true);
    let said = |count: usize| if count == 1 { "1 row".into() } else { format!("{count} rows") };
    let ice = count(known, InSpell::may_be_blocked);
    let doubtful = count(known, |it| !it.may_be_blocked() && it.is_at_risk());
    let unknown = count(unknown, |_| true);
    let others = if doubtful > 0 { format!("; {doubtful} in doubt") } else { String::new() };
    format!(
        "{} of {}: ice blocks or may block {ice}; {unknown} cannot be computed{others}.",
        ice + unknown + doubtful,
        said(all)
    )
}

fn order(out: &mut String, spell: &ColdSpell, known: &[&InSpell], system: System) {
    let lines = known.iter().filter_map(|it| {
        let followed = it.course.as_ref().ok()?;
        let (first, blocked) = (Event::first_ice(followed), Event::blocked(followed));
        let when = match (blocked.never(), first.never()) {
            (false, _) => blocked.in_short(),
            (true, false) => "stays open".into(),
            // What a hose left on does is another question, and a worse one.
            (true, true) if spell.state != State::HoseOn && word(it, "outlet.closes") == Some("inside") => {
                "no ice, if hose is off".into()
            }
            (true, true) => "stays clear".into(),
        };
        let first = if first.never() { "no ice".into() } else { first.in_short() };
        let seat = times::coldest_seat(followed);
        let seat = seat.map_or_else(|| "-".into(), |seat| times::SEAT_IN_SHORT.with_band(&seat, system));
        Some(vec![numbers(it), it.mark.to_string(), quantity(it), places(it), when, first, seat])
    });
    let headings = ["Row", "Mark", "Qty", "Where", "Blocked by ice after", "First ice after", "Coldest seat"];
    out.push_str(&table(&headings, lines.collect(), WIDTH));
    out.push_str("\n\n");
    let before = match spell.spell.kind() {
        SpellKind::Series { .. } => "at the file's first temperature",
        SpellKind::Design { .. } | SpellKind::Typed { .. } => "at the start of the spell",
    };
    let wind = ASHRAE_WIND_SUMMER.name;
    let text = format!(
        "Hours from the start of the spell at the best estimates, with the range in parentheses; sorted by the \
         worst case. \"At start\": {before}; may already be frozen: check for flow. \"Probably not; soonest 6 h\": stays open at the \
         best estimates, blocked after 6 h in the worst case. \"Or never\": the mild end of the range. The coldest seat is given for faucets that stay open; `--mark` \
         follows one faucet until its ice is gone. A {wind} is assumed, on metal and on the wall; in calm air it takes \
         longer."
    );
    out.push_str(&wrapped(&text, WIDTH, ""));
    for it in known.iter().filter(|it| !it.at_worst.is_empty()) {
        let text =
            format!("{}: not stated, so the worst case is assumed: {}.", marks(&[*it]), taken(it, system));
        out.push_str(&wrapped(&text, WIDTH, ""));
    }
}

fn quantity(outlet: &InSpell) -> String {
    outlet.quantity.map_or_else(|| "not stated".into(), |it| it.to_string())
}

fn places(outlet: &InSpell) -> String {
    if outlet.locations.is_empty() { "not stated".into() } else { outlet.location_names().join("; ") }
}

/// Plain steps for whoever stands on the site.
fn first_steps(
    out: &mut String,
    spell: &ColdSpell,
    known: &[&InSpell],
    unknown: &[&InSpell],
    system: System,
) {
    heading(out, "What to do first");
    let all = || known.iter().chain(unknown).copied();
    let at_risk: Vec<&InSpell> = all().filter(|it| it.is_at_risk()).collect();
    let mut steps = vec![hoses(all(), spell.state)];
    if at_risk.is_empty() {
        steps.push(
            "Ice blocks no faucet in this spell with these figures. Keep the heat on in the spaces at the inlets: \
             for a power outage, use --heat-out."
                .into(),
        );
    } else {
        let always: Vec<&InSpell> = at_risk.iter().copied().filter(|it| is_frozen_before(it)).collect();
        if !always.is_empty() {
            steps.push(format!(
                "May be frozen already, before the spell ({} outdoors): {}. Check for flow now. If water flows, shut off and \
                 drain for the season. If not, take it for frozen: see the last step.",
                temperature(spell.spell.start(), system),
                marks(&always)
            ));
        }
        steps.extend(stops(&at_risk));
        steps.push(format!(
            "Keep the heat on and let it reach the inlets of {}: open cabinet doors and access panels, close \
             crawlspace vents and outside doors. Never block combustion-air openings or appliance vents.",
            marks(&at_risk)
        ));
        steps.push(
            "Covers are extra protection. They are not counted on for a faucet that closes inside, and they do not \
             replace draining."
                .into(),
        );
        steps.push(
            "A plain hose bibb that cannot be drained: a slow drip is common practice, only where the water authority \
             and the authority having jurisdiction allow it. It makes ice on the ground, and no published source says \
             how much is enough. Never drip a frostproof faucet: the drip freezes in the barrel."
                .into(),
        );
        steps.push(
            "Find and try the main shutoff now, and keep the number of a licensed plumber at hand. If ice blocks a \
             faucet: close its stop and open the stop's waste cap, or close the main and open the lowest indoor \
             faucet, so that no water is shut in behind the ice. Leave the frozen faucet alone and call the plumber. \
             Never use a flame. A split \
             tube does not leak until it thaws."
                .into(),
        );
    }
    for (index, step) in steps.iter().enumerate() {
        let block = wrapped(step, WIDTH, "   ");
        out.push_str(&format!("{:<3}{}", format!("{}.", index + 1), &block[3..]));
    }
}

fn is_frozen_before(outlet: &InSpell) -> bool {
    outlet.course.as_ref().is_ok_and(|it| Event::blocked(it).used() == Some(0.0))
}

fn hoses<'i>(all: impl Iterator<Item = &'i InSpell>, state: State) -> String {
    let fills = |it: &&InSpell| {
        word(it, "outlet.closes") == Some("inside") && yes_no(it, "backflow.drains_with_hose") != Some(true)
    };
    let inside: Vec<&InSpell> = all.filter(fills).collect();
    let mut text = "Take hoses, splitters and nozzles off every faucet.".to_owned();
    if !inside.is_empty() {
        text.push_str(&format!(
            " A hose left on keeps the barrel full of water if the faucet closes inside: {}.",
            marks(&inside)
        ));
    }
    if state == State::HoseOn {
        text.push_str(" The hours above are with the hose on.");
    }
    text
}

/// Stops to be shut, in the order of the table; those nobody speaks of; those without.
fn stops(at_risk: &[&InSpell]) -> Vec<String> {
    let of = |want: Option<bool>| -> Vec<&InSpell> {
        at_risk.iter().copied().filter(|it| yes_no(it, "outlet.inside_stop") == want).collect()
    };
    let [has, silent, none] = [Some(true), None, Some(false)].map(of);
    let mut steps = Vec::new();
    if !has.is_empty() {
        steps.push(format!(
            "In this order, shut the inside stop, open the faucet, and open the stop's waste cap to drain the line: \
             {}.",
            marks(&has)
        ));
    }
    if !silent.is_empty() {
        steps.push(format!(
            "The schedule does not state whether there is an inside stop. In this order, look for one: {}. If there \
             is one, shut it, open the faucet and open the stop's waste cap to drain the line.",
            marks(&silent)
        ));
    }
    if !none.is_empty() {
        steps.push(format!(
            "No inside stop: {}. Shut and drain the branch that feeds them, if possible.",
            marks(&none)
        ));
    }
    steps
}

fn word<'i>(outlet: &'i InSpell, name: &str) -> Option<&'i str> {
    match &fact(outlet, name)?.value {
        Ok(Value::Text(word)) => Some(word),
        _ => None,
    }
}

fn yes_no(outlet: &InSpell, name: &str) -> Option<bool> {
    match fact(outlet, name)?.value {
        Ok(Value::YesNo(yes)) => Some(yes),
        _ => None,
    }
}

/// `HB-1 (row 2), HB-2 (rows 3 and 4)`; an outlet without a mark goes by its row already.
fn marks(outlets: &[&InSpell]) -> String {
    let said: Vec<Arc<str>> = outlets
        .iter()
        .map(|it| {
            if it.mark.starts_with("row ") {
                return it.mark.clone();
            }
            format!("{} ({})", it.mark, rows(it)).into()
        })
        .collect();
    listed(&said, usize::MAX)
}

fn notes(out: &mut String, spell: &ColdSpell) {
    heading(out, "What this is");
    let text = "Each wall section of the review is calculated through the spell: the weather as given, a steady wind, \
                nobody drawing water, and water freezing as soon as it is at 32 °F. Rows of one mark that are alike \
                share a line. `--mark` prints one faucet's page, with its assumptions, its course and the limits of \
                the calculation.";
    out.push_str(&wrapped(text, WIDTH, ""));
    not_used(out, &spell.unused);
    unread(out, &spell.problems);
}
