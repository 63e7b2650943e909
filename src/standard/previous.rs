//! Reads a standard back from its JSON, and compares two.

use super::STANDARD_FORMAT;
use crate::diag::Diagnostic;
use crate::review::{Difference, PreviousFact, check_format, differ, read_json};
use serde::{Deserialize, Deserializer};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// A standard as it was written.
#[derive(Clone, Debug, Deserialize)]
pub struct PreviousStandard {
    /// Version of the program that wrote it.
    pub coldsill: Arc<str>,
    #[serde(deserialize_with = "standard_format")]
    #[allow(dead_code, reason = "checked when it is read")]
    format: (),
    /// Its name.
    pub standard: Arc<str>,
    /// The date it is of.
    pub date: Arc<str>,
    margin: Option<PreviousFact>,
    inside_stop: bool,
    amendments: Vec<Arc<str>>,
    places: Vec<PreviousPlace>,
    products: Vec<PreviousProduct>,
    cells: Vec<PreviousCell>,
}

#[derive(Clone, Debug, Deserialize)]
struct PreviousPlace {
    name: Arc<str>,
    state: Option<Arc<str>>,
    design_low: PreviousFact,
    design_low_is: Arc<str>,
    source: Arc<str>,
}

#[derive(Clone, Debug, Deserialize)]
struct PreviousProduct {
    model: Option<Arc<str>>,
    nominal_length: PreviousFact,
    price: Option<f64>,
}

#[derive(Clone, Debug, Deserialize)]
struct PreviousCell {
    place: usize,
    wall: Arc<str>,
    space: Arc<str>,
    supply: Arc<str>,
    barrel: Arc<str>,
    order: Option<usize>,
    governed_by: Vec<Arc<str>>,
}

fn standard_format<'de, D: Deserializer<'de>>(deserializer: D) -> Result<(), D::Error> {
    check_format(deserializer, STANDARD_FORMAT)
}

/// Reads a standard that `coldsill standard --format json` wrote. Another file, or one of another format, is an error.
pub fn read_previous_standard(file: &str, bytes: &[u8]) -> Result<PreviousStandard, Diagnostic> {
    read_json(file, bytes, "a standard that `coldsill standard --format json` wrote")
}

/// A cell that differs.
#[derive(Clone, Debug, PartialEq)]
pub struct CellDifference {
    /// The place.
    pub place: Arc<str>,
    /// Wall, space, supply and barrel.
    pub setting: Arc<str>,
    /// What to order, before and now; `None` on the side without such a cell.
    pub order: [Option<Arc<str>>; 2],
    /// Why: inputs of the place that differ, or what governs.
    pub why: Vec<Difference>,
}

/// What differs between two standards.
#[derive(Clone, Debug, Default)]
pub struct StandardComparison {
    /// Inputs of the whole standard.
    pub inputs: Vec<Difference>,
    /// Cells that differ.
    pub cells: Vec<CellDifference>,
    /// Cells in both with the same order.
    pub unchanged: usize,
}

impl StandardComparison {
    /// Whether anything differs.
    pub fn is_empty(&self) -> bool {
        self.inputs.is_empty() && self.cells.is_empty()
    }
}

type CellKey = (Arc<str>, [Arc<str>; 4]);

/// Compares two standards.
pub fn compare_standards(old: &PreviousStandard, new: &PreviousStandard) -> StandardComparison {
    let mut inputs = Vec::new();
    let yes_no = |is: bool| Some(if is { "yes" } else { "no" });
    let list = |items: &[Arc<str>]| (!items.is_empty()).then(|| items.join(", "));
    let text = |fact: &Option<PreviousFact>| fact.as_ref().map(|fact| fact.text.clone());
    inputs.extend(differ("Program", Some(&*old.coldsill), Some(&*new.coldsill)));
    inputs.extend(differ("Standard", Some(&*old.standard), Some(&*new.standard)));
    inputs.extend(differ("Date", Some(&*old.date), Some(&*new.date)));
    let is_same_margin =
        old.margin.as_ref().zip(new.margin.as_ref()).is_some_and(|(a, b)| a.is_same_value(b));
    if !is_same_margin {
        inputs.extend(differ("Margin", text(&old.margin), text(&new.margin)));
    }
    inputs.extend(differ("Inside stop", yes_no(old.inside_stop), yes_no(new.inside_stop)));
    inputs.extend(differ("Amendments", list(&old.amendments), list(&new.amendments)));
    inputs.extend(of_places(old, new));
    let products = |standard: &PreviousStandard| -> BTreeMap<Arc<str>, Arc<str>> {
        let price =
            |it: &PreviousProduct| it.price.map_or_else(|| "no price".into(), |price| format!("${price:.2}"));
        standard.products.iter().map(|it| (it.in_words(), price(it).into())).collect()
    };
    let (was, is) = (products(old), products(new));
    let names: BTreeSet<&Arc<str>> = was.keys().chain(is.keys()).collect();
    let of_products = names
        .into_iter()
        .filter_map(|name| differ(&format!("Product {name}"), was.get(name).cloned(), is.get(name).cloned()));
    inputs.extend(of_products);
    let (before, after) = (old.by_key(), new.by_key());
    let keys: BTreeSet<&CellKey> = before.keys().chain(after.keys()).collect();
    let (mut cells, mut unchanged) = (Vec::new(), 0);
    for key in keys {
        let sides = [(old, before.get(key)), (new, after.get(key))];
        let [was, is] = sides.map(|(standard, cell)| cell.map(|cell| standard.ordered(cell)));
        if was == is {
            unchanged += 1;
            continue;
        }
        let in_words = |product: Option<Option<&PreviousProduct>>| -> Option<Arc<str>> {
            product.map(|product| product.map_or_else(|| "no product".into(), PreviousProduct::in_words))
        };
        let [wall, space, supply, barrel] = &key.1;
        cells.push(CellDifference {
            place: key.0.clone(),
            setting: format!("{wall} ({space}), {barrel} barrel, {supply}").into(),
            order: [was, is].map(in_words),
            why: why(sides),
        });
    }
    StandardComparison { inputs, cells, unchanged }
}

/// Design lows of the places, where they differ; a place that only one has.
fn of_places(old: &PreviousStandard, new: &PreviousStandard) -> Vec<Difference> {
    let by_name = |standard: &'_ PreviousStandard| -> BTreeMap<Arc<str>, PreviousPlace> {
        standard.places.iter().map(|place| (place.in_words(), place.clone())).collect()
    };
    let (was, is) = (by_name(old), by_name(new));
    let names: BTreeSet<&Arc<str>> = was.keys().chain(is.keys()).collect();
    let differences = names.into_iter().filter_map(|name| {
        let (was, is) = (was.get(name), is.get(name));
        let is_same = was.zip(is).is_some_and(|(was, is)| was.has_low_of(is));
        let low = |place: Option<&PreviousPlace>| place.map(PreviousPlace::low);
        if is_same { None } else { differ(&format!("Design low of {name}"), low(was), low(is)) }
    });
    differences.collect()
}

/// Inputs of a place, and what governs, where they differ.
fn why(sides: [(&PreviousStandard, Option<&&PreviousCell>); 2]) -> Vec<Difference> {
    let [Some((old, was)), Some((new, is))] =
        sides.map(|(standard, cell)| cell.map(|cell| (standard, *cell)))
    else {
        return Vec::new();
    };
    let (Some(before), Some(after)) = (old.places.get(was.place), new.places.get(is.place)) else {
        return Vec::new();
    };
    let mut all = Vec::new();
    if !before.has_low_of(after) {
        all.extend(differ("design low", Some(before.low()), Some(after.low())));
    }
    all.extend(differ("climate source", Some(&*before.source), Some(&*after.source)));
    let limits = |cell: &PreviousCell| Some(cell.governed_by.join(" and ")).filter(|it| !it.is_empty());
    all.extend(differ("governed by", limits(was), limits(is)));
    all
}

impl PreviousStandard {
    fn by_key(&self) -> BTreeMap<CellKey, &PreviousCell> {
        let keyed = self.cells.iter().filter_map(|cell| {
            let place = self.places.get(cell.place)?.in_words();
            let setting = [&cell.wall, &cell.space, &cell.supply, &cell.barrel].map(Clone::clone);
            Some(((place, setting), cell))
        });
        keyed.collect()
    }

    /// What a cell orders; `None` if no product is enough.
    fn ordered(&self, cell: &PreviousCell) -> Option<&PreviousProduct> {
        self.products.get(cell.order?)
    }
}

impl PreviousPlace {
    fn has_low_of(&self, other: &Self) -> bool {
        self.design_low.is_same_value(&other.design_low) && self.design_low_is == other.design_low_is
    }

    /// "-22 °F (20-year low)".
    fn low(&self) -> String {
        format!("{} ({})", self.design_low.text, self.design_low_is)
    }

    fn in_words(&self) -> Arc<str> {
        match &self.state {
            Some(state) => format!("{}, {state}", self.name).into(),
            None => self.name.clone(),
        }
    }
}

/// One model in one length, whatever the units that it was printed in.
impl PartialEq for PreviousProduct {
    fn eq(&self, other: &Self) -> bool {
        self.model == other.model && self.nominal_length.is_same_value(&other.nominal_length)
    }
}

impl PreviousProduct {
    fn in_words(&self) -> Arc<str> {
        let length = &self.nominal_length.text;
        self.model.as_ref().map_or_else(|| length.clone(), |model| format!("{model}, {length}").into())
    }
}

/// Whether a file holds a standard, by its keys.
pub fn is_standard(bytes: &[u8]) -> bool {
    #[derive(Deserialize)]
    struct Keys {
        standard: Option<serde::de::IgnoredAny>,
    }
    serde_json::from_slice::<Keys>(bytes).is_ok_and(|keys| keys.standard.is_some())
}
