//! The design low: which figure of the climate it is, or the authority's.

use super::{Authority, JobFigure, StatedSpell};
use crate::climate::{CHOICES, Climate, DesignBy, Whose};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::Node;
use crate::units::{System, temperature_text};
use std::sync::Arc;

/// The option of the command line.
const OPTION: &str = "--design-low";
/// An authority's winter temperature further than this below the 20-year low, 30 °F, is of another town of the name: codes take
/// figures of many hours of a year, which are milder than that low.
const FAR_COLDER: f64 = 30.0 / 1.8;
/// Lows that differ by less are one low in two units, K.
const SAME: f64 = 0.3;
/// Where lows reach 0 °F the ground freezes, and authorities state how deep, K. On the Gulf coast, at 15 to 25 °F, some
/// state none.
const FROST: f64 = 255.37;

/// The outdoor temperature an outlet of a job must survive.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    /// Which figure it is.
    pub by: DesignBy,
    /// The figure, K; `None` if nothing is known of the climate.
    pub low: Option<f64>,
    /// The figure as stated, if the job states it and not the climate.
    pub stated: Option<JobFigure>,
}

impl Design {
    /// What it is, to stand behind the figure: "20-year low", "stated in the job".
    pub fn words(&self) -> String {
        match (self.by, &self.stated) {
            (DesignBy::Stated(_), Some(it)) if &*it.location.file == OPTION => {
                "stated on the command line".into()
            }
            (DesignBy::Stated(_), Some(_)) => "stated in the job".into(),
            (DesignBy::Stated(_), None) => "stated in the climate".into(),
            (by, _) => by.words(),
        }
    }

    /// Of a climate of which nothing is known.
    pub(super) fn unknown(climate: &Climate) -> Self {
        Self { by: climate.usual_design(), low: None, stated: None }
    }
}

/// What was chosen, and where.
pub(super) enum Chosen {
    Nothing,
    Wrong,
    By(DesignBy, Arc<str>, Location),
}

/// The choice of the command line, else of the job.
pub(super) fn chosen(command_line: Option<&str>, job: Option<&Node>, problems: &mut Diagnostics) -> Chosen {
    let (text, location) = match (command_line, job) {
        (Some(text), _) => (text, Location::whole(OPTION)),
        (None, Some(node)) => match node.text("design_low", problems) {
            Some(text) => (text, node.location.clone()),
            None => return Chosen::Wrong,
        },
        (None, None) => return Chosen::Nothing,
    };
    match DesignBy::parse(text) {
        Some(by) => Chosen::By(by, text.into(), location),
        None => {
            problems.push(Diagnostic::new(location, "is not a design low").text(text).expected(CHOICES));
            Chosen::Wrong
        }
    }
}

/// The figure that was chosen, or the climate's usual one. A figure that there is not is a problem, never another figure.
pub(super) fn resolve(
    chosen: Chosen,
    climate: &Climate,
    authority: &Authority,
    problems: &mut Diagnostics,
) -> Option<Design> {
    if let Some(figure) = &authority.winter_temperature
        && let Some(what) = not_of_there(climate, figure.value)
    {
        let problem = Diagnostic::new(figure.location.clone(), what).text(&*figure.text);
        problems.push(
            problem.expected(
                "a temperature that winters there reach: is a minus missing, or another town meant?",
            ),
        );
        return None;
    }
    let (by, location, stated) = match chosen {
        Chosen::Wrong => return None,
        Chosen::Nothing => (climate.usual_design(), climate.location.clone(), None),
        Chosen::By(by @ DesignBy::Stated(value), text, location) => {
            (by, location.clone(), Some(JobFigure { value, text, location }))
        }
        Chosen::By(DesignBy::Authority, _, location) => {
            (DesignBy::Authority, location, authority.winter_temperature.clone())
        }
        Chosen::By(by, _, location) => (by, location, None),
    };
    // A climate described in the job and the job itself: neither goes before the other. The command line does.
    if let (DesignBy::Stated(low), Some(own)) =
        (by, climate.stated_low.filter(|_| climate.whose == Whose::Job))
        && let Some(figure) = stated.as_ref().filter(|it| &*it.location.file != OPTION)
        && (low - own).abs() > SAME
    {
        let what = format!("is another design low than the {} of the climate the job describes", text(own));
        problems.push(Diagnostic::new(location, what).text(&*figure.text).expected("one of the two"));
        return None;
    }
    let low = stated.as_ref().map(|it| it.value).or_else(|| climate.low_by(by));
    let Some(low) = low else {
        let problem = if by == DesignBy::Authority {
            Diagnostic::new(location, "the authority's winter temperature is not stated")
                .expected("`authority: { winter_temperature: -11 °F }` in the job")
        } else {
            let figure =
                if by == DesignBy::ColdestRecorded { "coldest hour on record".into() } else { by.words() };
            let what = format!("{} has no {figure}", climate.name);
            Diagnostic::new(location, what).expected(offered(climate))
        };
        problems.push(problem);
        return None;
    };
    // The climate's own is checked where it is read.
    if let (DesignBy::Stated(_), Some(figure)) = (by, &stated)
        && let Some(problem) = climate.too_warm(low, &location)
    {
        problems.push(problem.text(&*figure.text));
        return None;
    }
    if let Some(figure) = &authority.winter_temperature
        && figure.value < low - FAR_COLDER
    {
        let what = format!("is far colder than the design low of {}", text(low));
        let problem = Diagnostic::new(figure.location.clone(), what).text(&*figure.text);
        problems.push(problem.expected("figures of one place: is a minus missing in the design low?"));
        return None;
    }
    if let Some(figure) = authority.frost_depth.as_ref().filter(|it| it.value == 0.0 && low < FROST) {
        let what = format!("is no frost depth where the design low is {}", text(low));
        let problem = Diagnostic::new(figure.location.clone(), what).text(&*figure.text);
        problems.push(problem.expected("the authority's figure, such as 42 in"));
        return None;
    }
    Some(Design { by, low: Some(low), stated })
}

/// A spell that starts below the design low, to which it falls, is a slip.
pub(super) fn starts_below(spell: &StatedSpell, design: &Design) -> Option<Diagnostic> {
    let (start, low) = (spell.start.as_ref()?, design.low?);
    let below = start.value < low;
    below.then(|| {
        let what = format!("is colder than the design low of {}, to which the spell falls", text(low));
        let problem = Diagnostic::new(start.location.clone(), what).text(&*start.text);
        problem.expected("the temperature before the spell, such as the mean of the coldest month")
    })
}

fn text(kelvin: f64) -> String {
    temperature_text(kelvin, System::Us)
}

/// A winter temperature of an authority may be of a milder value than the 99 % one, as older codes have it; far above it, or far below the 20-year low, it is a slip.
fn not_of_there(climate: &Climate, stated: f64) -> Option<String> {
    /// 15 °F: between the 97.5 % and the 99 % value of the coldest stations lie about 6 °F (from memory).
    const MILDER: f64 = 15.0 / 1.8;
    if let Some(low) = climate.low_by(DesignBy::Years(20.0)).filter(|low| stated < low - FAR_COLDER) {
        let name = climate.name_and_state();
        return Some(format!("is no winter design temperature of {name}: its 20-year low is {}", text(low)));
    }
    let usual = climate.heating_990.or(climate.heating_996)?;
    (stated > usual + MILDER).then(|| {
        format!("is no winter design temperature of {}: every winter reaches {}", climate.name, text(usual))
    })
}

/// What a climate has to choose from.
fn offered(climate: &Climate) -> String {
    let all = [DesignBy::Years(20.0), DesignBy::Heating996, DesignBy::Heating99, DesignBy::ColdestRecorded];
    let has = all.into_iter().filter(|by| climate.low_by(*by).is_some()).map(DesignBy::words);
    let has: Vec<String> = has.map(|it| it.trim_end_matches(" value").to_owned()).collect();
    let milder = if has.iter().any(|it| it.starts_with("99")) {
        " (99 % and 99.6 % are milder than a 20-year low)"
    } else {
        ""
    };
    format!("`design_low:` in the job, or --design-low: {}, or a temperature{milder}", has.join(", "))
}
