//! The nearest known name to a misspelled word.

/// The known name nearest to a word, if one is near enough to be meant. Ignores case; the first wins a tie.
pub fn nearest<'a>(word: &str, names: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    /// Below this similarity a suggestion confuses more than it helps.
    const NEAR_ENOUGH: f64 = 0.6;
    let word = word.to_lowercase();
    if word.chars().count() > 100 {
        return None;
    }
    let mut best: Option<(&str, f64)> = None;
    for name in names {
        let least = best.map_or(NEAR_ENOUGH, |(_, most)| most);
        let similarity = similarity(&word, &name.to_lowercase(), least);
        if similarity >= NEAR_ENOUGH && best.is_none_or(|(_, most)| similarity > most) {
            best = Some((name, similarity));
        }
    }
    best.map(|(name, _)| name)
}

/// Similarity of two words, 0 to 1; 0 if it is certainly below `least`. If both have the same topic (`outlet.seat`), only
/// the rest counts.
fn similarity(a: &str, b: &str, least: f64) -> f64 {
    let (a, b) = match (a.rsplit_once('.'), b.rsplit_once('.')) {
        (Some((topic, a)), Some((other, b))) if topic == other => (a, b),
        _ => (a, b),
    };
    if at_most(a, b) < least { 0.0 } else { strsim::normalized_damerau_levenshtein(a, b) }
}

/// An upper bound of the similarity of two words, much cheaper than the similarity: each edit adds or removes at most one
/// character of either word, and a transposition none.
fn at_most(a: &str, b: &str) -> f64 {
    // Different characters that share a slot only raise the bound.
    let mut surplus = [0_i32; 64];
    let (mut length_a, mut length_b) = (0_u32, 0_u32);
    for character in a.chars() {
        surplus[character as usize % 64] += 1;
        length_a += 1;
    }
    for character in b.chars() {
        surplus[character as usize % 64] -= 1;
        length_b += 1;
    }
    let only_a: i32 = surplus.iter().filter(|count| **count > 0).sum();
    let only_b: i32 = -surplus.iter().filter(|count| **count < 0).sum::<i32>();
    // The margin keeps rounding from turning the bound below the similarity.
    1.0 - f64::from(only_a.max(only_b)) / f64::from(length_a.max(length_b).max(1)) + 1e-9
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_like_no_name_gets_no_suggestion() {
        assert_eq!(nearest("gravel", ["copper", "brass"]), None);
        assert_eq!(nearest("outlet.seat", ["outlet.maker", "outlet.wall"]), None);
    }

    proptest::proptest! {
        #[test]
        fn the_bound_is_never_below_the_similarity(a in "[a-e°é ]{0,12}", b in "[a-e°é ]{0,12}") {
            proptest::prop_assert!(at_most(&a, &b) >= strsim::normalized_damerau_levenshtein(&a, &b));
        }
    }
}
