//! Names of places as they are compared: without accents, case and punctuation, with abbreviations expanded.

/// Letters with marks, and what is typed without them.
const LETTERS: [(&str, &str); 11] = [
    ("àáâãäåā", "a"),
    ("çć", "c"),
    ("èéêëē", "e"),
    ("ġğ", "g"),
    ("ìíîïī", "i"),
    ("ñń", "n"),
    ("òóôõöøō", "o"),
    ("ùúûüū", "u"),
    ("ýÿ", "y"),
    ("ł", "l"),
    ("šś", "s"),
];
/// Letters that are typed as two.
const PAIRS: [(char, &str); 4] = [('æ', "ae"), ('œ', "oe"), ('ß', "ss"), ('&', " and ")];
/// Marks within a word: "St. John's", "Coeur d'Alene", "Līhuʻe".
const WITHIN: &str = "'’‘ʻʼ`´";

/// Words and their abbreviations in names of places and stations.
const ABBREVIATIONS: [(&str, &[&str]); 28] = [
    ("saint", &["st", "ste", "sainte"]),
    ("fort", &["ft"]),
    ("mount", &["mt"]),
    ("mountain", &["mtn"]),
    ("point", &["pt", "pte", "pointe"]),
    ("port", &["prt"]),
    ("lake", &["lk", "lac"]),
    ("river", &["riv"]),
    ("north", &["n"]),
    ("south", &["s"]),
    ("east", &["e"]),
    ("west", &["w"]),
    ("heights", &["hts"]),
    ("springs", &["spgs", "sprgs"]),
    ("falls", &["fls"]),
    ("junction", &["jct", "jctn"]),
    ("beach", &["bch"]),
    ("valley", &["vly"]),
    ("island", &["isl"]),
    ("center", &["centre", "ctr"]),
    ("harbor", &["harbour", "hbr"]),
    ("international", &["intl", "int"]),
    ("regional", &["rgnl", "regl"]),
    ("municipal", &["muni", "mun"]),
    ("national", &["natl"]),
    ("county", &["cnty"]),
    ("airport", &["arpt", "apt", "aerodrome", "ap"]),
    ("air force base", &["afb"]),
];

/// Words that end the name of a station and do not distinguish the stations of a city.
const STATION: [&str; 7] =
    ["airport", "international", "regional", "municipal", "county", "field", "station"];

/// The words of a text in small letters without marks; abbreviations are kept.
pub(super) fn fold(text: &str) -> Vec<String> {
    let mut plain = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        // Combining marks follow their letter.
        if WITHIN.contains(c) || ('\u{300}'..='\u{36f}').contains(&c) {
            continue;
        }
        if let Some((_, pair)) = PAIRS.iter().find(|(letter, _)| *letter == c) {
            plain.push_str(pair);
        } else if let Some((_, letter)) = LETTERS.iter().find(|(marked, _)| marked.contains(c)) {
            plain.push_str(letter);
        } else {
            plain.push(if c.is_alphanumeric() { c } else { ' ' });
        }
    }
    plain.split_whitespace().map(str::to_owned).collect()
}

/// The words with abbreviations expanded.
pub(super) fn expand(words: &[String]) -> Vec<&str> {
    let full = |word| ABBREVIATIONS.iter().find(|(_, short)| short.contains(&word)).map(|(full, _)| *full);
    words.iter().map(|word| full(word).unwrap_or(word)).collect()
}

/// A name as it is compared: two that differ only in spaces, hyphens, accents and abbreviations are equal.
pub(super) fn name(words: &[String]) -> String {
    expand(words).concat().replace(' ', "")
}

/// The same without the words that end the name of a station.
pub(super) fn without_station(words: &[String]) -> String {
    let words = expand(words);
    let end = words.iter().rposition(|it| !STATION.contains(it)).map_or(0, |last| last + 1);
    words[..end].concat().replace(' ', "")
}

/// An id for a place by its name and its state: folded words with hyphens between them, and always a letter.
pub fn place_id(name: &str, state: Option<&str>) -> String {
    let id = fold(&format!("{name} {}", state.unwrap_or_default())).join("-");
    match id.as_str() {
        "" => "place".into(),
        id if id.contains(char::is_alphabetic) => id.into(),
        id => format!("place-{id}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_abbreviation_stands_for_one_word() {
        let short: Vec<&str> = ABBREVIATIONS.iter().flat_map(|(_, short)| short.iter().copied()).collect();
        for (at, it) in short.iter().enumerate() {
            assert!(!short[..at].contains(it), "{it}");
            assert!(ABBREVIATIONS.iter().all(|(full, _)| full != it), "{it}");
        }
    }

    #[test]
    fn equivalent_names_compare_equal() {
        for (a, b) in [
            ("St. John's", "Saint Johns"),
            ("Sault Ste. Marie", "sault-sainte-marie"),
            ("Québec", "Que\u{301}bec"),
            ("Coeur d'Alene", "Cœur d’Alène"),
            ("Ft. Wayne", "FORT WAYNE"),
            ("N. Platte", "North Platte"),
            ("LaCrosse", "La Crosse"),
            ("Minneapolis-St Paul Intl. Airport", "minneapolis saint paul international arpt"),
        ] {
            assert_eq!(name(&fold(a)), name(&fold(b)), "{a}, {b}");
        }
    }

    #[test]
    fn generic_station_words_are_removed() {
        assert_eq!(without_station(&fold("O'Hare Int'l Airport")), "ohare");
        assert_eq!(without_station(&fold("Regional Airport")), "");
    }
}
