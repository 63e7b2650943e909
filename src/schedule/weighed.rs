//! Texts that state nothing of a row, weighed against it: lines around the rows, and words under a heading of something else.
//! What such a text denies, leaves open or says otherwise is asked; nothing is read from it.

use super::description::{Description, Statement, parse_description};
use super::doubt::{About, doubts, topics};
use super::from_words;
use super::hazards::Contradicts;
use super::types::{Cell, Row};
use super::vocabulary::{Subject, Term, heading_of, term_of};
use super::word_source::{Role, Source, contradicted, quoted};
use crate::diag::Location;

/// A line and what it may contradict.
pub(super) struct Weighed<'t> {
    text: &'t str,
    location: &'t Location,
    contradicts: Contradicts,
    description: Description,
}

impl<'t> Weighed<'t> {
    pub(super) fn of(text: &'t str, location: &'t Location, vocabulary: &[Term]) -> Self {
        let description = parse_description(text, vocabulary);
        Self { text, location, contradicts: Contradicts::of(text), description }
    }

    /// Whether it can contradict any row.
    pub(super) fn says_anything(&self) -> bool {
        let Description { stated, open, .. } = &self.description;
        self.contradicts.says_anything() || !(stated.is_empty() && open.is_empty())
    }

    /// What it contradicts of a row, for people.
    pub(super) fn in_row(&self, row: &Row, vocabulary: &[Term]) -> Vec<String> {
        let mut found = self.contradicts.in_row(row, self.text, self.location, vocabulary);
        // What a row is called, and its finish, are nothing to calculate with.
        let is_meant = |it| !matches!(it, Subject::Kind | Subject::Finish | Subject::Handle);
        found.extend(against(&self.description, self.text, self.location, row, &is_meant, vocabulary));
        // Without a column it follows from the kind where it closes.
        let closes = term_of(Subject::Closes, vocabulary).filter(|term| row.cell(*term).is_none());
        let is_about = |term: &usize| Some(*term) == closes;
        if self.description.open.iter().any(|(_, terms)| terms.iter().any(is_about)) {
            found.push(format!("Closes: {}", quoted(self.text, self.location)));
        }
        found
    }
}

/// What words under the heading of a finish or a handle contradict of their row, the metals of finishes aside.
pub(super) fn in_trim(trim: &Source, row: &Row, vocabulary: &[Term]) -> Vec<String> {
    const MEANT: [Subject; 5] = [
        Subject::Closes,
        Subject::BackflowDevice,
        Subject::BackflowStandard,
        Subject::SpaceBehind,
        Subject::InsideStop,
    ];
    against(&trim.description, &trim.text, &trim.location, row, &|it| MEANT.contains(&it), vocabulary)
}

/// What a text says otherwise or leaves open of what the row states, as what it denies is. A figure may be of anything.
fn against(
    description: &Description,
    text: &str,
    location: &Location,
    row: &Row,
    is_meant: &dyn Fn(Subject) -> bool,
    vocabulary: &[Term],
) -> Vec<String> {
    let stated = |term: usize| {
        let is_word = !vocabulary[term].reads.is_numeric() && vocabulary[term].subject.is_some_and(is_meant);
        row.cell(term).filter(|cell| is_word && cell.value.is_some())
    };
    let quote = |cell: &Cell| contradicted(heading_of(&vocabulary[cell.term]), cell, text, location);
    let differs = |it: &Statement| {
        let cell = stated(it.term)?;
        cell.value.as_ref().is_some_and(|value| !value.is_compatible(&it.value)).then_some(cell)
    };
    let otherwise = description.stated.iter().filter_map(differs);
    let open = description.open.iter().flat_map(|(_, terms)| terms.iter().copied());
    let doubted = open.filter(|term| !description.vague.contains(term)).filter_map(stated);
    let mut found: Vec<String> = otherwise.chain(doubted).map(quote).collect();
    found.dedup();
    found
}

/// What words take back of what a column states: "vacuum breaker by owner", "length to be verified".
pub(super) fn doubted(row: &Row, sources: &[Source], vocabulary: &[Term]) -> Vec<String> {
    let is_words = |source: &&Source| matches!(source.role, Role::Description | Role::Note | Role::Cited);
    let mut found = Vec::new();
    for Source { location, description, role, .. } in sources.iter().filter(is_words) {
        for (phrase, terms) in &description.open {
            let (_, named) = topics(phrase, vocabulary);
            let is_doubted = |term: usize| match vocabulary[term].subject {
                // What it is called stays beside a doubt; a finish is not computed with.
                Some(Subject::Kind | Subject::Closes | Subject::Finish | Subject::Handle) => false,
                // "Patch existing wall", "no piping in exterior walls".
                Some(Subject::Wall) if is_about_work(phrase) => false,
                // A number in a note may be about something else, unless it is one of two or takes the place of one.
                _ if *role == Role::Note && from_words::is_number_in_note(&vocabulary[term]) => {
                    let lower = phrase.to_lowercase();
                    let is_change =
                        ["chang", "revis", "instead", "except"].iter().any(|it| lower.contains(it));
                    let is_choice = || doubts(phrase).iter().any(|(_, about)| *about == About::Sides);
                    named.contains(&term) || is_change || is_choice()
                }
                _ => {
                    named.contains(&term) || doubts(phrase).iter().any(|(_, about)| *about != About::Numbers)
                }
            };
            for term in terms.iter().filter(|it| !description.vague.contains(it) && is_doubted(**it)) {
                let stated = row.cells.iter().find(|cell| cell.term == *term && cell.location != *location);
                // A standard states its device, in the same words too: "ASSE 1019-A, vacuum breaker removed".
                let is_device = vocabulary[*term].subject == Some(Subject::BackflowDevice);
                let standard = term_of(Subject::BackflowStandard, vocabulary).filter(|_| is_device);
                let stated = stated.or_else(|| row.cell(standard?));
                if let Some(cell) = stated.filter(|cell| cell.value.is_some()) {
                    found.push(contradicted(heading_of(&vocabulary[*term]), cell, phrase, location));
                }
            }
        }
    }
    found
}

/// Whether words about a wall say what to do there, not what it is.
fn is_about_work(phrase: &str) -> bool {
    const WORK: [&str; 7] = ["exist", "do not", "does not", "shall not", "must not", "patch", "match"];
    let lower = phrase.to_lowercase();
    WORK.iter().any(|it| lower.contains(it))
}
