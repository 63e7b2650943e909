//! A place and its design conditions, read from a library file or from a job.

use super::extremes::AnnualLow;
use crate::diag::{Place as Spot, Problem};
use crate::input::{Fields, Node};
use crate::units::{self, Dim, Measure};
use std::sync::Arc;

/// Temperatures outside this are slips of a sign or a scale, K (-112 °F to 104 °F).
pub(super) const OUTDOORS: [f64; 2] = [193.15, 313.15];
/// Standard deviations of annual lows lie well within this, K.
const DEVIATION: [f64; 2] = [0.1, 12.0];

/// A place and how cold it gets. All temperatures in K.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// What a job calls it; empty for one written into the job.
    pub id: Arc<str>,
    /// Its name.
    pub name: Arc<str>,
    /// State or province, as the post abbreviates it.
    pub state: Option<Arc<str>>,
    /// IECC climate zone.
    pub zone: Option<Arc<str>>,
    /// Degrees north.
    pub latitude: Option<f64>,
    /// Degrees east.
    pub longitude: Option<f64>,
    /// m above the sea.
    pub elevation: Option<f64>,
    /// Dry bulb exceeded in 99.6 % of the hours of a year.
    pub heating_996: Option<f64>,
    /// Dry bulb exceeded in 99 % of the hours of a year.
    pub heating_990: Option<f64>,
    /// The annual extreme low.
    pub annual_low: Option<AnnualLow>,
    /// Mean of the coldest month.
    pub coldest_month_mean: Option<f64>,
    /// Where that mean is from.
    pub coldest_month_source: Arc<str>,
    /// A design low stated outright; otherwise the 20-year low is meant.
    pub stated_low: Option<f64>,
    /// Where the figures are published.
    pub source: Arc<str>,
    /// Where it stands.
    pub at: Spot,
}

impl Climate {
    /// A climate of which nothing is known.
    pub fn unknown() -> Self {
        Self {
            id: "".into(),
            name: "no climate".into(),
            state: None,
            zone: None,
            latitude: None,
            longitude: None,
            elevation: None,
            heating_996: None,
            heating_990: None,
            annual_low: None,
            coldest_month_mean: None,
            coldest_month_source: "".into(),
            stated_low: None,
            source: "".into(),
            at: Spot::whole(""),
        }
    }

    /// The outdoor temperature an outlet must survive, K: the stated low, or the 20-year low.
    pub fn design_low(&self) -> Option<f64> {
        self.stated_low.or_else(|| self.annual_low.and_then(|it| it.low(20.0)))
    }

    /// What the design low is.
    pub fn design_low_is(&self) -> &'static str {
        if self.stated_low.is_some() { "stated in the job" } else { "20-year low" }
    }
}

/// Reads a file of the library: `source:` and `places:` by id, and `coldest_month_source:` where the means of the coldest
/// month are from elsewhere. A place with a problem is left out.
pub fn read_library_file(node: &Node, problems: &mut Vec<Problem>) -> Vec<Climate> {
    let Some(mut fields) = Fields::of(node, "climate file", problems) else { return Vec::new() };
    let source = fields.need("source", problems).and_then(|node| node.text("source", problems));
    let month_source = text(&mut fields, "coldest_month_source", problems);
    let places = fields.need("places", problems).and_then(|node| node.map("places", problems));
    fields.finish(problems);
    let (Some(source), Some(places)) = (source, places) else { return Vec::new() };
    let read = places.iter().filter_map(|(key, node)| {
        let mut climate = read_place(node, &key.text, Some(source), problems)?;
        if let Some(month_source) = &month_source {
            climate.coldest_month_source = month_source.clone();
        }
        if climate.design_low().is_none() {
            problems.push(
                Problem::new(key.place.clone(), "has neither an annual low nor a design low")
                    .text(&key.text)
                    .expected("annual_low: { mean: 2 °F, deviation: 5 °F }, or design_low: 0 °F"),
            );
            return None;
        }
        Some(climate)
    });
    read.collect()
}

/// Reads a climate written into a job: at least a name and a `design_low`, or a name and an annual low. It may state its
/// `coldest_month_mean`, where a cold spell starts.
pub fn read_climate(node: &Node, problems: &mut Vec<Problem>) -> Option<Climate> {
    let climate = read_place(node, "", None, problems)?;
    if climate.design_low().is_none() {
        let what = "the climate has neither a design_low nor an annual_low";
        problems.push(Problem::new(node.place.clone(), what).expected("a design_low such as 0 °F"));
        return None;
    }
    Some(climate)
}

fn read_place(node: &Node, id: &str, source: Option<&str>, problems: &mut Vec<Problem>) -> Option<Climate> {
    let before = problems.len();
    let what = if id.is_empty() { "climate".to_owned() } else { format!("place \"{id}\"") };
    let mut fields = Fields::of(node, &what, problems)?;
    let name = fields.need("name", problems).and_then(|node| node.text("name", problems));
    let state = text(&mut fields, "state", problems);
    let zone = text(&mut fields, "zone", problems);
    let own_source = text(&mut fields, "source", problems);
    let edition = text(&mut fields, "edition", problems);
    // Kept for the reader of the file; the review does not need it.
    let _ = text(&mut fields, "station", problems);
    let latitude = number(&mut fields, "latitude", [-90.0, 90.0], problems);
    let longitude = number(&mut fields, "longitude", [-180.0, 180.0], problems);
    let elevation = quantity(&mut fields, "elevation", Measure::Of(Dim::LENGTH), [-450.0, 6000.0], problems);
    let temperature = |key, fields: &mut Fields<'_>, problems: &mut _| {
        quantity(fields, key, Measure::Temperature, OUTDOORS, problems)
    };
    let heating_996 = temperature("heating_99.6", &mut fields, problems);
    let heating_990 = temperature("heating_99", &mut fields, problems);
    let coldest_month_mean = temperature("coldest_month_mean", &mut fields, problems);
    let stated_low = temperature("design_low", &mut fields, problems);
    let annual_low = fields.take("annual_low").and_then(|node| {
        let mut own = Fields::of(node, "annual_low", problems)?;
        let mean = quantity(&mut own, "mean", Measure::Temperature, OUTDOORS, problems);
        let deviation = quantity(&mut own, "deviation", Measure::Of(Dim::DIFFERENCE), DEVIATION, problems);
        own.need("mean", problems);
        own.need("deviation", problems);
        own.finish(problems);
        Some(AnnualLow { mean: mean?, deviation: deviation? })
    });
    fields.finish(problems);
    if problems.len() > before {
        return None;
    }
    let source: Arc<str> = match (own_source, source, edition) {
        (Some(own), _, _) => own,
        (None, Some(file), Some(edition)) => format!("{file}, edition {edition}").into(),
        (None, Some(file), None) => file.into(),
        (None, None, _) => "stated in the job".into(),
    };
    Some(Climate {
        id: id.into(),
        name: name?.into(),
        state,
        zone,
        latitude,
        longitude,
        elevation,
        heating_996,
        heating_990,
        annual_low,
        coldest_month_mean,
        coldest_month_source: source.clone(),
        stated_low,
        source,
        at: node.place.clone(),
    })
}

fn text(fields: &mut Fields<'_>, key: &'static str, problems: &mut Vec<Problem>) -> Option<Arc<str>> {
    fields.take(key).and_then(|node| node.text(key, problems)).map(Into::into)
}

fn number(
    fields: &mut Fields<'_>,
    key: &'static str,
    [least, most]: [f64; 2],
    problems: &mut Vec<Problem>,
) -> Option<f64> {
    let node = fields.take(key)?;
    let number = node.number(key, problems)?;
    if (least..=most).contains(&number) {
        return Some(number);
    }
    problems.push(node.problem("is out of range").expected(format!("{least} to {most}")));
    None
}

fn quantity(
    fields: &mut Fields<'_>,
    key: &'static str,
    measure: Measure,
    [least, most]: [f64; 2],
    problems: &mut Vec<Problem>,
) -> Option<f64> {
    let node = fields.take(key)?;
    let text = node.text(key, problems)?;
    match units::parse(text, measure) {
        Ok(quantity) if (least..=most).contains(&quantity.is) => Some(quantity.is),
        Ok(_) => {
            let what = format!("is outside what there is for the {}", key.replace('_', " "));
            problems.push(node.problem(what).expected(units::limits([least, most], measure)));
            None
        }
        Err(refused) => {
            problems.push(refused.at(node.place.clone(), text));
            None
        }
    }
}
