//! Words that many walls go by: "block" says neither how it is insulated nor on which side. A schedule that says no more
//! is asked which of them it means.

use crate::diag::spaced_words;

/// Words, and the keys of the built-in walls that they may mean.
const FAMILIES: [(&[&str], &[&str]); 11] = [
    (
        &["rim joist", "rim board", "band joist", "box sill"],
        &[
            "rim-joist-batt",
            "rim-joist-foam",
            "rim-joist-board",
            "rim-joist-bare",
            "rim-joist-brick",
            "rim-joist-crawlspace",
        ],
    ),
    (
        &["block", "cmu", "masonry"],
        &[
            "block-8-bare",
            "block-8-furred",
            "block-8-filled",
            "block-8-insulated",
            "block-8-exterior-insulation",
            "block-8-eifs",
        ],
    ),
    (&["eifs", "synthetic stucco"], &["2x4-eifs", "2x6-eifs", "block-8-eifs"]),
    (&["stucco"], &["2x4-stucco", "2x6-stucco", "slab-2x4-stucco"]),
    (
        &["steel stud", "metal stud", "steel studs", "metal studs"],
        &["steel-stud-6-ci", "steel-stud-4-ci-brick"],
    ),
    (
        &["brick"],
        &[
            "slab-2x4-brick",
            "2x6-brick",
            "steel-stud-4-ci-brick",
            "rim-joist-brick",
            "block-8-exterior-insulation",
        ],
    ),
    (
        &["basement wall", "foundation wall", "foundation"],
        &["basement-concrete", "basement-concrete-bare", "basement-concrete-framed"],
    ),
    (&["crawlspace wall", "crawl space wall", "stem wall"], &["crawlspace-block", "crawlspace-insulated"]),
    (&["garage wall"], &["garage-2x4", "garage-2x4-bare"]),
    (&["log"], &["log-6", "log-8"]),
    (&["sip", "sips"], &["sip-4", "sip-6"]),
];
/// Words that say the studs and no more; they stand for the usual wall with them.
const STUDS: [&str; 4] = ["2x4", "2x6", "2x4 wood frame", "2x6 wood frame"];

/// The keys of the built-in walls that the words of a text may mean; empty if they name no family of walls.
pub fn members(text: &str) -> &'static [&'static str] {
    let text = spaced_words(text);
    let names =
        |(words, _): &&(&[&str], &[&str])| words.iter().any(|word| text.contains(&format!(" {word} ")));
    FAMILIES.iter().find(names).map_or(&[], |(_, keys)| keys)
}

/// Whether a text is the words of a family and nothing else.
pub(super) fn is_word(text: &str) -> bool {
    words().any(|word| word == spaced_words(text).trim())
}

/// The words of all families.
pub(super) fn words<'w>() -> impl Iterator<Item = &'w str> {
    FAMILIES.iter().flat_map(|(words, _)| words.iter().copied())
}

/// Whether a word for a wall names only studs and nothing else.
pub fn says_studs_only(word: &str) -> bool {
    STUDS.contains(&spaced_words(word).trim())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::wall::{BUILT_IN, find};

    #[test]
    fn members_are_built_in_and_no_wall_is_called_like_its_family() {
        for (words, keys) in FAMILIES {
            for key in keys {
                assert!(BUILT_IN.iter().any(|wall| &*wall.key == *key), "{key}");
            }
            for word in words {
                assert!(find(&BUILT_IN, word).is_none(), "{word}");
            }
        }
        for (studs, key) in STUDS.into_iter().zip(["2x4-siding", "2x6-siding"]) {
            assert_eq!(find(&BUILT_IN, studs).map(|wall| &*wall.key), Some(key));
        }
    }

    #[test]
    fn words_of_a_wall_name_its_family() {
        for (text, first) in [
            ("8\" CMU", Some("block-8-bare")),
            ("Rim-joist above basement", Some("rim-joist-batt")),
            ("synthetic stucco over 6 in metal studs", Some("2x4-eifs")),
            ("catalog", None),
            ("2x6 siding", None),
        ] {
            assert_eq!(members(text).first().copied(), first, "{text}");
        }
    }
}
