//! A cold spell: the outdoor temperature in time that drives freezing. Made from a climate's design low, typed as
//! stretches, or read from a series of measurements.

use super::place::OUTDOORS;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::units::{self, Dim, Measure};
use std::f64::consts::TAU;
use std::sync::Arc;

pub(super) const HOUR: f64 = 3600.0;
pub(super) const DAY: f64 = 24.0 * HOUR;
/// Stretches typed by hand are no season.
const LONGEST_TYPED: f64 = 60.0 * DAY;
/// The most days a design spell is held.
pub const MOST_DAYS: u32 = 30;

/// Outdoor temperature in time: straight lines between knots, constant before the first and after the last.
#[derive(Clone, Debug, PartialEq)]
pub struct Spell {
    knots: Vec<[f64; 2]>,
    length: f64,
    kind: Kind,
}

/// What a spell is, in figures that a report can word. Temperatures in K, times in s.
#[derive(Clone, Debug, PartialEq)]
pub enum Kind {
    /// The stated model of [`Spell::design`].
    Design {
        /// Daily mean before the spell.
        start: f64,
        /// The low of each day held.
        low: f64,
        /// Peak to peak of a day, K.
        swing: f64,
        /// Days held.
        days: u32,
    },
    /// Stretches of one temperature each, in order.
    Typed {
        /// Before the first stretch and after the last.
        start: f64,
        /// The stretches.
        stretches: Vec<Stretch>,
    },
    /// Rows of a file.
    Series {
        /// The file as the person named it.
        file: Arc<str>,
        /// The time of the first row used, as it stands there.
        from: Arc<str>,
        /// The time of the last row used, as it stands there.
        to: Arc<str>,
        /// Rows used.
        rows: usize,
        /// How much of it leads in to the coldest stretch, s; `None` where the whole series is used.
        lead: Option<f64>,
        /// Gaps between the rows used that were bridged by a straight line.
        gaps: usize,
        /// The longest of them, s; 0 without any.
        longest_gap: f64,
        /// Whether its months are of different years put together: such a year understates extremes.
        typical: bool,
        /// How many things its reader had to tell of the whole file.
        told: usize,
    },
}

/// One temperature for a time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch {
    /// K.
    pub temperature: f64,
    /// s.
    pub time: f64,
}

/// Why figures make no design spell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NoSpell {
    /// It would start below its own low.
    #[error(
        "the design low is warmer than it is before the spell, at the mean of the coldest month: check it, or state `spell: {{ start: }}`"
    )]
    StartsBelowLow,
    /// The swing is below zero, the days are not 1 to [`MOST_DAYS`], or a temperature is no number.
    #[error("a spell has a swing of zero or more and is held 1 to {MOST_DAYS} days")]
    Figures,
}

impl Spell {
    /// A spell that falls to a design low, by this stated model, from midnight (t = 0):
    ///
    /// * in the first 24 h the daily mean falls in a straight line from `start` to `low + swing/2`, while the swing
    ///   grows in step from nothing;
    /// * then `days` days of a cosine day, coldest at 6 in the morning: T = low + swing/2·(1 − cos 2π(t − 6 h)/24 h),
    ///   so that each touches `low` exactly and none is below it;
    /// * then 24 h of straight rise back to `start`, and `start` from there on.
    ///
    /// Knots lie an hour apart up to the rise. The length is (1 + `days`)·24 h: the rise is not counted.
    ///
    /// # Valid for
    /// `start` at or above `low` (K); `swing` at or above 0 K; `days` from 1 to [`MOST_DAYS`].
    /// # Source
    /// A model of this project, not a published design day. Real lows come near sunrise; a real spell is rarely as cold
    /// on each of its days, so that holding the low for days is on the cold side.
    pub fn design(start: f64, low: f64, swing: f64, days: u32) -> Result<Self, NoSpell> {
        let figures = [start, low, swing].into_iter().all(f64::is_finite);
        if !figures || swing < 0.0 || !(1..=MOST_DAYS).contains(&days) {
            return Err(NoSpell::Figures);
        }
        if start < low {
            return Err(NoSpell::StartsBelowLow);
        }
        let held_until = 24 * (1 + days);
        let mut knots: Vec<[f64; 2]> = (0..=held_until)
            .map(|hour| {
                let grown = f64::from(hour.min(24)) / 24.0;
                // Hours since the coldest, as whole numbers, so that the coldest is met without rounding.
                let since = f64::from((hour + 18) % 24);
                let above = swing / 2.0 * (1.0 - libm::cos(TAU * since / 24.0));
                let floor = if hour < 24 { start + grown * (low - start) } else { low };
                [f64::from(hour) * HOUR, floor + grown * above]
            })
            .collect();
        let length = f64::from(held_until) * HOUR;
        knots.push([length + DAY, start]);
        Ok(Self { knots, length, kind: Kind::Design { start, low, swing, days } })
    }

    /// A spell typed as `12 °F for 60 h`, or as stretches parted by commas: `20 °F for 12 h, 5 °F for 1 day`.
    ///
    /// Until t = 0 it is at `start`, K; each stretch begins with a step; after the last it returns to `start` over 1 h.
    /// All problems come at once, at the place given. The length is that of the stretches.
    pub fn typed(text: &str, start: f64, at: &Location) -> Result<Self, Diagnostics> {
        let mut problems = Diagnostics::new();
        let stretches: Vec<Stretch> = text
            .split(',')
            .filter_map(|part| stretch(part.trim(), at).map_err(|problem| problems.push(problem)).ok())
            .collect();
        let length: f64 = stretches.iter().map(|it| it.time).sum();
        if length > LONGEST_TYPED {
            problems.push(Diagnostic::new(at.clone(), "is more than 60 days in all").text(text));
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        let mut knots = vec![[0.0, start]];
        let mut t = 0.0;
        for it in &stretches {
            knots.push([t, it.temperature]);
            t += it.time;
            knots.push([t, it.temperature]);
        }
        knots.push([t + HOUR, start]);
        Ok(Self { knots, length: t, kind: Kind::Typed { start, stretches } })
    }

    /// A spell of measured knots, at least one; the first at t = 0.
    pub(super) fn measured(knots: Vec<[f64; 2]>, kind: Kind) -> Self {
        let length = knots.last().map_or(0.0, |last| last[0]);
        Self { knots, length, kind }
    }

    /// Outdoor temperature at a time, K; at a step, that after it.
    pub fn outdoors(&self, t: f64) -> f64 {
        at(&self.knots, t)
    }

    /// Time, s, and temperature, K, in order of time. Two knots at one time are a step.
    pub fn knots(&self) -> &[[f64; 2]] {
        &self.knots
    }

    /// How long the spell asked for lasts, s, from t = 0; a return to the start comes after it.
    pub fn length(&self) -> f64 {
        self.length
    }

    /// The temperature before it, K: what everything has settled to when it begins.
    pub fn start(&self) -> f64 {
        self.outdoors(-1.0)
    }

    /// The lowest outdoor temperature, K.
    pub fn coldest(&self) -> f64 {
        self.knots.iter().map(|knot| knot[1]).fold(f64::INFINITY, f64::min)
    }

    /// What it is.
    pub fn kind(&self) -> &Kind {
        &self.kind
    }
}

/// The value of straight lines between knots at a time; constant beyond either end.
pub(super) fn at(knots: &[[f64; 2]], t: f64) -> f64 {
    let next = knots.partition_point(|knot| knot[0] <= t);
    match (next.checked_sub(1).and_then(|last| knots.get(last)), knots.get(next)) {
        (Some([t0, a]), Some([t1, b])) => a + (b - a) * ((t - t0) / (t1 - t0)),
        (Some([_, only]), None) | (None, Some([_, only])) => *only,
        (None, None) => f64::NAN,
    }
}

fn stretch(part: &str, at: &Location) -> Result<Stretch, Diagnostic> {
    const SHAPE: &str = "a temperature and a time such as 12 °F for 60 h";
    let problem = |what: &str| Diagnostic::new(at.clone(), what).text(part).expected(SHAPE);
    let words: Vec<&str> = part.split_whitespace().collect();
    if words.is_empty() {
        return Err(Diagnostic::new(at.clone(), "a stretch of the spell is left blank").expected(SHAPE));
    }
    let Some(between) = words.iter().position(|word| word.eq_ignore_ascii_case("for")) else {
        return Err(problem("does not say for how long"));
    };
    let (temperature, time) = (words[..between].join(" "), words[between + 1..].join(" "));
    let read = |text: &str, measure| {
        units::parse(text, measure).map(|it| it.is).map_err(|refused| {
            let refused = refused.at(at.clone(), text);
            if text.is_empty() { problem("lacks its temperature or its time") } else { refused }
        })
    };
    let kelvin = read(&temperature, Measure::Temperature)?;
    let seconds = read(&time, Measure::Of(Dim::TIME))?;
    if !(OUTDOORS[0]..=OUTDOORS[1]).contains(&kelvin) {
        let problem = Diagnostic::new(at.clone(), "is no outdoor temperature there is").text(temperature);
        return Err(problem.expected("one from -112 °F to 104 °F (-80 °C to 40 °C)"));
    }
    if seconds <= 0.0 {
        let problem = Diagnostic::new(at.clone(), "is no time a stretch can last").text(time);
        return Err(problem.expected("more than nothing, and at most 60 days in all"));
    }
    Ok(Stretch { temperature: kelvin, time: seconds })
}
