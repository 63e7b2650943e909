//! Finds rules that a missing fact can leave unresolved and that have no case for it.

use super::{Outcome, Rule, Rules};
use crate::diag::Location;
use crate::expr::{Gap, Names, Slot, Type, Value, Values};
use crate::truth::Truth;
use crate::units::{Measure, Quantity};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Most combinations tried. A rule with more is assumed to be resolved.
const MOST: usize = 20_000;
/// Beyond any limit in a rule, SI, on either side.
const FAR: f64 = 1e9;

/// Whether a rule is unresolved for an outlet with only these facts.
pub type IsOpen<'f> = &'f dyn Fn(&Rule, &[(Slot, Value)]) -> bool;

/// A rule that can be unresolved and has no case for it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NoOpenCase {
    /// The rule.
    pub rule: Arc<str>,
    /// Its location.
    pub location: Location,
    /// Names of the facts without which it is unresolved.
    pub without: Vec<Arc<str>>,
}

impl Rules {
    /// Rules that a missing fact can leave unresolved and that have no case that gives *clarify*. A general note is given
    /// wherever it may apply and is never unresolved. `is_open` tries a rule on an outlet with some facts: facts that follow
    /// from those are not missing.
    pub fn without_open_case(&self, facts: &dyn Names, is_open: IsOpen<'_>) -> Vec<NoOpenCase> {
        let mut lacking = Vec::new();
        let mut types: BTreeMap<Slot, (String, Type)> = BTreeMap::new();
        for rule in &self.rules {
            let is_note = rule.once && rule.outcome == Outcome::Advise;
            if is_note || rule.cases.iter().any(|case| case.gives == Outcome::Clarify) {
                continue;
            }
            if types.is_empty() {
                let named = facts.all().into_iter().filter_map(|name| facts.find(&name).map(|it| (name, it)));
                types = named.map(|(name, (slot, ty))| (slot, (name, ty))).collect();
            }
            if let Some(gap) = self.open(rule, &types, is_open) {
                let name = |slot: &Slot| {
                    let fact = types.get(slot).map(|(name, _)| name.as_str().into());
                    fact.or_else(|| self.called(*slot).map(|(name, _)| name.clone()))
                };
                let without = gap.slots().iter().filter_map(name).collect();
                lacking.push(NoOpenCase { rule: rule.id.clone(), location: rule.location.clone(), without });
            }
        }
        lacking
    }

    /// What leaves a rule unresolved for some combination of stated and missing facts.
    fn open(&self, rule: &Rule, types: &BTreeMap<Slot, (String, Type)>, is_open: IsOpen<'_>) -> Option<Gap> {
        let programs = || rule.applies.iter().chain([&rule.needs]);
        let slots: Vec<Slot> = programs()
            .flat_map(|it| it.slots())
            .collect::<std::collections::BTreeSet<_>>()
            .into_iter()
            .collect();
        let texts: Vec<&str> = programs().map(|it| it.text()).collect();
        let samples: Vec<Vec<Option<Value>>> =
            slots.iter().map(|slot| self.samples(*slot, types.get(slot).map(|(_, ty)| ty), &texts)).collect();
        let all: usize = samples.iter().map(Vec::len).product();
        (0..all.min(MOST)).find_map(|number| {
            let mut given = Given(BTreeMap::new());
            let mut rest = number;
            for (slot, samples) in slots.iter().zip(&samples) {
                given.0.insert(*slot, samples[rest % samples.len()].clone());
                rest /= samples.len();
            }
            let applies = rule.applies.as_ref().map_or(Truth::True, |it| it.truth(&given));
            match (applies == Truth::False, applies.implies(rule.needs.truth(&given))) {
                (false, Truth::Unknown(gap)) if is_open(rule, &given.stated()) => Some(gap),
                _ => None,
            }
        })
    }

    /// Samples of a name: missing, and values that decide a comparison either way.
    fn samples(&self, slot: Slot, ty: Option<&Type>, texts: &[&str]) -> Vec<Option<Value>> {
        if let Some(setting) = self.setting(slot) {
            return vec![Some(setting.value.clone())];
        }
        let far =
            |measure: Measure| [-FAR, FAR].map(|it| Some(Value::Quantity(Quantity::exact(it, measure))));
        let mut samples = vec![None];
        if let Some(table) = self.table(slot) {
            samples.extend(far(table.measure));
        }
        match ty {
            Some(Type::Quantity(measure)) => samples.extend(far(*measure)),
            Some(Type::YesNo) => samples.extend([true, false].map(|it| Some(Value::YesNo(it)))),
            Some(Type::OneOf(words)) => {
                let named = |word: &&str| texts.iter().any(|text| text.contains(&format!("\"{word}\"")));
                let other = words.iter().find(|word| !named(word));
                let words = words.iter().filter(|word| named(word)).chain(other);
                samples.extend(words.map(|word| Some(Value::Text((*word).into()))));
            }
            Some(Type::Text) => samples.push(Some(Value::Text("a text".into()))),
            _ => {}
        }
        samples
    }
}

/// Facts of a case; `None` if missing.
struct Given(BTreeMap<Slot, Option<Value>>);

impl Given {
    fn stated(&self) -> Vec<(Slot, Value)> {
        self.0.iter().filter_map(|(slot, value)| Some((*slot, value.clone()?))).collect()
    }
}

impl Values for Given {
    fn get(&self, slot: Slot) -> Result<&Value, Gap> {
        self.0.get(&slot).and_then(Option::as_ref).ok_or_else(|| Gap::missing(slot))
    }

    fn is_stated(&self, slot: Slot) -> bool {
        self.0.get(&slot).is_some_and(Option::is_some)
    }
}
