//! How much of a review is worked out.

/// How much of a review is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Extent {
    /// All of it.
    Whole,
    /// What a summary prints: without the full wording of comments and its values, and without the effects of inputs.
    Summary {
        /// Groups of rows alike that it prints, the first of the schedule; of the others only the outcomes are worked out.
        groups: usize,
    },
}

/// How much of an outlet is worked out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Detail {
    /// All of it.
    Whole,
    /// Comments in one line and the best remedy.
    Brief,
    /// The outcome of each rule.
    Outcomes,
}

impl Extent {
    /// How much of a group is worked out, by its index among the groups.
    pub(super) fn detail(self, index: usize) -> Detail {
        match self {
            Self::Whole => Detail::Whole,
            Self::Summary { groups } if index < groups => Detail::Brief,
            Self::Summary { .. } => Detail::Outcomes,
        }
    }
}
