//! Locations, diagnostics and quantities, as every form writes them.

use crate::climate::LOW;
use crate::diag::{Diagnostic, Location, Position, Span};
use crate::review::{Noted, SetAside, Unused};
use crate::units::{Dim, Quantity, Show, System, si_symbol, significant};
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};
use std::borrow::Cow;

/// A number with seven significant digits.
#[derive(Clone, Copy, JsonSchema)]
#[schemars(transparent, inline)]
pub(super) struct Number(pub f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        number(self.0).serialize(to)
    }
}

/// Seven significant digits.
pub(in crate::report) fn number(exact: f64) -> serde_json::Value {
    let rounded = significant(exact);
    #[allow(clippy::cast_possible_truncation, reason = "only whole numbers below 2^53 are cast")]
    if rounded.fract() == 0.0 && rounded.abs() < 1e15 { (rounded as i64).into() } else { rounded.into() }
}

/// Where something stands: a file as a whole, a line and character of a text file (both from 1), or a row of a table
/// as a
/// spreadsheet numbers it, with the heading of its column if one cell is meant.
#[derive(Serialize, JsonSchema)]
pub(super) struct LocationJson<'r> {
    /// The file, as the user named it.
    file: &'r str,
    /// The sheet, if it is another than the one a schedule is mainly on.
    #[serde(skip_serializing_if = "Option::is_none")]
    sheet: Option<&'r str>,
    #[serde(flatten)]
    position: PositionJson<'r>,
    /// The text at that position.
    #[serde(skip_serializing_if = "Option::is_none")]
    text: Option<&'r str>,
}

#[derive(Serialize, JsonSchema)]
#[serde(untagged)]
enum PositionJson<'r> {
    Cell {
        #[schemars(range(min = 1))]
        row: u32,
        /// The column's own heading.
        #[serde(skip_serializing_if = "Option::is_none")]
        column: Option<&'r str>,
    },
    Line {
        #[schemars(range(min = 1))]
        line: u32,
        #[schemars(range(min = 1))]
        column: u32,
    },
    File {},
}

impl<'r> LocationJson<'r> {
    pub(super) fn of(location: &'r Location, text: Option<&'r str>) -> Self {
        let position = match &location.position {
            Position::Whole => PositionJson::File {},
            Position::Line(Span { line, start, .. }) => PositionJson::Line { line: *line, column: *start },
            Position::Row(row, column) => PositionJson::Cell { row: *row, column: column.as_deref() },
        };
        Self {
            file: &location.file,
            sheet: location.sheet.as_ref().map(|sheet| &*sheet.name),
            position,
            text,
        }
    }
}

impl<'r> From<&'r Location> for LocationJson<'r> {
    fn from(location: &'r Location) -> Self {
        Self::of(location, None)
    }
}

/// An error or a warning.
#[derive(Serialize, JsonSchema)]
pub(super) struct DiagnosticJson<'r> {
    at: LocationJson<'r>,
    /// What is wrong.
    what: &'r str,
    /// What would be right, if that can be said.
    expected: Option<&'r str>,
    /// The nearest name that exists, if one is near enough to be meant.
    nearest: Option<&'r str>,
    /// All of it as one line.
    text: String,
}

impl<'r> From<&'r Diagnostic> for DiagnosticJson<'r> {
    fn from(diagnostic: &'r Diagnostic) -> Self {
        Self {
            at: LocationJson::of(&diagnostic.location, diagnostic.text.as_deref()),
            what: &diagnostic.message,
            expected: diagnostic.expected.as_deref(),
            nearest: diagnostic.nearest.as_deref(),
            text: diagnostic.to_string(),
        }
    }
}

/// How a part of the schedule was read.
#[derive(Serialize, JsonSchema)]
pub(super) struct NoteJson<'r> {
    at: LocationJson<'r>,
    /// The note; completes the sentence that starts with the text there.
    what: &'r str,
}

impl<'r> From<&'r Noted> for NoteJson<'r> {
    fn from(note: &'r Noted) -> Self {
        Self { at: LocationJson::of(&note.location, Some(&note.text)), what: &note.what }
    }
}

/// A part of the schedule that is not used.
#[derive(Serialize, JsonSchema)]
pub(super) struct UnusedJson<'r> {
    at: LocationJson<'r>,
    /// Why it is not used.
    why: &'r str,
}

impl<'r> From<&'r Unused> for UnusedJson<'r> {
    fn from(unused: &'r Unused) -> Self {
        Self { at: LocationJson::of(&unused.location, Some(&unused.text)), why: unused.why }
    }
}

/// A row that is not an outdoor outlet.
#[derive(Serialize, JsonSchema)]
pub(super) struct AsideJson<'r> {
    at: LocationJson<'r>,
    /// Why: fixture, drain, indoor outlet, and so on.
    reason: &'r str,
}

impl<'r> From<&'r SetAside> for AsideJson<'r> {
    fn from(aside: &'r SetAside) -> Self {
        Self { at: LocationJson::of(&aside.location, Some(&aside.text)), reason: aside.reason.words()[0] }
    }
}

/// All of a list, converted.
pub(super) fn all<'r, T: 'r, J: From<&'r T>>(items: impl IntoIterator<Item = &'r T>) -> Vec<J> {
    items.into_iter().map(J::from).collect()
}

#[derive(Serialize, JsonSchema)]
#[schemars(inline, extend("dependentRequired" = { "low": ["high"], "high": ["low"] }))]
pub(super) struct MeasuredJson {
    /// The value used, in `unit`.
    value: Number,
    /// Lowest possible value, from the spread of uncertain inputs. Absent, like `high`, if the value has no band.
    #[serde(skip_serializing_if = "Option::is_none")]
    low: Option<Number>,
    /// Highest possible value.
    #[serde(skip_serializing_if = "Option::is_none")]
    high: Option<Number>,
    /// SI unit; 1 for a plain number, a share or a slope.
    unit: String,
    /// What it measures, such as length or time. Tells a temperature from a temperature difference, both in K.
    kind: String,
}

impl From<&Quantity> for MeasuredJson {
    fn from(quantity: &Quantity) -> Self {
        let band = |end: f64| quantity.is_banded().then_some(Number(end));
        let name = quantity.measure.name();
        let kind = name.strip_prefix("a ").or_else(|| name.strip_prefix("an ")).unwrap_or(&name);
        Self {
            value: Number(quantity.is),
            low: band(quantity.low),
            high: band(quantity.high),
            unit: si_symbol(quantity.measure),
            kind: kind.to_owned(),
        }
    }
}

/// A quantity by itself.
#[derive(Serialize, JsonSchema)]
#[schemars(extend("dependentRequired" = { "low": ["high"], "high": ["low"] }))]
pub(super) struct QuantityJson {
    #[serde(flatten)]
    measured: MeasuredJson,
    /// The value, and its band in parentheses, in the reader's units, rounded to the safe side.
    text: String,
}

impl QuantityJson {
    /// A quantity printed the usual way.
    pub(super) fn usual(quantity: &Quantity, system: System) -> Self {
        Self::with(quantity, Show::usual(quantity.measure), system)
    }

    /// A quantity printed in its own way.
    pub(super) fn with(quantity: &Quantity, show: Show, system: System) -> Self {
        Self::worded(quantity, show.with_band(quantity, system))
    }

    /// A quantity with a text of its own.
    pub(super) fn worded(quantity: &Quantity, text: String) -> Self {
        Self { measured: quantity.into(), text }
    }
}

/// Quantities of one measure: the same, with the measure in the schema.
macro_rules! quantity_types {
    ($($(#[doc = $about:literal])+ $name:ident, $unit:literal, $kind:literal;)+) => {$(
        $(#[doc = $about])+
        #[derive(Serialize)]
        pub(super) struct $name(pub QuantityJson);

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(generator: &mut SchemaGenerator) -> Schema {
                json_schema!({
                    "description": concat!($($about),+).trim_start(),
                    "allOf": [generator.subschema_for::<QuantityJson>()],
                    "properties": { "unit": { "const": $unit }, "kind": { "const": $kind } },
                })
            }
        }
    )+};
}

quantity_types! {
    /// A temperature, K.
    TemperatureJson, "K", "temperature";
    /// A temperature difference, K.
    DifferenceJson, "K", "temperature difference";
    /// A length, m.
    LengthJson, "m", "length";
    /// A time, s.
    TimeJson, "s", "time";
    /// A pressure, Pa.
    PressureJson, "Pa", "pressure";
}

pub(super) fn temperature(kelvin: f64, system: System) -> TemperatureJson {
    TemperatureJson(QuantityJson::usual(&Quantity::temperature(kelvin), system))
}

/// A low, with the text that every page prints.
pub(super) fn low_temperature(quantity: &Quantity, system: System) -> TemperatureJson {
    TemperatureJson(QuantityJson::with(quantity, LOW, system))
}

pub(super) fn difference(kelvin: f64, system: System) -> DifferenceJson {
    DifferenceJson(QuantityJson::usual(&Quantity::of(kelvin, Dim::DIFFERENCE), system))
}

pub(super) fn time(seconds: f64) -> TimeJson {
    TimeJson(QuantityJson::usual(&Quantity::of(seconds, Dim::TIME), System::Si))
}
