//! The command `climates`: those there are, one of them whole, or those near a point; and a person's own beside them.

use crate::disk::Disk;
use crate::options::{Climates, Format};
use crate::output;
use coldsill::climate::{Climate, Library, Near, Point, Wanted, read_own};
use coldsill::diag::{Diagnostic, Diagnostics, Location};
use coldsill::input::Remembered;
use coldsill::physics::moist_air::standard_pressure;
use coldsill::report::{self, ClimatesFound};
use coldsill::shipped;
use coldsill::units::{self, Dim, Measure, System};

/// Places named near a point.
const NEAREST: usize = 5;
/// Heights there are in North America, with room, m.
const ELEVATIONS: [f64; 2] = [-450.0, 6000.0];

/// The climates built in, with a person's own from files and folders. Of these a place with a problem is left out; the
/// library tells it.
pub fn library(own: &[String], disk: &Disk) -> Result<Library, Diagnostics> {
    let built_in = shipped::climates()?;
    if own.is_empty() {
        return Ok(built_in);
    }
    let files = Remembered::new(disk);
    let mut problems = Diagnostics::new();
    let mut read: Vec<_> = own.iter().flat_map(|path| read_own(&files, path, &mut problems)).collect();
    for it in read.iter_mut().filter_map(|it| it.as_mut().err()) {
        files.quote(&mut it.problems);
    }
    let all = built_in.with_readable_own(read, &mut problems);
    files.quote(&mut problems);
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

/// The problem of a place that was asked for, and what is wrong with those left out: it may be one of them.
pub fn refused(problem: Diagnostic, library: &Library) -> Diagnostics {
    std::iter::once(problem).chain(library.left_out().cloned()).collect()
}

/// Looks them up and writes the page; whether a place of the person's own was left out and told.
pub fn run(options: &Climates, disk: &Disk) -> Result<bool, Diagnostics> {
    let library = library(&options.climates, disk)?;
    let text = page(options, &library).map_err(|problem| refused(problem, &library))?;
    output::write(options.output.as_deref(), &text, disk)?;
    let left_out: Diagnostics = library.left_out().cloned().collect();
    output::problems(&left_out);
    Ok(!left_out.is_empty())
}

fn page(options: &Climates, library: &Library) -> Result<String, Diagnostic> {
    let units: Option<System> = options.units.map(Into::into);
    let system = units.unwrap_or_default();
    let words = options.place.join(" ");
    let wanted = Wanted {
        words: options.find.as_deref(),
        state: options.state.as_deref(),
        zone: options.zone.as_deref(),
    };
    if let Some(first) = &options.near {
        // Two figures that stand as two words.
        let text = [first.as_str(), words.as_str()].join(" ");
        return near(options, text.trim(), &wanted, library, system);
    }
    if let Some(elevation) = &options.elevation {
        let problem =
            Diagnostic::new(Location::whole("--elevation"), "stands without a point to compare places with");
        return Err(problem.text(elevation).expected("--near LAT,LON beside it"));
    }
    if !words.is_empty() {
        if [wanted.words, wanted.state, wanted.zone].iter().any(Option::is_some) {
            let what = "is one place, and --find, --state and --zone look for several";
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
    let found: Vec<&Climate> = library.listed(&wanted)?.into_iter().map(AsRef::as_ref).collect();
    Ok(match options.format {
        Format::Text => report::climates(&found, system),
        Format::Json => json(found, system),
    })
}

fn near(
    options: &Climates,
    text: &str,
    wanted: &Wanted<'_>,
    library: &Library,
    system: System,
) -> Result<String, Diagnostic> {
    let at = Location::whole("--near");
    let point = Point::read(text, &at)?;
    let elevation = options.elevation.as_deref().map(elevation).transpose()?;
    let (near, unplaced) = library.nearest(&point, wanted, elevation, NEAREST, &at)?;
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
    let [least, most] = ELEVATIONS;
    let read = units::parse(text, LENGTH);
    let read = read.map_err(|refused| {
        refused.at(at.clone(), text).expected("a height such as \"1,200 ft\" or \"370 m\"")
    })?;
    if (least..=most).contains(&read.is) {
        return Ok(read.is);
    }
    let problem = Diagnostic::new(at, "is no height there is").text(text);
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
