//! Upper or lower case of the first letter of a text.

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
