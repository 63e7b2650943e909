//! A regional standard for other programs.

use super::super::REMINDER;
use super::super::standard::{change, variant};
use super::facts::{FactsJson, facts};
use super::values::{DifferenceJson, LengthJson, Number, QuantityJson, TemperatureJson, low_temperature};
use super::{PROGRAM, write};
use crate::standard::{Cell, Item, Place, STANDARD_FORMAT, Setting, Standard, Stock, VARIANTS};
use crate::units::{Dim, Quantity, System, figures};
use schemars::JsonSchema;
use serde::Serialize;
use std::io;
use std::sync::Arc;

/// Version of the format.
const FORMAT: u32 = STANDARD_FORMAT;

/// A regional standard, as `coldsill standard --format json` writes it. Values are in SI units, temperatures in kelvin,
/// rounded to seven significant digits; `text` beside a value is the same value in the reader's units. Unknown values are
/// null, never 0 or false. New keys raise `format`.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "Coldsill standard, format 1")]
pub(super) struct StandardJson<'s> {
    /// Version of the program.
    coldsill: &'static str,
    /// Version of this format.
    #[schemars(extend("const" = FORMAT))]
    format: u32,
    /// The cautions of every report: it screens and certifies nothing; the adopted code and the authority govern.
    reminder: &'static str,
    /// Its name.
    standard: &'s str,
    /// The date it is of, as its file states it: year, month and day.
    date: &'s str,
    /// Its file, as the user named it.
    file: &'s str,
    /// Degrees required above freezing, as the file states it; null if the rules' own hold.
    margin: Option<DifferenceJson>,
    /// Whether an inside stop is standard.
    inside_stop: bool,
    /// Names of the amendments in force, in the order they were applied.
    amendments: &'s [Arc<str>],
    /// What each cell's `length_changes` varies, in their order.
    varied: Vec<String>,
    places: Vec<PlaceJson<'s>>,
    /// The products, the shortest first; cells and stocks number them from 0.
    products: Vec<ProductJson<'s>>,
    /// One for each place, wall, supply and barrel.
    cells: Vec<CellJson<'s>>,
    stock: StockJson<'s>,
    /// Assumptions that hold in every cell.
    assumed: Vec<AssumedJson<'s>>,
    /// Distinct sections solved.
    sections_solved: usize,
}

#[derive(Serialize, JsonSchema)]
struct PlaceJson<'s> {
    /// Its id as a climate; empty for one without.
    climate: &'s str,
    name: &'s str,
    /// State or province, by its postal abbreviation.
    state: Option<&'s str>,
    /// Homes built there; null if not stated.
    homes: Option<Number>,
    design_low: TemperatureJson,
    design_low_is: &'s str,
    /// Where the figures are published.
    source: &'s str,
}

#[derive(Serialize, JsonSchema)]
struct ProductJson<'s> {
    /// Null for a listed length.
    model: Option<&'s str>,
    nominal_length: LengthJson,
    /// Null for a listed length, which comes with every barrel of the standard.
    barrel: Option<&'s str>,
    /// Dollars; null if not stated.
    price: Option<Number>,
}

#[derive(Serialize, JsonSchema)]
struct CellJson<'s> {
    /// Number of the place, from 0.
    place: usize,
    wall: &'s str,
    space: &'s str,
    supply: &'s str,
    /// Insulation on the supply as the file states it; null if it states none.
    supply_insulation: Option<&'s str>,
    barrel: &'s str,
    /// Number of the shortest product that no rule in force asks to revise; null if none is enough.
    needed: Option<usize>,
    /// Number of the standard's product: the same, or a longer one that a place of the same or a milder design low needs.
    order: Option<usize>,
    /// Number of that place; null if it is the same.
    raised_by: Option<usize>,
    /// What the next shorter product, or the longest one if none is enough, is too short for.
    governed_by: Vec<&'static str>,
    /// How much shallower the seat of the needed product could be, on the safe side.
    slack: Option<LengthJson>,
    /// Whether `slack` is only a lower bound.
    slack_is_at_least: bool,
    /// Whether the slack is under 1/2 in.
    thin: bool,
    /// Whether the product is enough at the 50-year low; null if the climate has none.
    survives_50_year_low: Option<bool>,
    /// Seat temperature, good to and years between of the standard's product.
    facts: FactsJson<'s>,
    /// Whether the needed length changes with each of `varied`: no, yes, longer, yes, shorter, or not known.
    length_changes: Vec<&'static str>,
    /// Numbers of the rules that ask for something at any length.
    at_any_length: Vec<&'s str>,
}

#[derive(Serialize, JsonSchema)]
struct StockJson<'s> {
    /// Places by walls and supplies with a product.
    needs: usize,
    /// Those without one.
    without: usize,
    /// The fewest products that serve all; null if there is nothing to serve.
    fewest: Option<StockedJson<'s>>,
    /// The best one, two and three products.
    best: Vec<StockedJson<'s>>,
}

#[derive(Serialize, JsonSchema)]
struct StockedJson<'s> {
    products: Vec<ItemJson<'s>>,
    /// Places by walls and supplies that none of them is enough for.
    unserved: usize,
    /// Dollars for one outlet for each home, wall and supply served; null unless homes and prices are all stated.
    cost: Option<Number>,
    /// Whether every set of as many products was tried; otherwise it was built one by one, and at most 1 + ln(needs)
    /// times as many as needed are in it.
    exact: bool,
}

#[derive(Serialize, JsonSchema)]
struct ItemJson<'s> {
    product: usize,
    barrel: &'s str,
}

#[derive(Serialize, JsonSchema)]
struct AssumedJson<'s> {
    /// The fact.
    fact: &'s str,
    /// The value, in the reader's units.
    text: String,
    /// The reason.
    why: String,
}

/// Writes a standard as JSON.
pub fn standard_json(standard: &Standard, system: System, out: &mut dyn io::Write) -> io::Result<()> {
    let length = |meters: f64| LengthJson(QuantityJson::usual(&Quantity::of(meters, Dim::LENGTH), system));
    let cells = standard.cells.iter().enumerate().flat_map(|(place, cells)| {
        standard
            .settings
            .iter()
            .zip(cells)
            .map(move |(setting, cell)| CellJson::of(place, setting, cell, system))
    });
    let products = standard.products.iter().map(|product| ProductJson {
        model: product.model.as_deref(),
        nominal_length: length(product.length),
        barrel: product.barrel.as_deref(),
        price: product.price.map(Number),
    });
    let assumed = standard.assumed.iter().map(|(fact, why)| AssumedJson {
        fact: &fact.name,
        text: super::super::words::value(fact, system),
        why: figures(why, system),
    });
    let margin = standard.margin.as_ref();
    let document = StandardJson {
        coldsill: PROGRAM,
        format: FORMAT,
        reminder: REMINDER,
        standard: &standard.name,
        date: &standard.date,
        file: &standard.file,
        margin: margin.map(|margin| DifferenceJson(QuantityJson::usual(margin, system))),
        inside_stop: standard.inside_stop,
        amendments: &standard.amendments,
        varied: VARIANTS.map(variant).to_vec(),
        places: standard.places.iter().map(|place| PlaceJson::of(place, system)).collect(),
        products: products.collect(),
        cells: cells.collect(),
        stock: StockJson {
            needs: standard.groups.needs,
            without: standard.groups.without,
            fewest: standard.groups.fewest.as_ref().map(StockedJson::from),
            best: standard.groups.best.iter().map(StockedJson::from).collect(),
        },
        assumed: assumed.collect(),
        sections_solved: standard.solves.sections,
    };
    write(&document, out)
}

impl<'s> PlaceJson<'s> {
    fn of(place: &'s Place, system: System) -> Self {
        Self {
            climate: &place.climate.id,
            name: &place.climate.name,
            state: place.climate.state.as_deref(),
            homes: place.homes.map(Number),
            design_low: low_temperature(&Quantity::temperature(place.design_low), system),
            design_low_is: &place.design_low_is,
            source: &place.climate.source,
        }
    }
}

impl<'s> CellJson<'s> {
    fn of(place: usize, setting: &'s Setting, cell: &'s Cell, system: System) -> Self {
        let slack = cell.slack.map(|slack| Quantity::of(slack, Dim::LENGTH));
        Self {
            place,
            wall: &setting.wall,
            space: &setting.space,
            supply: &setting.supply,
            supply_insulation: setting.insulation.as_deref(),
            barrel: &setting.barrel,
            needed: cell.needed,
            order: cell.order,
            raised_by: cell.raised_by,
            governed_by: cell.limits.iter().map(|limit| limit.word()).collect(),
            slack: slack.map(|slack| LengthJson(QuantityJson::usual(&slack, system))),
            slack_is_at_least: cell.at_least,
            thin: cell.is_thin(),
            survives_50_year_low: cell.survives_50_years,
            facts: facts(&cell.facts, system),
            length_changes: cell.changes.iter().map(|own| change(*own)).collect(),
            at_any_length: cell.at_any_depth.iter().map(|rule| &*rule.number).collect(),
        }
    }
}

impl<'s> From<&'s Stock> for StockedJson<'s> {
    fn from(stock: &'s Stock) -> Self {
        let items = stock.items.iter().map(|Item { product, barrel }| ItemJson { product: *product, barrel });
        Self {
            products: items.collect(),
            unserved: stock.unserved,
            cost: stock.cost.map(Number),
            exact: stock.is_exact,
        }
    }
}
