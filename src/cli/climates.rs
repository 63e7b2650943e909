//! The command `climates`: a list, one in full, or those near a point; with a person's own.

use crate::disk::Disk;
use crate::formats::Format;
use crate::options::Climates;
use crate::output;
use coldsill::climate::{Climate, Filter, Library, Near, Point, read_own};
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::input::Remembered;
use coldsill::physics::moist_air::standard_pressure;
use coldsill::report::{self, ClimatesFound};
use coldsill::shipped;
use coldsill::units::{self, Dim, Measure, System};

/// How many places near a point are listed.
const NEAREST: usize = 5;
/// Plausible elevations in North America, m.
const ELEVATIONS: [f64; 2] = [-450.0, 6000.0];

/// The built-in climates, with a person's own from files and folders. Own places with errors are skipped.
pub fn library(own: &[String], disk: &Disk) -> Result<Library, Diagnostics> {
    let built_in = shipped::climates()?;
    let files = Remembered::new(disk);
    let mut errors = Diagnostics::new();
    let mut places: Vec<_> = own.iter().flat_map(|path| read_own(&files, path, &mut errors)).collect();
    for skipped in places.iter_mut().filter_map(|place| place.as_mut().err()) {
        files.quote(&mut skipped.errors);
    }
    let library = built_in.with_own(places, &mut errors);
    files.quote(&mut errors);
    errors.or(library)
}

/// The error of a place that was asked for, and those of skipped places: it may be one of them.
pub fn refused(error: Diagnostic, library: &Library) -> Diagnostics {
    std::iter::once(error).chain(library.skipped().cloned()).collect()
}

/// Writes the page, and says whether a place of the person's own was skipped.
pub fn run(options: &Climates, disk: &Disk) -> Result<bool, Diagnostics> {
    let library = library(&options.climates, disk)?;
    let text = page(options, &library).map_err(|problem| refused(problem, &library))?;
    output::write(options.output.as_deref(), &text, disk)?;
    let skipped: Diagnostics = library.skipped().cloned().collect();
    output::problems(&skipped);
    Ok(!skipped.is_empty())
}

fn page(options: &Climates, library: &Library) -> Result<String, Diagnostic> {
    let units: Option<System> = options.units.map(Into::into);
    let system = units.unwrap_or_default();
    let words = options.place.join(" ");
    let filter = Filter {
        words: options.find.as_deref(),
        state: options.state.as_deref(),
        zone: options.zone.as_deref(),
    };
    if let Some(first) = &options.near {
        // The two figures may be two words.
        let text = [first.as_str(), words.as_str()].join(" ");
        return near(options, text.trim(), &filter, library, system);
    }
    if let Some(elevation) = &options.elevation {
        let problem = Diagnostic::new(Location::whole("--elevation"), "needs a point to compare places with");
        return Err(problem.text(elevation).expected("--near LAT,LON"));
    }
    if !words.is_empty() {
        if [filter.words, filter.state, filter.zone].iter().any(Option::is_some) {
            let what = "is one place; --find, --state and --zone list several";
            return Err(Diagnostic::new(Location::whole("climates"), what)
                .text(words)
                .expected("one or the other"));
        }
        let found = library.find(&words, &Location::whole("climates"))?;
        return Ok(match options.format {
            Format::Text => report::climate_card(&found, pressure(&found), units),
            Format::Json => json([&*found], system),
        });
    }
    let found: Vec<&Climate> = library.list(&filter)?.into_iter().map(AsRef::as_ref).collect();
    Ok(match options.format {
        Format::Text => report::climates(&found, system),
        Format::Json => json(found, system),
    })
}

fn near(
    options: &Climates,
    text: &str,
    filter: &Filter<'_>,
    library: &Library,
    system: System,
) -> Result<String, Diagnostic> {
    let at = Location::whole("--near");
    let point = Point::parse(text, &at)?;
    let elevation = options.elevation.as_deref().map(elevation).transpose()?;
    let (near, unplaced) = library.nearest(&point, filter, elevation, NEAREST, &at)?;
    Ok(match options.format {
        Format::Text => report::climates_near(&point.text, &near, unplaced, system),
        Format::Json => {
            let climates = near.iter().map(|it: &Near| with_pressure(&it.climate)).collect();
            let found = ClimatesFound { climates, point: Some(&point), elevation, near: &near, unplaced };
            report::climates_json(&found, system)
        }
    })
}

fn elevation(text: &str) -> Result<f64, Diagnostic> {
    const LENGTH: Measure = Measure::Of(Dim::LENGTH);
    let at = Location::whole("--elevation");
    let read = units::parse(text, LENGTH);
    let read = read.map_err(|refused| {
        refused.at(at.clone(), text).expected("a height such as \"1,200 ft\" or \"370 m\"")
    })?;
    if units::contains(ELEVATIONS, read.is) {
        return Ok(read.is);
    }
    let problem = Diagnostic::new(at, "is out of range for an elevation").text(text);
    Err(problem.expected(units::limits(ELEVATIONS, LENGTH)))
}

fn json<'c>(found: impl IntoIterator<Item = &'c Climate>, system: System) -> String {
    let climates = found.into_iter().map(with_pressure).collect();
    report::climates_json(&ClimatesFound { climates, ..ClimatesFound::default() }, system)
}

fn with_pressure(climate: &Climate) -> (&Climate, Option<f64>) {
    (climate, pressure(climate))
}

/// The standard air pressure where it was measured, Pa.
fn pressure(climate: &Climate) -> Option<f64> {
    climate.elevation.and_then(|it| standard_pressure(it).ok())
}
