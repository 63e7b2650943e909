//! The design low: which figure of the climate it is, or the authority's.

use super::{Authority, Stated};
use crate::climate::{CHOICES, Climate, DesignBy};
use crate::diag::{Place, Problem};
use crate::input::Node;
use std::sync::Arc;

/// The outdoor temperature an outlet of a job must survive.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// Which figure it is.
    pub by: DesignBy,
    /// The figure, K; `None` where nothing is known of the climate.
    pub low: Option<f64>,
    /// Where it is stated, where it is a figure of the job rather than of the climate.
    pub stated: Option<Stated>,
}

impl Design {
    /// Of a climate of which nothing is known.
    pub(super) fn unknown(climate: &Climate) -> Self {
        Self { by: climate.usual_design(), low: None, stated: None }
    }
}

/// What was chosen, and where.
pub(super) enum Chosen {
    Nothing,
    Wrong,
    By(DesignBy, Arc<str>, Place),
}

/// The choice of the command line, else of the job.
pub(super) fn chosen(command_line: Option<&str>, job: Option<&Node>, problems: &mut Vec<Problem>) -> Chosen {
    let (text, place) = match (command_line, job) {
        (Some(text), _) => (text, Place::whole("--design-low")),
        (None, Some(node)) => match node.text("design_low", problems) {
            Some(text) => (text, node.place.clone()),
            None => return Chosen::Wrong,
        },
        (None, None) => return Chosen::Nothing,
    };
    match DesignBy::read(text) {
        Some(by) => Chosen::By(by, text.into(), place),
        None => {
            problems.push(Problem::new(place, "is no design low").text(text).expected(CHOICES));
            Chosen::Wrong
        }
    }
}

/// The figure that was chosen, or the climate's usual one. A figure that there is not is a problem, never another figure.
pub(super) fn resolve(
    chosen: Chosen,
    climate: &Climate,
    authority: &Authority,
    problems: &mut Vec<Problem>,
) -> Option<Design> {
    let (by, place, stated) = match chosen {
        Chosen::Wrong => return None,
        Chosen::Nothing => (climate.usual_design(), climate.at.clone(), None),
        Chosen::By(by @ DesignBy::Stated(value), text, place) => {
            (by, place.clone(), Some(Stated { value, text, place }))
        }
        Chosen::By(DesignBy::Authority, _, place) => {
            (DesignBy::Authority, place, authority.winter_temperature.clone())
        }
        Chosen::By(by, _, place) => (by, place, None),
    };
    let low = stated.as_ref().map(|it| it.value).or_else(|| climate.low_by(by));
    if low.is_none() {
        let problem = if by == DesignBy::Authority {
            Problem::new(place, "the authority's winter temperature is not stated")
                .expected("`authority: { winter_temperature: -11 °F }` in the job")
        } else {
            let figure =
                if by == DesignBy::ColdestRecorded { "coldest hour on record".into() } else { by.words() };
            let what = format!("{} has no {figure} to go by", climate.name);
            Problem::new(place, what).expected(offered(climate))
        };
        problems.push(problem);
    }
    low.map(|low| Design { by, low: Some(low), stated })
}

/// What a climate has to choose from.
fn offered(climate: &Climate) -> String {
    let all = [DesignBy::Years(20.0), DesignBy::Heating996, DesignBy::Heating99, DesignBy::ColdestRecorded];
    let has = all.into_iter().filter(|by| climate.low_by(*by).is_some()).map(DesignBy::words);
    let has: Vec<String> = has.map(|it| it.trim_end_matches(" value").to_owned()).collect();
    format!("`design_low:` in the job, or --design-low: {}, or a temperature", has.join(", "))
}
