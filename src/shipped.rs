//! The rules and climates built into the program, from `rules/` and `climates/`.

use crate::climate::{Atlas, Library};
use crate::diag::Diagnostics;
use crate::ruleset::{CodeFile, RuleFile};
use include_dir::{Dir, include_dir};
use std::io::Read;
use std::sync::LazyLock;

static RULES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/rules");
static CLIMATES: Dir<'_> = include_dir!("$CARGO_MANIFEST_DIR/climates");

/// The base rule sets, by file name.
pub fn rules() -> Vec<RuleFile<'static>> {
    files(&RULES).map(|(name, bytes)| RuleFile { name, bytes }).collect()
}

/// The presets by name: amendments that apply before those of a person.
pub fn presets() -> Vec<RuleFile<'static>> {
    let named = RULES.get_dir("presets").into_iter().flat_map(files);
    named.map(|(name, bytes)| RuleFile { name: name.trim_end_matches(".yaml"), bytes }).collect()
}

/// The codes: amendments with their names and sections, by file name.
pub fn codes() -> Result<Vec<CodeFile>, Diagnostics> {
    let codes = RULES.get_dir("codes").into_iter().flat_map(files);
    codes.map(|(name, bytes)| CodeFile::parse(&RuleFile { name, bytes })).collect()
}

/// The built-in climates.
pub fn climates() -> Result<&'static Library, Diagnostics> {
    static READ: LazyLock<Result<Library, Diagnostics>> =
        LazyLock::new(|| Ok(Library::read(files(&CLIMATES))?.with_atlas(&ATLAS)));
    READ.as_ref().map_err(Clone::clone)
}

/// Towns, postal areas and further stations.
static ATLAS: LazyLock<Atlas> = LazyLock::new(|| {
    let table =
        |name: &str| CLIMATES.get_file(name).map(|file| unpacked(file.contents())).unwrap_or_default();
    Atlas::read(&table("stations-2013.csv"), &table("towns.csv.gz"), &table("postal.csv.gz"))
});

/// The text of a built-in file, packed or not.
fn unpacked(bytes: &[u8]) -> String {
    let mut text = String::new();
    if flate2::read::GzDecoder::new(bytes).read_to_string(&mut text).is_err() {
        text = String::from_utf8_lossy(bytes).into_owned();
    }
    text
}

fn files(dir: &'static Dir<'_>) -> impl Iterator<Item = (&'static str, &'static [u8])> {
    let yaml = dir.files().filter(|file| file.path().extension().is_some_and(|it| it == "yaml"));
    let mut files: Vec<_> =
        yaml.filter_map(|file| Some((file.path().file_name()?.to_str()?, file.contents()))).collect();
    files.sort_unstable_by_key(|(name, _)| *name);
    files.into_iter()
}
