//! Times as the rows of a series write them. No time zones and no daylight saving: all rows keep one clock.

/// What a time should look like.
pub(super) const SHAPE: &str =
    "a time such as 2026-01-14 05:00 or 1/14/2026 5:00 (month first), or hours such as 2.5";

/// Whether a text means to be a date, a time of day or both, rather than a number.
pub(super) fn is_dated(text: &str) -> bool {
    let after_sign = text.trim_start_matches(['-', '+', '−']);
    after_sign.contains(['-', '/', ':'])
}

/// Seconds since the start of 1970 of `2026-01-14 05:00`, `2026-01-14T05:00:00` or `1/14/2026 5:00 PM`, or what is wrong
/// with the text, completing the sentence that starts with it.
pub(super) fn seconds(text: &str) -> Result<f64, &'static str> {
    let text = text.trim();
    let Some((date, clock)) = text.split_once([' ', 'T', 't']) else {
        return Err("lacks its date or its time of day");
    };
    let day = day(date)?;
    Ok(day * 86_400.0 + time_of_day(clock.trim())?)
}

pub(super) fn day(date: &str) -> Result<f64, &'static str> {
    let slashed = date.contains('/');
    let parts: Vec<&str> = date.split(if slashed { '/' } else { '-' }).collect();
    let &[first, second, third] = parts.as_slice() else { return Err("has no date that can be read") };
    let (year, month, day) = if slashed { (third, first, second) } else { (first, second, third) };
    if year.len() != 4 {
        return Err("has no year of four digits");
    }
    let (Some(year), Some(month), Some(day)) = (digits(year), digits(month), digits(day)) else {
        return Err("has no date that can be read");
    };
    if year < 1800 {
        return Err("lies before 1800");
    }
    if !(1..=12).contains(&month) {
        return Err("has a month that is not 1 to 12");
    }
    if day < 1 || day > days_in(year, month) {
        return Err("has a day that its month does not have");
    }
    Ok(days_from_civil(year, month, day))
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
pub(super) fn civil(day: f64) -> (i64, u32, u32) {
    #[allow(clippy::cast_possible_truncation, reason = "days of a few thousand years")]
    let days = day.floor() as i64 + 719_468;
    let (era, of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let of_year_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * of_year_era + of_year_era / 4 - of_year_era / 100);
    let of_march = (5 * of_year + 2) / 153;
    let month = if of_march < 10 { of_march + 3 } else { of_march - 9 };
    let year = of_year_era + era * 400 + i64::from(month <= 2);
    let small = |it: i64| u32::try_from(it).unwrap_or_default();
    (year, small(month), small(of_year - (153 * of_march + 2) / 5 + 1))
}

/// A time as [`seconds`] reads it: `2026-01-14 05:00`.
pub(super) fn text(seconds: f64) -> String {
    let minutes = (seconds / 60.0).round();
    let (year, month, day) = civil((minutes / 1440.0).floor());
    let of_day = minutes.rem_euclid(1440.0);
    format!("{year}-{month:02}-{day:02} {:02}:{:02}", (of_day / 60.0).floor(), of_day % 60.0)
}

pub(super) fn days_in(year: u32, month: u32) -> u32 {
    match month {
        4 | 6 | 9 | 11 => 30,
        2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
        2 => 28,
        _ => 31,
    }
}

pub(super) fn time_of_day(clock: &str) -> Result<f64, &'static str> {
    const UNREADABLE: &str = "has no time of day that can be read";
    let upper = clock.to_ascii_uppercase();
    if upper.is_empty() {
        return Err("lacks its date or its time of day");
    }
    if upper.ends_with('Z') || upper.contains(['+', '-']) || upper.ends_with("UTC") || upper.ends_with("GMT")
    {
        return Err("names a time zone, and zones are not read: all rows keep one clock");
    }
    let (numbers, half) = match (upper.strip_suffix("AM"), upper.strip_suffix("PM")) {
        (Some(rest), _) => (rest.trim_end(), Some(0)),
        (_, Some(rest)) => (rest.trim_end(), Some(12)),
        (None, None) => (upper.as_str(), None),
    };
    let mut parts = numbers.split(':');
    let (Some(hour), Some(minute)) = (parts.next().and_then(digits), parts.next().and_then(digits)) else {
        return Err(UNREADABLE);
    };
    let (second, fraction) = match parts.next() {
        Some(text) => {
            let (whole, fraction) = text.split_once('.').unwrap_or((text, "0"));
            let scale = fraction.bytes().fold(1.0, |scale, _| scale * 10.0);
            (digits(whole), digits(fraction).map(|it| f64::from(it) / scale))
        }
        None => (Some(0), Some(0.0)),
    };
    let (Some(second), Some(fraction), None) = (second, fraction, parts.next()) else {
        return Err(UNREADABLE);
    };
    let hour = match half {
        Some(later) if (1..=12).contains(&hour) => hour % 12 + later,
        Some(_) => return Err("has an hour that is not 1 to 12"),
        None => hour,
    };
    // 24:00 is how some write the end of a day.
    let ends_day = hour == 24 && minute == 0 && second == 0;
    if (hour > 23 && !ends_day) || minute > 59 || second > 59 {
        return Err("has a time of day that there is not");
    }
    Ok(f64::from(hour * 3600 + minute * 60 + second) + fraction)
}

/// A whole number of nothing but digits, at most nine of them.
fn digits(text: &str) -> Option<u32> {
    let right = (1..=9).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    if right { text.parse().ok() } else { None }
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
            ("1899-02-13 07:00", -2_236_784_400.0),
        ] {
            assert_eq!(seconds(text), Ok(wanted), "{text}");
        }
    }

    #[test]
    fn a_time_is_written_as_it_is_read() {
        for written in [
            "1970-01-01 00:00",
            "2026-01-14 05:00",
            "2000-02-29 23:59",
            "1899-02-13 07:00",
            "2100-03-01 12:30",
        ] {
            assert_eq!(text(seconds(written).unwrap()), written);
        }
    }

    #[test]
    fn a_time_that_is_none_says_what_is_wrong_with_it() {
        for (text, what) in [
            ("2026-01-14", "lacks its date or its time of day"),
            ("05:00", "lacks its date or its time of day"),
            ("14/1/2026 5:00", "has a month that is not 1 to 12"),
            ("1/14/26 5:00", "has no year of four digits"),
            ("2026-02-29 5:00", "has a day that its month does not have"),
            ("1900-02-29 5:00", "has a day that its month does not have"),
            ("2026-01-00 5:00", "has a day that its month does not have"),
            ("2026-01-14 25:00", "has a time of day that there is not"),
            ("2026-01-14 24:01", "has a time of day that there is not"),
            ("2026-01-14 5:60", "has a time of day that there is not"),
            ("2026-01-14 5", "has no time of day that can be read"),
            ("2026-01-14 13:00 PM", "has an hour that is not 1 to 12"),
            ("2026-01-14T05:00Z", "names a time zone, and zones are not read: all rows keep one clock"),
            ("2026-01-14T05:00-06:00", "names a time zone, and zones are not read: all rows keep one clock"),
            ("2026-01 5:00", "has no date that can be read"),
            ("2026-1x-14 5:00", "has no date that can be read"),
            ("1066-10-14 9:00", "lies before 1800"),
        ] {
            assert_eq!(seconds(text), Err(what), "{text}");
        }
    }
}
