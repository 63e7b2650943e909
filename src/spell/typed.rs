//! A cold spell typed as stretches of one temperature each: `20 °F for 12 h, 5 °F for 1 day`.

use super::clock::Clock;
use super::cold_spell::{Spell, SpellKind, Stretch};
use crate::climate::OUTDOORS;
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::units::{self, Dim, Measure};
use crate::weather::{DAY, HOUR};

/// Stretches typed by hand do not make a season.
const LONGEST: f64 = 60.0 * DAY;

/// What is wrong with a typed spell.
#[derive(Clone, Copy)]
enum TypedError {
    BlankStretch,
    NoDuration,
    IncompleteStretch,
    TemperatureOutOfRange,
    DurationOutOfRange,
    TooLong,
}

impl TypedError {
    fn at(self, location: &Location, text: &str) -> Diagnostic {
        const STRETCH: &str = "a temperature and a duration such as 12 °F for 60 h";
        let (message, expected) = match self {
            Self::BlankStretch => ("a stretch of the spell is blank", STRETCH),
            Self::NoDuration => ("gives no duration", STRETCH),
            Self::IncompleteStretch => ("needs both a temperature and a duration", STRETCH),
            Self::TemperatureOutOfRange => (
                "is not a plausible outdoor temperature",
                "a temperature from -112 °F to 104 °F (-80 °C to 40 °C)",
            ),
            Self::DurationOutOfRange => {
                ("is out of range for a duration", "more than zero, and at most 60 days in all")
            }
            Self::TooLong => ("is too long", "at most 60 days in all"),
        };
        let error = Diagnostic::new(location.clone(), message).expected(expected);
        if text.is_empty() { error } else { error.text(text) }
    }
}

impl Spell {
    /// Parses a spell typed as `12 °F for 60 h`, or as stretches separated by commas: `20 °F for 12 h, 5 °F for 1 day`.
    ///
    /// Until t = 0 it is at `start`, K; each stretch begins with a step; after the last it returns to `start` over 1 h.
    /// Returns all errors at once, at the location given. The length is that of the stretches.
    pub fn typed(text: &str, start: f64, at: &Location) -> Result<Self, Diagnostics> {
        let mut errors = Diagnostics::new();
        let stretches: Vec<Stretch> =
            text.split(',').filter_map(|part| errors.ok(parse_stretch(part.trim(), at))).collect();
        let length: f64 = stretches.iter().map(|stretch| stretch.time).sum();
        if length > LONGEST {
            errors.push(TypedError::TooLong.at(at, text));
        }
        let mut knots = vec![[0.0, start]];
        let mut t = 0.0;
        for stretch in &stretches {
            knots.push([t, stretch.temperature]);
            t += stretch.time;
            knots.push([t, stretch.temperature]);
        }
        knots.push([t + HOUR, start]);
        errors.or(Self::of_knots(knots, t, SpellKind::Typed { start, stretches }, Clock::FromStart))
    }
}

fn parse_stretch(part: &str, at: &Location) -> Result<Stretch, Diagnostic> {
    let words: Vec<&str> = part.split_whitespace().collect();
    if words.is_empty() {
        return Err(TypedError::BlankStretch.at(at, ""));
    }
    let Some(between) = words.iter().position(|word| word.eq_ignore_ascii_case("for")) else {
        return Err(TypedError::NoDuration.at(at, part));
    };
    let (temperature_text, time_text) = (words[..between].join(" "), words[between + 1..].join(" "));
    let parse = |text: &str, measure| {
        if text.is_empty() {
            return Err(TypedError::IncompleteStretch.at(at, part));
        }
        units::parse(text, measure).map(|quantity| quantity.is).map_err(|error| error.at(at.clone(), text))
    };
    let temperature = parse(&temperature_text, Measure::Temperature)?;
    let time = parse(&time_text, Measure::Of(Dim::TIME))?;
    if !units::contains(OUTDOORS, temperature) {
        return Err(TypedError::TemperatureOutOfRange.at(at, &temperature_text));
    }
    if time <= 0.0 {
        return Err(TypedError::DurationOutOfRange.at(at, &time_text));
    }
    Ok(Stretch { temperature, time })
}
