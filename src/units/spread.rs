//! Ranges and tolerances: `8 to 10 in`, `8-10"`, `8" ±1/4"`, `8 +0/-1/4 in`. Both become a band.

use super::dim::{Dim, Measure};
use super::parse::{NO_UNIT, Refused, Written, refused, single};
use super::quantity::Quantity;

type Found = Option<Result<Quantity, Refused>>;

/// A figure and how far it may lie to either side.
pub(super) fn tolerance(text: &str, want: Measure, how: Written<'_>) -> Found {
    let (figure, up, down) = parted(text)?;
    // Degrees either way are a difference.
    let apart = if want == Measure::Temperature { Measure::Of(Dim::DIFFERENCE) } else { want };
    let read = || {
        let unit =
            [figure, down, up].into_iter().map(unit_text).find(|it| !it.is_empty()).unwrap_or_default();
        let is = single(&with_unit(figure, unit), want, how)?;
        let [up, down] = [up, down].map(|it| single(&with_unit(it, unit), apart, how));
        let (up, down) = (up?, down?);
        if up < 0.0 || down < 0.0 {
            return Err(refused("has a tolerance that is less than nothing", want));
        }
        Ok(Quantity::exact(is, want).within(is - down, is + up))
    };
    Some(read())
}

/// The figure, what may be added and what may be taken away.
fn parted(text: &str) -> Option<(&str, &str, &str)> {
    for sign in ["±", "+/-", "+-", "+ / -"] {
        if let Some((figure, both)) = text.split_once(sign)
            && !figure.trim().is_empty()
        {
            return Some((figure, both.trim(), both.trim()));
        }
    }
    let plus = text.char_indices().skip(1).find(|(_, c)| *c == '+')?.0;
    let (before, after) = (text[..plus].trim(), text[plus + 1..].trim());
    let trimmed = |it: &'_ str| -> usize { it.trim_end_matches(['/', ',', ' ']).len() };
    // Upper first, then lower; or the other way round.
    if let Some((up, down)) = after.rsplit_once(['-']).filter(|(up, _)| !up.trim().is_empty()) {
        let up = &up[..trimmed(up)];
        // The hyphen may stand in a mixed number: "+0 -1-1/4".
        return match up.split_once([' ', '/', ',']) {
            Some((first, rest)) if rest.trim_start_matches([' ', '/', ',']).starts_with('-') => {
                let down = after[first.len()..].trim_start_matches([' ', '/', ',']);
                Some((before, first, down.strip_prefix('-').unwrap_or(down)))
            }
            _ => Some((before, up, down.trim())),
        };
    }
    // A hyphen without a space before it stands in a mixed number: "1-1/2 +1/4".
    let (figure, down) = before.rsplit_once(" -").filter(|(it, _)| !it.trim().is_empty())?;
    Some((figure.trim(), after, down[..trimmed(down)].trim()))
}

/// "8 to 10 in", "between 8 and 10 in".
pub(super) fn range_in_words(text: &str, want: Measure, how: Written<'_>) -> Found {
    let lower = text.to_ascii_lowercase();
    let (start, parting) = match () {
        () if lower.starts_with("between ") => ("between ".len(), " and "),
        () if lower.starts_with("from ") => ("from ".len(), " to "),
        () if lower.contains(" thru ") => (0, " thru "),
        () if lower.contains(" through ") => (0, " through "),
        () => (0, " to "),
    };
    let at = lower[start..].find(parting)? + start;
    Some(range(&text[start..at], &text[at + parting.len()..], want, how))
}

/// "8-10 in": a hyphen with a figure on either side.
pub(super) fn hyphened(text: &str, want: Measure, how: Written<'_>) -> Found {
    let hyphens = text.char_indices().skip(1).filter(|(_, c)| *c == '-');
    let ends = hyphens.map(|(at, _)| (text[..at].trim(), text[at + 1..].trim()));
    let is_figure = |it: &str| it.starts_with(|c: char| c.is_ascii_digit() || c == '.');
    let ends = ends.filter(|(low, high)| is_figure(low) && is_figure(high));
    let read: Vec<_> = ends.map(|(low, high)| range(low, high, want, how)).collect();
    // Of three figures none is a range.
    let told = |it: &Result<Quantity, Refused>| {
        it.as_ref().is_err_and(|it| [BACKWARDS, NO_UNIT].contains(&&*it.what))
    };
    let found = read.iter().find(|it| it.is_ok()).or_else(|| read.iter().find(|it| told(it)));
    found.cloned()
}

const BACKWARDS: &str = "runs from the greater figure to the less";

fn range(low: &str, high: &str, want: Measure, how: Written<'_>) -> Result<Quantity, Refused> {
    let (low, high) = (low.trim(), high.trim());
    let unit = if unit_text(high).is_empty() { unit_text(low) } else { unit_text(high) };
    let high = single(&with_unit(high, unit), want, how)?;
    let low = single(&with_unit(low, unit), want, how)?;
    if low > high {
        return Err(refused(BACKWARDS, want));
    }
    Ok(Quantity::exact(f64::midpoint(low, high), want).within(low, high))
}

/// What follows the digits of a figure; nothing where it has none.
fn unit_text(figure: &str) -> &str {
    let figure = figure.trim();
    if !figure.contains(|c: char| c.is_ascii_digit()) {
        return "";
    }
    let is_number = |c: char| c.is_ascii_digit() || "+-./, ".contains(c);
    figure.trim_start_matches(is_number)
}

/// A bare number with a unit; another figure as it stands.
fn with_unit(figure: &str, unit: &str) -> String {
    let is_bare = unit_text(figure).is_empty() && figure.contains(|c: char| c.is_ascii_digit());
    if is_bare && !unit.is_empty() { format!("{} {unit}", figure.trim()) } else { figure.trim().into() }
}
