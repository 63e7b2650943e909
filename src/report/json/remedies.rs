//! Remedies, in JSON.

use super::super::remedies::{finished, said};
use super::values::{LengthJson, Number, QuantityJson};
use crate::review::{Change, Remedy};
use crate::units::System;
use schemars::JsonSchema;
use serde::Serialize;
use std::sync::Arc;

/// A set of changes that leaves nothing to revise.
#[derive(Serialize, JsonSchema)]
pub(super) struct RemedyJson<'r> {
    #[schemars(length(min = 1))]
    changes: Vec<ChangeJson<'r>>,
    /// Rules, by number, that asked for something and no longer do.
    #[schemars(length(min = 1))]
    settles: &'r [Arc<str>],
    /// Rules that still wait for information.
    waits: Vec<WaitsJson<'r>>,
    /// Whether it can be done in a finished wall: yes, no, or where the pipe inside can be reached.
    finished_wall: &'static str,
    /// What it adds to the cost of each outlet, in dollars; null if a cost is not stated.
    cost: Option<Number>,
    /// The listed length before, if another length is ordered.
    short: Option<ShortJson>,
}

#[derive(Serialize, JsonSchema)]
struct ChangeJson<'r> {
    /// Its name under `costs:` of a job, or model.
    change: &'static str,
    /// What to do.
    text: String,
    /// The cells of the schedule that it changes.
    cells: Vec<CellJson<'r>>,
    /// Words of the row's description or notes that state otherwise.
    strikes: Vec<StrikeJson<'r>>,
}

/// Words to strike.
#[derive(Serialize, JsonSchema)]
struct StrikeJson<'r> {
    words: &'r str,
    column: &'r str,
}

#[derive(Serialize, JsonSchema)]
struct CellJson<'r> {
    fact: &'r str,
    heading: &'r str,
    /// Its new text; null if it becomes blank.
    text: Option<&'r str>,
}

#[derive(Serialize, JsonSchema)]
struct WaitsJson<'r> {
    rule: &'r str,
    /// Headings of what is missing.
    missing: &'r [Arc<str>],
}

/// A listed length that is not enough.
#[derive(Serialize, JsonSchema)]
struct ShortJson {
    length: LengthJson,
    /// The least seat depth that is enough.
    seat_needed: LengthJson,
    /// What its seat lacks; zero or less if it would do with a seat depth from product data.
    by: LengthJson,
}

impl<'r> RemedyJson<'r> {
    pub(super) fn of(remedy: &'r Remedy, system: System) -> Self {
        let length = |quantity| LengthJson(QuantityJson::usual(quantity, system));
        Self {
            changes: remedy.changes.iter().map(|change| ChangeJson::of(change, system)).collect(),
            settles: &remedy.answers,
            waits: remedy.leaves.iter().map(|(rule, missing)| WaitsJson { rule, missing }).collect(),
            finished_wall: finished(remedy.finished),
            cost: remedy.cost.map(Number),
            short: remedy.short.as_ref().map(|short| ShortJson {
                length: length(&short.length),
                seat_needed: length(&short.seat_needed),
                by: length(&short.by),
            }),
        }
    }
}

impl<'r> ChangeJson<'r> {
    fn of(change: &'r Change, system: System) -> Self {
        let cells = change.cells.iter();
        let cells = cells.map(|(fact, heading, text)| CellJson { fact, heading, text: text.as_deref() });
        let strikes = change.strikes.iter().map(|(words, column)| StrikeJson { words, column });
        Self {
            change: change.name,
            text: said(&change.says, system),
            cells: cells.collect(),
            strikes: strikes.collect(),
        }
    }
}
