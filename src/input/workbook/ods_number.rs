//! A number of an OpenDocument cell, which has its value and its text: of the two, the fuller.

use super::format::{plain, same};
use crate::input::Flaw;

/// A number as shown, if that is its full value; otherwise with the full value in its place.
pub(super) fn number(text: String, value: f64, percent: bool) -> (String, Option<Flaw>, Option<String>) {
    let scaled = if percent && text.contains('%') { value * 100.0 } else { value };
    let is_part = |c: char| c.is_ascii_digit() || matches!(c, '.' | ',' | '/' | ' ');
    let Some(start) = text.find(|c: char| c.is_ascii_digit()) else {
        return (plain(scaled), None, None);
    };
    let end = text[start..].find(|c: char| !is_part(c)).map_or(text.len(), |at| start + at);
    let digits = text[start..end].trim_end();
    let end = start + digits.len();
    let is_negative = text[..start].trim_end().ends_with(['-', '−']) || value < 0.0;
    let said = read_shown(digits).map(|it| if is_negative { -it } else { it });
    let whole = |figure: &str| format!("{}{figure}{}", &text[..start], &text[end..]);
    let figure = plain(scaled.abs());
    match said {
        Some(said) if same(said, scaled) => {
            // A figure shown by another country's habit is written with a point.
            let is_usual = !digits.contains(',') && (digits.contains('/') || !digits.contains(' '));
            (if is_usual { text } else { whole(&figure) }, None, None)
        }
        _ => (whole(&figure), None, Some(text.clone())),
    }
}

/// `10 3/4`, `0,75`, `1,200.5` as they are shown.
fn read_shown(digits: &str) -> Option<f64> {
    if let Some((first, below)) = digits.split_once('/') {
        let (whole, above) = first.trim().rsplit_once(' ').unwrap_or(("0", first.trim()));
        let [whole, above, below] = [whole, above, below].map(|it| it.trim().parse::<f64>());
        return Some(whole.ok()? + above.ok()? / below.ok()?);
    }
    let compact: String = digits.chars().filter(|c| *c != ' ').collect();
    let last = compact.rfind(['.', ',']);
    let clean: String = compact
        .char_indices()
        .filter_map(|(at, c)| match c {
            '.' | ',' => (Some(at) == last).then_some('.'),
            c => Some(c),
        })
        .collect();
    clean.parse().ok()
}
