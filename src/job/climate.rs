//! The climate of a job: named on the command line or in the job, or described there; the job's own climates beside it.

use super::load::{Sources, beside};
use super::read::{ClimateSaid, Said};
use crate::climate::{Climate, Library, Whose, read_own};
use crate::diag::{Place, Problem};
use crate::input::{Kind, Node};
use crate::schedule::Unused;
use std::borrow::Cow;
use std::sync::Arc;

/// The climates there are, with those of the job's `climates:`, a file or a folder beside it, or a list of such.
pub(super) fn climates<'l>(
    request: &Sources<'l>,
    said: &Said,
    problems: &mut Vec<Problem>,
) -> Cow<'l, Library> {
    let nodes: &[Node] = match &said.climates {
        None => return Cow::Borrowed(request.climates),
        Some(Node { kind: Kind::List(entries), .. }) => entries,
        Some(node) => std::slice::from_ref(node),
    };
    let mut own = Vec::new();
    for node in nodes {
        let Some(path) = node.text("climates", problems) else { continue };
        own.extend(read_own(request.files, &beside(request.source, path), problems));
    }
    Cow::Owned(request.climates.with_own(own, problems))
}

pub(super) fn find_climate(
    request: &Sources<'_>,
    climates: &Library,
    is_job: bool,
    said: &Said,
    problems: &mut Vec<Problem>,
) -> Option<Arc<Climate>> {
    let found = match (request.climate, &said.climate) {
        (Some(word), _) => climates.find(word, &Place::whole("--climate")),
        (None, Some(ClimateSaid::Inline(climate))) => Ok(Arc::new(Climate::clone(climate))),
        (None, Some(ClimateSaid::Named(node))) => {
            let word = node.text("climate", problems)?;
            climates.find(word, &node.place)
        }
        // A climate that was described with a problem has told it already.
        (None, None) if !problems.is_empty() && is_job => return None,
        (None, None) => Err(Problem::new(Place::whole(request.source), "no climate is given")
            .expected("--climate PLACE, or `climate:` in the job; `coldsill climates` lists them")),
    };
    found.map_err(|problem| problems.push(problem)).ok()
}

/// The built-in climate that is not used because one of the person's own has its id.
pub(super) fn hidden(climate: &Climate) -> Option<Unused> {
    let why = "the built-in climate of that id is not used: your own takes its place";
    (climate.whose == Whose::InPlaceOfBuiltIn).then(|| Unused {
        place: climate.at.clone(),
        text: climate.id.clone(),
        why,
    })
}
