//! Outlets through a cold spell: which of them ice blocks, in what order, after how long.

use super::alike::{Identity, KeyPart, key};
use super::in_spell::InSpell;
use super::settle::complete_combinations;
use super::sheet::no_mark;
use super::{Absence, Progress, Shown, ledger};
use crate::climate::Climate;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::expr::{Gap, Slot, Value};
use crate::facts::backflow::DRAINS_WITH_HOSE;
use crate::facts::columns::{BARREL, CLOSES_AT, DESCRIPTION_DISAGREES, INSIDE_STOP, SEAT_DEPTH, WALL};
use crate::facts::ice::BLOCKED;
use crate::facts::{self, Case, Def, Fact, Followed, Goal, HeatOut, Origin, Outlet, State, World, slot};
use crate::job::Design;
use crate::schedule::{Row, RowOf, Unused};
use crate::spell::Spell;
use rayon::prelude::*;
use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

/// The longest that heat may be out, s.
const LONGEST_OUT: f64 = 30.0 * 86_400.0;
/// Facts that what is to be done goes by, whether or not the section reads them.
const TO_ACT_ON: [&Def; 6] =
    [CLOSES_AT, INSIDE_STOP, SEAT_DEPTH, BARREL, DRAINS_WITH_HOSE, DESCRIPTION_DISAGREES];

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
    /// How warm it is before a typed spell or a file, K; without it the mean of the coldest month, or the file's first
    /// temperature.
    pub before: Option<f64>,
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
    /// The outdoor temperature its outlets must survive.
    pub design: Design,
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
    pub problems: Diagnostics,
    /// Columns and rows that were not understood.
    pub unused: Vec<Unused>,
}

/// Hours to blocked, the cold end first, then to first ice, then how cold the seat gets; what never happens is last.
pub(super) fn order(followed: &Followed) -> [f64; 5] {
    let never = |time: Option<f64>| time.unwrap_or(f64::INFINITY);
    let [cold, used, _] = &followed.courses;
    let [cold_blocked, used_blocked] = [cold, used].map(|it| never(it.blocked.map(|it| it.0)));
    [cold_blocked, used_blocked, never(cold.first_ice), never(used.first_ice), used.coldest_seat]
}

fn sooner(a: &[f64; 5], b: &[f64; 5]) -> Ordering {
    a.iter().zip(b).map(|(a, b)| a.total_cmp(b)).find(|it| it.is_ne()).unwrap_or(Ordering::Equal)
}

impl ColdSpell {
    /// Whether ice blocks an outlet, may block one, or one cannot be followed.
    pub fn has_outlets_at_risk(&self) -> bool {
        self.outlets.iter().any(InSpell::is_at_risk)
    }
}

/// What was read of a kind of outlet, its course, and what was taken at its worst.
type Found = (Arc<Vec<Shown>>, Result<Followed, Absence>, Vec<Shown>);

/// Follows the outlets of a job through a cold spell; outlets alike in every fact are followed once.
pub fn cold_spell(world: &World, question: &Question<'_>) -> Result<ColdSpell, Diagnostics> {
    cold_spell_with(world, question, &|_, _| ())
}

/// The same, with word of how far it is.
pub fn cold_spell_with(
    world: &World,
    question: &Question<'_>,
    progress: &Progress<'_>,
) -> Result<ColdSpell, Diagnostics> {
    let job = world.job();
    let own = slot(BLOCKED);
    let (spell, figures) = spell(world, question, own)?;
    let heat_out = heat_out(&spell, question.heat_out)?;
    let (kinds, mut outlets) = gathered(world, question.mark)?;
    // A list tells when; only one outlet by itself is followed until its ice is gone.
    let goal = if question.mark.is_some() { Goal::Cleared } else { Goal::Blocked };
    let begun = AtomicUsize::new(0);
    let followed: Vec<Found> = kinds
        .par_iter()
        .map(|row| {
            progress(begun.fetch_add(1, Relaxed) + 1, kinds.len());
            let outlet = world.outlet(row);
            let follow = |outlet: &Outlet<'_>| {
                let case = Case::in_spell(outlet, own, question.state, Some(spell.clone()), heat_out);
                case.and_then(|case| case.followed(goal, own))
            };
            let (course, at_worst) = match follow(&outlet) {
                Ok(followed) => (Ok(followed), Vec::new()),
                Err(gap) => at_worst(&outlet, &gap, follow)
                    .map_or_else(|| (Err(Absence::of(&gap)), Vec::new()), |(it, taken)| (Ok(it), taken)),
            };
            for def in TO_ACT_ON {
                outlet.fact(slot(def));
            }
            (Arc::new(ledger::facts_of(&outlet, &job.rules)), course, at_worst)
        })
        .collect();
    for (kind, outlet) in &mut outlets {
        (outlet.facts, outlet.course, outlet.at_worst) = followed[*kind].clone();
    }
    let mut outlets: Vec<InSpell> = outlets.into_iter().map(|it| it.1).collect();
    outlets.sort_by(|a, b| a.course.is_err().cmp(&b.course.is_err()).then(sooner(&a.order(), &b.order())));
    Ok(ColdSpell {
        job: job.name.clone(),
        schedule: job.schedule.file.clone(),
        climate: job.climate.clone(),
        design: job.design.clone(),
        climate_overridden: job.climate_overridden.clone(),
        spell,
        figures,
        state: question.state,
        heat_out,
        mark: question.mark.map(Into::into),
        outlets,
        problems: job.schedule.problems.clone(),
        unused: job.schedule.unused.clone(),
    })
}

/// The soonest course under plausible answers to what is missing, and those answers. An answer under which the outlet
/// is
/// not one that can be followed does not count; none where no answer lets it be followed.
fn at_worst(
    outlet: &Outlet<'_>,
    gap: &Gap,
    follow: impl Fn(&Outlet<'_>) -> Result<Followed, Gap>,
) -> Option<(Followed, Vec<Shown>)> {
    let walls = facts::candidate_walls(outlet);
    let wall = slot(WALL);
    let tried = if gap.missing.contains(&wall) && !walls.is_empty() {
        let under = walls.into_iter().filter_map(|key| {
            let given = vec![(wall, key)];
            worst_of_answers(&outlet.suppose(&given), &follow, given)
        });
        under.collect()
    } else {
        Vec::from_iter(worst_of_answers_to(outlet, gap, &follow, &[]))
    };
    let (followed, given) = tried.into_iter().min_by(|a, b| sooner(&order(&a.0), &order(&b.0)))?;
    let rules = &outlet.world().job().rules;
    let taken = given.into_iter().map(|(slot, value)| {
        let fact = Fact { value: Ok(value), origin: Origin::Supposed };
        super::shown::shown(slot, &fact, rules)
    });
    Some((followed, taken.collect()))
}

/// A course and the answers it was found under.
type Under = (Followed, Vec<(Slot, Value)>);

/// The soonest course of an outlet supposed to be so, under plausible answers to what it still misses.
fn worst_of_answers(
    outlet: &Outlet<'_>,
    follow: &impl Fn(&Outlet<'_>) -> Result<Followed, Gap>,
    given: Vec<(Slot, Value)>,
) -> Option<Under> {
    match follow(outlet) {
        Ok(followed) => Some((followed, given)),
        Err(gap) => worst_of_answers_to(outlet, &gap, follow, &given),
    }
}

/// The worst over the usual answers to a gap, which need not be the worst there can be.
fn worst_of_answers_to(
    outlet: &Outlet<'_>,
    gap: &Gap,
    follow: &impl Fn(&Outlet<'_>) -> Result<Followed, Gap>,
    given: &[(Slot, Value)],
) -> Option<Under> {
    let tried = complete_combinations(gap).into_iter().filter_map(|answers| {
        let followed = follow(&outlet.suppose(&answers)).ok()?;
        Some((followed, given.iter().cloned().chain(answers).collect()))
    });
    tried.min_by(|a: &Under, b| sooner(&order(&a.0), &order(&b.0)))
}

/// The spell, and the facts it is made of.
fn spell(world: &World, question: &Question<'_>, own: Slot) -> Result<(Spell, Vec<Shown>), Diagnostics> {
    // What the climate says is no single outlet's.
    let site = world.outlet_of(&[]);
    let lacking = |place: &str, what: &str, expected: &str| {
        vec![Diagnostic::new(Location::whole(place), what).expected(expected)]
    };
    let spell = match question.spell {
        Asked::Design => facts::design_spell(&site, own).map_err(|gap| match Absence::of(&gap) {
            Absence::Because(why) => {
                vec![Diagnostic::new(
                    Location::whole(&world.job().schedule.file),
                    format!("no cold spell: {why}"),
                )]
            }
            Absence::Missing(_) => lacking(
                &world.job().schedule.file,
                "the climate gives no design low to make a cold spell of",
                "--outdoors or --series, or `design_low:` in the job's climate",
            ),
        })?,
        Asked::Typed(text) => {
            let at = "--outdoors";
            let start = question.before.map_or_else(|| facts::spell_start(&site), Ok).map_err(|_| {
                let what = "the climate does not say how warm it is before the spell";
                lacking(at, what, "--before, or `spell: { start: }` in the job")
            })?;
            Spell::typed(text, start, &Location::whole(at))?
        }
        Asked::Series { file, bytes, days } => {
            let series = Spell::series(file, bytes, days)?;
            match question.before {
                Some(before) => series.after(before),
                None => series,
            }
        }
    };
    let read = ledger::facts_of(&site, &world.job().rules);
    Ok((spell, read.into_iter().filter(|it| it.name.starts_with("site.spell_")).collect()))
}

fn heat_out(spell: &Spell, time: Option<f64>) -> Result<Option<HeatOut>, Diagnostic> {
    match time {
        Some(time) if !(time > 0.0 && time <= LONGEST_OUT) => {
            let what = "is no time for heat to be out that can be followed";
            Err(Diagnostic::new(Location::whole("--heat-out"), what)
                .expected("more than nothing and at most 30 days"))
        }
        time => Ok(time.map(|time| HeatOut::in_spell(spell, time))),
    }
}

/// The first row of each kind of outlet, and rows of one mark and kind together, each with its kind.
type Gathered<'w> = (Vec<&'w Row>, Vec<(usize, InSpell)>);

fn gathered<'w>(world: &'w World, mark: Option<&str>) -> Result<Gathered<'w>, Diagnostic> {
    let schedule = &world.job().schedule;
    let mut alike: BTreeMap<Vec<KeyPart>, usize> = BTreeMap::new();
    let mut kinds: Vec<&Row> = Vec::new();
    let mut outlets: Vec<(usize, InSpell)> = Vec::new();
    let mut index: BTreeMap<(usize, Arc<str>, RowOf), usize> = BTreeMap::new();
    let mut seen: BTreeMap<(usize, Arc<str>), usize> = BTreeMap::new();
    let mut marks: Vec<Arc<str>> = Vec::new();
    for row in &schedule.rows {
        let stated = world.given_facts(row);
        let Identity { mark: own, quantity, where_it_is } = Identity::of(row, &stated);
        marks.push(own.clone());
        if mark.is_some_and(|it| !it.eq_ignore_ascii_case(&own)) {
            continue;
        }
        let kind = *alike.entry(key(&stated, &BTreeSet::new())).or_insert_with(|| {
            kinds.push(row);
            kinds.len() - 1
        });
        let spotted = row.spotted(&schedule.file);
        let at = *index.entry((kind, own.clone(), spotted.of)).or_insert(outlets.len());
        if at == outlets.len() {
            let outlet = InSpell {
                mark: own,
                rows: Vec::new(),
                places: Vec::new(),
                quantity: Some(0.0),
                locations: Vec::new(),
                unplaced: Vec::new(),
                facts: Arc::default(),
                at_worst: Vec::new(),
                course: Err(Absence::Missing(Vec::new())),
            };
            outlets.push((kind, outlet));
        }
        let outlet = &mut outlets[at].1;
        outlet.rows.push(spotted);
        outlet.places.push(row.location(&schedule.file));
        outlet.quantity = outlet.quantity.zip(quantity).map(|(a, b)| a + b);
        match where_it_is {
            None => outlet.unplaced.push((spotted, quantity)),
            Some(location) => {
                let next = outlet.locations.len();
                let place = *seen.entry((at, location.clone())).or_insert(next);
                match outlet.locations.get_mut(place) {
                    Some((_, sum)) => *sum = sum.zip(quantity).map(|(a, b)| a + b),
                    None => outlet.locations.push((location, quantity)),
                }
            }
        }
    }
    match mark {
        Some(mark) if outlets.is_empty() => Err(no_mark(&schedule.file, mark, marks.iter().map(|it| &**it))),
        _ => Ok((kinds, outlets)),
    }
}
