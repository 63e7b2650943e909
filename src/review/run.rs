//! Reviews a job: of outlets that agree in every fact a rule can read, only the first is judged.

use super::alike::{Identity, KeyPart, identity_facts_read, is_ignored, key};
use super::cases::failed_cases;
use super::judge::{card, comment};
use super::remedy::{order_of, remedies};
use super::shown::shown;
use super::{Comment, Detail, Extent, Findings, OutletReview, Progress, Review, Shown, ledger, questions};
use crate::expr::Slot;
use crate::facts::{self, Fact, Origin, World};
use crate::schedule::Row;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

/// Reviews every outlet of a job against every rule in force.
pub fn run(world: &World) -> Review {
    run_with(world, Extent::Whole, &|_, _| ())
}

/// As [`run`], computing only what `extent` asks for and reporting progress.
pub fn run_with(world: &World, extent: Extent, progress: &Progress<'_>) -> Review {
    let job = world.job();
    let identity_read = identity_facts_read(world);
    let mut group_by_key: BTreeMap<Vec<KeyPart>, usize> = BTreeMap::new();
    let mut first_rows: Vec<&Row> = Vec::new();
    let mut group_of_row = Vec::with_capacity(job.schedule.rows.len());
    let mut given = Vec::new();
    for row in &job.schedule.rows {
        world.put_given_facts(row, &mut given);
        let group = *group_by_key.entry(key(&given, &identity_read)).or_insert_with(|| {
            first_rows.push(row);
            first_rows.len() - 1
        });
        group_of_row.push(group);
    }
    let cards: Vec<_> = job.rules.rules.iter().map(card).collect();
    let begun = AtomicUsize::new(0);
    let findings: Vec<Arc<Findings>> = first_rows
        .par_iter()
        .enumerate()
        .map(|(index, row)| {
            let detail = extent.detail(index);
            progress(begun.fetch_add(1, Relaxed) + 1, first_rows.len());
            let outlet = world.outlet(row);
            let rules = job.rules.rules.iter().zip(&cards);
            let comments = rules.map(|(rule, card)| comment(rule, card, &outlet, &job.revise_on, detail));
            let comments: Vec<Comment> = comments.collect();
            // Whether a rule with `close:` makes a comment, however close.
            let has_close_comment = job
                .rules
                .rules
                .iter()
                .zip(&comments)
                .any(|(rule, comment)| rule.close.is_some() && comment.outcome.is_comment());
            let moves = if has_close_comment && detail == Detail::Whole {
                facts::moves(&outlet).unwrap_or_default()
            } else {
                Vec::new()
            };
            // Must stay before `remedies` and `order_of`, which read more facts: a report lists only those read so far.
            let known = outlet.known_so_far();
            let known = known.iter().filter(|(slot, _)| !is_ignored(*slot, &identity_read));
            let facts: Vec<Shown> = known.map(|(slot, fact)| shown(*slot, fact, &job.rules)).collect();
            let remedies = remedies(world, row, &outlet, &comments, detail);
            let order = order_of(&outlet);
            Arc::new(Findings {
                first: row.location(&job.schedule.file),
                facts,
                comments,
                moves,
                remedies,
                order,
            })
        })
        .collect();
    let outlets: Vec<OutletReview> = job
        .schedule
        .rows
        .par_iter()
        .zip(group_of_row)
        .map_init(Vec::new, |given, (row, group)| {
            world.put_given_facts(row, given);
            outlet_review(world, row, given, &findings[group])
        })
        .collect();
    let mut problems = job.schedule.problems.clone();
    problems.append(&mut failed_cases(world));
    Review {
        job: job.name.clone(),
        job_file: job.file.clone(),
        schedule: job.schedule.file.clone(),
        climate: job.climate.clone(),
        design: job.design.clone(),
        climate_overridden: job.climate_overridden.clone(),
        code: job.code.clone(),
        authority: job.authority.clone(),
        revise_on: job.revise_on.clone(),
        revise_on_set_by: job.revise_on_set_by.clone(),
        amendments: job.rules.amendments.iter().map(|it| it.name.clone()).collect(),
        amendment_effects: job.rules.amendment_effects(&job.revise_on),
        questions: questions::questions(world, &outlets),
        answers: job.answers.clone(),
        answered: ledger::answered(&outlets),
        assumed: ledger::assumed(&outlets, &job.schedule.file),
        notes: job.schedule.notes.clone(),
        unused: job.schedule.unused.clone(),
        rows_set_aside: job.schedule.rows_set_aside.clone(),
        doubtful_rows: job.schedule.doubtful_rows.clone(),
        written_tables: job.schedule.written_tables.clone(),
        problems,
        tally: ledger::tally(&outlets),
        order_turns_on: ledger::order_turns_on(&outlets),
        solves: world.solves(),
        since: None,
        outlets,
    }
}

/// The review of a row with the facts given for it, by slot, and the findings of its group.
fn outlet_review(world: &World, row: &Row, given: &[Option<Fact>], findings: &Arc<Findings>) -> OutletReview {
    let rules = &world.job().rules;
    let location = row.location(&world.job().schedule.file);
    // Facts of cells that differ from those of the group's first row, in value or wording.
    let own_facts = given.iter().zip(0..).filter_map(|(fact, number)| {
        let fact = fact.as_ref()?;
        let is_from_cell =
            matches!(&fact.origin, Origin::Stated(..) | Origin::Answered(..) | Origin::Unreadable(..));
        let own = is_from_cell.then(|| shown(Slot(number), fact, rules))?;
        let shared = findings.facts.iter().find(|fact| fact.name == own.name);
        let is_shared = shared.is_some_and(|fact| findings.at_row(fact, &location) == own);
        (!is_shared).then_some(own)
    });
    let Identity { mark, quantity, where_it_is } = Identity::of(row, given);
    OutletReview {
        mark,
        quantity,
        where_it_is,
        own_facts: own_facts.collect(),
        location,
        findings: findings.clone(),
    }
}
