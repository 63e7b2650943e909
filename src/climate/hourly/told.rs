//! What is told of hours that were read: which values count as unknown, what is odd, on which clock they are.

use super::{Form, Gap, Hourly};
use crate::climate::columns::Column;
use crate::climate::moment;
use crate::climate::order::hours;
use crate::climate::place::MONTHS;
use crate::climate::series::is_jump;
use crate::climate::spell::{DAY, HOUR};
use crate::diag::{Diagnostic, Diagnostics, Location};
use std::sync::Arc;

/// Of one kind so many are told one by one; all are counted.
const TOLD: usize = 3;
/// A clock is judged by its coldest hour where the file covers so much, s: most of a year.
const ENOUGH: f64 = 300.0 * DAY;
/// Low to high of an average day that a clock can be judged by, K.
const SWING: f64 = 3.0;
/// The coldest hour of an average day lies near sunrise, whatever the place and its time zone.
const COLDEST: std::ops::RangeInclusive<usize> = 3..=8;
/// A typical year has no 29 February.
const YEAR: f64 = 365.0 * DAY;

/// Rows that mark their temperature as missing.
pub(super) fn missing(of: &Hourly, rows: &[u32], column: &Arc<str>, all: usize) -> Option<Diagnostic> {
    let first = rows.first()?;
    let what = format!(
        "is the first of {} of {all} rows that leave the temperature blank or mark it as missing; each counts as unknown",
        rows.len()
    );
    Some(Diagnostic::new(Location::cell(&of.file, *first, Some(column)), what))
}

/// Cells that are no temperature.
pub(super) fn wrong(of: &Hourly, wrong: Diagnostics) -> Diagnostics {
    let more = wrong.len().saturating_sub(TOLD);
    let unknown =
        |it: Diagnostic| Diagnostic { message: format!("{}, and counts as unknown", it.message), ..it };
    let mut out: Diagnostics = wrong.into_iter().take(TOLD).map(unknown).collect();
    if more > 0 {
        let what = format!("has {more} more cells that are no temperature; each counts as unknown");
        out.push(Diagnostic::new(Location::whole(&of.file), what));
    }
    out
}

/// Steps that air hardly makes. A reading that is out is not told from a front, so that it stays.
pub(super) fn jumps(of: &Hourly, column: &Arc<str>) -> Diagnostics {
    let found: Diagnostics = of
        .hours
        .windows(2)
        .filter(|pair| is_jump(pair[0].kelvin, pair[1].kelvin, pair[1].time - pair[0].time))
        .filter_map(|pair| {
            let by = (pair[1].kelvin - pair[0].kelvin).abs();
            let what = format!(
                "is {:.0} °F ({by:.0} K) from the temperature before it, {} h earlier; it is read all the same",
                by * 1.8,
                hours(pair[1].time - pair[0].time)
            );
            let place = Location::cell(&of.file, pair[1].row?, Some(column));
            Some(
                Diagnostic::new(place, what)
                    .text(of.said(pair[1].time))
                    .expected("at most 25 K (45 °F) in an hour"),
            )
        })
        .collect();
    let more = found.len().saturating_sub(TOLD);
    let counted = format!("has {more} more jumps of that kind");
    let counted = (more > 0).then(|| Diagnostic::new(Location::whole(&of.file), counted));
    found.into_iter().take(TOLD).chain(counted).collect()
}

/// Gaps one by one where they are few or long, and how many there are.
pub(super) fn gaps(of: &Hourly) -> Diagnostics {
    let one = |gap: &Gap| {
        let done = if gap.bridged {
            "a straight line bridges it"
        } else {
            "too long to bridge: those hours count as unknown"
        };
        let what = format!(
            "comes {} h after the temperature before it, \"{}\" of row {}; {done}",
            hours(gap.to.0 - gap.from.0),
            of.said(gap.from.0),
            gap.from.1
        );
        Diagnostic::new(Location::cell(&of.file, gap.to.1, None), what).text(of.said(gap.to.0))
    };
    let (bridged, long): (Vec<&Gap>, Vec<&Gap>) = of.gaps.iter().partition(|it| it.bridged);
    let few = if bridged.len() > TOLD { &[] } else { bridged.as_slice() };
    let mut out: Diagnostics = few.iter().chain(long.iter().take(TOLD)).map(|it| one(it)).collect();
    let all = |gaps: &[&Gap]| hours(gaps.iter().fold(0.0, |all, it| all + it.to.0 - it.from.0 - it.step));
    if bridged.len().max(long.len()) > TOLD {
        let what = format!(
            "has {} gaps of up to 6 h, bridged by straight lines ({} h), and {} longer ones ({} h unknown)",
            bridged.len(),
            all(&bridged),
            long.len(),
            all(&long)
        );
        out.push(Diagnostic::new(Location::whole(&of.file), what));
    }
    out
}

/// A heading that says its times are UTC.
pub(super) fn utc(times: &Column) -> Option<Diagnostic> {
    let is_utc = times.name.to_lowercase().contains("utc");
    let what = "says its times are UTC: days, months and winters are cut at midnight UTC";
    is_utc.then(|| Diagnostic::new(times.place.clone(), what).text(&*times.name))
}

/// Whether the clock looks like local standard time.
pub(super) fn clock(of: &Hourly) -> Diagnostics {
    let mut out = Diagnostics::new();
    if !of.dated {
        return out;
    }
    if of.form == Form::Table
        && let Some(gap) = of.gaps.iter().find(|it| is_put_forward(it))
    {
        let what = "comes after an hour that is not there, 2:00 on a Sunday in spring; where clocks were put forward, \
                    times in summer are an hour ahead";
        let place = Location::cell(&of.file, gap.to.1, None);
        out.push(Diagnostic::new(place, what).text(of.said(gap.to.0)).expected("standard time all year"));
    }
    let is_utc = of.notes.iter().any(|it| it.message.contains("UTC"));
    if of.span() > ENOUGH && !is_utc {
        let mean = by_hour_of_day(of);
        let coldest = (0..24).min_by(|a, b| mean[*a].total_cmp(&mean[*b])).unwrap_or_default();
        let swing = mean.iter().copied().fold(f64::NEG_INFINITY, f64::max) - mean[coldest];
        if swing > SWING && !COLDEST.contains(&coldest) {
            let what = format!(
                "is coldest at {coldest}:00 on an average day, and not near sunrise: the clock may be UTC or another \
                 place's; days, months and winters are cut at its midnight"
            );
            out.push(Diagnostic::new(Location::whole(&of.file), what).expected("local standard time"));
        }
    }
    out
}

fn is_put_forward(gap: &Gap) -> bool {
    let lacking = gap.to.0 - gap.from.0 - gap.step;
    let (_, month, _) = moment::civil(gap.to.0 / DAY);
    // 1 January 1970 was a Thursday.
    let is_sunday = ((gap.to.0 / DAY).floor() + 4.0).rem_euclid(7.0) == 0.0;
    lacking == HOUR && is_sunday && [3, 4].contains(&month) && gap.to.0.rem_euclid(DAY) == 3.0 * HOUR
}

fn by_hour_of_day(of: &Hourly) -> [f64; 24] {
    let (mut sums, mut weights) = ([0.0; 24], [0.0; 24]);
    for hour in &of.hours {
        let of_day = hour.time.rem_euclid(DAY);
        let at = (1..24).take_while(|it| f64::from(*it) * HOUR <= of_day).count();
        sums[at] += hour.kelvin * hour.lasts;
        weights[at] += hour.lasts;
    }
    std::array::from_fn(|at| if weights[at] > 0.0 { sums[at] / weights[at] } else { f64::INFINITY })
}

/// A file of a whole year that does not cover it; a table that is taken to cover whole years and falls a little short.
pub(super) fn cover(of: &Hourly) -> Diagnostics {
    let [first, .., last] = of.hours.as_slice() else { return Diagnostics::new() };
    let (short, years) = if of.form == Form::Table {
        of.years().map_or((0.0, 1.0), |(years, end)| (end - first.time - of.span(), years))
    } else {
        (YEAR - of.span(), 1.0)
    };
    if short < HOUR / 2.0 {
        return Diagnostics::new();
    }
    let years = if years > 1.0 { format!("{years} years") } else { "a year".into() };
    let (from, to) = (of.said(first.time), of.said(last.time));
    let what = format!("covers {from} to {to}, {} h less than {years}", hours(short));
    let problem = Diagnostic::new(Location::whole(&of.file), what);
    let is_fixed = of.form != Form::Table;
    if is_fixed { problem.expected("every hour from 1 January to 31 December") } else { problem }.into()
}

/// Rows that lie further apart for a while.
pub(super) fn steps(of: &Hourly) -> Option<Diagnostic> {
    let longest = of.measured().map(|it| it.lasts).fold(0.0, f64::max);
    let wider = of.measured().filter(|it| it.lasts > of.step).count();
    let what = format!(
        "has {wider} rows that stand for more than the usual {} h, up to {} h: they lie so far apart for a while, and are \
         no gaps",
        hours(of.step),
        hours(longest)
    );
    (wider > 0).then(|| Diagnostic::new(Location::whole(&of.file), what))
}

/// A file without a latitude that is coldest when the south is.
pub(super) fn south(of: &Hourly) -> Option<Diagnostic> {
    let month = of.is_taken_for_southern().then(|| of.coldest_month().ok()).flatten()?;
    let name = MONTHS.get(usize::from(month.month) - 1)?.0;
    let what = format!(
        "gives no latitude and is coldest in {name}: it is taken to be south of the equator, where winters are told from \
         January to December"
    );
    Some(Diagnostic::new(Location::whole(&of.file), what))
}
