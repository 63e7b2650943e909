//! Outlets through a cold spell: which of them ice blocks, in what order, after how long.

use super::run::{Identity, Part, key};
use super::sheet::no_mark;
use super::{Absence, Shown, ledger};
use crate::climate::{Climate, Spell};
use crate::diag::{Place, Problem};
use crate::expr::Slot;
use crate::facts::{self, Case, Followed, HeatOut, State, World, slot};
use crate::schedule::Row;
use rayon::prelude::*;
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// The longest that heat may be out, s.
const LONGEST_OUT: f64 = 30.0 * 86_400.0;
/// Facts that what is to be done goes by, whether or not the section reads them.
const TO_ACT_ON: [&str; 4] = ["outlet.closes", "outlet.inside_stop", "outlet.seat_depth", "outlet.barrel"];

/// Which cold spell.
#[derive(Clone, Copy, Debug)]
pub enum Asked<'a> {
    /// The job's design spell.
    Design,
    /// Typed, as [`Spell::typed`] reads it.
    Typed(&'a str),
    /// A file, as [`Spell::series`] reads it.
    Series {
        /// Its name.
        file: &'a str,
        /// What is in it.
        bytes: &'a [u8],
        /// Days to look for in it.
        days: Option<f64>,
    },
}

/// What is asked.
#[derive(Clone, Copy, Debug)]
pub struct Question<'a> {
    /// The spell.
    pub spell: Asked<'a>,
    /// How the outlets stand in it.
    pub state: State,
    /// How long heat is out, s.
    pub heat_out: Option<f64>,
    /// The one mark that is meant; all without it.
    pub mark: Option<&'a str>,
}

/// What a cold spell does.
#[derive(Clone, Debug)]
pub struct ColdSpell {
    /// The job's name.
    pub job: Option<Arc<str>>,
    /// The schedule.
    pub schedule: Arc<str>,
    /// The climate.
    pub climate: Arc<Climate>,
    /// The climate the job names, where another took its place.
    pub climate_overridden: Option<Arc<str>>,
    /// The spell.
    pub spell: Spell,
    /// The facts it is made of.
    pub figures: Vec<Shown>,
    /// How the outlets stand in it.
    pub state: State,
    /// The loss of heat.
    pub heat_out: Option<HeatOut>,
    /// The mark that was asked for.
    pub mark: Option<Arc<str>>,
    /// The first to be blocked first; those that cannot be followed last.
    pub outlets: Vec<InSpell>,
    /// Cells and columns with a problem.
    pub problems: Vec<Problem>,
}

/// Rows of one mark that are alike, in the spell.
#[derive(Clone, Debug)]
pub struct InSpell {
    /// The mark, or `row 7`.
    pub mark: Arc<str>,
    /// The rows.
    pub rows: Vec<u32>,
    /// How many in all; `None` where a row does not state it.
    pub quantity: Option<f64>,
    /// Where they are, each once.
    pub locations: Vec<Arc<str>>,
    /// Every fact that was read.
    pub facts: Arc<Vec<Shown>>,
    /// What happens, or why it cannot be followed.
    pub course: Result<Followed, Absence>,
}

impl InSpell {
    /// Whether ice blocks the bore somewhere in the band, or nobody can tell.
    pub fn is_at_risk(&self) -> bool {
        self.course.as_ref().map_or(true, |it| it.courses.iter().any(|it| it.blocked.is_some()))
    }

    /// Hours to blocked, the cold end first, then to first ice, then how cold the seat gets; what never happens is last.
    fn order(&self) -> [f64; 5] {
        let Ok(followed) = &self.course else { return [f64::INFINITY; 5] };
        let never = |time: Option<f64>| time.unwrap_or(f64::INFINITY);
        let [cold, used, _] = &followed.courses;
        let [cold_blocked, used_blocked] = [cold, used].map(|it| never(it.blocked.map(|it| it.0)));
        [cold_blocked, used_blocked, never(cold.first_ice), never(used.first_ice), used.coldest_seat]
    }
}

impl ColdSpell {
    /// Whether ice blocks an outlet, may block one, or one cannot be followed.
    pub fn has_outlets_at_risk(&self) -> bool {
        self.outlets.iter().any(InSpell::is_at_risk)
    }
}

/// What was read of a kind of outlet, and its course.
type Found = (Arc<Vec<Shown>>, Result<Followed, Absence>);

/// Follows the outlets of a job through a cold spell; outlets alike in every fact are followed once.
pub fn cold_spell(world: &World, question: &Question<'_>) -> Result<ColdSpell, Vec<Problem>> {
    let job = world.job();
    let own = slot("ice.blocked");
    let (spell, figures) = spell(world, question.spell, own)?;
    let heat_out = heat_out(&spell, question.heat_out).map_err(|problem| vec![problem])?;
    let (kinds, mut outlets) = gathered(world, question.mark).map_err(|problem| vec![problem])?;
    let followed: Vec<Found> = kinds
        .par_iter()
        .map(|row| {
            let outlet = world.outlet(row);
            let case = Case::in_spell(&outlet, own, question.state, Some(spell.clone()), heat_out);
            let course = case.and_then(|case| case.followed(own)).map_err(|gap| Absence::of(&gap));
            for name in TO_ACT_ON {
                outlet.fact(slot(name));
            }
            (Arc::new(ledger::facts_of(&outlet, &job.rules)), course)
        })
        .collect();
    for (kind, outlet) in &mut outlets {
        (outlet.facts, outlet.course) = followed[*kind].clone();
    }
    let mut outlets: Vec<InSpell> = outlets.into_iter().map(|it| it.1).collect();
    outlets.sort_by(|a, b| {
        let orders = a.order().into_iter().zip(b.order());
        let by_time = orders.map(|(a, b)| a.total_cmp(&b)).find(|it| it.is_ne()).unwrap_or(Ordering::Equal);
        a.course.is_err().cmp(&b.course.is_err()).then(by_time)
    });
    Ok(ColdSpell {
        job: job.name.clone(),
        schedule: job.schedule.file.clone(),
        climate: job.climate.clone(),
        climate_overridden: job.climate_overridden.clone(),
        spell,
        figures,
        state: question.state,
        heat_out,
        mark: question.mark.map(Into::into),
        outlets,
        problems: job.schedule.problems.clone(),
    })
}

/// The spell, and the facts it is made of.
fn spell(world: &World, asked: Asked<'_>, own: Slot) -> Result<(Spell, Vec<Shown>), Vec<Problem>> {
    // What the climate says is no single outlet's.
    let site = world.outlet_of(&[]);
    let lacking = |place: &str, what: &str, expected: &str| {
        vec![Problem::new(Place::whole(place), what).expected(expected)]
    };
    let spell = match asked {
        Asked::Design => facts::design_spell(&site, own).map_err(|gap| match Absence::of(&gap) {
            Absence::Because(why) => {
                vec![Problem::new(Place::whole(&world.job().schedule.file), format!("no cold spell: {why}"))]
            }
            Absence::Missing(_) => lacking(
                &world.job().schedule.file,
                "the climate gives no design low to make a cold spell of",
                "--outdoors or --series, or `design_low:` in the job's climate",
            ),
        })?,
        Asked::Typed(text) => {
            let at = "--outdoors";
            let start = facts::spell_start(&site).map_err(|_| {
                let what = "the climate does not say how warm it is before the spell";
                lacking(at, what, "`spell: { start: }` in the job")
            })?;
            Spell::typed(text, start, &Place::whole(at))?
        }
        Asked::Series { file, bytes, days } => Spell::series(file, bytes, days)?,
    };
    let read = ledger::facts_of(&site, &world.job().rules);
    Ok((spell, read.into_iter().filter(|it| it.name.starts_with("site.spell_")).collect()))
}

fn heat_out(spell: &Spell, time: Option<f64>) -> Result<Option<HeatOut>, Problem> {
    match time {
        Some(time) if !(time > 0.0 && time <= LONGEST_OUT) => {
            let what = "is no time for heat to be out that can be followed";
            Err(Problem::new(Place::whole("--heat-out"), what)
                .expected("more than nothing and at most 30 days"))
        }
        time => Ok(time.map(|time| HeatOut::in_spell(spell, time))),
    }
}

/// The first row of each kind of outlet, and rows of one mark and kind together, each with its kind.
type Gathered<'w> = (Vec<&'w Row>, Vec<(usize, InSpell)>);

fn gathered<'w>(world: &'w World, mark: Option<&str>) -> Result<Gathered<'w>, Problem> {
    let schedule = &world.job().schedule;
    let mut alike: BTreeMap<Vec<Part>, usize> = BTreeMap::new();
    let mut kinds: Vec<&Row> = Vec::new();
    let mut outlets: Vec<(usize, InSpell)> = Vec::new();
    let mut index: BTreeMap<(usize, Arc<str>), usize> = BTreeMap::new();
    let mut seen: BTreeSet<(usize, Arc<str>)> = BTreeSet::new();
    let mut marks: Vec<Arc<str>> = Vec::new();
    for row in &schedule.rows {
        let stated = world.stated(row);
        let Identity { mark: own, quantity, location } = Identity::of(row, &stated);
        marks.push(own.clone());
        if mark.is_some_and(|it| !it.eq_ignore_ascii_case(&own)) {
            continue;
        }
        let kind = *alike.entry(key(&stated, &BTreeSet::new())).or_insert_with(|| {
            kinds.push(row);
            kinds.len() - 1
        });
        let at = *index.entry((kind, own.clone())).or_insert(outlets.len());
        if at == outlets.len() {
            let outlet = InSpell {
                mark: own,
                rows: Vec::new(),
                quantity: Some(0.0),
                locations: Vec::new(),
                facts: Arc::default(),
                course: Err(Absence::Missing(Vec::new())),
            };
            outlets.push((kind, outlet));
        }
        let outlet = &mut outlets[at].1;
        outlet.rows.push(row.number);
        outlet.quantity = outlet.quantity.zip(quantity).map(|(a, b)| a + b);
        outlet.locations.extend(location.filter(|it| seen.insert((at, it.clone()))));
    }
    match mark {
        Some(mark) if outlets.is_empty() => Err(no_mark(&schedule.file, mark, marks.iter().map(|it| &**it))),
        _ => Ok((kinds, outlets)),
    }
}
