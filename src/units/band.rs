//! Values, ranges and tolerances: `8 in`, `8 to 10 in`, `8-10"`, `8" ±1/4"`, `8 +0/-1/4 in`. A range or a tolerance
//! becomes a band.

use super::amount::{Amount, ParseOptions};
use super::dim::{Dim, Measure};
use super::error::Reason;
use super::quantity::Quantity;

/// Parses amounts of one measure, written in one way.
pub(super) struct BandParser<'o> {
    pub want: Measure,
    pub options: &'o ParseOptions<'o>,
}

type Parsed = Result<Quantity, Reason>;

impl BandParser<'_> {
    /// Parses a value, a range or a tolerance.
    pub(super) fn parse(&self, text: &str) -> Parsed {
        let quantity = match (split_tolerance(text), split_range(text)) {
            (Some([value, up, down]), _) => self.tolerance(value, up, down),
            (None, Some([low, high])) => self.range(low, high),
            (None, None) => self.value_or_hyphenated_range(text),
        }?;
        if quantity.is_banded() && !self.options.band { Err(Reason::IsRange) } else { Ok(quantity) }
    }

    fn amount<'t>(&self, text: &'t str) -> Result<Amount<'t>, Reason> {
        Amount::parse(text, self.want, self.options.decimal_comma)
    }

    /// A hyphen separates the ends of a range only if the text is not a value itself: `1-1/2 in`, `1'-2"`.
    fn value_or_hyphenated_range(&self, text: &str) -> Parsed {
        let value = self.amount(text).and_then(|amount| amount.to_si(self.want, self.options));
        let reason = match value {
            Ok(si) => return Ok(Quantity::exact(si, self.want)),
            Err(reason @ (Reason::NoInchMark | Reason::FootOfInches)) => return Err(reason),
            Err(reason) => reason,
        };
        let starts_with_digit = |text: &str| text.starts_with(|c: char| c.is_ascii_digit() || c == '.');
        let hyphens = text.char_indices().skip(1).filter(|(_, c)| *c == '-');
        let ranges: Vec<Parsed> = hyphens
            .map(|(at, _)| (text[..at].trim(), text[at + 1..].trim()))
            .filter(|(low, high)| starts_with_digit(low) && starts_with_digit(high))
            .map(|(low, high)| self.range(low, high))
            .collect();
        // Three values are not a range.
        let is_clear = |range: &&Parsed| matches!(range, Err(Reason::ReversedRange | Reason::NoUnit));
        let range = ranges.iter().find(|range| range.is_ok()).or_else(|| ranges.iter().find(is_clear));
        range.cloned().unwrap_or(Err(reason))
    }

    /// A range. A bare end takes the unit of the other.
    fn range(&self, low: &str, high: &str) -> Parsed {
        let (low, high) = (self.amount(low), self.amount(high)?);
        let low = low?;
        let high_si = high.or_unit(low.unit).to_si(self.want, self.options)?;
        let low_si = low.or_unit(high.unit).to_si(self.want, self.options)?;
        if low_si > high_si {
            return Err(Reason::ReversedRange);
        }
        Ok(Quantity::exact(f64::midpoint(low_si, high_si), self.want).within(low_si, high_si))
    }

    /// A value with its tolerances. A bare one takes the first unit of the others.
    fn tolerance(&self, value: &str, up: &str, down: &str) -> Parsed {
        let [value, up, down] = [self.amount(value)?, self.amount(up)?, self.amount(down)?];
        let unit = [value, down, up].iter().map(|it| it.unit).find(|it| !it.is_empty()).unwrap_or_default();
        // Tolerances of a temperature are differences.
        let difference =
            if self.want == Measure::Temperature { Measure::Of(Dim::DIFFERENCE) } else { self.want };
        let si = |amount: Amount<'_>, want| amount.or_unit(unit).to_si(want, self.options);
        let value = si(value, self.want)?;
        let (up, down) = (si(up, difference)?, si(down, difference)?);
        if up < 0.0 || down < 0.0 {
            return Err(Reason::NegativeTolerance);
        }
        Ok(Quantity::exact(value, self.want).within(value - down, value + up))
    }
}

/// Splits `8" ±1/4"` and `8 +0/-1/4 in` into the value, the upper and the lower tolerance.
fn split_tolerance(text: &str) -> Option<[&str; 3]> {
    for sign in ["±", "+/-", "+-", "+ / -"] {
        if let Some((value, both)) = text.split_once(sign)
            && !value.trim().is_empty()
        {
            return Some([value, both.trim(), both.trim()]);
        }
    }
    const SEPARATORS: [char; 3] = [' ', '/', ','];
    let plus = text.char_indices().skip(1).find(|(_, c)| *c == '+')?.0;
    let (before, after) = (text[..plus].trim(), text[plus + 1..].trim());
    let Some((up, down)) = after.rsplit_once('-').filter(|(up, _)| !up.trim().is_empty()) else {
        // The lower first: "8 -1/4/+0". A hyphen without a space before it is part of a mixed number: "1-1/2 +1/4".
        let (value, down) = before.rsplit_once(" -").filter(|(value, _)| !value.trim().is_empty())?;
        return Some([value.trim(), after, down.trim_end_matches(SEPARATORS).trim()]);
    };
    let up = up.trim_end_matches(SEPARATORS);
    // The hyphen may be part of a mixed number: "+0 -1-1/4".
    Some(match up.split_once(SEPARATORS) {
        Some((first, rest)) if rest.trim_start_matches(SEPARATORS).starts_with('-') => {
            let down = after[first.len()..].trim_start_matches(SEPARATORS);
            [before, first, down.strip_prefix('-').unwrap_or(down)]
        }
        _ => [before, up, down.trim()],
    })
}

/// Splits `8 to 10 in` and `between 8 and 10 in` into their ends.
fn split_range(text: &str) -> Option<[&str; 2]> {
    const FORMS: [[&str; 2]; 5] =
        [["between ", " and "], ["from ", " to "], ["", " thru "], ["", " through "], ["", " to "]];
    let lower = text.to_ascii_lowercase();
    FORMS.iter().find_map(|[start, separator]| {
        let rest = lower.strip_prefix(start)?;
        let at = start.len() + rest.find(separator)?;
        Some([&text[start.len()..at], &text[at + separator.len()..]])
    })
}
