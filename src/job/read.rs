//! Parses a job file, before anything it names is looked up.

use super::headings::{ColumnNames, NamedFile, read_columns, read_file};
use super::places::read_homes;
use super::{Authority, COST_KEYS, Code, EDITIONS, JobFigure, SOILS, Space, StatedSpell, Vocabulary};
use crate::climate::{Climate, read_climate};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Fields, Key, Kind, Node};
use crate::ruleset::{Basis, RuleSource, bases};
use crate::schedule::{Cell, Chosen, ChosenRow, Homes};
use crate::spell::MOST_DAYS;
use crate::units::{self, Dim, HOUR, Measure};
use crate::wall::{SPACES, Wall, read_walls};
use std::collections::BTreeMap;
use std::sync::Arc;

/// 40 °F, as a difference: more than any day swings in a cold spell.
const MOST_SWING: f64 = 40.0 * (5.0 / 9.0);

/// 10 000 °F·days: above the arctic coast's.
const MOST_INDEX: f64 = 10_000.0 * 48_000.0;
/// 2 in to 10 ft: less is no height above grade.
const HEIGHTS: [f64; 2] = [0.0508, 3.048];
/// 3 in: the least that authorities state, other than none.
const LEAST_FROST_DEPTH: f64 = 0.0762;
/// Plausible winter temperatures outdoors, K.
const OUTDOORS: [f64; 2] = [193.15, 313.15];
/// Plausible temperatures of a space behind a faucet in winter, K (-40 °F to 90 °F): nobody heats a room to more, and a
/// figure above it, of °C or a summer, would let everything pass.
const SPACES_HELD: [f64; 2] = [233.15, 305.38];

/// The climate a job names or describes.
#[derive(Debug)]
pub(super) enum StatedClimate {
    Named(Node),
    Inline(Arc<Climate>),
}

/// A job file as written, before anything it names is looked up.
#[derive(Debug, Default)]
pub(super) struct JobFile {
    pub name: Option<Arc<str>>,
    pub climate: Option<StatedClimate>,
    pub climates: Option<Node>,
    pub design_low: Option<Node>,
    pub code: Option<Code>,
    pub authority: Authority,
    pub exposure: Option<(&'static str, Location)>,
    pub soil: Option<(&'static str, Location)>,
    pub county: Option<(Arc<str>, Location)>,
    pub products: Option<Node>,
    pub costs: BTreeMap<&'static str, f64>,
    pub spaces: BTreeMap<&'static str, Space>,
    pub spell: StatedSpell,
    pub walls: Vec<Wall>,
    pub defaults: Vec<Cell>,
    pub revise_on: Option<Vec<Basis>>,
    pub preset: Option<Node>,
    pub schedule: Option<NamedFile>,
    pub columns: ColumnNames,
    pub chosen: Chosen,
    pub places: Option<Node>,
    pub homes: Vec<Homes>,
    pub answers: Option<Node>,
    pub rules: Vec<Node>,
}

/// Parses a job file. Returns what could be read, and reports all errors.
pub(super) fn read(node: &Node, vocabulary: &Vocabulary, errors: &mut Diagnostics) -> JobFile {
    let Some(mut fields) = Fields::of(node, "job", errors) else { return JobFile::default() };
    let mut defaults = Vec::new();
    if let Some(node) = fields.optional("supply") {
        read_supply(node, vocabulary, &mut defaults, errors);
    }
    read_defaults(fields.optional_map("defaults", errors), vocabulary, &mut defaults, errors);
    let job = JobFile {
        name: fields.optional_text("job", errors).map(Into::into),
        climate: fields.optional("climate").and_then(|node| match node.kind {
            Kind::Map(_) => {
                read_climate(node, errors).map(|climate| StatedClimate::Inline(Arc::new(climate)))
            }
            _ => Some(StatedClimate::Named(node.clone())),
        }),
        climates: fields.optional("climates").cloned(),
        design_low: fields.optional("design_low").cloned(),
        code: fields.optional("code").and_then(|node| read_code(node, errors)),
        authority: fields.optional("authority").map(|node| read_authority(node, errors)).unwrap_or_default(),
        exposure: read_word(&mut fields, "exposure", &["coastal", "exterior"], errors),
        soil: read_word(&mut fields, "soil", &SOILS, errors),
        county: fields
            .optional("county")
            .and_then(|node| Some((node.text("county", errors)?.into(), node.location.clone()))),
        products: fields.optional("products").cloned(),
        costs: read_costs(fields.optional_map("costs", errors), errors),
        spaces: read_spaces(fields.optional_map("spaces", errors), errors),
        spell: fields.optional("spell").map(|node| read_spell(node, errors)).unwrap_or_default(),
        walls: fields.optional("walls").map(|node| read_walls(node, errors)).unwrap_or_default(),
        defaults,
        revise_on: fields.optional("revise_on").and_then(|node| bases(node, errors)),
        preset: fields.optional("preset").cloned(),
        schedule: fields.required("schedule", errors).and_then(|node| read_file(node, "schedule", errors)),
        columns: read_columns(fields.optional_map("columns", errors), vocabulary, errors),
        chosen: Chosen {
            include: read_rows(fields.optional("include"), errors),
            set_aside: read_rows(fields.optional("set_aside"), errors),
        },
        places: fields.optional("places").cloned(),
        homes: read_homes(fields.optional_map("homes", errors), errors),
        answers: fields.optional("answers").cloned(),
        // One file, one amendment written here, or a list of such.
        rules: match fields.optional("rules") {
            Some(Node { kind: Kind::List(entries), .. }) => entries.clone(),
            one => one.cloned().into_iter().collect(),
        },
    };
    fields.finish(errors);
    job
}

/// Marks or rows: `HB-3`, or `[HB-3, row 12]`.
fn read_rows(node: Option<&Node>, errors: &mut Diagnostics) -> Vec<ChosenRow> {
    let nodes = match node {
        Some(Node { kind: Kind::List(entries), .. }) => entries.iter().collect(),
        one => one.into_iter().collect::<Vec<_>>(),
    };
    let row = |node: &Node, errors: &mut Diagnostics| {
        Some(ChosenRow { name: node.text("mark or row", errors)?.into(), location: node.location.clone() })
    };
    nodes.into_iter().filter_map(|node| row(node, errors)).collect()
}

/// A word out of a list, with its location.
fn read_word(
    fields: &mut Fields<'_>,
    key: &'static str,
    words: &[&'static str],
    errors: &mut Diagnostics,
) -> Option<(&'static str, Location)> {
    let node = fields.optional(key)?;
    let words: Vec<(&str, &'static str)> = words.iter().map(|word| (*word, *word)).collect();
    Some((node.one_of(key, &words, errors)?, node.location.clone()))
}

fn read_code(node: &Node, errors: &mut Diagnostics) -> Option<Code> {
    if let Kind::Scalar { text, .. } = &node.kind {
        let doubt = Code::doubt(text, &node.location);
        return doubt.map_or_else(
            || Some(Code::parse(text, None)),
            |it| {
                errors.push(it);
                None
            },
        );
    }
    let mut fields = Fields::of(node, "code", errors)?;
    let name = fields.required_text("name", errors);
    let edition = fields.optional("edition");
    for node in [fields.optional("name"), edition].into_iter().flatten() {
        let text = node.text("code", errors);
        errors.extend(text.and_then(|text| Code::doubt(text, &node.location)));
    }
    let edition = edition.and_then(|node| {
        let text = node.text("edition", errors)?;
        if Code::year_in(text).is_none() && Code::doubt(text, &node.location).is_none() {
            let error = node.problem("has no year that a code has an edition of");
            errors.push(error.expected(format!("{EDITIONS}, or no edition")));
        }
        Some(text)
    });
    fields.finish(errors);
    Some(Code::parse(name?, edition))
}

fn read_authority(node: &Node, errors: &mut Diagnostics) -> Authority {
    let Some(mut fields) = Fields::of(node, "authority", errors) else { return Authority::default() };
    let mut read = |key, dim, range| figure(&mut fields, key, dim, range, errors);
    let mut authority = Authority {
        winter_temperature: read("winter_temperature", Measure::Temperature, OUTDOORS),
        frost_depth: read("frost_depth", Measure::Of(Dim::LENGTH), [0.0, 5.0]),
        freezing_index: read("freezing_index", Measure::Of(Dim::DEGREE_TIME), [0.0, MOST_INDEX]),
        outlet_height: read("outlet_height", Measure::Of(Dim::LENGTH), HEIGHTS),
    };
    fields.finish(errors);
    let shallow = authority.frost_depth.take_if(|it| it.value > 0.0 && it.value < LEAST_FROST_DEPTH - 1e-6);
    errors.extend(shallow.map(|it| {
        let error = Diagnostic::new(it.location, "is no frost depth that an authority states");
        error.text(&*it.text).expected("3 in or more, or 0 in where the ground does not freeze")
    }));
    authority
}

/// `costs: { inside stop: $85 }`.
fn read_costs(entries: &[(Key, Node)], errors: &mut Diagnostics) -> BTreeMap<&'static str, f64> {
    let mut costs = BTreeMap::new();
    for (key, node) in entries {
        let Some(name) = COST_KEYS.iter().find(|name| name.eq_ignore_ascii_case(&key.text)) else {
            let error = Diagnostic::new(key.location.clone(), "is not a change that has a cost");
            errors.push(error.text(&key.text).expected(COST_KEYS.join(", ")).nearest(&key.text, COST_KEYS));
            continue;
        };
        let Some(text) = node.text("cost", errors) else { continue };
        match text.trim().trim_start_matches('$').trim().parse::<f64>() {
            Ok(dollars) if dollars.is_finite() && dollars >= 0.0 => {
                costs.insert(*name, dollars);
            }
            _ => errors
                .push(node.problem("is not a cost in dollars").expected("a number such as 85 or $12.50")),
        }
    }
    costs
}

/// Puts what amendments state of the authority and the code into a job, where the job itself does not state it. The
/// amendment closest to the job has the last word.
pub(super) fn put_stated(brought: &[RuleSource], job: &mut JobFile, errors: &mut Diagnostics) {
    let mut brought: Vec<&RuleSource> = brought.iter().collect();
    brought.sort_by_key(|it| std::cmp::Reverse(it.level_stated()));
    for amendment in brought {
        if let Some(node) = amendment.stated("authority") {
            let Authority { winter_temperature, frost_depth, freezing_index, outlet_height } =
                read_authority(node, errors);
            let own = &mut job.authority;
            own.winter_temperature = own.winter_temperature.take().or(winter_temperature);
            own.frost_depth = own.frost_depth.take().or(frost_depth);
            own.freezing_index = own.freezing_index.take().or(freezing_index);
            own.outlet_height = own.outlet_height.take().or(outlet_height);
        }
        if let Some(node) = amendment.stated("code") {
            let code = read_code(node, errors);
            job.code = job.code.take().or(code);
        }
    }
}

fn read_spaces(entries: &[(Key, Node)], errors: &mut Diagnostics) -> BTreeMap<&'static str, Space> {
    let mut spaces = BTreeMap::new();
    for (key, node) in entries {
        let Some(name) = SPACES.iter().find(|space| space.eq_ignore_ascii_case(&key.text)) else {
            let error = Diagnostic::new(key.location.clone(), "is not a space behind a faucet");
            errors.push(error.text(&key.text).expected(SPACES.join(", ")).nearest(&key.text, SPACES));
            continue;
        };
        let Some(mut fields) = Fields::of(node, "space", errors) else { continue };
        let mut read = |key, measure, range| figure(&mut fields, key, measure, range, errors);
        let space = Space {
            temperature: read("temperature", Measure::Temperature, SPACES_HELD),
            humidity: read("humidity", Measure::Of(Dim::NONE), [0.0, 1.0]),
            factor: read("factor", Measure::Of(Dim::NONE), [0.0, 1.0]),
            time_constant: read("time constant", Measure::Of(Dim::TIME), [HOUR, 1000.0 * HOUR]),
        };
        if space.temperature.is_some() && space.factor.is_some() {
            let error = Diagnostic::new(key.location.clone(), "has both a temperature and a factor");
            errors.push(error.text(&key.text).expected("one of them"));
        }
        fields.finish(errors);
        if spaces.insert(*name, space).is_some() {
            let error = Diagnostic::new(key.location.clone(), "is a space given twice");
            errors.push(error.text(&key.text).expected("one entry for it"));
        }
    }
    spaces
}

/// `spell: { days, swing, start }`. Days are a bare number, or a time of whole days.
fn read_spell(node: &Node, errors: &mut Diagnostics) -> StatedSpell {
    let Some(mut fields) = Fields::of(node, "spell", errors) else { return StatedSpell::default() };
    let spell = StatedSpell {
        duration: fields.optional("days").and_then(|node| whole_days(node, errors)),
        swing: figure(&mut fields, "swing", Measure::Of(Dim::DIFFERENCE), [0.0, MOST_SWING], errors),
        start: figure(&mut fields, "start", Measure::Temperature, OUTDOORS, errors),
    };
    fields.finish(errors);
    spell
}

fn whole_days(node: &Node, errors: &mut Diagnostics) -> Option<JobFigure> {
    let text = node.text("days", errors)?;
    let error = match units::parse_with_unit(text, Measure::Of(Dim::TIME), units::find_unit("days")) {
        Ok(time) if (1..=MOST_DAYS).any(|days| f64::from(days) * 24.0 * HOUR == time.is) => {
            return Some(JobFigure { value: time.is, text: text.into(), location: node.location.clone() });
        }
        Ok(_) => {
            let expected = format!("a whole number from 1 to {MOST_DAYS}");
            node.problem("is not the length of a cold spell in days").expected(expected)
        }
        Err(error) => error.at(node.location.clone(), text).expected(format!("1 to {MOST_DAYS} days")),
    };
    errors.push(error);
    None
}

/// A figure within a range, as it is written.
fn figure(
    fields: &mut Fields<'_>,
    key: &'static str,
    measure: Measure,
    range: [f64; 2],
    errors: &mut Diagnostics,
) -> Option<JobFigure> {
    let node = fields.optional(key)?;
    let value = node.quantity("figure", measure, range, errors)?.is;
    Some(JobFigure { value, text: node.text("figure", errors)?.into(), location: node.location.clone() })
}

/// `supply: { material, size, run, insulation }`, or the material alone.
fn read_supply(node: &Node, vocabulary: &Vocabulary, defaults: &mut Vec<Cell>, errors: &mut Diagnostics) {
    let mut state = |key: &str, node: &Node, errors: &mut Diagnostics| {
        defaults
            .extend(vocabulary.keyed(key).into_iter().flat_map(|term| vocabulary.cells(term, node, errors)));
    };
    if matches!(node.kind, Kind::Scalar { .. }) {
        return state("supply", node, errors);
    }
    let Some(mut fields) = Fields::of(node, "supply", errors) else { return };
    for key in ["material", "size", "run", "insulation"] {
        if let Some(node) = fields.optional(key) {
            state(&format!("supply: {key}"), node, errors);
        }
    }
    fields.finish(errors);
}

/// `defaults:` by the headings of a schedule.
fn read_defaults(
    entries: &[(Key, Node)],
    vocabulary: &Vocabulary,
    defaults: &mut Vec<Cell>,
    errors: &mut Diagnostics,
) {
    for (key, node) in entries {
        let Some(term) = vocabulary.heading(key, "is not a heading a schedule can have", errors) else {
            continue;
        };
        let error = |message| Diagnostic::new(key.location.clone(), message).text(&key.text);
        if vocabulary.scope(term).is_identity() {
            errors.push(
                error("is each faucet's own, not a default").expected("a column of the schedule for it"),
            );
        } else if !vocabulary.put(vocabulary.cells(term, node, errors), defaults) {
            errors.push(error("is given twice as a default").expected("one of the two, which mean the same"));
        }
    }
}
