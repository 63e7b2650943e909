//! The climates of the program, and a person's own in addition or instead.

use super::atlas::Atlas;
use super::error::ClimateError;
use super::own::SkippedPlace;
use super::place::{Climate, Whose};
use super::read::read_library_file;
use crate::diag::{Diagnostic, Diagnostics, quote};
use crate::input::{text, yaml};
use std::sync::{Arc, LazyLock};

/// Climates in the order of their files; no two have the same id.
#[derive(Clone, Debug, Default)]
pub struct Library {
    climates: Vec<Arc<Climate>>,
    /// A person's own places that have errors.
    pub(super) skipped: Vec<SkippedPlace>,
    atlas: Option<&'static LazyLock<Atlas>>,
}

impl Library {
    /// Reads library files, given as name and bytes. Returns all errors of all files at once.
    pub fn read<'f>(files: impl IntoIterator<Item = (&'f str, &'f [u8])>) -> Result<Self, Diagnostics> {
        let mut errors = Diagnostics::new();
        let mut library = Self::default();
        for (name, bytes) in files {
            let before = errors.len();
            let node = text::decode(name, bytes).and_then(|text| yaml::parse(name, text));
            if let Some(node) = errors.ok(node) {
                for climate in read_library_file(&node, &mut errors) {
                    if library.climates.iter().any(|other| other.id == climate.id) {
                        errors.push(duplicate_id(&climate, None));
                    } else {
                        library.climates.push(Arc::new(climate));
                    }
                }
            }
            quote(&mut errors[before..], name, &String::from_utf8_lossy(bytes));
        }
        errors.or(library)
    }

    /// The same with a person's own places, each in addition or instead of a built-in one of the same id. Places with
    /// errors are skipped: [`Library::skipped`] has their errors. Two own places with the same id are an error, unless
    /// they are equal.
    #[must_use]
    pub fn with_own(&self, own: Vec<Result<Climate, SkippedPlace>>, errors: &mut Diagnostics) -> Self {
        let mut library = self.clone();
        for place in own {
            let mut climate = match place {
                Ok(climate) => climate,
                Err(skipped) => {
                    library.skipped.push(skipped);
                    continue;
                }
            };
            let is_same_id = |other: &&mut Arc<Climate>| other.id.to_lowercase() == climate.id.to_lowercase();
            match library.climates.iter_mut().find(is_same_id) {
                None => library.climates.push(Arc::new(climate)),
                Some(other) if other.whose == Whose::BuiltIn => {
                    climate.whose = Whose::InPlaceOfBuiltIn;
                    *other = Arc::new(climate);
                }
                Some(other) if other.is_same_as(&climate) => {}
                Some(other) => errors.push(duplicate_id(&climate, Some(&other.location.file))),
            }
        }
        library
    }

    /// The same with an atlas of towns and further stations, which is read when it is first needed.
    #[must_use]
    pub fn with_atlas(self, atlas: &'static LazyLock<Atlas>) -> Self {
        Self { atlas: Some(atlas), ..self }
    }

    /// The atlas; an empty one if there is none.
    pub fn atlas(&self) -> &Atlas {
        static EMPTY: LazyLock<Atlas> = LazyLock::new(Atlas::default);
        self.atlas.unwrap_or(&EMPTY)
    }

    /// The further stations.
    pub(super) fn stations(&self) -> impl Iterator<Item = &Arc<Climate>> {
        self.atlas().stations.iter().map(|(station, _)| station)
    }

    /// The errors of the places that were skipped.
    pub fn skipped(&self) -> impl Iterator<Item = &Diagnostic> {
        self.skipped.iter().flat_map(|place| &place.errors)
    }

    /// All climates.
    pub fn iter(&self) -> impl Iterator<Item = &Arc<Climate>> {
        self.climates.iter()
    }
}

fn duplicate_id(climate: &Climate, file: Option<&str>) -> Diagnostic {
    ClimateError::DuplicateId { file: file.map(str::to_owned) }.at(&climate.location).text(&*climate.id)
}
