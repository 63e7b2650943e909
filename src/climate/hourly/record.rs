//! From rows to hours on one clock: their order is checked, gaps are bridged or told.

use super::{Form, Gap, Hour, Hourly, Station, scale, told};
use crate::climate::order::{not_after, sparse, steps_beside, usual_step};
use crate::climate::series::LONGEST_GAP;
use crate::climate::spell::HOUR;
use crate::diag::{Diagnostic, Diagnostics, Location};
use std::sync::Arc;

/// Of a hundred rows no more than this many may have something for a temperature that is none; a file with more is not what
/// it is taken for.
const WRONG_IN_A_HUNDRED: usize = 1;
/// Of one temperature there is no step.
const FEWEST: usize = 2;

/// A row with its time.
#[derive(Clone, Copy)]
pub(super) struct Entry {
    pub time: f64,
    pub kelvin: Option<f64>,
    pub humidity: Option<f64>,
    pub wind: Option<f64>,
    pub row: u32,
}

/// What any form of file gives.
pub(super) struct Given {
    pub file: Arc<str>,
    pub form: Form,
    pub station: Station,
    pub entries: Vec<Entry>,
    /// Headings of the columns, for places; a fixed form has its time in several.
    pub time_name: Option<Arc<str>>,
    pub temperature_name: Arc<str>,
    pub typical: bool,
    /// Whether rows of different years are put together to one.
    pub pieced: bool,
    /// Whether a heading or the form says that temperatures are °C.
    pub celsius: bool,
    pub dated: bool,
    pub ends_hour: bool,
    /// Rows that mark their temperature as missing.
    pub missing: Vec<u32>,
    /// Temperatures that are none.
    pub wrong: Diagnostics,
    pub notes: Diagnostics,
}

impl Given {
    /// Refuses what nothing safe can be made of, and tells the rest.
    pub fn build(self) -> Result<Hourly, Diagnostics> {
        if self.wrong.len() * 100 > self.entries.len() * WRONG_IN_A_HUNDRED {
            return Err(self.wrong);
        }
        let mut hourly = Hourly {
            file: self.file,
            form: self.form,
            station: self.station,
            hours: Vec::new(),
            step: 0.0,
            typical: self.typical,
            pieced: self.pieced,
            dated: self.dated,
            ends_hour: self.ends_hour,
            missing: self.missing.len() + self.wrong.len(),
            gaps: Vec::new(),
            notes: self.notes,
        };
        let place = |row| Location::cell(&hourly.file, row, self.time_name.as_ref());
        let out_of_order = self.entries.windows(2).filter_map(|pair| {
            let (before, it) = (pair[0], pair[1]);
            let apart = it.time - before.time;
            if apart > 0.0 {
                return None;
            }
            not_after(apart, &hourly.said(it.time), &hourly.said(before.time), before.row, place(it.row))
        });
        let problems: Diagnostics = out_of_order.collect();
        if !problems.is_empty() {
            return Err(problems);
        }
        let known = self.entries.iter().filter(|it| it.kelvin.is_some()).count();
        if known < FEWEST {
            let what = format!("has {} rows, and {known} of them with a temperature", self.entries.len());
            return Err(Diagnostic::new(Location::whole(&hourly.file), what).expected("at least 2").into());
        }
        hourly.step = usual_step(self.entries.iter().map(|it| it.time));
        if hourly.step > LONGEST_GAP {
            return Err(sparse(&hourly.file, hourly.step).into());
        }
        hourly.fill(&self.entries);
        let temperatures = &self.temperature_name;
        hourly.notes.extend(told::missing(&hourly, &self.missing, temperatures, self.entries.len()));
        hourly.notes.extend(told::wrong(&hourly, self.wrong));
        hourly.notes.extend(told::jumps(&hourly, temperatures));
        let celsius = if self.celsius { scale::doubt(&hourly, temperatures) } else { Diagnostics::new() };
        let notes = [
            told::gaps(&hourly),
            told::steps(&hourly).into_iter().collect(),
            told::clock(&hourly),
            told::cover(&hourly),
            told::south(&hourly).into_iter().collect(),
            celsius,
        ];
        hourly.notes.extend(notes.into_iter().flatten());
        Ok(hourly)
    }
}

impl Hourly {
    /// Hours of what is known, with straight lines over gaps that are short enough.
    fn fill(&mut self, entries: &[Entry]) {
        let times: Vec<f64> = entries.iter().map(|it| it.time).collect();
        let steps = steps_beside(&times, self.step, LONGEST_GAP);
        let mut hours: Vec<Hour> = Vec::with_capacity(entries.len());
        for (entry, step) in entries.iter().zip(steps) {
            let Some(kelvin) = entry.kelvin else { continue };
            let hour = Hour {
                time: entry.time,
                lasts: step,
                kelvin,
                humidity: entry.humidity,
                wind: entry.wind,
                row: Some(entry.row),
            };
            if let Some(last) = hours.last().copied()
                && Self::parted(&[last, hour])
            {
                let apart = hour.time - last.time;
                // Six hourly rows that are not there lie between two that are seven hours apart.
                let bridged = apart <= LONGEST_GAP + last.lasts.min(HOUR);
                let row = |it: &Hour| it.row.unwrap_or_default();
                let (from, to) = ((last.time, row(&last)), (hour.time, row(&hour)));
                self.gaps.push(Gap { from, to, step: last.lasts, bridged });
                let parts = (apart / last.lasts).round();
                let mut part = 1.0;
                while bridged && part < parts {
                    let along = part / parts;
                    hours.push(Hour {
                        time: last.time + along * apart,
                        kelvin: last.kelvin + along * (hour.kelvin - last.kelvin),
                        humidity: None,
                        wind: None,
                        row: None,
                        ..last
                    });
                    part += 1.0;
                }
            }
            hours.push(hour);
        }
        for at in 1..hours.len() {
            hours[at - 1].lasts = hours[at - 1].lasts.min(hours[at].time - hours[at - 1].time);
        }
        self.hours = hours;
    }
}
