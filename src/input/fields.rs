//! Readers of the fixed keys of a mapping. Reading continues after an error, so that all errors of a file are
//! reported at once.

use super::node::{Key, Kind, Node, listed};
use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::units::{Measure, Quantity};

/// The keys of one mapping, marked as known when they are read.
#[derive(Debug)]
#[must_use = "call `finish`, or a misspelled key is not reported"]
pub struct Fields<'n> {
    what: String,
    location: &'n Location,
    entries: &'n [(Key, Node)],
    known: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    /// The keys of a node that must be a mapping. `what` completes "the …" in messages: "job", "rule \"a\"".
    pub fn of(node: &'n Node, what: &str, errors: &mut Diagnostics) -> Option<Self> {
        let entries = node.map(what, errors)?;
        Some(Self { what: what.to_owned(), location: &node.location, entries, known: Vec::new() })
    }

    /// The value of an optional key. A blank value counts as no value.
    pub fn optional(&mut self, key: &'static str) -> Option<&'n Node> {
        self.entry(key).map(|(_, node)| node).filter(|node| !node.is_null())
    }

    /// The value of a required key. Reports a missing key and a blank value.
    pub fn required(&mut self, key: &'static str, errors: &mut Diagnostics) -> Option<&'n Node> {
        match self.entry(key) {
            Some((_, node)) if !matches!(node.kind, Kind::Null) => Some(node),
            Some((written, _)) => {
                let error = Diagnostic::new(written.location.clone(), "is left blank").text(key);
                errors.push(error.expected("a value after its colon, or below it"));
                None
            }
            None => {
                let message = format!("the {} has no \"{key}\"", self.what);
                errors.push(Diagnostic::new(self.location.clone(), message));
                None
            }
        }
    }

    /// The text of a required key. Reports a missing key, a blank value and a value that is not text.
    pub fn required_text(&mut self, key: &'static str, errors: &mut Diagnostics) -> Option<&'n str> {
        self.required(key, errors)?.text(key, errors)
    }

    /// The text of an optional key.
    pub fn optional_text(&mut self, key: &'static str, errors: &mut Diagnostics) -> Option<&'n str> {
        self.optional(key)?.text(key, errors)
    }

    /// The entries of a required list.
    pub fn required_list(&mut self, key: &'static str, errors: &mut Diagnostics) -> Option<&'n [Node]> {
        self.required(key, errors)?.list(key, errors)
    }

    /// The entries of an optional list; none if there is no list.
    pub fn optional_list(&mut self, key: &'static str, errors: &mut Diagnostics) -> &'n [Node] {
        self.optional(key).and_then(|node| node.list(key, errors)).unwrap_or_default()
    }

    /// The keys and values of a required mapping.
    pub fn required_map(&mut self, key: &'static str, errors: &mut Diagnostics) -> Option<&'n [(Key, Node)]> {
        self.required(key, errors)?.map(key, errors)
    }

    /// The keys and values of an optional mapping; none if there is no mapping.
    pub fn optional_map(&mut self, key: &'static str, errors: &mut Diagnostics) -> &'n [(Key, Node)] {
        self.optional(key).and_then(|node| node.map(key, errors)).unwrap_or_default()
    }

    /// The value of a required key that must be one of the words, in any case.
    pub fn required_choice<T: Clone>(
        &mut self,
        key: &'static str,
        words: &[(&str, T)],
        errors: &mut Diagnostics,
    ) -> Option<T> {
        self.required(key, errors)?.one_of(key, words, errors)
    }

    /// The value of an optional key that must be one of the words, in any case.
    pub fn optional_choice<T: Clone>(
        &mut self,
        key: &'static str,
        words: &[(&str, T)],
        errors: &mut Diagnostics,
    ) -> Option<T> {
        self.optional(key)?.one_of(key, words, errors)
    }

    /// The quantity of an optional key, within a range in SI.
    pub fn optional_quantity(
        &mut self,
        key: &'static str,
        measure: Measure,
        range: [f64; 2],
        errors: &mut Diagnostics,
    ) -> Option<Quantity> {
        self.optional(key)?.quantity(key, measure, range, errors)
    }

    /// The location of a key, if the mapping has it.
    pub fn location(&mut self, key: &'static str) -> Option<&'n Location> {
        self.entry(key).map(|(key, _)| &key.location)
    }

    /// Whether the mapping has a key. Does not mark the key as known.
    pub fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|(written, _)| written.text == key)
    }

    /// Reports every unknown key at its own location.
    pub fn finish(self, errors: &mut Diagnostics) {
        for (key, _) in self.entries {
            if self.known.contains(&key.text.as_str()) {
                continue;
            }
            // `temperature:62 °F` within braces is one long key to the parser.
            if let Some((name, value)) = key.text.split_once(':')
                && self.known.contains(&name)
            {
                let error =
                    Diagnostic::new(key.location.clone(), "has no space after its colon").text(&key.text);
                errors.push(error.expected(format!("\"{name}: {value}\"")));
                continue;
            }
            let message = format!("is not a key of the {}", self.what);
            let mut error = Diagnostic::new(key.location.clone(), message)
                .text(&key.text)
                .nearest(&key.text, self.known.iter().copied());
            if error.nearest.is_none() && !self.known.is_empty() {
                error = error.expected(listed(self.known.iter().copied()));
            }
            errors.push(error);
        }
    }

    fn entry(&mut self, key: &'static str) -> Option<&'n (Key, Node)> {
        if !self.known.contains(&key) {
            self.known.push(key);
        }
        self.entries.iter().find(|(written, _)| written.text == key)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::input::yaml;

    fn lines(errors: &[Diagnostic]) -> Vec<String> {
        errors.iter().map(Diagnostic::to_string).collect()
    }

    #[test]
    fn all_errors_of_a_mapping_are_reported_at_once() {
        let node = yaml::parse(
            "job.yaml",
            "climat: duluth\ncode:\nwalls: [a]\nheated: maybe\nname: [x]\nzzz: 1\ncount: 1e999\nkind: tight\n",
        )
        .unwrap();
        let mut errors = Diagnostics::new();
        let mut fields = Fields::of(&node, "job", &mut errors).unwrap();
        assert_eq!(fields.required("climate", &mut errors), None);
        assert_eq!(fields.required("code", &mut errors), None);
        assert!(fields.optional("walls").unwrap().map("wall table", &mut errors).is_none());
        assert_eq!(fields.optional("heated").unwrap().yes_no("it is heated", &mut errors), None);
        assert_eq!(fields.optional_text("name", &mut errors), None);
        assert_eq!(fields.optional("count").unwrap().number("count", &mut errors), None);
        let words = [("light", 1), ("heavy", 2)];
        assert_eq!(fields.optional_choice("kind", &words, &mut errors), None);
        fields.finish(&mut errors);
        assert_eq!(
            lines(&errors),
            [
                "job.yaml, line 1, column 1: the job has no \"climate\"",
                "job.yaml, line 2, column 1: \"code\" is left blank; expected a value after its colon, or below it",
                "job.yaml, line 3, column 8: the wall table should be keys with values, not a list; expected \"key: value\" \
                 lines without dashes, or { key: value }",
                "job.yaml, line 4, column 9: \"maybe\" does not say whether it is heated; expected yes or no",
                "job.yaml, line 5, column 7: the name should be a text, not a list; expected one value, without brackets or \
                 dashes",
                "job.yaml, line 7, column 8: \"1e999\" cannot be read as the count; expected a number without a unit, such as \
                 44.9",
                "job.yaml, line 8, column 7: \"tight\" is not a kind; expected light or heavy; did you mean \"light\"?",
                "job.yaml, line 1, column 1: \"climat\" is not a key of the job; did you mean \"climate\"?",
                "job.yaml, line 6, column 1: \"zzz\" is not a key of the job; expected climate, code, walls, heated, \
                 name, count or kind",
            ]
        );
    }

    #[test]
    fn valid_values_are_read_without_errors() {
        let node = yaml::parse(
            "job.yaml",
            "heated: Yes\ncold: FALSE\nname: '8\" rim'\nlist: [1, 2]\nlatitude: -44.88\nkind: Heavy\nblank: ~\n",
        )
        .unwrap();
        let mut errors = Diagnostics::new();
        let mut fields = Fields::of(&node, "job", &mut errors).unwrap();
        assert_eq!(fields.optional("heated").unwrap().yes_no("it is heated", &mut errors), Some(true));
        assert_eq!(fields.optional("cold").unwrap().yes_no("it is cold", &mut errors), Some(false));
        assert_eq!(fields.required_text("name", &mut errors), Some("8\" rim"));
        assert_eq!(fields.optional("list").unwrap().list("list", &mut errors).unwrap().len(), 2);
        assert_eq!(fields.optional("latitude").unwrap().number("latitude", &mut errors), Some(-44.88));
        let words = [("light", 1), ("heavy", 2)];
        assert_eq!(fields.optional_choice("kind", &words, &mut errors), Some(2));
        assert_eq!(fields.optional("blank"), None);
        assert_eq!(fields.optional("absent"), None);
        assert_eq!(fields.location("absent"), None);
        fields.finish(&mut errors);
        assert!(errors.is_empty(), "{:?}", lines(&errors));
    }

    #[test]
    fn a_list_has_no_fields() {
        let node = yaml::parse("job.yaml", "- a\n").unwrap();
        let mut errors = Diagnostics::new();
        assert!(Fields::of(&node, "job", &mut errors).is_none());
        assert_eq!(
            lines(&errors),
            [
                "job.yaml, line 1, column 1: the job should be keys with values, not a list; expected \"key: value\" lines \
              without dashes, or { key: value }"
            ]
        );
    }
}
