//! The page of `coldsill depth`.

use super::page::{heading, labelled_at, table, titled, wrapped};
use super::words::{called, known, listed, lower, value, wall, without_band};
use super::{REMINDER, WIDTH};
use crate::diag::{capital, uncapital};
use crate::review::{Depth, DepthRow, Least, NoLeast, RuleCard, Shown};
use crate::ruleset::{Basis, Outcome};
use crate::units::{Quantity, Rounding, Show, System, figures};
use std::sync::Arc;

const AT_LEAST: Show = Show::new(("in", 2), ("mm", 0), Rounding::Up);
const AT_MOST: Show = Show::new(("in", 2), ("mm", 0), Rounding::Down);

/// The page.
pub fn depth(depth: &Depth, system: System) -> String {
    let mut out = titled("SEAT DEPTH");
    for fact in &depth.stated {
        let text = match &fact.value {
            Ok(_) => in_head(fact, system),
            Err(_) => "not stated".into(),
        };
        out.push_str(&labelled_fact(called(fact), &text));
    }
    if let Some(face) = &depth.inside_face {
        let text = format!("inside face {} from the exterior face", AT_LEAST.value(face, system));
        out.push_str(&labelled_fact("Insulation", &text));
    }
    heading(&mut out, "Minimum seat depth");
    match &depth.least {
        Ok(least) => out.push_str(&wrapped(&in_words(least, system), WIDTH, "")),
        Err(NoLeast::NotEnough(why)) => {
            out.push_str(&wrapped(&format!("{}.", capital(&figures(why, system))), WIDTH, ""));
        }
        Err(NoLeast::Missing(headings)) => {
            out.push_str(&wrapped(&format!("Not known without {}.", lower(headings)), WIDTH, ""));
        }
    }
    if let Ok(least) = &depth.least
        && depth
            .rows
            .iter()
            .all(|row| !row.asks.is_empty() || row.misfit.is_some() || !row.missing.is_empty())
    {
        let text = format!(
            "No listed length has its seat at {} and fits: no product.",
            AT_LEAST.value(&least.depth, system)
        );
        out.push_str(&wrapped(&text, WIDTH, ""));
    }
    if !depth.at_any_depth.is_empty() {
        let rules: Vec<Arc<str>> = depth.at_any_depth.iter().map(|rule| named(rule)).collect();
        let text = format!("At any depth, also resolve: {}.", listed(&rules, usize::MAX));
        out.push_str(&wrapped(&text, WIDTH, ""));
    }
    if !matches!(depth.least, Err(NoLeast::Missing(_))) {
        write_table(&mut out, depth, system);
    }
    write_assumed(&mut out, depth, system);
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

/// A table of places, a line for each: design low, least depth, what governs, the first length or model that is enough.
pub fn depths(places: &[(Arc<str>, Depth)], system: System) -> String {
    let mut out = titled("SEAT DEPTH");
    if let Some((_, depth)) = places.first() {
        for fact in depth.stated.iter().filter(|fact| &*fact.name != "site.design_low" && fact.value.is_ok())
        {
            out.push_str(&labelled_fact(called(fact), &in_head(fact, system)));
        }
    }
    out.push('\n');
    let rows = places.iter().map(|(place, depth)| {
        let (least, past, limits) = match &depth.least {
            Ok(least) => {
                let mut limits: Vec<Arc<str>> =
                    least.governed_by.iter().map(|rule| limit(rule).into()).collect();
                limits.dedup();
                let past = least.past_insulation.as_ref().map(|past| AT_LEAST.value(past, system));
                (AT_LEAST.value(&least.depth, system), past, listed(&limits, usize::MAX))
            }
            Err(NoLeast::NotEnough(why)) => (figures(why, system), None, String::new()),
            Err(NoLeast::Missing(headings)) => {
                (format!("not known without {}", lower(headings)), None, String::new())
            }
        };
        let asked = known(&depth.stated, "outlet.barrel", system);
        let first = depth.rows.iter().find(|row| enough(row) == "yes");
        let first = first.map_or_else(
            || "no product".into(),
            |row| {
                let length = fact(row, "outlet.nominal_length", system);
                let barrel = known(&row.facts, "outlet.barrel", system);
                let other = barrel.filter(|barrel| Some(barrel) != asked.as_ref());
                let other = other.map(|barrel| format!(" {barrel}")).unwrap_or_default();
                row.model.as_ref().map_or_else(|| length.clone(), |model| format!("{model}, {length}{other}"))
            },
        );
        let low = known(&depth.stated, "site.design_low", system).unwrap_or_default();
        vec![place.to_string(), low, least, past.unwrap_or_else(|| "-".into()), limits, first]
    });
    let headings = ["Place", "Design low", "Minimum seat depth", "Past insulation", "Limit", "Order"];
    out.push_str(&table(&headings, rows.collect(), WIDTH));
    out.push('\n');
    let note = "Depths are from the exterior face, and past the inside face of the insulation (negative: short of it). Order: \
                the first that is enough under every rule in force, the cold end of its range included; a barrel of another metal, which \
                takes another depth, is named.";
    out.push_str(&wrapped(note, WIDTH, ""));
    if let Some((_, depth)) = places.first() {
        write_assumed(&mut out, depth, system);
    }
    out.push('\n');
    out.push_str(&wrapped(REMINDER, WIDTH, ""));
    out
}

/// What is assumed of the first length that fits; the seat depth of another one is its own length less as much.
fn write_assumed(out: &mut String, depth: &Depth, system: System) {
    let row = depth.rows.iter().find(|row| row.misfit.is_none()).or(depth.rows.first());
    let lines = row.into_iter().flat_map(|row| &row.assumed).map(|(fact, why)| {
        let why = figures(why, system);
        if &*fact.name == "outlet.seat_depth" {
            format!("{}: {why}.", called(fact))
        } else {
            format!("{}: {} ({why}).", called(fact), value(fact, system))
        }
    });
    let lines: Vec<String> = lines.collect();
    if !lines.is_empty() {
        heading(out, "Assumed");
        out.push_str(&wrapped(&lines.join(" "), WIDTH, ""));
    }
}

fn in_head(fact: &Shown, system: System) -> String {
    let wall = if &*fact.name == "outlet.wall" { wall(fact) } else { None };
    wall.unwrap_or_else(|| value(fact, system))
}

fn labelled_fact(label: &str, text: &str) -> String {
    labelled_at(19, label, text, WIDTH)
}

fn in_words(least: &Least, system: System) -> String {
    let mut text = format!("{} from the exterior face", AT_LEAST.value(&least.depth, system));
    if let Some(past) = &least.past_insulation {
        let size = Quantity::exact(past.is.abs(), past.measure);
        let side = if past.is < 0.0 { "short of" } else { "past" };
        let show = if past.is < 0.0 { AT_MOST } else { AT_LEAST };
        text.push_str(&format!(", {} {side} the inside face of the insulation", show.value(&size, system)));
    }
    let limits: Vec<Arc<str>> = least.governed_by.iter().map(|rule| named(rule)).collect();
    if limits.is_empty() {
        text.push_str(". Any depth is enough.");
    } else {
        text.push_str(&format!(". The limit is {}.", listed(&limits, usize::MAX)));
    }
    text
}

/// "freezing (Freezing 1)".
fn named(rule: &RuleCard) -> Arc<str> {
    let limit = limit(rule);
    format!("{limit} ({}: {})", rule.number, uncapital(&rule.title)).into()
}

fn limit(rule: &RuleCard) -> &'static str {
    match rule.basis {
        Basis::Calculation => "freezing",
        Basis::AdoptedCode => "code",
        Basis::Listing => "listing",
        Basis::Instructions => "instructions",
        Basis::Company => "company",
    }
}

fn write_table(out: &mut String, depth: &Depth, system: System) {
    heading(out, "Lengths");
    let has_models = depth.rows.iter().any(|row| row.model.is_some());
    let headings: Vec<&str> = ["Model"]
        .into_iter()
        .filter(|_| has_models)
        .chain(["Length", "Seat", "At design low", "Good to", "Gets colder", "Past wall", "Stem", "Enough"])
        .collect();
    let rows = depth.rows.iter().map(|row| {
        let model = row.model.iter().map(ToString::to_string).take(usize::from(has_models));
        let of = |name: &str| fact(row, name, system);
        let used = |name: &str| without_band(&row.facts, name, system).unwrap_or_else(|| "-".into());
        let length = |quantity: &Option<Quantity>| {
            quantity.as_ref().map_or_else(|| "?".into(), |quantity| AT_LEAST.value(quantity, system))
        };
        let cells = [
            of("outlet.nominal_length"),
            used("outlet.seat_depth"),
            of("heat.seat_temperature"),
            used("heat.holds_to"),
            of("heat.how_often"),
            length(&row.past_wall),
            length(&row.stem),
            enough(row),
        ];
        model.chain(cells).collect()
    });
    out.push_str(&table(&headings, rows.collect(), WIDTH));
    out.push('\n');
    let note = "Past wall: how far it reaches past the interior surface; there must be as much room. Stem: clear space \
                outdoors to pull its stem. Maybe: enough at the best estimates, not over their whole range: go one length up.";
    out.push_str(&wrapped(note, WIDTH, ""));
    let misfits: Vec<&DepthRow> = depth.rows.iter().filter(|row| row.misfit.is_some()).collect();
    for row in misfits {
        let why = figures(row.misfit.as_deref().unwrap_or_default(), system);
        out.push_str(&wrapped(&format!("{}: {why}.", fact(row, "outlet.nominal_length", system)), WIDTH, ""));
    }
}

/// Whether it is enough, and which limits it fails: freezing, code.
fn enough(row: &DepthRow) -> String {
    let mut limits: Vec<Arc<str>> = Vec::new();
    for (rule, _) in &row.asks {
        if !limits.iter().any(|known| **known == *limit(rule)) {
            limits.push(limit(rule).into());
        }
    }
    let limits = listed(&limits, usize::MAX);
    match &row.misfit {
        Some(_) => "does not fit".into(),
        None if !row.missing.is_empty() => format!("not known without {}", lower(&row.missing)),
        None if row.asks.is_empty() => "yes".into(),
        None if row.asks.iter().any(|(_, outcome)| *outcome == Outcome::Revise) => format!("no: {limits}"),
        None => format!("maybe: {limits}"),
    }
}

/// A fact of a row, or a dash.
fn fact(row: &DepthRow, name: &str, system: System) -> String {
    known(&row.facts, name, system).unwrap_or_else(|| "-".into())
}
