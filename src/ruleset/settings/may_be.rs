//! The values a setting may have: a quantity within bounds, yes or no, or a list of words.

use super::super::error::RuleError;
use crate::diag::Diagnostics;
use crate::expr::{Names, Type, Value, same_text};
use crate::input::{Fields, Kind, Node};
use crate::units::{self, Dim, Measure, Quantity, contains, find_unit, limits};
use std::sync::Arc;

/// The values a setting may have.
#[derive(Clone, Debug, PartialEq)]
pub enum MayBe {
    /// A quantity from the least to the most, SI.
    Quantity(Measure, [f64; 2]),
    /// Yes or no.
    YesNo,
    /// A list of values of a fact, by its name; of any texts if `None`.
    Words(Arc<str>, Option<&'static [&'static str]>),
}

impl MayBe {
    /// Reads what the setting `name` may be, by its first value and the keys that go with that.
    pub(super) fn read(
        is: &Node,
        name: &str,
        fields: &mut Fields<'_>,
        facts: &dyn Names,
        errors: &mut Diagnostics,
    ) -> Option<Self> {
        match &is.kind {
            Kind::Scalar { text, .. } if matches!(text.as_str(), "yes" | "no") => Some(Self::YesNo),
            Kind::List(_) => {
                let of = fields.required("of", errors)?;
                let fact = of.text("of", errors)?;
                let error = match facts.find(fact) {
                    Some((_, Type::OneOf(words))) => return Some(Self::Words(fact.into(), Some(words))),
                    Some((_, Type::Text)) => return Some(Self::Words(fact.into(), None)),
                    Some(_) => RuleError::NotAFactOfWords.at(of),
                    None => {
                        let all = facts.all();
                        RuleError::UnknownName.at(of).nearest(fact, all.iter().map(String::as_str))
                    }
                };
                errors.push(error);
                None
            }
            _ => {
                let between = fields.required_list("between", errors);
                let is_difference = match fields.optional("difference") {
                    Some(node) => node.yes_no("the setting is a temperature difference", errors)?,
                    None => false,
                };
                let Some(measure) = measure_of(is.text("setting", errors)?, is_difference) else {
                    errors.push(RuleError::NotASetting.at(is));
                    return None;
                };
                Some(Self::Quantity(measure, read_bounds(between?, is, name, measure, errors)?))
            }
        }
    }

    /// Reads a value of the setting `name`, within bounds or not. Returns it with its text.
    pub(super) fn value(
        &self,
        node: &Node,
        name: &str,
        errors: &mut Diagnostics,
    ) -> Option<(Value, Arc<str>)> {
        match self {
            Self::Quantity(measure, _) => {
                let value = quantity(node, *measure, errors)?;
                Some((Value::Quantity(value), node.text("setting", errors)?.into()))
            }
            Self::YesNo => {
                let value = node.yes_no(&format!("the setting {name} holds"), errors)?;
                Some((Value::YesNo(value), if value { "yes" } else { "no" }.into()))
            }
            Self::Words(fact, words) => {
                let list = read_words(node, name, fact, *words, errors)?;
                let text = list.join(", ").into();
                Some((Value::List(list.into()), text))
            }
        }
    }

    /// Whether a value is within its bounds, apart from rounding of units.
    pub(super) fn allows(&self, value: &Value) -> bool {
        match (self, value) {
            (Self::Quantity(_, bounds), Value::Quantity(quantity)) => contains(*bounds, quantity.is),
            _ => true,
        }
    }

    /// `0 °F to 20 °F`, or what else it may be.
    pub(super) fn bounds(&self) -> String {
        match self {
            Self::Quantity(measure, bounds) => limits(*bounds, *measure),
            Self::YesNo => "yes or no".into(),
            Self::Words(fact, _) => format!("words of {fact}"),
        }
    }
}

/// Reads the least and the most value of a setting, SI.
pub(super) fn read_bounds(
    ends: &[Node],
    node: &Node,
    name: &str,
    measure: Measure,
    errors: &mut Diagnostics,
) -> Option<[f64; 2]> {
    let [least, most] = ends else {
        errors.push(RuleError::NotTwoBounds(name).at_location(&node.location));
        return None;
    };
    let (least, most) = (quantity(least, measure, errors), quantity(most, measure, errors));
    Some([least?.is, most?.is])
}

/// Reads a list of words, each a value of the fact, none twice.
fn read_words(
    node: &Node,
    name: &str,
    fact: &str,
    words: Option<&[&str]>,
    errors: &mut Diagnostics,
) -> Option<Vec<Arc<str>>> {
    let (mut list, before) = (Vec::<Arc<str>>::new(), errors.len());
    let items = node.list(&format!("setting {name}"), errors)?;
    if items.is_empty() {
        errors.push(RuleError::NoWords(name, fact).at(node));
    }
    let known: Option<Vec<(&str, &str)>> =
        words.map(|words| words.iter().map(|word| (*word, *word)).collect());
    for item in items {
        let word = match &known {
            Some(known) => item.one_of(&format!("value of {fact}"), known, errors),
            None => item.text("word", errors).map(str::trim),
        };
        let Some(word) = word else { continue };
        if word.is_empty() {
            errors.push(RuleError::EmptyWord.at(item));
        } else if list.iter().any(|known| same_text(known, word)) {
            errors.push(RuleError::WordTwice.at(item));
        } else {
            list.push(word.into());
        }
    }
    (errors.len() == before).then_some(list)
}

/// Reads a quantity.
pub(in crate::ruleset) fn quantity(
    node: &Node,
    measure: Measure,
    errors: &mut Diagnostics,
) -> Option<Quantity> {
    let text = node.text("setting", errors)?;
    errors.ok(units::parse(text, measure).map_err(|error| error.at(node.location.clone(), text)))
}

/// What a quantity measures, by the unit in its text.
pub(in crate::ruleset) fn measure_of(text: &str, is_difference: bool) -> Option<Measure> {
    let start = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '/' | '-' | '+' | ' '));
    let measure = match start {
        None => Measure::Of(Dim::NONE),
        Some(_) if text.trim_start().starts_with(['R', 'r']) => Measure::Of(Dim::RESISTANCE),
        Some(start) => find_unit(text[start..].trim())?.measure(),
    };
    let is_difference = is_difference && measure == Measure::Temperature;
    Some(if is_difference { Measure::Of(Dim::DIFFERENCE) } else { measure })
}
