//! What materials, films, metals and trapped water do: pure functions of SI floats.
//!
//! Each function gives its units, the range it is valid in, its source and an example with its standing. Nothing
//! here has heard of outlets, rules or files; an argument outside its range is refused, never clamped.

pub mod air_film;
pub mod backflow;
pub mod bursting;
pub mod drainage;
pub mod frost;
pub mod iso13788;
pub mod materials;
pub mod metals;
pub mod moist_air;
pub mod sweating;
pub mod tubes;
pub mod water;

/// How a published value came to be here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Read in the source or in a public copy of it.
    Seen,
    /// Worked out from values or a formula that were seen.
    Recomputed,
    /// Recalled; the source itself was not at hand.
    FromMemory,
}

impl Standing {
    /// The words a report prints after the source.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Seen => "seen",
            Self::Recomputed => "recomputed",
            Self::FromMemory => "from memory",
        }
    }
}

/// A published value with the least and greatest that other publications give for the same thing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// Least published.
    pub low: f64,
    /// The one used where nothing better is stated.
    pub used: f64,
    /// Greatest published.
    pub high: f64,
}

impl Spread {
    /// A spread from least, used and greatest, in the unit of the quantity.
    #[must_use]
    pub const fn new(low: f64, used: f64, high: f64) -> Self {
        Self { low, used, high }
    }
}

/// An argument outside the range in which a function is valid.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OutOfRange {
    /// What the argument is.
    pub argument: &'static str,
    /// What was given.
    pub value: f64,
    /// Least value accepted.
    pub least: f64,
    /// Greatest value accepted.
    pub greatest: f64,
    /// Unit of the three; empty for a pure number.
    pub unit: &'static str,
}

impl std::fmt::Display for OutOfRange {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { argument, value, least, greatest, unit } = self;
        let blank = if unit.is_empty() { "" } else { " " };
        write!(f, "{argument} {value}{blank}{unit} is outside {least} to {greatest}{blank}{unit}")
    }
}

impl std::error::Error for OutOfRange {}

/// Passes `value` through, or refuses it; not-a-number is refused too.
fn check_range(
    argument: &'static str,
    value: f64,
    [least, greatest]: [f64; 2],
    unit: &'static str,
) -> Result<f64, OutOfRange> {
    if value >= least && value <= greatest {
        Ok(value)
    } else {
        Err(OutOfRange { argument, value, least, greatest, unit })
    }
}

/// Straight-line interpolation in rows ascending by their first column, for `x` inside the table.
fn interpolate<const N: usize>(rows: &[[f64; N]], x: f64, column: usize) -> f64 {
    let upper = rows.iter().position(|row| row[0] >= x).unwrap_or(rows.len() - 1).max(1);
    let (a, b) = (&rows[upper - 1], &rows[upper]);
    a[column] + (b[column] - a[column]) * (x - a[0]) / (b[0] - a[0])
}

/// The row whose key or alias is `word`, case, hyphens and runs of blanks ignored.
fn find_row<T>(
    mut rows: impl Iterator<Item = &'static T>,
    word: &str,
    names: fn(&'static T) -> (&'static str, &'static [&'static str]),
) -> Option<&'static T> {
    let wanted = plain_name(word);
    rows.find(|row| {
        let (key, aliases) = names(row);
        plain_name(key) == wanted || aliases.iter().any(|alias| plain_name(alias) == wanted)
    })
}

/// A name in lower case, its words parted by one blank.
fn plain_name(name: &str) -> String {
    let words =
        name.split(|c: char| c.is_whitespace() || c == '-' || c == '_').filter(|word| !word.is_empty());
    words.collect::<Vec<_>>().join(" ").to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_names_argument_value_and_range() {
        let error = check_range("diameter", -1.0, [0.001, 1.0], "m").unwrap_err();
        assert_eq!(error.to_string(), "diameter -1 m is outside 0.001 to 1 m");
        let pure = check_range("emissivity", 1.5, [0.0, 1.0], "").unwrap_err();
        assert_eq!(pure.to_string(), "emissivity 1.5 is outside 0 to 1");
        assert!(check_range("diameter", f64::NAN, [0.001, 1.0], "m").is_err());
        assert!(check_range("diameter", f64::INFINITY, [0.001, 1.0], "m").is_err());
    }

    #[test]
    fn interpolation_meets_its_rows_at_both_ends() {
        let rows = [[2.0, 10.0], [4.0, 20.0], [8.0, 0.0]];
        for (x, want) in [(2.0, 10.0), (3.0, 15.0), (4.0, 20.0), (7.0, 5.0), (8.0, 0.0)] {
            assert!((interpolate(&rows, x, 1) - want).abs() < 1e-12, "{x}");
        }
    }
}
