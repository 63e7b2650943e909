//! The names the specification uses, and what a case gives for them.

use std::collections::BTreeMap;

use coldsill::expr::{Gap, Names, Slot, Type, Value, ValueOrGap, Values};
use coldsill::units::{Dim, Measure, Quantity, parse};
use serde::Deserialize;

const fn of(dim: Dim) -> Type {
    Type::Quantity(Measure::Of(dim))
}

pub const NAMES: &[(&str, Type)] = &[
    ("a", Type::YesNo),
    ("b", Type::YesNo),
    ("c", Type::YesNo),
    ("outlet.inside_stop", Type::YesNo),
    ("outlet.closes", Type::OneOf(&["face", "inside"])),
    ("outlet.barrel", Type::OneOf(&["copper", "brass", "stainless"])),
    ("supply.material", Type::OneOf(&["copper", "PEX", "galvanized steel"])),
    ("outlet.model", Type::Text),
    ("outlet.maker", Type::Text),
    ("outlet.seat_depth", of(Dim::LENGTH)),
    ("outlet.nominal_length", of(Dim::LENGTH)),
    ("barrel.bore_area", of(Dim::AREA)),
    ("water.volume", of(Dim::VOLUME)),
    ("water.mass", of(Dim::MASS)),
    ("spell.lasts", of(Dim::TIME)),
    ("site.design_low", Type::Quantity(Measure::Temperature)),
    ("heat.seat_temperature", Type::Quantity(Measure::Temperature)),
    ("site.swing", of(Dim::DIFFERENCE)),
    ("freezing/margin", of(Dim::DIFFERENCE)),
    ("site.freezing_index", of(Dim::DEGREE_TIME)),
    ("heat.loss", of(Dim::POWER)),
    ("energy.heat", of(Dim::ENERGY)),
    ("energy.loss", of(Dim::CONDUCTANCE)),
    ("barrel.conductivity", of(Dim::CONDUCTIVITY)),
    ("inside.film", of(Dim::FILM)),
    ("wall.resistance", of(Dim::RESISTANCE)),
    ("layer.density", of(Dim::DENSITY)),
    ("layer.specific_heat", of(Dim::SPECIFIC_HEAT)),
    ("supply.pressure", of(Dim::PRESSURE)),
    ("metals.gap", of(Dim::VOLTAGE)),
    ("outlet.slope", of(Dim::NONE)),
    ("outlet.count", of(Dim::NONE)),
    ("cross-connection/limit", of(Dim::NONE)),
    ("company/approved_barrels", Type::List(Some(&["copper", "brass", "stainless"]))),
    ("company/wall_types", Type::List(Some(&["siding", "brick"]))),
    ("company/makers", Type::List(None)),
    ("company/strict", Type::YesNo),
];

pub fn slot(name: &str) -> Slot {
    let at = NAMES.iter().position(|it| it.0 == name);
    Slot(u16::try_from(at.unwrap_or_else(|| panic!("{name} is not in the catalogue"))).unwrap())
}

pub fn name(slot: Slot) -> &'static str {
    NAMES[usize::from(slot.0)].0
}

pub struct Catalogue;

impl Names for Catalogue {
    fn find(&self, name: &str) -> Option<(Slot, Type)> {
        NAMES.iter().find(|it| it.0 == name).map(|it| (slot(name), it.1.clone()))
    }

    fn all(&self) -> Vec<String> {
        NAMES.iter().map(|it| it.0.to_owned()).collect()
    }
}

/// What a case gives for a name. A name that is not given is missing.
#[derive(Clone, Debug, Deserialize)]
#[serde(untagged)]
pub enum Given {
    Plain(String),
    List(Vec<String>),
    Full(Full),
}

#[derive(Clone, Debug, Default, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Full {
    /// As a person writes it.
    is: Option<String>,
    low: Option<String>,
    high: Option<String>,
    /// In SI, where reading the unit is what is tested.
    si: Option<f64>,
    /// No value, for this reason.
    absent: Option<String>,
    /// Assumed rather than stated.
    assumed: bool,
}

#[derive(Clone, Debug, Default)]
pub struct Facts(BTreeMap<Slot, (ValueOrGap, bool)>);

impl Facts {
    pub fn new(given: &BTreeMap<String, Given>) -> Self {
        let fact = |(name, given): (&String, &Given)| {
            let slot = slot(name);
            let kind = &NAMES[usize::from(slot.0)].1;
            let full = match given {
                Given::Plain(text) => Full { is: Some(text.clone()), ..Full::default() },
                Given::Full(full) => full.clone(),
                Given::List(words) => {
                    let words = words.iter().map(|it| it.as_str().into()).collect();
                    return (slot, (Ok(Value::List(words)), true));
                }
            };
            (slot, (reading(slot, kind, &full), !full.assumed))
        };
        Self(given.iter().map(fact).collect())
    }

    pub fn set(&mut self, slot: Slot, value: Value) {
        self.0.insert(slot, (Ok(value), true));
    }

    /// A value that is not there for a reason.
    pub fn lack(&mut self, slot: Slot, why: &str) {
        self.0.insert(slot, (Err(Gap::absent(slot, why)), false));
    }
}

fn reading(slot: Slot, kind: &Type, full: &Full) -> ValueOrGap {
    if let Some(why) = &full.absent {
        return Err(Gap::absent(slot, why.as_str()));
    }
    let text = full.is.clone().unwrap_or_default();
    Ok(match kind {
        Type::Quantity(measure) => {
            let read = |text: &str| parse(text, *measure).unwrap_or_else(|it| panic!("{text}: {it:?}")).is;
            let is = full.si.unwrap_or_else(|| read(&text));
            let end = |text: &Option<String>| text.as_deref().map_or(is, read);
            Value::Quantity(Quantity::exact(is, *measure).within(end(&full.low), end(&full.high)))
        }
        Type::YesNo => Value::YesNo(match text.as_str() {
            "yes" => true,
            "no" => false,
            other => panic!("{other} is neither yes nor no"),
        }),
        Type::Text | Type::OneOf(_) => Value::Text(text.into()),
        Type::List(_) => panic!("{} is given as [...]", name(slot)),
    })
}

impl Values for Facts {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        self.0.get(&slot).map_or_else(|| Err(Gap::missing(slot)), |it| it.0.as_ref().map_err(Gap::clone))
    }

    fn is_stated(&self, slot: Slot) -> bool {
        self.0.get(&slot).is_some_and(|it| it.0.is_ok() && it.1)
    }
}
