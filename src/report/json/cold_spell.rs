//! A cold spell for other programs.

use super::super::cold_spell::spell_in_words;
use super::super::{REMINDER, crew};
use super::climate::ClimateJson;
use super::course::{CourseResultJson, HourJson};
use super::facts::{FactsJson, facts};
use super::values::{
    DiagnosticJson, DifferenceJson, LocationJson, Number, TemperatureJson, TimeJson, UnusedJson, all,
    difference, low_temperature, temperature, time,
};
use super::{PROGRAM, to_text};
use crate::facts::{HeatOut, State};
use crate::review::{ColdSpell, InSpell};
use crate::spell::{Spell, SpellKind};
use crate::units::{Quantity, System};
use schemars::JsonSchema;
use serde::{Serialize, Serializer};
use std::sync::Arc;

/// Version of the format.
const FORMAT: u32 = 3;

/// Outdoor water outlets in a cold spell, as `coldsill cold-spell --format json` writes it: those that ice blocks
/// first come
/// first, those that cannot be followed last. Values are in SI units, temperatures in kelvin, rounded to seven
/// significant
/// digits; `text` beside a value is the same value in the reader's units. Unknown values are null, with the reason,
/// never 0 or
/// false. New keys raise `format`.
#[derive(Serialize, JsonSchema)]
#[schemars(title = "Coldsill cold spell, format 3")]
pub(super) struct ColdSpellJson<'r> {
    /// Version of the program.
    coldsill: &'static str,
    /// Version of this format.
    #[schemars(extend("const" = FORMAT))]
    format: u32,
    /// The cautions of every report: it screens and certifies nothing; the adopted code and the authority govern.
    /// Show it
    /// wherever the outlets are shown.
    reminder: &'static str,
    /// Name of the job; null for a bare schedule or a job without a name.
    job: Option<&'r str>,
    /// The schedule's file, as the user named it.
    schedule: &'r str,
    climate: ClimateJson<'r>,
    spell: SpellJson<'r>,
    /// Facts the spell is made of, by name; empty for a file.
    figures: FactsJson<'r>,
    /// The state of the outlets: as it stands, hose on, uncovered or power cut.
    state: &'static str,
    /// The loss of heat; null without one.
    heat_out: Option<HeatOutJson>,
    /// The mark that was asked for; null for all.
    mark: Option<&'r str>,
    #[schemars(with = "Vec<OutletJson<'r>>")]
    outlets: OutletsJson<'r>,
    /// Who goes where by when.
    crew: CrewJson,
    /// What of the schedule is not used, and why.
    unused: Vec<UnusedJson<'r>>,
    /// Cells and columns with an error.
    problems: Vec<DiagnosticJson<'r>>,
}

/// The crew list: every place with something to do, the soonest deadline first.
#[derive(Serialize, JsonSchema)]
struct CrewJson {
    /// When hoses are off: the first frost; null if it never freezes outdoors.
    hoses_off: Option<TimeJson>,
    lines: Vec<CrewLineJson>,
}

#[derive(Serialize, JsonSchema)]
struct CrewLineJson {
    /// The soonest that ice may form in an outlet there, from the start of the spell; 0 if that cannot be computed.
    by: TimeJson,
    /// The same on the clock of the spell, rounded down to 10 minutes.
    deadline: String,
    #[serde(rename = "where")]
    place: String,
    #[schemars(length(min = 1))]
    work: Vec<CrewWorkJson>,
}

#[derive(Serialize, JsonSchema)]
struct CrewWorkJson {
    #[serde(rename = "do")]
    step: &'static str,
    #[schemars(length(min = 1))]
    marks: Vec<Arc<str>>,
    /// How many outlets in all; null where a row does not state it.
    #[schemars(range(min = 0))]
    quantity: Option<Number>,
}

#[derive(Serialize, JsonSchema)]
struct HeatOutJson {
    /// When it starts, from the start of the spell.
    from: TimeJson,
    /// How long it lasts.
    time: TimeJson,
}

#[derive(Serialize, JsonSchema)]
struct SpellJson<'r> {
    text: String,
    /// From its start; the return to the weather before it comes after.
    length: TimeJson,
    /// The lowest outdoor temperature in it.
    coldest: TemperatureJson,
    /// The outdoor temperature before it, to which everything has settled.
    start: TemperatureJson,
    #[serde(flatten)]
    source: SpellSourceJson<'r>,
}

#[derive(Serialize, JsonSchema)]
#[serde(tag = "kind", rename_all = "lowercase")]
enum SpellSourceJson<'r> {
    /// The job's design spell: a fall over a day from midnight, days with one low, a rise over a day.
    Design {
        low: TemperatureJson,
        swing: DifferenceJson,
        #[schemars(range(min = 1, max = 30))]
        days: u32,
    },
    /// Typed stretches, each beginning with a step.
    Typed {
        #[schemars(length(min = 1))]
        stretches: Vec<StretchJson>,
    },
    /// Rows of a file.
    Series {
        file: &'r str,
        /// Time of the first row used, as written there.
        from: &'r str,
        /// Time of the last row used, as written there.
        to: &'r str,
        #[schemars(range(min = 2))]
        rows: usize,
        /// How much of it leads in to the coldest days; null if all of the file is used.
        lead: Option<TimeJson>,
        /// Gaps that were bridged by a straight line.
        gaps: usize,
        longest_gap: TimeJson,
        /// Whether its months are of different years put together, which understates extremes.
        typical: bool,
        /// How many notes there are on the whole file.
        told: usize,
    },
}

#[derive(Serialize, JsonSchema)]
struct StretchJson {
    outdoors: TemperatureJson,
    time: TimeJson,
}

/// Rows of one mark that are alike.
#[derive(Serialize, JsonSchema)]
#[schemars(extend(
    "if" = { "properties": { "not_known": { "type": "string" } } },
    "then" = { "properties": { "at_risk": { "const": true } } },
))]
struct OutletJson<'r> {
    /// Its mark, or `row 7` for an outlet without one.
    mark: &'r str,
    #[schemars(length(min = 1))]
    at: Vec<LocationJson<'r>>,
    /// How many in all; null if a row does not state it.
    quantity: Option<Number>,
    locations: Vec<&'r Arc<str>>,
    /// Ice blocks it at some point of the band, or it cannot be followed.
    at_risk: bool,
    /// Unknown facts, at the answer with which ice blocks it soonest.
    taken_at_worst: FactsJson<'r>,
    #[serde(flatten)]
    course: CourseResultJson,
    /// Every fact that was read; with a mark only.
    #[serde(skip_serializing_if = "Option::is_none")]
    facts: Option<FactsJson<'r>>,
    /// At the values used, with a mark only: s, K, share and m.
    #[serde(skip_serializing_if = "Option::is_none")]
    hourly: Option<Vec<HourJson>>,
}

/// A cold spell as JSON.
pub fn cold_spell_json(spell: &ColdSpell, system: System) -> String {
    let document = ColdSpellJson {
        coldsill: PROGRAM,
        format: FORMAT,
        reminder: REMINDER,
        job: spell.job.as_deref(),
        schedule: &spell.schedule,
        climate: ClimateJson::of(&spell.climate, &spell.design, spell.climate_overridden.as_ref(), system),
        spell: SpellJson::of(&spell.spell, spell_in_words(spell, system), system),
        figures: facts(&spell.figures, system),
        state: state(spell.state),
        heat_out: spell.heat_out.as_ref().map(HeatOutJson::from),
        mark: spell.mark.as_deref(),
        outlets: OutletsJson(spell, system),
        crew: CrewJson::of(spell, system),
        unused: all(&spell.unused),
        problems: all(&spell.problems),
    };
    to_text(&document)
}

impl CrewJson {
    fn of(spell: &ColdSpell, system: System) -> Self {
        let list = spell.crew();
        let lines = list.lines.into_iter().map(|line| CrewLineJson {
            by: time(line.by),
            deadline: crew::deadline(spell, line.by, system),
            place: crew::place(&line.place),
            work: line
                .work
                .into_iter()
                .map(|(step, marks)| CrewWorkJson {
                    step: crew::name(step),
                    quantity: marks.iter().map(|(_, quantity)| *quantity).sum::<Option<f64>>().map(Number),
                    marks: marks.into_iter().map(|(mark, _)| mark).collect(),
                })
                .collect(),
        });
        Self { hoses_off: list.hoses_off.map(time), lines: lines.collect() }
    }
}

fn state(state: State) -> &'static str {
    match state {
        State::AsItStands => "as it stands",
        State::HoseOn => "hose on",
        State::Uncovered => "uncovered",
        State::PowerCut => "power cut",
    }
}

impl From<&HeatOut> for HeatOutJson {
    fn from(heat: &HeatOut) -> Self {
        Self { from: time(heat.from), time: time(heat.time) }
    }
}

impl<'r> SpellJson<'r> {
    fn of(spell: &'r Spell, text: String, system: System) -> Self {
        let source = match spell.kind() {
            SpellKind::Design { low, swing, days, .. } => SpellSourceJson::Design {
                low: low_temperature(&Quantity::temperature(*low), system),
                swing: difference(*swing, system),
                days: *days,
            },
            SpellKind::Typed { stretches, .. } => {
                let stretches = stretches.iter().map(|stretch| StretchJson {
                    outdoors: temperature(stretch.temperature, system),
                    time: time(stretch.time),
                });
                SpellSourceJson::Typed { stretches: stretches.collect() }
            }
            SpellKind::Series { file, from, to, rows, lead, gaps, longest_gap, typical, warnings } => {
                SpellSourceJson::Series {
                    file,
                    from,
                    to,
                    rows: *rows,
                    lead: lead.map(time),
                    gaps: *gaps,
                    longest_gap: time(*longest_gap),
                    typical: *typical,
                    told: *warnings,
                }
            }
        };
        Self {
            text,
            length: time(spell.length()),
            coldest: low_temperature(&Quantity::temperature(spell.coldest()), system),
            start: temperature(spell.start(), system),
            source,
        }
    }
}

/// Outlets, each made when it is written.
struct OutletsJson<'r>(&'r ColdSpell, System);

impl Serialize for OutletsJson<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        let is_page = self.0.mark.is_some();
        to.collect_seq(self.0.outlets.iter().map(|outlet| OutletJson::of(outlet, is_page, self.1)))
    }
}

impl<'r> OutletJson<'r> {
    fn of(outlet: &'r InSpell, is_page: bool, system: System) -> Self {
        let followed = outlet.course.as_ref().ok().filter(|_| is_page);
        Self {
            mark: &outlet.mark,
            at: all(&outlet.places),
            quantity: outlet.quantity.map(Number),
            locations: outlet.locations.iter().map(|(name, _)| name).collect(),
            at_risk: outlet.is_at_risk(),
            taken_at_worst: facts(&outlet.at_worst, system),
            course: CourseResultJson::of(&outlet.course, system),
            facts: is_page.then(|| facts(&*outlet.facts, system)),
            hourly: followed.map(|followed| followed.courses[1].moments.iter().map(HourJson::from).collect()),
        }
    }
}
