//! The coldest hours of a year, by the figures that are published of them.
//!
//! Between the 99 % value, the 99.6 % value and the mean annual low the logarithm of the part of the year that is colder
//! runs straight. Below the mean annual low, M, it falls as the chance of annual lows does, e-fold in s·√6/π (Gumbel, s
//! their deviation). Without the low the spread of the year goes on below the last percentile, scaled to it.
//!
//! Of the average year 8 h are colder than M. More than four winters in ten reach it, 1 − exp(−e^(−γ)), go below it by s·√6/π or so,
//! some 2.7 K, and stay there for a night or two: in 16 winters on record 2 to 44 h lie within 2 K of a winter's low,
//! the median 17 h. Of three records of two or three winters, too few to hold a rare one, 2 to 4 h a year
//! are below their mean low; of a normal distribution through the 99 % value, 7 h at the median of 43 places.

use super::HOURS;
use crate::climate::{AnnualLow, Climate};

/// Parts of a year colder than the 99 % value, the 99.6 % value and the mean annual low.
const COLDER: [f64; 3] = [0.01, 0.004, 8.0 / HOURS];
/// Two published figures nearer than this are one, rounded: K.
const APART: f64 = 0.05;

/// What is published of the cold of a climate, K, with the part of the year that is colder; from the warmest down.
pub(super) fn published(climate: &Climate) -> Vec<(f64, f64)> {
    let figures = [climate.heating_990, climate.heating_996, climate.annual_low.map(|it| it.mean)];
    let mut known: Vec<(f64, f64)> = Vec::new();
    for (kelvin, part) in figures.into_iter().zip(COLDER).filter_map(|(it, part)| Some((it?, part))) {
        // A low above a percentile is from other years: the percentile is kept.
        if known.last().is_none_or(|it| it.0 - APART >= kelvin) {
            known.push((kelvin, part));
        }
    }
    known
}

/// The published cold end of a year.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tail {
    known: Vec<(f64, f64)>,
    /// Kelvin in which the part falls e-fold below the last of them, where that is the annual low.
    fold: Option<f64>,
}

impl Tail {
    /// Of what [`published`] gave.
    pub(super) fn of(known: &[(f64, f64)], low: Option<AnnualLow>) -> Self {
        let is_last = |it: &AnnualLow| known.last().is_some_and(|last| last.0 == it.mean);
        let fold = low.filter(is_last).map(|it| it.deviation * 6f64.sqrt() / std::f64::consts::PI);
        Self { known: known.to_vec(), fold }
    }

    /// The part of a year that is colder than a temperature (K), with `body` for the rest of the year.
    pub(super) fn colder_than(&self, kelvin: f64, body: impl Fn(f64) -> f64) -> f64 {
        for pair in self.known.windows(2) {
            let [(warm, more), (cold, less)] = [pair[0], pair[1]];
            if (cold..warm).contains(&kelvin) {
                return less * libm::exp(libm::log(more / less) * (kelvin - cold) / (warm - cold));
            }
        }
        match self.known.last() {
            Some(&(cold, less)) if kelvin < cold => match self.fold {
                Some(fold) => less * libm::exp((kelvin - cold) / fold),
                None => less * body(kelvin) / body(cold),
            },
            _ => body(kelvin),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Beyond the last published value the body's own shape goes on, scaled to that value: half as many hours of the body are
    /// half as many of the year.
    #[test]
    fn without_a_mean_annual_low_the_tail_keeps_the_shape_of_the_body() {
        let tail = Tail { known: vec![(263.0, 0.004)], fold: None };
        let body = |kelvin: f64| if kelvin < 260.0 { 0.01 } else { 0.02 };
        assert!((tail.colder_than(255.0, body) - 0.002).abs() < 1e-12);
    }
}
