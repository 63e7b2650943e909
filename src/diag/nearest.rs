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
        let similarity = similarity(&word, &name.to_lowercase());
        if similarity >= NEAR_ENOUGH && best.is_none_or(|(_, most)| similarity > most) {
            best = Some((name, similarity));
        }
    }
    best.map(|(name, _)| name)
}

/// Similarity of two words, 0 to 1. If both have the same topic (`outlet.seat`), only the rest counts.
fn similarity(a: &str, b: &str) -> f64 {
    let (a, b) = match (a.rsplit_once('.'), b.rsplit_once('.')) {
        (Some((topic, a)), Some((other, b))) if topic == other => (a, b),
        _ => (a, b),
    };
    strsim::normalized_damerau_levenshtein(a, b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_like_no_name_gets_no_suggestion() {
        assert_eq!(nearest("gravel", ["copper", "brass"]), None);
        assert_eq!(nearest("outlet.seat", ["outlet.maker", "outlet.wall"]), None);
    }
}
