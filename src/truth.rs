//! Three-valued logic after Kleene: a missing fact is *unknown*, and unknown is never a pass.

/// True, false, or unknown for a reason.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Truth<R> {
    /// Known to be true.
    True,
    /// Known to be false.
    False,
    /// Unknown; the reason says what is missing.
    Unknown(R),
}

/// A reason that can absorb another: what is missing on either side of an operator.
pub trait Reason: Clone {
    /// Adds what is missing in `other`.
    fn absorb(&mut self, other: Self);
}

impl<R: Reason> Truth<R> {
    /// Kleene *and*: false wins over unknown, on either side.
    #[must_use]
    pub fn and(self, other: Self) -> Self {
        match (self, other) {
            (Self::False, _) | (_, Self::False) => Self::False,
            (Self::True, rest) | (rest, Self::True) => rest,
            (Self::Unknown(mut a), Self::Unknown(b)) => {
                a.absorb(b);
                Self::Unknown(a)
            }
        }
    }

    /// Kleene *or*: true wins over unknown, on either side.
    #[must_use]
    pub fn or(self, other: Self) -> Self {
        (self.negated().and(other.negated())).negated()
    }

    /// Kleene *not*: unknown stays unknown.
    #[must_use]
    pub fn negated(self) -> Self {
        match self {
            Self::True => Self::False,
            Self::False => Self::True,
            unknown @ Self::Unknown(_) => unknown,
        }
    }

    /// The implication *applies → needs*, which is a rule.
    #[must_use]
    pub fn implies(self, needs: Self) -> Self {
        self.negated().or(needs)
    }
}

impl<R> From<bool> for Truth<R> {
    fn from(value: bool) -> Self {
        if value { Self::True } else { Self::False }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    impl Reason for BTreeSet<u8> {
        fn absorb(&mut self, other: Self) {
            self.extend(other);
        }
    }

    type T = Truth<BTreeSet<u8>>;

    fn unknown(n: u8) -> T {
        Truth::Unknown(BTreeSet::from([n]))
    }

    #[test]
    fn and_follows_kleenes_table_on_either_side() {
        let (t, f): (T, T) = (Truth::True, Truth::False);
        for (a, b, want) in [
            (t.clone(), t.clone(), t.clone()),
            (t.clone(), f.clone(), f.clone()),
            (f.clone(), f.clone(), f.clone()),
            (t.clone(), unknown(1), unknown(1)),
            (f.clone(), unknown(1), f.clone()),
        ] {
            assert_eq!(a.clone().and(b.clone()), want);
            assert_eq!(b.and(a), want);
        }
    }

    #[test]
    fn two_unknowns_keep_both_reasons() {
        let both = Truth::Unknown(BTreeSet::from([1, 2]));
        assert_eq!(unknown(1).and(unknown(2)), both);
        assert_eq!(unknown(2).or(unknown(1)), both);
    }

    #[test]
    fn or_is_the_dual_of_and() {
        assert_eq!(T::True.or(unknown(1)), T::True);
        assert_eq!(unknown(1).or(T::True), T::True);
        assert_eq!(unknown(1).or(T::False), unknown(1));
        assert_eq!(T::False.or(T::False), T::False);
    }

    #[test]
    fn a_need_that_is_met_settles_the_comment_whether_or_not_the_rule_applies() {
        assert_eq!(unknown(1).implies(T::True), T::True);
        assert_eq!(T::False.implies(unknown(1)), T::True);
        assert_eq!(T::True.implies(unknown(1)), unknown(1));
        assert_eq!(unknown(1).implies(T::False), unknown(1));
    }
}
