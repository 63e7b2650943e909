//! A latitude and a longitude as people write them: `44.9, -93.2`, `44.9N 93.2W`, `44°53' N, 93°13' W`.

use super::error::ClimateError;
use crate::diag::{Diagnostic, Location};
use crate::units;
use std::sync::Arc;

/// A point as it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Point {
    /// Degrees north, as written; may be out of range.
    pub latitude: f64,
    /// Degrees east, as written.
    pub longitude: f64,
    /// The original text.
    pub text: Arc<str>,
    /// Whether a letter says that the first is north or south, and the second east or west.
    lettered: [bool; 2],
}

/// Parts of a degree in suggestions: about 10 m.
const SHOWN: f64 = 1e4;
/// Degrees from Greenwich to the other side of the earth.
const HALF_CIRCLE: f64 = 180.0;

impl Point {
    /// Parses a point. Without letters the latitude comes first.
    pub fn parse(text: &str, at: &Location) -> Result<Self, Diagnostic> {
        Self::parse_text(text).map_err(|error| error.at(at).text(text))
    }

    fn parse_text(text: &str) -> Result<Self, ClimateError> {
        let tokens = tokens(text).ok_or(ClimateError::NotAPoint)?;
        let [first, second] = halves(&tokens).ok_or(ClimateError::NotAPoint)?.map(Angle::parse);
        let (first, second) = (first?, second?);
        let is_longitude = |angle: &Angle| angle.letter.map(|letter| "ew".contains(letter));
        let swapped = match (is_longitude(&first), is_longitude(&second)) {
            (Some(a), Some(b)) if a == b => return Err(ClimateError::RepeatedDirection),
            (Some(a), _) => a,
            (None, Some(b)) => !b,
            (None, None) => false,
        };
        let (latitude, longitude) = if swapped { (second, first) } else { (first, second) };
        Ok(Self {
            latitude: latitude.degrees,
            longitude: longitude.degrees,
            text: text.into(),
            lettered: [latitude.letter.is_some(), longitude.letter.is_some()],
        })
    }

    /// Degrees north and east.
    pub fn position(&self) -> [f64; 2] {
        [self.latitude, self.longitude]
    }

    /// Whether it is within the ranges of latitude and longitude.
    pub(super) fn is_on_earth(&self) -> bool {
        is_on_earth(self.position())
    }

    /// What else may be meant by figures without letters: the slip, and the point without it.
    pub(super) fn slips(&self) -> Vec<(ClimateError, [f64; 2])> {
        let rounded = |degrees: f64| (degrees * SHOWN).round() / SHOWN;
        let [latitude, longitude] = self.position().map(rounded);
        let mut slips = Vec::new();
        if !self.lettered[1] && longitude > 0.0 {
            slips.push((ClimateError::EasternLongitude, [latitude, -longitude]));
        }
        if longitude > HALF_CIRCLE {
            let west = rounded(longitude - 2.0 * HALF_CIRCLE);
            slips.push((ClimateError::LongitudeBeyond180, [latitude, west]));
        }
        if self.lettered == [false, false] {
            if latitude < 0.0 && longitude > 0.0 {
                slips.push((ClimateError::SouthEast, [-latitude, -longitude]));
            }
            slips.push((ClimateError::LongitudeFirst, [longitude, latitude]));
            if latitude > 0.0 {
                slips.push((ClimateError::LongitudeFirst, [longitude, -latitude]));
            }
        }
        slips.retain(|(_, meant)| is_on_earth(*meant));
        slips
    }
}

fn is_on_earth([latitude, longitude]: [f64; 2]) -> bool {
    latitude.abs() <= 90.0 && longitude.abs() <= 180.0
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Token {
    Number(f64),
    /// `+` or `-`.
    Sign(char),
    /// One of n, s, e, w.
    Letter(char),
    /// One of ° ' ".
    Mark(char),
    Comma,
}

fn tokens(text: &str) -> Option<Vec<Token>> {
    let mut plain = String::new();
    for c in text.chars() {
        match units::typed(c) {
            Some(typed) => plain.push_str(typed),
            None => plain.extend(c.to_lowercase()),
        }
    }
    let plain = plain.replace("''", "\"");
    let mut rest = plain.trim_start();
    let mut tokens = Vec::new();
    while let Some(c) = rest.chars().next() {
        let is = |it: char| it.is_ascii_digit() || it == '.';
        let (token, length) = match c {
            c if is(c) => {
                let end = rest.find(|it| !is(it)).unwrap_or(rest.len());
                (Token::Number(rest[..end].parse().ok()?), end)
            }
            '+' | '-' => (Token::Sign(c), 1),
            '°' | '\'' | '"' => (Token::Mark(c), c.len_utf8()),
            ',' | ';' => (Token::Comma, 1),
            _ => {
                let end = rest.find(|it: char| !it.is_alphabetic()).unwrap_or(rest.len());
                let letter = match &rest[..end] {
                    "n" | "north" => 'n',
                    "s" | "south" => 's',
                    "e" | "east" => 'e',
                    "w" | "west" => 'w',
                    _ => return None,
                };
                (Token::Letter(letter), end)
            }
        };
        tokens.push(token);
        rest = rest[length..].trim_start();
    }
    Some(tokens)
}

/// The two angles: separated by a single comma, otherwise in the middle of their figures.
fn halves(tokens: &[Token]) -> Option<[&[Token]; 2]> {
    let commas: Vec<usize> = (0..tokens.len()).filter(|it| tokens[*it] == Token::Comma).collect();
    match commas.as_slice() {
        [one] => Some([&tokens[..*one], &tokens[one + 1..]]),
        [] => {
            let figures: Vec<usize> =
                (0..tokens.len()).filter(|it| matches!(tokens[*it], Token::Number(_))).collect();
            let mut at = *figures.get(figures.len() / 2).filter(|_| figures.len().is_multiple_of(2))?;
            // A sign belongs to the figure after it; a letter to it where letters come first.
            let leads = matches!(tokens.first(), Some(Token::Letter(_)));
            while at > 0
                && (matches!(tokens[at - 1], Token::Sign(_))
                    || leads && matches!(tokens[at - 1], Token::Letter(_)))
            {
                at -= 1;
            }
            Some([&tokens[..at], &tokens[at..]])
        }
        _ => None,
    }
}

/// Degrees, with the letter beside them.
struct Angle {
    degrees: f64,
    letter: Option<char>,
}

impl Angle {
    fn parse(mut tokens: &[Token]) -> Result<Self, ClimateError> {
        const PARTS: [(char, f64); 3] = [('°', 1.0), ('\'', 60.0), ('"', 3600.0)];
        let mut letter = None;
        if let [Token::Letter(own), rest @ ..] = tokens {
            (letter, tokens) = (Some(*own), rest);
        }
        if let [rest @ .., Token::Letter(own)] = tokens {
            if letter.is_some() {
                return Err(ClimateError::RepeatedDirection);
            }
            (letter, tokens) = (Some(*own), rest);
        }
        let mut sign = None;
        if let [Token::Sign(own), rest @ ..] = tokens {
            (sign, tokens) = (Some(*own), rest);
        }
        if sign.is_some() && letter.is_some() {
            return Err(ClimateError::SignAndLetter);
        }
        let mut degrees = 0.0;
        let mut read = 0;
        for (mark, parts) in PARTS {
            let [Token::Number(number), rest @ ..] = tokens else { break };
            if read > 0 && *number >= 60.0 {
                return Err(ClimateError::SixtyMinutes);
            }
            degrees += number / parts;
            read += 1;
            tokens = rest;
            if let [Token::Mark(own), rest @ ..] = tokens {
                if *own != mark {
                    return Err(ClimateError::NotAPoint);
                }
                tokens = rest;
            }
            if number.fract() != 0.0 {
                break;
            }
        }
        if read == 0 || !tokens.is_empty() {
            return Err(ClimateError::NotAPoint);
        }
        let is_negative = sign == Some('-') || matches!(letter, Some('s' | 'w'));
        Ok(Self { degrees: if is_negative { -degrees } else { degrees }, letter })
    }
}
