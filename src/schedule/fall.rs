//! The direction of a slope in words: "1/4 in/ft toward outside", "2 % back to the building", "pitch to drain". Positive is
//! outwards.

use regex::Regex;
use std::sync::LazyLock;

/// A slope's figure with its words taken off, and which way it falls where they say so.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Fall {
    /// What is left: the figure.
    pub figure: String,
    /// Whether it falls outwards; `None` where no words say so.
    pub outward: Option<bool>,
}

const TO: &str = r"(?:down(?:ward|wards)?\s+)?(?:back\s+)?(?:to|toward|towards|into)\s+(?:the\s+)?";
const OUT: &str = r"(?:outside|exterior|outdoors|face|spout|nozzle|daylight|drain|street|weather)\b";
const IN: &str = r"(?:inside|interior|indoors|building|bldg|house|room|wall|seat|inlet)\b";

#[allow(clippy::expect_used, reason = "patterns written in the source; a test compiles them")]
static WORDS: LazyLock<[Regex; 4]> = LazyLock::new(|| {
    let out =
        format!(r"(?i)\b(?:{TO}{OUT}|outwards?\b|away\s+from\s+(?:the\s+)?{IN}|from\s+(?:the\s+)?{IN})");
    let inward = format!(r"(?i)\b(?:{TO}{IN}|inwards?\b|away\s+from\s+(?:the\s+)?{OUT})");
    let up = r"(?i)\b(?:up(?:wards?)?|ris(?:es|e|ing))\b".to_owned();
    let idle = r"(?i)\b(?:barrel|tube|slop(?:e|es|ed|ing)|pitch(?:es|ed)?|fall(?:s|ing)?|drain(?:s|ing)?|at|down(?:wards?)?|of)\b"
        .to_owned();
    [out, inward, up, idle].map(|it| Regex::new(&it).expect("a pattern of the source"))
});

/// Parts a slope's figure from its words. `Err` where they name two directions.
pub(super) fn parted(text: &str) -> Result<Fall, &'static str> {
    let [out, inward, up, idle] = &*WORDS;
    let (says_out, says_in, rises) = (out.is_match(text), inward.is_match(text), up.is_match(text));
    // "To drain" is outwards unless the drain is inside.
    let lower = text.to_lowercase();
    let is_inner = ["drain inside", "inside drain", "floor drain", "interior drain", "drain indoors"];
    if (says_out && says_in) || is_inner.iter().any(|it| lower.contains(it)) {
        return Err("names two directions");
    }
    // What rises outwards falls inwards.
    let outward = (says_out || says_in).then_some(says_out != rises);
    if rises && outward.is_none() {
        return Err("rises, and does not say which way");
    }
    let mut figure = text.to_owned();
    for words in [out, inward, up, idle] {
        figure = words.replace_all(&figure, " ").into_owned();
    }
    let figure = figure.split_whitespace().collect::<Vec<_>>().join(" ");
    Ok(Fall { figure: figure.trim_matches([',', ';', ':', ' ', '(', ')']).to_owned(), outward })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_tell_which_way_a_slope_falls() {
        for (text, figure, outward) in [
            ("1/4 in/ft", "1/4 in/ft", None),
            ("1/4\" per ft toward outside", "1/4\" per ft", Some(true)),
            ("2 % down to exterior", "2 %", Some(true)),
            ("Pitch 5° to drain", "5°", Some(true)),
            ("slopes 1:48 away from the building", "1:48", Some(true)),
            ("1/8\"/ft, slopes inward", "1/8\"/ft", Some(false)),
            ("1/8 in/ft back to the building", "1/8 in/ft", Some(false)),
            ("rises 2 % to the exterior", "2 %", Some(false)),
            ("2 % up to inside", "2 %", Some(true)),
            ("pitch to drain", "", Some(true)),
        ] {
            assert_eq!(parted(text), Ok(Fall { figure: figure.into(), outward }), "{text}");
        }
    }

    #[test]
    fn two_directions_or_a_rise_without_one_are_refused() {
        assert_eq!(parted("1/4 in/ft outward, toward the house"), Err("names two directions"));
        assert_eq!(parted("rises 2 %"), Err("rises, and does not say which way"));
    }
}
