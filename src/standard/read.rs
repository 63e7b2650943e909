//! Reads the file of a standard: places, walls, supplies, products, design low, margin and date.

use super::error::StandardError;
use crate::climate::{Climate, DesignBy, Filter, Library, Point};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Fields, Kind, Node, text, yaml};
use crate::units::{Dim, Measure};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What the file states.
#[derive(Clone, Debug)]
pub struct Request {
    /// Its name.
    pub name: Arc<str>,
    /// The date it is of, as stated: year, month and day.
    pub date: Arc<str>,
    /// The job with walls, products, code and rules, as a path beside the file.
    pub job: Option<(Arc<str>, Location)>,
    /// Product data, as a path beside the file.
    pub products: Option<(Arc<str>, Location)>,
    /// The places, each with its homes.
    pub places: Vec<(Arc<Climate>, Option<f64>)>,
    /// Walls with the space at the inlet.
    pub walls: Vec<WallOf>,
    /// Supplies.
    pub supplies: Vec<SupplyOf>,
    /// Metals of barrels; none if the products say.
    pub barrels: Vec<(Arc<str>, Location)>,
    /// The design low.
    pub design_low: Option<(DesignBy, Arc<str>, Location)>,
    /// Degrees required above freezing, as written.
    pub margin: Option<(f64, Arc<str>)>,
    /// Whether an inside stop is standard.
    pub inside_stop: bool,
    /// The file.
    pub file: Location,
}

/// A wall, and the space at the inlet.
#[derive(Clone, Debug, PartialEq)]
pub struct WallOf {
    /// Key or another name of the wall.
    pub wall: Arc<str>,
    /// The space; the usual one behind the wall if not stated.
    pub space: Option<Arc<str>>,
    /// Where it is listed.
    pub location: Location,
}

/// A supply, and its insulation.
#[derive(Clone, Debug, PartialEq)]
pub struct SupplyOf {
    /// Material of the pipe.
    pub supply: Arc<str>,
    /// Insulation on it.
    pub insulation: Option<Arc<str>>,
    /// Where it is listed.
    pub location: Location,
}

/// Reads the file. All errors come at once.
pub fn read(file: &str, bytes: &[u8], library: &Library) -> Result<Request, Diagnostics> {
    let node = yaml::parse(file, text::decode(file, bytes)?)?;
    let mut errors = Diagnostics::new();
    let read = read_node(&node, library, &mut errors);
    let mut errors = match read {
        Some(request) if errors.is_empty() => return Ok(request),
        _ => errors,
    };
    crate::diag::quote(&mut errors, file, &String::from_utf8_lossy(bytes));
    Err(errors)
}

fn read_node(node: &Node, library: &Library, errors: &mut Diagnostics) -> Option<Request> {
    let Some(mut fields) = Fields::of(node, "standard", &mut Diagnostics::new()) else {
        errors.push(StandardError::NotAStandard.at(&node.location));
        return None;
    };
    if !fields.has("standard") {
        errors.push(StandardError::NotAStandard.at(&node.location));
        return None;
    }
    let name = fields.required("standard", errors).and_then(|node| {
        let name = node.text("standard", errors)?.trim();
        if !name.starts_with(char::is_alphabetic) || name.contains('/') {
            errors.push(StandardError::NotAName.at(&node.location).text(name));
        }
        Some(name)
    });
    let date = fields.required("date", errors).and_then(|node| date(node, errors));
    let path = |node: Option<&Node>, key: &str, errors: &mut Diagnostics| {
        let node = node?;
        Some((Arc::from(node.text(key, errors)?), node.location.clone()))
    };
    let job = path(fields.optional("job"), "job", errors);
    let products = path(fields.optional("products"), "products", errors);
    if let (Some(_), Some((text, place))) = (&job, &products) {
        errors.push(StandardError::JobAndProducts.at(place).text(&**text));
    }
    let places = places(fields.required_list("places", errors).unwrap_or_default(), library, errors);
    let walls = walls(fields.required_list("walls", errors).unwrap_or_default(), errors);
    let supplies = supplies(fields.required_list("supplies", errors).unwrap_or_default(), errors);
    let barrels = barrels(fields.optional_list("barrels", errors), errors);
    if barrels.is_empty() && job.is_none() && products.is_none() {
        errors.push(StandardError::BarrelNeeded.at(&node.location));
    }
    let design_low = fields.optional("design_low").and_then(|node| {
        let text = node.text("design_low", errors)?;
        let by = DesignBy::parse(text);
        if by.is_none_or(|by| by == DesignBy::Authority) {
            errors.push(StandardError::NotADesignLow.at(&node.location).text(text));
        }
        Some((by?, text.into(), node.location.clone()))
    });
    let margin = fields.optional("margin").and_then(|node| {
        let margin = node.quantity("margin", Measure::Of(Dim::DIFFERENCE), [0.0, MOST_MARGIN], errors)?;
        Some((margin.is, node.text("margin", errors)?.into()))
    });
    let inside_stop = fields.required("inside_stop", errors);
    let inside_stop = inside_stop.and_then(|node| node.yes_no("an inside stop is standard", errors));
    fields.finish(errors);
    Some(Request {
        name: name?.into(),
        date: date?,
        job,
        products,
        places,
        walls,
        supplies,
        barrels,
        design_low,
        margin,
        inside_stop: inside_stop?,
        file: Location::whole(&node.location.file),
    })
}

/// Most homes of a place.
const MOST_HOMES: u32 = 10_000_000;
/// The most that the rules allow, K (20 °F).
const MOST_MARGIN: f64 = 20.0 / 1.8;

/// A date of the calendar, written year-month-day.
fn date(node: &Node, errors: &mut Diagnostics) -> Option<Arc<str>> {
    let text = node.text("date", errors)?;
    let parts: Vec<Option<u16>> = text.trim().split('-').map(|part| part.parse().ok()).collect();
    let days = |year: u16, month: u16| match month {
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    };
    let is_date = matches!(parts.as_slice(), [Some(year), Some(month), Some(day)]
        if (1900..2200).contains(year) && (1..=12).contains(month) && (1..=days(*year, *month)).contains(day));
    if is_date && text.trim().len() == "2026-11-29".len() {
        return Some(text.trim().into());
    }
    errors.push(StandardError::NotADate.at(&node.location).text(text));
    None
}

/// An entry of a list: a text, or keys with the text under one of them.
fn entry<'n>(
    node: &'n Node,
    what: &'static str,
    other: &'static str,
    errors: &mut Diagnostics,
) -> Option<(&'n Node, Option<&'n Node>)> {
    if let Kind::Scalar { .. } = node.kind {
        return Some((node, None));
    }
    let mut fields = Fields::of(node, what, errors)?;
    let (own, other) = (fields.required(what, errors), fields.optional(other));
    fields.finish(errors);
    Some((own?, other))
}

fn walls(nodes: &[Node], errors: &mut Diagnostics) -> Vec<WallOf> {
    let mut all: Vec<WallOf> = Vec::new();
    for node in nodes {
        let Some((wall, space)) = entry(node, "wall", "space", errors) else { continue };
        let Some(text) = wall.text("wall", errors) else { continue };
        let space = space.and_then(|node| node.text("space", errors)).map(Arc::from);
        let wall_of = WallOf { wall: text.into(), space, location: wall.location.clone() };
        if all.iter().any(|known| (&known.wall, &known.space) == (&wall_of.wall, &wall_of.space)) {
            errors.push(StandardError::WallTwice.at(&wall.location).text(text));
        } else {
            all.push(wall_of);
        }
    }
    all
}

fn supplies(nodes: &[Node], errors: &mut Diagnostics) -> Vec<SupplyOf> {
    let mut all: Vec<SupplyOf> = Vec::new();
    for node in nodes {
        let Some((supply, insulation)) = entry(node, "supply", "insulation", errors) else { continue };
        let Some(text) = supply.text("supply", errors) else { continue };
        let insulation = insulation.and_then(|node| node.text("insulation", errors)).map(Arc::from);
        let supply_of = SupplyOf { supply: text.into(), insulation, location: supply.location.clone() };
        // A table of an amendment tells supplies by their material.
        if all.iter().any(|known| known.supply == supply_of.supply) {
            errors.push(StandardError::SupplyTwice.at(&supply.location).text(text));
        } else {
            all.push(supply_of);
        }
    }
    all
}

fn barrels(nodes: &[Node], errors: &mut Diagnostics) -> Vec<(Arc<str>, Location)> {
    let mut all: Vec<(Arc<str>, Location)> = Vec::new();
    for node in nodes {
        let Some(text) = node.text("barrel", errors) else { continue };
        if all.iter().any(|(known, _)| **known == *text) {
            errors.push(StandardError::BarrelTwice.at(&node.location).text(text));
        } else {
            all.push((text.into(), node.location.clone()));
        }
    }
    all
}

fn places(nodes: &[Node], library: &Library, errors: &mut Diagnostics) -> Vec<(Arc<Climate>, Option<f64>)> {
    let mut all: Vec<(Arc<Climate>, Option<f64>)> = Vec::new();
    let mut known: BTreeSet<Arc<str>> = BTreeSet::new();
    for node in nodes {
        let Some((found, homes, is_named)) = places_of(node, library, errors) else { continue };
        for climate in found {
            if known.insert(climate.id.clone()) {
                all.push((climate, homes));
            } else if is_named {
                errors.push(StandardError::PlaceTwice.at(&node.location).text(&*climate.id));
            }
        }
    }
    all
}

/// A number of homes: a count, no share and no half.
fn homes(node: &Node, errors: &mut Diagnostics) -> Option<f64> {
    let text = node.text("homes", errors)?;
    let count = text.trim().parse::<u32>().ok().filter(|count| (1..=MOST_HOMES).contains(count));
    if count.is_none() {
        errors.push(StandardError::NotHomes.at(&node.location).text(text));
    }
    count.map(f64::from)
}

/// The places of an entry, with the homes of each, and whether it names one.
fn places_of(
    node: &Node,
    library: &Library,
    errors: &mut Diagnostics,
) -> Option<(Vec<Arc<Climate>>, Option<f64>, bool)> {
    if let Kind::Scalar { text, .. } = &node.kind {
        return Some((vec![errors.ok(library.find(text, &node.location))?], None, true));
    }
    let mut fields = Fields::of(node, "place", errors)?;
    let ways = ["place", "state", "zone", "near"].map(|key| (key, fields.optional(key)));
    let homes = fields.optional("homes").and_then(|node| homes(node, errors));
    fields.finish(errors);
    let mut stated = ways.into_iter().filter_map(|(key, way)| Some((key, way?)));
    let Some((key, way)) = stated.next() else {
        errors.push(StandardError::NoKeyOfPlaces.at(&node.location));
        return None;
    };
    if stated.next().is_some() {
        errors.push(StandardError::KeysOfPlaces.at(&node.location));
        return None;
    }
    let text = way.text(key, errors)?;
    // An option is named where the library looks for one.
    let here = |problem: Diagnostic| Diagnostic { location: way.location.clone(), ..problem };
    let list = |filter: &Filter<'_>| {
        library.list(filter).map(|found| found.into_iter().cloned().collect()).map_err(here)
    };
    let found: Result<Vec<Arc<Climate>>, Diagnostic> = match key {
        "place" => library.find(text, &way.location).map(|climate| vec![climate]),
        "state" => list(&Filter { state: Some(text), ..Filter::default() }),
        "zone" => list(&Filter { zone: Some(text), ..Filter::default() }),
        _ => Point::parse(text, &way.location)
            .and_then(|_| library.find(text, &way.location))
            .map(|climate| vec![climate]),
    };
    Some((errors.ok(found)?, homes, key == "place" || key == "near"))
}
