//! Numbers as a workbook formats them: with the words and signs of the format, and to the figure the cell holds.

use std::str::Chars;

use super::grid::Shown;
use crate::input::Flaw;

/// How a cell's numbers are shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) enum Format {
    /// As the number is.
    #[default]
    General,
    /// As a date, a time of day, or both.
    Date { day: bool, year: bool },
    /// With signs before and after.
    Number(Pattern),
}

/// The parts of a number format that matter.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Pattern {
    before: String,
    after: String,
    percent: bool,
    fraction: bool,
    /// Digits after the point.
    decimals: usize,
    /// Whether digits are cut to those places; not so in a power of ten.
    rounds: bool,
}

impl Format {
    /// By the number of a format that workbooks need not spell out (ECMA-376, part 1, 18.8.30).
    pub(super) fn built_in(number: u32) -> Self {
        match number {
            1 | 3 | 37 | 38 => Self::of("0"),
            2 | 4 | 39 | 40 => Self::of("0.00"),
            9 => Self::of("0%"),
            10 => Self::of("0.00%"),
            12 | 13 => Self::of("# ??/??"),
            14 | 15 | 22 | 27..=31 | 36 | 50..=58 => Self::Date { day: true, year: true },
            16 => Self::Date { day: true, year: false },
            17 => Self::Date { day: true, year: true },
            18..=21 | 32..=35 | 45..=47 => Self::Date { day: false, year: false },
            _ => Self::General,
        }
    }

    /// By the code of a format, such as `0.00"\""`. Only the first section is used.
    pub(super) fn of(code: &str) -> Self {
        // A number as it is, with words around it.
        let general = code.to_lowercase().find("general");
        let code = &general.map_or_else(
            || code.to_owned(),
            |at| format!("{}0{}", &code[..at], &code[at + "general".len()..]),
        );
        let mut pattern = Pattern { rounds: general.is_none(), ..Pattern::default() };
        let (mut date, mut digits, mut point) = ([false; 3], false, false);
        let mut literal = String::new();
        let mut characters = code.chars();
        while let Some(c) = characters.next() {
            match c {
                ';' => break,
                '"' => quoted(&mut characters, &mut literal),
                '\\' | '!' => literal.extend(characters.next()),
                // A space as wide as the next sign, or a sign that fills the cell.
                '_' | '*' => drop(characters.next()),
                '[' => {
                    let within: String = characters.by_ref().take_while(|c| *c != ']').collect();
                    // [h] is a time; [Red] a color; [$-409] a language.
                    let is_time = !within.is_empty() && within.chars().all(|c| "hmsHMS".contains(c));
                    date[2] |= is_time;
                    let symbol = within.strip_prefix('$').and_then(|it| it.split('-').next());
                    literal.push_str(symbol.unwrap_or_default());
                }
                '0' | '#' | '?' => {
                    if !digits {
                        pattern.before = std::mem::take(&mut literal);
                    }
                    digits = true;
                    if point {
                        pattern.decimals += 1;
                    }
                    if !literal.trim().is_empty() {
                        return Self::General;
                    }
                    literal.clear();
                }
                '.' if digits => point = true,
                ',' if digits => {}
                '/' if digits && literal.trim().is_empty() => pattern.fraction = true,
                '1'..='9' if pattern.fraction => {}
                'E' | 'e' if digits => {
                    pattern.rounds = false;
                    characters.next();
                }
                '%' => {
                    pattern.percent = true;
                    literal.push('%');
                }
                'd' | 'D' => date[0] = true,
                'y' | 'Y' => date[1] = true,
                'm' | 'M' | 'h' | 'H' | 's' | 'S' => date[2] = true,
                '@' => return Self::General,
                other => literal.push(other),
            }
        }
        if !digits && date.contains(&true) || date[0] || date[1] {
            let is_month = code.to_lowercase().contains("mmm");
            return Self::Date { day: date[0] || date[1] || is_month, year: date[1] };
        }
        if !digits || code == "0" && general.is_some() {
            return Self::General;
        }
        pattern.after = literal;
        Self::Number(pattern)
    }

    /// A number as the cell says it. `from_1904` is how the workbook counts days.
    pub(super) fn show(&self, value: f64, from_1904: bool) -> Shown {
        match self {
            Self::General => Shown { text: plain(value), ..Shown::default() },
            Self::Date { day, year } => {
                let text = date(value, from_1904, *day, *year);
                Shown { text, flaw: Some(Flaw::Date), ..Shown::default() }
            }
            Self::Number(pattern) => pattern.show(value),
        }
    }
}

impl Pattern {
    fn show(&self, value: f64) -> Shown {
        let scaled = if self.percent { value * 100.0 } else { value };
        let dressed = |number: String| match number.strip_prefix('-') {
            Some(number) => format!("-{}{number}{}", self.before, self.after),
            None => format!("{}{number}{}", self.before, self.after),
        };
        let fraction = self.fraction.then(|| fraction(scaled)).flatten();
        let text = dressed(fraction.unwrap_or_else(|| plain(scaled)));
        let cut = format!("{:.*}", self.decimals.min(30), scaled);
        let is_cut = self.rounds && !self.fraction && !same(cut.parse().unwrap_or(scaled), scaled);
        Shown { text, rounded: is_cut.then(|| dressed(cut)), ..Shown::default() }
    }
}

/// Quoted text. It may contain a quote after a backslash: an inch mark is written both ways.
fn quoted(characters: &mut Chars<'_>, literal: &mut String) {
    while let Some(c) = characters.next() {
        match c {
            '"' => return,
            '\\' if characters.as_str().starts_with('"') => literal.extend(characters.next()),
            other => literal.push(other),
        }
    }
}

/// Whether two numbers are equal but for binary rounding.
pub(super) fn same(a: f64, b: f64) -> bool {
    (a - b).abs() <= 1e-9 * a.abs().max(b.abs())
}

/// A number to the fifteen digits a spreadsheet keeps.
pub(super) fn plain(value: f64) -> String {
    let kept: f64 = format!("{value:.14e}").parse().unwrap_or(value);
    // No negative zero.
    if kept == 0.0 { "0".into() } else { kept.to_string() }
}

/// A whole number and a fraction as on a tape measure; `None` if it is not one.
fn fraction(value: f64) -> Option<String> {
    let size = value.abs();
    if size > 1e6 {
        return None;
    }
    let whole = size.trunc();
    let sign = if value < 0.0 { "-" } else { "" };
    let rest = size - whole;
    if rest == 0.0 {
        return Some(plain(value));
    }
    let of =
        [2.0, 3.0, 4.0, 8.0, 16.0, 32.0, 64.0].into_iter().find(|of| same((rest * of).round(), rest * of))?;
    let parts = format!("{}/{of}", (rest * of).round());
    Some(if whole == 0.0 { format!("{sign}{parts}") } else { format!("{sign}{whole} {parts}") })
}

/// The day of a workbook's count, or the time of day.
fn date(value: f64, from_1904: bool, day: bool, year: bool) -> String {
    /// 9999-12-31, the last a workbook knows.
    const LAST: f64 = 2_958_465.0;
    if !(0.0..=LAST).contains(&value) {
        return plain(value);
    }
    if !day {
        let minutes = (value.fract() * 1440.0).round();
        return format!("{:02}:{:02}", (minutes / 60.0).floor(), minutes % 60.0);
    }
    // Days from 0000-03-01, by which leap days end a year. A workbook's day 0 is 1899-12-30 (it has a 29 February 1900
    // that never was, so that days before 1 March 1900 are one less) or 1904-01-01.
    let zero = if from_1904 { 695_361.0 } else { 693_899.0 };
    let early = if !from_1904 && value < 60.0 { 1.0 } else { 0.0 };
    let days = value.trunc() + zero + early;
    civil(days, year)
}

/// A day counted from 0000-03-01, with names of months as spreadsheets show them.
fn civil(days: f64, year: bool) -> String {
    const MONTHS: [&str; 12] =
        ["Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec", "Jan", "Feb"];
    // H. Hinnant, "chrono-compatible low-level date algorithms" (public domain): eras of 400 years.
    let era = (days / 146_097.0).floor();
    let of_era = days - era * 146_097.0;
    let years = ((of_era - (of_era / 1460.0).floor() + (of_era / 36_524.0).floor()
        - (of_era / 146_096.0).floor())
        / 365.0)
        .floor();
    let of_year = of_era - (365.0 * years + (years / 4.0).floor() - (years / 100.0).floor());
    let month = ((5.0 * of_year + 2.0) / 153.0).floor();
    let day = of_year - ((153.0 * month + 2.0) / 5.0).floor() + 1.0;
    #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 11")]
    let name = MONTHS[(month as usize).min(11)];
    let full = years + era * 400.0 + if month >= 10.0 { 1.0 } else { 0.0 };
    if year { format!("{day}-{name}-{full}") } else { format!("{day}-{name}") }
}
