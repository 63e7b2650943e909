//! The climate of a job: named on the command line or in the job, or described there; the job's own climates beside it.

use super::files::{beside, parse};
use super::read::{JobFile, StatedClimate};
use super::sources::Sources;
use crate::climate::{Climate, DesignBy, Library, Whose, read_own};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::input::{Files, Kind, Node, Remembered};
use crate::schedule::Unused;
use std::borrow::Cow;
use std::sync::Arc;

/// The climates there are, with those of the job's `climates:`, a file or a folder beside it, or a list of such.
pub(super) fn climates<'l>(
    request: &Sources<'l>,
    said: &JobFile,
    problems: &mut Diagnostics,
) -> Cow<'l, Library> {
    said.climates.as_ref().map_or(Cow::Borrowed(request.climates), |node| {
        Cow::Owned(with_own(node, request.files, request.source, request.climates, problems))
    })
}

/// The climates there are, with those of a job file's `climates:`; nothing else in the file is looked at.
pub fn climates_of(files: &dyn Files, job: &str, library: &Library) -> Result<Library, Diagnostics> {
    let files = Remembered::new(files);
    let node = parse(&files, job)?;
    let Kind::Map(entries) = &node.kind else { return Ok(library.clone()) };
    let said = entries.iter().find(|(key, node)| key.text == "climates" && !node.is_null());
    let Some((_, node)) = said else { return Ok(library.clone()) };
    let mut problems = Diagnostics::new();
    let all = with_own(node, &files, job, library, &mut problems);
    files.quote(&mut problems);
    if problems.is_empty() { Ok(all) } else { Err(problems) }
}

/// A library with the climates of a job's `climates:`, a file or a folder beside it, or a list of such.
fn with_own(
    node: &Node,
    files: &dyn Files,
    job: &str,
    library: &Library,
    problems: &mut Diagnostics,
) -> Library {
    let nodes = match &node.kind {
        Kind::List(entries) => entries.as_slice(),
        _ => std::slice::from_ref(node),
    };
    let mut own = Vec::new();
    for node in nodes {
        let Some(path) = node.text("climates", problems) else { continue };
        own.extend(read_own(files, &beside(job, path), problems));
    }
    problems
        .extend(own.iter().filter_map(|place| place.as_ref().err()).flat_map(|place| place.errors.clone()));
    library.with_own(own, problems)
}

pub(super) fn find_climate(
    request: &Sources<'_>,
    climates: &Library,
    is_job: bool,
    said: &JobFile,
    problems: &mut Diagnostics,
) -> Option<Arc<Climate>> {
    let found = match (request.climate, &said.climate) {
        (Some(word), _) => climates.find(word, &Location::whole("--climate")),
        (None, Some(StatedClimate::Inline(climate))) => Ok(climate.clone()),
        (None, Some(StatedClimate::Named(node))) => {
            let word = node.text("climate", problems)?;
            climates.find(word, &node.location)
        }
        // The error of the described climate is already reported.
        (None, None) if !problems.is_empty() && is_job => return None,
        (None, None) => Err(Diagnostic::new(Location::whole(request.source), "no climate is given")
            .expected("--climate PLACE, or `climate:` in the job; `coldsill climates` lists them")),
    };
    found.map_err(|problem| problems.push(problem)).ok()
}

/// Removes the job's own climate figures if the command line names another place: they do not apply there. Each one
/// removed is reported.
pub(super) fn leave_out_of_another_place(
    said: &mut JobFile,
    request: &Sources<'_>,
    climates: &Library,
    climate: &Climate,
) -> Vec<Unused> {
    let is_same = match (&said.climate, request.climate) {
        (None, _) | (_, None) => true,
        (Some(StatedClimate::Inline(_)), Some(_)) => false,
        (Some(StatedClimate::Named(node)), Some(_)) => {
            let own = node.text("climate", &mut Diagnostics::new());
            own.is_some_and(|word| climates.find(word, &node.location).is_ok_and(|it| it.id == climate.id))
        }
    };
    if is_same {
        return Vec::new();
    }
    let authority = &mut said.authority;
    let figures = [
        authority.winter_temperature.take(),
        authority.frost_depth.take(),
        authority.freezing_index.take(),
        said.spell.start.take(),
    ];
    let mut out: Vec<(Location, Arc<str>)> =
        figures.into_iter().flatten().map(|it| (it.location, it.text)).collect();
    let of_its_place = |node: &Node| {
        let by = node.text("design_low", &mut Diagnostics::new()).and_then(DesignBy::parse);
        matches!(by, Some(DesignBy::Stated(_) | DesignBy::Authority))
    };
    if let Some(node) = said.design_low.take_if(|node| of_its_place(node)) {
        let text = node.text("design_low", &mut Diagnostics::new()).unwrap_or_default().into();
        out.push((node.location, text));
    }
    let why = "is for the job's own place, and --climate names another";
    out.into_iter().map(|(place, text)| Unused { location: place, text, why }).collect()
}

/// The built-in climate that is not used because one of the person's own has its id.
pub(super) fn hidden(climate: &Climate) -> Option<Unused> {
    let why = "the built-in climate of that id is not used: your own takes its place";
    (climate.whose == Whose::InPlaceOfBuiltIn).then(|| Unused {
        location: climate.location.clone(),
        text: climate.id.clone(),
        why,
    })
}
