//! Settings of a rule set: figures an amendment may change within bounds.

use super::Amended;
use crate::diag::{Place, Problem};
use crate::expr::Slot;
use crate::input::{Fields, Key, Kind, Node};
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
    /// The amendment that set its bounds, where it is not the set itself.
    pub bounds_by: Option<Amended>,
    /// What amendments have set it to, in their order.
    pub changes: Vec<SettingChange>,
}

/// A change of a setting; the last one is in force.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingChange {
    /// What it was before, as it was written.
    pub was: Arc<str>,
    /// What it became.
    pub is: Arc<str>,
    /// By whom.
    pub by: Amended,
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
            problems
                .push(Problem::new(node.place.clone(), format!("between of {what} is not two quantities")));
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
            bounds_by: None,
            changes: Vec::new(),
        };
        setting.within(is, problems).then_some(setting)
    }

    /// Sets it to what an amendment says, `6 °F` or `{ is: 6 °F, between: [6 °F, 20 °F] }`, within its bounds. Bounds
    /// only get narrower.
    pub(super) fn change(&mut self, node: &Node, by: &Amended, problems: &mut Vec<Problem>) {
        let before = problems.len();
        let mut changed = self.clone();
        let mut is = Some(node);
        let what = format!("setting \"{}\"", self.name);
        if matches!(node.kind, Kind::Map(_)) {
            let Some(mut fields) = Fields::of(node, &what, problems) else { return };
            is = fields.take("is");
            let between = fields.take("between");
            fields.finish(problems);
            if is.is_none() && between.is_none() && problems.len() == before {
                problems.push(
                    Problem::new(node.place.clone(), format!("the {what} is changed in nothing"))
                        .expected("is, between, or both"),
                );
            }
            changed.narrow(between, by, problems);
        }
        if let Some(is) = is {
            let (Some(text), Some(value)) =
                (is.text("setting", problems), quantity(is, self.value.measure, problems))
            else {
                return;
            };
            let (was, by) = (self.text.clone(), by.at(&is.place));
            changed.changes.push(SettingChange { was, is: text.into(), by });
            changed = Self { value, text: text.into(), place: is.place.clone(), ..changed };
            if !changed.within(is, problems) {
                return;
            }
        } else if problems.len() == before && !changed.allows(changed.value.is) {
            let problem =
                node.problem(format!("leaves the setting {}, {}, outside its bounds", self.name, self.text));
            problems.push(problem.expected("`is:` with a value within them"));
        }
        if problems.len() == before {
            *self = changed;
        }
    }

    fn narrow(&mut self, between: Option<&Node>, by: &Amended, problems: &mut Vec<Problem>) {
        let Some(node) = between else { return };
        let Some(ends) = node.list("between", problems) else { return };
        let [least, most] = ends else {
            let what = format!("between of the setting {} is not two quantities", self.name);
            problems.push(Problem::new(node.place.clone(), what));
            return;
        };
        let measure = self.value.measure;
        let (Some(least), Some(most)) =
            (quantity(least, measure, problems), quantity(most, measure, problems))
        else {
            return;
        };
        if least.is > most.is {
            problems
                .push(node.problem(format!("between of the setting {} runs from high to low", self.name)));
        } else if !(self.allows(least.is) && self.allows(most.is)) {
            let what = format!("the bounds of the setting {} may only get narrower", self.name);
            problems.push(Problem::new(node.place.clone(), what).expected(self.bounds()));
        } else {
            self.between = [least.is, most.is];
            self.bounds_by = Some(by.at(&node.place));
        }
    }

    /// Whether a value lies within its bounds; rounding of units does not count.
    fn allows(&self, si: f64) -> bool {
        let [least, most] = self.between;
        let noise = 1e-9 * least.abs().max(most.abs());
        (least - noise..=most + noise).contains(&si)
    }

    fn within(&self, node: &Node, problems: &mut Vec<Problem>) -> bool {
        let inside = self.allows(self.value.is);
        if !inside {
            let problem = node.problem(format!("is outside the bounds of the setting {}", self.name));
            problems.push(problem.expected(self.bounds()));
        }
        inside
    }

    /// `0 °F to 20 °F`, and who has set that where an amendment has.
    pub fn bounds(&self) -> String {
        let show = |si| {
            let quantity = Quantity::exact(si, self.value.measure);
            Show::usual(self.value.measure).value(&quantity, System::Us)
        };
        let [least, most] = self.between.map(show);
        let by = self.bounds_by.as_ref();
        let by =
            by.map_or_else(String::new, |it| format!(", the bounds that {} has set ({})", it.by, it.place));
        format!("{least} to {most}{by}")
    }
}

pub(super) fn quantity(node: &Node, measure: Measure, problems: &mut Vec<Problem>) -> Option<Quantity> {
    let text = node.text("setting", problems)?;
    units::parse(text, measure).map_err(|refused| problems.push(refused.at(node.place.clone(), text))).ok()
}

/// What a quantity's text measures, by its unit.
pub(super) fn measure_of(text: &str, difference: bool) -> Option<Measure> {
    let start = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | '/' | '-' | '+' | ' '));
    let measure = match start {
        None => Measure::Of(Dim::NONE),
        Some(_) if text.trim_start().starts_with(['R', 'r']) => Measure::Of(Dim::RESISTANCE),
        Some(start) => find_unit(text[start..].trim())?.measure(),
    };
    Some(if difference && measure == Measure::Temperature { Measure::Of(Dim::DIFFERENCE) } else { measure })
}
