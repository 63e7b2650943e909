//! A job with rules only, in which their cases are tried: no outlets, and a climate without figures.

use super::walls::with_built_in;
use super::{Authority, Code, Design, Job, StatedSpell};
use crate::climate::Climate;
use crate::ruleset::Rules;
use crate::schedule::Schedule;
use std::collections::BTreeMap;
use std::sync::Arc;

impl Job {
    /// A job with rules, and what amendments state of the authority and the code.
    pub(super) fn of_rules(rules: Rules, code: Option<Code>, authority: Authority) -> Self {
        let climate = Climate::unknown();
        Self {
            name: None,
            file: None,
            design: Design::unknown(&climate),
            climate: Arc::new(climate),
            climate_overridden: None,
            code,
            authority,
            exposure: None,
            soil: None,
            county: None,
            products: None,
            costs: BTreeMap::new(),
            spaces: BTreeMap::new(),
            spell: StatedSpell::default(),
            walls: with_built_in(Vec::new()),
            defaults: Vec::new(),
            revise_on: Vec::new(),
            revise_on_set_by: None,
            schedule: Schedule::default(),
            answers: Vec::new(),
            rules,
        }
    }

    /// The rules of this job without the job: of the authority, only what amendments state.
    pub fn rules_alone(&self) -> Self {
        let mut authority = self.authority.clone();
        let Authority { winter_temperature, frost_depth, freezing_index, outlet_height } = &mut authority;
        for figure in [winter_temperature, frost_depth, freezing_index, outlet_height] {
            figure.take_if(|it| self.file.as_ref() == Some(&it.location.file));
        }
        Self::of_rules(self.rules.clone(), self.code.clone(), authority)
    }
}
