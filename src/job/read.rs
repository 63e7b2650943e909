//! Reads a job file into what it says, before anything it names is looked up.

use super::headings::{ColumnsSaid, ScheduleSaid, read_columns, read_schedule};
use super::places::read_homes;
use super::{Authority, Code, IDENTITY, SOILS, Space, SpellSaid, Stated};
use crate::climate::{Climate, MOST_DAYS, read_climate};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Fields, Kind, Node};
use crate::ruleset::{Basis, bases};
use crate::schedule::{Cell, Homes, Term, plain, read_cell};
use crate::units::{self, Dim, Measure};
use crate::wall::{SPACES, Wall, read_walls};
use std::collections::BTreeMap;
use std::sync::Arc;

const HOUR: f64 = 3600.0;
/// 40 °F, as a difference: more than any day swings in a cold spell.
const MOST_SWING: f64 = 40.0 * (5.0 / 9.0);

/// 10 000 °F·days: above the arctic coast's.
const MOST_INDEX: f64 = 10_000.0 * 48_000.0;
/// 10 ft.
const MOST_HEIGHT: f64 = 3.048;

/// The climate a job names or describes.
#[derive(Debug)]
pub(super) enum ClimateSaid {
    Named(Node),
    Inline(Arc<Climate>),
}

/// A job file as it is written.
#[derive(Debug, Default)]
pub(super) struct Said {
    pub name: Option<Arc<str>>,
    pub climate: Option<ClimateSaid>,
    pub climates: Option<Node>,
    pub design_low: Option<Node>,
    pub code: Option<Code>,
    pub authority: Authority,
    pub exposure: Option<(&'static str, Location)>,
    pub soil: Option<(&'static str, Location)>,
    pub products: Option<Node>,
    pub spaces: BTreeMap<&'static str, Space>,
    pub spell: SpellSaid,
    pub walls: Vec<Wall>,
    pub defaults: Vec<Cell>,
    pub revise_on: Option<Vec<Basis>>,
    pub preset: Option<Node>,
    pub schedule: Option<ScheduleSaid>,
    pub columns: ColumnsSaid,
    pub places: Option<Node>,
    pub homes: Vec<Homes>,
    pub answers: Option<Node>,
    pub rules: Vec<Node>,
}

pub(super) fn read(node: &Node, vocabulary: &[Term], problems: &mut Diagnostics) -> Said {
    let mut said = Said::default();
    let Some(mut fields) = Fields::of(node, "job", problems) else { return said };
    said.name = text(&mut fields, "job", problems);
    said.climate = fields.take("climate").and_then(|node| match node.kind {
        Kind::Map(_) => read_climate(node, problems).map(|it| ClimateSaid::Inline(Arc::new(it))),
        _ => Some(ClimateSaid::Named(node.clone())),
    });
    said.climates = fields.take("climates").cloned();
    said.design_low = fields.take("design_low").cloned();
    said.code = fields.take("code").and_then(|node| read_code(node, problems));
    said.authority = fields.take("authority").map(|node| read_authority(node, problems)).unwrap_or_default();
    said.exposure = fields.take("exposure").and_then(|node| {
        let word = node.one_of("exposure", &[("coastal", "coastal"), ("exterior", "exterior")], problems)?;
        Some((word, node.place.clone()))
    });
    said.soil = fields.take("soil").and_then(|node| {
        let word = node.one_of("soil", &SOILS.map(|it| (it, it)), problems)?;
        Some((word, node.place.clone()))
    });
    said.products = fields.take("products").cloned();
    said.spaces = fields.take("spaces").map(|node| read_spaces(node, problems)).unwrap_or_default();
    said.spell = fields.take("spell").map(|node| read_spell(node, problems)).unwrap_or_default();
    said.walls = fields.take("walls").map(|node| read_walls(node, problems)).unwrap_or_default();
    if let Some(node) = fields.take("supply") {
        read_supply(node, vocabulary, &mut said.defaults, problems);
    }
    if let Some(node) = fields.take("defaults") {
        read_defaults(node, vocabulary, &mut said.defaults, problems);
    }
    said.revise_on = fields.take("revise_on").and_then(|node| bases(node, problems));
    said.preset = fields.take("preset").cloned();
    said.schedule =
        fields.need("schedule", problems).and_then(|node| read_schedule(node, "schedule", problems));
    said.columns =
        fields.take("columns").map(|node| read_columns(node, vocabulary, problems)).unwrap_or_default();
    said.places = fields.take("places").cloned();
    said.homes = fields.take("homes").map(|node| read_homes(node, problems)).unwrap_or_default();
    said.answers = fields.take("answers").cloned();
    // One file, one amendment written here, or a list of such.
    said.rules = match fields.take("rules") {
        Some(Node { kind: Kind::List(entries), .. }) => entries.clone(),
        Some(node) => vec![node.clone()],
        None => Vec::new(),
    };
    fields.finish(problems);
    said
}

fn text(fields: &mut Fields<'_>, key: &'static str, problems: &mut Diagnostics) -> Option<Arc<str>> {
    fields.take(key).and_then(|node| node.text(key, problems)).map(Into::into)
}

fn read_code(node: &Node, problems: &mut Diagnostics) -> Option<Code> {
    if let Kind::Scalar { text, .. } = &node.kind {
        return Some(Code { name: text.as_str().into(), edition: None });
    }
    let mut fields = Fields::of(node, "code", problems)?;
    let name = fields.need("name", problems).and_then(|node| node.text("name", problems)).map(Into::into);
    let edition = text(&mut fields, "edition", problems);
    fields.finish(problems);
    Some(Code { name: name?, edition })
}

fn read_authority(node: &Node, problems: &mut Diagnostics) -> Authority {
    let Some(mut fields) = Fields::of(node, "authority", problems) else { return Authority::default() };
    let winter = fields.take("winter_temperature");
    let winter_temperature =
        winter.and_then(|node| figure(node, Measure::Temperature, [193.15, 313.15], problems));
    let frost = fields.take("frost_depth");
    let frost_depth = frost.and_then(|node| figure(node, Measure::Of(Dim::LENGTH), [0.0, 5.0], problems));
    let index = fields.take("freezing_index");
    let index =
        index.and_then(|node| figure(node, Measure::Of(Dim::DEGREE_TIME), [0.0, MOST_INDEX], problems));
    let height = fields.take("outlet_height");
    let height = height.and_then(|node| figure(node, Measure::Of(Dim::LENGTH), [0.0, MOST_HEIGHT], problems));
    fields.finish(problems);
    Authority { winter_temperature, frost_depth, freezing_index: index, outlet_height: height }
}

fn read_spaces(node: &Node, problems: &mut Diagnostics) -> BTreeMap<&'static str, Space> {
    let mut spaces = BTreeMap::new();
    for (key, node) in node.map("spaces", problems).unwrap_or_default() {
        let Some(name) = SPACES.iter().find(|it| it.eq_ignore_ascii_case(&key.text)) else {
            let problem = Diagnostic::new(key.place.clone(), "is not a space there can be behind an outlet");
            problems.push(problem.text(&key.text).expected(SPACES.join(", ")).nearest(&key.text, SPACES));
            continue;
        };
        let Some(mut fields) = Fields::of(node, "space", problems) else { continue };
        let mut take = |key, measure, range, fields: &mut Fields<'_>| {
            fields.take(key).and_then(|node| figure(node, measure, range, problems))
        };
        let temperature = take("temperature", Measure::Temperature, [233.15, 323.15], &mut fields);
        let humidity = take("humidity", Measure::Of(Dim::NONE), [0.0, 1.0], &mut fields);
        let factor = take("factor", Measure::Of(Dim::NONE), [0.0, 1.0], &mut fields);
        let time_constant = take("time constant", Measure::Of(Dim::TIME), [HOUR, 1000.0 * HOUR], &mut fields);
        if temperature.is_some() && factor.is_some() {
            let problem = Diagnostic::new(key.place.clone(), "has both a temperature and a factor");
            problems.push(problem.text(&key.text).expected("one of them"));
        }
        fields.finish(problems);
        spaces.insert(*name, Space { temperature, humidity, factor, time_constant });
    }
    spaces
}

/// `spell: { days, swing, start }`. Days are a bare number, or a time of whole days.
fn read_spell(node: &Node, problems: &mut Diagnostics) -> SpellSaid {
    let Some(mut fields) = Fields::of(node, "spell", problems) else { return SpellSaid::default() };
    let days = fields.take("days").and_then(|node| whole_days(node, problems));
    let swing = fields
        .take("swing")
        .and_then(|node| figure(node, Measure::Of(Dim::DIFFERENCE), [0.0, MOST_SWING], problems));
    let start =
        fields.take("start").and_then(|node| figure(node, Measure::Temperature, [193.15, 313.15], problems));
    fields.finish(problems);
    SpellSaid { days, swing, start }
}

fn whole_days(node: &Node, problems: &mut Diagnostics) -> Option<Stated> {
    let text = node.text("days", problems)?;
    match units::parse_with_unit(text, Measure::Of(Dim::TIME), units::find_unit("days")) {
        Ok(time) if (1..=MOST_DAYS).any(|days| f64::from(days) * 24.0 * HOUR == time.is) => {
            Some(Stated { value: time.is, text: text.into(), place: node.place.clone() })
        }
        Ok(_) => {
            let expected = format!("a whole number from 1 to {MOST_DAYS}");
            problems.push(node.problem("is not how many days a spell is held").expected(expected));
            None
        }
        Err(refused) => {
            problems.push(refused.at(node.place.clone(), text).expected(format!("1 to {MOST_DAYS} days")));
            None
        }
    }
}

/// `supply: { material, size, run, insulation }`, or the material alone.
fn read_supply(node: &Node, vocabulary: &[Term], defaults: &mut Vec<Cell>, problems: &mut Diagnostics) {
    let mut state = |fact: &str, node: &Node, problems: &mut Diagnostics| {
        if let Some(term) = vocabulary.iter().position(|term| term.fact == fact) {
            defaults.extend(cell(term, vocabulary, node, problems));
        }
    };
    if matches!(node.kind, Kind::Scalar { .. }) {
        return state("outlet.supply", node, problems);
    }
    let Some(mut fields) = Fields::of(node, "supply", problems) else { return };
    for (key, fact) in [
        ("material", "outlet.supply"),
        ("size", "outlet.supply_size"),
        ("run", "outlet.supply_run"),
        ("insulation", "outlet.supply_insulation"),
    ] {
        if let Some(node) = fields.take(key) {
            state(fact, node, problems);
        }
    }
    fields.finish(problems);
}

/// `defaults:` by the headings of a schedule.
fn read_defaults(node: &Node, vocabulary: &[Term], defaults: &mut Vec<Cell>, problems: &mut Diagnostics) {
    for (key, node) in node.map("defaults", problems).unwrap_or_default() {
        let wanted = plain(&key.text);
        let is_meant = |term: &Term| term.aliases.iter().any(|alias| plain(alias) == wanted);
        match vocabulary.iter().position(is_meant) {
            Some(term) if IDENTITY.contains(&vocabulary[term].fact) => {
                let problem = Diagnostic::new(key.place.clone(), "is each outlet's own, not a default");
                problems.push(problem.text(&key.text).expected("a column of the schedule for it"));
            }
            Some(term) if defaults.iter().any(|it| it.term == term) => {
                let problem = Diagnostic::new(key.place.clone(), "is given twice as a default");
                problems.push(problem.text(&key.text).expected("one of the two, which mean the same"));
            }
            Some(term) => defaults.extend(cell(term, vocabulary, node, problems)),
            None => {
                let aliases = vocabulary.iter().flat_map(|term| term.aliases.iter().copied());
                let problem = Diagnostic::new(key.place.clone(), "is not a heading a schedule can have");
                let mut problem = problem.text(&key.text).nearest(&key.text, aliases);
                if problem.nearest.is_none() {
                    problem = problem.expected("a heading that `coldsill facts` lists");
                }
                problems.push(problem);
            }
        }
    }
}

fn cell(term: usize, vocabulary: &[Term], node: &Node, problems: &mut Diagnostics) -> Option<Cell> {
    let text = node.text("value", problems)?;
    match read_cell(&vocabulary[term].reads, text, None) {
        Ok(value) => Some(Cell { term, place: node.place.clone(), text: text.into(), value: Some(value) }),
        Err(refused) => {
            problems.push(refused.at(node.place.clone(), text));
            None
        }
    }
}

fn figure(
    node: &Node,
    measure: Measure,
    [least, most]: [f64; 2],
    problems: &mut Diagnostics,
) -> Option<Stated> {
    let text = node.text("figure", problems)?;
    match units::parse(text, measure) {
        Ok(quantity) if (least..=most).contains(&quantity.is) => {
            Some(Stated { value: quantity.is, text: text.into(), place: node.place.clone() })
        }
        Ok(_) => {
            let problem = node.problem("is outside what there is");
            problems.push(problem.expected(units::limits([least, most], measure)));
            None
        }
        Err(refused) => {
            problems.push(refused.at(node.place.clone(), text));
            None
        }
    }
}
