//! Hours of weather as a file has them: a typical year, years on record, or a logger's table. Told apart by what the file
//! holds, not by its name.
//!
//! What refuses a file, because nothing safe can be made of it: a header that is not understood, times that do not ascend
//! or come twice, a date that cannot be read, a label that the numbers belie, a last row that is cut short, rows more than
//! 6 h apart throughout, more than one temperature in a hundred that is none. What is told and read on, because the hours
//! concerned then count as unknown: values marked as missing, a few cells that are no temperature, hours that are
//! not there. Up to 6 h without a temperature are bridged by a straight line, and said to be.

mod cold_days;
mod counts;
mod days;
mod drawn;
mod epw;
mod fixed;
mod form;
mod freezing;
mod holes;
mod packed;
mod record;
mod scale;
mod season;
mod shares;
mod tabled;
mod tmy3;
mod told;
mod winters;

pub use cold_days::{ColdDays, Swing};
pub use counts::Run;
pub use drawn::{Drawn, Figure};
pub use form::Form;
pub(super) use packed::unpacked;
pub use shares::Month;
pub use winters::{Fit, Winter};

use super::order::too_long_after;
use super::{moment, spell::DAY};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::text;
use std::sync::Arc;

/// Hours that follow one another further apart than this many of the usual steps have a gap between them.
const GAP: f64 = 1.5;

/// Where the weather was measured, as far as the file says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Station {
    /// Its name.
    pub name: Option<Arc<str>>,
    /// State or province.
    pub state: Option<Arc<str>>,
    /// Country.
    pub country: Option<Arc<str>>,
    /// Its number (WMO).
    pub number: Option<Arc<str>>,
    /// Degrees north.
    pub latitude: Option<f64>,
    /// Degrees east.
    pub longitude: Option<f64>,
    /// m above the sea.
    pub elevation: Option<f64>,
    /// Hours its clock is ahead of UTC.
    pub utc_offset: Option<f64>,
}

/// The weather at one time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hour {
    /// s on the file's one clock: since the start of 1970 where its rows have dates, else as they count. A typical year
    /// stands in 1970, or in 1972 where it has a 29 February.
    pub time: f64,
    /// How long it stands for, s: until the next, and the usual step about it at most.
    pub lasts: f64,
    /// Outdoor dry bulb, K.
    pub kelvin: f64,
    /// Relative humidity, 0 to 1.
    pub humidity: Option<f64>,
    /// Wind, m/s.
    pub wind: Option<f64>,
    /// The row it was read from; `None` where a straight line bridges a gap.
    pub row: Option<u32>,
}

/// A stretch between two temperatures in which there should be others.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The last temperature before it, s, and its row.
    pub from: (f64, u32),
    /// The first one after it, s, and its row.
    pub to: (f64, u32),
    /// The usual step about it, s.
    pub step: f64,
    /// Whether it is bridged by a straight line: 6 h at most.
    pub bridged: bool,
}

impl Gap {
    /// The problem it is to whoever needs every hour.
    pub(super) fn problem(&self, of: &Hourly) -> Diagnostic {
        let (time, before) = (of.said(self.to.0), of.said(self.from.0));
        let place = Location::cell(&of.file, self.to.1, None);
        too_long_after(self.to.0 - self.from.0, &time, &before, self.from.1, place)
    }
}

/// Hours of weather on one clock, in order of time.
#[derive(Clone, Debug, PartialEq)]
pub struct Hourly {
    /// The file as the person named it.
    pub file: Arc<str>,
    /// What kind of file it is.
    pub form: Form,
    /// Where it was measured.
    pub station: Station,
    /// The hours, those that bridge a gap among them.
    pub hours: Vec<Hour>,
    /// The usual step from one to the next, s.
    pub step: f64,
    /// Whether it is a year of ordinary months: put together from different years, or called so by its heading.
    pub typical: bool,
    /// Whether it is put together from different years.
    pub pieced: bool,
    /// Whether the rows have dates.
    pub dated: bool,
    /// Whether a row stands for what came before its time, so that 24:00 belongs to the day it ends.
    pub ends_hour: bool,
    /// Rows without a temperature: marked as missing, left blank, or none that can be read.
    pub missing: usize,
    /// Gaps between temperatures, bridged or not.
    pub gaps: Vec<Gap>,
    /// What is told of it, located, in the order it was found.
    pub notes: Diagnostics,
}

impl Hourly {
    /// Reads a weather file of 35 fields under eight header lines (EPW), one of typical years under two (TMY3), or a table
    /// of times and outdoor temperatures in any of the ways [`super::Spell::series`] reads, with relative humidity and wind
    /// where there are such columns; each may be packed by gzip. All problems come at once.
    pub fn read(file: &str, bytes: &[u8]) -> Result<Self, Diagnostics> {
        let one = Diagnostics::from;
        let bytes = unpacked(file, bytes).map_err(one)?;
        if let Some(problem) = form::other(file, &bytes) {
            return Err(problem.into());
        }
        let form = Form::of(&bytes);
        let text::Decoded { text, note, .. } = text::decode_any(file, &bytes).map_err(one)?;
        let mut hourly = match form {
            Form::Epw => epw::read(file, &text),
            Form::Tmy3 => tmy3::read(file, &text),
            Form::Table => tabled::read(file, &text),
        }?;
        hourly.notes.extend(note.map(|what| Diagnostic::new(Location::whole(file), what)));
        Ok(hourly)
    }

    /// Gaps that are bridged by a straight line.
    pub fn bridged(&self) -> usize {
        self.gaps.iter().filter(|it| it.bridged).count()
    }

    /// Hours that were measured, not those on a straight line over a gap.
    pub fn measured(&self) -> impl DoubleEndedIterator<Item = &Hour> {
        self.hours.iter().filter(|it| it.row.is_some())
    }

    /// How long it covers, s, gaps among it.
    pub fn span(&self) -> f64 {
        match self.hours.as_slice() {
            [first, .., last] => last.time - first.time + last.lasts,
            _ => 0.0,
        }
    }

    /// A time of it as people write it: `1999-01-14 05:00`, without a year in a typical year, or `hour 12.5`.
    pub fn said(&self, time: f64) -> String {
        if !self.dated {
            return format!("hour {}", super::order::hours(time));
        }
        // Midnight is the end of a day where rows stand for what came before them.
        let is_midnight = self.ends_hour && time.rem_euclid(DAY) == 0.0;
        let text = if is_midnight {
            let before = moment::text(time - DAY);
            format!("{}24:00", before.strip_suffix("00:00").unwrap_or(&before))
        } else {
            moment::text(time)
        };
        if self.typical { text.split_once('-').map_or("", |(_, rest)| rest).to_owned() } else { text }
    }

    /// Whether the times of two hours that follow one another lie further apart than they should.
    fn parted(pair: &[Hour]) -> bool {
        pair[1].time - pair[0].time > GAP * pair[0].lasts
    }

    /// Stretches of hours without a gap.
    pub(super) fn stretches(&self) -> impl Iterator<Item = &[Hour]> {
        self.hours.chunk_by(|a, b| !Self::parted(&[*a, *b]))
    }
}
