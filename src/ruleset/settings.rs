//! Settings of a rule set: figures, yes or no, and lists of words that an amendment may change within bounds.

mod may_be;

pub use may_be::MayBe;
use may_be::{lies_within, may_be};
pub(super) use may_be::{measure_of, quantity};

use super::Amended;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::expr::{Names, Slot, Type, Value};
use crate::input::{Fields, Key, Kind, Node};
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
    pub place: Location,
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
        problems: &mut Diagnostics,
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
        let (bounds_by, changes) = (None, Vec::new());
        let setting = Self { name, about, value, may_be, slot, text, place, bounds_by, changes };
        setting.within(is, problems).then_some(setting)
    }

    /// Sets it to what an amendment says, `6 °F` or `{ is: 6 °F, between: [6 °F, 20 °F] }`, within its bounds. Bounds
    /// only get narrower.
    pub(super) fn change(&mut self, node: &Node, by: &Amended, problems: &mut Diagnostics) {
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
                    Diagnostic::new(node.place.clone(), format!("the {what} is changed in nothing"))
                        .expected("is, between, or both"),
                );
            }
            changed.narrow(between, by, problems);
        }
        if let Some(is) = is {
            let Some((value, text)) = self.may_be.value(is, &self.name, problems) else { return };
            let (was, by) = (self.text.clone(), by.at(&is.place));
            changed.changes.push(SettingChange { was, is: text.clone(), by });
            changed = Self { value, text, place: is.place.clone(), ..changed };
            if !changed.within(is, problems) {
                return;
            }
        } else if problems.len() == before && !changed.may_be.allows(&changed.value) {
            let problem =
                node.problem(format!("leaves the setting {}, {}, outside its bounds", self.name, self.text));
            problems.push(problem.expected("`is:` with a value within them"));
        }
        if problems.len() == before {
            *self = changed;
        }
    }

    fn narrow(&mut self, between: Option<&Node>, by: &Amended, problems: &mut Diagnostics) {
        let Some(node) = between else { return };
        let MayBe::Quantity(measure, bounds) = self.may_be else {
            let what = format!("the setting {} is no quantity, and has no bounds", self.name);
            problems.push(Diagnostic::new(node.place.clone(), what).expected("`is:` alone"));
            return;
        };
        let Some(ends) = node.list("between", problems) else { return };
        let [least, most] = ends else {
            let problem =
                node.problem(format!("the bounds of the setting {} are not two figures", self.name));
            problems.push(problem.expected("the least and the most, between: [6 °F, 20 °F]"));
            return;
        };
        let (Some(least), Some(most)) =
            (quantity(least, measure, problems), quantity(most, measure, problems))
        else {
            return;
        };
        if least.is > most.is {
            problems
                .push(node.problem(format!("between of the setting {} runs from high to low", self.name)));
        } else if !(lies_within(bounds, least.is) && lies_within(bounds, most.is)) {
            let what = format!("the bounds of the setting {} may only get narrower", self.name);
            problems.push(Diagnostic::new(node.place.clone(), what).expected(self.bounds()));
        } else {
            self.may_be = MayBe::Quantity(measure, [least.is, most.is]);
            self.bounds_by = Some(by.at(&node.place));
        }
    }

    fn within(&self, node: &Node, problems: &mut Diagnostics) -> bool {
        let inside = self.may_be.allows(&self.value);
        if !inside {
            let problem = node.problem(format!("is outside the bounds of the setting {}", self.name));
            problems.push(problem.expected(self.bounds()));
        }
        inside
    }

    /// Its type in an expression.
    pub fn ty(&self) -> Type {
        match &self.may_be {
            MayBe::Quantity(measure, _) => Type::Quantity(*measure),
            MayBe::YesNo => Type::YesNo,
            MayBe::Words(_, words) => Type::List(*words),
        }
    }

    /// `0 °F to 20 °F`, and who has set that where an amendment has.
    pub fn bounds(&self) -> String {
        let by = self.bounds_by.as_ref();
        let by =
            by.map_or_else(String::new, |it| format!(", the bounds that {} has set ({})", it.by, it.place));
        format!("{}{by}", self.may_be.bounds())
    }
}
