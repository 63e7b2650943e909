//! Dates and times of day as files write them. All rows of a file share one clock: offsets from UTC are read, names of time
//! zones are not.

pub(crate) use crate::units::{DAY, HOUR};

/// What a time should look like.
pub(super) const TIME_FORMAT: &str =
    "a time such as 2026-01-14 05:00 or 1/14/2026 5:00 (month first), or hours such as 2.5";
/// The days of a week, from the day of the week of 1 January 1970 on.
const WEEKDAYS: [&str; 7] = ["Thursday", "Friday", "Saturday", "Sunday", "Monday", "Tuesday", "Wednesday"];
/// No clock is further from UTC, s.
const MOST_OFFSET: f64 = 14.0 * HOUR;

/// Why a text is not a date and time of day. Displays as the rest of the sentence that starts with the text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub(crate) enum TimeError {
    #[error("needs both a date and a time of day")]
    Incomplete,
    #[error("has no valid date")]
    Date,
    #[error("needs a year of four digits")]
    YearDigits,
    #[error("is before 1800")]
    TooEarly,
    #[error("names a weekday that its date does not have")]
    Weekday,
    #[error("has a month that is not 1 to 12")]
    Month,
    #[error("has no such day in its month")]
    Day,
    #[error("names a time zone; only UTC, Z and offsets such as -06:00 are read")]
    TimeZone,
    #[error("has an offset from UTC out of range")]
    Offset,
    #[error("has no valid time of day")]
    TimeOfDay,
    #[error("has an hour that is not 1 to 12")]
    TwelveHour,
}

/// A date or a weekday with a time of day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stamp {
    /// s since the start of 1970 on its own clock; of a weekday without a date, since the start of a Thursday.
    pub time: f64,
    /// How far that clock is ahead of UTC, s, if stated.
    pub offset: Option<f64>,
    /// Whether it has a date.
    pub is_date: bool,
}

/// Whether a text is meant as a date, a weekday, a time of day or several of these, rather than a number.
pub(super) fn is_dated(text: &str) -> bool {
    let half_day = || ["AM", "PM"].iter().any(|half| text.to_ascii_uppercase().ends_with(half));
    text.trim_start_matches(['-', '+', '−']).contains(['-', '/', ':'])
        || split_weekday(text).0.is_some()
        || half_day()
}

/// Parses `2026-01-14 05:00`, `2026-01-14T05:00-06:00`, `1/14/2026 5 PM`, `Wed 1/14/2026 5:00 PM` or `Wed 5 PM`.
pub(super) fn parse_time(text: &str) -> Result<Stamp, TimeError> {
    let (weekday, rest) = split_weekday(text.trim());
    let (day, clock) = match (weekday, rest.split_once([' ', 'T', 't'])) {
        (_, Some((date, clock))) if date.contains(['-', '/']) => (parse_date(date)?, clock),
        (Some(weekday), _) if !rest.contains('/') => (weekday, rest),
        (_, Some((date, _))) => (parse_date(date)?, ""),
        (_, None) => return Err(TimeError::Incomplete),
    };
    let (clock, offset) = split_offset(clock.trim())?;
    if weekday.is_some_and(|weekday| (day - weekday).rem_euclid(7.0) != 0.0) {
        return Err(TimeError::Weekday);
    }
    let time = day * DAY + parse_time_of_day(clock)?;
    Ok(Stamp { time, offset, is_date: rest.split(' ').next().is_some_and(|date| date.contains(['-', '/'])) })
}

/// A weekday at the start or the end of a text, as days since the start of 1970, and the rest.
fn split_weekday(text: &str) -> (Option<f64>, &str) {
    let find = |word: &str| {
        let word = word.trim_end_matches(['.', ',']);
        let is_start = |day: &&str| {
            word.len() >= 3 && day.get(..word.len()).is_some_and(|start| start.eq_ignore_ascii_case(word))
        };
        (0_u8..).zip(WEEKDAYS).find(|(_, day)| is_start(day)).map(|(index, _)| f64::from(index))
    };
    let (first, after) = text.split_once(' ').unwrap_or((text, ""));
    let (before, last) = text.rsplit_once(' ').unwrap_or(("", text));
    match (find(first), find(last)) {
        (Some(day), _) => (Some(day), after.trim_start()),
        (None, Some(day)) => (Some(day), before.trim_end().trim_end_matches(',')),
        (None, None) => (None, text),
    }
}

/// A time of day without its `Z`, `UTC` or `-06:00`, and the offset, s.
fn split_offset(clock: &str) -> Result<(&str, Option<f64>), TimeError> {
    let upper = clock.to_ascii_uppercase();
    if let Some(zone) = ["Z", "UTC", "GMT"].iter().find(|zone| upper.ends_with(**zone)) {
        return Ok((clock[..clock.len() - zone.len()].trim_end(), Some(0.0)));
    }
    let Some(at) = clock.find(['+', '-', '−']) else { return Ok((clock, None)) };
    let (clock, offset) = clock.split_at(at);
    Ok((clock.trim_end(), Some(parse_offset(offset)?)))
}

/// Seconds ahead of UTC of `-06:00`, `+0530` or `-6`.
fn parse_offset(text: &str) -> Result<f64, TimeError> {
    let mut rest = text.chars();
    let sign = if rest.next() == Some('+') { 1.0 } else { -1.0 };
    let rest = rest.as_str();
    let (hours, minutes) = match rest.split_once(':') {
        Some(parts) => parts,
        None if rest.len() == 4 && rest.is_ascii() => rest.split_at(2),
        None => (rest, "0"),
    };
    let (Some(hours), Some(minutes @ 0..60)) = (digits(hours), digits(minutes)) else {
        return Err(TimeError::TimeZone);
    };
    let offset = f64::from(hours) * HOUR + f64::from(minutes) * 60.0;
    if offset > MOST_OFFSET { Err(TimeError::Offset) } else { Ok(sign * offset) }
}

/// The weekday of a time since the start of 1970, in three letters.
pub(crate) fn weekday(seconds: f64) -> &'static str {
    let day = (seconds / DAY).floor().rem_euclid(7.0);
    let index = (0_u8..7).position(|index| f64::from(index) == day);
    &WEEKDAYS[index.unwrap_or_default()][..3]
}

/// The month and the day of a time since the start of 1970.
pub(crate) fn month_and_day(seconds: f64) -> (u32, u32) {
    let (_, month, day) = civil_from_days((seconds / DAY).floor());
    (month, day)
}

/// A date and a time of day in two cells as one text; a bare hour such as `5` or `0500` becomes `5:00` or `05:00`.
pub(super) fn join_date(date: &str, clock: &str) -> String {
    let is_number = clock.bytes().all(|byte| byte.is_ascii_digit());
    match clock.len() {
        1 | 2 if is_number => format!("{date} {clock}:00"),
        4 if is_number => format!("{date} {}:{}", &clock[..2], &clock[2..]),
        _ => format!("{date} {clock}").trim().to_owned(),
    }
}

fn parse_date(date: &str) -> Result<f64, TimeError> {
    let slashed = date.contains('/');
    let parts: Vec<&str> = date.split(if slashed { '/' } else { '-' }).collect();
    let &[first, second, third] = parts.as_slice() else { return Err(TimeError::Date) };
    let (year, month, day) = if slashed { (third, first, second) } else { (first, second, third) };
    if year.len() != 4 {
        return Err(TimeError::YearDigits);
    }
    let (Some(year), Some(month), Some(day)) = (digits(year), digits(month), digits(day)) else {
        return Err(TimeError::Date);
    };
    match (year, month, day) {
        (..1800, ..) => Err(TimeError::TooEarly),
        (_, 0 | 13.., _) => Err(TimeError::Month),
        _ if day < 1 || day > days_in_month(year, month) => Err(TimeError::Day),
        _ => Ok(days_from_civil(year, month, day)),
    }
}

/// Days since 1 January 1970 of a day of the Gregorian calendar from the year 1 on: H. Hinnant, "chrono-Compatible
/// Low-Level Date Algorithms", `days_from_civil`. Years start in March, so that a leap day comes last.
pub(super) fn days_from_civil(year: u32, month: u32, day: u32) -> f64 {
    let year = if month <= 2 { year - 1 } else { year };
    let (era, of_era) = (year / 400, year % 400);
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    let of_era = of_era * 365 + of_era / 4 - of_era / 100 + of_year;
    f64::from(era * 146_097 + of_era) - 719_468.0
}

/// The year, the month and the day of a day since 1 January 1970: the inverse of [`days_from_civil`], from the year 1 on.
pub(super) fn civil_from_days(day: f64) -> (i64, u32, u32) {
    #[allow(clippy::cast_possible_truncation, reason = "days of a few thousand years")]
    let days = day.floor() as i64 + 719_468;
    let (era, of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let of_year_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * of_year_era + of_year_era / 4 - of_year_era / 100);
    let of_march = (5 * of_year + 2) / 153;
    let month = if of_march < 10 { of_march + 3 } else { of_march - 9 };
    let year = of_year_era + era * 400 + i64::from(month <= 2);
    let small = |number: i64| u32::try_from(number).unwrap_or_default();
    (year, small(month), small(of_year - (153 * of_march + 2) / 5 + 1))
}

/// A time as [`parse_time`] reads it: `2026-01-14 05:00`.
pub(super) fn format_time(seconds: f64) -> String {
    let minutes = (seconds / 60.0).round();
    let (year, month, day) = civil_from_days((minutes / 1440.0).floor());
    let of_day = minutes.rem_euclid(1440.0);
    format!("{year}-{month:02}-{day:02} {:02}:{:02}", (of_day / 60.0).floor(), of_day % 60.0)
}

/// How many days a month has.
pub(super) fn days_in_month(year: u32, month: u32) -> u32 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        _ => 31,
    }
}

/// Seconds since midnight of `5:00`, `05:00:30.5`, `5:00 PM` or `24:00`.
pub(super) fn parse_time_of_day(clock: &str) -> Result<f64, TimeError> {
    let upper = clock.to_ascii_uppercase();
    if upper.is_empty() {
        return Err(TimeError::Incomplete);
    }
    let (numbers, half) = match (upper.strip_suffix("AM"), upper.strip_suffix("PM")) {
        (Some(rest), _) => (rest.trim_end(), Some(0)),
        (_, Some(rest)) => (rest.trim_end(), Some(12)),
        (None, None) => (upper.as_str(), None),
    };
    if half.is_none() && upper.ends_with(|c: char| c.is_ascii_alphabetic()) {
        return Err(TimeError::TimeZone);
    }
    let (numbers, fraction) = numbers.split_once('.').unwrap_or((numbers, "0"));
    let parts: Option<Vec<u32>> = numbers.split(':').map(digits).collect();
    let (hour, minute, second) = match parts.as_deref() {
        Some(&[hour]) if fraction == "0" && half.is_some() => (hour, 0, 0),
        Some(&[hour, minute]) if fraction == "0" => (hour, minute, 0),
        Some(&[hour, minute, second]) => (hour, minute, second),
        _ => return Err(TimeError::TimeOfDay),
    };
    let scale = fraction.bytes().fold(1.0, |scale, _| scale * 10.0);
    let fraction = f64::from(digits(fraction).ok_or(TimeError::TimeOfDay)?) / scale;
    let hour = match half {
        Some(later) if (1..=12).contains(&hour) => hour % 12 + later,
        Some(_) => return Err(TimeError::TwelveHour),
        None => hour,
    };
    // 24:00 is how some write the end of a day.
    let ends_day = (hour, minute, second) == (24, 0, 0);
    if (hour > 23 && !ends_day) || minute > 59 || second > 59 {
        return Err(TimeError::TimeOfDay);
    }
    Ok(f64::from(hour * 3600 + minute * 60 + second) + fraction)
}

/// A time in hours, to a hundredth, without a negative zero.
pub(crate) fn hours(seconds: f64) -> f64 {
    (seconds / HOUR * 100.0).round() / 100.0 + 0.0
}

/// A whole number of nothing but digits, at most nine of them.
fn digits(text: &str) -> Option<u32> {
    let valid = (1..=9).contains(&text.len()) && text.bytes().all(|byte| byte.is_ascii_digit());
    if valid { text.parse().ok() } else { None }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Expected seconds from Python's `calendar.timegm`.
    #[test]
    fn times_are_seconds_since_1970_on_one_clock() {
        for (text, wanted) in [
            ("1970-01-01 00:00", 0.0),
            ("2026-01-14 05:00", 1_768_366_800.0),
            ("2026-01-14T05:00", 1_768_366_800.0),
            ("2026-01-14T05:00:00", 1_768_366_800.0),
            ("1/14/2026 5:00", 1_768_366_800.0),
            ("01/14/2026 05:00:00 AM", 1_768_366_800.0),
            ("1/14/2026 5:00 pm", 1_768_410_000.0),
            ("1/14/2026 12:30 AM", 1_768_350_600.0),
            ("2026-01-14 24:00", 1_768_435_200.0),
            ("2024-02-29 12:00:30.5", 1_709_208_030.5),
            ("2000-02-29 00:00", 951_782_400.0),
            ("Wed 1/14/2026 5 PM", 1_768_410_000.0),
            ("Wednesday, 1/14/2026 5:00 PM", 1_768_410_000.0),
            ("1899-02-13 07:00", -2_236_784_400.0),
        ] {
            assert_eq!(parse_time(text).map(|it| it.time), Ok(wanted), "{text}");
        }
    }

    #[test]
    fn formatted_times_parse_back() {
        for written in [
            "1970-01-01 00:00",
            "2026-01-14 05:00",
            "2000-02-29 23:59",
            "1899-02-13 07:00",
            "2100-03-01 12:30",
        ] {
            assert_eq!(format_time(parse_time(written).unwrap().time), written);
        }
    }

    #[test]
    fn invalid_times_say_what_is_wrong() {
        for (text, error) in [
            ("2026-01-14", TimeError::Incomplete),
            ("05:00", TimeError::Incomplete),
            ("14/1/2026 5:00", TimeError::Month),
            ("1/14/26 5:00", TimeError::YearDigits),
            ("2026-02-29 5:00", TimeError::Day),
            ("1900-02-29 5:00", TimeError::Day),
            ("2026-01-00 5:00", TimeError::Day),
            ("2026-01-14 25:00", TimeError::TimeOfDay),
            ("2026-01-14 24:01", TimeError::TimeOfDay),
            ("2026-01-14 5:60", TimeError::TimeOfDay),
            ("2026-01-14 5", TimeError::TimeOfDay),
            ("2026-01-14 13:00 PM", TimeError::TwelveHour),
            ("2026-01-14 05:00 CST", TimeError::TimeZone),
            ("2026-01-14 5 PM EST", TimeError::TimeZone),
            ("2026-01-14T05:00-15:00", TimeError::Offset),
            ("Fri", TimeError::Incomplete),
            ("Fri 1/14/2026 5 PM", TimeError::Weekday),
            ("2026-01 5:00", TimeError::Date),
            ("2026-1x-14 5:00", TimeError::Date),
            ("1066-10-14 9:00", TimeError::TooEarly),
        ] {
            assert_eq!(parse_time(text), Err(error), "{text}");
        }
    }

    // The weekdays are those of `date -d 2026-01-14 +%a` (GNU coreutils 9).
    #[test]
    fn weekdays_and_offsets_are_read() {
        for (text, time, offset) in [
            ("2026-01-14T05:00Z", 1_768_366_800.0, 0.0),
            ("2026-01-14 05:00 UTC", 1_768_366_800.0, 0.0),
            ("2026-01-14T05:00:00-06:00", 1_768_366_800.0, -21_600.0),
            ("2026-01-14T05:00+0530", 1_768_366_800.0, 19_800.0),
            ("2026-01-14 5:00 AM -6", 1_768_366_800.0, -21_600.0),
        ] {
            assert_eq!(parse_time(text), Ok(Stamp { time, offset: Some(offset), is_date: true }), "{text}");
        }
        for (text, hour) in
            [("Thu 12 AM", 0.0), ("Fri 5 PM", 41.0), ("5 PM Fri", 41.0), ("wed. 23:00", 167.0)]
        {
            let stamp = Stamp { time: hour * HOUR, offset: None, is_date: false };
            assert_eq!(parse_time(text), Ok(stamp), "{text}");
        }
        for (time, day) in [(0.0, "Thu"), (1_768_366_800.0, "Wed"), (-1.0, "Wed"), (951_782_400.0, "Tue")] {
            assert_eq!(weekday(time), day);
        }
    }
}
