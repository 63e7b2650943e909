//! Upper or lower case of the first letter of a text, and its words in lower case.

/// The text with a capital first letter.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The text with a small first letter. A word that starts with two capitals, such as PEX, is unchanged.
pub fn uncapital(text: &str) -> String {
    let mut letters = text.chars();
    let Some(first) = letters.next() else { return String::new() };
    if letters.clone().next().is_some_and(char::is_uppercase) {
        return text.into();
    }
    first.to_lowercase().chain(letters).collect()
}

/// The words of a text in lower case, with a space before and after each.
pub fn spaced_words(text: &str) -> String {
    let lower = text.to_lowercase();
    let words: Vec<&str> =
        lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    format!(" {} ", words.join(" "))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_first_letter_changes_and_not_in_abbreviations() {
        assert_eq!(uncapital("County's Table A-501"), "county's Table A-501");
        assert_eq!(uncapital("PEX supply"), "PEX supply");
        assert_eq!(capital("über Table A"), "Über Table A");
        assert_eq!((capital(""), uncapital("")), (String::new(), String::new()));
    }
}
