//! Settings of a rule set: figures an amendment may change within bounds.

use crate::diag::{Place, Problem};
use crate::expr::Slot;
use crate::input::{Fields, Key, Node};
use crate::units::{self, Dim, Measure, Quantity, Show, System, find_unit};
use std::sync::Arc;

/// A figure that rules use and amendments may change.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// `freezing/margin`.
    pub name: Arc<str>,
    /// What it is.
    pub about: Arc<str>,
    /// What it is set to.
    pub value: Quantity,
    /// Least and most it may be set to, SI.
    pub between: [f64; 2],
    /// Its slot, after those of the facts.
    pub slot: Slot,
    /// As it was written.
    pub text: Arc<str>,
    /// Where it was set last.
    pub place: Place,
    /// The amendment that changed it.
    pub changed_by: Option<Arc<str>>,
}

impl Setting {
    /// Reads `margin: { is: 4 °F, about: …, between: [0 °F, 20 °F], difference: true }`.
    pub(super) fn read(
        set: &str,
        key: &Key,
        node: &Node,
        slot: Slot,
        problems: &mut Vec<Problem>,
    ) -> Option<Self> {
        let what = format!("setting \"{}\"", key.text);
        let mut fields = Fields::of(node, &what, problems)?;
        let is = fields.need("is", problems);
        let about = fields.need("about", problems).and_then(|node| node.text("about", problems));
        let between = fields.need("between", problems).and_then(|node| node.list("between", problems));
        let difference = match fields.take("difference") {
            Some(node) => node.yes_no("the setting is a temperature difference", problems)?,
            None => false,
        };
        fields.finish(problems);
        let (is, about, between) = (is?, about?, between?);
        let text = is.text("setting", problems)?;
        let Some(measure) = measure_of(text, difference) else {
            problems.push(
                is.problem("is not a quantity with a unit that is known")
                    .expected("a quantity such as 4 °F or 1 in"),
            );
            return None;
        };
        let value = quantity(is, measure, problems)?;
        let [least, most] = between else {
            let problem =
                Problem::new(node.place.clone(), format!("the bounds of the {what} are not two figures"));
            problems.push(problem.expected("the least and the most, between: [0 °F, 20 °F]"));
            return None;
        };
        let (least, most) = (quantity(least, measure, problems)?.is, quantity(most, measure, problems)?.is);
        let setting = Self {
            name: format!("{set}/{}", key.text).into(),
            about: about.into(),
            value,
            between: [least, most],
            slot,
            text: text.into(),
            place: is.place.clone(),
            changed_by: None,
        };
        setting.within(is, problems).then_some(setting)
    }

    /// Sets it to what an amendment says, within its bounds.
    pub(super) fn change(&mut self, node: &Node, by: &Arc<str>, problems: &mut Vec<Problem>) {
        let Some(text) = node.text("setting", problems) else { return };
        let Some(value) = quantity(node, self.value.measure, problems) else { return };
        let changed = Self {
            value,
            text: text.into(),
            place: node.place.clone(),
            changed_by: Some(by.clone()),
            ..self.clone()
        };
        if changed.within(node, problems) {
            *self = changed;
        }
    }

    fn within(&self, node: &Node, problems: &mut Vec<Problem>) -> bool {
        let [least, most] = self.between;
        let inside = (least..=most).contains(&self.value.is);
        if !inside {
            let show = |si| {
                Show::usual(self.value.measure).value(&Quantity::exact(si, self.value.measure), System::Us)
            };
            let problem = node.problem(format!("is outside the bounds of the setting {}", self.name));
            problems.push(problem.expected(format!("{} to {}", show(least), show(most))));
        }
        inside
    }
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
