//! A YAML value with the location of each part, and readers that report a value of the wrong kind.

use crate::diag::{Diagnostic, Diagnostics, Location};
use crate::units::{self, Measure, Quantity};

/// A value and its location. An alias is replaced by its value, which keeps its own location.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Node {
    /// Where the value starts; for a blank value, its key.
    pub location: Location,
    /// Whether it starts with a quote.
    pub quoted: bool,
    /// The value.
    pub kind: Kind,
}

/// A YAML value. Nothing is converted: `3.50`, `0x10`, `1:30` and `yes` are texts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Blank, or a plain `~` or `null`.
    Null,
    /// A text.
    Scalar {
        /// The text: unchanged if plain, unescaped if quoted, with its lines joined by the rules of YAML.
        text: String,
        /// Neither quoted nor a block text.
        plain: bool,
    },
    /// A list.
    List(Vec<Node>),
    /// Keys with values, in the order of the file, no key twice.
    Map(Vec<(Key, Node)>),
}

/// A key of a mapping.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Key {
    /// The key.
    pub text: String,
    /// Its location.
    pub location: Location,
}

impl Node {
    /// Whether the value is blank.
    pub fn is_null(&self) -> bool {
        matches!(self.kind, Kind::Null)
    }

    /// A diagnostic at this value, with its text if it has one.
    pub fn problem(&self, what: impl Into<String>) -> Diagnostic {
        let problem = Diagnostic::new(self.location.clone(), what);
        match &self.kind {
            Kind::Scalar { text, .. } => problem.text(text),
            _ => problem,
        }
    }

    /// The text. `what` completes "the …" in the message.
    pub fn text(&self, what: &str, problems: &mut Diagnostics) -> Option<&str> {
        match &self.kind {
            Kind::Scalar { text, .. } => Some(text),
            _ => self.wrong_kind(what, "a text", problems),
        }
    }

    /// The entries of a list.
    pub fn list(&self, what: &str, problems: &mut Diagnostics) -> Option<&[Node]> {
        match &self.kind {
            Kind::List(entries) => Some(entries),
            _ => self.wrong_kind(what, "a list", problems),
        }
    }

    /// The keys and values of a mapping with the user's own keys; [`super::Fields`] reads fixed keys.
    pub fn map(&self, what: &str, problems: &mut Diagnostics) -> Option<&[(Key, Node)]> {
        match &self.kind {
            Kind::Map(entries) => Some(entries),
            _ => self.wrong_kind(what, "keys with values", problems),
        }
    }

    /// One of the words given, in any case.
    pub fn one_of<T: Clone>(&self, what: &str, words: &[(&str, T)], problems: &mut Diagnostics) -> Option<T> {
        let text = self.text(what, problems)?;
        let found = words.iter().find(|(word, _)| word.eq_ignore_ascii_case(text.trim()));
        if found.is_none() {
            let names = words.iter().map(|(word, _)| *word);
            problems.push(
                self.problem(format!("is not {} {what}", article(what)))
                    .expected(listed(names.clone()))
                    .nearest(text, names),
            );
        }
        found.map(|(_, value)| value.clone())
    }

    /// `yes`, `no`, `true` or `false`, in any case.
    pub fn yes_no(&self, what: &str, problems: &mut Diagnostics) -> Option<bool> {
        let text = self.text(what, problems)?;
        match text.trim().to_ascii_lowercase().as_str() {
            "yes" | "true" => Some(true),
            "no" | "false" => Some(false),
            _ => {
                problems.push(self.problem(format!("does not say whether {what}")).expected("yes or no"));
                None
            }
        }
    }

    /// A finite decimal number without a unit.
    pub fn number(&self, what: &str, problems: &mut Diagnostics) -> Option<f64> {
        let text = self.text(what, problems)?;
        match text.trim().parse::<f64>() {
            Ok(number) if number.is_finite() => Some(number),
            _ => {
                problems.push(
                    self.problem(format!("cannot be read as the {what}"))
                        .expected("a number without a unit, such as 44.9"),
                );
                None
            }
        }
    }

    /// A quantity with its unit, within a range in SI.
    pub fn quantity(
        &self,
        what: &str,
        measure: Measure,
        range: [f64; 2],
        errors: &mut Diagnostics,
    ) -> Option<Quantity> {
        let text = self.text(what, errors)?;
        let read = units::parse(text, measure).map_err(|error| error.at(self.location.clone(), text));
        let quantity = errors.ok(read)?;
        if quantity.is_within(range) {
            return Some(quantity);
        }
        errors.push(self.problem("is out of range").expected(units::limits(range, measure)));
        None
    }

    /// Reports a value of the wrong kind, with how to write the right one.
    fn wrong_kind<T>(&self, what: &str, wanted: &str, problems: &mut Diagnostics) -> Option<T> {
        let found = match &self.kind {
            Kind::Null => {
                let problem = Diagnostic::new(self.location.clone(), format!("the {what} is left blank"));
                problems.push(problem.expected(wanted));
                return None;
            }
            Kind::Scalar { .. } => "a text",
            Kind::List(_) => "a list",
            Kind::Map(_) => "keys with values",
        };
        let problem =
            Diagnostic::new(self.location.clone(), format!("the {what} should be {wanted}, not {found}"));
        problems.push(problem.expected(self.mending(wanted)));
        None
    }

    /// How to write the right kind of value.
    fn mending(&self, wanted: &str) -> String {
        let text = match &self.kind {
            Kind::Scalar { text, .. } => text.trim(),
            _ => "",
        };
        match (wanted, &self.kind) {
            ("a list", _) if text.starts_with('-') => "a space after each dash: \"- one\"".into(),
            ("a list", Kind::Scalar { .. }) if text.chars().count() < 40 => format!("[{text}]"),
            ("a list", _) => "[one, two], or a line with \"- \" for each".into(),
            ("a text", Kind::Map(_)) => {
                "one value; in quotes, where it starts with a brace or holds a colon".into()
            }
            ("a text", _) => "one value, without brackets or dashes".into(),
            (_, Kind::List(_)) => "\"key: value\" lines without dashes, or { key: value }".into(),
            _ if text.contains(':') => "a space after each colon: \"key: value\"".into(),
            _ => "\"key: value\" lines, or { key: value }".into(),
        }
    }
}

fn article(word: &str) -> &'static str {
    if word.starts_with(['a', 'e', 'i', 'o']) { "an" } else { "a" }
}

/// Names as a list in a sentence: "a, b or c".
pub(super) fn listed<'a>(names: impl IntoIterator<Item = &'a str>) -> String {
    let names: Vec<&str> = names.into_iter().collect();
    match names.split_last() {
        None => String::new(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, rest)) => format!("{} or {last}", rest.join(", ")),
    }
}
