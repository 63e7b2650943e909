//! Settings of a rule set: figures, yes or no, and lists of words that an amendment may change.

use crate::diag::{Place, Problem};
use crate::expr::{Names, Slot, Type, Value};
use crate::input::{Fields, Key, Kind, Node};
use crate::units::{self, Dim, Measure, Quantity, Show, System, find_unit};
use std::sync::Arc;

/// What rules use and amendments may change.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// `freezing/margin`.
    pub name: Arc<str>,
    /// What it is.
    pub about: Arc<str>,
    /// What it is set to.
    pub value: Value,
    /// What it may be set to.
    pub may_be: MayBe,
    /// Its slot, after those of the facts.
    pub slot: Slot,
    /// As it was written.
    pub text: Arc<str>,
    /// Where it was set last.
    pub place: Place,
    /// The amendment that changed it.
    pub changed_by: Option<Arc<str>>,
}

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
type Written = (Value, Arc<str>);

impl Setting {
    /// Reads one of
    /// - `margin: { is: 4 °F, about: …, between: [0 °F, 20 °F], difference: true }`
    /// - `insulated: { is: yes, about: … }`
    /// - `approved_barrels: { is: [stainless, brass], of: outlet.barrel, about: … }`
    pub(super) fn read(
        set: &str,
        key: &Key,
        node: &Node,
        slot: Slot,
        facts: &dyn Names,
        problems: &mut Vec<Problem>,
    ) -> Option<Self> {
        let what = format!("setting \"{}\"", key.text);
        let mut fields = Fields::of(node, &what, problems)?;
        let is = fields.need("is", problems);
        let about = fields.need("about", problems).and_then(|node| node.text("about", problems));
        let may_be = is.and_then(|is| may_be(is, &what, &mut fields, facts, problems));
        fields.finish(problems);
        let (is, about, may_be) = (is?, about?, may_be?);
        let name: Arc<str> = format!("{set}/{}", key.text).into();
        let (value, text) = may_be.value(is, &name, problems)?;
        let (about, place) = (about.into(), is.place.clone());
        Some(Self { name, about, value, may_be, slot, text, place, changed_by: None })
    }

    /// Sets it to what an amendment says, where it may be that.
    pub(super) fn change(&mut self, node: &Node, by: &Arc<str>, problems: &mut Vec<Problem>) {
        if let Some((value, text)) = self.may_be.value(node, &self.name, problems) {
            (self.value, self.text, self.place) = (value, text, node.place.clone());
            self.changed_by = Some(by.clone());
        }
    }

    /// Its type in an expression.
    pub fn ty(&self) -> Type {
        match &self.may_be {
            MayBe::Quantity(measure, _) => Type::Quantity(*measure),
            MayBe::YesNo => Type::YesNo,
            MayBe::Words(_, words) => Type::List(*words),
        }
    }
}

/// What a setting may be, by what it is at first and the keys that go with that.
fn may_be(
    is: &Node,
    what: &str,
    fields: &mut Fields<'_>,
    facts: &dyn Names,
    problems: &mut Vec<Problem>,
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
                let what = format!("between of {what} is not two quantities");
                problems.push(Problem::new(is.place.clone(), what));
                return None;
            };
            let (least, most) =
                (quantity(least, measure, problems)?.is, quantity(most, measure, problems)?.is);
            Some(MayBe::Quantity(measure, [least, most]))
        }
    }
}

impl MayBe {
    /// Reads a value of the setting `name`, and refuses one that it may not be.
    fn value(&self, node: &Node, name: &str, problems: &mut Vec<Problem>) -> Option<Written> {
        match self {
            Self::Quantity(measure, [least, most]) => {
                let value = quantity(node, *measure, problems)?;
                if !(*least..=*most).contains(&value.is) {
                    let show = |si| Show::usual(*measure).value(&Quantity::exact(si, *measure), System::Us);
                    let problem = node.problem(format!("is outside the bounds of the setting {name}"));
                    problems.push(problem.expected(format!("{} to {}", show(*least), show(*most))));
                    return None;
                }
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
}

/// The words of a list, none twice, each of them one the fact may have.
fn words_of(
    node: &Node,
    name: &str,
    of: &str,
    words: Option<&[&str]>,
    problems: &mut Vec<Problem>,
) -> Option<Vec<Arc<str>>> {
    let (mut list, before) = (Vec::<Arc<str>>::new(), problems.len());
    let items = node.list(&format!("setting {name}"), problems)?;
    if items.is_empty() {
        let problem = Problem::new(node.place.clone(), format!("the setting {name} names no word"));
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
        } else if list.iter().any(|it| **it == *word) {
            problems.push(item.problem("is in the list twice"));
        } else {
            list.push(word.into());
        }
    }
    (problems.len() == before).then_some(list)
}

fn quantity(node: &Node, measure: Measure, problems: &mut Vec<Problem>) -> Option<Quantity> {
    let text = node.text("setting", problems)?;
    units::parse(text, measure).map_err(|refused| problems.push(refused.at(node.place.clone(), text))).ok()
}

/// What a quantity's text measures, by its unit.
fn measure_of(text: &str, difference: bool) -> Option<Measure> {
    let start = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '/' | '-' | '+' | ' '));
    let measure = match start {
        None => Measure::Of(Dim::NONE),
        Some(_) if text.trim_start().starts_with(['R', 'r']) => Measure::Of(Dim::RESISTANCE),
        Some(start) => find_unit(text[start..].trim())?.measure(),
    };
    Some(if difference && measure == Measure::Temperature { Measure::Of(Dim::DIFFERENCE) } else { measure })
}
