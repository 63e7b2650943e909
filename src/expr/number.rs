//! Numbers with units in expressions.
//!
//! The unit of a number is the **longest** spelling of [`UNITS`] after it, case as in the table, where
//! - the spelling ends at a boundary: what follows does not continue a unit (a letter, digit, `_`, `°`, `·`,
//!   `/`, or a point before a letter), so that `8 inches` is not `8 in` and `8 in/day` is not a length;
//! - the marks `"` and `'` touch the number (`8"`, `1/4" per ft`); after a space they quote a text;
//! - `in` before a `[` is the operator: `outlet.count in [1, 2]`, `8 in in [8 in, 10 in]`.
//!
//! Other letters after a number are a misspelled unit, unless they are a word of the language.

use super::lex::is_word;
use crate::units::{UNITS, Unit};

/// A number as written, and its unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Number {
    pub number: f64,
    pub unit: Option<&'static Unit>,
}

/// What follows a number.
pub(super) enum After {
    /// No unit.
    Nothing,
    /// A unit that ends at this byte.
    Unit(&'static Unit, usize),
    /// Something that looks like a unit but is not one, from the first byte to the second.
    Unknown(usize, usize),
}

/// A number at the start of a text (`8`, `.5`, `0.25`, `1/4`, `1 1/2`) and its length in bytes. Not finite if it is a
/// fraction over zero or has too many digits.
pub(super) fn number_at(text: &str) -> Option<(f64, usize)> {
    let whole = digits(text);
    if whole > 0 {
        if let Some((value, end)) = fraction_at(text) {
            return Some((value, end));
        }
        let gap = whole + spaces(&text[whole..]);
        if gap > whole
            && let Some((value, end)) = fraction_at(&text[gap..])
        {
            return Some((text[..whole].parse::<f64>().ok()? + value, gap + end));
        }
    }
    let point = text[whole..].strip_prefix('.').map_or(0, digits);
    let end = if point > 0 { whole + 1 + point } else { whole };
    (end > 0).then(|| text[..end].parse().ok()).flatten().map(|it| (it, end))
}

fn fraction_at(text: &str) -> Option<(f64, usize)> {
    let top = digits(text);
    let bottom = digits(text[top..].strip_prefix('/')?);
    let end = top + 1 + bottom;
    let top: f64 = text[..top].parse().ok()?;
    let below: f64 = text[end - bottom..end].parse().ok()?;
    Some((top / below, end))
}

fn digits(text: &str) -> usize {
    text.bytes().take_while(u8::is_ascii_digit).count()
}

fn spaces(text: &str) -> usize {
    text.len() - text.trim_start().len()
}

/// The unit after a number, by the rule above.
pub(super) fn unit_after(text: &str) -> After {
    let gap = spaces(text);
    let rest = &text[gap..];
    let longest = UNITS
        .iter()
        .flat_map(|unit| unit.names.iter().map(move |name| (unit, *name)))
        .filter(|(_, name)| {
            rest.strip_prefix(name).is_some_and(|after| {
                let touching = gap == 0 || !name.starts_with(['"', '\'']);
                let operator = *name == "in" && after.trim_start().starts_with('[');
                touching && !operator && unit_length(after) == 0
            })
        })
        .max_by_key(|(_, name)| name.len());
    if let Some((unit, name)) = longest {
        return After::Unit(unit, gap + name.len());
    }
    let starts = rest
        .chars()
        .next()
        .is_some_and(|c| c.is_alphabetic() || "°%".contains(c) || (gap == 0 && "\"'".contains(c)));
    let first = rest.chars().next().map_or(0, char::len_utf8);
    let word = first + unit_length(&rest[first.min(rest.len())..]);
    if !starts || is_word(&rest[..word]) { After::Nothing } else { After::Unknown(gap, gap + word) }
}

/// The length in bytes of what continues a unit.
fn unit_length(text: &str) -> usize {
    let mut chars = text.char_indices().peekable();
    while let Some((at, c)) = chars.next() {
        let more = c.is_alphanumeric()
            || "_°·/%".contains(c)
            || (c == '.' && chars.peek().is_some_and(|(_, next)| next.is_alphabetic()));
        if !more {
            return at;
        }
    }
    text.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_spelling_of_every_unit_is_taken_whole() {
        for unit in UNITS {
            for name in unit.names {
                for (before, after) in [("", ""), ("", " and x"), ("", ")"), (" ", ""), (" ", ", 2")] {
                    if before == " " && name.starts_with(['"', '\'']) {
                        continue;
                    }
                    let text = format!("{before}{name}{after}");
                    match unit_after(&text) {
                        After::Unit(found, end) => {
                            assert_eq!(
                                (found.names[0], end),
                                (unit.names[0], before.len() + name.len()),
                                "{text}"
                            );
                        }
                        _ => panic!("{text}"),
                    }
                }
            }
        }
    }

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (text, want, end) in [
            ("8 in", 8.0, 1),
            ("0.25", 0.25, 4),
            (".5", 0.5, 2),
            ("1/4 in/ft", 0.25, 3),
            ("1 1/2 in", 1.5, 5),
            ("8 / 2", 8.0, 1),
            ("8.x", 8.0, 1),
        ] {
            assert_eq!(number_at(text), Some((want, end)), "{text}");
        }
        assert_eq!(number_at("x"), None);
        assert_eq!(number_at("."), None);
        assert!(!number_at("1/0").unwrap().0.is_finite());
    }

    #[test]
    fn the_operator_in_is_not_an_inch() {
        assert!(matches!(unit_after(" in [1, 2]"), After::Nothing));
        assert!(matches!(unit_after(" in["), After::Nothing));
        assert!(matches!(unit_after(" in in [8 in]"), After::Unit(unit, 3) if unit.names[0] == "in"));
        assert!(matches!(unit_after(" and x"), After::Nothing));
    }

    #[test]
    fn a_mark_after_a_space_is_not_a_unit() {
        assert!(matches!(unit_after(" \"x\""), After::Nothing));
        assert!(matches!(unit_after("\""), After::Unit(unit, 1) if unit.names[0] == "in"));
    }

    #[test]
    fn a_unit_that_goes_on_is_another_word() {
        assert!(matches!(unit_after(" inchs"), After::Unknown(1, 6)));
        assert!(matches!(unit_after(" in/day"), After::Unknown(1, 7)));
        assert!(matches!(unit_after("°R"), After::Unknown(0, 3)));
        assert!(matches!(unit_after(" Btu/h.ft.X"), After::Unknown(1, 11)));
    }
}
