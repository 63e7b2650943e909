//! A job in another climate: what one file of a region states, at each of its places.

use super::Job;
use super::design::{Chosen, resolve};
use crate::climate::{Climate, DesignBy};
use crate::diag::{Diagnostics, Location};
use std::sync::Arc;

impl Job {
    /// The same job in another climate, with a choice of design low in place of its own. What the job states of its own
    /// place alone holds only there.
    pub fn elsewhere(
        &self,
        climate: &Arc<Climate>,
        design_low: Option<(DesignBy, &str, &Location)>,
    ) -> Result<Self, Diagnostics> {
        let mut job = self.clone();
        let is_same = !climate.id.is_empty() && climate.id == self.climate.id;
        job.climate = climate.clone();
        if !is_same {
            let authority = &mut job.authority;
            (authority.winter_temperature, authority.frost_depth, authority.freezing_index) =
                (None, None, None);
            job.spell.start = None;
        }
        let chosen = match (design_low, self.design.by) {
            (Some((by, text, location)), _) => Chosen::By(by, text.into(), location.clone()),
            (None, DesignBy::Stated(_) | DesignBy::Authority) if is_same => return Ok(job),
            (None, DesignBy::Stated(_) | DesignBy::Authority) => Chosen::Nothing,
            (None, by) if by == self.climate.usual_design() => Chosen::Nothing,
            (None, by) => Chosen::By(by, by.words().into(), climate.location.clone()),
        };
        let mut problems = Diagnostics::new();
        let design = resolve(chosen, climate, &job.authority, &mut problems);
        design.map(|design| Self { design, ..job }).ok_or(problems)
    }
}
