//! A cold spell: the outdoor temperature in time that drives freezing.

use super::clock::Clock;
use crate::weather::{DAY, HOUR, interpolate};
use std::f64::consts::TAU;
use std::sync::Arc;

/// The most days a design spell is held.
pub const MOST_DAYS: u32 = 30;

/// Outdoor temperature in time: straight lines between knots, constant before the first and after the last.
#[derive(Clone, Debug, PartialEq)]
pub struct Spell {
    knots: Vec<[f64; 2]>,
    length: f64,
    kind: SpellKind,
    clock: Clock,
}

/// How a spell is defined. Temperatures in K, times in s.
#[derive(Clone, Debug, PartialEq)]
pub enum SpellKind {
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
        /// The time of the first row used.
        from: Arc<str>,
        /// The time of the last row used.
        to: Arc<str>,
        /// Rows used.
        rows: usize,
        /// The time before the coldest stretch, s; `None` if the whole series is used.
        lead: Option<f64>,
        /// Gaps between the rows used that were bridged by a straight line.
        gaps: usize,
        /// The longest of them, s; 0 without any.
        longest_gap: f64,
        /// Whether it is a typical year, which understates extremes.
        typical: bool,
        /// How many warnings there are about the whole file.
        warnings: usize,
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

/// Why figures do not make a design spell.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum SpellError {
    /// It would start below its own low.
    #[error(
        "the design low is warmer than the start of the spell, the mean of the coldest month: check it, or state `spell: {{ start: }}`"
    )]
    StartsBelowLow,
    /// The swing is negative, the days are not 1 to [`MOST_DAYS`], or a temperature is not finite.
    #[error("a spell needs a swing of zero or more and 1 to {MOST_DAYS} days")]
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
    pub fn design(start: f64, low: f64, swing: f64, days: u32) -> Result<Self, SpellError> {
        let figures = [start, low, swing].into_iter().all(f64::is_finite);
        if !figures || swing < 0.0 || !(1..=MOST_DAYS).contains(&days) {
            return Err(SpellError::Figures);
        }
        if start < low {
            return Err(SpellError::StartsBelowLow);
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
        let kind = SpellKind::Design { start, low, swing, days };
        Ok(Self { knots, length, kind, clock: Clock::FromMidnight })
    }

    /// A spell of knots, at least one; the first at t = 0. It lasts for `length` s.
    pub(super) fn of_knots(knots: Vec<[f64; 2]>, length: f64, kind: SpellKind, clock: Clock) -> Self {
        Self { knots, length, kind, clock }
    }

    /// Outdoor temperature at a time, K; at a step, that after it.
    pub fn outdoors(&self, t: f64) -> f64 {
        interpolate(&self.knots, t)
    }

    /// Time, s, and temperature, K, in order of time. Two knots at one time are a step.
    pub fn knots(&self) -> &[[f64; 2]] {
        &self.knots
    }

    /// How long the spell asked for lasts, s, from t = 0; a return to the start comes after it.
    pub fn length(&self) -> f64 {
        self.length
    }

    /// The same spell after a long time at a temperature, K, with a step to its own first one.
    #[must_use]
    pub fn after(mut self, before: f64) -> Self {
        let start = self.knots.first().map_or(0.0, |it| it[0]);
        self.knots.insert(0, [start, before]);
        self
    }

    /// The temperature before it, K: everything is in a steady state with it when the spell begins.
    pub fn start(&self) -> f64 {
        self.outdoors(-1.0)
    }

    /// The lowest outdoor temperature, K.
    pub fn coldest(&self) -> f64 {
        self.knots.iter().map(|knot| knot[1]).fold(f64::INFINITY, f64::min)
    }

    /// The highest outdoor temperature, K.
    pub fn warmest(&self) -> f64 {
        self.knots.iter().map(|knot| knot[1]).fold(f64::NEG_INFINITY, f64::max)
    }

    /// When it is first colder outdoors than a temperature, s; 0 if it is so before the spell. `None` if never.
    pub fn first_below(&self, kelvin: f64) -> Option<f64> {
        if self.start() < kelvin {
            return Some(0.0);
        }
        let falls = self.knots.windows(2).find(|pair| pair[1][1] < kelvin)?;
        let [[from, warm], [to, cold]] = [falls[0], falls[1]];
        Some(from + (to - from) * (warm - kelvin) / (warm - cold))
    }

    /// Its clock.
    pub fn clock(&self) -> Clock {
        self.clock
    }

    /// How it is defined.
    pub fn kind(&self) -> &SpellKind {
        &self.kind
    }
}
