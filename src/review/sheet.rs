//! One mark's outlets with everything behind their figures.

use super::{Absence, Findings, OutletReview, Review, Shown, shown::shown};
use crate::diag::{Diagnostic, Location};
use crate::facts::{Def, Drawn, ON_SHEET, SectionSheet, World, drawn, section_sheet, slot};
use crate::schedule::Row;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// An outlet with its section.
#[derive(Clone, Debug)]
pub struct Sheet {
    /// The outlet, reviewed.
    pub outlet: OutletReview,
    /// Its section, or why there is none.
    pub section: Result<SectionSheet, Absence>,
    /// Facts that no rule in force read.
    pub more: Vec<Shown>,
}

/// The sheets of a mark: one for each of its rows that differs from those before.
pub fn sheets(world: &World, review: &Review, mark: &str) -> Result<Vec<Sheet>, Diagnostic> {
    let meant: Vec<&OutletReview> =
        review.outlets.iter().filter(|it| it.mark.eq_ignore_ascii_case(mark)).collect();
    if meant.is_empty() {
        return Err(no_mark(&review.schedule, mark, review.outlets.iter().map(|it| &*it.mark)));
    }
    let rows = rows(world, review);
    let mut seen: BTreeSet<*const Findings> = BTreeSet::new();
    let firsts = meant.into_iter().filter(|outlet| seen.insert(Arc::as_ptr(&outlet.findings)));
    Ok(firsts.map(|outlet| sheet(world, &rows, outlet)).collect())
}

/// The sheets of the first outlets: one for each of the findings that rows share, in the order of the schedule.
pub fn first_sheets(world: &World, review: &Review, most: usize) -> Vec<Sheet> {
    let rows = rows(world, review);
    firsts(review).take(most).map(|outlet| sheet(world, &rows, outlet)).collect()
}

fn sheet(world: &World, rows: &BTreeMap<Location, &Row>, outlet: &OutletReview) -> Sheet {
    let own = rows.get(&outlet.location).map(|row| world.outlet(row));
    let section = own.as_ref().map_or_else(
        || Err(Absence::Missing(Vec::new())),
        |own| section_sheet(own).map_err(|gap| Absence::of(&gap)),
    );
    let unread = ON_SHEET.iter().filter(|def| !outlet.findings.facts.iter().any(|it| &*it.name == def.name));
    let more = own.iter().flat_map(|own| {
        let shown = |def: &&Def| shown(slot(def), &own.fact(slot(def)), &world.job().rules);
        unread.clone().map(shown)
    });
    let more = more.collect();
    Sheet { outlet: outlet.clone(), section, more }
}

/// The first outlet with each of the findings.
fn firsts(review: &Review) -> impl Iterator<Item = &OutletReview> {
    let mut seen: BTreeSet<*const Findings> = BTreeSet::new();
    review.outlets.iter().filter(move |outlet| seen.insert(Arc::as_ptr(&outlet.findings)))
}

/// What drawings of outlets need: one for each of the findings that rows share, in the order of the schedule.
pub fn drawings(world: &World, review: &Review) -> Vec<(Arc<Findings>, Result<Drawn, Absence>)> {
    let rows = rows(world, review);
    let drawing = |outlet: &OutletReview| {
        let drawn = rows.get(&outlet.location).map_or_else(
            || Err(Absence::Missing(Vec::new())),
            |row| drawn(&world.outlet(row)).map_err(|gap| Absence::of(&gap)),
        );
        (outlet.findings.clone(), drawn)
    };
    firsts(review).map(drawing).collect()
}

/// The rows of the schedule by their locations.
fn rows<'w>(world: &'w World, review: &Review) -> BTreeMap<Location, &'w Row> {
    world.job().schedule.rows.iter().map(|row| (row.location(&review.schedule), row)).collect()
}

/// A mark that no row of the schedule has.
pub(super) fn no_mark<'m>(schedule: &str, mark: &str, marks: impl Iterator<Item = &'m str>) -> Diagnostic {
    let problem = Diagnostic::new(Location::whole(schedule), "is not a mark of the schedule").text(mark);
    problem.nearest(mark, marks)
}
