//! What a setting may be: a quantity within bounds, yes or no, or a list of words.

use crate::diag::{Diagnostic, Diagnostics};
use crate::expr::{Names, Type, Value, same_text};
use crate::input::{Fields, Kind, Node};
use crate::units::{self, Dim, Measure, Quantity, Show, System, find_unit};
use std::sync::Arc;

/// What a setting may be set to.
#[derive(Clone, Debug, PartialEq)]
pub enum MayBe {
    /// A quantity from the least to the most, SI.
    Quantity(Measure, [f64; 2]),
    /// Yes or no.
    YesNo,
    /// Words of a fact, by its name: those it may have, or any where that is `None`.
    Words(Arc<str>, Option<&'static [&'static str]>),
}

/// A value and how it is written.
pub(super) type Written = (Value, Arc<str>);

/// What a setting may be, by what it is at first and the keys that go with that.
pub(super) fn may_be(
    is: &Node,
    what: &str,
    fields: &mut Fields<'_>,
    facts: &dyn Names,
    problems: &mut Diagnostics,
) -> Option<MayBe> {
    match &is.kind {
        Kind::Scalar { text, .. } if matches!(text.as_str(), "yes" | "no") => Some(MayBe::YesNo),
        Kind::List(_) => {
            let of = fields.need("of", problems)?;
            let fact = of.text("of", problems)?;
            let words = match facts.find(fact) {
                Some((_, Type::OneOf(words))) => Some(words),
                Some((_, Type::Text)) => None,
                Some(_) => {
                    let problem = of.problem("is not a fact that is a word or a text");
                    problems.push(problem.expected("a fact such as outlet.barrel"));
                    return None;
                }
                None => {
                    let all = facts.all();
                    let problem = of.problem("is not a known name");
                    problems.push(problem.nearest(fact, all.iter().map(String::as_str)));
                    return None;
                }
            };
            Some(MayBe::Words(fact.into(), words))
        }
        _ => {
            let between = fields.need("between", problems).and_then(|node| node.list("between", problems));
            let difference = match fields.take("difference") {
                Some(node) => node.yes_no("the setting is a temperature difference", problems)?,
                None => false,
            };
            let Some(measure) = measure_of(is.text("setting", problems)?, difference) else {
                let problem = is.problem("is not a quantity with a unit that is known");
                problems
                    .push(problem.expected("a quantity such as 4 °F or 1 in, yes or no, or a list of words"));
                return None;
            };
            let [least, most] = between? else {
                let problem = Diagnostic::new(
                    is.place.clone(),
                    format!("the bounds of the {what} are not two figures"),
                );
                problems.push(problem.expected("the least and the most, between: [0 °F, 20 °F]"));
                return None;
            };
            let (least, most) =
                (quantity(least, measure, problems)?.is, quantity(most, measure, problems)?.is);
            Some(MayBe::Quantity(measure, [least, most]))
        }
    }
}

impl MayBe {
    /// Reads a value of the setting `name`, whether or not it lies within bounds, and how it is written.
    pub(super) fn value(&self, node: &Node, name: &str, problems: &mut Diagnostics) -> Option<Written> {
        match self {
            Self::Quantity(measure, _) => {
                let value = quantity(node, *measure, problems)?;
                Some((Value::Quantity(value), node.text("setting", problems)?.into()))
            }
            Self::YesNo => {
                let is = node.yes_no(&format!("the setting {name} holds"), problems)?;
                Some((Value::YesNo(is), if is { "yes" } else { "no" }.into()))
            }
            Self::Words(of, words) => {
                let list = words_of(node, name, of, *words, problems)?;
                let text = list.join(", ").into();
                Some((Value::List(list.into()), text))
            }
        }
    }

    /// Whether a value lies within its bounds; rounding of units does not count.
    pub(super) fn allows(&self, value: &Value) -> bool {
        match (self, value) {
            (Self::Quantity(_, ends), Value::Quantity(quantity)) => lies_within(*ends, quantity.is),
            _ => true,
        }
    }

    /// `0 °F to 20 °F`; what else it may be in words.
    pub(super) fn bounds(&self) -> String {
        match self {
            Self::Quantity(measure, ends) => {
                let show = |si| Show::usual(*measure).value(&Quantity::exact(si, *measure), System::Us);
                let [least, most] = ends.map(show);
                format!("{least} to {most}")
            }
            Self::YesNo => "yes or no".into(),
            Self::Words(of, _) => format!("words of {of}"),
        }
    }
}

/// Whether a value lies within two ends; rounding of units does not count.
pub(super) fn lies_within([least, most]: [f64; 2], si: f64) -> bool {
    let noise = 1e-9 * least.abs().max(most.abs());
    (least - noise..=most + noise).contains(&si)
}

/// The words of a list, none twice, each of them one the fact may have.
fn words_of(
    node: &Node,
    name: &str,
    of: &str,
    words: Option<&[&str]>,
    problems: &mut Diagnostics,
) -> Option<Vec<Arc<str>>> {
    let (mut list, before) = (Vec::<Arc<str>>::new(), problems.len());
    let items = node.list(&format!("setting {name}"), problems)?;
    if items.is_empty() {
        let problem = Diagnostic::new(node.place.clone(), format!("the setting {name} names no word"));
        problems.push(problem.expected(format!("at least one word of {of}")));
    }
    let known: Option<Vec<(&str, &str)>> = words.map(|it| it.iter().map(|word| (*word, *word)).collect());
    for item in items {
        let word = match &known {
            Some(known) => item.one_of(&format!("word of {of}"), known, problems),
            None => item.text("word", problems).map(str::trim),
        };
        let Some(word) = word else { continue };
        if word.is_empty() {
            problems.push(item.problem("is an empty text"));
        } else if list.iter().any(|it| same_text(it, word)) {
            problems.push(item.problem("is in the list twice"));
        } else {
            list.push(word.into());
        }
    }
    (problems.len() == before).then_some(list)
}

pub(in crate::ruleset) fn quantity(
    node: &Node,
    measure: Measure,
    problems: &mut Diagnostics,
) -> Option<Quantity> {
    let text = node.text("setting", problems)?;
    units::parse(text, measure).map_err(|refused| problems.push(refused.at(node.place.clone(), text))).ok()
}

/// What a quantity's text measures, by its unit.
pub(in crate::ruleset) fn measure_of(text: &str, difference: bool) -> Option<Measure> {
    let start = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '/' | '-' | '+' | ' '));
    let measure = match start {
        None => Measure::Of(Dim::NONE),
        Some(_) if text.trim_start().starts_with(['R', 'r']) => Measure::Of(Dim::RESISTANCE),
        Some(start) => find_unit(text[start..].trim())?.measure(),
    };
    Some(if difference && measure == Measure::Temperature { Measure::Of(Dim::DIFFERENCE) } else { measure })
}
