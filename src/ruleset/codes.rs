//! Codes: amendments shipped with the program, with the names each code is known by and its sections by subject.

use super::amend::Header;
use super::error::{RuleError, unknown};
use super::loader::Loader;
use super::{Level, RuleFile, Rules};
use crate::diag::Diagnostics;
use crate::input::{Key, Kind, Node, text, yaml};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Begins a reference to the adopted code by its subject: `Adopted code: lawn irrigation`.
pub const BY_SUBJECT: &str = "Adopted code: ";
/// Begins such a reference where no code is stated.
pub const OF_MODEL_CODES: &str = "Model codes: ";
/// Marks a reference that was not checked.
const NOT_CHECKED: &str = " †";

/// A code: an amendment with `names:` and `sections:`.
#[derive(Clone, Debug)]
pub struct CodeFile {
    /// Its file.
    pub file: Arc<str>,
    /// Its names in common spellings, as words.
    names: Vec<Vec<String>>,
    /// Its sections by subject.
    sections: Vec<(Key, Node)>,
    /// The amendment, without names and sections.
    pub(super) amendment: Node,
}

/// The adopted code, if its file was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Adopted {
    /// Its name.
    pub name: Arc<str>,
    /// Its file.
    pub file: Arc<str>,
    /// Whether the file has any of its sections.
    pub has_sections: bool,
}

impl CodeFile {
    /// Parses a code file. Its amendment is checked when it is loaded.
    pub fn parse(file: &RuleFile<'_>) -> Result<Self, Diagnostics> {
        let mut amendment =
            yaml::parse(file.name, text::decode(file.name, file.bytes)?).map_err(Diagnostics::from)?;
        let mut errors = Diagnostics::new();
        let (mut names, mut sections) = (Vec::new(), Vec::new());
        if let Kind::Map(entries) = &mut amendment.kind {
            for (key, node) in std::mem::take(entries) {
                match &*key.text {
                    "names" => {
                        let list = node.list("names", &mut errors).unwrap_or_default();
                        names =
                            list.iter().filter_map(|it| it.text("name", &mut errors)).map(words).collect();
                    }
                    "sections" => sections = node.map("sections", &mut errors).unwrap_or_default().to_vec(),
                    _ => entries.push((key, node)),
                }
            }
        }
        errors.or(Self { file: file.name.into(), names, sections, amendment })
    }

    /// Whether a code is stated by one of its names. Case and punctuation do not count, but doubt (`UPC?`) does.
    pub fn is_named(&self, stated: &str) -> bool {
        let stated = words(stated);
        self.names.contains(&stated)
    }
}

/// The words of a name. A question mark is a word of its own.
fn words(name: &str) -> Vec<String> {
    let spaced = name.to_lowercase().replace('?', " ? ");
    let words = spaced.split(|c: char| !c.is_alphanumeric() && c != '?');
    words.filter(|word| !word.is_empty() && *word != "the").map(str::to_owned).collect()
}

impl Loader<'_> {
    /// Applies a code. Returns its sections by subject, those of an edition. A subject that no rule refers to is an error.
    pub(super) fn read_code(&mut self, code: &CodeFile, edition: Option<u16>) -> BTreeMap<Arc<str>, String> {
        let mut subjects: Vec<Arc<str>> = self.rules.subjects().map(Arc::from).collect();
        self.read_amendment(&code.amendment, Header { default_name: None, level: Level::Code });
        // A code is not an amendment that somebody brings.
        let amendment = self.rules.amendments.pop();
        self.rules.adopted = amendment.map(|it| Adopted {
            name: it.name,
            file: code.file.clone(),
            has_sections: !code.sections.is_empty(),
        });
        subjects.extend(self.rules.subjects().map(Arc::from));
        let mut sections = BTreeMap::new();
        for (key, node) in &code.sections {
            if !subjects.iter().any(|subject| **subject == *key.text) {
                self.errors.push(unknown(key, "subject of the adopted code", subjects.iter()));
            } else if let Some(section) = section(node, edition, &mut self.errors) {
                sections.insert(Arc::from(&*key.text), section.to_owned());
            }
        }
        sections
    }
}

/// A section: a text, or texts by the year of the edition from which each is in force; the last if no edition is stated.
fn section<'n>(node: &'n Node, edition: Option<u16>, errors: &mut Diagnostics) -> Option<&'n str> {
    let Kind::Map(entries) = &node.kind else { return node.text("section", errors) };
    let mut found = None;
    for (key, node) in entries {
        match key.text.parse::<u16>() {
            Ok(since) if edition.is_none_or(|edition| since <= edition) => {
                found = node.text("section", errors)
            }
            Ok(_) => {}
            Err(_) => errors.push(RuleError::UnknownName.at_key(key)),
        }
    }
    found
}

impl Rules {
    /// The subjects by which rules refer to the adopted code.
    pub fn subjects(&self) -> impl Iterator<Item = &str> {
        self.rules.iter().flat_map(|rule| &rule.see).filter_map(|see| see.strip_prefix(BY_SUBJECT))
    }

    /// Refers to model codes by the same subjects, where no code is stated.
    pub fn refer_to_model_codes(&mut self) {
        for see in self.rules.iter_mut().flat_map(|rule| &mut rule.see) {
            if let Some(subject) = see.strip_prefix(BY_SUBJECT) {
                *see = format!("{OF_MODEL_CODES}{subject}").into();
            }
        }
    }

    /// Puts the sections of a code in place of the subjects: `UPC 603.5.6, lawn irrigation †`.
    pub(super) fn refer_to(&mut self, sections: &BTreeMap<Arc<str>, String>) {
        for see in self.rules.iter_mut().flat_map(|rule| &mut rule.see) {
            let Some(subject) = see.strip_prefix(BY_SUBJECT) else { continue };
            let Some(section) = sections.get(subject) else { continue };
            let (section, mark) = match section.strip_suffix(NOT_CHECKED) {
                Some(section) => (section, NOT_CHECKED),
                None => (section.as_str(), ""),
            };
            *see = format!("{section}, {subject}{mark}").into();
        }
    }
}
