//! A kind of change that can settle a comment, as the table declares it.

/// Whether a change can be made in a finished wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Finished {
    /// From outdoors, or by a note alone.
    Yes,
    /// Where the pipe inside can be reached.
    AtThePipe,
    /// Not without opening the wall, or moving the outlet.
    No,
}

/// A value that a change sets a fact to.
#[derive(Clone, Copy, Debug)]
pub(super) enum Put {
    Word(&'static str),
    YesNo(bool),
    Inches(f64),
    /// A slope, inches per foot.
    PerFoot(f64),
    /// The value of another fact.
    Of(&'static str),
    Blank,
}

/// Facts with their values.
pub(super) type Puts = &'static [(&'static str, Put)];

/// A kind of change.
#[derive(Debug)]
pub(super) struct ChangeKind {
    /// Its name under `costs:` of a job.
    pub name: &'static str,
    /// What to do; a fact's name in braces is its value after the change.
    pub says: &'static str,
    pub finished: Finished,
    /// Whether it orders another outlet; all such changes together are one.
    pub is_order: bool,
    /// Whether product data decides it: a job with models orders one of them instead.
    pub is_of_model: bool,
    /// Whether it orders another product in place of the one specified, not the same one in another length or metal.
    pub is_other_product: bool,
    /// Whether it moves piping or adds to it upstream, which the designer decides.
    pub is_of_designer: bool,
    /// Whether it warms the seat, so that a longer outlet may complete it.
    pub warms: bool,
    /// Facts that must be known to be one of some words.
    pub only: &'static [(&'static str, &'static [&'static str])],
    /// The values to try, in this order.
    pub tries: &'static [Puts],
    /// A further fact with its sizes, in: each is tried with each of `tries`.
    pub sizes: Option<(&'static str, &'static [f64])>,
}

/// A change with the usual value of every field.
pub(super) const USUAL: ChangeKind = ChangeKind {
    name: "",
    says: "",
    finished: Finished::Yes,
    is_order: false,
    is_of_model: false,
    is_other_product: false,
    is_of_designer: false,
    warms: false,
    only: &[],
    tries: &[],
    sizes: None,
};

#[cfg(test)]
mod tests {
    use super::super::table::{CHANGES, LONGER, MODEL};
    use super::Put::Word;
    use crate::expr::Type;
    use crate::facts::{Source, entry_named};

    #[test]
    fn a_job_can_state_the_cost_of_every_change_but_a_model() {
        let names: Vec<&str> = [&LONGER].into_iter().chain(CHANGES).map(|change| change.name).collect();
        assert_eq!(names, crate::job::COST_KEYS);
    }

    /// Facts and words are texts; a change with a misspelled one would never be found.
    #[test]
    fn every_change_states_facts_and_words_that_there_are() {
        for change in CHANGES.iter().chain([&LONGER, &MODEL]) {
            let puts = change.tries.iter().copied().flatten();
            let sizes = change.sizes.iter().map(|(fact, _)| *fact);
            for fact in puts.clone().map(|(fact, _)| *fact).chain(sizes) {
                let entry = entry_named(fact).unwrap_or_else(|| panic!("{fact}"));
                assert!(matches!(entry.def.source, Source::Stated { .. }), "{fact}");
            }
            let words = puts.filter_map(|(fact, put)| match put {
                Word(word) => Some((*fact, *word)),
                _ => None,
            });
            let only = change.only.iter().flat_map(|(fact, words)| words.iter().map(|word| (*fact, *word)));
            for (fact, word) in words.chain(only) {
                let Type::OneOf(words) = &entry_named(fact).unwrap().ty else { panic!("{fact}") };
                assert!(words.contains(&word), "{fact}: {word}");
            }
        }
    }
}
