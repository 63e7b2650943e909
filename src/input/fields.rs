//! Checked access to the fixed keys of a mapping. Reading goes on past a problem, so that all problems of a file
//! are told at once.

use super::node::{Key, Kind, Node, listed};
use crate::diag::{Diagnostic, Diagnostics, Location};

/// The keys of one mapping, ticked off as they are read.
#[derive(Debug)]
#[must_use = "call `finish`, or a misspelt key passes in silence"]
pub struct Fields<'n> {
    what: String,
    place: &'n Location,
    entries: &'n [(Key, Node)],
    known: Vec<&'static str>,
}

impl<'n> Fields<'n> {
    /// The keys of a node that must be a mapping. `what` completes "the …" in problems: "job", "rule \"a\"".
    pub fn of(node: &'n Node, what: &str, problems: &mut Diagnostics) -> Option<Self> {
        let entries = node.map(what, problems)?;
        Some(Self { what: what.to_owned(), place: &node.place, entries, known: Vec::new() })
    }

    /// The value of a key that may be left out. A key with a blank value reads as left out.
    pub fn take(&mut self, key: &'static str) -> Option<&'n Node> {
        self.entry(key).map(|(_, node)| node).filter(|node| !node.is_null())
    }

    /// The value of a key that must be there and must not be blank.
    pub fn need(&mut self, key: &'static str, problems: &mut Diagnostics) -> Option<&'n Node> {
        match self.entry(key) {
            Some((_, node)) if !matches!(node.kind, Kind::Null) => Some(node),
            Some((written, _)) => {
                let problem = Diagnostic::new(written.place.clone(), "is left blank").text(key);
                problems.push(problem.expected("a value after its colon, or below it"));
                None
            }
            None => {
                let what = format!("the {} does not say its \"{key}\"", self.what);
                problems.push(Diagnostic::new(self.place.clone(), what));
                None
            }
        }
    }

    /// Where a key stands, if it does.
    pub fn place(&mut self, key: &'static str) -> Option<&'n Location> {
        self.entry(key).map(|(key, _)| &key.place)
    }

    /// Whether a key is written, without making it one that is offered.
    pub fn has(&self, key: &str) -> bool {
        self.entries.iter().any(|(written, _)| written.text == key)
    }

    /// Reports every key that nobody asked for, each at its own place.
    pub fn finish(self, problems: &mut Diagnostics) {
        for (key, _) in self.entries {
            if self.known.contains(&key.text.as_str()) {
                continue;
            }
            // `temperature:62 °F` within braces is one long key to the parser.
            if let Some((name, value)) = key.text.split_once(':')
                && self.known.contains(&name)
            {
                let problem =
                    Diagnostic::new(key.place.clone(), "has no space after its colon").text(&key.text);
                problems.push(problem.expected(format!("\"{name}: {value}\"")));
                continue;
            }
            let what = format!("is not a key of the {}", self.what);
            let mut problem = Diagnostic::new(key.place.clone(), what)
                .text(&key.text)
                .nearest(&key.text, self.known.iter().copied());
            if problem.nearest.is_none() && !self.known.is_empty() {
                problem = problem.expected(listed(self.known.iter().copied()));
            }
            problems.push(problem);
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

    fn lines(problems: &[Diagnostic]) -> Vec<String> {
        problems.iter().map(Diagnostic::to_string).collect()
    }

    #[test]
    fn all_problems_of_a_file_come_at_once_each_at_its_own_place() {
        let node = yaml::parse(
            "job.yaml",
            "climat: duluth\ncode:\nwalls: [a]\nheated: maybe\nname: [x]\nzzz: 1\ncount: 1e999\nkind: tight\n",
        )
        .unwrap();
        let mut problems = Diagnostics::new();
        let mut fields = Fields::of(&node, "job", &mut problems).unwrap();
        assert_eq!(fields.need("climate", &mut problems), None);
        assert_eq!(fields.need("code", &mut problems), None);
        assert!(fields.take("walls").unwrap().map("wall table", &mut problems).is_none());
        assert_eq!(fields.take("heated").unwrap().yes_no("it is heated", &mut problems), None);
        assert_eq!(fields.take("name").unwrap().text("name", &mut problems), None);
        assert_eq!(fields.take("count").unwrap().number("count", &mut problems), None);
        let words = [("light", 1), ("heavy", 2)];
        assert_eq!(fields.take("kind").unwrap().one_of("kind", &words, &mut problems), None);
        fields.finish(&mut problems);
        assert_eq!(
            lines(&problems),
            [
                "job.yaml, line 1, column 1: the job does not say its \"climate\"",
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
    fn right_values_are_read_without_a_problem() {
        let node = yaml::parse(
            "job.yaml",
            "heated: Yes\ncold: FALSE\nname: '8\" rim'\nlist: [1, 2]\nlatitude: -44.88\nkind: Heavy\nblank: ~\n",
        )
        .unwrap();
        let mut problems = Diagnostics::new();
        let mut fields = Fields::of(&node, "job", &mut problems).unwrap();
        assert_eq!(fields.take("heated").unwrap().yes_no("it is heated", &mut problems), Some(true));
        assert_eq!(fields.take("cold").unwrap().yes_no("it is cold", &mut problems), Some(false));
        assert_eq!(fields.need("name", &mut problems).unwrap().text("name", &mut problems), Some("8\" rim"));
        assert_eq!(fields.take("list").unwrap().list("list", &mut problems).unwrap().len(), 2);
        assert_eq!(fields.take("latitude").unwrap().number("latitude", &mut problems), Some(-44.88));
        let words = [("light", 1), ("heavy", 2)];
        assert_eq!(fields.take("kind").unwrap().one_of("kind", &words, &mut problems), Some(2));
        assert_eq!(fields.take("blank"), None);
        assert_eq!(fields.take("absent"), None);
        assert_eq!(fields.place("absent"), None);
        fields.finish(&mut problems);
        assert!(problems.is_empty(), "{:?}", lines(&problems));
    }

    #[test]
    fn a_node_that_is_no_mapping_has_no_fields() {
        let node = yaml::parse("job.yaml", "- a\n").unwrap();
        let mut problems = Diagnostics::new();
        assert!(Fields::of(&node, "job", &mut problems).is_none());
        assert_eq!(
            lines(&problems),
            [
                "job.yaml, line 1, column 1: the job should be keys with values, not a list; expected \"key: value\" lines \
              without dashes, or { key: value }"
            ]
        );
    }
}
