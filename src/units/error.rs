//! Why a text is not a quantity: the cases, and the text of each.

use super::dim::{Dim, Measure};
use super::hedge::Hedge;
use super::range::limits;
use super::table::Unit;
use crate::diag::{Diagnostic, Location};

/// A text that is not the wanted quantity.
#[derive(Clone, Debug, PartialEq)]
pub struct QuantityError {
    /// What is wrong.
    pub reason: Reason,
    /// What the text should measure.
    pub want: Measure,
}

/// What is wrong with the text of a quantity.
#[derive(Clone, Debug, PartialEq)]
pub enum Reason {
    /// Longer than any quantity.
    TooLong,
    /// A word beside the value makes it a limit, a choice, approximate or open.
    Hedged(Hedge),
    /// `8" (230 mm)`.
    TwoUnitsDiffer,
    /// A range or a tolerance where one value is wanted.
    IsRange,
    /// `10-8 in`.
    ReversedRange,
    /// `8" ±-1/4"`.
    NegativeTolerance,
    /// `in`, `1/0 in`.
    NoNumber,
    /// A comma that does not group thousands.
    Comma,
    /// `1.200 mm` in a file with decimal commas.
    Point,
    /// `8 3/2 in`.
    ImproperFraction,
    /// A number alone.
    NoUnit,
    /// `5'-6`.
    NoInchMark,
    /// `1'-14"`.
    FootOfInches,
    /// A unit of another measure.
    WrongUnit(&'static Unit),
    /// A sign where none belongs: `12-"`, `8 in..`, `1'-2'`, `1'000 in`.
    SignOutOfPlace,
    /// `90°` as a slope.
    Vertical,
    /// `8-Oct`.
    Date,
    /// `3/4" x 10"`.
    TwoDimensions,
    /// `8"/10"`.
    Alternatives,
    /// `8/10/12 in`.
    SeveralValues,
    /// Words after the unit.
    UnknownWords(String),
    /// A word in the place of the unit, and the nearest unit.
    UnknownUnit(String, Option<&'static str>),
    /// Beyond the largest number.
    NotFinite,
    /// Outside the plausible range, SI.
    OutOfRange([f64; 2]),
}

impl Reason {
    /// The error it is where a measure is wanted.
    pub(super) fn of(self, want: Measure) -> QuantityError {
        QuantityError { reason: self, want }
    }
}

impl QuantityError {
    /// What is wrong; completes the sentence that starts with the text.
    pub fn message(&self) -> String {
        let text = match &self.reason {
            Reason::TooLong => "is too long for a quantity",
            Reason::Hedged(Hedge::Open) => "is not final",
            Reason::Hedged(Hedge::Choice) => "is a choice, not one value",
            Reason::Hedged(Hedge::Near) => "is approximate",
            Reason::Hedged(Hedge::Least) => "is a minimum, not the value itself",
            Reason::Hedged(Hedge::Most) => "is a maximum, not the value itself",
            Reason::TwoUnitsDiffer => "gives two different values",
            Reason::IsRange => "is a range, not one value",
            Reason::ReversedRange => "is a range with the larger value first",
            Reason::NegativeTolerance => "has a negative tolerance",
            Reason::NoNumber => "does not start with a number",
            Reason::Comma => "has a comma that is not a thousands separator",
            Reason::Point => "has a point that may be a thousands separator or a decimal point",
            Reason::ImproperFraction => "has a whole number beside an improper fraction",
            Reason::NoUnit => "has no unit",
            Reason::NoInchMark => "has no inch mark after the inches",
            Reason::FootOfInches => "has 12 in or more after the feet",
            Reason::SignOutOfPlace => "has a sign out of place",
            Reason::Vertical => "is not a slope: 90° or more",
            Reason::Date => "is a date; spreadsheets turn ranges and fractions into dates",
            Reason::TwoDimensions => "gives two dimensions, not one value",
            Reason::Alternatives => "gives two values and does not say which one applies",
            Reason::SeveralValues => "gives more than one value",
            Reason::NotFinite => "is too large a number",
            Reason::OutOfRange(_) => "is out of range",
            Reason::WrongUnit(unit) => {
                let measure = if unit.names[0] == "°" { "a slope".into() } else { unit.measure().name() };
                return format!("is {measure}, not {}", self.want.name());
            }
            Reason::UnknownWords(words) => return format!("has unknown words after the value, \"{words}\""),
            Reason::UnknownUnit(unit, _) => return format!("has an unknown unit, \"{unit}\""),
        };
        text.into()
    }

    /// What would have been right.
    pub fn expected(&self) -> String {
        match self.reason {
            Reason::OutOfRange(range) => limits(range, self.want),
            _ => example(self.want).into(),
        }
    }

    /// The nearest unit, where the unit is misspelled.
    pub fn nearest(&self) -> Option<&'static str> {
        if let Reason::UnknownUnit(_, nearest) = self.reason { nearest } else { None }
    }

    /// The diagnostic at the location of the text.
    pub fn at(&self, location: Location, text: &str) -> Diagnostic {
        let diagnostic = Diagnostic::new(location, self.message()).text(text).expected(self.expected());
        Diagnostic { nearest: self.nearest().map(Into::into), ..diagnostic }
    }
}

fn example(want: Measure) -> &'static str {
    match want {
        Measure::Temperature => "a temperature such as -5 °F or -20 °C",
        Measure::Of(Dim::LENGTH) => "a length such as 8 in, 1 1/2\" or 203 mm",
        Measure::Of(Dim::DIFFERENCE) => "a temperature difference such as 4 °F",
        Measure::Of(Dim::RESISTANCE) => "a resistance such as R-20 or 3.5 m²K/W",
        Measure::Of(Dim::CONDUCTIVITY) => "a conductivity such as 0.043 W/mK",
        Measure::Of(Dim::DENSITY) => "a density such as 32 kg/m³ or 2 lb/ft³",
        Measure::Of(Dim::SPECIFIC_HEAT) => "a specific heat such as 840 J/kgK or 0.2 Btu/lb·°F",
        Measure::Of(Dim::DEGREE_TIME) => "degree-days such as 1800 °F·days or 1000 °C·days",
        Measure::Of(Dim::TIME) => "a time such as 60 h",
        Measure::Of(Dim::NONE) => "a number, a percentage, or a slope such as 1/4 in/ft",
        Measure::Of(_) => "a number with its unit",
    }
}
