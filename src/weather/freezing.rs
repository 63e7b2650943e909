//! The air-freezing index: how far the sum of (daily mean − 0 °C) falls in a winter.

use super::calendar::{DAY, civil_from_days};
use super::days::Day;
use super::hourly::{FREEZING, Hourly};
use super::interpolate::interpolate;
use super::season::Season;

/// A day of which less is known has no mean, h.
const LEAST_KNOWN: f64 = 18.0;
/// The share of the days that may have no mean.
const MOST_MISSING: f64 = 0.05;

impl Hourly {
    /// The air-freezing index of a typical year, K·s, with its autumn before its spring. `None` for any other file.
    /// It is that of an ordinary winter, not of a design winter.
    pub fn ordinary_freezing_index(&self) -> Option<f64> {
        if !self.is_typical() {
            return None;
        }
        let days = self.days();
        let (_, month, _) = civil_from_days(days.first()?.day);
        let half = days.partition_point(|it| civil_from_days(it.day).1 < self.season().begins);
        let turned = [&days[half..], &days[..half]].concat();
        let whole = month == 1 && turned.iter().all(|it| it.known >= LEAST_KNOWN) && turned.len() >= 365;
        whole.then(|| fall(turned.iter().map(|it| it.mean)))
    }
}

impl Season {
    /// The index of one winter, K·s, of its days from July to June as far as the record reaches. `None` if more than one
    /// in twenty of those, or of the days from October to April, has no mean, and where the record begins or ends within the
    /// winter on a day below freezing: the sum may fall further than it shows.
    pub(super) fn freezing_index(self, days: &[Day], winter: i64) -> Option<f64> {
        let all: Vec<u32> = (0..12).map(|it| (self.begins - 1 + it) % 12 + 1).collect();
        let all = self.days(winter, &all);
        let known: Vec<[f64; 2]> =
            days.iter().filter(|it| it.known >= LEAST_KNOWN).map(|it| [it.day, it.mean]).collect();
        let ([first, ..], [begins, .., ends]) = (known.as_slice(), all.as_slice()) else { return None };
        let last = known.last()?;
        let reached: Vec<f64> = all.iter().copied().filter(|it| (first[0]..=last[0]).contains(it)).collect();
        let cut_off = first[0] > *begins && first[1] < FREEZING || last[0] < *ends && last[1] < FREEZING;
        let is_known = |wanted: &[f64]| {
            let has = |day: &f64| known.binary_search_by(|it| it[0].total_cmp(day)).is_ok();
            let missing = wanted.iter().filter(|it| !has(it)).count();
            #[allow(clippy::cast_precision_loss, reason = "days of a year")]
            let share = missing as f64 / wanted.len() as f64;
            share <= MOST_MISSING
        };
        let whole = !cut_off && is_known(&self.days(winter, &self.frost)) && is_known(&reached);
        whole.then(|| fall(reached.iter().map(|day| interpolate(&known, *day))))
    }
}

/// How far the sum of (daily mean − 0 °C) falls from a high to a later low, K·s.
fn fall(means: impl Iterator<Item = f64>) -> f64 {
    let (mut sum, mut highest, mut most) = (0.0, 0.0_f64, 0.0_f64);
    for mean in means {
        sum += (mean - FREEZING) * DAY;
        highest = highest.max(sum);
        most = most.max(highest - sum);
    }
    most
}
