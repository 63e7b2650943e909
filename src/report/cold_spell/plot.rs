//! Temperatures and ice over time in plain characters.

use super::super::WIDTH;
use crate::section::{Moment, PLUG};
use crate::units::{Measure, System, find_unit};
use std::fmt::Write;

/// Columns left of the field.
const MARGIN: usize = 12;
/// Columns of the field.
const FIELD: usize = WIDTH - MARGIN - 1;
/// Lines of the field, about.
const LINES: f64 = 18.0;
/// Hours a column may stand for: a day is whole columns, or a column whole days.
const HOURS: [usize; 9] = [1, 2, 3, 4, 6, 8, 12, 24, 48];
/// What a column or a mark may stand for, in the reader's degrees. Freezing is a multiple of each.
const STEPS_US: [f64; 5] = [1.0, 2.0, 4.0, 8.0, 16.0];
const STEPS_SI: [f64; 4] = [1.0, 2.0, 5.0, 10.0];

/// The course of an outlet: outdoors, the seat, and below them the ice.
pub(super) fn plot(moments: &[Moment], system: System) -> String {
    let mut every = HOURS.iter().copied().find(|it| moments.len().div_ceil(*it) <= FIELD).unwrap_or(48);
    while moments.len().div_ceil(every) > FIELD {
        every += 24;
    }
    let shown: Vec<&Moment> = moments.iter().step_by(every).collect();
    let scale = Scale::of(&shown, system);
    let mut out = String::new();
    let unit = scale.unit;
    let _ = writeln!(
        out,
        "{unit}; o outdoors, S seat, - freezing, X the seat crosses {} {unit}; a column is {every} h",
        scale.freezing
    );
    for line in (scale.lowest..=scale.highest).rev() {
        field_line(&mut out, &shown, &scale, line);
    }
    time_axis(&mut out, shown.len(), every);
    if shown.iter().any(|it| it.frozen > 0.0) {
        ice(&mut out, &shown);
    }
    out
}

/// How temperatures go to lines. Line 0 is freezing.
struct Scale {
    unit: &'static str,
    freezing: f64,
    step: f64,
    lowest: i32,
    highest: i32,
}

impl Scale {
    fn of(shown: &[&Moment], system: System) -> Self {
        let (unit, freezing, steps) = match system {
            System::Us => ("°F", 32.0, &STEPS_US[..]),
            System::Si => ("°C", 0.0, &STEPS_SI[..]),
        };
        let mut scale = Self { unit, freezing, step: 1.0, lowest: 0, highest: 0 };
        let all = shown.iter().flat_map(|it| [it.outdoors, it.seat]).map(|it| scale.degrees(it) - freezing);
        let (low, high) = all.fold((0.0_f64, 0.0_f64), |(low, high), it| (low.min(it), high.max(it)));
        let widest = steps.last().copied().unwrap_or(1.0);
        scale.step = steps.iter().copied().find(|it| (high - low) / it <= LINES).unwrap_or(widest);
        (scale.lowest, scale.highest) = (scale.line_of(low), scale.line_of(high));
        scale
    }

    fn degrees(&self, kelvin: f64) -> f64 {
        let unit = find_unit(self.unit);
        unit.and_then(|it| it.from_si(kelvin, Measure::Temperature)).unwrap_or(kelvin)
    }

    #[allow(clippy::cast_possible_truncation, reason = "a temperature in steps of degrees")]
    fn line_of(&self, above_freezing: f64) -> i32 {
        (above_freezing / self.step).round() as i32
    }

    fn line(&self, kelvin: f64) -> i32 {
        self.line_of(self.degrees(kelvin) - self.freezing)
    }

    /// Whether the seat gets from one side of freezing to the other; what stands at freezing is on neither.
    fn crosses(&self, shown: &[&Moment], column: usize) -> bool {
        let side = |it: &&Moment| {
            let above = self.degrees(it.seat) - self.freezing;
            if above.abs() < 0.05 { 0.0 } else { above.signum() }
        };
        let Some(before) = column.checked_sub(1).and_then(|it| shown.get(it)) else { return false };
        shown.get(column).is_some_and(|now| side(before) != side(now))
    }
}

fn field_line(out: &mut String, shown: &[&Moment], scale: &Scale, line: i32) {
    let label = if line == 0 || line % 2 == 0 {
        format!("{} {}", scale.freezing + f64::from(line) * scale.step, scale.unit)
    } else {
        String::new()
    };
    let cells: String = shown
        .iter()
        .enumerate()
        .map(|(column, it)| {
            if scale.line(it.seat) == line {
                if scale.crosses(shown, column) { 'X' } else { 'S' }
            } else if scale.line(it.outdoors) == line {
                'o'
            } else if line == 0 {
                '-'
            } else {
                ' '
            }
        })
        .collect();
    let _ = writeln!(out, "{label:>width$} |{}", cells.trim_end(), width = MARGIN - 2);
}

/// A mark at every day, or as often as there is room.
fn time_axis(out: &mut String, columns: usize, every: usize) {
    const APART: usize = 8;
    let step = [6, 12, 24].into_iter().find(|it| it % every == 0 && it / every >= APART);
    let step = step.unwrap_or_else(|| {
        let day = 24_usize.max(every);
        day * (APART * every).div_ceil(day)
    });
    let is_tick = |column: usize| (column * every).is_multiple_of(step);
    let axis: String = (0..columns).map(|it| if is_tick(it) { '+' } else { '-' }).collect();
    let _ = writeln!(out, "{:>width$} {axis}", "", width = MARGIN - 1);
    let mut labels = String::new();
    for column in (0..columns).filter(|it| is_tick(*it)) {
        let label = (column * every).to_string();
        if column + label.len() > FIELD {
            break;
        }
        let _ = write!(labels, "{:gap$}{label}", "", gap = column.saturating_sub(labels.len()));
    }
    let _ = writeln!(out, "{:>width$} {labels}", "time, h", width = MARGIN - 1);
}

/// How much of the water is ice in tenths, and whether the bore is blocked.
fn ice(out: &mut String, shown: &[&Moment]) {
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 9")]
    let tenths = |it: &&Moment| match (it.frozen, (it.frozen * 10.0).floor().clamp(0.0, 9.0) as u32) {
        (frozen, _) if frozen <= 0.0 => ' ',
        (_, 0) => '.',
        (_, tenths) => char::from_digit(tenths, 10).unwrap_or('9'),
    };
    let blocked = |it: &&Moment| if it.plug >= 0.999 * PLUG { '#' } else { ' ' };
    let (frozen, blocked): (String, String) =
        (shown.iter().map(tenths).collect(), shown.iter().map(blocked).collect());
    for (label, cells) in [("frozen", frozen), ("blocked", blocked)] {
        let line = format!("{label:>width$} |{cells}", width = MARGIN - 2);
        let _ = writeln!(out, "{}", line.trim_end());
    }
    let _ = writeln!(out, "frozen: tenths of its water (. less than one); # the bore is blocked");
}
