//! A place and its design conditions, read from a library file or from a job.

use super::design::DesignBy;
use super::extremes::AnnualLow;
use crate::diag::{Diagnostic, Diagnostics, Location as Position};
use crate::input::{Fields, Node};
use crate::units::{self, Dim, Measure, Quantity, Show, System};
use std::sync::Arc;

/// Temperatures outside this are slips of a sign or a scale, K (-112 °F to 104 °F).
pub(super) const OUTDOORS: [f64; 2] = [193.15, 313.15];
/// Standard deviations of annual lows lie well within this, K.
pub(super) const DEVIATION: [f64; 2] = [0.1, 12.0];
/// From below the lowest shore to above the highest town of the continent, m; air films are known to 60 kPa.
pub(super) const ELEVATIONS: [f64; 2] = [-450.0, 4200.0];
/// Winters of a record: of fewer there is no deviation worth the name.
const WINTERS: [f64; 2] = [3.0, 300.0];

/// Months as files name them, and their numbers.
pub const MONTHS: [(&str, u8); 12] = [
    ("January", 1),
    ("February", 2),
    ("March", 3),
    ("April", 4),
    ("May", 5),
    ("June", 6),
    ("July", 7),
    ("August", 8),
    ("September", 9),
    ("October", 10),
    ("November", 11),
    ("December", 12),
];

/// Who a climate comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Whose {
    /// It is inside the program.
    BuiltIn,
    /// A file of the person's own.
    Own,
    /// The same, with the id of one that is built in and is not used.
    InPlaceOfBuiltIn,
    /// The job describes it.
    Job,
}

impl Whose {
    /// Whether it stands in a file of the person's own.
    pub fn is_own(self) -> bool {
        matches!(self, Self::Own | Self::InPlaceOfBuiltIn)
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Self::BuiltIn => "built in",
            Self::Own => "yours",
            Self::InPlaceOfBuiltIn => "yours, in place of the one built in",
            Self::Job => "described in the job",
        }
    }
}

/// A place and how cold it gets. All temperatures in K.
#[derive(Clone, Debug, PartialEq)]
pub struct Climate {
    /// What a job calls it; empty for one written into the job.
    pub id: Arc<str>,
    /// Its name.
    pub name: Arc<str>,
    /// State or province, as the post abbreviates it.
    pub state: Option<Arc<str>>,
    /// Where it was measured, such as an airport, where that is not plain from the name.
    pub measured_at: Option<Arc<str>>,
    /// Number of its station (WMO).
    pub station: Option<Arc<str>>,
    /// IECC climate zone.
    pub zone: Option<Arc<str>>,
    /// Degrees north.
    pub latitude: Option<f64>,
    /// Degrees east.
    pub longitude: Option<f64>,
    /// m above the sea.
    pub elevation: Option<f64>,
    /// Whether salt water is near enough to count for metals; `None` where nobody says.
    pub coastal: Option<bool>,
    /// Dry bulb exceeded in 99.6 % of the hours of a year.
    pub heating_996: Option<f64>,
    /// Dry bulb exceeded in 99 % of the hours of a year.
    pub heating_990: Option<f64>,
    /// The annual extreme low.
    pub annual_low: Option<AnnualLow>,
    /// The coldest hour on record.
    pub coldest_recorded: Option<f64>,
    /// The coldest month, 1 to 12.
    pub coldest_month: Option<u8>,
    /// Mean of the coldest month.
    pub coldest_month_mean: Option<f64>,
    /// Where that mean is from.
    pub coldest_month_source: Arc<str>,
    /// A design low stated outright; otherwise the 20-year low is meant.
    pub stated_low: Option<f64>,
    /// Where the figures are published.
    pub source: Arc<str>,
    /// Where it stands.
    pub at: Position,
    /// Who it comes from.
    pub whose: Whose,
}

impl Climate {
    /// A climate of which nothing is known.
    pub fn unknown() -> Self {
        Self {
            id: "".into(),
            name: "no climate".into(),
            state: None,
            measured_at: None,
            station: None,
            zone: None,
            latitude: None,
            longitude: None,
            elevation: None,
            coastal: None,
            heating_996: None,
            heating_990: None,
            annual_low: None,
            coldest_recorded: None,
            coldest_month: None,
            coldest_month_mean: None,
            coldest_month_source: "".into(),
            stated_low: None,
            source: "".into(),
            at: Position::whole(""),
            whose: Whose::Job,
        }
    }

    /// The outdoor temperature an outlet must survive where nobody chooses another: the stated low, or the 20-year low, K.
    pub fn design_low(&self) -> Option<f64> {
        self.low_by(self.usual_design())
    }

    /// What [`Climate::design_low`] is.
    pub fn usual_design(&self) -> DesignBy {
        self.stated_low.map_or(DesignBy::Years(20.0), DesignBy::Stated)
    }

    /// A figure of this climate, K; `None` where it has none such. The authority's is none of a climate's figures.
    pub fn low_by(&self, by: DesignBy) -> Option<f64> {
        match by {
            DesignBy::Stated(kelvin) => Some(kelvin),
            DesignBy::Years(years) => self.annual_low.and_then(|it| it.low(years)),
            DesignBy::Heating996 => self.heating_996,
            DesignBy::Heating99 => self.heating_990,
            DesignBy::ColdestRecorded => self.coldest_recorded,
            DesignBy::Authority => None,
        }
    }

    /// Whether it has any figure that an outlet can be held to.
    fn has_a_low(&self) -> bool {
        let all = [self.stated_low, self.heating_996, self.heating_990, self.coldest_recorded];
        self.annual_low.is_some() || all.iter().any(Option::is_some)
    }

    /// Its coldest month.
    pub fn coldest_month_name(&self) -> Option<&'static str> {
        let own = MONTHS.iter().find(|(_, number)| Some(*number) == self.coldest_month);
        own.map(|(name, _)| *name)
    }

    /// Whether two differ in nothing but where they stand.
    pub(super) fn says_the_same_as(&self, other: &Self) -> bool {
        *self == Self { at: self.at.clone(), whose: self.whose, ..other.clone() }
    }

    /// "Minneapolis-St Paul, MN".
    pub fn name_and_state(&self) -> String {
        self.state.as_ref().map_or_else(|| self.name.to_string(), |state| format!("{}, {state}", self.name))
    }
}

/// Reads a file of the library: `source:` and `places:` by id, and `coldest_month_source:` where the means of the coldest
/// month are from elsewhere. A place with a problem is left out.
pub fn read_library_file(node: &Node, problems: &mut Diagnostics) -> Vec<Climate> {
    read_file(node, None, problems)
}

/// Reads a file of a person's own places, of the same form; `source:` may be left out of it, and `usual` then says where
/// the figures are from.
pub(super) fn read_own_file(node: &Node, usual: &str, problems: &mut Diagnostics) -> Vec<Climate> {
    read_file(node, Some(usual), problems)
}

fn read_file(node: &Node, usual: Option<&str>, problems: &mut Diagnostics) -> Vec<Climate> {
    let Some(mut fields) = Fields::of(node, "climate file", problems) else { return Vec::new() };
    let source = match usual {
        Some(usual) => fields.take("source").map_or(Some(usual), |node| node.text("source", problems)),
        None => fields.need("source", problems).and_then(|node| node.text("source", problems)),
    };
    let month_source = text(&mut fields, "coldest_month_source", problems);
    let places = fields.need("places", problems).and_then(|node| node.map("places", problems));
    fields.finish(problems);
    let (Some(source), Some(places)) = (source, places) else { return Vec::new() };
    let read = places.iter().filter_map(|(key, node)| {
        if !key.text.contains(char::is_alphabetic) {
            let problem = Diagnostic::new(key.place.clone(), "is no id of a place").text(&key.text);
            problems.push(problem.expected("one with letters, such as cedar-hollow-mn"));
            return None;
        }
        let mut climate = read_place(node, &key.text, Some(source), problems)?;
        if let Some(month_source) = &month_source {
            climate.coldest_month_source = month_source.clone();
        }
        if !climate.has_a_low() {
            let problem = Diagnostic::new(key.place.clone(), "has no figure an outlet can be held to");
            problems.push(problem.text(&key.text).expected(A_LOW));
            return None;
        }
        climate.whose = if usual.is_some() { Whose::Own } else { Whose::BuiltIn };
        Some(climate)
    });
    read.collect()
}

/// Reads a climate written into a job: at least a name and a `design_low`, or a name and an annual low. It may state its
/// `coldest_month_mean`, where a cold spell starts.
pub fn read_climate(node: &Node, problems: &mut Diagnostics) -> Option<Climate> {
    let climate = read_place(node, "", None, problems)?;
    if !climate.has_a_low() {
        let what = "the climate has no figure an outlet can be held to";
        problems.push(Diagnostic::new(node.place.clone(), what).expected(A_LOW));
        return None;
    }
    Some(climate)
}

const A_LOW: &str = "annual_low: { mean: 2 °F, deviation: 5 °F }, or design_low: 0 °F";

fn read_place(node: &Node, id: &str, source: Option<&str>, problems: &mut Diagnostics) -> Option<Climate> {
    let before = problems.len();
    let what = if id.is_empty() { "climate".to_owned() } else { format!("place \"{id}\"") };
    let mut fields = Fields::of(node, &what, problems)?;
    let name = fields.need("name", problems).and_then(|node| node.text("name", problems));
    let state = text(&mut fields, "state", problems);
    let zone = text(&mut fields, "zone", problems);
    let own_source = text(&mut fields, "source", problems);
    let edition = text(&mut fields, "edition", problems);
    let measured_at = text(&mut fields, "measured_at", problems);
    let station = text(&mut fields, "station", problems);
    let coastal = fields.take("coastal").and_then(|node| node.yes_no("salt water is near", problems));
    let latitude = number(&mut fields, "latitude", [-90.0, 90.0], problems);
    let longitude = number(&mut fields, "longitude", [-180.0, 180.0], problems);
    let elevation = quantity(&mut fields, "elevation", Measure::Of(Dim::LENGTH), ELEVATIONS, problems);
    let temperature = |key, fields: &mut Fields<'_>, problems: &mut _| {
        quantity(fields, key, Measure::Temperature, OUTDOORS, problems)
    };
    let heating_996 = temperature("heating_99.6", &mut fields, problems);
    let heating_990 = temperature("heating_99", &mut fields, problems);
    let coldest_recorded = temperature("coldest_recorded", &mut fields, problems);
    let coldest_month = fields.take("coldest_month").and_then(|node| node.one_of("month", &MONTHS, problems));
    let coldest_month_mean = temperature("coldest_month_mean", &mut fields, problems);
    let stated_low = temperature("design_low", &mut fields, problems);
    let annual_low = fields.take("annual_low").and_then(|node| {
        let mut own = Fields::of(node, "annual_low", problems)?;
        let mean = quantity(&mut own, "mean", Measure::Temperature, OUTDOORS, problems);
        let deviation = quantity(&mut own, "deviation", Measure::Of(Dim::DIFFERENCE), DEVIATION, problems);
        own.need("mean", problems);
        own.need("deviation", problems);
        let winters = number(&mut own, "winters", WINTERS, problems);
        own.finish(problems);
        Some(AnnualLow { mean: mean?, deviation: deviation?, winters })
    });
    fields.finish(problems);
    let annual = ("mean annual low", annual_low.map(|it| it.mean));
    let month = [("mean of the coldest month", coldest_month_mean), annual];
    let lows = [
        ("99 % value", heating_990),
        ("99.6 % value", heating_996),
        annual,
        ("coldest recorded", coldest_recorded),
    ];
    let wrong = out_of_order(&lows).or_else(|| out_of_order(&month));
    problems.extend(wrong.map(|what| node.problem(what).expected(IN_ORDER)));
    if problems.len() > before {
        return None;
    }
    let source: Arc<str> = match (own_source.as_deref().or(source), edition) {
        (Some(file), Some(edition)) => format!("{file}, edition {edition}").into(),
        (Some(file), None) => file.into(),
        (None, _) => "stated in the job".into(),
    };
    Some(Climate {
        id: id.into(),
        name: name?.into(),
        state,
        measured_at,
        station,
        zone,
        latitude,
        longitude,
        elevation,
        coastal,
        heating_996,
        heating_990,
        annual_low,
        coldest_recorded,
        coldest_month,
        coldest_month_mean,
        coldest_month_source: source.clone(),
        stated_low,
        source,
        at: node.place.clone(),
        whose: Whose::Job,
    })
}

const IN_ORDER: &str = "figures each no warmer than the one before: is a minus missing?";

/// The first two figures of a place that cannot both be right; they are given the mildest kind first.
fn out_of_order(lows: &[(&str, Option<f64>)]) -> Option<String> {
    let known: Vec<(&str, f64)> =
        lows.iter().filter_map(|(name, kelvin)| Some((*name, (*kelvin)?))).collect();
    let pair = known.windows(2).find(|pair| pair[1].1 > pair[0].1)?;
    let ([(milder, above), (colder, below)], show) = (pair, Show::usual(Measure::Temperature)) else {
        return None;
    };
    let text = |kelvin: f64| show.value(&Quantity::temperature(kelvin), System::Us);
    Some(format!("has a {colder} of {} above its {milder} of {}", text(*below), text(*above)))
}

fn text(fields: &mut Fields<'_>, key: &'static str, problems: &mut Diagnostics) -> Option<Arc<str>> {
    fields.take(key).and_then(|node| node.text(key, problems)).map(Into::into)
}

fn number(
    fields: &mut Fields<'_>,
    key: &'static str,
    [least, most]: [f64; 2],
    problems: &mut Diagnostics,
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
    problems: &mut Diagnostics,
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
