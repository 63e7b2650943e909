//! The first letter of what starts a sentence, or stands within one.

/// The text with its first letter as a sentence starts.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The text with its first letter as within a sentence. A word of two capitals, such as PEX, stays as it is.
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
    fn only_the_first_letter_changes_and_an_abbreviation_keeps_its_own() {
        assert_eq!(uncapital("County's Table A-501"), "county's Table A-501");
        assert_eq!(uncapital("PEX supply"), "PEX supply");
        assert_eq!(capital("über Table A"), "Über Table A");
        assert_eq!((capital(""), uncapital("")), (String::new(), String::new()));
    }
}
