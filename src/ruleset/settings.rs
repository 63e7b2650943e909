//! Settings: quantities, yes or no, and lists of words that an amendment may change within bounds.

mod may_be;

pub use may_be::MayBe;
use may_be::read_bounds;
pub(super) use may_be::{measure_of, quantity};

use super::AmendedBy;
use super::error::RuleError;
use crate::diag::{Diagnostics, Location};
use crate::expr::{Names, Slot, Type, Value};
use crate::input::{Fields, Key, Kind, Node};
use crate::units::contains;
use std::sync::Arc;

/// A setting of a rule set.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    /// `freezing/margin`.
    pub name: Arc<str>,
    /// What it is.
    pub about: Arc<str>,
    /// Its value.
    pub value: Value,
    /// The values it may have.
    pub may_be: MayBe,
    /// Its slot, after those of the facts.
    pub slot: Slot,
    /// Its value as it is written.
    pub text: Arc<str>,
    /// Where it was last set.
    pub location: Location,
    /// The amendment that narrowed its bounds.
    pub bounds_by: Option<AmendedBy>,
    /// Its changes by amendments, in their order.
    pub changes: Vec<SettingChange>,
}

/// A change of a setting; the last one is in force.
#[derive(Clone, Debug, PartialEq)]
pub struct SettingChange {
    /// The value before, as it was written.
    pub was: Arc<str>,
    /// The value after.
    pub is: Arc<str>,
    /// By which amendment.
    pub by: AmendedBy,
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
        errors: &mut Diagnostics,
    ) -> Option<Self> {
        let name: Arc<str> = format!("{set}/{}", key.text).into();
        let mut fields = Fields::of(node, &format!("setting \"{}\"", key.text), errors)?;
        let is = fields.required("is", errors);
        let about = fields.required_text("about", errors);
        let may_be = is.and_then(|is| MayBe::read(is, &name, &mut fields, facts, errors));
        fields.finish(errors);
        let (is, about, may_be) = (is?, about?.into(), may_be?);
        let (value, text) = may_be.value(is, &name, errors)?;
        let location = is.location.clone();
        let setting =
            Self { name, about, value, may_be, slot, text, location, bounds_by: None, changes: Vec::new() };
        setting.check_bounds(is, errors).then_some(setting)
    }

    /// Sets it as an amendment says, `6 °F` or `{ is: 6 °F, between: [6 °F, 20 °F] }`, within its bounds. Bounds only get
    /// narrower.
    pub(super) fn change(&mut self, node: &Node, by: &AmendedBy, errors: &mut Diagnostics) {
        let before = errors.len();
        let mut changed = self.clone();
        let mut is = Some(node);
        if matches!(node.kind, Kind::Map(_)) {
            let Some(mut fields) = Fields::of(node, &format!("setting \"{}\"", self.name), errors) else {
                return;
            };
            is = fields.optional("is");
            let between = fields.optional("between");
            fields.finish(errors);
            if is.is_none() && between.is_none() && errors.len() == before {
                errors.push(RuleError::SettingUnchanged(&self.name).at(node));
            }
            if let Some(between) = between {
                changed.narrow(between, by, errors);
            }
        }
        if let Some(is) = is {
            let Some((value, text)) = self.may_be.value(is, &self.name, errors) else { return };
            let (was, by) = (self.text.clone(), by.at(&is.location));
            changed.changes.push(SettingChange { was, is: text.clone(), by });
            changed = Self { value, text, location: is.location.clone(), ..changed };
            changed.check_bounds(is, errors);
        } else if errors.len() == before && !changed.may_be.allows(&changed.value) {
            errors.push(RuleError::ValueOutOfNewBounds(&self.name, &self.text).at(node));
        }
        if errors.len() == before {
            *self = changed;
        }
    }

    fn narrow(&mut self, node: &Node, by: &AmendedBy, errors: &mut Diagnostics) {
        let MayBe::Quantity(measure, old) = self.may_be else {
            return errors.push(RuleError::NoBounds(&self.name).at_location(&node.location));
        };
        let Some(ends) = node.list("between", errors) else { return };
        let Some([least, most]) = read_bounds(ends, node, &self.name, measure, errors) else { return };
        if least > most {
            errors.push(RuleError::ReversedBounds(&self.name).at(node));
        } else if !(contains(old, least) && contains(old, most)) {
            errors.push(RuleError::WiderBounds(&self.name, self.bounds()).at(node));
        } else {
            self.may_be = MayBe::Quantity(measure, [least, most]);
            self.bounds_by = Some(by.at(&node.location));
        }
    }

    fn check_bounds(&self, node: &Node, errors: &mut Diagnostics) -> bool {
        let is_allowed = self.may_be.allows(&self.value);
        if !is_allowed {
            errors.push(RuleError::OutOfBounds(&self.name, self.bounds()).at(node));
        }
        is_allowed
    }

    /// Its type in an expression.
    pub fn ty(&self) -> Type {
        match &self.may_be {
            MayBe::Quantity(measure, _) => Type::Quantity(*measure),
            MayBe::YesNo => Type::YesNo,
            MayBe::Words(_, words) => Type::List(*words),
        }
    }

    /// `0 °F to 20 °F`, and the amendment that set that.
    pub fn bounds(&self) -> String {
        let bounds = self.may_be.bounds();
        match &self.bounds_by {
            Some(by) => format!("{bounds}, the bounds set by {} ({})", by.name, by.location),
            None => bounds,
        }
    }
}
