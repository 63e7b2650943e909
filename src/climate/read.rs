//! Reads places from a library file or from a job.

use super::error::ClimateError;
use super::extremes::AnnualLow;
use super::figures::contradiction;
use super::place::{Climate, DEVIATION, ELEVATIONS, MONTHS, OUTDOORS, WINTERS, Whose, normal_source};
use crate::diag::Diagnostics;
use crate::input::{Fields, Node};
use crate::units::{self, Dim, Measure};
use std::sync::Arc;

/// Reads a file of the library: `source:` and `places:` by id. Three more keys apply to each place that states a
/// `coldest_month_mean` and no `coldest_month_normal`: `coldest_month_source:`, where that mean is from;
/// `coldest_month_add:`, a correction added to it; `coldest_month_within:`, its 95 % error after the correction. A place
/// with an error is skipped.
pub fn read_library_file(node: &Node, errors: &mut Diagnostics) -> Vec<Climate> {
    read_file(node, None, errors)
}

/// Reads a file of a person's own places, in the same form; `source:` may be missing, and is then `default_source`.
pub(super) fn read_own_file(node: &Node, default_source: &str, errors: &mut Diagnostics) -> Vec<Climate> {
    read_file(node, Some(default_source), errors)
}

fn read_file(node: &Node, default_source: Option<&str>, errors: &mut Diagnostics) -> Vec<Climate> {
    let Some(mut fields) = Fields::of(node, "climate file", errors) else { return Vec::new() };
    let source = match default_source {
        Some(default) => fields.optional("source").map_or(Some(default), |node| node.text("source", errors)),
        None => fields.required("source", errors).and_then(|node| node.text("source", errors)),
    };
    let month_source = fields.optional("coldest_month_source");
    let month_source = month_source.and_then(|node| node.text("coldest_month_source", errors));
    let mut difference = |key| {
        let node = fields.optional(key)?;
        let text = node.text(key, errors)?;
        let parsed = units::parse(text, Measure::Of(Dim::DIFFERENCE));
        errors.ok(parsed.map_err(|error| error.at(node.location.clone(), text))).map(|kelvin| kelvin.is)
    };
    let [add, within] = ["coldest_month_add", "coldest_month_within"].map(&mut difference);
    let places = fields.required("places", errors).and_then(|node| node.map("places", errors));
    fields.finish(errors);
    let (Some(source), Some(places)) = (source, places) else { return Vec::new() };
    let of_all =
        OfAllPlaces { source, month_source, month_add: add.unwrap_or_default(), month_within: within };
    let read = places.iter().filter_map(|(key, node)| {
        if !key.text.contains(char::is_alphabetic) {
            errors.push(ClimateError::InvalidId.at(&key.location).text(&key.text));
            return None;
        }
        let mut climate = read_place(node, Some((&key.text, &of_all)), errors)?;
        if !climate.has_a_low() {
            errors.push(ClimateError::NoLow.at(&key.location).text(&key.text));
            return None;
        }
        climate.whose = if default_source.is_some() { Whose::Own } else { Whose::BuiltIn };
        Some(climate)
    });
    read.collect()
}

/// Reads a climate described in a job: a name and at least one low (`design_low`, `annual_low`, `heating_99.6`, `heating_99`
/// or `coldest_recorded`). It may state its `coldest_month_mean`, where a cold spell starts.
pub fn read_climate(node: &Node, errors: &mut Diagnostics) -> Option<Climate> {
    let climate = read_place(node, None, errors)?;
    if climate.has_a_low() {
        return Some(climate);
    }
    errors.push(ClimateError::NoLow.at(&node.location).text(&*climate.name));
    None
}

/// What a file states for all of its places.
struct OfAllPlaces<'n> {
    source: &'n str,
    /// Of the stated means of the coldest month: where they are from, a correction (K) and its 95 % error (K).
    month_source: Option<&'n str>,
    month_add: f64,
    month_within: Option<f64>,
}

/// Reads a place of a library, by its id and what its file states for all, or a climate described in a job.
fn read_place(
    node: &Node,
    of_library: Option<(&str, &OfAllPlaces<'_>)>,
    errors: &mut Diagnostics,
) -> Option<Climate> {
    let before = errors.len();
    let what = of_library.map_or("climate".to_owned(), |(id, _)| format!("place \"{id}\""));
    let mut place = PlaceFields::of(node, &what, errors)?;
    let name = place.required("name").and_then(|node| node.text("name", place.errors));
    let mut climate = Climate {
        id: of_library.map_or("", |(id, _)| id).into(),
        name: name.unwrap_or_default().into(),
        state: place.text("state"),
        zone: place.text("zone"),
        source: place
            .text("source")
            .unwrap_or_else(|| of_library.map_or("", |(_, of_all)| of_all.source).into()),
        measured_at: place.text("measured_at"),
        station: place.text("station"),
        coastal: place.yes_no("coastal", "salt water is near"),
        latitude: place.number("latitude", [-90.0, 90.0]),
        longitude: place.number("longitude", [-180.0, 180.0]),
        elevation: place.quantity("elevation", Measure::Of(Dim::LENGTH), ELEVATIONS),
        heating_996: place.temperature("heating_99.6"),
        heating_990: place.temperature("heating_99"),
        coldest_recorded: place.temperature("coldest_recorded"),
        coldest_month: place.month("coldest_month"),
        coldest_month_mean: place.temperature("coldest_month_mean"),
        summer_dew_point: place.temperature("summer_dew_point"),
        supply_water: place.temperature("supply_water"),
        // `Climate::design_low` also takes a low computed from the annual lows.
        stated_low: place.temperature("design_low"),
        location: node.location.clone(),
        ..Climate::unknown()
    };
    climate.annual_low =
        place.fields.optional("annual_low").and_then(|node| read_annual_low(node, place.errors));
    let normal = place.temperature("coldest_month_normal");
    let normal_years = place.text("normal_years");
    let edition = place.text("edition");
    // Only a year is kept, for `stations` to tell old editions by; any text goes into a stated source.
    climate.edition = edition.as_deref().and_then(|text| text.parse().ok());
    place.fields.finish(place.errors);
    if climate.source.is_empty() {
        climate.source = "stated in the job".into();
    } else if let Some(edition) = edition {
        climate.source = format!("{}, edition {edition}", climate.source).into();
    }
    climate.coldest_month_source = climate.source.clone();
    let typical = climate.coldest_month_mean;
    if normal.is_some() {
        climate.coldest_month_mean = normal;
        climate.coldest_month_source = normal_source(normal_years.as_deref()).into();
    } else if let (Some(mean), Some((_, of_all))) = (&mut climate.coldest_month_mean, of_library) {
        *mean += of_all.month_add;
        climate.coldest_month_within = of_all.month_within;
        if let Some(month_source) = of_all.month_source {
            climate.coldest_month_source = month_source.into();
        }
    }
    errors.extend(contradiction(&climate, [normal, typical], node));
    (errors.len() == before).then_some(climate)
}

fn read_annual_low(node: &Node, errors: &mut Diagnostics) -> Option<AnnualLow> {
    let mut low = PlaceFields::of(node, "annual_low", errors)?;
    let mean = low.required("mean").and_then(|_| low.temperature("mean"));
    let deviation = low.required("deviation");
    let deviation =
        deviation.and_then(|_| low.quantity("deviation", Measure::Of(Dim::DIFFERENCE), DEVIATION));
    let winters = low.number("winters", WINTERS);
    low.fields.finish(errors);
    Some(AnnualLow { mean: mean?, deviation: deviation?, winters, is_elsewhere: false })
}

/// Reads the keys of a place, or of a mapping in it, and collects their errors.
struct PlaceFields<'n, 'e> {
    fields: Fields<'n>,
    errors: &'e mut Diagnostics,
}

impl<'n, 'e> PlaceFields<'n, 'e> {
    fn of(node: &'n Node, what: &str, errors: &'e mut Diagnostics) -> Option<Self> {
        Some(Self { fields: Fields::of(node, what, errors)?, errors })
    }

    fn required(&mut self, key: &'static str) -> Option<&'n Node> {
        self.fields.required(key, self.errors)
    }

    fn text(&mut self, key: &'static str) -> Option<Arc<str>> {
        Some(self.fields.optional(key)?.text(key, self.errors)?.into())
    }

    fn yes_no(&mut self, key: &'static str, what: &str) -> Option<bool> {
        self.fields.optional(key)?.yes_no(what, self.errors)
    }

    fn month(&mut self, key: &'static str) -> Option<u8> {
        self.fields.optional(key)?.one_of("month", &MONTHS, self.errors)
    }

    fn number(&mut self, key: &'static str, range: [f64; 2]) -> Option<f64> {
        let node = self.fields.optional(key)?;
        let number = node.number(key, self.errors)?;
        self.check_range(node, key, number, range, format!("{} to {}", range[0], range[1]))
    }

    fn temperature(&mut self, key: &'static str) -> Option<f64> {
        self.quantity(key, Measure::Temperature, OUTDOORS)
    }

    fn quantity(&mut self, key: &'static str, measure: Measure, range: [f64; 2]) -> Option<f64> {
        let node = self.fields.optional(key)?;
        let text = node.text(key, self.errors)?;
        let parsed = units::parse(text, measure).map_err(|error| error.at(node.location.clone(), text));
        let value = self.errors.ok(parsed)?.is;
        self.check_range(node, key, value, range, units::limits(range, measure))
    }

    fn check_range(
        &mut self,
        node: &Node,
        key: &str,
        value: f64,
        range: [f64; 2],
        range_text: String,
    ) -> Option<f64> {
        if units::contains(range, value) {
            return Some(value);
        }
        let text = node.text(key, self.errors)?;
        let error = ClimateError::OutOfRange { of: key.replace('_', " "), range: range_text };
        self.errors.push(error.at(&node.location).text(text));
        None
    }
}
